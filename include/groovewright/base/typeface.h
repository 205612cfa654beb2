// typeface.h: how wide the letters of a drawing are, so that text can be laid out without opening a font. Data that
// `catalog` reads and `plane` measures with.
#pragma once

#include <map>
#include <string>

namespace groovewright {

/// All in heights of a capital.
struct Typeface {
  std::string family;               ///< as a font is named: "osifont"
  double em = 1;                    ///< font size that gives capitals of height 1
  double ascent = 1, descent = 0;   ///< how far ink reaches above and below the base line; both positive
  std::map<char32_t, double> wide;  ///< advance of each character that the font has; space and '?' are among them
};

}  // namespace groovewright
