// Speeds, feeds and power of turning against published problems.
#include <gtest/gtest.h>

#include <cmath>

#include "groovewright/toolpath.h"

namespace groovewright {
namespace {

constexpr double kUncapped = 1e9;

/// n = 1000 v / (pi d): 180 m/min at 50 mm, published as 1146 rpm (machining handbooks' worked example).
TEST(PublishedTurning, SpindleSpeed) { EXPECT_NEAR(toolpath::spindle_speed(180, 50, kUncapped), 1145.9, 0.05); }

/// A lathe problem with stations of 6.5, 6, 5.5 and 5 in at 1000 sfm: 587.6, 636.6, 694.5, 763.9 rpm.
TEST(PublishedTurning, SpindleSpeedFromSurfaceFeet) {
  const double v = 1000 * 0.3048;
  const std::pair<double, double> kCases[] = {{6.5, 587.6}, {6, 636.6}, {5.5, 694.5}, {5, 763.9}};
  for (const auto& [inches, rpm] : kCases)
    EXPECT_NEAR(toolpath::spindle_speed(v, inches * 25.4, kUncapped), rpm, 0.06) << inches << " in";
}

/// The cap takes over where 1000 v / (pi n) is the diameter: 300 m/min and 3000 rpm, 31.831 mm. On the axis, too.
TEST(PublishedTurning, SpeedCapsKnee) {
  constexpr double kKnee = 31.831;
  EXPECT_NEAR(toolpath::spindle_speed(300, kKnee, 3000), 3000, 0.05);
  EXPECT_DOUBLE_EQ(toolpath::spindle_speed(300, kKnee - 0.01, 3000), 3000);
  EXPECT_LT(toolpath::spindle_speed(300, kKnee + 0.01, 3000), 2999.5);
  EXPECT_DOUBLE_EQ(toolpath::spindle_speed(300, 0, 3000), 3000);
}

/// Rz = f²/8r: f 0.2 and r 0.8 leave 6.25 µm (published), f 0.1 and r 0.4 3.125 µm; f 0.125 and r 0.7 2.8 µm (Ghosh and
/// Mallik, Manufacturing Science, problem 24). Here the feed is sought.
TEST(PublishedTurning, FeedForARoughness) {
  EXPECT_NEAR(toolpath::feed_for(0.00625, 0.8), 0.2, 1e-12);
  EXPECT_NEAR(toolpath::feed_for(0.003125, 0.4), 0.1, 1e-12);
  EXPECT_NEAR(toolpath::feed_for(0.0028, 0.7), 0.125, 0.0003);
}

/// A parabola stands for the nose's circle: the ridge between two circles is r - sqrt(r² - f²/4), 6.2746 µm for the
/// first case (exact), not half a percent more.
TEST(PublishedTurning, FeedForARoughnessHoldsForTheCircleToHalfAPercent) {
  const double r = 0.8, f = toolpath::feed_for(0.00625, r);
  EXPECT_NEAR((r - std::sqrt(r * r - f * f / 4)) / 0.00625, 1, 0.005);
}

/// P = v f a kc / 60: 300 m/min, 0.2 mm, 2 mm, 800 N/mm² need 1.6 kW.
TEST(PublishedTurning, Power) { EXPECT_NEAR(toolpath::cutting_power(300, 0.2, 2, 800), 1600, 1e-9); }

/// f²/8r the other way round: 0.2 mm and 0.8 mm leave 6.25 um (published, as above).
TEST(PublishedTurning, RidgesOfAFeed) { EXPECT_NEAR(toolpath::ridges(0.2, 0.8), 0.00625, 1e-12); }

/// Ra of ridges that are parabolas, by the mean of |y - mean| over one, summed: Ra 3.2 um are 12.47 um high.
TEST(PublishedTurning, RidgesOfAnRa) {
  constexpr int kSteps = 200000;
  double mean = 0, ra = 0;
  const auto y = [](int i) {
    const double x = 2 * (i + 0.5) / kSteps - 1;
    return x * x;
  };
  for (int i = 0; i < kSteps; ++i) mean += y(i) / kSteps;
  for (int i = 0; i < kSteps; ++i) ra += std::abs(y(i) - mean) / kSteps;
  EXPECT_NEAR(toolpath::rz_of_ra(ra), 1, 1e-6);
  EXPECT_NEAR(toolpath::rz_of_ra(3.2), 12.471, 0.001);
}

/// Two lips, each d / 2 long and f / 2 thick, whose force kc f d / 4 acts at d / 4: M = kc f d² / 8. By hand: kc 2000
/// N/mm², f 0.2 mm, d 20 mm: each lip 2000 x 10 x 0.1 = 2000 N at 5 mm, twice: 20 N m. With a core of 10 mm each lip is
/// 5 mm long, 1000 N at 7.5 mm: 15 N m.
TEST(PublishedTurning, DrillingTorque) {
  EXPECT_NEAR(toolpath::drilling_torque(0.2, 20, 0, 2000), 20, 1e-12);
  EXPECT_NEAR(toolpath::drilling_torque(0.2, 20, 10, 2000), 15, 1e-12);
}

/// kc p² d / 8000 (from memory): M10 x 1.5 in steel of 2000 N/mm² 5.6 N m; tables name 4 to 12 N m (from memory).
TEST(PublishedTurning, TappingTorque) { EXPECT_NEAR(toolpath::tapping_torque(1.5, 10, 2000), 5.625, 1e-12); }

/// Metal removed in a second times kc: 5 mm x 10 mm x 600 mm/min are 500 mm³/s, at 800 N/mm² 400 W.
TEST(PublishedTurning, MillingPower) { EXPECT_NEAR(toolpath::milling_power(600, 5, 10, 800), 400, 1e-9); }

}  // namespace
}  // namespace groovewright
