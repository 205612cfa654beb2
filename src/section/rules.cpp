#include <algorithm>
#include <cmath>
#include <limits>

#include "build.h"
#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"

namespace groovewright::section {
namespace {

using part::HolePattern;
using part::Part;
using part::Rim;
using part::Side;
using plane::Edge;
using plane::Path;

/// Sine of the turn from which a corner counts as a corner.
constexpr double kSharpTurn = 1e-3;

/// A value that must not fall below a limit of the shop.
Check at_least(std::string id, std::string label, double value, const catalog::Sourced& least, std::string says) {
  return judged({.id = std::move(id),
                 .label = std::move(label),
                 .value = value,
                 .unit = "mm",
                 .lower = least.value,
                 .source = least.source,
                 .says = std::move(says)});
}

void add_rim_rules(const Part& part, const Section& section, std::size_t i, Rows& rows) {
  const Rim& rim = part.rims[i];
  const std::string id = Part::prefix(i);
  rows.checks.push_back(at_least(
      id + "wall_under_groove", "Metal under the groove root", wall_under_groove(section, static_cast<int>(i)),
      part.limit("minimum_wall_under_groove"), "from the root of a groove to the nearest face or opening inside"));
  rows.checks.push_back(at_least(id + "edge_distance", "Edge distance f", rim.edge_distance.value,
                                 rim.groove.edge_distance_min,
                                 "middle of an outer groove to the rim's face or flange wall"));
  for (const auto& [flange, side] : {std::pair{&rim.front, "front"}, {&rim.rear, "rear"}}) {
    if (!*flange) continue;
    rows.checks.push_back(at_least(id + side + "_flange_thickness", std::string("Thickness of the ") + side + " flange",
                                   (*flange)->thickness.value, part.limit("minimum_flange_thickness"),
                                   "at its outside diameter"));
  }
}

void add_hub_rules(const Part& part, Rows& rows) {
  const part::Hub& hub = part.hub;
  if (!part.web && !hub.boss) return;
  double inside = hub.widest_bore_radius();
  std::string what = "the bore";
  for (const auto& s : hub.bore.steps) {
    if (s.diameter / 2 > inside) inside = s.diameter / 2, what = "a step of the bore";
  }
  for (const auto& r : hub.registers) {
    if (r.depth > 0 && r.diameter / 2 > inside) inside = r.diameter / 2, what = "the register";
  }
  if (hub.keyway) {
    const double corner = length_of(hub.keyway_floor(), hub.keyway->width.value / 2);
    if (corner > inside) inside = corner, what = "the keyway's corner";
  }
  rows.checks.push_back(at_least("hub_wall", "Wall of the hub", hub.diameter.value / 2 - inside,
                                 part.limit("minimum_hub_wall"), "from " + what + " to the hub's outside"));
}

/// How deep a thread must hold, by the metal that it is cut in; the softest where that is not known.
const catalog::Sourced& engagement_in(const Part& part, const std::string& material) {
  struct Class {
    std::string_view begins, rule;
  };
  constexpr Class kClasses[] = {{"steel", "thread_engagement_steel"}, {"cast-iron", "thread_engagement_iron"}};
  for (const Class& c : kClasses) {
    if (material.starts_with(c.begins)) return part.limit(std::string(c.rule));
  }
  return part.limit("thread_engagement");
}

/// The part lies between the head and the thread it holds on by: screws that were long enough before may not be now.
void add_screw_rule(const Part& part, const HolePattern& p, double stack, Rows& rows) {
  const catalog::Sourced& factor = engagement_in(part, "");  // what the screws go into is another part
  const double needed = factor.value * p.thread->diameter;
  if (p.screw_length > 0) {
    rows.checks.push_back(at_least(p.id + "_engagement", "Thread left for the screws of " + p.id,
                                   p.screw_length - stack, {needed, factor.source},
                                   "screw length less the " + number(stack, 3) + " mm of this part under the head"));
  } else {
    rows.checks.push_back(
        {p.id + "_engagement",
         "Least screw length for " + p.id,
         Verdict::note,
         stack + needed,
         "mm",
         {},
         {},
         factor.source,
         "this part takes " + number(stack, 3) + " mm under the head; state 'screw_length' to have the thread judged"});
  }
}

void add_head_rules(const Part& part, const Section& section, const HolePattern& p, Rows& rows) {
  const auto& holes = section.body.holes;
  const auto hole =
      std::find_if(holes.begin(), holes.end(), [&](const auto& h) { return h.id.starts_with(p.id + "["); });
  if (hole == holes.end()) return;
  const double thick = std::abs(hole->profile.front().x - hole->profile.back().x);
  if (p.sink_diameter > 0) {
    const double deepest =
        p.sink_depth > 0 ? p.sink_depth : (p.sink_diameter - p.diameter.value) / 2 / tan_of(p.sink_angle.half().rad());
    rows.checks.push_back(at_least(p.id + "_under_head", "Metal under the heads of " + p.id, thick - deepest,
                                   part.limit("minimum_wall"), "between the head's seat and the far face"));
  }
  if (p.use == HolePattern::Use::bolt && !p.tapped)
    add_screw_rule(part, p, thick - p.sink_depth, rows);  // a countersunk screw is measured over its head
  if (p.tapped) {
    const double length = p.depth > 0 ? p.depth : thick - 2 * p.edge_break;
    const bool jack = p.use == HolePattern::Use::jack_screw;
    const catalog::Sourced& factor = jack ? part.limit("jack_screw_engagement") : engagement_in(part, part.material.id);
    rows.checks.push_back(at_least(p.id + "_thread_length", "Thread length of " + p.id, length,
                                   {factor.value * p.thread->diameter, factor.source},
                                   trimmed(length / p.thread->diameter, 2) + " x the screw's diameter"));
  }
}

/// Flat face under a screw head that is not sunk.
void add_face_rules(const Part& part, const Section& section, const HolePattern& p, Rows& rows) {
  if (p.use != HolePattern::Use::bolt || p.tapped || p.sink_diameter > 0) return;
  const double at = p.circle / 2;
  double flat = 0;
  for (const Wall& w : section.walls()) {
    if (w.faces == Side::front && at > w.inner && at < w.outer)
      flat = std::max(flat, 2 * std::min(at - w.inner, w.outer - at));
  }
  const catalog::Sourced& factor = part.limit("sound_face_factor");
  rows.checks.push_back(at_least(p.id + "_head_seat", "Flat face under the heads of " + p.id, flat,
                                 {factor.value * p.thread->head_diameter, factor.source},
                                 "width of flat face round the hole, for a head of " + p.thread->id));
}

/// Inner corners that the outline draws sharp: no insert cuts them so.
bool has_sharp_inner_corner(const Section& section) {
  const auto& path = section.body.section;
  for (std::size_t i = 0; i < path.size(); ++i) {
    const Edge &in = path[i], &out = path[(i + 1) % path.size()];
    const plane::Vec2 a = in.tangent_at(1), b = out.tangent_at(0);
    if (cross(a, b) < -kSharpTurn) return true;
  }
  return false;
}

/// A film on a fit, thread or seat changes it: those are masked, and the person must know which.
void add_mask(const Part& part, Rows& rows) {
  if (!part.finish || part.finish->film <= 0) return;
  std::vector<std::string> what;
  if (part.hub.bore.fit || part.hub.bore.taper) what.emplace_back("the bore");
  if (part.hub.keyway) what.emplace_back("the keyway");
  if (!part.hub.registers.empty()) what.emplace_back("the register");
  const auto any = [&](auto holds) { return std::any_of(part.holes.begin(), part.holes.end(), holds); };
  if (any([](const HolePattern& p) { return p.fit && !p.thread; })) what.emplace_back("fitted holes");
  if (any([](const HolePattern& p) { return p.tapped; })) what.emplace_back("threads");
  if (any([](const HolePattern& p) { return p.use == HolePattern::Use::bolt && !p.tapped; }))
    what.emplace_back("seats under bolt heads");
  what.emplace_back("the seat face");
  Check row{"coating_mask",
            "Masking of fits, threads and seats",
            Verdict::note,
            0,
            "",
            {},
            {},
            "common practice, no source",
            ""};
  if (part.finish->masked) {
    row.says = "mask " + listed(what) + ": their sizes here are without film";
  } else {
    row.verdict = Verdict::fail;
    row.says = "the film would lie on " + listed(what) + ": mask them";
  }
  rows.checks.push_back(row);
}

/// Sizes without limits of their own fall under general tolerances, up to the part's own size.
void add_general_tolerances(const Part& part, const Section& section, Rows& rows) {
  double size = 0;
  for (const Edge& e : section.body.section) size = std::max({size, 2 * e.a.y, 2 * e.b.y});
  const auto row = [&](const char* table, const char* id, const char* label) {
    const auto found = part.tolerances.find(table);
    if (found == part.tolerances.end()) return;
    std::string says;
    for (const auto& r : found->second.rows) {
      if (r.over >= size) break;
      says += (says.empty() ? "over " + trimmed(r.over, 1) + " mm" : std::string(",")) + " up to " +
              trimmed(r.up_to, 1) + " mm: +- " + trimmed(r.upper, 2) + " mm";
    }
    rows.checks.push_back({id,
                           label,
                           Verdict::note,
                           0,
                           "",
                           {},
                           {},
                           found->second.source,
                           says + "; this program's default, common practice: an order or drawing that says otherwise "
                                  "goes before it"});
  };
  row("lengths", "general_tolerances", "General tolerances, lengths without limits of their own");
  row("edges", "general_tolerances_edges", "General tolerances, radii and edge breaks without limits of their own");
}

}  // namespace

Rows design_rules(const Part& part, const Section& section) {
  Rows rows;
  for (std::size_t i = 0; i < part.rims.size(); ++i) {
    Rows mine;
    add_rim_rules(part, section, i, mine);
    rows.append(part.named(std::move(mine), i));
  }
  add_hub_rules(part, rows);
  if (part.web) {
    rows.checks.push_back(at_least("web_thickness", "Thickness of the web", part.web->thickness.value,
                                   part.limit("minimum_web"), "axial"));
  }
  const LeastWall least = least_wall(section);
  if (least.value < std::numeric_limits<double>::infinity()) {
    rows.checks.push_back(at_least("minimum_wall", "Least wall round openings", least.value, part.limit("minimum_wall"),
                                   "between " + least.who));
  }
  add_mask(part, rows);
  if (has_sharp_inner_corner(section)) {
    const catalog::Sourced& nose = part.limit("inner_corner_radius");
    rows.checks.push_back({"inner_corners",
                           "Inner corners that are drawn sharp, largest radius",
                           Verdict::note,
                           nose.value,
                           "mm",
                           {},
                           {},
                           nose.source,
                           "a tool leaves its nose radius at flange feet, steps and registers: what goes in there "
                           "needs a larger chamfer"});
  }
  add_general_tolerances(part, section, rows);
  for (const HolePattern& p : part.holes) {
    add_head_rules(part, section, p, rows);
    add_face_rules(part, section, p, rows);
  }
  return rows;
}

}  // namespace groovewright::section
