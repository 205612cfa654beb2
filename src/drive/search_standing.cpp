#include "search_standing.h"

#include <cmath>
#include <numbers>

#include "groovewright/base/trig.h"
#include "groovewright/drive/loads.h"
#include "groovewright/drive/ratios.h"
#include "groovewright/drive/swing.h"
#include "prisms.h"

namespace groovewright::drive {
namespace {

constexpr double kDegree = std::numbers::pi / 180;

double axial_gap(const Axial& a, const Axial& b) { return std::max(b.rear - a.front, a.rear - b.front); }

/// From a pulley with no belt on to an obstacle; with a belt on they are no further apart.
double bare_gap(const Pulley& pulley, Vec2 centre, const Obstacle& obstacle) {
  double flat = kUnlimited;
  if (obstacle.radius > 0) {
    flat = plane::norm(obstacle.centre - centre) - obstacle.radius - pulley.body_radius();
  } else if (holds(obstacle.polygon, centre)) {
    flat = 0;
  } else {
    each_edge(obstacle, [&](const Piece& edge) {
      flat = std::min(flat, plane::norm(nearest_on(edge, centre) - centre) - pulley.body_radius());
    });
  }
  return prism_gap(flat, axial_gap(pulley.axial, obstacle.axial));
}

}  // namespace

double misaligned_by(const Drive& drive, const Course& course, std::size_t span, double length) {
  const double aside = pulley_at(drive, course, course.next(span)).plane - pulley_at(drive, course, span).plane;
  if (aside == 0) return 0;
  const double limit = drive.limits.entry_fail.value / kDegree;
  return exceeds(atan2_of(std::abs(aside), length) / kDegree, limit, limit);
}

StandingTests::StandingTests(const Drive& base, const Course& course)
    : slack_span_(!base.tensioner || tensioner_on_slack_span(base, course)), spans_(course.size()) {}

Lacking StandingTests::judge(const Drive& drive, const Course& course) {
  Lacking lacking;
  sizes(drive, course, lacking);
  speeds(drive, course, lacking);
  loads(drive, course, lacking);
  if (!slack_span_) lacking.add(Trial::slack_span, 1);
  bodies(drive, course, lacking);
  spans(drive, course, lacking);
  return lacking;
}

void StandingTests::sizes(const Drive& drive, const Course& course, Lacking& lacking) const {
  const Belt& belt = drive.belt;
  const double least = belt.effective_diameter_min.value, least_back = drive.limits.back_bend.value * least;
  const double width = belt.ribs * belt.pitch.value + drive.limits.flat_over_belt.value;
  for (std::size_t i = 0; i < course.size(); ++i) {
    const Pulley& p = pulley_at(drive, course, i);
    if (p.side == Side::ribs) {
      if (p.grooves > 0) lacking.add(Trial::size, lacks(p.grooves, belt.ribs, belt.ribs));
      if (least > 0) lacking.add(Trial::size, lacks(2 * p.radius, least, least));
    } else {
      if (p.width > 0) lacking.add(Trial::size, lacks(p.width, width, width));
      if (least > 0) lacking.add(Trial::size, lacks(2 * p.radius, least_back, least_back));
    }
  }
}

void StandingTests::speeds(const Drive& drive, const Course& course, Lacking& lacking) const {
  if (drive.duty.rpm.empty()) return;
  const double rpm = drive.duty.rpm.back();
  for (std::size_t i = 0; i < course.size(); ++i) {
    const double most = pulley_at(drive, course, i).speed_max;
    if (std::isfinite(most)) lacking.add(Trial::speed, exceeds(speed_ratio(drive, course, i) * rpm, most, most));
  }
  const double most = drive.belt.speed_max.value;
  if (most > 0) lacking.add(Trial::speed, exceeds(belt_speed(drive, course, rpm), most, most));
}

void StandingTests::loads(const Drive& drive, const Course& course, Lacking& lacking) const {
  const auto& speeds = drive.duty.rpm;
  const SpeedRange known = known_speeds(drive, course);
  if (speeds.empty() || (speeds.front() >= known.first && speeds.back() <= known.last)) return;
  std::size_t unknown = 0;
  for (const double rpm : speeds) {
    for (std::size_t i = 0; i < course.size(); ++i) {
      if (i == course.driver || load_torque(drive, course, i, rpm)) continue;
      ++unknown;
      break;
    }
  }
  lacking.add(Trial::load, static_cast<double>(unknown) / static_cast<double>(speeds.size()));
}

void StandingTests::bodies(const Drive& drive, const Course& course, Lacking& lacking) const {
  const double limit = drive.limits.clearance.value;
  for (std::size_t i = 0; i < course.size(); ++i) {
    if (i == course.idler) continue;
    const Pulley& p = pulley_at(drive, course, i);
    for (std::size_t k = i + 1; k < course.size(); ++k) {
      if (k == course.idler) continue;
      const Pulley& q = pulley_at(drive, course, k);
      const double apart = plane::norm(course.rounds[k].centre - course.rounds[i].centre);
      if (apart < plane::kCoincident || p.radius + q.radius - apart > plane::kCoincident) {
        lacking.add(Trial::standing, kNoLayout);
      }
      const double gap = prism_gap(apart - p.body_radius() - q.body_radius(), axial_gap(p.axial, q.axial));
      lacking.add(Trial::standing, lacks(gap, limit, limit));
    }
    for (const Obstacle& o : drive.obstacles) {
      lacking.add(Trial::standing, lacks(bare_gap(p, course.rounds[i].centre, o), limit, limit));
    }
  }
}

void StandingTests::spans(const Drive& drive, const Course& course, Lacking& lacking) {
  const auto stands = [&](std::size_t i) { return i != course.idler && course.next(i) != course.idler; };
  for (std::size_t i = 0; i < course.size(); ++i) {
    if (!stands(i)) continue;
    if (!tangent(course.rounds[i], course.rounds[course.next(i)], spans_[i])) {
      lacking.add(Trial::standing, kNoLayout);
      return;
    }
  }
  for (std::size_t i = 0; i < course.size(); ++i) {
    const std::size_t before = course.before(i);
    if (!stands(i)) continue;
    lacking.add(Trial::alignment, misaligned_by(drive, course, i, spans_[i].length));
    if (!stands(before) || course.size() == 2) continue;
    if (wrap_between(course.rounds[i], spans_[before], spans_[i], false) <= 0) {
      lacking.add(Trial::standing, kNoLayout);
    }
  }
}

}  // namespace groovewright::drive
