// root.h: where a function changes its sign.
#pragma once

#include <cmath>

namespace groovewright::drive {

/// A place between a and b, where f has different signs, as near to the root as doubles allow or within `near`. The
/// secant is kept between the signs by halving the end that stays (Illinois), and by a halving where it drags on.
template <class F>
double root_between(const F& f, double a, double fa, double b, double fb, double near) {
  if (fb == 0) return b;
  for (int step = 0; step < 200 && std::abs(b - a) > near && fa != 0; ++step) {
    double c = step % 8 == 7 ? (a + b) / 2 : b - fb * (b - a) / (fb - fa);
    if (!(c > std::fmin(a, b) && c < std::fmax(a, b))) c = (a + b) / 2;
    const double fc = f(c);
    if (fc == 0) return c;
    if ((fc > 0) == (fb > 0)) {
      fa /= 2;
    } else {
      a = b;
      fa = fb;
    }
    if (std::abs(c - b) < near) return c;
    b = c;
    fb = fc;
  }
  return fa == 0 ? a : b;
}

}  // namespace groovewright::drive
