// dxf_tags.h: the pairs of code and value that a DXF file is made of.
#pragma once

#include <initializer_list>
#include <string>
#include <string_view>

#include "groovewright/plane.h"

namespace groovewright::ink {

/// An object's number in the file; 0 is none.
using Handle = unsigned;

class DxfTags {
 public:
  void text(int code, std::string_view value);
  void integer(int code, int value);
  /// To 9 decimals: a thousandth of what readers take as the same point.
  void real(int code, double value);
  void handle(int code, Handle value);
  /// x under `code`, y under `code` + 10.
  void flat(int code, plane::Vec2 p);
  /// As `flat`, with z under `code` + 20.
  void point(int code, plane::Vec2 p, double z = 0);
  /// The head of a thing: its kind, handle, owner and sub-class markers.
  void thing(std::string_view kind, Handle self, Handle owner, std::initializer_list<std::string_view> markers);
  void begin_section(std::string_view name);
  void end_section();
  void append(const DxfTags& other) { bytes_ += other.bytes_; }

  [[nodiscard]] const std::string& bytes() const { return bytes_; }

 private:
  std::string bytes_;
};

/// Text as AC1015 holds it, in ASCII: \U+XXXX for other characters and for the backslash, and the codes that readers
/// undo for '^' and for what would begin a %% code. Requires: well-formed UTF-8.
[[nodiscard]] std::string dxf_text(std::string_view utf8);

}  // namespace groovewright::ink
