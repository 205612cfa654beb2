#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <set>

#include "build.h"
#include "groovewright/base/text.h"

namespace groovewright::section {
namespace {

using part::HolePattern;
using part::Part;
using part::Rim;
using part::Side;

constexpr const char* kOutline = "computed from the outline";
constexpr const char* kSpec = "spec";
constexpr const char* kSpecOrZero = "spec, or 0 where it says nothing";
constexpr double kSameAngle = 1e-9;

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

/// An angle in the cross plane. Seen from the rear it runs the other way, so each row says from where.
Dimension angle(std::string id, const std::string& what, Angle from_top, std::string source) {
  return {std::move(id),
          what + ", angle counter-clockwise seen from the front, 0 at 12 o'clock",
          "",
          part::turned_once_deg(from_top),
          "deg",
          {},
          {},
          std::move(source)};
}

const char* word(Side side) { return side == Side::front ? "front" : "rear"; }

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
  if (w.windows) rows.dimensions.push_back(angle("window_first_angle", "First window", w.windows->start, kSpecOrZero));
  if (w.spokes) {
    rows.dimensions.push_back(angle("spoke_first_angle", "Middle of the first spoke", w.spokes->start, kSpecOrZero));
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

/// Where the web begins, and the cylinders inside the rim: the narrowest first.
void add_inside(const Section& section, Rows& rows) {
  double web = std::numeric_limits<double>::infinity();
  std::set<double> radii;
  for (std::size_t i = 0; i < section.tags.size(); ++i) {
    const plane::Edge& e = section.body.section[i];
    if (section.tags[i].kind == Kind::web && e.a.x == e.b.x) web = std::min(web, e.a.x);
    if (section.tags[i].kind == Kind::rim_inner && e.a.y == e.b.y) radii.insert(e.a.y);
  }
  if (std::isfinite(web))
    rows.dimensions.push_back(length("web_rear_z", "Seat to the web's rear face", web, kOutline, "Z"));
  int n = 0;
  for (const double r : radii) {
    const std::string id = ++n == 1 ? "rim_inner" : "rim_inner" + std::to_string(n);
    rows.dimensions.push_back(length(id + "_diameter", "Inside of the rim", 2 * r, kOutline));
  }
}

/// Evenly spaced patterns need their first angle; all others each angle.
void add_angles(const std::string& id, const std::string& what, const std::vector<Angle>& angles,
                const std::string& source, Rows& rows) {
  const double step = 2 * std::numbers::pi / static_cast<double>(angles.size());
  bool even = true;
  for (std::size_t i = 0; i + 1 < angles.size(); ++i)
    even = even && std::abs(angles[i + 1].rad() - angles[i].rad() - step) < kSameAngle;
  if (even) {
    rows.dimensions.push_back(angle(id + "_first_angle",
                                    "First of " + what + (angles.size() > 1 ? ", the others evenly spaced" : ""),
                                    angles.front(), source));
    return;
  }
  for (std::size_t i = 0; i < angles.size(); ++i) {
    rows.dimensions.push_back(angle(id + "_angle" + std::to_string(i + 1),
                                    "Number " + std::to_string(i + 1) + " of " + what, angles[i], source));
  }
}

void add_taper(const Part& part, const part::Taper& t, Rows& rows) {
  const auto add = [&](Dimension d) { rows.dimensions.push_back(std::move(d)); };
  add({"bore_taper",
       std::string("Taper of the bore, included angle, wide at the ") + word(t.large_end),
       "",
       t.included.deg(),
       "deg",
       {},
       {},
       kSpec});
  add(length("bore_gauge_depth", std::string("Gauge plane below the ") + word(t.gauge_face) + " face", t.gauge_depth,
             kSpecOrZero));
  const double rear = 2 * part.hub.bore_radius(0), front = 2 * part.hub.bore_radius(part.hub.front_face);
  add(length("bore_rear_diameter", "Bore at the rear face, edge break left out", rear, kOutline));
  add(length("bore_front_diameter", "Bore at the front face, edge break left out", front, kOutline));
  Dimension stand = length("bore_stand_off", "Stand-off on the gauge", t.stand_off, kSpecOrZero);
  if (t.stand_off_tolerance > 0)
    stand.lower = t.stand_off - t.stand_off_tolerance, stand.upper = t.stand_off + t.stand_off_tolerance;
  add(stand);
  add(length("bore_draw_up", "Draw-up by the nut", t.draw_up, kSpecOrZero));
}

void add_keyway(const Part& part, const part::Keyway& k, Rows& rows) {
  rows.dimensions.push_back(
      fitted("keyway_width", "Keyway, width", k.width.value, k.fit, k.width.source + "; fit " + k.fit_source));
  // Across the bore where that is widest: with a taper the slot runs along the axis, so its depth shrinks only there.
  Dimension over = length(
      "keyway_over",
      part.hub.bore.taper ? "Keyway floor to the far side of the bore, at its wide end"
                          : "Keyway floor to the far side of the bore, d + t2",
      part.hub.keyway_floor() + part.hub.widest_bore_radius(),
      k.depth.source + (k.depth_tolerance_source == k.depth.source ? "" : "; upper limit " + k.depth_tolerance_source));
  if (k.depth_tolerance > 0) over.lower = over.value, over.upper = over.value + k.depth_tolerance;
  rows.dimensions.push_back(over);
  rows.dimensions.push_back(angle("keyway_angle", "Keyway", k.angle, kSpecOrZero));
}

void add_bore(const Part& part, Rows& rows) {
  const part::Bore& bore = part.hub.bore;
  const auto add = [&](Dimension d) { rows.dimensions.push_back(std::move(d)); };
  add(fitted("bore_diameter", bore.taper ? "Bore at the gauge plane" : "Bore", bore.diameter.value, bore.fit,
             bore.diameter.source + (bore.fit ? "; fit " + bore.fit_source : "")));
  if (bore.taper) add_taper(part, *bore.taper, rows);
  for (std::size_t i = 0; i < bore.steps.size(); ++i) {
    const part::BoreStep& s = bore.steps[i];
    const std::string id = "bore_step" + std::to_string(i + 1),
                      what = "step " + std::to_string(i + 1) + " of the bore, open to the " + word(s.side);
    add(fitted(id + "_diameter", "Diameter of " + what, s.diameter, s.fit, kSpec));
    add(length(id + "_depth", "Depth of " + what + ", from the hub's face", s.depth, kSpec));
  }
  for (const part::Register& r : part.hub.registers) {
    const std::string id = r.id(), what = std::string(word(r.side)) + (r.depth > 0 ? " recess" : " spigot");
    add(fitted(id + "_diameter", "Register, " + what, r.diameter, r.fit, std::string(kSpec) + "; fit " + r.fit_source));
    add(length(id + "_depth", (r.depth > 0 ? "Depth of the " : "Height of the ") + what, std::abs(r.depth), kSpec));
  }
  if (part.hub.keyway) add_keyway(part, *part.hub.keyway, rows);
}

void add_holes(const Part& part, Rows& rows) {
  const auto add = [&](Dimension d) { rows.dimensions.push_back(std::move(d)); };
  for (const HolePattern& p : part.holes) {
    add(fitted(p.id + "_diameter", p.label + (p.tapped ? ": tap drill" : ""), p.diameter.value, p.fit,
               p.diameter.source));
    if (p.tapped)
      rows.dimensions.back().lower = p.thread->minor_min, rows.dimensions.back().upper = p.thread->minor_max;
    add(length(p.id + "_circle", "Circle of " + p.id, p.circle, kSpec));
    add_angles(p.id, p.id, p.angles, kSpecOrZero, rows);
    if (p.depth > 0) add(length(p.id + "_depth", (p.tapped ? "Full thread of " : "Depth of ") + p.id, p.depth, kSpec));
    if (p.depth > 0 && p.tapped)
      add(length(p.id + "_drill_depth", "Drill depth of " + p.id + ", without its point", drill_depth(p),
                 "full thread + 2.5 pitches, common practice, no source"));
    if (p.sink_diameter <= 0) continue;
    const std::string kind = p.sink_depth > 0 ? "counterbore" : "countersink",
                      of = " of the " + kind + " of " + p.id + ", " + word(p.sink_side);
    add(fitted(p.id + "_sink_diameter", "Diameter" + of, p.sink_diameter, p.sink_fit, p.sink_source));
    if (p.sink_depth > 0) {
      add(length(p.id + "_sink_depth", "Depth" + of, p.sink_depth, p.sink_source));
    } else {
      add({p.id + "_sink_angle", "Angle" + of, "", p.sink_angle.deg(), "deg", {}, {}, p.sink_source});
    }
  }
}

void add_tone_ring(const part::ToneRing& t, Rows& rows) {
  const auto add = [&](Dimension d) { rows.dimensions.push_back(std::move(d)); };
  const double pitch = 2 * std::numbers::pi / t.teeth;
  add(length("tone_ring_diameter",
             "Tone ring on the " + std::string(word(t.side)) + ", " + std::to_string(t.teeth) + " - " +
                 std::to_string(t.missing) + " teeth: tip diameter",
             2 * t.radius, kSpec));
  add(length("tone_ring_width", "Axial width of the tone ring", t.width, kSpec));
  add(length("tone_ring_thickness", "Radial thickness of the tone ring", t.thickness, t.thickness_source));
  add(length("tone_ring_gap", "Width of a gap", t.gap, t.gap_source));
  add(length("tone_ring_tooth_height", "Height of a tooth", t.tooth_height, t.tooth_height_source));
  add(angle("tone_ring_start", "Middle of the first gap of the tone ring", t.start, "spec, from the timing zero"));
  if (t.missing > 0)
    add(angle("tone_ring_missing", "Middle of the wide gap", Angle::rad(t.start.rad() + t.missing * pitch / 2),
              "spec, from the timing zero"));
}

const char* place_of(part::MarkPlace on) {
  switch (on) {
    case part::MarkPlace::front:
      return "front face";
    case part::MarkPlace::rear:
      return "rear face";
    case part::MarkPlace::front_edge:
      return "rim's edge, from the front";
    case part::MarkPlace::rear_edge:
      break;
  }
  return "rim's edge, from the rear";
}

void add_marks(const Part& part, Rows& rows) {
  for (std::size_t i = 0; i < part.marks.size(); ++i) {
    const part::Marks& m = part.marks[i];
    const std::string id = "marks_" + std::to_string(i + 1), what = id + " on the " + place_of(m.on);
    const auto add = [&](const char* key, const char* label, double v) {
      rows.dimensions.push_back(length(id + key, label + what, v, m.source));
    };
    add("_depth", "Depth of ", m.depth);
    add("_width", "Width of ", m.width);
    add("_length", "Length of ", m.length);
    if (m.on == part::MarkPlace::front || m.on == part::MarkPlace::rear)
      add("_radius", "Radius of the outer end of ", m.outer_radius);
    add_angles(id, what, m.angles, "spec, from the timing zero", rows);
  }
}

void add_extras(const Part& part, Rows& rows) {
  if (part.tone_ring || !part.marks.empty())
    rows.dimensions.push_back(angle("timing_zero", "Timing zero", part.timing_zero, kSpec));
  if (part.tone_ring) add_tone_ring(*part.tone_ring, rows);
  add_marks(part, rows);
  if (part.finish)
    rows.dimensions.push_back(
        length("coating_film", "Coating, total film: " + part.finish->name, part.finish->film, part.finish->source));
  rows.dimensions.push_back(length("edge_break", "Edges without a size of their own: break",
                                   part.limit("default_edge_break").value, part.limit("default_edge_break").source));
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
  rows.dimensions.push_back(length("rims_rear_z", "Seat to the rear face of the rims, + where the hub stands proud",
                                   part.rims_rear, part.hub.length_source, "Z"));
  rows.dimensions.push_back(length("hub_length", "Hub, length", part.hub.front_face, part.hub.length_source));
  add_bore(part, rows);
  add_holes(part, rows);
  add_web(part, rows);
  add_inside(section, rows);
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
