#include "groovewright/report.h"

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
  EXPECT_NE(csv.find("1.8898,in,1.8898,1.8907"), std::string::npos) << csv;
  EXPECT_NE(csv.find("1.000,in3"), std::string::npos) << "16387.064 mm3 is a cubic inch by definition\n" << csv;
  EXPECT_EQ(to_json(sheet()).find("\"in\""), std::string::npos) << "JSON is always mm";
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

}  // namespace
}  // namespace groovewright::report
