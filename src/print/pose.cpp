#include "pose.h"

#include <algorithm>
#include <cmath>

#include "groovewright/base/trig.h"

namespace groovewright::print {

using mesh::Mesh;
using mesh::Vec3;

void add(Box& box, const Mesh& m) {
  for (const Vec3& v : m.vertices) {
    box.low = {std::min(box.low.x, v.x), std::min(box.low.y, v.y), std::min(box.low.z, v.z)};
    box.high = {std::max(box.high.x, v.x), std::max(box.high.y, v.y), std::max(box.high.z, v.z)};
  }
}

void pose(Mesh& m, const std::function<Vec3(const Vec3&)>& move) {
  for (Vec3& v : m.vertices) v = move(v);
}

Vec3 front_down(const Vec3& v) { return {v.x, -v.y, -v.z}; }

std::function<Vec3(const Vec3&)> turned(double angle) {
  const double c = cos_of(angle), s = sin_of(angle);
  return [c, s](const Vec3& v) { return Vec3{c * v.x - s * v.y, s * v.x + c * v.y, v.z}; };
}

std::function<Vec3(const Vec3&)> standing(double angle) {
  const double c = cos_of(angle), s = sin_of(angle);
  return [c, s](const Vec3& v) { return Vec3{v.z, c * v.x + s * v.y, c * v.y - s * v.x}; };
}

double overhang(const Mesh& m, double least_lean, double bed) {
  /// First layers rest on the bed.
  constexpr double kOnBed = 0.05;
  const double most_level = cos_of(least_lean);
  double area = 0;
  for (const auto& t : m.triangles) {
    const Vec3 &a = m.vertices[t[0]], &b = m.vertices[t[1]], &c = m.vertices[t[2]];
    if (std::max({a.z, b.z, c.z}) <= bed + kOnBed) continue;
    const Vec3 u{b.x - a.x, b.y - a.y, b.z - a.z}, v{c.x - a.x, c.y - a.y, c.z - a.z};
    const Vec3 n{u.y * v.z - u.z * v.y, u.z * v.x - u.x * v.z, u.x * v.y - u.y * v.x};
    const double size = std::sqrt(n.x * n.x + n.y * n.y + n.z * n.z);
    if (-n.z > most_level * size) area -= n.z / 2;
  }
  return area;
}

}  // namespace groovewright::print
