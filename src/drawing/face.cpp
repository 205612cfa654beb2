// What a turned part shows in front is the envelope of its outline. A slot takes all metal between two planes away from
// its own patch of the view, so within the patch the envelope of what is left counts.
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "groovewright/base/trig.h"
#include "openings.h"
#include "rings.h"
#include "sketch.h"

namespace groovewright::drawing {
namespace {

using part::Part;
using plane::Ink;
using plane::Path;
using plane::Pocket;
using plane::RoundHole;
using plane::Slot;
using plane::Vec2;

constexpr double kNone = -std::numeric_limits<double>::infinity();
/// To both sides of an edge, where the envelope is asked. mm
constexpr double kAside = 1e-5;
/// The envelope may rise as much on its way to the edge. mm
constexpr double kSlack = 1e-3;
/// Radii nearer than this are one circle. mm
constexpr double kSameRadius = 1e-6;
/// Centre lines reach beyond what they mark by this share of its radius.
constexpr double kBeyond = 0.04, kBeyondHole = 0.25;

/// What is seen of turned bodies from the front.
class Envelope {
 public:
  explicit Envelope(std::vector<Path> outlines) : outlines_(std::move(outlines)) {
    for (const Path& outline : outlines_) {
      for (const Vec2& p : edges_of(outline)) {
        if (p.y > kAside && is_seen(p)) radii_.push_back(p.y);
      }
    }
    std::sort(radii_.begin(), radii_.end());
    const auto same = [](double r, double s) { return s - r < kSameRadius; };
    radii_.erase(std::unique(radii_.begin(), radii_.end(), same), radii_.end());
  }

  /// Z of the foremost metal at a radius.
  [[nodiscard]] double top(double radius) const {
    double z = kNone;
    for (const Path& outline : outlines_) {
      const std::vector<Span> metal = spans(outline, &Vec2::y, radius);
      if (!metal.empty()) z = std::max(z, metal.back().to);
    }
    return z;
  }
  /// Of the circles that are seen, ascending.
  [[nodiscard]] const std::vector<double>& radii() const { return radii_; }
  [[nodiscard]] bool has(double radius) const {
    const auto at = std::lower_bound(radii_.begin(), radii_.end(), radius - kSameRadius);
    return at != radii_.end() && *at <= radius + kSameRadius;
  }

 private:
  [[nodiscard]] bool is_seen(Vec2 p) const { return std::min(top(p.y - kAside), top(p.y + kAside)) <= p.x + kSlack; }

  std::vector<Path> outlines_;
  std::vector<double> radii_;
};

/// A slot with what is seen where it is.
struct Cleft {
  const Slot* slot;
  Envelope beyond;
};

class Face {
 public:
  Face(const Part& part, const section::Section& section)
      : part_(part), body_(section.body), envelope_({body_.section}) {
    for (const Vec2& p : edges_of(body_.section)) stops_.push_back(p.y);
    for (const Slot& s : body_.slots) {
      const bool alike = !clefts_.empty() && clefts_.back().slot->z0 == s.z0 && clefts_.back().slot->z1 == s.z1;
      clefts_.push_back({&s, alike ? clefts_.back().beyond : without_slab(s.z0, s.z1)});
    }
  }

  Lines draw() {
    for (const double r : all_radii()) add_ring(r);
    for (const Cleft& c : clefts_) add_slot(*c.slot);
    for (const RoundHole& h : body_.holes) add_hole(h);
    for (const Pocket& p : body_.pockets) add_pocket(p);
    for (const RoundHole& h : body_.holes) add_thread(h);
    add_centre_lines();
    return sketch_.take();
  }

 private:
  [[nodiscard]] Envelope without_slab(double z0, double z1) const {
    std::vector<Path> left = clipped(body_.section, {&Vec2::x, z0, false});
    for (Path& p : clipped(body_.section, {&Vec2::x, z1, true})) left.push_back(std::move(p));
    return Envelope(std::move(left));
  }

  [[nodiscard]] std::vector<double> all_radii() const {
    std::vector<double> all = envelope_.radii();
    for (std::size_t i = 0; i < clefts_.size(); ++i) {
      for (const double r : clefts_[i].beyond.radii()) {
        if (std::none_of(all.begin(), all.end(), [&](double s) { return std::abs(s - r) < kSameRadius; }))
          all.push_back(r);
      }
    }
    return all;
  }

  void add_ring(double radius) {
    const bool is_plain = envelope_.has(radius);
    std::vector<Span> gaps, bits;
    for (const Cleft& c : clefts_) {
      const bool is_beyond = c.beyond.has(radius);
      if (is_beyond == is_plain) continue;
      for (const Span& s : within(*c.slot, radius)) (is_plain ? gaps : bits).push_back(s);
    }
    if (is_plain) bits = turn_without(gaps);
    for (const Span& s : bits) sketch_.add(Ink::visible, arc(radius, s));
  }

  // ---- slots ----

  [[nodiscard]] bool takes_top(const Slot& s, double radius) const {
    const double z = envelope_.top(radius);
    return z > s.z0 + kSlack && z <= s.z1 + kSlack;
  }

  /// Radii between which the slot's sides are seen, those from `from` to `to`.
  [[nodiscard]] std::vector<Span> side_spans(const Slot& s, double from, double to) const {
    std::vector<double> stops{from, to};
    for (const double r : stops_) {
      if (r > from && r < to) stops.push_back(r);
    }
    std::sort(stops.begin(), stops.end());
    std::vector<Span> seen;
    for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
      if (takes_top(s, (stops[i] + stops[i + 1]) / 2)) seen.push_back({stops[i], stops[i + 1]});
    }
    return without(std::move(seen), {});
  }

  void add_slot(const Slot& s) {
    const double half = s.width / 2;
    const double corner = s.inward ? length_of(s.floor, half) : s.floor;
    const double from = s.inward ? half : corner, to = s.inward ? corner : envelope_.radii().back();
    const auto along = [&](double r) { return std::sqrt(std::max(0.0, (r - half) * (r + half))); };
    const auto add = [&](Vec2 a, Vec2 b) {
      sketch_.add(Ink::visible, plane::turned({plane::straight(a, b)}, s.angle));
    };
    for (const Span& r : side_spans(s, from, to)) {
      for (const double y : {-half, half}) add({along(r.from), y}, {along(r.to), y});
    }
    if (!takes_top(s, corner + kAside)) return;
    if (s.inward) {
      add({s.floor, -half}, {s.floor, half});
    } else if (!envelope_.has(s.floor)) {
      const double reach = asin_of(half / s.floor);
      sketch_.add(Ink::visible, arc(s.floor, {s.angle - reach, s.angle + reach}));
    }
  }

  // ---- openings ----

  /// Whether an opening has its mouth in what is seen in front.
  [[nodiscard]] bool is_open(double radius, double foremost) const {
    return foremost >= envelope_.top(radius) - kSlack;
  }
  [[nodiscard]] static double foremost(const RoundHole& h) { return std::max(h.profile.front().x, h.profile.back().x); }
  [[nodiscard]] bool is_open(const RoundHole& h) const { return is_open(norm(h.at), foremost(h)); }

  void add_hole(const RoundHole& h) {
    std::vector<Vec2> profile = h.profile;
    if (profile.front().x < profile.back().x) std::reverse(profile.begin(), profile.end());
    const bool tapped = thread_of(part_, h) != nullptr;
    double narrowest = std::numeric_limits<double>::infinity(), shown = 0;
    if (is_open(h)) {
      for (const Vec2& p : profile) {
        if (p.y <= kSameRadius || p.y > narrowest - kSameRadius) continue;
        narrowest = p.y;
        // ISO 6410-1: in the view along a thread the chamfer at its mouth is left out.
        if (tapped && p.x == profile.front().x) continue;
        sketch_.add(Ink::visible, plane::circle(h.at, p.y));
        shown = std::max(shown, p.y);
      }
      if (tapped) shown = widest(h);
    }
    for (const double r : hidden_radii(profile, shown)) sketch_.add(Ink::hidden, plane::circle(h.at, r));
  }

  /// Walls that are wider than all that is shown; of a countersink without such a wall, its mouth.
  static std::vector<double> hidden_radii(const std::vector<Vec2>& profile, double shown) {
    std::vector<double> walls;
    double widest = 0;
    for (std::size_t i = 0; i + 1 < profile.size(); ++i) {
      widest = std::max({widest, profile[i].y, profile[i + 1].y});
      if (profile[i].y == profile[i + 1].y && profile[i].y > shown + kSameRadius) walls.push_back(profile[i].y);
    }
    if (walls.empty() && widest > shown + kSameRadius) walls.push_back(widest);
    return walls;
  }

  /// ISO 6410-1: three quarters of a circle, open at the upper right.
  void add_thread(const RoundHole& h) {
    const catalog::Thread* thread = thread_of(part_, h);
    if (!thread) return;
    const double r = thread->diameter / 2;
    sketch_.add(is_open(h) ? Ink::dimension : Ink::hidden,
                {{h.at + Vec2{0, r}, h.at + Vec2{r, 0}, plane::Edge::Turn::ccw, h.at}});
  }

  void add_pocket(const Pocket& p) {
    std::vector<plane::Level> levels = p.levels;
    if (levels.front().z < levels.back().z) std::reverse(levels.begin(), levels.end());
    if (!is_open(norm(levels.front().loop.front().a), levels.front().z)) {
      const bool has_break = levels.size() > 2;  // the wall itself, not the edge break before it
      return sketch_.add(Ink::hidden, levels[has_break ? levels.size() - 2 : 0].loop);
    }
    double narrowest = std::numeric_limits<double>::infinity();
    for (const plane::Level& l : levels) {
      const double a = plane::area(l.loop);
      if (a > narrowest) continue;
      narrowest = a;
      sketch_.add(Ink::visible, l.loop);
    }
  }

  // ---- centre lines ----

  void add_centre_lines() {
    const double reach = (1 + kBeyond) * envelope_.radii().back();
    sketch_.add(Ink::centre, {plane::straight({-reach, 0}, {reach, 0})});
    sketch_.add(Ink::centre, {plane::straight({0, -reach}, {0, reach})});
    std::vector<double> circles;
    for (const RoundHole& h : body_.holes) {
      const double at = norm(h.at);
      if (std::none_of(circles.begin(), circles.end(), [&](double r) { return std::abs(r - at) < kSameRadius; })) {
        circles.push_back(at);
        sketch_.add(Ink::centre, plane::circle({}, at));
      }
      const bool on_cross = std::abs(h.at.x) < kSameRadius || std::abs(h.at.y) < kSameRadius;
      const Vec2 tick = (1 + kBeyondHole) * widest(h) * unit(h.at);
      if (!on_cross) sketch_.add(Ink::centre, {plane::straight(h.at - tick, h.at + tick)});
    }
  }

  const Part& part_;
  const plane::TurnedBody& body_;
  Envelope envelope_;
  std::vector<double> stops_;  ///< radii between which the envelope is smooth
  std::vector<Cleft> clefts_;
  Sketch sketch_;
};

}  // namespace

Lines face(const Part& part, const section::Section& section) { return Face(part, section).draw(); }

}  // namespace groovewright::drawing
