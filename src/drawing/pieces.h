// pieces.h: inside room `drawing`: pieces that only a drawing has: tolerance frames and the signs of the standards.
#pragma once

#include <string_view>
#include <vector>

#include "groovewright/plane/pieces.h"

namespace groovewright::drawing {

using plane::arrow;
using plane::Box;
using plane::column;
using plane::draw;
using plane::extents;
using plane::hatch;
using plane::kArrow;
using plane::kClear;
using plane::kLetters;
using plane::kMiddle;
using plane::kSmallLetters;
using plane::kSpace;
using plane::kViewTitle;
using plane::line;
using plane::mapped;
using plane::move;
using plane::Piece;
using plane::polygon;
using plane::put;
using plane::row;

class Scribe : public plane::Scribe {
 public:
  using plane::Scribe::Scribe;

  /// A tolerance frame of ISO 1101: cells from left to right.
  [[nodiscard]] Piece frame(const std::vector<Piece>& cells) const;
  /// ISO 1101's sign of perpendicularity, which the typeface lacks.
  [[nodiscard]] Piece perpendicular() const;
  /// ISO 21920-1: material is to be removed, with the parameter.
  [[nodiscard]] Piece roughness(std::string_view parameter) const;
  /// The truncated cone of ISO 5456-2 in its two views: first or third angle.
  [[nodiscard]] Piece projection(bool first_angle) const;
};

}  // namespace groovewright::drawing
