// Programs of discs with each feature by itself: flanges on either side, a web, each rib section, both lathes. Nothing
// harmful on the way, and the part left.
#include <gtest/gtest.h>

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
};

class Shapes : public ::testing::TestWithParam<std::tuple<Shape, const char*>> {};

TEST_P(Shapes, AreCutWithoutHarm) {
  const auto& [s, lathe] = GetParam();
  const std::string document =
      "pulley: disc\nmaterial: aluminium-6061-T6\nrims:\n  - section: " + std::string(s.section) +
      "\n    ribs: " + std::to_string(s.ribs) + "\n    size: {outside_diameter: 130 mm}\n" + s.flanges + s.body + s.hub;
  const auto made = programs::made(document, "machining: {lathe: " + std::string(lathe) + "}\n");
  ASSERT_TRUE(made.prepared) << made.diagnostics.text();
  EXPECT_EQ(programs::complaint(*made.prepared, job::write_programs(*made.prepared)), "") << document;
}

INSTANTIATE_TEST_SUITE_P(All, Shapes,
                         ::testing::Combine(::testing::ValuesIn(kShapes), ::testing::Values("turret-400", "bench-250")),
                         [](const auto& tested) {
                           const std::string lathe = std::get<1>(tested.param);
                           return std::string(std::get<0>(tested.param).name) + "_" + lathe.substr(0, lathe.find('-'));
                         });

}  // namespace
}  // namespace groovewright
