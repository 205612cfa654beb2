#include "groovewright/plane/clip.h"

#include <algorithm>
#include <iterator>

#include "groovewright/base/broken.h"
#include "lattice.h"

namespace groovewright::plane {
namespace {

using ClipperLib::Clipper;
using ClipperLib::IntPoint;
using Points = ClipperLib::Path;

Points on_lattice(const std::vector<Vec2>& points) {
  Points out;
  for (const Vec2& p : points) out.push_back(on_lattice(p));
  return out;
}

struct Box {
  IntPoint low, high;
};
Box box_of(const Points& points) {
  Box box{points.front(), points.front()};
  for (const IntPoint& p : points) {
    box.low.X = std::min(box.low.X, p.X), box.low.Y = std::min(box.low.Y, p.Y);
    box.high.X = std::max(box.high.X, p.X), box.high.Y = std::max(box.high.Y, p.Y);
  }
  return box;
}

/// The loop without corners that make no difference within the box: those between two on the same far side of it.
Points trimmed(const Points& loop, const Box& box) {
  const auto is_apart = [&](const IntPoint& a, const IntPoint& b, const IntPoint& c) {
    return std::max({a.X, b.X, c.X}) < box.low.X || std::min({a.X, b.X, c.X}) > box.high.X ||
           std::max({a.Y, b.Y, c.Y}) < box.low.Y || std::min({a.Y, b.Y, c.Y}) > box.high.Y;
  };
  Points kept;
  if (!loop.empty()) kept.push_back(loop.front());
  for (std::size_t i = 1; i < loop.size(); ++i) {
    if (!is_apart(kept.back(), loop[i], loop[(i + 1) % loop.size()])) kept.push_back(loop[i]);
  }
  return kept;
}

ClipperLib::Paths trimmed(const ClipperLib::Paths& loops, const Box& box) {
  ClipperLib::Paths near;
  for (const Points& loop : loops) {
    Points kept = trimmed(loop, box);
    if (kept.size() >= 3) near.push_back(std::move(kept));
  }
  return near;
}

/// Joins what the clipper leaves in pieces though nothing cuts it. Requires: all are pieces of one run.
ClipperLib::Paths joined(const ClipperLib::Paths& pieces) {
  ClipperLib::Paths out;
  for (Points piece : pieces) {
    for (std::size_t i = 0; i < out.size();) {
      Points& other = out[i];
      if (other.front() == piece.front() || other.front() == piece.back()) std::reverse(other.begin(), other.end());
      if (other.back() == piece.back()) std::reverse(piece.begin(), piece.end());
      if (other.back() != piece.front()) {
        ++i;
        continue;
      }
      other.insert(other.end(), piece.begin() + 1, piece.end());
      piece = std::move(other);
      out.erase(out.begin() + static_cast<std::ptrdiff_t>(i));
      i = 0;
    }
    out.push_back(std::move(piece));
  }
  return out;
}

std::vector<Run> clipped(const std::vector<Run>& runs, const std::vector<Polygon>& region, ClipperLib::ClipType how) {
  ClipperLib::Paths loops;
  for (const Polygon& p : region) loops.push_back(on_lattice(p));
  std::vector<Run> out;
  for (const Run& run : runs) {
    const Points points = on_lattice(run);
    const ClipperLib::Paths near = trimmed(loops, box_of(points));
    if (near.empty()) {  // the clipper would lose a level line that it has nothing to hold against
      if (how == ClipperLib::ctDifference) out.push_back(run);
      continue;
    }
    Clipper clipper;
    if (!clipper.AddPath(points, ClipperLib::ptSubject, false)) continue;  // no longer than the lattice's step
    clipper.AddPaths(near, ClipperLib::ptClip, true);
    ClipperLib::PolyTree tree;
    require(clipper.Execute(how, tree, ClipperLib::pftNonZero, ClipperLib::pftNonZero), "clip: the clipping failed");
    ClipperLib::Paths left;
    ClipperLib::OpenPathsFromPolyTree(tree, left);
    for (const Points& p : joined(left)) out.push_back(off_lattice(p));
  }
  return out;
}

}  // namespace

std::vector<Run> outside(const std::vector<Run>& runs, const std::vector<Polygon>& region) {
  return clipped(runs, region, ClipperLib::ctDifference);
}

std::vector<Run> inside(const std::vector<Run>& runs, const std::vector<Polygon>& region) {
  return clipped(runs, region, ClipperLib::ctIntersection);
}

namespace {

std::vector<Polygon> combined(const std::vector<Polygon>& region, const std::vector<Polygon>& other,
                              ClipperLib::ClipType how) {
  Clipper clipper;
  for (const Polygon& p : region) clipper.AddPath(on_lattice(p), ClipperLib::ptSubject, true);
  for (const Polygon& p : other) clipper.AddPath(on_lattice(p), ClipperLib::ptClip, true);
  ClipperLib::Paths loops;
  require(clipper.Execute(how, loops, ClipperLib::pftNonZero, ClipperLib::pftNonZero), "clip: the clipping failed");
  std::vector<Polygon> out;
  for (const Points& p : loops) out.push_back(off_lattice(p));
  return out;
}

}  // namespace

std::vector<Polygon> united(const std::vector<Polygon>& region) { return combined(region, {}, ClipperLib::ctUnion); }

std::vector<Polygon> cut(const std::vector<Polygon>& region, const std::vector<Polygon>& away) {
  return combined(region, away, ClipperLib::ctDifference);
}

std::vector<Polygon> common(const std::vector<Polygon>& region, const std::vector<Polygon>& other) {
  return combined(region, other, ClipperLib::ctIntersection);
}

std::vector<Polygon> grown(const std::vector<Polygon>& region, double by, double chord_error) {
  ClipperLib::ClipperOffset offset(2, chord_error * kLattice);
  for (const Polygon& p : region) offset.AddPath(on_lattice(p), ClipperLib::jtRound, ClipperLib::etClosedPolygon);
  ClipperLib::Paths loops;
  offset.Execute(loops, by * kLattice);
  std::vector<Polygon> out;
  for (const Points& p : loops) out.push_back(off_lattice(p));
  return out;
}

Polygon moved(Polygon polygon, Vec2 by) {
  for (Vec2& p : polygon) p = p + by;
  return polygon;
}

Polygon hull(std::vector<Vec2> points) {
  std::sort(points.begin(), points.end(), [](Vec2 a, Vec2 b) { return a.x < b.x || (a.x == b.x && a.y < b.y); });
  points.erase(std::unique(points.begin(), points.end()), points.end());
  if (points.size() < 3) return points;
  Polygon chain;
  const auto add = [&](Vec2 p, std::size_t keep) {
    while (chain.size() >= keep + 2 && cross(chain.back() - chain[chain.size() - 2], p - chain.back()) <= 0)
      chain.pop_back();
    chain.push_back(p);
  };
  for (const Vec2& p : points) add(p, 0);
  const std::size_t lower = chain.size() - 1;
  for (std::size_t i = points.size() - 1; i-- > 0;) add(points[i], lower);
  chain.pop_back();
  return chain;
}

double area(const std::vector<Polygon>& region) {
  double twice = 0;
  for (const Polygon& loop : region) {
    for (std::size_t i = 0; i < loop.size(); ++i) twice += cross(loop[i], loop[(i + 1) % loop.size()]);
  }
  return twice / 2;
}

}  // namespace groovewright::plane
