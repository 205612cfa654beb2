// swept_points.h: a second, plain witness of what a lathe program does, for tests: metal as single points, each asked
// of every move whether the tool passes over it. Shares nothing with room `removal` but the tools' outlines.
#pragma once

#include <algorithm>
#include <cmath>
#include <map>
#include <vector>

#include "groovewright/removal.h"

namespace groovewright::swept_points {

using plane::Vec2;

/// A convex outline as half planes: inside where dot(normal, p) <= reach.
struct Convex {
  struct Side {
    Vec2 normal;
    double reach;
  };
  std::vector<Side> sides;
  Vec2 low{1e9, 1e9}, high{-1e9, -1e9};
};
/// `less`: shrunk by this all round. Arcs stand for chords within 0.0005 mm.
inline Convex convex(const plane::Path& ccw, double less) {
  Convex out;
  const std::vector<Vec2> corners = plane::polyline(ccw, 0.0005);
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Vec2 a = corners[i], way = corners[(i + 1) % corners.size()] - a;
    const double length = plane::norm(way);
    if (length < 1e-9) continue;
    const Vec2 normal{way.y / length, -way.x / length};
    out.sides.push_back({normal, plane::dot(normal, a) - less});
    out.low = {std::min(out.low.x, a.x), std::min(out.low.y, a.y)};
    out.high = {std::max(out.high.x, a.x), std::max(out.high.y, a.y)};
  }
  return out;
}

/// Does the outline, led straight from a to b, pass over p? (Cyrus and Beck: the segment p - a … p - b meets it.)
inline bool passes(const Convex& c, Vec2 a, Vec2 b, Vec2 p) {
  const Vec2 from = p - a, way = a - b;
  double first = 0, last = 1;
  for (const Convex::Side& s : c.sides) {
    const double off = plane::dot(s.normal, from) - s.reach, rate = plane::dot(s.normal, way);
    if (std::abs(rate) < 1e-12) {
      if (off > 0) return false;
    } else if (rate > 0) {
      last = std::min(last, -off / rate);
    } else {
      first = std::max(first, -off / rate);
    }
    if (first > last) return false;
  }
  return true;
}

struct Point {
  Vec2 at;
  bool is_part = false;       ///< of the finished part: no tool may cut it
  bool is_left_over = false;  ///< beside the finished part, to be cut
  std::size_t id = 0;
};
/// What one program does to the points of its clamping.
struct Deeds {
  bool rapid_in_metal = false, holder_in_metal = false, part_cut = false;
  std::vector<bool> stands;  ///< by id
  int line = 0;              ///< of the first that does harm
  [[nodiscard]] bool harm() const { return rapid_in_metal || holder_in_metal || part_cut; }
};

class Witness {
 public:
  /// `margin`: how deep a tool must pass over a point at rapid, or a holder at all, to count. mm
  Witness(const std::vector<removal::LatheTool>& tools, const std::vector<Point>& points, double margin) {
    first_ = 1e9;
    for (const Point& p : points) first_ = std::min(first_, p.at.x), ++count_;
    for (const Point& p : points) {
      const std::size_t k = strip_of(p.at.x);
      if (k >= strips_.size()) strips_.resize(k + 1);
      strips_[k].push_back(p);
    }
    for (auto& strip : strips_)
      std::sort(strip.begin(), strip.end(), [](const Point& a, const Point& b) { return a.at.y < b.at.y; });
    for (const removal::LatheTool& t : tools) {
      Tool& tool = tools_[t.number];
      for (const plane::Path& path : t.cutting) {
        tool.cutting.push_back(convex(path, 0));
        tool.deep.push_back(convex(path, margin));
      }
      for (const plane::Path& path : t.holder) tool.holder.push_back(convex(path, margin));
    }
  }

  [[nodiscard]] Deeds deeds(const nc::Trace& trace) const {
    Deeds d;
    d.stands.assign(count_, true);
    for (const nc::Move& m : trace.moves) {
      const auto tool = tools_.find(m.tool);
      if (tool == tools_.end() || m.kind == nc::Move::Kind::dwell) continue;
      const bool rapid = m.kind == nc::Move::Kind::rapid;
      const std::vector<Vec2> way = way_of(m);
      for (std::size_t i = 0; i + 1 < way.size(); ++i) cut(tool->second, way[i], way[i + 1], rapid, d);
      for (std::size_t i = 0; i + 1 < way.size(); ++i)
        for (const Convex& c : tool->second.holder)
          each_under(c, way[i], way[i + 1], d, [&](const Point&) { d.holder_in_metal = true; });
      if (d.line == 0 && d.harm()) d.line = m.line;
    }
    return d;
  }

 private:
  struct Tool {
    std::vector<Convex> cutting, deep, holder;
  };

  /// Points of the move's way; arcs as chords within 0.0005 mm.
  static std::vector<Vec2> way_of(const nc::Move& m) {
    const Vec2 a{m.from.z, m.from.x}, b{m.to.z, m.to.x};
    if (m.kind != nc::Move::Kind::cw && m.kind != nc::Move::Kind::ccw) return {a, b};
    const Vec2 c{m.centre.z, m.centre.x};
    const bool ccw = m.kind == nc::Move::Kind::ccw;
    const double start = std::atan2(a.y - c.y, a.x - c.x), r = plane::norm(a - c);
    double turn = std::atan2(b.y - c.y, b.x - c.x) - start;
    constexpr double kWhole = 6.283185307179586;
    while (ccw && turn <= 1e-9) turn += kWhole;
    while (!ccw && turn >= -1e-9) turn -= kWhole;
    const double piece = 2 * std::acos(1 - std::min(1.0, 0.0005 / std::max(r, 0.001)));
    const int n = std::max(1, static_cast<int>(std::ceil(std::abs(turn) / piece)));
    std::vector<Vec2> way{a};
    for (int i = 1; i < n; ++i)
      way.push_back(c + r * Vec2{std::cos(start + turn * i / n), std::sin(start + turn * i / n)});
    way.push_back(b);
    return way;
  }

  /// Those that stand under the tool's way; beyond the axis it meets the metal on the other side.
  template <class Act>
  void each_under(const Convex& c, Vec2 a, Vec2 b, const Deeds& d, const Act& act) const {
    const double low = std::min(a.x, b.x) + c.low.x, high = std::max(a.x, b.x) + c.high.x;
    const double under = std::min(a.y, b.y) + c.low.y, over = std::max(a.y, b.y) + c.high.y;
    if (high < first_) return;
    const std::size_t last = std::min(strip_of(high) + 1, strips_.size());
    for (std::size_t k = low < first_ ? 0 : strip_of(low); k < last; ++k) {
      const auto& strip = strips_[k];
      auto i = std::lower_bound(strip.begin(), strip.end(), under < 0 ? 0 : under,
                                [](const Point& p, double y) { return p.at.y < y; });
      for (; i != strip.end() && i->at.y <= std::max(over, -under); ++i) {
        if (!d.stands[i->id] || i->at.x < low || i->at.x > high) continue;
        if (passes(c, a, b, i->at) || (under < 0 && passes(c, a, b, {i->at.x, -i->at.y}))) act(*i);
      }
    }
  }
  [[nodiscard]] std::size_t strip_of(double x) const { return static_cast<std::size_t>((x - first_) / kStrip); }

  void cut(const Tool& tool, Vec2 a, Vec2 b, bool rapid, Deeds& d) const {
    if (rapid)
      for (const Convex& c : tool.deep) each_under(c, a, b, d, [&](const Point&) { d.rapid_in_metal = true; });
    for (const Convex& c : tool.cutting)
      each_under(c, a, b, d, [&](const Point& p) {
        d.stands[p.id] = false;
        d.part_cut = d.part_cut || p.is_part;
      });
  }

  static constexpr double kStrip = 0.25;  // mm along the axis, sorted by radius
  std::vector<std::vector<Point>> strips_;
  double first_ = 0;
  std::size_t count_ = 0;
  std::map<int, Tool> tools_;
};

/// Points in the part's half plane: a grid through the stock, and pairs beside the finished
/// outline, `beside` mm inside and outside of it.
inline std::vector<Point> points(const plane::Path& stock, const plane::Path& wanted, double grid, double apart,
                                 double beside) {
  std::vector<Point> out;
  double x0 = 1e9, x1 = -1e9, y1 = 0;
  for (const plane::Edge& e : stock) x0 = std::min(x0, e.a.x), x1 = std::max(x1, e.a.x), y1 = std::max(y1, e.a.y);
  for (double x = x0 + grid / 2; x < x1; x += grid)
    for (double y = grid / 2; y < y1; y += grid)
      if (plane::contains(stock, {x, y})) out.push_back({{x, y}, false, false, out.size()});
  for (const plane::Edge& e : wanted) {
    const int n = std::max(1, static_cast<int>(std::ceil(e.length() / apart)));
    for (int i = 0; i < n; ++i) {
      const double t = (i + 0.5) / n;
      const Vec2 way = e.tangent_at(t), in{-way.y, way.x}, at = e.at(t);
      const Vec2 inside = at + beside * in, outside = at - beside * in;
      if (plane::contains(stock, inside) && plane::contains(wanted, inside))
        out.push_back({inside, true, false, out.size()});
      if (plane::contains(stock, outside) && !plane::contains(wanted, outside))
        out.push_back({outside, false, true, out.size()});
    }
  }
  return out;
}

/// The same points as a clamping sees them.
inline std::vector<Point> seen(std::vector<Point> of_part, bool turned, double shift) {
  for (Point& p : of_part) p.at.x = (turned ? -p.at.x : p.at.x) + shift;
  return of_part;
}

}  // namespace groovewright::swept_points
