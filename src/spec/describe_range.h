// describe_range.h: the one description of the range document, for the reader and the schema writer (describe.h).
#pragma once

#include "describe_drive.h"
#include "groovewright/spec/range.h"

namespace groovewright::spec {

inline constexpr std::array kCompressions{Choice{"internal", AirCompression::internal},
                                          Choice{"external", AirCompression::external}};
inline constexpr auto kPart = Bounds{0.0, 1.0};
inline constexpr auto kGauge = Bounds{0.0, 0.5};  // MPa

template <class V>
void describe(V& v, RangeSteps& s) {
  v.ratios("overdrives", s.overdrives, kMaxOptions, {-0.9, 9.0}, "against the reference pulley, on the pitch line");
  v.lengths("effective_diameters", s.effective_diameters, kMaxOptions, "d_e of the pulley");
  v.numbers("speed_ratios", s.speed_ratios, kMaxOptions, {0.05, 20}, "driven speed over the driver's");
  v.exactly_one({"overdrives", "effective_diameters", "speed_ratios"});
}
template <class V>
void describe(V& v, RangeEngine& s) {
  v.measured("displacement", s.displacement, Measure::volume, {10, 1e5}, "of all cylinders");
  v.count("strokes", s.strokes, 2, 4, "of a cycle: 2 or 4");
  v.required({"displacement"});
}
template <class V>
void describe(V& v, RangeBlower& s) {
  v.measured("displacement", s.displacement, Measure::volume, {10, 1e5}, "swept in one turn of its own shaft");
  v.choice("compression", s.compression, kCompressions, "within the blower, or by what flows back when it opens");
  v.ratio("filling", s.filling, {0.3, 1.1}, "of its displacement, at no pressure rise");
  v.ratio("leak", s.leak, {0.0, 0.6}, "filling lost a unit of pressure ratio, at the reference speed");
  v.ratio("speed_loss", s.speed_loss, {0.0, 0.3}, "filling lost to port time at the reference speed; with its square");
  v.ratio("isentropic", s.isentropic, {0.3, 1.0}, "efficiency of internal compression");
  v.ratio("mechanical", s.mechanical, {0.5, 1.0}, "efficiency from shaft to rotors");
  v.required({"displacement", "compression"});
}
template <class V>
void describe(V& v, RangeReference& s) {
  v.speed("at", s.at, kRpm, "engine speed of the measurement");
  v.measured("pressure", s.pressure, Measure::pressure, kGauge, "charge pressure over ambient, as measured");
  v.measured("crank_power", s.crank_power, Measure::power, {1, 1e7}, "at the crank, as measured");
  v.length("effective_diameter", s.effective_diameter, "of the pulley that it was measured with");
  v.required({"at", "pressure", "effective_diameter"});
}
template <class V>
void describe(V& v, RangeCooler& s) {
  v.ratio("effectiveness", s.effectiveness, kPart, "of the way from the charge's heat to the coolant's");
  v.measured("coolant", s.coolant, Measure::temperature, {-40, 150}, "temperature of the coolant or the air on it");
  v.required({"effectiveness", "coolant"});
}
template <class V>
void describe(V& v, RangeInlet& s) {
  v.measured("free_loss", s.free_loss, Measure::pressure, {0.0, 0.05},
             "filter and ducts at best, at the measured flow");
  v.measured("restricted_loss", s.restricted_loss, Measure::pressure, {0.0, 0.05}, "at worst, at the measured flow");
}
template <class V>
void describe(V& v, RangeCharge& s) {
  v.object("engine", s.engine, "what breathes");
  v.object("blower", s.blower, "what fills it");
  v.object("reference", s.reference, "what was measured, and with which pulley");
  v.object("cooler", s.cooler, "charge cooler, where there is one");
  v.object("inlet", s.inlet, "pressure lost before the blower");
  v.object("ambient", s.ambient, "as in the drive document; 1013 hPa and 20 °C where neither has it");
  v.measured("bypass", s.bypass, Measure::pressure, kGauge, "charge pressure at which the bypass opens");
  v.ratio("driveline", s.driveline, {0.5, 1.0}, "of the crank's power that reaches the wheels");
  v.required({"engine", "blower", "reference"});
}
template <class V>
void describe(V& v, RangeSupport& s) {
  v.word("part", s.part, "what must go with it");
  v.ratio("overdrive_over", s.overdrive_over, {-0.9, 9.0}, "due above this overdrive");
  v.measured("pressure_over", s.pressure_over, Measure::pressure, kGauge, "due above this charge pressure");
  v.speed("speed_over", s.speed_over, kRpm, "due above this speed of the driven shaft");
  v.flag("modification", s.modification, "true where metal of the car must be changed for it");
  v.required({"part"});
  v.exactly_one({"overdrive_over", "pressure_over", "speed_over"});
}

template <class V>
void describe(V& v, Range& s) {
  v.name("range", s.name, "name of the range and of its folder");
  v.word("title", s.title, "one line for people");
  v.units("units", "unit of lengths that have none");
  v.word("base", s.base, "the pulley document that each option is a size of, its path from this file");
  v.word("drive", s.drive, "the drive document, its path from this file");
  v.word("pulley", s.pulley, "name of that pulley in the drive");
  v.word("driven", s.driven, "name of the pulley whose speed counts");
  v.object("steps", s.steps, "the options");
  v.object("charge", s.charge, "engine and blower, for an estimate of charge pressure and power");
  v.list("supports", s.supports, 0, kMaxSupports, "parts that larger steps need");
  v.required({"range", "base", "drive", "pulley", "driven", "steps"});
}

}  // namespace groovewright::spec
