// groups.h: inside room `toolpath`: which edges of the outline are cut in a clamping, and as what. Half plane of the
// clamping: chuck left, free side right.
#pragma once

#include <cstddef>
#include <vector>

#include "groovewright/section.h"

namespace groovewright::toolpath {

/// The outline as a clamping sees it: closed, ccw.
struct Outline {
  plane::Path path;
  std::vector<section::Tag> tags;
};
/// Program z = (turned ? -1 : 1) z + shift.
[[nodiscard]] Outline outline(const section::Section& section, bool turned, double shift);
[[nodiscard]] plane::Path placed(const plane::Path& path, bool turned, double shift);

/// Edges by number, in the outline's order.
using Chain = std::vector<std::size_t>;
struct Groups {
  Chain bore;        ///< the bore itself
  Chain free_mouth;  ///< what opens it to the free side: steps, floors, edge breaks
  Chain free_face;   ///< all between there and the rim's free face, that included
  Chain outside;     ///< the rim's outside, its edge on the far side left out
  Chain far_face;    ///< that edge and all up to the bore's far mouth
};
[[nodiscard]] Groups groups(const Outline& outline);
[[nodiscard]] plane::Path path_of(const Outline& outline, const Chain& chain);

/// Grooves of the outside, from right to left: edges of the crest, flank, root, flank and crest.
struct GrooveEdges {
  std::size_t right_crest = 0, falling = 0, root = 0, rising = 0, left_crest = 0;
  int rim = 0;
};
[[nodiscard]] std::vector<GrooveEdges> grooves(const Outline& outline);

}  // namespace groovewright::toolpath
