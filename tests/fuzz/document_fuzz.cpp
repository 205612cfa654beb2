// Any bytes as a document: read, settle, lay out, draw and judge must end in a sheet or in diagnostics, never in a
// crash, a hang or unbounded memory. The first key says which kind it is; a pulley or drive that it names is always the
// same sound one. Built with clang's libFuzzer by `-DGROOVEWRIGHT_FUZZ=ON`; start it on tests/corpus/bad,
// tests/corpus/bad_drives, tests/corpus/poor_drives and profiles/demo.
#include <cstdint>
#include <cstdlib>
#include <set>

#include "groovewright/job.h"
#include "groovewright/job/range.h"
#include "groovewright/spec.h"

namespace {

using namespace groovewright;

constexpr const char* kPulley =
    "pulley: crank\nmaterial: aluminium-6061-T6\nrims: [{section: PK, ribs: 8, size: {overdrive: 24 %, of: "
    "{effective_diameter: 132 mm}}, front_flange: {height: 3 mm}}]\nbody: {solid: true}\nhub: {bore: {diameter: 25 "
    "mm}}\nspeed: {maximum: 6000 rpm}\n";
constexpr const char* kDrive =
    "drive: front\nbelt: {section: PK, ribs: 8, lengths: {from: 1000 mm, to: 1200 mm, step: 5 mm}}\nturns: clockwise\n"
    "pulleys:\n  - {name: crank, at: [0 mm, 0 mm], spec: crank.yaml, drives: true}\n"
    "  - {name: blower, at: [330 mm, 70 mm], effective_diameter: 90 mm}\n"
    "tensioner: {after: crank, pivot: [90 mm, 165 mm], arm: 100 mm, back_diameter: 70 mm, angle: {free: 285 deg, "
    "stops: "
    "[285 deg, 345 deg]}, spring: {torque: 30 N m}}\n";

std::string no_press(const plane::Page&, const Typeface&) { return {}; }

/// The kind by the first line that is more than a remark.
std::string_view first_key(std::string_view text) {
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    const std::string_view line = text.substr(0, end);
    if (!line.empty() && line[0] != '#') return line.substr(0, line.find(':'));
    if (end == std::string_view::npos) break;
    text.remove_prefix(end + 1);
  }
  return {};
}

bool judge_pulley(const TextFile& file, Diagnostics& diagnostics) {
  const auto spec = spec::read_pulley(file, diagnostics);
  if (!spec) return false;
  const auto prepared = job::prepare(*spec, {}, {}, diagnostics);
  if (!prepared) return false;
  if (report::to_json(job::check(*prepared)).empty()) std::abort();
  return true;
}

std::vector<job::PulleyDocument> sound_pulleys(const spec::Drive& drive) {
  std::vector<job::PulleyDocument> pulleys;
  std::set<std::string> seen;
  for (const auto& reference : spec::references(drive)) {
    if (seen.insert(reference.value).second) pulleys.push_back({reference.value, {reference.value, kPulley}, {}});
  }
  return pulleys;
}

bool judge_drive(const TextFile& file, Diagnostics& diagnostics) {
  const auto spec = spec::read_drive(file, diagnostics);
  if (!spec) return false;
  const auto prepared = job::prepare_drive(*spec, sound_pulleys(*spec), {}, diagnostics);
  if (!prepared) return false;
  if (job::make_drive(*prepared, file, report::Units::mm, no_press).artifacts.size() < 4) std::abort();
  return true;
}

bool judge_range(const TextFile& file, Diagnostics& diagnostics) {
  const auto spec = spec::read_range(file, diagnostics);
  if (!spec) return false;
  const job::PulleyDocument crank{"crank.yaml", {"crank.yaml", kPulley}, {}};
  const auto prepared = job::prepare_range(*spec, {crank, {"front.yaml", kDrive}, {crank}}, {}, diagnostics);
  if (!prepared) return false;
  if (job::make_range(*prepared, file, report::Units::mm, no_press).artifacts.size() < 4) std::abort();
  return true;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const TextFile file{"fuzz.yaml", std::string(reinterpret_cast<const char*>(data), size)};
  Diagnostics diagnostics;
  const std::string_view kind = first_key(file.text);
  const bool done = kind == "drive"   ? judge_drive(file, diagnostics)
                    : kind == "range" ? judge_range(file, diagnostics)
                                      : judge_pulley(file, diagnostics);
  if (!done && !diagnostics.has_errors()) std::abort();
  return 0;
}
