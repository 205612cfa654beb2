// end_names.h: inside room `plane`: names in a column at the right of a plot, each with a leader from its curve's end.
#pragma once

#include <string>
#include <vector>

#include "groovewright/plane/pieces.h"

namespace groovewright::plane {

/// Of a curve or a level line.
struct EndName {
  std::string text;
  Vec2 anchor;
  double y = 0;  ///< of the text's middle: set by `end_names`
};
/// From base line to base line.
inline constexpr double kLinePitch = 1.7 * kLetters;
/// The leaders, and the clear space between them and the names.
inline constexpr double kEndLead = 7, kEndGap = 0.8;

/// Writes the names between the heights `low` and `high` beside x = `right`, in the order of their anchors where
/// leaders allow it; no two leaders cross. Those that find no room are counted in a last line. Requires: every anchor
/// at x <= `right`.
void end_names(View& view, std::vector<EndName> names, double low, double high, double right, const Scribe& scribe);

}  // namespace groovewright::plane
