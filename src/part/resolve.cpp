#include <algorithm>
#include <cmath>
#include <tuple>

#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"
#include "groovewright/part.h"

namespace groovewright::part {
namespace {

using catalog::Catalog;
using catalog::Fit;
using catalog::Sourced;
using catalog::Thread;

constexpr const char* kFromSpec = "spec";

std::string mm(double v) { return trimmed(v, 3) + " mm"; }
std::string defaulted(const std::string& why) { return "default, " + why; }
Settled from_spec(double v) { return {v, kFromSpec}; }

/// The ids of the built-in data files in `folder` ("materials" -> "aluminium-6061-T6" …).
std::vector<std::string> built_in_ids(const std::string& folder) {
  std::vector<std::string> ids;
  for (const TextFile& f : catalog::built_in_files()) {
    if (f.name.starts_with(folder + "/"))
      ids.push_back(f.name.substr(folder.size() + 1, f.name.size() - folder.size() - 6));
  }
  return ids;
}

class Resolver {
 public:
  Resolver(const spec::Pulley& pulley, const Catalog& catalog, Diagnostics& diagnostics)
      : spec_(pulley), catalog_(catalog), diagnostics_(diagnostics) {}

  Part run() {
    part_.file = spec_.file;
    part_.name = spec_.name->value;
    part_.title = spec_.title ? spec_.title->value : part_.name;
    part_.revision = spec_.revision ? spec_.revision->value : "";
    part_.limits = catalog_.rules;
    part_.tolerances = catalog_.tolerances;
    settle_material();
    for (const spec::Rim& rim : spec_.rims) settle_rim(rim);
    if (diagnostics_.has_errors()) return part_;
    settle_patterns();
    settle_bore(*spec_.hub->bore);
    settle_registers();
    settle_keyway();
    settle_hub_place();
    settle_body(*spec_.body);
    settle_timing();
    settle_speed();
    part_.damper = spec_.damper ? std::optional(spec_.damper->value) : std::nullopt;
    return part_;
  }

 private:
  // ---- small helpers ----

  Settled rule(const char* id) const {
    const Sourced& r = catalog_.rule(id);
    return {r.value, r.source};
  }
  Settled default_rule(const char* id) const {
    const Sourced& r = catalog_.rule(id);
    return {r.value, defaulted(r.source)};
  }
  Settled or_rule(const spec::Length& written, const char* id) const {
    return written ? from_spec(written->value) : default_rule(id);
  }
  static double or_zero(const spec::Length& written) { return written ? written->value : 0; }
  static Angle or_zero(const spec::Turn& written) { return written ? written->value : Angle{}; }

  void error(Code code, const Place& place, std::string fragment, std::string message) {
    diagnostics_.error(code, place, std::move(fragment), std::move(message));
  }

  void unknown(const Place& place, const std::string& kind, const std::string& id,
               const std::vector<std::string>& known) {
    const std::string near = nearest(id, known);
    std::string message = "no " + kind + " '" + id + "'";
    if (!near.empty()) message += "; did you mean '" + near + "'?";
    // One letter of a short id says little of what was meant: M7 is as near to M3 as to M8.
    if (near.size() <= kShortId) message += "; there are " + listed(known, "and");
    error(Code::unknown_entry, place, id, message);
  }

  std::optional<Fit> settle_fit(const spec::Word& written, const char* otherwise, double nominal, const Place& place) {
    const std::string id = written ? written->value : otherwise;
    const Place& at = written ? written->place : place;
    const auto names = catalog_.fit_names();
    if (std::find(names.begin(), names.end(), id) == names.end()) {
      unknown(at, "fit class", id, names);
      return std::nullopt;
    }
    auto fit = catalog_.fit(id, nominal);
    if (!fit) error(Code::unknown_entry, at, id, "the ISO 286 tables here hold no " + id + " for " + mm(nominal));
    return fit;
  }

  const Thread* thread(const spec::Written<std::string>& size) {
    const auto it = catalog_.threads.find(size.value);
    if (it != catalog_.threads.end()) return &it->second;
    std::vector<std::string> known;
    for (const auto& [id, t] : catalog_.threads) known.push_back(id);
    std::sort(known.begin(), known.end(), [&](const auto& a, const auto& b) {
      return catalog_.threads.at(a).diameter < catalog_.threads.at(b).diameter;
    });
    unknown(size.place, "thread", size.value, known);
    return nullptr;
  }

  // ---- material and finish ----

  void settle_material() {
    const auto it = catalog_.materials.find(spec_.material->value);
    if (it == catalog_.materials.end()) {
      unknown(spec_.material->place, "material", spec_.material->value, built_in_ids("materials"));
    } else {
      part_.material = it->second;
      part_.red = it->second.red, part_.green = it->second.green, part_.blue = it->second.blue;
    }
    if (!spec_.finish) return;
    const spec::Word& coating = spec_.finish->coating;
    const auto found = catalog_.finishes.find(coating->value);
    if (found == catalog_.finishes.end()) {
      unknown(coating->place, "coating", coating->value, built_in_ids("finishes"));
      return;
    }
    const catalog::Finish& f = found->second;
    Finish finish{f.name, (f.usual_min + f.usual_max) / 2, 0, true, f.source};
    if (spec_.finish->thickness) finish.film = spec_.finish->thickness->value;
    finish.growth = finish.film * f.growth_share;
    if (!f.for_metal.empty() && !part_.material.id.starts_with(f.for_metal) && !part_.material.id.empty()) {
      error(Code::does_not_fit, coating->place, coating->value,
            "'" + coating->value + "' is made on " + f.for_metal + " only, and the material is " + part_.material.name +
                ": choose another coating or material");
    }
    finish.masked = !spec_.finish->masked || spec_.finish->masked->value;
    part_.finish = finish;
    part_.red = f.red, part_.green = f.green, part_.blue = f.blue;
  }

  // ---- rims ----

  const catalog::Groove* groove_of(const spec::Rim& rim) {
    const spec::SectionName& name = *rim.section;
    const auto it = catalog_.grooves.find(name.file.empty() ? name.id : own_groove_key(name.file));
    if (it != catalog_.grooves.end()) return &it->second;
    if (name.file.empty()) {
      auto known = built_in_ids("grooves");
      for (const auto& [id, g] : catalog_.grooves) known.push_back(id);
      std::sort(known.begin(), known.end());
      known.erase(std::unique(known.begin(), known.end()), known.end());
      unknown(name.place, "groove section", name.id, known);
    } else {
      error(Code::unknown_entry, name.place, name.file,
            "'" + name.file + "' holds no groove profile (its first key must be 'groove')");
    }
    return nullptr;
  }

  /// d_e from whichever diameter was written. `crest` is the crest radius of the pulley that was measured.
  static std::optional<Settled> effective_from(const auto& size, const catalog::Groove& g, double crest, double b_e) {
    if (size.effective_diameter) return from_spec(size.effective_diameter->value);
    if (size.pitch_diameter) return Settled{size.pitch_diameter->value - 2 * b_e, "spec (pitch diameter - 2 b_e)"};
    if (size.diameter_over_balls)
      return Settled{size.diameter_over_balls->value - two_x(g), "spec (diameter over balls - 2X)"};
    if (size.outside_diameter) {
      return Settled{size.outside_diameter->value + rounding_loss(crest, g.angle) -
                         rounding_loss(g.crest_radius_min.value, g.angle),
                     "spec (outside diameter and crest radius)"};
    }
    return std::nullopt;
  }

  void settle_size(const spec::Rim& written, Rim& rim) {
    const catalog::Groove& g = rim.groove;
    const double b = rim.pitch_line_offset.value;
    if (const auto d = effective_from(*written.size, g, rim.crest_radius.value, b)) {
      rim.effective_diameter = *d;
    } else {
      // A bought pulley's crests are not known: its d_o is taken as d_e, as at the least crest radius.
      const double reference = effective_from(*written.size->of, g, g.crest_radius_min.value, b)->value;
      const double x = written.size->overdrive->value;
      const double pitch = (1 + x) * (reference + 2 * b);
      rim.effective_diameter = {pitch - 2 * b, "spec (overdrive on the pitch line)"};
      const double plain = (1 + x) * reference;
      rim.overdrive = Overdrive{x, reference, plain, (plain + 2 * b) / (reference + 2 * b) - 1};
    }
    if (rim.effective_diameter.value < kLeastDiameterPitches * g.pitch.value) {
      error(Code::out_of_range, written.size->place, "size",
            "an effective diameter of " + mm(rim.effective_diameter.value) + " leaves no metal under the grooves; " +
                g.standard + " begins at " + mm(g.effective_diameter_min.value));
    }
  }

  void settle_radii(const spec::Rim& written, Rim& rim) {
    const catalog::Groove& g = rim.groove;
    const double least = g.crest_radius_min.value;
    const double most = crest_radius_max(g);
    rim.crest_radius = {std::min(1.2 * least, most), defaulted("1.2 x r_t min of " + g.standard)};
    rim.root_radius = {0.8 * g.root_radius_max.value, defaulted("0.8 x r_b max of " + g.standard)};
    if (written.crest_radius) {
      const double r = written.crest_radius->value;
      rim.crest_radius = from_spec(r);
      if (r < least - kSame || (r > most + kSame && !rim.crest_by_other_standard())) {
        error(Code::outside_limits, written.crest_radius->place, "crest_radius",
              "crest radius " + mm(r) + " of " + g.id + " goes from " + mm(least) + " (r_t min) to " + mm(most) +
                  " (2N max " + mm(g.two_n_max.value) + ", " + g.standard + ")" +
                  (g.crest_radius_elsewhere ? ", or to " + mm(g.crest_radius_elsewhere->value) + " (" +
                                                  g.crest_radius_elsewhere->source + ")"
                                            : ""));
      }
    }
    if (written.root_radius) {
      const double r = written.root_radius->value;
      rim.root_radius = from_spec(r);
      if (r > g.root_radius_max.value + kSame) {
        error(Code::outside_limits, written.root_radius->place, "root_radius",
              "root radius " + mm(r) + " of " + g.id + " may be " + mm(g.root_radius_max.value) +
                  " at most (r_b max, " + g.standard + ")");
      }
    }
  }

  std::optional<Flange> settle_flange(const std::optional<spec::Flange>& written, const Rim& rim) {
    if (!written) return std::nullopt;
    Flange f;
    f.place = written->place;
    const double d_o = rim.outside_diameter();
    if (written->height) {
      f.height = from_spec(written->height->value);
      f.diameter = {d_o + 2 * f.height.value, "d_o + 2 x height"};
    } else {
      f.diameter = from_spec(written->diameter->value);
      f.height = {(f.diameter.value - d_o) / 2, "(diameter - d_o) / 2"};
      if (f.height.value < spec::kMinLength) {
        error(Code::does_not_fit, written->diameter->place, "diameter",
              "the flange of " + mm(f.diameter.value) + " lies below the crests of " + mm(d_o) +
                  ": give more than that, or leave the flange out");
      }
    }
    f.thickness = or_rule(written->thickness, "default_flange_thickness");
    f.edge_break = or_rule(written->edge_break, "default_flange_edge_break");
    f.root_relief = from_spec(or_zero(written->root_relief));
    f.lead_in = written->lead_in ? written->lead_in->value : Angle::deg(rule("default_lead_in").value);
    f.lead_in_source = written->lead_in ? kFromSpec : defaulted(rule("default_lead_in").source);
    return f;
  }

  void settle_rim(const spec::Rim& written) {
    const catalog::Groove* g = groove_of(written);
    if (!g) return;
    Rim rim;
    rim.place = written.place;
    rim.groove = *g;
    if (const auto belt = catalog_.belts.find(g->id); belt != catalog_.belts.end()) rim.belt = belt->second;
    rim.grooves = written.ribs->value;
    rim.belt_ribs = written.belt_ribs ? written.belt_ribs->value : rim.grooves;
    rim.guides = written.guides && written.guides->value;
    rim.pitch_line_offset = written.pitch_line_offset
                                ? from_spec(written.pitch_line_offset->value)
                                : Settled{g->pitch_line_offset.value, g->pitch_line_offset.source};
    settle_radii(written, rim);
    settle_size(written, rim);
    rim.edge_distance = {g->edge_distance_min.value, defaulted("f min of " + g->standard + " " + g->edition)};
    if (written.edge_distance) {
      rim.edge_distance = from_spec(written.edge_distance->value);
      if (written.edge_distance->value < g->edge_distance_min.value - kSame) {
        error(Code::outside_limits, written.edge_distance->place, "edge_distance",
              "f of " + g->id + " is at least " + mm(g->edge_distance_min.value) + " (" + g->standard + ")");
      }
    }
    rim.edge_break = or_rule(written.edge_break, "default_edge_break");
    rim.front = settle_flange(written.front_flange, rim);
    rim.rear = settle_flange(written.rear_flange, rim);
    rim.space = part_.rims.empty() ? 0 : or_zero(written.space);
    if (part_.rims.empty() && written.space) {
      error(Code::does_not_fit, written.space->place, "space",
            "the first rim has none behind it: give 'space' to the rim in front");
    }
    part_.rims.push_back(rim);
  }

  // ---- holes ----

  std::vector<Angle> settle_angles(const auto& written) const {
    const double start = or_zero(written.start).rad();
    std::vector<Angle> angles;
    for (const auto& a : written.angles) angles.push_back(Angle::rad(start + a.value.rad()));
    const int n = written.count ? written.count->value : 0;
    for (int i = 0; i < n; ++i) angles.push_back(Angle::rad(start + 2 * std::numbers::pi * i / n));
    return angles;
  }

  HolePattern pattern(const auto& written, HolePattern::Use use, const char* kind, std::size_t i) const {
    HolePattern p;
    p.place = written.place;
    p.use = use;
    p.id = std::string(kind) + "_" + std::to_string(i + 1);
    p.circle = written.circle->value;
    p.angles = settle_angles(written);
    p.depth = or_zero(written.depth);
    p.side = written.side ? written.side->value : Side::front;
    p.edge_break = rule("default_edge_break").value;
    return p;
  }

  void settle_sink(const spec::Bolts& written, const Thread& t, HolePattern& p) {
    if (written.counterbore) {
      p.sink_side = written.counterbore->value;
      p.sink_diameter = t.counterbore_diameter;
      p.sink_depth = t.counterbore_depth;
      p.sink_source = t.counterbore_source;
      p.sink_fit = catalog_.fit("H13", p.sink_diameter);
    } else if (written.countersink) {
      p.sink_side = written.countersink->value;
      p.sink_diameter = t.countersunk_head_diameter;
      p.sink_angle = Angle::deg(90);
      p.sink_source = t.countersunk_source;
    }
    if (!p.tapped || p.sink_diameter == 0) return;
    const auto& at = written.counterbore ? written.counterbore->place : written.countersink->place;
    error(Code::does_not_fit, at, "",
          "a tapped hole takes no screw head: drop the counterbore or countersink, or say 'hole: clearance'");
  }

  static std::string reach_of(const HolePattern& p) {
    if (p.depth <= 0) return ", through";
    return p.side == Side::front ? ", blind from the front" : ", blind from the rear";
  }

  /// Keys that would change nothing say that the person meant something else.
  void refuse_misplaced(const spec::Bolts& written, bool jack, const HolePattern& p) {
    if (jack && !p.tapped) {
      error(Code::does_not_fit, written.place, "jack_screws",
            "'jack_screws' push against the shaft or flange: their holes are tapped, drop 'hole: clearance'");
    }
    if (p.tapped && written.series) {
      error(Code::does_not_fit, written.series->place, "series",
            "a tapped hole has no clearance: drop 'series', or say 'hole: clearance'");
    }
    if (p.tapped && written.screw_length) {
      error(Code::does_not_fit, written.screw_length->place, "screw_length",
            "'screw_length' belongs to screws that go through this part: drop it here");
    }
    refuse_side(written);
  }
  void refuse_side(const auto& written) {
    if (written.side && !written.depth) {
      error(Code::does_not_fit, written.side->place, "side",
            "a hole that goes through has no side: drop 'side', or give 'depth'");
    }
  }

  /// ISO 273 gives each series its class of limits.
  static std::tuple<double, const char*, const char*> clearance(const Thread& t, spec::ClearanceSeries series) {
    switch (series) {
      case spec::ClearanceSeries::fine:
        return {t.clearance_fine, "fine", "H12"};
      case spec::ClearanceSeries::coarse:
        return {t.clearance_coarse, "coarse", "H14"};
      case spec::ClearanceSeries::medium:
        break;
    }
    return {t.clearance_medium, "medium", "H13"};
  }

  void settle_bolts(const spec::Bolts& written, HolePattern::Use use, std::size_t i) {
    const bool jack = use == HolePattern::Use::jack_screw;
    const Thread* t = thread(*written.size);
    if (!t) return;
    HolePattern p = pattern(written, use, jack ? "jack_screws" : "bolts", i);
    p.thread = *t;
    p.screw_length = or_zero(written.screw_length);
    p.tapped = written.hole ? written.hole->value == spec::HoleKind::tapped : jack;
    if (p.tapped) {
      p.diameter = {t->tap_drill, t->drill_source};
    } else {
      const auto series = written.series ? written.series->value : spec::ClearanceSeries::medium;
      const auto [diameter, word, limits] = clearance(*t, series);
      p.diameter = {diameter, t->clearance_source + ", " + word + " series"};
      p.fit = catalog_.fit(limits, diameter);
      if (written.depth) {
        error(Code::does_not_fit, written.depth->place, "depth",
              "a clearance hole goes through: drop 'depth', or say 'hole: tapped'");
      }
    }
    settle_sink(written, *t, p);
    // A thread's mouth is chamfered to a little over its outside diameter, so that the first turn does not burr.
    if (p.tapped) p.edge_break = std::max(p.edge_break, (t->diameter - p.diameter.value) / 2 + 0.1);
    refuse_misplaced(written, jack, p);
    const std::string from = p.sink_side == Side::front ? " from the front" : " from the rear";
    p.label = std::to_string(p.angles.size()) + " x " +
              (p.tapped ? t->id + " x " + trimmed(t->pitch, 2) + " - 6H" : "hole for " + t->id) +
              (written.counterbore   ? ", counterbored" + from
               : written.countersink ? ", countersunk" + from
                                     : "") +
              reach_of(p);
    part_.holes.push_back(p);
  }

  void settle_pins(const spec::Pins& written, HolePattern::Use use, std::size_t i) {
    const bool magnet = use == HolePattern::Use::magnet;
    HolePattern p = pattern(written, use, magnet ? "magnets" : "dowels", i);
    p.diameter = from_spec(written.diameter->value);
    if (!magnet || written.fit) p.fit = settle_fit(written.fit, "H7", written.diameter->value, written.place);
    if (magnet && !written.depth) {
      error(Code::needs_more, written.place, "magnets", "a magnet's pocket needs 'depth': it does not go through");
    }
    if (!magnet) refuse_side(written);
    p.label = std::to_string(p.angles.size()) + " x " + (magnet ? "magnet pocket" : "dowel hole") + reach_of(p);
    part_.holes.push_back(p);
  }

  void settle_patterns() {
    const spec::Hub& hub = *spec_.hub;
    for (std::size_t i = 0; i < hub.bolts.size(); ++i) settle_bolts(hub.bolts[i], HolePattern::Use::bolt, i);
    for (std::size_t i = 0; i < hub.jack_screws.size(); ++i)
      settle_bolts(hub.jack_screws[i], HolePattern::Use::jack_screw, i);
    for (std::size_t i = 0; i < hub.dowels.size(); ++i) settle_pins(hub.dowels[i], HolePattern::Use::dowel, i);
    for (std::size_t i = 0; i < spec_.magnets.size(); ++i) settle_pins(spec_.magnets[i], HolePattern::Use::magnet, i);
  }

  // ---- hub ----

  void settle_bore(const spec::Bore& written) {
    Bore& bore = part_.hub.bore;
    bore.place = written.place;
    bore.diameter = from_spec(written.diameter->value);
    bore.edge_break = or_rule(written.edge_break, "default_edge_break");
    if (written.taper) {
      settle_taper(*written.taper, bore);
      if (written.fit) {
        error(Code::does_not_fit, written.fit->place, written.fit->value,
              "a tapered bore is held by its gauge plane and stand-off, not by a fit class: drop 'fit'");
      }
    } else {
      bore.fit = settle_fit(written.fit, "H7", bore.diameter.value, written.place);
      bore.fit_source = written.fit ? kFromSpec : defaulted("H7, common practice, no source");
    }
    for (const spec::BoreStep& s : written.steps) {
      BoreStep step{s.place, s.diameter->value, s.depth->value, s.side->value, {}};
      if (s.fit) step.fit = settle_fit(s.fit, "H7", step.diameter, s.place);
      bore.steps.push_back(step);
    }
  }

  void settle_taper(const spec::Taper& written, Bore& bore) {
    Taper t;
    t.place = written.place;
    t.included = written.angle ? written.angle->value : Angle::rad(2 * atan2_of(written.ratio->value / 2, 1));
    t.large_end = written.large_end ? written.large_end->value : Side::rear;
    t.gauge_face = written.gauge_face ? written.gauge_face->value : t.large_end;
    t.gauge_depth = or_zero(written.gauge_depth);
    t.stand_off = or_zero(written.stand_off);
    t.stand_off_tolerance = or_zero(written.stand_off_tolerance);
    t.draw_up = or_zero(written.draw_up);
    bore.taper = t;
  }

  void settle_registers() {
    for (const spec::Register& s : spec_.hub->registers) {
      const bool recess = s.depth.has_value();
      const auto fit = settle_fit(s.fit, recess ? "H7" : "h6", s.diameter->value, s.place);
      const Side side = s.side ? s.side->value : Side::rear;
      for (const Register& other : part_.hub.registers) {
        if (other.side == side)
          error(Code::one_of_keys, s.place, "register",
                "one register a side: line " + std::to_string(other.place.line) + " gives one already");
      }
      if (fit)
        part_.hub.registers.push_back({s.place, s.diameter->value, recess ? s.depth->value : -s.height->value, side,
                                       *fit,
                                       s.fit ? kFromSpec : defaulted(recess ? "H7 for a recess" : "h6 for a spigot")});
    }
  }

  void settle_keyway() {
    const auto& written = spec_.hub->keyway;
    if (!written) return;
    Keyway k;
    k.place = written->place;
    k.angle = or_zero(written->angle);
    const double bore = part_.hub.bore.diameter.value;
    if (written->width) {
      k.width = from_spec(written->width->value);
      k.depth = from_spec(written->depth->value);
      if (const auto key = catalog_.key_of_depth(k.depth.value)) {
        k.depth_tolerance = key->depth_tolerance;
        k.depth_tolerance_source = key->source + ", for slots of this depth";
      }
    } else if (const auto key = catalog_.key_for(bore)) {
      k.width = {key->width, key->source};
      k.depth = {key->hub_depth, key->source};
      k.depth_tolerance = key->depth_tolerance;
      k.depth_tolerance_source = key->source;
    } else {
      error(Code::needs_more, written->place, "keyway",
            "the parallel-key table has no key for a bore of " + mm(bore) + ": give 'keyway: {width: …, depth: …}'");
      return;
    }
    if (const auto fit = settle_fit(written->fit, "JS9", k.width.value, written->place)) k.fit = *fit;
    k.fit_source = written->fit ? kFromSpec : defaulted("JS9, the normal fit of DIN 6885-1, from memory");
    part_.hub.keyway = k;
  }

  static double stand(const std::optional<spec::Stand>& s) {
    if (!s) return 0;
    return s->proud ? s->proud->value : -s->recessed->value;
  }

  /// Where hub and rims stand: two of length, front and rear settle it; what is missing is flush.
  void settle_hub_place() {
    const spec::Hub& written = *spec_.hub;
    Hub& hub = part_.hub;
    hub.place = written.place;
    double rims = part_.rims.back().width();
    for (std::size_t i = 0; i + 1 < part_.rims.size(); ++i) rims += part_.rims[i].width() + part_.rims[i + 1].space;
    const double front = stand(written.front), rear = stand(written.rear);
    if (written.length && written.front && written.rear) {
      error(Code::two_sizes, written.length->place, "length",
            "the hub's length follows from 'front' and 'rear': give two of the three");
    }
    if (written.length) {
      hub.front_face = written.length->value;
      part_.rims_rear = written.front ? written.length->value - front - rims : rear;
      hub.length_source = kFromSpec;
    } else {
      part_.rims_rear = rear;
      hub.front_face = rear + rims + front;
      hub.length_source = written.front || written.rear ? "spec (front and rear)" : defaulted("flush with the rims");
    }
    if (hub.front_face < spec::kMinLength) {
      error(Code::does_not_fit, written.place, "hub",
            "the hub has no length left, its front face lies behind its seat: recess 'front' or 'rear' less");
    }
    hub.edge_break = or_rule(written.edge_break, "default_edge_break");
    hub.boss = written.diameter.has_value();
    if (written.diameter) {
      hub.diameter = from_spec(written.diameter->value);
    } else {
      hub.diameter = {hub_contents() + 2 * part_.limit("minimum_hub_wall").value,
                      defaulted("bore, register and bolt heads + the least hub wall")};
    }
    const bool flush =
        front == 0 && std::abs(hub.front_face - (part_.rims_rear + rims)) < kSame && part_.rims_rear == 0;
    if (!spec_.body->web && !hub.boss && !flush) {
      error(Code::needs_more, written.place, "hub",
            "a hub that does not stand flush with a solid disc needs 'diameter'");
    }
  }

  /// Diameter that holds all that the hub carries.
  [[nodiscard]] double hub_contents() const {
    double d = part_.hub.bore.diameter.value;
    for (const BoreStep& s : part_.hub.bore.steps) d = std::max(d, s.diameter);
    for (const Register& r : part_.hub.registers) d = std::max(d, r.diameter);
    for (const HolePattern& p : part_.holes) {
      if (p.use == HolePattern::Use::magnet) continue;
      d = std::max(d, p.circle + std::max(p.sink_diameter, p.diameter.value + 2 * p.edge_break));
    }
    return d;
  }

  // ---- body ----

  void settle_body(const spec::Body& written) {
    if (!written.web) {
      if (written.solid && !written.solid->value) {
        error(Code::needs_more, written.solid->place, "solid",
              "'solid: false' says nothing of what is there instead: give 'web'");
      }
      for (const auto& [key, name] :
           {std::pair{&written.rim_thickness, "rim_thickness"}, {&written.fillet, "fillet"}}) {
        if (*key)
          error(Code::does_not_fit, (*key)->place, name,
                "a solid disc has no web to which '" + std::string(name) + "' belongs: drop it, or give 'web'");
      }
      return;
    }
    const spec::Web& w = *written.web;
    Web web;
    web.place = w.place;
    web.thickness = from_spec(w.thickness->value);
    web.offset = w.offset ? from_spec(w.offset->value) : Settled{0, defaulted("in the middle of the grooves")};
    web.fillet = or_rule(written.fillet, "default_web_fillet");
    web.rim_thickness = written.rim_thickness ? from_spec(written.rim_thickness->value)
                                              : Settled{2 * part_.limit("minimum_wall_under_groove").value,
                                                        defaulted("twice the least wall under a groove")};
    web.rim = w.rim ? w.rim->value - 1 : 0;
    if (web.rim >= static_cast<int>(part_.rims.size())) {
      error(Code::out_of_range, w.rim->place, "rim",
            "there is no rim " + std::to_string(w.rim->value) + ": they count from 1 to " +
                std::to_string(part_.rims.size()));
      return;
    }
    const double inner = part_.hub.diameter.value;
    const double outer = part_.rims[static_cast<std::size_t>(web.rim)].root_diameter() - 2 * web.rim_thickness.value;
    if (w.windows) settle_windows(*w.windows, web, inner, outer);
    if (w.spokes) settle_spokes(*w.spokes, web, inner, outer);
    part_.web = web;
  }

  void settle_windows(const spec::Windows& written, Web& web, double inner, double outer) {
    Windows s;
    s.place = written.place;
    s.count = written.count->value;
    s.diameter = from_spec(written.diameter->value);
    s.circle = written.circle ? from_spec(written.circle->value)
                              : Settled{(inner + outer) / 2, defaulted("midway between hub and rim")};
    s.edge_break = or_rule(written.edge_break, "default_edge_break");
    s.start = or_zero(written.start);
    web.windows = s;
  }

  void settle_spokes(const spec::Spokes& written, Web& web, double inner, double outer) {
    Spokes s;
    s.place = written.place;
    s.count = written.count->value;
    s.width = from_spec(written.width->value);
    s.edge_break = or_rule(written.edge_break, "default_edge_break");
    s.fillet = or_rule(written.fillet, "default_web_fillet");
    const double room = 2 * (web.fillet.value + s.edge_break.value + rule("default_edge_break").value);
    s.inner_diameter = written.inner_diameter ? from_spec(written.inner_diameter->value)
                                              : Settled{inner + room, defaulted("clear of the hub's fillet")};
    s.outer_diameter = written.outer_diameter ? from_spec(written.outer_diameter->value)
                                              : Settled{outer - room, defaulted("clear of the rim's fillet")};
    s.start = or_zero(written.start);
    web.spokes = s;
  }

  // ---- timing, speed ----

  void settle_timing() {
    if (const auto& zero = spec_.timing_zero) {
      double base = 0;
      const auto first_of = [&](HolePattern::Use use) -> const HolePattern* {
        for (const HolePattern& p : part_.holes) {
          if (p.use == use) return &p;
        }
        return nullptr;
      };
      const auto missing = [&](const char* what) {
        error(Code::needs_more, zero->to->place, what,
              "timing zero is measured from a " + std::string(what) + ", but the hub has none");
      };
      switch (zero->to->value) {
        case spec::ZeroReference::top:
          break;
        case spec::ZeroReference::keyway:
          if (part_.hub.keyway)
            base = part_.hub.keyway->angle.rad();
          else
            missing("keyway");
          break;
        case spec::ZeroReference::dowel:
          if (const auto* p = first_of(HolePattern::Use::dowel))
            base = p->angles.front().rad();
          else
            missing("dowel");
          break;
        case spec::ZeroReference::hole:
          if (const auto* p = first_of(HolePattern::Use::bolt))
            base = p->angles.front().rad();
          else
            missing("bolt hole");
          break;
      }
      part_.timing_zero = Angle::rad(base + or_zero(zero->angle).rad());
    } else if (!spec_.marks.empty()) {
      error(Code::needs_more, spec_.marks.front().place, "marks",
            "marks are measured from a stated zero: give 'timing_zero: {to: keyway}' (or dowel, hole, top)");
    }
    for (const spec::Marks& m : spec_.marks) settle_marks(m);
    if (spec_.tone_ring) settle_tone_ring(*spec_.tone_ring);
  }

  void settle_marks(const spec::Marks& written) {
    Marks m;
    m.place = written.place;
    m.on = written.on->value;
    for (const auto& a : written.angles) m.angles.push_back(Angle::rad(part_.timing_zero.rad() + a.value.rad()));
    m.depth = or_rule(written.depth, "default_mark_depth").value;
    m.width = or_rule(written.width, "default_mark_width").value;
    m.length = or_rule(written.length, "default_mark_length").value;
    const bool front = m.on == MarkPlace::front || m.on == MarkPlace::front_edge;
    const Rim& rim = front ? part_.rims.back() : part_.rims.front();
    const double edge = rim.end_diameter(front ? Side::front : Side::rear) / 2;
    m.outer_radius = written.radius ? written.radius->value : edge - 2 * part_.limit("minimum_wall").value;
    const bool all = written.depth && written.width && written.length;
    m.source = all ? kFromSpec : defaulted("where the spec says nothing: " + rule("default_mark_depth").source);
    part_.marks.push_back(m);
  }

  void settle_tone_ring(const spec::ToneRing& written) {
    ToneRing t;
    t.place = written.place;
    t.teeth = written.teeth->value;
    t.missing = written.missing ? written.missing->value : 0;
    t.radius = written.radius->value;
    t.width = written.width->value;
    const double tooth_pitch = 2 * std::numbers::pi * t.radius / t.teeth;
    t.gap = written.gap ? written.gap->value : tooth_pitch / 2;
    t.tooth_height = written.tooth_height ? written.tooth_height->value : t.gap / 2;
    t.thickness = written.thickness ? written.thickness->value : t.tooth_height + 2 * part_.limit("minimum_wall").value;
    t.gap_source = written.gap ? kFromSpec : defaulted("half a tooth pitch");
    t.tooth_height_source = written.tooth_height ? kFromSpec : defaulted("half a gap");
    t.thickness_source = written.thickness ? kFromSpec : defaulted("tooth height + twice the least wall");
    t.side = written.side ? written.side->value : Side::rear;
    t.start = Angle::rad(part_.timing_zero.rad() + or_zero(written.start).rad());
    if (t.missing >= t.teeth - 1) {
      error(Code::out_of_range, written.missing->place, "missing",
            "at least two teeth must be left of " + std::to_string(t.teeth));
    }
    part_.tone_ring = t;
  }

  void settle_speed() {
    if (!spec_.speed) return;
    part_.maximum_speed = spec_.speed->maximum->value;
    part_.speed_reason = spec_.speed->reason ? spec_.speed->reason->value : "";
  }

  static constexpr double kSame = 1e-9;
  static constexpr std::size_t kShortId = 3;
  /// Below this many groove pitches of diameter the root would reach the axis.
  static constexpr double kLeastDiameterPitches = 3;

  const spec::Pulley& spec_;
  const Catalog& catalog_;
  Diagnostics& diagnostics_;
  Part part_;
};

}  // namespace

std::string own_groove_key(const std::string& reference) { return "file:" + reference; }

std::optional<Part> resolve(const spec::Pulley& pulley, const Catalog& catalog, Diagnostics& diagnostics) {
  Diagnostics found;
  Part part = Resolver(pulley, catalog, found).run();
  for (const Diagnostic& d : found.all()) diagnostics.add(d);
  if (found.has_errors()) return std::nullopt;
  return part;
}

}  // namespace groovewright::part
