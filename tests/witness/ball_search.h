// ball_search.h: the slow, obviously right second engine for "diameter over balls": lower the ball between two walls by
// bisection until it would touch. No trigonometry shared with room gauge; distances point to segment only.
#pragma once

#include <algorithm>
#include <cmath>

#include "groovewright/plane.h"

namespace groovewright::witness {

inline double distance_to_segment(plane::Vec2 p, plane::Vec2 a, plane::Vec2 b) {
  const double dx = b.x - a.x, dy = b.y - a.y;
  const double t = std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy), 0.0, 1.0);
  return std::hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

/// K by search: the lowest radius at which a ball centred at the best Z between the two flanks touches neither. The
/// middle is found by balancing both distances, again by bisection.
inline double over_balls_by_search(const plane::Generator& one, const plane::Generator& other, double ball) {
  const double r = ball / 2;
  double low = std::min({one.a.y, one.b.y, other.a.y, other.b.y}),
         high = std::max({one.a.y, one.b.y, other.a.y, other.b.y}) + ball;
  const double left = std::min({one.a.x, one.b.x, other.a.x, other.b.x}),
               right = std::max({one.a.x, one.b.x, other.a.x, other.b.x});
  const bool one_is_left = one.a.x + one.b.x < other.a.x + other.b.x;
  const plane::Generator &l = one_is_left ? one : other, &m = one_is_left ? other : one;
  for (int i = 0; i < 80; ++i) {
    const double y = (low + high) / 2;
    double z0 = left, z1 = right;
    for (int k = 0; k < 80; ++k) {
      const double z = (z0 + z1) / 2;
      (distance_to_segment({z, y}, l.a, l.b) < distance_to_segment({z, y}, m.a, m.b) ? z0 : z1) = z;
    }
    const double z = (z0 + z1) / 2;
    const double room = std::min(distance_to_segment({z, y}, l.a, l.b), distance_to_segment({z, y}, m.a, m.b));
    (room < r ? low : high) = y;
  }
  return 2 * ((low + high) / 2 + r);
}

}  // namespace groovewright::witness
