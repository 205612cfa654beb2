#include <algorithm>
#include <cmath>
#include <optional>

#include <BRepAlgoAPI_Cut.hxx>
#include <BRep_Builder.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_ListOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Shell.hxx>
#include <TopoDS_Solid.hxx>

#include "groovewright/base/broken.h"
#include "slots.h"

namespace groovewright::solid {
namespace {

using plane::Edge;
using plane::Path;
using plane::Slot;
using plane::Vec2;

double widest(const Path& section) {
  double r = 0;
  for (const Edge& e : section) r = std::max(r, e.a.y + (e.is_arc() ? e.radius() : 0));
  return r;
}

/// The slot's outline in the cross plane, ccw, open side well clear of metal.
Path outline(const Slot& s, double part_radius) {
  const double half = s.width / 2;
  Path p;
  if (s.inward) {
    const Vec2 a{0, -half}, b{s.floor, -half}, c{s.floor, half}, d{0, half};
    p = {line(a, b), line(b, c), line(c, d), line(d, a)};
  } else {
    require(half < s.floor, ("slot " + s.id + " is wider than its floor").c_str());
    const double root = std::sqrt(s.floor * s.floor - half * half), out = part_radius + 1;
    const Vec2 a{root, -half}, b{out, -half}, c{out, half}, d{root, half};
    p = {line(a, b), line(b, c), line(c, d), {d, a, Edge::Turn::cw, {0, 0}}};
  }
  return plane::turned(p, s.angle);
}

TopoDS_Solid solid_of(const std::vector<TopoDS_Face>& faces) {
  BRep_Builder build;
  TopoDS_Shell shell;
  build.MakeShell(shell);
  for (const TopoDS_Face& f : faces) build.Add(shell, f);
  shell.Closed(true);
  TopoDS_Solid solid;
  build.MakeSolid(solid);
  build.Add(solid, shell);
  return solid;
}

TopoDS_Solid tool(const Slot& s, double part_radius) {
  const Path path = outline(s, part_radius);
  const Loop lower = make_loop(path, s.z0), upper = make_loop(path, s.z1);
  std::vector<TopoDS_Face> faces = make_walls(lower, upper);
  for (TopoDS_Face& f : faces) f.Reverse();
  faces.push_back(make_floor(lower, false));
  faces.push_back(make_floor(upper, true));
  return solid_of(faces);
}

/// What is left of `part` when the slots' tools have gone through it.
std::vector<TopoDS_Face> cut_away(const TopoDS_Solid& part, const std::vector<TopoDS_Solid>& tools) {
  TopTools_ListOfShape objects, cutters;
  objects.Append(part);
  for (const TopoDS_Solid& t : tools) cutters.Append(t);
  BRepAlgoAPI_Cut cut;
  cut.SetArguments(objects);
  cut.SetTools(cutters);
  cut.SetToFillHistory(false);
  cut.Build();
  require(cut.IsDone() && !cut.HasErrors(), "the kernel could not cut the slots");
  std::vector<TopoDS_Face> faces;
  int solids = 0;
  for (TopExp_Explorer s(cut.Shape(), TopAbs_SOLID); s.More(); s.Next()) ++solids;
  require(solids == 1, "the slots cut the part in pieces");
  for (TopExp_Explorer f(cut.Shape(), TopAbs_FACE); f.More(); f.Next()) faces.push_back(TopoDS::Face(f.Current()));
  return faces;
}

}  // namespace

TurnedFaces turn_section(const plane::TurnedBody& body) {
  const Path section = halved(body.section);
  if (std::optional<TurnedFaces> faces = slotted(section, body.slots)) return *std::move(faces);
  // Slots that meet, or that touch where they should cross: slow, but it sees all.
  const TurnedFaces plain = slotted(section, {}).value();
  std::vector<TopoDS_Face> whole;
  for (const TurnedFaces::Whole& w : plain.whole) whole.push_back(w.face);
  const double part_radius = widest(section);
  std::vector<TopoDS_Solid> tools;
  for (const Slot& s : body.slots) tools.push_back(tool(s, part_radius));
  return {.whole = {}, .cut = cut_away(solid_of(whole), tools)};
}

}  // namespace groovewright::solid
