// mesh_bodies.h: invented bodies for the tests of mesh and of its files. Lengths mm.
#pragma once

#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"
#include "groovewright/plane.h"

namespace groovewright::bodies {

using plane::Corner;
using plane::Path;
using plane::TurnedBody;
using plane::Vec2;

inline constexpr double kPi = std::numbers::pi;

/// The closed polygon through the corners (z, radius), broken as they say.
inline Path section(const std::vector<Corner>& corners) {
  const auto broken = plane::broken_polygon(corners);
  require(broken.has_value(), "bodies: breaks do not fit");
  Path path;
  for (const auto& e : *broken) path.push_back(e.edge);
  return path;
}

/// Mouth at z0, through to z1.
inline plane::RoundHole drilled(Vec2 at, double radius, double z0, double z1) {
  return {"hole", at, {{z0, radius}, {z1, radius}}, true};
}

/// Counterbored from z0, through to z1.
inline plane::RoundHole counterbored(Vec2 at, double radius, double bore, double depth, double z0, double z1) {
  const double down = z1 < z0 ? -1 : 1;
  return {"counterbored", at, {{z0, bore}, {z0 + down * depth, bore}, {z0 + down * depth, radius}, {z1, radius}}, true};
}

/// Countersunk at 90 degrees, blind with a 118 degree point.
inline plane::RoundHole tapped(Vec2 at, double radius, double depth, double z0, double down) {
  const double sink = radius * 0.2, point = radius / tan_of(59 * kPi / 180);
  return {
      "tapped",
      at,
      {{z0, radius + sink}, {z0 + down * sink, radius}, {z0 + down * depth, radius}, {z0 + down * (depth + point), 0}},
      false};
}

inline Vec2 polar(double r, double angle) { return {r * cos_of(angle), r * sin_of(angle)}; }

/// A window between two radii and two angles, corners rounded.
inline Path window(double inner, double outer, double from, double to, double corner) {
  std::vector<Corner> corners = {{polar(inner, from), corner},
                                 {polar(outer, from), corner},
                                 {polar(outer, to), corner},
                                 {polar(inner, to), corner}};
  return section(corners);
}

inline plane::Pocket window_pocket(double inner, double outer, double from, double to, double z0, double z1,
                                   bool through) {
  const Path loop = window(inner, outer, from, to, 3);
  return {"window", {{z0, loop}, {z1, loop}}, through};
}

/// V-grooves of included angle `angle`: the corners from the last groove to the first, from +Z to -Z.
struct Ribs {
  int count = 8;
  double pitch = 3.56, angle = 40 * kPi / 180, crest_radius = 0.25, root_radius = 0.25;
  double outside = 75, depth = 2.4;
};

inline void add_ribs(std::vector<Corner>& corners, const Ribs& ribs) {
  const double lean = tan_of(ribs.angle / 2), mouth = 0.88 * ribs.pitch / 2, middle = (ribs.count - 1) / 2.0;
  const double root = mouth - ribs.depth * lean;
  for (int i = ribs.count - 1; i >= 0; --i) {
    const double z = (i - middle) * ribs.pitch;
    corners.push_back({{z + mouth, ribs.outside}, ribs.crest_radius});
    corners.push_back({{z + root, ribs.outside - ribs.depth}, ribs.root_radius});
    corners.push_back({{z - root, ribs.outside - ribs.depth}, ribs.root_radius});
    corners.push_back({{z - mouth, ribs.outside}, ribs.crest_radius});
  }
}

/// Flank lines (z, radius) of the grooves: metal to the left, by Z.
inline std::vector<plane::Generator> flanks(const Path& section, double lean) {
  std::vector<plane::Generator> found;
  for (const plane::Edge& e : section) {
    if (e.is_arc()) continue;
    const double at = atan2_of(std::abs(e.b.x - e.a.x), std::abs(e.b.y - e.a.y));
    if (std::abs(at - lean) < 1e-9) found.push_back({e.a, e.b});
  }
  return found;
}

/// A rim with ribs and flanges, a web and a hub; nothing bored but the middle. 8 ribs: 150 mm outside.
inline TurnedBody plain_pulley(const Ribs& ribs = {}) {
  const double half = ribs.count * ribs.pitch / 2 + 1.5, flange = ribs.outside + 3, thick = 2.5;
  const double end = half + thick, rim = ribs.outside - ribs.depth - 6;
  std::vector<Corner> c;
  c.push_back({{-end, rim}, 0, 0.5});
  c.push_back({{-5, rim}, 3});
  c.push_back({{-5, 36}, 3});
  c.push_back({{-12, 36}, 0, 0.5});
  c.push_back({{-12, 24}, 0, 1});
  c.push_back({{12, 24}, 0, 1});
  c.push_back({{12, 36}, 0, 0.5});
  c.push_back({{5, 36}, 3});
  c.push_back({{5, rim}, 3});
  c.push_back({{end, rim}, 0, 0.5});
  c.push_back({{end, flange}, 0.5});
  c.push_back({{half + 0.6, flange}, 0.5});
  c.push_back({{half, ribs.outside}, 0.25});
  add_ribs(c, ribs);
  c.push_back({{-half, ribs.outside}, 0.25});
  c.push_back({{-half - 0.6, flange}, 0.5});
  c.push_back({{-end, flange}, 0.5});
  return {section(c), {}, {}, {}};
}

/// The same with bolt holes, windows and a keyway.
inline TurnedBody pulley(const Ribs& ribs = {}) {
  TurnedBody body = plain_pulley(ribs);
  for (int i = 0; i < 6; ++i) {
    const double angle = kPi / 3 * i;
    body.holes.push_back(counterbored(polar(46, angle + kPi / 6), 3.3, 5, 4, 5, -5));
    body.pockets.push_back(window_pocket(42, 59, angle - 0.22, angle + 0.22, 5, -5, true));
  }
  for (int i = 0; i < 3; ++i) body.holes.push_back(tapped(polar(30, 0.5 + 2 * kPi / 3 * i), 2, 9, 12, -1));
  body.slots.push_back({"keyway", 0, 12, 27.3, true, -20, 20});
  return body;
}

/// A wheel of square gaps on a step of a hub, like a tone ring. Gaps end on the step's wall at z = 5.
inline TurnedBody tone_ring(int gaps, double floor = 52) {
  TurnedBody body{section({{{-4, 20}},
                           {{14, 20}},
                           {{14, 45}, 0, 0.5},
                           {{5, 45}},
                           {{5, 58}, 0, 0.4},
                           {{0, 58}, 0.4},
                           {{0, 45}},
                           {{-4, 45}}}),
                  {},
                  {},
                  {}};
  for (int i = 0; i < gaps; ++i) body.slots.push_back({"gap", 2 * kPi * i / gaps, 2.9, floor, false, -1, 5});
  return body;
}

/// A bush with a keyway from z0 to z1: bore 20, keyway floor at 13.3 from the axis, a wider seat in front.
inline TurnedBody keyed_bush(double z0, double z1, double seat_radius = 16) {
  TurnedBody body{section({{{-15, 10}, 0, 0.8},
                           {{5, 10}},
                           {{5, seat_radius}},
                           {{15, seat_radius}, 0, 0.5},
                           {{15, 24}, 1},
                           {{-15, 24}, 0, 1}}),
                  {},
                  {},
                  {}};
  body.slots.push_back({"keyway", 1.1, 6, 13.3, true, z0, z1});
  return body;
}

/// A ribbed ring with saw cuts across the rim: from flank to flank, closed at their ends where z0 and z1 lie inside.
inline TurnedBody cut_ribs(double z0, double z1, double floor) {
  TurnedBody body = plain_pulley({.count = 3, .outside = 60});
  for (int i = 0; i < 3; ++i) body.slots.push_back({"mark", 0.3 + 2.1 * i, 1.5, floor, false, z0, z1});
  return body;
}

/// A disc with blind pockets that taper to a ledge, from both sides.
inline TurnedBody pocketed_disc() {
  TurnedBody body{section({{{-10, 8}, 0, 0.5}, {{10, 8}, 0, 0.5}, {{10, 60}, 1}, {{-10, 60}, 1}}), {}, {}, {}};
  const auto level = [](double z, double inset, double corner) {
    return plane::Level{z, section({{{20 + inset, -12 + inset}, corner},
                                    {{50 - inset, -12 + inset}, corner},
                                    {{50 - inset, 12 - inset}, corner},
                                    {{20 + inset, 12 - inset}, corner}})};
  };
  body.pockets.push_back({"stepped", {level(10, 0, 4), level(4, 1, 3), level(4, 2, 2), level(1, 2, 2)}, false});
  body.pockets.push_back({"from below", {level(-10, 0, 4), level(-4, 2, 2)}, false});
  body.holes.push_back(tapped({-30, 5}, 3, 8, -10, 1));
  body.holes.push_back(counterbored({-30, -20}, 3, 5, 6, -10, 10));
  return body;
}

/// Turned from the axis: a disc with a point.
inline TurnedBody spinning_top() {
  Path path;
  const Vec2 corners[] = {{0, 0}, {20, 0}, {10, 12}, {10, 30}, {0, 30}};
  for (std::size_t i = 0; i < 5; ++i)
    path.push_back({corners[i], corners[(i + 1) % 5], plane::Edge::Turn::straight, {}});
  TurnedBody body{path, {}, {}, {}};
  body.holes.push_back(drilled({0, 20}, 3, 0, 10));
  return body;
}

inline TurnedBody torus() { return {plane::circle({3, 30}, 6), {}, {}, {}}; }

struct Named {
  std::string name;
  TurnedBody body;
};

inline std::vector<Named> all() {
  TurnedBody four_keys = keyed_bush(-20, 20);
  for (int i = 1; i < 4; ++i) {
    plane::Slot key = four_keys.slots.front();
    key.angle += kPi / 2 * i;
    four_keys.slots.push_back(key);
  }
  return {{"torus", torus()},
          {"spinning top", spinning_top()},
          {"plain pulley, 8 ribs", plain_pulley()},
          {"pulley, 8 ribs", pulley()},
          {"pocketed disc", pocketed_disc()},
          {"keyway through, seat above its floor", keyed_bush(-20, 20)},
          {"keyway closed at both ends", keyed_bush(-8, 2)},
          {"keyway from the seat's wall inwards", keyed_bush(-3, 5)},
          {"keyway past the seat", keyed_bush(-3, 9)},
          {"keyway in bore and seat", keyed_bush(-20, 20, 12)},
          {"keyway closed inside the seat", keyed_bush(-20, 9, 12)},
          {"keyway that begins on the step", keyed_bush(5, 20, 12)},
          {"four keyways", four_keys},
          {"tone ring, 60 gaps", tone_ring(60)},
          {"tone ring, 36 gaps flush with the land", tone_ring(36, 45)},
          {"marks across ribs, floor in the flanks", cut_ribs(-30, 30, 58.7)},
          {"marks across ribs, floor below the roots", cut_ribs(-30, 30, 56)},
          {"marks closed inside the rim", cut_ribs(-2, 4.3, 56.5)},
          {"mark in the flange only", cut_ribs(7.5, 30, 58)}};
}

}  // namespace groovewright::bodies
