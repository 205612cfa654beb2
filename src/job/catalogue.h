// catalogue.h: inside room `job`: the data that one run names.
#pragma once

#include <algorithm>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "groovewright/catalog.h"
#include "groovewright/part.h"

namespace groovewright::job {

/// Reads the built-in files named, then the person's own, which win.
[[nodiscard]] std::optional<catalog::Catalog> catalogue(const std::vector<part::NamedFile>& names,
                                                        std::span<const TextFile> own, Diagnostics& diagnostics);

/// What the catalogue has under `id`, or nullptr after telling what there is.
template <class Entry>
[[nodiscard]] const Entry* chosen(const std::map<std::string, Entry>& read, const std::string& what,
                                  const std::string& folder, const std::string& id, const Place& place,
                                  Diagnostics& diagnostics) {
  const auto found = read.find(id);
  if (found != read.end()) return &found->second;
  // Of the built-in ones only that of this name was looked for; a person's own are all there.
  std::vector<std::string> known = catalog::built_in_ids(folder);
  for (const auto& [own, entry] : read) known.push_back(own);
  std::sort(known.begin(), known.end());
  known.erase(std::unique(known.begin(), known.end()), known.end());
  diagnostics.error(Code::unknown_entry, place, id, what + ": no '" + id + "'; " + meant_or_known(id, known));
  return nullptr;
}

}  // namespace groovewright::job
