// gauge.h: what a ball laid in the grooves reads: effective diameter, its limits, and the witnesses that found it.
// Lengths mm, on diameter where a symbol says d or K. Start here: `lay_balls`.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "groovewright/base/rows.h"
#include "groovewright/part.h"
#include "groovewright/plane.h"
#include "groovewright/section.h"

namespace groovewright::gauge {

/// A groove as found by its two flanks, and the ball in it.
struct LaidBall {
  double z = 0;           ///< of the ball's middle
  double over_balls = 0;  ///< K
  Angle angle;            ///< between the flanks
  bool on_flanks = true;  ///< false where the ball would touch a rounding instead
};

/// Lays a ball into every groove found in `flanks` (sorted by Z, metal to the left): a groove is a flank that falls
/// towards the axis followed by one that rises. Other generators (flange walls, edge breaks) pair with nothing.
[[nodiscard]] std::vector<LaidBall> lay_balls(std::span<const plane::Generator> flanks, double ball_diameter);

/// Flanks of the outline itself, as generators.
[[nodiscard]] std::vector<plane::Generator> flanks(const section::Section& section);

/// Leans within which a measured generator may be a flank of this part: every rim's half angle, with room on both
/// sides.
struct LeanWindow {
  double least = 0, most = 0;  ///< rad
};
[[nodiscard]] LeanWindow lean_window(const part::Part& part);

/// One witness's reading of the whole part.
struct Witness {
  std::string id;    ///< "solid", "mesh", "step"
  std::string what;  ///< "finished solid, its flank faces"
  std::vector<plane::Generator> generators;
  double uncertainty = 0;  ///< mm, on diameter: half of the band within which K may lie
};

/// Promise of the exact witnesses, mm on diameter.
inline constexpr double kWitnessAgreement = 1e-6;

/// Uncertainty of K found in triangles whose chords lie within `deflection` of the surface: 2 deflection / sin h, of
/// the part's narrowest groove.
[[nodiscard]] double mesh_uncertainty(const part::Part& part, double deflection);

/// Sizes of the grooves with limits, before and after coating.
[[nodiscard]] Rows sizes(const part::Part& part);

/// The rows of the grooves that need no kernel: effective diameter from the spec, its least value, pitch, angle, depth,
/// crests, belt seat, flanges against the belt, ribs, belt speed, damper.
[[nodiscard]] Rows check(const part::Part& part, const section::Section& section);

/// The rows of one witness: effective diameter and groove-to-groove spread of every rim, and agreement with the spec.
[[nodiscard]] Rows judge(const part::Part& part, const Witness& witness);
/// The rows that a witness would have given, where it was not asked.
[[nodiscard]] Rows not_judged(const part::Part& part, const std::string& id, const std::string& what);

}  // namespace groovewright::gauge
