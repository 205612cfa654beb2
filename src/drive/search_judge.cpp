#include "search_judge.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "groovewright/drive/belts.h"

namespace groovewright::drive {
namespace {

constexpr double kDegree = std::numbers::pi / 180;
/// Lengths whose limit is 0 are measured by this, mm.
constexpr double kLengthScale = 10;
/// A glance may differ from the long look by rounding.
constexpr double kGlanceError = 1e-8;

}  // namespace

Judge::Judge(const Drive& base, const SearchSpace& space)
    : base_(base),
      space_(space),
      drive_(base),
      course_(course(base)),
      picked_(space.varied.size()),
      standing_(base, course_) {
  for (const double length : space.lengths) {
    const Belt b = with_length(base, length, "").belt;
    Offer o{.length = length, .short_one = length - b.shorter.value, .long_one = length + b.longer.value};
    o.shortest = length - b.shorter.value - base.duty.hot_growth.value;
    o.longest = length + b.longer.value + b.stretch.value * length + base.duty.cold_shrink.value;
    offers_.push_back(o);
  }
  for (const Varied& v : space.varied) {
    rounds_.push_back(v.pulley == kNone
                          ? course_.idler
                          : static_cast<std::size_t>(std::find(course_.pulley.begin(), course_.pulley.end(), v.pulley) -
                                                     course_.pulley.begin()));
  }
  // Belt room is found with a belt of no length; each belt's own is added.
  drive_.belt.effective_length.value = drive_.belt.shorter.value = 0;
}

void Judge::take_layout(std::uint64_t layout) {
  layout_ = layout;
  pick(space_, layout, picked_);
  for (std::size_t i = 0; i < picked_.size(); ++i) {
    const Varied& v = space_.varied[i];
    const double radius = v.radii[picked_[i].radius];
    const Vec2 place = v.places[picked_[i].place];
    Pulley& p = v.pulley == kNone ? drive_.tensioner->idler : drive_.pulleys[v.pulley];
    const Pulley& was = v.pulley == kNone ? base_.tensioner->idler : base_.pulleys[v.pulley];
    p.radius = was.radius, p.outside = was.outside;
    resize(p, radius);
    course_.rounds[rounds_[i]].radius = line_radius(drive_.belt, p);
    if (v.pulley == kNone) {
      drive_.tensioner->pivot = place;
    } else {
      p.at = course_.rounds[rounds_[i]].centre = place;
    }
  }
  layout_lacks_ = standing_.judge(drive_, course_);
  grip_filled_ = false;
}

void Judge::take_turn(double turn) {
  Tensioner& t = *drive_.tensioner;
  const Tensioner& was = *base_.tensioner;
  t.free = was.free + turn, t.stop_a = was.stop_a + turn, t.stop_b = was.stop_b + turn;
}

double Judge::peg_hole_lacks() const {
  if (!base_.tensioner->peg) return 0;
  const Tensioner &was = *base_.tensioner, &is = *drive_.tensioner;
  const Peg& peg = *was.peg;
  const Vec2 old_hole = was.pivot + plane::polar(peg.radius, peg.angle);
  const Vec2 new_hole = is.pivot + plane::polar(peg.radius, peg.angle + (is.free - was.free));
  const double apart = plane::norm(new_hole - old_hole);
  if (apart < plane::kCoincident) return 0;
  const double needed = drive_.limits.ligament.value * peg.diameter;
  return lacks(apart - peg.diameter, needed, needed);
}

void Judge::judge(std::uint64_t layout, std::size_t turn, Tally& tally) {
  if (layout_ != layout) take_layout(layout);
  Case c{(layout * space_.turns.size() + turn) * offers_.size(), nullptr, layout_lacks_};
  if (drive_.tensioner) {
    take_turn(space_.turns[turn]);
    c.lacking.add(Trial::peg_hole, peg_hole_lacks());
  }
  if (tally.hopeless(c.lacking, c.index)) return tally.throw_out(c.lacking, offers_.size());
  const bool can_run = c.lacking.most < kNoLayout;
  if (drive_.tensioner && can_run) {
    course_.rounds[course_.idler].centre = idler_centre(*drive_.tensioner, drive_.tensioner->free);
    swing_.emplace(drive_, course_);
    seats_.emplace(*swing_);
  }
  rooms_found_ = false;
  glanced_.reset(), cleared_.reset(), laid_.reset();
  const Case of_all = c;
  for (const Offer& belt : offers_) {
    c.lacking = of_all.lacking;
    c.belt = &belt;
    Fit fit;
    fit.index = c.index;
    const auto passes = [&] {
      return (drive_.tensioner ? seated(c, fit, tally) : on_fixed_centres(c, fit, tally)) && runs(c, tally) &&
             grips(c, fit, tally) && carries(c, fit, tally) && clears(c, tally);
    };
    if (!can_run) {
      close(c, tally);
    } else if (passes()) {
      if (c.lacking.first) {
        close(c, tally);
      } else {
        const double per = drive_.tensioner && !drive_.tensioner->slides() ? kDegree : 1;
        fit.merit = space_.merit == Merit::travel ? std::min(fit.to_near, fit.to_far) / per
                    : space_.merit == Merit::grip ? fit.grip
                                                  : fit.room;
        tally.fit(fit);
      }
    }
    ++c.index;
  }
}

bool Judge::go_on(Case& c, Trial trial, double by, Tally& tally) {
  c.lacking.add(trial, by);
  if (!tally.hopeless(c.lacking, c.index)) return true;
  tally.throw_out(c.lacking, 1);
  return false;
}

bool Judge::seated(Case& c, Fit& fit, Tally& tally) {
  const double lengths[] = {c.belt->shortest, c.belt->longest, c.belt->length};
  const auto unseated = [&] {
    if (!go_on(c, Trial::belt_length, kNoSeat, tally)) return false;
    double most = 0;
    for (const double length : lengths) {
      const Seat s = seats_->of(length);
      most = std::max(most, s.state == Seat::State::cannot_tighten ? kNoLayout : s.lacks / kLengthScale);
    }
    c.lacking.add(Trial::belt_length, kNoSeat + most);
    close(c, tally);
    return false;
  };
  const bool slides = drive_.tensioner->slides();
  const double per = slides ? 1 : kDegree;
  const double needed = (slides ? drive_.limits.slide_travel : drive_.limits.arm_travel).value / per;
  // As far as it is known.
  const auto travels = [&] {
    return go_on(c, Trial::travel, lacks(std::min(fit.to_near, fit.to_far) / per, needed, needed), tally);
  };
  fit.to_near = fit.to_far = kUnlimited;
  for (const double length : lengths) {
    const auto reach = seats_->reach(length);
    if (!reach) return unseated();
    fit.to_near = std::min(fit.to_near, reach->to_near);
    fit.to_far = std::min(fit.to_far, reach->to_far);
  }
  if (!travels() || !has_room(c, fit, tally)) return false;
  if (!c.lacking.first) tally.solve();
  fit.to_near = fit.to_far = kUnlimited;
  Seat seat;
  for (const double length : lengths) {
    seat = seats_->of(length);
    if (seat.state != Seat::State::seated) return unseated();
    fit.to_near = std::min(fit.to_near, seat.to_near);
    fit.to_far = std::min(fit.to_far, seat.to_far);
    if (!travels()) return false;
  }
  fit.tension = seat.tension;
  course_.rounds[course_.idler].centre = idler_centre(*drive_.tensioner, seat.position);
  return true;
}

bool Judge::on_fixed_centres(Case& c, Fit& fit, Tally& tally) {
  if (!laid_) laid_ = lay(course_.rounds, route_);
  const Offer& b = *c.belt;
  if (*laid_ && !(b.length > 0 && lacks(route_.length, b.short_one, 1) + exceeds(route_.length, b.long_one, 1) > 0)) {
    if (!has_room(c, fit, tally)) return false;
    if (!c.lacking.first) tally.solve();
    return true;
  }
  const double by = std::max(b.short_one - route_.length, route_.length - b.long_one) / kLengthScale;
  c.lacking.add(Trial::belt_length, *laid_ ? kNoSeat + by : kNoLayout);
  close(c, tally);
  return false;
}

bool Judge::runs(Case& c, Tally& tally) {
  if (!layout_complaints(drive_, course_).empty() || !lay(course_.rounds, route_)) {
    c.lacking.add(Trial::layout, kNoLayout);
    close(c, tally);
    return false;
  }
  double by = 0;
  if (course_.idler != kNone) {
    for (const std::size_t i : {course_.before(course_.idler), course_.idler}) {
      by = std::max(by, misaligned_by(drive_, course_, i, route_.spans[i].length));
    }
  }
  return go_on(c, Trial::alignment, by, tally);
}

bool Judge::grips(Case& c, Fit& fit, Tally& tally) {
  const double set = drive_.tensioner ? fit.tension.low : drive_.duty.still_tension;
  fit.grip = kUnlimited;
  // As rows have it: a friction that takes all of the spring's pull is no reason not to look.
  if (!((drive_.tensioner ? fit.tension.mid : set) > 0)) return true;
  if (!grip_filled_) {
    if (drive_.tensioner) {
      grip_.fill(drive_, course_, route_);
    } else {
      grip_.fill(drive_, course_, route_, set);
    }
    grip_filled_ = true;
  }
  fit.grip = grip_.least_margin(course_, route_, drive_.tensioner ? set : 0);
  return go_on(c, Trial::grip, lacks(fit.grip, 1, 1), tally);
}

bool Judge::carries(Case& c, const Fit& fit, Tally& tally) const {
  if (!((drive_.tensioner ? fit.tension.mid : drive_.duty.still_tension) > 0)) return true;
  double by = 0;
  const auto at = [&](double set) { by = std::max(by, grip_.most_overload(drive_, course_, route_, set)); };
  if (drive_.tensioner) {
    at(fit.tension.low), at(fit.tension.high);
  } else {
    at(0);
  }
  return go_on(c, Trial::bearing, by, tally);
}

bool Judge::has_room(Case& c, Fit& fit, Tally& tally) {
  if (!rooms_found_) {
    rooms_ = belt_rooms(drive_, course_);
    rooms_found_ = true;
  }
  if (rooms_.empty()) return true;
  with_belt_ = rooms_;
  for (Room& r : with_belt_) r.slack += c.belt->short_one;
  const Room& last = fit_last(with_belt_);
  fit.room = last.slack;
  double by = lacks(last.gap, last.gap_needed, last.gap_needed);
  // Where no tensioner gives way, the centres are slackened by hand.
  if (drive_.tensioner) by = std::max(by, lacks(last.slack, 0, kLengthScale));
  return go_on(c, Trial::room, by, tally);
}

double Judge::glance() {
  if (glanced_) return *glanced_;
  const auto [lower, upper] = std::minmax({drive_.limits.clearance.value, drive_.limits.span_clearance.value});
  const double gap = Clearances(drive_, course_).glance();
  // Whichever limit the long look will hold it against: above 0 the lesser one asks less, below it the greater.
  const double by = gap > 0 ? (lower - gap) / lower : 1 - gap / upper;
  glanced_ = std::max(0.0, by - kGlanceError);
  return *glanced_;
}

bool Judge::clears(Case& c, Tally& tally) {
  if (!cleared_) {
    // Where a glance finds too little to be among the nearest, the long look is spared.
    Case at_least = c;
    if (!go_on(at_least, Trial::clearance, glance(), tally)) return false;
    double by = 0;
    (void)Clearances(drive_, course_).over_swing(gaps_);
    for (const Gap& g : gaps_) by = std::max(by, lacks(g.gap, g.limit, g.limit));
    cleared_ = by;
  }
  return go_on(c, Trial::clearance, *cleared_, tally);
}

}  // namespace groovewright::drive
