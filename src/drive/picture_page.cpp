#include "picture_page.h"

#include <algorithm>
#include <numbers>

#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"

namespace groovewright::drive {
namespace {

using plane::Ink;
using plane::Piece;
using plane::View;

constexpr double kBetween = 2.5, kPad = 2, kCell = 1.2;

Piece stacked_cautions(const Pen& pen, const std::vector<std::string>& all, double width) {
  std::vector<Piece> pieces;
  for (const std::string& words : all) pieces.push_back(pen.scribe().paragraph(words, width - 2 * kPad));
  return plane::column(pieces, 1.5);
}

}  // namespace

std::string Pen::filled(std::string_view key, const std::vector<std::string>& with) const {
  return groovewright::filled(word(key), with);
}

plane::Page empty_page(const Paper& paper, std::string title, std::string description) {
  plane::Page page;
  page.width = paper.width, page.height = paper.height;
  page.title = std::move(title), page.description = std::move(description);
  View frame{"border", "Border", {}, {}};
  plane::polygon(frame, Ink::frame,
                 {{kMargin, kMargin},
                  {paper.width - kMargin, kMargin},
                  {paper.width - kMargin, paper.height - kMargin},
                  {kMargin, paper.height - kMargin}},
                 false);
  page.views.push_back(std::move(frame));
  return page;
}

void Notes::title(const std::string& words) { paragraph(words, kTitleLetters); }

void Notes::paragraph(const std::string& words, double height) {
  const Piece p = pen_.scribe().paragraph(words, width_, height);
  put(view_, p, {at_.x, at_.y - p.above});
  at_.y -= p.above + p.below + kBetween;
}

void Notes::table(const std::string& id, std::vector<std::vector<std::string>> rows, std::size_t wide_column,
                  double floor) {
  const auto& typeface = pen_.scribe().typeface();
  const double small = plane::kSmallLetters;
  const auto row_height = [&](double letters) { return (typeface.ascent + typeface.descent) * letters + 2 * kCell; };
  const double letters =
      at_.y - static_cast<double>(rows.size()) * row_height(plane::kLetters) > floor ? plane::kLetters : small;
  const auto most = static_cast<std::size_t>(std::max(2.0, (at_.y - floor) / row_height(letters)));
  std::size_t left_out = 0;
  if (rows.size() > most) {
    left_out = rows.size() - (most - 1);
    rows.resize(most - 1);
  }
  double others = 2 * kCell;
  for (std::size_t c = 0; c < rows.front().size(); ++c) {
    double wide = 0;
    for (const auto& r : rows) wide = std::max(wide, plane::text_width(typeface, r[c], letters) + 2 * kCell);
    if (c != wide_column) others += wide;
  }
  std::vector<std::vector<Piece>> cells;
  for (auto& r : rows) {
    r[wide_column] = plane::shortened(typeface, r[wide_column], std::max(8.0, width_ - others), letters);
    cells.emplace_back();
    for (const std::string& words : r) cells.back().push_back(pen_.text(words, letters));
  }
  View ruled = plane::table(id, "", cells, pen_.scribe());
  const plane::Box box = plane::extents(ruled, typeface);
  plane::move(ruled, at_);
  std::erase_if(ruled.words, [](const plane::Words& w) { return w.text.empty(); });
  view_.lines.insert(view_.lines.end(), ruled.lines.begin(), ruled.lines.end());
  view_.words.insert(view_.words.end(), ruled.words.begin(), ruled.words.end());
  at_.y += box.low.y - kBetween;
  if (left_out > 0) paragraph(pen_.filled("drive_more", {std::to_string(left_out)}), letters);
}

double cautions_height(const Pen& pen, const std::vector<std::string>& all, double width) {
  const Piece p = stacked_cautions(pen, all, width);
  return p.above + p.below + 2 * kPad;
}

void Notes::cautions(const std::vector<std::string>& all) {
  const Piece p = stacked_cautions(pen_, all, width_);
  const double height = p.above + p.below + 2 * kPad;
  put(view_, p, {at_.x + kPad, at_.y - kPad - p.above});
  plane::polygon(view_, Ink::visible,
                 {{at_.x, at_.y}, {at_.x, at_.y - height}, {at_.x + width_, at_.y - height}, {at_.x + width_, at_.y}},
                 false);
  at_.y -= height + kBetween;
}

void ruler(View& view, const Pen& pen, Vec2 from, Vec2 way, const std::string& words) {
  constexpr int kTicks = 100;
  constexpr double kOne = 1.5, kFive = 2.5, kTen = 4;
  const Vec2 up{-way.y, way.x};
  const double angle = atan2_of(way.y, way.x);
  plane::line(view, Ink::visible, from, from + kRuler * way);
  for (int k = 0; k <= kTicks; ++k) {
    const Vec2 foot = from + (k * kRuler / kTicks) * way;
    const double tick = k % 10 == 0 ? kTen : k % 5 == 0 ? kFive : kOne;
    plane::line(view, k % 10 == 0 ? Ink::dimension : Ink::grid, foot, foot + tick * up);
    if (k % 10 != 0) continue;
    const Piece p = pen.text(std::to_string(k));
    put(view, p, foot + (kTen + 0.6 + p.below) * up - p.width / 2 * way, angle);
  }
  if (words.empty()) return;
  const Piece p = pen.text(words);
  put(view, p, from + (kTen + 0.6 + 1.7 * plane::kLetters + p.below) * up, angle);
}

}  // namespace groovewright::drive
