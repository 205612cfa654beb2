// meets.h: where ink meets ink on paper. Lengths mm.
#pragma once

#include <array>
#include <vector>

#include "groovewright/plane.h"

namespace groovewright::plane {

struct Segment {
  Vec2 a, b;
};
/// A path as drawn, arcs as chords of at most 0.05 mm error.
[[nodiscard]] std::vector<Segment> segments(const Path& path);

/// True where the open segments cross or lie on each other; a common end does not count.
[[nodiscard]] bool segments_cross(Vec2 a, Vec2 b, Vec2 c, Vec2 d);
/// True where the segment comes inside the convex quadrilateral.
[[nodiscard]] bool enters(Vec2 a, Vec2 b, const std::array<Vec2, 4>& quad);
/// True where two convex quadrilaterals share area.
[[nodiscard]] bool overlap(const std::array<Vec2, 4>& a, const std::array<Vec2, 4>& b);
/// The quadrilateral, ccw, with every side `by` further in (out where negative). Requires: a parallelogram wider than
/// twice that.
[[nodiscard]] std::array<Vec2, 4> shrunk(const std::array<Vec2, 4>& quad, double by);

}  // namespace groovewright::plane
