// kernel_loader.h: the solid kernel, loaded when it is first asked for.
#pragma once

#include "groovewright/solid.h"

namespace groovewright::cli {

/// The kernel from the module beside the program. Loaded once a process. Throws std::runtime_error where that fails.
[[nodiscard]] const solid::Kernel& load_kernel();

}  // namespace groovewright::cli
