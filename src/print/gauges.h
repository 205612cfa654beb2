// gauges.h: what is printed beside the part to try it and its metal neighbours with.
#pragma once

#include <vector>

#include "groovewright/print.h"

namespace groovewright::print {

/// Objects in the pose in which they are printed, anywhere above the bed: combs, belt-room strips and crest gauges, one
/// of each a rim; a disc of the bolt pattern; the stand-in hub with its screws. `deflection`: chord error, mm.
[[nodiscard]] std::vector<Object> gauges(const part::Part& part, const catalog::Printer& printer, double deflection);

/// Between the outer notches of the strip: a check of the printer's scale, mm.
inline constexpr double kScaleCheck = 100;
/// Where sectors of the part's rings begin, cross plane: off the rays on which a ring's own vertices lie.
inline constexpr double kSectorFrom = 0.011;

}  // namespace groovewright::print
