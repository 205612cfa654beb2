// loads.h: tensions round the path, grip, shaft loads, span frequencies.
//
// A belt's tension is T = T' + m v². T' is what presses on rims: grip, shaft loads and the arm's equilibrium use it. T
// is what the belt carries: strength and span frequency use it. A tensioner sets T' on both of its spans, whatever the
// speed; that other spans stretch under load and let the arm follow is left out. Forces N, torques N mm, speeds m/s.
// Start here: `load_case`.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "groovewright/base/units.h"
#include "groovewright/drive/swing.h"

namespace groovewright::drive {

/// m v², m in kg/m and v in m/s.
[[nodiscard]] double centrifugal_tension(double mass, double speed);
/// Friction of ribs or a V in a groove with this included angle: divided by the sine of half of it.
[[nodiscard]] double wedged_friction(double friction, Angle groove);
/// Greatest T'1/T'2 over a wrap, exp(friction × wrap), wrap in rad.
[[nodiscard]] double capstan_ratio(double friction, double wrap);
/// What a ratio allowed at 180° allows at another wrap: its logarithm goes with the wrap.
[[nodiscard]] double ratio_at_wrap(double ratio_at_half_turn, double wrap);

/// What round i's shaft takes at a speed of the driver, with neither peak nor inertia; 0 for an idler. nullopt outside
/// the speeds for which its load is given.
[[nodiscard]] std::optional<double> load_torque(const Drive& drive, const Course& course, std::size_t i,
                                                double driver_rpm);
/// The speeds of the driver, first and last, within which all loads are given; (0, infinity) where there are none.
struct SpeedRange {
  double first = 0, last = kUnlimited;
};
[[nodiscard]] SpeedRange known_speeds(const Drive& drive, const Course& course);

/// Drive: loads × peak, all inertia speeding up. Overrun: what is left of the loads, less the inertia that runs on.
enum class Way { drive, overrun };

/// Buffers that `load_case` fills; reuse them.
struct LoadCase {
  double driver_rpm = 0;
  Way way = Way::drive;
  double speed = 0;             ///< of the belt
  double centrifugal = 0;       ///< m v²
  std::vector<double> torque;   ///< taken by each round; the driver gives, so its own is below 0 in drive
  std::vector<double> tension;  ///< T' of each span
};

/// Tensions where the tensioner sets T' to `set`; without one, `set` is the mean tension T over the spans of the belt
/// standing still, which centrifugal tension then eats up. False where a load is not known at this speed.
[[nodiscard]] bool load_case(const Drive& drive, const Course& course, const Route& route, double driver_rpm, Way way,
                             double set, LoadCase& out);

/// How a round holds the belt. Ratios of T'.
struct Hold {
  double ratio = 1;       ///< tight over slack; infinite where the slack side would hang loose
  double allowed = 1;     ///< design ratio at its wrap
  double margin = 0;      ///< allowed / ratio: slips below 1
  double wet_margin = 0;  ///< with what friction is left when wet
  double bare = 1;        ///< capstan with bare friction, for a note
  double set_needed = 0;  ///< the least `set` at which the margin is 1
};
[[nodiscard]] Hold hold(const Drive& drive, const Course& course, const Route& route, const LoadCase& load, double set,
                        std::size_t i);

/// The belt's pull on the shaft of round i: T'_out along what leaves it, T'_in back along what arrives.
[[nodiscard]] Vec2 shaft_load(const Course& course, const Route& route, const LoadCase& load, std::size_t i);

/// What bending the belt costs, W: of each round and in all. Every metre of belt that passes a round is bent to the
/// cord's curvature 1/r and straightened again; by the cord's and rubber's hysteresis a share of the elastic energy,
/// EI/(2 r²) a metre, is lost. So the drag torque of a round goes with 1/r, as measured on V-belts (Childs and Cowburn,
/// losses in V-belt drives, 1987; title from memory), and the power with v/r². Bends to either side cost alike,
/// and every bend is taken for a full one, which a small wrap is not: own model, an upper figure.
struct BendingLoss {
  double driver_rpm = 0;
  std::vector<double> rounds;
  double total = 0;
};
/// Requires: `Belt::bending_loss` is known.
[[nodiscard]] BendingLoss bending_loss(const Drive& drive, const Course& course, double driver_rpm);

/// Of a running span: (c² - v²)/(2 L c), c = sqrt(T/m). Hz; 0 where v >= c, that is T' <= 0. `pull` is T' (N), mass
/// kg/m, speed m/s, length mm.
[[nodiscard]] double span_frequency(double pull, double mass, double speed, double length);

/// The map of span frequencies over speed: one line a span.
struct FrequencyPoint {
  double driver_rpm = 0;
  Band frequency;  ///< over the tensioner's friction, Hz
};
struct FrequencyLine {
  std::size_t span = 0;
  std::vector<FrequencyPoint> points;
};
/// Where a span's middle frequency meets an order of the driver.
struct Meeting {
  std::size_t span = 0;
  double order = 0, driver_rpm = 0, frequency = 0;
  std::string span_name = {}, order_name = {};  ///< "crank to arm", "4"
};
struct FrequencyMap {
  std::vector<FrequencyLine> lines;
  std::vector<Meeting> meetings;  ///< by span, order, speed; between points on straight lines
};
/// Over the duty's speeds, `points` of them evenly from first to last (2 at least), in drive. Speeds at which a load is
/// not known are left out. `set` as for `load_case`.
[[nodiscard]] FrequencyMap frequency_map(const Drive& drive, const Course& course, const Route& route, const Band& set,
                                         int points);

}  // namespace groovewright::drive
