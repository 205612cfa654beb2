// From the drive document to the settled drive: which number comes from where, and which belt is bought.
#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <numbers>

#include "drives.h"
#include "groovewright/drive/belts.h"
#include "groovewright/drive/settle.h"
#include "groovewright/job/drive.h"
#include "published/built_in_catalog.h"

namespace groovewright::drive {
namespace {

using testing::kDegree;
using Made = std::map<std::string, MadePulley>;

struct Settled {
  Diagnostics diagnostics;
  std::optional<Drive> drive;
};

Settled settled(const std::string& text, const Made& made = {}) {
  static const catalog::Catalog numbers = catalog::built_in_catalog();
  Settled s;
  const auto spec = spec::read_drive({"drive.yaml", text}, s.diagnostics);
  if (spec) s.drive = settle(*spec, numbers, made, s.diagnostics);
  return s;
}

const std::string kCrank = "{name: crank, at: [0 mm, 0 mm], effective_diameter: 130 mm, drives: true}";
const std::string kPump = "{name: pump, at: [330 mm, 70 mm], effective_diameter: 100 mm}";
const std::string kArm =
    "tensioner: {after: crank, pivot: [75 mm, 150 mm], arm: 100 mm, back_diameter: 70 mm, angle: {free: 285 deg, "
    "stops: [285 deg, 345 deg]}, spring: {torque: 30 N m}}\n";

std::string document(const std::string& belt = "section: PK, ribs: 6",
                     const std::vector<std::string>& pulleys = {kCrank, kPump}, const std::string& more = "") {
  std::string text = "drive: test\nbelt: {" + belt + "}\nturns: clockwise\npulleys:\n";
  for (const std::string& p : pulleys) text += "  - " + p + "\n";
  return text + more;
}

Drive drive_from(const std::string& text, const Made& made = {}) {
  const Settled s = settled(text, made);
  EXPECT_TRUE(s.drive) << s.diagnostics.text() << text;
  return s.drive.value_or(Drive{});
}

// ---- defaults ----

TEST(DriveSettle, FillsInWhatTheBeltsDocumentLeavesOut) {
  const Belt b = drive_from(document("section: PK, ribs: 6, length: 1100 mm")).belt;
  struct Default {
    const char* what;
    Sourced is;
    double value;
    const char* source;
  };
  // ISO 9981 where it says so, else makers' sheets and estimates from memory: each source says which.
  for (const Default& d : {Default{"pitch", b.pitch, 3.56, "ISO 9981"},
                           {"b_e", b.line_to_cord, 2.0, "ISO 9981"},
                           {"cord to back", b.cord_to_back, 1.5, "from memory"},
                           {"height", b.height, 6, "ISO 9981"},
                           {"mass", b.mass_per_rib, 0.021, "makers' sheets"},
                           {"stiffness", b.stiffness_per_rib, 25000, "own estimate"},
                           {"measured under", b.measured_under_per_rib, 50, "ISO 9981"},
                           {"stretch", b.stretch, 0.004, "own estimate"},
                           {"speed", b.speed_max, 50, "from memory"},
                           {"least diameter", b.effective_diameter_min, 45, "ISO 9981"},
                           {"shorter", b.shorter, 6, "ISO 9981"},
                           {"longer", b.longer, 6, "ISO 9981"},
                           {"length", b.effective_length, 1100, "spec"}}) {
    EXPECT_EQ(d.is.value, d.value) << d.what;
    EXPECT_NE(d.is.source.find(d.source), std::string::npos) << d.what << ": " << d.is.source;
  }
  EXPECT_GT(b.line_to_cord_elsewhere.value, 0) << "the inch sheet's, where the document gives none of its own";
}

TEST(DriveSettle, FillsInDutyGripAndLimits) {
  const Drive d = drive_from(document("section: PK, ribs: 6", {kCrank, kPump}, kArm));
  ASSERT_EQ(d.duty.rpm.size(), 14U);
  EXPECT_EQ(d.duty.rpm.front(), 800);
  EXPECT_EQ(d.duty.rpm.back(), 6000);
  for (std::size_t i = 1; i < d.duty.rpm.size(); ++i) EXPECT_NEAR(d.duty.rpm[i] - d.duty.rpm[i - 1], 400, 1e-9);
  EXPECT_EQ(d.duty.overrun_load.value, 0.2);
  EXPECT_EQ(d.duty.overrun_load.source, "from memory: a bypass opens, the load falls");
  EXPECT_EQ(d.duty.peak, 1);
  EXPECT_EQ(d.duty.gain, 0);
  EXPECT_EQ(d.duty.drop, 0);
  EXPECT_EQ(d.duty.orders, std::vector<double>{1});
  EXPECT_EQ(d.duty.hot_growth.value, 0);
  EXPECT_EQ(d.tensioner->friction.value, 0.3);
  EXPECT_EQ(d.tensioner->friction.source, "from memory: part of the spring's torque");
  EXPECT_EQ(d.tensioner->name, "tensioner");
  EXPECT_EQ(d.grip.design_ratio_ribs.value, 4);
  EXPECT_NEAR(d.limits.arm_travel.value, 5 * kDegree, 1e-15);
  EXPECT_EQ(d.turns, Sense::clockwise);
}

TEST(DriveSettle, FillsInWhatAPulleyLeavesOut) {
  const Drive d = drive_from(document());
  const Pulley& p = d.pulleys[1];
  EXPECT_EQ(p.grooves, 6) << "as many as the belt has ribs";
  EXPECT_EQ(p.plane, 0);
  EXPECT_EQ(p.flange_height, 0);
  EXPECT_EQ(p.inertia, 0);
  EXPECT_EQ(p.speed_max, kUnlimited);
  EXPECT_EQ(p.reference_radius, 0);
  EXPECT_FALSE(p.drives);
  EXPECT_TRUE(d.pulleys[0].drives);
}

/// The driver's own limit ends the speeds; where it lies under the usual lowest, that goes down with it.
TEST(DriveSettle, TakesTheSpeedsFromTheDriversLimit) {
  const auto speeds = [](const std::string& limit) {
    return drive_from(document("section: PK, ribs: 6",
                               {kCrank.substr(0, kCrank.size() - 1) + ", maximum_speed: " + limit + "}", kPump}))
        .duty.rpm;
  };
  EXPECT_EQ(speeds("7000 rpm").back(), 7000);
  EXPECT_EQ(speeds("7000 rpm").front(), 800);
  EXPECT_EQ(speeds("500 rpm").back(), 500);
  EXPECT_EQ(speeds("500 rpm").front(), 250);
}

// ---- what is written wins ----

TEST(DriveSettle, WhatIsWrittenWins) {
  const Drive d = drive_from(document(
      "section: PK, ribs: 6, length: 1100 mm, shorter: 3 mm, longer: 4 mm, pitch_line_offset: 1.2 mm, cord_to_back: "
      "1.4 "
      "mm, height: 4.8 mm, mass_per_rib: 20 g/m, stiffness_per_rib: 30 kN, measured_under_per_rib: 40 N, stretch: 0.3 "
      "%, speed_max: 60 m/s, speed_reason: the maker's word of May",
      {"{name: crank, at: [0 mm, 0 mm], effective_diameter: 130 mm, drives: true, inertia: 0.01 kg m2, plane: 3 mm, "
       "flange_height: 4 mm, grooves: 8, maximum_speed: 7000 rpm, reference_effective_diameter: 120 mm}",
       "{name: pump, at: [13 in, 70 mm], effective_diameter: 100 mm, load: [{at: 6000 rpm, power: 2 kW}, {at: 0 rpm, "
       "torque: 1 N m}]}"},
      "tensioner: {name: arm, kind: eccentric, after: crank, pivot: [75 mm, 150 mm], arm: 100 mm, effective_diameter: "
      "70 mm, angle: {free: 285 deg, stops: [345 deg, 285 deg]}, spring: {torque: 30 N m, rate: 0.5 N m/deg}, damping: "
      "20 %, arm_width: 24 mm, plane: 1 mm, maximum_speed: 15000 rpm, peg: {radius: 28 mm, angle: 120 deg, thread: M8, "
      "depth: 14 mm}}\n"
      "obstacles: [{name: boss, circle: {at: [10 mm, 20 mm], diameter: 30 mm}, from: -5 mm, to: 5 mm}]\n"
      "duty: {speeds: [900 rpm, 5000 rpm], speeding_up: 300 rpm/s, slowing_down: 30 rad/s2, peak: 1.5, overrun_load: "
      "40 "
      "%, orders: [1, 4], hot_growth: 0.5 mm}\ndesign_ratio: 3\n"));
  const Belt& b = d.belt;
  EXPECT_EQ(b.shorter.value, 3);
  EXPECT_EQ(b.longer.value, 4);
  EXPECT_EQ(b.line_to_cord.value, 1.2);
  EXPECT_EQ(b.line_to_cord_elsewhere.value, 0) << "one's own b_e is no standard's";
  EXPECT_EQ(b.cord_to_back.value, 1.4);
  EXPECT_EQ(b.height.value, 4.8);
  EXPECT_NEAR(b.mass_per_rib.value, 0.020, 1e-15);
  EXPECT_EQ(b.stiffness_per_rib.value, 30000);
  EXPECT_EQ(b.measured_under_per_rib.value, 40);
  EXPECT_NEAR(b.stretch.value, 0.003, 1e-15);
  EXPECT_EQ(b.speed_max.value, 60);
  EXPECT_EQ(b.speed_max.source, "the maker's word of May");
  for (const Sourced* s : {&b.shorter, &b.longer, &b.line_to_cord, &b.height, &b.stretch}) EXPECT_EQ(s->source, "spec");
  const Pulley &crank = d.pulleys[0], &pump = d.pulleys[1];
  EXPECT_NEAR(crank.inertia, 0.01e6, 1e-9) << "kg mm²";
  EXPECT_EQ(crank.plane, 3);
  EXPECT_EQ(crank.flange_height, 4);
  EXPECT_EQ(crank.grooves, 8);
  EXPECT_EQ(crank.speed_max, 7000);
  EXPECT_EQ(crank.reference_radius, 60);
  EXPECT_NEAR(pump.at.x, 330.2, 1e-9) << "13 in";
  ASSERT_EQ(pump.load.size(), 2U);
  EXPECT_EQ(pump.load[0].rpm, 0) << "rising, however written";
  EXPECT_EQ(pump.load[0].value, 1000);
  EXPECT_FALSE(pump.load[0].is_power);
  EXPECT_EQ(pump.load[1].value, 2000);
  EXPECT_TRUE(pump.load[1].is_power);
  const Tensioner& t = *d.tensioner;
  EXPECT_EQ(t.name, "arm");
  EXPECT_EQ(t.kind, Tensioner::Kind::eccentric);
  EXPECT_EQ(t.idler.side, Side::ribs);
  EXPECT_EQ(t.idler.radius, 35);
  EXPECT_EQ(t.idler.plane, 1);
  EXPECT_EQ(t.idler.speed_max, 15000);
  EXPECT_EQ(t.effort, 30000);
  EXPECT_NEAR(t.rate, 500 / kDegree, 1e-9) << "N mm/rad";
  EXPECT_EQ(t.friction.value, 0.2);
  EXPECT_EQ(t.friction.source, "spec");
  EXPECT_EQ(t.arm_half_width, 12);
  ASSERT_TRUE(t.peg);
  EXPECT_EQ(t.peg->thread, "M8");
  EXPECT_EQ(t.peg->diameter, 8);
  EXPECT_EQ(t.peg->tap_drill, 6.8) << "coarse M8, ISO 2306";
  EXPECT_EQ(t.peg->depth, 14);
  ASSERT_EQ(d.obstacles.size(), 1U);
  EXPECT_EQ(d.obstacles[0].radius, 15);
  EXPECT_EQ(d.obstacles[0].axial.rear, -5);
  EXPECT_EQ(d.duty.rpm, (std::vector<double>{900, 5000}));
  EXPECT_NEAR(d.duty.gain, 10 * std::numbers::pi, 1e-9) << "300 rpm/s";
  EXPECT_EQ(d.duty.drop, 30);
  EXPECT_EQ(d.duty.peak, 1.5);
  EXPECT_EQ(d.duty.overrun_load.value, 0.4);
  EXPECT_EQ(d.duty.overrun_load.source, "spec");
  EXPECT_EQ(d.duty.orders, (std::vector<double>{1, 4}));
  EXPECT_EQ(d.duty.hot_growth.value, 0.5);
  EXPECT_EQ(d.grip.design_ratio_ribs.value, 3);
}

/// 20 N mm at a pitch diameter of 60 mm: as much torque times radius for every pulley.
TEST(DriveSettle, TakesWhatBendingCostsAndWhatBearingsCarry) {
  const Drive d = drive_from(document(
      "section: PK, ribs: 6, bending_loss: {torque_per_rib: 20 N mm, pitch_diameter: 60 mm}",
      {kCrank, "{name: pump, at: [330 mm, 70 mm], effective_diameter: 100 mm, bearing: {radial_load: 2.5 kN}}"},
      "tensioner: {after: crank, pivot: [75 mm, 150 mm], arm: 100 mm, back_diameter: 70 mm, angle: {free: 285 deg, "
      "stops: [285 deg, 345 deg]}, spring: {torque: 30 N m}, bearing: {radial_load: 900 N}}\n"));
  EXPECT_NEAR(d.belt.bending_loss.value, 20 * 30, 1e-12);
  EXPECT_EQ(d.belt.bending_loss.source, "spec");
  EXPECT_EQ(d.pulleys[0].pull_max, kUnlimited);
  EXPECT_EQ(d.pulleys[1].pull_max, 2500);
  EXPECT_EQ(d.tensioner->idler.pull_max, 900);
  EXPECT_EQ(drive_from(document()).belt.bending_loss.value, 0) << "not known";
}

/// Expansion is length × coefficient × degrees; sizes hold at 20 °C (ISO 1). Open belt, two equal pulleys: 2 C + pi d.
TEST(DriveSettle, WorksOutHeatFromTheBeltsWay) {
  const std::vector<std::string> two{"{name: a, at: [0 mm, 0 mm], effective_diameter: 100 mm, drives: true}",
                                     "{name: b, at: [0 mm, 350 mm], effective_diameter: 100 mm}"};
  const double way = 2 * 350 + 100 * std::numbers::pi;
  const std::string heat = "duty: {heat: {working: 95 degC, expansion: 23.6 1e-6/K}}\n";
  const auto with = [&](const std::string& more) {
    return drive_from(document("section: PK, ribs: 6", two, more)).duty;
  };
  const Duty hot = with(heat), cold = with(heat + "ambient: {temperature: -15 degC}\n"),
             summer = with(heat + "ambient: {temperature: 35 degC}\n"),
             air_only = with("ambient: {temperature: -15 degC}\n");
  for (const Duty* d : {&hot, &cold, &summer}) EXPECT_NEAR(d->hot_growth.value, way * 23.6e-6 * 75, 1e-9);
  EXPECT_EQ(hot.cold_shrink.value, 0);
  EXPECT_EQ(summer.cold_shrink.value, 0);
  EXPECT_NEAR(cold.cold_shrink.value, way * 23.6e-6 * 35, 1e-9);
  EXPECT_EQ(air_only.hot_growth.value, 0);
  EXPECT_EQ(air_only.cold_shrink.value, 0);
  EXPECT_EQ(air_only.ambient, -15);
  // With a tensioner the way is that in the middle of its swing.
  const Drive arm = drive_from(document("section: PK, ribs: 6", {kCrank, kPump}, kArm + heat));
  EXPECT_NEAR(arm.duty.hot_growth.value, length_at_middle(Swing(arm, course(arm))) * 23.6e-6 * 75, 1e-9);
}

/// Any simple outline, either way round, with corners on a straight side, may stand; the corpus holds those that may
/// not.
TEST(DriveSettle, TakesEveryOutlineThatGoesRoundOnce) {
  for (const char* corners :
       {"[0 mm, 0 mm], [40 mm, 0 mm], [0 mm, 30 mm]", "[0 mm, 0 mm], [0 mm, 30 mm], [40 mm, 0 mm]",
        "[0 mm, 0 mm], [20 mm, 0 mm], [40 mm, 0 mm], [40 mm, 30 mm], [0 mm, 30 mm]",
        "[0 mm, 0 mm], [40 mm, 0 mm], [40 mm, 30 mm], [20 mm, 1 mm], [0 mm, 30 mm]",
        "[0 mm, 0 mm], [0.01 mm, 0 mm], [0.01 mm, 500 mm], [0 mm, 500 mm]"}) {
    const Settled s = settled(document("section: PK, ribs: 6", {kCrank, kPump},
                                       "obstacles: [{name: cover, polygon: [" + std::string(corners) + "]}]\n"));
    EXPECT_TRUE(s.drive) << corners << s.diagnostics.text();
  }
}

TEST(DriveSettle, StopsStandInAnyOrder) {
  std::string reversed = kArm;
  reversed.replace(reversed.find("[285 deg, 345 deg]"), 18, "[345 deg, 285 deg]");
  const Drive a = drive_from(document("section: PK, ribs: 6, length: 1050 mm", {kCrank, kPump}, kArm)),
              b = drive_from(document("section: PK, ribs: 6, length: 1050 mm", {kCrank, kPump}, reversed));
  EXPECT_EQ(a.tensioner->near_stop(), b.tensioner->near_stop());
  EXPECT_EQ(a.tensioner->far_stop(), b.tensioner->far_stop());
  const Seat one = seat(Swing(a, course(a)), 1050), two = seat(Swing(b, course(b)), 1050);
  EXPECT_EQ(one.state, Seat::State::seated);
  EXPECT_EQ(one.position, two.position);
}

TEST(DriveSettle, ASlideHasItsOwnKeys) {
  const Drive d = drive_from(document("section: PK, ribs: 6", {kCrank, kPump},
                                      "tensioner: {after: crank, pivot: [150 mm, 200 mm], direction: 270 deg, "
                                      "back_diameter: 70 mm, travel: {free: 95 mm, "
                                      "stops: [95 mm, 60 mm]}, spring: {force: 250 N, force_rate: 4 N/mm}}\n"));
  const Tensioner& t = *d.tensioner;
  EXPECT_TRUE(t.slides()) << "'travel' alone says so";
  EXPECT_NEAR(t.direction, 1.5 * std::numbers::pi, 1e-15);
  EXPECT_EQ(t.near_stop(), 95);
  EXPECT_EQ(t.far_stop(), 60);
  EXPECT_EQ(t.effort, 250);
  EXPECT_EQ(t.rate, 4);
}

// ---- sizes ----

/// d_o = d_e - 2 (r_t - r_t,min)(1/sin 20° - 1) with the usual crest of 1.2 r_t,min; r_t,min of ISO 9981 and 9982.
TEST(DriveSettle, FindsTheEffectiveDiameterOfAnOutsideDiameter) {
  struct Row {
    const char* section;
    double least_crest;
  };
  for (const Row& r : {Row{"PH", 0.15}, {"PJ", 0.20}, {"PK", 0.25}, {"PL", 0.40}, {"PM", 0.75}}) {
    const std::string belt = "section: " + std::string(r.section) + ", ribs: 6";
    const double below = 0.2 * r.least_crest * (1 / std::sin(20 * kDegree) - 1);
    const Drive outside =
        drive_from(document(belt, {kCrank, "{name: pump, at: [330 mm, 70 mm], outside_diameter: 99 mm}"}));
    EXPECT_NEAR(outside.pulleys[1].radius, 99.0 / 2 + below, 1e-9) << r.section;
    EXPECT_NEAR(outside.pulleys[1].outside, 99.0 / 2, 1e-9) << r.section;
    const Drive effective = drive_from(document(belt));
    EXPECT_EQ(effective.pulleys[1].radius, 50);
    EXPECT_NEAR(effective.pulleys[1].outside, 50 - below, 1e-9) << r.section;
  }
}

/// Six PK ribs are 21.36 mm wide, their middle 8.9 mm in front of the rearmost; f is 2.5 mm (ISO 9981).
TEST(DriveSettle, KnowsWhereARimStandsAlongTheAxis) {
  const std::string back = "{name: idler, at: [0 mm, 300 mm], back_diameter: 76 mm, plane: 3 mm";
  const Drive d = drive_from(document("section: PK, ribs: 6", {kCrank, kPump, back + "}"}));
  const Pulley& flat = d.pulleys[2];
  EXPECT_EQ(flat.side, Side::back);
  EXPECT_EQ(flat.radius, 38);
  EXPECT_EQ(flat.outside, 38);
  EXPECT_NEAR(flat.width, 21.36 + 4, 1e-9) << "the belt and 4 mm";
  EXPECT_NEAR(flat.axial.rear, 3 + 8.9 - 25.36 / 2, 1e-9);
  EXPECT_NEAR(flat.axial.front, 3 + 8.9 + 25.36 / 2, 1e-9);
  const Pulley wide =
      drive_from(document("section: PK, ribs: 6", {kCrank, kPump, back + ", width: 40 mm}"})).pulleys[2];
  EXPECT_NEAR(wide.axial.front - wide.axial.rear, 40, 1e-9);
  EXPECT_NEAR((wide.axial.front + wide.axial.rear) / 2, 3 + 8.9, 1e-9);
  const Pulley ribbed =
      drive_from(
          document("section: PK, ribs: 6",
                   {kCrank, "{name: pump, at: [330 mm, 70 mm], effective_diameter: 100 mm, grooves: 8, plane: 2 mm}"}))
          .pulleys[1];
  EXPECT_NEAR(ribbed.axial.rear, 2 - 2.5, 1e-9);
  EXPECT_NEAR(ribbed.axial.front, 2 + 7 * 3.56 + 2.5, 1e-9);
}

// ---- pulleys from documents ----

MadePulley made_one() {
  MadePulley m;
  m.section = "PK", m.effective_radius = 60, m.outside_radius = 59.9, m.flange_height = 3, m.grooves = 8;
  m.rear_to_front = 40, m.rear_to_first_groove = 6, m.inertia = 1234, m.reference_radius = 50, m.speed_max = 9000;
  return m;
}

TEST(DriveSettle, TakesARimFromItsDocument) {
  const std::string named = "{name: pump, at: [330 mm, 70 mm], spec: pump.yaml, plane: 2 mm";
  const Made made{{"pump.yaml", made_one()}};
  const Pulley p = drive_from(document("section: PK, ribs: 6", {kCrank, named + "}"}), made).pulleys[1];
  EXPECT_EQ(p.radius, 60);
  EXPECT_EQ(p.outside, 59.9);
  EXPECT_EQ(p.flange_height, 3);
  EXPECT_EQ(p.grooves, 8);
  EXPECT_EQ(p.inertia, 1234);
  EXPECT_EQ(p.speed_max, 9000);
  EXPECT_EQ(p.reference_radius, 50);
  EXPECT_EQ(p.axial.rear, 2 - 6) << "the rearmost groove stands in the belt's plane";
  EXPECT_EQ(p.axial.front, 2 - 6 + 40);
  EXPECT_EQ(p.source, "pump.yaml");
  const Pulley own =
      drive_from(document("section: PK, ribs: 6",
                          {kCrank, named + ", flange_height: 1 mm, inertia: 5 kg mm2, maximum_speed: 4000 "
                                           "rpm, reference_effective_diameter: 90 mm}"}),
                 made)
          .pulleys[1];
  EXPECT_EQ(own.flange_height, 1);
  EXPECT_EQ(own.inertia, 5);
  EXPECT_EQ(own.speed_max, 4000);
  EXPECT_EQ(own.reference_radius, 45);
}

constexpr const char* kTwoRims =
    "pulley: pump\nmaterial: steel-1045\nspeed: {maximum: 9000 rpm}\nrims:\n"
    "  - {section: PK, ribs: 8, size: {overdrive: 24 %, of: {effective_diameter: 132 mm}}, front_flange: {height: 3 "
    "mm}, "
    "rear_flange: {height: 2 mm}}\n"
    "  - {section: PK, ribs: 6, size: {effective_diameter: 120 mm}, space: 3 mm}\n"
    "body: {solid: true}\nhub: {bore: {diameter: 20 mm}}\n";

/// Through the job: the numbers that a drive takes from a pulley, against closed forms.
TEST(DriveSettle, TakesEachRimOfAPulley) {
  const std::string text =
      document("section: PK, ribs: 6", {"{name: crank, at: [0 mm, 0 mm], spec: pump.yaml, drives: true}",
                                        "{name: other, at: [330 mm, 70 mm], spec: pump.yaml, rim: 2}"});
  Diagnostics d;
  const auto spec = spec::read_drive({"drive.yaml", text}, d);
  ASSERT_TRUE(spec) << d.text();
  const job::PulleyDocument pulley{"pump.yaml", {"pump.yaml", kTwoRims}, {}};
  const auto prepared = job::prepare_drive(*spec, {&pulley, 1}, {}, d);
  ASSERT_TRUE(prepared) << d.text();
  const Pulley &first = prepared->drive.pulleys[0], &second = prepared->drive.pulleys[1];
  EXPECT_NEAR(2 * first.radius, 136 * 1.24 - 4, 1e-9) << "on pitch diameters, b_e 2 mm";
  EXPECT_EQ(first.reference_radius, 66);
  EXPECT_EQ(first.flange_height, 3) << "the taller of two";
  EXPECT_EQ(first.grooves, 8);
  EXPECT_EQ(first.speed_max, 9000);
  EXPECT_EQ(prepared->drive.duty.rpm.back(), 9000);
  EXPECT_EQ(second.radius, 60);
  EXPECT_EQ(second.reference_radius, 0);
  EXPECT_EQ(second.flange_height, 0);
  EXPECT_EQ(second.grooves, 6);
  // J of a ring is pi/2 rho h (r_o^4 - r_i^4): more than that of the belts' root circles over the grooves' width, less
  // than that of the flanges' outside over all; steel 7.85 g/cm3.
  const auto ring = [](double height, double outside) {
    return std::numbers::pi / 2 * 7.85e-6 * height * (std::pow(outside, 4) - std::pow(10, 4));
  };
  const double widths = 7 * 3.56 + 5 * 3.56;
  EXPECT_GT(first.inertia, ring(widths, 120.0 / 2 - 4));
  EXPECT_LT(first.inertia, ring(widths + 30, 2 * first.radius / 2 + 3));
  EXPECT_EQ(first.inertia, second.inertia) << "of the whole pulley";
}

// ---- belts ----

TEST(BeltsOnOffer, AreARowAListOrOne) {
  const auto offered = [](const std::string& belt) {
    Diagnostics d;
    const auto spec = spec::read_drive({"drive.yaml", document("section: PK, ribs: 6" + belt)}, d);
    EXPECT_TRUE(spec) << d.text();
    return spec ? lengths_on_offer(*spec) : std::vector<double>{};
  };
  EXPECT_EQ(offered(""), std::vector<double>{});
  EXPECT_EQ(offered(", length: 1050 mm"), std::vector<double>{1050});
  EXPECT_EQ(offered(", catalogue: [1100 mm, 900 mm, 1000 mm]"), (std::vector<double>{900, 1000, 1100}));
  EXPECT_EQ(offered(", lengths: {from: 1000 mm, to: 1010 mm, step: 5 mm}"), (std::vector<double>{1000, 1005, 1010}));
  EXPECT_EQ(offered(", lengths: {from: 1000 mm, to: 1009 mm, step: 5 mm}"), (std::vector<double>{1000, 1005}));
  const auto tenths = offered(", lengths: {from: 1000 mm, to: 1000.3 mm, step: 0.1 mm}");
  EXPECT_EQ(tenths.size(), 4U) << "the last is not lost to rounding";
}

TEST(BeltsOnOffer, AreAtMostAThousand) {
  const auto says = [](const std::string& to) {
    return settled(document("section: PK, ribs: 6, lengths: {from: 1000 mm, to: " + to + ", step: 1 mm}"))
        .diagnostics.text();
  };
  EXPECT_EQ(spec::kMaxLengths, 1000);
  EXPECT_EQ(says("1999 mm"), "");
  EXPECT_NE(says("2000 mm").find("1001 belts"), std::string::npos) << says("2000 mm");
}

/// ISO 9981: ±5 mm up to 1000 mm, ±6 up to 1200, ±8 up to 1500.
TEST(BeltsOnOffer, BringTheToleranceOfTheirLength) {
  const Drive d = drive_from(document("section: PK, ribs: 6, lengths: {from: 900 mm, to: 1400 mm, step: 100 mm}"));
  for (const auto& [length, tolerance] : std::map<double, double>{{1000, 5}, {1001, 6}, {1200, 6}, {1201, 8}}) {
    const Drive with = with_length(d, length, "test");
    EXPECT_EQ(with.belt.effective_length.value, length);
    EXPECT_EQ(with.belt.effective_length.source, "test");
    EXPECT_EQ(with.belt.shorter.value, tolerance) << length;
    EXPECT_EQ(with.belt.longer.value, tolerance) << length;
  }
  const Drive own = drive_from(document("section: PK, ribs: 6, length: 900 mm, shorter: 1 mm, longer: 2 mm"));
  EXPECT_EQ(with_length(own, 1400, "test").belt.shorter.value, 1) << "one's own tolerance stays";
  EXPECT_EQ(with_length(own, 1400, "test").belt.longer.value, 2);
}

TEST(BestBelt, LeavesTheTensionerMostWay) {
  const Drive d = drive_from(document("section: PK, ribs: 6", {kCrank, kPump}, kArm));
  const std::vector<double> offered{1000, 1035, 1042, 1050, 1057, 1064, 1100};
  const Drive best = with_best_belt(d, offered);
  const auto way = [&](double length) {
    const Drive with = with_length(d, length, "");
    const Travel t = travel(with, Swing(with, course(with)));
    return t.all_seated ? std::min(t.least_to_near, t.least_to_far) : -1;
  };
  const double most = way(best.belt.effective_length.value);
  EXPECT_GT(most, 0);
  for (const double length : offered) EXPECT_LE(way(length), most) << length;
  EXPECT_EQ(best.belt.effective_length.source, "the best of those on offer");
}

/// Where none is held, the one that lacks least.
TEST(BestBelt, IsTheNearestWhereNoneIsHeld) {
  const Drive d = drive_from(document("section: PK, ribs: 6", {kCrank, kPump}, kArm));
  EXPECT_EQ(with_best_belt(d, std::vector<double>{700, 900, 2000}).belt.effective_length.value, 900);
  EXPECT_EQ(with_best_belt(d, std::vector<double>{500, 1150, 2000}).belt.effective_length.value, 1150);
}

TEST(BestBelt, IsTheOneInHandWhereThereIsOne) {
  const Drive d = drive_from(document("section: PK, ribs: 6, length: 1234 mm", {kCrank, kPump}, kArm));
  const Drive bought = with_best_belt(d, std::vector<double>{1234});
  EXPECT_EQ(bought.belt.effective_length.value, 1234);
  EXPECT_EQ(bought.belt.effective_length.source, "spec");
}

/// Open belt, two equal pulleys: 2 C + pi d. The handbooks' form.
TEST(BestBelt, WithoutATensionerIsTheNearestToThePath) {
  const Drive d = drive_from(
      document("section: PK, ribs: 6", {"{name: a, at: [0 mm, 0 mm], effective_diameter: 100 mm, drives: true}",
                                        "{name: b, at: [0 mm, 350 mm], effective_diameter: 100 mm}"}));
  const double path = 2 * 350 + 100 * std::numbers::pi;  // 1014.16
  EXPECT_EQ(with_best_belt(d, std::vector<double>{1000, 1010, 1020}).belt.effective_length.value, 1010);
  EXPECT_EQ(with_best_belt(d, std::vector<double>{1000, 1010, 1018}).belt.effective_length.value, 1018);
  const Drive named = with_best_belt(d, {});
  EXPECT_EQ(named.belt.effective_length.value, std::round(path));
  EXPECT_EQ(designation(named.belt), "6PK 1014");
}

/// What no one offers is named in whole mm, and holds the arm in the middle of its swing to within that rounding.
TEST(BestBelt, IsNamedWhereNoneIsOffered) {
  const Drive d = drive_from(document("section: PK, ribs: 6", {kCrank, kPump}, kArm));
  const Drive named = with_best_belt(d, {});
  const double length = named.belt.effective_length.value;
  EXPECT_EQ(length, std::round(length));
  const Seat s = seat(Swing(named, course(named)), length);
  ASSERT_EQ(s.state, Seat::State::seated);
  const double middle = (d.tensioner->near_stop() + d.tensioner->far_stop()) / 2;
  EXPECT_LE(std::abs(s.position - middle) * s.take_up, 0.5 * 1.2) << "half a mm, and what the belt gives";
  EXPECT_EQ(named.belt.shorter.value, 6) << "with its tolerance, ISO 9981 up to 1200 mm";
}

}  // namespace
}  // namespace groovewright::drive
