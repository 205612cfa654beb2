#include "groovewright/plane/page.h"

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"

namespace groovewright::plane {
namespace {

constexpr double kWide = 0.5, kNarrow = 0.25, kLetters = 0.35, kBorder = 0.7, kThin = 0.13;

Vec2 direction(const Words& words) { return {cos_of(words.angle), sin_of(words.angle)}; }

}  // namespace

std::string_view to_text(Ink ink) {
  switch (ink) {
    case Ink::visible:
      return "visible";
    case Ink::hidden:
      return "hidden";
    case Ink::centre:
      return "centre";
    case Ink::cutting:
      return "cutting";
    case Ink::phantom:
      return "phantom";
    case Ink::hatch:
      return "hatch";
    case Ink::dimension:
      return "dimension";
    case Ink::leader:
      return "leader";
    case Ink::symbol:
      return "symbol";
    case Ink::text:
      return "text";
    case Ink::table:
      return "table";
    case Ink::frame:
      return "frame";
    case Ink::grid:
      return "grid";
  }
  throw Broken("to_text: an ink that is none");
}

Pen pen(Ink ink) {
  switch (ink) {
    case Ink::visible:
    case Ink::cutting:
      return {kWide, {}};
    case Ink::hidden:  // ISO 128-2: dashes of 12 line widths, gaps of 3
      return {kNarrow, {12 * kNarrow, 3 * kNarrow}};
    case Ink::centre:  // 24 d, 3 d, dot of 0.5 d, 3 d
      return {kNarrow, {24 * kNarrow, 3 * kNarrow, 0.5 * kNarrow, 3 * kNarrow}};
    case Ink::phantom:
      return {kNarrow, {24 * kNarrow, 3 * kNarrow, 0.5 * kNarrow, 3 * kNarrow, 0.5 * kNarrow, 3 * kNarrow}};
    case Ink::hatch:
    case Ink::dimension:
    case Ink::leader:
    case Ink::table:
      return {kNarrow, {}};
    case Ink::symbol:
    case Ink::text:
      return {kLetters, {}};
    case Ink::frame:
      return {kBorder, {}};
    case Ink::grid:
      return {kThin, {}};
  }
  throw Broken("pen: an ink that is none");
}

double text_width(const Typeface& typeface, std::string_view utf8, double height) {
  const auto unknown = typeface.wide.find(U'?');
  require(unknown != typeface.wide.end(), "text_width: the typeface lacks '?'");
  double sum = 0;
  for (const char32_t c : characters(utf8)) {
    const auto found = typeface.wide.find(c);
    sum += (found == typeface.wide.end() ? unknown : found)->second;
  }
  return sum * height;
}

std::string drawable(const Typeface& typeface, std::string_view utf8) {
  std::string text;
  for (const std::string_view one : cut_into_characters(utf8)) {
    text += typeface.wide.contains(characters(one).front()) ? one : "?";
  }
  return text;
}

Vec2 start(const Typeface& typeface, const Words& words) {
  const double before = words.align == Align::left ? 0 : words.align == Align::middle ? 0.5 : 1;
  return words.at - before * text_width(typeface, words.text, words.height) * direction(words);
}

std::array<Vec2, 4> box(const Typeface& typeface, const Words& words) {
  const double width = text_width(typeface, words.text, words.height);
  const double low = -typeface.descent * words.height, high = typeface.ascent * words.height;
  const Vec2 from = start(typeface, words), along = direction(words), up{-along.y, along.x};
  const auto corner = [&](double s, double t) { return from + s * along + t * up; };
  return {corner(0, low), corner(width, low), corner(width, high), corner(0, high)};
}

}  // namespace groovewright::plane
