// build.h: inside room `section`: the outline and the openings are made one after the other.
#pragma once

#include <limits>
#include <string>

#include "groovewright/section.h"

namespace groovewright::section {

struct Outline {
  plane::Path path;
  std::vector<Tag> tags;
};

/// The closed, ccw outline; nullopt with diagnostics where the features collide.
[[nodiscard]] std::optional<Outline> make_outline(const part::Part& part, Diagnostics& diagnostics);

/// Adds holes, pockets and slots to `section`, whose outline is made; what does not fit is told.
void add_openings(const part::Part& part, Section& section, Diagnostics& diagnostics);

/// Drilled depth of a blind tapped hole: its full thread and the tap's run-out. mm, without the drill's point.
[[nodiscard]] double drill_depth(const part::HolePattern& pattern);

/// Least distance of a hole from the turned faces around it, mouths' own walls left out. Inner fillets count only
/// `with_fillets`: a hole may not cut into one, but metal is not thin there.
[[nodiscard]] double wall_round(const plane::RoundHole& hole, const Section& section, bool with_fillets);
/// The turned face that comes nearest to a hole; the face itself rather than the edge break or fillet at its end.
[[nodiscard]] Kind nearest_face(const plane::RoundHole& hole, const Section& section);
/// True where both holes look alike to the turned faces: the same profile at the same distance from the axis.
[[nodiscard]] bool alike(const plane::RoundHole& a, const plane::RoundHole& b);
[[nodiscard]] double metal_between(const plane::RoundHole& a, const plane::RoundHole& b);
[[nodiscard]] double metal_between(const plane::RoundHole& a, const plane::Pocket& b);
[[nodiscard]] double metal_between(const plane::RoundHole& a, const plane::Slot& b);
[[nodiscard]] double metal_between(const plane::Pocket& a, const plane::Pocket& b);
[[nodiscard]] double metal_between(const plane::Pocket& a, const plane::Slot& b);
/// Two slots that open the same way.
[[nodiscard]] double metal_between(const plane::Slot& a, const plane::Slot& b);

/// The thinnest metal seen so far, and between what.
struct LeastWall {
  double value = std::numeric_limits<double>::infinity();
  std::string who;
  void see(double v, const std::string& what);
};
/// Metal from the groove roots of `rim` to the nearest face or opening inside. Openings lie under a groove where their
/// depths meet those of its roots; those beside it belong to `least_wall`.
[[nodiscard]] double wall_under_groove(const Section& section, int rim);
/// Least metal round openings: to faces, to each other, and to grooves beside them.
[[nodiscard]] LeastWall least_wall(const Section& section);

}  // namespace groovewright::section
