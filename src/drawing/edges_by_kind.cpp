#include "edges_by_kind.h"

#include <algorithm>
#include <cmath>

namespace groovewright::drawing {
namespace {

using plane::Edge;
using section::Kind;
using section::Section;
using section::Tag;

/// Diameters as near as this are one. mm
constexpr double kSame = 1e-6;

}  // namespace

Feature of_kind(const Section& section, Kind kind) {
  return edges(section, [kind](const Tag& t, const Edge&) { return t.kind == kind; });
}

Feature of_rim(const Section& section, Kind kind, std::size_t rim) {
  return edges(section, [&](const Tag& t, const Edge&) { return t.kind == kind && t.rim == static_cast<int>(rim); });
}

Feature seat_at(const Section& section, double z) {
  Feature flat = edges(
      section, [z](const Tag&, const Edge& e) { return std::abs(e.a.x - z) < kSame && std::abs(e.b.x - z) < kSame; });
  const auto inner = [](const plane::Generator& g) { return std::min(g.a.y, g.b.y); };
  std::sort(flat.edges.begin(), flat.edges.end(), [&](const auto& g, const auto& h) { return inner(g) < inner(h); });
  if (flat.edges.size() > 1) flat.edges.resize(1);
  return flat;
}

Feature of_register(const Section& section, const part::Register& r) {
  return edges(section, [&](const Tag& t, const Edge& e) {
    return (t.kind == Kind::step || t.kind == Kind::spigot) && e.a.y == e.b.y &&
           std::abs(2 * e.a.y - r.diameter) < kSame;
  });
}

}  // namespace groovewright::drawing
