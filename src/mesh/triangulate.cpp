// A plane sweep cuts the figure into monotone pieces (de Berg et al., Computational Geometry, ch. 3); each is cut into
// triangles with a stack; then edges are flipped until they are Delaunay. The sweep goes down in y and, on one height,
// right in x: as if the plane were turned by a hair, so level edges need no cases of their own.
#include "triangulate.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "groovewright/base/broken.h"

namespace groovewright::mesh {
namespace {

using plane::Vec2;
using Index = std::uint32_t;
using Triangle = std::array<Index, 3>;
constexpr Index kNone = std::numeric_limits<Index>::max();
/// Sine of the least corner that counts as a corner: rounding makes smaller ones of straight runs.
constexpr double kStraight = 1e-11;
/// An edge is flipped only for a gain above rounding, so flipping ends.
constexpr double kFlipGain = 1e-9;

double corner(Vec2 a, Vec2 b, Vec2 c) { return plane::cross(b - a, c - a); }

/// True when a, b, c turn left by more than rounding.
bool turns_left(Vec2 a, Vec2 b, Vec2 c) {
  const Vec2 u = b - a, v = c - b;
  return plane::cross(u, v) > kStraight * std::sqrt(plane::dot(u, u) * plane::dot(v, v));
}

bool is_above(Vec2 p, Vec2 q) { return p.y > q.y || (p.y == q.y && p.x < q.x); }

struct Diagonal {
  Index a, b;
};

// ---- into monotone pieces ----

class Sweep {
 public:
  Sweep(const std::vector<Vec2>& points, const std::vector<Index>& next, const std::vector<Index>& prev)
      : points_(points), next_(next), prev_(prev) {}

  /// Requires: `order` runs from the topmost point down.
  std::vector<Diagonal> diagonals(const std::vector<Index>& order) {
    for (const Index v : order) visit(v);
    return std::move(diagonals_);
  }

 private:
  /// An edge with the figure to its right, named by its upper end, and the last point seen from it.
  struct Left {
    Index upper;
    Index helper;
    bool helper_merges;
  };

  [[nodiscard]] bool below(Index v, Index w) const { return is_above(points_[v], points_[w]); }

  void visit(Index v) {
    const bool prev_below = below(v, prev_[v]), next_below = below(v, next_[v]);
    const bool convex = corner(points_[prev_[v]], points_[v], points_[next_[v]]) > 0;
    if (prev_below && next_below) {
      if (!convex) {
        Left& left = left_of(v);
        diagonals_.push_back({v, left.helper});
        left.helper = v;
        left.helper_merges = false;
      }
      lefts_.push_back({v, v, false});
    } else if (!prev_below && !next_below) {
      close(prev_[v], v);
      if (!convex) see(v, true);
    } else if (next_below) {
      close(prev_[v], v);
      lefts_.push_back({v, v, false});
    } else {
      see(v, false);
    }
  }

  void close(Index upper, Index v) {
    const auto it = std::find_if(lefts_.begin(), lefts_.end(), [&](const Left& l) { return l.upper == upper; });
    require(it != lefts_.end(), "triangulate: loops cross or run the wrong way");
    if (it->helper_merges) diagonals_.push_back({v, it->helper});
    *it = lefts_.back();
    lefts_.pop_back();
  }

  void see(Index v, bool merges) {
    Left& left = left_of(v);
    if (left.helper_merges) diagonals_.push_back({v, left.helper});
    left.helper = v;
    left.helper_merges = merges;
  }

  /// The edge next to `v` on its left.
  Left& left_of(Index v) {
    const Vec2 p = points_[v];
    Left* nearest = nullptr;
    double nearest_x = -std::numeric_limits<double>::infinity();
    for (Left& l : lefts_) {
      const Vec2 a = points_[l.upper], b = points_[next_[l.upper]];
      if (corner(a, b, p) <= 0) continue;  // p does not lie to the left of the way down, where the figure is
      const double x = a.y == b.y ? std::min(b.x, p.x) : a.x + (b.x - a.x) * ((a.y - p.y) / (a.y - b.y));
      if (x > nearest_x) {
        nearest_x = x;
        nearest = &l;
      }
    }
    require(nearest != nullptr, "triangulate: loops cross or run the wrong way");
    return *nearest;
  }

  const std::vector<Vec2>& points_;
  const std::vector<Index>& next_;
  const std::vector<Index>& prev_;
  std::vector<Left> lefts_;
  std::vector<Diagonal> diagonals_;
};

/// The pieces between outline and diagonals, each as a loop.
std::vector<Loop> pieces(const std::vector<Vec2>& points, const std::vector<Index>& order,
                         const std::vector<Index>& next, const std::vector<Index>& prev,
                         const std::vector<Diagonal>& diagonals) {
  // Ways out of each point, counter-clockwise from the outline's own: outline, diagonals, (back along the outline).
  std::vector<std::vector<Index>> ways(points.size());
  for (const Index v : order) ways[v].push_back(next[v]);
  for (const Diagonal& d : diagonals) {
    ways[d.a].push_back(d.b);
    ways[d.b].push_back(d.a);
  }
  for (const Index v : order) {
    if (ways[v].size() <= 2) continue;
    const Vec2 base = points[next[v]] - points[v];
    const auto half = [&](Vec2 w) { return plane::cross(base, w) > 0 ? 0 : 1; };
    std::sort(ways[v].begin() + 1, ways[v].end(), [&](Index a, Index b) {
      const Vec2 p = points[a] - points[v], q = points[b] - points[v];
      return half(p) != half(q) ? half(p) < half(q) : plane::cross(p, q) > 0;
    });
  }
  std::vector<std::vector<char>> gone(points.size());
  for (const Index v : order) gone[v].assign(ways[v].size(), 0);
  std::vector<Loop> loops;
  for (const Index start : order) {
    for (std::size_t first = 0; first < ways[start].size(); ++first) {
      if (gone[start][first]) continue;
      Loop loop;
      Index v = start;
      std::size_t way = first;
      while (!gone[v][way]) {
        gone[v][way] = 1;
        loop.push_back(v);
        const Index w = ways[v][way];
        // Leave w by the way next (clockwise) to the one back to v.
        std::size_t back = ways[w].size();
        if (prev[w] != v) {
          back = static_cast<std::size_t>(std::find(ways[w].begin() + 1, ways[w].end(), v) - ways[w].begin());
        }
        require(back > 0 && (back < ways[w].size() || prev[w] == v), "triangulate: a diagonal was lost");
        way = back - 1;
        v = w;
      }
      loops.push_back(std::move(loop));
    }
  }
  return loops;
}

void cut_monotone(const std::vector<Vec2>& points, const Loop& loop, std::vector<Triangle>& out) {
  const auto size = loop.size();
  if (size == 3) return out.push_back({loop[0], loop[1], loop[2]});
  const auto higher = [&](Index a, Index b) { return is_above(points[a], points[b]); };
  const auto top = static_cast<std::size_t>(std::min_element(loop.begin(), loop.end(), higher) - loop.begin());
  // Merge both chains from the top down; the left one runs with the loop.
  struct Step {
    Index v;
    bool left;
  };
  std::vector<Step> steps = {{loop[top], true}};
  std::size_t l = (top + 1) % size, r = (top + size - 1) % size;
  while (steps.size() < size) {
    const bool left = higher(loop[l], loop[r]) || l == r;
    steps.push_back({loop[left ? l : r], left});
    if (left) {
      l = (l + 1) % size;
    } else {
      r = (r + size - 1) % size;
    }
  }
  const auto emit = [&](Index a, Index b, Index c) { out.push_back({a, b, c}); };
  std::vector<Step> stack = {steps[0], steps[1]};
  for (std::size_t i = 2; i < size; ++i) {
    const Step s = steps[i];
    if (s.left != stack.back().left || i + 1 == size) {
      const bool stack_left = stack.back().left;
      for (std::size_t k = 0; k + 1 < stack.size(); ++k) {
        if (stack_left) {
          emit(stack[k].v, stack[k + 1].v, s.v);
        } else {
          emit(stack[k + 1].v, stack[k].v, s.v);
        }
      }
      stack = {stack.back(), s};
    } else {
      while (stack.size() > 1) {
        const Index a = stack[stack.size() - 2].v, b = stack.back().v;
        if (s.left ? !turns_left(points[a], points[b], points[s.v]) : !turns_left(points[s.v], points[b], points[a]))
          break;
        if (s.left) {
          emit(a, b, s.v);
        } else {
          emit(s.v, b, a);
        }
        stack.pop_back();
      }
      stack.push_back(s);
    }
  }
}

// ---- towards Delaunay ----

class Flips {
 public:
  Flips(const std::vector<Vec2>& points, std::vector<Triangle>& triangles) : points_(points), triangles_(triangles) {}

  void run() {
    link();
    std::vector<Index> waiting(3 * triangles_.size());
    for (Index i = 0; i < waiting.size(); ++i) waiting[i] = i;
    // Each flip widens the least angle, so this ends; the bound only guards against rounding.
    for (std::size_t left = 50 * waiting.size(); !waiting.empty() && left > 0; --left) {
      const Index side = waiting.back();
      waiting.pop_back();
      if (across_[side] == kNone || !gains(side)) continue;
      for (const Index outer : flip(side)) waiting.push_back(outer);
    }
  }

 private:
  // Side 3 t + k of triangle t lies opposite its corner k and runs from corner k + 1 to corner k + 2.
  [[nodiscard]] Index at(Index side, Index ahead) const { return triangles_[side / 3][(side % 3 + ahead) % 3]; }
  [[nodiscard]] static Index around(Index side, Index ahead) { return side / 3 * 3 + (side % 3 + ahead) % 3; }

  void link() {
    struct Side {
      Index low, high, side;
    };
    std::vector<Side> sides;
    sides.reserve(3 * triangles_.size());
    for (Index s = 0; s < 3 * triangles_.size(); ++s) {
      const Index a = at(s, 1), b = at(s, 2);
      sides.push_back({std::min(a, b), std::max(a, b), s});
    }
    std::sort(sides.begin(), sides.end(), [](const Side& a, const Side& b) {
      return a.low != b.low ? a.low < b.low : a.high != b.high ? a.high < b.high : a.side < b.side;
    });
    across_.assign(3 * triangles_.size(), kNone);
    for (std::size_t i = 0; i + 1 < sides.size(); ++i) {
      if (sides[i].low != sides[i + 1].low || sides[i].high != sides[i + 1].high) continue;
      across_[sides[i].side] = sides[i + 1].side;
      across_[sides[i + 1].side] = sides[i].side;
    }
  }

  /// The two corners opposite the side add up to more than half a turn, and the other diagonal lies inside.
  [[nodiscard]] bool gains(Index side) const {
    const Vec2 p = points_[at(side, 0)], a = points_[at(side, 1)], b = points_[at(side, 2)];
    const Vec2 q = points_[at(across_[side], 0)];
    if (!turns_left(p, a, q) || !turns_left(q, b, p)) return false;
    const double sin_p = plane::cross(a - p, b - p), cos_p = plane::dot(a - p, b - p);
    const double sin_q = plane::cross(b - q, a - q), cos_q = plane::dot(b - q, a - q);
    const double scale = std::sqrt((sin_p * sin_p + cos_p * cos_p) * (sin_q * sin_q + cos_q * cos_q));
    return sin_p * cos_q + cos_p * sin_q < -kFlipGain * scale;
  }

  std::array<Index, 4> flip(Index side) {
    const Index twin = across_[side];
    const Index p = at(side, 0), a = at(side, 1), b = at(side, 2), q = at(twin, 0);
    const Index across_bp = across_[around(side, 1)], across_pa = across_[around(side, 2)];
    const Index across_aq = across_[around(twin, 1)], across_qb = across_[around(twin, 2)];
    const Index t = side / 3, u = twin / 3;
    triangles_[t] = {p, a, q};
    triangles_[u] = {q, b, p};
    join(3 * t, across_aq);
    join(3 * t + 2, across_pa);
    join(3 * u, across_bp);
    join(3 * u + 2, across_qb);
    join(3 * t + 1, 3 * u + 1);
    return {3 * t, 3 * t + 2, 3 * u, 3 * u + 2};
  }

  void join(Index a, Index b) {
    across_[a] = b;
    if (b != kNone) across_[b] = a;
  }

  const std::vector<Vec2>& points_;
  std::vector<Triangle>& triangles_;
  std::vector<Index> across_;
};

}  // namespace

std::vector<Triangle> triangulate(const std::vector<Vec2>& points, const std::vector<Loop>& loops) {
  std::vector<Index> next(points.size(), kNone), prev(points.size(), kNone), order;
  for (const Loop& loop : loops) {
    require(loop.size() >= 3, "triangulate: a loop has three points at least");
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Index v = loop[i], w = loop[(i + 1) % loop.size()];
      require(next[v] == kNone, "triangulate: loops touch");
      next[v] = w;
      prev[w] = v;
      order.push_back(v);
    }
  }
  std::sort(order.begin(), order.end(), [&](Index a, Index b) { return is_above(points[a], points[b]); });
  const std::vector<Diagonal> diagonals = Sweep(points, next, prev).diagonals(order);
  std::vector<Triangle> triangles;
  triangles.reserve(order.size() + 2 * loops.size());
  for (const Loop& piece : pieces(points, order, next, prev, diagonals)) cut_monotone(points, piece, triangles);
  Flips(points, triangles).run();
  return triangles;
}

}  // namespace groovewright::mesh
