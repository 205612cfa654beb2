// offset.h: inside room `toolpath`: where a nose centre goes to leave a chain of edges. Lengths mm.
#pragma once

#include <vector>

#include "groovewright/plane.h"

namespace groovewright::toolpath {

/// A piece of the nose centre's way and the edge of the chain that it leaves; -1 round a sharp corner.
struct Trail {
  plane::Edge edge;
  int leaves = -1;
};
/// The exact way of a circle's centre that keeps `by` to the right of the chain: lines stay lines and arcs arcs. Sharp
/// corners that stand out are gone round, inner ones are cut short where the two ways meet, and roundings that are too
/// small for the circle vanish; where neighbours' ways never meet, there is a gap. What lies farther apart than
/// neighbours is not looked at: see `Metal`. Requires: by > 0; the chain open, nose to tail.
[[nodiscard]] std::vector<Trail> offset(const plane::Path& chain, double by);

}  // namespace groovewright::toolpath
