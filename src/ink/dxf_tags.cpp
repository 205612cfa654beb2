#include "dxf_tags.h"

#include <array>
#include <charconv>

#include "groovewright/base/text.h"

namespace groovewright::ink {
namespace {

constexpr int kDecimals = 9;

std::string hexadecimal(unsigned value) {
  std::array<char, 8> buffer{};
  std::string text(buffer.data(), std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, 16).ptr);
  for (char& c : text) {
    if (c >= 'a') c = static_cast<char>(c - 'a' + 'A');
  }
  return text;
}

std::string coded(char32_t c) {
  if (c > 0xFFFF) return "?";
  const std::string digits = hexadecimal(c);
  return "\\U+" + std::string(4 - digits.size(), '0') + digits;
}

}  // namespace

void DxfTags::text(int code, std::string_view value) {
  bytes_.append(std::to_string(code)).append("\n").append(value).append("\n");
}
void DxfTags::integer(int code, int value) { text(code, std::to_string(value)); }
void DxfTags::real(int code, double value) {
  const std::string plain = trimmed(value, kDecimals);
  text(code, plain.find('.') == std::string::npos ? plain + ".0" : plain);
}
void DxfTags::handle(int code, Handle value) { text(code, hexadecimal(value)); }
void DxfTags::flat(int code, plane::Vec2 p) {
  real(code, p.x);
  real(code + 10, p.y);
}
void DxfTags::point(int code, plane::Vec2 p, double z) {
  flat(code, p);
  real(code + 20, z);
}
void DxfTags::thing(std::string_view kind, Handle self, Handle owner, std::initializer_list<std::string_view> markers) {
  text(0, kind);
  handle(kind == "DIMSTYLE" ? 105 : 5, self);  // the format's one exception
  handle(330, owner);
  for (const std::string_view marker : markers) text(100, marker);
}
void DxfTags::begin_section(std::string_view name) {
  text(0, "SECTION");
  text(2, name);
}
void DxfTags::end_section() { text(0, "ENDSEC"); }

std::string dxf_text(std::string_view utf8) {
  const std::u32string text = characters(utf8);
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char32_t c = text[i];
    const bool paired = c == U'%' && ((i > 0 && text[i - 1] == c) || (i + 1 < text.size() && text[i + 1] == c));
    if (c == U'^') {
      out += "^ ";
    } else if (paired) {
      out += "%%%";
    } else if (c < 0x20 || c > 0x7E || c == U'\\') {
      out += coded(c);
    } else {
      out += static_cast<char>(c);
    }
  }
  return out;
}

}  // namespace groovewright::ink
