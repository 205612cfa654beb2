// removal.h: the metal that programs leave, worked out from their moves alone: an independent witness that knows
// neither the part nor how the moves were made. Lengths mm; half plane x = Z, y = radius (plane.h).
#pragma once

#include <span>
#include <string>
#include <vector>

#include "groovewright/nc.h"
#include "groovewright/plane.h"
#include "groovewright/plane/lettering.h"

namespace groovewright::removal {

/// A lathe tool as it lies in the half plane, about the point that the program steers. Paths are closed, ccw, convex.
struct LatheTool {
  int number = 0;
  std::vector<plane::Path> cutting;  ///< nose and edges: may stand in metal while they feed
  std::vector<plane::Path> holder;   ///< may never stand in metal
};
/// One clamping. Program z = (turned ? -1 : 1) * (part z) + shift, so that a part may be turned end for end.
struct Clamping {
  nc::Trace trace;
  bool turned = false;
  double shift = 0;
  std::vector<plane::Path> keep_out;  ///< jaws, chuck, fixture; in the program's half plane
  double max_rpm = 0;                 ///< what chuck and part bear
  plane::Vec2 low, high;              ///< travels of the steered point, in the program's half plane (z, radius)
};
struct Finding {
  enum class Kind { program, rapid_in_metal, holder_in_metal, tool_in_keep_out, beyond_travel, too_fast, spindle_off };
  Kind kind{};
  std::size_t clamping = 0;
  int line = 0;       ///< of the program
  double amount = 0;  ///< depth, mm, or rpm
  std::string says;
};
/// The metal once a tool of a clamping has done its work.
struct Frame {
  std::size_t clamping = 0;
  int tool = 0;
  std::vector<plane::Polygon> metal;  ///< in the part's half plane
};
struct Removal {
  std::vector<plane::Polygon> metal;  ///< left at last, in the part's half plane; holes clockwise
  std::vector<Finding> findings;      ///< none: the programs do no harm
  std::vector<Frame> frames;
  double volume = 0;  ///< mm³ left, turned about the axis
};
/// Polygons stand for arcs within this, and lie on a lattice of 1e-6 mm.
inline constexpr double kChord = 0.0005;
/// Sweeps every tool along its program, one clamping after the other. `stock`: closed, ccw, in the part's half plane.
[[nodiscard]] Removal remove(std::span<const Clamping> clampings, std::span<const LatheTool> tools,
                             const plane::Path& stock);

/// How the metal left differs from what was wanted, by edges of the wanted outline.
struct EdgeError {
  double missing = 0, left = 0;  ///< greatest depth of missing metal and of metal left standing, square to the edge
};
struct Comparison {
  std::vector<EdgeError> edges;  ///< one an edge of `wanted`
  double missing = 0, left = 0;  ///< the greatest of all
  plane::Vec2 missing_at, left_at;
};
/// `wanted`: closed, ccw, exact lines and arcs.
[[nodiscard]] Comparison compare(std::span<const plane::Polygon> metal, const plane::Path& wanted);

/// The straight border of the metal that lies nearest to each of `near` (a flank as it should be), fitted to its
/// points; metal to the left of a -> b. nullopt-like: a == b where there is none within `reach` mm.
[[nodiscard]] std::vector<plane::Generator> borders(std::span<const plane::Polygon> metal,
                                                    std::span<const plane::Generator> near, double reach);

// ---- holes along z, on a mill ----

struct RotatingTool {
  int number = 0;
  double diameter = 0;
  double tip = 0;    ///< length of the point below the full diameter
  double flute = 0;  ///< cutting length from the tip; above it stands the shank or holder
  double holder_diameter = 0;
  double thread_pitch = 0;  ///< a tap's
};
/// What one tool bored at one place: full diameter from the mouth down to `bottom`.
struct Bored {
  double x = 0, y = 0, diameter = 0, top = 0, bottom = 0, tip = 0;
  int tool = 0, line = 0;
  bool tapped = false;
};
struct Drilling {
  std::vector<Bored> bored;
  std::vector<Finding> findings;
};
/// Works out each hole and each circle milled by a helix from the moves alone. `top`: z of the face that is drilled.
[[nodiscard]] Drilling drill(const nc::Trace& trace, std::span<const RotatingTool> tools, double top);

}  // namespace groovewright::removal
