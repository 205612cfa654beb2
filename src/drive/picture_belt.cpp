#include "picture_belt.h"

#include <algorithm>

namespace groovewright::drive {
namespace {

using plane::Edge;

void leave_out(Course& course, std::size_t i) {
  const auto at = static_cast<std::ptrdiff_t>(i);
  course.rounds.erase(course.rounds.begin() + at);
  course.pulley.erase(course.pulley.begin() + at);
  if (course.idler != kNone && course.idler > i)
    --course.idler;
  else if (course.idler == i)
    course.idler = kNone;
  if (course.driver > i) --course.driver;
}

}  // namespace

std::optional<LaidBelt> laid_belt(const Drive& drive, std::optional<double> position) {
  LaidBelt belt{course(drive), {}, {}};
  if (drive.tensioner && position)
    belt.course.rounds[belt.course.idler].centre = idler_centre(*drive.tensioner, *position);
  while (belt.course.size() >= 2) {
    if (!lay(belt.course.rounds, belt.route)) return std::nullopt;
    const auto least = std::min_element(belt.route.wraps.begin(), belt.route.wraps.end());
    if (*least > 0) return belt;
    const auto i = static_cast<std::size_t>(least - belt.route.wraps.begin());
    belt.missed.push_back(belt.course.pulley[i]);
    leave_out(belt.course, i);
  }
  return std::nullopt;
}

plane::Path beside_line(const LaidBelt& belt, double out) {
  const Course& c = belt.course;
  const auto outwards = [&](const Span& s) {
    return c.loop > 0 ? Vec2{s.along.y, -s.along.x} : Vec2{-s.along.y, s.along.x};
  };
  plane::Path path;
  for (std::size_t i = 0; i < c.size(); ++i) {
    const Span &in = belt.route.spans[c.before(i)], &leaving = belt.route.spans[i];
    const Vec2 a = in.to + out * outwards(in), b = leaving.from + out * outwards(leaving);
    const Round& r = c.rounds[i];
    const double radius = r.radius + (r.turn == c.loop ? out : -out);
    path.push_back(radius > plane::kCoincident && norm(b - a) > plane::kCoincident
                       ? Edge{a, b, r.turn > 0 ? Edge::Turn::ccw : Edge::Turn::cw, r.centre}
                       : plane::straight(a, b));
    path.push_back(plane::straight(b, leaving.to + out * outwards(leaving)));
  }
  return path;
}

}  // namespace groovewright::drive
