#include "region.h"

#include <algorithm>
#include <cmath>

#include "groovewright/base/broken.h"

namespace groovewright::removal {
namespace {

using ClipperLib::Clipper;
using ClipperLib::IntPoint;

/// The clipper's points lie within half a step; what is thinner than this is their rounding.
constexpr double kThinnest = 3;

double length(const Loop& loop) {
  double sum = 0;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const IntPoint &p = loop[i], &q = loop[(i + 1) % loop.size()];
    sum += std::hypot(static_cast<double>(q.X - p.X), static_cast<double>(q.Y - p.Y));
  }
  return sum;
}

bool is_apart(const IntPoint& a, const IntPoint& b, const Box& box) {
  return std::max(a.X, b.X) < box.x0 || std::min(a.X, b.X) > box.x1 || std::max(a.Y, b.Y) < box.y0 ||
         std::min(a.Y, b.Y) > box.y1;
}

/// What is left of the loops within `by` steps of their border.
Loops eroded(const Loops& loops, double by) {
  ClipperLib::ClipperOffset offset(2, std::max(1.0, by / 1000));
  offset.AddPaths(loops, ClipperLib::jtRound, ClipperLib::etClosedPolygon);
  Loops out;
  offset.Execute(out, -by);
  return out;
}

}  // namespace

Inside::Inside(const Loop& convex, double skin)
    : x_(static_cast<double>(convex.front().X)), y_(static_cast<double>(convex.front().Y)) {
  for (std::size_t i = 0; i < convex.size(); ++i) {
    const IntPoint &p = convex[i], &q = convex[(i + 1) % convex.size()];
    const double dx = static_cast<double>(q.X - p.X), dy = static_cast<double>(q.Y - p.Y), d = std::hypot(dx, dy);
    if (d == 0) continue;
    Side s{-dy / d, dx / d, 0};
    s.offset = s.nx * (static_cast<double>(p.X) - x_) + s.ny * (static_cast<double>(p.Y) - y_) + skin;
    sides_.push_back(s);
  }
}

bool Inside::meets(const IntPoint& a, const IntPoint& b) const {
  double from = 0, to = 1;
  const double ax = static_cast<double>(a.X) - x_, ay = static_cast<double>(a.Y) - y_;
  const double bx = static_cast<double>(b.X) - x_, by = static_cast<double>(b.Y) - y_;
  for (const Side& s : sides_) {
    const double at_a = s.nx * ax + s.ny * ay - s.offset, at_b = s.nx * bx + s.ny * by - s.offset;
    if (at_a < 0 && at_b < 0) return false;
    if (at_a < 0) from = std::max(from, at_a / (at_a - at_b));
    if (at_b < 0) to = std::min(to, at_a / (at_a - at_b));
    if (from > to) return false;
  }
  return true;
}

bool Region::holds(const IntPoint& p) const {
  int winding = 0;
  for (const Loop& loop : loops_) {
    const int at = ClipperLib::PointInPolygon(p, loop);
    if (at != 0) winding += ClipperLib::Orientation(loop) ? 1 : -1;
  }
  return winding > 0;
}

bool Region::meets(const Loop& convex, double skin) const {
  const Box near = box_of(convex);
  if (!near.overlaps(box_)) return false;
  const Inside inside(convex, skin);
  for (const Loop& loop : loops_) {
    const IntPoint* before = &loop.back();
    for (const IntPoint& p : loop) {
      if (!is_apart(*before, p, near) && inside.meets(*before, p)) return true;
      before = &p;
    }
  }
  // No border runs through the loop: it lies in the metal with all of its middle, or with nothing.
  IntPoint middle(0, 0);
  for (const IntPoint& p : convex) middle.X += p.X, middle.Y += p.Y;
  const auto n = static_cast<Steps>(convex.size());
  middle.X /= n, middle.Y /= n;
  return inside.meets(middle, middle) && holds(middle);
}

void Region::shared(const Loop& convex, Loops& out) const {
  if (loops_.empty()) return;
  Clipper clipper;
  clipper.AddPaths(loops_, ClipperLib::ptSubject, true);
  if (!clipper.AddPath(convex, ClipperLib::ptClip, true)) return;
  Loops found;
  require(clipper.Execute(ClipperLib::ctIntersection, found, ClipperLib::pftNonZero, ClipperLib::pftNonZero),
          "removal: the intersection failed");
  out.insert(out.end(), found.begin(), found.end());
}

void Region::take_away(const Loops& loops) {
  if (loops_.empty()) return;
  Clipper clipper;
  clipper.AddPaths(loops_, ClipperLib::ptSubject, true);
  clipper.AddPaths(loops, ClipperLib::ptClip, true);
  Loops left;
  require(clipper.Execute(ClipperLib::ctDifference, left, ClipperLib::pftNonZero, ClipperLib::pftNonZero),
          "removal: the difference failed");
  std::erase_if(left, [](const Loop& loop) { return thickness(loop) < kThinnest; });
  *this = Region(std::move(left));
}

Loops united(const Loops& loops) {
  if (loops.empty()) return {};  // of nothing the clipper makes a failure
  Clipper clipper;
  clipper.AddPaths(loops, ClipperLib::ptSubject, true);
  Loops out;
  require(clipper.Execute(ClipperLib::ctUnion, out, ClipperLib::pftNonZero, ClipperLib::pftNonZero),
          "removal: the union failed");
  std::erase_if(out, [](const Loop& loop) { return thickness(loop) < kThinnest; });
  return out;
}

double thickness(const Loop& loop) {
  const double around = length(loop);
  return around > 0 ? 2 * std::abs(ClipperLib::Area(loop)) / around : 0;
}

double widest_disc(const Loops& loops, double least) {
  const Loops all = united(loops);
  double low = least / 2 * kLattice, high = 0;
  for (const Loop& loop : all) {
    const Box box = box_of(loop);
    high = std::max(high, static_cast<double>(std::min(box.x1 - box.x0, box.y1 - box.y0)) / 2);
  }
  if (high < low || eroded(all, low).empty()) return 0;
  high += 2;
  while (high - low > 2 + 1e-4 * high) {
    const double middle = (low + high) / 2;
    (eroded(all, middle).empty() ? high : low) = middle;
  }
  return 2 * low / kLattice;
}

}  // namespace groovewright::removal
