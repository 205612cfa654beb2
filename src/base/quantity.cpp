#include "groovewright/base/quantity.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <numbers>
#include <span>
#include <vector>

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"

namespace groovewright {
namespace {

/// In our unit a value is `v * multiply / divide`: whole factors round once, where 0.001 or 25.4 would round twice.
struct Unit {
  std::string_view name;
  double multiply = 1;
  double divide = 1;
  bool shown = true;  ///< in messages; other spellings are taken silently
};

constexpr bool kSpelling = false;

constexpr Unit kLength[] = {{"mm"},          {"cm", 10},      {"m", 1000},
                            {"um", 1, 1000}, {"in", 254, 10}, {"\"", 254, 10, kSpelling}};
constexpr Unit kAngle[] = {{"deg", std::numbers::pi, 180}, {"°", std::numbers::pi, 180, kSpelling}, {"rad"}};
constexpr Unit kRatio[] = {{"%", 1, 100}};
constexpr Unit kSpeed[] = {{"rpm"}, {"1/min"}};
constexpr Unit kTorque[] = {{"N m", 1000}, {"N mm"}, {"Nm", 1000, 1, kSpelling}};
// psi: 4.4482216152605 N a pound-force over 25.4² mm²; both factors are exact by definition.
constexpr Unit kPressure[] = {
    {"MPa"}, {"GPa", 1000}, {"kPa", 1, 1000}, {"Pa", 1, 1e6}, {"psi", 4.4482216152605, 25.4 * 25.4}, {"bar", 1, 10}};
constexpr Unit kTemperature[] = {{"°C"}, {"degC"}};
// hp: 550 foot-pounds a second.
constexpr Unit kPower[] = {{"W"}, {"kW", 1000}, {"hp", 550 * 0.3048 * 4.4482216152605}};
constexpr Unit kDensity[] = {
    {"g/cm3", 1, 1e6}, {"kg/m3", 1, 1e9}, {"g/cm³", 1, 1e6, kSpelling}, {"kg/m³", 1, 1e9, kSpelling}};
// "/K" is what is left of "23e-6/K" after its number.
constexpr Unit kExpansion[] = {{"1e-6/K", 1, 1e6}, {"um/m/K", 1, 1e6}, {"1/K"}, {"/K", 1, 1, kSpelling}};

constexpr Unit kTorqueRate[] = {{"N m/deg", 1000 * 180, std::numbers::pi}, {"N m/rad", 1000}};
constexpr Unit kForce[] = {{"N"}, {"kN", 1000}};
constexpr Unit kForceRate[] = {{"N/mm"}};
constexpr Unit kInertia[] = {
    {"kg m2", 1e6}, {"kg cm2", 100}, {"kg mm2"}, {"kg m²", 1e6, 1, kSpelling}, {"kg mm²", 1, 1, kSpelling}};
constexpr Unit kLinearMass[] = {{"kg/m"}, {"g/m", 1, 1000}};
constexpr Unit kVelocity[] = {{"m/s"}};
constexpr Unit kSpinUp[] = {{"rpm/s", std::numbers::pi, 30}, {"rad/s2"}, {"rad/s²", 1, 1, kSpelling}};
constexpr Unit kVolume[] = {{"cm3"}, {"L", 1000}, {"l", 1000, 1, kSpelling}, {"cm³", 1, 1, kSpelling}};

/// What may be written for a measure, and a well-written value.
struct Form {
  Measure measure;
  std::span<const Unit> units;
  const char* example;
};
constexpr std::array kForms = {Form{Measure::length, kLength, "12 mm"},
                               Form{Measure::angle, kAngle, "40 deg"},
                               Form{Measure::ratio, kRatio, "24 %"},
                               Form{Measure::speed, kSpeed, "6000 rpm"},
                               Form{Measure::torque, kTorque, "28 N m"},
                               Form{Measure::pressure, kPressure, "240 MPa"},
                               Form{Measure::temperature, kTemperature, "80 °C"},
                               Form{Measure::power, kPower, "38 kW"},
                               Form{Measure::density, kDensity, "2.7 g/cm3"},
                               Form{Measure::expansion, kExpansion, "23.6 1e-6/K"},
                               Form{Measure::torque_rate, kTorqueRate, "0.35 N m/deg"},
                               Form{Measure::force, kForce, "300 N"},
                               Form{Measure::force_rate, kForceRate, "4 N/mm"},
                               Form{Measure::inertia, kInertia, "0.0012 kg m2"},
                               Form{Measure::linear_mass, kLinearMass, "0.021 kg/m"},
                               Form{Measure::velocity, kVelocity, "50 m/s"},
                               Form{Measure::spin_up, kSpinUp, "8000 rpm/s"},
                               Form{Measure::volume, kVolume, "1900 cm3"},
                               Form{Measure::plain, {}, "2.5"}};

const Form& form_of(Measure measure) {
  const auto* const found =
      std::find_if(kForms.begin(), kForms.end(), [&](const Form& f) { return f.measure == measure; });
  require(found != kForms.end(), "form_of: a measure that has no form");
  return *found;
}
std::span<const Unit> units_of(Measure measure) { return form_of(measure).units; }

const Unit* find_unit(std::span<const Unit> units, std::string_view name) {
  const auto found = std::find_if(units.begin(), units.end(), [&](const Unit& u) { return u.name == name; });
  return found == units.end() ? nullptr : &*found;
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

std::string_view without_leading_spaces(std::string_view text) {
  return text.substr(std::min(text.find_first_not_of(' '), text.size()));
}

std::string_view trimmed_of_spaces(std::string_view text) {
  text = without_leading_spaces(text);
  return text.substr(0, text.find_last_not_of(' ') + 1);
}

/// One kind of u for micro, whichever of the two Greek letters the keyboard gave.
std::string with_plain_micro(std::string_view unit) {
  for (const std::string_view micro : {"\u00B5", "\u03BC"}) {
    if (unit.starts_with(micro)) return 'u' + std::string(unit.substr(micro.size()));
  }
  return std::string(unit);
}

/// Takes a number off the front of `text`. Needs a digit in front, or a point and a digit: keeps "inf" and "nan" out.
std::optional<double> take_decimal(std::string_view& text) {
  const std::size_t first = text.starts_with('.') ? 1 : 0;
  if (first >= text.size() || !is_digit(text[first])) return std::nullopt;
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || !std::isfinite(value)) return std::nullopt;
  text.remove_prefix(static_cast<std::size_t>(end - text.data()));
  return value;
}

/// Takes a row of digits off the front of `text`.
std::optional<double> take_whole(std::string_view& text) {
  std::string_view digits = text.substr(0, std::min(text.find_first_not_of("0123456789"), text.size()));
  const std::size_t taken = digits.size();
  const std::optional<double> value = take_decimal(digits);
  if (value) text.remove_prefix(taken);
  return value;
}

struct Ratio {
  double above = 0;
  double below = 1;
};

/// Takes "3/16" off the front of `text` (or "1:10", where `bars` has the colon).
std::optional<Ratio> take_fraction(std::string_view& text, std::string_view bars = "/") {
  std::string_view rest = text;
  const std::optional<double> above = take_whole(rest);
  if (!above || rest.empty() || bars.find(rest.front()) == std::string_view::npos) return std::nullopt;
  rest.remove_prefix(1);
  const std::optional<double> below = take_whole(rest);
  if (!below || *below == 0) return std::nullopt;
  text = rest;
  return Ratio{*above, *below};
}

/// Takes "3/16", "6-1/2" or "6 1/2" off the front of `text`. The fraction of a mixed number must be less than one.
std::optional<double> take_inch_fraction(std::string_view& text) {
  if (const auto fraction = take_fraction(text)) return fraction->above / fraction->below;
  std::string_view rest = text;
  const std::optional<double> whole = take_whole(rest);
  if (!whole || !(rest.starts_with('-') || rest.starts_with(' '))) return std::nullopt;
  rest = rest.starts_with('-') ? rest.substr(1) : without_leading_spaces(rest);
  const std::optional<Ratio> part = take_fraction(rest);
  if (!part || part->above >= part->below) return std::nullopt;
  text = rest;
  return (*whole * part->below + part->above) / part->below;
}

template <class Test>
bool any_unit(const Test& test) {
  return std::any_of(kForms.begin(), kForms.end(),
                     [&](const Form& f) { return std::any_of(f.units.begin(), f.units.end(), test); });
}

/// "mm, 5", "mm x": a unit that we know and then something more. "N cm" is no such: "N" begins "N m", too.
bool goes_on_after_a_unit(std::string_view text) {
  return any_unit([&](const Unit& unit) {
    if (!text.starts_with(unit.name) || text.size() == unit.name.size()) return false;
    const char next = text[unit.name.size()];
    const std::string head = std::string(unit.name) + ' ';
    if (next == ' ' && any_unit([&](const Unit& u) { return u.name.starts_with(head); })) return false;
    return next == ' ' || next == ',' || next == ';';
  });
}

/// Whether what follows a number is a unit of another measure, or a word in a unit's stead, rather than rubbish.
QuantityError error_of_unit(std::string_view unit) {
  if (any_unit([&](const Unit& u) { return u.name == unit; })) return QuantityError::wrong_unit;
  const bool starts_like_one = is_letter(unit.front()) || unit.front() == '%' || unit.front() == '"' ||
                               static_cast<unsigned char>(unit.front()) >= 0x80;
  return starts_like_one && !goes_on_after_a_unit(unit) ? QuantityError::wrong_unit : QuantityError::not_a_number;
}

bool is_hexadecimal(std::string_view text) { return text.starts_with("0x") || text.starts_with("0X"); }

}  // namespace

Quantity read_quantity(std::string_view text, Measure measure, std::string_view bare_length_unit) {
  require(bare_length_unit.empty() || bare_length_unit == "mm" || bare_length_unit == "in",
          "read_quantity: a bare length is in mm or in");
  std::string_view rest = trimmed_of_spaces(text);
  const double sign = rest.starts_with('-') ? -1 : 1;
  if (rest.starts_with('-') || rest.starts_with('+')) rest.remove_prefix(1);
  if (is_hexadecimal(rest)) return {0, QuantityError::not_a_number};

  if (measure == Measure::ratio) {
    std::string_view tail = rest;
    const auto ratio = take_fraction(tail, "/:");
    if (ratio && tail.empty()) return {0.0 + sign * ratio->above / ratio->below};
  }
  const std::optional<double> fraction = measure == Measure::length ? take_inch_fraction(rest) : std::nullopt;
  const std::optional<double> size = fraction ? fraction : take_decimal(rest);
  if (!size) return {0, QuantityError::not_a_number};

  std::string unit_name = with_plain_micro(without_leading_spaces(rest));
  if (unit_name.empty()) {
    if (measure == Measure::plain || measure == Measure::ratio) return {0.0 + sign * *size};
    if (measure != Measure::length || bare_length_unit.empty()) return {0, QuantityError::missing_unit};
    unit_name = bare_length_unit;
  }
  const Unit* unit = find_unit(units_of(measure), unit_name);
  if (unit == nullptr) return {0, error_of_unit(unit_name)};
  const bool inches = unit_name == "in" || unit_name == "\"";
  if (fraction && !inches) return {0, QuantityError::not_a_number};
  return {0.0 + sign * *size * unit->multiply / unit->divide};  // 0.0 +: no minus zero
}

std::string allowed_units(Measure measure) {
  std::vector<std::string> names;
  for (const Unit& unit : units_of(measure)) {
    if (unit.shown) names.emplace_back(unit.name);
  }
  if (measure == Measure::ratio || measure == Measure::plain) names.emplace_back("no unit");
  return listed(names, "or");
}

std::vector<std::string> unit_names(Measure measure) {
  std::vector<std::string> names;
  for (const Unit& unit : units_of(measure)) names.emplace_back(unit.name);
  return names;
}

std::string example_of(Measure measure) { return form_of(measure).example; }

std::pair<double, std::string> in_first_unit(double value, Measure measure) {
  const std::span<const Unit> units = units_of(measure);
  if (units.empty()) return {value, ""};
  const Unit& unit = units.front();
  return {value * unit.divide / unit.multiply, std::string(unit.name)};
}

}  // namespace groovewright
