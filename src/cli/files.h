// files.h: documents and data files from disk, bounded before they are read.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "groovewright/base/artifact.h"
#include "groovewright/base/diagnostics.h"
#include "groovewright/spec.h"

namespace groovewright::cli {

/// The text of a regular file of at most yaml's limit; nullopt with a diagnostic at `asked_from` otherwise.
[[nodiscard]] std::optional<TextFile> read_text(const std::string& path, const Place& asked_from,
                                                Diagnostics& diagnostics);

/// The files that the document `file` names, relative to its own folder; absolute paths and ".." are refused.
[[nodiscard]] std::vector<TextFile> read_references(const std::string& file,
                                                    const std::vector<spec::Written<std::string>>& references,
                                                    Diagnostics& diagnostics);

/// All *.yaml below a folder of the person's own, sorted by name.
[[nodiscard]] std::vector<TextFile> read_catalog_folder(const std::string& folder, Diagnostics& diagnostics);

}  // namespace groovewright::cli
