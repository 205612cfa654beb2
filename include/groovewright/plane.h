// plane.h: exact 2D shapes (lines and arcs) and the solid that they span when turned. Knows nothing of pulleys.
//
// Lengths mm, angles rad. Two planes are in use, both as Vec2:
//   - the cross plane: x, y as seen from the front (from +Z); angles counter-clockwise.
//   - the half plane of a turned part: x is Z along the axis, y is the radius (never negative).
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace groovewright::plane {

/// Points closer than this are one point; nothing shorter is ever made.
inline constexpr double kCoincident = 1e-7;

struct Vec2 {
  double x = 0, y = 0;
  bool operator==(const Vec2&) const = default;
};
[[nodiscard]] constexpr Vec2 operator+(Vec2 a, Vec2 b) { return {a.x + b.x, a.y + b.y}; }
[[nodiscard]] constexpr Vec2 operator-(Vec2 a, Vec2 b) { return {a.x - b.x, a.y - b.y}; }
[[nodiscard]] constexpr Vec2 operator*(double k, Vec2 v) { return {k * v.x, k * v.y}; }
[[nodiscard]] constexpr double dot(Vec2 a, Vec2 b) { return a.x * b.x + a.y * b.y; }
[[nodiscard]] constexpr double cross(Vec2 a, Vec2 b) { return a.x * b.y - a.y * b.x; }
[[nodiscard]] double norm(Vec2 v);
[[nodiscard]] Vec2 unit(Vec2 v);  ///< Requires: |v| > kCoincident.
[[nodiscard]] Vec2 polar(double radius, double rad);

/// A straight piece or a circular arc from `a` to `b`. A full circle has a == b and `turn` ccw or cw.
struct Edge {
  enum class Turn { straight, ccw, cw };
  Vec2 a, b;
  Turn turn = Turn::straight;
  Vec2 centre;  ///< arcs only

  [[nodiscard]] bool is_arc() const { return turn != Turn::straight; }
  [[nodiscard]] bool is_full_circle() const { return is_arc() && a == b; }
  [[nodiscard]] double radius() const;  ///< arcs only
  [[nodiscard]] double sweep() const;   ///< angle turned from a to b, ccw positive; 0 for a line
  [[nodiscard]] double length() const;
  [[nodiscard]] Vec2 at(double t) const;          ///< point at fraction t in [0, 1] of the length
  [[nodiscard]] Vec2 tangent_at(double t) const;  ///< unit direction of travel
  [[nodiscard]] Edge reversed() const;
};

[[nodiscard]] Edge straight(Vec2 a, Vec2 b);

/// Edges nose to tail. Closed when the last edge ends where the first begins.
using Path = std::vector<Edge>;

[[nodiscard]] bool is_closed(const Path& p);
/// Signed area of a closed path, ccw positive. Exact for lines and arcs.
[[nodiscard]] double area(const Path& p);
/// Greatest y of the corners: in a half plane the radius of what lies farthest out.
[[nodiscard]] double outermost(const Path& p);
/// A full circle, counter-clockwise.
[[nodiscard]] Path circle(Vec2 centre, double radius);
/// The path moved, then turned ccw by `rad` about the origin.
[[nodiscard]] Path turned(const Path& p, double rad);

/// A corner of a polygon and how it is broken: rounded with `fillet`, cut at 45°-style with legs `chamfer`, or sharp.
struct Corner {
  Vec2 at;
  double fillet = 0;
  double chamfer = 0;
};
/// Which corner or side an edge of the broken polygon came from: side i runs from corner i to corner i+1.
struct BrokenEdge {
  Edge edge;
  int index = 0;  ///< of the side or the corner
  bool is_corner = false;
};
/// The closed polygon through `corners` with each corner broken exactly; sides of no length are left out, and corners
/// that coincide count as one. Order: corner 0, side 0, corner 1 … Neighbours share their points bit by bit; a side
/// along x or y keeps its coordinate bit by bit. Requires: three corners at least; no corner both rounded and cut
/// (Broken). nullopt where breaks do not fit on a side (`misfit` then holds that side's index).
[[nodiscard]] std::optional<std::vector<BrokenEdge>> broken_polygon(const std::vector<Corner>& corners,
                                                                    int* misfit = nullptr);

/// Points on the path: every arc split so that its chord error is at most `deflection`; lines keep their ends only.
/// The first point is not repeated at the end of a closed path.
[[nodiscard]] std::vector<Vec2> polyline(const Path& p, double deflection);
/// Steps for an arc of this sweep and radius at this chord error (at least 1; no step wider than a twelfth of a turn).
[[nodiscard]] int arc_steps(double radius, double sweep, double deflection);
/// Least distance between two paths' edges, 0 where they cross.
[[nodiscard]] double distance(const Path& a, const Path& b);
/// Least distance from a point to a path's edges.
[[nodiscard]] double distance(Vec2 p, const Path& path);
/// True when the closed path's inside holds `p` (winding number; points on the edge: either).
[[nodiscard]] bool contains(const Path& closed, Vec2 p);

// ---- the solid spanned by a half section turned about the axis, less holes, pockets and slots ----

/// A round hole parallel to the axis. `profile` runs from its mouth to its end in the hole's own half plane
/// (x = Z, y = radius): monotone in Z (steps square to the axis allowed), lines only. A through hole ends on the
/// opposite wall with radius > 0; a blind one ends with radius 0. Mouths lie in flat walls square to the axis, clear of
/// their edges.
struct RoundHole {
  std::string id;  ///< "bolt_1[3]": for messages and rows
  Vec2 at;
  std::vector<Vec2> profile;
  bool through = true;
};

/// Greatest radius of a hole.
[[nodiscard]] double widest(const RoundHole& hole);

/// One loop of a pocket: closed, ccw, in the plane Z = z.
struct Level {
  double z = 0;
  Path loop;
};
/// A prismatic opening parallel to the axis. Consecutive levels match edge by edge: lines parallel, arcs concentric, so
/// that walls are planes, cylinders and cones; where an arc differs between levels it is tangent to its neighbours.
/// Levels run monotone in Z from the mouth; a blind one ends in a flat floor at the last level. Mouths lie in flat
/// walls square to the axis, clear of their edges.
struct Pocket {
  std::string id;
  std::vector<Level> levels;
  bool through = true;
};

/// A slot along the axis, with parallel sides, that opens into the bore (`inward`, a keyway) or out of a rim edge
/// (a tooth gap, a mark). Symmetric about the ray at `angle` (cross plane, ccw from +x).
struct Slot {
  std::string id;
  double angle = 0;
  double width = 0;
  double floor = 0;  ///< distance of the floor from the axis; flat for an inward slot, a cylinder for an outward one
  bool inward = true;
  double z0 = 0, z1 = 0;  ///< extent; may reach past the part (through)
};

/// The whole body. `section` is closed and ccw in the half plane, with every edge's y >= 0; it does not touch the axis
/// unless it runs along it.
struct TurnedBody {
  Path section;
  std::vector<RoundHole> holes;
  std::vector<Pocket> pockets;
  std::vector<Slot> slots;
};

struct MassProperties {
  double volume = 0;                  ///< mm³
  double polar_inertia = 0;           ///< ∫ r² dV about the axis, mm⁵ (times density: kg mm²)
  double surface = 0;                 ///< mm², walls of openings included
  double x_moment = 0, y_moment = 0;  ///< ∫ x dV, ∫ y dV, mm⁴: static unbalance
};
/// Relative error of `mass_properties` against exact integration (surface: 1e-6 where slots end within the part).
inline constexpr double kVolumeError = 1e-9;
/// Closed forms (Pappus, frusta, Green) for the turned part, holes and pockets; adaptive integration where a slot
/// crosses curved faces.
[[nodiscard]] MassProperties mass_properties(const TurnedBody& body);

/// A straight generator of a cone in the half plane, as measured: metal lies to the left of a -> b.
struct Generator {
  Vec2 a, b;
};

}  // namespace groovewright::plane
