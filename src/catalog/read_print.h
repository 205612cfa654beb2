// read_print.h: data files about printing plastic.
#pragma once

#include "fields.h"

namespace groovewright::catalog {

[[nodiscard]] Printer read_printer(Fields& file, const std::string& id);
[[nodiscard]] Plastic read_plastic(Fields& file, const std::string& id);

}  // namespace groovewright::catalog
