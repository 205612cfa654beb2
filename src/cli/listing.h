// listing.h: `list`: what the catalogue holds, as a table.
#pragma once

#include <string>

#include "groovewright/base/diagnostics.h"

namespace groovewright::cli {

/// The table of `topic` (arguments.h) with the built-in data and a folder of the person's own.
[[nodiscard]] std::string listing(const std::string& topic, const std::string& own_folder, Diagnostics& diagnostics);

}  // namespace groovewright::cli
