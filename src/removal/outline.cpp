#include "outline.h"

#include <algorithm>
#include <cmath>

#include "groovewright/base/broken.h"

namespace groovewright::removal {
namespace {

using plane::Edge;
using plane::Vec2;

struct Extent {
  Vec2 low, high;
};

/// The ray from the arc's centre through `p` meets the arc.
bool faces(const Edge& arc, Vec2 p) {
  if (arc.is_full_circle()) return true;
  const bool ccw = arc.turn == Edge::Turn::ccw;
  const Vec2 a = (ccw ? arc.a : arc.b) - arc.centre, b = (ccw ? arc.b : arc.a) - arc.centre, d = p - arc.centre;
  const bool after_a = plane::cross(a, d) >= 0, before_b = plane::cross(d, b) >= 0;
  return plane::cross(a, b) >= 0 ? after_a && before_b : after_a || before_b;
}

Extent extent(const Edge& e) {
  Extent out{{std::min(e.a.x, e.b.x), std::min(e.a.y, e.b.y)}, {std::max(e.a.x, e.b.x), std::max(e.a.y, e.b.y)}};
  if (!e.is_arc()) return out;
  const double r = e.radius();
  for (const Vec2 side : {Vec2{r, 0}, Vec2{-r, 0}, Vec2{0, r}, Vec2{0, -r}}) {
    const Vec2 p = e.centre + side;
    if (!faces(e, p)) continue;
    out.low = {std::min(out.low.x, p.x), std::min(out.low.y, p.y)};
    out.high = {std::max(out.high.x, p.x), std::max(out.high.y, p.y)};
  }
  return out;
}

}  // namespace

Foot foot_on(const Edge& e, Vec2 p) {
  if (e.is_arc()) {
    const double out = plane::norm(p - e.centre) - plane::norm(e.a - e.centre);
    if (faces(e, p)) return {std::abs(out), true, (out < 0) == (e.turn == Edge::Turn::ccw)};
  } else {
    const Vec2 along = e.b - e.a;
    const double t = plane::dot(p - e.a, along), whole = plane::dot(along, along);
    const double side = plane::cross(along, p - e.a);
    if (t >= 0 && t <= whole && whole > 0) return {std::abs(side) / std::sqrt(whole), true, side > 0};
  }
  return {std::min(plane::norm(p - e.a), plane::norm(p - e.b)), false, false};
}

Outline::Outline(plane::Path edges) : edges_(std::move(edges)) {
  require(!edges_.empty(), "Outline: no edges");
  std::vector<Extent> extents;
  Extent all = extent(edges_.front());
  for (const Edge& e : edges_) {
    const Extent x = extents.emplace_back(extent(e));
    all.low = {std::min(all.low.x, x.low.x), std::min(all.low.y, x.low.y)};
    all.high = {std::max(all.high.x, x.high.x), std::max(all.high.y, x.high.y)};
  }
  low_ = all.low;
  const Vec2 span = all.high - all.low;
  // About as many cells as edges, whatever the outline's shape.
  const double n = static_cast<double>(edges_.size());
  size_ = std::max({std::sqrt(span.x * span.y / n), (span.x + span.y) / (4 * n), plane::kCoincident});
  columns_ = static_cast<long>(span.x / size_) + 1;
  rows_ = static_cast<long>(span.y / size_) + 1;
  cells_.resize(static_cast<std::size_t>(columns_ * rows_));
  for (std::size_t i = 0; i < edges_.size(); ++i) {
    const Cell from = cell_at(extents[i].low), to = cell_at(extents[i].high);
    for (long y = from.y; y <= to.y; ++y)
      for (long x = from.x; x <= to.x; ++x) cells_[static_cast<std::size_t>(y * columns_ + x)].push_back(i);
  }
}

Outline::Cell Outline::cell_at(Vec2 p) const {
  const auto at = [&](double v, long count) {
    return static_cast<long>(std::clamp(v / size_, 0.0, static_cast<double>(count - 1)));
  };
  return {at(p.x - low_.x, columns_), at(p.y - low_.y, rows_)};
}

void Outline::look(long x, long y, Vec2 p, Nearest& best) const {
  if (x < 0 || y < 0 || x >= columns_ || y >= rows_) return;
  for (const std::size_t i : cells_[static_cast<std::size_t>(y * columns_ + x)]) {
    const Foot foot = foot_on(edges_[i], p);
    // Of two that meet in the nearest point, the one square to which the point lies.
    const double closer = best.foot.distance - foot.distance;
    if (closer > 1e-12 || (closer > -1e-12 && foot.between && !best.foot.between)) best = {i, foot};
  }
}

Outline::Nearest Outline::nearest(Vec2 p) const {
  Nearest best;
  const Cell home = cell_at(p);
  const long most = std::max(columns_, rows_);
  // What lies in ring k is at least k - 1 cells away from where `p` or, for one outside, its place at the rim is.
  for (long k = 0; k <= most; ++k) {
    if (best.foot.distance < static_cast<double>(k - 1) * size_) break;
    for (long x = home.x - k; x <= home.x + k; ++x) look(x, home.y - k, p, best);
    if (k > 0)
      for (long x = home.x - k; x <= home.x + k; ++x) look(x, home.y + k, p, best);
    for (long y = home.y - k + 1; y < home.y + k; ++y) {
      look(home.x - k, y, p, best);
      look(home.x + k, y, p, best);
    }
  }
  return best;
}

}  // namespace groovewright::removal
