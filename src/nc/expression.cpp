#include "expression.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <iterator>
#include <numbers>

#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"

namespace groovewright::nc {
namespace {

constexpr int kDeepest = 64;
constexpr double kGreatest = 1e9;  ///< nothing on a machine is larger, and whole numbers stay exact
constexpr double kDegree = std::numbers::pi / 180;
constexpr double kWhole = 1e-4;  ///< how near a whole number must be to count as one

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return c >= 'A' && c <= 'Z'; }

double as_long(long double (*f)(long double), double v) { return static_cast<double>(f(v)); }

/// NIST IR 6556, table of unary operations; angles in degrees. Not a number: outside the function's reach.
struct Unary {
  std::string_view name;
  double (*of)(double);
};
constexpr Unary kUnary[] = {
    {"ABS", [](double v) { return std::abs(v); }},
    {"ACOS", [](double v) { return std::abs(v) <= 1 ? acos_of(v) / kDegree : NAN; }},
    {"ASIN", [](double v) { return std::abs(v) <= 1 ? asin_of(v) / kDegree : NAN; }},
    {"ATAN", [](double v) { return v; }},  // takes two
    {"COS", [](double v) { return cos_of(v * kDegree); }},
    {"EXP", [](double v) { return as_long(std::exp, v); }},
    {"FIX", [](double v) { return std::floor(v); }},
    {"FUP", [](double v) { return std::ceil(v); }},
    {"LN", [](double v) { return v > 0 ? as_long(std::log, v) : NAN; }},
    {"ROUND", [](double v) { return std::round(v); }},
    {"SIN", [](double v) { return sin_of(v * kDegree); }},
    {"SQRT", [](double v) { return v >= 0 ? std::sqrt(v) : NAN; }},
    {"TAN", [](double v) { return tan_of(v * kDegree); }},
};

/// The published interpreter's MOD is never below zero.
double modulo(double a, double b) {
  const double rest = std::fmod(a, b);
  return rest < 0 ? rest + std::abs(b) : rest;
}

double power(double a, double b) {
  if (a > 0) return power_of(a, b);
  if (a == 0) return b > 0 ? 0 : b == 0 ? 1 : NAN;
  if (b != std::round(b)) return NAN;
  const double size = power_of(-a, b);
  return std::fmod(b, 2) == 0 ? size : -size;
}

}  // namespace

std::nullopt_t Values::fail(Code code, std::size_t from, std::string says) {
  const std::size_t end = std::min(std::max(at, from + 1), text_.size());
  if (!mistake) mistake = Mistake{code, from, end > from ? end - from : 0, std::move(says)};
  return std::nullopt;
}

std::optional<double> Values::finite(std::size_t from, double value, const char* otherwise) {
  if (std::isfinite(value) && std::abs(value) <= kGreatest) return value;
  return fail(Code::nc_expression, from, std::isnan(value) ? otherwise : "this is beyond what a machine can use");
}

std::optional<double> Values::value() {
  if (at == text_.size()) return fail(Code::nc_number, at, "a number is due here, as 12.5, #1 or [1+#1]");
  const char c = text_[at];
  if (c == '[') return bracket();
  if (c == '#') return parameter();
  if (is_letter(c)) return function();
  return number();
}

/// A sign, digits and a point, one digit at least; no exponent.
std::optional<double> Values::number() {
  const std::size_t from = at;
  if (text_[at] == '+' || text_[at] == '-') ++at;
  const std::size_t first = at;
  std::size_t digits = 0, points = 0;
  for (; at < text_.size() && (is_digit(text_[at]) || (text_[at] == '.' && points == 0)); ++at) {
    ++(text_[at] == '.' ? points : digits);
  }
  if (digits == 0) {
    const bool negated = first > from && at < text_.size() && (text_[at] == '#' || text_[at] == '[');
    return fail(
        Code::nc_number, from,
        negated ? "a sign stands before digits only; write [0-#1]" : "a number is due here, as 12.5, #1 or [1+#1]");
  }
  double size = 0;
  const auto end = std::from_chars(text_.data() + first, text_.data() + at, size, std::chars_format::fixed);
  if (end.ec != std::errc() || size > kGreatest) {
    return fail(Code::nc_number, from, "this number is beyond what a machine can use");
  }
  return text_[from] == '-' ? -size : size;
}

std::optional<int> Values::parameter_number() {
  const std::size_t from = at;
  ++at;  // '#'
  if (++depth_ > kDeepest) return fail(Code::nc_expression, from, "brackets and '#' stand too deep in one another");
  if (at < text_.size() && text_[at] == '<') {
    return fail(Code::nc_parameter, from, "parameters have numbers here, as #1");
  }
  const auto which = value();
  --depth_;
  if (!which) return std::nullopt;
  const double whole = std::round(*which);
  if (std::abs(*which - whole) > kWhole || whole < 1 || whole > kMostParameters) {
    return fail(Code::nc_parameter, from, "parameters are #1 to #4999; those above are the control's own");
  }
  return static_cast<int>(whole);
}

std::optional<double> Values::parameter() {
  const std::size_t from = at;
  const auto which = parameter_number();
  if (!which) return std::nullopt;
  const auto found = parameters_.find(*which);
  if (found != parameters_.end()) return found->second;
  const std::string name = "#" + std::to_string(*which);
  return fail(
      Code::nc_parameter, from,
      name + " was not set in this program: its value would be what another left; write `" + name + " = 0` above");
}

std::optional<double> Values::bracket() {
  const std::size_t from = at;
  if (++depth_ > kDeepest) return fail(Code::nc_expression, from, "brackets and '#' stand too deep in one another");
  ++at;
  const auto inside = terms(1);
  if (!inside) return std::nullopt;
  --depth_;
  ++at;  // ']': `terms` stops nowhere else
  return inside;
}

/// NIST IR 6556: ** binds most, then * / MOD, then + - OR XOR AND; of one rank from the left.
std::optional<Values::Binary> Values::binary() {
  static constexpr struct {
    std::string_view word;
    char op;
    int rank;
  } kBinary[] = {{"**", '^', 3}, {"*", '*', 2},  {"/", '/', 2},   {"MOD", '%', 2}, {"+", '+', 1},
                 {"-", '-', 1},  {"OR", '|', 1}, {"XOR", 'x', 1}, {"AND", '&', 1}, {"]", ']', 0}};
  for (const auto& each : kBinary) {
    if (text_.substr(at).starts_with(each.word)) return Binary{each.op, each.rank, each.word.size()};
  }
  return fail(Code::nc_expression, at, "an operator or ']' is due here: + - * / ** MOD AND OR XOR");
}

/// Stops before an operator of a lower rank, or before ']'.
std::optional<double> Values::terms(int least_rank) {
  const std::size_t from = at;
  auto left = value();
  while (left) {
    const auto op = binary();
    if (!op) return std::nullopt;
    if (op->rank < least_rank) return left;
    at += op->length;
    const auto right = terms(op->rank + 1);
    if (!right) return std::nullopt;
    left = combine(from, *op, *left, *right);
  }
  return left;
}

std::optional<double> Values::combine(std::size_t from, Binary op, double a, double b) {
  switch (op.op) {
    case '^':
      return finite(from, power(a, b), "this power has no value");
    case '*':
      return finite(from, a * b, "");
    case '/':
      return finite(from, b == 0 ? NAN : a / b, "this divides by zero");
    case '%':
      return finite(from, b == 0 ? NAN : modulo(a, b), "this divides by zero");
    case '+':
      return finite(from, a + b, "");
    case '-':
      return finite(from, a - b, "");
    case '|':
      return a != 0 || b != 0 ? 1 : 0;
    case 'x':
      return (a != 0) != (b != 0) ? 1 : 0;
    default:
      return a != 0 && b != 0 ? 1 : 0;
  }
}

std::optional<double> Values::function() {
  const std::size_t from = at;
  while (at < text_.size() && is_letter(text_[at])) ++at;
  const std::string_view name = text_.substr(from, at - from);
  const auto found = std::ranges::find(kUnary, name, &Unary::name);
  if (found == std::end(kUnary)) {
    return fail(Code::nc_number, from, "a number is due here, as 12.5, #1, [1+#1] or SIN[30]");
  }
  const auto due = [&] { return at < text_.size() && text_[at] == '['; };
  if (!due()) return fail(Code::nc_expression, from, "a function takes brackets, as SIN[30]");
  const auto first = bracket();
  if (!first) return std::nullopt;
  if (name != "ATAN") return finite(from, found->of(*first), "outside what this function takes");
  if (at == text_.size() || text_[at] != '/' || (++at, !due())) {
    return fail(Code::nc_expression, from, "ATAN takes two, as ATAN[1]/[2]");
  }
  const auto second = bracket();
  if (!second) return std::nullopt;
  return atan2_of(*first, *second) / kDegree;
}

}  // namespace groovewright::nc
