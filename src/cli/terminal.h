// terminal.h: stdout and stderr, and the ways in which writing to them can end.
#pragma once

#include <stdexcept>
#include <string>
#include <string_view>

namespace groovewright::cli {

/// Disk or terminal would not take what was written: exit status 3.
class CannotWrite : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};
/// The reader of a pipe went away: end quietly.
class ReaderGone {};
/// SIGINT or SIGTERM came: clean up and end.
class Interrupted {};

/// Writes all of it. Throws CannotWrite or ReaderGone.
void write_all(int fd, std::string_view bytes, const std::string& what);

/// True where ANSI colours are welcome: a terminal, and NO_COLOR not set.
[[nodiscard]] bool wants_colour(int fd);
[[nodiscard]] bool is_terminal(int fd);

/// Catches SIGINT and SIGTERM from now on, and ignores SIGPIPE.
void catch_signals();
/// Throws Interrupted once a signal came.
void stop_if_interrupted();
[[nodiscard]] bool interrupted();

}  // namespace groovewright::cli
