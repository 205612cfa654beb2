// cautions.h: the short safety lines of a sheet.
#pragma once

#include <string>
#include <vector>

#include "groovewright/part.h"

namespace groovewright::job {

[[nodiscard]] std::vector<std::string> cautions(const part::Part& part);

}  // namespace groovewright::job
