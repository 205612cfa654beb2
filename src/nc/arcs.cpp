#include <algorithm>
#include <cmath>

#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"
#include "round_arc.h"
#include "tracer.h"

namespace groovewright::nc {
namespace {

Flat flat(Point p, Plane plane) { return plane == Plane::xy ? Flat{p.x, p.y} : Flat{p.z, p.x}; }

/// The centre keeps the start's third coordinate.
Point solid(Flat f, Point start, Plane plane) {
  return plane == Plane::xy ? Point{f.u, f.v, start.z} : Point{f.v, start.y, f.u};
}

}  // namespace

void Tracer::arc(Sorted& s, bool ccw) {
  const bool xy = plane_ == Plane::xy;
  const bool across = s.has('X') || s.has(xy ? 'Y' : 'Z');
  const bool known = need_place();
  const auto to = target(s);
  if (!to) return;
  if (!known) {
    at_ = *to;
    return;
  }
  if (!across) return fault("an arc takes an axis word of its plane");
  const auto radius = s.take('R');
  const auto centre = radius ? centre_by_radius(*to, length(*radius), ccw) : centre_by_offsets(s, *to);
  if (centre) {
    add_feed(ccw ? Move::Kind::ccw : Move::Kind::cw, *to, *centre);
  } else {
    at_ = *to;
  }
}

/// I, J or K from the start; in G7 they are no diameters.
std::optional<Point> Tracer::centre_by_offsets(Sorted& s, Point to) {
  const bool xy = plane_ == Plane::xy;
  const auto i = s.take('I'), other = s.take(xy ? 'J' : 'K');
  if (!i && !other) {
    fault(xy ? "an arc in G17 takes I and J, or R" : "an arc in G18 takes I and K, or R");
    return std::nullopt;
  }
  const double di = length(i.value_or(0)), dj = length(other.value_or(0));
  const Point centre = xy ? Point{at_.x + di, at_.y + dj, at_.z} : Point{at_.x + di, at_.y, at_.z + dj};
  const Flat end = flat(to, plane_), middle = flat(centre, plane_);
  const double start_radius = length_of(di, dj), end_radius = length_of(end.u - middle.u, end.v - middle.v);
  const double apart = std::abs(start_radius - end_radius);
  constexpr double kRounding = 1e-9;  // of our own sums
  if (start_radius <= 0 || apart > kArcRadii + kRounding) {
    fault("the arc's radii differ by " + number(apart, 4) + " mm: " + number(start_radius, 4) + " at its start, " +
          number(end_radius, 4) + " at its end");
    return std::nullopt;
  }
  return centre;
}

/// Half a turn at most where R is positive, half a turn at least where it is negative.
std::optional<Point> Tracer::centre_by_radius(Point to, double radius, bool ccw) {
  const Flat a = flat(at_, plane_), b = flat(to, plane_);
  const double chord = length_of(b.u - a.u, b.v - a.v);
  if (chord <= 0) {
    fault("an arc by R ends elsewhere than it starts");
    return std::nullopt;
  }
  if (chord / 2 > std::abs(radius) + kArcRadii) {
    fault("R is less than half the way from the arc's start to its end");
    return std::nullopt;
  }
  const double half = chord / 2;
  const double height = std::sqrt(std::max(0.0, radius * radius - half * half));
  const bool left = ccw == (radius > 0);  // the centre lies to the left of the way from start to end
  const double u = -(b.v - a.v) / chord, v = (b.u - a.u) / chord;
  const double side = left ? height : -height;
  return solid({(a.u + b.u) / 2 + side * u, (a.v + b.v) / 2 + side * v}, at_, plane_);
}

}  // namespace groovewright::nc
