// The supplier drawing: what it demands, and that a drawing office would not send it back.
#include <gtest/gtest.h>

#include <set>

#include "groovewright/drawing.h"
#include "groovewright/gauge.h"
#include "parts.h"

namespace groovewright {
namespace {

struct Planned {
  testing::MadePart made;
  Rows rows;
  Typeface typeface;
  std::optional<drawing::Sheet> sheet;
};

Planned planned(const std::string& yaml, Units units = Units::mm) {
  Planned p;
  p.made = testing::made_part(yaml);
  EXPECT_TRUE(p.made.section) << p.made.diagnostics.text();
  if (!p.made.section) return p;
  const auto catalog = catalog::read_catalog(catalog::built_in_files(), p.made.diagnostics);
  p.typeface = catalog->typeface.value();
  p.rows = gauge::sizes(*p.made.part);
  p.rows.append(section::sizes(*p.made.part, *p.made.section));
  p.sheet = drawing::plan(*p.made.part, *p.made.section, p.rows.dimensions,
                          {catalog->texts.at("en"), p.typeface, units}, p.made.diagnostics);
  return p;
}

std::set<std::string> words(const plane::Page& page) {
  std::set<std::string> all;
  for (const plane::View& v : page.views) {
    for (const plane::Words& w : v.words) all.insert(w.text);
  }
  return all;
}

TEST(Drawing, OfEveryDemoHasNoInkOverInk) {
  ASSERT_GE(testing::demos().size(), 5U);
  for (const std::string& file : testing::demos()) {
    SCOPED_TRACE(file);
    const Planned p = planned(testing::file_text(file));
    ASSERT_TRUE(p.sheet) << p.made.diagnostics.text();
    EXPECT_EQ(p.sheet->faults.total(), 0) << p.sheet->faults.first;
    // ISO 5455: the scales that a drawing may have.
    EXPECT_TRUE(std::any_of(spec::kScales.begin(), spec::kScales.end(), [&](const auto& c) {
      return c.name == p.sheet->scale;
    })) << p.sheet->scale;
  }
}

TEST(Drawing, StatesTheLimitsOfTheDimensionSheet) {
  const Planned p = planned(testing::file_text(GW_SOURCE_DIR "/profiles/demo/larkspur-crank-24.yaml"));
  ASSERT_TRUE(p.sheet);
  const auto said = words(p.sheet->page);
  for (const drawing::Size& s : drawing::requirements(*p.made.part, *p.made.section, p.rows.dimensions).sizes) {
    const ShownLimits limits = shown_limits(s.row, Units::mm);
    const std::string off =
        shown(s.row.value, "mm", Units::mm).value + " ±" + shown(*s.row.upper - s.row.value, "mm", Units::mm).value;
    EXPECT_TRUE(said.contains(off) || (said.contains(limits.lower) && said.contains(limits.upper)))
        << s.row.id << ": " << limits.lower << " to " << limits.upper << " or " << off;
  }
}

TEST(Drawing, LeadsWithALongBoreAndOtherwiseWithTheSeat) {
  struct Case {
    const char* what;
    std::string yaml;
    std::vector<std::string> datums;
    const char* source;
  };
  const Case cases[] = {{"a bore engaged over its whole width",
                         testing::disc(),
                         {"bore_diameter", "seat"},
                         "common practice: a long bore leads, engaged over 0.8 of its diameter"},
                        {"a short register on the seat",
                         testing::disc("{effective_diameter: 120 mm}", "",
                                       "  register: {diameter: 60 mm, depth: 3 mm, fit: H7, side: rear}\n"),
                         {"seat", "register_rear_diameter"},
                         "common practice: with a short register the seat leads"}};
  for (const Case& c : cases) {
    SCOPED_TRACE(std::string(c.what) + ", " + c.source);
    const Planned p = planned(c.yaml);
    ASSERT_TRUE(p.made.section);
    const auto demands = drawing::requirements(*p.made.part, *p.made.section, p.rows.dimensions);
    ASSERT_GE(demands.datums.size(), 2U);
    EXPECT_EQ(demands.datums[0].what, c.datums[0]);
    EXPECT_EQ(demands.datums[1].what, c.datums[1]);
    EXPECT_EQ(demands.datums[0].letter, "A");
  }
}

TEST(Drawing, NamesOneSystemOfStandardsByItsSheet) {
  // ISO 8015 and ISO 5458 (CZ) on ISO sheets, ASME Y14.5-2018 on ANSI sheets, whatever the units.
  const std::string yaml = testing::file_text(GW_SOURCE_DIR "/profiles/demo/larkspur-crank-24.yaml");
  for (const Units units : {Units::mm, Units::inch}) {
    for (const bool ansi : {false, true}) {
      SCOPED_TRACE(std::string(units == Units::mm ? "mm" : "inch") + (ansi ? ", ANSI D" : ", A1"));
      const Planned p = planned(yaml + (ansi ? "drawing: {sheet: ansi-d}\n" : "drawing: {sheet: A1}\n"), units);
      ASSERT_TRUE(p.sheet) << p.made.diagnostics.text();
      std::string all;
      for (const std::string& w : words(p.sheet->page)) all += w + "\n";
      EXPECT_EQ(all.find("ASME Y14.5-2018") != std::string::npos, ansi);
      EXPECT_EQ(all.find("ISO 8015") != std::string::npos, !ansi);
      EXPECT_EQ(all.find(" CZ") != std::string::npos, !ansi);
      EXPECT_EQ(all.find("in inches") != std::string::npos, units == Units::inch);
    }
  }
}

TEST(Drawing, TakesWhatIsMuch) {
  std::string angles, revisions;
  for (int i = 0; i < 36; ++i) angles += (i > 0 ? ", " : "") + std::to_string(10 * i + i % 3) + " deg";
  for (int i = 0; i < 12; ++i) {
    revisions += std::string(i > 0 ? ", " : "") + "{revision: \"" + std::to_string(i) +
                 "\", text: \"changed a thing, and another, and one more, and the first one back again\"}";
  }
  const std::string large = "{effective_diameter: 200 mm}", solid = "body: {solid: true}\n";
  struct Case {
    const char* what;
    std::string yaml;
    std::string says;
  };
  const Case cases[] = {
      {"40 grooves", testing::disc(large, "", "", solid, "PK", 40), "40"},
      {"36 holes", testing::disc(large, "", "  bolts: {count: 36, size: M6, circle: 150 mm}\n"), "36× ⌀"},
      {"36 uneven holes", testing::disc(large, "", "  bolts: {angles: [" + angles + "], size: M5, circle: 150 mm}\n"),
       "352°"},
      {"12 revisions", testing::disc(large, "", "", solid + "drawing: {revisions: [" + revisions + "]}\n"), "11"},
      {"a title of one word of 400 letters",
       testing::disc(large, "", "", "title: " + std::string(400, 'x') + "\n" + solid), "xxx"},
  };
  for (const Case& c : cases) {
    SCOPED_TRACE(c.what);
    const Planned p = planned(c.yaml);
    ASSERT_TRUE(p.sheet) << p.made.diagnostics.text();
    EXPECT_EQ(p.sheet->faults.total(), 0) << p.sheet->faults.first;
    const auto said = words(p.sheet->page);
    EXPECT_TRUE(std::any_of(said.begin(), said.end(), [&](const std::string& w) { return w.starts_with(c.says); }))
        << c.says;
  }
}

TEST(Drawing, RefusesAnEmptyTitle) {
  for (const char* title : {"title: \"\"\n", "title: \"  \"\n"}) {
    const testing::MadePart made = testing::made_part(
        testing::disc("{effective_diameter: 120 mm}", "", "", title + std::string("body: {solid: true}\n")));
    EXPECT_FALSE(made.part);
    ASSERT_TRUE(made.diagnostics.has_errors());
    EXPECT_NE(made.diagnostics.all().front().message.find("not an empty one"), std::string::npos);
  }
}

TEST(Drawing, RefusesASheetThatIsTooSmall) {
  const std::string yaml = testing::file_text(GW_SOURCE_DIR "/profiles/demo/larkspur-crank-24.yaml");
  const Planned p = planned(yaml + "drawing: {sheet: A4, scale: 1:1}\n");
  EXPECT_FALSE(p.sheet);
  ASSERT_TRUE(p.made.diagnostics.has_errors());
  EXPECT_GT(p.made.diagnostics.all().back().place.line, 0);
}

TEST(Drawing, NamesCharactersThatTheTypefaceLacks) {
  const Planned p = planned(
      testing::disc("{effective_diameter: 120 mm}", "", "", "title: \"Disc \xE2\x98\x83\"\nbody: {solid: true}\n"));
  ASSERT_TRUE(p.sheet);
  ASSERT_FALSE(p.made.diagnostics.all().empty());
  EXPECT_EQ(p.made.diagnostics.all().back().fragment, "\xE2\x98\x83");
  EXPECT_TRUE(words(p.sheet->page).contains("Disc ?"));
}

}  // namespace
}  // namespace groovewright
