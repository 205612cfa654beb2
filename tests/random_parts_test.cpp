// Random documents: a possible part always gives a closed, valid solid whose witnesses agree; an impossible one always
// gives a diagnostic with a place. A failing document is kept as a file.
#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>

#include "groovewright/job.h"
#include "parts.h"
#include "random_spec.h"

namespace groovewright {
namespace {

int cases() {
  const char* asked = std::getenv("GROOVEWRIGHT_CASES");
  return asked ? std::atoi(asked) : 100;
}

void keep(std::uint64_t seed, const std::string& spec) {
  const std::string name = std::string(GW_BINARY_DIR) + "/failed-random-" + std::to_string(seed) + ".yaml";
  std::ofstream(name) << spec;
  std::cerr << "kept as " << name << "\n";
}

TEST(RandomParts, AreSoundOrExplained) {
  const auto kernel = solid::make_kernel();
  int made_parts = 0, refused = 0;
  const int count = cases();
  for (std::uint64_t seed = 1; seed <= static_cast<std::uint64_t>(count); ++seed) {
    const std::string text = testing::random_spec(seed);
    const TextFile document{"random.yaml", text};
    Diagnostics d;
    const auto pulley = spec::read_pulley(document, d);
    ASSERT_TRUE(pulley) << text << d.text();
    const auto prepared = job::prepare(*pulley, {}, {}, d);
    if (!prepared) {
      ++refused;
      ASSERT_FALSE(d.all().empty()) << "seed " << seed << ": refused without a word\n" << text;
      for (const auto& g : d.all()) EXPECT_GT(g.place.line, 0) << "seed " << seed << ": " << to_text(g);
      continue;
    }
    ++made_parts;
    job::Want want;
    want.deflection = 0.05;
    job::Made made;
    try {
      made = job::make(*prepared, document, want, [&]() -> const solid::Kernel& { return *kernel; });
    } catch (const std::exception& e) {
      ADD_FAILURE() << "seed " << seed << ": " << e.what();
    }
    for (const Check& c : made.sheet.rows.checks) {
      const bool ours = c.id.starts_with("solid_") || c.id.starts_with("mesh_") ||
                        c.id.find("effective_diameter_s") != std::string::npos ||
                        c.id.find("effective_diameter_mesh") != std::string::npos ||
                        c.id.find("groove_count_found") != std::string::npos;
      if (!ours) continue;
      EXPECT_EQ(c.verdict, Verdict::pass) << "seed " << seed << ", " << c.id << " " << c.value << ": " << c.says;
    }
    if (::testing::Test::HasFailure()) {
      keep(seed, text);
      FAIL() << "stopped at seed " << seed << " of " << count;
    }
  }
  std::cout << count << " documents from seed 1: " << made_parts << " parts, " << refused << " refused\n";
  EXPECT_GT(made_parts * 2, count) << "the generator hardly makes possible parts any more";
}

}  // namespace
}  // namespace groovewright
