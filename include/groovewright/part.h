// part.h: what the document means: every number settled, each with its source. The one place where a default is
// decided.
//
// Lengths mm. +Z points away from the engine (front); Z = 0 is the seat face, the hub's rear face. Angles
// counter-clockwise seen from the front, 0 at 12 o'clock. Whether the settled numbers fit together as a shape is judged
// in room `section`.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "groovewright/base/rows.h"
#include "groovewright/catalog.h"
#include "groovewright/spec.h"

namespace groovewright::part {

/// Angle in the cross plane (ccw from +x) of an angle counted from 12 o'clock.
[[nodiscard]] double cross_angle(Angle from_top);
/// Degrees in [0, 360).
[[nodiscard]] double turned_once_deg(Angle a);

using spec::Damper;
using spec::GeneralTolerance;
using spec::MarkPlace;
using spec::Projection;
using spec::Sheet;
using spec::Side;
using spec::StockForm;

/// A settled number and who settled it: "spec", or the rule or standard behind the default.
struct Settled {
  double value = 0;
  std::string source;
  Place place{};  ///< where the document gives it; line 0 for what follows from others or is a default
};

// ---- closed forms of one V groove with rounded crest and root ----

/// Half groove angle h, pitch e, and so on; lengths mm.
struct GrooveForm {
  double pitch = 0;
  Angle angle;  ///< included
  double crest_radius = 0;
  double root_radius = 0;
};
/// Height of the sharp V, e / (2 tan h), on radius.
[[nodiscard]] double sharp_height(const GrooveForm& g);
/// What a rounding of radius r takes off the sharp point, on diameter: 2 r (1/sin h - 1).
[[nodiscard]] double rounding_loss(double radius, Angle included);
/// K minus the sharp apex diameter: d_B (1 + 1/sin h) - e/tan h.
[[nodiscard]] double over_apex(double pitch, Angle included, double ball_diameter);
inline constexpr double kOverBallsError = 1e-9;  ///< mm, against laying the ball in by search
/// 2X = K - d_e from the geometry: the effective diameter is the outside diameter at the least crest radius. The tables
/// print it rounded to 0.01.
[[nodiscard]] double two_x(const catalog::Groove& g);
/// The crest radius at which K - d_o reaches 2N max.
[[nodiscard]] double crest_radius_max(const catalog::Groove& g);

// ---- the part ----

struct Flange {
  Place place;
  Settled diameter, height, thickness, edge_break, root_relief;
  Angle lead_in;
  std::string lead_in_source;
};

struct Overdrive {
  double ratio = 0;  ///< 0.24 for 24 %
  double reference_effective = 0;
  double plain_effective = 0;  ///< what (1 + x) d_e,ref would have given
  double plain_overdrive = 0;  ///< the overdrive which that diameter really has
};

struct Rim {
  Place place;
  catalog::Groove groove;
  std::optional<catalog::Belt> belt;
  int grooves = 1;
  int belt_ribs = 1;
  bool guides = false;
  Settled effective_diameter, crest_radius, root_radius, edge_distance, edge_break, pitch_line_offset;
  std::optional<Overdrive> overdrive;
  std::optional<Flange> front, rear;
  double space = 0;  ///< neck behind this rim

  [[nodiscard]] GrooveForm form() const;
  [[nodiscard]] double over_balls() const;        ///< K
  [[nodiscard]] double apex_diameter() const;     ///< of the sharp V
  [[nodiscard]] double outside_diameter() const;  ///< d_o = d_e - 2 (r_t - r_t,min)(1/sin h - 1)
  [[nodiscard]] double root_diameter() const;
  [[nodiscard]] double pitch_diameter() const;
  [[nodiscard]] double groove_depth() const;  ///< crest to root, on radius
  /// True where the crest radius is beyond this standard's limit and within that of another for the same groove.
  [[nodiscard]] bool crest_by_other_standard() const;
  /// K - d_o at most, by the standard that judges the crests. mm, with its source.
  [[nodiscard]] catalog::Sourced two_n_max() const;
  /// Axial length with flanges, without the neck behind.
  [[nodiscard]] double width() const;
  /// Axial distance of the rear flange's outer face (or the rim's face) from the middle of groove 1, the rearmost.
  [[nodiscard]] double behind_first_groove() const;
  [[nodiscard]] const std::optional<Flange>& flange(Side side) const { return side == Side::front ? front : rear; }
  /// Greatest diameter at the front or rear end: the flange's, or d_o.
  [[nodiscard]] double end_diameter(Side side) const;
};

struct Windows {
  Place place;
  int count = 0;
  Settled diameter, circle, edge_break;
  Angle start;
};
struct Spokes {
  Place place;
  int count = 0;
  Settled width, fillet, inner_diameter, outer_diameter, edge_break;
  Angle start;
};
struct Web {
  Place place;
  Settled thickness, offset, rim_thickness, fillet;
  int rim = 0;  ///< index of the rim that carries it
  std::optional<Windows> windows;
  std::optional<Spokes> spokes;
};

struct BoreStep {
  Place place, diameter_place;
  double diameter = 0, depth = 0;
  Side side = Side::rear;
  std::optional<catalog::Fit> fit;
};
struct Taper {
  Place place;
  Angle included;
  Side large_end = Side::rear, gauge_face = Side::rear;
  double gauge_depth = 0, stand_off = 0, stand_off_tolerance = 0, draw_up = 0;
};
struct Bore {
  Place place;
  Settled diameter;
  std::optional<catalog::Fit> fit;  ///< none on a taper
  std::string fit_source;
  Settled edge_break;
  std::vector<BoreStep> steps;
  std::optional<Taper> taper;
};
struct Register {
  Place place, diameter_place;
  double diameter = 0;
  double depth = 0;  ///< recess > 0, spigot < 0 (its height)
  Side side = Side::rear;
  catalog::Fit fit;
  std::string fit_source;

  /// "register_rear": what the ids of its rows begin with.
  [[nodiscard]] std::string id() const { return side == Side::rear ? "register_rear" : "register_front"; }
};
struct Keyway {
  Place place;
  Settled width, depth;
  double depth_tolerance = 0;
  std::string depth_tolerance_source;
  catalog::Fit fit;
  std::string fit_source;
  Angle angle;
};

/// Holes parallel to the axis: bolts, jack screws, dowels, magnet pockets.
struct HolePattern {
  enum class Use { bolt, jack_screw, dowel, magnet };
  Place place;
  std::string id;     ///< "bolts_1", "dowels_1" …
  std::string label;  ///< "6 x hole for M8, counterbored": no lengths, which a sheet may want in inches
  Use use = Use::bolt;
  double circle = 0;
  std::vector<Angle> angles;
  Settled diameter;
  std::optional<catalog::Thread> thread;
  bool tapped = false;
  std::optional<catalog::Fit> fit;
  double depth = 0;         ///< full diameter of a blind hole; 0: through
  double screw_length = 0;  ///< 0: not stated
  Side side = Side::front;
  double sink_diameter = 0, sink_depth = 0;  ///< counterbore: both; countersink: diameter and angle; 0: none
  Angle sink_angle;                          ///< included, countersink only
  Side sink_side = Side::front;
  std::string sink_source;
  std::optional<catalog::Fit> sink_fit;  ///< limits of a counterbore's diameter
  double edge_break = 0;
};

struct Hub {
  Place place;
  bool boss = false;  ///< false: a solid disc without a hub of its own diameter
  Settled diameter, edge_break;
  double rear_face = 0, front_face = 0;  ///< Z
  std::string length_source;
  Bore bore;
  std::vector<Register> registers;  ///< at most one a side
  std::optional<Keyway> keyway;

  /// Radius of the plain or tapered bore at Z, edge breaks left out.
  [[nodiscard]] double bore_radius(double z) const;
  [[nodiscard]] double widest_bore_radius() const;
  /// Distance of the keyway's floor from the axis: t2 beyond the bore where that is widest. Requires: a keyway.
  [[nodiscard]] double keyway_floor() const;
};

struct Marks {
  Place place;
  MarkPlace on = MarkPlace::front;
  std::vector<Angle> angles;  ///< from 12 o'clock
  double depth = 0, width = 0, length = 0, outer_radius = 0;
  std::string source;
};
struct ToneRing {
  Place place;
  int teeth = 0, missing = 0;
  double radius = 0, width = 0, tooth_height = 0, gap = 0, thickness = 0;
  std::string tooth_height_source, gap_source, thickness_source;
  Side side = Side::rear;
  Angle start;  ///< from 12 o'clock
};
struct Finish {
  std::string name;
  double film = 0;    ///< mm, total
  double growth = 0;  ///< mm, what stands above the old surface
  bool masked = true;
  std::string source;
};

struct Revision {
  Place place;
  std::string revision, text;
};
/// What the document says about the supplier drawing. What is empty is for the drawing's planner to choose; places are
/// line 0 where the document says nothing.
struct DrawingWish {
  Place place;
  std::optional<spec::Written<Sheet>> sheet;
  std::optional<spec::Written<double>> scale;  ///< one of spec::kScales
  std::optional<spec::Written<Projection>> projection;
  spec::Written<GeneralTolerance> general_tolerance;
  bool dual_units = false;
  spec::Written<std::string> language;
  std::string number, author;       ///< "": none
  bool maximum_material = false;    ///< at the position of the bolt holes
  std::vector<Revision> revisions;  ///< oldest first
  std::vector<spec::Written<std::string>> notes;

  /// What was asked for, or else what is usual on that sheet: third angle on ANSI sheets, first on the others.
  [[nodiscard]] Projection projection_on(Sheet chosen) const;
};

/// What the document says about how the part is made; what is empty is for the planner of programs to choose. Whether
/// the shop has what is named is judged where the shop's data are read.
struct Machining {
  Place place;  ///< line 0 where the document says nothing
  spec::Word lathe, mill, chuck;
  spec::Maybe<StockForm> form;
  spec::Length diameter, length, bore;            ///< of the stock; length: of a blank, or of a bar's piece
  std::vector<spec::Written<std::string>> tools;  ///< only these may be used; empty: all
};

struct Part {
  std::string file;
  std::string name, title, revision;
  catalog::Material material;
  Place material_place;
  std::optional<Finish> finish;
  double red = 0.7, green = 0.7, blue = 0.72;
  std::vector<Rim> rims;   ///< from the rear to the front
  double rims_rear = 0;    ///< Z of the rear face of the rearmost rim
  std::optional<Web> web;  ///< none: solid disc
  Hub hub;
  std::vector<HolePattern> holes;
  Angle timing_zero;
  std::vector<Marks> marks;
  std::optional<ToneRing> tone_ring;
  std::optional<double> maximum_speed;  ///< rpm
  std::string speed_reason;
  std::optional<Damper> damper;
  DrawingWish drawing;
  Machining machining;
  bool pmi = false;                                              ///< the STEP model carries the main limits
  std::optional<Settled> balance_grade;                          ///< ISO 21940-11, mm/s
  std::map<std::string, catalog::Sourced> limits;                ///< the shop's rules, by id
  std::map<std::string, catalog::Catalog::FitTable> tolerances;  ///< for sizes without limits of their own

  /// The shop rule `id`. Throws Broken where there is none.
  [[nodiscard]] const catalog::Sourced& limit(const std::string& id) const;
  /// Z of rim i's rear face (its flange's outer face where it has one).
  [[nodiscard]] double rim_rear(std::size_t i) const;
  [[nodiscard]] double rims_front() const;
  /// Z of the middle of groove k (0 is the rearmost) of rim i.
  [[nodiscard]] double groove_z(std::size_t i, int k) const;
  /// "P 8 PK 164.6", by rims: the form of order that ISO 9981 gives.
  [[nodiscard]] std::string designation() const;
  /// Prefix of a row's id: "" for the first rim, "rim2_" for the second …
  [[nodiscard]] static std::string prefix(std::size_t rim);
  /// Puts "Rim 2: " before the labels of rows about that rim, where there are several.
  [[nodiscard]] Rows named(Rows rows, std::size_t rim) const;
};

/// A data file below `profiles/` and, of a table, the rows that are wanted; none: the whole file.
struct NamedFile {
  std::string name;
  std::vector<std::string> rows;
};
/// What a specification names in the catalogue, sorted by file: only this is parsed.
[[nodiscard]] std::vector<NamedFile> files_named(const spec::Pulley& pulley);

/// The key under which a groove profile named by file is found in `Catalog::grooves`.
[[nodiscard]] std::string own_groove_key(const std::string& reference);

/// Settles every number. nullopt when something can't be settled; then `diagnostics` says what.
[[nodiscard]] std::optional<Part> resolve(const spec::Pulley& pulley, const catalog::Catalog& catalog,
                                          Diagnostics& diagnostics);

}  // namespace groovewright::part
