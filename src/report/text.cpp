#include <algorithm>

#include "groovewright/base/shown.h"
#include "groovewright/report.h"

namespace groovewright::report {
namespace {

constexpr const char* kRed = "\033[31m";
constexpr const char* kYellow = "\033[33m";
constexpr const char* kGreen = "\033[32m";
constexpr const char* kPlain = "\033[0m";

const char* colour_of(Verdict v) {
  switch (v) {
    case Verdict::fail:
      return kRed;
    case Verdict::doubt:
      return kYellow;
    case Verdict::pass:
      return kGreen;
    default:
      return "";
  }
}

std::string painted(const std::string& text, Verdict v, bool colour) {
  const std::string ink = colour ? colour_of(v) : "";
  return ink.empty() ? text : ink + text + kPlain;
}

std::string padded(std::string text, std::size_t width) {
  if (text.size() < width) text.append(width - text.size(), ' ');
  return text;
}

std::string limits(const Check& c, Units units) {
  const auto [low, high] = shown_limits(c, units);
  if (low.empty() && high.empty()) return "";
  if (high.empty()) return " (at least " + low + ")";
  if (low.empty()) return " (at most " + high + ")";
  return " (" + low + " to " + high + ")";
}

}  // namespace

std::string headline(const Rows& rows) {
  switch (worst(rows.checks)) {
    case Verdict::fail:
      return "FAIL";
    case Verdict::doubt:
      return "DOUBT";
    default:
      return "PASS";
  }
}

std::string to_text(const Sheet& sheet, Units units, bool colour) {
  std::string out =
      painted(headline(sheet.rows), worst(sheet.rows.checks), colour) + "  " + sheet.name + "  " + sheet.title + "\n";
  for (const Check& c : sheet.rows.checks) {
    const Shown v = shown(c.value, c.unit, units);
    out += "  " + painted(padded(std::string(groovewright::to_text(c.verdict)), 10), c.verdict, colour) + c.label;
    const bool bare = is_bare(c);
    if (!bare && c.verdict != Verdict::unchecked)
      out += ": " + v.value + (v.unit.empty() ? "" : " " + v.unit) + limits(c, units);
    if (!c.says.empty()) out += "; " + remark(c.says, units);
    if (c.verdict == Verdict::fail || c.verdict == Verdict::doubt) out += " [" + c.source + "]";
    out += "\n";
  }
  return out;
}

}  // namespace groovewright::report
