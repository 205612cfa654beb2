// expression.h: real values of RS274/NGC: numbers, parameters, expressions, functions (NIST IR 6556).
#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "groovewright/base/diagnostics.h"

namespace groovewright::nc {

/// What is wrong, and where in the text that was read.
struct Mistake {
  Code code{};
  std::size_t at = 0, length = 0;
  std::string says;
};

using Parameters = std::map<int, double>;

/// Parameters that a program may use; above stand the control's own (NIST IR 6556: 5061 and up).
inline constexpr int kMostParameters = 4999;

/// Reads values out of a line without blanks and in capitals. The first mistake ends the reading.
class Values {
 public:
  Values(std::string_view text, const Parameters& parameters) : text_(text), parameters_(parameters) {}

  std::size_t at = 0;  ///< the next character
  std::optional<Mistake> mistake;

  /// A number, "#…", "[…]" or a function.
  [[nodiscard]] std::optional<double> value();
  /// Behind "#": which parameter.
  [[nodiscard]] std::optional<int> parameter_number();

 private:
  struct Binary {
    char op = 0;  ///< '^' for **, '%' for MOD, '&' '|' 'x'; ']' for the end
    int rank = 0;
    std::size_t length = 0;
  };

  [[nodiscard]] std::optional<double> number();
  [[nodiscard]] std::optional<double> parameter();
  [[nodiscard]] std::optional<double> bracket();
  [[nodiscard]] std::optional<double> terms(int least_rank);
  [[nodiscard]] std::optional<double> function();
  [[nodiscard]] std::optional<Binary> binary();
  [[nodiscard]] std::optional<double> combine(std::size_t from, Binary op, double a, double b);
  [[nodiscard]] std::optional<double> finite(std::size_t from, double value, const char* otherwise);
  std::nullopt_t fail(Code code, std::size_t from, std::string says);

  std::string_view text_;
  const Parameters& parameters_;
  int depth_ = 0;
};

}  // namespace groovewright::nc
