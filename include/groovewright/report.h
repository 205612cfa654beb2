// report.h: rows on paper or screen. Lengths come in as mm; inch mode changes Markdown, CSV and text, never JSON.
// Limits of sizes are rounded inwards, never outside the real ones; a remark's "3 mm" gains its inches.
#pragma once

#include <string>

#include "groovewright/base/json.h"
#include "groovewright/base/rows.h"
#include "groovewright/base/shown.h"

namespace groovewright::report {

using groovewright::Units;

struct Sheet {
  std::string name, title, revision;
  std::string designation;  ///< as it is ordered: "P 8 PK 164.6"
  std::string material;     ///< "" where it isn't one part
  std::string program;      ///< "groovewright 0.1.0"
  Rows rows;
  std::string designation_form = {};  ///< what the designation's pieces are
  std::string frame = {};             ///< where places and angles are counted from
};

/// Version of the sheet's JSON.
inline constexpr int kSheetFormat = 1;

/// Worst verdict as a person reads it: "PASS", "FAIL", "DOUBT".
[[nodiscard]] std::string headline(const Rows& rows);

[[nodiscard]] std::string to_markdown(const Sheet& sheet, Units units);
/// RFC 4180, one header line; then the verdict, the cautions, sizes and checks.
[[nodiscard]] std::string to_csv(const Sheet& sheet, Units units);
[[nodiscard]] std::string to_json(const Sheet& sheet);
/// A number as every JSON document has it: nothing reported is good to more than 1e-9.
[[nodiscard]] double cut(double v);
/// Verdict, cautions, dimensions and checks, as `to_json` writes them, into an open object.
void write_rows(JsonWriter& json, const Rows& rows);
/// JSON Schema (draft 2020-12) of `to_json`.
[[nodiscard]] std::string sheet_schema();
/// For a terminal: the verdict, what is not plain pass, and a count. `colour` uses ANSI colours.
[[nodiscard]] std::string to_text(const Sheet& sheet, Units units, bool colour);

}  // namespace groovewright::report
