// part21.h: a reader of ISO 10303-21 files that shares nothing with the writer: clear text in, instances out.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace groovewright::readers {

struct Value {
  enum class Kind { unset, derived, number, text, enumeration, reference, list, typed };
  Kind kind = Kind::unset;
  std::string text;          ///< strings decoded to UTF-8; enumerations without points; a typed value's type
  double number = 0;         ///< numbers, and references' ids
  std::vector<Value> items;  ///< of lists and typed values
};

/// One entity with its attributes. An instance of several types has one of these for each.
struct Entity {
  std::string type;
  std::vector<Value> values;
};

struct Part21File {
  std::vector<Entity> header;
  std::map<int, std::vector<Entity>> data;

  /// The one entity of this type. Throws std::runtime_error where there is none or more.
  [[nodiscard]] const Entity& only(std::string_view type) const;
  [[nodiscard]] std::vector<const Entity*> all(std::string_view type) const;
  [[nodiscard]] const std::vector<Entity>& at(const Value& reference) const;
  [[nodiscard]] const Entity& header_entity(std::string_view type) const;
  /// Ids that are referred to and not there.
  [[nodiscard]] std::vector<int> dangling() const;
};

/// Throws std::runtime_error, with the byte, at the first breach of the grammar: control characters, a real without
/// point, an id twice, text after the end …
[[nodiscard]] Part21File read_part21(std::string_view text);

}  // namespace groovewright::readers
