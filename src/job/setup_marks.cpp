#include "setup_marks.h"

#include <algorithm>
#include <array>
#include <limits>

#include "groovewright/base/text.h"
#include "groovewright/plane/faults.h"

namespace groovewright::job {
namespace {

using plane::Ink;
using plane::Path;
using plane::Piece;
using plane::Polygon;
using plane::Vec2;
using plane::View;

/// ISO 5455, table 1, as far as pulleys need it, and 1:2.5, for it allows scales between where none of its own serves
/// (from memory).
constexpr std::array kScales{5.0, 2.0, 1.0, 0.5, 0.4, 0.2, 0.1};
constexpr double kRing = 1.8;

/// Marks what stays of points from `a` to `b` so that none between lies farther than `within` from the chords.
void keep(const Polygon& points, std::size_t a, std::size_t b, double within, std::vector<bool>& kept) {
  std::vector<std::pair<std::size_t, std::size_t>> due{{a, b}};
  while (!due.empty()) {
    const auto [from, to] = due.back();
    due.pop_back();
    const Path chord{plane::straight(points[from], points[to % points.size()])};
    double most = within;
    std::size_t farthest = from;
    for (std::size_t i = from + 1; i < to; ++i) {
      const double d = plane::distance(points[i], chord);
      if (d > most) most = d, farthest = i;
    }
    if (farthest == from) continue;
    kept[farthest] = true;
    due.emplace_back(from, farthest);
    due.emplace_back(farthest, to);
  }
}

}  // namespace

std::string scale_words(double scale) {
  return "scale " + (scale >= 1 ? trimmed(scale, 1) + ":1" : "1:" + trimmed(1 / scale, 1));
}

Picture at_best_scale(const plane::Scribe& scribe, const std::function<Picture(double, bool&)>& make) {
  Picture best;
  int least = std::numeric_limits<int>::max();
  for (const double scale : kScales) {
    bool fits = true;
    Picture p = make(scale, fits);
    if (!fits && scale > kScales.back()) continue;
    plane::Page page;
    page.width = page.height = 2000;
    page.views.push_back(p.view);
    plane::move(page.views.front(), {1000, 1000});
    const int wrong = plane::faults(page, scribe.typeface()).total() + (fits ? 0 : 1);
    if (wrong < least) best = std::move(p), least = wrong;
    if (wrong == 0) break;
  }
  return best;
}

void hatch_back(View& view, const std::vector<Path>& areas, double step) {
  View mirrored{"", "", {}, {}};
  std::vector<Path> turned;
  for (const Path& p : areas) turned.push_back(plane::mapped(p, 1, true));
  plane::hatch(mirrored, turned, step);
  plane::draw(view, mirrored.lines, 1, true);
}

void level_dimension(View& view, const plane::Scribe& scribe, double x0, double x1, double from, double y,
                     const std::string& words, bool leans) {
  constexpr double kPast = 1, kGap = 1, kTail = 5;
  for (const double x : {x0, x1}) plane::line(view, Ink::dimension, {x, from - kGap}, {x, y - kPast});
  const bool within = x1 - x0 > 3 * plane::kArrow;
  const double out = within ? 0 : kTail;
  plane::line(view, Ink::dimension, {x0 - out, y}, {x1 + out, y});
  plane::arrow(view, {x0, y}, {within ? -1.0 : 1.0, 0});
  plane::arrow(view, {x1, y}, {within ? 1.0 : -1.0, 0});
  const Piece p = scribe.text(words);
  // What is wider than it measures stands clear of the left extension line, should that go on below.
  const double at = p.width < x1 - x0 - 2 ? (x0 + x1 - p.width) / 2 : leans ? x0 + 1.2 : (x0 + x1 - p.width) / 2;
  plane::put(view, p, {at, y - kPast - 0.5 - p.above});
}

void zero(View& view, Vec2 at) {
  view.lines.push_back({Ink::symbol, plane::circle(at, kRing)});
  for (const Vec2 way : {Vec2{0, 1}, Vec2{0, -1}}) {
    plane::line(view, Ink::symbol, at, at + kRing * way);
    const Vec2 from = at + kRing * Vec2{way.y, 0}, to = at + kRing * way;
    view.lines.push_back({Ink::symbol,
                          {plane::straight(at, from), {from, to, plane::Edge::Turn::ccw, at}, plane::straight(to, at)},
                          true});
  }
}
std::vector<Vec2> on_ring(Vec2 at) {
  std::vector<Vec2> out;
  for (const double way : {0.5, -0.5, 0.9, -0.9}) out.push_back(at + plane::polar(kRing, way));
  return out;
}
void axes(View& view, const plane::Scribe& scribe, Vec2 at, const char* right, const char* up) {
  const Vec2 x{kAxisArrow, 0}, y{0, kAxisArrow};
  for (const Vec2 way : {x, y}) {
    plane::line(view, Ink::symbol, at, at + way);
    plane::arrow(view, at + way, plane::unit(way), Ink::symbol);
  }
  plane::put(view, scribe.text(right), at + x + Vec2{1, -plane::kMiddle});
  plane::put(view, scribe.text(up), at + y + Vec2{1.2, -plane::kLetters});
}

std::vector<Polygon> coarser(const std::vector<Polygon>& loops, double within) {
  std::vector<Polygon> out;
  for (const Polygon& loop : loops) {
    const std::size_t n = loop.size();
    if (n < 4) {
      out.push_back(loop);
      continue;
    }
    std::size_t far = n / 2;
    for (std::size_t i = 1; i < n; ++i)
      if (plane::norm(loop[i] - loop[0]) > plane::norm(loop[far] - loop[0])) far = i;
    std::vector<bool> kept(n, false);
    kept[0] = kept[far] = true;
    keep(loop, 0, far, within, kept);
    keep(loop, far, n, within, kept);
    Polygon thin;
    for (std::size_t i = 0; i < n; ++i)
      if (kept[i]) thin.push_back(loop[i]);
    if (thin.size() >= 3) out.push_back(std::move(thin));
  }
  return out;
}

}  // namespace groovewright::job
