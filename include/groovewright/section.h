// section.h: the outline of the part as exact lines and arcs, its openings, and the shop's design rules held against
// them. Lengths mm; half plane x = Z, y = radius (plane.h).
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "groovewright/base/rows.h"
#include "groovewright/part.h"
#include "groovewright/plane.h"

namespace groovewright::section {

/// What an edge of the outline is.
enum class Kind {
  bore,
  step,      // wall of a wider step of the bore, or of a register
  floor,     // square to the axis, inside the bore
  seat,      // hub's rear face
  hub_face,  // hub's front face
  hub,       // hub's outside
  spigot,
  web,  // flat side of the web
  rim_inner,
  rim_face,  // side of the rim or of a flange
  tone_ring,
  flange,   // flange's outside
  lead_in,  // flange's inner wall
  relief,
  land,  // between the outer flank and the face or wall
  crest,
  flank,
  root,
  neck,
  edge_break,
  fillet,
};
[[nodiscard]] std::string_view to_text(Kind kind);

struct Tag {
  Kind kind = Kind::bore;
  int rim = -1;     ///< index, where it belongs to one
  int groove = -1;  ///< of a flank, root; of a crest the groove behind it
};

/// A flat wall square to the axis in which openings may have their mouths.
struct Wall {
  part::Side faces = part::Side::front;
  double z = 0, inner = 0, outer = 0;  ///< radii
  std::size_t edge = 0;
};

/// Which pattern an opening came from, in the order of `body.holes` and `body.pockets`.
struct Section {
  plane::TurnedBody body;
  std::vector<Tag> tags;  ///< one an edge of body.section
  plane::MassProperties mass;
  std::vector<Wall> walls() const;
};

/// The outline and openings of a part. nullopt where the settled numbers don't make a body; then `diagnostics` says
/// which features collide, with their places.
[[nodiscard]] std::optional<Section> half_section(const part::Part& part, Diagnostics& diagnostics);

/// One line a section, for tests and eyes: "bore(40.000) seat(10.000) … flank(2.9) root(r0.40)".
[[nodiscard]] std::string dump(const Section& section);

/// Least metal anywhere between openings and faces, under roots, in hub, web and flanges: rows with limit and source.
[[nodiscard]] Rows design_rules(const part::Part& part, const Section& section);

/// Sizes of everything but the grooves: bore with limits, register, holes, hub, web, flanges, widths, mass.
[[nodiscard]] Rows sizes(const part::Part& part, const Section& section);

}  // namespace groovewright::section
