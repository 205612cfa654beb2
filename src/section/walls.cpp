#include <algorithm>
#include <cmath>
#include <limits>

#include "build.h"
#include "groovewright/base/trig.h"

namespace groovewright::section {
namespace {

using plane::Edge;
using plane::Path;

constexpr double kFar = std::numeric_limits<double>::infinity();

/// Faces on the inside of the rim, seen from the grooves: whatever is not part of the rim's own outside.
bool is_inside(Kind k) {
  switch (k) {
    case Kind::bore:
    case Kind::step:
    case Kind::floor:
    case Kind::hub:
    case Kind::spigot:
    case Kind::web:
    case Kind::rim_inner:
      return true;
    default:
      return false;
  }
}

/// Roots of the grooves of `rim`, or of all where it is negative.
Path roots_of(const Section& section, int rim) {
  Path roots;
  for (std::size_t i = 0; i < section.tags.size(); ++i) {
    if (section.tags[i].kind == Kind::root && (rim < 0 || section.tags[i].rim == rim))
      roots.push_back(section.body.section[i]);
  }
  return roots;
}

struct Span {
  double from = kFar, to = -kFar;
  void hold(double v) { from = std::min(from, v), to = std::max(to, v); }
  [[nodiscard]] bool meets(const Span& other) const { return from < other.to && other.from < to; }
};
Span depths_of(const Path& in_half_plane) {
  Span s;
  for (const Edge& e : in_half_plane) s.hold(e.a.x), s.hold(e.b.x);
  return s;
}

/// An opening as the half plane sees it when the part turns: the border of all that it sweeps.
struct Swept {
  std::string id;
  Path border;
  bool blind_pocket = false;
  double mouth = 0;  ///< Z of a pocket's mouth
};

Edge line(double x0, double y0, double x1, double y1) { return {{x0, y0}, {x1, y1}, Edge::Turn::straight, {}}; }

Swept swept(const plane::Pocket& p) {
  Swept out{p.id, {}, !p.through, p.levels.front().z};
  std::vector<Span> radii;
  for (const plane::Level& l : p.levels) {
    Span r;
    r.hold(plane::distance(plane::Vec2{}, l.loop));
    for (const Edge& e : l.loop) r.hold(e.is_arc() ? norm(e.centre) + e.radius() : std::max(norm(e.a), norm(e.b)));
    radii.push_back(r);
  }
  for (std::size_t i = 0; i + 1 < p.levels.size(); ++i) {
    const double z0 = p.levels[i].z, z1 = p.levels[i + 1].z;
    out.border.push_back(line(z0, radii[i].from, z1, radii[i + 1].from));
    out.border.push_back(line(z0, radii[i].to, z1, radii[i + 1].to));
  }
  if (out.blind_pocket)
    out.border.push_back(line(p.levels.back().z, radii.back().from, p.levels.back().z, radii.back().to));
  return out;
}

/// A mark on a rim's edge or a gap between teeth: all beyond its floor, up to `reach`.
Swept swept_outward(const plane::Slot& s, double reach) {
  return {s.id,
          {line(s.z0, reach, s.z0, s.floor), line(s.z0, s.floor, s.z1, s.floor), line(s.z1, s.floor, s.z1, reach)},
          false,
          0};
}

/// Pockets and outward slots, one of each ring of equal ones.
std::vector<Swept> swept_openings(const Section& section) {
  const double reach = plane::outermost(section.body.section);
  std::vector<Swept> all;
  const auto seen = [&](const std::string& id) {
    return !all.empty() && all.back().id.substr(0, all.back().id.find('[')) == id.substr(0, id.find('['));
  };
  for (const plane::Pocket& p : section.body.pockets) {
    if (!seen(p.id)) all.push_back(swept(p));
  }
  for (const plane::Slot& s : section.body.slots) {
    if (!s.inward && !seen(s.id)) all.push_back(swept_outward(s, reach));
  }
  return all;
}

bool is_fillet_or_groove(Kind k) {
  return k == Kind::fillet || k == Kind::land || k == Kind::crest || k == Kind::flank || k == Kind::root;
}

/// Turned faces but the wall in which an opening has its mouth, fillets (metal is not thin there) and grooves (what
/// carries beside a groove is the metal at its root, which is seen on its own).
Path faces_behind(const Section& section, double mouth) {
  Path faces;
  for (std::size_t i = 0; i < section.tags.size(); ++i) {
    const Edge& e = section.body.section[i];
    const bool own = !e.is_arc() && e.a.x == mouth && e.b.x == mouth;
    if (!own && !is_fillet_or_groove(section.tags[i].kind)) faces.push_back(e);
  }
  return faces;
}

/// Marks and gaps beside a groove, and the floors of marks against the faces behind them.
void see_swept(const Section& section, LeastWall& least) {
  const Path roots = roots_of(section, -1);
  const Span grooves = depths_of(roots);
  for (const Swept& o : swept_openings(section)) {
    if (!depths_of(o.border).meets(grooves))
      least.see(plane::distance(roots, o.border), o.id + " and the groove beside it");
    if (o.blind_pocket)
      least.see(plane::distance(o.border, faces_behind(section, o.mouth)), o.id + " and the face behind it");
  }
}

/// Two openings at different depths, one above the other: the metal between their ends. `id` of what is widest.
struct Stretch {
  const std::string* id;
  Span depth;
  Path outline;  ///< widest, in the cross plane
};
std::vector<Stretch> stretches(const plane::TurnedBody& body) {
  std::vector<Stretch> all;
  for (const plane::RoundHole& h : body.holes) {
    if (h.through) continue;
    Stretch s{&h.id, {}, {}};
    double widest = 0;
    for (const plane::Vec2& p : h.profile) s.depth.hold(p.x), widest = std::max(widest, p.y);
    s.outline = plane::circle(h.at, widest);
    all.push_back(std::move(s));
  }
  for (const plane::Pocket& p : body.pockets) {
    if (p.through) continue;
    Stretch s{&p.id, {}, p.levels.front().loop};
    for (const plane::Level& l : p.levels) s.depth.hold(l.z);
    all.push_back(std::move(s));
  }
  return all;
}

double metal_end_to_end(const Stretch& a, const Stretch& b) {
  const double axial = std::max(a.depth.from - b.depth.to, b.depth.from - a.depth.to);
  const bool overlap =
      plane::contains(a.outline, b.outline.front().a) || plane::contains(b.outline, a.outline.front().a);
  return length_of(axial, overlap ? 0 : plane::distance(a.outline, b.outline));
}

void see_end_to_end(const plane::TurnedBody& body, LeastWall& least) {
  const std::vector<Stretch> all = stretches(body);
  for (std::size_t i = 0; i < all.size(); ++i) {
    for (std::size_t k = i + 1; k < all.size(); ++k) {
      const double axial = std::max(all[i].depth.from - all[k].depth.to, all[k].depth.from - all[i].depth.to);
      if (axial > 0 && axial < least.value)
        least.see(metal_end_to_end(all[i], all[k]), *all[i].id + " and " + *all[k].id);
    }
  }
}

}  // namespace

void LeastWall::see(double v, const std::string& what) {
  if (v < value - plane::kCoincident) value = v, who = what;
}

double wall_under_groove(const Section& section, int rim) {
  const Path roots = roots_of(section, rim);
  Path inside;
  for (std::size_t i = 0; i < section.tags.size(); ++i) {
    if (is_inside(section.tags[i].kind)) inside.push_back(section.body.section[i]);
  }
  double least = plane::distance(roots, inside);
  // Openings seen in the half plane: their farthest reach from the axis, over their depth.
  for (const plane::RoundHole& h : section.body.holes) {
    const double at = norm(h.at);
    Path side;
    for (std::size_t i = 0; i + 1 < h.profile.size(); ++i) {
      side.push_back({{h.profile[i].x, at + h.profile[i].y},
                      {h.profile[i + 1].x, at + h.profile[i + 1].y},
                      Edge::Turn::straight,
                      {}});
    }
    least = std::min(least, plane::distance(roots, side));
  }
  for (const Swept& o : swept_openings(section)) {
    if (depths_of(o.border).meets(depths_of(roots))) least = std::min(least, plane::distance(roots, o.border));
  }
  for (const plane::Slot& s : section.body.slots) {
    if (!s.inward) continue;
    const double corner = length_of(s.floor, s.width / 2);
    double lowest = kFar;
    for (const Edge& e : roots) lowest = std::min(lowest, e.at(0.5).y);
    least = std::min(least, lowest - corner);
  }
  return least;
}

LeastWall least_wall(const Section& section) {
  LeastWall least;
  see_swept(section, least);
  const auto& b = section.body;
  for (std::size_t i = 0; i < b.holes.size(); ++i) {
    if (i == 0 || !alike(b.holes[i - 1], b.holes[i])) {
      least.see(wall_round(b.holes[i], section, false), b.holes[i].id + " and the face beside it");
    }
    for (std::size_t k = i + 1; k < b.holes.size(); ++k) {
      least.see(metal_between(b.holes[i], b.holes[k]), b.holes[i].id + " and " + b.holes[k].id);
    }
    for (const auto& p : b.pockets) least.see(metal_between(b.holes[i], p), b.holes[i].id + " and " + p.id);
    for (const auto& s : b.slots) least.see(metal_between(b.holes[i], s), b.holes[i].id + " and the " + s.id);
  }
  for (std::size_t i = 0; i < b.pockets.size(); ++i) {
    for (const auto& slot : b.slots)
      least.see(metal_between(b.pockets[i], slot), b.pockets[i].id + " and the " + slot.id);
    for (std::size_t k = i + 1; k < b.pockets.size(); ++k) {
      least.see(metal_between(b.pockets[i], b.pockets[k]), b.pockets[i].id + " and " + b.pockets[k].id);
    }
  }
  see_end_to_end(b, least);
  return least;
}

}  // namespace groovewright::section
