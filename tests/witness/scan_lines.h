// scan_lines.h: the slow second engine for `plane`: a body cut into slices, slices into rows, rows into intervals of
// metal. Sections and loops are polylines here; nothing is shared with turned_body.cpp but the shapes themselves.
#pragma once

#include <algorithm>
#include <cmath>
#include <functional>
#include <utility>
#include <vector>

#include "groovewright/plane.h"

namespace groovewright::witness {

using Interval = std::pair<double, double>;
using Intervals = std::vector<Interval>;  ///< ascending, apart

inline Intervals overlap(const Intervals& a, const Intervals& b) {
  Intervals out;
  for (const auto& [a0, a1] : a)
    for (const auto& [b0, b1] : b)
      if (std::max(a0, b0) < std::min(a1, b1)) out.emplace_back(std::max(a0, b0), std::min(a1, b1));
  return out;
}

/// Sorted crossings paired off: in, out, in, out.
inline Intervals paired(std::vector<double> crossings) {
  std::sort(crossings.begin(), crossings.end());
  Intervals out;
  for (std::size_t i = 0; i + 1 < crossings.size(); i += 2) out.emplace_back(crossings[i], crossings[i + 1]);
  return out;
}

/// Values of x (or y, with `of_x` false) at which a closed polygon crosses the level of the other coordinate.
inline Intervals crossings(const std::vector<plane::Vec2>& polygon, double level, bool of_x) {
  std::vector<double> found;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    plane::Vec2 p = polygon[i], q = polygon[(i + 1) % polygon.size()];
    if (!of_x) p = {p.y, p.x}, q = {q.y, q.x};
    if ((p.y <= level) == (q.y <= level)) continue;
    found.push_back(p.x + (q.x - p.x) * (level - p.y) / (q.y - p.y));
  }
  return paired(found);
}

inline Interval chord(double radius, double y) {
  const double half = radius > std::abs(y) ? std::sqrt(radius * radius - y * y) : 0;
  return {-half, half};
}

/// One slice: the intervals of x that are held at y.
using Slice = std::function<Intervals(double y)>;
using Slices = std::function<Slice(double z)>;

inline Intervals nothing(double) { return {}; }

/// The turned part, by its section as a polygon in (z, r).
class Turned {
 public:
  explicit Turned(std::vector<plane::Vec2> section) : section_(std::move(section)) {}
  [[nodiscard]] const std::vector<plane::Vec2>& section() const { return section_; }
  [[nodiscard]] Intervals radii(double z) const { return crossings(section_, z, false); }
  [[nodiscard]] Slice slice(double z) const {
    return [found = radii(z)](double y) {
      std::vector<double> ends;
      for (const auto& [in, out] : found)
        for (const double r : {in, out})
          for (const double x : {chord(r, y).first, chord(r, y).second}) ends.push_back(x);
      return paired(ends);
    };
  }

 private:
  std::vector<plane::Vec2> section_;
};

inline Slices slices_of(const plane::RoundHole& hole) {
  return [hole](double z) -> Slice {
    for (std::size_t i = 0; i + 1 < hole.profile.size(); ++i) {
      const plane::Vec2 p = hole.profile[i], q = hole.profile[i + 1];
      if ((p.x <= z) == (q.x <= z)) continue;
      return [r = p.y + (q.y - p.y) * (z - p.x) / (q.x - p.x), at = hole.at](double y) -> Intervals {
        const Interval c = chord(r, y - at.y);
        return {{at.x + c.first, at.x + c.second}};
      };
    }
    return nothing;
  };
}

inline Slices slices_of(const plane::Pocket& pocket) {
  return [pocket](double z) -> Slice {
    constexpr int kParts = 64;
    for (std::size_t i = 0; i + 1 < pocket.levels.size(); ++i) {
      const plane::Level &from = pocket.levels[i], &to = pocket.levels[i + 1];
      if ((from.z <= z) == (to.z <= z)) continue;
      const double k = (z - from.z) / (to.z - from.z);
      std::vector<plane::Vec2> loop;
      for (std::size_t e = 0; e < from.loop.size(); ++e)
        for (int part = 0; part < kParts; ++part) {
          const double t = static_cast<double>(part) / kParts;
          loop.push_back((1 - k) * from.loop[e].at(t) + k * to.loop[e].at(t));
        }
      return [loop](double y) { return crossings(loop, y, true); };
    }
    return nothing;
  };
}

inline bool slot_holds(const plane::Slot& s, double along, double across) {
  if (std::abs(across) > s.width / 2 || along <= 0) return false;
  return s.inward ? along <= s.floor : std::hypot(along, across) >= s.floor;
}

/// Requires: the slot is not turned to lie along a row exactly.
inline Slices slices_of(const plane::Slot& s) {
  const Slice held = [s](double y) -> Intervals {
    const double c = std::cos(s.angle), w = std::sin(s.angle);
    // lowest <= k x + m <= highest
    const auto between = [](double k, double m, double lowest, double highest) -> Intervals {
      const double a = (lowest - m) / k, b = (highest - m) / k;
      return {{std::min(a, b), std::max(a, b)}};
    };
    constexpr double kFar = 1e4;
    const Intervals strip =
        overlap(between(-w, y * c, -s.width / 2, s.width / 2), between(c, y * w, 0, s.inward ? s.floor : kFar));
    if (s.inward) return strip;
    const Interval disc = chord(s.floor, y);
    return overlap(strip, {{-kFar, disc.first}, {disc.second, kFar}});
  };
  return [s, held](double z) -> Slice { return s.z0 < z && z < s.z1 ? held : nothing; };
}

struct Grid {
  std::vector<double> z_breaks;  ///< ascending: where anything changes suddenly
  double y0 = 0, y1 = 0;
  int slices = 40;  ///< between two breaks
  int rows = 400;
};

/// The integrals over the slices, by the midpoint rule in z and y and exactly along the row; `surface` stays 0.
inline plane::MassProperties stacked(const Slices& slices, const Grid& grid) {
  plane::MassProperties m;
  const double dy = (grid.y1 - grid.y0) / grid.rows;
  for (std::size_t i = 0; i + 1 < grid.z_breaks.size(); ++i) {
    const double dz = (grid.z_breaks[i + 1] - grid.z_breaks[i]) / grid.slices;
    for (int i_slice = 0; i_slice < grid.slices && dz > 0; ++i_slice) {
      const Slice slice = slices(grid.z_breaks[i] + (i_slice + 0.5) * dz);
      for (int row = 0; row < grid.rows; ++row) {
        const double y = grid.y0 + (row + 0.5) * dy;
        for (const auto& [a, b] : slice(y)) {
          m.volume += dz * dy * (b - a);
          m.polar_inertia += dz * dy * ((b * b * b - a * a * a) / 3 + y * y * (b - a));
          m.x_moment += dz * dy * (b * b - a * a) / 2;
          m.y_moment += dz * dy * y * (b - a);
        }
      }
    }
  }
  return m;
}

/// What a slot adds to the surface (sides, floor, end faces, less the faces it takes away), by counting grid points.
/// Requires: the slot's ends stand clear of the section's walls.
inline double slot_surface(const Turned& part, const plane::Slot& s, double reach, int grid = 300) {
  const double half = s.width / 2;
  double sum = 0;
  const auto z_at = [&](int i) { return s.z0 + (s.z1 - s.z0) * (i + 0.5) / grid; };
  const double dz = (s.z1 - s.z0) / grid, du = reach / (4 * grid);
  for (int i = 0; i < grid; ++i) {
    const Intervals radii = part.radii(z_at(i));
    const auto metal = [&](double r) {
      return std::any_of(radii.begin(), radii.end(), [r](Interval v) { return v.first < r && r < v.second; });
    };
    for (int k = 0; k < 4 * grid; ++k) {
      const double u = (k + 0.5) * du;
      if (slot_holds(s, u, half) && metal(std::hypot(u, half))) sum += 2 * dz * du;
    }
    const double half_floor = s.inward ? half : s.floor * std::asin(std::min(1.0, half / s.floor));
    for (int k = 0; k < grid; ++k) {
      const double v = half_floor * (k + 0.5) / grid;
      if (metal(s.inward ? std::hypot(s.floor, v) : s.floor)) sum += 2 * dz * half_floor / grid;
    }
  }
  for (const double z : {s.z0, s.z1}) {
    const Intervals both = overlap(part.radii(z - 1e-6), part.radii(z + 1e-6));
    for (int k = 0; k < 4 * grid; ++k)
      for (int j = 0; j < grid; ++j) {
        const double u = (k + 0.5) * du, v = half * (j + 0.5) / grid, r = std::hypot(u, v);
        const bool metal =
            std::any_of(both.begin(), both.end(), [r](Interval w) { return w.first < r && r < w.second; });
        if (metal && slot_holds(s, u, v)) sum += 2 * du * half / grid;
      }
  }
  const std::vector<plane::Vec2>& section = part.section();
  for (std::size_t i = 0; i < section.size(); ++i) {
    const plane::Vec2 p = section[i], way = section[(i + 1) % section.size()] - p;
    const int steps = 1 + static_cast<int>(plane::norm(way) / 0.05);
    for (int k = 0; k < steps; ++k) {
      const plane::Vec2 at = p + ((k + 0.5) / steps) * way;
      if (at.x < s.z0 || at.x > s.z1) continue;
      constexpr int kAngles = 1500;
      int held = 0;
      const double span = std::asin(std::min(1.0, half / at.y));
      for (int a = 0; a < kAngles; ++a) {
        const double angle = span * (a + 0.5) / kAngles;
        held += slot_holds(s, at.y * std::cos(angle), at.y * std::sin(angle)) ? 1 : 0;
      }
      sum -= plane::norm(way) / steps * 2 * span * held / kAngles * at.y;
    }
  }
  return sum;
}

}  // namespace groovewright::witness
