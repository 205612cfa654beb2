// range.h: limits of a number in a document. Private to the room.
#pragma once

#include "groovewright/spec.h"

namespace groovewright::spec {

/// Limits of a number; lengths in mm, angles in degrees, ratios as fractions.
struct Range {
  double least = kMinLength;
  double most = kMaxLength;
};
inline constexpr Range kAnyLength{-kMaxLength, kMaxLength};
inline constexpr Range kSmall{0.0, 100.0};
inline constexpr Range kTurn{-360.0, 360.0};

}  // namespace groovewright::spec
