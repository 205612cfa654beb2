// catalogue.h: inside room `job`: the data that one run names.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "groovewright/catalog.h"
#include "groovewright/part.h"

namespace groovewright::job {

/// Reads the built-in files named, then the person's own, which win.
[[nodiscard]] std::optional<catalog::Catalog> catalogue(const std::vector<part::NamedFile>& names,
                                                        std::span<const TextFile> own, Diagnostics& diagnostics);

}  // namespace groovewright::job
