#include "chart_range.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "groovewright/base/broken.h"

namespace groovewright::plane {
namespace {

/// A level limit does not hide in the plot's edge: this much of it more is shown.
constexpr double kOverLimit = 0.04;
constexpr double kMost = 1e12;

}  // namespace

Range data_range(const Chart& chart, bool along_x) {
  const Axis& axis = along_x ? chart.x : chart.y;
  const auto of = along_x ? &Vec2::x : &Vec2::y;
  std::vector<double> all;
  for (const Series& s : chart.series) {
    for (const Vec2 p : s.points) all.push_back(p.*of);
  }
  for (const Band& b : chart.bands) {
    for (const auto& side : {b.low, b.high}) {
      for (const Vec2 p : side) all.push_back(p.*of);
    }
  }
  for (const LimitLine& l : chart.limits) {
    if (l.upright == along_x) all.push_back(along_x ? l.at : l.at + kOverLimit * std::abs(l.at));
  }
  for (const Spot& s : chart.spots) all.push_back(s.at.*of);
  for (const double v : all) require(std::abs(v) <= kMost, "chart: numbers within 1e12");
  Range r;
  if (!all.empty()) r = {*std::min_element(all.begin(), all.end()), *std::max_element(all.begin(), all.end())};
  // Nought belongs to what is near it, so that heights compare.
  if (r.from > 0 && r.from < 0.5 * r.to) r.from = 0;
  if (axis.from) r.from = *axis.from;
  if (axis.to) r.to = *axis.to;
  const double least = 2 * kLeastRange * std::max({1.0, std::abs(r.from), std::abs(r.to)});
  if (r.to - r.from < least) {
    if (!axis.to || axis.from)
      r.to = r.from + std::max(1.0, least);
    else
      r.from = r.to - std::max(1.0, least);
  }
  return r;
}

Ticks axis_ticks(const Axis& axis, const Range& range, double most) {
  const bool given = axis.from && axis.to;
  Ticks t = round_ticks(range.from, range.to, std::max(1.0, most), !given);
  if (axis.from && t.at(t.first) < *axis.from) ++t.first;
  if (axis.to && t.at(t.last) > *axis.to) --t.last;
  return t;
}

Range shown_range(const Ticks& t, const Axis& axis) {
  return {axis.from ? *axis.from : t.at(t.first), axis.to ? *axis.to : t.at(t.last)};
}

}  // namespace groovewright::plane
