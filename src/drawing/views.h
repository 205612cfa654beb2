// views.h: inside room `drawing`: what the part looks like, as lines in its own size. Sheets scale and place them.
#pragma once

#include <vector>

#include "groovewright/part.h"
#include "groovewright/plane/page.h"
#include "groovewright/section.h"

namespace groovewright::drawing {

using Lines = std::vector<plane::Inked>;

/// The part seen from the front: cross plane, x right, y up, exact lines and arcs. Visible edges, hidden edges of what
/// opens to the rear only, threads by ISO 6410, centre lines and pitch circles.
[[nodiscard]] Lines face(const part::Part& part, const section::Section& section);

/// A full section by two half planes through the axis: x = Z, y > 0 the first half, y < 0 the second.
struct Cut {
  Angle first, second;  ///< of the half planes, counter-clockwise from 12 o'clock
  Lines lines;          ///< edges cut and edges seen beyond, threads, centre lines of the openings cut; no hatching
  /// Closed runs; metal is where a point lies within an odd number of them.
  std::vector<plane::Path> metal;
};
/// The half planes pass through the middle of a keyway, window or hole each where the part has one, else clear of all.
[[nodiscard]] Cut cut(const part::Part& part, const section::Section& section);

/// The part in isometric projection (ISO 5456-3) from the front, above and right, painted back to front.
[[nodiscard]] Lines isometric(const section::Section& section);

}  // namespace groovewright::drawing
