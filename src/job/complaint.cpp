#include "complaint.h"

#include "groovewright/base/shown.h"
#include "groovewright/base/text.h"

namespace groovewright::job {
namespace {

std::string complaint(const Check& c) {
  // A miss by little wants more decimals than a sheet has.
  const std::string unit = shown(0, c.unit, Units::mm).unit;
  const auto text = [&](double v) { return trimmed(v, 4) + (unit.empty() ? "" : " " + unit); };
  std::string all = c.label + ": " + text(c.value);
  if (c.lower) all += ", at least " + text(*c.lower);
  if (c.upper) all += ", at most " + text(*c.upper);
  return all + " (" + c.says + ")";
}

}  // namespace

std::string complaints(std::span<const Check> rows) {
  std::string all;
  for (const Check& c : rows) {
    if (c.verdict != Verdict::fail && c.verdict != Verdict::doubt) continue;
    if (c.id == "tension_needed") continue;  // grip says it
    all += (all.empty() ? "" : "; ") + complaint(c);
  }
  return all;
}

}  // namespace groovewright::job
