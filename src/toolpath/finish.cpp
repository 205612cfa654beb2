#include "finish.h"

#include <algorithm>
#include <cmath>

namespace groovewright::toolpath {
namespace {

using plane::Edge;
using plane::Vec2;

constexpr double kStep = 0.3;    // mm between places where the tool is asked whether it touches
constexpr double kSharp = 1e-4;  // mm: how exactly the end of a run is found
constexpr double kWhole = 0.02;  // mm: an edge that is left but for this much of its way counts as whole

bool stands_free(const Finisher& with, const Metal& metal, const Metal& stock, Vec2 at) {
  const auto is_in = [&](const Polygon& piece) { return metal.holds(moved(piece, at)); };
  const auto touches = [&](const Polygon& piece) { return stock.holds(moved(piece, at)); };
  return std::none_of(with.slim.cutting.begin(), with.slim.cutting.end(), is_in) &&
         std::none_of(with.slim.holder.begin(), with.slim.holder.end(), is_in) &&
         std::none_of(with.slim.holder.begin(), with.slim.holder.end(), touches);
}

struct Free {
  double from = 0, to = 1;
};

/// Where on the edge the tool stands free, as fractions.
std::vector<Free> free_parts(const Edge& e, const Finisher& with, const Metal& metal, const Metal& stock) {
  const int n = std::max(2, static_cast<int>(std::ceil(e.length() / kStep)));
  const auto is_free = [&](double t) { return stands_free(with, metal, stock, e.at(t)); };
  const auto border = [&](double a, double b, bool free_at_a) {
    while ((b - a) * e.length() > kSharp) {
      const double middle = (a + b) / 2;
      (is_free(middle) == free_at_a ? a : b) = middle;
    }
    return free_at_a ? a : b;
  };
  std::vector<Free> out;
  bool before = is_free(0);
  double since = 0;
  for (int i = 1; i <= n; ++i) {
    const double t = static_cast<double>(i) / n, last = static_cast<double>(i - 1) / n;
    const bool now = is_free(t);
    if (now != before) {
      const double at = border(last, t, before);
      if (before) out.push_back({since, at});
      since = at;
    }
    before = now;
  }
  if (before) out.push_back({since, 1});
  std::erase_if(out, [&](const Free& f) { return (f.to - f.from) * e.length() < kWhole; });
  return out;
}

}  // namespace

Finisher finisher(const catalog::TurningTool& tool) {
  Finisher out;
  out.tool = tool;
  catalog::TurningTool slim = tool;
  slim.nose_radius -= kSlack;
  slim.width -= 2 * kSlack;
  slim.crest_radius += kSlack;
  out.slim = bit(shape(slim, true), 0.0005);
  out.backwards = tool.use == catalog::TurningTool::Use::boring || tool.hand == catalog::TurningTool::Hand::left;
  return out;
}

plane::Edge part_of(const Edge& e, double from, double to) {
  Edge out = e;
  if (from > 0) out.a = e.at(from);
  if (to < 1) out.b = e.at(to);
  return out;
}

std::vector<Trail> reversed(std::vector<Trail> way) {
  std::reverse(way.begin(), way.end());
  for (Trail& t : way) t.edge = t.edge.reversed();
  return way;
}

Motions motions(const std::vector<Trail>& way) {
  Motions out;
  for (const Trail& t : way) {
    Motion m = feed(t.edge.b);
    if (t.edge.is_arc()) {
      m.kind = t.edge.turn == Edge::Turn::ccw ? Motion::Kind::ccw : Motion::Kind::cw;
      m.centre = t.edge.centre;
    }
    out.push_back(m);
  }
  return out;
}

std::vector<Run> runs(const plane::Path& chain, const Finisher& with, double allowance, const Metal& metal,
                      const Metal& stock, std::vector<bool>& covered) {
  std::vector<Run> out;
  Run run;
  const auto close = [&] {
    if (!run.way.empty()) out.push_back(std::move(run));
    run = {};
  };
  for (const Trail& t : offset(chain, with.tool.nose_radius + allowance)) {
    if (!run.way.empty() && plane::norm(t.edge.a - run.way.back().edge.b) > plane::kCoincident) close();
    const std::vector<Free> parts = free_parts(t.edge, with, metal, stock);
    double free = 0;
    for (const Free& f : parts) {
      if (f.from > 0) close();
      run.way.push_back({part_of(t.edge, f.from, f.to), t.leaves});
      if (f.to < 1) close();
      free += (f.to - f.from) * t.edge.length();
    }
    if (parts.empty()) close();
    if (t.leaves >= 0 && t.edge.length() - free < kWhole) covered[static_cast<std::size_t>(t.leaves)] = true;
  }
  close();
  // A rounding of the nose's own size is left by the nose standing still between its neighbours.
  for (std::size_t i = 1; i + 1 < chain.size(); ++i) {
    const bool same =
        chain[i].turn == Edge::Turn::cw && std::abs(chain[i].radius() - with.tool.nose_radius - allowance) < 1e-6;
    if (same && covered[i - 1] && covered[i + 1]) covered[i] = true;
  }
  if (with.backwards) {
    std::reverse(out.begin(), out.end());
    for (Run& r : out) r.way = reversed(std::move(r.way));
  }
  return out;
}

}  // namespace groovewright::toolpath
