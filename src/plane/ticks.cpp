#include <algorithm>
#include <cmath>

#include "groovewright/base/broken.h"
#include "groovewright/plane/chart.h"

namespace groovewright::plane {
namespace {

constexpr int kLeastPower = -12, kMostPower = 13;
/// A limit this near to a tick, in steps, is on it.
constexpr double kOn = 1e-9;

double step_of(int mantissa, int power) {
  // Powers of ten of whole numbers are exact; dividing by them rounds once.
  double ten = 1;
  for (int i = 0; i < std::abs(power); ++i) ten *= 10;
  return power < 0 ? mantissa / ten : mantissa * ten;
}

}  // namespace

Ticks round_ticks(double from, double to, double most, bool outwards) {
  require(std::isfinite(from) && std::isfinite(to) && from < to && most >= 1, "round_ticks: a range and a number");
  require(to - from >= kLeastRange * std::max(std::abs(from), std::abs(to)), "round_ticks: the range is too narrow");
  for (int power = kLeastPower; power <= kMostPower; ++power) {
    for (const int mantissa : {1, 2, 5}) {
      Ticks t;
      t.step = step_of(mantissa, power);
      t.decimals = power < 0 ? -power : 0;
      if (t.step * most < to - from) continue;
      const double first = from / t.step, last = to / t.step;
      t.first = static_cast<long>(outwards ? std::floor(first + kOn) : std::ceil(first - kOn));
      t.last = static_cast<long>(outwards ? std::ceil(last - kOn) : std::floor(last + kOn));
      if (static_cast<double>(t.last - t.first) <= most || !outwards) return t;
    }
  }
  throw Broken("round_ticks: out of range");
}

}  // namespace groovewright::plane
