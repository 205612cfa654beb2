#include "format.h"

#include "groovewright/base/text.h"

namespace groovewright::report {
namespace {

constexpr double kInch = 25.4;

int decimals_of(const std::string& unit) {
  if (unit.empty()) return 0;
  if (unit == "mm") return 3;
  if (unit == "in") return 4;
  if (unit == "deg") return 2;
  if (unit == "kg") return 3;
  if (unit == "in2" || unit == "in3") return 3;
  return 1;
}

}  // namespace

Shown shown(double value, const std::string& unit, Units units) {
  std::string to = unit;
  if (units == Units::inch) {
    if (unit == "mm") value /= kInch, to = "in";
    if (unit == "mm2") value /= kInch * kInch, to = "in2";
    if (unit == "mm3") value /= kInch * kInch * kInch, to = "in3";
  }
  return {number(value, decimals_of(to)), to};
}

std::string shown_limit(const std::optional<double>& limit, const std::string& unit, Units units) {
  return limit ? shown(*limit, unit, units).value : "";
}

bool is_bare(const Check& c) { return c.unit.empty() && !c.lower && !c.upper; }

std::string deviations(const Dimension& d) {
  if (!d.fit || !d.lower || !d.upper) return "";
  const double below = *d.lower - d.value, above = *d.upper - d.value;
  const auto micro = [](double v) {
    const std::string text = trimmed(v * 1000, 1);
    return v > 0 && text != "0" ? "+" + text : text;
  };
  return micro(above) + " / " + micro(below) + " um";
}

}  // namespace groovewright::report
