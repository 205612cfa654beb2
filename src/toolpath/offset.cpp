#include "offset.h"

#include <array>
#include <cmath>
#include <numbers>
#include <optional>

#include "groovewright/base/trig.h"

namespace groovewright::toolpath {
namespace {

using plane::cross;
using plane::dot;
using plane::Edge;
using plane::Vec2;

constexpr double kSmooth = 1e-6;  // rad: neighbours that turn less are tangent
constexpr double kOnEdge = 1e-7;  // mm beyond an edge's end that still count as on it

Vec2 right_of(Vec2 direction) { return {direction.y, -direction.x}; }

/// nullopt where the rounding is too small for the circle.
std::optional<Edge> beside(const Edge& e, double by) {
  if (!e.is_arc()) {
    const Vec2 shift = by * right_of(e.tangent_at(0));
    return plane::straight(e.a + shift, e.b + shift);
  }
  const double radius = e.turn == Edge::Turn::ccw ? e.radius() + by : e.radius() - by;
  if (radius <= plane::kCoincident) return std::nullopt;
  const double scale = radius / e.radius();
  return Edge{e.centre + scale * (e.a - e.centre), e.centre + scale * (e.b - e.centre), e.turn, e.centre};
}

/// Points where the unbounded lines or circles of both edges meet.
std::vector<Vec2> line_meets_line(const Edge& a, const Edge& b) {
  const Vec2 u = a.b - a.a, v = b.b - b.a;
  const double d = cross(u, v);
  if (std::abs(d) < 1e-12 * plane::norm(u) * plane::norm(v)) return {};
  return {a.a + (cross(b.a - a.a, v) / d) * u};
}

std::vector<Vec2> line_meets_circle(const Edge& line, const Edge& arc) {
  const Vec2 u = plane::unit(line.b - line.a);
  const double along = dot(arc.centre - line.a, u);
  const Vec2 foot = line.a + along * u;
  const double r = arc.radius(), off = plane::norm(arc.centre - foot);
  if (off > r + kOnEdge) return {};
  const double half = std::sqrt(std::max(0.0, r * r - off * off));
  return {foot - half * u, foot + half * u};
}

std::vector<Vec2> circle_meets_circle(const Edge& a, const Edge& b) {
  const Vec2 between = b.centre - a.centre;
  const double d = plane::norm(between), ra = a.radius(), rb = b.radius();
  if (d < plane::kCoincident || d > ra + rb + kOnEdge || d < std::abs(ra - rb) - kOnEdge) return {};
  const double along = (d * d + ra * ra - rb * rb) / (2 * d);
  const double half = std::sqrt(std::max(0.0, ra * ra - along * along));
  const Vec2 u = plane::unit(between), foot = a.centre + along * u;
  return {foot + half * right_of(u), foot - half * right_of(u)};
}

std::vector<Vec2> meets(const Edge& a, const Edge& b) {
  if (!a.is_arc() && !b.is_arc()) return line_meets_line(a, b);
  if (!a.is_arc()) return line_meets_circle(a, b);
  if (!b.is_arc()) return line_meets_circle(b, a);
  return circle_meets_circle(a, b);
}

/// How far along the edge the point lies, 0 … 1, a little beyond at both ends; nullopt elsewhere.
std::optional<double> place_on(const Edge& e, Vec2 p) {
  const double length = e.length();
  double along = 0;
  if (e.is_arc()) {
    const Vec2 from = e.a - e.centre, to = p - e.centre;
    double angle = atan2_of(cross(from, to), dot(from, to));
    if (e.turn == Edge::Turn::cw) angle = -angle;
    if (angle * e.radius() < -kOnEdge) angle += 2 * std::numbers::pi;
    along = angle * e.radius();
  } else {
    along = dot(p - e.a, plane::unit(e.b - e.a));
  }
  if (along < -kOnEdge || along > length + kOnEdge) return std::nullopt;
  return along / length;
}

/// The first point of `next` that lies on `last`.
std::optional<Vec2> first_meeting(const Edge& last, const Edge& next) {
  std::optional<Vec2> best;
  double least = 2;
  for (const Vec2& p : meets(last, next)) {
    const auto on_last = place_on(last, p), on_next = place_on(next, p);
    if (on_last && on_next && *on_next < least) best = p, least = *on_next;
  }
  return best;
}

bool is_degenerate(const Edge& e) { return plane::norm(e.b - e.a) <= plane::kCoincident; }

void join(std::vector<Trail>& way, Trail next, Vec2 corner, double turn) {
  if (way.empty()) {
    way.push_back(next);
    return;
  }
  if (plane::norm(next.edge.a - way.back().edge.b) <= plane::kCoincident || std::abs(turn) < kSmooth) {
    next.edge.a = way.back().edge.b;
    way.push_back(next);
    return;
  }
  if (turn > 0) {
    way.push_back({{way.back().edge.b, next.edge.a, Edge::Turn::ccw, corner}, -1});
    way.push_back(next);
    return;
  }
  // What the circle can't reach on either side of an inner corner falls away.
  for (std::size_t keep = way.size(); keep > 0; --keep) {
    const auto p = first_meeting(way[keep - 1].edge, next.edge);
    if (!p) continue;
    way.resize(keep);
    way.back().edge.b = *p;
    next.edge.a = *p;
    if (is_degenerate(way.back().edge)) way.pop_back();
    if (!is_degenerate(next.edge)) way.push_back(next);
    return;
  }
  way.push_back(next);  // they don't meet: a gap, beyond which the way begins anew
}

double turn_between(const Edge& a, const Edge& b) {
  const Vec2 u = a.tangent_at(1), v = b.tangent_at(0);
  return atan2_of(cross(u, v), dot(u, v));
}

}  // namespace

std::vector<Trail> offset(const plane::Path& chain, double by) {
  std::vector<Trail> way;
  const Edge* last = nullptr;
  bool vanished = false;
  for (std::size_t i = 0; i < chain.size(); ++i) {
    const auto edge = beside(chain[i], by);
    if (!edge) {
      vanished = true;
      continue;
    }
    // Round a rounding that vanished the neighbours meet as round an inner corner.
    const double turn = last == nullptr ? 0 : vanished ? -1 : turn_between(*last, chain[i]);
    join(way, {*edge, static_cast<int>(i)}, chain[i].a, turn);
    last = &chain[i];
    vanished = false;
  }
  return way;
}

}  // namespace groovewright::toolpath
