#include "groups.h"

#include <algorithm>

#include "groovewright/base/broken.h"
#include "groovewright/plane/pieces.h"

namespace groovewright::toolpath {
namespace {

using plane::Edge;
using section::Kind;

constexpr double kLevel = 1e-9;  // mm

bool is_of_rim(Kind k) {
  return k == Kind::flange || k == Kind::lead_in || k == Kind::relief || k == Kind::land || k == Kind::crest ||
         k == Kind::flank || k == Kind::root || k == Kind::neck;
}

bool is_of_mouth(Kind k) { return k == Kind::step || k == Kind::floor || k == Kind::edge_break || k == Kind::fillet; }

}  // namespace

plane::Path placed(const plane::Path& path, bool turned, double shift) {
  plane::Path out = plane::mapped(path, 1, turned, {shift, 0});
  if (!turned) return out;
  std::reverse(out.begin(), out.end());  // ccw again
  for (Edge& e : out) e = e.reversed();
  return out;
}

Outline outline(const section::Section& section, bool turned, double shift) {
  Outline out{placed(section.body.section, turned, shift), section.tags};
  if (turned) std::reverse(out.tags.begin(), out.tags.end());
  return out;
}

plane::Path path_of(const Outline& outline, const Chain& chain) {
  plane::Path out;
  for (const std::size_t i : chain) out.push_back(outline.path[i]);
  return out;
}

Groups groups(const Outline& outline) {
  const std::size_t n = outline.path.size();
  const auto kind = [&](std::size_t i) { return outline.tags[i % n].kind; };
  std::size_t bore = n;
  for (std::size_t i = 0; i < n; ++i) {
    if (kind(i) == Kind::bore && (bore == n || outline.path[i].a.y < outline.path[bore].a.y)) bore = i;
  }
  require(bore < n, "groups: an outline without bore");
  std::size_t first = bore + 1, last = bore + n - 1;
  while (first < bore + n && !is_of_rim(kind(first))) ++first;
  while (last > first && !is_of_rim(kind(last))) --last;
  require(last > first, "groups: an outline without rim");
  while (kind(first - 1) == Kind::edge_break) --first;
  Groups out;
  out.bore = {bore};
  std::size_t i = bore + 1;
  // From the bore out, a mouth only goes towards its face: an edge that turns back is the outer one of a spigot.
  const auto turns_back = [&](std::size_t k) { return outline.path[k % n].b.x < outline.path[k % n].a.x - kLevel; };
  for (; is_of_mouth(kind(i)) && !turns_back(i); ++i) out.free_mouth.push_back(i % n);
  for (; i < first; ++i) out.free_face.push_back(i % n);
  for (; i <= last; ++i) out.outside.push_back(i % n);
  std::size_t mouth = bore;
  while (is_of_mouth(kind(mouth + n - 1)) && !turns_back(mouth + n - 1)) mouth = (mouth + n - 1) % n;
  for (; i % n != mouth; ++i) out.far_face.push_back(i % n);
  return out;
}

std::vector<GrooveEdges> grooves(const Outline& outline) {
  const std::size_t n = outline.path.size();
  std::vector<GrooveEdges> out;
  for (std::size_t i = 0; i < n; ++i) {
    if (outline.tags[i].kind != Kind::root) continue;
    out.push_back({(i + n - 2) % n, (i + n - 1) % n, i, (i + 1) % n, (i + 2) % n, outline.tags[i].rim});
  }
  std::sort(out.begin(), out.end(), [&](const GrooveEdges& a, const GrooveEdges& b) {
    return outline.path[a.root].a.x > outline.path[b.root].a.x;
  });
  return out;
}

}  // namespace groovewright::toolpath
