// slots.h: openings that cut across rings. Private to the room.
#pragma once

#include <optional>
#include <vector>

#include "impl.h"

namespace groovewright::solid {

/// A stretch of a bite's outline, metal to be taken on its left.
struct BiteEdge {
  plane::Edge edge;
  std::optional<std::size_t> ring = {};  ///< the section's edge that it lies on; none on the slot's own faces
  double t0 = 0, t1 = 1;                 ///< from where to where on that edge, fractions of its length
};
/// One connected piece of the section that a slot takes: closed, ccw.
using Bite = std::vector<BiteEdge>;

/// Distance from the axis beyond which (`inward`: short of which) the slot takes metal at its sides.
[[nodiscard]] double level_of(const plane::Slot& slot);
/// None where the slot misses the section; nullopt where lines touch that should cross, or no metal is left.
[[nodiscard]] std::optional<std::vector<Bite>> bites(const plane::Path& section, const plane::Slot& slot);

/// Faces of the section with its slots, all edges exact and shared but where a side crosses an arc. Requires: no full
/// circles. nullopt where only a boolean can tell what is left: slots that meet, or that leave no ring whole enough.
[[nodiscard]] std::optional<TurnedFaces> slotted(const plane::Path& section, const std::vector<plane::Slot>& slots);

}  // namespace groovewright::solid
