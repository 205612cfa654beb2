#include "setup_layout.h"

#include <algorithm>
#include <numeric>
#include <sstream>

namespace groovewright::job {
namespace {

using plane::Ink;
using plane::Piece;

constexpr double kBetween = 2, kPadAcross = 1, kPadAlong = 0.5, kFramePad = 1.5, kFactGap = 3;

/// Without the columns of which only the heading says something.
WordTable filled_columns(const WordTable& all) {
  WordTable out(all.size());
  for (std::size_t c = 0; c < all.front().size(); ++c) {
    if (std::all_of(all.begin() + 1, all.end(), [&](const auto& cells) { return cells[c].empty(); })) continue;
    for (std::size_t r = 0; r < all.size(); ++r) out[r].push_back(all[r][c]);
  }
  return out;
}

}  // namespace

void Flow::paragraph(const std::string& words, double height) {
  const Piece p = scribe_.paragraph(words, width_, height);
  plane::put(view_, p, {at_.x, at_.y - p.above});
  at_.y -= p.above + p.below + kBetween;
}

void Flow::facts(const std::vector<Fact>& all) {
  double wide = 0;
  for (const Fact& f : all) wide = std::max(wide, plane::text_width(scribe_.typeface(), f.first, letters_));
  for (const auto& [what, says] : all) {
    const Piece name = scribe_.text(what, letters_), p = scribe_.paragraph(says, width_ - wide - kFactGap, letters_);
    plane::put(view_, name, {at_.x, at_.y - p.above});
    plane::put(view_, p, {at_.x + wide + kFactGap, at_.y - p.above});
    at_.y -= p.above + p.below + 0.4 * letters_;
  }
  at_.y -= kBetween;
}

/// As wide as the content; where that is too much, the widest columns are narrowed, but no word is broken.
std::vector<double> Flow::widths(const WordTable& rows) const {
  constexpr double kStep = 1;
  const auto wide = [&](std::string_view s) {
    return plane::text_width(scribe_.typeface(), s, letters_) + 2 * kPadAcross;
  };
  std::vector<double> out(rows.front().size(), 0), least = out;
  for (const auto& cells : rows) {
    for (std::size_t c = 0; c < cells.size(); ++c) {
      out[c] = std::max(out[c], wide(cells[c]));
      std::istringstream words(cells[c]);
      for (std::string word; words >> word;) least[c] = std::max(least[c], wide(word));
    }
  }
  for (;;) {
    const double over = std::accumulate(out.begin(), out.end(), 0.0) - width_;
    std::size_t widest = out.size();
    for (std::size_t c = 0; c < out.size(); ++c)
      if (out[c] > least[c] + 1e-9 && (widest == out.size() || out[c] > out[widest])) widest = c;
    if (over <= 1e-9 || widest == out.size()) return out;
    out[widest] -= std::min({kStep, over, out[widest] - least[widest]});
  }
}

void Flow::table(const std::string& title, const WordTable& all) {
  if (all.empty()) return;
  const WordTable rows = filled_columns(all);
  paragraph(title);
  at_.y += kBetween / 2;
  const std::vector<double> wide = widths(rows);
  const double total = std::accumulate(wide.begin(), wide.end(), 0.0), top = at_.y;
  for (const auto& cells : rows) {
    std::vector<Piece> pieces;
    const Piece least = scribe_.text("X", letters_);
    double below = least.below;
    for (std::size_t c = 0; c < cells.size(); ++c) {
      // What fits exactly must not be broken for a rounding.
      pieces.push_back(scribe_.paragraph(cells[c], wide[c] - 2 * kPadAcross + 1e-6, letters_));
      below = std::max(below, pieces.back().below);
    }
    plane::line(view_, Ink::table, at_, {at_.x + total, at_.y});
    double x = at_.x;
    for (std::size_t c = 0; c < cells.size(); ++c) {
      plane::put(view_, pieces[c], {x + kPadAcross, at_.y - kPadAlong - least.above});
      x += wide[c];
    }
    at_.y -= least.above + below + 2 * kPadAlong;
  }
  plane::line(view_, Ink::table, at_, {at_.x + total, at_.y});
  double x = at_.x;
  for (std::size_t c = 0; c <= wide.size(); ++c) {
    plane::line(view_, Ink::table, {x, top}, {x, at_.y});
    if (c < wide.size()) x += wide[c];
  }
  at_.y -= kBetween;
}

void Flow::cautions(const std::vector<std::string>& all) {
  std::vector<Piece> pieces;
  for (const std::string& words : all) pieces.push_back(scribe_.paragraph(words, width_ - 2 * kFramePad, letters_));
  const Piece p = plane::column(pieces, 0.6 * letters_);
  const double height = p.above + p.below + 2 * kFramePad;
  plane::put(view_, p, {at_.x + kFramePad, at_.y - kFramePad - p.above});
  plane::polygon(view_, Ink::visible,
                 {at_, {at_.x, at_.y - height}, {at_.x + width_, at_.y - height}, {at_.x + width_, at_.y}}, false);
  at_.y -= height + kBetween;
}

plane::Page bordered_page(double width, double height, std::string title, std::string description) {
  plane::Page page;
  page.width = width, page.height = height;
  page.title = std::move(title), page.description = std::move(description);
  plane::View frame{"border", "Border", {}, {}};
  const double m = kPageMargin;
  plane::polygon(frame, Ink::frame, {{m, m}, {width - m, m}, {width - m, height - m}, {m, height - m}}, false);
  page.views.push_back(std::move(frame));
  return page;
}

}  // namespace groovewright::job
