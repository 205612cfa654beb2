#include <algorithm>
#include <cmath>

#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"
#include "groovewright/removal.h"

namespace groovewright::removal {
namespace {

using plane::Generator;
using plane::Vec2;

/// How far points of a straight border may lie off it, mm: a round's chord bends away by more.
constexpr double kStraight = 2e-5;
/// Pieces shorter than this part of the wanted line are no border of it.
constexpr double kShortest = 0.1;

/// Distance from the carrier, + to the left.
double off(const Generator& g, Vec2 p) { return plane::cross(plane::unit(g.b - g.a), p - g.a); }

/// Both ends of the side lie beside the wanted line and near it.
bool lies_along(const Generator& side, const Generator& wanted, double reach) {
  const Vec2 along = wanted.b - wanted.a, way = side.b - side.a;
  if (plane::dot(way, along) <= 0) return false;
  if (std::abs(plane::cross(way, along)) > sin_of(kSlant) * plane::norm(way) * plane::norm(along)) return false;
  const double first = plane::dot(side.a - wanted.a, along), last = plane::dot(side.b - wanted.a, along);
  if (last <= 0 || first >= plane::dot(along, along)) return false;
  return std::abs(off(wanted, side.a)) <= reach && std::abs(off(wanted, side.b)) <= reach;
}

/// The line nearest to the points in the sense of least squares, each counted as long as the sides that meet there.
Generator fitted(const std::vector<Vec2>& points) {
  std::vector<double> weights(points.size(), 0);
  double sum = 0;
  Vec2 middle;
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    const double half = plane::norm(points[i + 1] - points[i]) / 2;
    weights[i] += half, weights[i + 1] += half;
  }
  for (std::size_t i = 0; i < points.size(); ++i) middle = middle + weights[i] * points[i], sum += weights[i];
  middle = (1 / sum) * middle;
  const Vec2 u = plane::unit(points.back() - points.front()), across{-u.y, u.x};
  double uu = 0, uv = 0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const double s = plane::dot(points[i] - middle, u), d = plane::dot(points[i] - middle, across);
    uu += weights[i] * s * s, uv += weights[i] * s * d;
  }
  const Vec2 way = plane::unit(u + (uv / uu) * across);
  const auto foot = [&](Vec2 p) { return middle + plane::dot(p - middle, way) * way; };
  return {foot(points.front()), foot(points.back())};
}

/// The run of corners about side `i` that lie on its line.
std::vector<Vec2> run_about(const plane::Polygon& p, std::size_t i, const Generator& side) {
  const std::size_t n = p.size();
  std::size_t first = i, count = 2;
  while (count < n && std::abs(off(side, p[(first + n - 1) % n])) <= kStraight) first = (first + n - 1) % n, ++count;
  while (count < n && std::abs(off(side, p[(first + count) % n])) <= kStraight) ++count;
  std::vector<Vec2> run;
  for (std::size_t k = 0; k < count; ++k) run.push_back(p[(first + k) % n]);
  return run;
}

Generator border_along(std::span<const plane::Polygon> metal, const Generator& wanted, double reach) {
  const double least = kShortest * plane::norm(wanted.b - wanted.a);
  Generator best;
  double longest = 0;
  for (const plane::Polygon& p : metal)
    for (std::size_t i = 0; i < p.size(); ++i) {
      const Generator side{p[i], p[(i + 1) % p.size()]};
      if (plane::norm(side.b - side.a) < std::max(least, longest / 4)) continue;
      if (!lies_along(side, wanted, reach)) continue;
      const std::vector<Vec2> run = run_about(p, i, side);
      const double length = plane::norm(run.back() - run.front());
      if (length <= longest) continue;
      longest = length;
      best = fitted(run);
    }
  return best;
}

}  // namespace

std::vector<Generator> borders(std::span<const plane::Polygon> metal, std::span<const Generator> near, double reach) {
  std::vector<Generator> out;
  for (const Generator& g : near) {
    require(plane::norm(g.b - g.a) > plane::kCoincident, "borders: a line of no length");
    out.push_back(border_along(metal, g, reach));
  }
  return out;
}

}  // namespace groovewright::removal
