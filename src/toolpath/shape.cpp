#include <cmath>
#include <numbers>

#include "groovewright/base/broken.h"
#include "groovewright/toolpath.h"

namespace groovewright::toolpath {
namespace {

using catalog::TurningTool;
using plane::Edge;
using plane::Path;
using plane::Vec2;

constexpr double kPi = std::numbers::pi;
constexpr double kFarUp = 120;  // mm: a holder counts as that long
constexpr double kFarBack = 40;

Path box(double x0, double y0, double x1, double y1) {
  return {plane::straight({x0, y0}, {x1, y0}), plane::straight({x1, y0}, {x1, y1}), plane::straight({x1, y1}, {x0, y1}),
          plane::straight({x0, y1}, {x0, y0})};
}

/// Every point through `f`, which mirrors the plane or swaps its axes: the path then runs the other way round.
template <typename F>
Path flipped(const Path& path, F f) {
  Path out;
  for (auto edge = path.rbegin(); edge != path.rend(); ++edge) {
    const Edge::Turn turn = edge->turn;  // mirrored once, travelled backwards: the same sense
    out.push_back({f(edge->b), f(edge->a), turn, f(edge->centre)});
  }
  return out;
}
template <typename F>
void flip(Shape& shape, F f) {
  for (Path& p : shape.cutting) p = flipped(p, f);
  for (Path& p : shape.holder) p = flipped(p, f);
  shape.steered = f(shape.steered);
}

Vec2 along(double angle) { return {std::cos(angle), std::sin(angle)}; }

/// A wedge with a round nose that points to the axis and feeds to the left.
Path wedge(double main, double included, double nose, double edge) {
  const double other = main - included;
  const Vec2 first = along(main + kPi / 2), last = along(other - kPi / 2);
  const Vec2 from = nose * first, to = nose * last;
  const Vec2 up = from + edge * along(main), out = to + edge * along(other);
  return {{from, to, Edge::Turn::ccw, {0, 0}},
          plane::straight(to, out),
          plane::straight(out, up),
          plane::straight(up, from)};
}

/// A square nose of `width` with rounded corners, its left corner's centre at (0, 0), that points to the axis.
Path blade(double width, double corner, double height) {
  const double right = width - 2 * corner;
  Path out;
  out.push_back({{-corner, 0}, {0, -corner}, Edge::Turn::ccw, {0, 0}});
  if (right > plane::kCoincident) out.push_back(plane::straight({0, -corner}, {right, -corner}));
  out.push_back({{right, -corner}, {right + corner, 0}, Edge::Turn::ccw, {right, 0}});
  out.push_back(plane::straight({right + corner, 0}, {right + corner, height}));
  out.push_back(plane::straight({right + corner, height}, {-corner, height}));
  out.push_back(plane::straight({-corner, height}, {-corner, 0}));
  return out;
}

Shape outside(const TurningTool& t) {
  const double r = t.nose_radius;
  Shape out;
  out.cutting.push_back(wedge(kPi - t.edge_angle.rad(), t.included.rad(), r, t.edge_length));
  const double left = t.hand == TurningTool::Hand::neutral ? -t.holder_width / 2 : t.holder_offset - r;
  out.holder.push_back(box(left, t.reach - r, left + t.holder_width, kFarUp));
  out.steered = t.hand == TurningTool::Hand::neutral ? Vec2{0, -r} : Vec2{-r, -r};
  return out;
}

Shape round(const TurningTool& t) {
  const double r = t.nose_radius;
  Shape out;
  out.cutting.push_back(plane::circle({0, 0}, r));
  out.cutting.push_back(box(-t.holder_width / 2, 0, t.holder_width / 2, t.reach - r));
  out.steered = {0, -r};
  return out;
}

Shape grooving(const TurningTool& t) {
  const double r = t.nose_radius;
  Shape out;
  out.cutting.push_back(blade(t.width, r, t.reach - r));
  out.holder.push_back(box(t.holder_offset - r, t.reach - r, t.holder_offset - r + t.holder_width, kFarUp));
  out.steered = {-r, -r};
  return out;
}

/// A bar along the axis; its nose points away from the axis and feeds to the left.
Shape boring(const TurningTool& t) {
  Shape out = outside(t);
  out.holder.clear();
  flip(out, [](Vec2 p) { return Vec2{p.x, -p.y}; });
  const double r = t.nose_radius, top = r - t.holder_offset;
  out.holder.push_back(box(t.edge_length / 2, top - t.holder_width, t.overhang, top));
  return out;
}

Shape drill(const TurningTool& t) {
  const double r = t.width / 2, tip = r / std::tan(t.point.rad() / 2);
  Shape out;
  const Vec2 point{0, 0}, shoulder{tip, r}, end{t.reach, r}, back{t.reach, 0};
  out.cutting.push_back({plane::straight(point, back), plane::straight(back, end), plane::straight(end, shoulder),
                         plane::straight(shoulder, point)});
  out.holder.push_back(box(t.reach, 0, t.reach + kFarBack, r + 5));
  return out;
}

bool points_along_axis(const TurningTool& t) {
  return t.use == TurningTool::Use::face_grooving || t.use == TurningTool::Use::face_profiling;
}

}  // namespace

Shape shape(const TurningTool& tool, bool steers_nose_centre) {
  using Use = TurningTool::Use;
  Shape out;
  switch (tool.use) {
    case Use::drilling:
      return drill(tool);
    case Use::boring:
      out = boring(tool);
      break;
    case Use::grooving:
    case Use::face_grooving:
      out = grooving(tool);
      break;
    default:
      out = tool.included.rad() == 0 ? round(tool) : outside(tool);
  }
  if (points_along_axis(tool)) flip(out, [](Vec2 p) { return Vec2{p.y, p.x}; });
  if (tool.hand == TurningTool::Hand::left) flip(out, [](Vec2 p) { return Vec2{-p.x, p.y}; });
  if (steers_nose_centre) out.steered = {0, 0};
  return out;
}

double feed_for(double rz, double nose_radius) { return std::sqrt(8 * nose_radius * rz); }

double spindle_speed(double m_per_min, double diameter, double max_rpm) {
  return std::min(max_rpm, 1000 * m_per_min / (kPi * diameter));
}

double cutting_power(double m_per_min, double feed, double depth, double specific_force) {
  return m_per_min * feed * depth * specific_force / 60;
}

double torque_at(const catalog::Machine& machine, double rpm) {
  const double by_power = machine.power / (rpm * 2 * kPi / 60);
  double by_curve = by_power;
  const auto& curve = machine.torques;
  if (!curve.empty()) {
    by_curve = rpm >= curve.back().rpm ? curve.back().torque * curve.back().rpm / rpm : curve.front().torque;
    for (std::size_t i = 1; i < curve.size(); ++i) {
      const auto &a = curve[i - 1], &b = curve[i];
      if (rpm >= a.rpm && rpm < b.rpm) by_curve = a.torque + (b.torque - a.torque) * (rpm - a.rpm) / (b.rpm - a.rpm);
    }
  }
  return std::min(by_power, by_curve);
}

}  // namespace groovewright::toolpath
