// clouds.h: the slow, obviously right second engine for clearances: parts as clouds of points, every pair of points
// measured. Knows no nearest point of anything.
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "groovewright/drive.h"

namespace groovewright::witness {

using Cloud = std::vector<plane::Vec2>;

inline void add_arc(Cloud& cloud, plane::Vec2 centre, double radius, double first, double sweep, int points) {
  for (int k = 0; k <= points; ++k) {
    const double a = first + sweep * k / points;
    cloud.push_back({centre.x + radius * std::cos(a), centre.y + radius * std::sin(a)});
  }
}

inline void add_line(Cloud& cloud, plane::Vec2 a, plane::Vec2 b, int points) {
  for (int k = 0; k <= points; ++k) cloud.push_back(a + (static_cast<double>(k) / points) * (b - a));
}

inline Cloud obstacle_cloud(const drive::Obstacle& o, int points) {
  Cloud cloud;
  if (o.radius > 0) {
    add_arc(cloud, o.centre, o.radius, 0, 2 * std::numbers::pi, points);
  } else {
    for (std::size_t i = 0; i < o.polygon.size(); ++i) {
      add_line(cloud, o.polygon[i], o.polygon[(i + 1) % o.polygon.size()], points);
    }
  }
  return cloud;
}

/// Rims, and both faces of the belt all the way round.
inline Cloud drive_cloud(const drive::Drive& d, const drive::Course& c, const drive::Route& r, int points) {
  Cloud cloud;
  for (std::size_t i = 0; i < c.size(); ++i) {
    const drive::Round& round = c.rounds[i];
    add_arc(cloud, round.centre, drive::pulley_at(d, c, i).body_radius(), 0, 2 * std::numbers::pi, points);
    const plane::Vec2 first = r.spans[c.before(i)].to - round.centre;
    const double from = std::atan2(first.y, first.x), sweep = round.turn * r.wraps[i];
    const bool ribs = round.turn == c.loop;
    add_arc(cloud, round.centre, round.radius + (ribs ? d.belt.back() : d.belt.depth()), from, sweep, points);
    const drive::Span& s = r.spans[i];
    const plane::Vec2 inwards = c.loop * plane::Vec2{-s.along.y, s.along.x};
    add_line(cloud, s.from + d.belt.depth() * inwards, s.to + d.belt.depth() * inwards, points);
    add_line(cloud, s.from - d.belt.back() * inwards, s.to - d.belt.back() * inwards, points);
  }
  return cloud;
}

inline double least_distance(const Cloud& a, const Cloud& b) {
  double least = 1e300;
  for (const plane::Vec2 p : a) {
    for (const plane::Vec2 q : b) {
      const plane::Vec2 way = q - p;
      least = std::min(least, way.x * way.x + way.y * way.y);
    }
  }
  return std::sqrt(least);
}

}  // namespace groovewright::witness
