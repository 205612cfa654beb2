#include "groovewright/base/shown.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "groovewright/base/text.h"

namespace groovewright {
namespace {

constexpr double kInch = 25.4;
constexpr double kPound = 0.45359237;
/// Limits closer than this (mm) are of micrometre class: a ten-thousandth of an inch would eat too much of the band.
constexpr double kNarrowBand = 0.1;
/// Share of the last decimal that counts as rounding of the sum, not as size.
constexpr double kNoise = 1e-6;

struct Imperial {
  std::string_view from, to;
  double divisor;
};
constexpr std::array kImperial{Imperial{"mm", "in", kInch}, Imperial{"mm2", "in2", kInch* kInch},
                               Imperial{"mm3", "in3", kInch* kInch* kInch}, Imperial{"kg", "lb", kPound},
                               Imperial{"kg mm2", "lb in2", kPound* kInch* kInch}};

const Imperial* imperial(const std::string& unit, Units units) {
  if (units != Units::inch) return nullptr;
  const auto* found =
      std::find_if(kImperial.begin(), kImperial.end(), [&](const Imperial& i) { return i.from == unit; });
  return found == kImperial.end() ? nullptr : found;
}

/// Of ratios (ISO 80000-1): shown without a unit, unlike counts with decimals.
constexpr const char* kOne = "1";

int decimals_of(const std::string& unit) {
  if (unit.empty()) return 0;
  if (unit == "mm" || unit == kOne) return 3;
  if (unit == "in") return 4;
  if (unit == "deg") return 2;
  if (unit == "kg" || unit == "lb" || unit == "lb in2") return 3;
  if (unit == "in2" || unit == "in3") return 3;
  return 1;
}

double power_of_ten(int n) { return n == 0 ? 1 : 10 * power_of_ten(n - 1); }

/// The nearest number of so many decimals that is not below (`up`) or not above `value`.
std::string towards(bool up, double value, int decimals) {
  const double places = value * power_of_ten(decimals);
  const double whole = up ? std::ceil(places - kNoise) : std::floor(places + kNoise);
  return number(whole / power_of_ten(decimals), decimals);
}

bool ends_by(double value, int decimals) {
  const double places = value * power_of_ten(decimals);
  return std::abs(places - std::round(places)) < kNoise;
}

int limit_decimals(const Dimension& d, Units units) {
  const Imperial* to = imperial(d.unit, units);
  const int usual = decimals_of(to ? std::string(to->to) : d.unit);
  if (d.unit != "mm") return usual;
  if (to) return d.lower && d.upper && *d.upper - *d.lower < kNarrowBand ? usual + 1 : usual;
  const auto finer = [&](const std::optional<double>& limit) {
    return limit && !ends_by(*limit, usual) && ends_by(*limit, usual + 1);
  };
  return finer(d.lower) || finer(d.upper) ? usual + 1 : usual;
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_word(char c) { return is_digit(c) || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

}  // namespace

Shown shown(double value, const std::string& unit, Units units) {
  if (const Imperial* to = imperial(unit, units)) {
    const std::string other(to->to);
    return {number(value / to->divisor, decimals_of(other)), other};
  }
  return {number(value, decimals_of(unit)), unit == kOne ? "" : unit};
}

ShownLimits shown_limits(const Check& c, Units units) {
  const auto text = [&](const std::optional<double>& limit) {
    return limit ? shown(*limit, c.unit, units).value : std::string();
  };
  return {text(c.lower), text(c.upper)};
}

ShownLimits shown_limits(const Dimension& d, Units units) {
  const Imperial* to = imperial(d.unit, units);
  const double divisor = to ? to->divisor : 1;
  const int decimals = limit_decimals(d, units);
  return {d.lower ? towards(true, *d.lower / divisor, decimals) : "",
          d.upper ? towards(false, *d.upper / divisor, decimals) : ""};
}

std::string remark(const std::string& says, Units units) {
  constexpr std::string_view kUnit = " mm";
  constexpr std::size_t kInchDecimals = 4;
  if (units != Units::inch) return says;
  std::string out;
  std::size_t done = 0;
  for (std::size_t at = says.find(kUnit); at != std::string::npos; at = says.find(kUnit, at + 1)) {
    const std::size_t end = at + kUnit.size();
    if (end < says.size() && is_word(says[end])) continue;
    std::size_t begin = at;
    while (begin > done && (is_digit(says[begin - 1]) || says[begin - 1] == '.')) --begin;
    if (begin == at) continue;
    if (begin > done && says[begin - 1] == '-') --begin;
    const std::string written = says.substr(begin, at - begin);
    double length = 0;
    std::from_chars(written.data(), written.data() + written.size(), length);
    const std::size_t point = written.find('.');
    const std::size_t decimals = point == std::string::npos ? 0 : written.size() - point - 1;
    out += says.substr(done, begin - done) +
           number(length / kInch, static_cast<int>(std::max(kInchDecimals, decimals))) + " in (" + written + " mm)";
    done = end;
  }
  return out + says.substr(done);
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

}  // namespace groovewright
