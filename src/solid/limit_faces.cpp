// What a face is to a requirement: the line that its surface is swept by, as far as the face's corners reach.
#include <algorithm>
#include <cmath>
#include <utility>

#include <BRep_Tool.hxx>
#include <GeomAdaptor_Surface.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <gp_Cone.hxx>
#include <gp_Cylinder.hxx>
#include <gp_Pln.hxx>

#include "groovewright/base/trig.h"
#include "limit_faces.h"

namespace groovewright::solid {
namespace {

using plane::Vec2;

const Wall kOther{.kind = Wall::Kind::other};

Wall flat(const gp_Dir& normal, const std::vector<gp_Pnt>& corners) {
  if (normal.IsParallel(gp::DZ(), kSamePlace)) {
    double least = length_of(corners.front().X(), corners.front().Y()), most = least;
    for (const gp_Pnt& p : corners) {
      const double r = length_of(p.X(), p.Y());
      least = std::min(least, r);
      most = std::max(most, r);
    }
    if (most - least <= kSamePlace) least = 0;  // one circle: a disc without a hole
    const double z = corners.front().Z();
    return {.line = {{z, least}, {z, most}}};
  }
  if (!normal.IsNormal(gp::DZ(), kSamePlace)) return kOther;
  const auto along = [&](const gp_Pnt& p) { return normal.X() * p.Y() - normal.Y() * p.X(); };
  const auto [a, b] = std::minmax_element(corners.begin(), corners.end(),
                                          [&](const gp_Pnt& p, const gp_Pnt& q) { return along(p) < along(q); });
  return {.kind = Wall::Kind::side, .line = {{a->X(), a->Y()}, {b->X(), b->Y()}}};
}

Wall round(const gp_Ax1& axis, const std::vector<gp_Pnt>& corners) {
  if (!axis.Direction().IsParallel(gp::DZ(), kSamePlace)) return kOther;
  const Vec2 at{axis.Location().X(), axis.Location().Y()};
  const auto [a, b] = std::minmax_element(corners.begin(), corners.end(),
                                          [](const gp_Pnt& p, const gp_Pnt& q) { return p.Z() < q.Z(); });
  const auto in_half_plane = [&](const gp_Pnt& p) { return Vec2{p.Z(), length_of(p.X() - at.x, p.Y() - at.y)}; };
  return {.axis = at, .line = {in_half_plane(*a), in_half_plane(*b)}};
}

}  // namespace

Wall wall_through(GeomAbs_SurfaceType kind, const gp_Ax1& axis, const std::vector<gp_Pnt>& corners) {
  if (corners.empty()) return kOther;
  if (kind == GeomAbs_Plane) return flat(axis.Direction(), corners);
  return kind == GeomAbs_Cylinder || kind == GeomAbs_Cone ? round(axis, corners) : kOther;
}

Wall wall_of(const TopoDS_Face& face) {
  const GeomAdaptor_Surface surface(BRep_Tool::Surface(face));
  gp_Ax1 axis;
  switch (surface.GetType()) {
    case GeomAbs_Plane:
      axis = surface.Plane().Axis();
      break;
    case GeomAbs_Cylinder:
      axis = surface.Cylinder().Axis();
      break;
    case GeomAbs_Cone:
      axis = surface.Cone().Axis();
      break;
    default:
      return kOther;
  }
  std::vector<gp_Pnt> corners;
  for (TopExp_Explorer v(face, TopAbs_VERTEX); v.More(); v.Next()) {
    corners.push_back(BRep_Tool::Pnt(TopoDS::Vertex(v.Current())));
  }
  return wall_through(surface.GetType(), axis, corners);
}

}  // namespace groovewright::solid
