#include "lattice.h"

#include <cmath>

#include "groovewright/base/broken.h"

namespace groovewright::plane {

ClipperLib::IntPoint on_lattice(Vec2 p) {
  require(std::abs(p.x) <= kFarthest && std::abs(p.y) <= kFarthest, "clipper: a point is too far away");
  return {std::llround(p.x * kLattice), std::llround(p.y * kLattice)};
}

std::vector<Vec2> off_lattice(const ClipperLib::Path& points) {
  std::vector<Vec2> out;
  for (const ClipperLib::IntPoint& p : points)
    out.push_back({static_cast<double>(p.X) / kLattice, static_cast<double>(p.Y) / kLattice});
  return out;
}

}  // namespace groovewright::plane
