// setup_picture.h: inside room `job`: clampings as pictures to scale. Lengths mm on paper.
#pragma once

#include <vector>

#include "program.h"
#include "setup_marks.h"

namespace groovewright::job {

/// The half section in the clamping's own half plane, chuck left: stock as it comes (phantom), what holds it, the metal
/// once the last tool is done, the zero, and what is measured before the start. The largest scale of ISO 5455 at which
/// all of it is legible within `width` and `height`. Requires: proof of all clampings.
[[nodiscard]] Picture turning_picture(const Prepared& prepared, std::size_t turning, const Proof& proof,
                                      report::Units units, const plane::Scribe& scribe, double width, double height);

/// A hole as the mill's program meets it: numbered from 1 in the order in which the program first comes to it.
struct NumberedHole {
  int number = 0;
  const plane::RoundHole* hole = nullptr;
  plane::Vec2 at;  ///< in the program
};
[[nodiscard]] std::vector<NumberedHole> numbered_holes(const Prepared& prepared, const toolpath::Milling& milling,
                                                       const nc::Trace& trace);
/// The face that is up, as it is seen, with its holes numbered, zero and axes.
[[nodiscard]] Picture milling_picture(const Prepared& prepared, const toolpath::Milling& milling,
                                      const std::vector<NumberedHole>& holes, const plane::Scribe& scribe, double width,
                                      double height);

}  // namespace groovewright::job
