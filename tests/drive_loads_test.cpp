// Loads: balances of moments, forces and power, the statics of a wrapped rim, and limits that follow from them.
#include <cmath>
#include <numbers>
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
using testing::laid;
using testing::larkspur;
using testing::pk_belt;
using testing::ribbed;

LoadCase loaded(const Drive& d, double rpm, Way way, double set) {
  const Course c = course(d);
  LoadCase load;
  if (!load_case(d, c, laid(c), rpm, way, set, load)) throw Broken("load not known");
  return load;
}

TEST(Loads, BalanceOnEveryRoundAndInPower) {
  expect_property([] {
    const Drive d = larkspur();
    const Course c = course(d);
    const double rpm = any(800, 6500), set = any(100, 900);
    const Way way = *rc::gen::arbitrary<bool>() ? Way::drive : Way::overrun;
    const LoadCase load = loaded(d, rpm, way, set);
    double power = 0;
    for (std::size_t i = 0; i < c.size(); ++i) {
      // Moment about the shaft: the belt's two pulls at the cord's radius carry the torque.
      const double moment = (load.tension[i] - load.tension[c.before(i)]) * cord_radius(d.belt, pulley_at(d, c, i));
      RC_ASSERT(std::abs(moment - load.torque[i]) < 1e-7);
      power += load.torque[i] * speed_ratio(d, c, i) * rpm;
    }
    RC_ASSERT(std::abs(power) < 1e-6 * std::abs(load.torque[c.driver] * rpm));  // what goes in comes out
    RC_ASSERT(std::abs(load.tension[c.idler] - set) < 1e-9);
    RC_ASSERT(std::abs(load.tension[c.before(c.idler)] - set) < 1e-9);
  });
}

TEST(Loads, TorqueIsPowerOverSpeedAndInertia) {
  Drive d = larkspur();
  const Course c = course(d);
  // Charger: 28 effective, cord 30, ratio 82/30. 900 W at 500 rpm of the driver.
  const double ratio = 82.0 / 30;
  EXPECT_NEAR(load_torque(d, c, 6, 500).value(), 900 / (500 * ratio * 2 * pi / 60) * 1000, 1e-6);
  // Linear in own speed between points: half way between 500 and 7000 rpm of the driver.
  const double low = load_torque(d, c, 6, 500).value(), high = load_torque(d, c, 6, 7000).value();
  EXPECT_NEAR(load_torque(d, c, 6, 3750).value(), (low + high) / 2, 1e-6);
  EXPECT_FALSE(load_torque(d, c, 6, 499).has_value());
  EXPECT_FALSE(load_torque(d, c, 6, 7001).has_value());
  EXPECT_EQ(load_torque(d, c, c.idler, 100).value(), 0);
  // 2500 kg mm² at 400 rad/s² of the driver: J alpha = 2.5e-3 kg m² × 400 × ratio N m.
  const LoadCase pull = loaded(d, 3750, Way::drive, 500), run = loaded(d, 3750, Way::overrun, 500);
  EXPECT_NEAR(pull.torque[6], (low + high) / 2 + 2.5e-3 * 400 * ratio * 1000, 1e-6);
  EXPECT_NEAR(run.torque[6], (low + high) / 2 - 2.5e-3 * 600 * ratio * 1000, 1e-6);
  d.duty.peak = 1.5;
  d.duty.overrun_load.value = 0.1;
  EXPECT_NEAR(loaded(d, 3750, Way::drive, 500).torque[6] - pull.torque[6], 0.5 * (low + high) / 2, 1e-6);
  EXPECT_NEAR(run.torque[6] - loaded(d, 3750, Way::overrun, 500).torque[6], 0.9 * (low + high) / 2, 1e-6);
}

/// Bending a strip to the curvature k stores E b h³ k²/24 a unit of length (beam theory): here by summing E (y k)²/2
/// over layers. A tenth of it is lost wherever a metre of belt is bent and straightened again, v metres a second.
TEST(Bending, CostsAShareOfTheStripsElasticEnergy) {
  Drive d = larkspur();
  const double modulus = 60, height = 4.5, share = 0.1, width = 3.56;  // N/mm², mm; of one rib
  d.belt.bending_loss.value = share * modulus * width * height * height * height / 24;
  const Course c = course(d);
  const BendingLoss loss = bending_loss(d, c, 5000);
  ASSERT_EQ(loss.rounds.size(), c.size());
  const double speed = 5000 * 2 * pi / 60 * 0.082;  // m/s, on the crank's cord
  double total = 0;
  for (std::size_t i = 0; i < c.size(); ++i) {
    const Pulley& p = pulley_at(d, c, i);
    const double cord = p.side == Side::ribs ? p.radius + 2 : p.radius + 1.5;  // b_e 2 mm, cord to back 1.5 mm
    constexpr int kLayers = 20000;
    double energy = 0;  // N mm a mm: N
    for (int k = 0; k < kLayers; ++k) {
      const double y = height * ((k + 0.5) / kLayers - 0.5);
      energy += modulus * y / cord * y / cord / 2 * width * height / kLayers;
    }
    EXPECT_NEAR(loss.rounds[i], 8 * share * energy * speed, 1e-6 * loss.rounds[i]) << p.name;
    total += loss.rounds[i];
  }
  EXPECT_NEAR(loss.total, total, 1e-9);
}

/// Read in its abstract (authors, title and year from memory: Childs and Cowburn, Power transmission losses in V-belt
/// drives, part 2, Proc. IMechE 1987): the
/// torque lost between two pulleys of equal radius R, 51, 36 and 21 mm, is about proportional to 1/R.
TEST(Bending, TorqueLostGoesWithOneOverTheRadius) {
  const double measured_on = 51;
  const auto torque_lost = [](double cord) {  // N mm, of the pair
    Drive d =
        drive_of(pk_belt(1, 1000), Sense::clockwise, {ribbed("a", {0, 0}, cord - 2), ribbed("b", {300, 0}, cord - 2)});
    d.belt.bending_loss.value = 20 * 51;  // 20 N mm at 51 mm
    return bending_loss(d, course(d), 3000).total / (3000 * pi / 30) * 1000;
  };
  EXPECT_NEAR(torque_lost(measured_on), 2 * 20, 1e-9) << "what one pulley was measured to drag with, twice";
  EXPECT_NEAR(torque_lost(36) / torque_lost(measured_on), 51.0 / 36, 1e-9);
  EXPECT_NEAR(torque_lost(21) / torque_lost(measured_on), 51.0 / 21, 1e-9);
}

TEST(Loads, AreKnownWhereAllOfThemAre) {
  const Drive d = larkspur();
  const Course c = course(d);
  const SpeedRange known = known_speeds(d, c);
  // The blower's 1000 to 14000 own rpm at a ratio of 82/45, the charger's 500 to 7000 of the driver.
  EXPECT_NEAR(known.first, 1000 * 45 / 82.0, 1e-9);
  EXPECT_NEAR(known.last, 7000, 1e-9);
  LoadCase load;
  EXPECT_TRUE(load_case(d, c, laid(c), known.first, Way::drive, 500, load));
  EXPECT_TRUE(load_case(d, c, laid(c), known.last, Way::drive, 500, load));
  EXPECT_FALSE(load_case(d, c, laid(c), known.first - 1, Way::drive, 500, load));
}

TEST(Loads, TightAndSlackSwapOnOverrun) {
  Drive d = larkspur();
  d.duty.overrun_load.value = 0;
  const Course c = course(d);
  const LoadCase pull = loaded(d, 4000, Way::drive, 500), run = loaded(d, 4000, Way::overrun, 500);
  EXPECT_GT(pull.tension[c.before(c.driver)], 500) << "what arrives at the driver is tight";
  EXPECT_LT(run.tension[c.before(c.driver)], 500);
  EXPECT_LT(pull.torque[c.driver], 0);
  EXPECT_GT(run.torque[c.driver], 0);
}

TEST(ShaftLoad, OfEqualTensionsIsTwiceTheSineOfHalfTheWrap) {
  expect_property([] {
    Drive d = larkspur();
    for (Pulley& p : d.pulleys) {
      p.load.clear();
      p.inertia = 0;
    }
    const Course c = course(d);
    const Route r = laid(c);
    const double set = any(1, 2000);
    const LoadCase load = loaded(d, any(0, 6000), Way::drive, set);
    for (std::size_t i = 0; i < c.size(); ++i) {
      const Vec2 pull = shaft_load(c, r, load, i);
      RC_ASSERT(std::abs(norm(pull) - 2 * set * std::sin(r.wraps[i] / 2)) <
                1e-9 * set);  // statics of a string on a rim
    }
  });
}

TEST(ShaftLoad, IsNothingWithoutTensionAtAnySpeed) {
  Drive d = larkspur();
  for (Pulley& p : d.pulleys) {
    p.load.clear();
    p.inertia = 0;
  }
  const Course c = course(d);
  const Route r = laid(c);
  for (const double rpm : {0.0, 3000.0, 9000.0}) {
    const LoadCase load = loaded(d, rpm, Way::drive, 0);
    for (std::size_t i = 0; i < c.size(); ++i) EXPECT_EQ(norm(shaft_load(c, r, load, i)), 0) << rpm;
    EXPECT_NEAR(load.centrifugal, 8 * 0.021 * std::pow(rpm * 2 * pi / 60 * 0.082, 2), 1e-9);
  }
}

TEST(ShaftLoad, SumsToNothingOverTheDrive) {
  // Inner forces: what the belt does to all shafts cancels.
  const Drive d = larkspur();
  const Course c = course(d);
  const Route r = laid(c);
  const LoadCase load = loaded(d, 5000, Way::drive, 600);
  Vec2 sum;
  for (std::size_t i = 0; i < c.size(); ++i) sum = sum + shaft_load(c, r, load, i);
  EXPECT_NEAR(norm(sum), 0, 1e-9);
}

TEST(Hold, LimitsTheRatioByItsWrap) {
  Drive d = drive_of(pk_belt(8, 0), Sense::clockwise, {ribbed("a", {0, 0}, 50), ribbed("b", {400, 0}, 50)});
  d.pulleys[1].load = {{.rpm = 0, .own_speed = true, .value = 20000}, {.rpm = 9000, .own_speed = true, .value = 20000}};
  const Course c = course(d);
  const Route r = laid(c);
  const double mean = 500;
  LoadCase load;
  ASSERT_TRUE(load_case(d, c, r, 0, Way::drive, mean, load));
  const double half = 20000 / 52.0 / 2;
  EXPECT_NEAR(load.tension[0], mean - half, 1e-9) << "leaving the driver: slack";
  EXPECT_NEAR(load.tension[1], mean + half, 1e-9);
  const Hold h = hold(d, c, r, load, mean, 1);
  EXPECT_NEAR(h.ratio, (mean + half) / (mean - half), 1e-12);
  EXPECT_NEAR(h.allowed, 4, 1e-9) << "at 180 deg the design ratio itself";
  EXPECT_NEAR(h.margin, 4 / h.ratio, 1e-12);
  EXPECT_NEAR(h.wet_margin, 2 / h.ratio, 1e-12) << "half the friction: the root of 4";
  EXPECT_NEAR(h.bare, std::exp(0.3 / std::sin(20 * pi / 180) * pi), 1e-9);
  // Set to what it asks for, the margin is one.
  ASSERT_TRUE(load_case(d, c, r, 0, Way::drive, h.set_needed, load));
  EXPECT_NEAR(hold(d, c, r, load, h.set_needed, 1).margin, 1, 1e-9);
  // Fixed centres: centrifugal tension takes its part of what was set standing still.
  ASSERT_TRUE(load_case(d, c, r, 6000, Way::drive, mean, load));
  EXPECT_NEAR((load.tension[0] + load.tension[1]) / 2, mean - load.centrifugal, 1e-9);
  ASSERT_TRUE(load_case(d, c, r, 0, Way::drive, half / 2, load));
  EXPECT_EQ(hold(d, c, r, load, half / 2, 1).margin, 0) << "the slack side hangs loose";
}

TEST(Hold, AsksForATensionThatHolds) {
  expect_property([] {
    const Drive d = larkspur();
    const Course c = course(d);
    const Route r = laid(c);
    const double rpm = any(800, 6500), set = any(50, 900);
    const Way way = *rc::gen::arbitrary<bool>() ? Way::drive : Way::overrun;
    LoadCase load = loaded(d, rpm, way, set);
    double needed = 0;
    for (std::size_t i = 0; i < c.size(); ++i) needed = std::max(needed, hold(d, c, r, load, set, i).set_needed);
    load = loaded(d, rpm, way, needed);
    double least = kUnlimited;
    for (std::size_t i = 0; i < c.size(); ++i) least = std::min(least, hold(d, c, r, load, needed, i).margin);
    RC_ASSERT(std::abs(least - 1) < 1e-9);
  });
}

TEST(Frequency, FallsWithSpeedUntilNothingIsLeft) {
  // Standing: the string's (1/2L) sqrt(T/m). At T' = 0 the span carries nothing across: 0.
  EXPECT_NEAR(span_frequency(500, 0.168, 0, 300), std::sqrt(500 / 0.168) / 0.6, 1e-9);
  EXPECT_EQ(span_frequency(0, 0.168, 30, 300), 0);
  EXPECT_EQ(span_frequency(-1, 0.168, 30, 300), 0);
  // (c² - v²)/(2 L c) with c² = T/m, T = T' + m v².
  const double v = 30, c = std::sqrt((500 + 0.168 * v * v) / 0.168);
  EXPECT_NEAR(span_frequency(500, 0.168, v, 300), (c * c - v * v) / (0.6 * c), 1e-9);
}

TEST(Frequency, MapMeetsTheOrdersWhereItSays) {
  const Drive d = larkspur();
  const Course c = course(d);
  const Route r = laid(c);
  const Band set{350, 500, 650};
  const FrequencyMap map = frequency_map(d, c, r, set, 53);
  ASSERT_EQ(map.lines.size(), 8U);
  ASSERT_FALSE(map.meetings.empty());
  for (const FrequencyLine& line : map.lines) {
    ASSERT_EQ(line.points.size(), 53U);
    EXPECT_EQ(line.points.front().driver_rpm, 800);
    EXPECT_EQ(line.points.back().driver_rpm, 6000);
    for (const FrequencyPoint& p : line.points) {
      EXPECT_LT(p.frequency.low, p.frequency.mid);
      EXPECT_LT(p.frequency.mid, p.frequency.high);
    }
  }
  for (const Meeting& m : map.meetings) {
    EXPECT_EQ(m.span_name, pulley_at(d, c, m.span).name + " to " + pulley_at(d, c, c.next(m.span)).name);
    EXPECT_EQ(std::stod(m.order_name), m.order);
    const LoadCase load = loaded(d, m.driver_rpm, Way::drive, set.mid);
    const double f = span_frequency(load.tension[m.span], d.belt.mass(), load.speed, r.spans[m.span].length);
    EXPECT_NEAR(f, m.order * m.driver_rpm / 60, 0.02 * f) << "span " << m.span << ", order " << m.order;
    EXPECT_NEAR(m.frequency, m.order * m.driver_rpm / 60, 1e-9);
  }
}

}  // namespace
}  // namespace groovewright::drive
