#include <cmath>
#include <limits>
#include <numbers>

#include "groovewright/base/trig.h"
#include "groovewright/drive/swing.h"
#include "root.h"

namespace groovewright::drive {
namespace {

using std::numbers::pi;

/// One degree: the whole circle is looked through.
constexpr int kSteps = 360;
/// A change of sign that leaves more than this is a jump, where the belt would fall off, mm.
constexpr double kJump = 1e-6;

}  // namespace

Tensioner turned(const Tensioner& tensioner, double by) {
  Tensioner t = tensioner;
  t.free += by;
  t.stop_a += by;
  t.stop_b += by;
  if (t.peg) t.peg->angle += by;
  return t;
}

std::optional<Reclock> reclock(const Drive& drive, const Course& course, double from_free) {
  const Tensioner& t = *drive.tensioner;
  if (t.slides()) return std::nullopt;
  const Swing swing(drive, course);
  const int sense = swing.spring_sense();
  // The body brings the spring along: with the arm where it is wanted, its torque is the same at every clock angle.
  const double effort = t.effort + t.rate * std::abs(from_free);
  const double length = drive.belt.effective_length.value;
  const auto excess = [&](double position) {
    Spot spot;
    if (!swing.at(position, spot) || !(spot.gain * sense > 0)) return std::numeric_limits<double>::quiet_NaN();
    return spot.length - length * (1 + swing.give() * (effort / (spot.gain * sense) - swing.measured_under()));
  };
  const double wanted_now = t.free - sense * std::abs(from_free);
  std::optional<double> best;
  double last = wanted_now - pi, last_excess = excess(last);
  for (int i = 1; i <= kSteps; ++i) {
    const double before = last, before_excess = last_excess;
    last = wanted_now - pi + 2 * pi * i / kSteps;
    last_excess = excess(last);
    // Towards `free` the path must grow longer than the belt: the other way the arm would run off from there.
    if (sense > 0 ? before_excess <= 0 && last_excess > 0 : before_excess > 0 && last_excess <= 0) {
      const double root = root_between(excess, before, before_excess, last, last_excess, 1e-15);
      if (!(std::abs(excess(root)) < kJump)) continue;
      if (!best || std::abs(root - wanted_now) < std::abs(*best - wanted_now)) best = root;
    }
  }
  if (!best) return std::nullopt;
  Drive clocked = drive;
  clocked.tensioner = turned(t, *best - wanted_now);
  // The middle is one of the places that `seat` looks at: a hair's breadth decides on which side of it the belt grows
  // taut, not rounding.
  if (seat(Swing(clocked, course), length - 2 * kSeatError).state != Seat::State::seated) return std::nullopt;
  Reclock r;
  r.turn = *best - wanted_now;
  r.position = *best;
  if (t.peg) {
    const auto hole = [&](double by) { return t.pivot + plane::polar(t.peg->radius, t.peg->angle + by); };
    r.old_hole = hole(0);
    r.new_hole = hole(r.turn);
    r.between_holes = 2 * t.peg->radius * std::abs(sin_of(r.turn / 2));
    r.ligament = r.between_holes - t.peg->diameter;
    r.ligament_needed = drive.limits.ligament.value * t.peg->diameter;
  }
  return r;
}

}  // namespace groovewright::drive
