#include "convex.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"

namespace groovewright::removal {
namespace {

using plane::Vec2;

constexpr double kTurn = 2 * std::numbers::pi;
/// Rounding alone may bend a straight or tangent joint the wrong way by so much.
constexpr double kBentByRounding = 1e-4;

plane::Path mirrored(const plane::Path& path) {
  plane::Path out;
  for (auto e = path.rbegin(); e != path.rend(); ++e) {
    const auto turned = [](Vec2 p) { return Vec2{-p.x, p.y}; };
    plane::Edge m{turned(e->b), turned(e->a), e->turn, turned(e->centre)};  // back and mirrored: the same sense
    out.push_back(m);
  }
  return out;
}

double angle_of(Vec2 v) { return atan2_of(v.y, v.x); }

/// `angle` by whole turns nearest to `to`.
double near_to(double angle, double to) { return angle + kTurn * std::round((to - angle) / kTurn); }

}  // namespace

Convex::Convex(const plane::Path& path, bool turned, double sag) {
  require(plane::is_closed(path), "Convex: the path is open");
  for (const plane::Edge& e : turned ? mirrored(path) : path) {
    require(e.turn != plane::Edge::Turn::cw, "Convex: an arc bends inwards");
    const int steps = e.is_arc() ? plane::arc_steps(e.radius(), e.sweep(), sag) : 1;
    if (e.is_arc()) arcs_.push_back(e), radii_.push_back(e.radius());
    for (int k = 0; k < steps; ++k) {
      Corner c;
      c.at = e.at(static_cast<double>(k) / steps);
      c.arc_after = e.is_arc() ? static_cast<int>(arcs_.size()) - 1 : -1;
      corners_.push_back(c);
    }
  }
  require(corners_.size() >= 3, "Convex: nothing is enclosed");
  for (std::size_t i = 0; i < corners_.size(); ++i)
    corners_[i].arc_before = corners_[(i + corners_.size() - 1) % corners_.size()].arc_after;
  set_normals();
  set_arc_angles();
  low_ = high_ = corners_.front().at;
  for (const Corner& c : corners_) {
    low_ = {std::min(low_.x, c.at.x - sag), std::min(low_.y, c.at.y - sag)};
    high_ = {std::max(high_.x, c.at.x + sag), std::max(high_.y, c.at.y + sag)};
  }
}

void Convex::set_normals() {
  const std::size_t n = corners_.size();
  const auto normal = [&](std::size_t i) {
    const Vec2 along = corners_[(i + 1) % n].at - corners_[i % n].at;
    return angle_of({along.y, -along.x});
  };
  double angle = corners_[0].normal = normal(0);
  for (std::size_t i = 1; i <= n; ++i) {
    const double next = near_to(normal(i), angle);
    require(next >= angle - kBentByRounding, "Convex: the path is not convex and ccw");
    angle = std::max(angle, next);
    if (i < n) corners_[i].normal = angle;
  }
  require(std::abs(angle - corners_[0].normal - kTurn) < kBentByRounding, "Convex: the path does not turn once");
}

void Convex::set_arc_angles() {
  for (std::size_t i = 0; i < corners_.size(); ++i) {
    Corner& c = corners_[i];
    const double before = i > 0 ? corners_[i - 1].normal : corners_.back().normal - kTurn;
    const auto from = [&](int arc, double near) {
      return near_to(angle_of(c.at - arcs_[static_cast<std::size_t>(arc)].centre), near);
    };
    if (c.arc_before >= 0) c.before_from = from(c.arc_before, before);
    if (c.arc_after >= 0) c.after_from = from(c.arc_after, c.normal);
  }
}

Convex::Touch Convex::touch(Vec2 normal, double angle) const {
  const double first = corners_.back().normal - kTurn;
  const double turns = std::floor((angle - first) / kTurn);
  const double within = angle - kTurn * turns;
  const auto found = std::upper_bound(corners_.begin(), corners_.end(), within,
                                      [](double a, const Corner& c) { return a < c.normal; });
  const long n = static_cast<long>(corners_.size()), i = static_cast<long>(found - corners_.begin());
  const long place = 2 * (i + n * static_cast<long>(turns));
  const Corner& c = corners_[static_cast<std::size_t>(i % n)];
  const double whole = i == n ? kTurn : 0;  // rounding: the first corner, once more round
  const auto on_arc = [&](int arc) {
    const auto a = static_cast<std::size_t>(arc);
    return arcs_[a].centre + radii_[a] * normal;
  };
  if (c.arc_before >= 0 && within < c.before_from + whole) return {on_arc(c.arc_before), place - 1};
  if (c.arc_after >= 0 && within > c.after_from + whole) return {on_arc(c.arc_after), place + 1};
  return {c.at, place};
}

void Convex::border(const Touch& from, const Touch& to, Vec2 by, std::vector<Vec2>& out) const {
  const long n = static_cast<long>(corners_.size());
  require(from.place <= to.place, "Convex: a border runs backwards");
  out.push_back(from.at + by);
  for (long k = from.place / 2 - 1; 2 * k < to.place; ++k)
    if (2 * k > from.place) out.push_back(corners_[static_cast<std::size_t>(((k % n) + n) % n)].at + by);
  out.push_back(to.at + by);
}

std::vector<Vec2> Convex::corners(Vec2 by) const {
  std::vector<Vec2> out;
  for (const Corner& c : corners_) out.push_back(c.at + by);
  return out;
}

}  // namespace groovewright::removal
