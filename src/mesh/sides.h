// sides.h: how triangles hang together.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "groovewright/mesh.h"

namespace groovewright::mesh {

/// No area by closure's measure.
[[nodiscard]] bool is_degenerate(const std::vector<Vec3>& vertices, const std::array<std::uint32_t, 3>& triangle);

/// Closure over the edges whose ends are both marked; over all of them without marks.
[[nodiscard]] Closure closure_between(const std::vector<Vec3>& vertices,
                                      const std::vector<std::array<std::uint32_t, 3>>& triangles,
                                      const std::vector<char>* marked);

}  // namespace groovewright::mesh
