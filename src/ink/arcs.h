// arcs.h: what all three formats ask of a path.
#pragma once

#include "groovewright/plane.h"

namespace groovewright::ink {

/// The path with each arc of more than half a turn cut in two, so that its ends and its bulge tell what it is.
[[nodiscard]] plane::Path in_half_turns(const plane::Path& path);

}  // namespace groovewright::ink
