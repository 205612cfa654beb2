// page.h: a sheet of paper as values: lines, arcs, filled shapes and words, in mm on paper, x right, y up, (0, 0) at
// its lower left corner. Drawings, belt layouts, templates and set-up sheets are pages; room `ink` writes them.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "groovewright/base/typeface.h"
#include "groovewright/plane.h"

namespace groovewright::plane {

/// What a line is drawn for. A DXF file has a layer for each, an SVG a class.
enum class Ink {
  visible,    ///< edges and outlines (ISO 128-2 type 01.2, wide)
  hidden,     ///< hidden edges (02.1, dashed)
  centre,     ///< centre lines, pitch circles (04.1, long dash, dot)
  cutting,    ///< the thick ends of a cutting line (04.2)
  phantom,    ///< what is not the part: balls, neighbours (05.1, long dash, two dots)
  hatch,      ///< cut metal (01.1, narrow)
  dimension,  ///< dimension and extension lines, arrows (01.1)
  leader,     ///< leader and reference lines (01.1)
  symbol,     ///< tolerance frames, datums, roughness, edges (01.1 at the letters' width)
  text,
  table,  ///< grids of tables and of the title block
  frame,  ///< border of the sheet, outer lines of the title block
  grid,   ///< behind curves and rulers: the thinnest there is
};
inline constexpr std::array kInks{Ink::visible, Ink::hidden,    Ink::centre, Ink::cutting, Ink::phantom,
                                  Ink::hatch,   Ink::dimension, Ink::leader, Ink::symbol,  Ink::text,
                                  Ink::table,   Ink::frame,     Ink::grid};
/// "visible", "hidden" …: the layer's name.
[[nodiscard]] std::string_view to_text(Ink ink);

struct Pen {
  double width = 0.25;
  std::vector<double> dashes;  ///< ink, gap, ink, gap …; none: continuous
};
/// Widths of the line group 0.5 / 0.25 and dash lengths of ISO 128-2, in mm on paper.
[[nodiscard]] Pen pen(Ink ink);

/// A run of lines and arcs drawn with the pen of its ink, or a closed run filled with it.
struct Inked {
  Ink ink = Ink::visible;
  Path path;
  bool filled = false;
};

enum class Align { left, middle, right };
/// One line of text. `at` is on the base line, at the left end, middle or right end of the text.
struct Words {
  Vec2 at;
  std::string text;     ///< UTF-8
  double height = 3.5;  ///< of a capital, mm
  double angle = 0;     ///< rad, counter-clockwise
  Align align = Align::left;
};

/// What belongs together: a view, a table, the title block. Painted in order.
struct View {
  std::string id;     ///< lower_snake_case, unique on the page
  std::string title;  ///< for a reader who can't see it: "Section A-A"
  std::vector<Inked> lines;
  std::vector<Words> words;
};

struct Page {
  double width = 0, height = 0;  ///< mm
  double scale = 1;              ///< of the main views: 0.5 for 1:2. A DXF is written in the part's own size
  std::string title, author;     ///< metadata; author may be empty
  std::string description;       ///< one sentence for a reader who can't see the page
  std::vector<View> views;
};

/// Width of a line of text on paper. A character that the typeface lacks counts as '?', which is what is drawn.
/// Requires: the typeface has '?'.
[[nodiscard]] double text_width(const Typeface& typeface, std::string_view utf8, double height);
/// Where the base line of the words begins.
[[nodiscard]] Vec2 start(const Typeface& typeface, const Words& words);
/// The text with '?' for each character that the typeface lacks.
[[nodiscard]] std::string drawable(const Typeface& typeface, std::string_view utf8);
/// The corners of the box that the words take: over the advance, from the descent to the ascent. Counter-clockwise from
/// the lower left one as the text is read.
[[nodiscard]] std::array<Vec2, 4> box(const Typeface& typeface, const Words& words);

}  // namespace groovewright::plane
