// metal.h: inside room `toolpath`: does a tool stand in metal? Lengths mm.
#pragma once

#include <vector>

#include "groovewright/plane.h"
#include "groovewright/plane/clip.h"
#include "groovewright/plane/pieces.h"

namespace groovewright::toolpath {

using plane::moved;
using plane::Polygon;

/// A tool's outline as convex polygons about its nose's centre.
struct Bit {
  std::vector<Polygon> cutting, holder;

  [[nodiscard]] std::vector<Polygon> all() const {
    std::vector<Polygon> both = cutting;
    both.insert(both.end(), holder.begin(), holder.end());
    return both;
  }
};

/// Borders of metal that must stay, sorted for quick looking up.
class Metal {
 public:
  explicit Metal(const std::vector<Polygon>& region);

  /// True where the convex polygon shares area with the metal. ccw.
  [[nodiscard]] bool holds(const Polygon& convex) const;

 private:
  struct Side {
    plane::Vec2 a, b;
    double low = 0, high = 0;  // of x
  };
  [[nodiscard]] std::vector<Side>::const_iterator first_from(double x) const;
  [[nodiscard]] bool winds_round(plane::Vec2 p) const;

  std::vector<Side> sides_;  // by low
  double widest_ = 0;
};

/// The least box round all points; low above high where there are none.
[[nodiscard]] plane::Box box_of(const std::vector<Polygon>& loops);
/// What a convex, ccw polygon covers on a straight way: convex again, and ccw.
[[nodiscard]] Polygon swept(const Polygon& convex, plane::Vec2 from, plane::Vec2 to);

}  // namespace groovewright::toolpath
