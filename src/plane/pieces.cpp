#include "groovewright/plane/pieces.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>

#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"

namespace groovewright::plane {
namespace {

constexpr double kPad = 1.2;  // of a table's cells
constexpr double kChord = 0.02;
/// Shorter hatching lines are specks; along u, which is longer than the line by sqrt 2.
constexpr double kLeastHatch = 0.1;

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
      if (on > 0 && on < 1) see(e.centre + polar(r, at));
    }
  }
};

}  // namespace

Path run(const std::vector<Vec2>& points, bool closed) {
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
  const std::string drawn = drawable(typeface_, utf8);
  piece.words = {{{0, 0}, drawn, height}};
  piece.width = text_width(typeface_, drawn, height);
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

Piece Scribe::paragraph(std::string_view utf8, double width, double height) const {
  std::vector<Piece> lines;
  std::string current;
  const auto fits = [&](const std::string& s) { return text_width(typeface_, s, height) <= width; };
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

std::string shortened(const Typeface& typeface, std::string_view utf8, double width, double height) {
  if (text_width(typeface, utf8, height) <= width) return std::string(utf8);
  std::string kept;
  for (const std::string_view one : cut_into_characters(utf8)) {
    const std::string longer = kept + std::string(one);
    if (text_width(typeface, longer + "...", height) > width) break;
    kept = longer;
  }
  return kept + "...";
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

View table(const std::string& id, const std::string& title, const std::vector<std::vector<Piece>>& rows,
           const Scribe& scribe) {
  View view{id, title, {}, {}};
  std::vector<double> widths, heights;
  for (const auto& cells : rows) {
    double height = 0;
    for (std::size_t c = 0; c < cells.size(); ++c) {
      if (widths.size() <= c) widths.push_back(0);
      widths[c] = std::max(widths[c], cells[c].width + 2 * kPad);
      height = std::max(height, cells[c].above + cells[c].below + 2 * kPad);
    }
    heights.push_back(height);
  }
  double total = 0;
  for (const double w : widths) total += w;
  put(view, scribe.text(title, kLetters), {0, 2});
  double y = 0;
  for (std::size_t r = 0; r < rows.size(); ++r) {
    line(view, Ink::table, {0, y}, {total, y});
    double x = 0, above = 0;
    for (const Piece& p : rows[r]) above = std::max(above, p.above);
    for (std::size_t c = 0; c < rows[r].size(); ++c) {
      put(view, rows[r][c], {x + kPad, y - kPad - above});
      x += widths[c];
    }
    y -= heights[r];
  }
  line(view, Ink::table, {0, y}, {total, y});
  double x = 0;
  for (std::size_t c = 0; c <= widths.size(); ++c) {
    line(view, Ink::table, {x, 0}, {x, y});
    if (c < widths.size()) x += widths[c];
  }
  return view;
}

void put(View& view, const Piece& piece, Vec2 at, double angle) {
  const Vec2 along = polar(1, angle), up{-along.y, along.x};
  for (const Inked& l : piece.lines) {
    view.lines.push_back({l.ink, mapped(turned(l.path, angle), 1, false, at), l.filled});
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
    for (const Vec2 corner : box(typeface, w)) growing.see(corner);
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
    const auto loop = polyline(p, kChord);
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

}  // namespace groovewright::plane
