#include <algorithm>
#include <cmath>
#include <optional>

#include <BRepAlgoAPI_Cut.hxx>
#include <BRep_Builder.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_ListOfShape.hxx>
#include <TopTools_MapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Shell.hxx>
#include <TopoDS_Solid.hxx>

#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"
#include "impl.h"

namespace groovewright::solid {
namespace {

using plane::Edge;
using plane::Path;
using plane::Slot;
using plane::Vec2;

/// A rectangle in the half plane (x = Z, y = radius).
struct Box {
  double z0 = 0, z1 = 0, r0 = 0, r1 = 0;
  [[nodiscard]] bool meets(const Box& o) const {
    return z0 <= o.z1 + kTolerance && o.z0 <= z1 + kTolerance && r0 <= o.r1 + kTolerance && o.r0 <= r1 + kTolerance;
  }
};

Box box_of(const Edge& e) {
  const auto [z0, z1] = std::minmax(e.a.x, e.b.x);
  const auto [r0, r1] = std::minmax(e.a.y, e.b.y);
  const double bulge = e.is_arc() ? e.radius() : 0;  // no arc leaves the box of its ends by more
  return {z0 - bulge, z1 + bulge, r0 - bulge, r1 + bulge};
}

double widest(const Path& section) {
  double r = 0;
  for (const Edge& e : section) r = std::max(r, box_of(e).r1);
  return r;
}

Box reach(const Slot& s, double part_radius) {
  if (s.inward) return {s.z0, s.z1, 0, length_of(s.floor, s.width / 2)};
  return {s.z0, s.z1, s.floor, part_radius + 1};
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

/// A stretch of the section that no slot comes near, from corner `first` to corner `last` (cyclic), and the straight
/// line that may stand in for it while the slots are cut.
struct Shortcut {
  std::size_t first = 0, last = 0;
  Edge chord;
};

bool lies_clear(const Edge& chord, const Path& kept, const std::vector<Box>& slots) {
  if (chord.length() <= kTolerance || std::min(chord.a.y, chord.b.y) <= kTolerance) return false;
  if (std::any_of(slots.begin(), slots.end(), [&](const Box& s) { return s.meets(box_of(chord)); })) return false;
  // The ends belong to kept edges; all between must stay well away from them.
  const double margin = 1e-3;
  const Edge middle = line(chord.at(margin), chord.at(1 - margin));
  return plane::distance({middle}, kept) > margin * margin * chord.length();
}

/// Untouched stretches of the closed section, each with a chord where one fits.
std::vector<Shortcut> shortcuts(const Path& section, const std::vector<bool>& touched, const std::vector<Box>& slots) {
  const std::size_t n = section.size();
  Path kept;
  for (std::size_t i = 0; i < n; ++i) {
    if (touched[i]) kept.push_back(section[i]);
  }
  std::vector<Shortcut> found;
  for (std::size_t i = 0; i < n; ++i) {
    if (touched[i] || !touched[(i + n - 1) % n]) continue;
    std::size_t last = i;
    while (!touched[last % n]) ++last;
    const Edge chord = line(section[i].a, section[last % n].a);
    if (last - i < 2 || !lies_clear(chord, kept, slots)) continue;
    found.push_back({i, last, chord});
    kept.push_back(chord);
  }
  return found;
}

/// What is left of `core` when the slots' tools have gone through it.
std::vector<TopoDS_Face> cut_away(const TopoDS_Solid& core, const std::vector<TopoDS_Solid>& tools) {
  TopTools_ListOfShape objects, cutters;
  objects.Append(core);
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

/// Takes the faces of the shortcuts out of `faces`; false where one has been changed by the cut.
bool take_out(const std::vector<TopoDS_Face>& chords, std::vector<TopoDS_Face>& faces) {
  TopTools_MapOfShape stand_ins;
  for (const TopoDS_Face& f : chords) stand_ins.Add(f);
  const std::size_t before = faces.size();
  std::erase_if(faces, [&](const TopoDS_Face& f) { return stand_ins.Contains(f); });
  return before - faces.size() == chords.size();
}

}  // namespace

TurnedFaces turn_section(const plane::TurnedBody& body) {
  const Path section = halved(body.section);
  const std::size_t n = section.size();
  std::vector<Ring> rings;
  for (const Edge& e : section) rings.push_back(make_ring({0, 0}, e.a));
  std::vector<std::optional<TopoDS_Face>> ring_faces(n);  // none on the axis
  for (std::size_t i = 0; i < n; ++i) {
    const Ring &a = rings[i], &b = rings[(i + 1) % n];
    if (!a.on_axis() || !b.on_axis()) ring_faces[i] = turn({0, 0}, section[i], a, b);
  }

  const double part_radius = widest(section);
  std::vector<Box> reaches;
  std::vector<TopoDS_Solid> tools;
  for (const Slot& s : body.slots) {
    const Box box = reach(s, part_radius);
    if (std::none_of(section.begin(), section.end(), [&](const Edge& e) { return box.meets(box_of(e)); })) continue;
    reaches.push_back(box);
    tools.push_back(tool(s, part_radius));
  }
  std::vector<bool> touched(n, false);
  for (std::size_t i = 0; i < n; ++i) {
    touched[i] = std::any_of(reaches.begin(), reaches.end(), [&](const Box& s) { return s.meets(box_of(section[i])); });
  }

  TurnedFaces result;
  const auto keep_whole = [&](std::size_t i) {
    if (ring_faces[i]) result.whole.push_back({*ring_faces[i], section[i]});
  };
  if (tools.empty()) {
    for (std::size_t i = 0; i < n; ++i) keep_whole(i);
    return result;
  }
  // A cut costs time for each face of the part near or far, so only a core goes under the knife: the faces that slots
  // touch, closed by chords. The other faces join the result later; they share their end circles with the core.
  const std::vector<Shortcut> cuts = shortcuts(section, touched, reaches);
  std::vector<bool> in_core(n, true);
  std::vector<TopoDS_Face> core, chords;
  for (const Shortcut& c : cuts) {
    for (std::size_t i = c.first; i < c.last; ++i) in_core[i % n] = false;
    chords.push_back(turn({0, 0}, c.chord, rings[c.first], rings[c.last % n]));
  }
  for (std::size_t i = 0; i < n; ++i) {
    if (in_core[i] && ring_faces[i]) core.push_back(*ring_faces[i]);
  }
  core.insert(core.end(), chords.begin(), chords.end());
  result.cut = cut_away(solid_of(core), tools);
  require(take_out(chords, result.cut), "a slot reaches beyond the faces that its size says it touches");
  for (std::size_t i = 0; i < n; ++i) {
    if (!in_core[i]) keep_whole(i);
  }
  return result;
}

}  // namespace groovewright::solid
