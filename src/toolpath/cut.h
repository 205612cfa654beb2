// cut.h: inside room `toolpath`: a tool in a clamping, the metal round it, and what it does there. Lengths mm; half
// plane of the clamping.
#pragma once

#include <vector>

#include "blocked.h"
#include "groovewright/plane.h"
#include "groovewright/plane/clip.h"
#include "groovewright/toolpath.h"

namespace groovewright::toolpath {

/// One move of a nose's centre.
struct Motion {
  enum class Kind { rapid, feed, ccw, cw };
  Kind kind = Kind::feed;
  plane::Vec2 to, centre;
  double feed_share = 1;  ///< of the operation's feed: less where a tool plunges
};
using Motions = std::vector<Motion>;
inline Motion rapid(plane::Vec2 to) { return {Motion::Kind::rapid, to, {}, 1}; }
inline Motion feed(plane::Vec2 to, double share = 1) { return {Motion::Kind::feed, to, {}, share}; }

/// Arcs stand for chords within `chord_error`.
[[nodiscard]] Bit bit(const Shape& shape, double chord_error);

/// What the tool must not touch and what is left to cut, as they stand.
struct Scene {
  std::vector<Polygon> stock;     ///< metal as it is now
  std::vector<Polygon> keep_out;  ///< jaws, chuck, fixture
};
/// Takes what the cutting part sweeps on feed moves off the stock. `at`: where the nose's centre stands before.
void take_off(std::vector<Polygon>& stock, const Bit& bit, plane::Vec2 at, const Motions& motions);

/// The way in which passes are laid: along u, from large u to small, one level of v after the other downwards.
enum class Lay {
  outside,  ///< along the axis, levels towards it
  facing,   ///< towards the axis, levels to the left
  inside,   ///< along the axis, levels away from it
};
struct Passes {
  Lay lay = Lay::outside;
  double depth = 1;         ///< of a pass, at most
  double clear = 1;         ///< mm from metal where rapid moves end
  bool may_plunge = false;  ///< into what is closed on the side where passes begin
  double plunge_share = 1;  ///< of the feed, straight into metal
  double from = 1e9;        ///< half plane: bounds of the cutting edge across the passes …
  double down_to = -1e9;
  double least = -1e9, most = 1e9;  ///< … and along them; `most` where they plunge
};
/// Level passes that cut all of `scene.stock` outside `keep` that the tool can reach, `scene.stock` less what they
/// take. Begins and ends at `home`, which is clear of all metal in both directions. Empty where nothing can be cut.
[[nodiscard]] Motions level_passes(Scene& scene, const std::vector<Polygon>& keep, const Bit& bit, const Passes& passes,
                                   plane::Vec2 home);

/// Where a nose may not be, so that its tool leaves `keep` and stays clear of `keep_out`: a line of it is a column of
/// the half plane, as `plunges` asks for.
[[nodiscard]] Blocked blocked_columns(const std::vector<Polygon>& keep, const std::vector<Polygon>& keep_out,
                                      const Bit& bit);
struct Plunging {
  double least = 0;  ///< mm²: a plunge that takes less is left out
  double peck = 1;   ///< mm, at most, before the chip is broken
  double over = 0;   ///< radius of the nose's centre at which it goes from place to place, clear of metal
};
/// Plunges towards the axis at the places (z) one after the other, wherever there is metal that the nose may come to:
/// the grooving tool's way. Begins and ends at `over`.
[[nodiscard]] Motions plunges(Scene& scene, const Blocked& columns, const Bit& bit, const std::vector<double>& places,
                              const Plunging& how);

}  // namespace groovewright::toolpath
