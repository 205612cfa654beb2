#include <algorithm>
#include <functional>

#include "groovewright/base/text.h"
#include "rows.h"

namespace groovewright::drive {
namespace {

using Kind = PartId::Kind;

std::string mm(double v) { return trimmed(v, 1) + " mm"; }

/// The gap of a part that is worst against its limit.
const Gap* worst_of(const std::vector<Gap>& gaps, PartId part) {
  const Gap* worst = nullptr;
  for (const Gap& g : gaps) {
    if (!(g.a == part) && !(g.b == part)) continue;
    if (!worst || g.gap - g.limit < worst->gap - worst->limit) worst = &g;
  }
  return worst;
}

/// Of an obstacle in front of or behind all that turns: no gap in the plane then counts.
std::string beside_all(const Sheet& s, const Axial& axial) {
  double rear = kUnlimited, front = -kUnlimited;
  for (std::size_t i = 0; i < s.size(); ++i) {
    rear = std::min(rear, s.pulley(i).axial.rear);
    front = std::max(front, s.pulley(i).axial.front);
  }
  if (axial.rear > front) return "; it stands " + mm(axial.rear - front) + " in front of every pulley";
  if (axial.front < rear) return "; it stands " + mm(rear - axial.front) + " behind every pulley";
  return "";
}

void part_row(Sheet& s, PartId part, const std::string& id) {
  const Gap* g = worst_of(s.a.gaps, part);
  if (!g) return;
  const PartId other = g->a == part ? g->b : g->a;
  const Limits& limits = s.drive.limits;
  const bool long_span = g->limit == limits.span_clearance.value && g->limit != limits.clearance.value;
  std::string says = "nearest: " + part_name(s.drive, s.a.course, other);
  if (g->gap < 0) says += ", they run into each other by " + mm(-g->gap);
  if (g->gap < g->limit) says += ", " + mm(g->limit - g->gap) + " more is needed";
  if (part.kind == Kind::obstacle) says += beside_all(s, s.drive.obstacles[part.index].axial);
  s.judge({.id = "clearance_" + id,
           .label = "Least gap of " + part_name(s.drive, s.a.course, part),
           .value = g->gap,
           .unit = "mm",
           .lower = g->limit,
           .source = long_span ? limits.span_clearance.source : limits.clearance.source,
           .says = says});
}

void belt_room(Sheet& s) {
  if (s.a.rooms.empty()) return;
  const Limits& limits = s.drive.limits;
  const auto gap_row = [&](const Room& r, const std::string& id, const std::string& says) {
    return Check{.id = id,
                 .label = "Belt room: gap beside the flange of " + s.name(r.round),
                 .value = r.gap,
                 .unit = "mm",
                 .source = s.drive.belt.height.source + "; " + limits.room_over_height.source,
                 .says = says};
  };
  const auto length_row = [&](const Room& r, const std::string& id, const std::string& says) {
    return Check{.id = id,
                 .label = "Belt room: length left over the flange of " + s.name(r.round),
                 .value = r.slack,
                 .unit = "mm",
                 .source = s.drive.belt.shorter.source,
                 .says = says};
  };
  const Room& last = fit_last(s.a.rooms);
  const std::string over = "over " + s.name(last.round) + " last, ";
  const std::string tells = over + "the tensioner on its far stop";
  Check gap = gap_row(last, "belt_room_gap", tells), length = length_row(last, "belt_room_length", tells);
  gap.lower = last.gap_needed;
  if (s.drive.tensioner) {
    length.lower = 0;
    if (last.slack < 0)
      length.says += ": it takes " + mm(-last.slack) + " more of belt, or as much more give of the tensioner";
  } else {
    gap.says = over + "no tensioner gives way";
    length.says = over + "no tensioner gives way: the centres must be slackened by hand";
  }
  s.judge(gap);
  if (length.lower) {
    s.judge(length);
  } else {
    s.rows.checks.push_back(length);
  }
  // Any one pulley will do as the last: what the others leave is told, not judged.
  for (const Room& r : s.a.rooms) {
    const std::string nearest = "nearest: " + part_name(s.drive, s.a.course, r.nearest);
    s.rows.checks.push_back(gap_row(r, "belt_room_gap_" + s.id(r.round), nearest));
    s.rows.checks.push_back(length_row(r, "belt_room_length_" + s.id(r.round),
                                       r.enough() ? "the belt can go on here last" : "not the pulley to fit last"));
  }
}

}  // namespace

void clearance_rows(Sheet& s) {
  for (std::size_t i = 0; i < s.size(); ++i) part_row(s, {Kind::pulley, i}, s.id(i));
  for (std::size_t i = 0; i < s.size(); ++i) part_row(s, {Kind::span, i}, "span_" + s.span_id(i));
  for (std::size_t k = 0; k < s.drive.obstacles.size(); ++k) {
    part_row(s, {Kind::obstacle, k}, "obstacle_" + std::to_string(k + 1) + "_" + as_id(s.drive.obstacles[k].name));
  }
  part_row(s, {Kind::arm, 0}, "tensioner_body");
  belt_room(s);
}

}  // namespace groovewright::drive
