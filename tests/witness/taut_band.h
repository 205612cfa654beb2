// taut_band.h: the slow, obviously right second engine for a belt's length: every round is a polygon of many corners,
// and a string is laid round them by looking, from a corner of one, for the outermost corner of the next, back and
// forth until neither moves. No tangent of a circle is ever computed. Corners on the circles give a length that is too
// short, those of polygons around them one that is too long.
#pragma once

#include <cmath>
#include <cstddef>
#include <numbers>
#include <span>
#include <vector>

#include "groovewright/drive/route.h"

namespace groovewright::witness {

/// The length of the string over regular polygons of `corners`, their corners at radius × `swell`.
inline double taut_band(std::span<const drive::Round> rounds, std::size_t corners, double swell) {
  using plane::Vec2;
  const std::size_t n = rounds.size();
  // Corners of each round in the order in which the string passes them.
  std::vector<std::vector<Vec2>> polygon(n);
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t k = 0; k < corners; ++k) {
      const double angle =
          rounds[i].turn * 2 * std::numbers::pi * static_cast<double>(k) / static_cast<double>(corners);
      polygon[i].push_back(rounds[i].centre + rounds[i].radius * swell * Vec2{std::cos(angle), std::sin(angle)});
    }
  }
  /// The corner of round i that leaves all others on its own side of the line from `from` to `to`, one of which it is.
  const auto outermost = [&](std::size_t i, Vec2 other, bool leaving) {
    std::size_t best = 0;
    for (std::size_t k = 1; k < corners; ++k) {
      const Vec2 line = leaving ? other - polygon[i][best] : polygon[i][best] - other;
      if (rounds[i].turn * cross(line, polygon[i][k] - polygon[i][best]) < 0) best = k;
    }
    return best;
  };
  std::vector<std::size_t> leaves(n), meets(n);
  double length = 0;
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t next = (i + 1) % n;
    std::size_t p = outermost(i, rounds[next].centre, true), q = outermost(next, polygon[i][p], false);
    for (bool moves = true; moves;) {
      const std::size_t was = p;
      p = outermost(i, polygon[next][q], true);
      q = outermost(next, polygon[i][p], false);
      moves = p != was;
    }
    leaves[i] = p;
    meets[next] = q;
    const Vec2 way = polygon[next][q] - polygon[i][p];
    length += std::hypot(way.x, way.y);
  }
  for (std::size_t i = 0; i < n; ++i) {
    const double side = 2 * rounds[i].radius * swell * std::sin(std::numbers::pi / static_cast<double>(corners));
    length += static_cast<double>((leaves[i] + corners - meets[i]) % corners) * side;
  }
  return length;
}

}  // namespace groovewright::witness
