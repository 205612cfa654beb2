#include "pieces.h"

#include <algorithm>

namespace groovewright::drawing {
namespace {

using plane::Ink;
using plane::Inked;
using plane::run;
using plane::Vec2;

constexpr double kFrameHeight = 2 * kLetters;

}  // namespace

Piece Scribe::frame(const std::vector<Piece>& cells) const {
  Piece whole;
  whole.above = kMiddle + kFrameHeight / 2, whole.below = kFrameHeight / 2 - kMiddle;
  const double top = whole.above, bottom = -whole.below;
  for (Piece cell : cells) {
    // As wide as high at least; the content in the middle.
    const double width = std::max(kFrameHeight, cell.width + 2.4);
    shift(cell, {whole.width + (width - cell.width) / 2, 0});
    const double x = whole.width;
    take(whole, std::move(cell));
    whole.lines.push_back({Ink::symbol, run({{x, bottom}, {x + width, bottom}, {x + width, top}, {x, top}}, true)});
    whole.width += width;
  }
  whole.above = top, whole.below = -bottom;
  return whole;
}

Piece Scribe::perpendicular() const {
  Piece piece;
  piece.width = kLetters, piece.above = kLetters;
  piece.lines = {{Ink::symbol, run({{0, 0}, {kLetters, 0}})},
                 {Ink::symbol, run({{kLetters / 2, 0}, {kLetters / 2, kLetters}})}};
  return piece;
}

Piece Scribe::roughness(std::string_view parameter) const {
  // ISO 21920-1: legs at 60°, the left one to the letters' height and a half, the right one twice that; the bar between
  // says that material is removed.
  constexpr double h = 1.4 * kLetters, slope = 0.57735;
  Piece sign;
  const Vec2 foot{h * slope, -kMiddle / 2}, left{0, foot.y + h}, right{foot.x + 2.1 * h * slope, foot.y + 2.1 * h};
  Piece words = text(parameter);
  sign.width = right.x + words.width + 1.5;
  sign.lines = {{Ink::symbol, run({left, foot, right, {sign.width, right.y}})},
                {Ink::symbol, run({left, {foot.x + h * slope, left.y}})}};
  sign.above = right.y + 0.2, sign.below = -foot.y + 0.2;
  shift(words, {right.x + 0.8, right.y - kClear - words.above});
  const double above = sign.above, below = sign.below;
  take(sign, std::move(words));
  sign.above = above, sign.below = std::max(below, sign.below);
  return sign;
}

Piece Scribe::projection(bool first_angle) const {
  constexpr double big = 3, small = 1.5, length = 6, gap = 3.5;
  Piece piece;
  const double cone = first_angle ? 0 : 2 * big + gap, rings = first_angle ? length + gap + big : big;
  // The circles show the small end from where a first- or third-angle view is taken.
  const double left = first_angle ? big : small, right = first_angle ? small : big;
  piece.lines.push_back(
      {Ink::symbol, run({{cone, -left}, {cone + length, -right}, {cone + length, right}, {cone, left}}, true)});
  for (const double r : {big, small}) piece.lines.push_back({Ink::symbol, plane::circle({rings, 0}, r)});
  piece.width = length + gap + 2 * big, piece.above = big + 1, piece.below = big + 1;
  piece.lines.push_back({Ink::centre, run({{-1, 0}, {piece.width + 1, 0}})});
  piece.lines.push_back({Ink::centre, run({{rings, -big - 1}, {rings, big + 1}})});
  for (Inked& l : piece.lines) l.path = mapped(l.path, 1, false, {1, 0});
  piece.width += 2;
  return piece;
}

}  // namespace groovewright::drawing
