// spec.h: what the person wrote: typed, every value with its place, nothing filled in. Start here: `read_pulley`.
//
// Lengths mm, angles Angle, ratios 1 (24 % is 0.24), speeds rpm. A value that was not written is an empty optional;
// what stands in for it is decided in room `part` only.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "groovewright/base/artifact.h"
#include "groovewright/base/diagnostics.h"
#include "groovewright/base/units.h"

namespace groovewright::spec {

/// Limits that bound memory and geometry, tested at ±1.
inline constexpr int kMaxRims = 4;
inline constexpr int kMaxGrooves = 40;
inline constexpr int kMaxHoles = 64;  ///< in one pattern
inline constexpr int kMaxPatterns = 8;
inline constexpr int kMaxTeeth = 120;
inline constexpr int kMaxWord = 512;                          ///< bytes of a text
inline constexpr int kMaxDrawingRows = 12;                    ///< revisions; notes
inline constexpr int kMaxTools = 64;                          ///< named in one document
inline constexpr double kMinLength = 1e-3, kMaxLength = 1e4;  ///< mm

template <class T>
struct Written {
  T value{};
  Place place;
};
template <class T>
using Maybe = std::optional<Written<T>>;
/// What was written, or what stands in for it.
template <class T>
[[nodiscard]] T value_or(const Maybe<T>& written, T otherwise) {
  return written ? written->value : otherwise;
}

using Length = Maybe<double>;
using Turn = Maybe<Angle>;
using Ratio = Maybe<double>;
using Count = Maybe<int>;
using Word = Maybe<std::string>;
using Flag = Maybe<bool>;

enum class Side { front, rear };
enum class HoleKind { clearance, tapped };
enum class ClearanceSeries { fine, medium, coarse };
enum class Damper { none, kept, replaced, on_hub, on_inertia_ring };
enum class MarkPlace { front, rear, front_edge, rear_edge };
enum class ZeroReference { keyway, dowel, hole, top };
enum class Sheet { a4, a3, a2, a1, ansi_a, ansi_b, ansi_c, ansi_d };
enum class Projection { first, third };
enum class StockForm { bar, blank };
enum class GeneralTolerance { iso_22081, iso_2768_f, iso_2768_m, iso_2768_c };

/// A value and the word that stands for it in a document.
template <class E>
struct Choice {
  std::string_view name;
  E value;
};
template <class E>
Choice(const char*, E) -> Choice<E>;
/// The word for `value`. Requires: it is among `choices`.
template <class E, std::size_t N>
[[nodiscard]] constexpr std::string_view name_of(const std::array<Choice<E>, N>& choices, E value) {
  std::size_t i = 0;
  while (choices.at(i).value != value) ++i;
  return choices.at(i).name;
}

// What the planner of a drawing chooses from, where the document leaves it open.
inline constexpr std::array kSheets{Choice{"A4", Sheet::a4},         Choice{"A3", Sheet::a3},
                                    Choice{"A2", Sheet::a2},         Choice{"A1", Sheet::a1},
                                    Choice{"ansi-a", Sheet::ansi_a}, Choice{"ansi-b", Sheet::ansi_b},
                                    Choice{"ansi-c", Sheet::ansi_c}, Choice{"ansi-d", Sheet::ansi_d}};
/// ISO 5455: size on paper over size of the part, falling.
inline constexpr std::array kScales{Choice{"50:1", 50.0},     Choice{"20:1", 20.0},    Choice{"10:1", 10.0},
                                    Choice{"5:1", 5.0},       Choice{"2:1", 2.0},      Choice{"1:1", 1.0},
                                    Choice{"1:2", 1 / 2.0},   Choice{"1:5", 1 / 5.0},  Choice{"1:10", 1 / 10.0},
                                    Choice{"1:20", 1 / 20.0}, Choice{"1:50", 1 / 50.0}};
inline constexpr std::array kGeneralTolerances{
    Choice{"iso-22081", GeneralTolerance::iso_22081}, Choice{"iso-2768-f", GeneralTolerance::iso_2768_f},
    Choice{"iso-2768-m", GeneralTolerance::iso_2768_m}, Choice{"iso-2768-c", GeneralTolerance::iso_2768_c}};
/// ISO 21940-11: of rigid rotors, mm/s.
inline constexpr std::array kBalanceGrades{0.4, 1.0, 2.5, 6.3, 16.0, 40.0};

/// The pulley that an overdrive is measured from.
struct ReferenceSize {
  Place place;
  Length effective_diameter, outside_diameter, pitch_diameter, diameter_over_balls;
};

/// The size of a rim, given in one way.
struct Size {
  Place place;
  Length effective_diameter, outside_diameter, pitch_diameter, diameter_over_balls;
  Ratio overdrive;
  std::optional<ReferenceSize> of;
};
struct Flange {
  Place place;
  Length height, diameter, thickness, edge_break, root_relief;
  Turn lead_in;
};

/// `PK`, or a groove profile of the person's own.
struct SectionName {
  Place place;
  std::string id;    ///< "" where a file is named
  std::string file;  ///< relative to the document
};

struct Rim {
  Place place;
  std::optional<SectionName> section;
  Count ribs, belt_ribs;
  std::optional<Size> size;
  Length crest_radius, root_radius, edge_distance, edge_break, space, pitch_line_offset;
  std::optional<Flange> front_flange, rear_flange;
  Flag guides;
};

struct Windows {
  Place place;
  Count count;
  Length diameter, circle, edge_break;
  Turn start;
};
struct Spokes {
  Place place;
  Count count;
  Length width, fillet, inner_diameter, outer_diameter, edge_break;
  Turn start;
};
struct Web {
  Place place;
  Length thickness, offset;
  Count rim;
  std::optional<Windows> windows;
  std::optional<Spokes> spokes;
};
struct Body {
  Place place;
  Flag solid;
  std::optional<Web> web;
  Length rim_thickness, fillet;
};

struct Stand {
  Place place;
  Length proud, recessed;
};
struct Taper {
  Place place;
  Turn angle;   ///< included
  Ratio ratio;  ///< change of diameter over length
  Maybe<Side> large_end, gauge_face;
  Length gauge_depth, stand_off, stand_off_tolerance, draw_up;
};
struct BoreStep {
  Place place;
  Length diameter, depth;
  Maybe<Side> side;
  Word fit;
};
struct Bore {
  Place place;
  Length diameter, edge_break;
  Word fit;
  std::vector<BoreStep> steps;
  std::optional<Taper> taper;
};
struct Register {
  Place place;
  Length diameter, depth, height;
  Word fit;
  Maybe<Side> side;
};
struct Keyway {
  Place place;
  Length width, depth;
  Word fit;
  Turn angle;
};
struct Bolts {
  Place place;
  Count count;
  Word size;
  Length circle, depth, screw_length;
  Turn start;
  std::vector<Written<Angle>> angles;
  Maybe<HoleKind> hole;
  Maybe<ClearanceSeries> series;
  Maybe<Side> counterbore, countersink, side;
};
/// Plain pins and pockets: dowels, magnets.
struct Pins {
  Place place;
  Count count;
  Length diameter, circle, depth;
  Turn start;
  std::vector<Written<Angle>> angles;
  Word fit;
  Maybe<Side> side;
};
struct Hub {
  Place place;
  Length diameter, length, edge_break;
  std::optional<Stand> front, rear;
  std::optional<Bore> bore;
  std::vector<Register> registers;
  std::optional<Keyway> keyway;
  std::vector<Bolts> bolts, jack_screws;
  std::vector<Pins> dowels;
};

struct TimingZero {
  Place place;
  Maybe<ZeroReference> to;
  Turn angle;
};
struct Marks {
  Place place;
  Maybe<MarkPlace> on;
  std::vector<Written<Angle>> angles;
  Length depth, width, length, radius;
};
struct ToneRing {
  Place place;
  Count teeth, missing;
  Length radius, width, tooth_height, gap, thickness;
  Maybe<Side> side;
  Turn start;
};
struct Finish {
  Place place;
  Word coating;
  Length thickness;
  Flag masked;
};
struct Speed {
  Place place;
  Maybe<double> maximum;
  Word reason;
};

struct Revision {
  Place place;
  Word revision, text;
};
struct Drawing {
  Place place;
  Maybe<Sheet> sheet;
  Maybe<double> scale;  ///< size on paper over size of the part
  Maybe<Projection> projection;
  Maybe<GeneralTolerance> general_tolerance;
  Flag dual_units, maximum_material;
  Word language, number, author;
  std::vector<Revision> revisions;
  std::vector<Written<std::string>> notes;
};
struct StepModel {
  Place place;
  Flag pmi;
};
/// What the part is made from.
struct Stock {
  Place place;
  Maybe<StockForm> form;
  Length diameter, length, bore;
};
struct Machining {
  Place place;
  Word lathe, mill, chuck;
  std::optional<Stock> stock;
  std::vector<Written<std::string>> tools;  ///< only these may be used; none: all
};
struct Balance {
  Place place;
  Maybe<double> grade;  ///< mm/s
};

struct Pulley {
  std::string file;
  Word name, title, material, revision;
  std::vector<Rim> rims;
  std::optional<Body> body;
  std::optional<Hub> hub;
  std::optional<TimingZero> timing_zero;
  std::vector<Marks> marks;
  std::optional<ToneRing> tone_ring;
  std::vector<Pins> magnets;
  std::optional<Finish> finish;
  std::optional<Speed> speed;
  Maybe<Damper> damper;
  std::optional<Drawing> drawing;
  std::optional<StepModel> step;
  std::optional<Machining> machining;
  std::optional<Balance> balance;
};

/// Reads a pulley document. nullopt when anything is wrong; then every mistake found is in `diagnostics`.
[[nodiscard]] std::optional<Pulley> read_pulley(const TextFile& file, Diagnostics& diagnostics);

/// The data files that a pulley names, with their places: `section: {file: …}`.
[[nodiscard]] std::vector<Written<std::string>> references(const Pulley& pulley);

/// Names that a document may take from the catalogue.
struct Names {
  std::vector<std::string> sections, materials, finishes, fits, threads, languages, machines, chucks;
};

/// JSON Schema (draft 2020-12) of the pulley document, from the same description that the reader uses. `known` are
/// examples, which editors offer; a name of a person's own is as good.
[[nodiscard]] std::string pulley_schema(const Names& known);

/// True for a name that may become a folder: `[a-z0-9][a-z0-9._-]{0,63}`.
[[nodiscard]] bool is_name(std::string_view text);

}  // namespace groovewright::spec
