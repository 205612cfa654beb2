// drive.h: the drive document as the person wrote it: belt, pulleys in belt order, tensioner, obstacles, duty. Nothing
// is filled in; room `drive` settles it.
//
// Lengths mm, angles Angle, forces N, torques N mm, torque rates N mm/rad, inertia kg mm², power W, speeds rpm.
#pragma once

#include "groovewright/spec.h"

namespace groovewright::spec {

inline constexpr int kMaxPulleys = 64;
inline constexpr int kMaxObstacles = 64;
inline constexpr int kMaxCorners = 64;     ///< of an obstacle
inline constexpr int kMaxLengths = 1000;   ///< belts on offer
inline constexpr int kMaxLoadPoints = 64;  ///< of one shaft
inline constexpr int kMaxSpeeds = 200;
inline constexpr int kMaxVaried = 8;
inline constexpr int kMaxChoices = 200;  ///< of one value that a search may change
inline constexpr int kMaxKept = 200;

/// A place in the plane of the drive, mm: x right, y up, seen from the front.
struct Point {
  double x = 0, y = 0;
};

enum class Turning { clockwise, counter_clockwise };
enum class TensionerKind { arm, eccentric, slide };

struct Lengths {
  Place place;
  Length from, to, step;
};
/// What bending costs: the drag of one pulley that the belt bends round and leaves straight again.
struct BendingLoss {
  Place place;
  Maybe<double> torque_per_rib;
  Length pitch_diameter;  ///< of the pulley that it was measured on, at the cord
};
struct DriveBelt {
  Place place;
  Word section;
  Count ribs;
  Length length;  ///< effective, of the belt in hand
  std::optional<Lengths> lengths;
  std::vector<Written<double>> catalogue;
  Length shorter, longer;  ///< tolerance of the length
  Length pitch_line_offset, cord_to_back, height;
  Maybe<double> mass_per_rib, stiffness_per_rib, measured_under_per_rib;
  Ratio stretch;
  std::optional<BendingLoss> bending_loss;
  Maybe<double> speed_max;
  Word speed_reason;
};

struct LoadPoint {
  Place place;
  Maybe<double> at;
  Maybe<double> power, torque;
  Flag own_speed;
};
/// What carries a pulley's shaft.
struct Bearing {
  Place place;
  Maybe<double> radial_load;
};
struct DrivePulley {
  Place place;
  Word name, spec;
  std::optional<Written<Point>> at;
  Length effective_diameter, outside_diameter, back_diameter;
  Count grooves, rim;
  Flag drives;
  Length flange_height, width, plane;
  Maybe<double> inertia, maximum_speed;
  std::optional<Bearing> bearing;
  Length reference_effective_diameter;
  std::vector<LoadPoint> load;
};

struct ArmAngle {
  Place place;
  Turn free;
  std::vector<Written<Angle>> stops;
};
struct SlideTravel {
  Place place;
  Length free;
  std::vector<Written<double>> stops;
};
struct Spring {
  Place place;
  Maybe<double> torque, rate;       ///< arm, eccentric
  Maybe<double> force, force_rate;  ///< slide
};
struct Peg {
  Place place;
  Length radius;
  Turn angle;
  Word thread;
  Length diameter, depth;
};
struct DriveTensioner {
  Place place;
  Word name, after;
  Maybe<TensionerKind> kind;
  std::optional<Written<Point>> pivot;
  Length arm;
  Turn direction;
  Length back_diameter, effective_diameter;
  Length flange_height, width, plane, arm_width;
  Maybe<double> maximum_speed;
  std::optional<Bearing> bearing;
  std::optional<ArmAngle> angle;
  std::optional<SlideTravel> travel;
  std::optional<Spring> spring;
  Ratio damping;
  std::optional<Peg> peg;
};

struct Circle {
  Place place;
  std::optional<Written<Point>> at;
  Length diameter;
};
struct DriveObstacle {
  Place place;
  Word name;
  std::optional<Circle> circle;
  std::vector<Written<Point>> polygon;
  Length from, to;  ///< along Z
};

/// The air around, °C and MPa.
struct Ambient {
  Place place;
  Maybe<double> pressure, temperature;
};
/// The engine's own heat: how far the metal that carries the pulleys grows, with the pulleys.
struct Heat {
  Place place;
  Maybe<double> working;    ///< °C, engine hot
  Maybe<double> expansion;  ///< 1/K
};
struct Duty {
  Place place;
  Maybe<double> lowest, highest;
  std::vector<Written<double>> speeds;
  Maybe<double> speeding_up, slowing_down;  ///< rad/s²
  Maybe<double> peak;
  Ratio overrun_load;
  std::vector<Written<double>> orders;
  Length hot_growth;
  std::optional<Heat> heat;
  Maybe<double> still_tension;
};

/// What a search may change of one pulley or idler.
struct Vary {
  Place place;
  Word name;
  std::vector<Written<double>> effective_diameters, back_diameters;
  std::vector<Written<Point>> places;  ///< of its middle; of the tensioner's pivot
};
struct ClockSweep {
  Place place;
  Turn from, to, step;
};
enum class Merit { travel, grip, room };
struct Search {
  Place place;
  std::optional<ClockSweep> clock;  ///< of the tensioner's body about its pivot
  std::vector<Vary> vary;
  Maybe<Merit> merit;
  Count keep;
};

struct Drive {
  std::string file;
  Word name, title;
  std::optional<DriveBelt> belt;
  Maybe<Turning> turns;
  std::vector<DrivePulley> pulleys;
  std::optional<DriveTensioner> tensioner;
  std::vector<DriveObstacle> obstacles;
  std::optional<Duty> duty;
  std::optional<Ambient> ambient;
  Maybe<double> design_ratio;
  std::optional<Search> search;
};

/// Reads a drive document. nullopt when anything is wrong; then every mistake found is in `diagnostics`.
[[nodiscard]] std::optional<Drive> read_drive(const TextFile& file, Diagnostics& diagnostics);
/// JSON Schema (draft 2020-12) of it, as for `pulley_schema`.
[[nodiscard]] std::string drive_schema(const Names& known);
/// The pulley documents that it names, with their places.
[[nodiscard]] std::vector<Written<std::string>> references(const Drive& drive);

}  // namespace groovewright::spec
