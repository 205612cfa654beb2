// part21.h: the text of an ISO 10303-21 file, an instance at a time. Private to the room.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "groovewright/solid.h"

namespace groovewright::solid {

/// The number of an instance: "#12".
struct Ref {
  int number = 0;
};

/// A REAL: always with a point, as the grammar wants ("1.", "2.5E-7").
[[nodiscard]] std::string part21_real(double v);
/// A STRING between apostrophes; what is not ASCII becomes \X2\....\X0\. Requires: UTF-8.
[[nodiscard]] std::string part21_string(std::string_view utf8);

/// The attributes of one instance, in order: `Fields().text("bore").ref(axis).real(2.5)`.
class Fields {
 public:
  /// Text as it stands: ".T.", "$", "*", an inner instance.
  Fields& raw(std::string_view text);
  Fields& text(std::string_view utf8) { return raw(part21_string(utf8)); }
  Fields& real(double v) { return raw(part21_real(v)); }
  Fields& flag(bool v) { return raw(v ? ".T." : ".F."); }
  Fields& ref(Ref r) { return raw(std::string("#").append(std::to_string(r.number))); }
  Fields& refs(const std::vector<Ref>& list);
  Fields& reals(const std::vector<double>& list);
  /// An aggregate.
  Fields& nested(const Fields& inner) { return raw(inner.in_parentheses()); }
  [[nodiscard]] std::string in_parentheses() const { return std::string("(").append(list_).append(")"); }

 private:
  std::string list_;
};

/// Instances numbered in the order in which they are added.
class Part21 {
 public:
  Ref add(std::string_view type, const Fields& fields);
  /// An instance of several types at once, its text between the outer parentheses.
  Ref add_complex(std::string_view inner) { return add("", Fields().raw(inner)); }
  /// The whole file. The time stamp is fixed, so that the same part gives the same bytes.
  [[nodiscard]] std::string file(const Label& label) const;

 private:
  std::string data_;
  int last_ = 0;
};

}  // namespace groovewright::solid
