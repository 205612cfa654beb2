// chart_range.h: inside room `plane`: from where to where a chart's axes run.
#pragma once

#include "groovewright/plane/chart.h"

namespace groovewright::plane {

struct Range {
  double from = 0, to = 1;
};

/// What the data of one axis span, with the limits that are given. Never narrower than round ticks need.
[[nodiscard]] Range data_range(const Chart& chart, bool along_x);
/// At most `most` steps. Ends that are given stay; the others come to a tick.
[[nodiscard]] Ticks axis_ticks(const Axis& axis, const Range& range, double most);
/// The ends of the plot.
[[nodiscard]] Range shown_range(const Ticks& ticks, const Axis& axis);

}  // namespace groovewright::plane
