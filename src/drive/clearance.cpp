#include "groovewright/drive/clearance.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <type_traits>

#include "distances.h"
#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"
#include "prisms.h"

namespace groovewright::drive {
namespace {

using Kind = PartId::Kind;

constexpr double kDegree = std::numbers::pi / 180;
/// Steps of a slide's way, and bounds for an arm's.
constexpr int kSlideSteps = 100, kFewestSteps = 8, kMostSteps = 360;
/// Golden section: each look leaves this much of the way in question.
constexpr double kGolden = 0.6180339887498949;
constexpr int kLooks = 31;

/// What a distance in the plane is made of: two middles with so much round each. `Far` is the distance alone, for
/// sweeps.
struct Near {
  double gap = kUnlimited;
  Vec2 a, b;
  double around_a = 0, around_b = 0;
};
struct Far {
  double gap = kUnlimited;
};
template <class N>
N near_by(double gap, Vec2 a, Vec2 b, double around_a = 0, double around_b = 0) {
  if constexpr (std::is_same_v<N, Near>)
    return {gap, a, b, around_a, around_b};
  else
    return {gap};
}
template <class N>
N rounded(Vec2 a, Vec2 b, double around_a, double around_b) {
  return near_by<N>(plane::norm(b - a) - around_a - around_b, a, b, around_a, around_b);
}
template <class N>
void take_less(N& least, const N& now) {
  if (now.gap < least.gap) least = now;
}

}  // namespace

std::string part_name(const Drive& drive, const Course& course, PartId part) {
  const auto name = [&](std::size_t i) { return pulley_at(drive, course, i).name; };
  switch (part.kind) {
    case Kind::pulley:
      return name(part.index);
    case Kind::span:
      return "belt from " + name(part.index) + " to " + name(course.next(part.index));
    case Kind::obstacle:
      return drive.obstacles[part.index].name;
    case Kind::arm:
      return drive.tensioner->name + "'s body";
  }
  throw Broken("part_name: a kind that is none");
}

Clearances::Clearances(const Drive& drive, const Course& course) : drive_(&drive), course_(course) {
  const std::size_t n = course.size();
  bodies_.reserve(n);
  for (std::size_t i = 0; i < n; ++i) {
    const Pulley& p = pulley_at(drive, course, i);
    const double belt = p.side == Side::ribs ? p.radius + drive.belt.back() : p.radius + drive.belt.height.value;
    bodies_.push_back({p.body_radius(), std::max(p.body_radius(), belt)});
  }
  if (drive.tensioner && n >= 3) swing_.emplace(drive, course);
  laid_ = lay(course_.rounds, route_);
  if (!laid_ && swing_) {
    // The free position may be out of the belt's reach; any other on the swing serves to place what stands still.
    course_.rounds[course_.idler].centre = idler_centre(*drive.tensioner, drive.tensioner->far_stop());
    laid_ = lay(course_.rounds, route_);
  }
  if (!laid_) return;
  add_pairs();
  fixed_.resize(pairs_.size());
  for (std::size_t k = 0; k < pairs_.size(); ++k) {
    if (!pairs_[k].moves) measure(k, 0, fixed_[k]);
  }
}

bool Clearances::moves(PartId part) const {
  if (!swing_) return false;
  const std::size_t t = course_.idler, before = course_.before(t), after = course_.next(t);
  switch (part.kind) {
    case Kind::pulley:  // the wraps of both neighbours change
      return part.index == t || part.index == before || part.index == after;
    case Kind::span:
      return part.index == t || part.index == before;
    case Kind::obstacle:
      return false;
    case Kind::arm:
      return true;
  }
  return false;
}

Axial Clearances::axial_of(PartId part) const {
  const auto pulley = [&](std::size_t i) -> const Pulley& { return pulley_at(*drive_, course_, i); };
  switch (part.kind) {
    case Kind::pulley:
      return pulley(part.index).axial;
    case Kind::span: {
      const double a = pulley(part.index).plane, b = pulley(course_.next(part.index)).plane;
      const double pitch = drive_->belt.pitch.value;
      return {std::min(a, b) - pitch / 2, std::max(a, b) + (drive_->belt.ribs - 0.5) * pitch};
    }
    case Kind::obstacle:
      return drive_->obstacles[part.index].axial;
    case Kind::arm:
      return drive_->tensioner->arm_axial;
  }
  return {};
}

void Clearances::add_pairs() {
  const std::size_t n = course_.size(), obstacles = drive_->obstacles.size();
  pairs_.reserve(2 * n * n + 2 * n * obstacles);
  const auto add = [&](PartId a, PartId b) {
    const Axial of_a = axial_of(a), of_b = axial_of(b);
    pairs_.push_back({a, b, std::max(of_b.rear - of_a.front, of_a.rear - of_b.front), moves(a) || moves(b)});
  };
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t k = i + 1; k < n; ++k) add({Kind::pulley, i}, {Kind::pulley, k});
    for (std::size_t k = 0; k < n; ++k) {
      if (k != i && k != course_.next(i)) add({Kind::span, i}, {Kind::pulley, k});
    }
    for (std::size_t k = i + 2; k < n; ++k) {
      if (course_.next(k) != i) add({Kind::span, i}, {Kind::span, k});
    }
    for (std::size_t k = 0; k < obstacles; ++k) {
      add({Kind::pulley, i}, {Kind::obstacle, k});
      add({Kind::span, i}, {Kind::obstacle, k});
    }
  }
  if (!swing_ || drive_->tensioner->slides() || drive_->tensioner->arm_half_width <= 0) return;
  for (std::size_t i = 0; i < n; ++i) {
    if (i != course_.idler) add({Kind::arm, 0}, {Kind::pulley, i});
  }
  for (std::size_t k = 0; k < obstacles; ++k) add({Kind::arm, 0}, {Kind::obstacle, k});
}

bool Clearances::place(double position) {
  if (!swing_) return laid_;
  Spot spot;
  if (!laid_ || !swing_->at(position, spot)) return false;
  const std::size_t t = course_.idler, before = course_.before(t), after = course_.next(t);
  course_.rounds[t].centre = spot.centre;
  route_.spans[before] = spot.in;
  route_.spans[t] = spot.out;
  route_.wraps[before] = spot.wrap_before;
  route_.wraps[t] = spot.wrap;
  route_.wraps[after] = spot.wrap_after;
  return true;
}

double Clearances::radius_towards(std::size_t i, Vec2 direction) const {
  const Body& body = bodies_[i];
  const double wrap = route_.wraps[i];
  if (wrap <= 0) return body.bare;
  const Round& round = course_.rounds[i];
  const Vec2 first = route_.spans[course_.before(i)].to - round.centre, last = route_.spans[i].from - round.centre;
  const auto ahead = [&](Vec2 a, Vec2 b) { return round.turn * plane::cross(a, b) >= 0; };
  const bool covered = wrap <= std::numbers::pi ? ahead(first, direction) && ahead(direction, last)
                                                : ahead(first, direction) || ahead(direction, last);
  return covered ? body.with_belt : body.bare;
}

double Clearances::band_towards(std::size_t i, Vec2 to) const {
  const Span& span = route_.spans[i];
  const bool inside = course_.loop * plane::cross(span.along, to - span.from) > 0;
  return inside ? drive_->belt.depth() : drive_->belt.back();
}

template <class N>
N Clearances::pulley_to(std::size_t i, PartId other) const {
  const Vec2 centre = course_.rounds[i].centre;
  const auto to_point = [&](Vec2 p, double around) {
    return rounded<N>(centre, p, radius_towards(i, p - centre), around);
  };
  if (other.kind == Kind::pulley) {
    const Vec2 to = course_.rounds[other.index].centre;
    return to_point(to, radius_towards(other.index, centre - to));
  }
  const Obstacle& obstacle = drive_->obstacles[other.index];
  if (obstacle.radius > 0) return to_point(obstacle.centre, obstacle.radius);
  N least;
  each_edge(obstacle, [&](const Piece& edge) { take_less(least, to_point(nearest_on(edge, centre), 0)); });
  if (!holds(obstacle.polygon, centre)) return least;
  // All of the rim must come out over the nearest edge.
  const double deep = least.gap + 2 * bodies_[i].bare;
  if constexpr (std::is_same_v<N, Near>)
    return {-deep, centre, least.b, plane::norm(least.b - centre) - deep, 0};
  else
    return {-deep};
}

template <class N>
N Clearances::span_to(std::size_t i, PartId other) const {
  const Span& span = route_.spans[i];
  const Piece piece{span.from, span.to};
  const auto to_centre = [&](Vec2 centre, auto&& around) {
    const Vec2 from = nearest_on(piece, centre);
    return rounded<N>(from, centre, band_towards(i, centre), around(from - centre));
  };
  const auto to_piece = [&](const Piece& another, auto&& its_band) -> N {
    if (const auto at = crossing(piece, another)) return near_by<N>(-drive_->belt.height.value, *at, *at);
    const Nearest n = nearest_between(piece, another);
    return rounded<N>(n.on_s, n.on_t, band_towards(i, n.on_t), its_band(n.on_s));
  };
  if (other.kind == Kind::pulley) {
    return to_centre(course_.rounds[other.index].centre, [&](Vec2 back) { return radius_towards(other.index, back); });
  }
  if (other.kind == Kind::span) {
    const Span& s = route_.spans[other.index];
    return to_piece({s.from, s.to}, [&](Vec2 p) { return band_towards(other.index, p); });
  }
  const Obstacle& obstacle = drive_->obstacles[other.index];
  if (obstacle.radius > 0) return to_centre(obstacle.centre, [&](Vec2) { return obstacle.radius; });
  if (holds(obstacle.polygon, span.from)) return near_by<N>(-drive_->belt.height.value, span.from, span.from);
  N least;
  each_edge(obstacle, [&](const Piece& edge) { take_less(least, to_piece(edge, [](Vec2) { return 0.0; })); });
  return least;
}

template <class N>
N Clearances::arm_to(PartId other) const {
  const Tensioner& t = *drive_->tensioner;
  const Piece arm{t.pivot, course_.rounds[course_.idler].centre};
  const double half = t.arm_half_width;
  if (other.kind == Kind::pulley) {
    const Vec2 centre = course_.rounds[other.index].centre, from = nearest_on(arm, centre);
    return rounded<N>(from, centre, half, radius_towards(other.index, from - centre));
  }
  const Obstacle& obstacle = drive_->obstacles[other.index];
  if (obstacle.radius > 0) return rounded<N>(nearest_on(arm, obstacle.centre), obstacle.centre, half, obstacle.radius);
  if (holds(obstacle.polygon, arm.a)) return near_by<N>(-half, arm.a, arm.a);
  N least;
  each_edge(obstacle, [&](const Piece& edge) {
    if (const auto at = crossing(arm, edge)) return take_less(least, near_by<N>(-half, *at, *at));
    const Nearest n = nearest_between(arm, edge);
    take_less(least, rounded<N>(n.on_s, n.on_t, half, 0));
  });
  return least;
}

template <class N>
N Clearances::in_plane(const Pair& pair) const {
  switch (pair.a.kind) {
    case Kind::pulley:
      return pulley_to<N>(pair.a.index, pair.b);
    case Kind::span:
      return span_to<N>(pair.a.index, pair.b);
    case Kind::arm:
      return arm_to<N>(pair.b);
    case Kind::obstacle:
      break;
  }
  throw Broken("Clearances: an obstacle comes second");
}

void Clearances::measure(std::size_t k, double position, Gap& gap) const {
  const Pair& pair = pairs_[k];
  const auto long_span = [&](PartId part) {
    return part.kind == Kind::span && route_.spans[part.index].length > drive_->limits.long_span.value;
  };
  const double flat = in_plane<Far>(pair).gap;
  gap = {pair.a, pair.b, prism_gap(flat, pair.axial), flat, pair.axial, drive_->limits.clearance.value, position,
         {},     {}};
  if (long_span(pair.a) || long_span(pair.b)) gap.limit = drive_->limits.span_clearance.value;
}

void Clearances::find_ends(std::size_t k, Gap& gap) const {
  const Near near = in_plane<Near>(pairs_[k]);
  const Vec2 way = near.b - near.a;
  const double apart = plane::norm(way), per = apart > 0 ? 1 / apart : 0;
  gap.at_a = near.a + near.around_a * per * way;
  gap.at_b = near.b - near.around_b * per * way;
}

const std::vector<Gap>& Clearances::with_ends() {
  if (!ends_known_) {
    for (std::size_t k = 0; k < pairs_.size(); ++k) {
      if (!pairs_[k].moves) find_ends(k, fixed_[k]);
    }
  }
  ends_known_ = true;
  return fixed_;
}

bool Clearances::at(double position, std::vector<Gap>& gaps) {
  if (!place(position)) return false;
  gaps = with_ends();
  for (std::size_t k = 0; k < pairs_.size(); ++k) {
    if (!pairs_[k].moves) continue;
    measure(k, position, gaps[k]);
    find_ends(k, gaps[k]);
  }
  return true;
}

double Clearances::gap_now(std::size_t k) const { return prism_gap(in_plane<Far>(pairs_[k]).gap, pairs_[k].axial); }

void Clearances::refine(std::size_t k, double from, double to, Least& best) {
  const auto look = [&](double position) {
    if (!place(position)) return kUnlimited;
    const double gap = gap_now(k);
    if (gap < best.gap) best = {gap, position};
    return gap;
  };
  double a = to - kGolden * (to - from), b = from + kGolden * (to - from);
  double at_a = look(a), at_b = look(b);
  for (int i = 0; i < kLooks; ++i) {
    if (at_a < at_b) {
      to = b;
      b = a;
      at_b = at_a;
      a = to - kGolden * (to - from);
      at_a = look(a);
    } else {
      from = a;
      a = b;
      at_a = at_b;
      b = from + kGolden * (to - from);
      at_b = look(b);
    }
  }
}

int Clearances::steps() const {
  if (drive_->tensioner->slides()) return kSlideSteps;
  const double way = std::abs(swing_->far_stop() - swing_->near_stop());
  return std::clamp(static_cast<int>(std::ceil(way / kDegree)), kFewestSteps, kMostSteps);
}

double Clearances::step_at(int i) const {
  const double from = swing_->near_stop(), way = swing_->far_stop() - from;
  return from + way * i / steps();
}

double Clearances::glance() {
  double least = kUnlimited;
  for (std::size_t k = 0; k < pairs_.size(); ++k) {
    if (!pairs_[k].moves) least = std::min(least, fixed_[k].gap);
  }
  if (!swing_) return least;
  for (const int i : {0, steps() / 2, steps()}) {
    const double position = step_at(i);
    if (!place(position)) continue;
    for (std::size_t k = 0; k < pairs_.size(); ++k) {
      if (pairs_[k].moves) least = std::min(least, gap_now(k));
    }
  }
  return least;
}

bool Clearances::over_swing(std::vector<Gap>& gaps) {
  if (!swing_) return at(0, gaps);
  const int last = steps();
  std::vector<Least> least(pairs_.size());
  std::vector<int> best(pairs_.size(), -1);
  for (int i = 0; i <= last; ++i) {
    const double position = step_at(i);
    if (!place(position)) continue;
    for (std::size_t k = 0; k < pairs_.size(); ++k) {
      if (!pairs_[k].moves) continue;
      const double gap = gap_now(k);
      if (best[k] >= 0 && gap >= least[k].gap) continue;
      least[k] = {gap, position};
      best[k] = i;
    }
  }
  gaps = with_ends();
  bool laid = false;
  for (std::size_t k = 0; k < pairs_.size(); ++k) {
    if (!pairs_[k].moves || best[k] < 0) continue;
    laid = true;
    if (least[k].gap < kFarApart)
      refine(k, step_at(std::max(best[k] - 1, 0)), step_at(std::min(best[k] + 1, last)), least[k]);
    (void)place(least[k].position);
    measure(k, least[k].position, gaps[k]);
    find_ends(k, gaps[k]);
  }
  return laid;
}

}  // namespace groovewright::drive
