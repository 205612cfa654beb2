// A stroke's ink is the union of a disc at each of its points and a rectangle between neighbours. Each disc has the
// corners of its rectangles among its own corners, so outlines run on smoothly from one to the other. All pieces are
// convex and overlap, and the union is reckoned with whole numbers: no case is left to rounding.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>

#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"
#include "groovewright/plane/lettering.h"
#include "lattice.h"

namespace groovewright::plane {
namespace {

using ClipperLib::IntPoint;
using ClipperLib::Paths;
using Loop = ClipperLib::Path;

constexpr double kTurn = 2 * std::numbers::pi;
/// Half the side of the square that joins what only touches; its corners survive the thinning.
constexpr double kWeld = 2 * kLeastStep;
/// Rounds of mending and uniting anew: the second nearly always finds nothing to do.
constexpr int kRounds = 20;

/// From the middle of the line a -> b to its left border.
Vec2 left_arm(Vec2 a, Vec2 b, double radius) {
  const Vec2 along = radius * unit(b - a);
  return {-along.y, along.x};
}

/// The disc about `centre` with corners at all `arms` and, between them, as many more as keep the chord error.
Loop disc(Vec2 centre, double radius, std::vector<Vec2> arms, double chord_error) {
  const auto angle = [](Vec2 v) { return atan2_of(v.y, v.x); };
  std::sort(arms.begin(), arms.end(), [&](Vec2 v, Vec2 w) { return angle(v) < angle(w); });
  Loop loop;
  for (std::size_t i = 0; i < arms.size(); ++i) {
    const bool last = i + 1 == arms.size();
    const double from = angle(arms[i]), sweep = angle(arms[last ? 0 : i + 1]) + (last ? kTurn : 0) - from;
    const int steps = arc_steps(radius, sweep, chord_error);
    loop.push_back(on_lattice(centre + arms[i]));
    for (int k = 1; k < steps; ++k) {
      const double at = from + sweep * k / steps;
      loop.push_back(on_lattice(centre + radius * Vec2{cos_of(at), sin_of(at)}));
    }
  }
  return loop;
}

/// Points nearer than kLeastStep to the one before them dropped: a pen that rests.
Stroke distinct(const Stroke& stroke) {
  Stroke out;
  for (const Vec2& p : stroke) {
    if (out.empty() || norm(p - out.back()) >= kLeastStep) out.push_back(p);
  }
  return out;
}

Paths pieces_of(const Stroke& stroke, double radius, double chord_error) {
  Paths pieces;
  for (std::size_t i = 0; i < stroke.size(); ++i) {
    std::vector<Vec2> arms;
    const auto add_arm = [&](Vec2 arm) {
      arms.push_back(arm);
      arms.push_back(-1.0 * arm);
    };
    if (i > 0) add_arm(left_arm(stroke[i - 1], stroke[i], radius));
    if (i + 1 < stroke.size()) add_arm(left_arm(stroke[i], stroke[i + 1], radius));
    if (arms.empty()) add_arm({radius, 0});
    pieces.push_back(disc(stroke[i], radius, arms, chord_error));
    if (i == 0) continue;
    const Vec2 a = stroke[i - 1], b = stroke[i], arm = left_arm(a, b, radius);
    pieces.push_back({on_lattice(a - arm), on_lattice(b - arm), on_lattice(b + arm), on_lattice(a + arm)});
  }
  return pieces;
}

Paths united(const Paths& pieces) {
  if (pieces.empty()) return {};
  ClipperLib::Clipper clipper(ClipperLib::ioStrictlySimple);
  clipper.AddPaths(pieces, ClipperLib::ptSubject, true);
  Paths loops;
  require(clipper.Execute(ClipperLib::ctUnion, loops, ClipperLib::pftNonZero), "outlines: the union failed");
  return loops;
}

bool are_near(const IntPoint& p, const IntPoint& q) {
  const std::int64_t dx = p.X - q.X, dy = p.Y - q.Y;
  constexpr auto kNear = static_cast<std::int64_t>(kLeastStep * kLattice);
  return std::abs(dx) <= kNear && std::abs(dy) <= kNear && dx * dx + dy * dy < kNear * kNear;
}

/// Loops without points too near to their neighbours; what then has no area is gone.
Paths thinned(const Paths& loops) {
  Paths out;
  for (const Loop& loop : loops) {
    Loop kept;
    for (const IntPoint& p : loop) {
      if (kept.empty() || !are_near(kept.back(), p)) kept.push_back(p);
    }
    while (kept.size() > 1 && are_near(kept.front(), kept.back())) kept.pop_back();
    if (kept.size() >= 3) out.push_back(std::move(kept));
  }
  return out;
}

/// A small square on each point where borders touch.
Paths welds(const Paths& loops) {
  std::vector<IntPoint> points;
  for (const Loop& loop : loops) points.insert(points.end(), loop.begin(), loop.end());
  const auto before = [](const IntPoint& p, const IntPoint& q) { return p.X != q.X ? p.X < q.X : p.Y < q.Y; };
  std::sort(points.begin(), points.end(), before);
  constexpr auto kHalf = static_cast<std::int64_t>(kWeld * kLattice);
  Paths squares;
  for (auto p = std::adjacent_find(points.begin(), points.end()); p != points.end();
       p = std::adjacent_find(p + 1, points.end())) {
    squares.push_back({{p->X - kHalf, p->Y - kHalf},
                       {p->X + kHalf, p->Y - kHalf},
                       {p->X + kHalf, p->Y + kHalf},
                       {p->X - kHalf, p->Y + kHalf}});
  }
  return squares;
}

}  // namespace

std::vector<Polygon> outlines(const Strokes& strokes, double line_width, double chord_error) {
  require(line_width > 0 && chord_error > 0, "outlines: a pen has a width, a round a chord error");
  Paths inked;  // stroke by stroke first: the clipper's time grows with all that lies side by side
  for (const Stroke& stroke : strokes) {
    const Paths ink = united(pieces_of(distinct(stroke), line_width / 2, chord_error));
    inked.insert(inked.end(), ink.begin(), ink.end());
  }
  Paths loops = united(inked);
  for (int round = 0;; ++round) {
    require(round < kRounds, "outlines: the borders do not come to rest");
    Paths mended = thinned(loops);
    const Paths squares = welds(mended);
    if (squares.empty() && mended == loops) break;
    mended.insert(mended.end(), squares.begin(), squares.end());
    loops = united(mended);  // a dropped point may make borders cross
  }
  std::vector<Polygon> out;
  for (const Loop& loop : loops) out.push_back(off_lattice(loop));
  return out;
}

}  // namespace groovewright::plane
