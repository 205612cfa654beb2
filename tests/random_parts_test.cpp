// Random documents: a possible part always gives a closed, valid solid whose witnesses agree, however its document is
// written and wherever its angles begin; an impossible one always gives a diagnostic with a place. A failing document
// is kept as a file.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "../src/job/program.h"
#include "groovewright/job.h"
#include "parts.h"
#include "random_spec.h"
#include "seeds.h"

namespace groovewright {
namespace {

using testing::from_environment;
using testing::Variant;

/// Odd, so that nothing falls on an axis or a facet.
constexpr double kTurnDeg = 37.123;

template <class Look>
void over_seeds(int count, const Look& look) {
  testing::over_seeds(
      count, "failed-random", [](std::uint64_t seed) { return testing::random_spec(seed); }, look);
}

struct Drawn {
  TextFile document;
  Diagnostics diagnostics;
  std::optional<job::Prepared> prepared;
};

Drawn draw(std::uint64_t seed, Variant variant = {}) {
  Drawn drawn{{"random.yaml", testing::random_spec(seed, variant)}, {}, {}};
  const auto pulley = spec::read_pulley(drawn.document, drawn.diagnostics);
  EXPECT_TRUE(pulley) << drawn.document.text << drawn.diagnostics.text();
  if (pulley) drawn.prepared = job::prepare(*pulley, {}, {}, drawn.diagnostics);
  return drawn;
}

/// Of the program's own making: whatever the document, these must pass.
bool is_ours(const Check& c) {
  return c.id == "step_limits" || c.id.starts_with("solid_") || c.id.starts_with("mesh_") ||
         c.id.find("effective_diameter_s") != std::string::npos ||
         c.id.find("effective_diameter_mesh") != std::string::npos ||
         c.id.find("groove_count_found") != std::string::npos;
}

void expect_sound(const Drawn& drawn, const solid::Kernel& kernel) {
  job::Want want;
  want.deflection = 0.05;
  want.kinds.erase(job::Kind::drawing);
  const job::Made made =
      job::make(*drawn.prepared, drawn.document, want, {[&]() -> const solid::Kernel& { return kernel; }, {}});
  int judged = 0;
  for (const Check& c : made.sheet.rows.checks) {
    if (!is_ours(c)) continue;
    ++judged;
    EXPECT_EQ(c.verdict, Verdict::pass) << c.id << " " << c.value << ": " << c.says;
  }
  EXPECT_GE(judged, 6) << "rows of solid and mesh are missing";
}

TEST(RandomParts, AreSoundOrExplained) {
  const auto kernel = solid::make_kernel();
  int made = 0, refused = 0;
  const int count = from_environment("GROOVEWRIGHT_CASES", 100);
  over_seeds(count, [&](std::uint64_t seed) {
    Drawn drawn = draw(seed);
    if (drawn.prepared) {
      ++made;
      drawn.prepared->part.pmi = true;
      return expect_sound(drawn, *kernel);
    }
    ++refused;
    EXPECT_TRUE(drawn.diagnostics.has_errors()) << "refused without a word";
    for (const auto& g : drawn.diagnostics.all()) EXPECT_GT(g.place.line, 0) << to_text(g);
  });
  std::cout << count << " documents: " << made << " parts, " << refused << " refused\n";
  EXPECT_GE(made * 2, count) << "the generator hardly makes possible parts any more";
}

/// ISO 129-1 (dimension lines clear of text, leaders that don't cross): on every sheet, whatever the part.
TEST(RandomParts, DrawingsStandClear) {
  const int wanted = from_environment("GROOVEWRIGHT_CASES", 500);
  job::Want want;
  want.kinds = {job::Kind::drawing};
  int sheets = 0;
  over_seeds(2 * wanted, [&](std::uint64_t seed) {
    if (sheets == wanted) return;
    Drawn drawn = draw(seed);
    if (!drawn.prepared) return;
    const part::DrawingWish& wish = drawn.prepared->part.drawing;
    if (!job::plan_drawing(*drawn.prepared, want, {}, drawn.diagnostics)) {
      EXPECT_TRUE(wish.sheet || wish.scale) << "refused though sheet and scale were free";
      EXPECT_TRUE(drawn.diagnostics.has_errors()) << "refused without a word";
      return;
    }
    ++sheets;
    const plane::Faults& f = drawn.prepared->drawing->faults;
    EXPECT_EQ(f.total(), 0) << f.first;
  });
  EXPECT_EQ(sheets, wanted) << "the generator hardly makes possible parts any more";
}

/// Own promise: programs are refused with a place and a reason, or they do no harm and leave the part. Every other shop
/// has form tools, too.
TEST(RandomParts, ProgramsAreProvedOrExplained) {
  const TextFile drawer{"form-tools.yaml", testing::file_text(GW_SOURCE_DIR "/profiles/demo/shop/form-tools.yaml")};
  job::Want want;
  want.kinds = {job::Kind::program};
  want.kinds_named = true;
  int proved = 0, refused = 0, formed = 0;
  over_seeds(from_environment("GROOVEWRIGHT_CASES", 60), [&](std::uint64_t seed) {
    Drawn drawn = draw(seed);
    if (!drawn.prepared) return;
    const std::vector<TextFile> own = seed % 2 == 0 ? std::vector{drawer} : std::vector<TextFile>{};
    if (!job::plan_programs(*drawn.prepared, want, own, drawn.diagnostics)) {
      ++refused;
      EXPECT_TRUE(drawn.diagnostics.has_errors()) << "refused without a word";
      for (const auto& g : drawn.diagnostics.all()) EXPECT_GT(g.place.line, 0) << to_text(g);
      return;
    }
    ++proved;
    for (const toolpath::Station& s : drawn.prepared->programs->plan.stations)
      formed += s.tool.use == catalog::TurningTool::Use::full_form ? 1 : 0;
    const job::Proof proof = job::prove(*drawn.prepared, job::write_programs(*drawn.prepared));
    for (const Check& c : proof.rows.checks)
      EXPECT_NE(c.verdict, Verdict::fail) << c.id << " " << c.value << ": " << c.says;
  });
  std::cout << proved << " proved, " << formed << " with form tools, " << refused << " refused\n";
  EXPECT_GT(proved, 0);
}

// ---- the same part, written in another way ----

std::vector<Code> codes(const Diagnostics& d) {
  std::vector<Code> found;
  for (const Diagnostic& g : d.all()) found.push_back(g.code);
  return found;
}

void expect_near(double a, double b, double relative, const std::string& what) {
  EXPECT_NEAR(a, b, relative * std::max({1.0, std::abs(a), std::abs(b)})) << what;
}

/// Own tolerance: numbers of a document keep 12 digits, closed forms keep plane::kVolumeError.
constexpr double kSameValue = 1e-7;

/// A sheet lists failures first.
std::vector<Check> by_id(const job::Prepared& prepared) {
  std::vector<Check> rows = job::check(prepared).rows.checks;
  std::stable_sort(rows.begin(), rows.end(), [](const Check& a, const Check& b) { return a.id < b.id; });
  return rows;
}

void expect_same_part(const Drawn& a, const Drawn& b) {
  EXPECT_EQ(codes(a.diagnostics), codes(b.diagnostics)) << a.diagnostics.text() << b.diagnostics.text();
  ASSERT_EQ(a.prepared.has_value(), b.prepared.has_value());
  if (!a.prepared) return;
  const plane::MassProperties &m = a.prepared->section.mass, &n = b.prepared->section.mass;
  expect_near(n.volume, m.volume, 2 * plane::kVolumeError, "volume");
  expect_near(n.polar_inertia, m.polar_inertia, 4 * plane::kVolumeError, "polar inertia");
  expect_near(n.surface, m.surface, 2e-6, "surface");
  const std::vector<Check> rows = by_id(*a.prepared), others = by_id(*b.prepared);
  ASSERT_EQ(rows.size(), others.size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    ASSERT_EQ(rows[i].id, others[i].id);
    expect_near(others[i].value, rows[i].value, kSameValue, rows[i].id);
    EXPECT_EQ(rows[i].verdict, others[i].verdict) << rows[i].id << ": " << rows[i].says << " / " << others[i].says;
  }
}

/// Its heavy side turns with the part.
void expect_turned_unbalance(const section::Section& plain, const section::Section& turned) {
  const double c = std::cos(Angle::deg(kTurnDeg).rad()), s = std::sin(Angle::deg(kTurnDeg).rad());
  const plane::MassProperties &m = plain.mass, &n = turned.mass;
  const double bound = 2 * plane::kVolumeError * m.volume * std::sqrt(m.polar_inertia / m.volume);
  EXPECT_NEAR(n.x_moment, c * m.x_moment - s * m.y_moment, bound);
  EXPECT_NEAR(n.y_moment, s * m.x_moment + c * m.y_moment, bound);
}

TEST(RandomParts, AreTheSameInInches) {
  const int count = from_environment("GROOVEWRIGHT_CASES", 100);
  over_seeds(count, [](std::uint64_t seed) { expect_same_part(draw(seed), draw(seed, {true, 0})); });
}

TEST(RandomParts, AreTheSameWhenAllAnglesTurn) {
  const auto kernel = solid::make_kernel();
  const int count = from_environment("GROOVEWRIGHT_CASES", 100);
  over_seeds(count, [&](std::uint64_t seed) {
    const Drawn turned = draw(seed, {false, kTurnDeg});
    const Drawn plain = draw(seed);
    expect_same_part(plain, turned);
    if (plain.prepared && turned.prepared) expect_turned_unbalance(plain.prepared->section, turned.prepared->section);
    // Solids take their time.
    if (turned.prepared && seed % 8 == 0) expect_sound(turned, *kernel);
  });
}

}  // namespace
}  // namespace groovewright
