#include <algorithm>
#include <cmath>
#include <numbers>

#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_Circle.hxx>
#include <Geom_ConicalSurface.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Line.hxx>
#include <Geom_Plane.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Iterator.hxx>
#include <TopoDS_Wire.hxx>
#include <gp_Pln.hxx>

#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"
#include "impl.h"

namespace groovewright::solid {
namespace {

using plane::Edge;
using plane::Path;
using plane::Vec2;

gp_Pnt lifted(Vec2 p, double z) { return {p.x, p.y, z}; }

/// An arc's angles about its centre, in the direction of travel: from `first` up to `last`.
struct Angles {
  double first = 0, last = 0;
};
Angles angles(const Edge& arc) {
  const double sign = arc.turn == Edge::Turn::ccw ? 1 : -1;
  const double first = sign * atan2_of(arc.a.y - arc.centre.y, arc.a.x - arc.centre.x);
  return {first, first + std::abs(arc.sweep())};
}

TopoDS_Edge loop_edge(const Edge& e, double z, const TopoDS_Vertex& a, const TopoDS_Vertex& b) {
  if (!e.is_arc()) return straight_edge(a, b);
  // A clockwise arc turns about -Z, so that its parameter always grows in the direction of travel.
  const gp_Dir axis = e.turn == Edge::Turn::ccw ? gp::DZ() : -gp::DZ();
  const Angles t = angles(e);
  return edge_between(new Geom_Circle(gp_Ax2(lifted(e.centre, z), axis, gp::DX()), e.radius()), t.first, t.last, a, b);
}

/// The four edges round a wall: on the lower loop, on the upper one, and the two that join their corners.
struct Frame {
  TopoDS_Edge lower, upper, start, end;
};

/// Seen from the opening the metal lies behind the wall when the lower edge is walked against the loop.
TopoDS_Face face_of(const Handle(Geom_Surface) & surface, const Frame& f, bool natural_is_out) {
  BRep_Builder build;
  TopoDS_Wire wire;
  build.MakeWire(wire);
  build.Add(wire, f.lower.Oriented(TopAbs_REVERSED));
  build.Add(wire, f.start.Oriented(TopAbs_FORWARD));
  build.Add(wire, f.upper.Oriented(TopAbs_FORWARD));
  build.Add(wire, f.end.Oriented(TopAbs_REVERSED));
  wire.Closed(true);
  TopoDS_Face face;
  build.MakeFace(face, surface, kTolerance);
  build.Add(face, natural_is_out ? wire : TopoDS::Wire(wire.Reversed()));
  face.Orientation(natural_is_out ? TopAbs_FORWARD : TopAbs_REVERSED);
  return face;
}

void require_match(bool holds) { require(holds, "the levels of a pocket do not match edge by edge"); }

TopoDS_Face flat_wall(const Edge& lower, double z_lower, const Edge& upper, double z_upper, const Frame& f) {
  const Vec2 along = lower.b - lower.a, other = upper.b - upper.a;
  require_match(std::abs(plane::cross(along, other)) <=
                kTolerance * plane::norm(along) * plane::norm(other) + kTolerance);
  const gp_Pnt a = lifted(lower.a, z_lower), b = lifted(lower.b, z_lower), c = lifted(upper.a, z_upper);
  const gp_Dir into_metal = gp_Dir(gp_Vec(a, b).Crossed(gp_Vec(a, c)));
  return face_of(new Geom_Plane(gp_Ax3(a, into_metal, gp_Dir(gp_Vec(a, b)))), f, false);
}

/// Part of a cylinder or cone whose axis is parallel to Z.
TopoDS_Face round_wall(const Edge& lower, double z_lower, const Edge& upper, double z_upper, const Frame& f) {
  const double r_lower = lower.radius(), r_upper = upper.radius(), height = z_upper - z_lower;
  const Angles t = angles(lower), t_upper = angles(upper);
  require_match(upper.turn == lower.turn && plane::norm(upper.centre - lower.centre) <= kTolerance &&
                std::abs(t.first - t_upper.first) * r_upper <= kTolerance &&
                std::abs(t.last - t_upper.last) * r_upper <= kTolerance);
  const bool ccw = lower.turn == Edge::Turn::ccw;
  const bool straight = std::abs(r_upper - r_lower) <= kTolerance;
  const bool narrow_above = !straight && r_upper < r_lower;
  // V runs from the narrow end to the wide one, as Part 21 wants a cone's half angle positive.
  const gp_Ax3 frame(lifted(lower.centre, narrow_above ? z_upper : z_lower), narrow_above ? -gp::DZ() : gp::DZ(),
                     gp::DX());
  Handle(Geom_Surface) surface;
  if (straight) {
    surface = new Geom_CylindricalSurface(frame, r_lower);
  } else {
    surface = new Geom_ConicalSurface(frame, atan2_of(std::abs(r_upper - r_lower), height), std::min(r_lower, r_upper));
  }
  const double length = straight ? height : length_of(height, r_upper - r_lower);
  const double v_lower = narrow_above ? length : 0, v_upper = narrow_above ? 0 : length;
  const double du = ccw == narrow_above ? -1 : 1;  // both the edge and the surface may turn about -Z

  BRep_Builder build;
  const TopLoc_Location here;
  const auto pcurve = [&](const TopoDS_Edge& e, double u, double v, double along_u, double along_v) {
    build.UpdateEdge(e, new Geom2d_Line(gp_Pnt2d(u, v), gp_Dir2d(along_u, along_v)), surface, here, kTolerance);
  };
  // Kept inside one turn: the kernel's readers expect U to begin near 0.
  const double u_least = std::min(du * t.first, du * t.last);
  const double shift = u_least < 0 ? 2 * std::numbers::pi : 0;
  pcurve(f.lower, shift, v_lower, du, 0);
  pcurve(f.upper, shift, v_upper, du, 0);
  pcurve(f.start, shift + du * t.first, v_lower, 0, narrow_above ? -1 : 1);
  pcurve(f.end, shift + du * t.last, v_lower, 0, narrow_above ? -1 : 1);
  return face_of(surface, f, !ccw);
}

TopoDS_Face flat_face(double z, bool up, const std::vector<TopoDS_Wire>& wires) {
  BRep_Builder build;
  TopoDS_Face face;
  build.MakeFace(face, new Geom_Plane(gp_Ax3(gp_Pnt(0, 0, z), gp::DZ(), gp::DX())), kTolerance);
  for (const TopoDS_Wire& w : wires) build.Add(face, w);
  face.Orientation(up ? TopAbs_FORWARD : TopAbs_REVERSED);
  return face;
}

}  // namespace

TopoDS_Edge edge_between(const Handle(Geom_Curve) & curve, double first, double last, const TopoDS_Vertex& a,
                         const TopoDS_Vertex& b) {
  BRep_Builder build;
  TopoDS_Edge e;
  build.MakeEdge(e, curve, kTolerance);
  build.Add(e, a.Oriented(TopAbs_FORWARD));
  build.Add(e, b.Oriented(TopAbs_REVERSED));
  build.Range(e, first, last);
  return e;
}

TopoDS_Edge straight_edge(const TopoDS_Vertex& a, const TopoDS_Vertex& b) {
  const gp_Pnt from = BRep_Tool::Pnt(a), to = BRep_Tool::Pnt(b);
  const gp_Vec along(from, to);
  return edge_between(new Geom_Line(from, gp_Dir(along)), 0, along.Magnitude(), a, b);
}

TopoDS_Wire wire_of(std::vector<TopoDS_Edge> edges, bool forward) {
  BRep_Builder build;
  TopoDS_Wire wire;
  build.MakeWire(wire);
  if (!forward) std::reverse(edges.begin(), edges.end());
  for (const TopoDS_Edge& e : edges) build.Add(wire, forward ? e : TopoDS::Edge(e.Reversed()));
  wire.Closed(true);
  return wire;
}

Path halved(const Path& path) {
  Path halves;
  for (const Edge& e : path) {
    if (!e.is_full_circle()) {
      halves.push_back(e);
      continue;
    }
    const Vec2 opposite = 2 * e.centre - e.a;
    halves.push_back({e.a, opposite, e.turn, e.centre});
    halves.push_back({opposite, e.b, e.turn, e.centre});
  }
  return halves;
}

Loop make_loop(const Path& path, double z) {
  Loop loop{.z = z, .path = halved(path)};
  BRep_Builder build;
  for (const Edge& e : loop.path) build.MakeVertex(loop.corners.emplace_back(), lifted(e.a, z), kTolerance);
  for (std::size_t i = 0; i < loop.path.size(); ++i) {
    loop.edges.push_back(loop_edge(loop.path[i], z, loop.corners[i], loop.corners[(i + 1) % loop.path.size()]));
  }
  return loop;
}

std::vector<TopoDS_Face> make_walls(const Loop& lower, const Loop& upper) {
  if (upper.z - lower.z <= kTolerance) {
    // A step: the smaller loop is an opening in the flat face that the larger one bounds, and metal lies on the side
    // where the opening is small.
    const bool narrows = plane::area(upper.path) < plane::area(lower.path);
    return {flat_face(
        lower.z, !narrows,
        {wire_of(narrows ? lower.edges : upper.edges, true), wire_of(narrows ? upper.edges : lower.edges, false)})};
  }
  const std::size_t n = lower.path.size();
  require_match(upper.path.size() == n);
  std::vector<TopoDS_Edge> posts;
  for (std::size_t i = 0; i < n; ++i) posts.push_back(straight_edge(lower.corners[i], upper.corners[i]));
  std::vector<TopoDS_Face> faces;
  for (std::size_t i = 0; i < n; ++i) {
    const Edge &a = lower.path[i], &b = upper.path[i];
    require_match(a.is_arc() == b.is_arc());
    const Frame frame{lower.edges[i], upper.edges[i], posts[i], posts[(i + 1) % n]};
    faces.push_back((a.is_arc() ? round_wall : flat_wall)(a, lower.z, b, upper.z, frame));
  }
  return faces;
}

TopoDS_Face make_floor(const Loop& loop, bool up) { return flat_face(loop.z, up, {wire_of(loop.edges, true)}); }

TopoDS_Face with_mouths(const TopoDS_Face& flat, const std::vector<std::vector<TopoDS_Edge>>& mouths) {
  // Built from the same surface, so that curves that belong to it stay valid.
  TopoDS_Shape face = flat.EmptyCopied();
  face.Orientation(TopAbs_FORWARD);
  BRep_Builder build;
  for (TopoDS_Iterator w(flat, false); w.More(); w.Next()) build.Add(face, w.Value());
  Handle(Geom_Plane) plane = Handle(Geom_Plane)::DownCast(BRep_Tool::Surface(flat));
  require(!plane.IsNull(), "a mouth in a wall that is not flat");
  // Holes run clockwise about the surface's own normal. (A left-handed plane's normal is not its axis.)
  const bool up = (plane->Axis().Direction().Z() > 0) == plane->Pln().Direct();
  for (const auto& edges : mouths) build.Add(face, wire_of(edges, !up));
  face.Orientation(flat.Orientation());
  return TopoDS::Face(face);
}

}  // namespace groovewright::solid
