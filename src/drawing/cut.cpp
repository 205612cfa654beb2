// Each half is drawn in its own half plane, y > 0, with what is seen beyond it; the second is then mirrored.
#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>

#include "groovewright/base/trig.h"
#include "openings.h"
#include "planes.h"
#include "rings.h"
#include "sketch.h"

namespace groovewright::drawing {
namespace {

using part::Part;
using plane::Edge;
using plane::Ink;
using plane::Path;
using plane::Pocket;
using plane::RoundHole;
using plane::Slot;
using plane::TurnedBody;
using plane::Vec2;

/// To both sides of an edge, where metal is asked for. mm
constexpr double kAside = 1e-5;
/// Centre lines reach beyond both ends by this share of the part's radius.
constexpr double kBeyondAxis = 0.08, kBeyondOpening = 0.04;
/// Chord error of what is an arc in the outline but not behind a keyway. mm
constexpr double kBentError = 0.01;
/// Planes that cut an opening as near to its middle cut its middle. rad
constexpr double kThrough = 1e-6;
/// Metal this thin hides nothing; room for the slope of a face just beside its edge. mm
constexpr double kSlack = 1e-3;
/// Lines square to the axis as near as this are one. mm
constexpr double kSameZ = 1e-6;

/// What is seen in one half plane.
struct View {
  std::vector<Path> runs;    ///< visible
  std::vector<Edge> across;  ///< visible too, square to the axis; they may overlap each other and the runs
  Lines thin;                ///< threads and centre lines
  std::vector<Path> metal;
};

/// What a half plane at some angle from the slot's own leaves of it: radii that it takes, and half its width as seen
/// from there; no width for a plane beside the middle, which shows the slot's side.
struct SlotCut {
  double from = 0, to = std::numeric_limits<double>::infinity();
  double half = 0;
};
SlotCut cut_through(const Slot& slot, double angle) {
  const double turned_by = std::abs(between(slot.angle, angle));
  if (turned_by > std::numbers::pi / 2 - kThrough) return {0, 0, 0};
  SlotCut cut;
  if (turned_by < kThrough) {
    cut.half = slot.width / 2;
  } else {
    cut.to = slot.width / 2 / sin_of(turned_by);
  }
  if (slot.inward) cut.to = std::min(cut.to, slot.floor / cos_of(turned_by));
  if (!slot.inward) cut.from = slot.floor;
  return cut;
}

class Half {
 public:
  Half(const Part& part, const TurnedBody& body, double angle) : part_(part), body_(body), angle_(angle) {
    for (const Slot& s : body.slots) {
      if (s.inward) keyway_ = cut_through(s, angle);
    }
  }

  View draw() {
    add_outline();
    add_edges_beyond();
    for (const RoundHole& h : body_.holes) add_hole(h);
    for (const Pocket& p : body_.pockets) add_pocket(p);
    return std::move(view_);
  }

 private:
  /// A place in the outline as it is seen beyond a keyway's side.
  [[nodiscard]] double beside_keyway(double radius) const {
    return std::sqrt(std::max(0.0, (radius - keyway_.half) * (radius + keyway_.half)));
  }
  [[nodiscard]] double keyway_corner() const { return length_of(keyway_.to, keyway_.half); }

  void add_outline() {
    view_.metal =
        keyway_.to > 0 ? clipped(body_.section, {&Vec2::y, keyway_.to, true}) : std::vector<Path>{body_.section};
    view_.runs = view_.metal;
    for (const Slot& s : body_.slots) {
      if (!s.inward && !is_tooth_gap(s)) cut_mark(s, cut_through(s, angle_));
    }
    if (keyway_.to > keyway_.half) add_beside_keyway();
  }

  /// The bore and its edges where the far side of the keyway meets them.
  void add_beside_keyway() {
    const Limit corner{&Vec2::y, keyway_corner(), false};
    for (const Path& piece : clipped(body_.section, corner)) {
      for (const Edge& e : piece) {
        if (lies_on(e, corner)) continue;
        std::vector<Vec2> points = plane::polyline({e}, kBentError);
        for (Vec2& p : points) p.y = beside_keyway(p.y);
        for (std::size_t i = 0; i + 1 < points.size(); ++i)
          view_.runs.push_back({plane::straight(points[i], points[i + 1])});
      }
    }
  }

  void cut_mark(const Slot& slot, const SlotCut& cut) {
    if (cut.to <= cut.from) return;
    const Limit floor{&Vec2::y, cut.from, true}, side{&Vec2::y, cut.to, false}, rear{&Vec2::x, slot.z0, true},
        front{&Vec2::x, slot.z1, false};
    std::vector<Path> regions{body_.section};
    for (const Limit& limit : {floor, side, rear, front}) {
      std::vector<Path> smaller;
      for (const Path& region : regions) {
        for (Path& p : clipped(region, limit)) smaller.push_back(std::move(p));
      }
      regions = std::move(smaller);
    }
    for (const Path& region : regions) {
      view_.metal.push_back(region);
      for (const Edge& e : region) {
        if (lies_on(e, floor) || lies_on(e, rear) || lies_on(e, front)) view_.runs.push_back({e});
      }
    }
  }

  /// Each edge of the turned part runs on, beyond the plane, towards the axis until metal at its own Z hides it.
  void add_edges_beyond() {
    for (const Vec2& p : edges_of(body_.section)) {
      double to = p.y;
      for (const double side : {-kAside, kAside}) to = std::min(to, first_metal(p, side));
      double from = p.y;
      if (keyway_.to > 0 && p.y < keyway_corner()) from = beside_keyway(p.y), to = std::min(to, from);
      if (from - to > kAside) add_across(p.x, to, from);
    }
  }

  void add_across(double z, double from, double to) { view_.across.push_back(plane::straight({z, from}, {z, to})); }

  /// Radius of the outermost metal below `p`, just beside its Z.
  [[nodiscard]] double first_metal(Vec2 p, double side) const {
    double radius = 0;
    for (const Span& s : spans(body_.section, &Vec2::x, p.x + side)) {
      if (s.from < p.y - kSlack) radius = std::max(radius, std::min(s.to, p.y));
    }
    return radius < p.y - kSlack ? radius : p.y;
  }

  // ---- openings ----

  void add_hole(const RoundHole& h) {
    const Vec2 along{cos_of(angle_), sin_of(angle_)};
    const double at = dot(h.at, along), off = std::abs(cross(h.at, along));
    if (at <= 0 || off >= widest(h)) return;
    const std::vector<Vec2> sides = chords(h.profile, off < kThrough * at ? 0 : off);
    Path region;
    for (std::size_t i = 0; i + 1 < sides.size(); ++i) {
      const Vec2 a = sides[i], b = sides[i + 1];
      region.push_back(plane::straight({a.x, at + a.y}, {b.x, at + b.y}));
      if (a.x == b.x || std::max(a.y, b.y) < kAside) continue;
      for (const double s : {1.0, -1.0})
        view_.runs.push_back({plane::straight({a.x, at + s * a.y}, {b.x, at + s * b.y})});
    }
    close_region(std::move(region), at);
    const double mouth = h.profile.front().x, end = h.profile.back().x;
    for (const Vec2& p : sides) {  // the turned wall's own edge runs across a mouth
      if (p.x != mouth && !(h.through && p.x == end) && p.y > kAside) add_across(p.x, at - p.y, at + p.y);
    }
    if (const catalog::Thread* thread = thread_of(part_, h)) add_thread(h, *thread, at, off);
    const auto [z0, z1] = std::minmax(sides.front().x, sides.back().x);
    const double over = kBeyondOpening * outermost(body_.section);
    view_.thin.push_back({Ink::centre, {plane::straight({z0 - over, at}, {z1 + over, at})}});
  }

  /// Half chords of a hole's profile at some distance from its axis, from the mouth on.
  static std::vector<Vec2> chords(const std::vector<Vec2>& profile, double off) {
    std::vector<Vec2> out;
    const auto chord = [&](Vec2 p) { return Vec2{p.x, std::sqrt(std::max(0.0, (p.y - off) * (p.y + off)))}; };
    for (std::size_t i = 0; i < profile.size(); ++i) {
      const Vec2 p = profile[i];
      if (i > 0 && (profile[i - 1].y < off) != (p.y < off)) {
        const Vec2 before = profile[i - 1];
        out.push_back({before.x + (p.x - before.x) * (off - before.y) / (p.y - before.y), 0});
      }
      if (p.y >= off) out.push_back(chord(p));
    }
    return out;
  }

  /// Adds the mirrored way back about the opening's own axis.
  void close_region(Path region, double at) {
    const auto mirrored = [&](Vec2 p) { return Vec2{p.x, 2 * at - p.y}; };
    const std::size_t n = region.size();
    const Vec2 start = region.front().a, end = region.back().b;
    if (end.y > at) region.push_back(plane::straight(end, mirrored(end)));
    for (std::size_t i = n; i-- > 0;) region.push_back(plane::straight(mirrored(region[i].b), mirrored(region[i].a)));
    if (start.y > at) region.push_back(plane::straight(mirrored(start), start));
    view_.metal.push_back(std::move(region));
  }

  /// ISO 6410-1: thin lines at the major diameter, a thick one at the end of the full thread.
  void add_thread(const RoundHole& h, const catalog::Thread& thread, double at, double off) {
    const double r = thread.diameter / 2;
    if (off >= r) return;
    const double major = std::sqrt((r - off) * (r + off));
    const double mouth = h.profile.front().x, down = h.profile.back().x > mouth ? 1 : -1;
    const double full = pattern_of(part_, h)->depth;
    const double start = within_thread(h.profile, r);
    const double end = h.through ? within_thread({h.profile.rbegin(), h.profile.rend()}, r) : mouth + down * full;
    for (const double s : {1.0, -1.0})
      view_.thin.push_back({Ink::dimension, {plane::straight({start, at + s * major}, {end, at + s * major})}});
    if (!h.through) add_across(end, at - major, at + major);
  }

  /// Z at which the mouth's chamfer has come in to the thread.
  static double within_thread(const std::vector<Vec2>& profile, double radius) {
    const Vec2 a = profile[0], b = profile[1];
    return a.y > radius && b.y < radius ? a.x + (b.x - a.x) * (a.y - radius) / (a.y - b.y) : a.x;
  }

  void add_pocket(const Pocket& p) {
    std::vector<std::pair<Vec2, Vec2>> walls;  // inner and outer, level by level
    for (const plane::Level& l : p.levels) {
      const std::vector<Span> met = spans(plane::turned(l.loop, -angle_), &Vec2::y, 0);
      if (met.size() != 1 || met[0].from <= 0) return;  // nothing, or no more than an edge break
      walls.push_back({{l.z, met[0].from}, {l.z, met[0].to}});
    }
    Path there, back;
    for (std::size_t i = 0; i + 1 < walls.size(); ++i) {
      there.push_back(plane::straight(walls[i].first, walls[i + 1].first));
      back.push_back(plane::straight(walls[i].second, walls[i + 1].second));
    }
    view_.runs.push_back(there);
    view_.runs.push_back(back);
    const std::size_t last = walls.size() - (p.through ? 1 : 0);
    for (std::size_t i = 1; i < last; ++i) add_across(walls[i].first.x, walls[i].first.y, walls[i].second.y);
    Path region = std::move(there);
    region.push_back(plane::straight(walls.back().first, walls.back().second));
    for (std::size_t i = back.size(); i-- > 0;) region.push_back(back[i].reversed());
    region.push_back(plane::straight(walls.front().second, walls.front().first));
    view_.metal.push_back(std::move(region));
  }

  const Part& part_;
  const TurnedBody& body_;
  double angle_;
  SlotCut keyway_{0, 0, 0};
  View view_;
};

void mirror(Path& path) {
  for (Edge& e : path) {
    e.a.y = -e.a.y, e.b.y = -e.b.y, e.centre.y = -e.centre.y;
    if (e.is_arc()) e.turn = e.turn == Edge::Turn::ccw ? Edge::Turn::cw : Edge::Turn::ccw;
  }
}

void mirror(View& view) {
  for (Path& run : view.runs) mirror(run);
  mirror(view.across);
  for (plane::Inked& line : view.thin) mirror(line.path);
  for (Path& loop : view.metal) mirror(loop);
}

/// Lines square to the axis, united where they overlap and without what the runs have drawn.
std::vector<Edge> united(const std::vector<Edge>& across, const std::vector<Path>& runs) {
  struct Line {
    double z = 0;
    std::vector<Span> seen, drawn;
  };
  std::map<std::int64_t, Line> lines;
  const auto line = [&](const Edge& e) -> Line& { return lines[std::llround(e.a.x / kSameZ)]; };
  const auto span = [](const Edge& e) { return Span{std::min(e.a.y, e.b.y), std::max(e.a.y, e.b.y)}; };
  for (const Edge& e : across) line(e).z = e.a.x, line(e).seen.push_back(span(e));
  for (const Path& run : runs) {
    for (const Edge& e : run) {
      if (!e.is_arc() && std::abs(e.a.x - e.b.x) < kSameZ) line(e).drawn.push_back(span(e));
    }
  }
  std::vector<Edge> out;
  for (const auto& [key, l] : lines) {
    for (const Span& s : without(l.seen, l.drawn)) out.push_back(plane::straight({l.z, s.from}, {l.z, s.to}));
  }
  return out;
}

Path axis(const Path& outline) {
  const auto [rear, front] =
      std::minmax_element(outline.begin(), outline.end(), [](const Edge& e, const Edge& f) { return e.a.x < f.a.x; });
  const double over = kBeyondAxis * outermost(outline);
  return {plane::straight({rear->a.x - over, 0}, {front->a.x + over, 0})};
}

/// In (-pi, pi].
Angle from_top(double angle) {
  const double aside = between(std::numbers::pi / 2, angle);
  return Angle::rad(aside < kThrough - std::numbers::pi ? std::numbers::pi : aside);
}

}  // namespace

Cut cut(const Part& part, const section::Section& section) {
  const HalfPlanes planes = half_planes(part, section.body);
  View view = Half(part, section.body, planes.first).draw();
  View second = Half(part, section.body, planes.second).draw();
  mirror(second);
  const auto append = [](auto& to, auto& from) { to.insert(to.end(), from.begin(), from.end()); };
  append(view.runs, second.runs);
  append(view.across, second.across);
  append(view.thin, second.thin);
  append(view.metal, second.metal);

  Sketch sketch;
  for (const Path& run : view.runs) sketch.add(Ink::visible, run);
  for (const Edge& e : united(view.across, view.runs)) sketch.add(Ink::visible, {e});
  for (const plane::Inked& line : view.thin) sketch.add(line.ink, line.path);
  sketch.add(Ink::centre, axis(section.body.section));
  return {from_top(planes.first), from_top(planes.second), sketch.take(), std::move(view.metal)};
}

}  // namespace groovewright::drawing
