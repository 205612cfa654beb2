#include "groovewright/drive/loads.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"
#include "groovewright/drive/ratios.h"

namespace groovewright::drive {
namespace {

using std::numbers::pi;

/// A speed that differs from the last given one by rounding alone is that one.
constexpr double kSpeedRounding = 1e-9;
/// kg mm²/s² in N mm.
constexpr double kInertiaTorque = 1e-3;

double rad_per_s(double rpm) { return rpm * pi / 30; }

/// glibc's double exp and log differ in the last bit from machine to machine, see base/trig.h.
double exp_of(double v) { return static_cast<double>(std::exp(static_cast<long double>(v))); }
double log_of(double v) { return static_cast<double>(std::log(static_cast<long double>(v))); }

struct OwnPoint {
  double rpm = 0, torque = 0;
};
OwnPoint own_point(const LoadPoint& p, double ratio) {
  const double rpm = p.own_speed ? p.rpm : p.rpm * ratio;
  return {rpm, p.is_power ? 1000 * p.value / rad_per_s(rpm) : p.value};
}

const Contact& bare_contact(const Drive& drive, Side side) {
  return side == Side::ribs ? drive.grip.bare_ribs : drive.grip.bare_back;
}

}  // namespace

double centrifugal_tension(double mass, double speed) { return mass * speed * speed; }

double wedged_friction(double friction, Angle groove) { return friction / sin_of(groove.half().rad()); }

double capstan_ratio(double friction, double wrap) { return exp_of(friction * wrap); }

double ratio_at_wrap(double ratio_at_half_turn, double wrap) { return exp_of(log_of(ratio_at_half_turn) * wrap / pi); }

std::optional<double> load_torque(const Drive& drive, const Course& course, std::size_t i, double driver_rpm) {
  const Pulley& pulley = pulley_at(drive, course, i);
  if (pulley.load.empty()) return 0;
  const double ratio = speed_ratio(drive, course, i), own = driver_rpm * ratio;
  const double rounding = kSpeedRounding * std::max(1.0, own);
  // Points in the order given need not rise: those of the driver and own ones may be mixed.
  std::optional<OwnPoint> below, above;
  for (const LoadPoint& given : pulley.load) {
    const OwnPoint p = own_point(given, ratio);
    if (std::abs(p.rpm - own) <= rounding) return p.torque;
    if (p.rpm < own && (!below || p.rpm > below->rpm)) below = p;
    if (p.rpm > own && (!above || p.rpm < above->rpm)) above = p;
  }
  if (!below || !above) return std::nullopt;
  return below->torque + (above->torque - below->torque) * (own - below->rpm) / (above->rpm - below->rpm);
}

SpeedRange known_speeds(const Drive& drive, const Course& course) {
  SpeedRange range;
  for (std::size_t i = 0; i < course.size(); ++i) {
    const Pulley& pulley = pulley_at(drive, course, i);
    if (pulley.load.empty()) continue;
    const double ratio = speed_ratio(drive, course, i);
    double first = kUnlimited, last = 0;
    for (const LoadPoint& p : pulley.load) {
      const double rpm = p.own_speed ? p.rpm / ratio : p.rpm;
      first = std::min(first, rpm);
      last = std::max(last, rpm);
    }
    range.first = std::max(range.first, first);
    range.last = std::min(range.last, last);
  }
  return range;
}

bool load_case(const Drive& drive, const Course& course, const Route& route, double driver_rpm, Way way, double set,
               LoadCase& out) {
  const std::size_t n = course.size();
  const bool pulls = way == Way::drive;
  out.driver_rpm = driver_rpm;
  out.way = way;
  out.speed = belt_speed(drive, course, driver_rpm);
  out.centrifugal = centrifugal_tension(drive.belt.mass(), out.speed);
  out.torque.assign(n, 0);
  out.tension.assign(n, 0);
  double sum = 0;
  const auto cord = [&](std::size_t i) { return cord_radius(drive.belt, pulley_at(drive, course, i)); };
  for (std::size_t i = 0; i < n; ++i) {
    // The arm's equilibrium takes both of the idler's spans for equal.
    if (i == course.driver || i == course.idler) continue;
    const auto load = load_torque(drive, course, i, driver_rpm);
    if (!load) return false;
    const double inertia = pulley_at(drive, course, i).inertia * speed_ratio(drive, course, i) * kInertiaTorque;
    out.torque[i] = pulls ? *load * drive.duty.peak + inertia * drive.duty.gain
                          : *load * drive.duty.overrun_load.value - inertia * drive.duty.drop;
    sum += out.torque[i] / cord(i);
  }
  out.torque[course.driver] = -sum * cord(course.driver);

  const std::size_t start = course.idler == kNone ? course.driver : course.idler;
  double tension = set, weighted = 0, length = 0;
  for (std::size_t i = start, k = 0; k < n; ++k, i = course.next(i)) {
    if (i != start) tension += out.torque[i] / cord(i);
    out.tension[i] = tension;
    weighted += tension * route.spans[i].length;
    length += route.spans[i].length;
  }
  if (course.idler == kNone) {
    const double off = set - out.centrifugal - weighted / length;
    for (double& t : out.tension) t += off;
  }
  return true;
}

Hold hold(const Drive& drive, const Course& course, const Route& route, const LoadCase& load, double set,
          std::size_t i) {
  const Pulley& pulley = pulley_at(drive, course, i);
  const double wrap = std::max(0.0, route.wraps[i]);
  const double in = load.tension[course.before(i)], out = load.tension[i];
  const double tight = std::max(in, out), slack = std::min(in, out);
  const Sourced& design = pulley.side == Side::ribs ? drive.grip.design_ratio_ribs : drive.grip.design_ratio_back;
  Hold h;
  h.ratio = slack > 0 ? tight / slack : kUnlimited;
  h.allowed = ratio_at_wrap(design.value, wrap);
  h.margin = h.allowed / h.ratio;
  h.wet_margin = ratio_at_wrap(design.value, wrap * drive.grip.wet.value) / h.ratio;
  h.bare = capstan_ratio(effective_friction(bare_contact(drive, pulley.side)), wrap);
  const double step = tight - slack;
  h.set_needed = step > 0 ? set - slack + (h.allowed > 1 ? step / (h.allowed - 1) : kUnlimited) : 0;
  return h;
}

Vec2 shaft_load(const Course& course, const Route& route, const LoadCase& load, std::size_t i) {
  const std::size_t before = course.before(i);
  return load.tension[i] * route.spans[i].along - load.tension[before] * route.spans[before].along;
}

BendingLoss bending_loss(const Drive& drive, const Course& course, double driver_rpm) {
  const double speed = belt_speed(drive, course, driver_rpm);
  BendingLoss loss{driver_rpm, {}, 0};
  for (std::size_t i = 0; i < course.size(); ++i) {
    const double r = cord_radius(drive.belt, pulley_at(drive, course, i));
    // N mm² over mm² is the drag at the cord.
    loss.rounds.push_back(drive.belt.ribs * drive.belt.bending_loss.value / (r * r) * speed);
    loss.total += loss.rounds.back();
  }
  return loss;
}

double span_frequency(double pull, double mass, double speed, double length) {
  if (!(pull > 0)) return 0;
  const double c = std::sqrt(pull / mass + speed * speed);
  // c² - v² is T'/m.
  return pull / mass / (2 * (length / 1000) * c);
}

FrequencyMap frequency_map(const Drive& drive, const Course& course, const Route& route, const Band& set, int points) {
  require(points >= 2, "frequency_map: two points at least");
  FrequencyMap map;
  map.lines.resize(course.size());
  for (std::size_t i = 0; i < course.size(); ++i) map.lines[i].span = i;
  if (drive.duty.rpm.empty() || !(drive.belt.mass() > 0)) return map;
  const double first = drive.duty.rpm.front(), last = drive.duty.rpm.back();
  LoadCase load;
  for (int k = 0; k < points; ++k) {
    const double rpm = first + (last - first) * k / (points - 1);
    std::vector<FrequencyPoint> here(course.size());
    bool known = true;
    for (double Band::*const end : {&Band::low, &Band::mid, &Band::high}) {
      known = known && load_case(drive, course, route, rpm, Way::drive, set.*end, load);
      if (!known) break;
      for (std::size_t i = 0; i < course.size(); ++i) {
        here[i].driver_rpm = rpm;
        here[i].frequency.*end = span_frequency(load.tension[i], drive.belt.mass(), load.speed, route.spans[i].length);
      }
    }
    if (!known) continue;
    for (std::size_t i = 0; i < course.size(); ++i) map.lines[i].points.push_back(here[i]);
  }
  for (const FrequencyLine& line : map.lines) {
    for (const double order : drive.duty.orders) {
      for (std::size_t k = 1; k < line.points.size(); ++k) {
        const FrequencyPoint &a = line.points[k - 1], &b = line.points[k];
        const double over_a = a.frequency.mid - order * a.driver_rpm / 60;
        const double over_b = b.frequency.mid - order * b.driver_rpm / 60;
        if ((over_a > 0) == (over_b > 0)) continue;
        const double rpm = a.driver_rpm + (b.driver_rpm - a.driver_rpm) * over_a / (over_a - over_b);
        map.meetings.push_back(
            {line.span, order, rpm, order * rpm / 60, span_name(drive, course, line.span), trimmed(order, 2)});
      }
    }
  }
  return map;
}

}  // namespace groovewright::drive
