#include <algorithm>
#include <cmath>
#include <utility>

#include "groovewright/base/text.h"
#include "groovewright/drive/analysis.h"
#include "groovewright/drive/ratios.h"

namespace groovewright::drive {
namespace {

std::string mm(double v) { return trimmed(v, 2) + " mm"; }

void take_seat(const Drive& drive, Analysis& a) {
  const Swing swing(drive, a.course);
  const double length = drive.belt.effective_length.value;
  a.seat = seat(swing, length);
  a.travel = travel(drive, swing);
  a.curve = tension_curve(swing, kCurvePoints);
  a.set = a.seat->tension;
  if (a.seat->state != Seat::State::cannot_tighten) {
    a.course.rounds[a.course.idler].centre = idler_centre(*drive.tensioner, a.seat->position);
  }
  const std::string& arm = drive.tensioner->name;
  const double lacks = a.seat->lacks;
  if (a.seat->state == Seat::State::belt_too_short) {
    a.troubles.push_back({Complaint::Kind::belt_too_short,
                          "the belt is " + mm(lacks) + " too short with " + arm + " on its far stop: it takes " +
                              mm(length + lacks) + " at least",
                          lacks,
                          arm,
                          {}});
  } else if (a.seat->state == Seat::State::belt_too_long) {
    a.troubles.push_back({Complaint::Kind::belt_too_long,
                          "the belt is " + mm(lacks) + " too long, " + arm +
                              " lies on its stop and does not tighten it: " + mm(length - lacks) + " at most",
                          lacks,
                          arm,
                          {}});
  } else if (a.seat->state == Seat::State::cannot_tighten) {
    a.troubles.push_back(
        {Complaint::Kind::slackens, "the spring of " + arm + " tightens the belt nowhere on its swing", 0, arm, {}});
  }
  const double needed = drive.tensioner->slides() ? drive.limits.slide_travel.value : drive.limits.arm_travel.value;
  if (a.travel->all_seated && std::min(a.travel->least_to_near, a.travel->least_to_far) >= needed) return;
  a.reclock = reclock(drive, a.course, std::abs(swing.far_stop() - swing.near_stop()) / 2);
}

void load(const Drive& drive, Analysis& a) {
  if (!drive.tensioner) a.set = {drive.duty.still_tension, drive.duty.still_tension, drive.duty.still_tension};
  const SpeedRange known = known_speeds(drive, a.course);
  for (const double rpm : drive.duty.rpm) {
    LoadCase probe;
    if (load_case(drive, a.course, a.route, rpm, Way::drive, 0, probe)) continue;
    std::string reach = known.first <= known.last
                            ? "from " + trimmed(known.first, 1) + " to " + trimmed(known.last, 1) + " rpm of the driver"
                            : "at no common speed";
    a.troubles.push_back({Complaint::Kind::load_unknown,
                          "at " + trimmed(rpm, 1) + " rpm a load is not known: all are given " + reach,
                          rpm,
                          pulley_at(drive, a.course, a.course.driver).name,
                          {}});
  }
  if (!(a.set.mid > 0)) return;
  for (const double rpm : drive.duty.rpm) {
    for (const Way way : {Way::drive, Way::overrun}) {
      for (const double set : {a.set.low, a.set.high}) {
        Loaded one{set, {}};
        if (load_case(drive, a.course, a.route, rpm, way, set, one.load)) a.loaded.push_back(std::move(one));
      }
    }
  }
  a.frequencies = frequency_map(drive, a.course, a.route, a.set, kMapPoints);
}

}  // namespace

Analysis analyse(const Drive& drive) {
  Analysis a;
  a.course = course(drive);
  if (drive.tensioner) take_seat(drive, a);
  a.complaints = layout_complaints(drive, a.course);
  if (!a.complaints.empty()) {
    // Of a layout that cannot be, no figure means anything, but a belt that brought it about is told.
    Analysis only;
    only.course = std::move(a.course);
    only.complaints = std::move(a.complaints);
    only.troubles = std::move(a.troubles);
    only.seat = a.seat;
    return only;
  }
  (void)lay(a.course.rounds, a.route);
  a.effective_length = a.route.length;
  a.pitch_length = pitch_length(drive.belt, a.course, a.route);
  Clearances clearances(drive, a.course);
  (void)clearances.over_swing(a.gaps);
  a.rooms = belt_rooms(drive, a.course);
  load(drive, a);
  return a;
}

}  // namespace groovewright::drive
