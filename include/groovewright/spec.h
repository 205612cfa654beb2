// spec.h: what the person wrote: typed, every value with its place, nothing filled in. Start here: `read_pulley`.
//
// Lengths mm, angles Angle, ratios 1 (24 % is 0.24), speeds rpm. A value that was not written is an empty optional;
// what stands in for it is decided in room `part` only.
#pragma once

#include <optional>
#include <string>
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
inline constexpr double kMinLength = 1e-3, kMaxLength = 1e4;  ///< mm

template <class T>
struct Written {
  T value{};
  Place place;
};
template <class T>
using Maybe = std::optional<Written<T>>;

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
};

/// Reads a pulley document. nullopt when anything is wrong; then every mistake found is in `diagnostics`.
[[nodiscard]] std::optional<Pulley> read_pulley(const TextFile& file, Diagnostics& diagnostics);

/// The data files that a pulley names, with their places: `section: {file: …}`.
[[nodiscard]] std::vector<Written<std::string>> references(const Pulley& pulley);

/// Names that a document may take from the catalogue.
struct Names {
  std::vector<std::string> sections, materials, finishes, fits, threads;
};

/// JSON Schema (draft 2020-12) of the pulley document, from the same description that the reader uses. `known` are
/// examples, which editors offer; a name of a person's own is as good.
[[nodiscard]] std::string pulley_schema(const Names& known);

/// True for a name that may become a folder: `[a-z0-9][a-z0-9._-]{0,63}`.
[[nodiscard]] bool is_name(std::string_view text);

}  // namespace groovewright::spec
