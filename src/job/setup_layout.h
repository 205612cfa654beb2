// setup_layout.h: inside room `job`: words and tables set one under the other on a page. Lengths mm on paper.
#pragma once

#include <string>

#include "groovewright/plane/pieces.h"
#include "setup_words.h"

namespace groovewright::job {

/// Sets words from the top down between x = left and left + width.
class Flow {
 public:
  Flow(plane::View& view, const plane::Scribe& scribe, plane::Vec2 top_left, double width, double letters)
      : view_(view), scribe_(scribe), at_(top_left), width_(width), letters_(letters) {}

  void paragraph(const std::string& words) { paragraph(words, letters_); }
  void paragraph(const std::string& words, double height);
  /// What each is about, and beside it what it says.
  void facts(const std::vector<Fact>& all);
  /// Ruled, with its title above; cells that are too wide run over several lines, and columns with a
  /// heading alone are left out. Nothing where there are no rows.
  void table(const std::string& title, const WordTable& rows);
  /// Framed, so that nobody misses them.
  void cautions(const std::vector<std::string>& all);
  /// Where the next one begins.
  [[nodiscard]] double y() const { return at_.y; }

 private:
  [[nodiscard]] std::vector<double> widths(const WordTable& rows) const;

  plane::View& view_;
  const plane::Scribe& scribe_;
  plane::Vec2 at_;
  double width_, letters_;
};

/// A page with its border and nothing in it.
[[nodiscard]] plane::Page bordered_page(double width, double height, std::string title, std::string description);
/// From the edge of the paper to the border, and from there to what stands within.
inline constexpr double kPageMargin = 10, kPageInset = 3;

}  // namespace groovewright::job
