// The mesh of a turned body with openings, without a geometry kernel:
//   - curved edges of the section become strips between circles; neighbours share their circles' vertices;
//   - a wall square to the axis is a plane figure between circles, mouths and notches, so the circles on its two sides
//     may have different numbers of corners: a bore pays less than the rim;
//   - holes and pockets are strips between matching loops; slots.cpp does the slots.
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "builder.h"
#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"
#include "groovewright/mesh.h"
#include "turned.h"

namespace groovewright::mesh {
namespace {

using plane::Vec2;
constexpr double kTurn = 2 * std::numbers::pi;
/// A mouth lies in a wall at this distance or less.
constexpr double kSame = 1e-6;

/// Where an opening pierces a wall.
struct Mouth {
  double z = 0;
  plane::Path outline;
  double inner = 0, outer = 0;  ///< least and greatest distance from the axis
  Vec2 low, high;               ///< bounding box
  std::size_t wall = 0;         ///< piece of the section
};

double distance_from_axis(const plane::Path& outline) { return plane::distance(Vec2{}, outline); }

double farthest_from_axis(const plane::Path& outline) {
  double most = 0;
  for (const plane::Edge& e : outline) {
    most = std::max({most, norm(e.a), norm(e.b)});
    if (!e.is_arc() || norm(e.centre) <= plane::kCoincident) continue;
    const Vec2 far = e.centre + e.radius() * unit(e.centre);
    if (plane::distance(far, {e}) <= kSame) most = std::max(most, norm(far));
  }
  return most;
}

Mouth mouth(double z, plane::Path outline) {
  Mouth m{z, std::move(outline), 0, 0, {}, {}, 0};
  m.inner = distance_from_axis(m.outline);
  m.outer = farthest_from_axis(m.outline);
  m.low = m.high = m.outline.front().a;
  for (const plane::Edge& e : m.outline) {
    const double bulge = e.is_arc() ? 2 * e.radius() : 0;
    for (const Vec2 p : {e.a, e.b}) {
      m.low = {std::min(m.low.x, p.x - bulge), std::min(m.low.y, p.y - bulge)};
      m.high = {std::max(m.high.x, p.x + bulge), std::max(m.high.y, p.y + bulge)};
    }
  }
  return m;
}

/// All mouths in the order in which openings are lined: holes, then pockets; entry before exit.
std::vector<Mouth> mouths(const plane::TurnedBody& body) {
  std::vector<Mouth> found;
  for (const plane::RoundHole& hole : body.holes) {
    require(hole.profile.size() >= 2, "tessellate: a hole's profile has two points at least");
    found.push_back(mouth(hole.profile.front().x, plane::circle(hole.at, hole.profile.front().y)));
    if (hole.through) found.push_back(mouth(hole.profile.back().x, plane::circle(hole.at, hole.profile.back().y)));
  }
  for (const plane::Pocket& pocket : body.pockets) {
    require(pocket.levels.size() >= 2, "tessellate: a pocket has two levels at least");
    found.push_back(mouth(pocket.levels.front().z, pocket.levels.front().loop));
    if (pocket.through) found.push_back(mouth(pocket.levels.back().z, pocket.levels.back().loop));
  }
  return found;
}

double inner_radius(const Piece& wall) { return std::min(wall.edge.a.y, wall.edge.b.y); }
double outer_radius(const Piece& wall) { return std::max(wall.edge.a.y, wall.edge.b.y); }

void find_walls(std::vector<Mouth>& mouths, const std::vector<Piece>& pieces) {
  for (Mouth& m : mouths) {
    const auto it = std::find_if(pieces.begin(), pieces.end(), [&](const Piece& p) {
      return p.kind == Strip::Kind::wall && std::abs(p.edge.a.x - m.z) <= kSame && inner_radius(p) < m.outer &&
             m.outer < outer_radius(p);
    });
    require(it != pieces.end(), "tessellate: an opening's mouth lies in no wall square to the axis");
    m.wall = static_cast<std::size_t>(it - pieces.begin());
  }
}

/// The deflection, less where facets so coarse would make neighbouring outlines in a wall cross.
double safe_deflection(double deflection, const std::vector<Mouth>& mouths, const std::vector<Piece>& pieces,
                       const std::vector<SlotFrame>& slots) {
  double least = 2 * deflection;
  for (std::size_t i = 0; i < mouths.size(); ++i) {
    const Mouth& m = mouths[i];
    const Piece& wall = pieces[m.wall];
    least = std::min({least, m.inner - inner_radius(wall), outer_radius(wall) - m.outer});
    for (const Cut& cut : wall.cuts) {
      const double above = slots[cut.slot].floor() - m.outer;
      if (!slots[cut.slot].inward() && above > 0) least = std::min(least, above);
    }
    for (std::size_t k = 0; k < i; ++k) {
      const Mouth& o = mouths[k];
      const bool apart = m.low.x > o.high.x + least || o.low.x > m.high.x + least || m.low.y > o.high.y + least ||
                         o.low.y > m.high.y + least;
      if (!apart && m.wall == o.wall) least = std::min(least, plane::distance(m.outline, o.outline));
    }
  }
  for (const Piece& p : pieces) {
    for (const Cut& cut : p.cuts) {
      // Between the floor and the circle that the slot cuts, and between the floor's corners and a wall's far side.
      const SlotFrame& slot = slots[cut.slot];
      for (const double r : {p.edge.a.y, p.edge.b.y}) {
        const double gap = r > slot.floor() ? r - slot.limit() : slot.floor() - r;
        if (std::abs(gap) > kSame) least = std::min(least, std::abs(gap));
      }
    }
  }
  require(least > kSame, "tessellate: openings touch each other or their wall's edges");
  return std::min(deflection, least / 2);
}

/// Walls lower than the facets' own error get the circles of their neighbours: between different ones they would fold.
void join_low_walls(std::vector<Piece>& pieces, const std::vector<Mouth>& mouths, double deflection) {
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    Piece& p = pieces[i];
    const auto is_here = [&](const Mouth& m) { return m.wall == i; };
    const bool pierced = std::any_of(mouths.begin(), mouths.end(), is_here) ||
                         std::any_of(p.cuts.begin(), p.cuts.end(), [](const Cut& c) { return c.in_part(); });
    const bool low = outer_radius(p) - inner_radius(p) <= 2 * deflection;
    if (p.kind == Strip::Kind::wall && low && !pierced && inner_radius(p) > plane::kCoincident) {
      p.kind = Strip::Kind::curved;
    }
  }
}

// ---- openings: each gives the vertices of its mouths, in the order of `mouths` ----

using Ids = std::vector<std::uint32_t>;

Row closed_row(const Ids& circle) {
  Row row;
  const double step = kTurn / static_cast<double>(circle.size());
  for (std::size_t k = 0; k < circle.size(); ++k) row.push_back({step * static_cast<double>(k), circle[k]});
  if (circle.size() > 1) row.push_back({kTurn, circle.front()});
  return row;
}

void line_hole(const plane::RoundHole& hole, double deflection, Builder& builder, std::vector<Ids>& mouths) {
  double widest = 0;
  for (const Vec2 p : hole.profile) widest = std::max(widest, p.y);
  const int count = plane::arc_steps(widest, kTurn, deflection);
  std::vector<Vec2> circle;
  for (int k = 0; k < count; ++k) circle.push_back({cos_of(kTurn * k / count), sin_of(kTurn * k / count)});
  std::vector<Ids> levels;
  for (const Vec2 p : hole.profile) {
    levels.emplace_back();
    for (const Vec2 u : circle) {
      levels.back().push_back(builder.add({hole.at.x + p.y * u.x, hole.at.y + p.y * u.y, p.x}));
      if (p.y <= plane::kCoincident) break;
    }
  }
  const bool downwards = hole.profile.back().x < hole.profile.front().x;
  for (std::size_t i = 0; i + 1 < levels.size(); ++i) {
    const Row here = closed_row(levels[i]), there = closed_row(levels[i + 1]);
    downwards ? builder.zip(there, here) : builder.zip(here, there);
  }
  if (!hole.through && levels.back().size() > 1) builder.fill_level({levels.back()}, downwards);
  mouths.push_back(levels.front());
  if (hole.through) mouths.push_back(levels.back());
}

/// Steps of each edge, the same on all levels.
std::vector<int> common_steps(const plane::Pocket& pocket, double deflection) {
  std::vector<int> steps(pocket.levels.front().loop.size(), 1);
  for (const plane::Level& level : pocket.levels) {
    require(level.loop.size() == steps.size(), "tessellate: a pocket's levels match edge by edge");
    for (std::size_t i = 0; i < steps.size(); ++i) {
      const plane::Edge& e = level.loop[i];
      if (e.is_arc()) steps[i] = std::max(steps[i], plane::arc_steps(e.radius(), e.sweep(), deflection));
    }
  }
  return steps;
}

/// One vertex a step; steps of no length share one.
Ids level_vertices(const plane::Level& level, const std::vector<int>& steps, Builder& builder) {
  Ids found;
  Vec2 last, first;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    for (int k = 0; k < steps[i]; ++k) {
      const Vec2 p = k == 0 ? level.loop[i].a : level.loop[i].at(static_cast<double>(k) / steps[i]);
      if (found.empty()) first = p;
      if (!found.empty() && norm(p - last) <= plane::kCoincident) {
        found.push_back(found.back());
      } else if (!found.empty() && norm(p - first) <= plane::kCoincident) {
        found.push_back(found.front());
      } else {
        found.push_back(builder.add({p.x, p.y, level.z}));
      }
      last = p;
    }
  }
  return found;
}

Loop without_repeats(const Ids& closed) {
  Loop loop;
  for (const std::uint32_t id : closed) {
    if (loop.empty() || (id != loop.back() && id != loop.front())) loop.push_back(id);
  }
  return loop;
}

void line_pocket(const plane::Pocket& pocket, double deflection, Builder& builder, std::vector<Ids>& mouths) {
  const std::vector<int> steps = common_steps(pocket, deflection);
  std::vector<Ids> levels;
  for (const plane::Level& level : pocket.levels) levels.push_back(level_vertices(level, steps, builder));
  const bool downwards = pocket.levels.back().z < pocket.levels.front().z;
  for (std::size_t l = 0; l + 1 < levels.size(); ++l) {
    const Ids& upper = levels[downwards ? l : l + 1];
    const Ids& lower = levels[downwards ? l + 1 : l];
    for (std::size_t i = 0, size = upper.size(); i < size; ++i) {
      const std::size_t k = (i + 1) % size;
      builder.add_triangle(upper[i], upper[k], lower[k]);
      builder.add_triangle(upper[i], lower[k], lower[i]);
    }
  }
  if (!pocket.through) builder.fill_level({without_repeats(levels.back())}, downwards);
  mouths.push_back(without_repeats(levels.front()));
  if (pocket.through) mouths.push_back(without_repeats(levels.back()));
}

// ---- the turned faces ----

/// What is left of a ring between the slots that cut a strip there.
std::vector<Row> sectors(const Ring& ring, const std::vector<std::size_t>& cut_by,
                         const std::vector<SlotFrame>& slots) {
  if (cut_by.empty()) return {ring.whole()};
  std::vector<Row> rows;
  for (std::size_t i = 0; i < cut_by.size(); ++i) {
    const std::size_t slot = cut_by[i], next = cut_by[(i + 1) % cut_by.size()];
    rows.push_back(ring.part(ring.lips_of(slot).high, ring.lips_of(next).low, slots[slot].angle()));
  }
  return rows;
}

void add_curved(const Turned& turned, std::size_t strip, Builder& builder) {
  std::vector<std::size_t> cut_by;
  for (const Cut& c : turned.strips[strip].cuts) cut_by.push_back(c.slot);
  const std::vector<Row> from = sectors(turned.start(strip), cut_by, turned.slots);
  const std::vector<Row> to = sectors(turned.end(strip), cut_by, turned.slots);
  for (std::size_t i = 0; i < from.size(); ++i) builder.zip(from[i], to[i]);
}

/// One circle of a wall's outline: closed, or what slots leave of it. Inner circles run clockwise.
void add_circle(Border& border, const Ring& ring, const std::vector<std::size_t>& cut_by, bool inner,
                const std::vector<SlotFrame>& slots) {
  if (ring.nodes.size() == 1) return;
  for (const Row& row : sectors(ring, cut_by, slots)) {
    Ids run = ids(row);
    if (inner) run = reversed(std::move(run));
    if (cut_by.empty()) run.pop_back();
    cut_by.empty() ? border.add_closed(std::move(run)) : border.add(std::move(run));
  }
}

void add_wall(const Turned& turned, std::size_t strip, const std::vector<Ids>& mouths, Builder& builder) {
  const Strip& s = turned.strips[strip];
  const bool faces_up = turned.end(strip).r > turned.start(strip).r;
  if (s.cuts.empty() && mouths.empty()) return builder.zip(turned.start(strip).whole(), turned.end(strip).whole());
  const Ring& inner = faces_up ? turned.start(strip) : turned.end(strip);
  const Ring& outer = faces_up ? turned.end(strip) : turned.start(strip);
  Border border;
  std::vector<std::size_t> cut_inside, cut_outside;
  for (const Cut& c : s.cuts) {
    const bool at_inner = faces_up ? c.at_start : c.at_end, at_outer = faces_up ? c.at_end : c.at_start;
    if (at_inner) cut_inside.push_back(c.slot);
    if (at_outer) cut_outside.push_back(c.slot);
    const auto id = [&](const Ring& ring, bool high) {
      const Lips& lips = ring.lips_of(c.slot);
      return ring.nodes[high ? lips.high : lips.low].id;
    };
    if (at_inner && at_outer) {
      border.add({id(outer, false), id(inner, false)});
      border.add({id(inner, true), id(outer, true)});
      continue;
    }
    const Ring& open = at_inner ? inner : outer;
    Ids run = ids(c.notch);
    if (at_inner) run = reversed(std::move(run));
    run.insert(run.begin(), id(open, at_inner));
    run.push_back(id(open, !at_inner));
    border.add(std::move(run));
  }
  add_circle(border, inner, cut_inside, true, turned.slots);
  add_circle(border, outer, cut_outside, false, turned.slots);
  for (const Ids& m : mouths) border.add_closed(reversed(m));
  builder.fill_level(border.loops(), faces_up);
}

std::vector<SlotFrame> frames(const plane::TurnedBody& body) {
  std::vector<SlotFrame> found;
  for (const plane::Slot& slot : body.slots) {
    found.emplace_back(slot);
    found.back().snap_to(body.section);
  }
  std::sort(found.begin(), found.end(), [](const SlotFrame& a, const SlotFrame& b) { return a.angle() < b.angle(); });
  return found;
}

}  // namespace

Mesh tessellate(const plane::TurnedBody& body, double deflection) {
  require(deflection >= kLeastDeflection && deflection <= kMostDeflection,
          "tessellate: the deflection is out of range");
  require(plane::is_closed(body.section), "tessellate: the section is open");
  std::vector<SlotFrame> slots = frames(body);
  std::vector<Piece> section = pieces(body.section, slots);
  std::vector<Mouth> all_mouths = mouths(body);
  find_walls(all_mouths, section);
  const double fine = safe_deflection(deflection, all_mouths, section, slots);
  join_low_walls(section, all_mouths, fine);

  Builder builder;
  std::vector<Ids> mouth_ids;
  for (const plane::RoundHole& hole : body.holes) line_hole(hole, fine, builder, mouth_ids);
  for (const plane::Pocket& pocket : body.pockets) line_pocket(pocket, fine, builder, mouth_ids);
  Turned turned = turn(section, std::move(slots), fine, builder);
  line_slots(turned, fine, builder);
  for (std::size_t i = 0; i < turned.strips.size(); ++i) {
    const Strip& strip = turned.strips[i];
    if (strip.kind == Strip::Kind::axis) continue;
    if (strip.kind == Strip::Kind::curved) {
      add_curved(turned, i, builder);
      continue;
    }
    std::vector<Ids> here;
    for (std::size_t m = 0; m < all_mouths.size(); ++m) {
      if (all_mouths[m].wall == strip.piece) here.push_back(mouth_ids[m]);
    }
    add_wall(turned, i, here, builder);
  }
  return builder.take();
}

}  // namespace groovewright::mesh
