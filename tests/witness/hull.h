// hull.h: the convex hull of circles as that of many points on them (monotone chain): a belt with all pulleys inside.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <span>
#include <vector>

#include "groovewright/drive/route.h"

namespace groovewright::witness {

struct Hull {
  double length = 0;
  std::vector<std::size_t> runs;  ///< circles in counter-clockwise order, one entry for each run of their points
};

/// Points at radius × `swell`; 1 gives a length that is too short, 1 / cos(pi / points) one that is too long.
inline Hull hull_of_circles(std::span<const drive::Round> circles, int points, double swell) {
  struct Owned {
    plane::Vec2 at;
    std::size_t circle;
  };
  std::vector<Owned> all;
  for (std::size_t i = 0; i < circles.size(); ++i) {
    for (int k = 0; k < points; ++k) {
      const double a = 2 * std::numbers::pi * k / points, r = circles[i].radius * swell;
      all.push_back({circles[i].centre + r * plane::Vec2{std::cos(a), std::sin(a)}, i});
    }
  }
  std::sort(all.begin(), all.end(),
            [](const Owned& a, const Owned& b) { return a.at.x != b.at.x ? a.at.x < b.at.x : a.at.y < b.at.y; });
  std::vector<Owned> chain;
  const auto half = [&](const auto& from, const auto& to) {
    const std::size_t base = chain.size();
    for (auto it = from; it != to; ++it) {
      while (chain.size() >= base + 2 &&
             cross(chain.back().at - chain[chain.size() - 2].at, it->at - chain.back().at) <= 0) {
        chain.pop_back();
      }
      chain.push_back(*it);
    }
    chain.pop_back();
  };
  half(all.begin(), all.end());
  half(all.rbegin(), all.rend());
  Hull hull;
  for (std::size_t i = 0; i < chain.size(); ++i) {
    const Owned &a = chain[i], &b = chain[(i + 1) % chain.size()];
    hull.length += std::hypot(b.at.x - a.at.x, b.at.y - a.at.y);
    if (a.circle != b.circle) hull.runs.push_back(b.circle);
  }
  return hull;
}

}  // namespace groovewright::witness
