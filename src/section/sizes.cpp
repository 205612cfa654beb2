#include <algorithm>
#include <cmath>

#include "build.h"
#include "groovewright/base/text.h"

namespace groovewright::section {
namespace {

using part::HolePattern;
using part::Part;
using part::Rim;
using part::Side;

constexpr const char* kOutline = "computed from the outline";

Dimension length(std::string id, std::string label, double value, std::string source, std::string symbol = "") {
  return {std::move(id), std::move(label), std::move(symbol), value, "mm", {}, {}, std::move(source)};
}

Dimension fitted(std::string id, std::string label, double value, const std::optional<catalog::Fit>& fit,
                 const std::string& source) {
  Dimension d = length(std::move(id), std::move(label), value, source);
  if (!fit) return d;
  d.fit = true;
  d.symbol = fit->id;
  d.lower = value + fit->lower;
  d.upper = value + fit->upper;
  d.source += "; limits " + fit->source;
  return d;
}

void add_flange(const std::optional<part::Flange>& f, const std::string& prefix, const std::string& side, Rows& rows) {
  if (!f) return;
  rows.dimensions.push_back(length(prefix + side + "_flange_diameter", "Diameter of the " + side + " flange",
                                   f->diameter.value, f->diameter.source));
  rows.dimensions.push_back(length(prefix + side + "_flange_thickness", "Thickness of the " + side + " flange",
                                   f->thickness.value, f->thickness.source));
  rows.dimensions.push_back({prefix + side + "_flange_lead_in",
                             "Lead-in of the " + side + " flange",
                             "",
                             f->lead_in.deg(),
                             "deg",
                             {},
                             {},
                             f->lead_in_source});
  if (f->root_relief.value > 0) {
    rows.dimensions.push_back(length(prefix + side + "_flange_relief",
                                     "Radius of the relief at the " + side + " flange", f->root_relief.value,
                                     f->root_relief.source));
  }
}

void add_rims(const Part& part, Rows& rows) {
  for (std::size_t i = 0; i < part.rims.size(); ++i) {
    const Rim& rim = part.rims[i];
    const std::string id = Part::prefix(i);
    Rows mine;
    mine.dimensions.push_back(length(id + "face_width", "Width of the rim, flanges included", rim.width(), kOutline));
    mine.dimensions.push_back(
        length(id + "first_groove_z", "Seat to the middle of groove 1 (rearmost)", part.groove_z(i, 0), kOutline, "Z"));
    add_flange(rim.front, id, "front", mine);
    add_flange(rim.rear, id, "rear", mine);
    rows.append(part.named(std::move(mine), i));
  }
}

void add_web(const Part& part, Rows& rows) {
  if (!part.web) return;
  const part::Web& w = *part.web;
  rows.dimensions.push_back(length("web_thickness", "Thickness of the web", w.thickness.value, w.thickness.source));
  rows.dimensions.push_back(
      length("web_offset", "Web's middle from the grooves' middle, + to the front", w.offset.value, w.offset.source));
  rows.dimensions.push_back(
      length("rim_thickness", "Metal of the rim under the groove root", w.rim_thickness.value, w.rim_thickness.source));
  rows.dimensions.push_back(
      length("web_fillet", "Fillet between web, hub and rim", w.fillet.value, w.fillet.source, "R"));
  if (w.windows) {
    rows.dimensions.push_back(length("window_diameter", std::to_string(w.windows->count) + " x window, diameter",
                                     w.windows->diameter.value, w.windows->diameter.source));
    rows.dimensions.push_back(
        length("window_circle", "Circle of the windows", w.windows->circle.value, w.windows->circle.source));
  }
  if (w.spokes) {
    rows.dimensions.push_back(length("spoke_width", std::to_string(w.spokes->count) + " x spoke, width",
                                     w.spokes->width.value, w.spokes->width.source));
    rows.dimensions.push_back(length("spoke_inner_diameter", "Windows between spokes, inner diameter",
                                     w.spokes->inner_diameter.value, w.spokes->inner_diameter.source));
    rows.dimensions.push_back(length("spoke_outer_diameter", "Windows between spokes, outer diameter",
                                     w.spokes->outer_diameter.value, w.spokes->outer_diameter.source));
    rows.dimensions.push_back(
        length("spoke_fillet", "Corners of the windows", w.spokes->fillet.value, w.spokes->fillet.source, "R"));
  }
}

void add_bore(const Part& part, Rows& rows) {
  const part::Bore& bore = part.hub.bore;
  rows.dimensions.push_back(fitted("bore_diameter", bore.taper ? "Bore at the gauge plane" : "Bore",
                                   bore.diameter.value, bore.fit, bore.diameter.source));
  if (bore.taper) {
    const part::Taper& t = *bore.taper;
    rows.dimensions.push_back(
        {"bore_taper", "Taper of the bore, included angle", "", t.included.deg(), "deg", {}, {}, "spec"});
    rows.dimensions.push_back(
        length("bore_gauge_depth",
               std::string("Gauge plane below the ") + (t.gauge_face == Side::rear ? "rear" : "front") + " face",
               t.gauge_depth, "spec"));
    Dimension stand = length("bore_stand_off", "Stand-off on the gauge", t.stand_off, "spec");
    if (t.stand_off_tolerance > 0)
      stand.lower = t.stand_off - t.stand_off_tolerance, stand.upper = t.stand_off + t.stand_off_tolerance;
    rows.dimensions.push_back(stand);
    rows.dimensions.push_back(length("bore_draw_up", "Draw-up by the nut", t.draw_up, "spec"));
  }
  for (std::size_t i = 0; i < bore.steps.size(); ++i) {
    const part::BoreStep& s = bore.steps[i];
    const std::string id = "bore_step" + std::to_string(i + 1);
    rows.dimensions.push_back(fitted(id + "_diameter",
                                     std::string("Step of the bore, ") + (s.side == Side::rear ? "rear" : "front"),
                                     s.diameter, s.fit, "spec"));
    rows.dimensions.push_back(length(id + "_depth", "Depth of that step from the hub's face", s.depth, "spec"));
  }
  for (const part::Register& r : part.hub.registers) {
    const std::string side = r.side == Side::rear ? "rear" : "front", what = r.depth > 0 ? "recess" : "spigot";
    rows.dimensions.push_back(
        fitted("register_" + side + "_diameter", "Register, " + side + " " + what, r.diameter, r.fit, "spec"));
    rows.dimensions.push_back(length("register_" + side + "_depth",
                                     (r.depth > 0 ? "Depth of the " : "Height of the ") + what, std::abs(r.depth),
                                     "spec"));
  }
  if (const auto& k = part.hub.keyway) {
    rows.dimensions.push_back(fitted("keyway_width", "Keyway, width", k->width.value, k->fit, k->width.source));
    Dimension over = length("keyway_over", "Keyway floor to the far side of the bore, d + t2",
                            bore.diameter.value + k->depth.value, k->depth.source);
    if (k->depth_tolerance > 0) over.lower = over.value, over.upper = over.value + k->depth_tolerance;
    rows.dimensions.push_back(over);
    rows.dimensions.push_back({"keyway_angle",
                               "Keyway, angle from 12 o'clock, counter-clockwise",
                               "",
                               k->angle.deg(),
                               "deg",
                               {},
                               {},
                               "spec"});
  }
}

void add_holes(const Part& part, Rows& rows) {
  for (const HolePattern& p : part.holes) {
    rows.dimensions.push_back(fitted(p.id + "_diameter", p.label, p.diameter.value, p.fit, p.diameter.source));
    if (p.tapped && p.thread->minor_max > 0) {
      Dimension& d = rows.dimensions.back();
      d.lower = p.thread->minor_min, d.upper = p.thread->minor_max;
    }
    rows.dimensions.push_back(length(p.id + "_circle", "Circle of " + p.id, p.circle, "spec"));
    rows.dimensions.push_back({p.id + "_first_angle",
                               "First of " + p.id + ", from 12 o'clock, counter-clockwise",
                               "",
                               p.angles.front().deg(),
                               "deg",
                               {},
                               {},
                               "spec"});
    if (p.depth > 0)
      rows.dimensions.push_back(
          length(p.id + "_depth", p.tapped ? "Full thread of " + p.id : "Depth of " + p.id, p.depth, "spec"));
    if (p.sink_diameter > 0) {
      const char* kind = p.sink_depth > 0 ? "Counterbore" : "Countersink";
      rows.dimensions.push_back(
          length(p.id + "_sink_diameter", std::string(kind) + " of " + p.id, p.sink_diameter, p.sink_source));
      if (p.sink_depth > 0)
        rows.dimensions.push_back(
            length(p.id + "_sink_depth", "Depth of that counterbore", p.sink_depth, p.sink_source));
      if (p.sink_depth == 0)
        rows.dimensions.push_back(
            {p.id + "_sink_angle", "Angle of that countersink", "", p.sink_angle.deg(), "deg", {}, {}, p.sink_source});
    }
  }
}

void add_extras(const Part& part, Rows& rows) {
  if (part.tone_ring) {
    const part::ToneRing& t = *part.tone_ring;
    rows.dimensions.push_back(length(
        "tone_ring_diameter", std::to_string(t.teeth) + " - " + std::to_string(t.missing) + " teeth, tip diameter",
        2 * t.radius, "spec"));
    rows.dimensions.push_back(length("tone_ring_width", "Axial width of the tone ring", t.width, "spec"));
    rows.dimensions.push_back(length("tone_ring_gap", "Width of a gap", t.gap, "spec, or half a tooth pitch"));
    rows.dimensions.push_back(
        length("tone_ring_tooth_height", "Height of a tooth", t.tooth_height, "spec, or half a gap"));
  }
  for (std::size_t i = 0; i < part.marks.size(); ++i) {
    const part::Marks& m = part.marks[i];
    const std::string id = "marks_" + std::to_string(i + 1);
    rows.dimensions.push_back(
        length(id + "_depth", std::to_string(m.angles.size()) + " x mark, depth", m.depth, "spec or shop rule"));
    for (std::size_t k = 0; k < m.angles.size(); ++k) {
      rows.dimensions.push_back({id + "_angle" + std::to_string(k + 1),
                                 "Mark, angle from 12 o'clock, counter-clockwise",
                                 "",
                                 m.angles[k].deg(),
                                 "deg",
                                 {},
                                 {},
                                 "spec, from the timing zero"});
    }
  }
  if (part.finish)
    rows.dimensions.push_back(
        length("coating_film", "Coating, total film: " + part.finish->name, part.finish->film, part.finish->source));
}

}  // namespace

Rows sizes(const Part& part, const Section& section) {
  Rows rows;
  add_rims(part, rows);
  double rear = 0, front = 0;
  for (const plane::Edge& e : section.body.section)
    rear = std::min({rear, e.a.x, e.b.x}), front = std::max({front, e.a.x, e.b.x});
  rows.dimensions.push_back(length("overall_width", "Overall width", front - rear, kOutline));
  if (part.web || part.hub.boss)
    rows.dimensions.push_back(
        length("hub_diameter", "Hub, outside", part.hub.diameter.value, part.hub.diameter.source));
  rows.dimensions.push_back(length("hub_length", "Hub, length", part.hub.front_face, part.hub.length_source));
  add_bore(part, rows);
  add_holes(part, rows);
  add_web(part, rows);
  add_extras(part, rows);
  const plane::MassProperties& m = section.mass;
  const double rho = part.material.density.value;
  const std::string of_material = part.material.name + ", " + part.material.density.source;
  rows.dimensions.push_back(
      {"volume", "Volume", "V", m.volume, "mm3", {}, {}, "closed forms over the outline, less the openings"});
  rows.dimensions.push_back({"mass", "Mass", "m", m.volume * rho, "kg", {}, {}, of_material});
  rows.dimensions.push_back(
      {"polar_inertia", "Polar moment of inertia", "J", m.polar_inertia * rho, "kg mm2", {}, {}, of_material});
  rows.dimensions.push_back(
      {"surface_area", "Surface", "A", m.surface, "mm2", {}, {}, "closed forms over the outline"});
  return rows;
}

}  // namespace groovewright::section
