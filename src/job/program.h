// program.h: inside room `job`: programs as text, and the proof by the metal that they leave.
#pragma once

#include <set>
#include <string>
#include <vector>

#include "groovewright/job.h"
#include "groovewright/removal.h"

namespace groovewright::job {

/// A program as it is written, and read again.
struct ProgramText {
  std::string id;  ///< "op10"
  std::string text;
  nc::Trace trace;
};
/// In the order of work. Requires: programs planned.
[[nodiscard]] std::vector<ProgramText> write_programs(const Prepared& prepared);

/// Requires: a text of that clamping.
[[nodiscard]] const ProgramText& text_of(const std::vector<ProgramText>& texts, const std::string& id);
/// The lathe or the mill, whichever does that clamping.
[[nodiscard]] const catalog::Machine& machine_for(const toolpath::Plan& plan, const std::string& id);
/// Numbers of the stations whose tools are used.
[[nodiscard]] std::set<int> stations_used(const std::vector<toolpath::Operation>& operations);

struct Proof {
  Rows rows;
  std::vector<removal::Frame> frames;  ///< metal after each tool, part's half plane
  std::vector<plane::Path> stocks;     ///< as they come into each clamping on the lathe, part's half plane
};
/// Removes metal by the texts alone and holds what is left against the part.
[[nodiscard]] Proof prove(const Prepared& prepared, const std::vector<ProgramText>& texts);

/// Time of the moves, s, by the program's own feeds and speeds and the machine's rapids.
[[nodiscard]] double seconds(const nc::Trace& trace, const catalog::Machine& machine);
/// The same for one tool's moves.
[[nodiscard]] double seconds(const nc::Trace& trace, const catalog::Machine& machine, int tool);

/// The set-up sheet: a page a clamping, in Markdown.
[[nodiscard]] std::string setup_sheet(const Prepared& prepared, const std::vector<ProgramText>& texts,
                                      const Proof& proof, report::Units units);

}  // namespace groovewright::job
