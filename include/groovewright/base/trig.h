// trig.h: sine and friends that give the same bits on every x86-64. glibc's double versions pick FMA variants that
// differ in the last bit from machine to machine; its long-double ones don't. Geometry uses only these.
#pragma once

#include <cmath>

namespace groovewright {

[[nodiscard]] inline double sin_of(double rad) { return static_cast<double>(std::sin(static_cast<long double>(rad))); }
[[nodiscard]] inline double cos_of(double rad) { return static_cast<double>(std::cos(static_cast<long double>(rad))); }
[[nodiscard]] inline double tan_of(double rad) { return static_cast<double>(std::tan(static_cast<long double>(rad))); }
[[nodiscard]] inline double atan2_of(double y, double x) {
  return static_cast<double>(std::atan2(static_cast<long double>(y), static_cast<long double>(x)));
}
/// Requires: -1 <= v <= 1.
[[nodiscard]] inline double acos_of(double v) { return static_cast<double>(std::acos(static_cast<long double>(v))); }
/// Requires: -1 <= v <= 1.
[[nodiscard]] inline double asin_of(double v) { return static_cast<double>(std::asin(static_cast<long double>(v))); }
/// x to the y. Requires: x > 0.
[[nodiscard]] inline double power_of(double x, double y) {
  return static_cast<double>(std::pow(static_cast<long double>(x), static_cast<long double>(y)));
}
/// sqrt(x² + y²); correctly rounded square root, so the same bits everywhere.
[[nodiscard]] inline double length_of(double x, double y) {
  return static_cast<double>(std::sqrt(static_cast<long double>(x) * x + static_cast<long double>(y) * y));
}

}  // namespace groovewright
