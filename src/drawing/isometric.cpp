// From the front to the rear: planes square to the axis part the body into layers that can't hide what is before them.
// What is drawn is clipped once, against all that lies before it, so the work grows with the number of layers alone.
//
// A face is seen from where it looks to the eye, whose direction is (1, 1, 1). Of a turned face with the half plane's
// edge (dz, dr), metal to the left, those angles are seen where dr - s dz > 0, with s = cos + sin of the angle.
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

#include "facets.h"
#include "groovewright/base/trig.h"
#include "groovewright/plane/clip.h"
#include "rings.h"
#include "sketch.h"

namespace groovewright::drawing {
namespace {

using plane::Ink;
using plane::Path;
using plane::polar;
using plane::Polygon;
using plane::Run;
using plane::Slot;
using plane::Vec2;

constexpr double kPi = std::numbers::pi;
constexpr double kRoot2 = std::numbers::sqrt2;
/// The angle of what is nearest to the eye.
constexpr double kNearest = kPi / 4;
/// Of the part's diameter: chord error of rings, and what is too fine to be drawn twice.
constexpr double kChordError = 2e-4, kFine = 0.015;
/// Planes nearer than this are one. mm
constexpr double kSamePlane = 1e-4;
/// Metal beside an edge is asked for as far from it. mm
constexpr double kAside = 1e-3;

Vec2 on_screen(Vec2 p, double z) {
  static const double root6 = std::sqrt(6.0);
  return {(p.x - z) / kRoot2, (-p.x + 2 * p.y - z) / root6};
}

struct Stroke {
  Ink ink;
  Run run;
};
using Strokes = std::vector<Stroke>;

/// A side of the outline that runs along the axis, in one layer.
struct Wall {
  std::size_t knee = 0;        ///< where its side begins
  double rear = 0, front = 0;  ///< radii
  double slope = 0;            ///< dr/dz
};
struct Annulus {
  Wall inner, outer;
};

class Picture {
 public:
  explicit Picture(const section::Section& section) : body_(section.body) {
    const double outermost = plane::outermost(body_.section);
    chord_ = kChordError * 2 * outermost;
    fine_ = kFine * 2 * outermost;
    knees_ = facets(section, fine_);
    set_planes();
    set_ring(outermost);
    for (std::size_t i = 0; i < knees_.size(); ++i) outline_.push_back(plane::straight(at(i), at(i + 1)));
  }

  Lines draw() {
    const std::vector<std::vector<std::size_t>> knees_on = knees_by_plane();
    const std::vector<Strokes> loose = openings_by_plane();
    for (std::size_t k = planes_.size(); k-- > 0;) {
      std::vector<char> done(knees_.size());
      if (k + 1 < planes_.size()) draw_layer(k, done);
      Strokes strokes = loose[k];
      for (const std::size_t i : knees_on[k]) {
        if (!done[i]) add_ring(i, strokes);
      }
      put(strokes);
    }
    return std::move(lines_);
  }

 private:
  // ---- the half plane ----

  [[nodiscard]] Vec2 at(std::size_t i) const { return knees_[i % knees_.size()].at; }

  /// Distinct depths, ascending; knees are moved onto them.
  void set_planes() {
    std::vector<double*> z;
    for (Knee& k : knees_) z.push_back(&k.at.x);
    std::sort(z.begin(), z.end(), [](const double* a, const double* b) { return *a < *b; });
    for (double* v : z) {
      if (planes_.empty() || *v > planes_.back() + kSamePlane) planes_.push_back(*v);
      *v = planes_.back();
    }
  }
  [[nodiscard]] std::size_t plane_at(double z) const {
    const auto above = std::lower_bound(planes_.begin(), planes_.end(), z - kSamePlane);
    return static_cast<std::size_t>(std::min(above, planes_.end() - 1) - planes_.begin());
  }
  [[nodiscard]] std::vector<std::vector<std::size_t>> knees_by_plane() const {
    std::vector<std::vector<std::size_t>> on(planes_.size());
    for (std::size_t i = 0; i < knees_.size(); ++i) on[plane_at(knees_[i].at.x)].push_back(i);
    return on;
  }

  /// Rings of metal in the layer before plane k, from the outermost to the innermost.
  [[nodiscard]] std::vector<Annulus> annuli(std::size_t k) const {
    const double z0 = planes_[k], z1 = planes_[k + 1];
    std::vector<Wall> walls;
    for (std::size_t i = 0; i < knees_.size(); ++i) {
      const Vec2 a = at(i), b = at(i + 1);
      if (std::min(a.x, b.x) > z0 || std::max(a.x, b.x) < z1) continue;
      const double slope = (b.y - a.y) / (b.x - a.x);
      walls.push_back({i, a.y + slope * (z0 - a.x), a.y + slope * (z1 - a.x), slope});
    }
    std::sort(walls.begin(), walls.end(),
              [](const Wall& v, const Wall& w) { return v.rear + v.front > w.rear + w.front; });
    std::vector<Annulus> found;
    for (std::size_t i = 0; i + 1 < walls.size(); i += 2) found.push_back({walls[i + 1], walls[i]});
    return found;
  }

  // ---- rings: all have the same number of facets, counted from the side that is nearest to the eye ----

  void set_ring(double outermost) {
    const int n = 8 * ((plane::arc_steps(outermost, 2 * kPi, chord_) + 7) / 8);  // alike on both sides of the eye
    for (int i = 0; i <= n; ++i) ring_.push_back(polar(1, kNearest + 2 * kPi * i / n));
    ring_.back() = ring_.front();
    for (std::size_t i = 0; i + 1 < ring_.size(); ++i) look_.push_back(dot(0.5 * (ring_[i] + ring_[i + 1]), {1, 1}));
  }
  [[nodiscard]] int facet_count() const { return static_cast<int>(ring_.size()) - 1; }
  /// The place on the ring of radius 1, its facets counted.
  [[nodiscard]] Vec2 on_ring(double facet) const {
    const double n = facet_count(), i = facet - n * std::floor(facet / n), whole = std::floor(i);
    const Vec2 a = ring_[static_cast<std::size_t>(whole)];
    return i == whole ? a : a + (i - whole) * (ring_[static_cast<std::size_t>(whole) + 1] - a);
  }
  [[nodiscard]] double facet_at(double angle) const { return (angle - kNearest) / (2 * kPi) * facet_count(); }

  /// The facets that are `wanted` of a ring, by cos + sin at their middles.
  template <class Wanted>
  [[nodiscard]] std::vector<Span> facets_where(const Wanted& wanted) const {
    const int n = facet_count();
    std::vector<Span> found;
    for (int i = 0; i < n; ++i) {
      if (!wanted(look_[static_cast<std::size_t>(i)])) continue;
      if (found.empty() || found.back().to < i) found.push_back({double(i), double(i)});
      found.back().to = i + 1;
    }
    if (found.size() > 1 && found.front().from == 0 && found.back().to == n) {
      found.front().from = found.back().from - n;
      found.pop_back();
    }
    return found;
  }

  [[nodiscard]] Run arc_run(double z, double radius, const Span& facets) const {
    Run run{on_screen(radius * on_ring(facets.from), z)};
    const int first = static_cast<int>(std::floor(facets.from)) + 1;
    for (int i = first; i < facets.to; ++i) run.push_back(on_screen(radius * on_ring(i), z));
    run.push_back(on_screen(radius * on_ring(facets.to), z));
    return run;
  }

  /// Adds these facets of the ring but for what slots take away.
  void add_arcs(Ink ink, Vec2 knee, std::vector<Span> facets, Strokes& strokes) const {
    const double n = facet_count();
    std::vector<Span> gaps;
    for (const Slot& s : body_.slots) {
      if (knee.x < s.z0 - kSamePlane || knee.x > s.z1 + kSamePlane) continue;
      for (const Span& g : within(s, knee.y)) {
        for (const double turn : {-n, 0.0, n}) gaps.push_back({facet_at(g.from) + turn, facet_at(g.to) + turn});
      }
    }
    for (const Span& s : without(std::move(facets), std::move(gaps)))
      strokes.push_back({ink, arc_run(knee.x, knee.y, s)});
  }

  static bool is_seen(Vec2 a, Vec2 b, double s) { return (b.y - a.y) - s * (b.x - a.x) > 0; }

  /// Of a corner that stands out, what one of its faces shows, and an outline where the other does not; of a corner
  /// that goes in, what both show.
  void add_ring(std::size_t i, Strokes& strokes) const {
    const Vec2 before = at(i + knees_.size() - 1), p = at(i), after = at(i + 1);
    const bool stands_out = cross(p - before, after - p) > 0;
    const auto ink_at = [&](double s) -> std::optional<Ink> {
      const bool one = is_seen(before, p, s), other = is_seen(p, after, s);
      if (one && other) return knees_[i].ink;
      if (one != other && stands_out) return knees_[i].ink.value_or(Ink::visible);
      return std::nullopt;
    };
    for (const Ink ink : {Ink::visible, Ink::dimension})
      add_arcs(ink, p, facets_where([&](double s) { return ink_at(s) == ink; }), strokes);
  }

  // ---- layers ----

  void draw_layer(std::size_t k, std::vector<char>& done) {
    cover_walls(k + 1);
    const std::vector<Annulus> rings = annuli(k);
    const double z0 = planes_[k], z1 = planes_[k + 1];
    const auto add_rear_ring = [&](const Wall& w, Strokes& strokes) {
      for (const std::size_t i : {w.knee, (w.knee + 1) % knees_.size()}) {
        if (at(i).x == z0 && !std::exchange(done[i], 1)) add_ring(i, strokes);
      }
    };
    for (const Annulus& a : rings) {
      Strokes strokes;
      add_rear_ring(a.outer, strokes);
      add_sides(a.outer, z0, z1, strokes);
      put(strokes);
      cover(strip(z0, z1, a.outer, seen_outside(a.outer)), true);
    }
    for (std::size_t i = rings.size(); i-- > 0;) {
      const Wall& wall = rings[i].inner;
      Strokes strokes;
      add_rear_ring(wall, strokes);
      put(strokes);
      cover(strip(z0, z1, wall, facets_where([&](double s) { return s < wall.slope; })), true);
    }
    cover_ = plane::united(cover_);
  }

  /// Walls square to the axis that look to the front. Where the layer before goes on in metal, its own faces cover it.
  void cover_walls(std::size_t k) {
    for (std::size_t i = 0; i < knees_.size(); ++i) {
      const Vec2 a = at(i), b = at(i + 1);
      if (a.x != planes_[k] || b.x != planes_[k] || b.y < a.y) continue;
      cover(turn_run(b.x, b.y), true);
      cover(turn_run(a.x, a.y), false);
    }
  }

  [[nodiscard]] std::vector<Span> seen_outside(const Wall& w) const {
    return facets_where([&](double s) { return s > w.slope; });
  }

  /// Where the outer wall turns away from the eye.
  void add_sides(const Wall& w, double z0, double z1, Strokes& strokes) const {
    for (const Span& seen : seen_outside(w)) {
      if (seen.to - seen.from == facet_count()) continue;
      for (const double i : {seen.from, seen.to})
        strokes.push_back({Ink::visible, {on_screen(w.rear * on_ring(i), z0), on_screen(w.front * on_ring(i), z1)}});
    }
  }

  [[nodiscard]] Polygon turn_run(double z, double radius) const {
    Polygon p = arc_run(z, radius, {0, double(facet_count())});
    p.pop_back();
    return p;
  }
  /// Those facets of a wall, of which there is one run at most.
  [[nodiscard]] Polygon strip(double z0, double z1, const Wall& w, const std::vector<Span>& seen) const {
    if (seen.empty()) return {};
    Polygon p = arc_run(z0, w.rear, seen.front());
    const Run back = arc_run(z1, w.front, seen.front());
    p.insert(p.end(), back.rbegin(), back.rend());
    return p;
  }

  void cover(Polygon p, bool metal) {
    if (p.size() < 3) return;
    if ((signed_area(p) > 0) != metal) std::reverse(p.begin(), p.end());
    cover_.push_back(std::move(p));
  }
  static double signed_area(const Polygon& p) {
    double twice = 0;
    for (std::size_t i = 0; i < p.size(); ++i) twice += cross(p[i], p[(i + 1) % p.size()]);
    return twice / 2;
  }

  void put(const Strokes& strokes) {
    for (const Ink ink : {Ink::visible, Ink::dimension}) {
      std::vector<Run> runs;
      for (const Stroke& s : strokes) {
        if (s.ink == ink) runs.push_back(s.run);
      }
      if (runs.empty()) continue;
      for (const Run& r : plane::outside(runs, cover_)) {
        Path path;
        for (std::size_t i = 0; i + 1 < r.size(); ++i) path.push_back(plane::straight(r[i], r[i + 1]));
        lines_.push_back({ink, std::move(path)});
      }
    }
  }

  // ---- openings, each put at the plane of its mouth ----

  [[nodiscard]] std::vector<Strokes> openings_by_plane() const {
    std::vector<Strokes> on(planes_.size());
    for (const plane::RoundHole& h : body_.holes) {
      std::vector<plane::Level> levels;
      for (const Vec2& p : h.profile) {
        if (p.y > kAside) levels.push_back({p.x, plane::circle(h.at, p.y)});
      }
      add_levels(std::move(levels), h.through, on);
    }
    for (const plane::Pocket& p : body_.pockets) add_levels(p.levels, p.through, on);
    for (const Slot& s : body_.slots) add_slot(s, on);
    return on;
  }

  /// The mouth, and what is seen through it of the levels behind.
  void add_levels(std::vector<plane::Level> levels, bool through, std::vector<Strokes>& on) const {
    if (levels.front().z < levels.back().z) {
      if (!through) return;
      std::reverse(levels.begin(), levels.end());
    }
    Strokes& strokes = on[plane_at(levels.front().z)];
    std::vector<Polygon> before;
    const plane::Level* last = nullptr;
    for (const plane::Level& level : levels) {
      if (last && is_near(*last, level)) continue;
      last = &level;
      Polygon loop;
      for (const Vec2& p : plane::polyline(level.loop, chord_)) loop.push_back(on_screen(p, level.z));
      Run run = loop;
      run.push_back(loop.front());
      std::vector<Run> seen{std::move(run)};
      for (const Polygon& mouth : before) seen = plane::inside(seen, {mouth});
      for (Run& r : seen) strokes.push_back({Ink::visible, std::move(r)});
      before.push_back(std::move(loop));
    }
  }
  /// No more apart than an edge break.
  [[nodiscard]] bool is_near(const plane::Level& a, const plane::Level& b) const {
    const auto reach = [](const plane::Level& l) { return std::sqrt(plane::area(l.loop) / kPi); };
    return std::abs(a.z - b.z) < fine_ && std::abs(reach(a) - reach(b)) < fine_;
  }

  /// Depths that the slot takes away at a radius; nullopt where there is no metal.
  [[nodiscard]] std::optional<Span> depths(const Slot& s, double radius) const {
    const std::vector<Span> metal = spans(outline_, &Vec2::y, radius);
    for (std::size_t i = metal.size(); i-- > 0;) {
      const Span cut{std::max(metal[i].from, s.z0), std::min(metal[i].to, s.z1)};
      if (cut.to - cut.from > kAside) return cut;
    }
    return std::nullopt;
  }

  /// A slot's walls across the axis: from the turned face over side, floor and side to the turned face again.
  struct Notch {
    std::array<Vec2, 4> corners;
    std::array<Vec2, 5> normals;  ///< of the faces before, between and after the corners, towards the air
  };
  [[nodiscard]] static Notch notch_of(const Slot& s, double turned_radius) {
    const double half = s.width / 2, c = cos_of(s.angle), t = sin_of(s.angle), to_floor = s.inward ? -1 : 1;
    const auto at_radius = [&](double r) { return std::sqrt(std::max(0.0, (r - half) * (r + half))); };
    const auto place = [&](double along, double across) {
      return Vec2{along * c - across * t, along * t + across * c};
    };
    const double outer = at_radius(turned_radius), floor = s.inward ? s.floor : at_radius(s.floor);
    return {
        {place(outer, -half), place(floor, -half), place(floor, half), place(outer, half)},
        {to_floor * place(outer, -half), place(0, 1), place(to_floor, 0), place(0, -1), to_floor * place(outer, half)}};
  }

  /// The mouth in front, and those walls that look to the eye, as far as they are seen through the mouth.
  void add_slot(const Slot& s, std::vector<Strokes>& on) const {
    const std::optional<Span> z = depths(s, (s.inward ? length_of(s.floor, s.width / 2) : s.floor) + kAside);
    if (!z) return;
    const double turned_radius = s.inward ? spans(outline_, &Vec2::x, z->to - kAside).front().from
                                          : spans(outline_, &Vec2::x, (z->from + z->to) / 2).back().to;
    const Notch notch = notch_of(s, turned_radius);
    const auto looks = [&](std::size_t face) { return dot(notch.normals[face], {1, 1}) > 0; };
    const auto wall = [&](std::size_t i, double depth) -> Run {
      if (i == 2 && !s.inward) return arc_across(s, s.floor, depth);
      return {on_screen(notch.corners[i - 1], depth), on_screen(notch.corners[i], depth)};
    };
    Strokes& strokes = on[plane_at(z->to)];
    const bool opens_in_front = s.z1 > z->to + kSamePlane;
    std::vector<Run> within;
    for (std::size_t i = 1; i < 4; ++i) {
      if (opens_in_front) strokes.push_back({Ink::visible, wall(i, z->to)});
      if (looks(i)) within.push_back(wall(i, z->from));
    }
    for (std::size_t i = 0; i < 4; ++i) {
      const Run along{on_screen(notch.corners[i], z->to), on_screen(notch.corners[i], z->from)};
      const bool stands_out = i == 0 || i == 3;
      if (stands_out && !s.inward) {  // on the border of the mouth
        if (looks(i == 0 ? 0 : 4)) strokes.push_back({Ink::visible, along});
      } else if (stands_out ? looks(i) || looks(i + 1) : looks(i) && looks(i + 1)) {
        within.push_back(along);
      }
    }
    for (Run& r : plane::inside(within, mouth_of(s, notch, turned_radius, *z, opens_in_front)))
      strokes.push_back({Ink::visible, std::move(r)});
    if (!s.inward && looks(0) && looks(4)) add_far_edge(s, turned_radius, z->from, strokes);
  }

  /// The arc across a slot at some radius.
  [[nodiscard]] Run arc_across(const Slot& s, double radius, double z) const {
    const double half = asin_of(s.width / 2 / radius);
    return arc_run(z, radius, {facet_at(s.angle - half), facet_at(s.angle + half)});
  }

  /// What of the picture is seen into the slot: by the bore, or through its opening in the turned face and in front.
  [[nodiscard]] std::vector<Polygon> mouth_of(const Slot& s, const Notch& notch, double turned_radius, const Span& z,
                                              bool opens_in_front) const {
    std::vector<Polygon> mouth;
    Polygon front;
    for (const Vec2& p : notch.corners) front.push_back(on_screen(p, z.to));
    if (s.inward) {
      front.push_back(on_screen({}, z.to));
      mouth.push_back(turn_run(z.to, turned_radius));
    } else {
      mouth.push_back(arc_across(s, turned_radius, z.from));
      const Run back = arc_across(s, turned_radius, z.to);
      mouth.back().insert(mouth.back().end(), back.rbegin(), back.rend());
    }
    if (opens_in_front) mouth.push_back(std::move(front));
    for (Polygon& p : mouth) {
      if (signed_area(p) < 0) std::reverse(p.begin(), p.end());
    }
    return mouth;
  }

  /// Where a slot ends within the turned face.
  void add_far_edge(const Slot& s, double radius, double z, Strokes& strokes) const {
    const std::vector<Span> behind = spans(outline_, &Vec2::x, z - kAside);
    if (!behind.empty() && std::abs(behind.back().to - radius) < kAside)
      strokes.push_back({Ink::visible, arc_across(s, radius, z)});
  }

  const plane::TurnedBody& body_;
  double chord_ = 0, fine_ = 0;
  std::vector<Knee> knees_;
  std::vector<double> planes_;
  std::vector<Vec2> ring_;
  std::vector<double> look_;  ///< of each facet: cos + sin at its middle
  Path outline_;
  std::vector<Polygon> cover_;
  Lines lines_;
};

}  // namespace

Lines isometric(const section::Section& section) { return Picture(section).draw(); }

}  // namespace groovewright::drawing
