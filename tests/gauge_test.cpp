#include "groovewright/gauge.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <cmath>

#include "groovewright/base/trig.h"
#include "parts.h"
#include "property.h"
#include "witness/ball_search.h"

namespace groovewright::gauge {
namespace {

using plane::Generator;
using testing::disc;
using testing::made_part;

/// Two flanks of a V with its sharp root at (z, root), half angle h, metal to the left, running to the rear.
std::vector<Generator> groove(double z, double root, double h, double from, double to) {
  const auto on = [&](double s, double up) { return plane::Vec2{z + s * up * tan_of(h), root + up}; };
  return {{on(-1, from), on(-1, to)}, {on(1, to), on(1, from)}};
}

TEST(Gauge, ReproducesThePublishedDiameterOverBalls) {
  struct Case {
    const char* section;
    double pitch, angle, r_t, ball, two_x, within;
    const char* source;
  };
  // 2X = K - d_e with d_e = d_o at the least crest radius.
  for (const Case& c : {Case{"PH", 1.60, 40, 0.15, 1.0, 0.11, 0.006, "ISO 9982:1998 Table 1, from memory"},
                        Case{"PJ", 2.34, 40, 0.20, 1.5, 0.23, 0.006, "ISO 9982:1998 Table 1, from memory"},
                        Case{"PK", 3.56, 40, 0.25, 2.5, 0.99, 0.001, "ISO 9981; SAE J1459 summary prints 0.990"},
                        Case{"PL", 4.70, 40, 0.40, 3.5, 2.36, 0.006, "ISO 9982:1998 Table 1, from memory"},
                        Case{"PM", 9.40, 40, 0.75, 7.0, 4.53, 0.006, "ISO 9982:1998 Table 1, from memory"}}) {
    const Angle angle = Angle::deg(c.angle);
    const double h = angle.half().rad(), root = 50, apex = root + c.pitch / (2 * tan_of(h));
    const auto laid = lay_balls(groove(0, root, h, 0.1, apex - root), c.ball);
    ASSERT_EQ(laid.size(), 1U) << c.section;
    const double d_e = 2 * apex - part::rounding_loss(c.r_t, angle);
    EXPECT_NEAR(laid[0].over_balls - d_e, c.two_x, c.within) << c.section << ", " << c.source;
    EXPECT_NEAR(laid[0].angle.deg(), c.angle, 1e-9);
    EXPECT_TRUE(laid[0].on_flanks);
  }
}

TEST(Gauge, AnglesMoveTheReadingAsPublished) {
  // PK with a fixed apex diameter: half angle +0.25° moves K by +0.0447, -0.25° by -0.0456 (own recomputation).
  const double nominal = part::over_apex(3.56, Angle::deg(40), 2.5);
  EXPECT_NEAR(part::over_apex(3.56, Angle::deg(40.5), 2.5) - nominal, 0.0447, 1e-4);
  EXPECT_NEAR(part::over_apex(3.56, Angle::deg(39.5), 2.5) - nominal, -0.0456, 1e-4);
}

TEST(Gauge, ClosedFormAndSearchAgree) {
  expect_property([] {
    const double h = Angle::deg(*rc::gen::inRange(150, 300) / 10.0).rad();
    const double pitch = *rc::gen::inRange(150, 950) / 100.0, ball = pitch * *rc::gen::inRange(55, 75) / 100.0;
    const double root = *rc::gen::inRange(10, 400), up = pitch / (2 * tan_of(h));
    const auto flanks = groove(*rc::gen::inRange(-50, 50), root, h, 0, 3 * up);
    const auto laid = lay_balls(flanks, ball);
    RC_ASSERT(laid.size() == 1U);
    const double formula = 2 * (root + up) + part::over_apex(pitch, Angle::rad(2 * h), ball);
    RC_ASSERT(std::abs(laid[0].over_balls - formula) < part::kOverBallsError);
    RC_ASSERT(std::abs(witness::over_balls_by_search(flanks[0], flanks[1], ball) - formula) < part::kOverBallsError);
  });
}

TEST(Gauge, RefusesABallThatTouchesARounding) {
  const double h = Angle::deg(20).rad();
  EXPECT_TRUE(lay_balls(groove(0, 50, h, 1.0, 4.0), 2.5)[0].on_flanks);
  EXPECT_FALSE(lay_balls(groove(0, 50, h, 3.5, 4.0), 2.5)[0].on_flanks) << "the flank begins above the touch";
  EXPECT_FALSE(lay_balls(groove(0, 50, h, 0.1, 1.5), 2.5)[0].on_flanks) << "the flank ends below the touch";
}

TEST(Gauge, FlangeWallsPairWithNothing) {
  // From the rear: a flange wall that falls, a groove, a flange wall that rises; all at 20°.
  const double h = Angle::deg(20).rad();
  auto all = groove(0, 50, h, 0.5, 4);
  all.insert(all.begin(), Generator{{-6, 54}, {-7, 58}});
  all.push_back(Generator{{7, 58}, {6, 54}});
  EXPECT_EQ(lay_balls(all, 2.5).size(), 1U);
}

TEST(Gauge, MirrorsWithoutChange) {
  const auto straight =
      made_part(disc("{effective_diameter: 120 mm}", "    front_flange: {height: 3 mm, thickness: 2 mm}\n"));
  const auto mirrored =
      made_part(disc("{effective_diameter: 120 mm}", "    rear_flange: {height: 3 mm, thickness: 2 mm}\n"));
  ASSERT_TRUE(straight.section && mirrored.section);
  const auto a = lay_balls(flanks(*straight.section), 2.5), b = lay_balls(flanks(*mirrored.section), 2.5);
  ASSERT_EQ(a.size(), b.size());
  for (std::size_t i = 0; i < a.size(); ++i) EXPECT_NEAR(a[i].over_balls, b[i].over_balls, 1e-9);
}

TEST(Gauge, EveryDemoReadsItsOwnEffectiveDiameter) {
  for (const char* demo :
       {"larkspur-crank-24", "marlow-step-2", "thistle-pump-pl", "fennel-spindle-pj", "sorrel-disc"}) {
    const auto made = made_part(testing::file_text(std::string(GW_SOURCE_DIR) + "/profiles/demo/" + demo + ".yaml"));
    ASSERT_TRUE(made.section) << demo << made.diagnostics.text();
    const Rows rows = judge(*made.part, {"outline", "outline", flanks(*made.section), 0});
    ASSERT_FALSE(rows.checks.empty());
    for (const Check& c : rows.checks)
      EXPECT_EQ(c.verdict, Verdict::pass) << demo << " " << c.id << " " << c.value << ": " << c.says;
  }
}

TEST(Gauge, AWitnessThatDisagreesFails) {
  const auto made = made_part(disc());
  ASSERT_TRUE(made.section);
  auto moved = flanks(*made.section);
  for (Generator& g : moved) g.a.y += 2e-6, g.b.y += 2e-6;
  EXPECT_EQ(testing::check_row(judge(*made.part, {"x", "x", moved, 0}), "effective_diameter_x").verdict, Verdict::fail)
      << "4e-6 mm on diameter";
  EXPECT_EQ(testing::check_row(judge(*made.part, {"x", "x", moved, 0.01}), "effective_diameter_x").verdict,
            Verdict::pass)
      << "within its own uncertainty";
  moved = flanks(*made.section);
  moved[2].a.y += 0.2, moved[2].b.y += 0.2, moved[3].a.y += 0.2, moved[3].b.y += 0.2;
  EXPECT_EQ(testing::check_row(judge(*made.part, {"x", "x", moved, 0.1}), "groove_to_groove_x").verdict, Verdict::fail)
      << "0.4 mm, ISO 9981 allows 0.15";
  moved.pop_back();
  EXPECT_EQ(testing::check_row(judge(*made.part, {"x", "x", moved, 0}), "effective_diameter_x").verdict, Verdict::fail)
      << "a groove is missing";
}

TEST(Gauge, JudgesWhatTheBeltNeeds) {
  const auto rows_of = [](const std::string& spec) {
    const auto made = made_part(spec);
    EXPECT_TRUE(made.section) << made.diagnostics.text();
    return made.section ? check(*made.part, *made.section) : Rows{};
  };
  // ISO 9981:2020 cl. 5.2: PK at least 45 mm.
  EXPECT_EQ(testing::check_row(rows_of(disc("{effective_diameter: 44.9 mm}")), "minimum_effective_diameter").verdict,
            Verdict::fail);
  EXPECT_EQ(testing::check_row(rows_of(disc("{effective_diameter: 45 mm}")), "minimum_effective_diameter").verdict,
            Verdict::pass);
  EXPECT_EQ(
      testing::check_row(rows_of(disc("{effective_diameter: 120 mm}", "    belt_ribs: 7\n")), "belt_ribs").verdict,
      Verdict::fail);
  EXPECT_EQ(
      testing::check_row(rows_of(disc("{effective_diameter: 120 mm}", "    belt_ribs: 5\n")), "belt_ribs").verdict,
      Verdict::pass);
  // 50 m/s for PK, from memory: pi x 0.124 m x n.
  const double limit = 50 / (std::numbers::pi * 0.124) * 60;
  const auto at = [&](double rpm, const char* reason = "") {
    return testing::check_row(
               rows_of(disc("{effective_diameter: 120 mm}", "", "",
                            "body: {solid: true}\nspeed: {maximum: " + std::to_string(rpm) + " rpm" + reason + "}\n")),
               "belt_speed")
        .verdict;
  };
  EXPECT_EQ(at(limit - 1), Verdict::pass);
  EXPECT_EQ(at(limit + 1), Verdict::fail);
  EXPECT_EQ(at(limit + 1, ", reason: the belt's maker allows 60 m/s"), Verdict::note);
  EXPECT_EQ(testing::check_row(
                rows_of(disc("{effective_diameter: 120 mm}", "", "", "body: {solid: true}\ndamper: on_inertia_ring\n")),
                "damper")
                .verdict,
            Verdict::fail);
}

Rows checked(const std::string& spec) {
  const auto made = made_part(spec);
  EXPECT_TRUE(made.section) << made.diagnostics.text();
  return made.section ? check(*made.part, *made.section) : Rows{};
}
bool has(const Rows& rows, const std::string& id) {
  return std::any_of(rows.checks.begin(), rows.checks.end(), [&](const Check& c) { return c.id == id; });
}

TEST(Gauge, ACrestThatOnlyAnotherStandardAllowsIsNoted) {
  // SAE J1459 summary: groove tip diameter = K - 1.875 at 0.48 mm tip radius; ISO 9981: 2N at most 1.68.
  const Rows sae = checked(disc("{effective_diameter: 120 mm}", "    crest_radius: 0.48 mm\n"));
  const Check note = testing::check_row(sae, "crest_radius_standards");
  EXPECT_EQ(note.verdict, Verdict::note);
  EXPECT_NE(note.source.find("SAE J1459"), std::string::npos) << note.source;
  EXPECT_NE(note.source.find("ISO 9981"), std::string::npos) << note.source;
  const Check outside = testing::check_row(sae, "outside_diameter_found");
  EXPECT_EQ(outside.verdict, Verdict::pass) << outside.value;
  EXPECT_NEAR(*outside.lower - outside.value, 0, 1e-6) << "0.48 mm is the limit itself";
  EXPECT_NEAR(*outside.upper + 0.990 - outside.value, 1.875, 1e-3) << "K - d_o, SAE J1459 summary";
  EXPECT_FALSE(
      has(checked(disc("{effective_diameter: 120 mm}", "    crest_radius: 0.42 mm\n")), "crest_radius_standards"));
}

TEST(Gauge, SaysWhatTheInchSheetsPitchLineWouldGive) {
  // ANSI/RMA IP-26: 2a = 0.038 in for K, so d_p = d_e + 0.9652 mm.
  const Check row = testing::check_row(checked(disc()), "pitch_diameter_elsewhere");
  EXPECT_EQ(row.verdict, Verdict::note);
  EXPECT_NEAR(row.value, 120 + 0.9652, 1e-9);
  const Check driven = testing::check_row(checked(disc("{overdrive: 24 %, of: {effective_diameter: 132 mm}}")),
                                          "pitch_diameter_elsewhere");
  // By hand: d_e = 1.24 x 136 - 4 = 164.64; (164.64 + 0.9652) / (132 + 0.9652) = 1.24548.
  EXPECT_NE(driven.says.find("24.55 %"), std::string::npos) << driven.says;
}

TEST(Gauge, AReasonNeverHidesHowFarTheSpeedIsOver) {
  const auto at = [](double metres, const char* section, double pitch) {
    const double rpm = metres / (std::numbers::pi * pitch / 1000) * 60;
    return testing::check_row(checked(disc("{effective_diameter: 120 mm}", "", "",
                                           "body: {solid: true}\nspeed: {maximum: " + std::to_string(rpm) +
                                               " rpm, reason: agreed with the maker}\n",
                                           section)),
                              "belt_speed");
  };
  // PK 50 m/s, 60 with the maker's word; PJ 60 m/s: all from memory.
  EXPECT_EQ(at(49, "PK", 124).verdict, Verdict::pass);
  EXPECT_EQ(at(59, "PK", 124).verdict, Verdict::note);
  EXPECT_NE(at(59, "PK", 124).says.find("9.0 m/s (18.0 %) over"), std::string::npos) << at(59, "PK", 124).says;
  EXPECT_EQ(at(75, "PK", 124).verdict, Verdict::doubt);
  EXPECT_NE(at(75, "PK", 124).says.find("25.0 m/s (50.0 %) over"), std::string::npos) << at(75, "PK", 124).says;
  EXPECT_EQ(at(66, "PJ", 122.4).verdict, Verdict::doubt) << "no higher figure is known for PJ";
}

TEST(Gauge, ARimThatGuidesHasFlanges) {
  const std::string size = "{effective_diameter: 120 mm}", guides = "    guides: true\n",
                    front = "    front_flange: {height: 3 mm, thickness: 2 mm}\n",
                    rear = "    rear_flange: {height: 3 mm, thickness: 2 mm}\n";
  EXPECT_EQ(testing::check_row(checked(disc(size, guides)), "guides").verdict, Verdict::fail);
  EXPECT_EQ(testing::check_row(checked(disc(size, guides + front)), "guides").verdict, Verdict::note);
  EXPECT_FALSE(has(checked(disc(size, guides + front + rear)), "guides"));
  EXPECT_FALSE(has(checked(disc(size)), "guides"));
}

}  // namespace
}  // namespace groovewright::gauge
