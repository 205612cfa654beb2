// ISO 286 limits against published rows and against the formulas behind the grades.
#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "built_in_catalog.h"

namespace groovewright::catalog {
namespace {

class Fits : public testing::Test {
 protected:
  const Catalog catalog_ = built_in_catalog();
  void expect(const char* id, double nominal, double upper_um, double lower_um, const char* source) const {
    const auto fit = catalog_.fit(id, nominal);
    ASSERT_TRUE(fit.has_value()) << id << " at " << nominal << " mm, " << source;
    EXPECT_NEAR(fit->upper * 1000, upper_um, 1e-9) << id << " at " << nominal << " mm, " << source;
    EXPECT_NEAR(fit->lower * 1000, lower_um, 1e-9) << id << " at " << nominal << " mm, " << source;
  }
};

struct Limits {
  double upper, lower;
};
struct CheckRow {
  double nominal;
  Limits H7, H6, h6, g6, k6, p6, s6;
  double js6;
};
constexpr CheckRow kCheckSet[] = {
    {6, {12, 0}, {8, 0}, {0, -8}, {-4, -12}, {9, 1}, {20, 12}, {27, 19}, 4},
    {10, {15, 0}, {9, 0}, {0, -9}, {-5, -14}, {10, 1}, {24, 15}, {32, 23}, 4.5},
    {17, {18, 0}, {11, 0}, {0, -11}, {-6, -17}, {12, 1}, {29, 18}, {39, 28}, 5.5},
    {25, {21, 0}, {13, 0}, {0, -13}, {-7, -20}, {15, 2}, {35, 22}, {48, 35}, 6.5},
    {40, {25, 0}, {16, 0}, {0, -16}, {-9, -25}, {18, 2}, {42, 26}, {59, 43}, 8},
    {60, {30, 0}, {19, 0}, {0, -19}, {-10, -29}, {21, 2}, {51, 32}, {72, 53}, 9.5},
    {70, {30, 0}, {19, 0}, {0, -19}, {-10, -29}, {21, 2}, {51, 32}, {78, 59}, 9.5},
    {100, {35, 0}, {22, 0}, {0, -22}, {-12, -34}, {25, 3}, {59, 37}, {93, 71}, 11},
    {130, {40, 0}, {25, 0}, {0, -25}, {-14, -39}, {28, 3}, {68, 43}, {117, 92}, 12.5},
    {150, {40, 0}, {25, 0}, {0, -25}, {-14, -39}, {28, 3}, {68, 43}, {125, 100}, 12.5},
    {190, {46, 0}, {29, 0}, {0, -29}, {-15, -44}, {33, 4}, {79, 50}, {151, 122}, 14.5},
    {240, {46, 0}, {29, 0}, {0, -29}, {-15, -44}, {33, 4}, {79, 50}, {169, 140}, 14.5},
};

TEST_F(Fits, HoldTheWholeCheckSet) {
  for (const CheckRow& row : kCheckSet) {
    const auto check = [&](const char* id, Limits want, const char* source) {
      expect(id, row.nominal, want.upper, want.lower, source);
    };
    constexpr const char* kJis = "JIS B 0401:1999 table in a tool handbook to 50 mm; above from memory";
    check("H7", row.H7, "three pages of ISO 286-2 extracts");
    check("H6", row.H6, "ISO 286-2, from memory");
    check("h6", row.h6, "three pages of ISO 286-2 extracts");
    check("g6", row.g6, "ISO 286-2 shaft sheet");
    check("k6", row.k6, kJis);
    check("p6", row.p6, kJis);
    check("s6", row.s6, kJis);
    check("js6", {row.js6, -row.js6}, "ISO 286-2, from memory");
  }
}

TEST_F(Fits, HoldTheKeyWidths) {
  struct Row {
    const char* id;
    double nominal, upper, lower;
  };
  constexpr Row kRows[] = {
      {"P9", 3, -6, -31},   {"P9", 6, -12, -42},      {"P9", 10, -15, -51},    {"P9", 18, -18, -61},
      {"P9", 30, -22, -74}, {"N9", 3, -4, -29},       {"N9", 6, 0, -30},       {"N9", 10, 0, -36},
      {"N9", 18, 0, -43},   {"N9", 30, 0, -52},       {"JS9", 3, 12.5, -12.5}, {"JS9", 6, 15, -15},
      {"JS9", 10, 18, -18}, {"JS9", 18, 21.5, -21.5}, {"JS9", 30, 26, -26},
  };
  for (const Row& row : kRows) {
    expect(row.id, row.nominal, row.upper, row.lower, "DIN ISO 286 extract and a key table");
  }
}

TEST_F(Fits, BelongToTheRangeThatEndsAtTheSize) {
  expect("H7", 10, 15, 0, "range rule: over the lower, up to and including the upper");
  expect("H7", 10.0001, 18, 0, "range rule: over the lower, up to and including the upper");
  expect("s6", 65, 72, 53, "s6 splits at 65");
  expect("s6", 65.0001, 78, 59, "s6 splits at 65");
  for (const double split : {100.0, 140.0, 160.0, 200.0, 225.0}) {
    EXPECT_LT(catalog_.fit("s6", split)->lower, catalog_.fit("s6", split + 0.001)->lower) << "s6 splits at " << split;
    EXPECT_EQ(catalog_.fit("p6", split)->lower, catalog_.fit("p6", split + 0.001)->lower)
        << "p6 has no split at " << split;
  }
}

TEST_F(Fits, EndWhereTheTablesEnd) {
  EXPECT_FALSE(catalog_.fit("H7", 0).has_value());
  EXPECT_TRUE(catalog_.fit("H7", 500).has_value());
  EXPECT_FALSE(catalog_.fit("H7", 500.001).has_value());
  EXPECT_FALSE(catalog_.fit("Q7", 25).has_value());
}

/// Standard tolerance in um by ISO 286-1: `units` of i = 0.45 D^(1/3) + 0.001 D, D the geometric mean of the range.
double standard_tolerance(double units, double over, double up_to) {
  const double d = std::sqrt(over * up_to);
  return units * (0.45 * std::cbrt(d) + 0.001 * d);
}

TEST_F(Fits, HaveTheWidthOfTheirGrade) {
  struct Grade {
    char digits[3];
    double units;
  };
  constexpr Grade kGrades[] = {{"6", 10},   {"7", 16},   {"8", 25},   {"9", 40},
                               {"11", 100}, {"12", 160}, {"13", 250}, {"14", 400}};
  for (const auto& [name, table] : catalog_.fits) {
    const std::string digits = name.substr(name.find_first_of("0123456789"));
    const auto grade =
        std::find_if(std::begin(kGrades), std::end(kGrades), [&](const Grade& g) { return digits == g.digits; });
    ASSERT_NE(grade, std::end(kGrades)) << name;
    for (const Catalog::FitRow& row : table.rows) {
      const auto h = catalog_.fit("H" + digits, row.up_to);
      ASSERT_TRUE(h.has_value()) << name << " up to " << row.up_to;
      EXPECT_NEAR(row.upper - row.lower, h->upper, 1e-12)
          << name << " up to " << row.up_to << " mm: all of one grade are as wide";
    }
  }
  // The tables are rounded by hand: to 1 um where small, coarser above; below 3 mm the formula does not hold.
  for (const Grade& grade : kGrades) {
    for (const Catalog::FitRow& row : catalog_.fits.at(std::string("H") + grade.digits).rows) {
      if (row.over < 3) continue;
      const double want = standard_tolerance(grade.units, row.over, row.up_to);
      EXPECT_NEAR(row.upper * 1000, want, std::max(1.5, (grade.units > 100 ? 0.05 : 0.03) * want))
          << "IT" << grade.digits << " up to " << row.up_to << " mm, own recomputation";
    }
  }
}

TEST_F(Fits, MirrorHolesAndShaftsOfOneLetter) {
  for (const char* grade : {"6", "7", "8", "9", "11"}) {
    const auto& hole = catalog_.fits.at(std::string("H") + grade).rows;
    const auto& shaft = catalog_.fits.at(std::string("h") + grade).rows;
    ASSERT_EQ(hole.size(), shaft.size());
    for (std::size_t i = 0; i < hole.size(); ++i) {
      EXPECT_EQ(hole[i].upper, -shaft[i].lower) << "IT" << grade << " up to " << hole[i].up_to;
      EXPECT_EQ(hole[i].lower, 0);
      EXPECT_EQ(shaft[i].upper, 0);
    }
  }
}

TEST_F(Fits, FollowTheFormulasOfTheFundamentalDeviations) {
  // ISO 286-1: f = 5.5 D^0.41, g = 2.5 D^0.34, k6 = 0.6 D^(1/3), m = IT7 - IT6, n = 5 D^0.34; rounded in the tables.
  for (const Catalog::FitRow& row : catalog_.fits.at("H6").rows) {
    if (row.over < 3) continue;
    const double d = std::sqrt(row.over * row.up_to);
    const auto um = [&](const char* id, bool upper) {
      const auto fit = catalog_.fit(id, row.up_to);
      EXPECT_TRUE(fit.has_value()) << id;
      return 1000 * (upper ? fit->upper : fit->lower);
    };
    const std::string says = " up to " + std::to_string(row.up_to) + " mm, ISO 286-1 formula, from memory";
    EXPECT_NEAR(um("f7", true), -5.5 * std::pow(d, 0.41), 1.5) << "f7" << says;
    EXPECT_NEAR(um("g6", true), -2.5 * std::pow(d, 0.34), 1.0) << "g6" << says;
    EXPECT_NEAR(um("k6", false), 0.6 * std::cbrt(d), 1.0) << "k6" << says;
    EXPECT_NEAR(um("m6", false), um("H7", true) - um("H6", true), 1.5) << "m6" << says;
    EXPECT_NEAR(um("n6", false), 5 * std::pow(d, 0.34), 1.5) << "n6" << says;
  }
}

TEST_F(Fits, GiveTheKnownPairsAt25) {
  struct Row {
    const char* shaft;
    double least_clearance, greatest_clearance;  ///< um; negative is interference
  };
  constexpr Row kRows[] = {{"s6", -48, -14}, {"g6", 7, 41}, {"k6", -15, 19}, {"p6", -35, -1}};
  const auto hole = catalog_.fit("H7", 25);
  ASSERT_TRUE(hole.has_value());
  for (const Row& row : kRows) {
    const auto shaft = catalog_.fit(row.shaft, 25);
    ASSERT_TRUE(shaft.has_value()) << row.shaft;
    EXPECT_NEAR((hole->lower - shaft->upper) * 1000, row.least_clearance, 1e-9)
        << "25 H7/" << row.shaft << ", own recomputation";
    EXPECT_NEAR((hole->upper - shaft->lower) * 1000, row.greatest_clearance, 1e-9)
        << "25 H7/" << row.shaft << ", own recomputation";
  }
}

TEST_F(Fits, HoldTheClassesOfClearanceHoles) {
  // ISO 286-1: from IT6 on, five grades coarser is ten times as wide, rounded values too.
  for (const auto& [coarse, fine] : {std::pair{"H12", "H7"}, {"H13", "H8"}, {"H14", "H9"}}) {
    for (const double nominal : {3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500}) {
      EXPECT_NEAR(catalog_.fit(coarse, nominal)->upper, 10 * catalog_.fit(fine, nominal)->upper, 1e-12)
          << coarse << " at " << nominal << ", ISO 286-1";
    }
  }
  expect("H12", 8.4, 150, 0, "ISO 286-1 IT12, from memory");
  expect("H13", 9, 220, 0, "ISO 286-1 IT13, from memory");
  expect("H13", 11, 270, 0, "ISO 286-1 IT13, from memory");
  expect("H13", 20, 330, 0, "ISO 286-1 IT13, from memory");
  expect("H14", 10, 360, 0, "ISO 286-1 IT14, from memory");
}

TEST_F(Fits, HoldTheMediumGeneralTolerances) {
  struct Row {
    double over, up_to, tolerance;
  };
  constexpr Row kLengths[] = {{0.5, 6, 0.1},    {6, 30, 0.2},      {30, 120, 0.3}, {120, 400, 0.5},
                              {400, 1000, 0.8}, {1000, 2000, 1.2}, {2000, 4000, 2}};
  const auto& rows = catalog_.tolerances.at("lengths").rows;
  ASSERT_EQ(rows.size(), std::size(kLengths)) << "ISO 2768-1 m, as read";
  for (std::size_t i = 0; i < rows.size(); ++i) {
    EXPECT_EQ(rows[i].over, kLengths[i].over) << "ISO 2768-1 m, as read";
    EXPECT_EQ(rows[i].up_to, kLengths[i].up_to) << "ISO 2768-1 m, as read";
    EXPECT_EQ(rows[i].upper, kLengths[i].tolerance) << "ISO 2768-1 m, as read";
    EXPECT_EQ(rows[i].lower, -kLengths[i].tolerance) << "ISO 2768-1 m, as read";
  }
}

}  // namespace
}  // namespace groovewright::catalog
