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
  std::vector<plane::Path> keep_out;  ///< jaws, chuck, fixture: closed; in the program's half plane
  double max_rpm = 0;                 ///< what chuck and part bear; 0: not known, not checked
  plane::Vec2 low, high;  ///< travels of the steered point, in the program's half plane (z, radius); equal: not checked
};
/// What would do harm. Metal is as it is at that move; overlaps in which no disc of kTouch lies are mere contact.
struct Finding {
  enum class Kind {
    program,           ///< the trace's own faults; a tool that is not among the tools; a cut without a tool
    rapid_in_metal,    ///< a cutting part (or, on a mill, the tool) in metal at rapid
    holder_in_metal,   ///< at any move, once the tool has cut
    tool_in_keep_out,  ///< tool or holder
    beyond_travel,
    too_fast,     ///< at the least radius of the move; the program's own limit counts, none is infinite
    spindle_off,  ///< metal is cut with the spindle at rest
    tap           ///< without a hole, beyond its bottom, or with another feed than its pitch
  };
  Kind kind{};
  std::size_t clamping = 0;
  int line = 0;  ///< of the program
  /// mm: the widest disc that lies in the overlap (beyond_travel: how far); too_fast: rpm, maybe infinite. On a mill:
  /// how far below the face or the hole's bottom, or the pitch's error.
  double amount = 0;
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
/// Polygons stand for arcs within this, and lie on a lattice of 1e-6 mm. Beside a straight way the error is the
/// lattice's alone: the points of a round nose that touch the way are exact.
inline constexpr double kChord = 0.0005;
/// Overlaps thinner than this are contact, mm.
inline constexpr double kTouch = 0.001;
/// Sweeps every tool along its program, one clamping after the other. `stock`: closed, ccw, y >= 0, in the part's half
/// plane. What a tool covers beyond the axis counts at its distance from it, since the part turns. Metal that a rapid
/// move meets is gone after it. The place of a program's first move is its end: where it starts, no program tells.
/// Not seen: scallops of the feed (a turn's pitch lies across the half plane's cut: the roughness that it leaves is
/// f²/8r, which a sweep along the tool's way knows nothing of), pieces that fall off, chatter, deflection.
/// Requires: tools convex, keep-outs closed, the stock within 1e5 mm (Broken).
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
/// Distances of the metal's border from the exact outline (to 1e-6 mm of the polygons, which stand for arcs within
/// kChord), each for the nearest edge; within lumps that are missing or left as a whole, those of points on the
/// normals. `wanted`: closed, ccw, exact lines and arcs.
[[nodiscard]] Comparison compare(std::span<const plane::Polygon> metal, const plane::Path& wanted);

/// The longest straight border of the metal along each of `near` (a flank as it should be): within `reach` mm of it,
/// within kSlant of its direction, metal to the left of a -> b; fitted to its points. a == b where there is none. The
/// border beside a straight way is good to the lattice.
inline constexpr double kSlant = 0.1;  ///< rad
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
/// What one tool bored at one place: full diameter from the mouth down to `bottom`; above `top`
/// where a cone of the tip alone is cut. A circle milled by a helix has the
/// helix's diameter and the tool's; its bottom is where the tool has been all round.
struct Bored {
  double x = 0, y = 0, diameter = 0, top = 0, bottom = 0, tip = 0;
  int tool = 0, line = 0;  ///< the first line that bores it
  bool tapped = false;
  double core = 0;  ///< diameter of what a wide helix leaves standing in the middle; 0: nothing
};
struct Drilling {
  std::vector<Bored> bored;
  std::vector<Finding> findings;
};
/// Works out each hole and each circle milled by a helix from the moves alone. `top`: z of the face that is drilled;
/// metal below it everywhere. The programmed point is the tool's tip. A shank that goes below the face must have a
/// wider hole: `flute` is what may cut. A feed that cuts sideways is no finding, and is not recorded.
[[nodiscard]] Drilling drill(const nc::Trace& trace, std::span<const RotatingTool> tools, double top);
/// A tap's feed may differ from its pitch by this part.
inline constexpr double kPitchError = 1e-3;

}  // namespace groovewright::removal
