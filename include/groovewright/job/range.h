// range.h: the range document's way through the rooms: one pulley in one drive, in several sizes. Pure, as `job.h` is.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "groovewright/drive/analysis.h"
#include "groovewright/drive/charge.h"
#include "groovewright/job/drive.h"
#include "groovewright/spec/range.h"

namespace groovewright::job {

/// The files that a range names, and those that they name in turn.
struct RangeFiles {
  PulleyDocument base;
  TextFile drive;
  std::vector<PulleyDocument> pulleys;  ///< of the drive
};

/// What an option of a range asks for beside the pulley.
struct Support {
  std::string part, why;
  bool modification = false;  ///< metal of the car must be changed
};
/// Between the best inlet and the worst.
struct ChargeBand {
  drive::ChargeState free, restricted;
};

struct Option {
  std::string name;  ///< of its pulley and its folder
  double effective_diameter = 0;
  double overdrive = 0;     ///< against the reference, part of one
  double speed_ratio = 0;   ///< driven over driver
  double driven_speed = 0;  ///< rpm, at the driver's greatest
  double driven_limit = 0;  ///< rpm; 0: none stated
  Prepared pulley;
  drive::Drive drive;  ///< with the belt to buy
  drive::Analysis analysis;
  Rows rows;                         ///< of the drive
  std::vector<Check> part_checks;    ///< of the pulley
  std::optional<ChargeBand> charge;  ///< at the measurement's engine speed; its blower's power is on the belt
  std::vector<Support> supports;
  [[nodiscard]] bool bolts_on() const;
};

struct PreparedRange {
  std::string name, title;
  std::string pulley, driven;  ///< names in the drive
  double redline = 0;          ///< of the driver, rpm
  double measured_at = 0;      ///< engine speed of the charge's measurement; 0: no estimate wanted
  double driveline = 0;        ///< of the crank's power that reaches the wheels
  bool has_power = false;
  std::size_t written_loads = 0;         ///< of the driven pulley, which an estimate of the charge replaces
  std::vector<std::string> assumptions;  ///< of the estimate
  std::vector<Option> options;
  Typeface typeface;  ///< of the picture, as its words
  catalog::Texts texts;
};

/// Settles every option. nullopt, with diagnostics in whichever file is wrong.
[[nodiscard]] std::optional<PreparedRange> prepare_range(const spec::Range& range, const RangeFiles& files,
                                                         std::span<const TextFile> own_catalog,
                                                         Diagnostics& diagnostics);

/// The chart of options; the manifest last.
[[nodiscard]] Made make_range(const PreparedRange& prepared, const TextFile& document, report::Units units,
                              const PdfPress& press);

/// JSON Schema of the range document.
[[nodiscard]] std::string range_schema();

}  // namespace groovewright::job
