// read_dialect.h: data files of the words of machine controls.
#pragma once

#include "fields.h"

namespace groovewright::catalog {

[[nodiscard]] nc::Dialect read_dialect(Fields& file, const std::string& id);

}  // namespace groovewright::catalog
