// sweep.h: inside room `removal`: the ways of moves, and what a convex shape covers on them.
#pragma once

#include <functional>
#include <vector>

#include "convex.h"
#include "groovewright/nc.h"
#include "lattice.h"

namespace groovewright::removal {

/// From a program's half plane to the part's.
struct Setup {
  bool turned = false;
  double shift = 0;
  /// (program z, radius) -> (part z, radius).
  [[nodiscard]] plane::Vec2 to_part(plane::Vec2 p) const { return {turned ? shift - p.x : p.x - shift, p.y}; }
};

/// The points of a lathe's move after its start, in the program's half plane: its end, or the ends of an arc's chords,
/// each within `sag`. An arc whose radii differ runs from the one to the other evenly.
[[nodiscard]] std::vector<plane::Vec2> way_of(const nc::Move& move, double sag);
[[nodiscard]] plane::Vec2 half_plane(const nc::Point& p);
/// True where all of the move's points are numbers within kFarthest; its start counts where it is known.
[[nodiscard]] bool is_within_reason(const nc::Move& move, bool from_known);

/// All that the shape covers on a straight way, one convex loop.
[[nodiscard]] Loop covered(const Convex& shape, plane::Vec2 from, plane::Vec2 to);

/// A shape that goes its way in straight pieces. Told to `cut` as convex loops that together cover what the shape does
/// and nothing else: at each start the back half of the shape, along each piece the strip between its two touching
/// points, at each bend what the shape's outer side sweeps in turning, at each end the front half. That is a fifth of
/// the corners that whole shapes at each bend would have.
class Sweeper {
 public:
  using Cut = std::function<void(Loop&&)>;
  Sweeper(const Convex& shape, Cut cut) : shape_(&shape), cut_(std::move(cut)) {}

  void jump(plane::Vec2 to);  ///< without cutting
  void go(plane::Vec2 to);
  void pause();  ///< all that was covered so far is told

 private:
  struct Course {
    double angle = 0;  ///< of the way, any number of turns
    plane::Vec2 along;
    Convex::Touch right, left;
  };
  [[nodiscard]] Course course(plane::Vec2 along) const;
  void tell(const std::vector<plane::Vec2>& loop);
  void bend(const Course& next);

  const Convex* shape_;
  Cut cut_;
  plane::Vec2 at_;
  Course course_;
  bool moving_ = false;  ///< the front half at `at_` is not told yet
};

}  // namespace groovewright::removal
