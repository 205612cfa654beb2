// pictures.h: a belt drive as pages: its layout to scale, a drill template at full size, tensions, frequencies, and
// what more overdrive brings. Room `ink` writes them. Data in, a page out: nothing here judges.
//
// Lengths mm, forces N, speeds rpm of the driver unless said; angles rad.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "groovewright/catalog.h"
#include "groovewright/drive/clearance.h"
#include "groovewright/drive/loads.h"
#include "groovewright/drive/model.h"
#include "groovewright/plane/page.h"

namespace groovewright::drive {

/// The words are those of `Catalog::drive_texts`, in one language.
struct PictureStyle {
  const catalog::Texts& texts;
  const Typeface& typeface;
};

// ---- layout ----

/// A gap to show: two points of the drive's plane and what to write beside, "a 7.4".
struct ClearanceMark {
  Vec2 a, b;
  std::string text;
  std::string says = {};  ///< a sentence for the notes; "": none
  /// Of the tensioner, where the gap is one of what it moves: its idler is drawn there, too.
  std::optional<double> position = {};
  std::vector<plane::Path> with = {};  ///< what the gap ends on there, where nothing else draws it
};
/// Gaps are shown under so many times their limit, and so many at most.
inline constexpr double kTight = 2;
inline constexpr std::size_t kMostMarks = 5;
/// The tightest gaps, by what they have beyond their limit. Those along the axis have no place in this picture.
/// `installed` as in `LayoutOptions`.
[[nodiscard]] std::vector<ClearanceMark> clearance_marks(const Drive& drive, const Course& course,
                                                         const std::vector<Gap>& gaps, std::optional<double> installed,
                                                         const PictureStyle& style);

struct LayoutOptions {
  std::string title;  ///< "" for the drive's name
  /// Where the tensioner stands with the belt on; without it the belt is drawn with the tensioner free. Not used where
  /// there is no tensioner.
  std::optional<double> installed;
  std::vector<ClearanceMark> clearances;
};
/// The drive to scale, seen from the front, on A4 or A3 lying, whichever holds the larger scale of ISO 5455. Pulleys
/// that the belt does not reach are left out of its way; a belt that cannot be laid is not drawn, and the page says so.
/// Requires: what `course` does.
[[nodiscard]] plane::Page layout_page(const Drive& drive, const LayoutOptions& options, const PictureStyle& style);

// ---- drill template ----

/// For a tensioner whose body is turned about its pivot. Positions in the drive's plane.
struct DrillTemplate {
  std::string drive;
  std::string belongs_to = {};  ///< a sentence: which belt and layout this hole goes with
  Vec2 pivot, old_hole, new_hole;
  std::string old_name;     ///< what is there now: "M8", "⌀8"
  double old_diameter = 0;  ///< of that hole or thread
  std::string thread;       ///< of the new one: "M8"; "" for a plain hole
  double diameter = 0;      ///< of the new thread, or of the plain hole
  double tap_drill = 0;     ///< for the thread; a plain hole is drilled to `diameter`
  double depth = 0;         ///< of full thread or hole
  double ligament = 0;      ///< metal between the two holes
  double ligament_least = 0;
};
/// One sheet at 1:1, A4 upright where it holds the three points, else A3 upright; nullopt where even that is too small.
/// Both rulers are 100 mm. Requires: diameters > 0, the peg off the pivot.
[[nodiscard]] std::optional<plane::Page> drill_template_page(const DrillTemplate& hole, const PictureStyle& style);

// ---- charts ----

/// The belt's way from the driver on: each part with its arc of contact and the span that leaves it.
struct TensionPart {
  std::string name;
  double arc = 0, span = 0;  ///< both >= 0
};
/// Tension in the span that leaves each part, N.
struct TensionState {
  std::string name;  ///< "4000 rpm"
  std::vector<double> spans;
};
struct TensionMap {
  std::string drive;
  std::vector<TensionPart> parts;              ///< the driver first
  std::vector<TensionState> pulling, overrun;  ///< as many spans as parts each
  double greatest = 0;                         ///< that the belt takes; 0: not known
  std::string greatest_name;
};
/// Steps over the belt's way, pulleys as upright lines; tension changes evenly over each arc of contact. A4 lying.
[[nodiscard]] plane::Page tension_page(const TensionMap& map, const PictureStyle& style);

struct FrequencyPicture {
  std::string drive;
  struct Ends {
    std::string from, to;  ///< names
  };
  std::vector<Ends> spans;  ///< by the number of the span
  FrequencyMap map;
  std::vector<double> orders;  ///< of the driver, > 0
  double from_rpm = 0, to_rpm = 0;
};
/// Middle frequencies, lines of order, and the meetings ringed and listed. A4 lying.
[[nodiscard]] plane::Page frequency_page(const FrequencyPicture& map, const PictureStyle& style);

/// One step of overdrive.
struct RangePoint {
  double overdrive = 0;  ///< share: 0.24
  double pressure_free = 0, pressure_restricted = 0;
  double driven_rpm = 0;
};
struct RangeMap {
  std::string drive, driven;       ///< names
  std::string pressure_unit;       ///< "kPa"
  double at_rpm = 0;               ///< of the driver, for `driven_rpm`
  std::vector<RangePoint> points;  ///< overdrive rising
  double driven_limit = 0;         ///< rpm; 0: not known
};
/// Band of pressure above, speed with its limit below, against overdrive. A4 upright.
[[nodiscard]] plane::Page range_page(const RangeMap& map, const PictureStyle& style);

}  // namespace groovewright::drive
