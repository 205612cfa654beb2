// stack.h: inside room `drawing`: dimension lines beside a view, in lanes, so that nothing overlaps by construction.
#pragma once

#include <string>
#include <vector>

#include "pieces.h"

namespace groovewright::drawing {

/// Where the lanes lie. Text reads from below, or from the right on upright lines (ISO 129-1).
enum class Beside { above, below, left, right };

/// One linear dimension. Along the lanes run x (above, below) or y (left, right).
struct SizeLine {
  double from = 0, to = 0;              ///< from < to, along the lanes
  double start_from = 0, start_to = 0;  ///< where its extension lines begin, across: y or x of the feature
  Piece text;
  std::string datum;         ///< letter of a datum that this size carries, "" for none
  bool text_before = false;  ///< the text ends before `to`: labels stand beyond
};

/// ISO 129-1: least distance of the first lane from the outline, and from lane to lane.
inline constexpr double kFirstLane = 10, kLane = 7;

/// Draws the spans in lanes beside the view, the shortest nearest; `edge` is the outermost the view reaches on that
/// side. Texts stand clear of every extension line; lines of one lane stand apart.
/// They keep clear of `walls` too: lines that others will draw across the lanes.
void stack(plane::View& view, std::vector<SizeLine> spans, Beside side, double edge, const Scribe& scribe,
           std::vector<double> walls = {});

/// The boxed letter and triangle of a datum (ISO 5459) on a line through `foot`, pointing away along `direction`; the
/// stem is `stem` long.
void datum(plane::View& view, const std::string& letter, plane::Vec2 foot, plane::Vec2 direction, double stem,
           double text_angle, const Scribe& scribe);
inline constexpr double kDatumBox = 5;

}  // namespace groovewright::drawing
