// points_gone.h: the slow second engine for `removal`: how deep a point lies in a tool, at places so near to each other
// along its way that nothing is missed. Paths stay exact; no polygons, no Boolean operations.
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

#include "groovewright/nc.h"
#include "groovewright/plane.h"

namespace groovewright::witness {

/// Depth of `p` in a closed path, negative outside.
inline double depth(const plane::Path& path, plane::Vec2 p) {
  const double d = plane::distance(p, path);
  return plane::contains(path, p) ? d : -d;
}

/// Where the steered point stands along a move (z, radius), at most `step` apart. The start is left out where unknown.
inline std::vector<plane::Vec2> places(const nc::Move& m, bool from_known, double step) {
  const plane::Vec2 a{m.from.z, m.from.x}, b{m.to.z, m.to.x}, c{m.centre.z, m.centre.x};
  if (!from_known) return {b};
  const bool ccw = m.kind == nc::Move::Kind::ccw;
  if (!ccw && m.kind != nc::Move::Kind::cw) {
    const int n = 1 + static_cast<int>(plane::norm(b - a) / step);
    std::vector<plane::Vec2> out;
    for (int k = 0; k <= n; ++k) out.push_back(a + (static_cast<double>(k) / n) * (b - a));
    return out;
  }
  const double r = plane::norm(a - c), first = std::atan2(a.y - c.y, a.x - c.x);
  double sweep = std::atan2(b.y - c.y, b.x - c.x) - first;
  while (ccw && sweep <= 1e-9) sweep += 2 * std::numbers::pi;
  while (!ccw && sweep >= -1e-9) sweep -= 2 * std::numbers::pi;
  const int n = 1 + static_cast<int>(r * std::abs(sweep) / step);
  std::vector<plane::Vec2> out;
  for (int k = 0; k <= n; ++k) {
    const double angle = first + sweep * k / n;
    out.push_back({c.x + r * std::cos(angle), c.y + r * std::sin(angle)});
  }
  return out;
}

/// Greatest depth of `p` in the tool over all places; the part turns, so (z, -radius) is the same point.
inline double deepest(const std::vector<plane::Path>& tool, const std::vector<plane::Vec2>& places, plane::Vec2 p) {
  double most = -std::numeric_limits<double>::infinity();
  for (const plane::Vec2 at : places)
    for (const plane::Path& path : tool)
      for (const plane::Vec2 q : {p, plane::Vec2{p.x, -p.y}}) most = std::max(most, depth(path, q - at));
  return most;
}

/// Even-odd: whether the loops hold `p`.
inline bool held(const std::vector<std::vector<plane::Vec2>>& loops, plane::Vec2 p) {
  bool in = false;
  for (const auto& loop : loops)
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const plane::Vec2 a = loop[i], b = loop[(i + 1) % loop.size()];
      if ((a.y <= p.y) != (b.y <= p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y)) in = !in;
    }
  return in;
}

}  // namespace groovewright::witness
