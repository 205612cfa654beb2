#include <algorithm>
#include <cmath>
#include <numbers>

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"
#include "groovewright/part.h"

namespace groovewright::part {

double cross_angle(Angle from_top) { return std::numbers::pi / 2 + from_top.rad(); }

double turned_once_deg(Angle a) {
  const double turns = a.deg() / 360;
  return 360 * (turns - std::floor(turns + 1e-12));
}

double sharp_height(const GrooveForm& g) { return g.pitch / (2 * tan_of(g.angle.half().rad())); }

double rounding_loss(double radius, Angle included) { return 2 * radius * (1 / sin_of(included.half().rad()) - 1); }

double over_apex(double pitch, Angle included, double ball_diameter) {
  const double h = included.half().rad();
  return ball_diameter * (1 + 1 / sin_of(h)) - pitch / tan_of(h);
}

double two_x(const catalog::Groove& g) {
  return over_apex(g.pitch.value, g.angle, g.ball_diameter.value) + rounding_loss(g.crest_radius_min.value, g.angle);
}

double crest_radius_max(const catalog::Groove& g) {
  return (g.two_n_max.value - over_apex(g.pitch.value, g.angle, g.ball_diameter.value)) / rounding_loss(1, g.angle);
}

bool Rim::crest_by_other_standard() const {
  constexpr double kSame = 1e-9;
  return groove.crest_radius_elsewhere && crest_radius.value > crest_radius_max(groove) + kSame &&
         crest_radius.value <= groove.crest_radius_elsewhere->value + kSame;
}
catalog::Sourced Rim::two_n_max() const {
  if (!crest_by_other_standard()) return groove.two_n_max;
  const catalog::Sourced& other = *groove.crest_radius_elsewhere;
  return {over_apex(groove.pitch.value, groove.angle, groove.ball_diameter.value) +
              rounding_loss(other.value, groove.angle),
          other.source};
}

GrooveForm Rim::form() const { return {groove.pitch.value, groove.angle, crest_radius.value, root_radius.value}; }
double Rim::over_balls() const { return effective_diameter.value + two_x(groove); }
double Rim::apex_diameter() const {
  return effective_diameter.value + rounding_loss(groove.crest_radius_min.value, groove.angle);
}
double Rim::outside_diameter() const { return apex_diameter() - rounding_loss(crest_radius.value, groove.angle); }
double Rim::root_diameter() const {
  return apex_diameter() - 2 * sharp_height(form()) + rounding_loss(root_radius.value, groove.angle);
}
double Rim::pitch_diameter() const { return effective_diameter.value + 2 * pitch_line_offset.value; }
double Rim::groove_depth() const { return (outside_diameter() - root_diameter()) / 2; }

namespace {
double flange_width(const std::optional<Flange>& f) {
  return f ? f->height.value * tan_of(f->lead_in.rad()) + f->thickness.value : 0;
}
}  // namespace

double Rim::behind_first_groove() const { return edge_distance.value + flange_width(rear); }
double Rim::width() const {
  return behind_first_groove() + (grooves - 1) * groove.pitch.value + edge_distance.value + flange_width(front);
}
double Rim::end_diameter(Side side) const {
  const auto& guide = flange(side);
  return guide ? guide->diameter.value : outside_diameter();
}

double Hub::bore_radius(double z) const {
  if (!bore.taper) return bore.diameter.value / 2;
  const Taper& t = *bore.taper;
  const double slope = tan_of(t.included.half().rad());  // radius lost per mm away from the large end
  const double gauge = t.gauge_face == Side::rear ? t.gauge_depth : front_face - t.gauge_depth;
  return bore.diameter.value / 2 + (t.large_end == Side::rear ? gauge - z : z - gauge) * slope;
}

double Hub::widest_bore_radius() const { return std::max(bore_radius(0), bore_radius(front_face)); }

double Hub::keyway_floor() const {
  require(keyway.has_value(), "a keyway's floor is asked for where there is none");
  return widest_bore_radius() + keyway->depth.value;
}

std::string Part::designation() const {
  std::string text;
  for (const Rim& rim : rims) {
    if (!text.empty()) text += ", ";
    text += "P " + std::to_string(rim.grooves) + " " + rim.groove.id + " " + trimmed(rim.effective_diameter.value, 1);
  }
  return text;
}

const catalog::Sourced& Part::limit(const std::string& id) const {
  const auto it = limits.find(id);
  if (it == limits.end()) throw Broken("no shop rule '" + id + "'");
  return it->second;
}

double Part::rim_rear(std::size_t i) const {
  double z = rims_rear;
  for (std::size_t k = 0; k < i; ++k) z += rims[k].width() + rims[k + 1].space;
  return z;
}
double Part::rims_front() const { return rim_rear(rims.size() - 1) + rims.back().width(); }
double Part::groove_z(std::size_t i, int k) const {
  return rim_rear(i) + rims[i].behind_first_groove() + k * rims[i].groove.pitch.value;
}
std::string Part::prefix(std::size_t rim) { return rim == 0 ? "" : "rim" + std::to_string(rim + 1) + "_"; }

Rows Part::named(Rows rows, std::size_t rim) const {
  if (rims.size() == 1) return rows;
  const std::string which = "Rim " + std::to_string(rim + 1) + ": ";
  for (Dimension& d : rows.dimensions) d.label = which + d.label;
  for (Check& c : rows.checks) c.label = which + c.label;
  return rows;
}

}  // namespace groovewright::part
