// toolpath.h: how a pulley is cut: clampings, tools and cuts from its outline, as scripts for room `nc`.
//
// Lengths mm; half plane x = Z, y = radius. In a clamping's own half plane ("program") the chuck is on the left, the
// free side on the right, and z = 0 is the finished face that stands farthest to the right. Start here: `plan`.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "groovewright/base/diagnostics.h"
#include "groovewright/base/rows.h"
#include "groovewright/catalog.h"
#include "groovewright/catalog/shop.h"
#include "groovewright/nc.h"
#include "groovewright/part.h"
#include "groovewright/plane.h"
#include "groovewright/section.h"

namespace groovewright::toolpath {

/// A lathe tool in the half plane, about its nose's centre (a blade: the centre of its left corner's, axial: of
/// the one at the axis; a drill: its point). Paths closed, ccw, convex.
struct Shape {
  std::vector<plane::Path> cutting, holder;
  /// The point that programs steer, seen from the nose's centre: the imaginary tip, where both tangents of the nose
  /// along the axes meet; on a nose that points along an axis, its foremost point.
  plane::Vec2 steered;
};
[[nodiscard]] Shape shape(const catalog::TurningTool& tool, bool steers_nose_centre);

struct Station {
  int number = 1;
  catalog::TurningTool tool;
};
struct MillStation {
  int number = 1;
  catalog::MillingTool tool;
};

enum class Held { chuck, mandrel, plug };
struct Operation {
  std::string name;
  int station = 0;
  double speed = 0, feed = 0, depth = 0;  ///< m/min; mm a turn; mm
  std::string why;                        ///< "" where it goes without saying
  double rz = 0;                          ///< mm, ridges that finishing leaves, in theory; 0: none are promised
};
/// One clamping on the lathe.
struct Turning {
  std::string id;       ///< "op10"
  bool turned = false;  ///< program z = -part z + shift, else part z + shift
  double shift = 0;
  Held held = Held::chuck;
  std::string how, why;                                         ///< how the part is held, and why so
  double grip_diameter = 0, grip_length = 0, standing_out = 0;  ///< in jaws; the last from there to the raw face
  std::vector<plane::Path> keep_out;                            ///< program
  std::optional<double> sawn;  ///< part z: what lies beyond, on the free side, is sawn off first
  double max_rpm = 0;
  std::string max_rpm_why;
  plane::Vec2 low, high;  ///< travels of the steered point, program (z, radius)
  nc::Script script;
  std::vector<Operation> operations;
  std::vector<std::string> warnings;
};
/// One clamping on the mill; program x, y as seen on the face that is up, z = 0 on it.
struct Milling {
  std::string id;
  bool rear_up = false;
  double face = 0;  ///< part z of z = 0
  nc::Script script;
  std::vector<Operation> operations;
};

/// What there is to work with.
struct Choice {
  catalog::Machine lathe, mill;
  catalog::Chuck chuck;
  catalog::CuttingData cutting;
  catalog::Shop shop;  ///< the tools that may be used
  struct Stock {
    Place place;
    std::optional<part::StockForm> form;
    std::optional<double> diameter, length, bore;
  } stock;  ///< what is given; the rest is chosen
};
/// All that leads from the stock to the part.
struct Plan {
  catalog::Machine lathe, mill;
  catalog::Chuck chuck;
  catalog::CuttingData cutting;
  plane::Path stock;  ///< closed, ccw, part
  std::string stock_words;
  double stock_diameter = 0, stock_length = 0;
  std::vector<Station> stations;
  std::vector<MillStation> mill_stations;
  std::vector<Turning> turnings;
  std::vector<Milling> millings;
  std::vector<std::string> order;   ///< ids in the order of work
  std::vector<std::size_t> partly;  ///< edges of the section that no nose reaches whole
};

/// Greatest feed a turn at which a nose leaves ridges of `rz`: Rz = f² / 8r. All mm.
[[nodiscard]] double feed_for(double rz, double nose_radius);
/// The ridges that it leaves, mm: f² / 8r, a parabola for the nose's circle. A square-nosed blade: r of its corners.
[[nodiscard]] double ridges(double feed, double nose_radius);
/// The Rz of such ridges whose Ra is given, the same unit: arcs of a parabola deviate by 4 / (9 sqrt 3) of their height
/// on average (closed form), so 3.9 Ra; practice counts on 4 to 6.3 (from memory), and the least is on the safe side.
[[nodiscard]] double rz_of_ra(double ra);
/// Spindle speed, rpm: 1000 v / (pi d), never above `max_rpm`. v in m/min, d in mm.
[[nodiscard]] double spindle_speed(double m_per_min, double diameter, double max_rpm);
/// Power at the spindle, W: v f a kc / 60. v in m/min, f and a in mm, kc in N/mm².
[[nodiscard]] double cutting_power(double m_per_min, double feed, double depth, double specific_force);
/// Torque of a drill of two lips in a hole of diameter `core` (0: solid metal), N m: kc f (D² - d²) / 8000 (handbooks'
/// formula, from memory). f in mm a turn, diameters in mm, kc in N/mm². Countersinks and reamers cut in the same way.
[[nodiscard]] double drilling_torque(double feed, double diameter, double core, double specific_force);
/// Torque of a sharp tap, N m: kc p² d / 8000 (from memory); a blunt one takes up to twice that (from memory). mm,
/// N/mm².
[[nodiscard]] double tapping_torque(double pitch, double diameter, double specific_force);
/// Power of an end mill, W: kc ap ae vf / 60000 (handbooks' formula, from memory). vf in mm/min, ap and ae in mm.
[[nodiscard]] double milling_power(double feed_rate, double depth, double width, double specific_force);

/// Plans and writes all programs. nullopt where the shop can't make the part; then `diagnostics` says which tool, stock
/// or machine would do.
[[nodiscard]] std::optional<Plan> plan(const part::Part& part, const section::Section& section, const Choice& choice,
                                       Diagnostics& diagnostics);

}  // namespace groovewright::toolpath
