#include "pieces.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>

#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"

namespace groovewright::drawing {
namespace {

using plane::Edge;
using plane::Ink;
using plane::Inked;
using plane::Path;
using plane::straight;
using plane::Vec2;
using plane::View;
using plane::Words;

constexpr double kFrameHeight = 2 * kLetters;
constexpr double kChord = 0.02;
/// Shorter hatching lines are specks; along u, which is longer than the line by sqrt 2.
constexpr double kLeastHatch = 0.1;

Path run(const std::vector<Vec2>& points, bool closed = false) {
  Path path;
  for (std::size_t i = 0; i + 1 < points.size(); ++i) path.push_back(straight(points[i], points[i + 1]));
  if (closed) path.push_back(straight(points.back(), points.front()));
  return path;
}

void shift(Piece& piece, Vec2 by) {
  for (Inked& l : piece.lines) l.path = mapped(l.path, 1, false, by);
  for (Words& w : piece.words) w.at = w.at + by;
}

void take(Piece& whole, Piece part) {
  std::move(part.lines.begin(), part.lines.end(), std::back_inserter(whole.lines));
  std::move(part.words.begin(), part.words.end(), std::back_inserter(whole.words));
  whole.above = std::max(whole.above, part.above);
  whole.below = std::max(whole.below, part.below);
}

struct Growing {
  Box box{{std::numeric_limits<double>::infinity(), std::numeric_limits<double>::infinity()},
          {-std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()}};
  void see(Vec2 p) {
    box.low = {std::min(box.low.x, p.x), std::min(box.low.y, p.y)};
    box.high = {std::max(box.high.x, p.x), std::max(box.high.y, p.y)};
  }
  void see(const Edge& e) {
    see(e.a), see(e.b);
    if (!e.is_arc()) return;
    // The quadrant points that the arc passes.
    const double start = atan2_of(e.a.y - e.centre.y, e.a.x - e.centre.x), r = e.radius();
    for (int quarter = -4; quarter <= 4; ++quarter) {
      const double at = quarter * std::numbers::pi / 2, on = (at - start) / e.sweep();
      if (on > 0 && on < 1) see(e.centre + plane::polar(r, at));
    }
  }
};

}  // namespace

void line(View& view, Ink ink, Vec2 a, Vec2 b) { view.lines.push_back({ink, {straight(a, b)}}); }

void polygon(View& view, Ink ink, const std::vector<Vec2>& corners, bool filled) {
  view.lines.push_back({ink, run(corners, true), filled});
}

void draw(View& view, const std::vector<Inked>& lines, double scale, bool mirrored) {
  for (const Inked& l : lines) view.lines.push_back({l.ink, mapped(l.path, scale, mirrored), l.filled});
}

void arrow(View& view, Vec2 tip, Vec2 direction, Ink ink) {
  const Vec2 side{-direction.y, direction.x}, back = tip - kArrow * direction;
  constexpr double kHalf = 0.16 * kArrow;  // about 18° between the sides
  polygon(view, ink, {tip, back + kHalf * side, back - kHalf * side}, true);
}

Piece Scribe::text(std::string_view utf8, double height) const {
  Piece piece;
  const std::string drawn = plane::drawable(typeface_, utf8);
  piece.words = {{{0, 0}, drawn, height}};
  piece.width = plane::text_width(typeface_, drawn, height);
  piece.above = typeface_.ascent * height;
  piece.below = typeface_.descent * height;
  return piece;
}

Piece Scribe::stacked(std::string_view upper, std::string_view lower) const {
  Piece over = text(upper, kSmallLetters), under = text(lower, kSmallLetters);
  const double high = kMiddle + 0.2 + over.below, low = kMiddle - 0.2 - under.above;
  Piece whole;
  whole.width = std::max(over.width, under.width);
  shift(over, {0, high});
  shift(under, {0, low});
  over.above += high, over.below -= high;
  under.above += low, under.below -= low;
  take(whole, std::move(over));
  take(whole, std::move(under));
  return whole;
}

Piece Scribe::frame(const std::vector<Piece>& cells) const {
  Piece whole;
  whole.above = kMiddle + kFrameHeight / 2, whole.below = kFrameHeight / 2 - kMiddle;
  const double top = whole.above, bottom = -whole.below;
  for (Piece cell : cells) {
    // As wide as high at least; the content in the middle.
    const double width = std::max(kFrameHeight, cell.width + 2.4);
    shift(cell, {whole.width + (width - cell.width) / 2, 0});
    const double x = whole.width;
    take(whole, std::move(cell));
    whole.lines.push_back({Ink::symbol, run({{x, bottom}, {x + width, bottom}, {x + width, top}, {x, top}}, true)});
    whole.width += width;
  }
  whole.above = top, whole.below = -bottom;
  return whole;
}

Piece Scribe::perpendicular() const {
  Piece piece;
  piece.width = kLetters, piece.above = kLetters;
  piece.lines = {{Ink::symbol, run({{0, 0}, {kLetters, 0}})},
                 {Ink::symbol, run({{kLetters / 2, 0}, {kLetters / 2, kLetters}})}};
  return piece;
}

Piece Scribe::roughness(std::string_view parameter) const {
  // ISO 21920-1: legs at 60°, the left one to the letters' height and a half, the right one twice that; the bar between
  // says that material is removed.
  constexpr double h = 1.4 * kLetters, slope = 0.57735;
  Piece sign;
  const Vec2 foot{h * slope, -kMiddle / 2}, left{0, foot.y + h}, right{foot.x + 2.1 * h * slope, foot.y + 2.1 * h};
  Piece words = text(parameter);
  sign.width = right.x + words.width + 1.5;
  sign.lines = {{Ink::symbol, run({left, foot, right, {sign.width, right.y}})},
                {Ink::symbol, run({left, {foot.x + h * slope, left.y}})}};
  sign.above = right.y + 0.2, sign.below = -foot.y + 0.2;
  shift(words, {right.x + 0.8, right.y - kClear - words.above});
  const double above = sign.above, below = sign.below;
  take(sign, std::move(words));
  sign.above = above, sign.below = std::max(below, sign.below);
  return sign;
}

Piece Scribe::projection(bool first_angle) const {
  constexpr double big = 3, small = 1.5, length = 6, gap = 3.5;
  Piece piece;
  const double cone = first_angle ? 0 : 2 * big + gap, rings = first_angle ? length + gap + big : big;
  // The circles show the small end from where a first- or third-angle view is taken.
  const double left = first_angle ? big : small, right = first_angle ? small : big;
  piece.lines.push_back(
      {Ink::symbol, run({{cone, -left}, {cone + length, -right}, {cone + length, right}, {cone, left}}, true)});
  for (const double r : {big, small}) piece.lines.push_back({Ink::symbol, plane::circle({rings, 0}, r)});
  piece.width = length + gap + 2 * big, piece.above = big + 1, piece.below = big + 1;
  piece.lines.push_back({Ink::centre, run({{-1, 0}, {piece.width + 1, 0}})});
  piece.lines.push_back({Ink::centre, run({{rings, -big - 1}, {rings, big + 1}})});
  for (Inked& l : piece.lines) l.path = mapped(l.path, 1, false, {1, 0});
  piece.width += 2;
  return piece;
}

Piece Scribe::paragraph(std::string_view utf8, double width, double height) const {
  std::vector<Piece> lines;
  std::string current;
  const auto fits = [&](const std::string& s) { return plane::text_width(typeface_, s, height) <= width; };
  const auto flush = [&] {
    if (!current.empty()) lines.push_back(text(current, height));
    current.clear();
  };
  const auto add_letters = [&](std::string_view word) {
    for (const std::string_view one : cut_into_characters(word)) {
      if (!current.empty() && !fits(current + std::string(one))) flush();
      current += one;
    }
  };
  for (std::size_t at = 0; at <= utf8.size();) {
    const std::size_t end = std::min(utf8.find(' ', at), utf8.size());
    const std::string word(utf8.substr(at, end - at));
    at = end + 1;
    if (word.empty()) continue;
    const std::string longer = current.empty() ? word : current + " " + word;
    if (fits(longer)) {
      current = longer;
      continue;
    }
    flush();
    add_letters(word);
  }
  flush();
  return lines.empty() ? Piece{} : column(lines, 0.4 * height);
}

Piece row(const std::vector<Piece>& pieces, double gap) {
  Piece whole;
  for (Piece piece : pieces) {
    const double x = whole.width + (whole.words.empty() && whole.lines.empty() ? 0 : gap);
    whole.width = x + piece.width;
    shift(piece, {x, 0});
    take(whole, std::move(piece));
  }
  return whole;
}

Piece column(const std::vector<Piece>& pieces, double gap) {
  Piece whole;
  double y = 0;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    Piece piece = pieces[i];
    if (i > 0) y -= gap + piece.above;
    whole.width = std::max(whole.width, piece.width);
    shift(piece, {0, y});
    const double below = piece.below - y;
    piece.below = below, piece.above += y;
    take(whole, std::move(piece));
    y = -below;
  }
  return whole;
}

void put(View& view, const Piece& piece, Vec2 at, double angle) {
  const Vec2 along = plane::polar(1, angle), up{-along.y, along.x};
  for (const Inked& l : piece.lines) {
    view.lines.push_back({l.ink, mapped(plane::turned(l.path, angle), 1, false, at), l.filled});
  }
  for (Words w : piece.words) {
    w.at = at + w.at.x * along + w.at.y * up;
    w.angle += angle;
    view.words.push_back(std::move(w));
  }
}

Box extents(const Path& path) {
  Growing growing;
  for (const Edge& e : path) growing.see(e);
  return growing.box;
}

Box extents(const View& view, const Typeface& typeface) {
  Growing growing;
  for (const Inked& l : view.lines) {
    for (const Edge& e : l.path) growing.see(e);
  }
  for (const Words& w : view.words) {
    for (const Vec2 corner : plane::box(typeface, w)) growing.see(corner);
  }
  return growing.box;
}

void move(View& view, Vec2 by) {
  for (Inked& l : view.lines) l.path = mapped(l.path, 1, false, by);
  for (Words& w : view.words) w.at = w.at + by;
}

Path mapped(const Path& path, double scale, bool mirrored, Vec2 by) {
  const auto point = [&](Vec2 p) { return by + scale * Vec2{mirrored ? -p.x : p.x, p.y}; };
  Path out;
  for (const Edge& e : path) {
    Edge m{point(e.a), point(e.b), e.turn, point(e.centre)};
    if (mirrored && e.is_arc()) m.turn = e.turn == Edge::Turn::ccw ? Edge::Turn::cw : Edge::Turn::ccw;
    out.push_back(m);
  }
  return out;
}

void hatch(View& view, const std::vector<Path>& metal, double step) {
  // In coordinates turned by 45°, where hatching is level: u = x + y along, v = y - x across.
  const double pitch = step * std::numbers::sqrt2;
  std::map<long, std::vector<double>> crossings;  // u, by number of the hatching line
  for (const Path& p : metal) {
    const auto loop = plane::polyline(p, kChord);
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vec2 p1 = loop[i], p2 = loop[(i + 1) % loop.size()];
      const Vec2 a{p1.x + p1.y, p1.y - p1.x}, b{p2.x + p2.y, p2.y - p2.x};
      const double low = std::min(a.y, b.y), high = std::max(a.y, b.y);
      // Half open, so that a corner on a hatching line counts once.
      for (long k = static_cast<long>(std::ceil(low / pitch)); static_cast<double>(k) * pitch < high; ++k) {
        const double v = static_cast<double>(k) * pitch;
        crossings[k].push_back(a.x + (b.x - a.x) * (v - a.y) / (b.y - a.y));
      }
    }
  }
  for (auto& [k, us] : crossings) {
    std::sort(us.begin(), us.end());
    const double v = static_cast<double>(k) * pitch;
    for (std::size_t i = 0; i + 1 < us.size(); i += 2) {
      const double a = us[i], b = us[i + 1];
      if (b - a >= kLeastHatch) line(view, Ink::hatch, {(a - v) / 2, (a + v) / 2}, {(b - v) / 2, (b + v) / 2});
    }
  }
}

}  // namespace groovewright::drawing
