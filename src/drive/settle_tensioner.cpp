#include <algorithm>
#include <cmath>
#include <numbers>

#include "groovewright/base/text.h"
#include "settler.h"

namespace groovewright::drive {
namespace {

double degrees(double rad) { return rad * 180 / std::numbers::pi; }

}  // namespace

void Settler::tensioner(const spec::DriveTensioner& w, Drive& d) {
  Tensioner t;
  t.name = w.name ? w.name->value : "tensioner";
  std::vector<std::string> names;
  for (const Pulley& p : d.pulleys) names.push_back(p.name);
  const auto after = std::find(names.begin(), names.end(), w.after->value);
  if (after == names.end()) {
    error(Code::unknown_entry, w.after->place, w.after->value,
          "'after' is '" + w.after->value + "', which is no pulley; " + meant_or_known(w.after->value, names));
  } else {
    t.after = static_cast<std::size_t>(after - names.begin());
  }
  if (std::find(names.begin(), names.end(), t.name) != names.end()) {
    error(Code::same_name_twice, w.name ? w.name->place : w.place, t.name,
          "'" + t.name + "' is the name of a pulley, too");
  }
  using Kind = spec::TensionerKind;
  const Kind kind = value_or(w.kind, w.travel ? Kind::slide : Kind::arm);
  t.kind = kind == Kind::slide       ? Tensioner::Kind::slide
           : kind == Kind::eccentric ? Tensioner::Kind::eccentric
                                     : Tensioner::Kind::arm;
  t.pivot = {w.pivot->value.x, w.pivot->value.y};
  t.friction = chosen(w.damping, catalog_.rule("tensioner_friction"));
  t.arm_half_width = value_or(w.arm_width, 0.0) / 2;
  idler(w, d.belt, t);
  swing(w, t);
  spring(w, t);
  peg(w, t);
  d.tensioner = t;
}

void Settler::idler(const spec::DriveTensioner& w, const Belt& b, Tensioner& t) {
  spec::DrivePulley as_pulley;
  as_pulley.place = w.place;
  as_pulley.name = spec::Written<std::string>{t.name, w.place};
  as_pulley.at = spec::Written<spec::Point>{w.pivot->value, w.place};
  as_pulley.back_diameter = w.back_diameter, as_pulley.effective_diameter = w.effective_diameter;
  as_pulley.flange_height = w.flange_height, as_pulley.width = w.width, as_pulley.plane = w.plane;
  as_pulley.maximum_speed = w.maximum_speed;
  as_pulley.bearing = w.bearing;
  t.idler = pulley(as_pulley, b);
  t.arm_axial = t.idler.axial;
}

void Settler::swing(const spec::DriveTensioner& w, Tensioner& t) {
  const bool slides = t.slides();
  if (slides != w.travel.has_value()) {
    error(Code::one_of_keys, w.place, t.name,
          slides ? "a slide takes 'travel' and 'direction'" : "an arm or eccentric takes 'angle' and 'arm'");
    return;
  }
  const std::size_t stops = slides ? w.travel->stops.size() : w.angle->stops.size();
  if (stops != 2) {
    error(Code::bad_count, slides ? w.travel->place : w.angle->place, "stops",
          "'stops' takes both ends, here " + std::string(stops == 1 ? "is one" : "are none"));
    return;
  }
  if (slides) {
    t.direction = w.direction->value.rad();
    t.free = w.travel->free->value;
    t.stop_a = w.travel->stops[0].value, t.stop_b = w.travel->stops[1].value;
  } else {
    t.arm_length = w.arm->value;
    t.free = w.angle->free->value.rad();
    t.stop_a = w.angle->stops[0].value.rad(), t.stop_b = w.angle->stops[1].value.rad();
  }
  const Place& place = slides ? w.travel->free->place : w.angle->free->place;
  const auto [low, high] = std::minmax(t.stop_a, t.stop_b);
  const auto shown = [&](double v) { return slides ? trimmed(v, 3) + " mm" : trimmed(degrees(v), 3) + " deg"; };
  constexpr double kLeastSwing = 1e-6;
  if (high - low < kLeastSwing) {
    error(Code::out_of_range, place, shown(low), "both stops are at " + shown(low) + ": the tensioner can't move");
  } else if (t.free < low - kLeastSwing || t.free > high + kLeastSwing) {
    error(Code::out_of_range, place, shown(t.free),
          "'free' is " + shown(t.free) + ", outside the stops " + shown(low) + " and " + shown(high));
  }
}

void Settler::spring(const spec::DriveTensioner& w, Tensioner& t) {
  const spec::Spring& s = *w.spring;
  const bool foreign = (s.force_rate && !t.slides()) || (s.rate && t.slides());
  if (t.slides() != s.force.has_value() || foreign) {
    error(Code::one_of_keys, s.place, "spring",
          t.slides() ? "a slide's spring takes 'force' and 'force_rate'" : "an arm's spring takes 'torque' and 'rate'");
    return;
  }
  t.effort = t.slides() ? s.force->value : s.torque->value;
  t.rate = value_or(t.slides() ? s.force_rate : s.rate, 0.0);
}

void Settler::peg(const spec::DriveTensioner& w, Tensioner& t) {
  if (!w.peg) return;
  Peg p;
  p.radius = w.peg->radius->value, p.angle = w.peg->angle->value.rad(), p.depth = value_or(w.peg->depth, 0.0);
  if (w.peg->diameter) {
    p.diameter = w.peg->diameter->value;
  } else {
    const std::string& id = w.peg->thread->value;
    const auto thread = catalog_.threads.find(id);
    if (thread == catalog_.threads.end()) {
      std::vector<std::string> names;
      for (const auto& [name, one] : catalog_.threads) names.push_back(name);
      error(Code::unknown_entry, w.peg->thread->place, id, "no thread '" + id + "'; " + meant_or_known(id, names));
      return;
    }
    p.thread = id;
    p.diameter = thread->second.diameter;
    p.tap_drill = thread->second.tap_drill;
  }
  t.peg = p;
}

}  // namespace groovewright::drive
