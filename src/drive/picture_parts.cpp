#include "picture_parts.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace groovewright::drive {
namespace {

using plane::Edge;
using plane::Ink;
using plane::Path;
using std::numbers::pi;

/// On paper: hatching, the ring at a pivot, the least radius and span that take an arrow.
constexpr double kHatchStep = 2, kPivotRing = 1.6, kLeastForArrow = 5, kLeastForTravel = 14;

/// How far a tangent of the tips' circle runs within the outside of the pulley.
double way_within(const Drive& drive, const Course& course, std::size_t i) {
  const Pulley& p = pulley_at(drive, course, i);
  const double tips = course.rounds[i].radius - drive.belt.depth();
  if (p.side != Side::ribs || tips >= p.outside) return 0;
  return std::sqrt(p.outside * p.outside - tips * tips);
}

}  // namespace

Vec2 peg_at(const Tensioner& t) { return t.pivot + plane::polar(t.peg->radius, t.peg->angle); }

Edge swing(const Tensioner& t) {
  const double from = std::min(t.stop_a, t.stop_b), to = std::max(t.stop_a, t.stop_b);
  return {idler_centre(t, from), idler_centre(t, to), Edge::Turn::ccw, t.pivot};
}

std::vector<double> other_positions(const Tensioner& t, double now, const std::vector<ClearanceMark>& marks,
                                    double apart) {
  std::vector<double> all{t.free, t.far_stop()}, others;
  for (const ClearanceMark& m : marks) {
    if (m.position) all.push_back(*m.position);
  }
  const auto near = [&](double a, double b) { return plane::norm(idler_centre(t, a) - idler_centre(t, b)) < apart; };
  for (const double p : all) {
    if (near(p, now) || std::any_of(others.begin(), others.end(), [&](double q) { return near(p, q); })) continue;
    others.push_back(p);
  }
  return others;
}

double free_radius(const Drive& drive, const Course& course, std::size_t i) {
  const Pulley& p = pulley_at(drive, course, i);
  return p.side == Side::ribs ? std::min(course.rounds[i].radius - drive.belt.depth(), p.outside) : p.outside;
}

void Parts::draw(Ink ink, const Path& path) {
  view_.lines.push_back({ink, plane::mapped(path, paper_.scale, false, paper_.origin)});
}

/// Lines through a middle, of a length on paper.
void Parts::cross(Vec2 centre, double half) {
  const Vec2 c = at(centre);
  plane::line(view_, Ink::centre, c - Vec2{half, 0}, c + Vec2{half, 0});
  plane::line(view_, Ink::centre, c - Vec2{0, half}, c + Vec2{0, half});
}

void Parts::pulley(const Course& course, std::size_t i) {
  const Pulley& p = pulley_at(drive_, course, i);
  const Round& r = course.rounds[i];
  ring(Ink::visible, r.centre, p.outside);
  if (p.side == Side::ribs) ring(Ink::centre, r.centre, r.radius);
  if (p.flange_height > 0) ring(Ink::hidden, r.centre, p.body_radius());
  const double on_paper = paper_.scale * p.outside;
  cross(r.centre, std::min(4.0, 0.4 * on_paper));
  if (on_paper >= kLeastForArrow) sense(at(r.centre), paper_.scale * free_radius(drive_, course, i) - 2, r.turn);
}
/// An arc with an arrow, over the middle.
void Parts::sense(Vec2 centre, double radius, int turn) {
  if (radius < 2.5) return;
  const double half = std::min(50 * pi / 180, 9 / radius);
  const Vec2 from = centre + plane::polar(radius, pi / 2 - turn * half),
             to = centre + plane::polar(radius, pi / 2 + turn * half);
  view_.lines.push_back({Ink::dimension, {Edge{from, to, turn > 0 ? Edge::Turn::ccw : Edge::Turn::cw, centre}}});
  // The head's chord, not its tangent, lies on the arc.
  const double lag = plane::kArrow / radius / 2;
  const Vec2 way = plane::polar(1, pi / 2 + turn * (half - lag) + turn * pi / 2);
  plane::arrow(view_, to, way);
}

void Parts::arm(const Tensioner& t, double position, Ink ink) {
  const Vec2 tip = idler_centre(t, position);
  const double half = t.arm_half_width;
  if (t.slides() || plane::norm(tip - t.pivot) < plane::kCoincident) return;
  if (half <= 0) return draw(ink, {plane::straight(t.pivot, tip)});
  const Vec2 along = plane::unit(tip - t.pivot), side = half * Vec2{-along.y, along.x};
  draw(ink,
       {plane::straight(t.pivot - side, tip - side), Edge{tip - side, tip + side, Edge::Turn::ccw, tip},
        plane::straight(tip + side, t.pivot + side), Edge{t.pivot + side, t.pivot - side, Edge::Turn::ccw, t.pivot}});
}

void Parts::tensioner(const Tensioner& t, double now, const std::vector<double>& others) {
  for (const double p : others) {
    arm(t, p, Ink::phantom);
    ring(Ink::phantom, idler_centre(t, p), t.idler.outside);
    cross(idler_centre(t, p), 2);
  }
  arm(t, now, Ink::visible);
  if (t.slides())
    draw(Ink::centre, {plane::straight(idler_centre(t, t.stop_a), idler_centre(t, t.stop_b))});
  else if (std::abs(t.stop_a - t.stop_b) > 1e-9)
    draw(Ink::centre, {swing(t)});
  for (const double stop : {t.stop_a, t.stop_b}) {
    const Vec2 c = at(idler_centre(t, stop));
    const Vec2 way = t.slides() ? plane::polar(3, t.direction + pi / 2) : plane::polar(3, stop);
    plane::line(view_, Ink::dimension, c - way, c + way);
  }
  if (!t.slides()) {
    view_.lines.push_back({Ink::visible, plane::circle(at(t.pivot), kPivotRing)});
    cross(t.pivot, 2.5 * kPivotRing);
  }
  if (t.peg) {
    ring(Ink::visible, peg_at(t), t.peg->diameter / 2);
    cross(peg_at(t), paper_.scale * t.peg->diameter / 2 + 1);
  }
}
void Parts::obstacle(const Obstacle& o) {
  const Path outline = o.radius > 0 ? plane::circle(o.centre, o.radius) : plane::run(o.polygon, true);
  draw(Ink::visible, outline);
  plane::hatch(view_, {plane::mapped(outline, paper_.scale, false, paper_.origin)}, kHatchStep);
}

void Parts::belt(const LaidBelt& belt) {
  draw(Ink::visible, beside_line(belt, drive_.belt.back()));
  tips(belt);
  // Arrows of travel lie within the belt.
  const double middle = (drive_.belt.back() - drive_.belt.depth()) / 2;
  const Path way = beside_line(belt, middle);
  for (std::size_t k = 1; k < way.size(); k += 2) {
    const double length = paper_.scale * way[k].length();
    if (length < kLeastForTravel) continue;
    const Vec2 along = way[k].tangent_at(0), tip = at(way[k].at(0.5)) + 5 * along;
    plane::line(view_, Ink::dimension, tip - 10 * along, tip);
    plane::arrow(view_, tip, along);
  }
}

/// The ribs' tips: dashed where they lie within the grooves' outside circle.
void Parts::tips(const LaidBelt& belt) {
  const Path line = beside_line(belt, -drive_.belt.depth());
  Path run;
  bool hidden = false;
  const auto add = [&](bool now_hidden, const Edge& e) {
    if (e.length() < plane::kCoincident) return;
    if (now_hidden != hidden && !run.empty()) draw(hidden ? Ink::hidden : Ink::visible, std::exchange(run, {}));
    hidden = now_hidden;
    run.push_back(e);
  };
  const Course& c = belt.course;
  for (std::size_t i = 0; i < c.size(); ++i) {
    add(pulley_at(drive_, c, i).side == Side::ribs, line[2 * i]);
    const Edge& e = line[2 * i + 1];
    const double length = e.length(), from = std::min(length, way_within(drive_, c, i)),
                 to = std::max(from, length - way_within(drive_, c, c.next(i)));
    if (length < plane::kCoincident) continue;
    add(true, plane::straight(e.a, e.at(from / length)));
    add(false, plane::straight(e.at(from / length), e.at(to / length)));
    add(true, plane::straight(e.at(to / length), e.b));
  }
  if (!run.empty()) draw(hidden ? Ink::hidden : Ink::visible, run);
}

void Parts::mark(const ClearanceMark& m) {
  for (const Path& p : m.with) draw(Ink::phantom, p);
  const Vec2 a = at(m.a), b = at(m.b);
  const double length = plane::norm(b - a);
  if (length < plane::kCoincident) return;
  const Vec2 way = plane::unit(b - a);
  const bool inside = length > 2 * plane::kArrow + 1;
  constexpr double kTail = 5;
  plane::line(view_, Ink::dimension, inside ? a : a - kTail * way, inside ? b : b + kTail * way);
  plane::arrow(view_, a, inside ? -1 * way : way);
  plane::arrow(view_, b, inside ? way : -1 * way);
}

}  // namespace groovewright::drive
