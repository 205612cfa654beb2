// lattice.h: inside room `removal`: points and boxes of the clipper, which reckons with whole numbers.
#pragma once

#include <polyclipping/clipper.hpp>

#include <vector>

#include "groovewright/plane.h"

namespace groovewright::removal {

using Steps = ClipperLib::cInt;
using Loop = ClipperLib::Path;
using Loops = ClipperLib::Paths;

/// Lattice steps in a millimetre: coordinates within 1,073 mm keep to the clipper's fast range (2^30 - 1 steps).
inline constexpr double kLattice = 1e6;
/// A point farther away than this is no place that a machine reaches, mm.
inline constexpr double kFarthest = 1e5;

/// Requires: within kFarthest.
[[nodiscard]] ClipperLib::IntPoint on_lattice(plane::Vec2 p);
[[nodiscard]] plane::Vec2 off_lattice(const ClipperLib::IntPoint& p);
/// Points that fall on their forerunner are left out. May have fewer than three points then.
[[nodiscard]] Loop on_lattice(const std::vector<plane::Vec2>& polygon);
[[nodiscard]] std::vector<std::vector<plane::Vec2>> off_lattice(const Loops& loops);

struct Box {
  Steps x0 = 1, y0 = 1, x1 = 0, y1 = 0;  ///< empty as made

  void take(const ClipperLib::IntPoint& p);
  [[nodiscard]] bool is_empty() const { return x0 > x1; }
  [[nodiscard]] bool overlaps(const Box& o) const {
    return !is_empty() && !o.is_empty() && x0 < o.x1 && o.x0 < x1 && y0 < o.y1 && o.y0 < y1;
  }
};
[[nodiscard]] Box box_of(const Loop& loop);
[[nodiscard]] Box box_of(const Loops& loops);

/// The loop turned over at the axis: what lies beyond it, at its distance from it.
[[nodiscard]] Loop over_the_axis(const Loop& loop);

}  // namespace groovewright::removal
