#include "arcs.h"

#include <cmath>
#include <numbers>

namespace groovewright::ink {

plane::Path in_half_turns(const plane::Path& path) {
  plane::Path halves;
  halves.reserve(path.size());
  for (const plane::Edge& edge : path) {
    if (std::abs(edge.sweep()) <= std::numbers::pi) {
      halves.push_back(edge);
      continue;
    }
    const plane::Vec2 middle = edge.at(0.5);
    halves.push_back({edge.a, middle, edge.turn, edge.centre});
    halves.push_back({middle, edge.b, edge.turn, edge.centre});
  }
  return halves;
}

}  // namespace groovewright::ink
