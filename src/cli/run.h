// run.h: the whole program as a function of its arguments.
#pragma once

#include "arguments.h"

namespace groovewright::cli {

/// Runs the command, writing to stdout and stderr; returns the exit status. Throws what terminal.h names.
[[nodiscard]] int run_command(const Arguments& arguments);

}  // namespace groovewright::cli
