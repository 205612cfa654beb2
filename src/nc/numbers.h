// numbers.h: numbers as a control will read them.
#pragma once

#include <charconv>
#include <string>
#include <string_view>

#include "groovewright/base/text.h"

namespace groovewright::nc {

/// Requires: a written number.
[[nodiscard]] inline double value_of(std::string_view written) {
  double value = 0;
  std::from_chars(written.data(), written.data() + written.size(), value);
  return value;
}

/// What is left of a value once it was written.
[[nodiscard]] inline double rounded(double value, int decimals) { return value_of(number(value, decimals)); }

}  // namespace groovewright::nc
