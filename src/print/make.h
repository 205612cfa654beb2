// make.h: what is known of a print once it is laid out, for its rows and its page.
#pragma once

#include <vector>

#include "groovewright/print.h"
#include "split.h"
#include "variant.h"

namespace groovewright::print {

struct Facts {
  Variant variant;
  std::vector<Cut> cuts;
  double deflection = 0;
  double least_lean = 0;  ///< rad from the bed, of what needs no support
  double support = 0;     ///< mm², projected, of all pieces
  double other_side = 0;  ///< the same with the other face down, axis upright
  double volume = 0;      ///< mm³ of plastic, everything on the plates
  std::size_t open_meshes = 0;
  int left_out = 0;                    ///< lettering that found no room
  std::vector<std::string> too_large;  ///< gauges that the bed does not hold
};

[[nodiscard]] Rows rows(const part::Part& metal, const Choice& choice, const Print& print, const Facts& facts);
[[nodiscard]] std::string page(const part::Part& metal, const Choice& choice, const Print& print, const Facts& facts);

}  // namespace groovewright::print
