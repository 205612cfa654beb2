#include "cells.h"
#include "groovewright/base/shown.h"
#include "groovewright/report.h"

namespace groovewright::report {
std::string to_markdown(const Sheet& sheet, Units units) {
  std::string out = "# " + headline(sheet.rows) + ": " + sheet.name + "\n\n" + sheet.title + "\n\n";
  if (!sheet.material.empty()) {
    out += "Material: " + sheet.material + (sheet.revision.empty() ? "" : "; revision " + sheet.revision) + ". ";
  }
  out += std::string("All lengths in ") + (units == Units::mm ? "mm" : "inches") +
         " unless a unit stands beside them. Made by " + sheet.program + ".\n\n";
  out += "Limits of sizes are rounded inwards, so what keeps them keeps the real ones.";
  if (units == Units::inch) out += " Remarks add the mm they were computed in; sources and designation keep theirs.";
  out += "\n\n";
  if (!sheet.designation.empty()) {
    out += "Designation: " + sheet.designation + " (" + sheet.designation_form + ").\n\n";
  }
  out += "Frame: " + sheet.frame + "\n\n";
  out += "## Cautions\n\n";
  for (const auto& c : sheet.rows.cautions) out += "- " + c + "\n";
  out += "\n## Sizes\n\n";
  out += markdown_row({"Size", "Symbol", "Value", "Unit", "From", "To", "Deviations", "Source"});
  out += "|---|---|--:|---|--:|--:|---|---|\n";
  for (const Dimension& d : sheet.rows.dimensions) {
    const Shown v = shown(d.value, d.unit, units);
    const ShownLimits limits = shown_limits(d, units);
    out += markdown_row({d.label, d.symbol, v.value, v.unit, limits.lower, limits.upper, deviations(d), d.source});
  }
  out += "\n## Checks\n\n";
  out += markdown_row({"Verdict", "Check", "Value", "Unit", "From", "To", "Says", "Source"});
  out += "|---|---|--:|---|--:|--:|---|---|\n";
  for (const Check& c : sheet.rows.checks) {
    const Shown v = shown(c.value, c.unit, units);
    const ShownLimits limits = shown_limits(c, units);
    const bool bare = is_bare(c);
    out += markdown_row({std::string(groovewright::to_text(c.verdict)), c.label,
                         bare || c.verdict == Verdict::unchecked ? "" : v.value, bare ? "" : v.unit, limits.lower,
                         limits.upper, remark(c.says, units), c.source});
  }
  return out;
}

std::string to_csv(const Sheet& sheet, Units units) {
  std::string out =
      csv_row({"kind", "id", "label", "symbol", "verdict", "value", "unit", "lower", "upper", "says", "source"});
  out += csv_row({"sheet", "verdict", "Verdict of the sheet", "",
                  std::string(groovewright::to_text(worst(sheet.rows.checks))), "", "", "", "", "", sheet.program});
  for (std::size_t i = 0; i < sheet.rows.cautions.size(); ++i) {
    const std::string n = std::to_string(i + 1);
    out += csv_row(
        {"caution", "caution_" + n, "Caution " + n, "", "", "", "", "", "", sheet.rows.cautions[i], sheet.program});
  }
  for (const Dimension& d : sheet.rows.dimensions) {
    const Shown v = shown(d.value, d.unit, units);
    const ShownLimits limits = shown_limits(d, units);
    out +=
        csv_row({"dimension", d.id, d.label, d.symbol, "", v.value, v.unit, limits.lower, limits.upper, "", d.source});
  }
  for (const Check& c : sheet.rows.checks) {
    const Shown v = shown(c.value, c.unit, units);
    const ShownLimits limits = shown_limits(c, units);
    out += csv_row({"check", c.id, c.label, "", std::string(groovewright::to_text(c.verdict)), v.value, v.unit,
                    limits.lower, limits.upper, remark(c.says, units), c.source});
  }
  return out;
}

}  // namespace groovewright::report
