#include <algorithm>

#include "groovewright/base/broken.h"
#include "groovewright/catalog.h"
#include "groovewright/job.h"
#include "groovewright/job/range.h"

namespace groovewright::job {
namespace {

/// Fits and threads stand in tables, which must be read.
catalog::Catalog tables() {
  std::vector<TextFile> files;
  for (const TextFile& f : catalog::built_in_files()) {
    if (f.name == "iso286.yaml" || f.name == "threads.yaml") files.push_back(f);
  }
  Diagnostics diagnostics;
  auto catalog = catalog::read_catalog(files, diagnostics);
  require(catalog.has_value(), "the built-in data files are without fault");
  return *std::move(catalog);
}

std::vector<std::string> by_size(const std::map<std::string, catalog::Thread>& threads) {
  std::vector<std::string> ids;
  for (const auto& [id, thread] : threads) ids.push_back(id);
  std::sort(ids.begin(), ids.end(),
            [&](const auto& a, const auto& b) { return threads.at(a).diameter < threads.at(b).diameter; });
  return ids;
}

spec::Names names() {
  const catalog::Catalog catalog = tables();
  return {.sections = catalog::built_in_ids("grooves"),
          .materials = catalog::built_in_ids("materials"),
          .finishes = catalog::built_in_ids("finishes"),
          .fits = catalog.fit_names(),
          .threads = by_size(catalog.threads),
          .languages = catalog::built_in_ids("texts"),
          .machines = catalog::built_in_ids("machines"),
          .chucks = catalog::built_in_ids("chucks")};
}

}  // namespace

std::string pulley_schema() { return spec::pulley_schema(names()); }
std::string drive_schema() { return spec::drive_schema(names()); }
std::string range_schema() { return spec::range_schema(names()); }

}  // namespace groovewright::job
