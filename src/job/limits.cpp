#include "limits.h"

#include <algorithm>

#include "groovewright/base/broken.h"
#include "groovewright/drawing.h"

namespace groovewright::job {
namespace {

constexpr const char* kOverBalls = "diameter_over_balls";

class Binder {
 public:
  explicit Binder(const Prepared& p) : p_(p) {}

  [[nodiscard]] solid::On on(const drawing::Feature& feature) const {
    solid::On on;
    for (const plane::Generator& edge : feature.edges) on.walls.push_back(solid::turned(edge));
    for (const std::string& id : feature.openings) {
      const auto hole = std::ranges::find(p_.section.body.holes, id, &plane::RoundHole::id);
      require(hole != p_.section.body.holes.end(), "limits_of: no hole has this id");
      on.walls.push_back(solid::wall_of(*hole));
    }
    return on;
  }

  [[nodiscard]] solid::Size size(const drawing::Size& s) const {
    solid::Size out{s.row.id, s.row.label, solid::Size::Kind::diameter, s.row.value, *s.row.lower, *s.row.upper};
    out.on = on(s.on);
    if (s.row.id.ends_with(kOverBalls)) {
      out.kind = solid::Size::Kind::over_balls;
      const std::string rim = s.row.id.substr(0, s.row.id.size() - std::string(kOverBalls).size());
      out.ball = std::ranges::find(p_.sizes.dimensions, rim + "ball_diameter", &Dimension::id)->value;
    }
    return out;
  }

  [[nodiscard]] solid::Datum datum(const drawing::Datum& d) const {
    solid::Datum out{d.letter, on(d.on)};
    if (d.what != "keyway_width") return out;
    for (const plane::Slot& slot : p_.section.body.slots) {
      if (!slot.inward) continue;
      for (const solid::Wall& side : solid::sides_of(slot)) out.on.walls.push_back(side);
    }
    return out;
  }

  [[nodiscard]] solid::Zone zone(const drawing::Zone& z) const {
    return {z.row.id, z.row.label,        kind(z.kind), *z.row.upper, z.diametral,
            z.common, z.maximum_material, z.datums,     on(z.on)};
  }

 private:
  static solid::Zone::Kind kind(drawing::Zone::Kind k) {
    switch (k) {
      case drawing::Zone::Kind::flatness:
        return solid::Zone::Kind::flatness;
      case drawing::Zone::Kind::perpendicularity:
        return solid::Zone::Kind::perpendicularity;
      case drawing::Zone::Kind::position:
        return solid::Zone::Kind::position;
      case drawing::Zone::Kind::circular_runout:
      case drawing::Zone::Kind::axial_runout:
        return solid::Zone::Kind::circular_runout;
    }
    throw Broken("limits_of: a zone of no kind");
  }

  const Prepared& p_;
};

}  // namespace

solid::Limits limits_of(const Prepared& p) {
  const Binder binder(p);
  solid::Limits out;
  const auto demands = drawing::requirements(p.part, p.section, p.sizes.dimensions);
  for (const drawing::Size& s : demands.sizes) {
    if (s.row.lower && s.row.upper) out.sizes.push_back(binder.size(s));
  }
  for (const drawing::Datum& d : demands.datums) out.datums.push_back(binder.datum(d));
  for (const drawing::Zone& z : demands.zones) out.zones.push_back(binder.zone(z));
  return out;
}

}  // namespace groovewright::job
