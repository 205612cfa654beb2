// manifest.h: inside room `job`: the list of what was made.
#pragma once

#include <string>

#include "groovewright/job.h"

namespace groovewright::job {

/// Each artifact with size and SHA-256, the document's SHA-256, and the worst verdict, as JSON.
[[nodiscard]] std::string manifest(const Made& made, const TextFile& document);

}  // namespace groovewright::job
