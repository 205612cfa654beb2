#include <algorithm>
#include <cmath>
#include <numbers>

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"
#include "numbers.h"
#include "round_arc.h"
#include "writer.h"

namespace groovewright::nc {
namespace {

/// mm: how far the radii of an arc may differ before they are rounded, so that rounding may add its share.
constexpr double kIdealRadii = kArcRadii / 20;

Flat flat(Point p, Plane plane) { return plane == Plane::xy ? Flat{p.x, p.y} : Flat{p.z, p.x}; }

Point between(Point a, Point b, Flat middle, Plane plane) {
  return plane == Plane::xy ? Point{middle.u, middle.v, (a.z + b.z) / 2} : Point{middle.v, (a.y + b.y) / 2, middle.u};
}

}  // namespace

std::string Writer::axis(char letter, double value) const {
  const std::string text = number(letter == 'X' && doubles_x() ? 2 * value : value, dialect_.decimals);
  const int parameter = letter == 'X' ? correction_.x : letter == 'Z' ? correction_.z : 0;
  return parameter == 0 ? text : "[" + text + "+#" + std::to_string(parameter) + "]";
}

/// What the control will take the point for, without its corrections.
Point Writer::written(Point p) const {
  const double factor = doubles_x() ? 2 : 1;
  return {rounded(factor * p.x, dialect_.decimals) / factor, rounded(p.y, dialect_.decimals),
          rounded(p.z, dialect_.decimals)};
}

/// " X… Z…": what differs from the last block; all of them where nothing does, or the control's place is not known.
std::string Writer::changed_axes(Point to, bool all) {
  const std::array<std::string, 3> now = {axis('X', to.x), lathe() ? "" : axis('Y', to.y), axis('Z', to.z)};
  all = all || now == axes_;
  std::string words;
  for (std::size_t i = 0; i < now.size(); ++i) {
    if (now[i].empty() || (!all && now[i] == axes_[i])) continue;
    words += std::string(" ") + "XYZ"[i] + now[i];
  }
  axes_ = now;
  at_ = to;
  return words;
}

void Writer::rapid(Point to) {
  line("G0" + changed_axes(to));
  arc_may_follow_ = true;
}

/// Z alone: the other axes stay where they are, whatever corrections came or went.
void Writer::rapid_z(double z) {
  axes_[2] = axis('Z', z);
  at_.z = z;
  line("G0 Z" + axes_[2]);
}

void Writer::feed(Point to) {
  require(speed_.has_value(), "write: a turning spindle before metal");
  const double radius = std::max(std::abs(at_.x), std::abs(to.x));
  const std::string speed = speed_words(radius), feed = feed_words(radius);
  line("G1" + changed_axes(to) + feed + speed);
  arc_may_follow_ = true;
}

/// Without corrections; a mill draws its tool up first.
void Writer::rapid_to_safe() {
  const Correction kept = correction_;
  correction_ = {};
  const Point& safe = script_.safe;
  const bool up = axis('Z', safe.z) != axes_[2];
  const bool across = axis('X', safe.x) != axes_[0] || (!lathe() && axis('Y', safe.y) != axes_[1]);
  if (lathe()) {
    if (up || across) rapid(safe);
  } else {
    if (up) rapid_z(safe.z);
    if (across) rapid(safe);
  }
  correction_ = kept;
  arc_may_follow_ = kept.x == 0 && kept.z == 0;
}

void Writer::command(const Arc& c) {
  require(arc_may_follow_, "write: the first move under a correction is no arc");
  arc(c);
}

/// The ends are rounded, and with them the turn: a short arc may come out as none, or as nearly a full circle.
void Writer::arc(const Arc& arc) {
  const Plane plane = script_.plane;
  const bool ccw = arc.turn == Turn::ccw;
  const Point start = written(at_), end = written(arc.to);
  const Flat from = flat(start, plane), to = flat(end, plane), ideal = flat(arc.centre, plane);
  const Flat ideal_from = flat(at_, plane), ideal_to = flat(arc.to, plane);
  const double r0 = length_of(ideal_from.u - ideal.u, ideal_from.v - ideal.v);
  const double r1 = length_of(ideal_to.u - ideal.u, ideal_to.v - ideal.v);
  require(r0 > 0 && std::abs(r0 - r1) <= kIdealRadii, "write: an arc's radii are equal");

  const double meant = sweep(ideal_from, ideal_to, ideal, ccw);
  const Flat offset = centre_offset(from, to, ideal, dialect_.decimals);
  const double got = sweep(from, to, {from.u + offset.u, from.v + offset.v}, ccw);
  const bool vanished = offset.u == 0 && offset.v == 0;
  if (vanished || std::abs(got - meant) > std::numbers::pi) {
    if (vanished || meant < std::numbers::pi) return feed(arc.to);
    return half_arcs(arc, meant);
  }
  const double radius = std::max(std::abs(at_.x), std::abs(arc.to.x));
  const std::string speed = speed_words(radius), feed = feed_words(radius);
  // In G7 X is a diameter, I a radius all the same.
  const auto offset_words = [&](char first, double a, char second, double b) {
    return std::string(" ") + first + number(a, dialect_.decimals) + " " + second + number(b, dialect_.decimals);
  };
  const std::string offsets =
      plane == Plane::xy ? offset_words('I', offset.u, 'J', offset.v) : offset_words('I', offset.v, 'K', offset.u);
  const bool helical = plane == Plane::xy && axis('Z', arc.to.z) != axes_[2];
  std::string axes = changed_axes(arc.to, true);
  if (plane == Plane::xy && !helical) axes.erase(axes.find(" Z"));
  line((ccw ? "G3" : "G2") + axes + offsets + feed + speed);
}

void Writer::half_arcs(const Arc& whole, double swept) {
  const Plane plane = script_.plane;
  const Flat from = flat(at_, plane), centre = flat(whole.centre, plane);
  const double angle = atan2_of(from.v - centre.v, from.u - centre.u) + (whole.turn == Turn::ccw ? swept : -swept) / 2;
  const double radius = length_of(from.u - centre.u, from.v - centre.v);
  const Flat middle{centre.u + radius * cos_of(angle), centre.v + radius * sin_of(angle)};
  arc({between(at_, whole.to, middle, plane), whole.centre, whole.turn});
  arc(whole);
}

std::string write(const Script& script, const Dialect& dialect) { return Writer(script, dialect).text(); }

}  // namespace groovewright::nc
