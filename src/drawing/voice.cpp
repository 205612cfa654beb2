#include "voice.h"

#include <algorithm>
#include <cmath>

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"

namespace groovewright::drawing {
namespace {

constexpr double kSymmetric = 1e-9;

bool is_symmetric(const Dimension& d) {
  return d.lower && d.upper && std::abs((*d.upper - d.value) - (d.value - *d.lower)) < kSymmetric;
}

Units other(Units units) { return units == Units::mm ? Units::inch : Units::mm; }

}  // namespace

const Dimension* find(std::span<const Dimension> rows, std::string_view id) {
  const auto row = std::find_if(rows.begin(), rows.end(), [&](const Dimension& d) { return d.id == id; });
  return row == rows.end() ? nullptr : &*row;
}

const Dimension& at(std::span<const Dimension> rows, std::string_view id) {
  const Dimension* row = find(rows, id);
  if (row == nullptr) throw Broken("drawing: no row '" + std::string(id) + "'");
  return *row;
}

std::string Voice::filled(const std::string& key, const std::vector<std::string>& with) const {
  return groovewright::filled(word(key), with);
}

std::string Voice::plain(double value, const std::string& unit) const {
  std::string text = without_zeros(shown(value, unit, style_.units).value);
  return unit == "deg" ? text + "°" : text;
}

std::string Voice::length(double value) const {
  std::string text = plain(value);
  if (dual_) text += " [" + without_zeros(shown(value, "mm", other(style_.units)).value) + "]";
  return text;
}

Piece Voice::bare_size(const Dimension& row, Units units) const {
  const std::string degree = row.unit == "deg" ? "°" : "";
  const auto value = [&](double v) { return shown(v, row.unit, units).value; };
  const ShownLimits limits = shown_limits(row, units);
  if (!row.lower && !row.upper) return text(without_zeros(value(row.value)) + degree);
  if (row.fit)
    return drawing::row(
        {text(without_zeros(value(row.value)) + " " + row.symbol), scribe_.stacked(limits.upper, limits.lower)});
  if (!row.lower || !row.upper) {
    // One limit: the size, and the limit behind it where it is another.
    const double limit = row.upper ? *row.upper : *row.lower;
    const std::string bound = without_zeros(value(limit)) + degree + " " + word(row.upper ? "most" : "least");
    return text(limit == row.value ? bound : without_zeros(value(row.value)) + degree + " (" + bound + ")");
  }
  if (is_symmetric(row) && units == Units::mm) {
    const std::string off =
        row.unit == "mm" ? value(*row.upper - row.value) : without_zeros(value(*row.upper - row.value));
    return text((row.unit == "mm" ? value(row.value) : without_zeros(value(row.value))) + degree + " ±" + off + degree);
  }
  return scribe_.stacked(limits.upper + degree, limits.lower + degree);
}

Piece Voice::size(const Dimension& row, const Marks& marks) const {
  std::vector<Piece> pieces;
  const std::string open = marks.reference ? "(" : "", close = marks.reference ? ")" : "";
  if (!marks.before.empty() || marks.reference) pieces.push_back(text(open + marks.before));
  Dimension shown_row = row;
  if (marks.reference) shown_row.lower.reset(), shown_row.upper.reset();
  pieces.push_back(bare_size(shown_row, style_.units));
  if (dual_ && row.unit == "mm") {
    pieces.push_back(text("["));
    pieces.push_back(bare_size(shown_row, other(style_.units)));
    pieces.push_back(text("]"));
  }
  if (!close.empty()) pieces.push_back(text(close));
  const Piece whole = drawing::row(pieces, 0.4);
  return marks.after.empty() ? whole : drawing::row({whole, text(marks.after)}, kSpace);
}

Piece Voice::frame(const Zone& zone) const {
  std::vector<Piece> cells;
  switch (zone.kind) {
    case Zone::Kind::flatness:
      cells.push_back(text("⏥"));
      break;
    case Zone::Kind::perpendicularity:
      cells.push_back(scribe_.perpendicular());
      break;
    case Zone::Kind::position:
      cells.push_back(text("⌖"));
      break;
    case Zone::Kind::circular_runout:
    case Zone::Kind::axial_runout:
      cells.push_back(text("↗"));
      break;
  }
  std::string width = (zone.diametral ? "⌀" : "") + length(*zone.row.upper);
  // ASME Y14.5 takes a pattern as one without a sign.
  if (zone.common && system_ == System::iso) width += " CZ";
  if (zone.maximum_material) width += " Ⓜ";
  cells.push_back(text(width));
  for (const std::string& letter : zone.datums) cells.push_back(text(letter));
  return scribe_.frame(cells);
}

}  // namespace groovewright::drawing
