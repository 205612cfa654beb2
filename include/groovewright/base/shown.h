// shown.h: a value with its unit, as every written form shows it: sheets, drawings, the terminal.
#pragma once

#include <optional>
#include <string>

#include "groovewright/base/rows.h"

namespace groovewright {

/// What a person reads. Inside all lengths are mm.
enum class Units { mm, inch };

struct Shown {
  std::string value, unit;
};
/// `value` converted and rounded for people: three decimals in mm, four in inch.
[[nodiscard]] Shown shown(double value, const std::string& unit, Units units);
/// The limits that a check was judged by, rounded like its value; "" where there is none.
struct ShownLimits {
  std::string lower, upper;
};
[[nodiscard]] ShownLimits shown_limits(const Check& c, Units units);
/// The limits to make a size by: rounded inwards, never outside the real ones, and with one decimal more where a
/// band is narrow (inch) or its limits stand on tenths of a micrometre (mm).
[[nodiscard]] ShownLimits shown_limits(const Dimension& d, Units units);
/// Inch sheets put inches before each length of a remark: "3.5 mm" becomes "0.1378 in (3.5 mm)".
[[nodiscard]] std::string remark(const std::string& says, Units units);
/// True for a row that has words only.
[[nodiscard]] bool is_bare(const Check& c);
/// "+25 / 0 um": the limits of a fit as deviations; "" for other sizes.
[[nodiscard]] std::string deviations(const Dimension& d);

}  // namespace groovewright
