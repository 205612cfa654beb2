#include "search_grip.h"

#include <algorithm>
#include <cmath>

#include "search_tally.h"

namespace groovewright::drive {

void GripTable::fill(const Drive& drive, const Course& course, const Route& route) { fill(drive, course, route, 0); }

void GripTable::fill(const Drive& drive, const Course& course, const Route& route, double set) {
  spans_ = course.size();
  beyond_.clear();
  for (const double rpm : drive.duty.rpm) {
    for (const Way way : {Way::drive, Way::overrun}) {
      if (!load_case(drive, course, route, rpm, way, set, load_)) continue;
      beyond_.insert(beyond_.end(), load_.tension.begin(), load_.tension.end());
    }
  }
  slackest_ = beyond_.empty() ? 0 : *std::min_element(beyond_.begin(), beyond_.end());
  held_.clear();
  for (std::size_t i = 0; i < spans_; ++i) {
    const Pulley& p = pulley_at(drive, course, i);
    if (i == course.idler || !(p.takes_torque() || p.drives)) continue;
    const Grip& grip = drive.grip;
    Held h{i, (p.side == Side::ribs ? grip.design_ratio_ribs : grip.design_ratio_back).value};
    h.moves = course.next(i) == course.idler || course.before(i) == course.idler;
    if (!h.moves) h.allowed = ratio_at_wrap(h.design_ratio, std::max(0.0, route.wraps[i]));
    held_.push_back(h);
  }
}

double GripTable::least_margin(const Course& course, const Route& route, double set) const {
  if (beyond_.empty()) return kUnlimited;
  if (!(set + slackest_ > 0)) return 0;
  double least = kUnlimited;
  for (const Held& h : held_) {
    const std::size_t before = course.before(h.round);
    double ratio = 1;
    for (std::size_t at = 0; at < beyond_.size(); at += spans_) {
      const double in = set + beyond_[at + before], out = set + beyond_[at + h.round];
      ratio = std::max(ratio, in > out ? in / out : out / in);
    }
    const double allowed = h.moves ? ratio_at_wrap(h.design_ratio, std::max(0.0, route.wraps[h.round])) : h.allowed;
    least = std::min(least, allowed / ratio);
  }
  return least;
}

double GripTable::most_overload(const Drive& drive, const Course& course, const Route& route, double set) const {
  double most = 0;
  for (std::size_t i = 0; i < spans_; ++i) {
    const double carried = pulley_at(drive, course, i).pull_max;
    if (!std::isfinite(carried)) continue;
    const std::size_t before = course.before(i);
    for (std::size_t at = 0; at < beyond_.size(); at += spans_) {
      const Vec2 pull =
          (set + beyond_[at + i]) * route.spans[i].along - (set + beyond_[at + before]) * route.spans[before].along;
      most = std::max(most, exceeds(plane::norm(pull), carried, carried));
    }
  }
  return most;
}

}  // namespace groovewright::drive
