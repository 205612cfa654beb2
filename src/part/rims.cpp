#include <algorithm>

#include "settle.h"

namespace groovewright::part {
namespace {

using catalog::Groove;

/// Below this many groove pitches of diameter the root would reach the axis.
constexpr double kLeastDiameterPitches = 3;

const Groove* groove_of(const spec::SectionName& name, const Settler& settler) {
  const auto& grooves = settler.catalog().grooves;
  const auto it = grooves.find(name.file.empty() ? name.id : own_groove_key(name.file));
  if (it != grooves.end()) return &it->second;
  if (name.file.empty()) {
    settler.unknown(name.place, "groove section", name.id, with_built_in(ids_of(grooves), "grooves"));
  } else {
    settler.error(Code::unknown_entry, name.place, name.file,
                  "'" + name.file + "' holds no groove profile (its first key must be 'groove')");
  }
  return nullptr;
}

// ---- size ----

/// d_e from whichever diameter was written. `crest` is the crest radius of the pulley that was measured.
std::optional<Settled> effective_from(const auto& size, const Groove& g, double crest, double b_e) {
  if (size.effective_diameter) return from_spec(*size.effective_diameter);
  if (size.pitch_diameter) return Settled{size.pitch_diameter->value - 2 * b_e, "spec (pitch diameter - 2 b_e)"};
  if (size.diameter_over_balls)
    return Settled{size.diameter_over_balls->value - two_x(g), "spec (diameter over balls - 2X)"};
  if (size.outside_diameter) {
    return Settled{
        size.outside_diameter->value + rounding_loss(crest, g.angle) - rounding_loss(g.crest_radius_min.value, g.angle),
        "spec (outside diameter and crest radius)"};
  }
  return std::nullopt;
}

void settle_overdrive(const spec::Size& written, Rim& rim) {
  const Groove& g = rim.groove;
  const double b_e = rim.pitch_line_offset.value;
  // A bought pulley's crests are not known: its d_o is taken as d_e, as at the least crest radius.
  const double reference = effective_from(*written.of, g, g.crest_radius_min.value, b_e)->value;
  const double x = written.overdrive->value;
  const double pitch = (1 + x) * (reference + 2 * b_e);
  rim.effective_diameter = {pitch - 2 * b_e, "spec (overdrive on the pitch line)"};
  const double plain = (1 + x) * reference;
  rim.overdrive = Overdrive{x, reference, plain, (plain + 2 * b_e) / (reference + 2 * b_e) - 1};
}

void settle_size(const spec::Size& written, Rim& rim, const Settler& settler) {
  const Groove& g = rim.groove;
  if (const auto d = effective_from(written, g, rim.crest_radius.value, rim.pitch_line_offset.value)) {
    rim.effective_diameter = *d;
  } else {
    settle_overdrive(written, rim);
  }
  if (rim.effective_diameter.value < kLeastDiameterPitches * g.pitch.value) {
    settler.error(Code::out_of_range, written.place, "size",
                  "an effective diameter of " + mm(rim.effective_diameter.value) +
                      " leaves no metal under the grooves; " + g.standard + " begins at " +
                      mm(g.effective_diameter_min.value));
  }
}

// ---- shape ----

void settle_crest_radius(const spec::Length& written, Rim& rim, const Settler& settler) {
  const Groove& g = rim.groove;
  const double least = g.crest_radius_min.value;
  const double most = crest_radius_max(g);
  rim.crest_radius = {std::min(1.2 * least, most), defaulted("1.2 x r_t min of " + g.standard)};
  if (!written) return;
  rim.crest_radius = from_spec(*written);
  if (written->value < least - kSame || (written->value > most + kSame && !rim.crest_by_other_standard())) {
    settler.error(Code::outside_limits, written->place, "crest_radius",
                  "crest radius " + mm(written->value) + " of " + g.id + " goes from " + mm(least) + " (r_t min) to " +
                      mm(most) + " (2N max " + mm(g.two_n_max.value) + ", " + g.standard + ")" +
                      (g.crest_radius_elsewhere ? ", or to " + mm(g.crest_radius_elsewhere->value) + " (" +
                                                      g.crest_radius_elsewhere->source + ")"
                                                : ""));
  }
}

void settle_root_radius(const spec::Length& written, Rim& rim, const Settler& settler) {
  const Groove& g = rim.groove;
  const double most = g.root_radius_max.value;
  rim.root_radius = {0.8 * most, defaulted("0.8 x r_b max of " + g.standard)};
  if (!written) return;
  rim.root_radius = from_spec(*written);
  if (written->value > most + kSame) {
    settler.error(Code::outside_limits, written->place, "root_radius",
                  "root radius " + mm(written->value) + " of " + g.id + " may be " + mm(most) + " at most (r_b max, " +
                      g.standard + ")");
  }
}

void settle_edge_distance(const spec::Length& written, Rim& rim, const Settler& settler) {
  const Groove& g = rim.groove;
  const double least = g.edge_distance_min.value;
  rim.edge_distance = {least, defaulted("f min of " + g.standard + " " + g.edition)};
  if (!written) return;
  rim.edge_distance = from_spec(*written);
  if (written->value < least - kSame) {
    settler.error(Code::outside_limits, written->place, "edge_distance",
                  "f of " + g.id + " is at least " + mm(least) + " (" + g.standard + ")");
  }
}

std::optional<Flange> settle_flange(const std::optional<spec::Flange>& written, double outside_diameter,
                                    const Settler& settler) {
  if (!written) return std::nullopt;
  Flange f;
  f.place = written->place;
  if (written->height) {
    f.height = from_spec(*written->height);
    f.diameter = {outside_diameter + 2 * f.height.value, "d_o + 2 x height"};
  } else {
    f.diameter = from_spec(*written->diameter);
    f.height = {(f.diameter.value - outside_diameter) / 2, "(diameter - d_o) / 2"};
    if (f.height.value < spec::kMinLength) {
      settler.error(Code::does_not_fit, written->diameter->place, "diameter",
                    "the flange of " + mm(f.diameter.value) + " lies below the crests of " + mm(outside_diameter) +
                        ": give more than that, or leave the flange out");
    }
  }
  f.thickness = settler.or_rule(written->thickness, "default_flange_thickness");
  f.edge_break = settler.or_rule(written->edge_break, "default_flange_edge_break");
  f.root_relief = written->root_relief ? from_spec(*written->root_relief) : Settled{0, kFromSpec};
  const catalog::Sourced& lead_in = settler.rule("default_lead_in");
  f.lead_in = value_or(written->lead_in, Angle::deg(lead_in.value));
  f.lead_in_source = written->lead_in ? kFromSpec : defaulted(lead_in.source);
  return f;
}

Rim settle_rim(const spec::Rim& written, const Groove& g, const Settler& settler) {
  Rim rim;
  rim.place = written.place;
  rim.groove = g;
  const auto& belts = settler.catalog().belts;
  if (const auto belt = belts.find(g.id); belt != belts.end()) rim.belt = belt->second;
  rim.grooves = written.ribs->value;
  rim.belt_ribs = value_or(written.belt_ribs, rim.grooves);
  rim.guides = value_or(written.guides, false);
  rim.pitch_line_offset = written.pitch_line_offset ? from_spec(*written.pitch_line_offset)
                                                    : Settled{g.pitch_line_offset.value, g.pitch_line_offset.source};
  settle_crest_radius(written.crest_radius, rim, settler);
  settle_root_radius(written.root_radius, rim, settler);
  settle_size(*written.size, rim, settler);
  settle_edge_distance(written.edge_distance, rim, settler);
  rim.edge_break = settler.or_rule(written.edge_break, "default_edge_break");
  rim.front = settle_flange(written.front_flange, rim.outside_diameter(), settler);
  rim.rear = settle_flange(written.rear_flange, rim.outside_diameter(), settler);
  rim.space = or_zero(written.space);
  return rim;
}

}  // namespace

std::vector<Rim> settle_rims(const std::vector<spec::Rim>& written, const Settler& settler) {
  std::vector<Rim> rims;
  for (const spec::Rim& w : written) {
    const Groove* groove = groove_of(*w.section, settler);
    if (!groove) continue;
    rims.push_back(settle_rim(w, *groove, settler));
    if (rims.size() == 1 && w.space) {
      settler.error(Code::does_not_fit, w.space->place, "space",
                    "the first rim has none behind it: give 'space' to the rim in front");
    }
  }
  return rims;
}

}  // namespace groovewright::part
