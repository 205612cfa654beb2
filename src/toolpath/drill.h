// drill.h: inside room `toolpath`: holes parallel to the axis, on a mill.
#pragma once

#include "groovewright/toolpath.h"

namespace groovewright::toolpath {

/// Adds the clampings on the mill that the part's holes ask for. False, with diagnostics, where no tool makes a hole.
[[nodiscard]] bool add_drilling(Plan& plan, const part::Part& part, const section::Section& section,
                                const catalog::Shop& shop, Diagnostics& diagnostics);

}  // namespace groovewright::toolpath
