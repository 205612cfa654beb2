// ratios.h: who turns how fast. Ratios come from the cord, which neither stretches nor shortens in a bend.
#pragma once

#include "groovewright/drive/route.h"

namespace groovewright::drive {

/// Own speed over the driver's: cord radius of the driver over its own. Always positive.
[[nodiscard]] double speed_ratio(const Drive& drive, const Course& course, std::size_t i);
/// The same with another b_e, where two standards of one groove disagree.
[[nodiscard]] double speed_ratio_at(const Drive& drive, const Course& course, std::size_t i, double line_to_cord);
/// True where round i turns as the driver does.
[[nodiscard]] bool turns_with_driver(const Course& course, std::size_t i);
/// How much faster round i turns than with the reference radii of itself and of the driver: 0.24 for 24 %.
[[nodiscard]] double overdrive(const Drive& drive, const Course& course, std::size_t i);
/// Of the cord, m/s.
[[nodiscard]] double belt_speed(const Drive& drive, const Course& course, double driver_rpm);
/// How often each piece of the belt is bent, per second: rounds × belt speed / pitch length.
[[nodiscard]] double bends_per_second(const Drive& drive, const Course& course, double pitch_length, double driver_rpm);

}  // namespace groovewright::drive
