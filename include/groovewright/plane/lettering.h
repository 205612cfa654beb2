// lettering.h: text as strokes of a round pen, straight or round a circle, and the outlines of such strokes. Lengths
// mm.
//   write_line -> (bend) -> outlines -> mesh::extruded: raised text. Drawings use the strokes themselves.
#pragma once

#include <string_view>
#include <vector>

#include "groovewright/base/glyph.h"
#include "groovewright/plane.h"

namespace groovewright::plane {

/// Points in the middle of the pen's line; one point alone is a dot.
using Stroke = std::vector<Vec2>;
using Strokes = std::vector<Stroke>;

/// One line of text from (0, 0), the left end of its base line; `height` is that of capitals over the ink. A character
/// without a glyph is written as '?'. Requires: height > 0; `glyphs` holds '?' or all characters.
[[nodiscard]] Strokes write_line(const Glyphs& glyphs, std::string_view utf8, double height);
/// What that line takes along its base line, half a letter's space at both ends included. Requires: as `write_line`.
[[nodiscard]] double text_width(const Glyphs& glyphs, std::string_view utf8, double height);

/// Where the tops of letters on a circle point: outward text reads clockwise, inward counter-clockwise.
enum class Tops { outward, inward };
/// The line bent round a circle about the origin, on which its base line then lies; the middle of the strokes' extent
/// in x comes to `middle_angle`. Lengths along the base line are kept; strokes are split so that chords stay within
/// kBendError of the bent ones. Requires: radius > 0, and no stroke reaches the centre.
[[nodiscard]] Strokes bend(const Strokes& line, double radius, double middle_angle, Tops tops);
inline constexpr double kBendError = 0.01;

/// A closed run of points, the first not repeated.
using Polygon = std::vector<Vec2>;
/// Points of outlines are never nearer to their neighbours than this.
inline constexpr double kLeastStep = 1e-3;
/// The union of all that a round pen of `line_width` covers: outer loops counter-clockwise, holes clockwise; loops
/// neither cross nor touch (ink that only touches is joined by a neck). Rounds are inscribed polygons with at most
/// `chord_error`; points lie on a lattice of 1e-5 mm and, where borders were mended, within 3 kLeastStep of their
/// place. Requires: both > 0; coordinates within 1e4 mm.
[[nodiscard]] std::vector<Polygon> outlines(const Strokes& strokes, double line_width, double chord_error);

}  // namespace groovewright::plane
