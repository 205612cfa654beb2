// model.h: the settled drive: belt, pulleys, tensioner, obstacles, duty. Nothing is optional where a default exists;
// who settles it decides the defaults.
//
// Lengths mm, forces N, torques N mm, angles rad, inertia kg mm², speeds rpm where the name says so; belt mass kg/m.
// The plane of the drive is seen from the front: x right, y up, angles counter-clockwise from +x. Z points at whoever
// looks: a greater Z is nearer the front.
#pragma once

#include <cstddef>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "groovewright/catalog.h"
#include "groovewright/plane.h"

namespace groovewright::drive {

using catalog::Sourced;
using plane::Vec2;

inline constexpr double kUnlimited = std::numeric_limits<double>::infinity();

/// Which side of the belt lies on a pulley.
enum class Side { ribs, back };
/// How the driver turns, seen from the front.
enum class Sense { counter_clockwise, clockwise };

/// Extent along Z; unlimited where nothing is known.
struct Axial {
  double rear = -kUnlimited, front = kUnlimited;
};

/// The belt across: its ribs point into the loop; from the effective line outwards come the cord at `line_to_cord` and
/// the back `cord_to_back` beyond it.
struct Belt {
  std::string section;  ///< "PK"
  int ribs = 1;
  Sourced pitch;                   ///< of the ribs
  Sourced line_to_cord;            ///< b_e
  Sourced line_to_cord_elsewhere;  ///< b_e by another standard of the same groove; 0: none
  Sourced cord_to_back;            ///< t_bc
  Sourced height;                  ///< the greatest that a belt of this section has
  Sourced mass_per_rib;            ///< kg/m
  Sourced stiffness_per_rib;       ///< N per unit of strain; 0: a belt that does not give
  Sourced measured_under_per_rib;  ///< tension per rib in one strand while the length is measured, N
  Sourced effective_length;        ///< nominal
  Sourced shorter, longer;         ///< tolerance of the length, both >= 0
  /// What the tolerance is at another length; none where it was given for this belt.
  std::optional<catalog::SteppedLimit> shorter_at = {}, longer_at = {};
  Sourced stretch;    ///< lasting, over the belt's life, part of its length
  Sourced speed_max;  ///< m/s
  /// Drag torque of one pulley that the belt bends round, times the cord's radius there, of one rib, N mm²; 0: not
  /// known.
  Sourced bending_loss = {0, "not known"};
  Sourced effective_diameter_min;

  /// Back above the effective line, and rib tips below it.
  [[nodiscard]] double back() const { return line_to_cord.value + cord_to_back.value; }
  [[nodiscard]] double depth() const { return height.value - back(); }
  [[nodiscard]] double mass() const { return ribs * mass_per_rib.value; }  ///< kg/m
};

/// What a driven shaft takes at one speed. Torque is linear in own speed between points.
struct LoadPoint {
  double rpm = 0;
  bool own_speed = true;  ///< false: rpm of the driver
  double value = 0;
  bool is_power = false;  ///< W; else N mm
};

struct Pulley {
  std::string name;
  Vec2 at;
  Side side = Side::ribs;
  double radius = 0;         ///< effective (ribs), or of the flat (back)
  double outside = 0;        ///< radius over crests; that of the flat on a back pulley
  double flange_height = 0;  ///< above `outside`
  int grooves = 0;           ///< ribs only
  double width = 0;          ///< flats: what the belt may run on
  double plane = 0;          ///< Z of the belt's first rib here
  Axial axial;               ///< the rim with its flanges
  bool drives = false;
  double inertia = 0;
  std::vector<LoadPoint> load;    ///< none: an idler
  double speed_max = kUnlimited;  ///< own rpm
  double pull_max = kUnlimited;   ///< of the belt, that its bearing carries
  double reference_radius = 0;    ///< effective radius that overdrive compares with; 0: its own
  std::string source = "spec";

  [[nodiscard]] double body_radius() const { return outside + flange_height; }
  [[nodiscard]] bool takes_torque() const { return !load.empty() || inertia > 0; }
};

/// A hole in the engine that locates the tensioner's body by a pin or screw.
struct Peg {
  double radius = 0;    ///< from the pivot
  double angle = 0;     ///< about the pivot, ccw from +x
  double diameter = 0;  ///< of the hole or thread
  std::string thread;   ///< "M8"; "" for a plain hole
  double depth = 0;
  double tap_drill = 0;  ///< for the thread
};

/// One loose pulley that a spring presses on the belt. `position` of a tensioner is its arm's angle about the pivot,
/// ccw from +x, or the way of a slide from `pivot` along `direction`, mm.
struct Tensioner {
  enum class Kind { arm, eccentric, slide };  ///< an eccentric is an arm as long as its eccentricity
  std::string name;
  std::size_t after = 0;  ///< index of the pulley that the belt leaves to meet it
  Kind kind = Kind::arm;
  Vec2 pivot;
  double arm_length = 0;      ///< arm and eccentric
  double direction = 0;       ///< slide
  Pulley idler;               ///< its `at` is not used
  double free = 0;            ///< position with no belt: on the inner stop
  double stop_a = 0;          ///< both ends of the swing, in any order
  double stop_b = 0;          ///< positions are continuous numbers: a swing over +x may run from 350° to 400°
  double effort = 0;          ///< torque at `free` towards it, N mm; force of a slide, N
  double rate = 0;            ///< more of it per rad away from `free`; slide: per mm
  Sourced friction;           ///< part of the spring's effort either way (damping)
  double arm_half_width = 0;  ///< the arm's body; 0: not modelled
  Axial arm_axial;
  std::optional<Peg> peg;

  [[nodiscard]] bool slides() const { return kind == Kind::slide; }
  /// The stop with no belt, and the one that slackens the belt most.
  [[nodiscard]] double near_stop() const;
  [[nodiscard]] double far_stop() const;
};

struct Obstacle {
  std::string name;
  Vec2 centre;                ///< circle …
  double radius = 0;          ///< … where > 0
  std::vector<Vec2> polygon;  ///< else three corners or more, either way round
  Axial axial;
};

/// How belt and rim hold. `includes_wedge`: a measured value for ribs in grooves.
struct Contact {
  Sourced friction;
  Side side = Side::ribs;
  bool includes_wedge = false;
};
/// Friction on the wrap: only a bare value of ribs is divided by sin 20°; a flat back never wedges.
[[nodiscard]] double effective_friction(const Contact& contact);

struct Grip {
  Sourced design_ratio_ribs, design_ratio_back;  ///< T'1/T'2 allowed at 180°, > 1
  Contact bare_ribs, bare_back;                  ///< for the note only
  Sourced wet;                                   ///< part of the friction left when wet
};

/// What is asked of the drive, speeds of the driver.
struct Duty {
  std::vector<double> rpm;          ///< rising
  double gain = 0, drop = 0;        ///< driver's greatest angular acceleration up and down, rad/s², both >= 0
  double peak = 1;                  ///< factor on load torques in drive
  Sourced overrun_load{1, "spec"};  ///< part of the load torque left on overrun
  std::vector<double> orders;       ///< of the driver: 1 is its own turning
  Sourced hot_growth{0, "spec"};    ///< by how much heat lengthens the path, mm
  Sourced cold_shrink{0, "spec"};   ///< by how much cold shortens it, >= 0
  std::optional<double> ambient;    ///< °C, where the document says it
  double still_tension = 0;         ///< T' set by hand where there is no tensioner; 0: not known
};

/// Limits of the shop, from `profiles/rules.yaml`.
struct Limits {
  Sourced arm_travel;    ///< rad to each stop
  Sourced slide_travel;  ///< mm to each stop
  Sourced clearance;     ///< to any part
  Sourced span_clearance, long_span;
  Sourced room_over_height;        ///< belt room beyond the belt's height
  Sourced entry_note, entry_fail;  ///< rad, misalignment of a span
  Sourced ligament;                ///< between two holes, of their diameter
  Sourced back_bend;               ///< diameter of back idlers, of the least effective diameter
  Sourced flat_over_belt;          ///< width of a flat beyond the belt's
};
[[nodiscard]] Limits limits(const catalog::Catalog& catalog);
/// Friction of the shop, from the same file.
[[nodiscard]] Grip grip(const catalog::Catalog& catalog);

struct Drive {
  std::string name;
  Belt belt;
  Sense turns = Sense::clockwise;
  std::vector<Pulley> pulleys;  ///< as the belt meets them after leaving the driver; one `drives`
  std::optional<Tensioner> tensioner;
  std::vector<Obstacle> obstacles;
  Grip grip;
  Duty duty;
  Limits limits;
};

}  // namespace groovewright::drive
