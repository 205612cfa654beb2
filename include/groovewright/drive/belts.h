// belts.h: which belt to buy.
#pragma once

#include <span>
#include <string>

#include "groovewright/drive/swing.h"

namespace groovewright::drive {

/// A belt as it is ordered by ISO 9981 and 9982 (DIN 7867): ribs, section, effective length in whole mm: "8PK 1495".
[[nodiscard]] std::string designation(const Belt& belt);

/// The effective length, as the standard measures it, of the belt that holds the tensioner in the middle of its swing:
/// the path there, less what the belt gives under its tension. mm; 0 where no belt is held there.
[[nodiscard]] double length_to_look_for(const Swing& swing);

/// The drive with one belt of those on offer: the one that leaves the tensioner the most way to its nearer stop over
/// length tolerance, heat and stretch; without a tensioner the nearest to the path. Where nothing is offered, the
/// length that puts the tensioner in the middle of its swing, in whole mm. `lengths` rise. The drive comes back as it
/// was where no belt can be laid.
[[nodiscard]] Drive with_best_belt(const Drive& drive, std::span<const double> lengths);

/// The drive with a belt of this effective length, mm, and the tolerance that goes with it.
[[nodiscard]] Drive with_length(Drive drive, double length, const std::string& source);

}  // namespace groovewright::drive
