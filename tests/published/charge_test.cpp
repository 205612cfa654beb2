// Charge pressure: textbook examples of blown engines, closed forms, and common practice as a band.
#include <gtest/gtest.h>

#include <cmath>

#include "groovewright/drive/charge.h"

namespace groovewright::drive {
namespace {

constexpr double kPsi = 6.894757293;  // kPa: 4.4482216152605 N over 25.4² mm²

TEST(Charge, AgreesWithTheTextbooksBlownEngine) {
  // An IC-engine textbook, ch. 15, ex. 15.1: 2.8 L four-stroke at 3000 rpm, 1.013 bar, 288 K, pressure ratio 1.6,
  // isentropic efficiency 0.74. Printed: 343.93 K, 0.11494 kg/s, 6.461 kW.
  const double t2 = compressed(288, 1.6, 0.74);
  EXPECT_NEAR(compressed(288, 1.6, 1), 329.39, 0.005);
  EXPECT_NEAR(t2, 343.93, 0.005);
  const double air = swallowed(1.6 * 101.3, t2, 2800, 3000, 4, 1);
  EXPECT_NEAR(air, 0.11494, 1e-4) << "printed with R = 0.287";
  EXPECT_NEAR(air * kHeatOfAir * (t2 - 288) / 1000, 6.461, 0.01);
}

TEST(Charge, AgreesWithTheSecondTextbooksTemperatures) {
  // Another text, ch. 17, ex. 17.1: 300 K, ratio 1.7, 0.75; unrounded 349.111 and 365.482 K.
  EXPECT_NEAR(compressed(300, 1.7, 1), 349.111, 0.001);
  EXPECT_NEAR(compressed(300, 1.7, 0.75), 365.482, 0.001);
}

/// A plausible mid-size engine, all figures from memory: 5.0 L, 1.9 L a turn, twice crank speed, intercooled.
Breathing mid_size(double base_psi, double inlet_loss, Compression compression = Compression::internal) {
  return {{5000, 4},
          {1900, compression, 0.99, 0.1, 0.04, 0.62, 0.93},
          {101.325, 293.15, 0.6, 320, 0},
          {6000, base_psi * kPsi, 2, 300e3},
          inlet_loss};
}
/// Own estimate: a free inlet and a restricted one, at the measured flow. kPa
constexpr double kFree = 2, kRestricted = 20;

double gain_psi(const Breathing& b, double overdrive) {
  const auto c = calibrated(b);
  EXPECT_TRUE(c);
  return (at(*c, b.measured.speed_ratio * (1 + overdrive), b.measured.rpm).gauge - b.measured.gauge) / kPsi;
}

TEST(Charge, GivesBackWhatWasMeasured) {
  for (const Compression compression : {Compression::internal, Compression::external}) {
    for (const double psi : {3.0, 8.0, 14.0}) {
      const Breathing b = mid_size(psi, kFree, compression);
      const auto c = calibrated(b);
      ASSERT_TRUE(c);
      const ChargeState s = at(*c, b.measured.speed_ratio, b.measured.rpm);
      EXPECT_NEAR(s.gauge, b.measured.gauge, 1e-6 * b.measured.gauge);
      EXPECT_NEAR(s.air, c->air, 1e-6 * c->air);
      EXPECT_NEAR(s.shaft_power, c->shaft, 1e-6 * c->shaft);
      EXPECT_NEAR(s.crank_power, b.measured.crank_power, 1e-3);
    }
  }
}

TEST(Charge, IsTheRatioOfVolumesWithoutLossesAndHeat) {
  // Closed form: no leak, perfect cooling to ambient: absolute pressure grows with the ratio of speeds.
  Breathing b = mid_size(8, 0, Compression::external);
  b.blower.leak = b.blower.speed_loss = 0;
  b.around.cooler_effectiveness = 1;
  b.around.coolant_temperature = b.around.temperature;
  const auto c = calibrated(b);
  ASSERT_TRUE(c);
  for (const double more : {0.0, 0.1, 0.25, 0.5}) {
    const double absolute = at(*c, 2 * (1 + more), 6000).gauge + 101.325;
    EXPECT_NEAR(absolute, (101.325 + 8 * kPsi) * (1 + more), 1e-6);
  }
}

TEST(Charge, TakesTheExternalCompressorsShaftPower) {
  // Q Δp / η_mech, by hand: 1900 cm³ × 12000 / min × 55.158 kPa / 0.93.
  Breathing b = mid_size(8, 0, Compression::external);
  const auto c = calibrated(b);
  ASSERT_TRUE(c);
  EXPECT_NEAR(c->shaft, 1900e-6 * 200 * 8 * kPsi * 1000 / 0.93, 1e-6 * c->shaft);
}

TEST(Charge, HoldsWhatCommonPracticeSays) {
  // Common practice, no source: 5 % of overdrive gives about 1 psi, 10 % 2 to 2.5, 20 % about 4, 30 % about 6 with good
  // breathing and as little as 4 with a restricted inlet, on a base of about 6 to 12 psi.
  struct Case {
    double overdrive;
    double says;
  };
  for (const Case& c : {Case{0.05, 1}, {0.10, 2}, {0.10, 2.5}, {0.20, 4}, {0.30, 6}, {0.30, 4}}) {
    double least = 1e9, most = 0;
    for (const double base : {6.0, 8.0, 10.0, 12.0}) {
      least = std::min(least, gain_psi(mid_size(base, kRestricted), c.overdrive));
      most = std::max(most, gain_psi(mid_size(base, kFree), c.overdrive));
    }
    EXPECT_LE(least, c.says + 0.1) << 100 * c.overdrive << " %";
    EXPECT_GE(most, c.says) << 100 * c.overdrive << " %";
  }
}

TEST(Charge, GrowsSlowerTowardsTheFarEnd) {
  for (const double loss : {kFree, kRestricted}) {
    const Breathing b = mid_size(8, loss);
    double before = 1e9;
    for (int step = 1; step <= 6; ++step) {
      const double now = gain_psi(b, 0.1 * step) - gain_psi(b, 0.1 * (step - 1));
      EXPECT_LT(now, before) << step << " × 10 %, loss " << loss;
      EXPECT_GT(now, 0);
      before = now;
    }
  }
}

TEST(Charge, RestrictionCostsPressureAndAir) {
  const auto free = calibrated(mid_size(8, kFree)), restricted = calibrated(mid_size(8, kRestricted));
  ASSERT_TRUE(free && restricted);
  const ChargeState f = at(*free, 2.6, 6000), r = at(*restricted, 2.6, 6000);
  EXPECT_LT(r.gauge, f.gauge);
  EXPECT_LT(r.air / restricted->air, f.air / free->air);
}

TEST(Charge, StopsAtTheBypass) {
  Breathing b = mid_size(8, kFree);
  b.around.bypass_gauge = 10 * kPsi;
  const auto c = calibrated(b);
  ASSERT_TRUE(c);
  EXPECT_FALSE(at(*c, 2.05, 6000).bypasses);
  const ChargeState s = at(*c, 2.8, 6000);
  EXPECT_TRUE(s.bypasses);
  EXPECT_DOUBLE_EQ(s.gauge, 10 * kPsi);
}

TEST(Charge, RefusesAnInletThatTakesAllPressure) { EXPECT_FALSE(calibrated(mid_size(8, 120))); }

}  // namespace
}  // namespace groovewright::drive
