// The rows: one sound drive that passes, and everything that can be wrong with it, one at a time.
#include <cctype>
#include <cmath>
#include <functional>
#include <numbers>
#include <set>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "drives.h"

namespace groovewright::drive {
namespace {

using testing::drive_of;
using testing::kDegree;
using testing::larkspur;
using testing::pk_belt;
using testing::ribbed;

Drive sound() {
  Drive d = larkspur();
  d.pulleys[4].radius = d.pulleys[4].outside = 32;
  d.belt.effective_length.value = length_at_middle(Swing(d, course(d)));
  d.belt.shorter.value = 4;
  d.belt.stretch.value = 0.002;
  d.duty.rpm = {800, 2000, 4000, 5800};
  return d;
}

Rows rows_of(const Drive& d) { return rows(d, analyse(d)); }

const Check* find(const Rows& rows, const std::string& id) {
  for (const Check& c : rows.checks) {
    if (c.id == id) return &c;
  }
  return nullptr;
}

std::string failing(const Rows& rows) {
  std::string all;
  for (const Check& c : rows.checks) {
    if (c.verdict == Verdict::fail) all += c.id + " (" + c.says + ")\n";
  }
  return all;
}

TEST(DriveRules, SettleLimitsAndGrip) {
  const Limits l = limits(testing::rules());
  // Common practice as the house has it; each source says so.
  EXPECT_NEAR(l.arm_travel.value, 5 * kDegree, 1e-12);
  EXPECT_NEAR(l.entry_fail.value, 1 * kDegree, 1e-12);
  EXPECT_NEAR(l.entry_note.value, 0.5 * kDegree, 1e-12);
  EXPECT_EQ(l.clearance.value, 5);
  EXPECT_EQ(l.span_clearance.value, 10);
  EXPECT_EQ(l.back_bend.value, 1.4);
  const Grip g = grip(testing::rules());
  EXPECT_EQ(g.design_ratio_ribs.value, 4);
  // ln 4 / pi: what the design ratio means as friction on the wrap.
  EXPECT_NEAR(ratio_at_wrap(g.design_ratio_ribs.value, 1), std::exp(0.441271), 1e-6);
  EXPECT_EQ(testing::rules().rule("tensioner_friction").value, 0.3);
  for (const Sourced& s :
       {l.arm_travel, l.slide_travel, l.clearance, l.long_span, l.ligament, g.wet, g.design_ratio_back}) {
    EXPECT_FALSE(s.source.empty());
  }
}

TEST(DriveRows, PassOnASoundDrive) {
  const Rows rows = rows_of(sound());
  EXPECT_EQ(worst(rows.checks), Verdict::pass) << failing(rows);
  EXPECT_GT(rows.checks.size(), 80U);
  EXPECT_GE(rows.cautions.size(), 2U);
}

TEST(DriveRows, HaveStableIdsSourcesAndWords) {
  Drive d = sound();
  d.pulleys[2].name = "Idler No. 1";
  d.pulleys[4].name = "idler no 1";
  d.pulleys[1].reference_radius = 45;
  d.belt.line_to_cord_elsewhere = {0.4826, "inch sheet"};
  d.obstacles = {{"cover boss", {400, 400}, 10, {}, {}}, {"cover boss", {450, 400}, 10, {}, {}}};
  const Rows rows = rows_of(d);
  std::set<std::string> ids;
  const auto hold = [&](const std::string& id, const std::string& source) {
    EXPECT_TRUE(ids.insert(id).second) << id << " twice";
    EXPECT_FALSE(source.empty()) << id;
    for (const char c : id)
      EXPECT_TRUE(std::islower(static_cast<unsigned char>(c)) || std::isdigit(static_cast<unsigned char>(c)) ||
                  c == '_')
          << id;
  };
  for (const Dimension& r : rows.dimensions) hold(r.id, r.source);
  for (const Check& r : rows.checks) {
    hold(r.id, r.source);
    EXPECT_FALSE(r.label.empty()) << r.id;
    EXPECT_FALSE(r.says.empty()) << r.id;
  }
  EXPECT_TRUE(ids.contains("wrap_idler_no_1") && ids.contains("wrap_idler_no_1_2"));
  EXPECT_TRUE(ids.contains("overdrive_blower"));
  EXPECT_TRUE(ids.contains("speed_ratio_elsewhere_blower"));
  EXPECT_FALSE(ids.contains("speed_ratio_elsewhere_crank")) << "1 by any standard";
  EXPECT_TRUE(ids.contains("clearance_obstacle_2_cover_boss"));
}

TEST(DriveRows, NamesBecomeIds) {
  EXPECT_EQ(as_id("Air-con  pump (left)"), "air_con_pump_left");
  EXPECT_EQ(as_id("K7"), "k7");
  EXPECT_EQ(as_id("—"), "unnamed");
}

struct Wrong {
  const char* what;
  std::function<void(Drive&)> change;
  const char* fails;     ///< id of the row that shall fail …
  const char* fragment;  ///< … and what it says
};

TEST(DriveRows, FailWhereSomethingIsWrong) {
  const std::vector<Wrong> cases = {
      {"an idler beside the belt", [](Drive& d) { d.pulleys[2].at.x += 200; }, "layout", "idler"},
      {"two pulleys in one place", [](Drive& d) { d.pulleys[3].at = d.pulleys[1].at; }, "layout", "same centre"},
      {"a crank pulley too fast for the belt", [](Drive& d) { d.duty.rpm.back() = 6200; }, "belt_speed", "6200 rpm"},
      {"a blower pulley too small", [](Drive& d) { d.pulleys[1].speed_max = 9000; }, "own_speed_blower", "5800 rpm"},
      {"a pulley with too few grooves", [](Drive& d) { d.pulleys[5].grooves = 6; }, "grooves_charger",
       "hangs 2 ribs over"},
      {"a pulley too small for the section", [](Drive& d) { d.belt.effective_diameter_min.value = 57; },
       "effective_diameter_charger", "least"},
      {"a narrow idler", [](Drive& d) { d.pulleys[2].width = 30; }, "flat_width_idler", "width"},
      {"an idler too small", [](Drive& d) { d.pulleys[4].radius = 30; }, "back_bend_guide", "backwards"},
      {"a pulley out of plane", [](Drive& d) { d.pulleys[6].plane = 6; }, "entry_angle_fan_crank", "lining up"},
      {"a belt too short", [](Drive& d) { d.belt.effective_length.value -= 60; }, "belt_fits", "too short"},
      {"a belt too long", [](Drive& d) { d.belt.effective_length.value += 60; }, "belt_fits", "too long"},
      {"a belt that leaves the arm on its stop", [](Drive& d) { d.belt.effective_length.value += 4; },
       "tensioner_travel_near", "holds it at"},
      {"a belt that pulls the arm to its far stop", [](Drive& d) { d.belt.effective_length.value -= 20; },
       "tensioner_travel_far", "holds it at"},
      {"a driver before the crank",
       [](Drive& d) {
         d.pulleys[0].drives = false;
         d.pulleys[6].drives = true;
         d.pulleys[0].inertia = 500;
       },
       "tensioner_on_slack_span", "right after the driver"},
      {"a boss beside a pulley",
       [](Drive& d) {
         d.obstacles = {{"boss", {0, -100}, 12, {}, {}}};
       },
       "clearance_crank", "nearest: boss"},
      {"a boss in the belt",
       [](Drive& d) {
         d.obstacles = {{"boss", {110, -60}, 30, {}, {}}};
       },
       "clearance_span_fan_crank", "run into each other"},
      {"a tall flange",
       [](Drive& d) {
         for (Pulley& p : d.pulleys) p.flange_height = 12;
       },
       "belt_room_length", "last"},
      {"no room for the belt to pass",
       [](Drive& d) {
         for (Pulley& p : d.pulleys) {
           if (p.side == Side::ribs)
             d.obstacles.push_back({"post", p.at + plane::polar(p.body_radius() + 12, 3.9), 6, {}, {}});
         }
       },
       "belt_room_gap", "last"},
      {"a weak spring",
       [](Drive& d) {
         d.tensioner->effort /= 3;
         d.tensioner->rate /= 3;
       },
       "slip_crank", "allowed"},
      {"a spring that lets the belt hang",
       [](Drive& d) {
         d.tensioner->effort = 100;
         d.tensioner->rate = 0;
         d.duty.drop = 6000;
       },
       "belt_taut", "hangs loose"},
      {"a weak spring, tension told",
       [](Drive& d) {
         d.tensioner->effort /= 3;
         d.tensioner->rate /= 3;
       },
       "tension_needed", "most is needed"},
      {"a bearing too small for the crank's hub load", [](Drive& d) { d.pulleys[0].pull_max = 500; }, "hub_load",
       "its bearing at"},
      {"a bearing too small for the arm's idler", [](Drive& d) { d.tensioner->idler.pull_max = 50; }, "shaft_load_arm",
       "its bearing at"},
      {"a speed beyond the loads", [](Drive& d) { d.pulleys[1].load.back().rpm = 9000; }, "loads_known", "5800 rpm"},
      {"a peg hole that runs into the old one", [](Drive& d) { d.belt.effective_length.value += 8; }, "ligament",
       "adapter plate"},
  };
  for (const Wrong& w : cases) {
    Drive d = sound();
    w.change(d);
    const Rows rows = rows_of(d);
    const Check* row = find(rows, w.fails);
    ASSERT_NE(row, nullptr) << w.what << ": no row " << w.fails << "; failing: " << failing(rows);
    EXPECT_EQ(row->verdict, Verdict::fail) << w.what << ": " << row->id << " = " << row->value;
    EXPECT_NE(row->says.find(w.fragment), std::string::npos) << w.what << ": " << row->says;
  }
}

/// Two equal strands pull 2 T' on a shaft wrapped by half a turn; of T they lack the belt's m v² (statics). Slowest
/// speed, 1000 rpm: v = 52 mm × 104.72 rad/s, m = 8 × 0.021 kg/m.
TEST(DriveRows, HoldTheHubLoadAgainstTheBearing) {
  Drive d = drive_of(pk_belt(8, 1120), Sense::clockwise, {ribbed("a", {0, 0}, 50), ribbed("b", {400, 0}, 50)});
  d.duty.still_tension = 400;
  d.duty.rpm = {1000, 5000};
  const double speed = 0.052 * 1000 * std::numbers::pi / 30, load = 2 * (400 - 8 * 0.021 * speed * speed);
  EXPECT_EQ(find(rows_of(d), "hub_load")->verdict, Verdict::note) << "no bearing, no limit";
  for (const double by : {-1.0, 1.0}) {
    d.pulleys[0].pull_max = d.pulleys[1].pull_max = load + by;
    const Rows rows = rows_of(d);
    for (const char* id : {"hub_load", "shaft_load_b"}) {
      const Check& c = *find(rows, id);
      EXPECT_NEAR(c.value, load, 1e-9) << id;
      EXPECT_EQ(c.upper, load + by) << id;
      EXPECT_EQ(c.verdict, by > 0 ? Verdict::pass : Verdict::fail) << id;
    }
  }
}

/// The greatest pull is that of the tensioner's friction at its high end, whichever way torque goes.
TEST(DriveRows, TakeTheHubLoadAtTheHighEndOfTheFriction) {
  Drive d = sound();
  const double with_friction = find(rows_of(d), "hub_load")->value;
  const Band set = analyse(d).set;
  d.tensioner->friction.value = 0;
  const double without = find(rows_of(d), "hub_load")->value;
  // Both strands of the crank gain what the friction adds to T'; by the triangle's rule the load grows by 2 of it at
  // most.
  EXPECT_GT(with_friction, without);
  EXPECT_LE(with_friction - without, 2 * (set.high - set.mid) + 1e-9);
}

TEST(DriveRows, TellWhatBendingCosts) {
  Drive d = sound();
  EXPECT_EQ(find(rows_of(d), "bending_loss"), nullptr) << "not known";
  d.belt.bending_loss = {300, "test"};
  const Analysis a = analyse(d);
  ASSERT_EQ(a.bending.size(), d.duty.rpm.size());
  const Rows all = rows(d, a);
  double total = 0;
  for (const char* name : {"crank", "arm", "blower", "idler", "pump", "guide", "charger", "fan"}) {
    const Check* c = find(all, "bending_loss_" + std::string(name));
    ASSERT_NE(c, nullptr) << name;
    EXPECT_EQ(c->verdict, Verdict::note);
    total += c->value;
  }
  EXPECT_NEAR(find(all, "bending_loss")->value, total, 1e-9);
  // Torque × speed of each load at 5800 rpm, linear between the points that `larkspur` gives.
  const double rad = 5800 * std::numbers::pi / 30, blower = 82.0 / 45, pump = 82.0 / 62, charger = 82.0 / 30;
  const auto between = [](double x, double x0, double y0, double x1, double y1) {
    return y0 + (y1 - y0) * (x - x0) / (x1 - x0);
  };
  const auto torque_of = [&](double watts, double rpm) { return watts / (rpm * charger * std::numbers::pi / 30); };
  const double loads = rad * blower * between(5800 * blower, 1000, 3, 14000, 28) +
                       rad * pump * between(5800 * pump, 0, 1.5, 12000, 2.5) +
                       rad * charger * between(5800, 500, torque_of(900, 500), 7000, torque_of(1900, 7000));
  EXPECT_NEAR(find(all, "driver_power")->value, loads + total, 1e-6 * loads);
}

TEST(DriveRows, TellWhatHeatAndColdDo) {
  Drive d = sound();
  EXPECT_EQ(find(rows_of(d), "hot_growth"), nullptr);
  d.duty.ambient = 5;
  EXPECT_NE(find(rows_of(d), "ambient")->says.find("'heat'"), std::string::npos) << "nothing follows it yet";
  d.duty.hot_growth = {1.2, "test"}, d.duty.cold_shrink = {0.4, "test"};
  const Rows rows = rows_of(d);
  EXPECT_EQ(find(rows, "hot_growth")->value, 1.2);
  EXPECT_EQ(find(rows, "cold_shrink")->value, 0.4);
  EXPECT_EQ(find(rows, "ambient"), nullptr);
}

TEST(DriveRows, SayWhatLengthWouldDo) {
  Drive d = sound();
  d.belt.effective_length.value -= 60;
  const Analysis a = analyse(d);
  ASSERT_FALSE(a.troubles.empty());
  EXPECT_EQ(a.troubles[0].kind, Complaint::Kind::belt_too_short);
  // The length that it asks for sits on the far stop.
  const double length = d.belt.effective_length.value + a.troubles[0].figure;
  d.belt.effective_length.value = length + 0.5;
  EXPECT_EQ(seat(Swing(d, course(d)), d.belt.effective_length.value).state, Seat::State::seated);
}

TEST(DriveRows, OfFixedCentresHoldThePathAgainstTheBelt) {
  Drive d = drive_of(pk_belt(8, 1120), Sense::clockwise, {ribbed("a", {0, 0}, 50), ribbed("b", {400, 0}, 50)});
  d.duty.still_tension = 400;
  d.duty.rpm = {1000, 5000};
  d.pulleys[1].load = {{.rpm = 0, .own_speed = true, .value = 5000}, {.rpm = 9000, .own_speed = true, .value = 5000}};
  Rows rows = rows_of(d);
  EXPECT_EQ(find(rows, "belt_length")->verdict, Verdict::pass) << "800 + 100 pi is 1114.2, 6 mm allowed";
  EXPECT_EQ(find(rows, "slip_b")->verdict, Verdict::pass);
  d.belt.effective_length.value = 1125;
  rows = rows_of(d);
  EXPECT_EQ(find(rows, "belt_length")->verdict, Verdict::fail);
}

TEST(DriveRows, AreTheSameTwice) {
  const auto told = [] {
    std::string all;
    for (const Check& c : rows_of(sound()).checks) all += c.id + std::to_string(c.value) + c.says + "\n";
    return all;
  };
  EXPECT_EQ(told(), told());
}

}  // namespace
}  // namespace groovewright::drive
