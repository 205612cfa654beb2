// seeds.h: documents by seed, one after the other: GROOVEWRIGHT_CASES of them from GROOVEWRIGHT_SEED on. A document
// that finds something is kept as a file.
#pragma once

#include <cstdint>
#include <cstdlib>
#include <exception>
#include <fstream>
#include <iostream>
#include <string>

#include <gtest/gtest.h>

namespace groovewright::testing {

inline int from_environment(const char* name, int otherwise) {
  const char* asked = std::getenv(name);
  return asked ? std::atoi(asked) : otherwise;
}

/// Runs `look` over `count` seeds; each is told apart in failures. `document` gives a seed's text, kept under `name`.
template <class Look, class Document>
void over_seeds(int count, const std::string& name, const Document& document, const Look& look) {
  constexpr int kEnough = 10;  // findings after which a run ends
  const auto first = static_cast<std::uint64_t>(from_environment("GROOVEWRIGHT_SEED", 1));
  int findings = 0, failures = 0;
  for (std::uint64_t seed = first; seed < first + static_cast<std::uint64_t>(count); ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    try {
      look(seed);
    } catch (const std::exception& e) {
      ADD_FAILURE() << e.what();
    }
    const int now = ::testing::UnitTest::GetInstance()->current_test_info()->result()->total_part_count();
    if (now == failures) continue;
    failures = now;
    const std::string kept = std::string(GW_BINARY_DIR) + "/" + name + "-" + std::to_string(seed) + ".yaml";
    std::ofstream(kept) << document(seed);
    std::cerr << "kept as " << kept << "\n";
    ASSERT_LT(++findings, kEnough) << "stopped at seed " << seed;
  }
}

}  // namespace groovewright::testing
