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

}  // namespace
}  // namespace groovewright::gauge
