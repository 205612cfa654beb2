// clip.h: runs of points against areas, for pictures where one thing hides another. Lengths mm.
#pragma once

#include <vector>

#include "groovewright/plane/lettering.h"

namespace groovewright::plane {

/// Points in order, not closed.
using Run = std::vector<Vec2>;
/// Results lie on a lattice of this step; runs shorter than it vanish.
inline constexpr double kClipStep = 1e-5;

/// What of the runs lies outside all, or inside some, of the areas that `region` winds round. Runs that are cut come in
/// pieces, in no order; what lies on a border may count either way. Requires: coordinates within 1e4 mm.
[[nodiscard]] std::vector<Run> outside(const std::vector<Run>& runs, const std::vector<Polygon>& region);
[[nodiscard]] std::vector<Run> inside(const std::vector<Run>& runs, const std::vector<Polygon>& region);
/// The union of all areas that `region` winds round: outer loops counter-clockwise, holes clockwise. Requires: as
/// above.
[[nodiscard]] std::vector<Polygon> united(const std::vector<Polygon>& region);
/// What of the one region lies outside, or also inside, the other. Loops as from `united`. Requires: as above.
[[nodiscard]] std::vector<Polygon> cut(const std::vector<Polygon>& region, const std::vector<Polygon>& away);
[[nodiscard]] std::vector<Polygon> common(const std::vector<Polygon>& region, const std::vector<Polygon>& other);
/// The region and all within `by` of it; rounds are polygons within `chord_error`. Requires: both > 0.
[[nodiscard]] std::vector<Polygon> grown(const std::vector<Polygon>& region, double by, double chord_error);
[[nodiscard]] Polygon moved(Polygon polygon, Vec2 by);
/// The least convex polygon round the points, ccw. Requires: a point at least.
[[nodiscard]] Polygon hull(std::vector<Vec2> points);
/// Area that the loops enclose, holes (cw) taken off.
[[nodiscard]] double area(const std::vector<Polygon>& region);

}  // namespace groovewright::plane
