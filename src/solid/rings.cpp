#include <cmath>
#include <numbers>

#include <BRep_Builder.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_Circle.hxx>
#include <Geom_ConicalSurface.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Line.hxx>
#include <Geom_Plane.hxx>
#include <Geom_ToroidalSurface.hxx>
#include <TopoDS_Wire.hxx>
#include <gp_Circ.hxx>
#include <gp_Lin2d.hxx>

#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"
#include "impl.h"

namespace groovewright::solid {
namespace {

using plane::Vec2;
constexpr double kTurn = 2 * std::numbers::pi;

/// A surface of revolution and the line or arc that it is swept by, in the surface's own V.
struct Swept {
  Handle(Geom_Surface) surface = {};
  Handle(Geom_Curve) seam = {};  // at angle 0, parameter = V
  double va = 0, vb = 0;         // V at the ends of the section's edge
  bool against_z = false;        // the surface's axis points to -Z, so U runs clockwise
  bool natural_is_out = true;    // dU x dV points out of the metal
};

/// Where the seam's half plane holds `at`.
gp_Pnt point(Vec2 axis, const gp_Dir& seam, Vec2 at) {
  return {axis.x + at.y * seam.X(), axis.y + at.y * seam.Y(), at.x};
}

Swept sweep_arc(Vec2 axis, const gp_Dir& seam, const plane::Edge& e) {
  const double major = e.centre.y, minor = e.radius();
  require(major > minor, "an arc of the section reaches the axis");
  const gp_Pnt centre(axis.x, axis.y, e.centre.x);
  const double va = atan2_of(e.a.x - e.centre.x, e.a.y - e.centre.y);
  // V turns from the radius to Z, which is clockwise in (Z, radius).
  return {.surface = new Geom_ToroidalSurface(gp_Ax3(centre, gp::DZ(), seam), major, minor),
          .seam = new Geom_Circle(gp_Ax2(point(axis, seam, e.centre), seam.Crossed(gp::DZ()), seam), minor),
          .va = va,
          .vb = va - e.sweep(),
          .natural_is_out = e.turn == plane::Edge::Turn::ccw};
}

Swept sweep_line(Vec2 axis, const gp_Dir& seam, const plane::Edge& e) {
  const Vec2 d = e.b - e.a;
  const bool a_is_narrow = e.a.y <= e.b.y;
  const Vec2 narrow = a_is_narrow ? e.a : e.b, wide = a_is_narrow ? e.b : e.a;
  const double length = length_of(d.x, d.y);
  Swept s{.va = a_is_narrow ? 0 : length, .vb = a_is_narrow ? length : 0, .natural_is_out = d.x < 0};
  // A cone's half angle must be positive in Part 21, so V runs from the narrow end to the wide one whichever way Z
  // goes.
  s.against_z = wide.x < narrow.x;
  const gp_Ax3 frame(gp_Pnt(axis.x, axis.y, narrow.x), s.against_z ? -gp::DZ() : gp::DZ(), seam);
  if (e.a.y == e.b.y) {
    s.surface = new Geom_CylindricalSurface(frame, e.a.y);
  } else {
    s.surface = new Geom_ConicalSurface(frame, atan2_of(wide.y - narrow.y, std::abs(d.x)), narrow.y);
  }
  const Vec2 along = wide - narrow;
  s.seam = new Geom_Line(point(axis, seam, narrow), gp_Dir(along.y * seam.X(), along.y * seam.Y(), along.x));
  return s;
}

Handle(Geom2d_Line) line_2d(double u, double v, double du, double dv) {
  return new Geom2d_Line(gp_Pnt2d(u, v), gp_Dir2d(du, dv));
}

TopoDS_Edge seam_edge(const Swept& s, const TopoDS_Vertex& low, const TopoDS_Vertex& high) {
  BRep_Builder b;
  TopoDS_Edge e;
  b.MakeEdge(e, s.seam, kTolerance);
  b.Add(e, low.Oriented(TopAbs_FORWARD));
  b.Add(e, high.Oriented(TopAbs_REVERSED));
  b.Range(e, std::min(s.va, s.vb), std::max(s.va, s.vb));
  b.UpdateEdge(e, line_2d(kTurn, 0, 0, 1), line_2d(0, 0, 0, 1), s.surface, TopLoc_Location(), kTolerance);
  return e;
}

/// The circle at V, or on the axis the edge without length that the kernel wants at a cone's tip.
TopoDS_Edge rim_edge(const Swept& s, const Ring& ring, double v) {
  BRep_Builder b;
  const Handle(Geom2d_Line) line = s.against_z ? line_2d(kTurn, v, -1, 0) : line_2d(0, v, 1, 0);
  if (!ring.on_axis()) {
    b.UpdateEdge(ring.circle, line, s.surface, TopLoc_Location(), kTolerance);
    return ring.circle;
  }
  TopoDS_Edge tip;
  b.MakeEdge(tip);
  b.Add(tip, ring.vertex.Oriented(TopAbs_FORWARD));
  b.Add(tip, ring.vertex.Oriented(TopAbs_REVERSED));
  b.UpdateEdge(tip, line, s.surface, TopLoc_Location(), kTolerance);
  b.Range(tip, s.surface, TopLoc_Location(), 0, kTurn);
  b.Degenerated(tip, true);
  return tip;
}

TopoDS_Face flat_face(Vec2 axis, const plane::Edge& e, const Ring& a, const Ring& b) {
  BRep_Builder build;
  TopoDS_Face face;
  build.MakeFace(face, new Geom_Plane(gp_Ax3(gp_Pnt(axis.x, axis.y, e.a.x), gp::DZ(), gp::DX())), kTolerance);
  const bool widens = e.b.y > e.a.y;
  const Ring& outer = widens ? b : a;
  const Ring& inner = widens ? a : b;
  const auto add = [&](const Ring& ring, TopAbs_Orientation orientation) {
    TopoDS_Wire wire;
    build.MakeWire(wire);
    build.Add(wire, ring.circle.Oriented(orientation));
    wire.Closed(true);
    build.Add(face, wire);
  };
  add(outer, TopAbs_FORWARD);
  if (!inner.on_axis()) add(inner, TopAbs_REVERSED);
  face.Orientation(widens ? TopAbs_FORWARD : TopAbs_REVERSED);
  return face;
}

}  // namespace

Ring make_ring(Vec2 axis, Vec2 at, const gp_Dir& seam) {
  BRep_Builder b;
  Ring ring{.seam = seam};
  b.MakeVertex(ring.vertex, point(axis, seam, at), kTolerance);
  if (at.y <= plane::kCoincident) return ring;
  b.MakeEdge(ring.circle, new Geom_Circle(gp_Ax2(gp_Pnt(axis.x, axis.y, at.x), gp::DZ(), seam), at.y), kTolerance);
  b.Add(ring.circle, ring.vertex.Oriented(TopAbs_FORWARD));
  b.Add(ring.circle, ring.vertex.Oriented(TopAbs_REVERSED));
  b.Range(ring.circle, 0, kTurn);
  return ring;
}

TopoDS_Face turn(Vec2 axis, const plane::Edge& e, const Ring& a, const Ring& b) {
  if (!e.is_arc() && e.a.x == e.b.x) return flat_face(axis, e, a, b);
  const Swept s = e.is_arc() ? sweep_arc(axis, a.seam, e) : sweep_line(axis, a.seam, e);
  const bool rises = s.va < s.vb;
  const Ring& low = rises ? a : b;
  const Ring& high = rises ? b : a;
  const TopoDS_Edge seam = seam_edge(s, low.vertex, high.vertex);

  BRep_Builder build;
  TopoDS_Wire wire;
  build.MakeWire(wire);
  // Counter-clockwise in U, V: along the low circle, up the far side of the seam, back along the high one, down the
  // near side.
  const TopAbs_Orientation along = s.against_z ? TopAbs_REVERSED : TopAbs_FORWARD;
  build.Add(wire, rim_edge(s, low, std::min(s.va, s.vb)).Oriented(along));
  build.Add(wire, seam.Oriented(TopAbs_FORWARD));
  build.Add(wire, rim_edge(s, high, std::max(s.va, s.vb)).Oriented(TopAbs::Reverse(along)));
  build.Add(wire, seam.Oriented(TopAbs_REVERSED));
  wire.Closed(true);
  TopoDS_Face face;
  build.MakeFace(face, s.surface, kTolerance);
  build.Add(face, wire);
  face.Orientation(s.natural_is_out ? TopAbs_FORWARD : TopAbs_REVERSED);
  return face;
}

}  // namespace groovewright::solid
