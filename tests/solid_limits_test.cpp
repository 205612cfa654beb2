// Requirements in the STEP file: what is meant is what is written, on the faces that it is meant for; a second reader
// agrees; and what it refuses.
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <cstdlib>
#include <iostream>
#include <map>
#include <sstream>
#include <tuple>

#include "groovewright/base/broken.h"
#include "groovewright/solid.h"
#include "mesh_bodies.h"
#include "readers/part21.h"
#include "readers/xcaf_limits.h"

namespace groovewright {
namespace {

using bodies::kPi;
using plane::TurnedBody;
using plane::Vec2;
using solid::Limits;
using solid::On;
using solid::Size;
using solid::Zone;

const solid::Kernel& kernel() {
  static const std::unique_ptr<solid::Kernel> made = solid::make_kernel();
  return *made;
}

const solid::Label kLabel{
    .name = "test", .description = "", .material = "steel", .density = 7.85e-6, .program = "test"};

/// All straight edges of the section on the line through a and b, between them.
On edges(const TurnedBody& body, Vec2 a, Vec2 b) {
  On on;
  for (const plane::Edge& e : body.section) {
    const solid::Wall wall = solid::turned({e.a, e.b});
    if (!e.is_arc() && solid::lies_on(wall, solid::turned({a, b}))) on.walls.push_back(wall);
  }
  return on;
}

On flanks(const TurnedBody& body, double half_angle = 20) {
  On on;
  for (const auto& g : bodies::flanks(body.section, half_angle * kPi / 180)) on.walls.push_back(solid::turned(g));
  return on;
}

On holes(const TurnedBody& body, const std::string& id) {
  On on;
  for (const auto& h : body.holes) {
    if (h.id == id) on.walls.push_back(solid::wall_of(h));
  }
  return on;
}

On sides(const plane::Slot& slot) {
  const auto both = solid::sides_of(slot);
  return {{both.begin(), both.end()}};
}

On add(On on, const On& more) {
  on.walls.insert(on.walls.end(), more.walls.begin(), more.walls.end());
  return on;
}

/// A body and what it must meet; what the second reader is due to say of it, counted by hand on the body.
struct Case {
  const char* name;
  TurnedBody body;
  Limits limits;
  std::vector<std::string> seen;
};

/// Bore 48 H7 and spigots 72 g6 after ISO 286-2 (+25/0 um over 30 to 50 mm, -10/-29 um over 50 to 80 mm).
Case pulley() {
  const TurnedBody body = bodies::pulley();
  const On bore = edges(body, {-12, 24}, {12, 24}), seat = edges(body, {12, 25}, {12, 36});
  const On spigot = edges(body, {5, 36}, {12, 36}), key = sides(body.slots.front());
  const On walls = add(edges(body, {15.74, 75}, {16.34, 78}), edges(body, {-15.74, 75}, {-16.34, 78}));
  Limits l;
  l.sizes = {{"bore_diameter", "Bore", Size::Kind::diameter, 48, 48, 48.025, 0, bore},
             {"spigot_diameter", "Spigot ⌀, it's h\\g", Size::Kind::diameter, 72, 71.971, 71.99, 0, spigot},
             {"diameter_over_balls", "Over balls", Size::Kind::over_balls, 152.36, 152.21, 152.51, 2.5, flanks(body)}};
  l.datums = {{"A", bore}, {"B", seat}, {"C", key}};
  l.zones = {
      {"seat_squareness", "Seat square", Zone::Kind::perpendicularity, 0.02, false, false, false, {"A"}, seat},
      {"seat_flatness", "Seat flat", Zone::Kind::flatness, 0.01, false, false, false, {}, seat},
      {"bore_squareness", "Bore", Zone::Kind::perpendicularity, 0.03, true, false, true, {"B"}, bore},
      {"radial_runout", "Rim", Zone::Kind::circular_runout, 0.1, false, false, false, {"A", "B"}, flanks(body)},
      {"axial_runout", "Flanges", Zone::Kind::circular_runout, 0.2, false, false, false, {"B", "A"}, walls},
      {"bolt_position",
       "Bolts",
       Zone::Kind::position,
       0.3,
       true,
       true,
       true,
       {"B", "A", "C"},
       holes(body, "counterbored")},
      {"tapped_position", "Threads", Zone::Kind::position, 0.2, true, true, false, {"B", "A"}, holes(body, "tapped")}};
  const std::string a = " A{1 cylinder r24}", b = " B{1 flat z12}", c = " C{2 side d6}";
  return {"pulley",
          body,
          l,
          {"diameter 48 -0 +0.025 on 1 cylinder r24", "diameter 71.971..71.99 (nominal size 72 mm) on 1 cylinder r36",
           "size 152.36 -0.15 +0.15 (over balls of diameter 2.5 mm) on 16 cone",
           "perpendicularity 0.02 to" + a + " on 1 flat z12", "flatness 0.01 on 1 flat z12",
           "perpendicularity 0.03 dia M to" + b + " on 1 cylinder r24", "run-out 0.1 to" + a + b + " on 16 cone",
           "run-out 0.2 to" + b + a + " on 2 cone", "position 0.3 dia CZ M to" + b + a + c + " on 6 hole r3.3",
           "position 0.2 dia CZ to" + b + a + " on 3 hole r2"}};
}

/// Gaps cut the rim of 116 mm into teeth, and its flat walls into as many pieces where the gaps are deep enough.
Case teeth() {
  const TurnedBody body = bodies::tone_ring(12);
  const On rim = edges(body, {0, 58}, {5, 58}), face = edges(body, {-4, 20}, {-4, 45});
  Limits l;
  l.sizes = {{"outside", "Teeth", Size::Kind::diameter, 116, 115.95, 116.05, 0, rim}};
  l.datums = {{"A", edges(body, {-4, 20}, {14, 20})}, {"B", rim}};
  l.zones = {{"teeth_runout", "", Zone::Kind::circular_runout, 0.05, false, false, false, {"A"}, rim},
             {"face_runout", "", Zone::Kind::circular_runout, 0.08, false, false, false, {"B"}, face}};
  return {"teeth",
          body,
          l,
          {"diameter 116 -0.05 +0.05 on 12 cylinder r58", "run-out 0.05 to A{1 cylinder r20} on 12 cylinder r58",
           "run-out 0.08 to B{12 cylinder r58} on 1 flat z-4"}};
}

/// Every form that a tolerance can take, on a disc: with and without datums, zone of a cylinder, M and CZ.
Case forms() {
  TurnedBody body{bodies::section({{{0, 10}}, {{20, 10}}, {{20, 40}}, {{0, 40}}}), {}, {}, {}};
  body.holes = {bodies::drilled({25, 0}, 3, 20, 0), bodies::drilled({-25, 0}, 4, 20, 0)};
  const On front = edges(body, {20, 10}, {20, 40}), bore = edges(body, {0, 10}, {20, 10});
  Limits l;
  l.datums = {{"A", front}, {"B", bore}};
  using Kind = Zone::Kind;
  std::vector<std::string> seen;
  for (const auto& [kind, word] : {std::pair{Kind::flatness, "flatness"},
                                   {Kind::position, "position"},
                                   {Kind::perpendicularity, "perpendicularity"},
                                   {Kind::circular_runout, "run-out"}}) {
    for (int form = 0; form < 16; ++form) {
      const bool dia = form & 1, cz = form & 2, m = form & 4, to = form & 8;
      if (to ? kind == Kind::flatness : kind == Kind::perpendicularity || kind == Kind::circular_runout) continue;
      const std::string id = word + std::to_string(form);
      l.zones.push_back({id, id, kind, 0.1 + form, dia, cz, m, {}, holes(body, "hole")});
      if (to) l.zones.back().datums = {"B", "A"};
      std::ostringstream due;
      due << word << " " << 0.1 + form << (dia ? " dia" : "") << (cz ? " CZ" : "") << (m ? " M" : "")
          << (to ? " to B{1 cylinder r10} A{1 flat z20}" : "") << " on 1 hole r3, 1 hole r4";
      seen.push_back(due.str());
    }
  }
  return {"forms", body, l, seen};
}

/// Turned from the axis: the end face is a full disc. Fits of every kind of ISO 286-2 for 80 mm (s7, k7, h7, js7, f7).
Case solid_disc() {
  const TurnedBody body{bodies::section({{{0, 0}}, {{20, 0}}, {{20, 40}}, {{0, 40}}}), {}, {}, {}};
  const On rim = edges(body, {0, 40}, {20, 40});
  Limits l;
  for (const auto& [fit, lower, upper] : {std::tuple{"s7", 80.059, 80.089},
                                          {"k7", 80.002, 80.032},
                                          {"h7", 79.97, 80.0},
                                          {"js7", 79.985, 80.015},
                                          {"f7", 79.94, 79.97}}) {
    l.sizes.push_back({fit, "", Size::Kind::diameter, 80, lower, upper, 0, rim});
  }
  l.datums = {{"A", rim}};
  l.zones = {{"end", "", Zone::Kind::circular_runout, 0.1, false, false, false, {"A"}, edges(body, {20, 0}, {20, 40})}};
  const std::string on = " on 1 cylinder r40", nominal = " (nominal size 80 mm)";
  return {"solid disc",
          body,
          l,
          {"diameter 80.059..80.089" + nominal + on, "diameter 80.002..80.032" + nominal + on,
           "diameter 80 -0.03 +0" + on, "diameter 80 -0.015 +0.015" + on, "diameter 79.94..79.97" + nominal + on,
           "run-out 0.1 to A{1 cylinder r40} on 1 flat z20"}};
}

std::vector<Case> cases() { return {pulley(), teeth(), forms(), solid_disc()}; }

std::string step_of(const Case& c) { return kernel().to_step(kernel().make(c.body), kLabel, c.limits); }
Limits read(const std::string& step) { return kernel().limits(kernel().from_step(step)); }

// ---- what is meant is what is read ----

TEST(Limits, AreReadBackAsMeant) {
  for (const Case& c : cases()) EXPECT_EQ(solid::difference(c.limits, read(step_of(c))), "") << c.name;
}

TEST(Limits, AreSeenByASecondReaderOnTheFacesThatAPersonCounts) {
  for (const Case& c : cases()) EXPECT_EQ(readers::limits_by_xcaf(step_of(c)), c.seen) << c.name;
}

TEST(Limits, AreWrittenAgainFromAShapeThatWasRead) {
  for (const Case& c : cases()) {
    const solid::Shape back = kernel().from_step(step_of(c));
    const std::string again = kernel().to_step(back, kLabel, c.limits);
    EXPECT_EQ(solid::difference(c.limits, read(again)), "") << c.name;
    EXPECT_EQ(readers::limits_by_xcaf(again), c.seen) << c.name;
  }
}

TEST(Limits, GiveTheSameBytesTwice) {
  for (const Case& c : cases()) EXPECT_EQ(step_of(c), step_of(c)) << c.name;
}

TEST(Limits, OnlyAddToTheFile) {
  for (const Case& c : cases()) {
    const std::string with = step_of(c);
    std::string without = kernel().to_step(kernel().make(c.body), kLabel);
    EXPECT_EQ(kernel().to_step(kernel().make(c.body), kLabel, Limits{}), without) << c.name;
    without.resize(without.rfind("ENDSEC;"));
    EXPECT_EQ(with.substr(0, without.size()), without) << c.name;
    EXPECT_EQ(with.find("-0.)", without.size()), std::string::npos) << c.name << ": a negative zero";
    EXPECT_EQ(with.find("LIMITS_AND_FITS"), std::string::npos) << c.name;
  }
}

/// A letter for each attribute: text, reference, enumeration, list, typed value, unset.
std::string form(const readers::Entity& e) {
  using Kind = readers::Value::Kind;
  std::string out;
  for (const readers::Value& v : e.values) {
    out += v.kind == Kind::text          ? 't'
           : v.kind == Kind::reference   ? 'r'
           : v.kind == Kind::enumeration ? 'e'
           : v.kind == Kind::list        ? 'l'
           : v.kind == Kind::typed       ? 'y'
           : v.kind == Kind::unset       ? 'u'
                                         : '?';
  }
  return out;
}

TEST(Limits, HaveTheAttributesOfTheSchema) {
  // AP242 edition 1 (ISO 10303-242:2014), from memory: explicit attributes in order, supertypes' first.
  const std::map<std::string, std::string> kSchema{{"DIMENSIONAL_SIZE", "rt"},
                                                   {"DIMENSIONAL_CHARACTERISTIC_REPRESENTATION", "rr"},
                                                   {"SHAPE_DIMENSION_REPRESENTATION", "tlr"},
                                                   {"PLUS_MINUS_TOLERANCE", "rr"},
                                                   {"TOLERANCE_VALUE", "rr"},
                                                   {"LENGTH_MEASURE_WITH_UNIT", "yr"},
                                                   {"DATUM", "ttret"},
                                                   {"DATUM_FEATURE", "ttre"},
                                                   {"SHAPE_ASPECT", "ttre"},
                                                   {"COMPOSITE_GROUP_SHAPE_ASPECT", "ttre"},
                                                   {"SHAPE_ASPECT_RELATIONSHIP", "ttrr"},
                                                   {"GEOMETRIC_ITEM_SPECIFIC_USAGE", "ttrrr"},
                                                   {"DATUM_SYSTEM", "ttrel"},
                                                   {"DATUM_REFERENCE_COMPARTMENT", "ttreru"},
                                                   {"FLATNESS_TOLERANCE", "ttrr"},
                                                   {"POSITION_TOLERANCE", "ttrr"},
                                                   {"PERPENDICULARITY_TOLERANCE", "ttrrl"},
                                                   {"CIRCULAR_RUNOUT_TOLERANCE", "ttrrl"},
                                                   {"TOLERANCE_ZONE", "ttrelr"},
                                                   {"TOLERANCE_ZONE_FORM", "t"}};
  const std::map<std::string, std::string> kInParts{{"GEOMETRIC_TOLERANCE", "ttrr"},
                                                    {"GEOMETRIC_TOLERANCE_WITH_DATUM_REFERENCE", "l"},
                                                    {"GEOMETRIC_TOLERANCE_WITH_MODIFIERS", "l"},
                                                    {"SHAPE_ASPECT", "ttre"},
                                                    {"MEASURE_WITH_UNIT", "yr"},
                                                    {"REPRESENTATION_ITEM", "t"}};
  std::map<std::string, int> seen;
  for (const Case& c : cases()) {
    const readers::Part21File f = readers::read_part21(step_of(c));
    EXPECT_TRUE(f.dangling().empty()) << c.name;
    const int plain = readers::read_part21(kernel().to_step(kernel().make(c.body), kLabel)).data.rbegin()->first;
    for (auto at = f.data.upper_bound(plain); at != f.data.end(); ++at) {
      const std::vector<readers::Entity>& types = at->second;
      for (const readers::Entity& e : types) {
        ++seen[e.type];
        if (types.size() > 1) {
          const auto due = kInParts.find(e.type);
          EXPECT_EQ(form(e), due == kInParts.end() ? "" : due->second) << c.name << " #" << at->first << " " << e.type;
        } else if (e.type != "DESCRIPTIVE_REPRESENTATION_ITEM") {
          ASSERT_TRUE(kSchema.contains(e.type)) << e.type;
          EXPECT_EQ(form(e), kSchema.at(e.type)) << c.name << " #" << at->first << " " << e.type;
        }
      }
      EXPECT_TRUE(std::is_sorted(types.begin(), types.end(), [](const auto& a, const auto& b) {
        return a.type < b.type;
      })) << "ISO 10303-21: the types of one instance stand in alphabetical order";
      if (types.front().type == "GEOMETRIC_ITEM_SPECIFIC_USAGE") {
        EXPECT_EQ(f.at(types.front().values[3])[0].type, "ADVANCED_BREP_SHAPE_REPRESENTATION");
        EXPECT_EQ(f.at(types.front().values[4])[0].type, "ADVANCED_FACE");
      }
    }
  }
  for (const auto& [type, attributes] : kSchema) EXPECT_GT(seen[type], 0) << type << " is never written";
}

TEST(Limits, LeaveTheSolidAsItIs) {
  for (const Case& c : cases()) {
    const solid::Shape shape = kernel().make(c.body), back = kernel().from_step(step_of(c));
    const solid::Proof before = kernel().prove(shape), after = kernel().prove(back);
    EXPECT_TRUE(after.valid && after.closed) << c.name << ": " << after.complaint;
    EXPECT_EQ(after.solids, 1) << c.name;
    EXPECT_EQ(after.faces, before.faces) << c.name;
    EXPECT_NEAR(after.volume, before.volume, 1e-6 * before.volume) << c.name;
    const auto cones = kernel().generators(shape, 0.01, 1.5), read_cones = kernel().generators(back, 0.01, 1.5);
    ASSERT_EQ(cones.size(), read_cones.size()) << c.name;
    for (std::size_t i = 0; i < cones.size(); ++i) {
      EXPECT_LE(plane::norm(cones[i].a - read_cones[i].a) + plane::norm(cones[i].b - read_cones[i].b), 1e-6) << c.name;
    }
  }
}

TEST(Limits, OfAShapeThatWasMadeAndOfAPlainFileAreNone) {
  const Case c = pulley();
  EXPECT_TRUE(kernel().limits(kernel().make(c.body)).empty());
  EXPECT_TRUE(read(kernel().to_step(kernel().make(c.body), kLabel)).empty());
}

TEST(Limits, FindEveryStraightEdgeHoleAndSlotOfEveryBody) {
  for (const bodies::Named& c : bodies::all()) {
    Limits l;
    const auto stand = [&](On on) { l.datums.push_back({std::to_string(l.datums.size()), std::move(on)}); };
    for (const plane::Edge& e : c.body.section) {
      if (!e.is_arc() && std::max(e.a.y, e.b.y) > 0) stand({{solid::turned({e.b, e.a})}});
    }
    for (const auto& h : c.body.holes) stand({{solid::wall_of(h)}});
    for (const auto& s : c.body.slots) stand(sides(s));
    const std::string step = kernel().to_step(kernel().make(c.body), kLabel, l);
    EXPECT_EQ(solid::difference(l, read(step)), "") << c.name;
  }
}

// ---- what was changed is told ----

/// The text with the first `what` after the first `after` replaced.
std::string replaced(std::string text, const std::string& after, const std::string& what, const std::string& by) {
  const std::size_t from = text.find(after), at = from == std::string::npos ? from : text.find(what, from);
  if (at == std::string::npos) throw Broken("the test looks for a text that is not there: " + after + what);
  return text.replace(at, what.size(), by);
}

/// The text without its first line that holds `what` after the first `after`.
std::string without_line(std::string text, const std::string& after, const std::string& what) {
  const std::size_t from = text.find(after), at = from == std::string::npos ? from : text.find(what, from);
  if (at == std::string::npos) throw Broken("the test looks for a text that is not there: " + after + what);
  const std::size_t begin = text.rfind('\n', at) + 1;
  return text.erase(begin, text.find('\n', at) + 1 - begin);
}

/// The number of the instance whose line holds `what`: "#12".
std::string instance(const std::string& text, const std::string& what) {
  const std::size_t at = text.find(what), begin = text.rfind('\n', at) + 1;
  return text.substr(begin, text.find('=', begin) - begin);
}

TEST(Limits, ThatWereTamperedWithAreTold) {
  const Case c = pulley();
  const std::string good = step_of(c);
  const std::string sizes = "'bore_diameter'";
  const std::string bore = instance(good, sizes), spigot = instance(good, "'spigot_diameter'");
  const auto face_of = [&](const std::string& aspect) {
    const std::size_t use = good.find("GEOMETRIC_ITEM_SPECIFIC_USAGE('',''," + aspect + ",");
    const std::size_t end = good.find(')', use), comma = good.rfind(',', end);
    return good.substr(comma + 1, end - comma - 1);
  };
  const std::string on_bore = face_of(bore), on_spigot = face_of(spigot), datum_b = instance(good, "DATUM('','',");
  struct Change {
    const char* name;
    std::string text;
    const char* says;
  };
  const Change kChanges[] = {
      {"none", good, ""},
      {"an upper limit 1 um up", replaced(good, sizes, "MEASURE(0.025)", "MEASURE(0.026)"),
       "bore_diameter: upper limit 48.025 mm, read 48.026 mm"},
      {"a lower limit", replaced(good, sizes, "MEASURE(0.)", "MEASURE(-0.01)"),
       "bore_diameter: lower limit 48 mm, read 47.99 mm"},
      {"a nominal", replaced(good, sizes, "MEASURE(48.)", "MEASURE(48.5)"), "bore_diameter: value 48 mm, read 48.5 mm"},
      {"another ball", replaced(good, sizes, "diameter 2.5 mm", "diameter 2.6 mm"),
       "diameter_over_balls: ball 2.5 mm, read 2.6 mm"},
      {"no longer over balls", replaced(good, sizes, "'diameter over balls'", "'diameter'"),
       "diameter_over_balls: kind diameter over balls, read diameter"},
      {"a swapped face", replaced(good, "USAGE('',''," + bore + ",", on_bore + ")", on_spigot + ")"),
       "bore_diameter: stands on no face of a wall that it is meant for"},
      {"a flank dropped", without_line(good, "'diameter_over_balls'", "SHAPE_ASPECT_RELATIONSHIP"),
       "diameter_over_balls: stands on no face of a wall that it is meant for"},
      {"a size without its tolerance", without_line(good, sizes, "PLUS_MINUS_TOLERANCE"),
       "bore_diameter: id bore_diameter, read spigot_diameter"},
      {"an upper limit of two", replaced(good, "'spigot_diameter'", "MEASURE(71.99)", "MEASURE(72.01)"),
       "spigot_diameter: upper limit 71.99 mm, read 72.01 mm"},
      {"the nominal of two limits", replaced(good, "'spigot_diameter'", "size 72 mm", "size 73 mm"),
       "spigot_diameter: value 72 mm, read 73 mm"},
      {"another letter", replaced(good, datum_b + "=", ",'A')", ",'D')"), "datum A: letter A, read D"},
      {"a wider zone", replaced(good, "'seat_flatness'", "MEASURE(0.01)", "MEASURE(0.02)"),
       "seat_flatness: width 0.01 mm, read 0.02 mm"},
      {"M lost", replaced(good, "'bolt_position'", ",.MAXIMUM_MATERIAL_REQUIREMENT.", ""),
       "bolt_position: maximum material yes, read no"},
      {"CZ lost", replaced(good, "'tapped_position'", ".COMMON_ZONE.", ".FREE_STATE."),
       "tapped_position: common zone yes, read no"},
      {"a zone no cylinder", without_line(good, "'bore_squareness'", "=TOLERANCE_ZONE("),
       "bore_squareness: zone of a cylinder yes, read no"},
      {"another tolerance", replaced(good, "'seat_flatness'", "FLATNESS_TOLERANCE", "STRAIGHTNESS_TOLERANCE"),
       "seat_flatness: id seat_flatness, read bore_squareness"},
      {"a zone lost", without_line(good, "'tapped_position'", "POSITION_TOLERANCE"), "limits: zones 7, read 6"},
  };
  for (const Change& change : kChanges) {
    EXPECT_EQ(solid::difference(c.limits, read(change.text)), change.says) << change.name;
  }
}

TEST(Limits, ThatLoseADatumAFaceOrAnOrderAreTold) {
  const Case c = pulley();
  const std::string good = step_of(c);
  // The system of three places: B, A, C.
  std::size_t found = std::string::npos;
  std::string places;
  for (std::size_t at = good.find("=DATUM_SYSTEM"); at != std::string::npos; at = good.find("=DATUM_SYSTEM", at + 1)) {
    const std::size_t open = good.find("(#", at + 15), close = good.find(')', open);
    const std::string list = good.substr(open + 1, close - open - 1);
    if (std::count(list.begin(), list.end(), ',') == 2) found = at, places = list;
  }
  ASSERT_NE(found, std::string::npos);
  const std::string first = places.substr(0, places.find(',')), last = places.substr(places.rfind(',') + 1);
  const std::string middle = places.substr(first.size() + 1, places.size() - first.size() - last.size() - 2);
  const auto changed = [&](const std::string& to) {
    std::string text = good;
    return read(text.replace(text.find(places, found), places.size(), to));
  };
  EXPECT_EQ(solid::difference(c.limits, changed(first + "," + middle)),
            "bolt_position: datums B, A then C, read B then A");
  EXPECT_EQ(solid::difference(c.limits, changed(first + "," + last + "," + middle)),
            "bolt_position: datums B, A then C, read B, C then A");

  const Case cut = teeth();
  const std::string step = step_of(cut);
  EXPECT_EQ(solid::difference(cut.limits, read(without_line(step, "'outside'", "SHAPE_ASPECT_RELATIONSHIP"))),
            "outside: leaves out 1 faces of its walls");
  EXPECT_EQ(solid::difference(cut.limits, read(without_line(step, "'datum B'", "SHAPE_ASPECT_RELATIONSHIP"))),
            "datum B: leaves out 1 faces of its walls");
}

// ---- what is refused ----

TEST(Limits, ThatStandOnNothingOrSayNothingAreRefusedByName) {
  const Case good = pulley();
  const On bore = good.limits.datums[0].on;
  const Size size{"bore", "", Size::Kind::diameter, 48, 48, 48.025, 0, bore};
  const auto with = [&](auto change) {
    Size s = size;
    change(s);
    return Limits{.sizes = {s}};
  };
  const auto zone = [&](Zone z) {
    z.id = "zone";
    return Limits{.datums = good.limits.datums, .zones = {z}};
  };
  struct Refusal {
    const char* name;
    Limits limits;
    const char* says;
  };
  using Kind = Zone::Kind;
  const Refusal kRefusals[] = {
      {"no wall", with([](Size& s) { s.on.walls.clear(); }), "bore: stands on no wall"},
      {"one wall of two without a face", with([](Size& s) {
         s.on.walls.push_back(solid::turned({{-5, 23}, {5, 23}}));
       }),
       "bore: the solid has no face"},
      {"beside the bore's end", with([](Size& s) {
         s.on.walls = {solid::turned({{11.1, 24}, {15, 24}})};
       }),
       "bore: the solid has no face"},
      {"a hole elsewhere", with([](Size& s) {
         s.on.walls = {solid::wall_of(bodies::drilled({46, 0}, 3.3, 5, -5))};
       }),
       "bore: the solid has no face"},
      {"the keyway's sides at a wrong angle", with([](Size& s) {
         s.on = sides({"key", kPi, 12, 27.3, true, -20, 20});
       }),
       "bore: the solid has no face"},
      {"limits upside down", with([](Size& s) { std::swap(s.lower, s.upper); }), "bore: no limits of size"},
      {"no ball", with([](Size& s) { s.kind = Size::Kind::over_balls; }), "bore: over balls of no diameter"},
      {"no width", zone({.kind = Kind::flatness, .on = bore}), "zone: a zone without width"},
      {"flat to a datum", zone({.kind = Kind::flatness, .width = 1, .datums = {"A"}, .on = bore}), "zone: flatness"},
      {"square to nothing", zone({.kind = Kind::perpendicularity, .width = 1, .on = bore}), "zone: stands on no datum"},
      {"unknown datum", zone({.kind = Kind::position, .width = 1, .datums = {"Q"}, .on = bore}), "zone: refers"},
      {"a letter twice", {.datums = {{"A", bore}, {"A", bore}}}, "datum A: no letter of its own"},
  };
  const solid::Shape shape = kernel().make(good.body);
  for (const Refusal& r : kRefusals) {
    try {
      (void)kernel().to_step(shape, kLabel, r.limits);
      ADD_FAILURE() << r.name << ": no exception";
    } catch (const Broken& e) {
      EXPECT_EQ(std::string(e.what()).rfind(r.says, 0), 0u) << r.name << ": " << e.what();
    }
  }
  EXPECT_THROW((void)solid::wall_of({"cone", {0, 0}, {{0, 3}, {3, 0}}, false}), Broken);
}

// ---- random limits ----

double between(double low, double high) { return low + (high - low) * *rc::gen::inRange(0, 100001) / 100000; }
template <class T>
T one_of(const std::vector<T>& all) {
  return all[*rc::gen::inRange<std::size_t>(0, all.size())];
}

TEST(Limits, OfRandomKindsOnRandomWallsAreReadBack) {
  const TurnedBody body = forms().body;
  const solid::Shape shape = kernel().make(body);
  const On front = edges(body, {20, 10}, {20, 40}), rear = edges(body, {0, 10}, {0, 40});
  const On bore = edges(body, {0, 10}, {20, 10}), rim = edges(body, {0, 40}, {20, 40}), bolts = holes(body, "hole");
  const std::vector<On> walls{front, rear, bore, rim, bolts, add(bore, rim), add(front, rear), add(bolts, front)};
  rc::detail::TestParams params = rc::detail::configuration().testParams;
  const char* wanted = std::getenv("GROOVEWRIGHT_CASES");
  params.maxSuccess = wanted ? std::atoi(wanted) : 100;
  const auto property = [&] {
    Limits l;
    const auto id = [&] { return "id_" + std::to_string(l.sizes.size() + l.datums.size() + l.zones.size()); };
    for (int n = *rc::gen::inRange(0, 4); n > 0; --n) {
      const double value = between(0.5, 900), low = between(-2, 2), ball = between(0.5, 20);
      const bool balls = *rc::gen::arbitrary<bool>();
      l.sizes.push_back({id(), *rc::gen::element<std::string>("", "Ø µ ⌀", "it's \\X\\"),
                         balls ? Size::Kind::over_balls : Size::Kind::diameter, value, value + low,
                         value + low + between(1e-3, 2), balls ? ball : 0, one_of(walls)});
    }
    std::vector<std::string> letters;
    for (const char* letter : {"A", "B", "C", "AA"}) {
      if (*rc::gen::arbitrary<bool>()) letters.emplace_back(letter);
    }
    for (const std::string& letter : letters) l.datums.push_back({letter, one_of(walls)});
    for (int n = *rc::gen::inRange(0, 6); n > 0; --n) {
      Zone z{id(), "",
             one_of<Zone::Kind>({Zone::Kind::flatness, Zone::Kind::position, Zone::Kind::perpendicularity,
                                 Zone::Kind::circular_runout}),
             between(1e-3, 5)};
      z.diametral = *rc::gen::arbitrary<bool>(), z.common = *rc::gen::arbitrary<bool>();
      z.maximum_material = *rc::gen::arbitrary<bool>(), z.on = one_of(walls);
      std::vector<std::string> left = letters;
      for (int k = *rc::gen::inRange(1, 4); k > 0 && !left.empty(); --k) {
        const std::size_t at = *rc::gen::inRange<std::size_t>(0, left.size());
        z.datums.push_back(left[at]);
        left.erase(left.begin() + static_cast<std::ptrdiff_t>(at));
      }
      if (letters.empty()) z.kind = Zone::Kind::position;
      if (z.kind == Zone::Kind::flatness) z.datums.clear();
      l.zones.push_back(z);
    }
    const std::string step = kernel().to_step(shape, kLabel, l);
    RC_ASSERT(solid::difference(l, read(step)) == "");
    RC_ASSERT(readers::limits_by_xcaf(step).size() == l.sizes.size() + l.zones.size());
    // Whatever one requirement loses is told.
    if (l.zones.empty()) return;
    Limits other = l;
    Zone& z = other.zones[*rc::gen::inRange<std::size_t>(0, other.zones.size())];
    switch (*rc::gen::inRange(0, 4)) {
      case 0:
        z.width += 2 * solid::kLimitStep;
        break;
      case 1:
        z.common = !z.common;
        break;
      case 2:
        z.datums.emplace_back("Z");
        break;
      default:
        z.on.walls.push_back(solid::turned({{3, 11}, {4, 11}}));
    }
    RC_ASSERT(solid::difference(other, read(step)) != "");
  };
  const auto result = rc::detail::checkTestable(property, rc::detail::TestMetadata(), params);
  std::ostringstream told;
  rc::detail::printResultMessage(result, told);
  EXPECT_TRUE(result.template is<rc::detail::SuccessResult>()) << told.str();
  std::cout << told.str() << " (seed " << params.seed << ")\n";
}

}  // namespace
}  // namespace groovewright
