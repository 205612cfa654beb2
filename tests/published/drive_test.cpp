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

/// A belt of one rib with this mass, kg/m, and no thickness.
Belt heavy_belt(double mass) {
  Belt b = thin_belt();
  b.mass_per_rib.value = mass;
  return b;
}

/// T'1 and T'2 of a belt on fixed centres that carries `torque` on its second pulley; mean tension at rest `set`.
LoadCase fixed_centres(Drive& d, double torque, double own_rpm, double driver_rpm, double set) {
  d.pulleys[1].load = {{.rpm = own_rpm, .own_speed = true, .value = torque}};
  const Course c = course(d);
  LoadCase load;
  EXPECT_TRUE(load_case(d, c, laid(c), driver_rpm, Way::drive, set, load));
  return load;
}

TEST(DrivePublished, CompoundDriveA1) {
  // Khurmi & Gupta, example 11.1, p. 333: 150 rpm, 750/450 and 900/150: 1500 rpm, with 2 % slip a belt 1440 printed.
  const auto ratio = [](double driver, double driven) {
    const Drive d =
        drive_of(thin_belt(), Sense::clockwise, {ribbed("a", {0, 0}, driver / 2), ribbed("b", {2000, 0}, driven / 2)});
    return speed_ratio(d, course(d), 1);
  };
  const double rpm = 150 * ratio(750, 450) * ratio(900, 150);
  expect_close(rpm, 1500);
  expect_close(rpm * 0.98 * 0.98, 1440.6);
}

TEST(DrivePublished, CapstanA2A3A10) {
  // Khurmi & Gupta, examples 11.4 (p. 342), 11.5 (p. 343), 11.12 (p. 353).
  expect_close(capstan_ratio(0.25, 160 * pi / 180), 2.00999);
  const double t2 = 2500 / capstan_ratio(0.25, 160 * pi / 180);
  expect_close(t2, 1243.78);
  expect_close((2500 - t2) * pi * 0.6 * 200 / 60, 7893.0);
  EXPECT_NEAR((2500 - t2) * pi * 0.6 * 200 / 60, 7890, 5) << "printed 7.89 kW";
  const double pull = 9000 / capstan_ratio(0.25, 2.5 * 2 * pi);
  expect_close(pull, 177.326);
  EXPECT_NEAR(pull, 177.33, 0.005);
  expect_close((9000 - pull) * pi * 0.3 * 20 / 60, 2771.7);
  const double k = capstan_ratio(0.3, 150 * pi / 180);
  expect_close(4000 * k / (k + 1), 2747.37);
  expect_close(4000 / (k + 1), 1252.63);
  expect_close(4000 * (k - 1) / (k + 1) * pi * 0.4 * 500 / 60, 15652.9);
}

TEST(DrivePublished, TensionsA4A5A7A12) {
  // Khurmi & Gupta, examples 11.6 (p. 344), 11.7 (p. 347), 11.9 (p. 349), 11.14 (p. 355): wraps from the layout.
  const Route a4 = two_pulleys(225, 100, 1950, true);
  expect_close((1000 - 1000 / capstan_ratio(0.25, a4.wraps[1])) * pi * 0.45 * 200 / 60, 2736.4);
  const double pull = 6000 / (pi * 0.5 * 300 / 60);
  for (const auto& [crossed, want] : {std::pair{false, 1266.98}, {true, 1183.77}}) {
    const double k = capstan_ratio(0.3, two_pulleys(375, 250, 4000, crossed).wraps[1]);
    expect_close(pull * k / (k - 1), want);
  }
  const double k7 = capstan_ratio(0.3, two_pulleys(450, 150, 3000).wraps[1]);
  expect_close(15000 / (pi * 0.3 * 900 / 60) * k7 / (k7 - 1), 1810.01);
  const double t2 = 560 / capstan_ratio(0.3, two_pulleys(200, 80, 1200).wraps[1]);
  expect_close(t2, 231.727);
  expect_close((560 + t2) / 2, 395.863);
  expect_close((560 - t2) * pi * 0.16 * 350 / 60, 962.55);
}

TEST(DrivePublished, TensionsA13) {
  // Khurmi & Gupta, example 11.15, p. 356: .24 @ 300 and .6, C 3, 4 kW: T0 1249.5 printed.
  const double k = capstan_ratio(0.3, two_pulleys(300, 120, 3000).wraps[1]), pull = 4000 / (pi * 0.24 * 300 / 60);
  expect_close(pull * k / (k - 1), 1780.12);
  expect_close((pull * k / (k - 1) + pull / (k - 1)) / 2, 1249.60);
}

TEST(DrivePublished, CentrifugalTensionA8A11) {
  // Khurmi & Gupta, example 11.10, p. 350: power is greatest where T_c is a third of the greatest tension, 1200 N.
  const double mass = 1000 * 0.1 * 0.006, v = std::sqrt(1200 / (3 * mass));
  expect_close(v, 25.8199);
  EXPECT_NEAR(centrifugal_tension(mass, v), 400, 1e-9);
  expect_close((1200 - 400) * (1 - 1 / capstan_ratio(0.3, 120 * pi / 180)) * v, 9636.2);
  // Example 11.13, p. 354: C 4.8, 1.5/1.0 m, T0 3000, m 1.5, mu .3, 400 rpm. Net of T_c 3340.89 and 1343.16; 42 kW.
  Drive d =
      drive_of(heavy_belt(1.5), Sense::clockwise, {ribbed("large", {0, 0}, 750), ribbed("small", {4800, 0}, 500)});
  d.grip.bare_ribs = {{0.3, "test"}, Side::ribs, true};
  const LoadCase load = fixed_centres(d, (3340.89 - 1343.16) * 500, 400, 400 / 1.5, 3000);
  expect_close(load.centrifugal, 657.97);
  expect_close(load.tension[1], 3340.89);
  expect_close(load.tension[0], 1343.16);
  expect_close(load.tension[0] + load.tension[1] + 2 * load.centrifugal, 6000);
  expect_close((load.tension[1] - load.tension[0]) * load.speed, 41840);
  const Course c = course(d);
  const Hold h = hold(d, c, laid(c), load, 3000, 1);
  expect_close(h.ratio, h.bare);
}

TEST(DrivePublished, BeltWithSpeedA6) {
  // Khurmi & Gupta, example 11.8, p. 348: 7.5 kW, 1.2 m @ 250, 165 deg, mu .3: T'1 825.35, T'2 347.88; width 65.9 mm.
  const double v = pi * 1.2 * 250 / 60, k = capstan_ratio(0.3, 165 * pi / 180);
  expect_close(v, 15.7080);
  expect_close(7500 / v * k / (k - 1), 825.35);
  expect_close(7500 / v / (k - 1), 347.88);
  // 1.5 MPa on b × 10 mm carries T'1 and T_c of 1000 kg/m³.
  const double width = 825.35 / (1.5 * 10 - centrifugal_tension(1000 * 1e-3 * 0.01, v));
  expect_close(width, 65.856);
}

TEST(DrivePublished, WedgeA15AndFactors) {
  // Khurmi & Gupta, example 11.18, p. 363: groove 30, m .35, 140 deg, mu .15; v of greatest power.
  const double t = 1.4 * 20 * 20, v = std::sqrt(t / (3 * 0.35));
  expect_close(v, 23.0940);
  const double t1 = t - centrifugal_tension(0.35, v);
  expect_close(t1, 373.333);
  const double t2 = t1 / capstan_ratio(wedged_friction(0.15, Angle::deg(30)), 140 * pi / 180);
  expect_close(t2, 90.591);
  expect_close((t1 - t2) * v, 6529.7);
  // 1/sin(a/2), elementary; mu 0.2 in a groove of 36: 0.647, problem set after Hamrock 19.14.
  for (const auto& [angle, want] : {std::pair{34, 3.42030}, {36, 3.23607}, {38, 3.07155}, {40, 2.92380}}) {
    EXPECT_NEAR(wedged_friction(1, Angle::deg(angle)), want, 5e-6);
  }
  expect_close(wedged_friction(0.2, Angle::deg(36)), 0.647214);
  // The same set: F_c 3.57 lbf, 1695 ft/min, F1 257.1, F2 42.9 lbf, 11.0 hp.
  EXPECT_NEAR((257.1 - 42.9) * 1695 / 33000, 11.0021, 1e-4);
  const Contact ribs{{0.3, "test"}, Side::ribs, false}, measured{{0.9, "test"}, Side::ribs, true},
      back{{0.3, "test"}, Side::back, false};
  EXPECT_NEAR(effective_friction(ribs), 0.3 * 2.92380, 1e-5);
  EXPECT_EQ(effective_friction(measured), 0.9);
  EXPECT_EQ(effective_friction(back), 0.3) << "a flat back never wedges";
}

TEST(DrivePublished, DesignB2B4) {
  // Budynas & Nisbett, example 17-2: F_c 73.4, dF 664, exp 11.35 and the ratio that develops: F1 802, F2 138 lbf.
  const double theta = 3.037, f = 0.80;
  EXPECT_NEAR(capstan_ratio(f, theta), 11.35, 0.02);
  const double k = 11.35;
  expect_close(73.4 + 664 * k / (k - 1), 801.55);
  expect_close(73.4 + 664 / (k - 1), 137.55);
  // Example 17-1: polyamide f 0.8 over 3.0165 rad: exp 11.17.
  const double wrap = two_pulleys(9, 3, 96).wraps[1];
  expect_close(capstan_ratio(0.8, wrap), 11.1697);
  // The rest of it, from memory: 6 in x .13, gamma .042, allowed F1 420 lbf, T 742.8 lbf in; F_c 25.6, F2 172.4,
  // F_i 270.6, f' .328.
  const double feet_a_second = pi * 0.5 * 1750 / 60, slug_a_foot = 12 * 0.042 * 6 * 0.13 / 32.17;
  const double fc = centrifugal_tension(slug_a_foot, feet_a_second), f2 = 420 - 742.79 / 3;
  EXPECT_NEAR(fc, 25.65, 0.02);
  expect_close(f2, 172.40);
  EXPECT_NEAR((420 + f2) / 2 - fc, 270.55, 0.02);
  EXPECT_NEAR(capstan_ratio(0.3277, wrap), (420 - fc) / (f2 - fc), 1e-3);
}

TEST(DrivePublished, StringFrequency) {
  // Belt makers' form T = 4 m L² f²: 0.11 kg/m, 0.17 m, 220 Hz; printed 610 N, exact 615.45. 624 N: 221 Hz printed.
  EXPECT_NEAR(span_frequency(615.45, 0.11, 0, 170), 220, 0.01);
  EXPECT_NEAR(span_frequency(610, 0.11, 0, 170), 220, 2.2);
  EXPECT_NEAR(span_frequency(624, 0.11, 0, 170), 221.5, 0.1);
  // University Physics, volume 1, ch. 16 (from memory): mu .006, L 2.00, T 2 × 9.8: f1 14.29 Hz; exact 14.2887.
  EXPECT_NEAR(span_frequency(19.6, 0.006, 0, 2000), 14.2887, 1e-4);
}

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
