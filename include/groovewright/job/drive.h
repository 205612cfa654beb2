// drive.h: the drive document's way through the rooms. Pure, as `job.h` is.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "groovewright/drive.h"
#include "groovewright/drive/settle.h"
#include "groovewright/job.h"
#include "groovewright/spec/drive.h"

namespace groovewright::job {

/// A pulley document that a drive names, with the groove profiles that it names itself.
struct PulleyDocument {
  std::string reference;  ///< as the drive writes it
  TextFile document;
  std::vector<TextFile> own_grooves;
};

struct PreparedDrive {
  std::string title;
  drive::Drive drive;
  std::vector<double> lengths;  ///< belts on offer, rising
  Typeface typeface;            ///< of the pictures, as their words
  catalog::Texts texts;
  std::map<std::string, drive::MadePulley> made;  ///< the rims that it takes from documents, by `drive::key_of`
  std::optional<drive::SearchSpace> search;       ///< where the document wants one
};

/// How a search is done: neither changes what it finds.
struct SearchWork {
  int threads = 1;
  drive::SearchProgress progress = {};
};

/// What a drive takes from a rim of a pulley.
[[nodiscard]] drive::MadePulley made_pulley(const Prepared& pulley, std::size_t rim);

/// Settles a drive and the pulleys that it names. nullopt, with diagnostics in whichever file is wrong.
[[nodiscard]] std::optional<PreparedDrive> prepare_drive(const spec::Drive& drive,
                                                         std::span<const PulleyDocument> pulleys,
                                                         std::span<const TextFile> own_catalog,
                                                         Diagnostics& diagnostics);

/// The drive judged, in rows, JSON and pictures, and its search where it wants one; the manifest last.
[[nodiscard]] Made make_drive(const PreparedDrive& prepared, const TextFile& document, report::Units units,
                              const PdfPress& press, const SearchWork& work = {});

/// JSON Schema of the drive document.
[[nodiscard]] std::string drive_schema();
/// JSON Schema (draft 2020-12) of a search's output, `NAME.search.json`.
[[nodiscard]] std::string search_schema();

}  // namespace groovewright::job
