#include "sketch.h"

#include <cmath>
#include <utility>

namespace groovewright::drawing {
namespace {

/// Edges whose ends and middles are as near as this are one. mm
constexpr double kSamePlace = 1e-6;

}  // namespace

Sketch::Key Sketch::key_of(const plane::Edge& edge) {
  const auto whole = [](double v) { return std::int64_t{std::llround(v / kSamePlace)}; };
  const auto place = [&](plane::Vec2 p) { return std::pair{whole(p.x), whole(p.y)}; };
  auto from = place(edge.a), to = place(edge.b);
  if (to < from) std::swap(from, to);
  const auto middle = place(edge.at(0.5));
  return {from.first, from.second, to.first, to.second, middle.first, middle.second};
}

void Sketch::add(plane::Ink ink, const plane::Path& run) {
  bool goes_on = false;
  for (const plane::Edge& e : run) {
    const bool is_new = drawn_.insert(key_of(e)).second;
    if (is_new && !goes_on) lines_.push_back({ink, {}});
    if (is_new) lines_.back().path.push_back(e);
    goes_on = is_new;
  }
}

Lines Sketch::take() { return std::exchange(lines_, {}); }

}  // namespace groovewright::drawing
