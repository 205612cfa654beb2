// picture.h: the pictures of the README: a shaded view of triangles, and a section through the axis drawn from the
// outline.
#pragma once

#include <string>
#include <string_view>

#include "groovewright/job.h"

namespace groovewright::picture {

struct View {
  int width = 900, height = 700;   ///< pixels
  Angle azimuth = Angle::deg(48);  ///< of the eye from the part's axis (+Z), to the right
  Angle elevation = Angle::deg(20);
};

/// The part of a binary STL on white, as a PNG. Throws std::runtime_error where the bytes are no binary STL of a body.
[[nodiscard]] std::string shaded(std::string_view stl, const View& view);

/// Full section through the axis with its main dimensions, and two grooves of the front rim enlarged, as an SVG.
[[nodiscard]] std::string section_svg(const job::Prepared& prepared);

}  // namespace groovewright::picture
