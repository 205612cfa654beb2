// cells.h: inside room `report`: rows of text tables.
#pragma once

#include <string>
#include <vector>

namespace groovewright::report {

/// "| a | b |": bars in cells are escaped, line breaks become blanks.
[[nodiscard]] std::string markdown_row(const std::vector<std::string>& cells);
/// RFC 4180.
[[nodiscard]] std::string csv_row(const std::vector<std::string>& cells);

}  // namespace groovewright::report
