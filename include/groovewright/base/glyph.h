// glyph.h: characters as strokes of a round pen. Data that `catalog` reads and `plane` writes with.
#pragma once

#include <array>
#include <map>
#include <vector>

namespace groovewright {

/// All in heights of a capital. x starts at the glyph's own left border, half a letter's space before its ink; y at the
/// base line, on which the ink of a capital stands (the middle of the line half a line width above).
struct Glyph {
  double advance = 0;  ///< to the next glyph's left border
  /// Points in the middle of the line; a stroke of one point is a dot.
  std::vector<std::vector<std::array<double, 2>>> strokes;
};
using Glyphs = std::map<char32_t, Glyph>;

}  // namespace groovewright
