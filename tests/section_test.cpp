#include <gtest/gtest.h>

#include <cmath>

#include "groovewright/base/trig.h"
#include "parts.h"

namespace groovewright::section {
namespace {

using testing::disc;
using testing::made_part;

TEST(Section, OfASmallDiscReadsAsALineOfEdges) {
  const auto made =
      made_part(disc("{effective_diameter: 120 mm}", "    crest_radius: 0.25 mm\n    root_radius: 0.5 mm\n", "",
                     "body: {solid: true}\n", "PK", 1));
  ASSERT_TRUE(made.section) << made.diagnostics.text();
  // By hand: bore 20 with 0.3 mm edge breaks, f = 2.5 mm to each side of the one groove, d_o = d_e at r_t min.
  EXPECT_EQ(dump(*made.section),
            "edge_break(45.000deg) hub_face(Z5.000) edge_break(45.000deg) land(D120.000) crest(r0.250) "
            "flank(20.000deg) root(r0.500) flank(20.000deg) crest(r0.250) land(D120.000) "
            "edge_break(45.000deg) seat(Z0.000) edge_break(45.000deg) bore(D20.000)");
}

TEST(Section, IsClosedAndTurnsCounterClockwise) {
  for (const char* demo :
       {"larkspur-crank-24", "marlow-step-2", "thistle-pump-pl", "fennel-spindle-pj", "sorrel-disc"}) {
    const auto made = made_part(testing::file_text(std::string(GW_SOURCE_DIR) + "/profiles/demo/" + demo + ".yaml"));
    ASSERT_TRUE(made.section) << demo << made.diagnostics.text();
    const auto& path = made.section->body.section;
    EXPECT_EQ(path.size(), made.section->tags.size());
    EXPECT_TRUE(plane::is_closed(path)) << demo;
    EXPECT_GT(plane::area(path), 0) << demo;
    for (const auto& e : path) EXPECT_GT(e.length(), plane::kCoincident) << demo;
  }
}

TEST(Section, MirroredFlangesGiveAMirroredOutline) {
  const std::string flange = "{height: 3 mm, thickness: 2 mm, lead_in: 15 deg, root_relief: 0.3 mm}";
  const auto front = made_part(disc("{effective_diameter: 120 mm}", "    front_flange: " + flange + "\n"));
  const auto rear = made_part(disc("{effective_diameter: 120 mm}", "    rear_flange: " + flange + "\n"));
  ASSERT_TRUE(front.section && rear.section) << front.diagnostics.text() << rear.diagnostics.text();
  EXPECT_NEAR(plane::area(front.section->body.section), plane::area(rear.section->body.section), 1e-9);
  EXPECT_NEAR(front.section->mass.volume, rear.section->mass.volume, 1e-6);
  EXPECT_NEAR(front.section->mass.polar_inertia, rear.section->mass.polar_inertia, 1e-3);
}

TEST(Section, EachMoreRibAddsTheSameMetal) {
  std::vector<double> volumes;
  for (const int ribs : {6, 7, 8, 9}) {
    const auto made = made_part(disc("{effective_diameter: 120 mm}", "", "", "body: {solid: true}\n", "PK", ribs));
    ASSERT_TRUE(made.section);
    volumes.push_back(made.section->mass.volume);
  }
  EXPECT_NEAR(volumes[1] - volumes[0], volumes[2] - volumes[1], 1e-6);
  EXPECT_NEAR(volumes[2] - volumes[1], volumes[3] - volumes[2], 1e-6);
}

TEST(Section, AWiderBoreTakesACylinderAway) {
  const auto narrow = made_part(disc());
  std::string text = disc();
  text.replace(text.find("20 mm, fit"), 5, "30 mm");
  const auto wide = made_part(text);
  ASSERT_TRUE(narrow.section && wide.section) << wide.diagnostics.text();
  // Pappus: the two edge breaks of 0.3 mm are triangles of 0.045 mm2 that move out by 5 mm.
  const double edge_breaks = 2 * 2 * std::numbers::pi * 5 * 0.045;
  EXPECT_NEAR(narrow.section->mass.volume - wide.section->mass.volume,
              std::numbers::pi * (225 - 100) * 22.8 + edge_breaks, 1e-6);
}

TEST(Section, CavitiesAreNeverNarrowerFurtherOut) {
  const auto made = made_part(testing::file_text(std::string(GW_SOURCE_DIR) + "/profiles/demo/marlow-step-2.yaml"));
  ASSERT_TRUE(made.section) << made.diagnostics.text();
  double last = 0;
  // Walking the front cavity from the web outward, the rim's inside must not come back towards the axis.
  for (std::size_t i = 0; i < made.section->tags.size(); ++i) {
    const auto& e = made.section->body.section[i];
    if (made.section->tags[i].kind != Kind::rim_inner || e.is_arc() || e.b.x < e.a.x || e.a.y != e.b.y) continue;
    EXPECT_GE(e.a.y, last);
    last = e.a.y;
  }
  EXPECT_GT(last, 0);
}

struct BadCase {
  const char* what;
  std::string spec;
};

TEST(Section, TellsWhichFeaturesCollide) {
  const std::string size = "{effective_diameter: 120 mm}";
  const BadCase cases[] = {
      {"bolt circle through the bore", disc(size, "", "  bolts: {count: 4, size: M8, circle: 24 mm}\n")},
      {"holes overlap", disc(size, "", "  bolts: {count: 20, size: M10, circle: 50 mm}\n")},
      {"bolts beyond the rim", disc(size, "", "  bolts: {count: 4, size: M8, circle: 116 mm}\n")},
      {"web thicker than the rim", disc(size, "", "  diameter: 50 mm\n", "body: {web: {thickness: 40 mm}}\n")},
      {"web without room", disc(size, "", "  diameter: 100 mm\n", "body: {web: {thickness: 8 mm}}\n")},
      {"register wider than the hub", disc(size, "", "  diameter: 40 mm\n  register: {diameter: 60 mm, depth: 3 mm}\n",
                                           "body: {web: {thickness: 8 mm}}\n")},
      {"register narrower than the bore", disc(size, "", "  register: {diameter: 18 mm, depth: 3 mm}\n")},
      {"flange's edge breaks meet",
       disc(size, "    front_flange: {height: 3 mm, thickness: 0.8 mm, edge_break: 0.5 mm}\n")},
      {"relief wider than the land",
       disc(size, "    front_flange: {height: 3 mm, thickness: 2 mm, root_relief: 0.5 mm}\n")},
      {"blind hole comes out again",
       disc(size, "", "  dowels: {count: 2, diameter: 6 mm, circle: 60 mm, depth: 22 mm}\n")},
      {"windows off the web",
       disc(size, "", "  diameter: 40 mm\n", "body: {web: {thickness: 8 mm, windows: {count: 4, diameter: 40 mm}}}\n")},
      {"spokes leave no window",
       disc(size, "", "  diameter: 60 mm\n", "body: {web: {thickness: 8 mm, spokes: {count: 12, width: 14 mm}}}\n")},
      {"steps deeper than the hub", disc(size, "", "  register: {diameter: 40 mm, depth: 23 mm}\n")},
  };
  for (const BadCase& c : cases) {
    const auto made = made_part(c.spec);
    EXPECT_FALSE(made.section) << c.what;
    ASSERT_FALSE(made.diagnostics.all().empty()) << c.what;
    EXPECT_EQ(made.diagnostics.all()[0].code, Code::does_not_fit) << c.what << ": " << made.diagnostics.text();
    EXPECT_GT(made.diagnostics.all()[0].place.line, 0) << c.what;
  }
}

TEST(Section, HoldsDesignRulesAgainstTheShape) {
  const auto made = made_part(
      disc("{effective_diameter: 120 mm}", "    front_flange: {height: 3 mm, thickness: 1.2 mm, edge_break: 0.3 mm}\n",
           "  diameter: 24 mm\n", "body: {web: {thickness: 2 mm}, rim_thickness: 2 mm, fillet: 1 mm}\n"));
  ASSERT_TRUE(made.section) << made.diagnostics.text();
  const Rows rows = design_rules(*made.part, *made.section);
  EXPECT_EQ(testing::check_row(rows, "wall_under_groove").verdict, Verdict::fail);
  EXPECT_NEAR(testing::check_row(rows, "wall_under_groove").value, 2, 1e-6);
  EXPECT_EQ(testing::check_row(rows, "front_flange_thickness").verdict, Verdict::fail);
  EXPECT_EQ(testing::check_row(rows, "hub_wall").verdict, Verdict::fail);
  EXPECT_EQ(testing::check_row(rows, "web_thickness").verdict, Verdict::fail);
}

TEST(Section, SheetAndShapeHaveOneKeywayFloor) {
  // On a taper the gauge diameter is not where the bore is widest: the slot's floor counts from there.
  const auto made = made_part(
      "pulley: p\nmaterial: aluminium-6061-T6\nrims:\n  - {section: PK, ribs: 6, size: {effective_diameter: 120 "
      "mm}}\nbody: {solid: true}\n"
      "hub:\n  bore: {diameter: 30 mm, taper: {angle: 8 deg, gauge_face: front, gauge_depth: 5 mm}}\n  keyway: auto\n");
  ASSERT_TRUE(made.section) << made.diagnostics.text();
  ASSERT_EQ(made.section->body.slots.size(), 1U);
  const double wide = 15 + (22.8 - 5) * tan_of(Angle::deg(4).rad());  // at the rear face
  EXPECT_NEAR(made.section->body.slots[0].floor, wide + 3.3, 1e-9) << "key of a 30 mm bore: t2 = 3.3, DIN 6885-1";
  EXPECT_NEAR(testing::dimension(sizes(*made.part, *made.section), "keyway_over"), 2 * wide + 3.3, 1e-9);
}

TEST(Section, SheetsTellPartsApartThatDifferInSides) {
  const auto sheet = [](const std::string& hub) {
    const auto made = made_part(disc("{effective_diameter: 120 mm}", "", hub));
    EXPECT_TRUE(made.section) << made.diagnostics.text();
    std::string text;
    if (made.section) {
      for (const Dimension& d : sizes(*made.part, *made.section).dimensions)
        text += d.id + "|" + d.label + "|" + std::to_string(d.value) + "\n";
    }
    return text;
  };
  EXPECT_NE(sheet("  bolts: {count: 4, size: M6, circle: 60 mm, counterbore: front}\n"),
            sheet("  bolts: {count: 4, size: M6, circle: 60 mm, counterbore: rear}\n"));
  EXPECT_NE(sheet("  dowels: {count: 2, diameter: 6 mm, circle: 60 mm, depth: 8 mm, side: front}\n"),
            sheet("  dowels: {count: 2, diameter: 6 mm, circle: 60 mm, depth: 8 mm, side: rear}\n"));
  EXPECT_NE(sheet("  bolts: {angles: [0 deg, 50 deg, 130 deg], size: M6, circle: 60 mm}\n"),
            sheet("  bolts: {angles: [0 deg, 60 deg, 130 deg], size: M6, circle: 60 mm}\n"));
}

TEST(Section, AnUnmaskedFitFails) {
  const auto verdict = [](const std::string& masked) {
    const auto made =
        made_part(disc("{effective_diameter: 120 mm}", "", "",
                       "body: {solid: true}\nfinish: {coating: hard-anodise, thickness: 25 um" + masked + "}\n"));
    EXPECT_TRUE(made.section) << made.diagnostics.text();
    return made.section ? testing::check_row(design_rules(*made.part, *made.section), "coating_mask").verdict
                        : Verdict::note;
  };
  EXPECT_EQ(verdict(""), Verdict::note);
  EXPECT_EQ(verdict(", masked: false"), Verdict::fail);
}

TEST(Section, WallsAreFlatWhateverTheOrderOfTheSums) {
  // Three rims and a neck: the hub's front face and the rims' front face are the same plane summed in two ways.
  const auto made = made_part(
      "pulley: p\nmaterial: aluminium-6061-T6\nrims:\n  - {section: PK, ribs: 4, size: {effective_diameter: 125.166 "
      "mm}, front_flange: {height: 4.34 mm, thickness: 2.68 mm}}\n"
      "  - {section: PK, ribs: 4, size: {effective_diameter: 143.941 mm}, rear_flange: {height: 3.44 mm, thickness: "
      "3.18 mm, lead_in: 20 deg}, space: 4.48 mm}\n"
      "  - {section: PK, ribs: 4, size: {effective_diameter: 112.649 mm}}\nbody: {solid: true}\nhub: {bore: {diameter: "
      "20 mm}, keyway: auto}\n");
  ASSERT_TRUE(made.section) << made.diagnostics.text();
  for (std::size_t i = 0; i < made.section->tags.size(); ++i) {
    const auto& e = made.section->body.section[i];
    if (made.section->tags[i].kind == Kind::hub_face || made.section->tags[i].kind == Kind::rim_face) {
      EXPECT_EQ(e.a.x, e.b.x) << i;
    }
  }
}

TEST(Section, MarksMayNotLieInGaps) {
  const auto made = made_part(disc(
      "{effective_diameter: 120 mm}", "", "",
      "body: {solid: true}\ntiming_zero: {to: top}\nmarks: {on: front, angles: [0 deg], radius: 49 mm, length: 2 mm}\n"
      "tone_ring: {teeth: 12, radius: 50 mm, width: 4 mm, tooth_height: 3 mm, thickness: 8 mm, side: front}\n"));
  EXPECT_FALSE(made.section);
  ASSERT_FALSE(made.diagnostics.all().empty());
  EXPECT_NE(made.diagnostics.all()[0].message.find("overlap"), std::string::npos) << made.diagnostics.text();
}

TEST(Section, LeastWallIsTheGeometricOne) {
  // Two holes of 9 mm on a circle of 60: six of them stand 30 mm apart, edge breaks of 0.3 mm on both.
  const auto made =
      made_part(disc("{effective_diameter: 120 mm}", "", "  bolts: {count: 16, size: M8, circle: 60 mm}\n"));
  ASSERT_TRUE(made.section) << made.diagnostics.text();
  const double apart = 60 * sin_of(std::numbers::pi / 16);
  EXPECT_NEAR(testing::check_row(design_rules(*made.part, *made.section), "minimum_wall").value, apart - 9 - 0.6, 1e-9);
}

Rows ruled(const std::string& spec) {
  const auto made = made_part(spec);
  EXPECT_TRUE(made.section) << made.diagnostics.text();
  return made.section ? design_rules(*made.part, *made.section) : Rows{};
}

TEST(Section, MarksCountAsOpenings) {
  const auto least = [](const std::string& mark, const std::string& rim = "") {
    return testing::check_row(
        ruled(disc("{effective_diameter: 120 mm}", rim, "",
                   "body: {solid: true}\ntiming_zero: {to: top}\nmarks: {angles: [0 deg], " + mark + "}\n")),
        "minimum_wall");
  };
  // By hand: the outer groove's middle is 2.5 mm from the face, its root arc of 0.4 mm radius ends 0.4 cos 20° from it.
  const double root = 2.5 - 0.4 * cos_of(Angle::deg(20).rad());
  const Check shallow = least("on: front, depth: 0.4 mm, width: 0.6 mm, length: 5 mm, radius: 57 mm");
  EXPECT_NEAR(shallow.value, root - 0.4, 1e-9) << shallow.says;
  EXPECT_EQ(shallow.verdict, Verdict::pass);
  const Check deep = least("on: front, depth: 0.8 mm, width: 0.6 mm, length: 5 mm, radius: 57 mm");
  EXPECT_NEAR(deep.value, root - 0.8, 1e-9) << deep.says;
  EXPECT_EQ(deep.verdict, Verdict::fail);
  EXPECT_NE(deep.says.find("groove"), std::string::npos) << deep.says;
  // On the rim's edge of a flange 2 mm thick and 0.4 mm deep: far from every root, whatever its length.
  EXPECT_GT(least("on: front_edge, depth: 0.8 mm, width: 0.6 mm, length: 1 mm",
                  "    front_flange: {height: 3 mm, thickness: 2 mm}\n")
                .value,
            2.5);
}

TEST(Section, WindowsLieUnderTheGrooves) {
  // Windows between spokes reach to a diameter of 100 mm; the roots lie at `root_diameter`.
  const std::string spec = disc("{effective_diameter: 120 mm}", "", "  diameter: 50 mm\n",
                                "body: {web: {thickness: 8 mm, spokes: {count: 5, width: 8 mm, inner_diameter: 60 mm, "
                                "outer_diameter: 88 mm}}, rim_thickness: 10 mm}\n");
  const auto made = made_part(spec);
  ASSERT_TRUE(made.section) << made.diagnostics.text();
  EXPECT_NEAR(testing::check_row(ruled(spec), "wall_under_groove").value, 10, 1e-6) << "the rim's inside is nearer";
}

TEST(Section, PocketsAreHeldAgainstWhatLiesBehindThem) {
  // A disc of 22.8 mm: pockets from the front, dowel holes from the rear on the same circle and angle.
  const auto least = [](const std::string& hub, const std::string& top) {
    return testing::check_row(ruled(disc("{effective_diameter: 120 mm}", "", hub, "body: {solid: true}\n" + top)),
                              "minimum_wall");
  };
  const auto magnets = [](const char* depth) {
    return "magnets: {angles: [0 deg], diameter: 6 mm, circle: 70 mm, depth: " + std::string(depth) + " mm}\n";
  };
  EXPECT_NEAR(least("", magnets("21.8")).value, 1.0, 1e-9) << "to the opposite face";
  // Dowels of 6 mm, 8 mm deep from the rear, with a drill point of 3/tan 59° = 1.8026 mm.
  const std::string dowels = "  dowels: {angles: [0 deg], diameter: 6 mm, circle: 70 mm, depth: 8 mm, side: rear}\n";
  const double point = 3 / tan_of(Angle::deg(59).rad());
  const Check end_to_end = least(dowels, magnets("12"));
  EXPECT_NEAR(end_to_end.value, 22.8 - 12 - 8 - point, 1e-9) << end_to_end.says;
  EXPECT_EQ(end_to_end.verdict, Verdict::fail);
  EXPECT_NE(end_to_end.says.find("magnets_1"), std::string::npos) << end_to_end.says;
  EXPECT_NE(end_to_end.says.find("dowels_1"), std::string::npos) << end_to_end.says;
}

TEST(Section, ThreadsAreJudgedByTheMetalTheyAreIn) {
  struct Case {
    const char* material;
    double factor;
  };
  // From memory: 1.5 d in aluminium, 1 d in steel, 1.25 d in cast iron.
  for (const Case& c : {Case{"aluminium-6061-T6", 1.5}, {"steel-1045", 1}, {"cast-iron-250", 1.25}}) {
    std::string spec = disc("{effective_diameter: 120 mm}", "",
                            "  bolts: {count: 4, size: M6, circle: 60 mm, hole: tapped, depth: 10 mm}\n");
    spec.replace(spec.find("aluminium-6061-T6"), 17, c.material);
    const Check row = testing::check_row(ruled(spec), "bolts_1_thread_length");
    EXPECT_NEAR(*row.lower, 6 * c.factor, 1e-12) << c.material << ", " << row.source;
  }
}

TEST(Section, ClearanceHolesAreNoFitsToMask) {
  const Rows rows = ruled(disc("{effective_diameter: 120 mm}", "", "  bolts: {count: 4, size: M6, circle: 60 mm}\n",
                               "body: {solid: true}\nfinish: {coating: hard-anodise, thickness: 25 um}\n"));
  EXPECT_EQ(testing::check_row(rows, "coating_mask").says.find("fitted holes"), std::string::npos);
}

TEST(Section, NamesTheGeneralTolerancesUpToItsOwnSize) {
  const Check row = testing::check_row(ruled(disc()), "general_tolerances");
  EXPECT_EQ(row.verdict, Verdict::note);
  EXPECT_NE(row.source.find("ISO 2768-1"), std::string::npos) << row.source;
  EXPECT_NE(row.says.find("over 0.5 mm up to 6 mm: +- 0.1 mm, up to 30 mm: +- 0.2 mm, up to 120 mm: +- 0.3 mm;"),
            std::string::npos)
      << row.says;
}

}  // namespace
}  // namespace groovewright::section
