// outline.h: inside room `removal`: nearest points of exact edges, many times.
#pragma once

#include <limits>
#include <vector>

#include "groovewright/plane.h"

namespace groovewright::removal {

/// Distance from a point to one edge, and whether its foot lies between the edge's ends.
struct Foot {
  double distance = std::numeric_limits<double>::infinity();
  bool between = false;
  bool left = false;  ///< of the edge; where `between`
};
[[nodiscard]] Foot foot_on(const plane::Edge& edge, plane::Vec2 p);

/// Edges sorted into square cells.
class Outline {
 public:
  explicit Outline(plane::Path edges);

  struct Nearest {
    std::size_t edge = 0;
    Foot foot;
  };
  /// Requires: there is an edge.
  [[nodiscard]] Nearest nearest(plane::Vec2 p) const;
  [[nodiscard]] const plane::Path& edges() const { return edges_; }

 private:
  struct Cell {
    long x = 0, y = 0;
  };
  [[nodiscard]] Cell cell_at(plane::Vec2 p) const;
  void look(long x, long y, plane::Vec2 p, Nearest& best) const;

  plane::Path edges_;
  plane::Vec2 low_;
  double size_ = 1;  ///< of a cell
  long columns_ = 1, rows_ = 1;
  std::vector<std::vector<std::size_t>> cells_;
};

}  // namespace groovewright::removal
