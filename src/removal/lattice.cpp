#include "lattice.h"

#include <algorithm>
#include <cmath>

#include "groovewright/base/broken.h"

namespace groovewright::removal {

using ClipperLib::IntPoint;

IntPoint on_lattice(plane::Vec2 p) {
  require(std::abs(p.x) <= kFarthest && std::abs(p.y) <= kFarthest, "removal: a point is too far away");
  return {std::llround(p.x * kLattice), std::llround(p.y * kLattice)};
}

plane::Vec2 off_lattice(const IntPoint& p) {
  return {static_cast<double>(p.X) / kLattice, static_cast<double>(p.Y) / kLattice};
}

Loop on_lattice(const std::vector<plane::Vec2>& polygon) {
  Loop out;
  out.reserve(polygon.size());
  for (const plane::Vec2& p : polygon) {
    const IntPoint at = on_lattice(p);
    if (out.empty() || out.back() != at) out.push_back(at);
  }
  while (out.size() > 1 && out.back() == out.front()) out.pop_back();
  return out;
}

std::vector<std::vector<plane::Vec2>> off_lattice(const Loops& loops) {
  std::vector<std::vector<plane::Vec2>> out;
  for (const Loop& loop : loops) {
    std::vector<plane::Vec2>& polygon = out.emplace_back();
    for (const IntPoint& p : loop) polygon.push_back(off_lattice(p));
  }
  return out;
}

void Box::take(const IntPoint& p) {
  if (is_empty()) {
    *this = {p.X, p.Y, p.X, p.Y};
    return;
  }
  x0 = std::min(x0, p.X), y0 = std::min(y0, p.Y);
  x1 = std::max(x1, p.X), y1 = std::max(y1, p.Y);
}

Box box_of(const Loop& loop) {
  Box box;
  for (const IntPoint& p : loop) box.take(p);
  return box;
}

Box box_of(const Loops& loops) {
  Box box;
  for (const Loop& loop : loops)
    for (const IntPoint& p : loop) box.take(p);
  return box;
}

Loop over_the_axis(const Loop& loop) {
  Loop out;
  out.reserve(loop.size());
  for (auto p = loop.rbegin(); p != loop.rend(); ++p) out.push_back({p->X, -p->Y});
  return out;
}

}  // namespace groovewright::removal
