#include "run.h"

#include <malloc.h>
#include <unistd.h>

#include <algorithm>
#include <map>
#include <optional>

#include "batch.h"
#include "build.h"
#include "files.h"
#include "groovewright/base/text.h"
#include "kernel_loader.h"
#include "listing.h"
#include "terminal.h"

namespace groovewright::cli {
namespace {

void out(const std::string& text) { write_all(STDOUT_FILENO, text, "stdout"); }
void err(const std::string& text) { write_all(STDERR_FILENO, text, "stderr"); }

/// What goes to stdout while folders are written. A full disk behind stdout must not hide that they were: the failure
/// is kept until all is made.
class Report {
 public:
  void print(const std::string& text) {
    if (!failure_.empty()) return;
    try {
      out(text);
    } catch (const CannotWrite& e) {
      failure_ = e.what();
    }
  }
  void made(const std::string& folder) { folders_.push_back(folder); }
  /// Throws CannotWrite where not all was printed.
  void finish() const {
    if (failure_.empty()) return;
    if (folders_.empty()) throw CannotWrite(failure_);
    throw CannotWrite("the report could not be printed (" + failure_ +
                      "), but the results are written in full: " + listed(folders_));
  }

 private:
  std::string failure_;
  std::vector<std::string> folders_;
};

/// Two specs of one name would write one folder: refused before anything is made.
bool names_differ(const std::vector<Draft>& drafts, Diagnostics& diagnostics) {
  std::map<std::string, const Draft*> seen;
  for (const Draft& d : drafts) {
    if (!d.name) continue;
    const auto& name = *d.name;
    const auto [it, fresh] = seen.try_emplace(name.value, &d);
    if (fresh) continue;
    diagnostics.error(Code::same_name_twice, name.place, name.value,
                      "'" + it->second->path + "' has the name '" + name.value +
                          "' too; both would write the same folder: rename one");
  }
  return !diagnostics.has_errors();
}

/// Nothing was begun: what is wrong concerns all specs together.
int refuse_all(const Arguments& a, const Diagnostics& shared) {
  err(shared.text());
  if (a.json) out(refused_json(shared));
  return 2;
}

/// Triangles and files are large and short-lived. What one stage frees serves the next, instead of going back to the
/// system and being faulted in again page by page: a fifth of all page faults, which also slow the other processes.
void keep_freed_memory() {
  constexpr int kLargestThreshold = 32 << 20, kNeverTrim = 1 << 30;
  mallopt(M_MMAP_THRESHOLD, kLargestThreshold);
  mallopt(M_TRIM_THRESHOLD, kNeverTrim);
}

int run_specs(const Arguments& a) {
  const bool building = a.command != Command::check;
  const bool apart = building && a.specs.size() > 1;
  if (building) keep_freed_memory();
  std::optional<KernelAhead> ahead;
  if (a.command == Command::build && job::needs_kernel(a.want)) ahead.emplace();
  Diagnostics shared;
  const auto own_catalog = read_catalog_folder(a.catalog, shared);
  if (shared.has_errors()) return refuse_all(a, shared);
  std::vector<Draft> drafts;
  for (const auto& path : a.specs) drafts.push_back(draft(path, a.command));
  if (building && !names_differ(drafts, shared)) {
    for (const Draft& d : drafts) err(d.diagnostics.text());
    return refuse_all(a, shared);
  }
  if (apart && ahead) {
    // The children are born with the kernel; the thread that loads it must have ended before the first fork.
    ahead.reset();
    static_cast<void>(load_kernel());
  }
  int status = 0;
  bool first = true;
  Report report;
  if (a.json) report.print("{\"format\": 1, \"results\": [");
  Progress progress(drafts.size());
  const auto take = [&](std::size_t i, const Outcome& o) {
    status = std::max(status, o.status);
    if (a.json && !first) report.print(",\n");
    first = false;
    report.print(o.out);
    err(o.err);
    if (building && o.status < 2) report.made(a.out + "/" + drafts[i].name->value);
    progress.step(i + 1);
  };
  if (apart) {
    run_in_children(
        drafts.size(), a.jobs, [&](std::size_t i) { return run(drafts[i], own_catalog, a); }, take);
  } else {
    for (std::size_t i = 0; i < drafts.size(); ++i) take(i, run(drafts[i], own_catalog, a));
  }
  if (a.json) report.print("], \"status\": " + std::to_string(status) + "}\n");
  report.finish();
  return status;
}

int run_list(const Arguments& a) {
  Diagnostics diagnostics;
  const std::string table = listing(a.topic, a.catalog, diagnostics);
  err(diagnostics.text());
  if (diagnostics.has_errors()) return 2;
  out(table);
  return 0;
}

}  // namespace

int run_command(const Arguments& a) {
  switch (a.command) {
    case Command::schema:
      out(a.topic == "sheet"    ? report::sheet_schema()
          : a.topic == "search" ? job::search_schema()
          : a.topic == "drive"  ? job::drive_schema()
          : a.topic == "range"  ? job::range_schema()
                                : job::pulley_schema());
      return 0;
    case Command::list:
      return run_list(a);
    case Command::build:
    case Command::check:
    case Command::drive:
    case Command::range:
      return run_specs(a);
  }
  return 3;
}

}  // namespace groovewright::cli
