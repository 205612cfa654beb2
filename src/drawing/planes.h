// planes.h: inside room `drawing`: where a section is cut.
#pragma once

#include "groovewright/part.h"
#include "groovewright/plane.h"

namespace groovewright::drawing {

/// Angles of two half planes in the cross plane, counter-clockwise from +x.
struct HalfPlanes {
  double first = 0, second = 0;
};
/// The first passes through the middle of a keyway, a window, a dowel, a jack screw or a magnet, whichever is first
/// found; the second of a bolt hole, else of another of these, as far round from the first as there is one. Where there
/// is none, a half plane clears all openings but the gaps of a tone ring, near to 12 o'clock or opposite to the first.
[[nodiscard]] HalfPlanes half_planes(const part::Part& part, const plane::TurnedBody& body);

/// From angle `from` to angle `to` by the shorter way, in [-pi, pi].
[[nodiscard]] double between(double from, double to);
/// The gaps of a tone ring are not cut: by convention a toothed ring is drawn as if cut through a tooth.
[[nodiscard]] bool is_tooth_gap(const plane::Slot& slot);

}  // namespace groovewright::drawing
