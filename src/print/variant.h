// variant.h: what the plastic part differs by: openings widened to slip on, thick walls thinned.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "groovewright/print.h"
#include "groovewright/section.h"

namespace groovewright::print {

/// A size before and after, for the page.
struct Change {
  std::string what;
  double metal = 0, plastic = 0;  ///< mm, as it shall measure
};

struct Variant {
  part::Part part;
  section::Section section;
  std::vector<Change> changes;
  bool thinned = false;   ///< the web is thinner than the metal part's
  bool windowed = false;  ///< windows were added
};

/// The lightest variant that can be drawn. nullopt where not even the heaviest can; then `diagnostics` says why.
/// `windows`: how many to cut into a web that has none.
[[nodiscard]] std::optional<Variant> plastic_variant(const part::Part& part, const catalog::Printer& printer,
                                                     int windows, Diagnostics& diagnostics);

}  // namespace groovewright::print
