// pieces.h: inside room `drawing`: bits of a sheet that are set like words: sizes with limits, tolerance frames, marks.
// Lengths mm on paper.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "groovewright/plane/page.h"

namespace groovewright::drawing {

/// Heights of capitals by ISO 3098-1: sizes and notes, limits beside a size, titles of views.
inline constexpr double kLetters = 2.5, kSmallLetters = 1.8, kViewTitle = 3.5;
/// Middle of a line of letters above its base line.
inline constexpr double kMiddle = kLetters / 2;
/// Space round text: nothing else is drawn nearer.
inline constexpr double kClear = 0.8;
/// ISO 129-1: length of an arrow, about the letters' height.
inline constexpr double kArrow = 2.5;
/// Between two words set as pieces of their own.
inline constexpr double kSpace = 1.3;

/// Something set along a base line, which runs from (0, 0) to (width, 0).
struct Piece {
  std::vector<plane::Inked> lines;
  std::vector<plane::Words> words;
  double width = 0, above = 0, below = 0;
};

/// Makes pieces with the widths of one typeface.
class Scribe {
 public:
  explicit Scribe(const Typeface& typeface) : typeface_(typeface) {}
  [[nodiscard]] const Typeface& typeface() const { return typeface_; }

  [[nodiscard]] Piece text(std::string_view utf8, double height = kLetters) const;
  /// Two small lines, one over the other, round the middle of a line of letters.
  [[nodiscard]] Piece stacked(std::string_view upper, std::string_view lower) const;
  /// A tolerance frame of ISO 1101: cells from left to right.
  [[nodiscard]] Piece frame(const std::vector<Piece>& cells) const;
  /// ISO 1101's sign of perpendicularity, which the typeface lacks.
  [[nodiscard]] Piece perpendicular() const;
  /// ISO 21920-1: material is to be removed, with the parameter.
  [[nodiscard]] Piece roughness(std::string_view parameter) const;
  /// The truncated cone of ISO 5456-2 in its two views: first or third angle.
  [[nodiscard]] Piece projection(bool first_angle) const;
  /// Lines of at most `width`; a word that is wider is broken. The first line stands on the base line.
  [[nodiscard]] Piece paragraph(std::string_view utf8, double width, double height = kLetters) const;

 private:
  const Typeface& typeface_;
};

/// Side by side on one base line.
[[nodiscard]] Piece row(const std::vector<Piece>& pieces, double gap = 1);
/// One under the other, left ends in line; the first keeps the base line.
[[nodiscard]] Piece column(const std::vector<Piece>& pieces, double gap = 1);

/// Adds the piece with its base line's left end at `at`, turned by `angle`.
void put(plane::View& view, const Piece& piece, plane::Vec2 at, double angle = 0);

// ---- lines ----
void line(plane::View& view, plane::Ink ink, plane::Vec2 a, plane::Vec2 b);
void polygon(plane::View& view, plane::Ink ink, const std::vector<plane::Vec2>& corners, bool filled);
/// Lines of the part, enlarged about the origin; mirrored at x = 0 first where asked.
void draw(plane::View& view, const std::vector<plane::Inked>& lines, double scale, bool mirrored);
/// A filled arrow head; `direction` is the way it points, a unit vector.
void arrow(plane::View& view, plane::Vec2 tip, plane::Vec2 direction, plane::Ink ink = plane::Ink::dimension);

/// The least box round everything, text as the typeface measures it.
struct Box {
  plane::Vec2 low, high;
  [[nodiscard]] double width() const { return high.x - low.x; }
  [[nodiscard]] double height() const { return high.y - low.y; }
};
[[nodiscard]] Box extents(const plane::View& view, const Typeface& typeface);
/// A path's extents, arcs exact.
[[nodiscard]] Box extents(const plane::Path& path);
void move(plane::View& view, plane::Vec2 by);
/// A path of the part, enlarged about the origin and moved; mirrored at x = 0 first where asked.
[[nodiscard]] plane::Path mapped(const plane::Path& path, double scale, bool mirrored, plane::Vec2 by = {});

/// Hatches closed runs by even-odd at 45°, `step` apart (ISO 128-3). Arcs count as chords of at most 0.02 mm error.
void hatch(plane::View& view, const std::vector<plane::Path>& metal, double step);

}  // namespace groovewright::drawing
