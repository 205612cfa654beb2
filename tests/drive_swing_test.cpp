// Ratios and the tensioner: virtual work, moments about the pivot and energy, none of which the code uses as they
// stand.
#include <cmath>
#include <numbers>
#include <optional>
#include <string>
#include <vector>

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include "drives.h"
#include "groovewright/base/broken.h"
#include "property.h"

namespace groovewright::drive {
namespace {

using std::numbers::pi;
using testing::drive_of;
using testing::flat;
using testing::kDegree;
using testing::laid;
using testing::larkspur;
using testing::ribbed;
using testing::thin_belt;

double laid_length(const Drive& d, double position) {
  Course c = course(d);
  c.rounds[c.idler].centre = idler_centre(*d.tensioner, position);
  return laid(c).length;
}

/// The larkspur drive with its pivot, arm, idler and swing anywhere near where they are.
Drive any_drive() {
  Drive d = larkspur();
  Tensioner& t = *d.tensioner;
  t.pivot.x += any(-20, 20);
  t.pivot.y += any(-20, 20);
  t.arm_length = any(50, 100);
  t.idler.radius = t.idler.outside = any(25, 40);
  t.effort = any(5000, 40000);
  t.rate = any(0, 30000);
  if (*rc::gen::arbitrary<bool>()) {
    t.kind = Tensioner::Kind::slide;
    t.pivot = {any(-190, -170), any(150, 190)};
    t.direction = any(-0.3, 0.3);
    t.free = t.stop_a = any(60, 100);
    t.stop_b = t.stop_a - any(10, 40);
  }
  return d;
}

/// A position of the swing at which the layout is sound.
double any_sound_position(const Drive& d) {
  const Tensioner& t = *d.tensioner;
  const double position = t.stop_a + (t.stop_b - t.stop_a) * any(0, 1);
  Course c = course(d);
  c.rounds[c.idler].centre = idler_centre(t, position);
  RC_PRE(layout_complaints(d, c).empty());
  return position;
}

TEST(Ratios, ComeFromTheCord) {
  const Drive d = larkspur();
  const Course c = course(d);
  // Crank 160, blower 86 effective, b_e 2: 164/90. The idler on the back: cord at 35 + 1.5.
  EXPECT_NEAR(speed_ratio(d, c, 2), 164.0 / 90, 1e-12);
  EXPECT_NEAR(speed_ratio(d, c, 3), 82 / 36.5, 1e-12);
  EXPECT_NEAR(speed_ratio_at(d, c, 2, 0.4826), 80.4826 / 43.4826, 1e-12) << "inch sheet's b_e";
  EXPECT_NEAR(belt_speed(d, c, 6000), 6000 * 2 * pi / 60 * 0.082, 1e-9);
  EXPECT_TRUE(turns_with_driver(c, 2));
  EXPECT_FALSE(turns_with_driver(c, 3));
  EXPECT_NEAR(bends_per_second(d, c, 2000, 6000), 8 * 51.5221 / 2, 1e-3);
}

TEST(Ratios, OverdriveComparesPitchDiameters) {
  Drive d = larkspur();
  // By pitch diameters: 89 to 84 effective with b_e 2 is 93/88, + 5.682 %; 85 to 80 of pitch is + 6.25 %.
  d.pulleys[1].radius = 42;
  d.pulleys[1].reference_radius = 44.5;
  const Course c = course(d);
  EXPECT_NEAR(overdrive(d, c, 2), 93.0 / 88 - 1, 1e-12);
  EXPECT_NEAR(overdrive(d, c, c.driver), 0, 1e-12);
  d.pulleys[0].reference_radius = 66;
  EXPECT_NEAR(overdrive(d, course(d), 4), 164.0 / 136 - 1, 1e-12) << "a larger crank overdrives all";
}

TEST(Swing, MeasuresThePathThatTheBeltTakes) {
  expect_property([] {
    const Drive d = any_drive();
    const double position = any_sound_position(d);
    const Swing swing(d, course(d));
    Spot spot;
    RC_ASSERT(swing.at(position, spot));
    RC_ASSERT(std::abs(spot.length - laid_length(d, position)) < kRouteError);
    const double h = 1e-5;
    const double slope = (laid_length(d, position + h) - laid_length(d, position - h)) / (2 * h);
    RC_ASSERT(std::abs(spot.gain - slope) < 1e-5);
  });
}

TEST(Swing, TensionBalancesTheSpringAboutThePivot) {
  expect_property([] {
    const Drive d = any_drive();
    const double position = any_sound_position(d);
    const Swing swing(d, course(d));
    Spot spot;
    RC_ASSERT(swing.at(position, spot));
    const Band band = tension_at(swing, spot);
    RC_PRE(band.mid > 0);
    // The belt pulls the idler along both its spans; the arm stands still when its moment is the spring's.
    const Vec2 pull = band.mid * (spot.out.along - spot.in.along);
    const Tensioner& t = *d.tensioner;
    const double moment = t.slides() ? dot(pull, plane::polar(1, t.direction)) : cross(spot.centre - t.pivot, pull);
    const double effort = t.effort + t.rate * std::abs(position - t.free);
    RC_ASSERT(std::abs(moment + swing.spring_sense() * effort) < 1e-9 * effort);
    RC_ASSERT(std::abs(band.low - 0.7 * band.mid) < 1e-9 * band.mid);
    RC_ASSERT(std::abs(band.high - 1.3 * band.mid) < 1e-9 * band.mid);
  });
}

TEST(Swing, SpringWorkIsBeltWork) {
  expect_property(
      [] {
        const Drive d = any_drive();
        const Tensioner& t = *d.tensioner;
        const double from = any_sound_position(d), to = any_sound_position(d);
        RC_PRE(std::abs(to - from) > 0.01);
        const Swing swing(d, course(d));
        // Work of a linear spring: torque and half the rate times the square, elementary mechanics.
        const auto energy = [&](double x) {
          return t.effort * std::abs(x - t.free) + t.rate / 2 * (x - t.free) * (x - t.free);
        };
        constexpr int kSteps = 4000;
        double work = 0, length = laid_length(d, from);
        for (int i = 1; i <= kSteps; ++i) {
          const double step = (to - from) / kSteps;
          Spot middle;
          RC_PRE(swing.at(from + step * (i - 0.5), middle));
          const Band band = tension_at(swing, middle);
          RC_PRE(band.mid > 0);
          const double next = laid_length(d, from + step * i);
          work += band.mid * (next - length);
          length = next;
        }
        const double spring = energy(from) - energy(to);
        RC_ASSERT(std::abs(work - spring) < 1e-5 * std::abs(spring));
      },
      20);
}

/// Two equal pulleys and a slide that presses the middle of the slack span in from outside by `depth`.
Drive vee(double depth) {
  Drive d = drive_of(thin_belt(), Sense::counter_clockwise, {ribbed("a", {0, 0}, 50), ribbed("b", {600, 0}, 50)});
  Tensioner t;
  t.name = "slide";
  t.kind = Tensioner::Kind::slide;
  t.pivot = {300, -80};  // the idler's top just touches the span when its middle is here
  t.direction = pi / 2;
  t.idler = flat("slide", {}, 30);
  t.free = t.stop_a = depth;
  t.stop_b = 1;
  t.effort = 400;
  d.tensioner = t;
  return d;
}

TEST(Swing, PressesASlackSpanLikeAForceOnAString) {
  const Drive d = vee(40);
  const Swing swing(d, course(d));
  Spot spot;
  ASSERT_TRUE(swing.at(40, spot));
  // Symmetric: the force is 2 T sin(w/2), w the idler's wrap; statics of a string.
  EXPECT_NEAR(tension_at(swing, spot).mid, 400 / (2 * std::sin(spot.wrap / 2)), 1e-9);
  EXPECT_NEAR(spot.in.length, spot.out.length, 1e-9);
}

TEST(Swing, ComesToRestWhereThePathIsTheBelt) {
  expect_property([] {
    Drive d = any_drive();
    const double position = any_sound_position(d);
    const Swing swing(d, course(d));
    Spot spot;
    RC_PRE(swing.at(position, spot) && spot.gain * swing.spring_sense() > 1);
    const Band band = tension_at(swing, spot);
    // Hooke: the length that was measured under 50 N a rib is longer under more, by T / (EA).
    const double belt = spot.length / (1 + (band.mid - 8 * 50.0) / (8 * 30000.0));
    const Seat s = seat(swing, belt);
    RC_PRE(s.state == Seat::State::seated);
    const double arm = d.tensioner->slides() ? 1 : d.tensioner->arm_length;
    // A swing through the dead centre has two such places; the first from the far stop is meant.
    if (std::abs(s.position - position) * arm > 1e-7) {
      RC_ASSERT(std::abs(position - swing.far_stop()) > std::abs(s.position - swing.far_stop()));
    } else {
      RC_ASSERT(std::abs(s.length - spot.length) < kSeatError);
      RC_ASSERT(std::abs(s.tension.mid - band.mid) < 1e-6 * band.mid);
      RC_ASSERT(std::abs(s.to_near + s.to_far - std::abs(d.tensioner->stop_a - d.tensioner->stop_b)) < 1e-9);
    }
  });
}

TEST(Swing, SaysByHowMuchABeltIsTooShortOrTooLong) {
  Drive d = larkspur();
  d.belt.stiffness_per_rib.value = 0;
  const Swing swing(d, course(d));
  const double shortest = laid_length(d, 105 * kDegree), longest = laid_length(d, 65 * kDegree);
  ASSERT_LT(shortest, longest) << "the far stop slackens the belt";
  const Seat tight = seat(swing, shortest - 3);
  EXPECT_EQ(tight.state, Seat::State::belt_too_short);
  EXPECT_NEAR(tight.lacks, 3, 1e-9);
  EXPECT_NEAR(tight.position, 105 * kDegree, 1e-12);
  const Seat loose = seat(swing, longest + 0.25);
  EXPECT_EQ(loose.state, Seat::State::belt_too_long);
  EXPECT_NEAR(loose.lacks, 0.25, 1e-9);
  EXPECT_EQ(seat(swing, shortest).state, Seat::State::seated);
  EXPECT_NEAR(seat(swing, shortest).to_far, 0, 1e-9);
  EXPECT_EQ(seat(swing, longest).state, Seat::State::seated);
  EXPECT_NEAR(seat(swing, longest).to_near, 0, 1e-9);
}

TEST(Swing, LetsTheBeltRunPastAnIdlerThatSwingsClear) {
  Drive d = larkspur();
  d.tensioner->stop_b = 130 * kDegree;
  Drive without = d;
  without.tensioner.reset();
  const double past = laid(without).length;
  const Swing swing(d, course(d));
  Spot spot;
  ASSERT_TRUE(swing.at(130 * kDegree, spot));
  EXPECT_FALSE(spot.touches);
  EXPECT_NEAR(spot.length, past, kRouteError);
  EXPECT_NEAR(spot.in.length + spot.out.length, laid(without).spans[0].length, kRouteError);
  Clearances clearances(d, course(d));
  std::vector<Gap> gaps;
  ASSERT_TRUE(clearances.over_swing(gaps));
  for (const Gap& g : gaps) EXPECT_GT(g.gap, 5) << part_name(d, course(d), g.a) << ", " << part_name(d, course(d), g.b);
  EXPECT_EQ(tension_at(swing, spot).mid, 0);
  // The belt fits where it goes round the rest; unloaded it is shorter by what 50 N a rib gives.
  const double unloaded = 1 - 50.0 / 30000;
  const Seat tight = seat(swing, (past - 1) / unloaded);
  EXPECT_EQ(tight.state, Seat::State::belt_too_short);
  EXPECT_NEAR(tight.lacks, 1, 1e-9);
  const Seat held = seat(swing, (past + 4) / unloaded);
  EXPECT_EQ(held.state, Seat::State::seated);
  EXPECT_GT(held.tension.mid, 0);
  EXPECT_LT(held.position, 110 * kDegree);
  for (const Room& r : belt_rooms(d, course(d))) {
    const std::size_t i = r.round - (r.round > 0 ? 1 : 0);  // the arm is round 1
    const Course c = course(without);
    const double climb = pulley_at(without, c, i).flange_height + 3.5;
    EXPECT_NEAR(r.slack, 0 - 6 - past - laid(c).wraps[i] / 2 * climb, 1e-9) << "belt length 0";
  }
}

/// A slide along the lower strand towards pulley a, which its idler would run into at the end of its way: the centres
/// stand r_a + r_idler apart where x = sqrt(80² - 50²).
Drive sliding_into_a() {
  Drive d = vee(40);
  Tensioner& t = *d.tensioner;
  t.pivot = {0, -50};
  t.direction = 0;
  t.free = t.stop_a = 48;
  t.stop_b = 150;
  return d;
}

TEST(Swing, FindsTheRestPlaceAtTheBorderOfWhatCanBeDrawn) {
  const Drive d = sliding_into_a();
  const Swing swing(d, course(d));
  const double border = std::sqrt(80.0 * 80 - 50.0 * 50);
  Spot spot;
  ASSERT_FALSE(swing.at(border - 1e-6, spot)) << "the circles overlap";
  ASSERT_TRUE(swing.at(border + 1e-6, spot));
  const Seats seats(swing);
  // The last place that both looks at in steps and can draw lies within a step of the border.
  const double step = (150.0 - 48) / Seats::kSteps, last = 150 - step * std::floor((150 - border) / step);
  ASSERT_GT(last - border, 1);
  for (const double share : {0.05, 0.5, 0.95, 0.999}) {
    const double rest = border + (last - border) * share, belt = laid_length(d, rest);
    const Seat found = seat(swing, belt);
    ASSERT_EQ(found.state, Seat::State::seated) << share;
    EXPECT_NEAR(found.position, rest, 1e-6) << share;
    EXPECT_NEAR(found.length, belt, kSeatError) << share;
    EXPECT_EQ(seats.of(belt).position, found.position) << share;
    const auto reach = seats.reach(belt);
    ASSERT_TRUE(reach) << share;
    EXPECT_GE(reach->to_near, found.to_near);
    EXPECT_GE(reach->to_far, found.to_far);
  }
  // What is longer than the path at the border is too long, by as much.
  const Seat loose = seat(swing, laid_length(d, border + 1e-9) + 2);
  EXPECT_EQ(loose.state, Seat::State::belt_too_long);
  EXPECT_NEAR(loose.lacks, 2, 1e-3);
}

/// The same drive with its far stop where the idler overlaps the pulley: the border comes first on the way.
TEST(Swing, FindsTheRestPlaceRightAfterTheBorder) {
  Drive d = sliding_into_a();
  Tensioner& t = *d.tensioner;
  t.free = t.stop_a = 150;
  t.stop_b = 48;
  const Swing swing(d, course(d));
  const double border = std::sqrt(80.0 * 80 - 50.0 * 50);
  const Seat at_border = seat(swing, laid_length(d, border + 1e-9));
  EXPECT_NE(at_border.state, Seat::State::seated) << "the spring slackens the belt";
  // Along a line that the strand rises to, the spring's way from the pulley tightens it.
  t.direction = 20 * kDegree;
  t.pivot = {0, -80};
  const Swing rising(d, course(d));
  double overlap = 48, clear = 150;
  Spot spot;
  ASSERT_FALSE(rising.at(overlap, spot));
  ASSERT_TRUE(rising.at(clear, spot));
  while (clear - overlap > 1e-10) (rising.at((clear + overlap) / 2, spot) ? clear : overlap) = (clear + overlap) / 2;
  const double step = (150.0 - 48) / Seats::kSteps, first = 48 + step * std::ceil((clear - 48) / step);
  ASSERT_GT(first - clear, 0.3);
  const double rest = (clear + first) / 2;
  ASSERT_TRUE(rising.at(rest, spot));
  ASSERT_GT(spot.gain, 0);
  const Seat found = seat(rising, spot.length);
  ASSERT_EQ(found.state, Seat::State::seated);
  EXPECT_NEAR(found.position, rest, 1e-6);
}

TEST(Swing, TellsASpringThatPullsAwayFromTheBelt) {
  Drive d = larkspur();
  std::swap(d.tensioner->stop_a, d.tensioner->stop_b);
  d.tensioner->free = d.tensioner->stop_a;  // no belt, arm clear of it; a belt would have to push it inwards
  EXPECT_EQ(seat(Swing(d, course(d)), 1835).state, Seat::State::cannot_tighten);
}

TEST(Swing, TravelIsLeastOverToleranceHeatAndStretch) {
  Drive d = larkspur();
  d.belt.stiffness_per_rib.value = 0;
  const Swing swing(d, course(d));
  d.belt.effective_length.value = length_at_middle(swing);
  d.duty.hot_growth.value = 1.5;
  const Travel t = travel(d, swing);
  ASSERT_TRUE(t.all_seated);
  EXPECT_NEAR(t.shortest_length, d.belt.effective_length.value - 7.5, 1e-9);
  EXPECT_NEAR(t.longest_length, d.belt.effective_length.value * 1.004 + 6, 1e-9);
  EXPECT_EQ(t.least_to_far, t.shortest.to_far);
  EXPECT_EQ(t.least_to_near, t.longest.to_near);
  EXPECT_LT(t.longest.to_near, t.nominal.to_near);
  // The arm moves by the belt's change over its mean take-up.
  const double moved = t.nominal.to_far - t.shortest.to_far;
  EXPECT_NEAR(moved, 7.5 / ((t.nominal.take_up + t.shortest.take_up) / 2), 0.03 * moved);
}

TEST(Swing, TheColdLengthensTheLongestBelt) {
  Drive d = larkspur();
  d.belt.effective_length.value = length_at_middle(Swing(d, course(d)));
  const Travel before = travel(d, Swing(d, course(d)));
  d.duty.cold_shrink.value = 0.8;
  const Travel cold = travel(d, Swing(d, course(d)));
  EXPECT_NEAR(cold.longest_length - before.longest_length, 0.8, 1e-12);
  EXPECT_EQ(cold.shortest_length, before.shortest_length);
  EXPECT_LT(cold.least_to_near, before.least_to_near);
  EXPECT_EQ(cold.least_to_far, before.least_to_far);
}

TEST(Swing, CurveGoesFromStopToStop) {
  const Drive d = larkspur();
  const auto curve = tension_curve(Swing(d, course(d)), 41);
  ASSERT_EQ(curve.size(), 41U);
  EXPECT_NEAR(curve.front().position, 65 * kDegree, 1e-12);
  EXPECT_NEAR(curve.back().position, 105 * kDegree, 1e-12);
  for (std::size_t i = 1; i < curve.size(); ++i) {
    const double mean = (curve[i].take_up + curve[i - 1].take_up) / 2;
    EXPECT_NEAR(curve[i - 1].length - curve[i].length, mean * kDegree, 1e-3) << "belt freed per degree, point " << i;
  }
}

TEST(Swing, AnEccentricIsAShortArm) {
  Drive d = larkspur();
  d.tensioner->arm_length = 12;
  d.tensioner->pivot = {-120, 150};
  Drive e = d;
  e.tensioner->kind = Tensioner::Kind::eccentric;
  Spot a, b;
  ASSERT_TRUE(Swing(d, course(d)).at(0.5, a));
  ASSERT_TRUE(Swing(e, course(e)).at(0.5, b));
  EXPECT_EQ(a.length, b.length);
  EXPECT_EQ(a.gain, b.gain);
}

TEST(Swing, RefusesADriveWithoutTensioner) {
  Drive d = larkspur();
  d.tensioner.reset();
  EXPECT_THROW((void)Swing(d, course(d)), Broken);
}

TEST(SlackSpan, EndsAtTheFirstPulleyThatTakesTorque) {
  Drive d = larkspur();
  EXPECT_TRUE(tensioner_on_slack_span(d, course(d)));
  d.tensioner->after = 1;
  EXPECT_FALSE(tensioner_on_slack_span(d, course(d))) << "behind the blower";
  d.pulleys[1].load.clear();
  d.pulleys[1].inertia = 0;
  EXPECT_TRUE(tensioner_on_slack_span(d, course(d))) << "behind an idler";
}

TEST(Reclocking, GivesALargerPulleyItsTravelBack) {
  Drive d = larkspur();
  d.belt.effective_length.value = length_at_middle(Swing(d, course(d)));
  const Seat before = seat(Swing(d, course(d)), d.belt.effective_length.value);
  ASSERT_EQ(before.state, Seat::State::seated);
  const double from_free = std::abs(before.position - d.tensioner->free);
  d.pulleys[0].radius = 82;  // a larger crank pulley with the old belt
  const auto found = reclock(d, course(d), from_free);
  ASSERT_TRUE(found.has_value());
  Drive clocked = d;
  clocked.tensioner = turned(*d.tensioner, found->turn);
  const Seat after = seat(Swing(clocked, course(clocked)), d.belt.effective_length.value);
  ASSERT_EQ(after.state, Seat::State::seated);
  EXPECT_NEAR(after.position, found->position, 1e-9);
  EXPECT_NEAR(after.to_near, before.to_near, 1e-9);
  EXPECT_NEAR(after.to_far, before.to_far, 1e-9);
  EXPECT_GT(found->turn, 0) << "towards the far stop, which slackens the belt";
  // The peg's holes lie on one circle about the pivot, as far apart as the chord of the turn.
  EXPECT_NEAR(norm(found->old_hole - d.tensioner->pivot), 26, 1e-9);
  EXPECT_NEAR(norm(found->new_hole - d.tensioner->pivot), 26, 1e-9);
  EXPECT_NEAR(found->between_holes, norm(found->new_hole - found->old_hole), 1e-9);
  EXPECT_NEAR(found->ligament, found->between_holes - 8, 1e-12);
  EXPECT_NEAR(found->ligament_needed, 6, 1e-12);
}

TEST(Reclocking, IsNothingWhereTheBeltIsTooShortEvenPastTheIdler) {
  Drive d = larkspur();
  d.belt.effective_length.value = length_at_middle(Swing(d, course(d)));
  d.pulleys[0].radius = 88;
  Drive without = d;
  without.tensioner.reset();
  ASSERT_GT(laid(without).length, d.belt.effective_length.value);
  EXPECT_FALSE(reclock(d, course(d), 15 * kDegree).has_value());
}

TEST(Reclocking, IsNothingForASlideOrABeltThatNoArmTakes) {
  EXPECT_FALSE(reclock(vee(40), course(vee(40)), 10).has_value());
  Drive d = larkspur();
  d.belt.effective_length.value = 500;
  EXPECT_FALSE(reclock(d, course(d), 0.5).has_value());
}

}  // namespace
}  // namespace groovewright::drive
