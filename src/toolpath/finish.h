// finish.h: inside room `toolpath`: a nose led exactly along the outline. Lengths mm; half plane of the clamping.
#pragma once

#include <vector>

#include "cut.h"
#include "offset.h"

namespace groovewright::toolpath {

/// A tool with what asks whether it touches: the outline of its body a hair slimmer than it is.
struct Finisher {
  catalog::TurningTool tool;
  Bit slim;
  bool backwards = false;  ///< cuts against the outline's order: away from the chuck outside, into a bore
};
/// Slimmer by this all round, so that a nose may lie on the metal that it leaves. mm
inline constexpr double kSlack = 0.002;
[[nodiscard]] Finisher finisher(const catalog::TurningTool& tool);

/// Pieces of way on which a tool leaves edges of the outline, in the order of cutting.
struct Run {
  std::vector<Trail> way;
};
/// The ways on which the tool leaves the chain with `allowance` on it, without standing in `metal` and with its holder
/// clear of the `stock` as it is. Sets those of `covered`, one an edge of the chain, that it leaves whole.
[[nodiscard]] std::vector<Run> runs(const plane::Path& chain, const Finisher& with, double allowance,
                                    const Metal& metal, const Metal& stock, std::vector<bool>& covered);

/// The part of an edge between two fractions of its length.
[[nodiscard]] plane::Edge part_of(const plane::Edge& e, double from, double to);
/// The way as motions, without the one that leads to its beginning.
[[nodiscard]] Motions motions(const std::vector<Trail>& way);
[[nodiscard]] std::vector<Trail> reversed(std::vector<Trail> way);

}  // namespace groovewright::toolpath
