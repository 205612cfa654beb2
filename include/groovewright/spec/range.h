// range.h: the range document as the person wrote it: one base pulley in one drive, steps of size, and what each step
// asks of the parts around it. Nothing is filled in.
//
// Lengths mm, ratios 1, pressures MPa, temperatures °C, power W, displacements cm³, speeds rpm.
#pragma once

#include "groovewright/spec/drive.h"

namespace groovewright::spec {

inline constexpr int kMaxOptions = 64;
inline constexpr int kMaxSupports = 32;

enum class AirCompression { internal, external };

struct RangeSteps {
  Place place;
  std::vector<Written<double>> overdrives, effective_diameters, speed_ratios;
};
struct RangeEngine {
  Place place;
  Maybe<double> displacement;
  Count strokes;
};
struct RangeBlower {
  Place place;
  Maybe<double> displacement;
  Maybe<AirCompression> compression;
  Ratio filling, leak, speed_loss, isentropic, mechanical;
};
struct RangeCooler {
  Place place;
  Ratio effectiveness;
  Maybe<double> coolant;
};
struct RangeInlet {
  Place place;
  Maybe<double> free_loss, restricted_loss;
};
struct RangeReference {
  Place place;
  Maybe<double> at, pressure, crank_power;
  Length effective_diameter;
};
struct RangeCharge {
  Place place;
  std::optional<RangeEngine> engine;
  std::optional<RangeBlower> blower;
  std::optional<RangeReference> reference;
  std::optional<RangeCooler> cooler;
  std::optional<RangeInlet> inlet;
  std::optional<Ambient> ambient;  ///< each value as in the drive where none is given
  Maybe<double> bypass;
  Ratio driveline;
};
/// A part that an option needs, and from where on.
struct RangeSupport {
  Place place;
  Word part;
  Ratio overdrive_over;
  Maybe<double> pressure_over, speed_over;
  Flag modification;
};

struct Range {
  std::string file;
  Word name, title;
  Word base, drive, pulley, driven;
  std::optional<RangeSteps> steps;
  std::optional<RangeCharge> charge;
  std::vector<RangeSupport> supports;
};

/// Reads a range document. nullopt when anything is wrong; then every mistake found is in `diagnostics`.
[[nodiscard]] std::optional<Range> read_range(const TextFile& file, Diagnostics& diagnostics);
[[nodiscard]] std::string range_schema(const Names& known);

}  // namespace groovewright::spec
