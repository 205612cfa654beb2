// bounds.h: limits of a number in a document. Private to the room.
#pragma once

#include "groovewright/spec.h"

namespace groovewright::spec {

/// Limits of a number; lengths in mm, angles in degrees, ratios as fractions.
struct Bounds {
  double least = kMinLength;
  double most = kMaxLength;
};
inline constexpr Bounds kAnyLength{-kMaxLength, kMaxLength};
inline constexpr Bounds kSmall{0.0, 100.0};
inline constexpr Bounds kTurn{-360.0, 360.0};

}  // namespace groovewright::spec
