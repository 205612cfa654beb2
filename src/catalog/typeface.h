// typeface.h: a file of a drawing font's advance widths.
#pragma once

#include "fields.h"
#include "groovewright/catalog.h"

namespace groovewright::catalog {

/// Everything but id and edition.
[[nodiscard]] Typeface read_typeface(Fields& file);

}  // namespace groovewright::catalog
