// blocks.h: inside room `drawing`: the parts of a sheet, each laid out on its own before they are placed. The main
// views have the part's axis at (0, 0).
#pragma once

#include <span>
#include <string>
#include <vector>

#include "groovewright/drawing.h"
#include "views.h"
#include "voice.h"

namespace groovewright::drawing {

/// What every block is made from.
struct Subject {
  const part::Part& part;
  const section::Section& section;
  std::span<const Dimension> rows;
  const Requirements& requirements;
  const Voice& voice;
  bool first_angle = true;  ///< then the front of the section points left, and the face view stands on the right
};
/// Views in the part's own size, made once.
struct Looks {
  Cut cut;
  Lines face, isometric;
};

/// Letters of the section and of the details, apart from the datums' (A, B, C).
inline constexpr const char* kCutLetter = "X";
inline constexpr const char* kDetailLetters = "ZYWVUTSRQPNMLKJHGFED";

/// A detail: a window of the section, drawn larger.
struct Detail {
  std::string letter;
  Box window;  ///< half plane: x = Z, y = radius
  plane::View view;
};

[[nodiscard]] plane::View section_view(const Subject& s, const Cut& cut, double scale, std::span<const Detail> details);
[[nodiscard]] plane::View face_view(const Subject& s, const Looks& looks, double scale);
[[nodiscard]] plane::View isometric_view(const Subject& s, const Looks& looks, double scale);
/// The grooves at the rear end of each rim whose grooves differ, then each flange that differs. Letters by
/// kDetailLetters.
[[nodiscard]] std::vector<Detail> details(const Subject& s);

/// "3× mark, 0.8 wide …": of `part.marks[i]`.
[[nodiscard]] std::string mark_words(const Subject& s, std::size_t i);

/// Tables and notes; views without words are left out.
[[nodiscard]] plane::View groove_table(const Subject& s);
[[nodiscard]] plane::View hole_table(const Subject& s);
[[nodiscard]] plane::View revision_table(const Subject& s, double width);
[[nodiscard]] plane::View notes(const Subject& s, double width);
struct SheetNames {
  std::string format, scale;
};
[[nodiscard]] plane::View title_block(const Subject& s, const SheetNames& names, double width);

/// "1:2", "5:1".
[[nodiscard]] std::string scale_text(double scale);
/// The largest scale of ISO 5455 that is not above `most`.
[[nodiscard]] double series_scale(double most);

/// The zone `id`, or nullptr.
[[nodiscard]] const Zone* find_zone(const Requirements& requirements, std::string_view id);
/// The letter of the datum that `what` carries, "" where it carries none.
[[nodiscard]] std::string datum_of(const Requirements& requirements, std::string_view what);
/// A view's title above its ink, in the middle.
void add_title(plane::View& view, const std::string& words, const Scribe& scribe);

}  // namespace groovewright::drawing
