#include <algorithm>
#include <cmath>
#include <map>

#include <BRepLib.hxx>
#include <BRepTopAdaptor_FClass2d.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom_Plane.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Shell.hxx>
#include <TopoDS_Solid.hxx>
#include <gp_Pln.hxx>

#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"
#include "impl.h"

namespace groovewright::solid {
namespace {

using plane::Edge;
using plane::Path;
using plane::Vec2;

/// Where an opening meets the part.
struct Mouth {
  const std::string* id;
  double z = 0;
  bool up = true;  ///< the wall faces +Z
  Path loop;
  std::vector<TopoDS_Edge> edges;  ///< ccw about +Z
};

/// A flat wall square to the axis. Untouched ones are annuli; of slotted ones only the face itself knows.
struct Wall {
  std::size_t face = 0;
  double z = 0;
  bool up = true;
  bool annulus = true;
  double inner = 0, outer = 0;
};

/// Faces so far, the walls among them, and the mouths to be opened in those.
struct Skin {
  std::vector<TopoDS_Face> faces;
  std::vector<Wall> walls;
  std::vector<Mouth> mouths;

  void add(const std::vector<TopoDS_Face>& more) { faces.insert(faces.end(), more.begin(), more.end()); }
};

void add_turned(const plane::TurnedBody& body, Skin& skin) {
  const TurnedFaces turned = turn_section(body);
  for (const auto& [face, e] : turned.whole) {
    if (!e.is_arc() && e.a.x == e.b.x) {
      skin.walls.push_back({.face = skin.faces.size(),
                            .z = e.a.x,
                            .up = e.b.y > e.a.y,
                            .inner = std::min(e.a.y, e.b.y),
                            .outer = std::max(e.a.y, e.b.y)});
    }
    skin.faces.push_back(face);
  }
  for (const TopoDS_Face& f : turned.cut) {
    const Handle(Geom_Plane) flat = Handle(Geom_Plane)::DownCast(BRep_Tool::Surface(f));
    if (!flat.IsNull() && std::abs(flat->Axis().Direction().Z()) > 0.5) {
      const bool axis_up = (flat->Axis().Direction().Z() > 0) == flat->Pln().Direct();
      skin.walls.push_back({.face = skin.faces.size(),
                            .z = flat->Location().Z(),
                            .up = axis_up == (f.Orientation() == TopAbs_FORWARD),
                            .annulus = false});
    }
    skin.faces.push_back(f);
  }
}

void add_hole(const plane::RoundHole& hole, Skin& skin) {
  // Metal lies to the left of a profile that runs towards +Z.
  std::vector<Vec2> profile = hole.profile;
  require(profile.size() >= 2, ("hole " + hole.id + " has no profile").c_str());
  const bool mouth_above = profile.front().x > profile.back().x;
  if (mouth_above) std::reverse(profile.begin(), profile.end());
  std::vector<Ring> rings;
  for (const Vec2 p : profile) rings.push_back(make_ring(hole.at, p));
  for (std::size_t i = 0; i + 1 < profile.size(); ++i) {
    skin.faces.push_back(turn(hole.at, line(profile[i], profile[i + 1]), rings[i], rings[i + 1]));
  }
  const auto open = [&](const Ring& ring, Vec2 at, bool up) {
    require(!ring.on_axis(), ("hole " + hole.id + " ends in a point where it should be open").c_str());
    skin.mouths.push_back({&hole.id, at.x, up, plane::circle(hole.at, at.y), {ring.circle}});
  };
  if (hole.through || mouth_above) open(rings.back(), profile.back(), true);
  if (hole.through || !mouth_above) open(rings.front(), profile.front(), false);
}

void add_pocket(const plane::Pocket& pocket, Skin& skin) {
  require(pocket.levels.size() >= 2, ("pocket " + pocket.id + " has no depth").c_str());
  std::vector<Loop> loops;
  for (const plane::Level& level : pocket.levels) loops.push_back(make_loop(level.loop, level.z));
  const bool mouth_above = loops.front().z > loops.back().z;
  if (mouth_above) std::reverse(loops.begin(), loops.end());
  for (std::size_t i = 0; i + 1 < loops.size(); ++i) skin.add(make_walls(loops[i], loops[i + 1]));
  const auto end = [&](const Loop& loop, bool up, bool is_mouth) {
    if (is_mouth) {
      skin.mouths.push_back({&pocket.id, loop.z, up, loop.path, loop.edges});
    } else {
      skin.faces.push_back(make_floor(loop, !up));
    }
  };
  end(loops.back(), true, pocket.through || mouth_above);
  end(loops.front(), false, pocket.through || !mouth_above);
}

/// Greatest distance of a loop from the axis.
double farthest(const Path& loop) {
  double most = 0;
  for (const Edge& e : loop) {
    most = std::max({most, plane::norm(e.a), plane::norm(e.b)});
    const double out = plane::norm(e.centre);
    if (!e.is_arc()) continue;
    if (e.is_full_circle() || out <= kTolerance) {
      most = std::max(most, out + e.radius());
      continue;
    }
    // The farthest point of the whole circle, if the arc holds it.
    const Vec2 far = e.centre + (e.radius() / out) * e.centre;
    if (plane::distance(far, {e}) <= kTolerance) most = std::max(most, plane::norm(far));
  }
  return most;
}

bool holds(const Skin& skin, const Wall& wall, const Mouth& mouth) {
  if (wall.up != mouth.up || std::abs(wall.z - mouth.z) > kTolerance) return false;
  if (wall.annulus) {
    const double least = plane::contains(mouth.loop, {0, 0}) ? 0 : plane::distance(Vec2{0, 0}, mouth.loop);
    return least > wall.inner + kTolerance && farthest(mouth.loop) < wall.outer - kTolerance;
  }
  const TopoDS_Face& face = skin.faces[wall.face];
  const Handle(Geom_Plane) flat = Handle(Geom_Plane)::DownCast(BRep_Tool::Surface(face));
  const gp_Pln pln = flat->Pln();
  BRepTopAdaptor_FClass2d inside(face, kTolerance);
  constexpr int kSamples = 4;  // a wall's edge that passes between them is for `prove` to find
  for (const Edge& e : mouth.loop) {
    for (int i = 0; i < kSamples; ++i) {
      const Vec2 p = e.at(static_cast<double>(i) / kSamples);
      const gp_Vec from(pln.Location(), gp_Pnt(p.x, p.y, mouth.z));
      const gp_Pnt2d uv(from.Dot(pln.Position().XDirection()), from.Dot(pln.Position().YDirection()));
      if (inside.Perform(uv) != TopAbs_IN) return false;
    }
  }
  return true;
}

void require_apart(const Mouth& a, const Mouth& b) {
  const bool apart = plane::distance(a.loop, b.loop) > kTolerance && !plane::contains(a.loop, b.loop.front().a) &&
                     !plane::contains(b.loop, a.loop.front().a);
  if (!apart) throw Broken("the mouths of " + *a.id + " and " + *b.id + " meet");
}

void open_mouths(Skin& skin) {
  std::map<std::size_t, std::vector<const Mouth*>> by_face;
  for (const Mouth& m : skin.mouths) {
    const auto wall =
        std::find_if(skin.walls.begin(), skin.walls.end(), [&](const Wall& w) { return holds(skin, w, m); });
    if (wall == skin.walls.end()) throw Broken("the mouth of " + *m.id + " lies in no flat wall");
    std::vector<const Mouth*>& neighbours = by_face[wall->face];
    for (const Mouth* other : neighbours) require_apart(*other, m);
    neighbours.push_back(&m);
  }
  for (const auto& [face, mouths] : by_face) {
    std::vector<std::vector<TopoDS_Edge>> loops;
    for (const Mouth* m : mouths) loops.push_back(m->edges);
    skin.faces[face] = with_mouths(skin.faces[face], loops);
  }
}

/// Flat faces are whole without curves in their own parameters, but the checker would then project each edge many
/// times.
void project_edges(const TopoDS_Face& face) {
  if (Handle(Geom_Plane)::DownCast(BRep_Tool::Surface(face)).IsNull()) return;
  for (TopExp_Explorer e(face, TopAbs_EDGE); e.More(); e.Next()) {
    BRepLib::BuildPCurveForEdgeOnPlane(TopoDS::Edge(e.Current()), face);
  }
}

}  // namespace

TopoDS_Shape build(const plane::TurnedBody& body) {
  require(plane::is_closed(body.section), "the section is not closed");
  Skin skin;
  add_turned(body, skin);
  for (const plane::RoundHole& h : body.holes) add_hole(h, skin);
  for (const plane::Pocket& p : body.pockets) add_pocket(p, skin);
  open_mouths(skin);

  BRep_Builder build;
  TopoDS_Shell shell;
  build.MakeShell(shell);
  for (const TopoDS_Face& f : skin.faces) {
    project_edges(f);
    build.Add(shell, f);
  }
  shell.Closed(true);
  TopoDS_Solid solid;
  build.MakeSolid(solid);
  build.Add(solid, shell);
  return solid;
}

}  // namespace groovewright::solid
