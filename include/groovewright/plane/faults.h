// faults.h: what is wrong with a page as ink: words that can't be read, lines that lead nowhere.
#pragma once

#include <string>

#include "groovewright/plane/page.h"

namespace groovewright::plane {

/// Ink that a drawing office would send back.
struct Faults {
  int words_on_words = 0;   ///< text boxes that share area
  int words_on_lines = 0;   ///< a line through a text box
  int leaders_crossed = 0;  ///< two leaders
  int lost_arrows = 0;      ///< an arrow's tip on no line
  int off_sheet = 0;        ///< ink beyond the sheet's edge
  std::string first;        ///< the first one found, in words
  [[nodiscard]] int total() const {
    return words_on_words + words_on_lines + leaders_crossed + lost_arrows + off_sheet;
  }
};
[[nodiscard]] Faults faults(const Page& page, const Typeface& typeface);

}  // namespace groovewright::plane
