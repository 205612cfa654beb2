// split.h: into how many pieces, which way up, and how they join.
#pragma once

#include <vector>

#include "groovewright/print.h"
#include "groovewright/section.h"

namespace groovewright::print {

inline constexpr int kMostPieces = 6;

/// Every way to print the part, the best first: what fits before what does not, then grooves without support, then
/// fewer pieces, then with the axis upright.
[[nodiscard]] std::vector<Way> ways(const part::Part& part, const section::Section& section, const Choice& choice);

/// A dovetail in a cut, in the cut's own frame: along the ray and across it, towards the next piece.
struct Dovetail {
  double middle = 0;          ///< radius
  double neck = 0, head = 0;  ///< half widths
  double depth = 0;
};
/// A blind hole in a cut's face for a dowel.
struct DowelHole {
  double radius = 0, z = 0;  ///< of its axis where it comes out of the face
};
/// A radial cut; the piece before it carries the dovetail.
struct Cut {
  double angle = 0;  ///< cross plane
  std::optional<Dovetail> dovetail;
  std::vector<DowelHole> dowels;
};
/// Equally spaced cuts, turned so that they pass clear of openings as far as they can.
[[nodiscard]] std::vector<Cut> cuts(const section::Section& section, int pieces, const catalog::Printer& printer);

struct PieceOutline {
  std::vector<plane::Vec2> points;
  std::vector<mesh::WallHole> holes;  ///< for dowels, in the walls of both cuts
};
/// The outline of the piece between two cuts, counter-clockwise, far outside the part at its outside.
[[nodiscard]] PieceOutline outline(const section::Section& section, const Cut& before, const Cut& after,
                                   const catalog::Printer& printer);

}  // namespace groovewright::print
