// Random drive documents: each one ends in rows and in JSON that parses, or in a diagnostic with a place; and it is the
// same drive when it is written in inches or turned as a whole. A failing document is kept as a file.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <iostream>
#include <nlohmann/json.hpp>

#include "groovewright/drive/belts.h"
#include "groovewright/job/drive.h"
#include "groovewright/plane/faults.h"
#include "random_drive.h"
#include "seeds.h"

namespace groovewright {
namespace {

using nlohmann::json;
using testing::random_drive;
using testing::Variant;

/// Odd, so that nothing falls on an axis.
constexpr double kTurnDeg = 37.123;

int count() { return testing::from_environment("GROOVEWRIGHT_CASES", 300); }

template <class Look>
void over_seeds(const Look& look) {
  testing::over_seeds(
      count(), "failed-random-drive", [](std::uint64_t seed) { return random_drive(seed); }, look);
}

struct Worked {
  TextFile document;
  Diagnostics diagnostics;
  std::optional<job::PreparedDrive> prepared;
};

Worked worked(std::uint64_t seed, Variant variant = {}) {
  Worked w{{"random.yaml", random_drive(seed, variant)}, {}, {}};
  const auto spec = spec::read_drive(w.document, w.diagnostics);
  EXPECT_TRUE(spec) << w.document.text << w.diagnostics.text();
  if (spec) w.prepared = job::prepare_drive(*spec, {}, {}, w.diagnostics);
  return w;
}

std::string artifact(const job::Made& made, const std::string& ending) {
  for (const Artifact& a : made.artifacts) {
    if (a.name.ends_with(ending)) return a.bytes;
  }
  ADD_FAILURE() << "no " << ending;
  return "";
}

job::Made made(const Worked& w) {
  return job::make_drive(*w.prepared, w.document, report::Units::mm, [](const auto&, const auto&) { return ""; });
}

TEST(RandomDrives, EndInRowsAndJsonOrInADiagnostic) {
  int laid = 0, seated = 0, refused = 0;
  over_seeds([&](std::uint64_t seed) {
    const Worked w = worked(seed);
    if (!w.prepared) {
      ++refused;
      EXPECT_TRUE(w.diagnostics.has_errors()) << "refused without a word";
      for (const auto& g : w.diagnostics.all()) EXPECT_GT(g.place.line, 0) << to_text(g);
      return;
    }
    const job::Made m = made(w);
    const json drive = json::parse(artifact(m, ".drive.json"), nullptr, false);
    ASSERT_FALSE(drive.is_discarded());
    ASSERT_EQ(drive.at("checks").size(), m.sheet.rows.checks.size());
    EXPECT_EQ(made(w).artifacts.front().bytes, m.artifacts.front().bytes) << "other bytes the second time";
    for (const Check& c : m.sheet.rows.checks) {
      EXPECT_FALSE(std::isnan(c.value)) << c.id;
      EXPECT_FALSE(c.says.empty()) << c.id;
      EXPECT_EQ(c.says.find("inf"), std::string::npos) << c.id << ": " << c.says;
      EXPECT_EQ(c.says.find("nan"), std::string::npos) << c.id << ": " << c.says;
    }
    laid += drive.at("pulleys").empty() ? 0 : 1;
    if (drive.at("tensioner").is_null()) return;
    seated += drive.at("tensioner").at("seated") == true ? 1 : 0;
    // A belt at rest under a spring is as long as its path, to what it gives.
    if (drive.at("tensioner").at("seated") != true || drive.at("pulleys").empty()) return;
    const double belt = drive.at("belt").at("effective_length"), path = drive.at("belt").at("path_effective_length");
    EXPECT_NEAR(path, belt, 0.2 * belt);
  });
  std::cout << count() << " documents: " << laid << " laid, " << seated << " with the tensioner at rest, " << refused
            << " refused\n";
  EXPECT_GE(laid * 2, count()) << "the generator hardly makes possible drives any more";
  EXPECT_GE(seated * 5, count()) << "the generator hardly makes drives that hold their belt any more";
  EXPECT_GT(refused, 0);
}

/// No page of any drive has words on words or on lines, or a leader that goes nowhere.
TEST(RandomDrives, HaveLegiblePages) {
  int pages = 0, marked = 0;
  over_seeds([&](std::uint64_t seed) {
    const Worked w = worked(seed);
    if (!w.prepared) return;
    const auto looked_at = [&](const plane::Page& page, const Typeface& typeface) {
      const plane::Faults f = plane::faults(page, typeface);
      EXPECT_EQ(f.total(), 0) << page.title << ": " << f.first;
      ++pages;
      for (const plane::View& v : page.views)
        marked += std::ranges::any_of(v.words, [](const auto& words) { return words.text.starts_with("a: "); });
      return std::string();
    };
    (void)job::make_drive(*w.prepared, w.document, report::Units::mm, looked_at);
  });
  std::cout << pages << " pages, " << marked << " with tight gaps\n";
  EXPECT_GT(pages, count());
  EXPECT_GT(marked * 10, count());
}

/// Signed wraps sum to one turn of a simple loop; spans and wraps make up the path.
TEST(RandomDrives, GoRoundOnce) {
  over_seeds([](std::uint64_t seed) {
    const Worked w = worked(seed);
    if (!w.prepared) return;
    const drive::Drive d = drive::with_best_belt(w.prepared->drive, w.prepared->lengths);
    const drive::Analysis a = drive::analyse(d);
    if (!a.complaints.empty()) return;
    double turns = 0, length = 0;
    for (std::size_t i = 0; i < a.course.size(); ++i) {
      turns += drive::signed_wrap(a.course, a.route, i);
      length += a.route.spans[i].length + a.route.wraps[i] * a.course.rounds[i].radius;
    }
    EXPECT_NEAR(turns, 2 * std::numbers::pi, 1e-9);
    EXPECT_NEAR(length, a.effective_length, 1e-8 * length);
  });
}

void expect_same_drive(const Worked& a, const Worked& b, double tolerance) {
  ASSERT_EQ(a.prepared.has_value(), b.prepared.has_value()) << a.diagnostics.text() << b.diagnostics.text();
  if (!a.prepared) return;
  const Rows one = made(a).sheet.rows, two = made(b).sheet.rows;
  const auto by_id = [](const Rows& rows) {
    std::map<std::string, const Check*> all;
    for (const Check& c : rows.checks) all[c.id] = &c;
    return all;
  };
  const auto first = by_id(one), second = by_id(two);
  ASSERT_EQ(first.size(), second.size());
  for (const auto& [id, c] : first) {
    ASSERT_TRUE(second.contains(id)) << id;
    const Check& other = *second.at(id);
    if (std::isinf(c->value) || std::isinf(other.value)) {
      EXPECT_EQ(c->value, other.value) << id;
      continue;
    }
    EXPECT_NEAR(c->value, other.value, tolerance * std::max(1.0, std::abs(c->value))) << id;
    EXPECT_EQ(c->verdict, other.verdict) << id << " " << c->value << ": " << c->says << " / " << other.says;
  }
}

/// Own tolerance: a document keeps 12 decimals of a place.
TEST(RandomDrives, AreTheSameInInches) {
  over_seeds([](std::uint64_t seed) { expect_same_drive(worked(seed), worked(seed, {true, 0}), 1e-6); });
}

TEST(RandomDrives, AreTheSameWhenTheWholeLayoutTurns) {
  over_seeds([](std::uint64_t seed) { expect_same_drive(worked(seed), worked(seed, {false, kTurnDeg}), 1e-6); });
}

}  // namespace
}  // namespace groovewright
