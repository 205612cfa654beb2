#include "groovewright/drive/route.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"

namespace groovewright::drive {
namespace {

using std::numbers::pi;

constexpr Vec2 left_of(Vec2 v) { return {-v.y, v.x}; }

}  // namespace

double line_radius(const Belt& belt, const Pulley& pulley) {
  return pulley.side == Side::ribs ? pulley.radius : pulley.radius + belt.back();
}

double cord_radius(const Belt& belt, const Pulley& pulley) {
  return pulley.side == Side::ribs ? pulley.radius + belt.line_to_cord.value : pulley.radius + belt.cord_to_back.value;
}

std::string span_name(const Drive& drive, const Course& course, std::size_t i) {
  return pulley_at(drive, course, i).name + " to " + pulley_at(drive, course, course.next(i)).name;
}

Vec2 idler_centre(const Tensioner& t, double position) {
  if (t.slides()) return t.pivot + plane::polar(position, t.direction);
  return t.pivot + t.arm_length * Vec2{cos_of(position), sin_of(position)};
}

Vec2 idler_motion(const Tensioner& t, double position) {
  if (t.slides()) return {cos_of(t.direction), sin_of(t.direction)};
  return t.arm_length * Vec2{-sin_of(position), cos_of(position)};
}

Course course(const Drive& drive) {
  Course c;
  c.loop = drive.turns == Sense::counter_clockwise ? 1 : -1;
  c.driver = kNone;
  const auto add = [&](const Pulley& p, Vec2 at, std::size_t index) {
    c.rounds.push_back({at, line_radius(drive.belt, p), p.side == Side::ribs ? c.loop : -c.loop});
    c.pulley.push_back(index);
  };
  for (std::size_t i = 0; i < drive.pulleys.size(); ++i) {
    if (drive.pulleys[i].drives) {
      require(c.driver == kNone, "course: one pulley drives");
      c.driver = c.size();
    }
    add(drive.pulleys[i], drive.pulleys[i].at, i);
    if (drive.tensioner && drive.tensioner->after == i) {
      c.idler = c.size();
      add(drive.tensioner->idler, idler_centre(*drive.tensioner, drive.tensioner->free), kNone);
    }
  }
  require(c.size() >= 2, "course: two rounds at least");
  require(c.driver != kNone, "course: a pulley drives");
  require(!drive.tensioner || c.idler != kNone, "course: the tensioner follows a pulley");
  return c;
}

const Pulley& pulley_at(const Drive& drive, const Course& course, std::size_t i) {
  const std::size_t index = course.pulley[i];
  return index == kNone ? drive.tensioner->idler : drive.pulleys[index];
}

bool tangent(const Round& from, const Round& to, Span& span) {
  const Vec2 way = to.centre - from.centre;
  const double d = length_of(way.x, way.y);
  // A round's centre lies turn × radius to the left of the belt; `rise` is what the two ends differ by.
  const double rise = to.turn * to.radius - from.turn * from.radius;
  if (!(d > std::abs(rise)) || d < plane::kCoincident) return false;
  const Vec2 ahead = (1 / d) * way;
  span.length = std::sqrt((d - rise) * (d + rise));
  span.along = (span.length / d) * ahead - (rise / d) * left_of(ahead);
  const Vec2 left = left_of(span.along);
  span.from = from.centre - (from.turn * from.radius) * left;
  span.to = to.centre - (to.turn * to.radius) * left;
  return true;
}

double wrap_between(const Round& round, const Span& in, const Span& out, bool two) {
  const double sine = round.turn * plane::cross(in.along, out.along), cosine = plane::dot(in.along, out.along);
  const double directions = atan2_of(sine, cosine);
  if (directions > 0) return directions;
  // Over 180° the spans' lines meet r tan(|wrap|/2) back from the round, else they would cross.
  const bool apart = round.radius * -sine > std::min(in.length, out.length) * (1 + cosine);
  return two || apart ? directions + 2 * pi : directions;
}

bool lay(std::span<const Round> rounds, Route& route) {
  const std::size_t n = rounds.size();
  require(n >= 2, "lay: two rounds at least");
  route.spans.resize(n);
  route.wraps.resize(n);
  route.no_tangent = kNone;
  for (std::size_t i = 0; i < n; ++i) {
    if (!tangent(rounds[i], rounds[i + 1 == n ? 0 : i + 1], route.spans[i])) {
      route.no_tangent = i;
      return false;
    }
  }
  route.length = 0;
  for (std::size_t i = 0; i < n; ++i) {
    route.wraps[i] = wrap_between(rounds[i], route.spans[i == 0 ? n - 1 : i - 1], route.spans[i], n == 2);
    route.length += route.spans[i].length + rounds[i].radius * route.wraps[i];
  }
  return true;
}

double signed_wrap(const Course& course, const Route& route, std::size_t i) {
  return course.rounds[i].turn == course.loop ? route.wraps[i] : -route.wraps[i];
}

double sum_of_signed_wraps(const Course& course, const Route& route) {
  double sum = 0;
  for (std::size_t i = 0; i < course.size(); ++i) sum += signed_wrap(course, route, i);
  return sum;
}

double pitch_length(const Belt& belt, const Course& course, const Route& route) {
  return route.length + belt.line_to_cord.value * sum_of_signed_wraps(course, route);
}

}  // namespace groovewright::drive
