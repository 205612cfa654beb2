// drawing.h: the supplier's sheet: what the part must meet, and one page that says so. Room `ink` writes the page.
//   requirements -> plan -> Sheet.page
//
// Sizes come from the rows of the dimension sheet, so both say the same. Lengths mm.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "groovewright/base/diagnostics.h"
#include "groovewright/base/rows.h"
#include "groovewright/base/shown.h"
#include "groovewright/base/typeface.h"
#include "groovewright/catalog.h"
#include "groovewright/part.h"
#include "groovewright/plane/faults.h"
#include "groovewright/plane/page.h"
#include "groovewright/section.h"

namespace groovewright::drawing {

/// What a requirement is about: straight edges of the section as they are turned, or openings by id.
struct Feature {
  std::vector<plane::Generator> edges;
  std::vector<std::string> openings;
};

/// A diameter with limits that the part is accepted by.
struct Size {
  Dimension row;
  Feature on;
};

/// A datum of ISO 5459.
struct Datum {
  std::string letter;
  std::string what;  ///< id of the row that sizes it, or "seat"
  Feature on;
};

/// A geometrical tolerance of ISO 1101.
struct Zone {
  enum class Kind { flatness, perpendicularity, position, circular_runout, axial_runout };
  Dimension row = {};  ///< the zone's width or diameter as `upper`, with id, label and source
  Kind kind = Kind::flatness;
  bool diametral = false;         ///< the zone is a cylinder
  bool common = false;            ///< CZ: one pattern of zones
  bool maximum_material = false;  ///< M in a circle
  std::vector<std::string> datums = {};
  Feature on = {};
};

/// All that the sheet demands beside plain sizes, in the order of the sheet.
struct Requirements {
  std::vector<Size> sizes;
  std::vector<Datum> datums;
  std::vector<Zone> zones;
};
/// `rows` are the part's dimensions (gauge and section). Datums by what locates the part: a bore engaged over at least
/// 0.8 of its diameter, or a taper, leads; else the seat face does, with the register (or the short bore) second.
[[nodiscard]] Requirements requirements(const part::Part& part, const section::Section& section,
                                        std::span<const Dimension> rows);
/// The geometrical tolerances as rows of the dimension sheet; those that `rows` hold already are left out.
[[nodiscard]] Rows tolerances(const part::Part& part, const section::Section& section, std::span<const Dimension> rows);

struct Style {
  const catalog::Texts& texts;
  const Typeface& typeface;
  Units units = Units::mm;
};

struct Sheet {
  plane::Page page;
  std::string format;  ///< "A3", "ANSI B"
  std::string scale;   ///< "1:2"
  plane::Faults faults;
};

/// Lays out the sheet: the smallest size and largest scale on which all stands clear, or those that the part asks for.
/// `rows` are the dimension sheet's. nullopt, with a diagnostic at the document's place, where a wished size or
/// scale is too small; what the typeface lacks is a warning that names the characters.
[[nodiscard]] std::optional<Sheet> plan(const part::Part& part, const section::Section& section,
                                        std::span<const Dimension> rows, const Style& style, Diagnostics& diagnostics);

}  // namespace groovewright::drawing
