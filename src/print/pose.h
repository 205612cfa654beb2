// pose.h: how a mesh is turned before it lies on the bed.
#pragma once

#include <array>
#include <functional>

#include "groovewright/mesh.h"

namespace groovewright::print {

struct Box {
  mesh::Vec3 low{1e9, 1e9, 1e9}, high{-1e9, -1e9, -1e9};
  [[nodiscard]] double width() const { return high.x - low.x; }
  [[nodiscard]] double depth() const { return high.y - low.y; }
  [[nodiscard]] double height() const { return high.z - low.z; }
};
void add(Box& box, const mesh::Mesh& m);

/// Moves each vertex; keeps the outward side outward. Requires: `move` turns, shifts or stretches, and never mirrors.
void pose(mesh::Mesh& m, const std::function<mesh::Vec3(const mesh::Vec3&)>& move);

/// Front face down: half a turn about X.
[[nodiscard]] mesh::Vec3 front_down(const mesh::Vec3& v);
/// About Z, counter-clockwise.
[[nodiscard]] std::function<mesh::Vec3(const mesh::Vec3&)> turned(double angle);
/// Up is what was across the ray at `angle`, ahead of it; the axis lies along X.
[[nodiscard]] std::function<mesh::Vec3(const mesh::Vec3&)> standing(double angle);

/// Projected area, mm², of what faces down and leans less than `least_lean` rad from the bed, what lies on the bed left
/// out. The mesh stands on z = `bed`.
[[nodiscard]] double overhang(const mesh::Mesh& m, double least_lean, double bed);

}  // namespace groovewright::print
