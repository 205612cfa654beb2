#include "part21.h"

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"

namespace groovewright::solid {
namespace {

/// AP242's object identifier as its first edition prints it.
constexpr std::string_view kSchema = "AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF { 1 0 10303 442 1 1 4 }";
constexpr std::string_view kTimeStamp = "2000-01-01T00:00:00";

/// The code point that starts at `i`, which moves on to the next.
unsigned decode(std::string_view utf8, std::size_t& i) {
  const auto byte = [&] { return static_cast<unsigned char>(utf8[i++]); };
  const unsigned lead = byte();
  const int more = lead < 0x80 ? 0 : lead < 0xE0 ? 1 : lead < 0xF0 ? 2 : 3;
  unsigned code = more == 0 ? lead : lead & (0x3Fu >> more);
  for (int k = 0; k < more; ++k) code = code << 6 | (byte() & 0x3Fu);
  return code;
}

std::string hexadecimal(unsigned code, int digits) {
  constexpr std::string_view kDigits = "0123456789ABCDEF";
  std::string text;
  for (int shift = 4 * (digits - 1); shift >= 0; shift -= 4) text += kDigits[code >> shift & 0xFu];
  return text;
}

}  // namespace

std::string part21_real(double v) {
  std::string text = shortest(v);
  const std::size_t e = text.find('e');
  std::string mantissa = text.substr(0, e);
  if (mantissa.find('.') == std::string::npos) mantissa += '.';
  return e == std::string::npos ? mantissa : mantissa + "E" + text.substr(e + 1);
}

std::string part21_string(std::string_view utf8) {
  require(is_utf8(utf8), "a text for the STEP file is not UTF-8");
  std::string text = "'";
  for (std::size_t i = 0; i < utf8.size();) {
    const unsigned code = decode(utf8, i);
    if (code == '\'' || code == '\\') {
      text.append(2, static_cast<char>(code));
    } else if (code >= 0x20 && code < 0x7F) {
      text += static_cast<char>(code);
    } else {
      const bool is_short = code < 0x10000;
      text.append(is_short ? "\\X2\\" : "\\X4\\").append(hexadecimal(code, is_short ? 4 : 8)).append("\\X0\\");
    }
  }
  return text + "'";
}

Fields& Fields::raw(std::string_view text) {
  if (!list_.empty()) list_ += ',';
  list_ += text;
  return *this;
}

Fields& Fields::refs(const std::vector<Ref>& list) {
  Fields inner;
  for (const Ref r : list) inner.ref(r);
  return nested(inner);
}

Fields& Fields::reals(const std::vector<double>& list) {
  Fields inner;
  for (const double v : list) inner.real(v);
  return nested(inner);
}

Ref Part21::add(std::string_view type, const Fields& fields) {
  data_.append("#")
      .append(std::to_string(++last_))
      .append("=")
      .append(type)
      .append(fields.in_parentheses())
      .append(";\n");
  return {last_};
}

std::string Part21::file(const Label& label) const {
  const auto one = [](std::string_view s) { return Fields().text(s); };
  const Fields description = Fields().nested(one(label.description)).text("2;1");
  const Fields name = Fields()
                          .text(label.name + ".step")
                          .text(kTimeStamp)
                          .nested(one(""))
                          .nested(one(""))
                          .text(label.program)
                          .text(label.program)
                          .text("");
  std::string text = "ISO-10303-21;\nHEADER;\n";
  text.append("FILE_DESCRIPTION").append(description.in_parentheses()).append(";\n");
  text.append("FILE_NAME").append(name.in_parentheses()).append(";\n");
  text.append("FILE_SCHEMA").append(Fields().nested(one(kSchema)).in_parentheses()).append(";\n");
  return text.append("ENDSEC;\nDATA;\n").append(data_).append("ENDSEC;\nEND-ISO-10303-21;\n");
}

}  // namespace groovewright::solid
