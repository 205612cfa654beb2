// catalog.h: numbers with sources: grooves, materials, fits, threads, keys, belts and shop rules, read from the data
// files of `profiles/` (embedded at build) and from a person's own. Lengths mm, angles rad, density kg/mm³, E in MPa.
//
// A data file is a map; its first key says the kind and the id (`groove: PK`), and `edition` is due in every file. A
// map may give a `source`, which every value inside inherits unless it gives its own, as `{value: 3.56 mm, source: my
// sheet}`; a number with no source is refused. `units: mm` or `units: in` lets plain numbers be lengths.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "groovewright/base/artifact.h"
#include "groovewright/base/diagnostics.h"
#include "groovewright/base/glyph.h"
#include "groovewright/base/quantity.h"
#include "groovewright/base/typeface.h"
#include "groovewright/base/units.h"
#include "groovewright/catalog/shop.h"
#include "groovewright/nc.h"

namespace groovewright::catalog {

/// A number and where it comes from: "ISO 9981:2020, cl. 5.2", "from memory", "common practice, no source" …
struct Sourced {
  double value = 0;
  std::string source;
};

/// A limit that depends on the effective diameter (a belt's: on its effective length): the row with d_e <= up_to
/// applies.
struct Step {
  double up_to = 0;  ///< mm; the last row has infinity
  double base = 0;
  int grooves = 0;       ///< grooves covered by `base` (groove-to-groove spread); 0: any number
  double per_extra = 0;  ///< added for each groove above that
  double over = 0;       ///< from this diameter on …
  double per_mm = 0;     ///< … this much is added for each mm
};
struct SteppedLimit {
  std::vector<Step> steps;
  std::string source;
  /// Requires: effective diameter > 0, grooves >= 1.
  [[nodiscard]] double at(double effective_diameter, int grooves = 1) const;
};

/// A groove cross-section by a standard, or a person's own.
struct Groove {
  std::string id;        ///< "PK"
  std::string file;      ///< the data file it came from, as named by the caller
  std::string standard;  ///< "ISO 9981"
  std::string edition;   ///< "2020"
  Sourced pitch, pitch_tolerance, cumulative_pitch_tolerance;
  Angle angle, angle_tolerance;  ///< included
  std::string angle_source;
  Sourced crest_radius_min;  ///< r_t min
  Sourced root_radius_max;   ///< r_b max
  Sourced ball_diameter, ball_tolerance;
  std::optional<Sourced> second_ball_diameter;  ///< another that a shop may have: K differs
  Sourced two_x;                                ///< 2X as printed: K - d_e
  Sourced two_n_max;                            ///< 2N max: K - d_o at most
  Sourced edge_distance_min;                    ///< f min
  Sourced effective_diameter_min;
  Sourced pitch_line_offset;  ///< b_e: d_p = d_e + 2 b_e
  /// Where another standard of the same groove differs: its greatest r_t, its b_e.
  std::optional<Sourced> crest_radius_elsewhere, pitch_line_offset_elsewhere;
  Sourced roughness_max;                     ///< Ra, um
  SteppedLimit over_balls_tolerance;         ///< K, plus or minus, mm
  SteppedLimit groove_to_groove;             ///< spread of K on one pulley, mm
  SteppedLimit radial_runout, axial_runout;  ///< FIM, mm
};

/// A belt's cross-section, placed by the effective line. A rib is a truncated V: straight flanks `rib_angle` apart,
/// `rib_width` at the effective line (flanks extended), a flat tip `rib_height` below it with corners of `tip_radius`.
/// It seats where its flanks meet the groove's; b_e above the effective line lies the cord, `cord_to_back` above that
/// the back.
struct Belt {
  std::string section;
  Sourced rib_pitch;
  Angle rib_angle;  ///< included
  std::string rib_angle_source;
  Sourced rib_width, rib_height;
  Sourced tip_radius;       ///< between flank and flat tip
  Sourced valley_radius;    ///< between two ribs, at most
  Sourced height;           ///< whole belt; nominal, an upper figure
  Sourced measured_height;  ///< what common practice measures; 0 where nothing is known
  Sourced cord_to_back;
  Sourced speed_max;                                          ///< m/s
  std::optional<Sourced> speed_max_agreed;                    ///< m/s, with the belt maker's word
  Sourced mass_per_rib;                                       ///< kg/m
  std::optional<Sourced> stiffness_per_rib;                   ///< N that would double the length
  std::optional<Sourced> measured_under_per_rib;              ///< N in a strand while the length is measured
  std::optional<Sourced> stretch;                             ///< lasting, over the belt's life, part of its length
  std::optional<SteppedLimit> length_shorter, length_longer;  ///< tolerance, by effective length
};

struct Material {
  std::string id, name;
  Sourced density;  ///< kg/mm³
  Sourced modulus;  ///< MPa
  Sourced poisson;
  Sourced yield;      ///< MPa; 0 for brittle metals
  Sourced tensile;    ///< MPa; 0 where unknown
  Sourced expansion;  ///< 1/K
  double red = 0.7, green = 0.7, blue = 0.72;
};

struct Finish {
  std::string id, name;
  std::string for_metal;                ///< what the ids of its materials begin with: "aluminium"; "": any
  double growth_share = 0;              ///< part of the film that stands above the old surface
  double usual_min = 0, usual_max = 0;  ///< usual total film, mm; both 0 where there is none
  double red = 0.7, green = 0.7, blue = 0.72;
  std::string source;
};

/// Limits of size in mm, relative to the nominal.
struct Fit {
  std::string id;  ///< "H7"
  double lower = 0, upper = 0;
  std::string source;
};

struct Thread {
  std::string id;  ///< "M8"
  double diameter = 0, pitch = 0, tap_drill = 0;
  double minor_min = 0, minor_max = 0;                                    ///< 6H minor diameter
  double clearance_fine = 0, clearance_medium = 0, clearance_coarse = 0;  ///< ISO 273
  double head_diameter = 0, head_height = 0;                              ///< ISO 4762
  double counterbore_diameter = 0, counterbore_depth = 0;
  double countersunk_head_diameter = 0;  ///< ISO 10642, theoretical d_k max; 90 deg
  std::string clearance_source, head_source, counterbore_source, countersunk_source, drill_source;
};

struct Key {
  double over = 0, up_to = 0;  ///< shaft range
  double width = 0, height = 0, shaft_depth = 0, hub_depth = 0, depth_tolerance = 0;
  std::string source;
};

/// Stroke letters for prints and drawings, in heights of a capital (measured over the ink).
struct Lettering {
  double line_width = 0;
  double descender = 0;  ///< how far ink reaches below the base line
  Glyphs glyphs;         ///< space and '?' are always among them
  std::string source;
};

/// A plastic printer and what common practice has learnt of it. Lengths mm.
struct Printer {
  std::string id, name;
  double bed_width = 0, bed_depth = 0, height = 0;  ///< what it can print on and up to
  double margin = 0;                                ///< kept free along the bed's edges and between objects
  double nozzle = 0, resolution = 0;
  std::vector<double> layers;  ///< heights that it prints well, falling
  double greatest_step = 0;    ///< sideways, from a layer to the next one up, without a support
  double accuracy = 0;         ///< of a printed size, either way
  double scale_across = 1, scale_up = 1;
  double hole_shrink = 0;               ///< on diameter
  double elephant_foot = 0;             ///< spread of the first layers
  double bore_slip = 0, hole_slip = 0;  ///< play on diameter of what must slide on
  double joint_gap = 0;                 ///< between two segments
  double dowel_diameter = 0, dowel_length = 0;
  std::string source;
};

struct Plastic {
  std::string id, name;
  double density = 0;                       ///< kg/mm³
  double shrink_across = 0, shrink_up = 0;  ///< parts of one, cooling
  double softens = 0;                       ///< °C
  std::string note;                         ///< one line for the person who prints it
  std::string source;
};

/// The words of drawings in one language, by key. A text may hold placeholders: see `filled`.
struct Texts {
  std::string language;  ///< "en"
  std::map<std::string, std::string, std::less<>> words;
  std::string source;

  /// Throws Broken where there is none: every language has all keys of English, and a test names those that we ask for.
  [[nodiscard]] const std::string& at(std::string_view key) const;
};

/// All that a run named. Maps are ordered, so every listing is.
struct Catalog {
  std::map<std::string, Groove> grooves;
  std::map<std::string, Belt> belts;  ///< by section
  std::map<std::string, Material> materials;
  std::map<std::string, Finish> finishes;
  std::map<std::string, Thread> threads;
  std::vector<Key> keys;
  std::map<std::string, Printer> printers;
  std::map<std::string, Plastic> plastics;
  std::map<std::string, nc::Dialect> dialects;   ///< of controls
  Shop shop;                                     ///< machines, chucks, tools, cutting data: catalog/shop.h
  std::map<std::string, Texts> texts;            ///< by language; where there are any, English is among them
  std::map<std::string, Texts> drive_texts;      ///< of the pages of a drive; the same
  std::map<std::string, Sourced> rules;          ///< limits of the shop; mm, degrees or plain, by `rule_measures`
  std::map<std::string, Measure> rule_measures;  ///< length, angle or plain: what each rule measures
  std::optional<Lettering> lettering;            ///< where the run named its file
  std::optional<Typeface> typeface;              ///< of drawings; where the run named its file

  /// The limit `id`. Throws Broken where the data files lack it (they are ours; a test names each).
  [[nodiscard]] const Sourced& rule(std::string_view id) const;
  /// ISO 286 limits of `id` ("H7", "h6", "g6", "k6", "p6", "s6", "js6", "JS9", "P9", "N9", "H6" …) for `nominal` mm;
  /// nullopt where the tables do not reach. The range rule: over the lower, up to and including the upper.
  [[nodiscard]] std::optional<Fit> fit(std::string_view id, double nominal) const;
  /// Fit names known, for messages and `list fits`, in byte order (holes before shafts).
  [[nodiscard]] std::vector<std::string> fit_names() const;
  /// The parallel key for a bore (over the lower, up to and including the upper), nullopt beyond the table.
  [[nodiscard]] std::optional<Key> key_for(double bore) const;
  /// The key whose slot in the hub is nearest above `hub_depth`, or the deepest of the table: its depth tolerance goes
  /// for a slot given by hand. nullopt where no keys were read.
  [[nodiscard]] std::optional<Key> key_of_depth(double hub_depth) const;

  /// All mm: nominal sizes over `over` up to and including `up_to`; limits relative to the nominal.
  struct FitRow {
    double over = 0, up_to = 0, lower = 0, upper = 0;
  };
  struct FitTable {
    std::string source;
    std::vector<FitRow> rows;
  };
  std::map<std::string, FitTable> fits;
  std::map<std::string, FitTable> tolerances;  ///< general tolerances: "lengths", "edges"
};

/// The data files that the program carries, by path below `profiles/`. Sorted by name. What has an id stands in a file
/// of that name: "grooves/PK.yaml", "belts/PK.yaml", "materials/steel-4140.yaml", "finishes/none.yaml",
/// "texts/en.yaml", "drive_texts/en.yaml", "machines/mill-400.yaml"; the tables are "iso286.yaml", "iso2768.yaml",
/// "keys.yaml", "lettering.yaml", "threads.yaml", "typeface.yaml" and "rules.yaml".
[[nodiscard]] std::span<const TextFile> built_in_files();
/// The ids of the built-in files in a folder of `profiles/` ("materials"), sorted: nothing is parsed.
[[nodiscard]] std::vector<std::string> built_in_ids(std::string_view folder);

/// A table's text without the rows that `ids` does not name, for parsing is most of the start-up time. A row is a line
/// `id: {…}`; a row left out stays as an empty line, so that places stay right. All of the table where `ids` is empty
/// or names a row that it lacks: a message shall then list what there is.
[[nodiscard]] TextFile only_rows(const TextFile& table, std::span<const std::string> ids);

/// Reads data files into a catalogue; a later file's entry replaces an earlier one of the same id, so a person's own
/// come last (rows of own keys are looked at first; own rules can only change those of the first file of rules). The
/// first key of a file says its kind: groove, belt, material, finish, fits, tolerances, threads, keys, rules,
/// lettering, typeface, printer, plastic, machine, chuck, dialect, turning_tools, milling_tools, cutting, texts and
/// drive_text (which change what English says, in their language). nullopt if and only if a problem was added; each
/// carries its place.
[[nodiscard]] std::optional<Catalog> read_catalog(std::span<const TextFile> files, Diagnostics& diagnostics);

}  // namespace groovewright::catalog
