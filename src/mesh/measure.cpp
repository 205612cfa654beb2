// What can be read off triangles alone.
#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <optional>

#include "groovewright/base/trig.h"
#include "groovewright/mesh.h"
#include "sides.h"

namespace groovewright::mesh {
namespace {

using plane::Vec2;
constexpr double kTurn = 2 * std::numbers::pi;
/// Twice the area, mm², of a triangle that is none.
constexpr double kNoArea = 1e-12;
/// Corners of one ring agree to this, mm; rings nearer to one line than this are one cone. Both hold for meshes read
/// from files that keep floats.
constexpr double kOneRing = 3e-5;
constexpr double kOneLine = 1e-4;
/// A face turned about the axis runs this far around without a break; holes beside the axis don't.
constexpr double kLeastRun = std::numbers::pi / 6;
/// Runs of facets join across a gap of this angle.
constexpr double kJoined = 1e-6;

Vec3 minus(const Vec3& a, const Vec3& b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
Vec3 cross(const Vec3& a, const Vec3& b) {
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
double dot(const Vec3& a, const Vec3& b) { return a.x * b.x + a.y * b.y + a.z * b.z; }

/// Angles about the axis that facets cover.
struct Span {
  double from, to;
};

/// Facets between the same two circles, with the metal to the left of a -> b.
struct Band {
  Vec2 a, b;
  std::vector<Span> spans;
};

/// A facet as part of a cone about the axis: two corners on one circle, the third on another.
struct Facet {
  Vec2 a, b;
  Span span;
};

/// Leans from a plane square to the axis that are asked for.
class Leans {
 public:
  Leans(double least, double most) : least_{cos_of(least), sin_of(least)}, most_{cos_of(most), sin_of(most)} {}
  [[nodiscard]] bool hold(Vec2 along) const {
    const Vec2 lean{std::abs(along.y), std::abs(along.x)};
    return plane::cross(least_, lean) >= 0 && plane::cross(lean, most_) >= 0;
  }

 private:
  Vec2 least_, most_;
};

std::optional<Facet> facet(const Mesh& m, const std::vector<Vec2>& half_plane, const std::array<std::uint32_t, 3>& t,
                           const Leans& leans) {
  const auto same = [&](std::uint32_t p, std::uint32_t q) {
    return std::abs(half_plane[p].x - half_plane[q].x) <= kOneRing &&
           std::abs(half_plane[p].y - half_plane[q].y) <= kOneRing;
  };
  for (std::size_t k = 0; k < 3; ++k) {
    const std::uint32_t apex = t[k], p = t[(k + 1) % 3], q = t[(k + 2) % 3];
    if (!same(p, q) || same(apex, p)) continue;
    if (!leans.hold(half_plane[apex] - half_plane[p])) return std::nullopt;
    const Vec3 &from = m.vertices[p], &to = m.vertices[q];
    // Seen from outside the base runs counter-clockwise about +Z or against it; that says where the metal is.
    const double turn = atan2_of(from.x * to.y - from.y * to.x, from.x * to.x + from.y * to.y);
    // Outward triangles of the strip a -> b run (a, b, b') and (a, b', a'): along b forwards, along a backwards.
    const bool base_is_b = turn > 0;
    const double start = base_is_b ? atan2_of(from.y, from.x) : atan2_of(to.y, to.x);
    return Facet{half_plane[base_is_b ? apex : p], half_plane[base_is_b ? p : apex], {start, start + std::abs(turn)}};
  }
  return std::nullopt;
}

/// The longest unbroken run around the axis.
double longest_run(std::vector<Span> spans) {
  std::sort(spans.begin(), spans.end(), [](const Span& a, const Span& b) { return a.from < b.from; });
  // Twice around, so that a run across the seam is whole.
  const std::size_t once = spans.size();
  for (std::size_t i = 0; i < once; ++i) spans.push_back({spans[i].from + kTurn, spans[i].to + kTurn});
  double longest = 0, from = spans.front().from, to = spans.front().to;
  for (const Span& s : spans) {
    if (s.from > to + kJoined) from = s.from;
    to = std::max(to, s.to);
    longest = std::max(longest, to - from);
  }
  return longest;
}

double length(const Band& band) { return plane::norm(band.b - band.a); }

bool is_on_line(const Band& line, const Band& band) {
  const Vec2 along = plane::unit(line.b - line.a);
  const auto off = [&](Vec2 p) { return std::abs(plane::cross(along, p - line.a)); };
  return off(band.a) <= kOneLine && off(band.b) <= kOneLine && plane::dot(along, band.b - band.a) > 0;
}

/// Makes the line as long as both together.
void join(Band& line, const Band& band) {
  const Vec2 along = plane::unit(line.b - line.a);
  if (plane::dot(along, band.a - line.a) < 0) line.a = band.a;
  if (plane::dot(along, band.b - line.b) > 0) line.b = band.b;
  line.spans.insert(line.spans.end(), band.spans.begin(), band.spans.end());
}

/// Bands on one line made one; the longest of a line speaks for its direction.
std::vector<Band> gathered(std::vector<Band> bands) {
  std::stable_sort(bands.begin(), bands.end(), [](const Band& g, const Band& h) { return length(g) > length(h); });
  std::vector<Band> lines;
  for (Band& band : bands) {
    const auto it = std::find_if(lines.begin(), lines.end(), [&](const Band& line) { return is_on_line(line, band); });
    if (it == lines.end()) {
      lines.push_back(std::move(band));
    } else {
      join(*it, band);
    }
  }
  return lines;
}

using Key = std::array<long long, 4>;

Key key(const Facet& f) {
  return {std::llround(f.a.x / kOneRing), std::llround(f.a.y / kOneRing), std::llround(f.b.x / kOneRing),
          std::llround(f.b.y / kOneRing)};
}

}  // namespace

bool is_degenerate(const std::vector<Vec3>& vertices, const std::array<std::uint32_t, 3>& triangle) {
  const Vec3 &a = vertices[triangle[0]], &b = vertices[triangle[1]], &c = vertices[triangle[2]];
  const Vec3 area = cross(minus(b, a), minus(c, a));
  return dot(area, area) <= kNoArea * kNoArea;
}

Closure closure_between(const std::vector<Vec3>& vertices, const std::vector<std::array<std::uint32_t, 3>>& triangles,
                        const std::vector<char>* marked) {
  struct Side {
    std::uint32_t low, high;
    bool forwards;
  };
  Closure found;
  std::vector<Side> sides;
  sides.reserve(3 * triangles.size());
  for (const auto& t : triangles) {
    if (is_degenerate(vertices, t)) ++found.degenerate;
    for (std::size_t k = 0; k < 3; ++k) {
      const std::uint32_t p = t[k], q = t[(k + 1) % 3];
      if (marked && !((*marked)[p] && (*marked)[q])) continue;
      sides.push_back({std::min(p, q), std::max(p, q), p < q});
    }
  }
  std::sort(sides.begin(), sides.end(),
            [](const Side& a, const Side& b) { return a.low != b.low ? a.low < b.low : a.high < b.high; });
  for (std::size_t i = 0; i < sides.size();) {
    std::size_t end = i, forwards = 0;
    for (; end < sides.size() && sides[end].low == sides[i].low && sides[end].high == sides[i].high; ++end) {
      forwards += sides[end].forwards ? 1 : 0;
    }
    if (end - i == 1) ++found.open_edges;
    if (end - i > 2 || (end - i == 2 && forwards != 1)) ++found.wrong_edges;
    i = end;
  }
  return found;
}

Closure closure(const Mesh& m) { return closure_between(m.vertices, m.triangles, nullptr); }

double volume(const Mesh& m) {
  double six = 0;
  for (const auto& t : m.triangles) six += dot(m.vertices[t[0]], cross(m.vertices[t[1]], m.vertices[t[2]]));
  return six / 6;
}

std::vector<plane::Generator> generators(const Mesh& m, double least_rad, double most_rad) {
  std::vector<Vec2> half_plane;
  half_plane.reserve(m.vertices.size());
  for (const Vec3& v : m.vertices) half_plane.push_back({v.z, length_of(v.x, v.y)});
  const Leans leans(least_rad, most_rad);
  std::map<Key, Band> bands;
  for (const auto& t : m.triangles) {
    const auto f = facet(m, half_plane, t, leans);
    if (!f) continue;
    Band& band = bands.try_emplace(key(*f), Band{f->a, f->b, {}}).first->second;
    band.spans.push_back(f->span);
  }
  std::vector<Band> lines;
  for (auto& [unused, band] : bands) lines.push_back(std::move(band));
  lines = gathered(std::move(lines));
  std::erase_if(lines, [](const Band& line) { return longest_run(line.spans) < kLeastRun; });
  std::sort(lines.begin(), lines.end(), [](const Band& g, const Band& h) {
    return g.a.x + g.b.x != h.a.x + h.b.x ? g.a.x + g.b.x < h.a.x + h.b.x : g.a.y + g.b.y < h.a.y + h.b.y;
  });
  std::vector<plane::Generator> found;
  for (const Band& line : lines) found.push_back({line.a, line.b});
  return found;
}

}  // namespace groovewright::mesh
