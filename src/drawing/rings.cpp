#include "rings.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "groovewright/base/trig.h"

namespace groovewright::drawing {
namespace {

using plane::Edge;
using plane::kCoincident;
using plane::Vec2;

constexpr double kTurn = 2 * std::numbers::pi;

}  // namespace

std::vector<Vec2> edges_of(const plane::Path& outline) {
  std::vector<Vec2> found;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Edge &e = outline[i], &before = outline[(i + outline.size() - 1) % outline.size()];
    if (std::abs(cross(before.tangent_at(1), e.tangent_at(0))) > kSmooth) found.push_back(e.a);
    const std::vector<Edge> pieces = monotone(e, &Vec2::y);
    for (std::size_t k = 1; k < pieces.size(); ++k) found.push_back(pieces[k].a);
  }
  return found;
}

std::vector<Span> within(const plane::Slot& slot, double radius) {
  const double half = slot.width / 2;
  if (radius <= half || (!slot.inward && radius <= slot.floor)) return {};
  const double side = asin_of(half / radius);
  if (!slot.inward || radius <= slot.floor) return {{slot.angle - side, slot.angle + side}};
  const double floor = acos_of(slot.floor / radius);  // the circle leaves the floor and comes back at its corners
  if (floor >= side) return {};
  return {{slot.angle - side, slot.angle - floor}, {slot.angle + floor, slot.angle + side}};
}

std::vector<Span> turn_without(const std::vector<Span>& gaps) {
  std::vector<Span> in_turn;
  for (const Span& g : gaps) {
    const double from = g.from - kTurn * std::floor(g.from / kTurn), to = from + (g.to - g.from);
    in_turn.push_back({from, std::min(to, kTurn)});
    if (to > kTurn) in_turn.push_back({0, to - kTurn});
  }
  std::vector<Span> left = without({{0, kTurn}}, in_turn);
  if (left.size() > 1 && left.front().from == 0 && left.back().to == kTurn) {
    left.front().from = left.back().from - kTurn;
    left.pop_back();
  }
  return left;
}

plane::Path arc(double radius, const Span& angles) {
  if (angles.to - angles.from >= kTurn - kCoincident) return plane::circle({}, radius);
  const auto at = [&](double a) { return radius * Vec2{cos_of(a), sin_of(a)}; };
  return {{at(angles.from), at(angles.to), Edge::Turn::ccw, {}}};
}

}  // namespace groovewright::drawing
