#include "groovewright/plane/callouts.h"

#include <algorithm>
#include <array>
#include <limits>
#include <numbers>

#include "groovewright/plane/meets.h"

namespace groovewright::plane {
namespace {

constexpr double kBefore = 0.8;  // between a leader and its words
/// How far from the anchor the words may begin, and in how many directions.
constexpr std::array kReach{3.0, 5.0, 8.0, 11.0, 15.0, 20.0, 26.0, 33.0, 42.0, 54.0, 70.0, 90.0, 115.0, 150.0};
constexpr int kDirections = 24;
/// A leader over an outline reads worse than a longer one.
constexpr double kOverOutline = 6, kOverLine = 2;
constexpr double kDot = 0.5;
/// A leader with an arrow or a dot is longer than that.
constexpr double kLeastWithTip = 5;

std::array<Vec2, 4> corners(const Box& b) { return {b.low, {b.high.x, b.low.y}, b.high, {b.low.x, b.high.y}}; }

bool apart(const Box& a, Vec2 low, Vec2 high) {
  return a.high.x < low.x || high.x < a.low.x || a.high.y < low.y || high.y < a.low.y;
}

Vec2 least(Vec2 a, Vec2 b) { return {std::min(a.x, b.x), std::min(a.y, b.y)}; }
Vec2 most(Vec2 a, Vec2 b) { return {std::max(a.x, b.x), std::max(a.y, b.y)}; }

}  // namespace

Callouts::Callouts(View& view, const Scribe& scribe, const Box& area) : view_(view), scribe_(scribe), area_(area) {
  for (const Inked& l : view.lines) see(l);
  for (const Words& w : view.words) see(w);
}

void Callouts::see(const Inked& inked) {
  for (const auto& [a, b] : segments(inked.path)) strokes_.push_back({a, b, least(a, b), most(a, b), inked.ink});
}

void Callouts::see(const Words& words) {
  if (!words.text.empty()) words_.push_back(shrunk(box(scribe_.typeface(), words), -kClear));
}

void Callouts::set(const Piece& piece, Vec2 at) {
  const std::size_t lines = view_.lines.size(), words = view_.words.size();
  put(view_, piece, at);
  for (std::size_t i = lines; i < view_.lines.size(); ++i) see(view_.lines[i]);
  for (std::size_t i = words; i < view_.words.size(); ++i) see(view_.words[i]);
}

Box Callouts::taken(const Piece& piece, Vec2 at) const {
  return {{at.x - kClear, at.y - piece.below - kClear}, {at.x + piece.width + kClear, at.y + piece.above + kClear}};
}

bool Callouts::has_room(const Box& b) const {
  if (b.low.x < area_.low.x || b.low.y < area_.low.y || b.high.x > area_.high.x || b.high.y > area_.high.y)
    return false;
  const auto quad = corners(b);
  return std::none_of(words_.begin(), words_.end(), [&](const auto& w) { return overlap(w, quad); }) &&
         std::none_of(strokes_.begin(), strokes_.end(),
                      [&](const Stroke& s) { return !apart(b, s.low, s.high) && enters(s.a, s.b, quad); });
}

bool Callouts::may_lead(const Place& p) const {
  if (std::any_of(words_.begin(), words_.end(), [&](const auto& w) { return enters(p.tip, p.knee, w); })) return false;
  return std::none_of(strokes_.begin(), strokes_.end(),
                      [&](const Stroke& s) { return s.ink == Ink::leader && segments_cross(p.tip, p.knee, s.a, s.b); });
}

double Callouts::lines_crossed(const Place& p) const {
  const Box reach{least(p.tip, p.knee), most(p.tip, p.knee)};
  double cost = 0;
  for (const Stroke& s : strokes_) {
    if (apart(reach, s.low, s.high) || !segments_cross(p.tip, p.knee, s.a, s.b)) continue;
    cost += s.ink == Ink::visible ? kOverOutline : kOverLine;
  }
  return cost;
}

bool Callouts::inside(const Piece& piece, const std::vector<Vec2>& middles) {
  for (const Vec2 m : middles) {
    const Vec2 at = m - Vec2{piece.width / 2, (piece.above - piece.below) / 2};
    if (!has_room(taken(piece, at))) continue;
    set(piece, at);
    return true;
  }
  return false;
}

bool Callouts::beside(const Piece& piece, const std::vector<Vec2>& anchors, Tip tip) {
  Place best;
  double cost = std::numeric_limits<double>::infinity();
  for (const double reach : kReach) {
    if (reach >= cost) break;
    if (tip != Tip::none && reach < kLeastWithTip) continue;
    for (int k = 0; k < kDirections; ++k) {
      // No direction is level or upright: such leaders hide among edges and centre lines.
      const Vec2 way = polar(reach, (k + 0.5) * 2 * std::numbers::pi / kDirections);
      for (const Vec2 anchor : anchors) {
        Place p{anchor, anchor + way, {}};
        p.at = p.knee + Vec2{way.x > 0 ? kBefore : -kBefore - piece.width, -kMiddle};
        if (!has_room(taken(piece, p.at)) || !may_lead(p)) continue;
        const double c = reach + lines_crossed(p);
        if (c < cost - 1e-9) best = p, cost = c;
      }
    }
  }
  if (cost == std::numeric_limits<double>::infinity()) return false;
  const std::size_t before = view_.lines.size();
  view_.lines.push_back({Ink::leader, {straight(best.tip, best.knee)}});
  if (tip == Tip::arrow) arrow(view_, best.tip, unit(best.tip - best.knee), Ink::leader);
  if (tip == Tip::dot) view_.lines.push_back({Ink::leader, circle(best.tip, kDot), true});
  for (std::size_t i = before; i < view_.lines.size(); ++i) see(view_.lines[i]);
  set(piece, best.at);
  return true;
}

}  // namespace groovewright::plane
