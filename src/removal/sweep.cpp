#include "sweep.h"

#include <cmath>
#include <numbers>
#include <utility>

#include "groovewright/base/trig.h"

namespace groovewright::removal {
namespace {

using plane::Vec2;

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kQuarter = kTurn / 4;
/// Shorter steps don't move anything on the lattice.
constexpr double kNoStep = 1e-9;
/// An arc that turns less than this, rad, ends where it begins: it is a whole turn.
constexpr double kNoAngle = 1e-9;

/// Signed angle that an arc turns through; a whole turn where it ends where it begins.
double turned_by(Vec2 from, Vec2 to, bool ccw) {
  const double angle = atan2_of(plane::cross(from, to), plane::dot(from, to));
  if (ccw) return angle > kNoAngle ? angle : angle + kTurn;
  return angle < -kNoAngle ? angle : angle - kTurn;
}

}  // namespace

Vec2 half_plane(const nc::Point& p) { return {p.z, p.x}; }

bool is_within_reason(const nc::Move& move, bool from_known) {
  const auto near = [](double v) { return std::abs(v) <= kFarthest / 2; };  // false for what is no number
  const auto is_near = [&](const nc::Point& p) { return near(p.x) && near(p.y) && near(p.z); };
  const bool is_arc = move.kind == nc::Move::Kind::cw || move.kind == nc::Move::Kind::ccw;
  return (!from_known || is_near(move.from)) && is_near(move.to) && (!is_arc || is_near(move.centre));
}

std::vector<Vec2> way_of(const nc::Move& move, double sag) {
  const Vec2 to = half_plane(move.to);
  const bool ccw = move.kind == nc::Move::Kind::ccw;
  if (!ccw && move.kind != nc::Move::Kind::cw) return {to};
  const Vec2 centre = half_plane(move.centre), from = half_plane(move.from) - centre;
  const double r0 = plane::norm(from), r1 = plane::norm(to - centre);
  if (r0 < plane::kCoincident || r1 < plane::kCoincident) return {to};
  const double angle = turned_by(from, to - centre, ccw), first = atan2_of(from.y, from.x);
  const int steps = plane::arc_steps(std::max(r0, r1), angle, sag);
  std::vector<Vec2> way;
  for (int k = 1; k < steps; ++k) {
    const double t = static_cast<double>(k) / steps;
    way.push_back(centre + plane::polar(r0 + t * (r1 - r0), first + t * angle));
  }
  way.push_back(to);
  return way;
}

Loop covered(const Convex& shape, Vec2 from, Vec2 to) {
  const Vec2 way = to - from;
  const double length = plane::norm(way);
  if (length < kNoStep) return on_lattice(shape.corners(to));
  const Vec2 along = (1 / length) * way;
  const double angle = atan2_of(along.y, along.x);
  const Convex::Touch right = shape.touch({along.y, -along.x}, angle - kQuarter);
  const Convex::Touch left = shape.touch({-along.y, along.x}, angle + kQuarter);
  const Convex::Touch right_again = shape.touch({along.y, -along.x}, angle - kQuarter + kTurn);
  std::vector<Vec2> loop;
  shape.border(right, left, to, loop);
  shape.border(left, right_again, from, loop);
  return on_lattice(loop);
}

void Sweeper::tell(const std::vector<Vec2>& points) {
  Loop loop = on_lattice(points);
  if (loop.size() >= 3) cut_(std::move(loop));
}

Sweeper::Course Sweeper::course(Vec2 along) const {
  Course next;
  next.along = along;
  next.angle = moving_ ? course_.angle + atan2_of(plane::cross(course_.along, along), plane::dot(course_.along, along))
                       : atan2_of(along.y, along.x);
  next.right = shape_->touch({along.y, -along.x}, next.angle - kQuarter);
  next.left = shape_->touch({-along.y, along.x}, next.angle + kQuarter);
  return next;
}

void Sweeper::jump(Vec2 to) {
  pause();
  at_ = to;
}

void Sweeper::pause() {
  if (!moving_) return;
  moving_ = false;
  std::vector<Vec2> front;
  shape_->border(course_.right, course_.left, at_, front);
  tell(front);
}

/// The shape's border between the touching points before and after the bend, on the outer side, and the touching
/// points of the other side: what lies between those belongs to the strips.
void Sweeper::bend(const Course& next) {
  if (next.angle == course_.angle) return;
  std::vector<Vec2> loop;
  if (next.angle > course_.angle) {
    shape_->border(course_.right, next.right, at_, loop);
    loop.push_back(course_.left.at + at_);
    loop.push_back(next.left.at + at_);
  } else {
    shape_->border(next.left, course_.left, at_, loop);
    loop.push_back(next.right.at + at_);
    loop.push_back(course_.right.at + at_);
  }
  tell(loop);
}

void Sweeper::go(Vec2 to) {
  const Vec2 way = to - at_;
  const double length = plane::norm(way);
  if (length < kNoStep) return;
  const Course next = course((1 / length) * way);
  if (moving_) {
    bend(next);
  } else {
    std::vector<Vec2> back;
    const Convex::Touch round = shape_->touch({next.along.y, -next.along.x}, next.angle - kQuarter + kTurn);
    shape_->border(next.left, round, at_, back);
    tell(back);
  }
  tell({next.right.at + at_, next.right.at + to, next.left.at + to, next.left.at + at_});
  course_ = next;
  at_ = to;
  moving_ = true;
}

}  // namespace groovewright::removal
