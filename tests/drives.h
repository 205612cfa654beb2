// drives.h: drives for tests. All invented.
#pragma once

#include <initializer_list>
#include <numbers>
#include <string>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

#include "groovewright/catalog.h"
#include "groovewright/drive.h"

namespace groovewright::drive::testing {

inline constexpr double kDegree = std::numbers::pi / 180;

inline const catalog::Catalog& rules() {
  static const catalog::Catalog read = [] {
    std::vector<TextFile> files;
    for (const TextFile& f : catalog::built_in_files()) {
      if (f.name == "rules.yaml") files.push_back(f);
    }
    Diagnostics d;
    auto c = catalog::read_catalog(files, d);
    EXPECT_TRUE(c.has_value()) << d.text();
    return c.value_or(catalog::Catalog{});
  }();
  return read;
}

/// A belt that is a line: textbook drives.
inline Belt thin_belt() {
  Belt b;
  b.section = "none";
  return b;
}

inline Belt pk_belt(int ribs, double length) {
  const auto given = [](double v) { return Sourced{v, "test"}; };
  Belt b;
  b.section = "PK";
  b.ribs = ribs;
  b.pitch = given(3.56);
  b.line_to_cord = given(2);
  b.cord_to_back = given(1.5);
  b.height = given(6);
  b.mass_per_rib = given(0.021);
  b.stiffness_per_rib = given(30000);
  b.measured_under_per_rib = given(50);
  b.effective_length = given(length);
  b.shorter = b.longer = given(6);
  b.stretch = given(0.004);
  b.speed_max = given(50);
  b.effective_diameter_min = given(45);
  return b;
}

inline Pulley ribbed(std::string name, Vec2 at, double radius) {
  Pulley p;
  p.name = std::move(name);
  p.at = at;
  p.radius = p.outside = radius;
  p.grooves = 8;
  return p;
}

inline Pulley flat(std::string name, Vec2 at, double radius) {
  Pulley p = ribbed(std::move(name), at, radius);
  p.side = Side::back;
  p.grooves = 0;
  p.width = 36;
  return p;
}

/// The first pulley drives.
inline Drive drive_of(Belt belt, Sense turns, std::vector<Pulley> pulleys) {
  Drive d;
  d.name = "test";
  d.belt = std::move(belt);
  d.turns = turns;
  d.pulleys = std::move(pulleys);
  if (!d.pulleys.empty()) d.pulleys.front().drives = true;
  d.limits = limits(rules());
  d.grip = grip(rules());
  return d;
}

/// Eight rounds with an arm on the slack span: crank, arm, blower and others, clockwise.
inline Drive larkspur() {
  Pulley crank = ribbed("crank", {0, 0}, 80);
  Pulley blower = ribbed("blower", {-60, 330}, 43);
  Pulley idler = flat("idler", {35, 250}, 35);
  Pulley pump = ribbed("pump", {150, 300}, 60);
  Pulley guide = flat("guide", {140, 180}, 30);
  Pulley charger = ribbed("charger", {240, 130}, 28);
  Pulley fan = ribbed("fan", {210, 20}, 65);
  blower.load = {{.rpm = 1000, .own_speed = true, .value = 3000}, {.rpm = 14000, .own_speed = true, .value = 28000}};
  blower.inertia = 900;
  blower.speed_max = 14000;
  pump.load = {{.rpm = 0, .own_speed = true, .value = 1500}, {.rpm = 12000, .own_speed = true, .value = 2500}};
  charger.load = {{.rpm = 500, .own_speed = false, .value = 900, .is_power = true},
                  {.rpm = 7000, .own_speed = false, .value = 1900, .is_power = true}};
  charger.inertia = 2500;
  crank.flange_height = blower.flange_height = 3.5;
  Drive d = drive_of(pk_belt(8, 0), Sense::clockwise, {crank, blower, idler, pump, guide, charger, fan});
  Tensioner t;
  t.name = "arm";
  t.after = 0;
  t.pivot = {-98, 90};
  t.arm_length = 82;
  t.idler = flat("arm", {}, 32.5);
  t.free = 65 * kDegree;
  t.stop_a = 65 * kDegree;
  t.stop_b = 105 * kDegree;
  t.effort = 28000;
  t.rate = 350 / kDegree;
  t.friction = {0.3, "test"};
  t.peg = Peg{26, 200 * kDegree, 8, "M8", 14};
  d.tensioner = t;
  d.duty.rpm = {800, 2000, 4000, 6000};
  d.duty.gain = 400;
  d.duty.drop = 600;
  d.duty.orders = {1, 2, 4};
  return d;
}

inline Route laid(const Course& c) {
  Route r;
  EXPECT_TRUE(lay(c.rounds, r)) << "no tangent at span " << r.no_tangent;
  return r;
}
inline Route laid(const Drive& d) { return laid(course(d)); }

}  // namespace groovewright::drive::testing
