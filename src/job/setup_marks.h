// setup_marks.h: inside room `job`: what the pictures of clampings share: scale, zero, axes, dimensions, hatching.
// Lengths mm on paper.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "groovewright/plane/lettering.h"
#include "groovewright/plane/pieces.h"

namespace groovewright::job {

/// A picture, its upper left corner at (0, 0).
struct Picture {
  plane::View view;
  double scale = 1, height = 0;
};

/// Length of the axes' arrows.
inline constexpr double kAxisArrow = 9;

/// "scale 1:2".
[[nodiscard]] std::string scale_words(double scale);
/// The picture at the largest scale of ISO 5455 at which it fits and has nothing wrong; else the one with the least.
/// `make` draws at a scale, and says whether that fits.
[[nodiscard]] Picture at_best_scale(const plane::Scribe& scribe, const std::function<Picture(double, bool&)>& make);
/// Hatching that leans the other way than metal's.
void hatch_back(plane::View& view, const std::vector<plane::Path>& areas, double step);
/// A level dimension under what it measures: its line at `y`, its extension lines from `from` down. Words stand below;
/// those that are wider than what they measure stand to the right of x0 where `leans`.
void level_dimension(plane::View& view, const plane::Scribe& scribe, double x0, double x1, double from, double y,
                     const std::string& words, bool leans);
/// The zero's sign: a ring with two of its quarters filled.
void zero(plane::View& view, plane::Vec2 at);
/// Points of that ring that face right.
[[nodiscard]] std::vector<plane::Vec2> on_ring(plane::Vec2 at);
/// An arrow along each axis, its letter beside it.
void axes(plane::View& view, const plane::Scribe& scribe, plane::Vec2 at, const char* right, const char* up);

/// The loops with fewer points, none farther than `within` from where they were.
[[nodiscard]] std::vector<plane::Polygon> coarser(const std::vector<plane::Polygon>& loops, double within);

}  // namespace groovewright::job
