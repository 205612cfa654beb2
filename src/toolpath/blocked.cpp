#include "blocked.h"

#include <algorithm>

namespace groovewright::toolpath {
namespace {

using plane::Vec2;

constexpr double kNone = 4e-4;  // mm: a shorter span is none

Polygon opposite(Polygon convex) {
  for (Vec2& p : convex) p = {-p.x, -p.y};
  return convex;  // turned by half a turn: still ccw
}

double crossing(Vec2 a, Vec2 b, double level) { return a.x + (level - a.y) / (b.y - a.y) * (b.x - a.x); }

}  // namespace

Blocked::Blocked(std::vector<Polygon> region, const Bit& tool) : region_(std::move(region)) {
  for (const Polygon& piece : tool.all()) {
    const Polygon turned = opposite(piece);
    corners_.push_back(turned.front());
    for (const Polygon& loop : region_) {
      for (std::size_t i = 0; i < loop.size(); ++i) {
        Band band{0, 0, swept(turned, loop[i], loop[(i + 1) % loop.size()])};
        const auto [low, high] =
            std::minmax_element(band.convex.begin(), band.convex.end(), [](Vec2 a, Vec2 b) { return a.y < b.y; });
        band.low = low->y, band.high = high->y;
        bands_.push_back(std::move(band));
      }
    }
  }
  std::sort(bands_.begin(), bands_.end(), [](const Band& a, const Band& b) { return a.low < b.low; });
}

void Blocked::add_inside(double level, Vec2 corner, std::vector<Span>& closed) const {
  struct Crossing {
    double x = 0;
    int step = 0;
  };
  std::vector<Crossing> all;
  const double there = level - corner.y;
  for (const Polygon& loop : region_) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vec2 a = loop[i], b = loop[(i + 1) % loop.size()];
      if ((a.y <= there) != (b.y <= there)) all.push_back({crossing(a, b, there) + corner.x, a.y <= there ? -1 : 1});
    }
  }
  std::sort(all.begin(), all.end(), [](const Crossing& a, const Crossing& b) { return a.x < b.x; });
  int winding = 0;
  for (std::size_t i = 0; i + 1 < all.size(); ++i) {
    winding += all[i].step;
    if (winding != 0) closed.push_back({all[i].x, all[i + 1].x});
  }
}

std::vector<Span> Blocked::free_spans(double level, double least, double most) const {
  std::vector<Span> closed;
  for (const Vec2& corner : corners_) add_inside(level, corner, closed);
  for (const Band& band : bands_) {
    if (band.low >= level) break;
    if (band.high <= level) continue;
    Span span{most, least};
    for (std::size_t i = 0; i < band.convex.size(); ++i) {
      const Vec2 a = band.convex[i], b = band.convex[(i + 1) % band.convex.size()];
      if ((a.y <= level) == (b.y <= level)) continue;
      const double x = crossing(a, b, level);
      span = {std::min(span.from, x), std::max(span.to, x)};
    }
    closed.push_back(span);
  }
  std::sort(closed.begin(), closed.end(), [](const Span& a, const Span& b) { return a.from < b.from; });
  std::vector<Span> free;
  double since = least;
  for (const Span& s : closed) {
    if (s.from >= most) break;
    if (s.from - since >= kNone) free.push_back({since, s.from});
    since = std::max(since, s.to);
  }
  if (most - since >= kNone) free.push_back({since, most});
  return free;
}

}  // namespace groovewright::toolpath
