// Drive documents that a person may write in good faith: what can't run is a verdict in words, with the figure that
// would do.
#include <gtest/gtest.h>

#include <algorithm>

#include "groovewright/job/drive.h"

namespace groovewright {
namespace {

struct Judged {
  Diagnostics diagnostics;
  std::optional<job::PreparedDrive> prepared;
  Rows rows;
};

Judged judged_drive(const std::string& text) {
  Judged j;
  const auto drive = spec::read_drive({"drive.yaml", text}, j.diagnostics);
  if (drive) j.prepared = job::prepare_drive(*drive, {}, {}, j.diagnostics);
  if (j.prepared) {
    j.rows = job::make_drive(*j.prepared, {"drive.yaml", text}, report::Units::mm, [](const auto&, const auto&) {
               return std::string();
             }).sheet.rows;
  }
  return j;
}

const Check* find(const Rows& rows, const std::string& id) {
  const auto found = std::ranges::find(rows.checks, id, &Check::id);
  return found == rows.checks.end() ? nullptr : &*found;
}

/// A belt round two pulleys and an arm on the slack side, all sound. Clockwise, so the left strand is the slack one.
const std::string kSound =
    "drive: test\nbelt: {section: PK, ribs: 6, length: 1013 mm}\nturns: clockwise\npulleys:\n"
    "  - {name: crank, at: [0 mm, 0 mm], effective_diameter: 160 mm, drives: true}\n"
    "  - {name: pump, at: [0 mm, 300 mm], effective_diameter: 90 mm}\n"
    "tensioner: {name: arm, after: crank, pivot: [-110 mm, 220 mm], arm: 100 mm, back_diameter: 70 mm, angle: {free: "
    "330 "
    "deg, stops: [276 deg, 330 deg]}, spring: {torque: 30 N m}}\nduty: {lowest: 800 rpm, highest: 5000 rpm}\n";

std::string with(const std::string& from, const std::string& to) {
  std::string text = kSound;
  const std::size_t at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return text.replace(at, from.size(), to);
}

TEST(DriveDocuments, SoundOnePasses) {
  const Judged j = judged_drive(kSound);
  ASSERT_TRUE(j.prepared) << j.diagnostics.text();
  for (const Check& c : j.rows.checks) EXPECT_TRUE(c.verdict != Verdict::fail) << c.id << ": " << c.says;
}

TEST(DriveDocuments, WhatCannotRunIsSaidInWords) {
  struct Case {
    const char* what;
    std::string text;
    const char* row;
    std::vector<std::string> says;
  };
  const Case cases[] = {
      {"centre on centre", with("at: [0 mm, 300 mm]", "at: [0 mm, 0 mm]"), "layout", {"crank", "pump"}},
      {"circles that overlap", with("at: [0 mm, 300 mm]", "at: [0 mm, 100 mm]"), "layout", {"crank", "pump", "mm"}},
      {"an idler that the belt misses",
       with("tensioner:", "  - {name: guide, at: [200 mm, 150 mm], back_diameter: 60 mm}\ntensioner:"),
       "layout",
       {"misses guide", "mm"}},
      {"an arm too short to reach", with("arm: 100 mm", "arm: 20 mm"), "belt_fits", {"mm"}},
      {"a belt a little too long", with("length: 1013 mm", "length: 1045 mm"), "belt_fits", {"too long", "at most"}},
      {"a belt far too long", with("length: 1013 mm", "length: 1200 mm"), "belt_fits", {"too long", "at most"}},
      {"a belt a little too short", with("length: 1013 mm", "length: 970 mm"), "belt_fits", {"too short", "at least"}},
      {"a belt far too short", with("length: 1013 mm", "length: 500 mm"), "belt_fits", {"too short", "at least"}},
  };
  for (const Case& c : cases) {
    SCOPED_TRACE(c.what);
    const Judged j = judged_drive(c.text);
    ASSERT_TRUE(j.prepared) << j.diagnostics.text();
    EXPECT_EQ(worst(j.rows.checks), Verdict::fail);
    const Check* row = find(j.rows, c.row);
    ASSERT_NE(row, nullptr) << c.row;
    EXPECT_EQ(row->verdict, Verdict::fail) << row->says;
    for (const std::string& piece : c.says) EXPECT_NE(row->says.find(piece), std::string::npos) << row->says;
  }
}

/// The length that a row says would do does.
TEST(DriveDocuments, TheLengthThatWouldDoDoes) {
  for (const char* wrong : {"length: 1200 mm", "length: 500 mm"}) {
    const Judged j = judged_drive(with("length: 1013 mm", wrong));
    const Check* row = find(j.rows, "belt_fits");
    ASSERT_NE(row, nullptr);
    const std::size_t end = row->says.rfind(" mm at "), begin = row->says.rfind(' ', end - 1) + 1;
    ASSERT_NE(end, std::string::npos) << row->says;
    const double limit = std::stod(row->says.substr(begin, end - begin));
    const double inside = std::string(wrong) == "length: 500 mm" ? limit + 0.02 : limit - 0.02;
    const Judged mended = judged_drive(with("length: 1013 mm", "length: " + std::to_string(inside) + " mm"));
    const Check* now = find(mended.rows, "belt_fits");
    ASSERT_NE(now, nullptr);
    EXPECT_NE(now->verdict, Verdict::fail) << inside << ": " << now->says;
  }
}

TEST(DriveDocuments, BuyTheBeltWithMostTravel) {
  const Judged j = judged_drive(with("length: 1013 mm", "lengths: {from: 990 mm, to: 1040 mm, step: 5 mm}"));
  ASSERT_TRUE(j.prepared);
  const Check* near = find(j.rows, "tensioner_travel_near");
  ASSERT_NE(near, nullptr);
  const double best = std::min(near->value, find(j.rows, "tensioner_travel_far")->value);
  for (double length = 990; length <= 1040; length += 5) {
    const Judged other = judged_drive(with("length: 1013 mm", "length: " + std::to_string(length) + " mm"));
    const Check* a = find(other.rows, "tensioner_travel_near");
    const Check* b = find(other.rows, "tensioner_travel_far");
    if (a == nullptr || b == nullptr) continue;
    EXPECT_LE(std::min(a->value, b->value), best + 1e-9) << length;
  }
}

TEST(DriveDocuments, NameTheBeltToLookForWhereNoneIsOffered) {
  const Judged j = judged_drive(with(", length: 1013 mm", ""));
  ASSERT_TRUE(j.prepared) << j.diagnostics.text();
  const Check* near = find(j.rows, "tensioner_travel_near");
  ASSERT_NE(near, nullptr);
  EXPECT_NEAR(near->value, find(j.rows, "tensioner_travel_far")->value, 12) << "about the middle of the swing, deg";
}

}  // namespace
}  // namespace groovewright
