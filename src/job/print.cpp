#include <algorithm>

#include "catalogue.h"
#include "groovewright/job.h"

namespace groovewright::job {
namespace {

/// What the catalogue has under `id`, or nullptr after telling what there is.
template <class Entry>
const Entry* chosen(const std::map<std::string, Entry>& read, const std::string& option, const std::string& folder,
                    const std::string& id, const Place& place, Diagnostics& diagnostics) {
  const auto found = read.find(id);
  if (found != read.end()) return &found->second;
  // Of the built-in ones only that of this name was looked for; a person's own are all there.
  std::vector<std::string> known = catalog::built_in_ids(folder);
  for (const auto& [own, entry] : read) known.push_back(own);
  std::sort(known.begin(), known.end());
  known.erase(std::unique(known.begin(), known.end()), known.end());
  diagnostics.error(Code::unknown_entry, place, id, option + ": no '" + id + "'; " + meant_or_known(id, known));
  return nullptr;
}

}  // namespace

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
