// triangulate.h: plane figures with holes into triangles.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "groovewright/plane.h"

namespace groovewright::mesh {

/// A closed run of indices into a list of points, each point used once. The figure lies to its left: outer loops are
/// counter-clockwise, holes clockwise; several outer loops may stand side by side.
using Loop = std::vector<std::uint32_t>;

/// Counter-clockwise triangles that fill the figure and use its points only. Edges inside are Delaunay where the
/// outline lets them, so slivers appear only where the outline forces them. O(n log n) but for a scan of the edges that
/// the sweep line crosses. Requires: loops that neither cross nor touch themselves or each other.
[[nodiscard]] std::vector<std::array<std::uint32_t, 3>> triangulate(const std::vector<plane::Vec2>& points,
                                                                    const std::vector<Loop>& loops);

}  // namespace groovewright::mesh
