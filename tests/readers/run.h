// run.h: other people's programs, as the tests of files use them.
#pragma once

#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdio>
#include <fstream>
#include <string>

namespace groovewright::readers {

struct Outcome {
  int status = -1;
  std::string said;  ///< both streams
};

/// Runs a shell command to its end.
inline Outcome run(const std::string& command) {
  Outcome outcome;
  FILE* pipe = popen((command + " 2>&1").c_str(), "r");
  if (!pipe) return outcome;
  char part[4096];
  while (const std::size_t size = std::fread(part, 1, sizeof part, pipe)) outcome.said.append(part, size);
  const int status = pclose(pipe);
  outcome.status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  return outcome;
}

/// A file of this process's own; a short name, because there are readers that cut long ones off.
inline std::string written(const std::string& bytes, const std::string& extension) {
  static int count = 0;
  const std::string path = ::testing::TempDir() + "groovewright_" + std::to_string(getpid()) + "_" +
                           std::to_string(++count) + "." + extension;
  std::ofstream(path, std::ios::binary) << bytes;
  return path;
}

}  // namespace groovewright::readers
