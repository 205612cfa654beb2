// build_documents.h: the kinds of document that `build.cpp` chooses from, a file each: how one is drafted with the
// files that it names, and how its draft is run.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "build.h"

namespace groovewright::cli {

/// What a run came to.
struct Result {
  std::optional<report::Sheet> sheet;
  std::string folder;
  std::vector<std::string> files;
};

/// Each reads `d.document` and the files that it names; mistakes go to `d.diagnostics`, and then `d.name` says nothing.
void draft_pulley(Draft& d);
void draft_drive(Draft& d);
void draft_range(Draft& d);

/// Each settles and judges a sound draft, makes and writes. nullopt where the draft's diagnostics say why.
[[nodiscard]] std::optional<Result> run_pulley(Draft& d, const std::vector<TextFile>& own_catalog, const Arguments& a);
[[nodiscard]] std::optional<Result> run_drive(Draft& d, const std::vector<TextFile>& own_catalog, const Arguments& a);
[[nodiscard]] std::optional<Result> run_range(Draft& d, const std::vector<TextFile>& own_catalog, const Arguments& a);

/// Writes a folder for what was made. Throws Interrupted and CannotWrite.
[[nodiscard]] Result written(const job::Made& made, const Arguments& a);
/// Kernel and PDF press, loaded when they are first asked for.
[[nodiscard]] job::Tools tools();
/// The pulleys that a document names, each with the profiles that it names itself.
[[nodiscard]] std::vector<job::PulleyDocument> named_pulleys(const std::string& file,
                                                             const std::vector<spec::Written<std::string>>& references,
                                                             Diagnostics& diagnostics);

}  // namespace groovewright::cli
