// lattice.h: inside room `plane`: points of the clipper, which reckons with whole numbers.
#pragma once

#include <polyclipping/clipper.hpp>

#include "groovewright/plane.h"

namespace groovewright::plane {

/// Lattice steps in a millimetre; coordinates up to kFarthest then keep to the clipper's fast range.
inline constexpr double kLattice = 1e5;
inline constexpr double kFarthest = 1e4;

/// Requires: within kFarthest.
[[nodiscard]] ClipperLib::IntPoint on_lattice(Vec2 p);
[[nodiscard]] std::vector<Vec2> off_lattice(const ClipperLib::Path& points);

}  // namespace groovewright::plane
