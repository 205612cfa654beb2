#include "clearance.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "groovewright/base/trig.h"

namespace groovewright::print {
namespace {

using plane::Path;
using plane::Vec2;
using std::numbers::pi;

}  // namespace

double outside(const section::Section& section) { return plane::outermost(section.body.section); }
double inside(const section::Section& section) {
  double r = outside(section);
  for (const plane::Edge& e : section.body.section) r = std::min({r, e.a.y, e.b.y});
  return r;
}

Clearance::Clearance(const section::Section& section) : section_(section), outer_(1.1 * outside(section)) {}

double Clearance::of_ray(double angle) const {
  const plane::TurnedBody& body = section_.body;
  const Vec2 ray = plane::polar(1, angle);
  double least = outer_;
  for (const plane::RoundHole& h : body.holes) {
    const double along = std::max(0.0, plane::dot(h.at, ray));
    least = std::min(least, plane::norm(h.at - along * ray) - widest(h));
  }
  const Path line{{{0, 0}, outer_ * ray, plane::Edge::Turn::straight, {}}};
  for (const plane::Pocket& p : body.pockets) least = std::min(least, plane::distance(line, p.levels.front().loop));
  for (const plane::Slot& s : body.slots) {
    const double turn = std::abs(std::remainder(angle - s.angle, 2 * pi));
    const double away = turn < pi / 2 ? s.floor * sin_of(turn) : s.floor;
    least = std::min(least, away - s.width / 2);
  }
  return least;
}

double Clearance::of_point(Vec2 p) const {
  const plane::TurnedBody& body = section_.body;
  double least = outer_;
  for (const plane::RoundHole& h : body.holes) least = std::min(least, plane::norm(p - h.at) - widest(h));
  for (const plane::Pocket& pocket : body.pockets) {
    const Path& loop = pocket.levels.front().loop;
    const double d = plane::distance(p, loop);
    least = std::min(least, plane::contains(loop, p) ? -d : d);
  }
  for (const plane::Slot& s : body.slots) {
    const Vec2 ray = plane::polar(1, s.angle);
    const double along = plane::dot(p, ray), across = std::abs(plane::cross(ray, p)) - s.width / 2;
    // A slot lies on its own side of the axis.
    if (along > 0) least = std::min(least, std::max(across, s.inward ? along - s.floor : s.floor - along));
  }
  return least;
}

}  // namespace groovewright::print
