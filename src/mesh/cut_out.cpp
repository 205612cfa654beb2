// Every mesh edge that crosses a side of the outline in the cross plane gets a vertex there, shared by the triangles to
// both sides of it and the wall; every triangle over a corner of the outline gets one at that height. All that is
// decided from signs of areas: which vertices lie inside, which edges cross which sides, which triangles hold which
// corners. The outlines of what stays of each triangle, and of each wall, then follow from link to link; no coordinates
// are compared, so nothing depends on how steep a triangle stands, and what is left fits together.
//
// Signs are sure as long as no vertex lies on a side and no corner on an edge. Where one does, the outline moves by a
// hair. The thin slivers left along such places vanish as their vertices are joined.
#include <algorithm>
#include <cmath>
#include <numbers>
#include <unordered_map>

#include "builder.h"
#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"
#include "groovewright/mesh.h"
#include "outline.h"
#include "patch.h"

namespace groovewright::mesh {
namespace {

using plane::Vec2;
using Index = std::uint32_t;
using Triangle = std::array<Index, 3>;
constexpr Index kNone = ~Index{0};
constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kLeastSide = 1e-3;

/// A step of an outline, the figure to its left.
struct Link {
  Index from, to;
};

/// Links joined end to end. Requires: as many begin at a vertex as end there, one or none.
std::vector<Loop> joined(const std::vector<Link>& links) {
  std::unordered_map<Index, Index> next;
  for (const Link& l : links) require(next.emplace(l.from, l.to).second, "cut_out: an outline forks");
  std::vector<Loop> loops;
  for (const Link& l : links) {
    Loop loop;
    for (auto at = next.find(l.from); at != next.end(); at = next.find(loop.back())) {
      loop.push_back(at->second);
      next.erase(at);
    }
    if (loop.empty()) continue;
    require(loop.back() == l.from, "cut_out: an outline is open");
    loops.push_back(std::move(loop));
  }
  return loops;
}

/// A vertex where an edge of the mesh crosses a side of the outline.
struct Crossing {
  double place;  ///< along the edge, from the end with the lower index
  Index side;
  Index vertex;
};

/// A vertex where the line over a corner of the outline pierces the mesh.
struct Pierced {
  double z;
  Index vertex;
  bool is_top;  ///< of metal: the mesh faces up
};

/// The plane over a side of the outline: u along the side, v = Z; seen from outside u runs to the right.
struct WallPlane {
  Vec2 from, along;

  WallPlane(Vec2 a, Vec2 b) : from(a), along(plane::unit(b - a)) {}
  [[nodiscard]] Vec2 flat(const Vec3& p) const { return {plane::dot(Vec2{p.x, p.y} - from, along), p.z}; }
  [[nodiscard]] Vec3 point(Vec2 p, double depth) const {
    const Vec2 at = from + p.x * along + depth * Vec2{-along.y, along.x};
    return {at.x, at.y, p.y};
  }
};

/// One try, for an outline in general position. Throws Broken where it is not.
class Cutter {
 public:
  Cutter(const Mesh& m, const Outline& outline) : mesh_(m), outline_(outline) {
    // Room for what the cut adds: to move all later costs more than the cut.
    vertices_.reserve(m.vertices.size() + m.vertices.size() / 4 + 1000);
    vertices_ = m.vertices;
    kept_.reserve(m.triangles.size());
  }

  Mesh run(const std::vector<WallHole>& holes, double deflection) {
    pierced_.resize(outline_.size());
    walls_.resize(outline_.size());
    place_vertices();
    for (const Triangle& t : mesh_.triangles) take(t);
    add_corner_lines();
    for (std::size_t side = 0; side < outline_.size(); ++side) build_wall(side, holes, deflection);
    return sewn();
  }

 private:
  [[nodiscard]] Vec2 flat(Index v) const { return {vertices_[v].x, vertices_[v].y}; }

  Index add(const Vec3& v) {
    vertices_.push_back(v);
    return static_cast<Index>(vertices_.size() - 1);
  }

  void place_vertices() {
    inside_.resize(mesh_.vertices.size());
    for (Index v = 0; v < inside_.size(); ++v) {
      require(outline_.is_clear(flat(v)), "cut_out: a vertex lies on the outline");
      inside_[v] = outline_.contains(flat(v));
    }
  }

  void take(const Triangle& t) {
    if (outline_.may_meet(Box::of(flat(t[0]), flat(t[1])).with(flat(t[2]))) && split(t)) return;
    if (inside_[t[0]]) kept_.push_back(t);
  }

  // ---- triangles ----

  /// How one side of the outline runs through a triangle, as the outline of what stays inside has it.
  struct Passage {
    std::size_t side;
    Index from = kNone, to = kNone;
  };

  /// False where no side runs through the triangle.
  bool split(const Triangle& t) {
    std::vector<Link> links;
    std::vector<Passage> passages;
    const auto passage = [&](std::size_t side) -> Passage& {
      for (Passage& p : passages) {
        if (p.side == side) return p;
      }
      return passages.emplace_back(Passage{side});
    };
    const auto set = [](Index& place, Index v) {
      require(place == kNone, "cut_out: a side enters a triangle twice");
      place = v;
    };
    bool inside = inside_[t[0]];
    for (std::size_t k = 0; k < 3; ++k) {
      const Index a = t[k], b = t[(k + 1) % 3];
      const std::vector<Crossing>& met = crossings(a, b);
      Index last = a;
      const auto step_to = [&](Index v) {
        if (inside) links.push_back({last, v});
        last = v;
      };
      for (std::size_t i = 0; i < met.size(); ++i) {
        const Crossing& c = met[a < b ? i : met.size() - 1 - i];
        step_to(c.vertex);
        Passage& p = passage(c.side);
        set(inside ? p.from : p.to, c.vertex);
        inside = !inside;
      }
      step_to(b);
      require(inside == static_cast<bool>(inside_[b]), "cut_out: an edge crosses the outline unseen");
    }
    const Vec2 a = flat(t[0]), b = flat(t[1]), c = flat(t[2]);
    const bool faces_up = leaning(a, b, c) > 0;
    for (std::size_t corner = 0; corner < outline_.size(); ++corner) {
      const Vec2 p = outline_.from(corner);
      if (!Box::of(a, b).with(c).meets({p, p})) continue;
      const bool left_ab = leaning(a, b, p) > 0, left_bc = leaning(b, c, p) > 0, left_ca = leaning(c, a, p) > 0;
      if (left_ab != left_bc || left_bc != left_ca) continue;
      const Index v = pierce(t, corner, faces_up);
      Passage& ahead = passage(corner);
      set(faces_up ? ahead.from : ahead.to, v);
      Passage& behind = passage(corner == 0 ? outline_.size() - 1 : corner - 1);
      set(faces_up ? behind.to : behind.from, v);
    }
    if (passages.empty()) return false;
    for (const Passage& p : passages) {
      require(p.from != kNone && p.to != kNone, "cut_out: a side ends in a triangle");
      links.push_back({p.from, p.to});
      walls_[p.side].push_back({p.to, p.from});
    }
    fill(joined(links), t);
    return true;
  }

  /// Where the edge crosses the outline, from the end with the lower index on.
  const std::vector<Crossing>& crossings(Index a, Index b) {
    const Index low = std::min(a, b), high = std::max(a, b);
    const auto [it, is_new] = crossings_.try_emplace(std::uint64_t{low} << 32 | high);
    if (is_new) it->second = found_crossings(low, high);
    return it->second;
  }

  std::vector<Crossing> found_crossings(Index low, Index high) {
    const Vec2 p = flat(low), q = flat(high);
    const Box box = Box::of(p, q);
    std::vector<Crossing> found;
    if (!outline_.may_meet(box)) return found;
    for (std::size_t side = 0; side < outline_.size(); ++side) {
      if (!outline_.box_of(side).meets(box)) continue;
      const Vec2 a = outline_.from(side), b = outline_.to(side);
      require(p == q || distance_to_segment(a, p, q) > kUnclear, "cut_out: a corner lies on an edge");
      const double at_p = leaning(a, b, p), at_q = leaning(a, b, q);
      if ((at_p > 0) == (at_q > 0) || (leaning(p, q, a) > 0) == (leaning(p, q, b) > 0)) continue;
      found.push_back({at_p / (at_p - at_q), static_cast<Index>(side), 0});
    }
    std::sort(found.begin(), found.end(), [](const Crossing& c, const Crossing& d) { return c.place < d.place; });
    for (Crossing& c : found) {
      const Vec3 from = vertices_[low], to = vertices_[high];
      c.vertex = add(
          {from.x + c.place * (to.x - from.x), from.y + c.place * (to.y - from.y), from.z + c.place * (to.z - from.z)});
    }
    return found;
  }

  Index pierce(const Triangle& t, std::size_t corner, bool faces_up) {
    const Vec2 p = outline_.from(corner), a = flat(t[0]), b = flat(t[1]), c = flat(t[2]);
    const double at_a = leaning(b, c, p), at_b = leaning(c, a, p), at_c = leaning(a, b, p);
    const double z =
        (at_a * vertices_[t[0]].z + at_b * vertices_[t[1]].z + at_c * vertices_[t[2]].z) / (at_a + at_b + at_c);
    const Index v = add({p.x, p.y, z});
    pierced_[corner].push_back({z, v, faces_up});
    return v;
  }

  /// What stays of a triangle.
  void fill(const std::vector<Loop>& loops, const Triangle& t) {
    if (loops.size() == 1 && loops[0].size() == 3) {
      made_.push_back({loops[0][0], loops[0][1], loops[0][2]});
      return;
    }
    // Seen along the axis that the triangle faces most, so that coordinates stay what they are.
    const Vec3 &a = vertices_[t[0]], &b = vertices_[t[1]], &c = vertices_[t[2]];
    const Vec3 u{b.x - a.x, b.y - a.y, b.z - a.z}, v{c.x - a.x, c.y - a.y, c.z - a.z};
    const double x = u.y * v.z - u.z * v.y, y = u.z * v.x - u.x * v.z, z = u.x * v.y - u.y * v.x;
    const bool along_x = std::abs(x) >= std::abs(y) && std::abs(x) >= std::abs(z);
    const bool along_y = !along_x && std::abs(y) >= std::abs(z);
    const double sign = (along_x ? x : along_y ? y : z) > 0 ? 1 : -1;
    fill(loops, [&](const Vec3& p) {
      return along_x ? Vec2{sign * p.y, p.z} : along_y ? Vec2{sign * p.z, p.x} : Vec2{sign * p.x, p.y};
    });
  }

  template <class Place>
  void fill(const std::vector<Loop>& loops, const Place& place) {
    std::vector<Vec2> points;
    std::vector<Index> names;
    std::vector<Loop> local;
    for (const Loop& loop : loops) {
      local.emplace_back();
      for (const Index v : loop) {
        local.back().push_back(static_cast<Index>(points.size()));
        points.push_back(place(vertices_[v]));
        names.push_back(v);
      }
    }
    for (const Triangle& t : triangulate(points, local)) made_.push_back({names[t[0]], names[t[1]], names[t[2]]});
  }

  // ---- walls ----

  /// Where the line over a corner runs in metal two walls meet.
  void add_corner_lines() {
    for (std::size_t corner = 0; corner < outline_.size(); ++corner) {
      std::vector<Pierced>& hits = pierced_[corner];
      std::sort(hits.begin(), hits.end(), [](const Pierced& p, const Pierced& q) { return p.z < q.z; });
      require(hits.size() % 2 == 0, "cut_out: a corner's line leaves the metal unseen");
      for (std::size_t i = 0; i < hits.size(); ++i) {
        require(hits[i].is_top == (i % 2 == 1), "cut_out: a corner's line leaves the metal unseen");
        if (!hits[i].is_top) continue;
        walls_[corner].push_back({hits[i].vertex, hits[i - 1].vertex});
        walls_[corner == 0 ? outline_.size() - 1 : corner - 1].push_back({hits[i - 1].vertex, hits[i].vertex});
      }
    }
  }

  void build_wall(std::size_t side, const std::vector<WallHole>& holes, double deflection) {
    const WallPlane wall(outline_.from(side), outline_.to(side));
    std::vector<Loop> loops = joined(walls_[side]);
    std::vector<std::pair<Vec2, Vec2>> edges;
    for (const Loop& loop : loops) {
      for (std::size_t i = 0; i < loop.size(); ++i) {
        edges.emplace_back(wall.flat(vertices_[loop[i]]), wall.flat(vertices_[loop[(i + 1) % loop.size()]]));
      }
    }
    for (const WallHole& hole : holes) {
      if (hole.wall != side) continue;
      require(lies_within(edges, hole), "cut_out: a hole's mouth is not clear of the wall's edges");
      loops.push_back(drilled(wall, hole, deflection));
      for (std::size_t i = 0; i < loops.back().size(); ++i) {
        edges.emplace_back(wall.flat(vertices_[loops.back()[i]]),
                           wall.flat(vertices_[loops.back()[(i + 1) % loops.back().size()]]));
      }
    }
    if (!loops.empty()) fill(loops, [&](const Vec3& p) { return wall.flat(p); });
  }

  static bool lies_within(const std::vector<std::pair<Vec2, Vec2>>& edges, const WallHole& hole) {
    const Vec2 middle{hole.along, hole.z};
    bool inside = false;
    for (const auto& [a, b] : edges) {
      if (distance_to_segment(middle, a, b) <= hole.radius + kApart) return false;
      if ((a.y > middle.y) != (b.y > middle.y) && (leaning(a, b, middle) > 0) == (b.y > a.y)) inside = !inside;
    }
    return inside;
  }

  /// Bottom and side of the hole; its mouth as a hole of the wall's figure, clockwise.
  Loop drilled(const WallPlane& wall, const WallHole& hole, double deflection) {
    const int steps = std::max(3, plane::arc_steps(hole.radius, kTurn, deflection));
    Loop mouth, bottom;
    for (int i = 0; i < steps; ++i) {
      const double angle = -kTurn * i / steps;
      const Vec2 at{hole.along + hole.radius * cos_of(angle), hole.z + hole.radius * sin_of(angle)};
      mouth.push_back(add(wall.point(at, 0)));
      bottom.push_back(add(wall.point(at, hole.depth)));
    }
    for (std::size_t i = 0; i < mouth.size(); ++i) {
      const std::size_t j = (i + 1) % mouth.size();
      made_.push_back({mouth[j], mouth[i], bottom[i]});
      made_.push_back({mouth[j], bottom[i], bottom[j]});
    }
    fill({Loop(bottom.rbegin(), bottom.rend())}, [&](const Vec3& p) { return wall.flat(p); });
    return mouth;
  }

  // ---- all together ----

  Mesh sewn() {
    Patch patch{vertices_, std::move(made_), static_cast<Index>(mesh_.vertices.size()),
                std::vector<char>(vertices_.size(), 0)};
    for (const Triangle& t : patch.triangles) {
      for (const Index v : t) patch.whole[v] = 1;
    }
    // Kept triangles on an edge of the patch belong to it.
    const auto beside = [&](const Triangle& t) {
      return patch.whole[t[0]] + patch.whole[t[1]] + patch.whole[t[2]] > 1;
    };
    const auto rest = std::stable_partition(kept_.begin(), kept_.end(), [&](const Triangle& t) { return !beside(t); });
    patch.triangles.insert(patch.triangles.end(), rest, kept_.end());
    kept_.erase(rest, kept_.end());
    join_near_vertices(patch);
    check(patch);
    kept_.insert(kept_.end(), patch.triangles.begin(), patch.triangles.end());
    return compacted({std::move(vertices_), std::move(kept_)});
  }

  const Mesh& mesh_;
  const Outline& outline_;
  std::vector<Vec3> vertices_;  ///< the mesh's, then those of the cut
  std::vector<char> inside_;    ///< of the mesh's vertices
  std::vector<Triangle> kept_, made_;
  std::unordered_map<std::uint64_t, std::vector<Crossing>> crossings_;
  std::vector<std::vector<Pierced>> pierced_;  ///< by corner
  std::vector<std::vector<Link>> walls_;       ///< by side
};

constexpr int kTries = 16;

/// Where the outline goes on its n-th try. A hair clears what lies on it, unless faces along it then leave a skin, or
/// edges meet densely where it was: so four ways are tried, and four more, wider. Moves wider still leave skins thick
/// enough to stand.
Vec2 shift(int n) {
  if (n == 0) return {};
  const int round = (n - 1) / 4;
  const double angle = 0.4 + kTurn / 4 * n + 0.3 * round;  // along no direction that parts are likely to have
  const double size = n <= 4 ? 1e-8 : n <= 8 ? 1e-6 : kMostShift * (n - 8) / (kTries - 8);
  return size * Vec2{cos_of(angle), sin_of(angle)};
}

void require_fit(const std::vector<Vec2>& outline, const std::vector<WallHole>& holes, double deflection) {
  require(outline.size() >= 3, "cut_out: an outline has three corners at least");
  double area = 0;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec2 a = outline[i], b = outline[(i + 1) % outline.size()];
    require(plane::norm(b - a) >= kLeastSide, "cut_out: a side of the outline is too short");
    area += plane::cross(a - outline[0], b - outline[0]);
  }
  require(area > 0, "cut_out: the outline runs clockwise");
  require(deflection >= kLeastDeflection && deflection <= kMostDeflection, "cut_out: deflection out of range");
  for (const WallHole& h : holes) {
    require(h.wall < outline.size(), "cut_out: a hole in a wall that is not there");
    require(h.radius >= kLeastSide && h.depth >= kLeastSide, "cut_out: a hole without size");
  }
}

}  // namespace

Mesh cut_out(const Mesh& m, const std::vector<Vec2>& outline, const std::vector<WallHole>& holes, double deflection) {
  require_fit(outline, holes, deflection);
  for (int n = 0;; ++n) {
    std::vector<Vec2> moved;
    for (const Vec2 p : outline) moved.push_back(p + shift(n));
    try {
      const Outline there(std::move(moved));
      return Cutter(m, there).run(holes, deflection);
    } catch (const Broken&) {
      if (n == kTries) throw;
    }
  }
}

}  // namespace groovewright::mesh
