#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include <BRep_Tool.hxx>
#include <GeomAdaptor_Surface.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <gp_Cone.hxx>

#include "groovewright/base/trig.h"
#include "impl.h"

namespace groovewright::solid {
namespace {

using plane::Generator;
using plane::Vec2;

constexpr double kSameAxis = 1e-6;  // mm at the cone's place, and rad: what foreign files are good to

bool about_z(const gp_Cone& cone) {
  const gp_Pnt at = cone.Location();
  return length_of(at.X(), at.Y()) <= kSameAxis && cone.Axis().Direction().IsParallel(gp::DZ(), kSameAxis);
}

/// The cone's line in the half plane between the face's outermost corners, metal to the left.
Generator generator_of(const TopoDS_Face& face, const gp_Cone& cone) {
  Generator g{.a = {std::numeric_limits<double>::infinity(), 0}, .b = {-std::numeric_limits<double>::infinity(), 0}};
  for (TopExp_Explorer v(face, TopAbs_VERTEX); v.More(); v.Next()) {
    const gp_Pnt p = BRep_Tool::Pnt(TopoDS::Vertex(v.Current()));
    const Vec2 corner{p.Z(), length_of(p.X(), p.Y())};
    if (corner.x < g.a.x) g.a = corner;
    if (corner.x > g.b.x) g.b = corner;
  }
  // dU x dV of a right-handed cone points away from its axis, and left of travel towards +Z lies what is farther out.
  const bool metal_is_inside = (face.Orientation() == TopAbs_FORWARD) == cone.Position().Direct();
  if (metal_is_inside) std::swap(g.a, g.b);
  return g;
}

bool same(const Generator& g, const Generator& h) {
  return plane::norm(g.a - h.a) <= kSameAxis && plane::norm(g.b - h.b) <= kSameAxis;
}

}  // namespace

std::vector<Generator> find_generators(const TopoDS_Shape& shape, double least_rad, double most_rad) {
  std::vector<Generator> found;
  for (TopExp_Explorer f(shape, TopAbs_FACE); f.More(); f.Next()) {
    const TopoDS_Face& face = TopoDS::Face(f.Current());
    const GeomAdaptor_Surface surface(BRep_Tool::Surface(face));
    if (surface.GetType() != GeomAbs_Cone || !about_z(surface.Cone())) continue;
    const Generator g = generator_of(face, surface.Cone());
    const double lean = atan2_of(std::abs(g.b.x - g.a.x), std::abs(g.b.y - g.a.y));
    if (lean < least_rad || lean > most_rad) continue;
    // Other systems write a full turn as two halves: one generator all the same.
    if (std::none_of(found.begin(), found.end(), [&](const Generator& h) { return same(g, h); })) found.push_back(g);
  }
  std::stable_sort(found.begin(), found.end(), [](const Generator& g, const Generator& h) {
    return std::pair(g.a.x + g.b.x, g.a.y + g.b.y) < std::pair(h.a.x + h.b.x, h.a.y + h.b.y);
  });
  return found;
}

}  // namespace groovewright::solid
