// plates.h: objects onto beds, side by side.
#pragma once

#include <vector>

#include "groovewright/catalog.h"

namespace groovewright::print {

struct Footprint {
  double width = 0, depth = 0, height = 0;
};
struct Spot {
  std::size_t plate = 0;
  double x = 0, y = 0;  ///< of the footprint's front left corner, from the bed's
  bool quarter_turn = false;
};
/// True where an empty bed holds it, one way round or the other.
[[nodiscard]] bool fits(const Footprint& object, const catalog::Printer& printer);
/// One spot each, on as few beds as a simple shelf filling needs. The printer's margin stays free around each.
/// Requires: each fits.
[[nodiscard]] std::vector<Spot> laid_out(const std::vector<Footprint>& objects, const catalog::Printer& printer);

}  // namespace groovewright::print
