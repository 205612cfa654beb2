// Programs of discs with each feature by itself: flanges on either side, a web, each rib section, both lathes, from a
// bar and from blanks. Nothing harmful on the way, and the part left.
#include <gtest/gtest.h>

#include "groovewright/plane/pieces.h"
#include "programs.h"

namespace groovewright {
namespace {

struct Shape {
  const char *name, *section;
  int ribs;
  const char *flanges, *body, *hub;
};

std::ostream& operator<<(std::ostream& out, const Shape& s) { return out << s.name; }

constexpr const char* kSolid = "body: {solid: true}\n";
constexpr const char* kWeb = "body:\n  web: {thickness: 10 mm}\n  rim_thickness: 6 mm\n  fillet: 2 mm\n";
constexpr const char* kHub = "hub:\n  bore: {diameter: 24 mm, fit: H7}\n";
constexpr const char* kBoss = "hub:\n  diameter: 44 mm\n  bore: {diameter: 24 mm, fit: H7}\n";
constexpr const char* kSpigot =
    "hub:\n  diameter: 44 mm\n  bore: {diameter: 24 mm, fit: H7}\n  register: {diameter: 30 mm, height: 2.5 mm, side: "
    "rear}\n";
constexpr const char* kFront = "    front_flange: {height: 3 mm, thickness: 2.5 mm}\n";
constexpr const char* kRear = "    rear_flange: {height: 3 mm, thickness: 2.5 mm}\n";
constexpr const char* kBoth =
    "    front_flange: {height: 3 mm, thickness: 2.5 mm}\n    rear_flange: {height: 3 mm, thickness: 2.5 mm}\n";

constexpr Shape kShapes[] = {
    {"plain", "PK", 6, "", kSolid, kHub},
    {"front_flange", "PK", 6, kFront, kSolid, kHub},
    {"rear_flange", "PK", 6, kRear, kSolid, kHub},
    {"two_flanges", "PK", 6, kBoth, kSolid, kHub},
    {"web", "PK", 8, "", kWeb, kBoss},
    {"web_and_flanges", "PK", 8, kBoth, kWeb, kBoss},
    {"fine_ribs", "PH", 10, "", kSolid, kHub},
    {"fine_ribs_flange", "PJ", 8, kRear, kSolid, kHub},
    {"coarse_ribs", "PL", 6, "", kSolid, kHub},
    {"widest_ribs", "PM", 3, "", kSolid, kHub},
    {"one_rib", "PK", 1, "", kSolid, kHub},
    {"spigot", "PK", 6, kRear, kSolid, kSpigot},
};

struct From {
  const char *name, *machining;
};
std::ostream& operator<<(std::ostream& out, const From& f) { return out << f.name; }

constexpr From kFrom[] = {{"turret", "lathe: turret-400"},
                          {"bench", "lathe: bench-250"},
                          {"blank", "stock: {form: blank}"},
                          {"bored_blank", "stock: {form: blank, diameter: 150 mm, bore: 15 mm, length: 50 mm}"}};

class Shapes : public ::testing::TestWithParam<std::tuple<Shape, From>> {};

TEST_P(Shapes, AreCutWithoutHarm) {
  const auto& [s, from] = GetParam();
  const std::string document =
      "pulley: disc\nmaterial: aluminium-6061-T6\nrims:\n  - section: " + std::string(s.section) +
      "\n    ribs: " + std::to_string(s.ribs) + "\n    size: {outside_diameter: 130 mm}\n" + s.flanges + s.body + s.hub;
  const auto made = programs::made(document, "machining: {" + std::string(from.machining) + "}\n");
  ASSERT_TRUE(made.prepared) << made.diagnostics.text();
  EXPECT_EQ(programs::complaint(*made.prepared, job::write_programs(*made.prepared)), "") << document;
}

INSTANTIATE_TEST_SUITE_P(All, Shapes, ::testing::Combine(::testing::ValuesIn(kShapes), ::testing::ValuesIn(kFrom)),
                         [](const auto& tested) {
                           return std::string(std::get<0>(tested.param).name) + "_" + std::get<1>(tested.param).name;
                         });

// ---- blanks: the order of clampings (datum side, then what locates on it: common practice, no source) ----

using toolpath::Held;

bool cuts_grooves(const toolpath::Turning& t) {
  return std::any_of(t.operations.begin(), t.operations.end(),
                     [](const toolpath::Operation& o) { return o.name == "finish the grooves"; });
}

TEST(Blanks, WithALongBoreAreCutOnAMandrelOnceTheDatumSideIsDone) {
  const auto made = programs::made(programs::demo("larkspur-crank-24"), "machining: {stock: {form: blank}}\n");
  ASSERT_TRUE(made.prepared) << made.diagnostics.text();
  const toolpath::Plan& plan = made.prepared->programs->plan;
  ASSERT_EQ(plan.turnings.size(), 2u);
  EXPECT_EQ(plan.turnings[0].held, Held::chuck);
  EXPECT_TRUE(plan.turnings[0].turned) << "the register is on the rear: it comes first";
  EXPECT_FALSE(cuts_grooves(plan.turnings[0])) << "jaws stand on the rim";
  EXPECT_EQ(plan.turnings[1].held, Held::mandrel);
  EXPECT_TRUE(cuts_grooves(plan.turnings[1]));
  EXPECT_EQ(programs::complaint(*made.prepared, job::write_programs(*made.prepared)), "");
}

TEST(Blanks, WithAShortBoreAreScrewedToAPlugOnceTheHolesAreDrilled) {
  const auto made = programs::made(programs::ring_on_a_plug(true));
  ASSERT_TRUE(made.prepared) << made.diagnostics.text();
  const toolpath::Plan& plan = made.prepared->programs->plan;
  EXPECT_EQ(plan.order, (std::vector<std::string>{"op10", "op20", "op30", "op40"}));
  ASSERT_EQ(plan.turnings.size(), 3u);
  ASSERT_EQ(plan.millings.size(), 1u);
  EXPECT_EQ(plan.millings[0].id, "op30") << "the plug's screws go through these holes";
  const Held held[] = {Held::chuck, Held::chuck, Held::plug};
  for (std::size_t i = 0; i < 3; ++i) {
    EXPECT_EQ(plan.turnings[i].held, held[i]) << plan.turnings[i].id;
    EXPECT_EQ(cuts_grooves(plan.turnings[i]), held[i] == Held::plug) << plan.turnings[i].id;
  }
  EXPECT_NE(plan.turnings[0].turned, plan.turnings[1].turned);
  EXPECT_EQ(programs::complaint(*made.prepared, job::write_programs(*made.prepared)), "");
}

/// Screw heads stand on the free face of the plug: nothing may go there (ISO 4762, M6: 10 mm wide, 6 mm high).
TEST(Blanks, OnAPlugKeepClearOfTheScrewsHeads) {
  auto made = programs::made(programs::ring_on_a_plug(true));
  ASSERT_TRUE(made.prepared) << made.diagnostics.text();
  toolpath::Turning& t = made.prepared->programs->plan.turnings.back();
  const plane::Box heads = plane::extents(t.keep_out.back());
  EXPECT_LE(heads.low.y, 32 - 4.5);
  EXPECT_GE(heads.high.y, 32 + 4.5);
  EXPECT_GE(heads.high.x - heads.low.x, 6);
  t.script.commands.emplace_back(nc::Rapid{{32, 0, t.script.safe.z}});
  t.script.commands.emplace_back(nc::Rapid{{32, 0, heads.high.x - 1}});
  EXPECT_NE(programs::complaint(*made.prepared, job::write_programs(*made.prepared)), "");
}

TEST(Blanks, WithNothingToHoldThemByAreCutFromABar) {
  const auto made = programs::made(programs::ring_on_a_plug(false));
  ASSERT_TRUE(made.prepared) << made.diagnostics.text();
  const toolpath::Plan& plan = made.prepared->programs->plan;
  EXPECT_TRUE(plan.stock_words.starts_with("bar")) << plan.stock_words;
  const auto& warnings = plan.turnings.back().warnings;
  EXPECT_TRUE(std::any_of(warnings.begin(), warnings.end(),
                          [](const std::string& w) { return w.find("washer through the bore") != std::string::npos; }));
}

}  // namespace
}  // namespace groovewright
