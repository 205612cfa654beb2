// setup_pages.h: inside room `job`: the set-up sheet as pages, one a clamping, and how the metal goes, tool by tool.
#pragma once

#include <string>
#include <vector>

#include "groovewright/plane/page.h"
#include "program.h"

namespace groovewright::job {

struct SetupPage {
  std::string id;  ///< of the clamping: "op10"
  plane::Page page;
};
/// A page for each clamping, in the order of work: picture, tools, sequence, what to measure, cautions. A4 upright; A3
/// where the tables of a long job need it. Requires: programs planned, the typeface loaded; texts and proof of all.
[[nodiscard]] std::vector<SetupPage> setup_pages(const Prepared& prepared, const std::vector<ProgramText>& texts,
                                                 const Proof& proof, report::Units units);

/// A small half section for each tool of each clamping on the lathe: what is left once it is done, and in phantom lines
/// what it found. Requires: as above.
[[nodiscard]] plane::Page frames_page(const Prepared& prepared, const Proof& proof);

}  // namespace groovewright::job
