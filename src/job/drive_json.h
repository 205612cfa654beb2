// drive_json.h: inside room `job`: a drive's figures for scripts.
#pragma once

#include <string>

#include "groovewright/drive/analysis.h"
#include "groovewright/report.h"

namespace groovewright::job {

/// The drive as JSON: belt, pulleys, spans, tensioner, then the sheet's rows. mm, deg, N.
[[nodiscard]] std::string drive_json(const report::Sheet& sheet, const drive::Drive& drive, const drive::Analysis& a);

}  // namespace groovewright::job
