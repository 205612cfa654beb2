// prisms.h: outlines of obstacles, and the distance of two prisms from its parts.
#pragma once

#include <cmath>
#include <vector>

#include "distances.h"
#include "groovewright/base/trig.h"
#include "groovewright/drive/model.h"

namespace groovewright::drive {

template <class F>
void each_edge(const Obstacle& obstacle, const F& f) {
  const auto& corners = obstacle.polygon;
  for (std::size_t i = 0; i < corners.size(); ++i) f(Piece{corners[i], corners[i + 1 == corners.size() ? 0 : i + 1]});
}

/// Whether a polygon holds a point: a ray to the right leaves it an odd number of times.
inline bool holds(const std::vector<Vec2>& corners, Vec2 p) {
  bool inside = false;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Vec2 a = corners[i], b = corners[i + 1 == corners.size() ? 0 : i + 1];
    if ((a.y > p.y) == (b.y > p.y)) continue;
    if (p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)) inside = !inside;
  }
  return inside;
}

/// Two prisms that are apart both ways are as far apart as the corner between; overlapping both ways, they overlap by
/// the lesser of the two.
inline double prism_gap(double in_plane, double axial) {
  if (axial <= 0) return in_plane > 0 ? in_plane : std::fmax(in_plane, axial);
  return in_plane > 0 ? length_of(in_plane, axial) : axial;
}

}  // namespace groovewright::drive
