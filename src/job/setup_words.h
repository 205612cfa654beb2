// setup_words.h: inside room `job`: what a set-up sheet says, for its Markdown and for its pages.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "program.h"

namespace groovewright::job {

/// A ruled table: the first row is its heading.
using WordTable = std::vector<std::vector<std::string>>;
/// What a line is about, and what it says.
using Fact = std::pair<std::string, std::string>;

/// One clamping in words.
struct ClampingWords {
  std::string id, machine;  ///< "op10", "lathe"
  std::vector<Fact> facts;
  std::string tools_title;
  WordTable tools, sequence;
  std::string time;      ///< of all its moves, a sentence
  WordTable first_part;  ///< empty where nothing needs measuring on the machine
  std::string offsets;   ///< how to mend what was measured; "" with no first part
};
struct SetupWords {
  std::vector<Fact> facts;
  std::string stop;  ///< why none of the programs may be run; "" where they passed
  std::vector<std::string> cautions;
  std::vector<ClampingWords> clampings;  ///< in the order of work
  std::vector<std::string> left_out;     ///< what the programs leave to others
};
/// Requires: programs planned, `texts` of all clampings.
[[nodiscard]] SetupWords setup_words(const Prepared& prepared, const std::vector<ProgramText>& texts,
                                     const Proof& proof, report::Units units);

/// "3:07", minutes and seconds.
[[nodiscard]] std::string clock(double seconds);

}  // namespace groovewright::job
