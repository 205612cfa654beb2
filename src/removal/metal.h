// metal.h: inside room `removal`: the metal in strips across the axis, so that each cut touches little of it.
#pragma once

#include <vector>

#include "region.h"

namespace groovewright::removal {

/// What is to be cut is put aside for each strip and taken away at once when it matters: the order of cuts makes no
/// difference between two looks.
class Metal {
 public:
  /// `strips`: into how many the stock is cut.
  Metal(const Loops& stock, int strips);

  /// A convex ccw loop is gone. What lies beyond the axis counts at its distance from it: the part turns.
  void cut(const Loop& convex);
  /// Whether metal may stand in the loop by more than `skin` steps: false is sure, true may be old.
  [[nodiscard]] bool may_meet(const Loop& convex, double skin) const;
  /// What stands in the loop, now.
  void shared(const Loop& convex, double skin, Loops& out);
  /// All that is left; outer loops ccw, holes cw.
  [[nodiscard]] Loops all();
  [[nodiscard]] const Box& box() const { return box_; }  ///< of the stock

 private:
  struct Strip {
    Region region;
    Loops aside;
    std::size_t corners_aside = 0;
    void settle();
  };
  /// Calls `act` with each strip that the loop may reach.
  template <class Strips, class Act>
  static void each(Strips& strips, const Metal& metal, const Loop& convex, const Act& act);
  void cut_one_side(const Loop& convex);

  std::vector<Strip> strips_;
  Box box_;
  Steps width_ = 1;
};

}  // namespace groovewright::removal
