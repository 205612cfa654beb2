#include <algorithm>
#include <cmath>
#include <numbers>

#include "form.h"
#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"
#include "groovewright/plane/pieces.h"

namespace groovewright::toolpath {
namespace {

using catalog::TurningTool;
using plane::Edge;
using plane::Path;
using plane::Vec2;

constexpr double kPi = std::numbers::pi;
Path box(double x0, double y0, double x1, double y1) {
  return plane::run({{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}, true);
}

/// Every point through `f`, which mirrors the plane or swaps its axes: the path then runs the other way round.
template <typename F>
Path flipped(const Path& path, F f) {
  Path out;
  for (auto edge = path.rbegin(); edge != path.rend(); ++edge)
    out.push_back({f(edge->b), f(edge->a), edge->turn, f(edge->centre)});  // mirrored, travelled backwards: same sense
  return out;
}
template <typename F>
void flip(Shape& shape, F f) {
  for (Path& p : shape.cutting) p = flipped(p, f);
  for (Path& p : shape.holder) p = flipped(p, f);
  shape.steered = f(shape.steered);
}

Vec2 along(double angle) { return {cos_of(angle), sin_of(angle)}; }
Vec2 left_of(Vec2 v) { return {-v.y, v.x}; }

/// The two edges of an insert with one nose, which points to the axis and feeds to the left.
struct Wedge {
  explicit Wedge(const TurningTool& t)
      : nose(t.nose_radius),
        main(along(kPi - t.edge_angle.rad())),
        other(along(kPi - t.edge_angle.rad() - t.included.rad())),
        corner((-t.nose_radius / sin_of(t.included.rad() / 2)) *
               along(kPi - t.edge_angle.rad() - t.included.rad() / 2)) {}

  [[nodiscard]] Path insert(double edge) const {
    const Vec2 from = nose * left_of(main), to = -nose * left_of(other);
    const Vec2 up = corner + edge * main, out = corner + edge * other;
    return {{from, to, Edge::Turn::ccw, {0, 0}},
            plane::straight(to, out),
            plane::straight(out, up),
            plane::straight(up, from)};
  }
  /// Between the two edges, each moved inwards by `relief`, and within the box; nothing where that is empty.
  [[nodiscard]] Path within(double relief, Vec2 low, Vec2 high) const {
    std::vector<Vec2> region{low, {high.x, low.y}, high, {low.x, high.y}};
    region = beside(region, corner - relief * left_of(main), -1.0 * left_of(main));
    region = beside(region, corner + relief * left_of(other), left_of(other));
    return region.size() < 3 ? Path{} : plane::run(region, true);
  }

  double nose;
  Vec2 main, other, corner;

 private:
  /// The convex region on the side of the line through `p` to which `inwards` points.
  static std::vector<Vec2> beside(const std::vector<Vec2>& region, Vec2 p, Vec2 inwards) {
    std::vector<Vec2> out;
    for (std::size_t i = 0; i < region.size(); ++i) {
      const Vec2 a = region[i], b = region[(i + 1) % region.size()];
      const double at_a = plane::dot(a - p, inwards), at_b = plane::dot(b - p, inwards);
      if (at_a >= 0) out.push_back(a);
      if ((at_a < 0) != (at_b < 0)) out.push_back(a + (at_a / (at_a - at_b)) * (b - a));
    }
    return out;
  }
};

constexpr double kFar = 1e3;

Shape outside(const TurningTool& t) {
  const Wedge wedge(t);
  Shape out;
  out.cutting.push_back(wedge.insert(t.edge_length));
  const double near = t.holder_offset;
  if (Path body = wedge.within(t.holder_relief, {near, -kFar}, {near + t.holder_width, t.overhang}); !body.empty())
    out.holder.push_back(std::move(body));
  out.steered = t.hand == TurningTool::Hand::neutral ? Vec2{0, -t.nose_radius} : Vec2{-t.nose_radius, -t.nose_radius};
  return out;
}

/// A bar along the axis; its nose points away from the axis and feeds to the left.
Shape boring(const TurningTool& t) {
  const Wedge wedge(t);
  Shape out;
  out.cutting.push_back(wedge.insert(t.edge_length));
  const double near = -t.nose_radius + t.holder_offset;
  if (Path bar = wedge.within(t.holder_relief, {-kFar, near}, {t.overhang, near + t.holder_width}); !bar.empty())
    out.holder.push_back(std::move(bar));
  out.steered = {-t.nose_radius, -t.nose_radius};
  flip(out, [](Vec2 p) { return Vec2{p.x, -p.y}; });
  return out;
}

/// The holder over an insert whose near side is at x = near and whose top at y = top.
void add_blade(Shape& out, const TurningTool& t, double near, double width, double top) {
  const double reach = t.reach - t.nose_radius, end = t.overhang - t.nose_radius, body = near + t.holder_offset;
  const double relief = t.holder_relief;
  if (reach > top + plane::kCoincident) out.holder.push_back(box(near + relief, top, near + width - relief, reach));
  if (end > reach + plane::kCoincident) out.holder.push_back(box(body, reach, body + t.holder_width, end));
}

/// A square nose with rounded corners, or a round one, that points to the axis; about its left corner's centre.
Shape blade(const TurningTool& t) {
  const double r = t.nose_radius, right = t.width - 2 * r, top = t.edge_length - r;
  Path front{{{-r, 0}, {0, -r}, Edge::Turn::ccw, {0, 0}}};
  if (right > plane::kCoincident) front.push_back(plane::straight({0, -r}, {right, -r}));
  front.push_back({{right, -r}, {right + r, 0}, Edge::Turn::ccw, {right, 0}});
  if (top > plane::kCoincident) {
    front.push_back(plane::straight({right + r, 0}, {right + r, top}));
    front.push_back(plane::straight({right + r, top}, {-r, top}));
    front.push_back(plane::straight({-r, top}, {-r, 0}));
  } else {
    front.push_back(plane::straight({right + r, 0}, {-r, 0}));
  }
  Shape out;
  out.cutting.push_back(std::move(front));
  add_blade(out, t, -r, t.width, std::max(top, 0.0));
  out.steered = right > plane::kCoincident ? Vec2{-r, -r} : Vec2{0, -r};
  return out;
}

/// Teeth that point to the axis; about the centre of the near one's tip.
Shape form(const TurningTool& t) {
  Shape out;
  out.cutting = form_pieces(t);
  add_blade(out, t, -t.pitch / 2, t.teeth * t.pitch, t.edge_length - t.nose_radius);
  out.steered = {0, -t.nose_radius};
  return out;
}

/// On the axis; the steered point is its point.
Shape drill(const TurningTool& t) {
  const double r = t.width / 2, tip = t.point_length();
  Shape out;
  out.cutting.push_back(plane::run({{0, 0}, {t.edge_length, 0}, {t.edge_length, r}, {tip, r}}, true));
  out.holder.push_back(box(t.edge_length, 0, t.overhang, r));
  if (t.holder_width > 0) out.holder.push_back(box(t.overhang, 0, t.overhang + 40, t.holder_width / 2));
  return out;
}

}  // namespace

Shape shape(const TurningTool& tool, bool steers_nose_centre) {
  using Use = TurningTool::Use;
  Shape out;
  if (tool.use == Use::drilling || tool.use == Use::centre) return drill(tool);
  if (tool.use == Use::boring) {
    out = boring(tool);
  } else if (tool.use == Use::full_form) {
    out = form(tool);
  } else {
    out = tool.included.rad() > 0 ? outside(tool) : blade(tool);
    if (tool.axial) flip(out, [](Vec2 p) { return Vec2{p.y, p.x}; });
  }
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

}  // namespace groovewright::toolpath
