// openings.h: inside room `drawing`: what the holes of a part are for.
#pragma once

#include "groovewright/part.h"
#include "groovewright/plane.h"

namespace groovewright::drawing {

/// The pattern that a hole belongs to; nullptr for round windows.
[[nodiscard]] const part::HolePattern* pattern_of(const part::Part& part, const plane::RoundHole& hole);
/// The thread of a tapped hole, else nullptr.
[[nodiscard]] const catalog::Thread* thread_of(const part::Part& part, const plane::RoundHole& hole);

}  // namespace groovewright::drawing
