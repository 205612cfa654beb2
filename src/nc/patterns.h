// patterns.h: a dialect's words with their placeholders filled.
#pragma once

#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>

#include "groovewright/nc.h"

namespace groovewright::nc {

struct Filling {
  std::string_view placeholder;
  std::string text;
};

/// The dialect's pattern for a function, or nullptr where it lacks it.
[[nodiscard]] const std::string* pattern_of(const Dialect& dialect, std::string_view function);
/// The pattern with each {placeholder} replaced. Requires: a filling for each.
[[nodiscard]] std::string filled_pattern(std::string_view pattern, std::initializer_list<Filling> fillings);

}  // namespace groovewright::nc
