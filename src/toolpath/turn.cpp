#include "turn.h"

#include <algorithm>
#include <cmath>

#include "groovewright/plane/clip.h"

namespace groovewright::toolpath {
namespace {

using catalog::TurningTool;
using plane::Vec2;
using section::Kind;
using Use = TurningTool::Use;

/// Bars that go into a hole, the stiffest first.
Tools bars(const catalog::Shop& shop, double hole) {
  Tools out = tools_of(shop, Use::boring);
  std::erase_if(out, [&](const TurningTool& t) { return t.min_bore > hole; });
  return out;
}

bool rough(Bench& bench, const std::string& name, const TurningTool& tool, const std::string& work, Passes passes) {
  const Conditions c = conditions(bench.plan(), work, tool);
  passes.depth = c.depth;
  const Bit body = bit(shape(tool, true), kRoughChord);
  // Home depends on the tool; a dry run tells whether there is anything to do.
  Scene scene = bench.scene();
  const Motions all = level_passes(scene, bench.kept(), body, passes, bench.home_for(tool));
  if (all.empty()) return false;
  bench.begin(name, tool, c);
  bench.take(all);
  bench.scene() = std::move(scene);
  return true;
}

void rough_pockets(Bench& bench, const catalog::Shop& shop, const Outline& outline, const Groups& groups) {
  const double wide = 2 * outline.path[groups.free_face.back()].b.y;
  for (const TurningTool& tool : tools_of(shop, Use::profiling, true)) {
    if (tool.face_max > 0 && (wide < tool.face_min || wide > tool.face_max)) continue;
    Passes passes;
    passes.lay = Lay::facing;
    passes.may_plunge = true;
    // Along the pocket it turns; straight down it grooves.
    passes.plunge_share = std::min(
        1.0, conditions(bench.plan(), "face_groove", tool).feed / conditions(bench.plan(), "rough", tool).feed);
    // The bore is open by now: the tool may run out of the metal on that side.
    passes.least = outline.path[groups.free_face.front()].a.y - 2 * tool.nose_radius;
    passes.most = outline.path[groups.free_face.back()].b.y;
    (void)rough(bench, "rough the pockets of the face", tool, "rough", passes);
  }
}

constexpr double kNothing = 0.02;      // mm²: a plunge that takes less is left out
constexpr double kFiner = 8;           // so many finer steps beside walls
constexpr double kWorthAPlunge = 0.3;  // mm² that stands beside a wall

/// From one end to the other in even steps of at most `stride`.
std::vector<double> places(double from, double to, double stride) {
  const int n = std::max(1, static_cast<int>(std::ceil(std::abs(from - to) / stride)));
  std::vector<double> out;
  for (int i = 0; i <= n; ++i) out.push_back(from + (to - from) * i / n);
  return out;
}

/// Up to where the outside is finished and a little more: a flange on the free side keeps other tools from there.
void rough_between_flanges(Bench& bench, const catalog::Shop& shop, const Outline& outline, const Groups& groups,
                           double far_end) {
  double right = -1e9, left = far_end - 1;
  for (const std::size_t i : groups.outside) {
    right = std::max({right, outline.path[i].a.x, outline.path[i].b.x});
    left = std::min({left, outline.path[i].a.x, outline.path[i].b.x});
  }
  for (const TurningTool& tool : tools_of(shop, Use::grooving)) {
    const Bit body = bit(shape(tool, true), kRoughChord);
    Scene scene = bench.scene();
    const double width = tool.width - 2 * tool.nose_radius, step = 0.75 * tool.width;
    const Blocked columns = blocked_columns(bench.kept(), scene.keep_out, body);
    const double over = box_of(scene.stock).high.y - box_of(body.cutting).low.y + 1;
    // Side by side first; then what stands beside walls that lean or that the steps missed.
    Motions all = plunges(scene, columns, body, places(right - width, left, step), {kNothing, tool.width, over});
    const std::vector<double> finer = places(right - width, left, step / kFiner);
    for (const Motion& m : plunges(scene, columns, body, finer, {kWorthAPlunge, tool.width, over})) all.push_back(m);
    if (all.empty()) continue;
    bench.begin("rough between the flanges", tool, conditions(bench.plan(), "groove", tool));
    bench.take_from_above(all);
    bench.go_home();
    bench.scene() = std::move(scene);
    return;
  }
}

Tools together(std::initializer_list<Tools> lists) {
  Tools out;
  for (const Tools& l : lists) out.insert(out.end(), l.begin(), l.end());
  return out;
}

bool is_groove(Kind k) { return k == Kind::crest || k == Kind::flank || k == Kind::root; }

/// The chain with its last edge led on straight to `z`, so that a cut runs out of the metal.
Outline led_on(Outline outline, const Chain& chain, double z) {
  if (chain.empty()) return outline;
  plane::Edge& e = outline.path[chain.back()];
  if (!e.is_arc() && e.b.x > z) e.b = e.b + (z - e.b.x) * Vec2{1, (e.b.y - e.a.y) / (e.b.x - e.a.x)};
  return outline;
}

void report(const Chain& chain, const std::vector<Left>& left, const std::string& work, std::vector<OutOfReach>& out) {
  for (std::size_t i = 0; i < chain.size(); ++i)
    if (left[i] != Left::whole) out.push_back({chain[i], work, left[i] == Left::partly, ""});
}

void make_bore(Bench& bench, const catalog::Shop& shop, const Outline& outline, const Groups& groups, double far_end,
               std::vector<OutOfReach>& out) {
  const double bore = outline.path[groups.bore.front()].a.y;
  const double right = box_of(bench.scene().stock).high.x;
  double hole = 2 * box_of(bench.scene().stock).low.y;
  std::string lacks;
  // The widest drill that leaves a chip for the bar and is long enough.
  for (const TurningTool& tool : tools_of(shop, Use::drilling)) {
    const double tip = tool.point_length();
    if (tool.width / 2 > std::min(bore, outline.path[groups.bore.front()].b.y) - 0.5) continue;
    if (tool.reach < right - far_end + tip + 2) continue;
    const Conditions c = conditions(bench.plan(), "drill", tool);
    if (!c.lacks.empty()) {  // a thinner one may do
      lacks = c.lacks;
      continue;
    }
    const Bit body = bit(shape(tool, true), kRoughChord);
    const Vec2 home = bench.home_for(tool);
    Motions all{rapid({home.x, 0}), rapid({right + 2, 0})};
    const double end = far_end - tip, peck = std::max(1.0, c.depth) * tool.width;
    for (double z = right; z > end;) {
      z = std::max(end, z - peck);
      all.push_back(feed({z, 0}));
      all.push_back(rapid({right + 2, 0}));
      if (z > end) all.push_back(rapid({z + 0.5, 0}));
    }
    all.push_back(rapid({home.x, 0}));
    all.push_back(rapid(home));
    bench.begin("drill", tool, c,
                lacks.empty() ? "as wide as leaves a cut for the boring bar" : "the widest that the lathe turns");
    take_off(bench.scene().stock, body, home, all);
    bench.take(all);
    hole = tool.width;
    lacks.clear();
    break;
  }
  double widest = 0;
  for (const Chain* chain : {&groups.bore, &groups.free_mouth})
    for (const std::size_t i : *chain) widest = std::max({widest, outline.path[i].a.y, outline.path[i].b.y});
  for (const TurningTool& tool : bars(shop, hole)) {
    Passes passes;
    passes.lay = Lay::inside;
    passes.least = far_end;
    passes.down_to = hole / 2 - 0.1;
    passes.from = widest;
    if (rough(bench, "rough the bore", tool, "bore", passes)) break;
  }
  Chain chain = groups.bore;
  chain.insert(chain.end(), groups.free_mouth.begin(), groups.free_mouth.end());
  Outline longer = outline;
  plane::Edge& e = longer.path[groups.bore.front()];
  e.a = e.a + (far_end - e.a.x) * Vec2{1, (e.b.y - e.a.y) / (e.b.x - e.a.x)};
  const std::size_t before = out.size();
  report(chain, finish(bench, longer, chain, bars(shop, hole), {"finish the bore", "finish", Way::face, true}), "bore",
         out);
  for (std::size_t i = before; i < out.size(); ++i) out[i].lacks = lacks;
}

/// What is raw on the free side, and of the outside.
void rough_raw(Bench& bench, const Tools& turning, const Outline& outline, const Groups& g, const Task& task) {
  const auto right = std::find_if(turning.begin(), turning.end(),
                                  [](const TurningTool& t) { return t.hand == TurningTool::Hand::right; });
  if (right == turning.end()) return;
  if (task.face) {
    Passes facing;
    facing.lay = Lay::facing;
    facing.down_to = outline.path[g.free_face.back()].a.x;
    (void)rough(bench, "face", *right, "rough", facing);
  }
  if (task.outside) {
    Passes around;
    around.down_to = outline.path[g.outside.front()].a.y;
    for (const std::size_t i : g.outside) around.down_to = std::min(around.down_to, outline.path[i].a.y);
    (void)rough(bench, "turn the outside", *right, "rough", around);
  }
}

/// Edges of the outside, and at its corners, that are due; the grooves are made by themselves.
Chain due_around(const Outline& outline, const Groups& g, const Task& task) {
  Chain out;
  bool on_edge = task.corner;
  for (const std::size_t i : g.outside) {
    on_edge = on_edge && outline.tags[i].kind == Kind::edge_break;
    const bool due =
        task.outside || on_edge || std::find(task.left_over.begin(), task.left_over.end(), i) != task.left_over.end();
    if (due && !is_groove(outline.tags[i].kind)) out.push_back(i);
  }
  for (const std::size_t i : g.far_face) {
    if (!task.far_corner || outline.tags[i].kind != Kind::edge_break) break;
    out.push_back(i);
  }
  return out;
}

}  // namespace

Tools tools_of(const catalog::Shop& shop, Use use, bool axial) {
  Tools out;
  const bool along_axis = use == Use::boring || use == Use::drilling;
  for (const auto& [id, tool] : shop.turning_tools) {
    if (tool.use == use && (along_axis || tool.axial == axial)) out.push_back(tool);
  }
  std::stable_sort(out.begin(), out.end(), [](const TurningTool& a, const TurningTool& b) {
    if (a.width != b.width) return a.width > b.width;
    if (a.min_bore != b.min_bore) return a.min_bore > b.min_bore;
    return a.nose_radius > b.nose_radius;
  });
  return out;
}

std::vector<OutOfReach> turn(Bench& bench, const part::Part& part, const catalog::Shop& shop, const Outline& outline,
                             const Task& task) {
  const Groups g = groups(outline);
  std::vector<OutOfReach> out;
  const Tools turning = tools_of(shop, Use::turning);
  // Sharp inner corners are left with the nose's radius: no larger one finishes, but round tools where they reach.
  Tools fine = together({turning, tools_of(shop, Use::profiling)});
  const double corner = part.limit("inner_corner_radius").value, most = corner + 1e-9;
  std::erase_if(fine, [&](const TurningTool& t) { return t.included.rad() > 0 && t.nose_radius > most; });
  rough_raw(bench, turning, outline, g, task);
  if (task.bore) make_bore(bench, shop, outline, g, task.bore_end - 1.5, out);
  if (task.face) rough_pockets(bench, shop, outline, g);
  if (task.outside) rough_between_flanges(bench, shop, outline, g, task.far_end);
  if (task.face) {
    if (!task.bore && !g.free_mouth.empty()) {
      const double hole = 2 * std::min(outline.path[g.bore.front()].a.y, outline.path[g.bore.front()].b.y);
      const Finishing mouth{"finish the bore's mouth", "finish", Way::face, true, corner};
      report(g.free_mouth, finish(bench, outline, g.free_mouth, bars(shop, hole), mouth), "bore", out);
    }
    const Finishing face{"finish the face", "finish", Way::face, false, corner};
    report(g.free_face,
           finish(bench, outline, g.free_face, together({fine, tools_of(shop, Use::profiling, true)}), face), "face",
           out);
  }
  const Chain around = due_around(outline, g, task);
  const bool runs_out = task.outside && !around.empty() && around.back() == g.outside.back();
  const Outline longer = runs_out ? led_on(outline, g.outside, task.far_end) : outline;
  const Finishing rim{"finish the outside", "finish", Way::outside, false, corner};
  report(around, finish(bench, longer, around, fine, rim), "outside", out);
  if (task.outside) {
    for (OutOfReach& o : cut_grooves(bench, part, shop, outline)) out.push_back(std::move(o));
  }
  return out;
}

}  // namespace groovewright::toolpath
