// shop.h: what a shop has: machines, chucks, cutting tools, and cutting data by material. Read from
// `profiles/machines`, `chucks`, `tools`, `cutting` and a person's own. Lengths mm, angles by Angle, speeds m/min,
// power W, torque N m.
//
// Lathe tools lie in the half plane (x = Z, y = radius). A tool for the right hand feeds towards the chuck (-Z).
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "groovewright/base/units.h"

namespace groovewright::catalog {

struct Machine {
  std::string id, name;
  enum class Kind { lathe, mill } kind = Kind::lathe;
  std::string dialect;              ///< id of its control's words
  bool rear_turret = true;          ///< decides the spindle's sense for a tool of one hand; lathe
  bool steers_nose_centre = false;  ///< the program's point: nose centre, or the imaginary tip
  double rapid = 0;                 ///< mm/min
  double max_rpm = 0, min_rpm = 0;
  double power = 0;  ///< W at the spindle
  /// Torque curve: (rpm, N m), rising rpm; between points straight, beyond the ends constant power resp. torque.
  struct Torque {
    double rpm = 0, torque = 0;
  };
  std::vector<Torque> torques;
  double swing = 0;                                 ///< lathe: greatest diameter over the slide
  double travel_x = 0, travel_y = 0, travel_z = 0;  ///< x of a lathe: on radius
  double tool_change_seconds = 0;
  std::string source;
};

struct Chuck {
  std::string id, name;
  int jaws = 3;
  double max_rpm = 0;
  double grip_min = 0, grip_max = 0;  ///< outside diameters that it grips
  double grip_length = 0;             ///< of the jaws along Z: how far a part goes in
  double jaw_height = 0;              ///< how far the jaws stand out beyond the gripped diameter, on radius
  double jaw_thickness = 0;           ///< of soft jaws below the bored step: what is left for the part's face to lie on
  double body_diameter = 0;
  double body_to_jaw_face = 0;  ///< chuck's face to the jaws' front, along Z
  std::string source;
};

/// A cutting insert or tool's cutting part, by the letters of ISO 1832 where it has any.
struct TurningTool {
  std::string id, name;
  enum class Use { turning, profiling, grooving, face_grooving, face_profiling, boring, form, drilling } use = Use::turning;
  enum class Hand { right, left, neutral } hand = Hand::right;
  std::string insert;         ///< "CNMG 120404" (ISO 1832) or words; "" for a solid tool
  std::string holder;         ///< ISO 5608 style and size, or words
  Angle included;             ///< of the insert's nose; 0 for round and square-nosed ones
  Angle edge_angle;           ///< cutting edge angle kappa_r: from the direction of feed to the main edge
  double nose_radius = 0;     ///< round inserts: half their diameter; grooving: corners
  double nose_tolerance = 0;  ///< how much larger the nose may be
  double edge_length = 0;     ///< usable, from the nose
  double width = 0;           ///< grooving inserts; drills: their diameter
  double reach = 0;           ///< how deep it may go before its holder: grooving depth, bar or drill length
  double holder_width = 0;    ///< along Z (a bar: its diameter)
  double holder_offset = 0;   ///< from the nose to the holder's near side, against the feed (clearance beside it)
  double overhang = 0;        ///< how far it is to stand out of its clamp
  double min_bore = 0;        ///< inside tools
  Angle point;                ///< drills: included angle of the point
  double max_depth_of_cut = 0, max_feed = 0, min_feed = 0;  ///< mm; mm a turn
  std::string source;
};
struct MillingTool {
  std::string id, name;
  enum class Use { centre, drill, tap, end_mill, countersink, reamer } use = Use::drill;
  double diameter = 0;  ///< taps: nominal
  Angle point;          ///< included; 180 deg for a flat end
  double flute = 0, length = 0;
  double pitch = 0;  ///< taps
  int teeth = 2;
  std::string source;
};

/// How fast and how deep in one material (or family: what the ids of its materials begin with).
struct CuttingData {
  std::string id;  ///< "aluminium"
  struct Work {
    double speed = 0;  ///< m/min
    double feed = 0;   ///< mm a turn; mm a tooth when milling
    double depth = 0;  ///< of cut, mm; pecks of a drill: in diameters
  };
  std::map<std::string, Work> works;  ///< "rough", "finish", "groove", "bore", "drill", "centre", "tap", "mill", "ream"
  double specific_force = 0;          ///< k_c, N/mm²
  double finish_rz = 0;               ///< mm, roughness that finishing aims at where the part asks for none
  std::string source;
};

/// Bar and blank: what is left to turn off.
struct Shop {
  std::map<std::string, Machine> machines;
  std::map<std::string, Chuck> chucks;
  std::map<std::string, TurningTool> turning_tools;
  std::map<std::string, MillingTool> milling_tools;
  std::map<std::string, CuttingData> cutting;  ///< by family

  /// The longest id that the material's id begins with. nullptr where there is none.
  [[nodiscard]] const CuttingData* cutting_for(const std::string& material) const;
};

}  // namespace groovewright::catalog
