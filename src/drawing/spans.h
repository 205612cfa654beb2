// spans.h: inside room `drawing`: closed paths met by lines along the axes of their plane.
#pragma once

#include <vector>

#include "groovewright/plane.h"

namespace groovewright::drawing {

/// The coordinate that a line along an axis of the plane holds.
using Coordinate = double plane::Vec2::*;

struct Span {
  double from = 0, to = 0;  ///< from < to
};
/// Where the line `held` = `at` lies inside the closed path: spans of the other coordinate, ascending. Corners on the
/// line count as below it.
[[nodiscard]] std::vector<Span> spans(const plane::Path& closed, Coordinate held, double at);
/// Spans without what lies in any of `less`. Both in any order; what overlaps or touches becomes one.
[[nodiscard]] std::vector<Span> without(std::vector<Span> all, std::vector<Span> less);

/// The edge in pieces along which `held` only rises or only falls.
[[nodiscard]] std::vector<plane::Edge> monotone(const plane::Edge& edge, Coordinate held);

/// Half of the plane: where `held` is at least, or else at most, `at`.
struct Limit {
  Coordinate held = &plane::Vec2::x;
  double at = 0;
  bool at_least = true;
};
/// The part of the closed path's inside that is within the limit, as closed paths; new edges lie on the limit bit by
/// bit. Exact for lines and arcs.
[[nodiscard]] std::vector<plane::Path> clipped(const plane::Path& closed, const Limit& limit);
/// True for an edge that lies along the limit.
[[nodiscard]] bool lies_on(const plane::Edge& edge, const Limit& limit);

}  // namespace groovewright::drawing
