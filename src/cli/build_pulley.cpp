#include "build_documents.h"
#include "files.h"

namespace groovewright::cli {

void draft_pulley(Draft& d) {
  auto pulley = spec::read_pulley(d.document, d.diagnostics);
  if (!pulley) return;
  d.own_grooves = read_references(pulley->file, spec::references(*pulley), d.diagnostics);
  d.name = pulley->name;
  d.pulley = std::move(pulley);
}

std::optional<Result> run_pulley(Draft& d, const std::vector<TextFile>& own_catalog, const Arguments& a) {
  auto prepared = job::prepare(*d.pulley, d.own_grooves, own_catalog, d.diagnostics);
  if (!prepared) return std::nullopt;
  if (a.command == Command::check) return Result{job::check(*prepared), "", {}};
  if (!job::plan_print(*prepared, a.want, own_catalog, d.diagnostics) ||
      !job::plan_drawing(*prepared, a.want, own_catalog, d.diagnostics) ||
      !job::plan_programs(*prepared, a.want, own_catalog, d.diagnostics)) {
    return std::nullopt;
  }
  return written(job::make(*prepared, d.document, a.want, tools()), a);
}

}  // namespace groovewright::cli
