// sizes.h: inside room `job`: what the dimension sheet and the drawing both state.
#pragma once

#include "groovewright/job.h"

namespace groovewright::job {

/// Sizes with limits, geometrical tolerances included.
[[nodiscard]] Rows sizes(const Prepared& prepared);

}  // namespace groovewright::job
