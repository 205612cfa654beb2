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

}  // namespace groovewright::plane
