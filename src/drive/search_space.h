// search_space.h: inside room `drive`: combinations by number, without allocating.
#pragma once

#include <vector>

#include "groovewright/drive/search.h"

namespace groovewright::drive {

/// Which radius and place of one varied pulley.
struct Picked {
  std::size_t radius = 0, place = 0;
};
/// Of the layout with this number: a combination's, less belt and turn.
void pick(const SearchSpace& space, std::uint64_t layout, std::vector<Picked>& out);
[[nodiscard]] std::vector<Picked> picked(const SearchSpace& space, std::uint64_t layout);

/// A pulley with another radius, the crests as far from it as they were.
void resize(Pulley& pulley, double radius);

}  // namespace groovewright::drive
