// format.h: a value with its unit, as every written form shows it.
#pragma once

#include <optional>
#include <string>

#include "groovewright/report.h"

namespace groovewright::report {

struct Shown {
  std::string value, unit;
};
/// `value` converted and rounded for people: three decimals in mm, four in inch.
[[nodiscard]] Shown shown(double value, const std::string& unit, Units units);
/// The same for a limit; "" where there is none.
[[nodiscard]] std::string shown_limit(const std::optional<double>& limit, const std::string& unit, Units units);
/// True for a row that has words only.
[[nodiscard]] bool is_bare(const Check& c);
/// "+25 / 0 um": the limits of a fit as deviations; "" for other sizes.
[[nodiscard]] std::string deviations(const Dimension& d);

}  // namespace groovewright::report
