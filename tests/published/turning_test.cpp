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

}  // namespace
}  // namespace groovewright
