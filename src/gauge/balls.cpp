#include <algorithm>
#include <cmath>

#include "groovewright/base/trig.h"
#include "groovewright/gauge.h"

namespace groovewright::gauge {
namespace {

using plane::Generator;
using plane::Vec2;

/// Radial slope along Z; metal to the left and outside up means that a generator of the outside runs towards the rear.
bool is_outside(const Generator& g) { return g.b.x < g.a.x; }
bool falls(const Generator& g) { return (g.b.y - g.a.y) * (g.b.x - g.a.x) < 0; }

/// How far past a flank's end a touch still counts as on the flank: rounding of the readings only.
constexpr double kTouchSlack = 1e-6;

LaidBall lay(const Generator& rear, const Generator& front, double ball) {
  const double r = ball / 2;
  const Vec2 u = unit(rear.b - rear.a), v = unit(front.b - front.a);
  // Outward normals lie to the right of the direction of travel. The ball's middle is r off both lines.
  const Vec2 m{u.y, -u.x}, n{v.y, -v.x};
  const double p = dot(m, rear.a) + r, q = dot(n, front.a) + r;
  const double det = cross(m, n);
  const Vec2 c{(p * n.y - q * m.y) / det, (q * m.x - p * n.x) / det};
  const auto touches = [&](const Generator& g, Vec2 along) {
    const double t = dot(c - g.a, along);
    return t > -kTouchSlack && t < norm(g.b - g.a) + kTouchSlack;
  };
  LaidBall laid;
  laid.z = c.x;
  laid.over_balls = 2 * (c.y + r);
  laid.angle = Angle::rad(std::numbers::pi - std::abs(atan2_of(cross(u, v), dot(u, v))));
  laid.on_flanks = touches(rear, u) && touches(front, v);
  return laid;
}

}  // namespace

std::vector<LaidBall> lay_balls(std::span<const Generator> flanks, double ball_diameter) {
  std::vector<const Generator*> outside;
  for (const Generator& g : flanks) {
    if (is_outside(g)) outside.push_back(&g);
  }
  std::vector<LaidBall> laid;
  for (std::size_t i = 0; i + 1 < outside.size(); ++i) {
    if (falls(*outside[i]) && !falls(*outside[i + 1])) laid.push_back(lay(*outside[i], *outside[i + 1], ball_diameter));
  }
  return laid;
}

std::vector<Generator> flanks(const section::Section& section) {
  std::vector<Generator> found;
  for (std::size_t i = 0; i < section.tags.size(); ++i) {
    if (section.tags[i].kind == section::Kind::flank)
      found.push_back({section.body.section[i].a, section.body.section[i].b});
  }
  std::sort(found.begin(), found.end(),
            [](const Generator& a, const Generator& b) { return a.a.x + a.b.x < b.a.x + b.b.x; });
  return found;
}

LeanWindow lean_window(const part::Part& part) {
  constexpr double kRoom = 3 * std::numbers::pi / 180;
  LeanWindow w{1e9, 0};
  for (const part::Rim& rim : part.rims) {
    w.least = std::min(w.least, rim.groove.angle.half().rad() - kRoom);
    w.most = std::max(w.most, rim.groove.angle.half().rad() + kRoom);
  }
  return w;
}

double mesh_uncertainty(const part::Part& part, double deflection) {
  double half = part.rims.front().groove.angle.half().rad();
  for (const part::Rim& rim : part.rims) half = std::min(half, rim.groove.angle.half().rad());
  return 2 * deflection / sin_of(half);
}

}  // namespace groovewright::gauge
