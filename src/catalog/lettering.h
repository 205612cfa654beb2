// lettering.h: the notation of glyphs in a file of lettering.
#pragma once

#include "fields.h"
#include "groovewright/catalog.h"

namespace groovewright::catalog {

/// Everything but id and edition.
[[nodiscard]] Lettering read_lettering(Fields& file);

}  // namespace groovewright::catalog
