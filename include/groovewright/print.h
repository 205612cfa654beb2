// print.h: the fit-check print: a plastic stand-in of the part that goes on the hub before metal is cut, cut up and
// laid out for one printer, with the gauges and stand-in metal parts to try it with. Needs no kernel.
//
// Lengths mm. It is made to fit, not to run: openings are widened to a slip fit, thick walls are thinned, and
// everything is drawn larger by what the plastic shrinks. What locates or clears keeps its size: grooves, flanges,
// seat, bolt heads' room.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "groovewright/base/diagnostics.h"
#include "groovewright/base/rows.h"
#include "groovewright/catalog.h"
#include "groovewright/mesh.h"
#include "groovewright/part.h"

namespace groovewright::print {

struct Choice {
  catalog::Printer printer;
  catalog::Plastic plastic;
  catalog::Lettering lettering;
};

/// One thing on the plate: a closed mesh and what touches it (raised lettering), as it stands there: mm from the bed's
/// front left corner, Z up, enlarged by what it will shrink.
struct Object {
  std::string name;     ///< "segment 2 of 3", "groove comb" …
  std::string purpose;  ///< one plain line
  mesh::Mesh body;
  std::vector<mesh::Mesh> lettering;
};
struct Plate {
  std::vector<Object> objects;
};

/// How the part can be printed, and what that does to its grooves.
struct Way {
  int pieces = 1;
  bool standing = false;   ///< on a radial cut face; else with the axis upright
  double layer = 0;        ///< mm
  double flank_step = 0;   ///< sideways from a layer to the next one up, under a groove's flank, mm; 0: none hangs over
  double flank_reach = 0;  ///< of what hangs over so, mm
  std::array<double, 3> box{};  ///< of a piece as it is printed: width, depth, height
  bool fits = false;            ///< on the bed
  bool good = false;            ///< the step is within the printer's limit
};

struct Print {
  std::vector<Plate> plates;
  std::vector<Way> ways;  ///< all that were weighed
  Way chosen;
  bool front_down = false;  ///< with the axis upright
  Rows rows;
  std::string page;  ///< Markdown: how to print it, what to try with it, in order
};

/// Chord error of a print's meshes, of the printer's resolution.
inline constexpr double kChordShare = 0.3;

/// Settles and makes the print. nullopt where it can't be had on this printer; then `diagnostics` says what it needs.
/// Deterministic. No verdict on the effective diameter is given: a print can't be measured over balls.
[[nodiscard]] std::optional<Print> make(const part::Part& part, const Choice& choice, Diagnostics& diagnostics);

}  // namespace groovewright::print
