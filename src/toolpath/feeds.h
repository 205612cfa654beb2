// feeds.h: inside room `toolpath`: feeds and speeds: the cutting data, what roughness wants, what tool and machine
// bear.
#pragma once

#include <string>

#include "groovewright/toolpath.h"

namespace groovewright::toolpath {

/// What the shop gives for one job: speed m/min, feed mm a turn, depth mm.
struct Conditions {
  double speed = 0, feed = 0, depth = 0;
  double rz = 0;        ///< mm, ridges that finishing leaves, in theory; 0 while roughing
  std::string why;      ///< what holds the feed, the depth or the speed below the data's; "" where nothing does
  std::string warning;  ///< what the tool or the machine can't give; "" where they can
  std::string lacks;    ///< drills: why the machine can't turn it, and which could; "" where it can
};
/// Cutting data of one of `catalog::kWorks`, within what the tool bears and the machine's power and torque. "finish"
/// and "profile" feed no more than leaves ridges of `rz`, mm; 0: of the data's.
[[nodiscard]] Conditions conditions(const Plan& plan, const std::string& work, const catalog::TurningTool& tool,
                                    double rz = 0);

/// Cutting force that the lathe gives at this speed, N, within its power and torque. Torque counts most on the blank's
/// outside, where the spindle is slowest. m/min.
[[nodiscard]] double force_at(const Plan& plan, double speed);

/// A tool on its own axis: its torque grows with its feed.
struct Turned {
  double rpm = 0, feed = 0;  ///< mm a turn
  double torque_a_feed = 0;  ///< N m for each mm of feed a turn
  double least_feed = 0;     ///< below it the tool rubs; a tap's is its pitch
};
/// The tool as the spindle can turn it: first slower, where that gives more torque, then fed less. `lacks` where even
/// the least feed is too much: "needs 12 N m …".
struct Driven {
  double rpm = 0, feed = 0;
  std::string lacks;
};
[[nodiscard]] Driven driven(const catalog::Machine& machine, const Turned& wanted);

}  // namespace groovewright::toolpath
