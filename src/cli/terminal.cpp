#include "terminal.h"

#include <signal.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <utility>

namespace groovewright::cli {
namespace {

// A signal handler can only set a flag; it is read between the stages.
std::atomic<bool> signalled{false};

void on_signal(int) { signalled = true; }

}  // namespace

void write_all(int fd, std::string_view bytes, const std::string& what) {
  while (!bytes.empty()) {
    const ssize_t n = write(fd, bytes.data(), bytes.size());
    if (n < 0) {
      if (errno == EINTR) continue;
      if (errno == EPIPE) throw ReaderGone{};
      throw CannotWrite(what + ": " + std::strerror(errno));
    }
    bytes.remove_prefix(static_cast<std::size_t>(n));
  }
}

bool is_terminal(int fd) { return isatty(fd) != 0; }

bool wants_colour(int fd) {
  const char* no = std::getenv("NO_COLOR");
  return is_terminal(fd) && (no == nullptr || *no == '\0');
}

Progress::Progress(std::uint64_t of, std::string what)
    : of_(of),
      what_(std::move(what)),
      wanted_(is_terminal(STDERR_FILENO) && of > 1),
      next_(Clock::now() + std::chrono::milliseconds(500)) {}

void Progress::step(std::uint64_t n) {
  const bool last = n == of_;
  if (!wanted_ || (Clock::now() < next_ && !(last && shown_))) return;
  write_all(STDERR_FILENO, "\r" + std::to_string(n) + " of " + std::to_string(of_) + what_ + (last ? "\n" : ""),
            "stderr");
  shown_ = true;
  next_ = Clock::now() + std::chrono::milliseconds(100);
}

void catch_signals() {
  struct sigaction action {};
  action.sa_handler = on_signal;
  sigaction(SIGINT, &action, nullptr);
  sigaction(SIGTERM, &action, nullptr);
  signal(SIGPIPE, SIG_IGN);
}

bool interrupted() { return signalled; }

void stop_if_interrupted() {
  if (signalled) throw Interrupted{};
}

}  // namespace groovewright::cli
