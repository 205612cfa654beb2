#include <algorithm>
#include <numbers>

#include "settle.h"

namespace groovewright::part {
namespace {

/// What timing zero may be measured from: its angle from 12 o'clock where the part has it, and its name.
struct Reference {
  std::optional<Angle> angle;
  const char* name;
};

std::optional<Angle> first_angle(const std::vector<HolePattern>& holes, HolePattern::Use use) {
  const auto it = std::find_if(holes.begin(), holes.end(), [use](const HolePattern& p) { return p.use == use; });
  return it == holes.end() ? std::nullopt : std::optional(it->angles.front());
}

Reference reference(spec::ZeroReference to, const Hub& hub, const std::vector<HolePattern>& holes) {
  switch (to) {
    case spec::ZeroReference::top:
      break;
    case spec::ZeroReference::keyway:
      return {hub.keyway ? std::optional(hub.keyway->angle) : std::nullopt, "keyway"};
    case spec::ZeroReference::dowel:
      return {first_angle(holes, HolePattern::Use::dowel), "dowel"};
    case spec::ZeroReference::hole:
      return {first_angle(holes, HolePattern::Use::bolt), "bolt hole"};
  }
  return {Angle{}, "top"};
}

Marks settle_mark(const spec::Marks& written, const std::vector<Rim>& rims, Angle zero, const Settler& settler) {
  Marks m;
  m.place = written.place;
  m.on = written.on->value;
  for (const auto& a : written.angles) m.angles.push_back(Angle::rad(zero.rad() + a.value.rad()));
  m.depth = settler.or_rule(written.depth, "default_mark_depth").value;
  m.width = settler.or_rule(written.width, "default_mark_width").value;
  m.length = settler.or_rule(written.length, "default_mark_length").value;
  const bool front = m.on == MarkPlace::front || m.on == MarkPlace::front_edge;
  const double edge = front ? rims.back().end_diameter(Side::front) / 2 : rims.front().end_diameter(Side::rear) / 2;
  m.outer_radius = value_or(written.radius, edge - 2 * settler.rule("minimum_wall").value);
  const bool all = written.depth && written.width && written.length;
  m.source = all ? kFromSpec : defaulted("where the spec says nothing: " + settler.rule("default_mark_depth").source);
  return m;
}

}  // namespace

Angle settle_timing_zero(const spec::Pulley& pulley, const Hub& hub, const std::vector<HolePattern>& holes,
                         const Settler& settler) {
  if (!pulley.timing_zero) {
    if (!pulley.marks.empty()) {
      settler.error(Code::needs_more, pulley.marks.front().place, "marks",
                    "marks are measured from a stated zero: give 'timing_zero: {to: keyway}' (or dowel, hole, top)");
    }
    return {};
  }
  const spec::TimingZero& written = *pulley.timing_zero;
  const Reference from = reference(written.to->value, hub, holes);
  if (!from.angle) {
    settler.error(Code::needs_more, written.to->place, from.name,
                  "timing zero is measured from a " + std::string(from.name) + ", but the hub has none");
  }
  return Angle::rad(from.angle.value_or(Angle{}).rad() + or_zero(written.angle).rad());
}

std::vector<Marks> settle_marks(const std::vector<spec::Marks>& written, const std::vector<Rim>& rims, Angle zero,
                                const Settler& settler) {
  std::vector<Marks> marks;
  for (const spec::Marks& m : written) marks.push_back(settle_mark(m, rims, zero, settler));
  return marks;
}

std::optional<ToneRing> settle_tone_ring(const std::optional<spec::ToneRing>& written, Angle zero,
                                         const Settler& settler) {
  if (!written) return std::nullopt;
  ToneRing t;
  t.place = written->place;
  t.teeth = written->teeth->value;
  t.missing = value_or(written->missing, 0);
  t.radius = written->radius->value;
  t.width = written->width->value;
  const double tooth_pitch = 2 * std::numbers::pi * t.radius / t.teeth;
  t.gap = value_or(written->gap, tooth_pitch / 2);
  t.tooth_height = value_or(written->tooth_height, t.gap / 2);
  t.thickness = value_or(written->thickness, t.tooth_height + 2 * settler.rule("minimum_wall").value);
  t.gap_source = written->gap ? kFromSpec : defaulted("half a tooth pitch");
  t.tooth_height_source = written->tooth_height ? kFromSpec : defaulted("half a gap");
  t.thickness_source = written->thickness ? kFromSpec : defaulted("tooth height + twice the least wall");
  t.side = value_or(written->side, Side::rear);
  t.start = Angle::rad(zero.rad() + or_zero(written->start).rad());
  if (t.missing >= t.teeth - 1) {
    settler.error(Code::out_of_range, written->missing->place, "missing",
                  "at least two teeth must be left of " + std::to_string(t.teeth));
  }
  return t;
}

}  // namespace groovewright::part
