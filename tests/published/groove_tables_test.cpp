// The published groove figures: what the tables print, and what geometry makes of them without the program's own
// formulas.
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "built_in_catalog.h"

namespace groovewright::catalog {
namespace {

using std::numbers::pi;

/// One V groove, reckoned in the plain textbook way. Lengths mm, angle in degrees, included.
struct Vee {
  double pitch = 0, angle_deg = 0, crest_radius = 0, root_radius = 0, ball = 0;

  [[nodiscard]] double half() const { return angle_deg * pi / 360; }
  [[nodiscard]] double sharp_height() const { return pitch / 2 / std::tan(half()); }
  [[nodiscard]] double rounding(double radius) const { return radius * (1 / std::sin(half()) - 1); }
  [[nodiscard]] double over_apex() const { return ball * (1 + 1 / std::sin(half())) - pitch / std::tan(half()); }
  [[nodiscard]] double two_x() const { return over_apex() + 2 * rounding(crest_radius); }
  [[nodiscard]] double over_tip(double radius) const { return over_apex() + 2 * rounding(radius); }
  [[nodiscard]] double crest_radius_at(double two_n) const {
    return (two_n - over_apex()) / 2 / (1 / std::sin(half()) - 1);
  }
  [[nodiscard]] double depth() const { return sharp_height() - rounding(crest_radius) - rounding(root_radius); }
  [[nodiscard]] double touch(double radius) const { return radius * std::pow(std::cos(half()), 2) / std::sin(half()); }
  [[nodiscard]] double crest_end() const { return touch(crest_radius); }
  [[nodiscard]] double ball_contact() const { return sharp_height() - touch(ball / 2); }
  [[nodiscard]] double root_start() const { return sharp_height() - touch(root_radius); }
  /// The ball's lowest point above the root's, radially.
  [[nodiscard]] double ball_to_root() const { return ball / 2 / std::sin(half()) - ball / 2 - rounding(root_radius); }
};

Vee vee_of(const Groove& g) {
  return {g.pitch.value, g.angle.deg(), g.crest_radius_min.value, g.root_radius_max.value, g.ball_diameter.value};
}

class GrooveTables : public testing::Test {
 protected:
  const Catalog catalog_ = built_in_catalog();
  [[nodiscard]] const Groove& groove(const std::string& id) const { return catalog_.grooves.at(id); }
  [[nodiscard]] Vee vee(const std::string& id) const { return vee_of(groove(id)); }
};

struct TableRow {
  const char* id;
  double e, e_tolerance, r_t, r_b, ball, two_x, two_n, f, d_e, b_e;
  const char* source;
};
constexpr const char* k9982 = "ISO 9982:1998 Table 1, from memory";
constexpr TableRow kTable[] = {
    {"PH", 1.60, 0.03, 0.15, 0.30, 1.0, 0.11, 0.69, 1.3, 13, 0.8, k9982},
    {"PJ", 2.34, 0.03, 0.20, 0.40, 1.5, 0.23, 0.81, 1.8, 20, 1.2, k9982},
    {"PK", 3.56, 0.05, 0.25, 0.50, 2.5, 0.99, 1.68, 2.5, 45, 2.0,
     "ISO 9981; d_e min and b_e read in excerpts, the rest from memory"},
    {"PL", 4.70, 0.05, 0.40, 0.40, 3.5, 2.36, 3.50, 3.3, 75, 3.0, k9982},
    {"PM", 9.40, 0.08, 0.75, 0.75, 7.0, 4.53, 5.92, 6.4, 180, 4.0, k9982},
};

TEST_F(GrooveTables, HoldWhatTheStandardsPrint) {
  ASSERT_EQ(catalog_.grooves.size(), std::size(kTable));
  for (const TableRow& row : kTable) {
    const Groove& g = groove(row.id);
    const std::string says = std::string(row.id) + ", " + row.source;
    EXPECT_EQ(g.pitch.value, row.e) << says;
    EXPECT_EQ(g.pitch_tolerance.value, row.e_tolerance) << says;
    EXPECT_EQ(g.cumulative_pitch_tolerance.value, 0.3) << says;
    EXPECT_NEAR(g.angle.deg(), 40, 1e-12) << says;
    EXPECT_NEAR(g.angle_tolerance.deg(), 0.5, 1e-12) << says;
    EXPECT_EQ(g.crest_radius_min.value, row.r_t) << says;
    EXPECT_EQ(g.root_radius_max.value, row.r_b) << says;
    EXPECT_EQ(g.ball_diameter.value, row.ball) << says;
    EXPECT_EQ(g.ball_tolerance.value, 0.01) << says;
    EXPECT_EQ(g.two_x.value, row.two_x) << says;
    EXPECT_EQ(g.two_n_max.value, row.two_n) << says;
    EXPECT_EQ(g.edge_distance_min.value, row.f) << says;
    EXPECT_EQ(g.effective_diameter_min.value, row.d_e) << says;
    EXPECT_EQ(g.pitch_line_offset.value, row.b_e) << says;
    EXPECT_EQ(g.roughness_max.value, 3.2) << says;
  }
}

struct ProofRow {
  const char* id;
  double sharp_height, over_apex, two_x, crest_radius_at_two_n, depth, ball_contact;
};
constexpr ProofRow kProofs[] = {
    {"PH", 2.19798, -0.47216, 0.10498, 0.302, 1.3323, 0.9071},
    {"PJ", 3.21455, -0.54339, 0.22613, 0.352, 2.0603, 1.2782},
    {"PK", 4.89051, 0.02849, 0.99039, 0.429, 3.4477, 1.6633},
    {"PL", 6.45657, 0.82017, 2.35922, 0.697, 4.9175, 1.9384},
    {"PM", 12.91314, 1.64034, 4.52605, 1.112, 10.0274, 3.8769},
};

TEST_F(GrooveTables, GiveTheDepthsThatWereReckonedIndependently) {
  for (const ProofRow& row : kProofs) {
    const Vee v = vee(row.id);
    const std::string says = std::string(row.id) + ", own recomputation";
    EXPECT_NEAR(v.sharp_height(), row.sharp_height, 5.1e-6) << says;
    EXPECT_NEAR(v.over_apex(), row.over_apex, 5.1e-6) << says;
    EXPECT_NEAR(v.two_x(), row.two_x, 5.1e-6) << says;
    EXPECT_NEAR(v.crest_radius_at(groove(row.id).two_n_max.value), row.crest_radius_at_two_n, 6e-4) << says;
    EXPECT_NEAR(v.depth(), row.depth, 5.1e-5) << says;
    EXPECT_NEAR(v.ball_contact(), row.ball_contact, 5.1e-5) << says;
  }
}

TEST_F(GrooveTables, PrintTheTwoXThatGeometryGives) {
  for (const auto& [id, g] : catalog_.grooves) {
    EXPECT_NEAR(vee_of(g).two_x(), g.two_x.value, 0.006) << id << ": " << g.two_x.source;
  }
}

TEST_F(GrooveTables, LetTheBallTouchStraightFlank) {
  for (const auto& [id, g] : catalog_.grooves) {
    const Vee v = vee_of(g);
    EXPECT_LT(v.crest_end(), v.ball_contact()) << id << ", own recomputation";
    EXPECT_LT(v.ball_contact(), v.root_start()) << id << ", own recomputation";
    EXPECT_GT(v.ball_to_root(), 0) << id << ", own recomputation";
  }
}

TEST_F(GrooveTables, GiveThePkFlankItsStraightZone) {
  const Vee pk = vee("PK");
  EXPECT_NEAR(pk.crest_end(), 0.6454, 5.1e-5) << "PK, own recomputation";
  EXPECT_NEAR(pk.root_start(), 3.5996, 5.1e-5) << "PK, own recomputation";
  EXPECT_NEAR(pk.ball_to_root(), 1.443, 5.1e-4) << "PK, own recomputation";
}

TEST_F(GrooveTables, AgreeWithTheSaeSummaryOnThePkGroove) {
  // Groove tip and apex diameters below the diameter over balls Db, 2.50 mm balls, tip radius 0.48 mm.
  struct Row {
    double angle_deg, tip_below, tip_exact, apex_below, apex_exact;
  };
  constexpr Row kRows[] = {{40, 1.875, 1.87534, 0.028, 0.02849}, {37, 1.805, 1.80463, -0.261, -0.26086}};
  for (const Row& row : kRows) {
    Vee v = vee("PK");
    v.angle_deg = row.angle_deg;
    EXPECT_NEAR(v.over_tip(0.48), row.tip_below, 1e-3) << row.angle_deg << " deg, SAE J1459 published summary";
    EXPECT_NEAR(v.over_tip(0.48), row.tip_exact, 5.1e-6) << row.angle_deg << " deg, own recomputation";
    EXPECT_NEAR(v.over_apex(), row.apex_below, 1e-3) << row.angle_deg << " deg, SAE J1459 published summary";
    EXPECT_NEAR(v.over_apex(), row.apex_exact, 5.1e-6) << row.angle_deg << " deg, own recomputation";
  }
  EXPECT_EQ(groove("PK").two_x.value, 0.990) << "effective diameter = Db - 0.990, SAE J1459 published summary";
  EXPECT_EQ(groove("PK").ball_diameter.value, 2.50) << "SAE J1459 DEC2009";
}

TEST_F(GrooveTables, MakeOverBallsAsSensitiveAsWasReckoned) {
  struct Row {
    const char* what;
    double pitch_by, angle_by_deg, over_balls_by;
  };
  constexpr Row kRows[] = {
      {"included angle + 0.5 deg", 0, 0.5, 0.0447},   {"included angle - 0.5 deg", 0, -0.5, -0.0456},
      {"included angle + 0.25 deg", 0, 0.25, 0.0225}, {"included angle - 0.25 deg", 0, -0.25, -0.0227},
      {"pitch + 0.05 mm", 0.05, 0, -0.1374},
  };
  const Vee pk = vee("PK");
  for (const Row& row : kRows) {
    Vee changed = pk;
    changed.pitch += row.pitch_by;
    changed.angle_deg += row.angle_by_deg;
    EXPECT_NEAR(changed.over_apex() - pk.over_apex(), row.over_balls_by, 5.1e-5)
        << "PK at a fixed apex diameter, " << row.what << ", own recomputation";
  }
}

TEST_F(GrooveTables, MakeACoatingGrowOverBallsByItsPublishedFactor) {
  // A film that grows each flank by g along its normal lifts the ball by g / sin h, twice on diameter.
  const double factor = 2 / std::sin(vee("PK").half());
  EXPECT_NEAR(factor, 5.848, 5.1e-4) << "own recomputation";
  EXPECT_NEAR(0.025 * factor, 0.146, 5.1e-4) << "g = 0.025 mm, own recomputation";
}

TEST_F(GrooveTables, GiveTheMeasuringPulleysOverBalls) {
  struct Row {
    const char* id;
    double effective_circumference, over_balls, exact;
  };
  constexpr Row kRows[] = {{"PH", 100, 31.94, 31.941},
                           {"PJ", 100, 32.06, 32.061},
                           {"PK", 300, 96.48, 96.483},
                           {"PL", 500, 161.51, 161.515},
                           {"PM", 800, 259.17, 259.178}};
  for (const Row& row : kRows) {
    const double k = row.effective_circumference / pi + groove(row.id).two_x.value;
    EXPECT_NEAR(k, row.over_balls, 0.01) << row.id << ", ISO 9981 and ISO 9982 measuring pulleys, from memory";
    EXPECT_NEAR(k, row.exact, 5.1e-4) << row.id << ", own recomputation";
  }
}

TEST_F(GrooveTables, HoldTheFinishedPulleyLimitsOfIso9981) {
  const Groove& pk = groove("PK");
  constexpr const char* kSource = "PK, ISO 9981:2020 cl. 5.3, excerpts";
  for (const double d_e : {45.0, 74.0, 90.0, 250.0, 600.0}) {
    for (const int grooves : {1, 6, 20}) {
      EXPECT_EQ(pk.over_balls_tolerance.at(d_e, grooves), 0.6) << kSource;
      EXPECT_EQ(pk.groove_to_groove.at(d_e, grooves), 0.15) << kSource;
      EXPECT_EQ(pk.radial_runout.at(d_e, grooves), 0.25) << kSource;
      EXPECT_EQ(pk.axial_runout.at(d_e, grooves), 0.25) << kSource;
    }
  }
}

TEST_F(GrooveTables, HoldTheLimitsByDiameterOfIso9982) {
  struct Row {
    const char* what;
    SteppedLimit Groove::*limit;
    double d_e;
    int grooves;
    double want;
  };
  const Row rows[] = {
      {"groove to groove", &Groove::groove_to_groove, 74, 6, 0.10},
      {"groove to groove, 2 more", &Groove::groove_to_groove, 74, 8, 0.106},
      {"groove to groove", &Groove::groove_to_groove, 74.001, 10, 0.15},
      {"groove to groove, 2 more", &Groove::groove_to_groove, 500, 12, 0.16},
      {"groove to groove", &Groove::groove_to_groove, 500.001, 10, 0.25},
      {"groove to groove, 1 more", &Groove::groove_to_groove, 600, 11, 0.26},
      {"radial run-out", &Groove::radial_runout, 74, 1, 0.13},
      {"radial run-out", &Groove::radial_runout, 74.001, 1, 0.25},
      {"radial run-out", &Groove::radial_runout, 250, 1, 0.25},
      {"radial run-out", &Groove::radial_runout, 300, 1, 0.27},
      {"axial run-out", &Groove::axial_runout, 20, 1, 0.04},
      {"axial run-out", &Groove::axial_runout, 200, 1, 0.40},
      {"over balls", &Groove::over_balls_tolerance, 75, 1, 0.3},
      {"over balls", &Groove::over_balls_tolerance, 75.001, 1, 0.6},
      {"over balls", &Groove::over_balls_tolerance, 200, 1, 0.6},
      {"over balls", &Groove::over_balls_tolerance, 200.001, 1, 1.2},
  };
  for (const char* id : {"PH", "PJ", "PL", "PM"}) {
    for (const Row& row : rows) {
      EXPECT_NEAR((groove(id).*row.limit).at(row.d_e, row.grooves), row.want, 1e-12)
          << id << ", " << row.what << " at d_e " << row.d_e << ", ISO 9982:1998, from memory";
    }
  }
}

TEST_F(GrooveTables, SatisfyTheInchSheetWhereItCanBeCompared) {
  struct Row {
    const char* id;
    double least_depth_in, ball_in;
    const char* source;
  };
  constexpr const char* kRead = "ANSI/RMA IP-26 as printed in a belt engineering manual, table 46";
  constexpr const char* kMemory = "ANSI/RMA IP-26, from memory";
  constexpr Row kRows[] = {{"PH", 0.041, 0.0469, kRead},
                           {"PJ", 0.071, 0.0625, kRead},
                           {"PK", 0.122, 0.1093, kRead},
                           {"PL", 0.183, 0.1406, kMemory},
                           {"PM", 0.377, 0.2812, kMemory}};
  for (const Row& row : kRows) {
    EXPECT_LE(row.least_depth_in * 25.4, vee(row.id).depth()) << row.id << " groove depth, " << row.source;
    EXPECT_NEAR(row.ball_in * 25.4, groove(row.id).ball_diameter.value, 0.3) << row.id << " ball, " << row.source;
  }
  EXPECT_GT(std::abs(0.1093 * 25.4 - groove("PK").ball_diameter.value), 0.2)
      << "the inch ball is not the ISO ball: a report must name the ball";
}

}  // namespace
}  // namespace groovewright::catalog
