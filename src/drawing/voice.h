// voice.h: inside room `drawing`: a requirement as it is written on the sheet.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "groovewright/drawing.h"
#include "pieces.h"

namespace groovewright::drawing {

/// How a size is marked.
struct Marks {
  std::string before = {};  ///< "⌀", "R", "6× ⌀"
  std::string after = {};   ///< set behind the limits
  bool reference = false;   ///< in brackets: follows from others
};

/// The standards that govern a sheet, by its format: never mixed.
enum class System { iso, asme };

/// Everything that one sheet's words depend on.
class Voice {
 public:
  Voice(const Style& style, System system, bool dual)
      : style_(style), scribe_(style.typeface), system_(system), dual_(dual) {}

  [[nodiscard]] const Scribe& scribe() const { return scribe_; }
  [[nodiscard]] const std::string& word(const std::string& key) const { return style_.texts.at(key); }
  [[nodiscard]] std::string filled(const std::string& key, const std::vector<std::string>& with) const;
  [[nodiscard]] Units units() const { return style_.units; }
  [[nodiscard]] System system() const { return system_; }

  /// A length, angle or mass as written, without its unit: trailing zeros dropped where no limits are stated.
  [[nodiscard]] std::string plain(double value, const std::string& unit = "mm") const;
  /// With the second unit behind, in square brackets, where both are wished.
  [[nodiscard]] std::string length(double value) const;
  /// A size with its fit, limits or deviations.
  [[nodiscard]] Piece size(const Dimension& row, const Marks& marks = {}) const;
  /// The frame of a geometrical tolerance.
  [[nodiscard]] Piece frame(const Zone& zone) const;
  [[nodiscard]] Piece text(std::string_view utf8, double height = kLetters) const { return scribe_.text(utf8, height); }

 private:
  [[nodiscard]] Piece bare_size(const Dimension& row, Units units) const;

  Style style_;
  Scribe scribe_;
  System system_;
  bool dual_;
};

/// The row of this id, or nullptr.
[[nodiscard]] const Dimension* find(std::span<const Dimension> rows, std::string_view id);
/// Requires: there is one (Broken).
[[nodiscard]] const Dimension& at(std::span<const Dimension> rows, std::string_view id);

}  // namespace groovewright::drawing
