#include "round_arc.h"

#include <cmath>
#include <limits>
#include <numbers>

#include "groovewright/base/trig.h"
#include "numbers.h"

namespace groovewright::nc {

double sweep(Flat from, Flat to, Flat centre, bool ccw) {
  constexpr double kTurn = 2 * std::numbers::pi;
  if (from.u == to.u && from.v == to.v) return kTurn;
  const double start = atan2_of(from.v - centre.v, from.u - centre.u);
  const double end = atan2_of(to.v - centre.v, to.u - centre.u);
  double turned = ccw ? end - start : start - end;
  if (turned <= 0) turned += kTurn;
  return turned;
}

/// Neighbours of the nearest lattice point are tried too: where an arc turns far, moving the centre along the chord
/// evens the radii; where it hardly turns, the ends alone are within the rounding.
Flat centre_offset(Flat from, Flat to, Flat ideal_centre, int decimals) {
  const double step = power_of(10, -decimals);
  const Flat ideal{ideal_centre.u - from.u, ideal_centre.v - from.v};
  Flat best;
  double least = std::numeric_limits<double>::infinity();
  for (int i = -1; i <= 1; ++i) {
    for (int j = -1; j <= 1; ++j) {
      const Flat offset{rounded(ideal.u + i * step, decimals), rounded(ideal.v + j * step, decimals)};
      const double radius = length_of(offset.u, offset.v);
      const double other = length_of(from.u + offset.u - to.u, from.v + offset.v - to.v);
      const double cost = std::abs(radius - other) + length_of(offset.u - ideal.u, offset.v - ideal.v);
      if (cost < least) {
        least = cost;
        best = offset;
      }
    }
  }
  return best;
}

}  // namespace groovewright::nc
