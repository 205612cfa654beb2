#include "planes.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <tuple>
#include <vector>

#include "groovewright/base/trig.h"
#include "openings.h"

namespace groovewright::drawing {
namespace {

using part::Part;
using plane::TurnedBody;
using plane::Vec2;
using Use = part::HolePattern::Use;

constexpr double kPi = std::numbers::pi, kTop = kPi / 2;
/// Angles nearer than this are one; an opening cut as near to its middle is cut through the middle. rad
constexpr double kSameAngle = 1e-6;
/// Kept from openings by a plane that clears them. rad
constexpr double kClearance = 0.01;
/// Facets of an opening's outline, where its width is asked. mm
constexpr double kOutlineError = 1e-3;

/// In the order in which the first half plane wants them.
enum class What { keyway, window, dowel, jack_screw, magnet, bolt, other_bolt, mark };

struct Opening {
  What what;
  double angle;  ///< of its middle
  double half;   ///< angle from the middle to its side
};

What what(const Part& part, const plane::RoundHole& hole) {
  const part::HolePattern* pattern = pattern_of(part, hole);
  if (!pattern) return What::window;
  switch (pattern->use) {
    case Use::dowel:
      return What::dowel;
    case Use::jack_screw:
      return What::jack_screw;
    case Use::magnet:
      return What::magnet;
    case Use::bolt:
      break;
  }
  const auto first =
      std::find_if(part.holes.begin(), part.holes.end(), [](const part::HolePattern& p) { return p.use == Use::bolt; });
  return pattern == &*first ? What::bolt : What::other_bolt;
}

double angle_of(Vec2 v) { return atan2_of(v.y, v.x); }

Opening pocket_opening(const plane::Pocket& pocket) {
  double low = 0, high = 0;
  const double start = angle_of(pocket.levels.front().loop.front().a);
  for (const plane::Level& level : pocket.levels) {
    for (const Vec2 p : plane::polyline(level.loop, kOutlineError)) {
      const double aside = between(start, angle_of(p));
      low = std::min(low, aside), high = std::max(high, aside);
    }
  }
  return {pocket.through ? What::window : What::mark, start + (low + high) / 2, (high - low) / 2};
}

std::vector<Opening> openings(const Part& part, const TurnedBody& body) {
  std::vector<Opening> all;
  double innermost = norm(body.section.front().a);
  for (const plane::Edge& e : body.section) innermost = std::min(innermost, e.a.y);
  for (const plane::Slot& s : body.slots) {
    if (is_tooth_gap(s)) continue;
    const double nearest = std::max(s.width / 2, s.inward ? innermost : s.floor);
    all.push_back({s.inward ? What::keyway : What::mark, s.angle, asin_of(s.width / 2 / nearest)});
  }
  for (const plane::RoundHole& h : body.holes)
    all.push_back({what(part, h), angle_of(h.at), asin_of(std::min(1.0, widest(h) / norm(h.at)))});
  for (const plane::Pocket& p : body.pockets) all.push_back(pocket_opening(p));
  return all;
}

double away(double a, double b) { return std::abs(between(a, b)); }

bool misses(const Opening& o, double angle) { return away(o.angle, angle) > o.half; }

bool misses_all(const std::vector<Opening>& all, double angle) {
  return std::all_of(all.begin(), all.end(), [&](const Opening& o) { return misses(o, angle); });
}

/// No opening is cut beside its middle.
bool is_clean(const std::vector<Opening>& all, double angle) {
  return std::all_of(all.begin(), all.end(),
                     [&](const Opening& o) { return misses(o, angle) || away(o.angle, angle) < kSameAngle; });
}

/// How well a plane suits: clean, then near to where it is wanted, then counter-clockwise of there.
auto rank(const std::vector<Opening>& all, double angle, double target) {
  return std::tuple(!is_clean(all, angle), std::round(away(angle, target) / kSameAngle), between(target, angle) < 0);
}

/// The middle of an opening of the first kind of which there is one that does not lie on `taken`.
std::optional<double> through(const std::vector<Opening>& all, const std::vector<What>& kinds, double target,
                              std::optional<double> taken) {
  for (const What kind : kinds) {
    std::optional<double> best;
    for (const Opening& o : all) {
      if (o.what != kind || (taken && away(o.angle, *taken) < kSameAngle)) continue;
      if (!best || rank(all, o.angle, target) < rank(all, *best, target)) best = o.angle;
    }
    if (best) return best;
  }
  return std::nullopt;
}

double clear_of(const std::vector<Opening>& all, double target) {
  double best = target;
  bool found = misses_all(all, target);
  if (found) return target;
  for (const Opening& o : all) {
    for (const double side : {1.0, -1.0}) {
      const double angle = o.angle + side * (o.half + kClearance);
      if (!misses_all(all, angle)) continue;
      if (!found || rank(all, angle, target) < rank(all, best, target)) best = angle, found = true;
    }
  }
  return best;
}

}  // namespace

double between(double from, double to) { return std::remainder(to - from, 2 * kPi); }

bool is_tooth_gap(const plane::Slot& slot) { return slot.id.starts_with("gap["); }

HalfPlanes half_planes(const Part& part, const TurnedBody& body) {
  const std::vector<Opening> all = openings(part, body);
  std::vector<What> kinds{What::keyway, What::window, What::dowel, What::jack_screw, What::magnet};
  HalfPlanes planes;
  const std::optional<double> first = through(all, kinds, kTop, std::nullopt);
  planes.first = first ? *first : clear_of(all, kTop);
  kinds.insert(kinds.begin(), What::bolt);
  const double opposite = planes.first + kPi;
  const std::optional<double> second = through(all, kinds, opposite, planes.first);
  planes.second = second ? *second : clear_of(all, opposite);
  return planes;
}

}  // namespace groovewright::drawing
