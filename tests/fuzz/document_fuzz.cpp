// Any bytes as a pulley document: read, settle, draw and judge must end in a sheet or in diagnostics, never in a crash,
// a hang or unbounded memory. Built with clang's libFuzzer by `-DGROOVEWRIGHT_FUZZ=ON`; start it on tests/corpus/bad
// and profiles/demo.
#include <cstdint>
#include <cstdlib>

#include "groovewright/job.h"
#include "groovewright/spec.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace groovewright;
  const TextFile file{"fuzz.yaml", std::string(reinterpret_cast<const char*>(data), size)};
  Diagnostics diagnostics;
  const auto pulley = spec::read_pulley(file, diagnostics);
  if (!pulley) {
    if (!diagnostics.has_errors()) std::abort();
    return 0;
  }
  const auto prepared = job::prepare(*pulley, {}, {}, diagnostics);
  if (!prepared) {
    if (!diagnostics.has_errors()) std::abort();
    return 0;
  }
  if (report::to_json(job::check(*prepared)).empty()) std::abort();
  return 0;
}
