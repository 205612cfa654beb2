// describe_drive.h: the one description of the drive document, for the reader and the schema writer (describe.h).
#pragma once

#include "bounds.h"
#include "groovewright/base/quantity.h"
#include "groovewright/spec/drive.h"

namespace groovewright::spec {

inline constexpr Bounds kPlace{-kMaxLength, kMaxLength};
inline constexpr Bounds kRpm{1, 200'000};
inline constexpr Bounds kSwing{-720.0, 720.0};
inline constexpr Bounds kShare{0.0, 1.0};

inline constexpr std::array kTurnings{Choice{"clockwise", Turning::clockwise},
                                      Choice{"counter-clockwise", Turning::counter_clockwise}};
inline constexpr std::array kTensioners{Choice{"arm", TensionerKind::arm},
                                        Choice{"eccentric", TensionerKind::eccentric},
                                        Choice{"slide", TensionerKind::slide}};

template <class V>
void describe(V& v, Lengths& s) {
  v.length("from", s.from, "shortest belt on offer");
  v.length("to", s.to, "longest belt on offer");
  v.length("step", s.step, "from one to the next");
  v.required({"from", "to", "step"});
}

template <class V>
void describe(V& v, BendingLoss& s) {
  v.measured("torque_per_rib", s.torque_per_rib, Measure::torque, {0.01, 1e5},
             "drag of one pulley with the belt bent round it, of one rib");
  v.length("pitch_diameter", s.pitch_diameter, "of the pulley that it was measured on, at the cord");
  v.required({"torque_per_rib", "pitch_diameter"});
}
template <class V>
void describe(V& v, DriveBelt& s) {
  v.named("section", s.section, &Names::sections, "PH, PJ, PK, PL or PM");
  v.count("ribs", s.ribs, 1, kMaxGrooves, "ribs of the belt");
  v.length("length", s.length, "effective length of the belt in hand");
  v.object("lengths", s.lengths, "belts on offer");
  v.lengths("catalogue", s.catalogue, kMaxLengths, "belts on offer, one by one");
  v.length("shorter", s.shorter, "tolerance of the length downwards", kSmall);
  v.length("longer", s.longer, "tolerance of the length upwards", kSmall);
  v.length("pitch_line_offset", s.pitch_line_offset, "b_e, effective line to cord, by the belt's maker", kSmall);
  v.length("cord_to_back", s.cord_to_back, "from the cord to the back", kSmall);
  v.length("height", s.height, "of the whole belt, the greatest", kSmall);
  v.measured("mass_per_rib", s.mass_per_rib, Measure::linear_mass, {1e-4, 1}, "of one rib's width");
  v.measured("stiffness_per_rib", s.stiffness_per_rib, Measure::force, {100, 1e6},
             "force that would double the length, of one rib's width");
  v.measured("measured_under_per_rib", s.measured_under_per_rib, Measure::force, {0, 1000},
             "force a rib and strand while the length is measured");
  v.ratio("stretch", s.stretch, {0.0, 0.05}, "lasting, over the belt's life");
  v.object("bending_loss", s.bending_loss, "what bending costs, where it was measured");
  v.measured("speed_max", s.speed_max, Measure::velocity, {1, 120}, "where the belt's maker allows another speed");
  v.word("speed_reason", s.speed_reason, "who allows it");
  v.required({"section", "ribs"});
  v.at_most_one({"length", "lengths", "catalogue"});
  v.together("speed_max", "speed_reason");
}

template <class V>
void describe(V& v, LoadPoint& s) {
  v.speed("at", s.at, {0, kRpm.most}, "speed of the driver, or the shaft's own with own_speed");
  v.measured("power", s.power, Measure::power, {0, 1e7}, "taken at this speed");
  v.measured("torque", s.torque, Measure::torque, {0, 1e9}, "taken at this speed");
  v.flag("own_speed", s.own_speed, "true where `at` is the driven shaft's own speed");
  v.required({"at"});
  v.exactly_one({"power", "torque"});
}

template <class V>
void describe(V& v, Bearing& s) {
  v.measured("radial_load", s.radial_load, Measure::force, {1, 1e6}, "the greatest that the belt may pull with");
  v.required({"radial_load"});
}
template <class V>
void describe(V& v, DrivePulley& s) {
  v.word("name", s.name, "as rows and pictures name it");
  v.point("at", s.at, "its middle, [x, y]: x right, y up, seen from the front");
  v.word("spec", s.spec, "a pulley document, its path from this file");
  v.count("rim", s.rim, 1, kMaxRims, "of that pulley, 1 is the rearmost; 1 where none is given");
  v.length("effective_diameter", s.effective_diameter, "d_e, ribs of the belt on it");
  v.length("outside_diameter", s.outside_diameter, "d_o, ribs of the belt on it");
  v.length("back_diameter", s.back_diameter, "of a flat pulley, back of the belt on it");
  v.count("grooves", s.grooves, 1, kMaxGrooves, "where it has more than the belt has ribs");
  v.flag("drives", s.drives, "true for the one that drives");
  v.length("flange_height", s.flange_height, "above d_o, or above the flat", {0, 1000});
  v.length("width", s.width, "of a flat");
  v.length("plane", s.plane, "Z of the belt's rearmost rib on it", kPlace);
  v.measured("inertia", s.inertia, Measure::inertia, {0, 1e9}, "of all that turns with it");
  v.speed("maximum_speed", s.maximum_speed, kRpm, "of its shaft");
  v.object("bearing", s.bearing, "what its shaft may carry");
  v.length("reference_effective_diameter", s.reference_effective_diameter,
           "of the pulley that overdrive is measured from");
  v.one_or_list("load", s.load, kMaxLoadPoints, "what its shaft takes, linear in torque between the speeds given");
  v.required({"name", "at"});
  v.exactly_one({"spec", "effective_diameter", "outside_diameter", "back_diameter"});
}

template <class V>
void describe(V& v, ArmAngle& s) {
  v.angle("free", s.free, kSwing, "with no belt, counter-clockwise from the right, seen from the front");
  v.angles("stops", s.stops, 2, "both ends of the swing", kSwing);
  v.required({"free", "stops"});
}
template <class V>
void describe(V& v, SlideTravel& s) {
  v.length("free", s.free, "with no belt, along 'direction' from 'pivot'", kPlace);
  v.lengths("stops", s.stops, 2, "both ends of the slide", kPlace);
  v.required({"free", "stops"});
}
template <class V>
void describe(V& v, Spring& s) {
  v.measured("torque", s.torque, Measure::torque, {1, 1e6}, "at 'free', towards it");
  v.measured("rate", s.rate, Measure::torque_rate, {0, 1e7}, "more of it away from 'free'");
  v.measured("force", s.force, Measure::force, {0.1, 1e5}, "of a slide at 'free', towards it");
  v.measured("force_rate", s.force_rate, Measure::force_rate, {0, 1e4}, "more of it away from 'free'");
  v.exactly_one({"torque", "force"});
}
template <class V>
void describe(V& v, Peg& s) {
  v.length("radius", s.radius, "from the pivot");
  v.angle("angle", s.angle, kTurn, "about the pivot, counter-clockwise from the right");
  v.named("thread", s.thread, &Names::threads, "of its hole, as M8");
  v.length("diameter", s.diameter, "of a plain hole");
  v.length("depth", s.depth, "of the hole");
  v.required({"radius", "angle"});
  v.exactly_one({"thread", "diameter"});
}
template <class V>
void describe(V& v, DriveTensioner& s) {
  v.word("name", s.name, "as rows and pictures name it");
  v.word("after", s.after, "the pulley that the belt leaves to meet it");
  v.choice("kind", s.kind, kTensioners, "arm where none is given");
  v.point("pivot", s.pivot, "of the arm, or where the slide begins, [x, y]");
  v.length("arm", s.arm, "pivot to the idler's middle");
  v.angle("direction", s.direction, kTurn, "of a slide, counter-clockwise from the right");
  v.length("back_diameter", s.back_diameter, "of its idler, flat");
  v.length("effective_diameter", s.effective_diameter, "of its idler, grooved");
  v.length("flange_height", s.flange_height, "of its idler", {0, 1000});
  v.length("width", s.width, "of its flat");
  v.length("plane", s.plane, "Z of the belt's rearmost rib on it", kPlace);
  v.length("arm_width", s.arm_width, "of the arm's body");
  v.speed("maximum_speed", s.maximum_speed, kRpm, "of its idler");
  v.object("bearing", s.bearing, "what its idler may carry");
  v.object("angle", s.angle, "where the arm rests and stops");
  v.object("travel", s.travel, "where a slide rests and stops");
  v.object("spring", s.spring, "what presses it on the belt");
  v.ratio("damping", s.damping, kShare, "friction, of the spring's effort");
  v.object("peg", s.peg, "the hole that locates its body");
  v.required({"after", "pivot", "spring"});
  v.exactly_one({"back_diameter", "effective_diameter"});
  v.exactly_one({"angle", "travel"});
  v.together("travel", "direction");
  v.together("angle", "arm");
}

template <class V>
void describe(V& v, Circle& s) {
  v.point("at", s.at, "its middle, [x, y]");
  v.length("diameter", s.diameter, "of the circle");
  v.required({"at", "diameter"});
}
template <class V>
void describe(V& v, DriveObstacle& s) {
  v.word("name", s.name, "as rows and pictures name it");
  v.object("circle", s.circle, "a round one");
  v.points("polygon", s.polygon, 3, kMaxCorners, "corners of another, in order");
  v.length("from", s.from, "its rearmost Z; endless where none is given", kPlace);
  v.length("to", s.to, "its foremost Z", kPlace);
  v.required({"name"});
  v.exactly_one({"circle", "polygon"});
}

template <class V>
void describe(V& v, Ambient& s) {
  v.measured("pressure", s.pressure, Measure::pressure, {0.03, 0.12}, "of the air around");
  v.measured("temperature", s.temperature, Measure::temperature, {-50, 60}, "of the air around");
}
template <class V>
void describe(V& v, Heat& s) {
  v.measured("working", s.working, Measure::temperature, {20, 250}, "of engine and pulleys, hot");
  v.measured("expansion", s.expansion, Measure::expansion, {1e-6, 1e-4},
             "of the metal that carries the pulleys: aluminium about 23.6 1e-6/K, grey iron about 10.5");
  v.required({"working", "expansion"});
}
template <class V>
void describe(V& v, Duty& s) {
  v.speed("lowest", s.lowest, kRpm, "of the driver");
  v.speed("highest", s.highest, kRpm, "of the driver");
  v.speeds("speeds", s.speeds, kMaxSpeeds, kRpm, "of the driver, rising, instead of a lowest and a highest");
  v.measured("speeding_up", s.speeding_up, Measure::spin_up, {0, 1e5}, "the driver's greatest, throttle opened");
  v.measured("slowing_down", s.slowing_down, Measure::spin_up, {0, 1e5}, "the driver's greatest, throttle closed");
  v.measured("peak", s.peak, Measure::plain, {1, 10}, "factor on the loads");
  v.ratio("overrun_load", s.overrun_load, kShare,
          "of the loads that is left with the throttle closed; 20 % where none is given");
  v.numbers("orders", s.orders, 16, {0.1, 100}, "of the driver's turning that shake the spans: 4 for a four-stroke V8");
  v.length("hot_growth", s.hot_growth, "by how much heat lengthens the belt's way", kSmall);
  v.object("heat", s.heat, "or what it is worked out from: places and sizes hold at 20 °C");
  v.measured("still_tension", s.still_tension, Measure::force, {0, 1e5},
             "of the belt at rest, set by hand where there is no tensioner");
  v.at_most_one({"lowest", "speeds"});
  v.at_most_one({"hot_growth", "heat"});
  v.together("lowest", "highest");
}

inline constexpr std::array kMerits{Choice{"travel", Merit::travel}, Choice{"grip", Merit::grip},
                                    Choice{"room", Merit::room}};

template <class V>
void describe(V& v, Vary& s) {
  v.word("name", s.name, "a pulley, or the tensioner");
  v.lengths("effective_diameters", s.effective_diameters, kMaxChoices, "of a grooved one");
  v.lengths("back_diameters", s.back_diameters, kMaxChoices, "of a flat one");
  v.points("places", s.places, 1, kMaxChoices, "where its middle (the tensioner's pivot) may stand, [[x, y], …]");
  v.required({"name"});
  v.at_most_one({"effective_diameters", "back_diameters"});
}
template <class V>
void describe(V& v, ClockSweep& s) {
  v.angle("from", s.from, kTurn, "least turn of the body, counter-clockwise");
  v.angle("to", s.to, kTurn, "greatest turn");
  v.angle("step", s.step, {0.01, 360.0}, "from one to the next");
  v.required({"from", "to", "step"});
}
template <class V>
void describe(V& v, Search& s) {
  v.object("clock", s.clock, "turns of the tensioner's body about its pivot, free and stops together");
  v.list("vary", s.vary, 1, kMaxVaried, "what else may change");
  v.choice("merit", s.merit, kMerits, "what ranks those that meet all limits: travel left, grip, or belt room");
  v.count("keep", s.keep, 1, kMaxKept, "how many are listed; 20 where none is given");
}

template <class V>
void describe(V& v, Drive& s) {
  v.name("drive", s.name, "name of the drive and of its folder");
  v.word("title", s.title, "one line for people");
  v.units("units", "unit of lengths that have none");
  v.object("belt", s.belt, "the belt");
  v.choice("turns", s.turns, kTurnings, "the driver, seen from the front");
  v.list("pulleys", s.pulleys, 2, kMaxPulleys, "in the order in which the belt meets them after leaving the driver");
  v.object("tensioner", s.tensioner, "what keeps the belt tight");
  v.list("obstacles", s.obstacles, 0, kMaxObstacles, "what the belt must clear");
  v.object("duty", s.duty, "speeds and loads");
  v.object("ambient", s.ambient, "the coldest that it starts in, for 'heat'; also of a range's charge");
  v.measured("design_ratio", s.design_ratio, Measure::plain, {1.1, 20},
             "tight over slack tension allowed at 180 deg on ribs");
  v.object("search", s.search, "belts, sizes and places to try");
  v.required({"drive", "belt", "turns", "pulleys"});
}

}  // namespace groovewright::spec
