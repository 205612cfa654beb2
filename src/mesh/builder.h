// builder.h: vertices and triangles as they are made. Neighbouring faces are given the same vertices, so that what they
// build is watertight without any welding.
#pragma once

#include <cstdint>
#include <utility>
#include <vector>

#include "groovewright/mesh.h"
#include "triangulate.h"

namespace groovewright::mesh {

/// A vertex on a circle about some axis.
struct Node {
  double angle = 0;
  std::uint32_t id = 0;
};
/// Nodes by rising angle. A whole circle repeats its first node, a turn later; a point on the axis is one node.
using Row = std::vector<Node>;

[[nodiscard]] std::vector<std::uint32_t> ids(const Row& row);
[[nodiscard]] std::vector<std::uint32_t> reversed(std::vector<std::uint32_t> run);

/// The outline of a face square to the Z axis, with the face to its left as seen from +Z.
class Border {
 public:
  /// A part of the outline, from its first vertex to its last.
  void add(std::vector<std::uint32_t> run);
  /// A whole closed loop, its first vertex not repeated.
  void add_closed(std::vector<std::uint32_t> loop);
  /// All parts joined. Requires: they close.
  [[nodiscard]] std::vector<Loop> loops() const;

 private:
  std::vector<std::vector<std::uint32_t>> runs_;
  std::vector<Loop> closed_;
};

/// The mesh less the vertices that no triangle names; the others keep their order.
[[nodiscard]] Mesh compacted(Mesh m);

class Builder {
 public:
  /// Room for that many vertices more and the triangles between them: growing by doubling touches memory twice.
  void expect(std::size_t vertices);
  [[nodiscard]] std::uint32_t add(Vec3 v);
  [[nodiscard]] const Vec3& at(std::uint32_t id) const { return mesh_.vertices[id]; }
  /// Outward side by the right-hand rule. Triangles that name a vertex twice are left out.
  void add_triangle(std::uint32_t a, std::uint32_t b, std::uint32_t c);
  /// The strip between two rows of which `b` follows `a` along a section with its metal to the left. No triangle spans
  /// a wider angle than the widest step in either row (or the difference of the rows' ends).
  void zip(const Row& a, const Row& b);
  /// A plane figure; `place` puts the points of `loops` into the plane, where the figure lies to their left. `flipped`:
  /// the outward side is the one from which it lies to their right.
  template <class Place>
  void fill(const std::vector<Loop>& loops, const Place& place, bool flipped);
  /// A figure square to the axis.
  void fill_level(const std::vector<Loop>& loops, bool faces_up);

  /// What was built, less the vertices that no triangle names.
  [[nodiscard]] Mesh take() { return compacted(std::move(mesh_)); }

 private:
  Mesh mesh_;
};

template <class Place>
void Builder::fill(const std::vector<Loop>& loops, const Place& place, bool flipped) {
  std::vector<plane::Vec2> points;
  std::vector<std::uint32_t> names;
  std::vector<Loop> local;
  for (const Loop& loop : loops) {
    local.emplace_back();
    for (const std::uint32_t id : loop) {
      local.back().push_back(static_cast<std::uint32_t>(points.size()));
      points.push_back(place(id));
      names.push_back(id);
    }
  }
  for (const auto& t : triangulate(points, local)) {
    add_triangle(names[t[0]], names[t[flipped ? 2 : 1]], names[t[flipped ? 1 : 2]]);
  }
}

}  // namespace groovewright::mesh
