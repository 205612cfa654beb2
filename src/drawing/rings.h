// rings.h: inside room `drawing`: circles about the axis, and what slots take away from them.
#pragma once

#include <vector>

#include "groovewright/plane.h"
#include "spans.h"

namespace groovewright::drawing {

/// Between the tangents of two edges where they count as smooth. rad
inline constexpr double kSmooth = 1e-6;

/// Where a turned outline has an edge: its corners, and where an arc comes nearest to the axis or farthest from it.
[[nodiscard]] std::vector<plane::Vec2> edges_of(const plane::Path& outline);

/// Angles at which the circle about the axis runs within the slot, seen along the axis.
[[nodiscard]] std::vector<Span> within(const plane::Slot& slot, double radius);
/// A whole turn without the angles in `gaps`; one span of 2 pi where there are none.
[[nodiscard]] std::vector<Span> turn_without(const std::vector<Span>& gaps);
/// The arc about the axis; a full circle for a span of 2 pi. Requires: radius > kCoincident.
[[nodiscard]] plane::Path arc(double radius, const Span& angles);

}  // namespace groovewright::drawing
