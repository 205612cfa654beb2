// limits.h: inside room `job`: what the drawing demands, as the STEP file carries it.
#pragma once

#include "groovewright/job.h"

namespace groovewright::job {

/// The main limits, datums and zones of the drawing, bound to the walls of the solid. Broken where one has no wall.
[[nodiscard]] solid::Limits limits_of(const Prepared& prepared);

}  // namespace groovewright::job
