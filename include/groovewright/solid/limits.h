// limits.h: what a part must meet, bound to its walls: sizes with limits, datums, geometrical tolerances. `Kernel`
// writes them into a STEP file as requirements that programs understand, and reads them back. Lengths mm.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "groovewright/plane.h"

namespace groovewright::solid {

/// What a straight line sweeps: about an axis parallel to Z, or along Z.
struct Wall {
  enum class Kind { turned, side, other };
  Kind kind = Kind::turned;
  plane::Vec2 axis = {};       ///< turned: where the axis stands in the cross plane
  plane::Generator line = {};  ///< turned: in the half plane of that axis; side: in the cross plane. Either direction
};
/// Places as near as this are the same: what files of other systems are good to.
inline constexpr double kSamePlace = 1e-6;

/// The wall that a straight edge of the section sweeps.
[[nodiscard]] Wall turned(const plane::Generator& edge);
/// The narrowest cylinder of a hole: what a screw or a pin goes through. Broken where it has none.
[[nodiscard]] Wall wall_of(const plane::RoundHole& hole);
/// The two sides of a slot.
[[nodiscard]] std::array<Wall, 2> sides_of(const plane::Slot& slot);
/// True where `found` lies on the surface of `meant`, in part at least: within kSamePlace of it, and longer than that.
[[nodiscard]] bool lies_on(const Wall& found, const Wall& meant);

/// Where a requirement stands. Meant: the walls as drawn. Read back: one for each face, as far as its corners reach.
struct On {
  std::vector<Wall> walls = {};
  int left_out = 0;  ///< read back only: faces that lie on those walls, but that the requirement does not name
};

/// A size that the part is accepted by. Requires: lower < upper.
struct Size {
  enum class Kind { diameter, over_balls };
  std::string id = {};     ///< as on the sheets
  std::string label = {};  ///< in words
  Kind kind = Kind::diameter;
  double value = 0, lower = 0, upper = 0;
  double ball = 0;  ///< over_balls: diameter of the ball that lies in the grooves
  On on = {};
};

/// A datum of ISO 5459.
struct Datum {
  std::string letter = {};
  On on = {};
};

/// A geometrical tolerance of ISO 1101. Axial run-out is circular run-out of a flat or conical wall.
struct Zone {
  enum class Kind { flatness, perpendicularity, position, circular_runout };
  std::string id = {};
  std::string label = {};
  Kind kind = Kind::flatness;
  double width = 0;                      ///< the zone's width or diameter, above 0
  bool diametral = false;                ///< the zone is a cylinder
  bool common = false;                   ///< CZ: one pattern of zones
  bool maximum_material = false;         ///< M in a circle
  std::vector<std::string> datums = {};  ///< letters, in order of precedence; none for flatness, one at least for
                                         ///< perpendicularity and run-out
  On on = {};
};

struct Limits {
  std::vector<Size> sizes = {};
  std::vector<Datum> datums = {};
  std::vector<Zone> zones = {};
  [[nodiscard]] bool empty() const { return sizes.empty() && datums.empty() && zones.empty(); }
};
/// Deviations are written in whole steps of this, so that 30.021 - 30 reads 0.021.
inline constexpr double kLimitStep = 1e-9;

/// "" where `read` says what was `meant`: the same requirements in the same order, numbers within kLimitStep, and each
/// on all faces of its walls and no other. Else the first difference in words.
[[nodiscard]] std::string difference(const Limits& meant, const Limits& read);

}  // namespace groovewright::solid
