// arguments.h: the command line as a value. The only file that knows the argument library.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "groovewright/job.h"

namespace groovewright::cli {

enum class Command { build, check, drive, range, schema, list };

struct Arguments {
  Command command = Command::check;
  std::vector<std::string> specs;
  std::string out = "out";
  job::Want want;
  int jobs = 1;
  std::string catalog;  ///< "" where none is given
  bool json = false, quiet = false;
  bool build_options = false;  ///< of range: each option's pulley, too
  std::string topic;           ///< of schema and list
};

struct Parsed {
  std::optional<Arguments> arguments;
  std::string text;  ///< help or version for stdout, or an error for stderr
  int status = 0;    ///< to end with where there are no arguments
};

/// Topics of `list` and `schema`.
inline constexpr const char* kListTopics[] = {"grooves", "materials", "finishes", "fits",     "threads",
                                              "keys",    "belts",     "printers", "plastics", "machines",
                                              "chucks",  "tools",     "cutting",  "rules"};
inline constexpr const char* kSchemaTopics[] = {"pulley", "drive", "range", "sheet", "search"};

[[nodiscard]] Parsed parse(int argc, const char* const* argv);

}  // namespace groovewright::cli
