#include "catalogue.h"

#include <algorithm>

namespace groovewright::job {

std::optional<catalog::Catalog> catalogue(const std::vector<part::NamedFile>& names, std::span<const TextFile> own,
                                          Diagnostics& diagnostics) {
  const auto built_in = catalog::built_in_files();
  std::vector<TextFile> files;
  for (const part::NamedFile& named : names) {
    const auto found = std::ranges::find(built_in, named.name, &TextFile::name);
    if (found != built_in.end()) files.push_back(catalog::only_rows(*found, named.rows));
  }
  files.insert(files.end(), own.begin(), own.end());
  return catalog::read_catalog(files, diagnostics);
}

}  // namespace groovewright::job
