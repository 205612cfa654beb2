// picture_page.h: inside room `drive`: what all its pages share: frame, a column of notes, rulers, cautions.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "groovewright/drive/pictures.h"
#include "groovewright/plane/pieces.h"

namespace groovewright::drive {

/// A sheet of ISO 216. mm.
struct Paper {
  const char* name;
  double width, height;
};
inline constexpr Paper kA4Lying{"A4", 297, 210}, kA3Lying{"A3", 420, 297}, kA4Upright{"A4", 210, 297},
    kA3Upright{"A3", 297, 420};
/// From the edge of the paper to the frame.
inline constexpr double kMargin = 10;
/// Height of the capitals of a page's title.
inline constexpr double kTitleLetters = 5;
/// From the frame to what stands in it.
inline constexpr double kInset = 4;

class Pen {
 public:
  explicit Pen(const PictureStyle& style) : style_(style), scribe_(style.typeface) {}
  [[nodiscard]] const plane::Scribe& scribe() const { return scribe_; }
  [[nodiscard]] const std::string& word(std::string_view key) const { return style_.texts.at(key); }
  [[nodiscard]] std::string filled(std::string_view key, const std::vector<std::string>& with) const;
  [[nodiscard]] plane::Piece text(std::string_view utf8, double height = plane::kLetters) const {
    return scribe_.text(utf8, height);
  }

 private:
  PictureStyle style_;
  plane::Scribe scribe_;
};

/// Where the tensioner stands: "free", "far stop", "12.0° from free". Requires: one.
[[nodiscard]] std::string position_words(const Drive& drive, double position, const Pen& pen);

[[nodiscard]] plane::Page empty_page(const Paper& paper, std::string title, std::string description);

/// Notes one under the other, from the top down.
class Notes {
 public:
  Notes(plane::View& view, const Pen& pen, Vec2 top_left, double width)
      : view_(view), pen_(pen), at_(top_left), width_(width) {}

  void title(const std::string& words);
  void paragraph(const std::string& words, double height = plane::kLetters);
  /// A ruled table; cells are cut to fit the width. Rows that find no room above `floor` are counted by `more`.
  void table(const std::string& id, std::vector<std::vector<std::string>> rows, std::size_t wide_column, double floor);
  /// Framed, so that nobody misses them.
  void cautions(const std::vector<std::string>& all);
  void gap(double by) { at_.y -= by; }
  [[nodiscard]] double y() const { return at_.y; }

 private:
  plane::View& view_;
  const Pen& pen_;
  Vec2 at_;
  double width_;
};

/// Height that framed cautions take.
[[nodiscard]] double cautions_height(const Pen& pen, const std::vector<std::string>& all, double width);

inline constexpr double kRuler = 100;
/// A ruler of kRuler mm from `from` along `way` (a unit vector along an axis), ticks and figures to its left, words
/// beyond them.
void ruler(plane::View& view, const Pen& pen, Vec2 from, Vec2 way, const std::string& words);

}  // namespace groovewright::drive
