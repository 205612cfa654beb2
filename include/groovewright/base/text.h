// text.h: the only way a number becomes text (no locale, no "-0.000"), and small helpers for text.
#pragma once

#include <cstddef>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace groovewright {

/// Fixed notation with `decimals` digits after the point, round half to even as to_chars does; never "-0.000".
/// Requires: finite, 0 <= decimals <= 17.
[[nodiscard]] std::string number(double v, int decimals);
/// The shortest text that reads back as the same double; plain notation between 1e-6 and 1e15; never "-0".
/// Infinity and NaN give "inf" and "nan": good enough for a message, refused by JsonWriter.
[[nodiscard]] std::string shortest(double v);
/// `number` with trailing zeros (and a bare point) dropped: for prose.
[[nodiscard]] std::string trimmed(double v, int decimals);
/// A written number without zeros at the end of its decimals, and without a bare point.
[[nodiscard]] std::string without_zeros(std::string text);
/// "a, b and c" (or with another joining word).
[[nodiscard]] std::string listed(const std::vector<std::string>& words, std::string_view last = "and");
/// True for well-formed UTF-8 (no overlong forms, surrogates or values past U+10FFFF).
[[nodiscard]] bool is_utf8(std::string_view bytes);
/// The bytes of the well-formed UTF-8 character that starts at `at`, 1 to 4; 0 where none does.
[[nodiscard]] std::size_t utf8_length(std::string_view bytes, std::size_t at);
/// The text cut into characters, each as its bytes; a byte that is not UTF-8 stands alone.
[[nodiscard]] std::vector<std::string_view> cut_into_characters(std::string_view text);
/// The characters of a text; U+FFFD for each byte that is not UTF-8.
[[nodiscard]] std::u32string characters(std::string_view text);
/// True where one character, as `utf8_length` cuts them, could break or garble a line: C0, DEL, C1, line and paragraph
/// separators. Requires: not empty.
[[nodiscard]] bool is_control(std::string_view character);
/// `text` fit for one line of a terminal: control characters and bytes that are not UTF-8 are shown as \xNN.
[[nodiscard]] std::string one_line(std::string_view text);

/// Adds one byte of a text to an element or attribute of XML: & < > and " are written by name.
void put_xml(std::string& out, char c);

/// The numbers of the placeholders {0} to {99} that stand in a text.
[[nodiscard]] std::set<std::size_t> placeholders(std::string_view text);
/// `text` with each placeholder replaced by the argument of its number; other braces stay. Requires: an argument for
/// every placeholder.
[[nodiscard]] std::string filled(std::string_view text, const std::vector<std::string>& arguments);

}  // namespace groovewright
