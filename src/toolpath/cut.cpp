#include "cut.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace groovewright::toolpath {
namespace {

using plane::Box;
using plane::Edge;
using plane::Vec2;

constexpr double kHair = 2e-4;        // mm: off the obstacles' borders, which lie on a lattice
constexpr double kNothing = 1e-3;     // mm²: less metal than that is none
constexpr double kWorthAPass = 0.25;  // mm²: less in a pocket is left to the tool that finishes
constexpr double kRetract = 0.5;      // mm off the cut before a rapid move

Vec2 to_uv(Lay lay, Vec2 p) {
  switch (lay) {
    case Lay::outside:
      return p;
    case Lay::facing:
      return {p.y, p.x};
    case Lay::inside:
      return {p.x, -p.y};
  }
  return p;
}

std::vector<Polygon> to_uv(Lay lay, std::vector<Polygon> loops) {
  for (Polygon& loop : loops) {
    for (Vec2& p : loop) p = to_uv(lay, p);
    if (lay != Lay::outside) std::reverse(loop.begin(), loop.end());
  }
  return loops;
}

/// False where what stands within the bounds of the passes is too little for one.
bool is_worth_it(const std::vector<Polygon>& metal, const std::vector<Polygon>& keep, const Passes& passes, double low,
                 double high) {
  if (low >= high) return false;
  const double least = std::max(passes.least, -1e3);
  const double most = passes.may_plunge ? std::min(passes.most, 1e3) : 1e3;
  const std::vector<Polygon> bounds{{{least, low}, {most, low}, {most, high}, {least, high}}};
  return plane::area(plane::common(plane::cut(metal, keep), bounds)) > (passes.may_plunge ? kWorthAPass : kNothing);
}

/// Levels of the lowest point of the tool, falling: every flat of what must stay, and between them steps of at most
/// `depth`.
std::vector<double> levels(const std::vector<Polygon>& keep, double top, double bottom, double depth) {
  std::vector<double> flats{bottom};
  for (const Polygon& loop : keep) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vec2 a = loop[i], b = loop[(i + 1) % loop.size()];
      if (std::abs(a.y - b.y) < 1e-6 && b.x < a.x - 0.05 && a.y > bottom && a.y < top) flats.push_back(a.y);
    }
  }
  std::sort(flats.begin(), flats.end(), std::greater<>());
  std::vector<double> out;
  double above = top;
  for (const double flat : flats) {
    const double gap = above - flat;
    if (gap < 0.01) continue;
    const int n = static_cast<int>(std::ceil(gap / depth - 1e-9));
    for (int i = 1; i <= n; ++i) out.push_back(above - gap * i / n);
    above = flat;
  }
  return out;
}

/// From the open side along the level and back over what has been cut.
Motions open_pass(Vec2 at, double begins, double ends, double v) {
  const Vec2 off{ends + kRetract, v + kRetract};
  return {rapid({begins, at.y}), rapid({begins, v}), feed({ends, v}), feed(off), rapid({begins, off.y})};
}

/// How far down the tool may go at rapid at u: nothing stands in its whole width.
double rest_over(const std::vector<Polygon>& metal, double u, double level, double over, const Box& tool,
                 const Box& reach) {
  const double left = u + reach.low.x, right = u + reach.high.x;
  const std::vector<Polygon> column =
      plane::common(metal, {{{left, level}, {right, level}, {right, over}, {left, over}}});
  const double stands = column.empty() ? level : box_of(column).high.y;
  return std::min(over, stands - tool.low.y + kRetract);
}

/// From over all metal down to `rest`, into it, along the level and up again.
Motions plunged_pass(Vec2 at, double begins, double ends, double v, double rest, double over, double share) {
  const double off = std::min(begins, ends + kRetract);
  return {rapid({at.x, over}), rapid({begins, over}),     rapid({begins, rest}), feed({begins, v}, share),
          feed({ends, v}),     feed({off, v + kRetract}), rapid({off, over})};
}

bool holder_touches(const Metal& metal, const std::vector<Polygon>& holder, Vec2 at, const Motions& pass) {
  for (const Motion& m : pass) {
    for (const Polygon& piece : holder)
      if (metal.holds(swept(piece, at, m.to))) return true;
    at = m.to;
  }
  return false;
}

}  // namespace

Bit bit(const Shape& shape, double chord_error) {
  Bit out;
  for (const plane::Path& p : shape.cutting) out.cutting.push_back(plane::hull(plane::polyline(p, chord_error)));
  for (const plane::Path& p : shape.holder) out.holder.push_back(plane::hull(plane::polyline(p, chord_error)));
  return out;
}

void take_off(std::vector<Polygon>& stock, const Bit& bit, Vec2 at, const Motions& motions) {
  std::vector<Polygon> away;
  for (const Motion& m : motions) {
    if (m.kind != Motion::Kind::rapid) {
      std::vector<Vec2> stops{at, m.to};
      if (m.kind != Motion::Kind::feed) {
        const Edge arc{at, m.to, m.kind == Motion::Kind::ccw ? Edge::Turn::ccw : Edge::Turn::cw, m.centre};
        stops = plane::polyline({arc}, 0.002);
      }
      for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
        for (const Polygon& piece : bit.cutting) away.push_back(swept(piece, stops[i], stops[i + 1]));
      }
    }
    at = m.to;
  }
  if (!away.empty()) stock = plane::cut(stock, away);
}

Motions level_passes(Scene& scene, const std::vector<Polygon>& keep_half, const Bit& bit_half, const Passes& passes,
                     Vec2 home_half) {
  const Lay lay = passes.lay;
  const std::vector<Polygon> keep = to_uv(lay, keep_half), keep_out = to_uv(lay, scene.keep_out);
  const std::vector<Polygon> cutting = to_uv(lay, bit_half.cutting), holder = to_uv(lay, bit_half.holder);
  const Bit turned{cutting, holder};
  const Box tool = box_of(cutting), reach = box_of(turned.all());
  const Vec2 home = to_uv(lay, home_half);
  std::vector<Polygon> metal = to_uv(lay, scene.stock);
  const Box first = box_of(metal);
  const double floor = lay == Lay::inside ? -passes.from : passes.down_to;
  const double ceiling = lay == Lay::inside ? -passes.down_to : passes.from;
  if (!is_worth_it(metal, keep, passes, std::max(floor, first.low.y), std::min(ceiling, first.high.y))) return {};
  std::vector<Polygon> stays = keep;
  stays.insert(stays.end(), keep_out.begin(), keep_out.end());
  const Blocked closed(stays, turned);
  const double start_u = first.high.x - reach.low.x + passes.clear;
  const double least_u = lay == Lay::facing ? -tool.high.x : -1e4;
  const double bottom = std::max({floor, box_of(keep).low.y, first.low.y});
  const double top = std::min(first.high.y, ceiling);

  Motions out;
  Vec2 at = home;
  for (const double level : levels(keep, top, bottom, passes.depth)) {
    const double v = level - tool.low.y + kHair;
    std::vector<Span> spans = closed.free_spans(v, std::max(least_u, first.low.x + tool.low.x - 1), start_u);
    std::reverse(spans.begin(), spans.end());
    for (Span span : spans) {
      const bool open = span.to >= start_u - kHair && !passes.may_plunge;
      if (!open && !passes.may_plunge) continue;
      if (!open) span = {std::max(span.from, passes.least - tool.low.x), std::min(span.to, passes.most - tool.high.x)};
      span.from = std::max(span.from, passes.least - tool.low.x);
      if (span.to - span.from < kHair) continue;
      std::vector<Polygon> band;
      for (const Polygon& piece : cutting) band.push_back(swept(piece, {span.from, v}, {span.to, v}));
      const std::vector<Polygon> taken = plane::common(metal, band);
      if (plane::area(taken) < (open ? kNothing : kWorthAPass)) continue;
      const Box cut = box_of(taken);
      const double ends = std::max(span.from, cut.low.x - tool.high.x);
      const double begins = open ? start_u : std::min(span.to, cut.high.x - tool.low.x);
      if (begins - ends < kHair) continue;
      const double over = first.high.y - tool.low.y + passes.clear;
      const Motions pass = open ? open_pass(at, begins, ends, v)
                                : plunged_pass(at, begins, ends, v, rest_over(metal, begins, level, over, tool, reach),
                                               over, passes.plunge_share);
      std::vector<Polygon> after = metal;
      take_off(after, turned, at, pass);
      // Metal beside a pocket that stays for now is in nobody's way but the holder's.
      if (!open && holder_touches(Metal(after), holder, at, pass)) continue;
      metal = std::move(after);
      at = pass.back().to;
      out.insert(out.end(), pass.begin(), pass.end());
    }
  }
  if (out.empty()) return out;
  if (at.y < home.y) out.push_back(rapid({at.x, home.y}));
  out.push_back(rapid(home));
  for (Motion& m : out) m.to = to_uv(lay, m.to);  // its own inverse
  scene.stock = to_uv(lay, metal);
  return out;
}

Blocked blocked_columns(const std::vector<Polygon>& keep, const std::vector<Polygon>& keep_out, const Bit& bit) {
  std::vector<Polygon> stays = keep;
  stays.insert(stays.end(), keep_out.begin(), keep_out.end());
  return {to_uv(Lay::facing, std::move(stays)), {to_uv(Lay::facing, bit.cutting), to_uv(Lay::facing, bit.holder)}};
}

Motions plunges(Scene& scene, const Blocked& columns, const Bit& bit, const std::vector<double>& places,
                const Plunging& how) {
  Motions out;
  const double low = box_of(bit.cutting).low.y;
  Vec2 at{0, how.over};
  for (const double z : places) {
    const std::vector<Span> spans = columns.free_spans(z, -1e3, how.over);
    if (spans.empty() || spans.back().to < how.over - kHair) continue;
    const double floor = spans.back().from + kHair;
    const std::vector<Polygon> taken =
        plane::common(scene.stock, {swept(bit.cutting.front(), {z, floor}, {z, how.over})});
    if (plane::area(taken) < how.least) continue;
    const double surface = std::min(how.over, box_of(taken).high.y - low + 0.3);
    Motions plunge{rapid({z, how.over}), rapid({z, surface})};
    const int pecks = std::max(0, static_cast<int>(std::ceil((surface - floor - 0.2) / how.peck)) - 1);
    for (int k = 1; k <= pecks; ++k) {
      const double r = surface - k * how.peck;
      plunge.push_back(feed({z, r}));
      plunge.push_back(feed({z, r + 0.1}));  // breaks the chip
    }
    plunge.push_back(feed({z, floor}));
    plunge.push_back(rapid({z, how.over}));
    take_off(scene.stock, bit, at, plunge);
    at = {z, how.over};
    out.insert(out.end(), plunge.begin(), plunge.end());
  }
  return out;
}

}  // namespace groovewright::toolpath
