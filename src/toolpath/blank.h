// blank.h: inside room `toolpath`: the piece of stock, and which way of holding follows from it. Lengths mm.
#pragma once

#include <optional>

#include "groovewright/toolpath.h"

namespace groovewright::toolpath {

inline constexpr double kFaceStock = 1.5;   ///< on a raw face
inline constexpr double kLeastMandrel = 8;  ///< of plain bore that a mandrel needs (common practice, no source)
inline constexpr double kRunOut = 3;        ///< that the outside is turned beyond the far rim face

/// How clampings follow each other (the shop's order of datums).
enum class Method {
  bar,      ///< held beyond the part: grooves and datum in one clamping, the other face on a mandrel
  mandrel,  ///< datum side first; all the rest on a mandrel in the finished bore
  plug,     ///< datum side, other face, holes; then the outside on a plug, screwed through the part's own holes
};
struct Blank {
  Method method = Method::bar;
  double diameter = 0, length = 0, bore = 0;
  double grip = 0;                    ///< of the first clamping, along the axis
  double run_out = kRunOut, gap = 0;  ///< bar: beyond the far rim face, and from there to the jaws
  std::string why;                    ///< of the method
};

/// How the part lies: its extent along the axis, and the face that is up first.
struct Extent {
  double left = 1e9, right = -1e9, top = 0;
  [[nodiscard]] double width() const { return right - left; }
};
[[nodiscard]] Extent extent(const section::Section& section);
/// The datum side comes first: where the register is, else the seat.
[[nodiscard]] bool rear_first(const part::Part& part);
/// Length of the plain bore that a mandrel may fill.
[[nodiscard]] double bore_length(const section::Section& section);
/// Holes through which screws may hold the part on a plug: two at least, not threaded. nullptr where there are none.
[[nodiscard]] const part::HolePattern* screw_holes(const part::Part& part);

/// nullopt where the stock or a machine is too small; `diagnostics` says what would do.
[[nodiscard]] std::optional<Blank> choose_blank(const part::Part& part, const section::Section& section,
                                                const Choice& choice, Diagnostics& diagnostics);

}  // namespace groovewright::toolpath
