// Worked examples of handbooks and a table, within the rounding they print; exact values where they were recomputed.
#include <cmath>
#include <numbers>
#include <vector>

#include <gtest/gtest.h>

#include "../drives.h"

namespace groovewright::drive {
namespace {

using std::numbers::pi;
using testing::drive_of;
using testing::flat;
using testing::laid;
using testing::ribbed;
using testing::thin_belt;

Route two_pulleys(double R, double r, double C, bool crossed = false) {
  return laid(drive_of(thin_belt(), Sense::clockwise,
                       {ribbed("large", {0, 0}, R), crossed ? flat("small", {C, 0}, r) : ribbed("small", {C, 0}, r)}));
}

constexpr double kRelative = 1e-4;
void expect_close(double got, double want) { EXPECT_NEAR(got, want, kRelative * std::abs(want)); }

TEST(DrivePublished, CrossedBeltA4) {
  // Khurmi & Gupta, Theory of Machines, example 11.6, p. 344: printed 4.975 m and 3.473 rad (sine read for arc sine).
  const Route r = two_pulleys(225, 100, 1950, true);
  expect_close(r.length, 4975.31);
  EXPECT_NEAR(r.length, 4975, 0.5);
  expect_close(r.wraps[0], 3.47649);
  EXPECT_NEAR(r.wraps[0], 3.473, 0.004);
}

TEST(DrivePublished, OpenAndCrossedWrapA5) {
  // Khurmi & Gupta, example 11.7, p. 347; wraps recomputed.
  expect_close(two_pulleys(375, 250, 4000).wraps[1] * 180 / pi, 176.418);
  expect_close(two_pulleys(375, 250, 4000, true).wraps[1] * 180 / pi, 197.979);
}

TEST(DrivePublished, WrapsA7A11A12) {
  // Khurmi & Gupta, examples 11.9 (p. 349; 0.3 m at 900 to 300 rpm) and 11.13 (p. 354).
  expect_close(two_pulleys(450, 150, 3000).wraps[1] * 180 / pi, 168.522);
  expect_close(two_pulleys(750, 500, 4800).wraps[1] * 180 / pi, 174.029);
}

TEST(DrivePublished, LengthA13) {
  // Khurmi & Gupta, example 11.15, p. 356: printed 7.33 m.
  expect_close(two_pulleys(300, 120, 3000).length, 7330.27);
  EXPECT_NEAR(two_pulleys(300, 120, 3000).length, 7330, 5);
}

TEST(DrivePublished, SteppedConePulleysA17) {
  // Khurmi & Gupta, example 11.3, p. 337: C 720, r1 40, 160 rpm to 60, 80 and 100; one belt fits all three steps.
  expect_close(two_pulleys(40 * 160 / 60.0, 40, 720).length, 1906.944);
  expect_close(two_pulleys(98.375, 49.188, 720).length, 1906.944);
  expect_close(two_pulleys(91.149, 56.968, 720).length, 1906.944);
  EXPECT_NEAR(98.375 / 49.188, 160 / 80.0, 1e-3);
  EXPECT_NEAR(91.149 / 56.968, 160 / 100.0, 1e-3);
}

TEST(DrivePublished, OpenBeltB1) {
  // Budynas & Nisbett, Mechanical Engineering Design, ch. 17 solutions: d 6, D 18, C 96 in; printed 3.0165, 3.2667,
  // 230.1.
  const Route r = two_pulleys(9, 3, 96);
  expect_close(r.wraps[1], 3.0165111);
  expect_close(r.wraps[0], 3.2666742);
  expect_close(r.length, 230.0742);
}

TEST(DrivePublished, IndependentFormOfTheOpenBelt) {
  // L = 2 R1 (pi - a + tan a) + 2 R2 (a - tan a), a = acos((R1 - R2)/C): a public formula sheet's form.
  const double a = std::acos((393.0 - 105.0) / 697);
  EXPECT_NEAR(two_pulleys(393, 105, 697).length, 2 * 393 * (pi - a + std::tan(a)) + 2 * 105 * (a - std::tan(a)), 1e-9);
  // A schools' page has 105, 393 and 697 as diameters and centres and prints 2.2 m; exact value recomputed elsewhere.
  EXPECT_NEAR(two_pulleys(393.0 / 2, 105.0 / 2, 697).length, 2206.114, 1e-3);
}

TEST(DrivePublished, ArcOfContactTable) {
  // Machinery's Handbook, 31st ed., p. 2581, table 12 (ANSI/RMA): (D - d)/C against degrees on the small pulley.
  constexpr double kArc[] = {180, 174, 169, 163, 157, 151, 145, 139, 133, 127, 120, 113, 106, 99, 91, 83};
  for (std::size_t i = 0; i < std::size(kArc); ++i) {
    const double C = 1000, d = 100, D = d + 0.1 * static_cast<double>(i) * C;
    if (D / 2 + d / 2 >= C) continue;
    EXPECT_NEAR(two_pulleys(D / 2, d / 2, C).wraps[1] * 180 / pi, kArc[i], 0.5)
        << "(D - d)/C = " << 0.1 * static_cast<double>(i);
  }
}

TEST(DrivePublished, SerpentineS1) {
  // Three pulleys of 100 on an equilateral triangle of 300: 900 + 100 pi, wraps 120 each (elementary geometry).
  const Route r = laid(
      drive_of(thin_belt(), Sense::counter_clockwise,
               {ribbed("a", {0, 0}, 50), ribbed("b", {300, 0}, 50), ribbed("c", {150, 150 * std::sqrt(3.0)}, 50)}));
  EXPECT_NEAR(r.length, 1214.15927, 1e-4);
  EXPECT_NEAR(r.length, 900 + 100 * pi, 1e-9);
  for (const double w : r.wraps) EXPECT_NEAR(w * 180 / pi, 120, 1e-9);
}

TEST(DrivePublished, SerpentineS3) {
  // Recomputed by the tangent method elsewhere: (0,0) r60, (400,0) r40, idler on the back at (200,20) r30.
  const Drive d = drive_of(thin_belt(), Sense::counter_clockwise,
                           {ribbed("a", {0, 0}, 60), ribbed("b", {400, 0}, 40), flat("idler", {200, 20}, 30)});
  const Route r = laid(d);
  EXPECT_NEAR(r.length, 1133.53301, 1e-4);
  EXPECT_NEAR(r.spans[0].length, 399.49969, 1e-4);
  EXPECT_NEAR(r.spans[1].length, 188.41444, 1e-4);
  EXPECT_NEAR(r.spans[2].length, 179.72201, 1e-4);
  EXPECT_NEAR(r.wraps[0] * 180 / pi, 203.75588, 1e-4);
  EXPECT_NEAR(r.wraps[1] * 180 / pi, 191.80453, 1e-4);
  EXPECT_NEAR(r.wraps[2] * 180 / pi, 35.56041, 1e-4);
}

}  // namespace
}  // namespace groovewright::drive
