#include "catalogue.h"
#include "groovewright/job.h"

namespace groovewright::job {
bool plan_print(Prepared& prepared, const Want& want, std::span<const TextFile> own_catalog, Diagnostics& diagnostics) {
  if (!want.kinds.contains(Kind::print)) return true;
  const auto numbers = catalogue(
      {{"lettering.yaml", {}}, {"printers/" + want.printer + ".yaml", {}}, {"plastics/" + want.plastic + ".yaml", {}}},
      own_catalog, diagnostics);
  if (!numbers) return false;
  const Place whole{prepared.part.file, 0, 0};
  const auto* printer = chosen(numbers->printers, "--printer", "printers", want.printer, whole, diagnostics);
  const auto* plastic = chosen(numbers->plastics, "--plastic", "plastics", want.plastic, whole, diagnostics);
  if (!printer || !plastic) return false;
  prepared.print = print::make(prepared.part, {*printer, *plastic, numbers->lettering.value()}, diagnostics);
  return prepared.print.has_value();
}

}  // namespace groovewright::job
