// edges_by_kind.h: inside room `drawing`: straight edges of the section, found by what they are.
#pragma once

#include "groovewright/drawing.h"

namespace groovewright::drawing {

/// Those that `pick(tag, edge)` holds for.
template <class Pick>
[[nodiscard]] Feature edges(const section::Section& section, Pick pick) {
  Feature feature;
  for (std::size_t i = 0; i < section.tags.size(); ++i) {
    const plane::Edge& e = section.body.section[i];
    if (!e.is_arc() && pick(section.tags[i], e)) feature.edges.push_back({e.a, e.b});
  }
  return feature;
}
[[nodiscard]] Feature of_kind(const section::Section& section, section::Kind kind);
[[nodiscard]] Feature of_rim(const section::Section& section, section::Kind kind, std::size_t rim);
/// The flat face about the axis at this Z, whatever it is called: a disc has no hub of its own.
[[nodiscard]] Feature seat_at(const section::Section& section, double z);
/// The cylinder of a register: the step or spigot of its diameter.
[[nodiscard]] Feature of_register(const section::Section& section, const part::Register& r);

}  // namespace groovewright::drawing
