#include <gtest/gtest.h>

#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"
#include "parts.h"

namespace groovewright::part {
namespace {

using testing::disc;
using testing::made_part;

TEST(Part, EveryWayOfGivingTheSizeMeansTheSamePulley) {
  // d_e 120, PK: 2X, b_e and d_o by the standard's own relations (ISO 9981; recomputed in tests/published).
  const auto by_effective = made_part(disc());
  ASSERT_TRUE(by_effective.part) << by_effective.diagnostics.text();
  const Rim& rim = by_effective.part->rims[0];
  struct Case {
    const char* key;
    double value;
  };
  for (const Case& c : {Case{"pitch_diameter", rim.pitch_diameter()},
                        {"outside_diameter", rim.outside_diameter()},
                        {"diameter_over_balls", rim.over_balls()}}) {
    char size[80];
    std::snprintf(size, sizeof size, "{%s: %.12f mm}", c.key, c.value);
    const auto other = made_part(disc(size));
    ASSERT_TRUE(other.part) << c.key << other.diagnostics.text();
    EXPECT_NEAR(other.part->rims[0].effective_diameter.value, 120, 1e-9) << c.key;
  }
}

TEST(Part, OutsideDiameterFollowsTheCrestRadius) {
  // d_o = d_e - 2 (r_t - r_t,min)(1/sin 20° - 1), ISO 9981/9982.
  struct Case {
    const char* section;
    double r_t, r_t_min;
    const char* size;
  };
  for (const Case& c : {Case{"PH", 0.20, 0.15, "60"},
                        {"PJ", 0.30, 0.20, "80"},
                        {"PK", 0.25, 0.25, "120"},
                        {"PK", 0.40, 0.25, "120"},
                        {"PL", 0.60, 0.40, "150"},
                        {"PM", 1.00, 0.75, "260"}}) {
    const auto made =
        made_part(disc("{effective_diameter: " + std::string(c.size) + " mm}",
                       "    crest_radius: " + std::to_string(c.r_t) + " mm\n", "", "body: {solid: true}\n", c.section));
    ASSERT_TRUE(made.part) << made.diagnostics.text();
    const double want = std::stod(c.size) - 2 * (c.r_t - c.r_t_min) * (1 / sin_of(Angle::deg(20).rad()) - 1);
    EXPECT_NEAR(made.part->rims[0].outside_diameter(), want, 1e-9)
        << c.section << " r_t " << c.r_t << ", ISO 9981/9982";
  }
}

TEST(Part, RadiiStandInsideTheStandardsLimitsByDefault) {
  // Common practice, no source: 1.2 x r_t min and 0.8 x r_b max; PK 0.30 and 0.40.
  const auto made = made_part(disc());
  ASSERT_TRUE(made.part);
  EXPECT_NEAR(made.part->rims[0].crest_radius.value, 0.30, 1e-12);
  EXPECT_NEAR(made.part->rims[0].root_radius.value, 0.40, 1e-12);
}

TEST(Part, OverdriveGoesByThePitchLine) {
  // Common practice, no source: 6.5 in overdriven by 30 % comes to about 8.5 in; by the pitch line of a PK belt 8.497
  // in.
  const auto made = made_part(disc("{overdrive: 30 %, of: {effective_diameter: 6-1/2 in}}"));
  ASSERT_TRUE(made.part) << made.diagnostics.text();
  const Rim& rim = made.part->rims[0];
  EXPECT_NEAR(rim.effective_diameter.value / 25.4, 8.497, 5e-4);
  ASSERT_TRUE(rim.overdrive);
  EXPECT_NEAR(rim.overdrive->plain_effective / 25.4, 8.45, 1e-9) << "the plain ratio";
  EXPECT_NEAR(rim.pitch_diameter() / (165.1 + 4), 1.30, 1e-12) << "d_p = (1+x) d_p,ref";
}

TEST(Part, PlacesHubAndRims) {
  struct Case {
    const char* hub;
    double rims_rear, front_face;
  };
  // Width of six PK grooves without flanges: 5 x 3.56 + 2 x 2.5 = 22.8.
  for (const Case& c : {Case{"  diameter: 50 mm\n", 0, 22.8},
                        {"  diameter: 50 mm\n  rear: {proud: 6 mm}\n", 6, 28.8},
                        {"  diameter: 50 mm\n  rear: {recessed: 2 mm}\n", -2, 20.8},
                        {"  diameter: 50 mm\n  length: 40 mm\n", 0, 40},
                        {"  diameter: 50 mm\n  length: 40 mm\n  front: {proud: 3 mm}\n", 40 - 3 - 22.8, 40},
                        {"  diameter: 50 mm\n  front: {proud: 3 mm}\n  rear: {proud: 2 mm}\n", 2, 27.8}}) {
    const auto made = made_part(disc("{effective_diameter: 120 mm}", "", c.hub));
    ASSERT_TRUE(made.part) << c.hub << made.diagnostics.text();
    EXPECT_NEAR(made.part->rims_rear, c.rims_rear, 1e-9) << c.hub;
    EXPECT_NEAR(made.part->hub.front_face, c.front_face, 1e-9) << c.hub;
  }
}

TEST(Part, TakesKeyAndFitFromTheTables) {
  // DIN 6885-1: bore 20 takes a key 6 x 6 with t2 = 2.8; ISO 286: 20 H7 is +21/0 um.
  const auto made = made_part(disc("{effective_diameter: 120 mm}", "", "  keyway: auto\n"));
  ASSERT_TRUE(made.part) << made.diagnostics.text();
  EXPECT_DOUBLE_EQ(made.part->hub.keyway->width.value, 6);
  EXPECT_DOUBLE_EQ(made.part->hub.keyway->depth.value, 2.8);
  EXPECT_NEAR(made.part->hub.bore.fit->upper, 0.021, 1e-12);
  EXPECT_NEAR(made.part->hub.bore.fit->lower, 0, 1e-12);
}

TEST(Part, TakesHolesFromTheTables) {
  // ISO 273 medium M8: 9.0; counterbore for ISO 4762 M8: 15; tap drill M8: 6.8.
  const auto made = made_part(disc("{effective_diameter: 120 mm}", "",
                                   "  bolts:\n    - {count: 6, size: M8, circle: 60 mm, counterbore: front}\n    - "
                                   "{count: 2, size: M8, circle: 60 mm, start: 30 deg, hole: tapped}\n"));
  ASSERT_TRUE(made.part) << made.diagnostics.text();
  ASSERT_EQ(made.part->holes.size(), 2U);
  EXPECT_DOUBLE_EQ(made.part->holes[0].diameter.value, 9);
  EXPECT_DOUBLE_EQ(made.part->holes[0].sink_diameter, 15);
  EXPECT_DOUBLE_EQ(made.part->holes[1].diameter.value, 6.8);
  EXPECT_NEAR(made.part->holes[0].angles[1].deg(), 60, 1e-12);
}

TEST(Part, GivesHolesTheLimitsOfTheirSeries) {
  struct Case {
    const char *series, *fit;
    double upper;
  };
  // ISO 273: fine H12, medium H13, coarse H14; ISO 286-1 for 6 to 10 mm: 150, 220 and 360 um.
  for (const Case& c : {Case{"fine", "H12", 0.15}, {"medium", "H13", 0.22}, {"coarse", "H14", 0.36}}) {
    const auto made = made_part(disc(
        "{effective_diameter: 120 mm}", "",
        "  bolts: {count: 6, size: M8, circle: 60 mm, counterbore: front, series: " + std::string(c.series) + "}\n"));
    ASSERT_TRUE(made.part) << made.diagnostics.text();
    const HolePattern& p = made.part->holes[0];
    ASSERT_TRUE(p.fit && p.sink_fit) << c.series;
    EXPECT_EQ(p.fit->id, c.fit) << c.series << ", ISO 273";
    EXPECT_NEAR(p.fit->upper, c.upper, 1e-12) << c.series << ", ISO 286-1";
    EXPECT_EQ(p.sink_fit->id, "H13") << "common practice";
    EXPECT_NEAR(p.sink_fit->upper, 0.27, 1e-12) << "15 H13, ISO 286-1";
  }
}

TEST(Part, GivesAKeywayOfOnesOwnTheTablesDepthTolerance) {
  struct Case {
    double depth, tolerance;
  };
  // DIN 6885-1: +0.1 up to key 6 x 6 (t2 2.8), +0.2 from 8 x 7 (t2 3.3); deeper than the table as its deepest.
  for (const Case& c : {Case{1.2, 0.1}, {2.8, 0.1}, {2.9, 0.2}, {3.3, 0.2}, {6, 0.2}}) {
    const auto made = made_part(disc("{effective_diameter: 120 mm}", "",
                                     "  keyway: {width: 5 mm, depth: " + std::to_string(c.depth) + " mm}\n"));
    ASSERT_TRUE(made.part) << made.diagnostics.text();
    EXPECT_EQ(made.part->hub.keyway->depth_tolerance, c.tolerance) << c.depth;
    EXPECT_NE(made.part->hub.keyway->depth_tolerance_source.find("DIN 6885-1"), std::string::npos) << c.depth;
  }
}

TEST(Part, CoatingGrowsByItsShare) {
  // Hard anodise, about half in and half out: 50 um film stands 25 um above the old surface.
  const auto made = made_part(disc("{effective_diameter: 120 mm}", "", "",
                                   "body: {solid: true}\nfinish: {coating: hard-anodise, thickness: 50 um}\n"));
  ASSERT_TRUE(made.part) << made.diagnostics.text();
  EXPECT_NEAR(made.part->finish->growth, 0.025, 1e-12);
}

TEST(Part, RefusesRadiiOutsideTheStandard) {
  for (const char* rim : {"    crest_radius: 0.24 mm\n", "    crest_radius: 0.49 mm\n", "    root_radius: 0.51 mm\n",
                          "    edge_distance: 2.4 mm\n"}) {
    const auto made = made_part(disc("{effective_diameter: 120 mm}", rim));
    EXPECT_FALSE(made.part) << rim;
    ASSERT_EQ(made.diagnostics.all().size(), 1U) << rim << made.diagnostics.text();
    EXPECT_EQ(made.diagnostics.all()[0].code, Code::outside_limits) << rim;
    EXPECT_EQ(made.diagnostics.all()[0].place.line, 7) << rim;
  }
}

/// All that resolve() says of a document with a catalogue of these files: every number with its source, or the errors.
std::string settled(const spec::Pulley& pulley, std::span<const TextFile> files) {
  Diagnostics diagnostics;
  const auto catalog = catalog::read_catalog(files, diagnostics);
  const auto part = catalog ? resolve(pulley, *catalog, diagnostics) : std::nullopt;
  const auto section = part ? section::half_section(*part, diagnostics) : std::nullopt;
  std::string text = diagnostics.text();
  if (!section) return text;
  for (const Dimension& d : section::sizes(*part, *section).dimensions)
    text += d.id + " " + shortest(d.value) + " " + shortest(d.lower.value_or(0)) + " " + shortest(d.upper.value_or(0)) +
            " " + d.source + "\n";
  for (const Check& c : section::design_rules(*part, *section).checks)
    text += c.id + " " + shortest(c.value) + " " + c.source + " " + c.says + "\n";
  return text;
}

TEST(FilesNamed, SettleTheSamePartAsTheWholeCatalogue) {
  std::vector<std::string> documents;
  for (const char* demo : {"fennel-spindle-pj", "larkspur-crank-24", "marlow-step-2", "sorrel-disc", "thistle-pump-pl"})
    documents.push_back(testing::file_text(std::string(GW_SOURCE_DIR) + "/profiles/demo/" + demo + ".yaml"));
  // Own cases: every default fit, every place that can name one, and names that no table holds.
  const std::string top = "body: {solid: true}\n";
  for (const char* hub :
       {"  register: {diameter: 40 mm, height: 3 mm}\n", "  register: {diameter: 40 mm, depth: 3 mm}\n",
        "  register: {diameter: 40 mm, height: 3 mm, fit: g6}\n", "  keyway: {}\n", "  keyway: {fit: P9}\n",
        "  dowels: {count: 1, diameter: 5 mm, circle: 60 mm}\n",
        "  dowels: {count: 1, diameter: 5 mm, circle: 60 mm, fit: H6}\n",
        "  bolts: {count: 4, size: M5, circle: 60 mm}\n  jack_screws: {count: 2, size: M6, circle: 60 mm, start: 45 "
        "deg}\n",
        "  bolts: {count: 4, size: M7, circle: 60 mm}\n", "  keyway: {fit: P8}\n",
        "  register: {diameter: 40 mm, depth: 3 mm, fit: Q7}\n"})
    documents.push_back(disc("{effective_diameter: 120 mm}", "", hub, top));
  documents.push_back(disc("{effective_diameter: 120 mm}", "", "",
                           top + "magnets: {count: 2, diameter: 6 mm, circle: 60 mm, depth: 3 mm, fit: H8}\n"));
  documents.push_back(disc("{effective_diameter: 120 mm}", "", "", top + "finish: {coating: anodize}\n"));
  for (const std::string& document : documents) {
    Diagnostics diagnostics;
    const auto pulley = spec::read_pulley({"spec.yaml", document}, diagnostics);
    ASSERT_TRUE(pulley) << document << diagnostics.text();
    std::vector<TextFile> files;
    for (const NamedFile& named : files_named(*pulley)) {
      for (const TextFile& file : catalog::built_in_files()) {
        if (file.name == named.name) files.push_back(catalog::only_rows(file, named.rows));
      }
    }
    const std::string by_named = settled(*pulley, files);
    EXPECT_FALSE(by_named.empty()) << document;
    EXPECT_EQ(by_named, settled(*pulley, catalog::built_in_files())) << document;
  }
}

/// What is said of a document, read with the data files of a person besides our own.
std::string said_with_own(const std::string& document, const std::vector<TextFile>& own) {
  Diagnostics d;
  const auto pulley = spec::read_pulley({"spec.yaml", document}, d);
  std::vector<TextFile> files = own;
  for (const NamedFile& named : files_named(*pulley)) {
    for (const TextFile& f : catalog::built_in_files()) {
      if (f.name == named.name) files.push_back(catalog::only_rows(f, named.rows));
    }
  }
  const auto catalog = catalog::read_catalog(files, d);
  EXPECT_TRUE(catalog) << d.text();
  if (!catalog) return "";
  EXPECT_FALSE(resolve(*pulley, *catalog, d));
  return d.text();
}

std::string built_in(const std::string& name) {
  for (const TextFile& f : catalog::built_in_files()) {
    if (f.name == name) return f.text;
  }
  return "";
}

std::string renamed(std::string text, const std::string& from, const std::string& to) {
  return text.replace(text.find(from), from.size(), to);
}

TEST(Part, KnowsAPersonsOwnNamesBesideTheBuiltInOnes) {
  const std::vector<TextFile> own{
      {"own-material.yaml", renamed(built_in("materials/steel-4140.yaml"), "steel-4140", "tansy-bronze")},
      {"own-finish.yaml", renamed(built_in("finishes/anodise.yaml"), "anodise", "tansy-lacquer")},
      {"own-groove.yaml", renamed(built_in("grooves/PK.yaml"), "PK", "XTANSY")}};
  struct Case {
    const char* what;
    std::string document, says;
  };
  const Case cases[] = {
      {"own material", renamed(disc(), "aluminium-6061-T6", "tansy-bronz"), "did you mean 'tansy-bronze'?"},
      {"own material among all", renamed(disc(), "aluminium-6061-T6", "wood"), "steel-4140 and tansy-bronze"},
      {"built-in material", renamed(disc(), "aluminium-6061-T6", "steel-4141"), "did you mean 'steel-4140'?"},
      {"own coating", disc() + "finish: {coating: tansy-laquer}\n", "did you mean 'tansy-lacquer'?"},
      {"built-in coating", disc() + "finish: {coating: anodize}\n", "did you mean 'anodise'?"},
      {"own groove", renamed(disc(), "PK", "XTANSI"), "did you mean 'XTANSY'?"},
      {"grooves of both kinds", renamed(disc(), "PK", "W"), "there are PH, PJ, PK, PL, PM and XTANSY"},
  };
  for (const Case& c : cases) {
    const std::string said = said_with_own(c.document, own);
    EXPECT_NE(said.find(c.says), std::string::npos) << c.what << "\n" << said;
  }
}

TEST(Part, SettlesWhatIsSaidAboutTheDrawing) {
  const auto made =
      made_part(disc("{effective_diameter: 120 mm}", "", "  bolts: {count: 4, size: M5, circle: 60 mm}\n") +
                "drawing:\n  sheet: A3\n  scale: 1:2\n  general_tolerance: iso-2768-m\n"
                "  dual_units: true\n  language: de\n  number: 24\n  author: T. Ansy\n"
                "  maximum_material: true\n  revisions: [{revision: A, text: first issue}]\n"
                "  notes: [pack singly]\nstep: {pmi: true}\nbalance: {grade: 2.5}\n");
  ASSERT_TRUE(made.part) << made.diagnostics.text();
  const DrawingWish& w = made.part->drawing;
  EXPECT_EQ(w.place.line, 12);
  EXPECT_EQ(w.sheet->value, Sheet::a3);
  EXPECT_EQ(w.sheet->place.line, 12);
  EXPECT_EQ(w.scale->value, 0.5);
  EXPECT_EQ(w.scale->place.line, 13);
  EXPECT_FALSE(w.projection);
  EXPECT_EQ(w.general_tolerance.value, GeneralTolerance::iso_2768_m);
  EXPECT_TRUE(w.dual_units);
  EXPECT_EQ(w.language.value, "de") << "whether there is such a file is for who reads it";
  EXPECT_EQ(w.language.place.line, 16);
  EXPECT_EQ(w.number, "24");
  EXPECT_EQ(w.author, "T. Ansy");
  EXPECT_TRUE(w.maximum_material);
  ASSERT_EQ(w.revisions.size(), 1U);
  EXPECT_EQ(w.revisions[0].revision + ": " + w.revisions[0].text, "A: first issue");
  ASSERT_EQ(w.notes.size(), 1U);
  EXPECT_EQ(w.notes[0].value, "pack singly");
  EXPECT_EQ(made.part->revision, "A") << "the last row of the table";
  EXPECT_TRUE(made.part->pmi);
  ASSERT_TRUE(made.part->balance_grade);
  EXPECT_EQ(made.part->balance_grade->value, 2.5);
  EXPECT_EQ(made.part->balance_grade->source, "spec");
  EXPECT_EQ(made.part->balance_grade->place.line, 23);
}

TEST(Part, KeepsWhatIsSaidAboutMachiningWithItsPlaces) {
  const auto made = made_part(disc() +
                              "machining:\n  lathe: none-such\n  chuck: power-160\n"
                              "  stock: {form: bar, diameter: 130 mm, bore: 129 mm}\n  tools: [groove-2]\n");
  ASSERT_TRUE(made.part) << made.diagnostics.text();
  const Machining& m = made.part->machining;
  EXPECT_EQ(m.lathe->value, "none-such") << "whether the shop has it is for who reads the shop's data";
  EXPECT_EQ(m.lathe->place.line, m.place.line);
  EXPECT_EQ(m.chuck->place.line, m.place.line + 1);
  EXPECT_FALSE(m.mill || m.length);
  EXPECT_EQ(m.form->value, StockForm::bar);
  EXPECT_EQ(m.diameter->value, 130);
  EXPECT_EQ(m.bore->place.line, m.place.line + 2);
  ASSERT_EQ(m.tools.size(), 1U);
  EXPECT_EQ(m.tools[0].value, "groove-2");

  for (const char* nothing : {"", "machining: {}\n", "machining: {stock: {}}\n"}) {
    const auto open = made_part(disc() + nothing);
    ASSERT_TRUE(open.part) << open.diagnostics.text();
    const Machining& n = open.part->machining;
    EXPECT_FALSE(n.lathe || n.mill || n.chuck || n.form || n.diameter || n.length || n.bore) << "for the planner";
    EXPECT_EQ(n.place.line > 0, *nothing != 0) << nothing;
  }
}

TEST(Part, DecidesWhatTheDocumentLeavesOpenAboutTheDrawing) {
  for (const char* nothing : {"", "drawing: {}\nstep: {}\n"}) {
    const auto made = made_part(disc() + nothing);
    ASSERT_TRUE(made.part) << made.diagnostics.text();
    const DrawingWish& w = made.part->drawing;
    EXPECT_FALSE(w.sheet || w.scale || w.projection) << "for the planner to choose";
    EXPECT_EQ(w.general_tolerance.value, GeneralTolerance::iso_22081) << "ISO 2768-2 is withdrawn";
    EXPECT_EQ(w.general_tolerance.place.line, 0);
    EXPECT_EQ(w.language.value, "en");
    EXPECT_EQ(w.language.place.line, 0);
    EXPECT_FALSE(w.dual_units || w.maximum_material || made.part->pmi || made.part->balance_grade);
    EXPECT_EQ(w.number + w.author + made.part->revision, "");
    EXPECT_TRUE(w.revisions.empty() && w.notes.empty());
  }
}

TEST(Part, ProjectsAsIsUsualOnTheSheetUnlessToldOtherwise) {
  struct Case {
    const char* written;
    Sheet sheet;
    Projection projection;
  };
  // ISO 128-3 and ASME Y14.3: common practice.
  for (const Case& c : {Case{"", Sheet::a4, Projection::first},
                        {"", Sheet::a1, Projection::first},
                        {"", Sheet::ansi_a, Projection::third},
                        {"", Sheet::ansi_d, Projection::third},
                        {"drawing: {projection: third}\n", Sheet::a3, Projection::third},
                        {"drawing: {projection: first}\n", Sheet::ansi_b, Projection::first}}) {
    const auto made = made_part(disc() + c.written);
    ASSERT_TRUE(made.part) << made.diagnostics.text();
    EXPECT_EQ(made.part->drawing.projection_on(c.sheet), c.projection)
        << c.written << spec::name_of(spec::kSheets, c.sheet);
  }
}

TEST(Part, HasOneRevision) {
  struct Case {
    const char *written, *revision;
  };
  const std::string table = "drawing: {revisions: [{revision: A, text: x}, {revision: B, text: y}]}\n";
  for (const Case& c : {Case{"", "B"}, {"revision: B\n", "B"}}) {
    const auto made = made_part(disc() + c.written + table);
    ASSERT_TRUE(made.part) << made.diagnostics.text();
    EXPECT_EQ(made.part->revision, c.revision);
  }
  EXPECT_EQ(made_part(disc() + "revision: C\n").part->revision, "C");
}

TEST(Part, PointsAtTheValueThatDoesNotFit) {
  // The hub's lines begin at line 7 of the disc; each stands alone, so that line and column tell map from value.
  struct Case {
    const char* what;
    std::string document;
    int line, column;
  };
  const Case cases[] = {
      {"bore", "hub:\n  bore:\n    fit: H7\n    diameter: 118 mm\n", 10, 15},
      {"hub", "hub:\n  bore: {diameter: 20 mm}\n  diameter: 119 mm\n", 9, 13},
      {"register", "hub:\n  bore: {diameter: 20 mm}\n  register:\n    depth: 3 mm\n    diameter: 19 mm\n", 11, 15},
      {"spigot", "hub:\n  bore: {diameter: 20 mm}\n  register:\n    height: 3 mm\n    diameter: 19 mm\n", 11, 15},
      {"step", "hub:\n  bore: {diameter: 20 mm, steps: [{depth: 3 mm, side: rear, diameter: 19 mm}]}\n", 8, 71},
  };
  for (const Case& c : cases) {
    const auto made = made_part(
        "pulley: disc\nmaterial: steel-4140\nrims:\n  - {section: PK, ribs: 6, size: {effective_diameter: 120 mm}}\n"
        "body:\n  solid: true\n" +
        c.document);
    ASSERT_EQ(made.diagnostics.all().size(), 1U) << c.what << "\n" << made.diagnostics.text();
    const Diagnostic& d = made.diagnostics.all()[0];
    EXPECT_EQ(d.code, Code::does_not_fit) << c.what;
    EXPECT_EQ(d.place.line, c.line) << c.what << "\n" << made.diagnostics.text();
    EXPECT_EQ(d.place.column, c.column) << c.what << "\n" << made.diagnostics.text();
  }
}

TEST(Part, NamesTheFaceThatAHoleCutsInto) {
  struct Case {
    const char* what;
    std::string hub, top, says;
  };
  // Six PK grooves of d_e 120 mm: 22.8 mm wide, root at 112.9 mm.
  const Case cases[] = {
      {"grooves", "", "magnets: {count: 2, diameter: 6 mm, circle: 108 mm, depth: 12 mm}\n", "cuts into the grooves:"},
      {"recess behind", "  register: {diameter: 60 mm, depth: 8 mm}\n",
       "magnets: {count: 2, diameter: 6 mm, circle: 64 mm, depth: 17 mm}\n",
       "cuts into a step of the bore or a recess:"},
  };
  for (const Case& c : cases) {
    const auto made =
        made_part(disc("{effective_diameter: 120 mm}", "", c.hub, "body: {solid: true}\n" + std::string(c.top)));
    EXPECT_NE(made.diagnostics.text().find(c.says), std::string::npos) << c.what << "\n" << made.diagnostics.text();
  }
}

TEST(Part, NeverLeavesANumberWithoutSource) {
  const auto made = made_part(testing::file_text(std::string(GW_SOURCE_DIR) + "/profiles/demo/larkspur-crank-24.yaml"));
  ASSERT_TRUE(made.section) << made.diagnostics.text();
  for (const Dimension& d : section::sizes(*made.part, *made.section).dimensions)
    EXPECT_FALSE(d.source.empty()) << d.id;
  for (const Check& c : section::design_rules(*made.part, *made.section).checks) EXPECT_FALSE(c.source.empty()) << c.id;
}

}  // namespace
}  // namespace groovewright::part
