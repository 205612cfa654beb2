// shop.h: what a shop has: machines, chucks, cutting tools, and cutting data by material. Read from
// `profiles/machines`, `chucks`, `tools`, `cutting` and a person's own. Lengths mm, angles by Angle, speeds m/min,
// power W, torque N m.
//
// Lathe tools lie in the half plane: x = Z, to the right, away from the chuck; y = radius, up. How a tool is drawn
// there from its data stands at TurningTool.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "groovewright/base/units.h"

namespace groovewright::catalog {

struct Machine {
  std::string id, name;
  enum class Kind { lathe, mill } kind = Kind::lathe;
  std::string dialect;  ///< id of its control's words
  /// Lathe. true: tools come from behind the axis, faces down; false: from the operator's side, faces up. Either way
  /// the spindle turns cw (M3, seen along the spindle from behind it) for every tool of either hand, and for drills.
  bool rear_turret = true;
  bool steers_nose_centre = false;  ///< lathe; the program's point: nose centre, or the imaginary tip
  double rapid = 0;                 ///< mm/min
  double min_rpm = 0, max_rpm = 0;
  double power = 0;  ///< W at the spindle
  /// Torque curve: rising rpm; see torque_at.
  struct Torque {
    double rpm = 0, torque = 0;  ///< N m
  };
  std::vector<Torque> torques;
  double swing = 0;        ///< lathe: greatest diameter over the slide
  double beyond_axis = 0;  ///< lathe: how far the steered point passes the axis, on radius
  /// How far the steered point travels; x of a lathe on radius, `beyond_axis` within it. y is 0 for a lathe.
  double travel_x = 0, travel_y = 0, travel_z = 0;
  int tool_places = 0;    ///< of the turret, rail or magazine
  double tool_shank = 0;  ///< lathe: the highest square shank that its tool places take
  double tool_change_seconds = 0;
  std::string source;

  /// What the spindle gives for a short while, N m: straight between the points of the curve, below the first its
  /// torque, beyond the last its power; never more than `power` allows. Requires: rpm > 0.
  [[nodiscard]] double torque_at(double rpm) const;
};

/// A chuck with soft jaws that grip outside. In the half plane, z from the jaws' front face (0) to the left: each jaw
/// covers radii from the gripped one to `jaw_height` beyond it over `grip_length`; behind that it stands
/// `jaw_thickness` long and reaches `seat_width` below the gripped radius: the step on which the part's face lies. From
/// z = -body_to_jaw_face on stands the body.
struct Chuck {
  std::string id, name;
  int jaws = 3;
  double max_rpm = 0;
  double grip_min = 0, grip_max = 0;  ///< outside diameters that it grips
  double grip_length = 0;             ///< the deepest step that may be bored: how far a part goes in
  double jaw_height = 0;              ///< how far the jaws stand out beyond the gripped diameter, on radius
  double jaw_thickness = 0;           ///< of the jaws behind the deepest step, along Z
  double seat_width = 0;              ///< of the step, on radius
  double body_diameter = 0;
  double body_to_jaw_face = 0;  ///< chuck's face to the jaws' front, along Z; at least grip_length + jaw_thickness
  double through_bore = 0;      ///< the thickest bar that goes through it
  std::string source;
};

/// Length of a cone to that diameter, mm: d / (2 tan(point / 2)); 0 for a flat end (180 deg) and where no angle is
/// given.
[[nodiscard]] double cone_length(double diameter, Angle point);

/// A cutting tool of a lathe. Drawn for the right hand (it feeds towards the chuck, to -x), outside, nose down, about
/// the centre N of its nose; four kinds, all of convex pieces, of which the holder may never stand in metal:
///
/// 1. Wedge: turning, profiling with `included` > 0, boring. The main edge leaves the nose at 180 deg - edge_angle
///    (counter-clockwise from +x), the second edge lies `included` clockwise from it. Both are tangent to the nose's
///    circle; their lines meet in the sharp corner P, nose_radius / sin(included / 2) from N against the bisector.
///    Insert: the hull of the nose's circle and the points `edge_length` from P along both edges.
///    Holder: the wedge of the two lines, each moved inwards by `holder_relief`, between x = N + holder_offset and
///    x = N + holder_offset + holder_width, up to y = N + overhang. (Neutral tools: holder_offset = -holder_width / 2.
///    Handed ones: 0, and then only the main edge's line bounds the near side; holder_width is f of ISO 5608.)
///    Boring: mirrored in the radius, nose up. The holder is a bar along Z: the moved-in wedge, between
///    y = N + nose_radius - holder_offset and holder_width (its diameter) below that, up to x = N + overhang.
/// 2. Blade: grooving, face_grooving, and round inserts (profiling with `included` = 0: `width` is their diameter and
///    nose_radius half of it). Seen from the middle of the front edge, y = 0 at the cutting edge.
///    Insert: `width` wide, up to y = edge_length, front corners rounded with nose_radius.
///    Holder: the blade, `holder_relief` narrower at each side, from edge_length to `reach`; from y = reach to overhang
///    `holder_width` wide, its near side (chuck's side) at x = -width / 2 + holder_offset.
/// 3. Drill: drilling, centre. On the axis: `width` in diameter, `point` included, up to edge_length from the point
///    (its flutes); behind that up to `overhang` the same diameter is holder, and from there holder_width in diameter.
/// 4. Form: full_form, neutral; N is the centre of the near tooth's tip. Seen from the middle of the tips, y = 0 there:
///    Insert: `teeth` teeth, `pitch` apart, each of two flanks `included` apart with a tip of nose_radius; beside every
///    tooth a valley of `crest_radius`, tangent to the flanks, half of one at each end: the whole groove and half of
///    both crests. teeth * pitch wide, up to y = edge_length. Its valleys make it no convex piece: it is many of them.
///    Holder: as a blade's, whose `width` is teeth * pitch.
///
/// Left hand: mirrored in x. An `axial` blade: x and y exchanged, so that it points at the chuck and its near side is
/// the one at the axis; bars and drills are drawn along Z already.
struct TurningTool {
  std::string id, name;
  enum class Use {
    turning,
    profiling,
    grooving,
    face_grooving,
    boring,
    drilling,
    centre,
    full_form
  } use = Use::turning;
  enum class Hand { right, left, neutral } hand = Hand::right;
  bool axial = false;         ///< works along Z; true for face_grooving, boring, drilling and centre, too
  std::string insert;         ///< ISO 1832, as "CNMG 120408", or words; "" for a solid tool
  std::string holder;         ///< ISO 5608, as "PCLNR 2020 K12", or words
  Angle included;             ///< of the insert's nose, of a form's flanks; 0 for round and square-nosed ones
  Angle edge_angle;           ///< kappa_r: from the direction of feed to the main edge
  double nose_radius = 0;     ///< round inserts: half their diameter; grooving: corners; full_form: tips
  double nose_tolerance = 0;  ///< how much larger the nose may be
  double edge_length = 0;     ///< usable; drills: flutes, from the point
  double width = 0;           ///< of grooving inserts; diameter of round inserts and drills
  /// How deep the cutting part goes below the metal beside it: grooving depth, deepest bore or hole. Tools of the wedge
  /// kind outside have none: their wedge says it.
  double reach = 0;
  double holder_width = 0, holder_offset = 0, holder_relief = 0;  ///< see above
  double shank_height = 0;            ///< square to the half plane; a bar: its diameter; drills: 0
  double overhang = 0;                ///< from the nose (the point) to the clamp
  double min_bore = 0;                ///< boring: the least diameter that lets it in
  double face_min = 0, face_max = 0;  ///< axial blades: outside diameters of the first cut; 0: any
  Angle point;                        ///< drills: included angle of the point
  double max_depth_of_cut = 0;        ///< mm; 0 for drills
  double min_feed = 0, max_feed = 0;  ///< mm a turn
  /// full_form only. The valleys' radius, how much smaller it may be, mm; pitch of the teeth and their number.
  double crest_radius = 0, crest_tolerance = 0, pitch = 0;
  int teeth = 0;
  std::string source;

  /// How far the tips of a full_form stand before the middle of its valleys, mm: p / (2 tan h) less what the roundings
  /// take off at both ends, each r (1 / sin h - 1), h half of `included`. Requires: a full_form.
  [[nodiscard]] double form_depth() const;
  /// Of a drill: from its point to its full diameter, mm.
  [[nodiscard]] double point_length() const { return cone_length(width, point); }
};

struct MillingTool {
  std::string id, name;
  enum class Use { centre, drill, tap, end_mill, countersink, reamer } use = Use::drill;
  double diameter = 0;  ///< taps: nominal
  Angle point;          ///< included; 180 deg for a flat end
  double lead = 0;      ///< taps and reamers: length at the tip that is below size, mm
  double flute = 0;     ///< cutting length from the tip
  double length = 0;    ///< from the tip to its holder
  double pitch = 0;     ///< taps
  int teeth = 2;
  double holder_diameter = 0;
  std::string source;

  /// From its tip to its full diameter, mm; 0 where the end is flat.
  [[nodiscard]] double point_length() const { return cone_length(diameter, point); }
};

/// What tools do: the keys of CuttingData::works.
inline constexpr std::string_view kWorks[] = {"rough", "finish", "profile", "groove", "face_groove", "bore",
                                              "drill", "centre", "tap",     "ream",   "mill",        "countersink"};

/// How fast and how deep in one material, or family of them.
struct CuttingData {
  std::string id, name;  ///< "aluminium": what the ids of its materials begin with
  struct Work {
    double speed = 0;  ///< m/min
    /// mm a turn; "drill", "centre", "countersink" and "ream": diameters of the tool a turn; "mill": diameters a tooth;
    /// "tap": 0, the pitch is its feed.
    double feed = 0;
    /// Of cut, on radius, mm; "groove", "face_groove": pecks in widths; "drill": pecks in diameters; "mill": diameters.
    double depth = 0;
    std::string source;
  };
  /// All of kWorks. "profile" is the finishing of grooves with a sharp nose, flank by flank.
  std::map<std::string, Work, std::less<>> works;
  double specific_force = 0;  ///< k_c at these feeds, N/mm²: P = v f a k_c
  double finish_rz = 0;       ///< mm, the ridges that finishing may leave where the part asks for no roughness
  bool coolant = true;        ///< false: cut dry, no program switches coolant on
  std::string source;
};

struct Shop {
  std::map<std::string, Machine> machines;
  std::map<std::string, Chuck> chucks;
  std::map<std::string, TurningTool> turning_tools;
  std::map<std::string, MillingTool> milling_tools;
  std::map<std::string, CuttingData> cutting;  ///< by family

  /// The data with the longest id that the material's id begins with; nullptr where there is none.
  [[nodiscard]] const CuttingData* cutting_for(std::string_view material) const;
};

}  // namespace groovewright::catalog
