#include <algorithm>
#include <numbers>
#include <tuple>

#include "groovewright/base/text.h"
#include "settle.h"

namespace groovewright::part {
namespace {

using catalog::Thread;
using Use = HolePattern::Use;

/// How far the chamfer at a tapped hole's mouth goes beyond the thread, on radius, so that the first turn does not
/// burr.
constexpr double kBeyondThread = 0.1;

/// The document's key for such patterns, with which their ids begin.
const char* key_of(Use use) {
  switch (use) {
    case Use::bolt:
      return "bolts";
    case Use::jack_screw:
      return "jack_screws";
    case Use::dowel:
      return "dowels";
    case Use::magnet:
      return "magnets";
  }
  return "";
}

std::string from(Side side) { return side == Side::front ? " from the front" : " from the rear"; }

std::vector<Angle> settle_angles(const auto& written) {
  const double start = or_zero(written.start).rad();
  std::vector<Angle> angles;
  for (const auto& a : written.angles) angles.push_back(Angle::rad(start + a.value.rad()));
  const int n = value_or(written.count, 0);
  for (int i = 0; i < n; ++i) angles.push_back(Angle::rad(start + 2 * std::numbers::pi * i / n));
  return angles;
}

/// What bolts and pins have in common. `number` counts the patterns of one use from 1.
HolePattern pattern(const auto& written, Use use, std::size_t number, const Settler& settler) {
  HolePattern p;
  p.place = written.place;
  p.use = use;
  p.id = std::string(key_of(use)) + "_" + std::to_string(number);
  p.circle = written.circle->value;
  p.angles = settle_angles(written);
  p.depth = or_zero(written.depth);
  p.side = value_or(written.side, Side::front);
  p.edge_break = settler.rule("default_edge_break").value;
  return p;
}

std::string label(const HolePattern& p, const std::string& what) {
  return std::to_string(p.angles.size()) + " x " + what + (p.depth > 0 ? ", blind" + from(p.side) : ", through");
}

// ---- keys that would change nothing: the person meant something else ----

void refuse_side_of_through_hole(const auto& written, const Settler& settler) {
  if (written.side && !written.depth) {
    settler.error(Code::does_not_fit, written.side->place, "side",
                  "a hole that goes through has no side: drop 'side', or give 'depth'");
  }
}

void refuse_in_tapped_hole(const spec::Bolts& written, const Settler& settler) {
  if (const auto& head = written.counterbore ? written.counterbore : written.countersink) {
    settler.error(Code::does_not_fit, head->place, "",
                  "a tapped hole takes no screw head: drop the counterbore or countersink, or say 'hole: clearance'");
  }
  if (written.series) {
    settler.error(Code::does_not_fit, written.series->place, "series",
                  "a tapped hole has no clearance: drop 'series', or say 'hole: clearance'");
  }
  if (written.screw_length) {
    settler.error(Code::does_not_fit, written.screw_length->place, "screw_length",
                  "'screw_length' belongs to screws that go through this part: drop it here");
  }
}

void refuse_in_clearance_hole(const spec::Bolts& written, Use use, const Settler& settler) {
  if (written.depth) {
    settler.error(Code::does_not_fit, written.depth->place, "depth",
                  "a clearance hole goes through: drop 'depth', or say 'hole: tapped'");
  }
  if (use == Use::jack_screw) {
    settler.error(Code::does_not_fit, written.place, "jack_screws",
                  "'jack_screws' push against the shaft or flange: their holes are tapped, drop 'hole: clearance'");
  }
}

// ---- bolts and jack screws ----

/// A clearance hole's diameter, the name of its series, and the class of limits that ISO 273 gives that.
std::tuple<double, const char*, const char*> clearance(const Thread& t, spec::ClearanceSeries series) {
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

void settle_sink(const spec::Bolts& written, const Thread& t, HolePattern& p, const Settler& settler) {
  if (written.counterbore) {
    p.sink_side = written.counterbore->value;
    p.sink_diameter = t.counterbore_diameter;
    p.sink_depth = t.counterbore_depth;
    p.sink_source = t.counterbore_source;
    p.sink_fit = settler.catalog().fit("H13", p.sink_diameter);
  } else if (written.countersink) {
    p.sink_side = written.countersink->value;
    p.sink_diameter = t.countersunk_head_diameter;
    p.sink_angle = Angle::deg(90);
    p.sink_source = t.countersunk_source;
  }
}

std::string what_screw(const spec::Bolts& written, const Thread& t, const HolePattern& p) {
  std::string what = p.tapped ? t.id + " x " + trimmed(t.pitch, 2) + " - 6H" : "hole for " + t.id;
  if (written.counterbore) what += ", counterbored" + from(p.sink_side);
  if (written.countersink) what += ", countersunk" + from(p.sink_side);
  return what;
}

/// None where the tables lack the thread; that is told.
std::optional<HolePattern> settle_bolts(const spec::Bolts& written, Use use, std::size_t number,
                                        const Settler& settler) {
  const Thread* t = settler.thread(*written.size);
  if (!t) return std::nullopt;
  HolePattern p = pattern(written, use, number, settler);
  p.thread = *t;
  p.screw_length = or_zero(written.screw_length);
  const auto usual = use == Use::jack_screw ? spec::HoleKind::tapped : spec::HoleKind::clearance;
  p.tapped = value_or(written.hole, usual) == spec::HoleKind::tapped;
  if (p.tapped) {
    p.diameter = {t->tap_drill, t->drill_source};
    p.edge_break = std::max(p.edge_break, (t->diameter - p.diameter.value) / 2 + kBeyondThread);
    refuse_in_tapped_hole(written, settler);
  } else {
    const auto [diameter, series, limits] = clearance(*t, value_or(written.series, spec::ClearanceSeries::medium));
    p.diameter = {diameter, t->clearance_source + ", " + series + " series"};
    p.fit = settler.catalog().fit(limits, diameter);
    refuse_in_clearance_hole(written, use, settler);
  }
  refuse_side_of_through_hole(written, settler);
  settle_sink(written, *t, p, settler);
  p.label = label(p, what_screw(written, *t, p));
  return p;
}

// ---- dowels and magnets ----

HolePattern settle_dowels(const spec::Pins& written, std::size_t number, const Settler& settler) {
  HolePattern p = pattern(written, Use::dowel, number, settler);
  p.diameter = from_spec(*written.diameter);
  p.fit = settler.fit(written.fit, "H7", p.diameter.value, written.place);
  refuse_side_of_through_hole(written, settler);
  p.label = label(p, "dowel hole");
  return p;
}

HolePattern settle_magnets(const spec::Pins& written, std::size_t number, const Settler& settler) {
  HolePattern p = pattern(written, Use::magnet, number, settler);
  p.diameter = from_spec(*written.diameter);
  if (written.fit) p.fit = settler.fit(written.fit, "", p.diameter.value, written.place);
  if (!written.depth) {
    settler.error(Code::needs_more, written.place, "magnets",
                  "a magnet's pocket needs 'depth': it does not go through");
  }
  p.label = label(p, "magnet pocket");
  return p;
}

}  // namespace

std::vector<HolePattern> settle_holes(const spec::Pulley& pulley, const Settler& settler) {
  std::vector<HolePattern> holes;
  const auto add_bolts = [&](const std::vector<spec::Bolts>& patterns, Use use) {
    for (std::size_t i = 0; i < patterns.size(); ++i) {
      if (auto p = settle_bolts(patterns[i], use, i + 1, settler)) holes.push_back(std::move(*p));
    }
  };
  const spec::Hub& hub = *pulley.hub;
  add_bolts(hub.bolts, Use::bolt);
  add_bolts(hub.jack_screws, Use::jack_screw);
  for (std::size_t i = 0; i < hub.dowels.size(); ++i) holes.push_back(settle_dowels(hub.dowels[i], i + 1, settler));
  for (std::size_t i = 0; i < pulley.magnets.size(); ++i)
    holes.push_back(settle_magnets(pulley.magnets[i], i + 1, settler));
  return holes;
}

}  // namespace groovewright::part
