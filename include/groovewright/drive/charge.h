// charge.h: charge pressure and crank power of an engine with a positive-displacement blower on its belt: an estimate
// from the balance of air, calibrated to the pressure that the person measured. Start with `calibrated`, then `at`.
//
// The blower sweeps a volume a turn; the engine swallows one a cycle. Both leak or fill badly by stated shares, so the
// pressure between them settles where the two air flows agree. Pressures kPa absolute unless "gauge" is said,
// temperatures K, air kg/s, power W, displacements cm³, speeds rpm.
#pragma once

#include <optional>
#include <string>

#include "groovewright/catalog.h"

namespace groovewright::drive {

/// Dry air as an ideal gas: textbook values.
inline constexpr double kGasConstant = 287.05;  ///< J/(kg K)
inline constexpr double kHeatOfAir = 1005;      ///< J/(kg K), at constant pressure
inline constexpr double kAdiabaticExponent = 1.4;

/// Temperature behind a compression to `pressure_ratio` >= 1 with this isentropic efficiency in (0, 1].
[[nodiscard]] double compressed(double temperature, double pressure_ratio, double isentropic);
/// Air per second of an engine that breathes in `strokes` (2 or 4) a cycle.
[[nodiscard]] double swallowed(double pressure, double temperature, double displacement, double rpm, int strokes,
                               double filling);

/// Where the air is compressed: within the blower, or by the charge that flows back when it opens.
enum class Compression { internal, external };

struct Engine {
  double displacement = 0;
  int strokes = 4;
};
struct Blower {
  double displacement = 0;  ///< a turn of its own
  Compression compression = Compression::external;
  double filling = 0;     ///< of its displacement, at no pressure rise and its reference speed
  double leak = 0;        ///< filling lost per unit of pressure ratio above 1, at its reference speed
  double speed_loss = 0;  ///< filling lost to short port times at its reference speed; grows with speed squared
  double isentropic = 0;  ///< of internal compression
  double mechanical = 0;  ///< shaft to rotors
};
/// What stands around both.
struct Surroundings {
  double pressure = 101.325, temperature = 293.15;
  double cooler_effectiveness = 0;  ///< 0: no intercooler
  double coolant_temperature = 0;
  double bypass_gauge = 0;  ///< the bypass opens at this gauge pressure; 0: there is none
};
/// What was measured with the reference pulley, at one engine speed.
struct Measured {
  double rpm = 0;
  double gauge = 0;        ///< charge pressure over ambient
  double speed_ratio = 0;  ///< blower over engine
  double crank_power = 0;  ///< 0: not measured
};

/// Everything settled; `inlet_loss` is what air filter and ducts cost at the measured flow. It grows with its square.
struct Breathing {
  Engine engine;
  Blower blower;
  Surroundings around;
  Measured measured;
  double inlet_loss = 0;
};

/// The engine's own filling, found from the measurement.
struct Calibrated {
  Breathing given;
  double filling = 0;  ///< of the engine's displacement with the charge's density
  double air = 0;      ///< at the measurement
  double shaft = 0;    ///< power taken from the belt there
};
/// Outside these an engine's filling contradicts the figures given: from memory.
inline constexpr double kLeastFilling = 0.6, kMostFilling = 1.25;
/// nullopt where no air would come through at all. Requires: all displacements and shares positive.
[[nodiscard]] std::optional<Calibrated> calibrated(const Breathing& given);

struct ChargeState {
  double gauge = 0;
  double temperature = 0;  ///< in the manifold
  double air = 0;          ///< through the engine
  double shaft_power = 0;  ///< taken from the belt
  double blower_rpm = 0;
  bool bypasses = false;
  double crank_power = 0;  ///< 0 where none was measured
};
/// Pressure found to this share of itself.
inline constexpr double kChargeError = 1e-9;
/// With another ratio of speeds, at an engine speed.
[[nodiscard]] ChargeState at(const Calibrated& c, double speed_ratio, double rpm);

}  // namespace groovewright::drive
