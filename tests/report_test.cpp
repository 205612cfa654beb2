#include "groovewright/report.h"
#include "groovewright/report/table.h"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

namespace groovewright::report {
namespace {

Sheet sheet() {
  Sheet s{"part", "A part, invented", "A", "P 8 PK 164.6", "aluminium", "groovewright test", {}};
  s.rows.cautions = {"mind your fingers"};
  s.rows.dimensions = {{"bore_diameter", "Bore", "H7", 48, "mm", 48.0, 48.025, "spec; limits ISO 286-2", true},
                       {"groove_count", "Grooves", "n", 8, "", {}, {}, "spec"},
                       {"volume", "Volume", "V", 16387.064, "mm3", {}, {}, "computed"}};
  s.rows.checks = {judged({"wall",
                           "Wall, \"least\" | here",
                           Verdict::pass,
                           1.2,
                           "mm",
                           1.5,
                           {},
                           "common practice, no source",
                           "between a, b and c"}),
                   {"hint", "Hint", Verdict::note, 0, "", {}, {}, "from memory", "nothing to measure"}};
  return s;
}

TEST(Report, SaysTheWorstVerdictFirst) {
  EXPECT_TRUE(to_markdown(sheet(), Units::mm).starts_with("# FAIL: part\n"));
  EXPECT_TRUE(to_text(sheet(), Units::mm, false).starts_with("FAIL"));
  Sheet good = sheet();
  good.rows.checks.erase(good.rows.checks.begin());
  EXPECT_TRUE(to_markdown(good, Units::mm).starts_with("# PASS: part\n"));
  good.rows.checks[0].verdict = Verdict::doubt;
  EXPECT_TRUE(to_markdown(good, Units::mm).starts_with("# DOUBT: part\n"));
}

TEST(Report, ShowsFitsWithBothLimitsInMicrometres) {
  const std::string md = to_markdown(sheet(), Units::mm);
  EXPECT_NE(md.find("| Bore | H7 | 48.000 | mm | 48.000 | 48.025 | +25 / 0 um |"), std::string::npos) << md;
}

TEST(Report, InchModeConvertsLengthsToFourDecimals) {
  const std::string csv = to_csv(sheet(), Units::inch);
  EXPECT_NE(csv.find("1.8898,in,1.88977,1.89074"), std::string::npos) << "48 H7: limits inwards\n" << csv;
  EXPECT_NE(csv.find("1.000,in3"), std::string::npos) << "16387.064 mm3 is a cubic inch by definition\n" << csv;
  EXPECT_EQ(to_json(sheet()).find("\"in\""), std::string::npos) << "JSON is always mm";
}

TEST(Report, LimitsNeverLieOutsideTheRealOnes) {
  struct Case {
    double value, lower, upper;
    Units units;
    const char* shown;
    const char* source;
  };
  const Case cases[] = {
      {48, 48, 48.025, Units::inch, "1.8898,in,1.88977,1.89074", "48 H7 / 25.4 = 1.889764 to 1.890748"},
      {25, 24.987, 25, Units::inch, "0.9843,in,0.98375,0.98425", "25 h6 / 25.4 = 0.983740 to 0.984252"},
      {6, 5.985, 6.015, Units::mm, "6.000,mm,5.985,6.015", "6 JS9, ISO 286-2: whole micrometres"},
      {12, 11.9785, 12.0215, Units::mm, "12.000,mm,11.9785,12.0215", "12 JS9, ISO 286-2: half micrometres"},
      {165.43839, 164.83839, 166.03839, Units::mm, "165.438,mm,164.839,166.038", "K +-0.6, ISO 9981"},
      {165.43839, 164.83839, 166.03839, Units::inch, "6.5133,in,6.4898,6.5369", "6.489700 to 6.536945 in"},
      {0, -0.3, 0.3, Units::inch, "0.0000,in,-0.0118,0.0118", "+-0.3 / 25.4 = +-0.011811"},
      {9, 9, 9.22, Units::inch, "0.3543,in,0.3544,0.3629", "9 H13: 0.354331 to 0.362992 in"}};
  for (const Case& c : cases) {
    Sheet s = sheet();
    s.rows.dimensions = {{"x", "X", "", c.value, "mm", c.lower, c.upper, "test", true}};
    EXPECT_NE(to_csv(s, c.units).find(c.shown), std::string::npos) << c.source << "\n" << to_csv(s, c.units);
  }
}

TEST(Report, ChecksShowTheLimitTheyWereJudgedBy) {
  // f exactly at its least value passes: rounding that limit up would show a pass below its own limit.
  Sheet s = sheet();
  s.rows.checks = {judged({"f", "Edge distance", Verdict::pass, 2.5, "mm", 2.5, {}, "ISO 9981", ""})};
  EXPECT_NE(to_csv(s, Units::inch).find("pass,0.0984,in,0.0984,"), std::string::npos) << to_csv(s, Units::inch);
}

TEST(Report, InchModeConvertsMassesAndRemarks) {
  Sheet s = sheet();
  s.rows.dimensions = {{"mass", "Mass", "m", 0.45359237, "kg", {}, {}, "one pound, by definition"},
                       {"inertia", "Inertia", "J", 292.6397, "kg mm2", {}, {}, "0.45359237 x 25.4^2"}};
  const std::string csv = to_csv(s, Units::inch);
  EXPECT_NE(csv.find("1.000,lb,"), std::string::npos) << csv;
  EXPECT_NE(csv.find("1.000,lb in2,"), std::string::npos) << csv;
  struct Case {
    const char *mm, *inch;
  };
  for (const Case& c : {Case{"3 mm", "0.1181 in (3 mm)"},
                        {"K 165.438391 mm over 8 balls", "K 6.513322 in (165.438391 mm) over 8 balls"},
                        {"off by -0.05 mm.", "off by -0.0020 in (-0.05 mm)."},
                        {"2 mm, then 25.4 mm", "0.0787 in (2 mm), then 1.0000 in (25.4 mm)"},
                        {"some mm, 3 mm2 and 4 m", "some mm, 3 mm2 and 4 m"},
                        {"", ""}}) {
    s.rows.checks[1].says = c.mm;
    EXPECT_NE(to_csv(s, Units::mm).find(c.mm), std::string::npos) << c.mm;
    EXPECT_NE(to_csv(s, Units::inch).find(c.inch), std::string::npos) << c.mm << "\n" << to_csv(s, Units::inch);
    EXPECT_NE(to_text(s, Units::inch, false).find(c.inch), std::string::npos) << c.mm;
    EXPECT_NE(to_markdown(s, Units::inch).find(c.inch), std::string::npos) << c.mm;
  }
}

TEST(Report, CsvBeginsWithVerdictAndCautions) {
  const std::string csv = to_csv(sheet(), Units::mm);
  const std::string want =
      "kind,id,label,symbol,verdict,value,unit,lower,upper,says,source\r\n"
      "sheet,verdict,Verdict of the sheet,,fail,,,,,,groovewright test\r\n"
      "caution,caution_1,Caution 1,,,,,,,mind your fingers,groovewright test\r\n"
      "dimension,bore_diameter,";
  EXPECT_EQ(csv.substr(0, want.size()), want);
}

TEST(Report, CsvQuotesAsRfc4180) {
  EXPECT_NE(to_csv(sheet(), Units::mm).find("\"Wall, \"\"least\"\" | here\""), std::string::npos);
  EXPECT_NE(to_markdown(sheet(), Units::mm).find("least\" \\| here"), std::string::npos) << "a bar would end the cell";
}

TEST(Report, JsonKeepsTheContract) {
  const auto j = nlohmann::json::parse(to_json(sheet()));
  EXPECT_EQ(j.at("format"), kSheetFormat);
  EXPECT_EQ(j.at("units"), "mm");
  EXPECT_EQ(j.at("verdict"), "fail");
  for (const auto& d : j.at("dimensions")) {
    for (const char* key : {"id", "label", "symbol", "value", "unit", "lower", "upper", "source"})
      EXPECT_TRUE(d.contains(key)) << key;
    EXPECT_TRUE(d.at("value").is_number());
  }
  for (const auto& c : j.at("checks")) {
    for (const char* key : {"id", "label", "verdict", "value", "unit", "lower", "upper", "source", "says"})
      EXPECT_TRUE(c.contains(key)) << key;
  }
  EXPECT_EQ(j.at("checks")[1].at("lower"), nullptr);
}

TEST(Report, ColoursOnlyWhenAsked) {
  EXPECT_EQ(to_text(sheet(), Units::mm, false).find('\033'), std::string::npos);
  EXPECT_NE(to_text(sheet(), Units::mm, true).find("\033[31m"), std::string::npos);
}

Table options() {
  return {"options",
          "Options",
          {{"name", "Option", ""}, {"size", "Diameter", "mm"}, {"speed", "Speed", "rpm"}},
          {{std::string("a|b, \"c\""), 25.4, 9000.0}, {std::string("needs 50.8 mm"), {}, 12.5}}};
}

TEST(Report, TablesConvertLengthsAndKeepTheirFormat) {
  EXPECT_EQ(to_markdown(options(), Units::mm),
            "## Options\n\n| Option | Diameter (mm) | Speed (rpm) |\n|---|--:|--:|\n| a\\|b, \"c\" | 25.400 | 9000.0 "
            "|\n| needs 50.8 mm |  | 12.5 |\n");
  EXPECT_EQ(to_csv(options(), Units::inch),
            "name,size (in),speed (rpm)\r\n\"a|b, \"\"c\"\"\",1.0000,9000.0\r\nneeds 2.0000 in (50.8 mm),,12.5\r\n");
  JsonWriter json(true);
  json.begin_object();
  write_table(json, options());
  json.end_object();
  const auto read = nlohmann::json::parse(json.text());
  EXPECT_EQ(read.at("options").at(0).at("size"), 25.4) << "JSON is always mm";
  EXPECT_TRUE(read.at("options").at(1).at("size").is_null());
}

}  // namespace
}  // namespace groovewright::report
