#include "groovewright/drive/charge.h"

#include <algorithm>

#include "groovewright/base/trig.h"

namespace groovewright::drive {
namespace {

constexpr double kSecondsPerMinute = 60;
constexpr double kPascal = 1000;      // a kPa
constexpr double kCubicMetre = 1e-6;  // a cm³
constexpr int kHalvings = 60;

double density(double pressure, double temperature) { return pressure * kPascal / (kGasConstant * temperature); }

double swept(const Blower& b, double rpm) { return b.displacement * kCubicMetre * rpm / kSecondsPerMinute; }

/// The root of a rising function between two bounds.
template <class F>
double root(double low, double high, const F& rising) {
  for (int i = 0; i < kHalvings; ++i) {
    const double middle = (low + high) / 2;
    (rising(middle) > 0 ? high : low) = middle;
  }
  return (low + high) / 2;
}

/// What leaves the blower, and what that takes.
struct Delivered {
  double air = 0, temperature = 0, shaft = 0;
};

class Flow {
 public:
  Flow(const Breathing& given, double air_measured, double blower_rpm)
      : g_(given), air_measured_(air_measured), rpm_(blower_rpm) {}

  [[nodiscard]] double inlet(double air) const {
    const double share = air_measured_ > 0 ? air / air_measured_ : 1;
    return g_.around.pressure - g_.inlet_loss * share * share;
  }
  [[nodiscard]] double filled(double inlet, double outlet) const {
    const double reference = g_.measured.rpm * g_.measured.speed_ratio, share = rpm_ / reference;
    const Blower& b = g_.blower;
    // Clearances leak the same each second, so a faster turn loses less of its sweep.
    return b.filling - b.leak * (outlet / inlet - 1) / share - b.speed_loss * share * share;
  }
  [[nodiscard]] double delivery(double inlet, double outlet) const {
    return std::max(0.0, density(inlet, g_.around.temperature) * swept(g_.blower, rpm_) * filled(inlet, outlet));
  }
  /// Against a pressure behind it.
  [[nodiscard]] Delivered against(double outlet) const {
    const double most = density(g_.around.pressure, g_.around.temperature) * swept(g_.blower, rpm_) * g_.blower.filling;
    // More air lowers the pressure before the blower, and that the delivery: one root.
    const double air = root(0, most, [&](double m) {
      const double p = inlet(m);
      return p <= 0 ? 1.0 : m - delivery(p, outlet);
    });
    return worked(air, inlet(air), outlet);
  }
  [[nodiscard]] Delivered worked(double air, double inlet_pressure, double outlet) const {
    const Blower& b = g_.blower;
    const double cold = g_.around.temperature;
    if (air <= 0) return {0, cold, 0};
    double heat = 0;
    if (b.compression == Compression::external) {
      heat = swept(b, rpm_) * (outlet - inlet_pressure) * kPascal;
    } else {
      heat = air * kHeatOfAir * (compressed(cold, std::max(1.0, outlet / inlet_pressure), b.isentropic) - cold);
    }
    return {air, cold + heat / (air * kHeatOfAir), heat / b.mechanical};
  }
  [[nodiscard]] double cooled(double temperature) const {
    const Surroundings& s = g_.around;
    return temperature - s.cooler_effectiveness * std::max(0.0, temperature - s.coolant_temperature);
  }

 private:
  const Breathing& g_;
  double air_measured_, rpm_;
};

}  // namespace

double compressed(double temperature, double pressure_ratio, double isentropic) {
  const double exponent = (kAdiabaticExponent - 1) / kAdiabaticExponent;
  return temperature * (1 + (power_of(pressure_ratio, exponent) - 1) / isentropic);
}

double swallowed(double pressure, double temperature, double displacement, double rpm, int strokes, double filling) {
  const double cycles = rpm / kSecondsPerMinute / (strokes / 2.0);
  return density(pressure, temperature) * displacement * kCubicMetre * cycles * filling;
}

std::optional<Calibrated> calibrated(const Breathing& given) {
  const Measured& m = given.measured;
  const Flow flow(given, 0, m.rpm * m.speed_ratio);
  const double before = flow.inlet(0), behind = given.around.pressure + m.gauge;
  if (before <= 0) return std::nullopt;
  const Delivered d = flow.worked(flow.delivery(before, behind), before, behind);
  if (d.air <= 0) return std::nullopt;
  const double whole =
      swallowed(behind, flow.cooled(d.temperature), given.engine.displacement, m.rpm, given.engine.strokes, 1);
  return Calibrated{given, d.air / whole, d.air, d.shaft};
}

ChargeState at(const Calibrated& c, double speed_ratio, double rpm) {
  const Breathing& g = c.given;
  const Flow flow(g, c.air, rpm * speed_ratio);
  const auto engine = [&](double pressure, double temperature) {
    return swallowed(pressure, temperature, g.engine.displacement, rpm, g.engine.strokes, c.filling);
  };
  constexpr double kMostRatio = 6;
  double pressure = root(0.2 * g.around.pressure, kMostRatio * g.around.pressure, [&](double p) {
    const Delivered d = flow.against(p);
    return engine(p, flow.cooled(d.temperature)) - d.air;
  });
  const double limit = g.around.pressure + g.around.bypass_gauge;
  const bool bypasses = g.around.bypass_gauge > 0 && pressure > limit;
  if (bypasses) pressure = limit;
  const Delivered d = flow.against(pressure);
  ChargeState s{pressure - g.around.pressure, flow.cooled(d.temperature), 0, d.shaft, rpm * speed_ratio, bypasses, 0};
  s.air = engine(pressure, s.temperature);
  // Work of the gas goes with the air; what the blower takes comes off it.
  if (g.measured.crank_power > 0) {
    s.crank_power = (g.measured.crank_power + c.shaft) * s.air / c.air - s.shaft_power;
  }
  return s;
}

}  // namespace groovewright::drive
