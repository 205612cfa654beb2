#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "groovewright/base/broken.h"
#include "groovewright/removal.h"
#include "outline.h"

namespace groovewright::removal {
namespace {

using plane::Edge;
using plane::Vec2;
using Nearest = Outline::Nearest;

/// Runs of the border shorter than this are not split further: their greatest distance is known to half of it.
constexpr double kFinest = 1e-6;
/// Points of the wanted outline at which the metal's border must lie as near as the edge's error says, mm apart.
constexpr double kApart = 0.5;
/// Points on a normal through a lump, the nearer to the outline the closer.
constexpr int kDeep = 32;

plane::Path border_of(std::span<const plane::Polygon> metal) {
  plane::Path out;
  for (const plane::Polygon& p : metal)
    for (std::size_t i = 0; i < p.size(); ++i)
      if (const Vec2 a = p[i], b = p[(i + 1) % p.size()]; !(a == b)) out.push_back(plane::straight(a, b));
  return out;
}

class Comparing {
 public:
  explicit Comparing(const plane::Path& wanted) : wanted_(wanted) { out_.edges.resize(wanted.size()); }

  /// The greatest distances along a run of the metal's border.
  void border(const Edge& e) { between(e.a, record(e.a), e.b, record(e.b)); }

  /// At points of the outline to which no border is as near as found: whole lumps are missing or left.
  void lumps(const plane::Path& border) {
    std::optional<Outline> metal;
    if (!border.empty()) metal.emplace(border);
    plane::Path ends = border;  // a lump ends where metal does or, at the latest, at the outline's other side
    const std::vector<Vec2> round = plane::polyline(wanted_.edges(), kChord);
    for (std::size_t i = 0; i < round.size(); ++i)
      ends.push_back(plane::straight(round[i], round[(i + 1) % round.size()]));
    for (std::size_t i = 0; i < wanted_.edges().size(); ++i)
      each_point(i, [&](Vec2 p, Vec2 in) {
        const EdgeError& known = out_.edges[i];
        const double explained = std::max(known.missing, known.left) + 2 * kFinest;
        if (metal && metal->nearest(p).foot.distance <= explained) return;
        const bool is_left = metal && plane::contains(border, p);
        lump(ends, p, is_left ? -1.0 * in : in);
      });
  }

  [[nodiscard]] Comparison told() { return std::move(out_); }

 private:
  [[nodiscard]] bool is_wanted(const Nearest& n, Vec2 p) const {
    return n.foot.between ? n.foot.left : plane::contains(wanted_.edges(), p);
  }

  Nearest record(Vec2 p) {
    const Nearest n = wanted_.nearest(p);
    EdgeError& e = out_.edges[n.edge];
    const double d = n.foot.distance;
    if (d <= std::min(e.missing, e.left)) return n;
    const bool is_missing = is_wanted(n, p);
    double& worst = is_missing ? e.missing : e.left;
    worst = std::max(worst, d);
    double& all = is_missing ? out_.missing : out_.left;
    if (d > all) all = d, (is_missing ? out_.missing_at : out_.left_at) = p;
    return n;
  }

  /// Between points nearest to one straight edge the distance is straight too; nearest to one arc, it may be greatest
  /// where the run passes nearest to the centre. Else the run is halved.
  void between(Vec2 a, const Nearest& at_a, Vec2 b, const Nearest& at_b) {
    if (at_a.edge == at_b.edge) {
      const Edge& e = wanted_.edges()[at_a.edge];
      if (!e.is_arc()) return;
      const Vec2 along = b - a;
      const double t = plane::dot(e.centre - a, along), whole = plane::dot(along, along);
      if (t > 0 && t < whole) record(a + (t / whole) * along);
      return;
    }
    if (plane::norm(b - a) <= kFinest) return;
    const Vec2 middle = 0.5 * (a + b);
    const Nearest n = record(middle);
    between(a, at_a, middle, n);
    between(middle, n, b, at_b);
  }

  template <class Act>
  void each_point(std::size_t i, const Act& act) const {
    const Edge& e = wanted_.edges()[i];
    const int parts = std::max(2, static_cast<int>(std::ceil(e.length() / kApart)));
    for (int k = 0; k < parts; ++k) {
      const double t = (k + 0.5) / parts;
      const Vec2 way = e.tangent_at(t);
      act(e.at(t), Vec2{-way.y, way.x});
    }
  }

  /// How far along the ray, up to `most`.
  static double first_hit(const plane::Path& border, Vec2 p, Vec2 way, double most) {
    for (const Edge& e : border) {
      const double a = plane::cross(way, e.a - p), b = plane::cross(way, e.b - p);
      if ((a > 0) == (b > 0)) continue;
      const Vec2 at = e.a + (a / (a - b)) * (e.b - e.a);
      const double t = plane::dot(at - p, way);
      if (t > 0) most = std::min(most, t);
    }
    return most;
  }

  /// From the outline square through what is missing (inwards) or left (outwards), up to where it ends.
  void lump(const plane::Path& ends, Vec2 p, Vec2 way) {
    const double deep = first_hit(ends, p + 2 * kChord * way, way, kFar);  // clear of the outline's own chords
    if (deep >= kFar) return;
    for (int k = 1; k < kDeep; ++k) {
      const double t = static_cast<double>(k) / kDeep;
      record(p + t * t * deep * way);
    }
  }

  static constexpr double kFar = 1e9;
  Outline wanted_;
  Comparison out_;
};

}  // namespace

Comparison compare(std::span<const plane::Polygon> metal, const plane::Path& wanted) {
  require(plane::is_closed(wanted), "compare: what is wanted is open");
  Comparing comparing(wanted);
  const plane::Path border = border_of(metal);
  for (const Edge& e : border) comparing.border(e);
  comparing.lumps(border);
  return comparing.told();
}

}  // namespace groovewright::removal
