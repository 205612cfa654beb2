// convex.h: inside room `removal`: a convex shape and the points in which straight lines touch it.
#pragma once

#include <cstddef>
#include <vector>

#include "groovewright/plane.h"

namespace groovewright::removal {

/// A closed, ccw, convex path. Its rounds are chords within `sag`, inscribed; touching points are exact all the same,
/// so what such a shape leaves beside a straight way is exact.
class Convex {
 public:
  /// Requires: closed, ccw, convex. `turned`: mirrored, x for -x.
  Convex(const plane::Path& path, bool turned, double sag);

  /// The point farthest along a direction, and where it stands among the corners.
  struct Touch {
    plane::Vec2 at;
    long place = 0;
  };
  /// `normal`: of unit length; `angle`: its angle, any number of turns: places rise with it.
  [[nodiscard]] Touch touch(plane::Vec2 normal, double angle) const;
  /// Appends from one touching point ccw to the other, both included, moved by `by`. Requires: from.place <= to.place.
  void border(const Touch& from, const Touch& to, plane::Vec2 by, std::vector<plane::Vec2>& out) const;
  /// All corners, ccw.
  [[nodiscard]] std::vector<plane::Vec2> corners(plane::Vec2 by) const;
  /// A box about the shape.
  [[nodiscard]] plane::Vec2 low() const { return low_; }
  [[nodiscard]] plane::Vec2 high() const { return high_; }

 private:
  struct Corner {
    plane::Vec2 at;
    int arc_before = -1, arc_after = -1;     ///< arcs whose chords meet here; -1: a straight edge
    double before_from = 0, after_from = 0;  ///< angle of the arc's own normal here
    double normal = 0;                       ///< angle of the edge that follows; never falls
  };
  void set_normals();
  void set_arc_angles();

  std::vector<Corner> corners_;
  std::vector<plane::Edge> arcs_;
  std::vector<double> radii_;
  plane::Vec2 low_, high_;
};

}  // namespace groovewright::removal
