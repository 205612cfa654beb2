// Reviewed results of the demos: outline and sheet, byte for byte. After a meant change look at the difference, then
// renew them:
//   GROOVEWRIGHT_RENEW_GOLDEN=1 build/tests/golden_test
#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "groovewright/job.h"
#include "parts.h"

namespace groovewright {
namespace {

namespace fs = std::filesystem;
const fs::path kSource = GW_SOURCE_DIR;

std::string result_of(const fs::path& demo) {
  Diagnostics d;
  const auto pulley = spec::read_pulley({demo.filename().string(), testing::file_text(demo.string())}, d);
  EXPECT_TRUE(pulley) << d.text();
  const auto prepared = pulley ? job::prepare(*pulley, {}, {}, d) : std::nullopt;
  EXPECT_TRUE(prepared) << d.text();
  if (!prepared) return "";
  std::string outline = section::dump(prepared->section);
  for (char& c : outline) c = c == ' ' ? '\n' : c;
  return outline + "\n\n" + report::to_csv(job::check(*prepared), report::Units::mm);
}

TEST(Golden, DemosGiveTheReviewedOutlineAndSheet) {
  int seen = 0;
  for (const fs::path demo : testing::demos()) {
    ++seen;
    const std::string now = result_of(demo);
    const fs::path golden = kSource / "tests/golden" / (demo.stem().string() + ".txt");
    if (std::getenv("GROOVEWRIGHT_RENEW_GOLDEN")) {
      std::ofstream(golden, std::ios::binary) << now;
      continue;
    }
    const std::string was = testing::file_text(golden.string());
    if (was == now) continue;
    const auto off = std::mismatch(was.begin(), was.end(), now.begin(), now.end());
    const auto at = static_cast<std::size_t>(off.first - was.begin());
    const std::size_t begin = at < 80 ? 0 : at - 80;
    ADD_FAILURE() << golden << " differs at byte " << at << "\nwas: …" << was.substr(begin, 160) << "\nnow: …"
                  << now.substr(begin, 160);
  }
  EXPECT_GE(seen, 5);
}

}  // namespace
}  // namespace groovewright
