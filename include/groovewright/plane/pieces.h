// pieces.h: bits of a page that are set like words, and the plain lines, arrows, tables and hatching between them.
// Lengths mm on paper.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "groovewright/plane/page.h"

namespace groovewright::plane {

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
  std::vector<Inked> lines;
  std::vector<Words> words;
  double width = 0, above = 0, below = 0;
};

/// Makes pieces of text with the widths of one typeface.
class Scribe {
 public:
  explicit Scribe(const Typeface& typeface) : typeface_(typeface) {}
  [[nodiscard]] const Typeface& typeface() const { return typeface_; }

  [[nodiscard]] Piece text(std::string_view utf8, double height = kLetters) const;
  /// Two small lines, one over the other, round the middle of a line of letters.
  [[nodiscard]] Piece stacked(std::string_view upper, std::string_view lower) const;
  /// Lines of at most `width`; a word that is wider is broken. The first line stands on the base line.
  [[nodiscard]] Piece paragraph(std::string_view utf8, double width, double height = kLetters) const;

 private:
  const Typeface& typeface_;
};

/// The text, or as much of it as fits into `width` with three dots behind.
[[nodiscard]] std::string shortened(const Typeface& typeface, std::string_view utf8, double width,
                                    double height = kLetters);

/// Side by side on one base line.
[[nodiscard]] Piece row(const std::vector<Piece>& pieces, double gap = 1);
/// One under the other, left ends in line; the first keeps the base line.
[[nodiscard]] Piece column(const std::vector<Piece>& pieces, double gap = 1);

/// Moves a piece; `above` and `below` stay those of its own base line.
void shift(Piece& piece, Vec2 by);
/// Adds a part to the whole, which then reaches at least as far above and below.
void take(Piece& whole, Piece part);
/// A ruled table: first row a heading; columns as wide as their content. Its upper left corner is at (0, 0), its title
/// above. Requires: a row at least.
[[nodiscard]] View table(const std::string& id, const std::string& title, const std::vector<std::vector<Piece>>& rows,
                         const Scribe& scribe);

/// Adds the piece with its base line's left end at `at`, turned by `angle`.
void put(View& view, const Piece& piece, Vec2 at, double angle = 0);

// ---- lines ----
/// Straight pieces from point to point.
[[nodiscard]] Path run(const std::vector<Vec2>& points, bool closed = false);
void line(View& view, Ink ink, Vec2 a, Vec2 b);
void polygon(View& view, Ink ink, const std::vector<Vec2>& corners, bool filled);
/// Lines of the part, enlarged about the origin; mirrored at x = 0 first where asked.
void draw(View& view, const std::vector<Inked>& lines, double scale, bool mirrored);
/// A filled arrow head; `direction` is the way it points, a unit vector.
void arrow(View& view, Vec2 tip, Vec2 direction, Ink ink = Ink::dimension);

/// The least box round everything, text as the typeface measures it.
struct Box {
  Vec2 low, high;
  [[nodiscard]] double width() const { return high.x - low.x; }
  [[nodiscard]] double height() const { return high.y - low.y; }
};
[[nodiscard]] Box extents(const View& view, const Typeface& typeface);
/// A path's extents, arcs exact.
[[nodiscard]] Box extents(const Path& path);
void move(View& view, Vec2 by);
/// A path of the part, enlarged about the origin and moved; mirrored at x = 0 first where asked.
[[nodiscard]] Path mapped(const Path& path, double scale, bool mirrored, Vec2 by = {});

/// Hatches closed runs by even-odd at 45°, `step` apart (ISO 128-3). Arcs count as chords of at most 0.02 mm error.
void hatch(View& view, const std::vector<Path>& metal, double step);

}  // namespace groovewright::plane
