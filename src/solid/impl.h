// impl.h: what stands behind `Shape`, and the steps from a turned body to a solid. Private to the room.
#pragma once

#include <string>
#include <vector>

#include <Geom_Curve.hxx>
#include <Standard_Transient.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Shape.hxx>
#include <TopoDS_Vertex.hxx>
#include <TopoDS_Wire.hxx>
#include <gp.hxx>
#include <gp_Dir.hxx>

#include "groovewright/solid.h"

namespace groovewright::solid {

struct Shape::Impl {
  TopoDS_Shape shape;
  bool as_read = false;  ///< straight from a file: without curves in the faces' own parameters
  std::vector<Handle(Standard_Transient)> entities = {};  ///< of its file, where it holds requirements
};

/// The straight edge from `a` to `b`.
[[nodiscard]] inline plane::Edge line(plane::Vec2 a, plane::Vec2 b) {
  plane::Edge e;
  e.a = a;
  e.b = b;
  return e;
}

/// The same closed path without full circles: each is made two halves.
[[nodiscard]] plane::Path halved(const plane::Path& path);

// ---- rings.cpp: faces that a line or an arc sweeps in a full turn about an axis parallel to Z ----

/// What a point sweeps: a closed circle with its vertex where the faces' seams run. On the axis there is a vertex only.
struct Ring {
  gp_Dir seam;
  TopoDS_Vertex vertex = {};
  TopoDS_Edge circle = {};
  [[nodiscard]] bool on_axis() const { return circle.IsNull(); }
};
/// `at` in the half plane of the axis (x = Z, y = radius).
[[nodiscard]] Ring make_ring(plane::Vec2 axis, plane::Vec2 at, const gp_Dir& seam = gp::DX());
/// The face swept by `e`, whose ends swept `a` and `b`; metal lies to the left of `e`. Requires: `e` not on the axis;
/// an arc's centre farther from the axis than its radius; both rings with one seam.
[[nodiscard]] TopoDS_Face turn(plane::Vec2 axis, const plane::Edge& e, const Ring& a, const Ring& b);

// ---- walls.cpp: openings that are no rings ----

/// Runs from `a` to `b` while the curve's parameter grows from `first` to `last`.
[[nodiscard]] TopoDS_Edge edge_between(const Handle(Geom_Curve) & curve, double first, double last,
                                       const TopoDS_Vertex& a, const TopoDS_Vertex& b);
[[nodiscard]] TopoDS_Edge straight_edge(const TopoDS_Vertex& a, const TopoDS_Vertex& b);
/// The edges nose to tail, closed; walked the other way round unless `forward`.
[[nodiscard]] TopoDS_Wire wire_of(std::vector<TopoDS_Edge> edges, bool forward);

/// A loop in the plane Z = z: edge i runs from corner i to corner i + 1.
struct Loop {
  double z = 0;
  plane::Path path = {};
  std::vector<TopoDS_Vertex> corners = {};
  std::vector<TopoDS_Edge> edges = {};
};
[[nodiscard]] Loop make_loop(const plane::Path& path, double z);
/// Faces between two matching loops, facing inwards. Requires: lower.z < upper.z, or equal with one loop inside the
/// other.
[[nodiscard]] std::vector<TopoDS_Face> make_walls(const Loop& lower, const Loop& upper);
/// The flat face inside a loop, facing +Z (`up`) or -Z.
[[nodiscard]] TopoDS_Face make_floor(const Loop& loop, bool up);
/// The same face with one more hole, whose edges run ccw about +Z.
[[nodiscard]] TopoDS_Face with_mouths(const TopoDS_Face& flat, const std::vector<std::vector<TopoDS_Edge>>& mouths);

// ---- slots.cpp, slot_bites.cpp, slot_faces.cpp: openings that cut across rings ----

/// Faces of the turned section, one an edge, and what the slots leave of them.
struct TurnedFaces {
  struct Whole {
    TopoDS_Face face;
    plane::Edge from;  ///< the section's edge
  };
  std::vector<Whole> whole;      ///< not bitten by slots
  std::vector<TopoDS_Face> cut;  ///< bitten, and the slots' own
};
[[nodiscard]] TurnedFaces turn_section(const plane::TurnedBody& body);

// ---- the rest ----

[[nodiscard]] TopoDS_Shape build(const plane::TurnedBody& body);
[[nodiscard]] Proof prove(const TopoDS_Shape& shape);
[[nodiscard]] std::string write_step(const TopoDS_Shape& shape, const Label& label, const Limits& limits);
/// Geometry and topology as they stand in the file, enough to measure. Anything else needs `healed`.
[[nodiscard]] Shape::Impl read_step(std::string_view text);
/// The shape with all that the kernel wants in it beyond what a file holds.
[[nodiscard]] TopoDS_Shape healed(const TopoDS_Shape& as_read);
[[nodiscard]] std::vector<plane::Generator> find_generators(const TopoDS_Shape& shape, double least_rad,
                                                            double most_rad);

/// How far ends may lie apart and still be one point to the kernel; its own default, and plane::kCoincident.
inline constexpr double kTolerance = plane::kCoincident;

}  // namespace groovewright::solid
