// facets.h: inside room `drawing`: the outline of a part in straight sides, as coarse as a picture may be.
#pragma once

#include <optional>
#include <vector>

#include "groovewright/plane/page.h"
#include "groovewright/section.h"

namespace groovewright::drawing {

/// A corner of the outline: what it is drawn with as a ring about the axis; nothing where the part is smooth.
struct Knee {
  plane::Vec2 at;
  std::optional<plane::Ink> ink;
};
/// The outline as a polygon, counter-clockwise: crests and roots of grooves are one thin corner each, fillets a few
/// smooth ones, edge breaks shorter than `fine` one sharp corner.
[[nodiscard]] std::vector<Knee> facets(const section::Section& section, double fine);

}  // namespace groovewright::drawing
