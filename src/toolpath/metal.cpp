#include "metal.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace groovewright::toolpath {
namespace {

using plane::Vec2;

constexpr double kLongest = 1;  // mm along x: longer sides are cut up, so that looking up finds few

/// True where the part of a -> b within the convex, ccw polygon is longer than nothing.
bool enters(Vec2 a, Vec2 b, const Polygon& convex) {
  double from = 0, to = 1;
  for (std::size_t i = 0; i < convex.size(); ++i) {
    const Vec2 p = convex[i], side = convex[(i + 1) % convex.size()] - p;
    const double at_a = plane::cross(side, a - p), at_b = plane::cross(side, b - p);
    if (at_a <= 0 && at_b <= 0) return false;
    if (at_a < 0) from = std::max(from, at_a / (at_a - at_b));
    if (at_b < 0) to = std::min(to, at_a / (at_a - at_b));
    if (from >= to) return false;
  }
  return true;
}

}  // namespace

Metal::Metal(const std::vector<Polygon>& region) {
  for (const Polygon& loop : region) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vec2 a = loop[i], b = loop[(i + 1) % loop.size()];
      const int n = std::max(1, static_cast<int>(std::ceil(std::abs(b.x - a.x) / kLongest)));
      for (int k = 0; k < n; ++k) {
        const Vec2 p = a + (static_cast<double>(k) / n) * (b - a), q = k + 1 == n ? b : a + ((k + 1.0) / n) * (b - a);
        sides_.push_back({p, q, std::min(p.x, q.x), std::max(p.x, q.x)});
        widest_ = std::max(widest_, sides_.back().high - sides_.back().low);
      }
    }
  }
  std::sort(sides_.begin(), sides_.end(), [](const Side& a, const Side& b) { return a.low < b.low; });
}

bool Metal::holds(const Polygon& convex) const {
  Vec2 low = convex.front(), high = convex.front();  // not box_of: this is where the time goes
  for (const Vec2& p : convex) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
  }
  for (auto side = first_from(low.x); side != sides_.end() && side->low < high.x; ++side) {
    if (side->high <= low.x || std::max(side->a.y, side->b.y) <= low.y || std::min(side->a.y, side->b.y) >= high.y)
      continue;
    if (enters(side->a, side->b, convex)) return true;
  }
  return winds_round(convex.front());
}

std::vector<Metal::Side>::const_iterator Metal::first_from(double x) const {
  return std::lower_bound(sides_.begin(), sides_.end(), x - widest_,
                          [](const Side& s, double at) { return s.low < at; });
}

/// A ray upwards: only the sides over the point are asked.
bool Metal::winds_round(Vec2 p) const {
  int winding = 0;
  for (auto side = first_from(p.x); side != sides_.end() && side->low <= p.x; ++side) {
    const Vec2 a = side->a, b = side->b;
    if ((a.x <= p.x) == (b.x <= p.x)) continue;
    const bool left = plane::cross(b - a, p - a) > 0;
    if (a.x <= p.x && !left) ++winding;
    if (a.x > p.x && left) --winding;
  }
  return winding != 0;
}

plane::Box box_of(const std::vector<Polygon>& loops) {
  constexpr double kFar = std::numeric_limits<double>::infinity();
  plane::Box box{{kFar, kFar}, {-kFar, -kFar}};
  for (const Polygon& loop : loops) {
    for (const Vec2& p : loop) {
      box.low = {std::min(box.low.x, p.x), std::min(box.low.y, p.y)};
      box.high = {std::max(box.high.x, p.x), std::max(box.high.y, p.y)};
    }
  }
  return box;
}

Polygon swept(const Polygon& convex, Vec2 from, Vec2 to) {
  const Vec2 way = to - from;
  if (way.x == 0 && way.y == 0) return moved(convex, from);
  // Its corners farthest to the right and the left of the way part those that lead from those that trail.
  std::size_t right = 0, left = 0;
  for (std::size_t i = 1; i < convex.size(); ++i) {
    const double side = plane::cross(way, convex[i]);
    if (side < plane::cross(way, convex[right])) right = i;
    if (side > plane::cross(way, convex[left])) left = i;
  }
  Polygon out;
  out.reserve(convex.size() + 2);
  const auto add = [&](std::size_t first, std::size_t last, Vec2 by) {
    for (std::size_t i = first;; i = (i + 1) % convex.size()) {
      out.push_back(convex[i] + by);
      if (i == last) return;
    }
  };
  add(right, left, to);
  add(left, right, from);
  return out;
}

}  // namespace groovewright::toolpath
