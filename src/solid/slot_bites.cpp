// What a slot takes, seen in the half plane: there a slot is a rectangle, and its bites are where metal fills it.
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "groovewright/base/trig.h"
#include "slots.h"

namespace groovewright::solid {
namespace {

using plane::Edge;
using plane::Path;
using plane::Slot;
using plane::Vec2;

/// Less than this between two of the section's or a slot's points, mm, is not told apart from nothing.
constexpr double kVisible = 10 * kTolerance;

/// Sides of the rectangle, in its path's order.
enum Side : std::size_t { low_radius, end_wall, high_radius, start_wall };

/// `value`, or the section's own coordinate where the two hardly differ: so that what is flush meets bit by bit, and
/// nothing is left between that the kernel could not see.
double flush(double value, const Path& section, double Vec2::*coordinate) {
  for (const Edge& e : section) {
    if (std::abs(e.a.*coordinate - value) <= kVisible) return e.a.*coordinate;
  }
  return value;
}

Path rectangle(const Path& section, const Slot& slot) {
  double outside = 0;
  for (const Edge& e : section) outside = std::max(outside, e.a.y + (e.is_arc() ? e.radius() : 0));
  const double level = flush(level_of(slot), section, &Vec2::y);
  const double z0 = flush(slot.z0, section, &Vec2::x), z1 = flush(slot.z1, section, &Vec2::x);
  const double r0 = slot.inward ? 0 : level, r1 = slot.inward ? level : outside + level;
  const Vec2 a{z0, r0}, b{z1, r0}, c{z1, r1}, d{z0, r1};
  return {line(a, b), line(b, c), line(c, d), line(d, a)};
}

struct Crossing {
  double t = 0;  ///< fraction of the edge's length
  Vec2 at;
  bool operator<(const Crossing& o) const { return t < o.t; }
};

/// Where the inside of `e` crosses the line that `side` lies on.
void cross(const Edge& e, const Edge& side, std::vector<Crossing>& found) {
  const bool upright = side.a.x == side.b.x;
  const auto coordinate = upright ? &Vec2::x : &Vec2::y;
  const double level = side.a.*coordinate;
  const auto add = [&](double t) {
    Vec2 at = e.at(t);
    at.*coordinate = level;
    const bool inner = t > 0 && t < 1 && plane::norm(at - e.a) > kTolerance && plane::norm(at - e.b) > kTolerance;
    if (inner) found.push_back({t, at});
  };
  if (!e.is_arc()) {
    const double along = (e.b - e.a).*coordinate;
    if (along != 0) add((level - e.a.*coordinate) / along);
    return;
  }
  const double lean = (level - e.centre.*coordinate) / e.radius();
  if (std::abs(lean) >= 1) return;
  const double turn = 2 * std::numbers::pi, from = atan2_of(e.a.y - e.centre.y, e.a.x - e.centre.x);
  for (const double sign : {-1.0, 1.0}) {
    const double angle = (upright ? 0 : turn / 4) + sign * acos_of(lean), sweep = e.sweep();
    const double ahead = sweep > 0 ? angle - from : from - angle;
    add((ahead - turn * std::floor(ahead / turn)) / std::abs(sweep));
  }
}

/// The section's edge `ring` in pieces that each lie inside the rectangle, outside, or along a side.
std::vector<BiteEdge> split(const Edge& e, std::size_t ring, const Path& box) {
  std::vector<Crossing> ends{{0, e.a}};
  for (const Edge& side : box) cross(e, side, ends);
  std::sort(ends.begin(), ends.end());
  ends.push_back({1, e.b});
  std::vector<BiteEdge> pieces;
  for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
    if (i > 0 && plane::norm(ends[i].at - ends[i + 1].at) <= kTolerance) ends[i + 1].at = ends[i].at;
    pieces.push_back({{ends[i].at, ends[i + 1].at, e.turn, e.centre}, ring, ends[i].t, ends[i + 1].t});
  }
  return pieces;
}

/// True inside and where a piece runs along a side with its metal inside; nullopt where it grazes a side.
std::optional<bool> is_taken(const BiteEdge& piece, const Path& section, const Path& box) {
  const Vec2 middle = section[*piece.ring].at((piece.t0 + piece.t1) / 2);
  bool grazes = false;
  for (const Edge& side : box) {
    const Vec2 along = plane::unit(side.b - side.a);
    const auto inside = [&](Vec2 p) { return plane::cross(along, p - side.a); };
    if (inside(middle) < -kTolerance) return false;
    if (inside(middle) > kTolerance) continue;
    const Edge& e = piece.edge;
    if (e.is_arc() || std::abs(inside(e.a)) > kTolerance || std::abs(inside(e.b)) > kTolerance) grazes = true;
    if (plane::dot(e.b - e.a, along) < 0) return false;
  }
  if (grazes) return std::nullopt;
  return true;
}

/// Runs of taken pieces, in the section's order; none where it is taken whole (no end to begin from).
std::vector<Bite> runs(const std::vector<BiteEdge>& pieces, const std::vector<bool>& taken) {
  const std::size_t n = pieces.size();
  std::vector<Bite> found;
  for (std::size_t i = 0; i < n; ++i) {
    if (!taken[i] || taken[(i + n - 1) % n]) continue;
    Bite& run = found.emplace_back();
    for (std::size_t k = i; taken[k % n]; ++k) run.push_back(pieces[k % n]);
  }
  return found;
}

/// The rectangle's outline as a way to walk along.
class Fence {
 public:
  explicit Fence(const Path& box) : box_(box) {
    for (const Edge& side : box) starts_.push_back(length_), length_ += side.length();
  }
  /// How far along a point on the outline lies.
  [[nodiscard]] double place(Vec2 p) const {
    std::size_t side = 0;
    while (side + 1 < box_.size() && plane::distance(p, {box_[side]}) > kTolerance) ++side;
    return starts_[side] + plane::norm(p - box_[side].a);
  }
  [[nodiscard]] double way(double from, double to) const {
    return to - from - length_ * std::floor((to - from) / length_);
  }
  /// Adds the edges from one point of the outline to another; false if they go along the side that is open.
  [[nodiscard]] bool walk(Vec2 from, Vec2 to, Side open, Bite& bite) const {
    double left = way(place(from), place(to));
    if (left <= kTolerance || length_ - left <= kTolerance) return false;
    std::size_t side = 0;
    while (side + 1 < box_.size() && starts_[side + 1] <= place(from) + kTolerance) ++side;
    for (Vec2 at = from; left > kTolerance; side = (side + 1) % box_.size()) {
      if (side == open) return false;
      const double rest = plane::norm(box_[side].b - at);
      const Vec2 next = rest < left - kTolerance ? box_[side].b : to;
      bite.push_back({.edge = line(at, next)});
      at = next;
      left -= rest;
    }
    return true;
  }

 private:
  const Path& box_;
  std::vector<double> starts_;
  double length_ = 0;
};

/// The flat floor of an inward slot can end in a flat wall or on a cone that goes on towards the axis, and must pass
/// clear of the circles that bound the mouth.
bool floor_fits(const Path& section, const Slot& slot, const Bite& bite) {
  const std::size_t n = bite.size();
  const auto is_floor = [&](const BiteEdge& e) { return !e.ring && e.edge.a.y == e.edge.b.y; };
  for (std::size_t i = 0; i < n; ++i) {
    const BiteEdge &before = bite[(i + n - 1) % n], &e = bite[i];
    const bool starts = is_floor(e), ends = is_floor(before);
    if (!starts && !ends) {
      if (e.edge.a.y > slot.floor - kVisible) return false;
      continue;
    }
    const BiteEdge& wall = starts ? before : e;
    if (!wall.ring) continue;
    const Edge& whole = section[*wall.ring];
    const bool within = starts ? wall.t1 < 1 : wall.t0 > 0;
    const bool flat = whole.a.x == whole.b.x, cylinder = whole.a.y == whole.b.y;
    if (whole.is_arc() || cylinder || !within) return false;
    if (!flat && std::min(whole.a.y, whole.b.y) > slot.floor - kVisible) return false;
  }
  return true;
}

/// The slot's sides must reach the outline everywhere, well off the axis; and each stretch be long enough to see.
bool is_sound(const Bite& bite, double half_width) {
  return std::all_of(bite.begin(), bite.end(), [&](const BiteEdge& e) {
    const double bulge = e.edge.is_arc() ? e.edge.radius() : 0;
    return std::min(e.edge.a.y, e.edge.b.y) - bulge > 1.01 * half_width && e.edge.length() > kVisible;
  });
}

}  // namespace

double level_of(const Slot& slot) { return slot.inward ? length_of(slot.floor, slot.width / 2) : slot.floor; }

std::optional<std::vector<Bite>> bites(const Path& section, const Slot& slot) {
  const Path box = rectangle(section, slot);
  std::vector<BiteEdge> pieces;
  std::vector<bool> taken;
  for (std::size_t i = 0; i < section.size(); ++i) {
    for (const BiteEdge& piece : split(section[i], i, box)) {
      const std::optional<bool> is = is_taken(piece, section, box);
      if (!is) return std::nullopt;
      pieces.push_back(piece);
      taken.push_back(*is);
    }
  }
  if (std::all_of(taken.begin(), taken.end(), [](bool t) { return t; })) return std::nullopt;

  // From the end of each run along the rectangle, which lies in metal there, to the run that begins next.
  const Fence fence(box);
  const std::vector<Bite> mouths = runs(pieces, taken);
  std::vector<bool> used(mouths.size(), false);
  std::vector<Bite> found;
  for (std::size_t first = 0; first < mouths.size(); ++first) {
    if (used[first]) continue;
    Bite& bite = found.emplace_back();
    std::size_t run = first;
    do {
      used[run] = true;
      bite.insert(bite.end(), mouths[run].begin(), mouths[run].end());
      const Vec2 end = mouths[run].back().edge.b;
      const auto ahead = [&](const Bite& m) { return fence.way(fence.place(end), fence.place(m.front().edge.a)); };
      const auto next = std::min_element(mouths.begin(), mouths.end(),
                                         [&](const Bite& m, const Bite& o) { return ahead(m) < ahead(o); });
      if (!fence.walk(end, next->front().edge.a, slot.inward ? low_radius : high_radius, bite)) return std::nullopt;
      run = static_cast<std::size_t>(next - mouths.begin());
    } while (!used[run]);
    if (run != first || !is_sound(bite, slot.width / 2)) return std::nullopt;
    if (slot.inward && !floor_fits(section, slot, bite)) return std::nullopt;
  }
  return found;
}

}  // namespace groovewright::solid
