// terminal.h: stdout and stderr, and the ways in which writing to them can end.
#pragma once

#include <chrono>
#include <cstdint>
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

/// "7 of 50" on stderr where that is a terminal, once the work has taken over half a second, and then not too often.
class Progress {
 public:
  /// `what`: " combinations"; begins with a blank where it isn't empty.
  explicit Progress(std::uint64_t of, std::string what = "");
  /// The last step, `of` itself, ends the line.
  void step(std::uint64_t n);

 private:
  using Clock = std::chrono::steady_clock;
  std::uint64_t of_;
  std::string what_;
  bool wanted_, shown_ = false;
  Clock::time_point next_;
};

/// Catches SIGINT and SIGTERM from now on, and ignores SIGPIPE.
void catch_signals();
/// Throws Interrupted once a signal came.
void stop_if_interrupted();
[[nodiscard]] bool interrupted();

}  // namespace groovewright::cli
