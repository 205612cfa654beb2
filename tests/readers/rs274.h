// rs274.h: the open interpreter of Debian (linuxcnc-uspace) as a second reader of programs. It runs a program without a
// machine and prints canonical machining functions (NIST IR 6556), to four decimals.
#pragma once

#include <string>
#include <vector>

#include "groovewright/nc.h"

namespace groovewright::readers {

struct Interpreted {
  int status = -1;               ///< 0 where it accepted the program
  std::string said;              ///< all that it printed
  std::vector<nc::Move> moves;   ///< lengths mm, x of a lathe a radius
  bool ended = false;            ///< it came to the program's end
  std::vector<std::string> odd;  ///< canonical functions that this reading does not know
};

/// Tools 1 to 99 are in its table, all of length 0.
[[nodiscard]] Interpreted interpret(const std::string& program);

/// How our reading of a program differs from the interpreter's, "" where both move alike: kinds, ends and centres
/// within 1e-4 mm (it prints four decimals), feeds, spindle, coolant and tools. Moves without a length don't count, nor
/// do those before all axes were told: the interpreter begins at 0.
[[nodiscard]] std::string difference(const nc::Trace& ours, const Interpreted& theirs);

/// Reads, traces and interprets a program: "" where we find no fault, it finds none, and both move alike.
[[nodiscard]] std::string second_opinion(const std::string& program, const nc::Dialect& dialect);

}  // namespace groovewright::readers
