// form.h: inside room `toolpath`: inserts that have the whole form of a groove, crest roundings included. Lengths mm.
#pragma once

#include <string>
#include <vector>

#include "turn.h"

namespace groovewright::toolpath {

/// The teeth of a form tool as convex pieces about the centre of its near tip. Tips and flanks are exact; a valley
/// stands for chords within kFormChord whose ends lie on it, so that the tool is never drawn smaller than it is: what
/// it would gouge is not hidden. Requires: a full_form.
inline constexpr double kFormChord = 0.0004;
[[nodiscard]] std::vector<plane::Path> form_pieces(const catalog::TurningTool& tool);

/// Where the near tip's centre stands for each plunge that finishes the grooves, "grooves" from right to left as
/// `grooves` gives them; neighbours overlap where the teeth don't go into the grooves without a rest.
/// A ball that lies in the form's flanks then stands where it stands in the grooves wanted.
[[nodiscard]] std::vector<plane::Vec2> form_places(const catalog::TurningTool& tool, const part::Rim& rim,
                                                   const Outline& outline, const std::vector<GrooveEdges>& grooves);

/// Why this tool's form is not that of the rim's grooves, in words that follow the tool's name; "" where it is.
[[nodiscard]] std::string misfit(const catalog::TurningTool& tool, const part::Rim& rim);

/// The form tool that finishes all grooves of a rim, or why none does.
struct FormChoice {
  const catalog::TurningTool* tool = nullptr;
  std::string why_not;  ///< of one tool, of the section's pitch if there is one; "" where the tools have none
};
/// `forms`: in the order in which they are tried. The metal, jaws and machine of the bench are asked too.
[[nodiscard]] FormChoice choose_form(const Bench& bench, const Tools& forms, const part::Rim& rim,
                                     const Outline& outline, const std::vector<GrooveEdges>& grooves);
/// Plunges it to the root and dwells, and once more without a chip.
void finish_by_form(Bench& bench, const catalog::TurningTool& tool, const part::Rim& rim, const Outline& outline,
                    const std::vector<GrooveEdges>& grooves);

}  // namespace groovewright::toolpath
