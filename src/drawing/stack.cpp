#include "stack.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"

namespace groovewright::drawing {
namespace {

using plane::Ink;
using plane::Vec2;
using plane::View;

/// Extension lines begin this far from the outline and reach this far past their dimension line (ISO 129-1).
constexpr double kStandOff = 1, kPast = 2;
/// Dimension lines with arrows from outside reach this far.
constexpr double kTail = 6;
constexpr double kDatumTriangle = 2.5, kLeastStem = 4;
/// Steps in which a datum's box looks for its place.
constexpr double kStep = 0.5;

struct Interval {
  double low = 0, high = 0;
  [[nodiscard]] bool meets(const Interval& o) const { return low < o.high && o.low < high; }
  void take(const Interval& o) { low = std::min(low, o.low), high = std::max(high, o.high); }
};

struct Placed {
  SizeLine span;
  bool arrows_outside = false;
  Interval text, line, all;  ///< along: the text, the dimension line, everything
  double stem = 0;           ///< of the datum, from `from` backwards; 0: none
  std::size_t lane = 0;
};

/// Lane coordinates (along, out) as points of the view.
struct Lanes {
  Vec2 along, out;
  bool text_outward = true;
  double angle = 0;
  [[nodiscard]] Vec2 at(double s, double t) const { return s * along + t * out; }
};

Lanes lanes_of(Beside side) {
  switch (side) {
    case Beside::above:
      return {{1, 0}, {0, 1}, true, 0};
    case Beside::below:
      return {{1, 0}, {0, -1}, false, 0};
    case Beside::left:
      return {{0, 1}, {-1, 0}, true, std::numbers::pi / 2};
    case Beside::right:
      return {{0, 1}, {1, 0}, false, std::numbers::pi / 2};
  }
  throw Broken("lanes_of: a side that is none");
}

constexpr double kFar = 1e6;

/// Places an interval of `width` between walls and within `bounds`, as near to `middle` as can be.
Interval between_walls(std::vector<double> walls, double width, double middle, const Interval& bounds) {
  std::erase_if(walls, [&](double w) { return w < bounds.low || w > bounds.high; });
  walls.push_back(bounds.low), walls.push_back(bounds.high);
  std::sort(walls.begin(), walls.end());
  Interval best;
  double nearest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i + 1 < walls.size(); ++i) {
    const double low = walls[i] + kClear, high = walls[i + 1] - kClear - width;
    if (high < low) continue;
    const double at = std::clamp(middle - width / 2, low, high), off = std::abs(at + width / 2 - middle);
    if (off < nearest - 1e-9) nearest = off, best = {at, at + width};
  }
  return best;
}

/// Where text, arrows and datum of one span go along its lane; `walls` are extension lines that will cross the lane.
Placed arranged(SizeLine span, const std::vector<double>& walls) {
  Placed p;
  const double room = span.to - span.from;
  p.arrows_outside = room < 2 * kArrow + 1;
  std::vector<double> own = walls;
  own.push_back(span.from), own.push_back(span.to);
  // A datum hangs at the line's beginning: no text there.
  p.text = between_walls(own, span.text.width, (span.from + span.to) / 2,
                         {span.datum.empty() ? -kFar : span.from, span.text_before ? span.to : kFar});
  p.line = {span.from, span.to};
  p.line.take(p.text);
  if (p.arrows_outside) p.line.take({span.from - kTail, span.to + kTail});
  p.all = p.line;
  if (!span.datum.empty()) {
    Interval box{span.from - kLeastStem - kDatumBox, span.from - kLeastStem};
    const auto taken = [&] {
      const Interval clear{box.low - kClear, box.high + kClear};
      return clear.meets(p.text) ||
             std::any_of(walls.begin(), walls.end(), [&](double w) { return w > clear.low && w < clear.high; });
    };
    while (taken()) box.low -= kStep, box.high -= kStep;
    p.stem = span.from - box.high;
    p.all.take(box);
    p.line.take({box.high, span.to});
  }
  p.all.low -= kClear, p.all.high += kClear;
  p.span = std::move(span);
  return p;
}

void assign_lanes(std::vector<Placed>& placed) {
  for (std::size_t i = 0; i < placed.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      if (placed[j].all.meets(placed[i].all)) placed[i].lane = std::max(placed[i].lane, placed[j].lane + 1);
    }
  }
}

/// How far a lane's ink reaches from its line.
struct Reach {
  double inward = 0.5, outward = kPast + 0.5;
};

std::vector<double> lane_places(const std::vector<Placed>& placed, double edge, bool text_outward) {
  std::size_t count = 0;
  for (const Placed& p : placed) count = std::max(count, p.lane + 1);
  std::vector<Reach> reach(count);
  for (const Placed& p : placed) {
    Reach& r = reach[p.lane];
    double& with_text = text_outward ? r.outward : r.inward;
    with_text = std::max(with_text, p.span.text.above + p.span.text.below + 2 * kClear);
    if (p.span.datum.empty()) continue;
    r.inward = std::max(r.inward, kDatumBox / 2 + kClear);
    r.outward = std::max(r.outward, kDatumBox / 2 + kClear);
  }
  std::vector<double> places;
  for (std::size_t k = 0; k < count; ++k) {
    places.push_back(k == 0 ? edge + std::max(kFirstLane, reach[0].inward + 1)
                            : places.back() + std::max(kLane, reach[k - 1].outward + reach[k].inward));
  }
  return places;
}

void draw(View& view, const Placed& p, double t, const Lanes& lanes, const Scribe& scribe) {
  const SizeLine& s = p.span;
  const auto extension = [&](double along, double start) {
    line(view, Ink::dimension, lanes.at(along, start + kStandOff), lanes.at(along, t + kPast));
  };
  extension(s.from, s.start_from);
  extension(s.to, s.start_to);
  line(view, Ink::dimension, lanes.at(p.line.low, t), lanes.at(p.line.high, t));
  const double inward = p.arrows_outside ? 1 : -1;
  const bool triangle_for_arrow = p.arrows_outside && !s.datum.empty();
  if (!triangle_for_arrow) arrow(view, lanes.at(s.from, t), inward * lanes.along);
  arrow(view, lanes.at(s.to, t), -inward * lanes.along);
  const double base = lanes.text_outward ? t + kClear + s.text.below : t - kClear - s.text.below;
  put(view, s.text, lanes.at(p.text.low, base), lanes.angle);
  if (!s.datum.empty()) {
    datum(view, s.datum, lanes.at(s.from, t), -1.0 * lanes.along, p.stem, lanes.angle, scribe);
  }
}

}  // namespace

void datum(View& view, const std::string& letter, Vec2 foot, Vec2 direction, double stem, double text_angle,
           const Scribe& scribe) {
  const Vec2 side{-direction.y, direction.x}, apex = foot + kDatumTriangle * direction;
  polygon(view, Ink::symbol, {foot + 0.5 * kDatumTriangle * side, foot - 0.5 * kDatumTriangle * side, apex}, true);
  if (stem > kDatumTriangle) line(view, Ink::symbol, apex, foot + stem * direction);
  const Vec2 middle = foot + (stem + kDatumBox / 2) * direction;
  Piece cell = scribe.frame({scribe.text(letter)});
  const Vec2 along = plane::polar(1, text_angle), up{-along.y, along.x};
  put(view, cell, middle - (cell.width / 2) * along - kMiddle * up, text_angle);
}

void stack(View& view, std::vector<SizeLine> spans, Beside side, double edge, const Scribe& scribe,
           std::vector<double> walls) {
  std::stable_sort(spans.begin(), spans.end(),
                   [](const SizeLine& a, const SizeLine& b) { return a.to - a.from < b.to - b.from - 1e-9; });
  // From the outermost in: an inner text must know which extension lines will pass it.
  std::vector<Placed> placed(spans.size());
  for (std::size_t i = spans.size(); i-- > 0;) {
    const double from = spans[i].from, to = spans[i].to;
    placed[i] = arranged(std::move(spans[i]), walls);
    walls.push_back(from), walls.push_back(to);
  }
  assign_lanes(placed);
  const Lanes lanes = lanes_of(side);
  const double sign = side == Beside::above || side == Beside::right ? 1 : -1;
  for (Placed& p : placed) p.span.start_from *= sign, p.span.start_to *= sign;
  const std::vector<double> places = lane_places(placed, sign * edge, lanes.text_outward);
  for (const Placed& p : placed) draw(view, p, places[p.lane], lanes, scribe);
}

}  // namespace groovewright::drawing
