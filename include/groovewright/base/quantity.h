// quantity.h: what a person writes ("3/16 in", "6-1/2 in", "24 %", "50 um") as a number in our units.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace groovewright {

/// What a quantity measures, and the unit it is kept in.
enum class Measure {
  length,       // mm    from mm cm m um in "
  angle,        // rad   from deg ° rad
  ratio,        // 1     from %, a plain number, or one over another ("1/10", "1:10")
  speed,        // rpm   from rpm 1/min
  torque,       // N mm  from N m, N mm, Nm
  pressure,     // MPa   from MPa GPa kPa Pa psi bar
  temperature,  // °C    from °C degC
  power,        // W     from W kW hp
  density,      // kg/mm³ from g/cm3 kg/m3
  expansion,    // 1/K   from 1e-6/K um/m/K 1/K
  torque_rate,  // N mm/rad from N m/deg N m/rad
  force,        // N     from N kN
  force_rate,   // N/mm
  inertia,      // kg mm² from kg m2 kg cm2 kg mm2
  linear_mass,  // kg/m  from kg/m g/m
  velocity,     // m/s
  spin_up,      // rad/s² from rpm/s rad/s2
  volume,       // cm³   from cm3 L
  plain,        // 1     a number without unit
};

enum class QuantityError { none, not_a_number, missing_unit, wrong_unit };

struct Quantity {
  double value = 0;
  QuantityError error = QuantityError::none;
};

/// Reads `text`. A bare number is a length only where `bare_length_unit` ("mm" or "in") is given; a bare ratio and a
/// plain number need no unit. Inches take fractions and mixed numbers ("5/8 in", "6-1/2 in", "6 1/2 in"). A decimal
/// comma, NaN, infinity, hexadecimal and anything past the end of the unit is `not_a_number`.
[[nodiscard]] Quantity read_quantity(std::string_view text, Measure measure, std::string_view bare_length_unit = {});

/// "mm, cm, m, um or in": what may be written for this measure, for messages.
[[nodiscard]] std::string allowed_units(Measure measure);
/// Every unit that is taken, silent spellings too; empty for a plain number.
[[nodiscard]] std::vector<std::string> unit_names(Measure measure);
/// "12 mm": an example of a well-written value, for messages.
[[nodiscard]] std::string example_of(Measure measure);
/// A value kept in our unit in the first that people may write, with that unit's name, for messages: 28000 N mm is
/// 28 "N m".
[[nodiscard]] std::pair<double, std::string> in_first_unit(double value, Measure measure);

}  // namespace groovewright
