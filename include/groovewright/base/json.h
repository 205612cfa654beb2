// json.h: the one JSON writer. Keys keep the order in which they are written; numbers go through `shortest`.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace groovewright {

/// Writes one JSON document, indented by two spaces (or on one line with `compact`).
/// Requires: calls nest properly; `key` before every value inside an object. Broken otherwise.
class JsonWriter {
 public:
  explicit JsonWriter(bool compact = false) : compact_(compact) {}
  JsonWriter& begin_object();
  JsonWriter& end_object();
  JsonWriter& begin_array();
  JsonWriter& end_array();
  JsonWriter& key(std::string_view k);
  JsonWriter& value(std::string_view v);
  JsonWriter& value(const char* v) { return value(std::string_view(v)); }
  JsonWriter& value(double v);  ///< Requires: finite.
  JsonWriter& value(int v);
  JsonWriter& value(bool v);
  JsonWriter& null();
  JsonWriter& raw(std::string_view json);  ///< a finished JSON value of our own making
  /// key + value in one.
  template <class T>
  JsonWriter& field(std::string_view k, const T& v) {
    return key(k).value(v);
  }
  /// The finished text, with a line break at the end unless compact. Requires: everything closed.
  [[nodiscard]] std::string text() const;

 private:
  JsonWriter& begin(char bracket);
  JsonWriter& end(char opening, char closing);
  JsonWriter& write(std::string_view json);
  void before_value();
  void line_break();
  bool compact_ = false;
  std::string out_;
  std::vector<char> open_;  // '{' or '['
  bool first_ = true;
  bool after_key_ = false;
};

/// `text` as a quoted JSON string.
[[nodiscard]] std::string json_quoted(std::string_view text);

}  // namespace groovewright
