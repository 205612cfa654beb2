// marking.h: raised lettering on a piece, as meshes of their own that touch it.
#pragma once

#include <vector>

#include "groovewright/print.h"
#include "variant.h"

namespace groovewright::print {

/// Between two cuts, in the cross plane; the whole turn for a part in one piece.
struct Sector {
  double from = 0, to = 0;  ///< rad, ccw
};

/// What every piece says: "FIT CHECK – DO NOT RUN", its name and revision, and two bars for the scale. Put on a flat
/// face that looks to `side`, clear of openings, screw heads and cuts, as large as fits; what fits nowhere is left out,
/// and `left_out` counts it.
[[nodiscard]] std::vector<mesh::Mesh> marking(const Variant& variant, const Choice& choice, part::Side side,
                                              const Sector& sector, const std::string& name, int& left_out);

/// Distance between the feet of the two bars, mm.
inline constexpr double kBars = 20;

}  // namespace groovewright::print
