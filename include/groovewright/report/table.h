// table.h: rows of figures side by side: options of a range, findings of a search.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "groovewright/base/json.h"
#include "groovewright/base/shown.h"

namespace groovewright::report {

struct Column {
  std::string id;     ///< lower_snake_case, key in JSON
  std::string label;  ///< for people
  std::string unit;   ///< of its numbers as computed ("mm", "rpm"); "" for words
};
/// A number in its column's unit, words, or nothing.
using Cell = std::variant<std::monostate, double, std::string>;
struct Table {
  std::string id, title;
  std::vector<Column> columns;
  std::vector<std::vector<Cell>> rows;  ///< each as long as `columns`
};

/// A heading and a Markdown table; units stand in its first row. Inch mode converts lengths.
[[nodiscard]] std::string to_markdown(const Table& table, Units units);
/// RFC 4180 with one header line: "id (unit)".
[[nodiscard]] std::string to_csv(const Table& table, Units units);
/// `id: [{column: value, …}, …]` into an open object; numbers as computed, nothing as null.
void write_table(JsonWriter& json, const Table& table);

}  // namespace groovewright::report
