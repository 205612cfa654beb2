// segments.h: outlines of segments that a body is cut into, with dovetails across their joints. Lengths mm.
#pragma once

#include <vector>

#include "mesh_bodies.h"

namespace groovewright::segments {

using Outline = std::vector<plane::Vec2>;

/// A dovetail across a joint: its tab widens from neck to head.
struct Dovetail {
  double at = 0, neck = 0, head = 0, depth = 0;
};

/// The joint along the ray at `angle`, from the axis out.
inline Outline joint(double angle, const std::vector<Dovetail>& tails) {
  const plane::Vec2 out = bodies::polar(1, angle), across{-out.y, out.x};
  Outline line;
  for (const Dovetail& d : tails) {
    line.push_back((d.at - d.neck / 2) * out);
    line.push_back((d.at - d.head / 2) * out + d.depth * across);
    line.push_back((d.at + d.head / 2) * out + d.depth * across);
    line.push_back((d.at + d.neck / 2) * out);
  }
  line.push_back(500 * out);
  return line;
}

/// One of `count` segments about the axis, the first from `start` on.
inline Outline segment(int index, int count, double start, const std::vector<Dovetail>& tails) {
  const double from = start + 2 * bodies::kPi * index / count,
               to = start + 2 * bodies::kPi * ((index + 1) % count) / count;
  Outline line = {{0, 0}};
  for (const plane::Vec2 p : joint(from, tails)) line.push_back(p);
  for (int i = 1; i < 4; ++i) line.push_back(bodies::polar(700, from + 2 * bodies::kPi / count * i / 4));
  const Outline back = joint(to, tails);
  line.insert(line.end(), back.rbegin(), back.rend());
  return line;
}

}  // namespace groovewright::segments
