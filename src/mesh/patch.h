// patch.h: a part of a mesh that was made anew, until it may be sewn in.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "groovewright/mesh.h"

namespace groovewright::mesh {

/// Vertices nearer than this, mm, would be one when a file rounds them to 1e-5.
inline constexpr double kApart = 2e-5;

/// Vertices from `first_new` on are used by triangles of the patch only. Around every vertex marked `whole`, old or
/// new, the patch holds all triangles whose edges end at two marked ones.
struct Patch {
  std::vector<Vec3>& vertices;
  std::vector<std::array<std::uint32_t, 3>> triangles;
  std::uint32_t first_new = 0;
  std::vector<char> whole;
};

/// Draws new vertices together with neighbours nearer than kApart, wherever that leaves the surface what it is.
void join_near_vertices(Patch& patch);

/// Throws Broken unless the patch closes what it should, without degenerate triangles or vertices that are one when
/// rounded.
void check(const Patch& patch);

}  // namespace groovewright::mesh
