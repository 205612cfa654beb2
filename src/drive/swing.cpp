#include "groovewright/drive/swing.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"
#include "root.h"

namespace groovewright::drive {
namespace {

/// A change of sign that leaves more than this is a jump, where the belt would fall off, mm.
constexpr double kJump = 1e-6;

}  // namespace

Swing::Swing(const Drive& drive, const Course& course) {
  require(drive.tensioner.has_value() && course.idler != kNone, "Swing: a tensioner");
  require(course.size() >= 3, "Swing: three rounds at least");
  const Tensioner& t = *drive.tensioner;
  mover_.slides = t.slides();
  mover_.pivot = t.pivot;
  mover_.direction = {cos_of(t.direction), sin_of(t.direction)};
  mover_.arm = t.arm_length;
  near_ = t.near_stop();
  far_ = t.far_stop();
  free_ = t.free;
  effort_ = t.effort;
  rate_ = t.rate;
  friction_ = t.friction.value;
  const double stiffness = drive.belt.stiffness_per_rib.value * drive.belt.ribs;
  give_ = stiffness > 0 ? 1 / stiffness : 0;
  measured_under_ = drive.belt.measured_under_per_rib.value * drive.belt.ribs;

  const std::size_t n = course.size(), b = course.before(course.idler), a = course.next(course.idler);
  before_ = course.rounds[b];
  idler_ = course.rounds[course.idler];
  after_ = course.rounds[a];
  laid_ = true;
  // From `after` on round to `before` nothing moves but the two ends' arcs.
  Span last;
  for (std::size_t i = a; i != b; i = course.next(i)) {
    Span span;
    laid_ = laid_ && tangent(course.rounds[i], course.rounds[course.next(i)], span);
    if (!laid_) return;
    fixed_ += span.length;
    if (i == a) {
      out_of_after_ = span;
    } else {
      fixed_ += course.rounds[i].radius * wrap_between(course.rounds[i], last, span, n == 2);
    }
    last = span;
  }
  into_before_ = last;

  // Three rounds with the idler are two without.
  const bool two = n == 3;
  past_.touches = false;
  has_past_ = tangent(before_, after_, past_.in);
  if (!has_past_) return;
  past_.wrap_before = wrap_between(before_, into_before_, past_.in, two);
  past_.wrap_after = wrap_between(after_, past_.in, out_of_after_, two);
  past_.length = fixed_ + past_.in.length + before_.radius * past_.wrap_before + after_.radius * past_.wrap_after;
}

bool Swing::at(double position, Spot& spot) const {
  if (!laid_) return false;
  spot.touches = true;
  Round idler = idler_;
  Vec2 motion = mover_.direction;
  if (mover_.slides) {
    idler.centre = mover_.pivot + position * mover_.direction;
  } else {
    const Vec2 arm = mover_.arm * Vec2{cos_of(position), sin_of(position)};
    idler.centre = mover_.pivot + arm;
    motion = {-arm.y, arm.x};
  }
  if (!tangent(before_, idler, spot.in) || !tangent(idler, after_, spot.out)) return false;
  spot.wrap = wrap_between(idler, spot.in, spot.out, false);
  if (spot.wrap <= 0 && has_past_) spot = past_;
  spot.position = position;
  spot.centre = idler.centre;
  if (!spot.touches) {
    const double way = past_.in.length;
    const double foot = std::clamp(plane::dot(spot.centre - past_.in.from, past_.in.along), way / 20, way * 19 / 20);
    const Vec2 meet = past_.in.from + foot * past_.in.along;
    spot.in = {past_.in.from, meet, past_.in.along, foot};
    spot.out = {meet, past_.in.to, past_.in.along, way - foot};
    return true;
  }
  spot.wrap_before = wrap_between(before_, into_before_, spot.in, false);
  spot.wrap_after = wrap_between(after_, spot.out, out_of_after_, false);
  spot.length = fixed_ + spot.in.length + spot.out.length + before_.radius * spot.wrap_before +
                idler.radius * spot.wrap + after_.radius * spot.wrap_after;
  // Moving an end of a taut belt along its span lengthens it by as much; what the arcs change cancels.
  spot.gain = plane::dot(spot.in.along - spot.out.along, motion);
  return true;
}

double Swing::effort(double position) const { return effort_ + rate_ * std::abs(position - free_); }

Band tension_at(const Swing& swing, const Spot& spot) {
  const double take_up = spot.gain * swing.spring_sense();
  if (!(take_up > 0)) return {};
  const double mid = swing.effort(spot.position) / take_up;
  return {mid * (1 - swing.friction()), mid, mid * (1 + swing.friction())};
}

namespace {

using Station = Seats::Station;

double position_of(const Swing& swing, int i) {
  const double near = swing.near_stop(), far = swing.far_stop();
  return i == Seats::kSteps ? near : far + (near - far) * i / Seats::kSteps;
}

Station station_at(const Swing& swing, double position) {
  Spot spot;
  Station s{position};
  if (!swing.at(position, spot)) return s;
  const double take_up = spot.gain * swing.spring_sense();
  s.drawn = true;
  s.length = spot.length;
  s.touches = spot.touches;
  s.holds = !spot.touches || take_up > 0;
  if (spot.touches && s.holds) s.pull = swing.effort(position) / take_up;
  return s;
}

/// The last place at which a path can be drawn, on the way from a station at which it can to one at which it can't.
Station border_of(const Swing& swing, Station drawn, double not_drawn) {
  constexpr int kHalvings = 50;
  for (int i = 0; i < kHalvings; ++i) {
    const Station middle = station_at(swing, drawn.position + (not_drawn - drawn.position) / 2);
    if (middle.drawn) {
      drawn = middle;
    } else {
      not_drawn = middle.position;
    }
  }
  return drawn;
}
Station border_between(const Swing& swing, const Station& a, const Station& b) {
  return a.drawn ? border_of(swing, a, b.position) : border_of(swing, b, a.position);
}

/// Path less belt under its tension: below 0 the belt is slack. NaN where the spring cannot tighten it.
double excess_of(const Swing& swing, double belt_length, const Station& s) {
  if (!s.holds) return std::numeric_limits<double>::quiet_NaN();
  return s.length - belt_length * (1 + swing.give() * (s.pull - swing.measured_under()));
}
double excess_at_station(const Swing& swing, double belt_length, const Station& s, int i) {
  const double excess = excess_of(swing, belt_length, s);
  // A belt that just reaches a stop is on it.
  return (i == 0 || i == Seats::kSteps) && std::abs(excess) < kSeatError ? 0 : excess;
}

/// One belt's way from the far stop to the near one, station by station, until it is at rest.
class Seeker {
 public:
  Seeker(const Swing& swing, double belt_length) : swing_(swing), belt_length_(belt_length) {}

  /// True where the seat is found.
  bool pass(const Station& s, double here) {
    if (here >= 0 && last_excess_ <= 0 && rests_between(s.position, here)) return true;
    if (!std::isnan(here)) {
      tightens_ = tightens_ || s.touches;
      if (longest_ < 0 && here > 0) {
        found_.state = Seat::State::belt_too_short;
        found_.lacks = here;
        settle(swing_.far_stop());
        return true;
      }
      if (s.length > longest_) {
        longest_ = s.length;
        longest_excess_ = here;
      }
    }
    last_ = s.position;
    last_excess_ = here;
    return false;
  }
  bool pass(const Station& s) { return pass(s, excess_of(swing_, belt_length_, s)); }
  /// After the last station.
  void end() {
    if (!tightens_) return;
    found_.state = Seat::State::belt_too_long;
    found_.lacks = -longest_excess_;
    settle(swing_.near_stop());
  }
  [[nodiscard]] const Seat& found() const { return found_; }

 private:
  bool rests_between(double position, double here) {
    const auto excess = [&](double x) { return excess_of(swing_, belt_length_, station_at(swing_, x)); };
    const double near_enough = 1e-15 * std::max(1.0, std::abs(swing_.near_stop()) + std::abs(swing_.far_stop()));
    const double root = root_between(excess, last_, last_excess_, position, here, near_enough);
    if (!(std::abs(excess(root)) < kJump)) return false;
    found_.state = Seat::State::seated;
    settle(root);
    return true;
  }
  void settle(double position) {
    found_.position = position;
    found_.to_near = std::abs(position - swing_.near_stop());
    found_.to_far = std::abs(swing_.far_stop() - position);
    Spot spot;
    if (!swing_.at(position, spot)) return;
    found_.length = spot.length;
    found_.take_up = spot.gain * swing_.spring_sense();
    found_.effort = swing_.effort(position);
    if (found_.state == Seat::State::seated) found_.tension = tension_at(swing_, spot);
  }

  const Swing& swing_;
  double belt_length_;
  Seat found_;
  double last_ = 0, last_excess_ = std::numeric_limits<double>::quiet_NaN();
  double longest_ = -1, longest_excess_ = 0;
  bool tightens_ = false;
};

/// `station` gives the stations in turn, `border` what lies between one and the last.
template <class F, class G>
Seat seek(const Swing& swing, double belt_length, const F& station, const G& border) {
  Seeker seeker(swing, belt_length);
  bool was_drawn = false;
  for (int i = 0; i <= Seats::kSteps; ++i) {
    const Station s = station(i);
    // A rest place may hide between the last station and the border of what can be drawn.
    if (i > 0 && s.drawn != was_drawn && seeker.pass(border(i))) return seeker.found();
    if (seeker.pass(s, excess_at_station(swing, belt_length, s, i))) return seeker.found();
    was_drawn = s.drawn;
  }
  seeker.end();
  return seeker.found();
}

}  // namespace

Seat seat(const Swing& swing, double belt_length) {
  Station last, here;
  return seek(
      swing, belt_length,
      [&](int i) {
        last = here;
        return here = station_at(swing, position_of(swing, i));
      },
      [&](int) { return border_between(swing, last, here); });
}

Seats::Seats(const Swing& swing) : swing_(&swing) {
  for (std::size_t i = 0; i <= kSteps; ++i) {
    stations_[i] = station_at(swing, position_of(swing, static_cast<int>(i)));
    if (i > 0 && stations_[i].drawn != stations_[i - 1].drawn) {
      borders_[i] = border_between(swing, stations_[i - 1], stations_[i]);
    }
  }
}

Seat Seats::of(double belt_length) const {
  return seek(
      *swing_, belt_length, [&](int i) -> const Station& { return stations_[static_cast<std::size_t>(i)]; },
      [&](int i) -> const Station& { return borders_[static_cast<std::size_t>(i)]; });
}

std::optional<Seats::Reach> Seats::reach(double belt_length) const {
  std::optional<Reach> most;
  double last = std::numeric_limits<double>::quiet_NaN(), from = 0;
  const auto pass = [&](const Station& s, double here) {
    if (here >= 0 && last <= 0) {
      if (!most) most.emplace();
      most->to_near = std::max(most->to_near, std::abs(from - swing_->near_stop()));
      most->to_far = std::max(most->to_far, std::abs(swing_->far_stop() - s.position));
    }
    last = here, from = s.position;
  };
  for (std::size_t i = 0; i <= kSteps; ++i) {
    const Station& s = stations_[i];
    if (i > 0 && s.drawn != stations_[i - 1].drawn) pass(borders_[i], excess_of(*swing_, belt_length, borders_[i]));
    pass(s, excess_at_station(*swing_, belt_length, s, static_cast<int>(i)));
  }
  return most;
}

Travel travel(const Drive& drive, const Swing& swing) {
  const Belt& belt = drive.belt;
  const double length = belt.effective_length.value;
  Travel t;
  t.shortest_length = length - belt.shorter.value - drive.duty.hot_growth.value;
  t.longest_length = length + belt.longer.value + belt.stretch.value * length + drive.duty.cold_shrink.value;
  t.shortest = seat(swing, t.shortest_length);
  t.nominal = seat(swing, length);
  t.longest = seat(swing, t.longest_length);
  t.all_seated = true;
  t.least_to_near = t.least_to_far = kUnlimited;
  for (const Seat* s : {&t.shortest, &t.nominal, &t.longest}) {
    t.all_seated = t.all_seated && s->state == Seat::State::seated;
    t.least_to_near = std::min(t.least_to_near, s->to_near);
    t.least_to_far = std::min(t.least_to_far, s->to_far);
  }
  if (!t.all_seated) t.least_to_near = t.least_to_far = 0;
  return t;
}

std::vector<CurvePoint> tension_curve(const Swing& swing, int points) {
  require(points >= 2, "tension_curve: two points at least");
  std::vector<CurvePoint> curve;
  Spot spot;
  for (int i = 0; i < points; ++i) {
    const double share = static_cast<double>(i) / (points - 1);
    if (!swing.at(swing.near_stop() + (swing.far_stop() - swing.near_stop()) * share, spot)) continue;
    curve.push_back({spot.position, spot.length, spot.gain * swing.spring_sense(), tension_at(swing, spot)});
  }
  return curve;
}

double length_at_middle(const Swing& swing) {
  Spot spot;
  return swing.at((swing.near_stop() + swing.far_stop()) / 2, spot) ? spot.length : 0;
}

bool tensioner_on_slack_span(const Drive& drive, const Course& course) {
  for (std::size_t i = course.next(course.driver); i != course.driver; i = course.next(i)) {
    if (i == course.idler) return true;
    if (pulley_at(drive, course, i).takes_torque()) return false;
  }
  return false;
}

}  // namespace groovewright::drive
