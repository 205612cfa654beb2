// build.h: `build`, `check`, `drive` and `range` for one document, as functions of values; what they say is returned,
// not printed.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "arguments.h"
#include "groovewright/base/artifact.h"
#include "groovewright/base/diagnostics.h"
#include "groovewright/job.h"
#include "groovewright/job/range.h"

namespace groovewright::cli {

/// A document read, with the files that it names, or why not.
struct Draft {
  std::string path;
  TextFile document;
  spec::Word name;  ///< none where `diagnostics` has errors
  std::optional<spec::Pulley> pulley;
  std::vector<TextFile> own_grooves;
  std::optional<spec::Drive> drive;
  std::vector<job::PulleyDocument> pulleys;
  std::optional<spec::Range> range;
  job::RangeFiles range_files;
  Diagnostics diagnostics;
};
/// Reads the document that the command works on: a drive for `drive`, a range for `range`, else a pulley.
[[nodiscard]] Draft draft(const std::string& path, Command command);

/// What one spec's run has to say, and its exit status.
struct Outcome {
  int status = 0;
  std::string out;  ///< for stdout: text, or the spec's entry of the JSON document
  std::string err;  ///< for stderr
};

/// Settles and judges (and but for `check`, makes and writes) one draft. Catches everything but Interrupted
/// and ReaderGone.
[[nodiscard]] Outcome run(Draft draft, const std::vector<TextFile>& own_catalog, const Arguments& arguments);

/// The whole JSON document of a run that was refused before any spec was begun.
[[nodiscard]] std::string refused_json(const Diagnostics& diagnostics);

/// "groovewright: error: …\n" for stderr.
[[nodiscard]] std::string program_error(const std::string& what);

}  // namespace groovewright::cli
