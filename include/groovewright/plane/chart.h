// chart.h: curves over two axes, laid out so that no words overlap. Data in, a view out. Lengths mm on paper; data in
// whatever the axes say.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "groovewright/plane/pieces.h"

namespace groovewright::plane {

/// One axis: its title with the unit ("engine speed, rpm"). Where no limits are given the data decide, rounded out to
/// whole ticks; data beyond given limits are cut off.
struct Axis {
  std::string title;
  std::optional<double> from, to;  ///< from < to
  bool grid = true;
  bool ticks = true;  ///< false: marks of the chart's own say where things are
};

/// A curve through points, its name at its end on the right. Points may double back.
struct Series {
  std::string name;  ///< "" for none
  std::vector<Vec2> points;
  Ink ink = Ink::visible;  ///< visible, hidden, centre, phantom, dimension: wide, dashed … thin
};
/// What lies between two curves is hatched.
struct Band {
  std::string name;
  std::vector<Vec2> low, high;  ///< both in rising x
};
/// A line across the plot; its label stands outside: on the right of a level one, above an upright one.
struct LimitLine {
  bool upright = false;
  double at = 0;
  std::string label;
  Ink ink = Ink::phantom;
};
/// A small ring on the plot; its text stands near it where there is room, else it has none.
struct Spot {
  Vec2 at;
  std::string text;
};

struct Chart {
  std::string id, title;  ///< of the view
  Axis x, y;
  std::vector<Series> series;
  std::vector<Band> bands;
  std::vector<LimitLine> limits;
  std::vector<Spot> spots;
};

/// Ticks at 1, 2 or 5 times a power of ten.
struct Ticks {
  double step = 1;
  int decimals = 0;
  long first = 0, last = 0;  ///< in steps
  [[nodiscard]] double at(long k) const { return static_cast<double>(k) * step; }
};
/// The least range, of its greater end: below it figures would not tell ticks apart.
inline constexpr double kLeastRange = 1e-6;
/// The finest ticks that leave at least 1 / `most` of from … to between two: those within the range, or the fewest that
/// hold it where `outwards`. Requires: from < to, both within ±1e12 and at least kLeastRange apart; most >= 1.
[[nodiscard]] Ticks round_ticks(double from, double to, double most, bool outwards);

/// Between the box and the plot. Charts one over the other share the greatest, so that their axes line up.
struct Margins {
  double left = 0, right = 0;
};
[[nodiscard]] Margins margins(const Chart& data, double width, double height, const Scribe& scribe);

/// The chart in a box from (0, 0) to (width, height). Names that find no room at the right are counted in a last line
/// there. Requires: all numbers finite and within ±1e12; width >= 80, height >= 50.
/// The plot stands `least` from the sides or further.
[[nodiscard]] View chart(const Chart& data, double width, double height, const Scribe& scribe,
                         const Margins& least = {});
/// Charts one under the other in a box of that size, plots in line. Requires: one at least, and room for each.
[[nodiscard]] std::vector<View> stacked_charts(const std::vector<Chart>& all, double width, double height,
                                               const Scribe& scribe);

}  // namespace groovewright::plane
