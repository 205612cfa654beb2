// region.h: inside room `removal`: polygons on the lattice, and what a convex loop meets of them.
#pragma once

#include <utility>

#include "lattice.h"

namespace groovewright::removal {

/// Half planes of a convex ccw loop, each moved inwards (outwards where negative) by a skin.
class Inside {
 public:
  /// `skin` in lattice steps.
  Inside(const Loop& convex, double skin);
  [[nodiscard]] bool meets(const ClipperLib::IntPoint& a, const ClipperLib::IntPoint& b) const;

 private:
  struct Side {
    double nx = 0, ny = 0, offset = 0;  ///< inside: nx x + ny y >= offset
  };
  std::vector<Side> sides_;
  double x_ = 0, y_ = 0;  ///< a corner of the loop: the origin, so that no digits are lost
};

/// Closed loops: outer ones ccw, holes cw.
class Region {
 public:
  Region() = default;
  explicit Region(Loops loops) : loops_(std::move(loops)), box_(box_of(loops_)) {}

  [[nodiscard]] const Loops& loops() const { return loops_; }
  [[nodiscard]] const Box& box() const { return box_; }
  /// Whether anything of the region lies in the loop, its border moved inwards by `skin` steps.
  [[nodiscard]] bool meets(const Loop& convex, double skin) const;
  /// What region and loop share.
  void shared(const Loop& convex, Loops& out) const;
  /// Takes the union of `loops` away. What is left thinner than the lattice is none.
  void take_away(const Loops& loops);

 private:
  [[nodiscard]] bool holds(const ClipperLib::IntPoint& p) const;

  Loops loops_;
  Box box_;
};

[[nodiscard]] Loops united(const Loops& loops);
/// Mean thickness of a loop, lattice steps: twice its area by its length.
[[nodiscard]] double thickness(const Loop& loop);
/// Diameter of the greatest disc that lies in the union of loops, mm; 0 where none of `least` mm does.
[[nodiscard]] double widest_disc(const Loops& loops, double least);

}  // namespace groovewright::removal
