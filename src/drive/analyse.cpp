#include <algorithm>
#include <cmath>
#include <utility>

#include "groovewright/base/text.h"
#include "groovewright/drive/analysis.h"
#include "groovewright/drive/belts.h"
#include "groovewright/drive/ratios.h"

namespace groovewright::drive {
namespace {

std::string mm(double v) { return trimmed(v, 2) + " mm"; }

bool touches(const Swing& swing, double position) {
  Spot spot;
  return swing.at(position, spot) && spot.touches;
}
/// How far from the belt the idler stays where it comes nearest on its way; 0 where it reaches it. mm
double out_of_reach(const Swing& swing, const Round& idler) {
  double least = kUnlimited;
  for (int i = 0; i < kCurvePoints; ++i) {
    const double share = static_cast<double>(i) / (kCurvePoints - 1);
    Spot spot;
    if (!swing.at(swing.near_stop() + (swing.far_stop() - swing.near_stop()) * share, spot)) continue;
    if (spot.touches) return 0;
    least = std::min(least, idler.turn * plane::cross(spot.in.along, spot.centre - spot.in.from) - idler.radius);
  }
  return least < kUnlimited ? std::max(0.0, least) : 0;
}

void tell_belt(const Drive& drive, const Swing& swing, Analysis& a) {
  using Kind = Complaint::Kind;
  const std::string& arm = drive.tensioner->name;
  const double length = drive.belt.effective_length.value, lacks = a.seat->lacks;
  const auto tell = [&](Kind kind, const std::string& says) { a.troubles.push_back({kind, says, lacks, arm, {}}); };
  const bool tightens =
      std::any_of(a.curve.begin(), a.curve.end(), [](const CurvePoint& p) { return p.tension.mid > 0; });
  const std::string would_do =
      a.better_length > 0 ? "; one of " + trimmed(a.better_length, 0) + " mm would hold it in the middle of its way"
                          : "";
  if (a.seat->state == Seat::State::seated) return;
  const double missing = out_of_reach(swing, a.course.rounds[a.course.idler]);
  if (missing > 0) {
    tell(Kind::slackens,
         arm + " reaches the belt nowhere on its way: " + mm(missing) + " are missing where it comes nearest");
  } else if (!tightens || a.seat->state == Seat::State::cannot_tighten) {
    tell(Kind::slackens,
         "the spring of " + arm + " tightens the belt nowhere on its way: it pulls the idler off the belt");
  } else if (a.seat->state == Seat::State::belt_too_short) {
    tell(Kind::belt_too_short, "the belt is " + mm(lacks) + " too short with " + arm + " on its far stop: it takes " +
                                   mm(length + lacks) + " at least" + would_do);
  } else {
    tell(Kind::belt_too_long, "the belt is " + mm(lacks) + " too long, " + arm +
                                  " lies on its stop and does not tighten it: " + mm(length - lacks) + " at most" +
                                  would_do);
  }
}

void take_seat(const Drive& drive, Analysis& a) {
  const Swing swing(drive, a.course);
  a.seat = seat(swing, drive.belt.effective_length.value);
  a.travel = travel(drive, swing);
  a.curve = tension_curve(swing, kCurvePoints);
  a.better_length = length_to_look_for(swing);
  a.set = a.seat->tension;
  if (a.seat->state != Seat::State::cannot_tighten) {
    // Where a belt too short leaves the idler in the air, the layout is judged with the idler let go.
    const bool in_the_air = a.seat->state != Seat::State::seated && !touches(swing, a.seat->position);
    a.course.rounds[a.course.idler].centre =
        idler_centre(*drive.tensioner, in_the_air ? swing.near_stop() : a.seat->position);
  }
  tell_belt(drive, swing, a);
  const double needed = drive.tensioner->slides() ? drive.limits.slide_travel.value : drive.limits.arm_travel.value;
  if (a.travel->all_seated && std::min(a.travel->least_to_near, a.travel->least_to_far) >= needed) return;
  a.reclock = reclock(drive, a.course, std::abs(swing.far_stop() - swing.near_stop()) / 2);
}

void tell_unknown_loads(const Drive& drive, Analysis& a) {
  LoadCase probe;
  const auto unknown = std::count_if(drive.duty.rpm.begin(), drive.duty.rpm.end(), [&](double rpm) {
    return !load_case(drive, a.course, a.route, rpm, Way::drive, 0, probe);
  });
  if (unknown == 0) return;
  const SpeedRange known = known_speeds(drive, a.course);
  const auto from_to = [](double from, double to) { return trimmed(from, 1) + " to " + trimmed(to, 1) + " rpm"; };
  const std::string reach = known.first <= known.last
                                ? "from " + from_to(known.first, known.last) + " of the driver only"
                                : "at no common speed of the driver";
  a.troubles.push_back({Complaint::Kind::load_unknown,
                        "all loads are given " + reach + ", and " +
                            from_to(drive.duty.rpm.front(), drive.duty.rpm.back()) + " are asked for",
                        static_cast<double>(unknown),
                        pulley_at(drive, a.course, a.course.driver).name,
                        {}});
}

void load(const Drive& drive, Analysis& a) {
  if (!drive.tensioner) a.set = {drive.duty.still_tension, drive.duty.still_tension, drive.duty.still_tension};
  tell_unknown_loads(drive, a);
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
  if (drive.belt.bending_loss.value > 0) {
    for (const double rpm : drive.duty.rpm) a.bending.push_back(bending_loss(drive, a.course, rpm));
  }
  return a;
}

}  // namespace groovewright::drive
