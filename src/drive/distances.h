// distances.h: points and straight pieces, for the inner loops: no square root before the last step, nothing allocated.
#pragma once

#include <algorithm>
#include <cmath>
#include <optional>

#include "groovewright/plane.h"

namespace groovewright::drive {

struct Piece {
  plane::Vec2 a, b;
};

/// The point of a piece nearest to `p`.
inline plane::Vec2 nearest_on(const Piece& s, plane::Vec2 p) {
  const plane::Vec2 way = s.b - s.a;
  const double square = plane::dot(way, way);
  if (square <= 0) return s.a;
  return s.a + std::clamp(plane::dot(p - s.a, way) / square, 0.0, 1.0) * way;
}

inline double square_of(plane::Vec2 v) { return plane::dot(v, v); }

/// True where the insides of two pieces cross; touching ends do not count.
inline bool cross_each_other(const Piece& s, const Piece& t) {
  const plane::Vec2 u = s.b - s.a, v = t.b - t.a;
  const double a = plane::cross(u, t.a - s.a), b = plane::cross(u, t.b - s.a);
  const double c = plane::cross(v, s.a - t.a), d = plane::cross(v, s.b - t.a);
  return ((a > 0 && b < 0) || (a < 0 && b > 0)) && ((c > 0 && d < 0) || (c < 0 && d > 0));
}

/// Where the insides of two pieces cross.
inline std::optional<plane::Vec2> crossing(const Piece& s, const Piece& t) {
  if (!cross_each_other(s, t)) return std::nullopt;
  const plane::Vec2 u = s.b - s.a, v = t.b - t.a;
  return s.a + plane::cross(t.a - s.a, v) / plane::cross(u, v) * u;
}

/// The nearest points of two pieces that do not cross.
struct Nearest {
  plane::Vec2 on_s, on_t;
  double square = 0;
};
inline Nearest nearest_between(const Piece& s, const Piece& t) {
  const auto closer = [](const Nearest& a, const Nearest& b) { return a.square <= b.square ? a : b; };
  const auto from_s = [&](plane::Vec2 p) {
    const plane::Vec2 q = nearest_on(t, p);
    return Nearest{p, q, square_of(p - q)};
  };
  const auto from_t = [&](plane::Vec2 q) {
    const plane::Vec2 p = nearest_on(s, q);
    return Nearest{p, q, square_of(p - q)};
  };
  return closer(closer(from_s(s.a), from_s(s.b)), closer(from_t(t.a), from_t(t.b)));
}

}  // namespace groovewright::drive
