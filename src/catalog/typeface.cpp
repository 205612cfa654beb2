#include "typeface.h"

#include "groovewright/base/text.h"

namespace groovewright::catalog {
namespace {

/// Adds the characters of one line, `"0.6543": "abc"`; reports what is wrong with it.
void read_width(const Fields& file, const yaml::Entry& line, std::map<char32_t, double>& wide) {
  const Quantity width = read_quantity(line.key, Measure::plain);
  if (width.error != QuantityError::none || !(width.value > 0)) {
    file.error(Code::not_a_number, line.value,
               "'" + line.key + "' is no width: the key is a number above 0, in heights of a capital");
    return;
  }
  if (line.value.kind != yaml::Node::Kind::scalar || line.value.scalar.empty()) {
    file.error(Code::wrong_kind, line.value, "after a width stand all characters that have it, in quotes: \"aeo\"");
    return;
  }
  for (const std::string_view one : cut_into_characters(line.value.scalar)) {
    if (!wide.emplace(characters(one).front(), width.value).second) {
      file.error(Code::bad_catalog, line.value, "the character '" + std::string(one) + "' has a width already");
    }
  }
}

}  // namespace

Typeface read_typeface(Fields& file) {
  Typeface typeface;
  static_cast<void>(file.source());  // due, though nothing repeats it
  typeface.family = file.word("family", "osifont");
  typeface.em = file.number("em", kPlain);
  typeface.ascent = file.number("ascent", kPlain);
  typeface.descent = file.number("descent", kPlain, Sign::zero_too);
  const yaml::Node& wide = file.node("wide", R"({"0.9": "aeo", …})");
  Fields widths = file.map("wide");
  for (const yaml::Entry* line : widths.rest()) read_width(file, *line, typeface.wide);
  for (const char32_t due : {U'?', U' '}) {
    if (file.clean() && !typeface.wide.contains(due)) {
      file.error(
          Code::missing_key, wide,
          due == U' ' ? "the space has no width" : "'?' has no width: it stands for characters that are missing");
    }
  }
  return typeface;
}

}  // namespace groovewright::catalog
