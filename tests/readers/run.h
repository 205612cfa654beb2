// run.h: other people's programs, as the tests of files use them.
#pragma once

#include <gtest/gtest.h>
#include <sys/wait.h>

#include <algorithm>
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

/// A file of the running test's own.
inline std::string written(const std::string& bytes, const std::string& extension) {
  const auto* test = ::testing::UnitTest::GetInstance()->current_test_info();
  static int count = 0;
  std::string name = std::string(test->test_suite_name()) + "_" + test->name();
  std::replace(name.begin(), name.end(), '/', '_');  // of tests with parameters
  const std::string path =
      ::testing::TempDir() + "groovewright_" + name + "_" + std::to_string(++count) + "." + extension;
  std::ofstream(path, std::ios::binary) << bytes;
  return path;
}

}  // namespace groovewright::readers
