#include "groovewright/base/text.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "groovewright/base/broken.h"

namespace groovewright {
namespace {

constexpr int kMaxDecimals = 17;
// The longest fixed text: sign, 309 digits, point, decimals.
using NumberBuffer = std::array<char, 352>;

constexpr double kPlainFrom = 1e-6;
constexpr double kPlainBelow = 1e15;

std::string without_minus_zero(std::string text) {
  const bool zero = text.find_first_of("123456789") == std::string::npos;
  if (zero && text.front() == '-') text.erase(0, 1);
  return text;
}

bool is_continuation(unsigned char c) { return (c & 0xC0) == 0x80; }

void append_escaped(std::string& out, std::string_view bytes) {
  constexpr std::string_view kHex = "0123456789ABCDEF";
  for (const char c : bytes) {
    const auto byte = static_cast<unsigned char>(c);
    out += "\\x";
    out += kHex[byte >> 4];
    out += kHex[byte & 0xF];
  }
}

struct Placeholder {
  std::size_t at = std::string_view::npos;  ///< npos: there is none
  std::size_t length = 0;
  std::size_t number = 0;
};

Placeholder next_placeholder(std::string_view text, std::size_t from) {
  constexpr std::size_t kMostDigits = 2;
  for (std::size_t at = text.find('{', from); at != std::string_view::npos; at = text.find('{', at + 1)) {
    const std::string_view digits = text.substr(at + 1, text.find('}', at) - at - 1);
    const bool is_number = !digits.empty() && digits.size() <= kMostDigits &&
                           digits.find_first_not_of("0123456789") == std::string_view::npos;
    if (!is_number || at + 1 + digits.size() == text.size()) continue;
    std::size_t number = 0;
    std::from_chars(digits.data(), digits.data() + digits.size(), number);
    return {at, digits.size() + 2, number};
  }
  return {};
}

}  // namespace

std::string number(double v, int decimals) {
  require(std::isfinite(v), "number: the value is finite");
  require(decimals >= 0 && decimals <= kMaxDecimals, "number: 0 to 17 decimals");
  NumberBuffer buffer;
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), v, std::chars_format::fixed, decimals);
  return without_minus_zero({buffer.data(), end.ptr});
}

std::string shortest(double v) {
  if (std::isnan(v)) return "nan";
  if (std::isinf(v)) return v < 0 ? "-inf" : "inf";
  if (v == 0) return "0";
  const double size = std::fabs(v);
  const bool plain = size >= kPlainFrom && size < kPlainBelow;
  NumberBuffer buffer;
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), v,
                                 plain ? std::chars_format::fixed : std::chars_format::scientific);
  return {buffer.data(), end.ptr};
}

std::string trimmed(double v, int decimals) { return without_zeros(number(v, decimals)); }

std::string without_zeros(std::string text) {
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

std::string listed(const std::vector<std::string>& words, std::string_view last) {
  std::string out;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0 && i + 1 == words.size()) {
      out.append(" ").append(last).append(" ");
    } else if (i > 0) {
      out += ", ";
    }
    out += words[i];
  }
  return out;
}

std::size_t utf8_length(std::string_view bytes, std::size_t at) {
  if (at >= bytes.size()) return 0;
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(bytes[at + i]); };
  const unsigned char first = byte(0);
  if (first < 0x80) return 1;
  const std::size_t length = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
  if (first < 0xC2 || first > 0xF4 || bytes.size() - at < length) return 0;  // C0, C1: overlong; F5 up: past U+10FFFF
  for (std::size_t i = 1; i < length; ++i) {
    if (!is_continuation(byte(i))) return 0;
  }
  const unsigned char second = byte(1);
  const bool refused = (first == 0xE0 && second < 0xA0) ||   // overlong
                       (first == 0xED && second >= 0xA0) ||  // surrogates
                       (first == 0xF0 && second < 0x90) ||   // overlong
                       (first == 0xF4 && second >= 0x90);    // past U+10FFFF
  return refused ? 0 : length;
}

bool is_utf8(std::string_view bytes) {
  for (std::size_t at = 0; at < bytes.size();) {
    const std::size_t length = utf8_length(bytes, at);
    if (length == 0) return false;
    at += length;
  }
  return true;
}

std::vector<std::string_view> cut_into_characters(std::string_view text) {
  std::vector<std::string_view> out;
  for (std::size_t at = 0; at < text.size(); at += out.back().size()) {
    out.push_back(text.substr(at, std::max<std::size_t>(1, utf8_length(text, at))));
  }
  return out;
}

std::u32string characters(std::string_view text) {
  constexpr char32_t kNotUtf8 = 0xFFFD;
  std::u32string out;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t length = utf8_length(text, at);
    const auto bits = [&](std::size_t i) { return static_cast<char32_t>(static_cast<unsigned char>(text[at + i])); };
    if (length <= 1) {
      out += length == 0 ? kNotUtf8 : bits(0);
    } else {
      char32_t character = bits(0) & (0x7FU >> length);
      for (std::size_t i = 1; i < length; ++i) character = (character << 6) | (bits(i) & 0x3FU);
      out += character;
    }
    at += length == 0 ? 1 : length;
  }
  return out;
}

bool is_control(std::string_view character) {
  require(!character.empty(), "is_control: there is a character");
  const auto first = static_cast<unsigned char>(character.front());
  if (character.size() == 1) return first < 0x20 || first == 0x7F;
  if (character.size() == 2) return first == 0xC2 && static_cast<unsigned char>(character[1]) < 0xA0;  // C1
  return character == "\u2028" || character == "\u2029";
}

std::string one_line(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t length = utf8_length(text, at);
    const std::string_view character = text.substr(at, length == 0 ? 1 : length);
    if (length == 0 || is_control(character)) {
      append_escaped(out, character);
    } else {
      out += character;
    }
    at += character.size();
  }
  return out;
}

void put_xml(std::string& out, char c) {
  switch (c) {
    case '&':
      out += "&amp;";
      break;
    case '<':
      out += "&lt;";
      break;
    case '>':
      out += "&gt;";
      break;
    case '"':
      out += "&quot;";
      break;
    default:
      out += c;
  }
}

std::set<std::size_t> placeholders(std::string_view text) {
  std::set<std::size_t> numbers;
  for (Placeholder p = next_placeholder(text, 0); p.length > 0; p = next_placeholder(text, p.at + p.length)) {
    numbers.insert(p.number);
  }
  return numbers;
}

std::string filled(std::string_view text, const std::vector<std::string>& arguments) {
  std::string out;
  std::size_t from = 0;
  for (Placeholder p = next_placeholder(text, 0); p.length > 0; p = next_placeholder(text, from)) {
    require(p.number < arguments.size(), "filled: an argument for every placeholder");
    out.append(text.substr(from, p.at - from)).append(arguments[p.number]);
    from = p.at + p.length;
  }
  return out.append(text.substr(from));
}

}  // namespace groovewright
