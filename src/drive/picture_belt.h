// picture_belt.h: inside room `drive`: the belt as lines beside its effective line.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "groovewright/drive/route.h"

namespace groovewright::drive {

/// The belt as it lies: the course without the rounds that it misses.
struct LaidBelt {
  Course course;
  Route route;
  std::vector<std::size_t> missed;  ///< as in `Course::pulley`
};
/// nullopt where it cannot be laid. Requires: what `course` does; a position for a drive with a tensioner.
[[nodiscard]] std::optional<LaidBelt> laid_belt(const Drive& drive, std::optional<double> position);

/// A closed line `out` beyond the effective line, away from the ribs: for each round its arc, then its span. Arcs whose
/// radius would vanish are left out. The edges of round i are at 2 i and 2 i + 1; an arc left out is a straight edge.
[[nodiscard]] plane::Path beside_line(const LaidBelt& belt, double out);

}  // namespace groovewright::drive
