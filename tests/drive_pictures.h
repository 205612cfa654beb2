// drive_pictures.h: drives and data for the pictures' tests. All invented.
#pragma once

#include <cmath>
#include <map>
#include <string>

#include "drives.h"
#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/drive/pictures.h"
#include "groovewright/drive/settle.h"
#include "groovewright/part.h"
#include "groovewright/spec.h"
#include "groovewright/spec/drive.h"
#include "parts.h"

namespace groovewright::drive::testing {

inline const catalog::Catalog& all_data() {
  static const catalog::Catalog read = [] {
    Diagnostics d;
    auto c = catalog::read_catalog(catalog::built_in_files(), d);
    EXPECT_TRUE(c.has_value()) << d.text();
    return c.value_or(catalog::Catalog{});
  }();
  return read;
}

inline PictureStyle picture_style() { return {all_data().drive_texts.at("en"), *all_data().typeface}; }

/// The demo, settled with the pulley that it names.
inline Drive demo_drive() {
  const std::string folder = GW_SOURCE_DIR "/profiles/demo/", file = folder + "larkspur-front.yaml";
  Diagnostics d;
  const auto written = spec::read_drive({file, groovewright::testing::file_text(file)}, d);
  if (!written.has_value()) throw Broken(d.text());
  const auto crank =
      groovewright::testing::made_part(groovewright::testing::file_text(folder + "larkspur-crank-24.yaml"));
  if (!crank.part) throw Broken(crank.diagnostics.text());
  const part::Rim& rim = crank.part->rims.front();
  MadePulley made;
  made.section = rim.groove.id;
  made.effective_radius = rim.effective_diameter.value / 2;
  made.outside_radius = rim.outside_diameter() / 2;
  made.flange_height = rim.flange(part::Side::front) ? rim.flange(part::Side::front)->height.value : 0;
  made.grooves = rim.grooves;
  made.rear_to_front = 40;
  made.rear_to_first_groove = 6;
  made.inertia = 9000;
  auto settled = settle(*written, all_data(), {{"larkspur-crank-24.yaml", made}}, d);
  if (!settled.has_value()) throw Broken(d.text());
  return *settled;
}

/// A bench grinder's drive with a slide, a hollow guard and small pulleys.
inline Drive tansy() {
  Pulley motor = ribbed("motor", {0, 0}, 22), spindle = ribbed("spindle", {150, 40}, 18),
         fan = ribbed("dust fan", {60, 130}, 30);
  motor.flange_height = spindle.flange_height = 2;
  spindle.inertia = 40;
  Drive d = drive_of(pk_belt(3, 0), Sense::counter_clockwise, {motor, spindle, fan});
  Tensioner t;
  t.name = "slide";
  t.kind = Tensioner::Kind::slide;
  t.after = 2;
  t.pivot = {34, 66};
  t.direction = 175 * kDegree;
  t.idler = flat("slide", {}, 12);
  t.free = 0;
  t.stop_a = 0;
  t.stop_b = 25;
  t.effort = 150;
  d.tensioner = t;
  d.name = "tansy-bench";
  d.obstacles.push_back({"guard", {}, 0, {{200, -20}, {210, -20}, {210, 110}, {150, 110}, {150, 100}, {200, 100}}, {}});
  d.obstacles.push_back({"switch box", {70, 50}, 14, {}, {}});
  return d;
}

/// A large pump set with an eccentric.
inline Drive orchis() {
  Drive d = drive_of(pk_belt(10, 0), Sense::clockwise,
                     {ribbed("engine", {0, 0}, 210), ribbed("pump one", {-520, 340}, 150),
                      flat("guide", {-60, 420}, 60), ribbed("pump two with a rather long name", {480, 610}, 180)});
  d.name = "orchis-pumps";
  for (Pulley& p : d.pulleys) p.flange_height = p.side == Side::ribs ? 6 : 0;
  Tensioner t;
  t.name = "eccentric";
  t.kind = Tensioner::Kind::eccentric;
  t.after = 3;
  t.pivot = {430, 180};
  t.arm_length = 30;
  t.arm_half_width = 12;
  t.idler = flat("eccentric", {}, 55);
  t.free = 190 * kDegree;
  t.stop_a = 190 * kDegree;
  t.stop_b = 70 * kDegree;
  t.effort = 40000;
  t.peg = Peg{45, 300 * kDegree, 10, "M10", 20};
  d.tensioner = t;
  return d;
}

inline DrillTemplate larkspur_template() {
  const Vec2 pivot{-60, 190};
  const auto at = [&](double deg) { return pivot + plane::polar(28, deg * kDegree); };
  const double apart = plane::norm(at(90) - at(55));
  return {.drive = "larkspur-front",
          .pivot = pivot,
          .old_hole = at(90),
          .new_hole = at(55),
          .old_name = "M8",
          .old_diameter = 8,
          .thread = "M8",
          .diameter = 8,
          .tap_drill = all_data().threads.at("M8").tap_drill,
          .depth = 14,
          .ligament = apart - 8,
          .ligament_least = 6};
}

inline TensionMap larkspur_tensions() {
  TensionMap m;
  m.drive = "larkspur-front";
  m.parts = {{"crank", 210, 130},  {"arm", 40, 160},  {"charger", 95, 210},
             {"blower", 130, 150}, {"idler", 60, 60}, {"pump", 160, 100}};
  for (const double rpm : {800.0, 2000.0, 4000.0, 5600.0}) {
    const double k = rpm / 1000;
    m.pulling.push_back(
        {trimmed(rpm, 0) + " rpm", {300, 300, 310 + 30 * k, 420 + 130 * k, 420 + 130 * k, 450 + 150 * k}});
    m.overrun.push_back({trimmed(rpm, 0) + " rpm",
                         {300 + 60 * k, 300 + 60 * k, 290 + 50 * k, 300 + 10 * k, 300 + 10 * k, 290 + 5 * k}});
  }
  m.greatest = 1600;
  m.greatest_name = "greatest";
  return m;
}

inline FrequencyPicture larkspur_frequencies() {
  FrequencyPicture m;
  m.drive = "larkspur-front";
  m.from_rpm = 800, m.to_rpm = 5600;
  m.orders = {1, 4};
  m.spans = {{"crank", "arm"},    {"arm", "charger"}, {"charger", "blower"},
             {"blower", "idler"}, {"idler", "pump"},  {"pump", "crank"}};
  double base = 60;
  for (std::size_t i = 0; i < m.spans.size(); ++i) {
    FrequencyLine line{i, {}};
    for (double rpm = 800; rpm <= 5600; rpm += 200) {
      const double hertz = base + rpm / 90 - rpm * rpm / 900000;
      line.points.push_back({rpm, {hertz, hertz, hertz}});
    }
    m.map.lines.push_back(line);
    base *= 1.28;
  }
  // 60 + n/90 - n²/900000 = 4 n/60 at n = 1057.628; the others are left out.
  m.map.meetings = {{0, 4, 1057.628, 70.509}};
  return m;
}

inline RangeMap larkspur_range() {
  RangeMap m{"larkspur-front", "blower", "kPa", 5600, {}, 14000};
  for (double o = 0; o < 0.31; o += 0.05) {
    m.points.push_back({o, 62 + 150 * o - 60 * o * o, 62 + 105 * o - 90 * o * o, 10400 * (1 + o)});
  }
  return m;
}

}  // namespace groovewright::drive::testing
