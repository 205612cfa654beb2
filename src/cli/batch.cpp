#include "batch.h"

#include <signal.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <map>
#include <optional>

#include "terminal.h"

namespace groovewright::cli {
namespace {

/// A child and the two memory files in which it leaves what it has to say.
struct Child {
  std::size_t index = 0;
  int out = -1, err = -1;
};

constexpr int kInterruptedStatus = 130;

int memory_file(const char* name) {
  const int fd = memfd_create(name, MFD_CLOEXEC);
  if (fd < 0) throw CannotWrite(std::string("memory file: ") + std::strerror(errno));
  return fd;
}

std::string contents(int fd) {
  std::string text;
  char buffer[65536];
  lseek(fd, 0, SEEK_SET);
  for (ssize_t n; (n = read(fd, buffer, sizeof buffer)) > 0;) text.append(buffer, static_cast<std::size_t>(n));
  close(fd);
  return text;
}

[[noreturn]] void live(const Child& child, const std::function<Outcome(std::size_t)>& work) {
  int status = 3;
  try {
    const Outcome o = work(child.index);
    write_all(child.out, o.out, "result");
    write_all(child.err, o.err, "messages");
    status = o.status;
  } catch (const Interrupted&) {
    status = kInterruptedStatus;
  } catch (...) {
    status = 3;
  }
  // No destructors of what the parent still uses.
  _exit(status);
}

Outcome outcome_of(const Child& child, int wait_status) {
  Outcome o;
  o.out = contents(child.out);
  o.err = contents(child.err);
  if (WIFEXITED(wait_status)) {
    o.status = WEXITSTATUS(wait_status);
  } else {
    o.status = 3;
    o.err += program_error("spec " + std::to_string(child.index + 1) + ": the process that made it ended by signal " +
                           std::to_string(WTERMSIG(wait_status)));
  }
  return o;
}

}  // namespace

void run_in_children(std::size_t count, int jobs, const std::function<Outcome(std::size_t)>& work,
                     const std::function<void(std::size_t, const Outcome&)>& take) {
  std::map<pid_t, Child> running;
  std::map<std::size_t, Outcome> done;
  std::size_t started = 0, taken = 0;
  while (taken < count) {
    while (started < count && running.size() < static_cast<std::size_t>(jobs) && !interrupted()) {
      Child child{started++, memory_file("out"), memory_file("err")};
      const pid_t pid = fork();
      if (pid < 0) throw CannotWrite(std::string("fork: ") + std::strerror(errno));
      if (pid == 0) live(child, work);
      running[pid] = child;
    }
    if (interrupted()) {
      for (const auto& [pid, child] : running) kill(pid, SIGTERM);
    }
    if (running.empty()) throw Interrupted{};
    int status = 0;
    const pid_t pid = waitpid(-1, &status, 0);
    if (pid < 0) continue;  // a signal came: look again
    const auto it = running.find(pid);
    if (it == running.end()) continue;
    done[it->second.index] = outcome_of(it->second, status);
    running.erase(it);
    for (auto next = done.find(taken); next != done.end() && !interrupted(); next = done.find(taken)) {
      take(taken, next->second);
      done.erase(next);
      ++taken;
    }
  }
}

}  // namespace groovewright::cli
