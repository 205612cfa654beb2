// blocked.h: inside room `toolpath`: where along a line the nose of a tool may stand. Lengths mm.
#pragma once

#include <vector>

#include "metal.h"

namespace groovewright::toolpath {

struct Span {
  double from = 0, to = 0;
};

/// Where the reference point of a tool may not be, so that none of its pieces stands in a region: their Minkowski sum,
/// of which only lines along x are ever asked for, so that it is kept in convex bands instead of being united.
class Blocked {
 public:
  Blocked(std::vector<Polygon> region, const Bit& tool);

  /// Free spans of the line y = level between `least` and `most`, from small x to large.
  [[nodiscard]] std::vector<Span> free_spans(double level, double least, double most) const;

 private:
  struct Band {
    double low = 0, high = 0;  // of y
    Polygon convex;
  };
  /// Spans of the line that lie in the region, moved by a corner of a piece.
  void add_inside(double level, plane::Vec2 corner, std::vector<Span>& closed) const;

  std::vector<Polygon> region_;
  std::vector<plane::Vec2> corners_;  // one of every piece, turned by half a turn
  std::vector<Band> bands_;           // by low: what pieces cover along the region's sides
};

}  // namespace groovewright::toolpath
