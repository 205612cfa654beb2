#include "build_documents.h"
#include "files.h"
#include "pdf_loader.h"

namespace groovewright::cli {

/// The range, its base pulley, its drive, and the pulleys that the drive names.
void draft_range(Draft& d) {
  d.range = spec::read_range(d.document, d.diagnostics);
  if (!d.range) return;
  d.name = d.range->name;
  job::RangeFiles& f = d.range_files;
  for (auto& base : named_pulleys(d.range->file, {*d.range->base}, d.diagnostics)) f.base = std::move(base);
  for (TextFile& text : read_references(d.range->file, {*d.range->drive}, d.diagnostics)) {
    f.drive = std::move(text);
    Diagnostics told_later;  // by whoever settles the drive
    if (const auto drive = spec::read_drive(f.drive, told_later)) {
      f.pulleys = named_pulleys(drive->file, spec::references(*drive), d.diagnostics);
    }
  }
}

std::optional<Result> run_range(Draft& d, const std::vector<TextFile>& own_catalog, const Arguments& a) {
  auto prepared = job::prepare_range(*d.range, d.range_files, own_catalog, d.diagnostics);
  if (!prepared) return std::nullopt;
  if (a.build_options) {
    for (job::Option& o : prepared->options) {
      if (!job::plan_drawing(o.pulley, a.want, own_catalog, d.diagnostics) ||
          !job::plan_programs(o.pulley, a.want, own_catalog, d.diagnostics)) {
        return std::nullopt;
      }
      static_cast<void>(written(job::make(o.pulley, d.range_files.base.document, a.want, tools()), a));
    }
  }
  return written(job::make_range(*prepared, d.document, a.want.units, write_pdf), a);
}

}  // namespace groovewright::cli
