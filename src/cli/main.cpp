#include <unistd.h>

#include <cstdio>
#include <exception>

#include "arguments.h"
#include "build.h"
#include "run.h"
#include "terminal.h"

namespace {

using namespace groovewright::cli;

/// Says it on stderr if that is still possible.
int failed(const std::string& what) {
  try {
    write_all(STDERR_FILENO, program_error(what), "stderr");
  } catch (...) {
    return 3;
  }
  return 3;
}

}  // namespace

int main(int argc, char** argv) {
  try {
    catch_signals();
    const Parsed parsed = parse(argc, argv);
    if (!parsed.arguments) {
      write_all(parsed.status == 0 ? STDOUT_FILENO : STDERR_FILENO, parsed.text, "output");
      return parsed.status;
    }
    return run_command(*parsed.arguments);
  } catch (const ReaderGone&) {
    return 0;
  } catch (const Interrupted&) {
    return failed("interrupted; nothing was left half-written");
  } catch (const std::exception& e) {
    return failed(e.what());
  }
}
