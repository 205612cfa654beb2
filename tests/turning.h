// turning.h: programs for room `removal`, made by hand: moves as a trace has them, tools, and a grooved ring with the
// passes that cut it. Half plane: z, radius.
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "groovewright/removal.h"

namespace groovewright::turning {

using plane::Path;
using plane::Vec2;

inline Path polygon(const std::vector<Vec2>& corners) {
  Path out;
  for (std::size_t i = 0; i < corners.size(); ++i)
    out.push_back(plane::straight(corners[i], corners[(i + 1) % corners.size()]));
  return out;
}
/// z from, to; radius from, to.
inline Path box(double z0, double z1, double r0, double r1) {
  return polygon({{z0, r0}, {z1, r0}, {z1, r1}, {z0, r1}});
}

/// A trace, move by move.
class Moves {
 public:
  explicit Moves(int tool = 1) { state_.tool = tool, state_.spindle = {true, nc::Turn::cw, 1000, 0, 0}; }
  Moves& tool(int number) { return state_.tool = number, *this; }
  Moves& spindle(const nc::Spindle& s) { return state_.spindle = s, *this; }
  Moves& rapid(double z, double r) { return add(nc::Move::Kind::rapid, {z, r}, {}); }
  Moves& feed(double z, double r) { return add(nc::Move::Kind::feed, {z, r}, {}); }
  Moves& arc(nc::Turn turn, Vec2 to, Vec2 centre) {
    return add(turn == nc::Turn::ccw ? nc::Move::Kind::ccw : nc::Move::Kind::cw, to, centre);
  }
  Moves& along(const plane::Edge& e) {
    if (!e.is_arc()) return feed(e.b.x, e.b.y);
    return arc(e.turn == plane::Edge::Turn::ccw ? nc::Turn::ccw : nc::Turn::cw, e.b, e.centre);
  }
  /// The line that the next move gets; each counts on.
  [[nodiscard]] int next_line() const { return line_; }
  [[nodiscard]] const nc::Trace& trace() const { return trace_; }
  operator nc::Trace() const { return trace_; }  // NOLINT(google-explicit-constructor)

 private:
  Moves& add(nc::Move::Kind kind, Vec2 to, Vec2 centre) {
    nc::Move m = state_;
    m.kind = kind, m.line = line_++, m.from = at_, m.feed = 0.1, m.feed_per_turn = true;
    m.to = at_ = {to.y, 0, to.x};
    m.centre = {centre.y, 0, centre.x};
    trace_.moves.push_back(m);
    return *this;
  }
  nc::Trace trace_;
  nc::Move state_;
  nc::Point at_{500, 0, 500};
  int line_ = 1;
};

/// A round nose about its centre and an insert above it, `lean` from radial to both sides; the steered point at `at`
/// from the nose's centre.
inline Path nosed(double nose, double lean, double height, Vec2 at = {}) {
  const double c = std::cos(lean), s = std::sin(lean);
  const Vec2 left{-nose * c, -nose * s}, right{nose * c, -nose * s}, up{height * s / c, height};
  Path out{{left, right, plane::Edge::Turn::ccw, {0, 0}}};
  const Vec2 right_top = right + up, left_top{-right_top.x, right_top.y};
  out.push_back(plane::straight(right, right_top));
  out.push_back(plane::straight(right_top, left_top));
  out.push_back(plane::straight(left_top, left));
  for (plane::Edge& e : out) e.a = e.a - at, e.b = e.b - at, e.centre = e.centre - at;
  return out;
}
/// A grooving insert with square corners: its middle below stands in the steered point.
inline Path blade(double width, double height) {
  return polygon({{-width / 2, 0}, {width / 2, 0}, {width / 2, height}, {-width / 2, height}});
}

/// A ring with V grooves of 40 degrees: crests and roots rounded. Invented sizes.
struct Grooved {
  int grooves = 8;
  double outside = 50, inside = 40, pitch = 3.56, half_width = 1.4, crest = 0.3, root = 0.4, edge = 4;
  static constexpr double kHalfAngle = std::numbers::pi / 9;

  [[nodiscard]] double width() const { return 2 * edge + (grooves - 1) * pitch; }
  [[nodiscard]] double middle(int i) const { return -(edge + i * pitch); }  ///< of groove i, from the front
  /// The outline `off` the metal, exact; groove i's apex is corner 3 + 3 i + 1.
  [[nodiscard]] std::vector<plane::BrokenEdge> outline(double off = 0) const {
    std::vector<plane::Corner> corners{{{-width() - off, inside - off}}, {{off, inside - off}}, {{off, outside + off}}};
    const double half = half_width + off * std::tan(kHalfAngle) - off / std::cos(kHalfAngle);
    const double up = outside + off;
    for (int i = 0; i < grooves; ++i) {
      corners.push_back({{middle(i) + half, up}, crest + off});
      corners.push_back({{middle(i), up - half / std::tan(kHalfAngle)}, std::max(0.0, root - off)});
      corners.push_back({{middle(i) - half, up}, crest + off});
    }
    corners.push_back({{-width() - off, up}});
    return plane::broken_polygon(corners).value();
  }
  [[nodiscard]] Path wanted() const {
    Path out;
    for (const plane::BrokenEdge& e : outline()) out.push_back(e.edge);
    return out;
  }
  [[nodiscard]] Path stock() const { return box(-width(), 0, inside, outside); }
};

/// One pass of a round nose, steered by its centre, through a groove; `off`: nose radius and what is to stay.
inline void pass(Moves& m, const Grooved& g, int groove, double off) {
  const int first = 3 + 3 * groove;
  bool on = false;
  for (const plane::BrokenEdge& e : g.outline(off)) {
    const bool is_groove = e.index >= first && e.index <= first + 2 && (e.is_corner || e.index < first + 2);
    if (!is_groove) continue;
    if (!on) m.rapid(e.edge.a.x, g.outside + 2).feed(e.edge.a.x, e.edge.a.y);
    on = true;
    m.along(e.edge);
  }
  m.rapid(m.trace().moves.back().to.z, g.outside + 2);
}

/// Roughing in levels with a blade (tool 2), then passes of a round nose (tool 1): some 190 moves a groove.
inline Moves grooving(const Grooved& g, double nose, double blade_width) {
  Moves m(2);
  m.rapid(5, g.outside + 5);
  for (int i = 0; i < g.grooves; ++i)
    for (int level = 1; level <= 13; ++level) {
      const double deep = 0.2 * level;
      const double room = g.half_width - deep * std::tan(Grooved::kHalfAngle) - 0.1 - blade_width / 2;
      if (room < 0) break;
      for (const double z : {-room, 0.0, room})
        m.rapid(g.middle(i) + z, g.outside + 0.5)
            .feed(g.middle(i) + z, g.outside - deep)
            .rapid(g.middle(i) + z, g.outside + 0.5);
    }
  m.tool(1).rapid(5, g.outside + 5);
  for (int i = 0; i < g.grooves; ++i)
    for (int k = 14; k >= 0; --k) pass(m, g, i, nose + 0.03 * k);
  m.rapid(5, g.outside + 5);
  return m;
}

}  // namespace groovewright::turning
