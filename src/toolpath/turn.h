// turn.h: inside room `toolpath`: the operations of one clamping on the lathe, from the outline.
#pragma once

#include <string>
#include <vector>

#include "finishing.h"

namespace groovewright::toolpath {

/// What a clamping is to finish.
struct Task {
  bool bore = false, face = false, outside = false;
  bool corner = false;      ///< the edge between the free face and an outside that is finished already
  bool far_corner = false;  ///< the one at the far face, from the outside
  double far_end = 0;       ///< program z to which the outside is finished
  double bore_end = 0;      ///< program z of the metal's far end
  Chain left_over;          ///< of the outside, from an earlier clamping
};
/// An edge that no tool of the shop could finish, or only in part.
struct OutOfReach {
  std::size_t edge = 0;
  std::string work;
  bool partly = false;
  std::string why{};    ///< what keeps a tool from it, where that is known
  std::string lacks{};  ///< what the machine can't do for it; "" where only a tool is missing
};
/// Programs everything on the free side that the task names. What stays out of reach comes back.
[[nodiscard]] std::vector<OutOfReach> turn(Bench& bench, const part::Part& part, const catalog::Shop& shop,
                                           const Outline& outline, const Task& task);

// ---- choosing ----

/// Tools of one use, in the order in which they are tried: large noses and wide blades first.
[[nodiscard]] Tools tools_of(const catalog::Shop& shop, catalog::TurningTool::Use use, bool axial = false);
/// The profiling tool for the grooves of a rim: its nose fits the root with its tolerance. nullptr where none does.
[[nodiscard]] const catalog::TurningTool* groove_finisher(const Tools& profiling, const part::Rim& rim);

/// Roughs and finishes the grooves of every rim. Grooves whose flanks stay out of reach come back.
[[nodiscard]] std::vector<OutOfReach> cut_grooves(Bench& bench, const part::Part& part, const catalog::Shop& shop,
                                                  const Outline& outline);

}  // namespace groovewright::toolpath
