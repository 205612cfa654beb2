#include <algorithm>

#include "build_documents.h"
#include "pdf_loader.h"
#include "terminal.h"

namespace groovewright::cli {

void draft_drive(Draft& d) {
  d.drive = spec::read_drive(d.document, d.diagnostics);
  if (!d.drive) return;
  d.name = d.drive->name;
  d.pulleys = named_pulleys(d.drive->file, spec::references(*d.drive), d.diagnostics);
}

std::optional<Result> run_drive(Draft& d, const std::vector<TextFile>& own_catalog, const Arguments& a) {
  const auto prepared = job::prepare_drive(*d.drive, d.pulleys, own_catalog, d.diagnostics);
  if (!prepared) return std::nullopt;
  job::SearchWork work;
  std::optional<Progress> shown;
  if (prepared->search) {
    // Several documents share the cores, and would garble each other's progress.
    work.threads = std::max(1, a.jobs / static_cast<int>(a.specs.size()));
    if (a.specs.size() == 1) shown.emplace(prepared->search->size(), " combinations");
    work.progress = [&](std::uint64_t done, std::uint64_t) {
      stop_if_interrupted();
      if (shown) shown->step(done);
    };
  }
  return written(job::make_drive(*prepared, d.document, a.want.units, write_pdf, work), a);
}

}  // namespace groovewright::cli
