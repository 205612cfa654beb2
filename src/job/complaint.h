// complaint.h: inside room `job`: rows that fail, in one line of a list.
#pragma once

#include <span>
#include <string>

#include "groovewright/base/rows.h"

namespace groovewright::job {

/// What fails or is in doubt: "Hub load of crank: 2210.4 N, at most 2000 N (towards 81 deg …); …", figure, limits and
/// what the row says, mm. "" where nothing is. Of rows that say one thing twice, one is told.
[[nodiscard]] std::string complaints(std::span<const Check> rows);

}  // namespace groovewright::job
