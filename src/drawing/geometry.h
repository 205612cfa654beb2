// geometry.h: inside room `drawing`: where ink meets ink.
#pragma once

#include <array>
#include <vector>

#include "pieces.h"

namespace groovewright::drawing {

struct Segment {
  plane::Vec2 a, b;
};
/// A path as drawn, arcs as chords of at most 0.05 mm error.
[[nodiscard]] std::vector<Segment> segments(const plane::Path& path);

/// True where the open segments cross or lie on each other; a common end does not count.
[[nodiscard]] bool cross(plane::Vec2 a, plane::Vec2 b, plane::Vec2 c, plane::Vec2 d);
/// True where the segment comes inside the convex quadrilateral.
[[nodiscard]] bool enters(plane::Vec2 a, plane::Vec2 b, const std::array<plane::Vec2, 4>& quad);
/// True where two convex quadrilaterals share area.
[[nodiscard]] bool overlap(const std::array<plane::Vec2, 4>& a, const std::array<plane::Vec2, 4>& b);
/// The quadrilateral, ccw, with every side `by` further in (out where negative). Requires: a parallelogram wider than
/// twice that.
[[nodiscard]] std::array<plane::Vec2, 4> shrunk(const std::array<plane::Vec2, 4>& quad, double by);

}  // namespace groovewright::drawing
