// turned.h: the turned part as rings (circles of vertices) with strips between them, and the frames of its slots.
#pragma once

#include <vector>

#include "builder.h"
#include "groovewright/plane.h"

namespace groovewright::mesh {

/// A slot seen from its own ray: `along` outwards, `across` to its left.
class SlotFrame {
 public:
  explicit SlotFrame(const plane::Slot& slot);

  [[nodiscard]] bool inward() const { return slot_.inward; }
  [[nodiscard]] double angle() const { return slot_.angle; }  ///< in [0, 2 pi)
  [[nodiscard]] double half() const { return slot_.width / 2; }
  [[nodiscard]] double floor() const { return slot_.floor; }
  [[nodiscard]] double z0() const { return slot_.z0; }
  [[nodiscard]] double z1() const { return slot_.z1; }
  /// Radius at which floor and sides meet.
  [[nodiscard]] double limit() const { return limit_; }
  /// How far the radius lies inside the slot's range, seen from its floor's corner.
  [[nodiscard]] double depth(double r) const { return slot_.inward ? limit_ - r : r - limit_; }
  /// True strictly inside the slot's range of Z and radius.
  [[nodiscard]] bool holds(plane::Vec2 zr) const { return slot_.z0 < zr.x && zr.x < slot_.z1 && depth(zr.y) > 0; }
  /// Half the angle that the slot takes from a circle. Requires: r > half().
  [[nodiscard]] double lip_angle(double r) const;
  /// Distance from the axis, along the ray, at which a circle meets the sides. Requires: r > half().
  [[nodiscard]] double reach(double r) const;
  [[nodiscard]] Vec3 point(double along, double across, double z) const;
  [[nodiscard]] double along(const Vec3& v) const { return v.x * ray_.x + v.y * ray_.y; }
  /// Ends that coincide with corners of the section lie exactly there.
  void snap_to(const plane::Path& section);

 private:
  plane::Slot slot_;
  plane::Vec2 ray_;
  double limit_ = 0;
};

/// Where a slot meets a ring.
struct Lips {
  std::size_t slot = 0;
  std::size_t low = 0, high = 0;  ///< nodes of the ring; the slot lies between, counter-clockwise
};

struct Ring {
  double z = 0, r = 0;
  Row nodes;  ///< once around from angle 0; inside a slot that cuts both sides of the ring there are none
  std::vector<Lips> lips;

  [[nodiscard]] const Lips& lips_of(std::size_t slot) const;
  /// The whole circle, closed.
  [[nodiscard]] Row whole() const;
  /// From one node counter-clockwise to another, the first angle within half a turn of `near`.
  [[nodiscard]] Row part(std::size_t from, std::size_t to, double near) const;
  /// What lies between a slot's lips. Requires: the slot cuts one side of the ring only.
  [[nodiscard]] Row gap(const SlotFrame& frame, std::size_t slot) const;
};

/// A slot that takes something from a strip, at its first ring, its last, or both.
struct Cut {
  std::size_t slot = 0;
  bool at_start = false, at_end = false;
  Row notch;  ///< where the slot's floor meets a wall that it cuts in part
  [[nodiscard]] bool in_part() const { return at_start != at_end; }
};

struct Strip {
  enum class Kind { curved, wall, axis };
  Kind kind = Kind::curved;
  std::vector<Cut> cuts;  ///< by slot
  std::size_t piece = 0;  ///< of the section that it came from
};

/// Strip i runs from ring i to ring i + 1, and the last one back to ring 0; metal to the left.
struct Turned {
  std::vector<SlotFrame> slots;  ///< by angle
  std::vector<Ring> rings;
  std::vector<Strip> strips;

  [[nodiscard]] const Ring& start(std::size_t strip) const { return rings[strip]; }
  [[nodiscard]] const Ring& end(std::size_t strip) const { return rings[(strip + 1) % rings.size()]; }
};

/// A stretch of the section that becomes one strip (line) or several (arc).
struct Piece {
  plane::Edge edge;
  Strip::Kind kind = Strip::Kind::curved;
  std::vector<Cut> cuts;
};

/// The section as pieces: walls that are one face are one piece, curved edges end where slots do.
[[nodiscard]] std::vector<Piece> pieces(const plane::Path& section, const std::vector<SlotFrame>& slots);
/// Rings and strips with all their vertices.
[[nodiscard]] Turned turn(const std::vector<Piece>& pieces, std::vector<SlotFrame> slots, double deflection,
                          Builder& builder);
/// Emits what slots leave open: floors, sides and ends; notes their notches in the walls.
void line_slots(Turned& turned, double deflection, Builder& builder);

}  // namespace groovewright::mesh
