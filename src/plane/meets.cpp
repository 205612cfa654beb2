#include "groovewright/plane/meets.h"

#include <algorithm>

namespace groovewright::plane {
namespace {

using Quad = std::array<Vec2, 4>;

/// Twice the area of the triangle, ccw positive, over the length of a-b: the distance of c from the line.
double side(Vec2 a, Vec2 b, Vec2 c) { return cross(b - a, c - a); }

constexpr double kNear = 1e-9;

/// Whether some side of `a` separates the points of `b` from it.
template <class Points>
bool separated(const Quad& a, const Points& b) {
  for (std::size_t i = 0; i < a.size(); ++i) {
    const Vec2 from = a[i], to = a[(i + 1) % a.size()];
    if (std::all_of(b.begin(), b.end(), [&](Vec2 p) { return side(from, to, p) <= kNear; })) return true;
  }
  return false;
}

}  // namespace

std::vector<Segment> segments(const Path& path) {
  constexpr double kChord = 0.05;
  const auto points = polyline(path, kChord);
  std::vector<Segment> out;
  for (std::size_t i = 0; i + 1 < points.size(); ++i) out.push_back({points[i], points[i + 1]});
  if (is_closed(path)) out.push_back({points.back(), points.front()});
  return out;
}

bool segments_cross(Vec2 a, Vec2 b, Vec2 c, Vec2 d) {
  const double s1 = side(a, b, c), s2 = side(a, b, d), s3 = side(c, d, a), s4 = side(c, d, b);
  return s1 * s2 < -kNear && s3 * s4 < -kNear;
}

bool enters(Vec2 a, Vec2 b, const Quad& quad) {
  if (separated(quad, std::array{a, b})) return false;
  // The segment's own line may still pass the quadrilateral by.
  const auto on_one_side = [&](double sign) {
    return std::all_of(quad.begin(), quad.end(), [&](Vec2 p) { return sign * side(a, b, p) >= -kNear; });
  };
  return !on_one_side(1) && !on_one_side(-1);
}

bool overlap(const Quad& a, const Quad& b) { return !separated(a, b) && !separated(b, a); }

Quad shrunk(const Quad& quad, double by) {
  const Vec2 along = by * unit(quad[1] - quad[0]), up = by * unit(quad[3] - quad[0]);
  return {quad[0] + along + up, quad[1] - along + up, quad[2] - along - up, quad[3] + along - up};
}

}  // namespace groovewright::plane
