#include "patch.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <unordered_map>
#include <utility>

#include "groovewright/base/broken.h"
#include "sides.h"

namespace groovewright::mesh {
namespace {

using Index = std::uint32_t;
using Triangle = std::array<Index, 3>;
constexpr double kRounding = 1e-5;

double distance(const Vec3& a, const Vec3& b) { return std::hypot(a.x - b.x, a.y - b.y, a.z - b.z); }

bool has(const Triangle& t, Index v) { return t[0] == v || t[1] == v || t[2] == v; }

/// Joins vertices by shrinking edges. An edge may shrink where the only neighbours that its ends share are the corners
/// opposite to it: then the surface stays a surface (the link condition).
class Joiner {
 public:
  explicit Joiner(Patch& patch) : patch_(patch) {}

  /// False when nothing was left to join.
  bool run() {
    find_short_edges();
    if (short_.empty()) return false;
    bool any = false;
    gather_triangles();
    for (const auto& [a, b] : short_) any = (join(a, b) || join(b, a)) || any;
    std::erase_if(patch_.triangles, [](const Triangle& t) { return t[0] == t[1]; });
    return any;
  }

 private:
  void find_short_edges() {
    for (const Triangle& t : patch_.triangles) {
      for (std::size_t k = 0; k < 3; ++k) {
        const Index a = t[k], b = t[(k + 1) % 3];
        if (a > b || b < patch_.first_new) continue;
        if (distance(patch_.vertices[a], patch_.vertices[b]) < kApart) short_.emplace_back(a, b);
      }
    }
  }

  void gather_triangles() {
    for (const auto& [a, b] : short_) {
      around_[a];
      around_[b];
    }
    for (Index i = 0; i < patch_.triangles.size(); ++i) {
      for (const Index v : patch_.triangles[i]) {
        if (const auto it = around_.find(v); it != around_.end()) it->second.push_back(i);
      }
    }
  }

  /// Sorted, without `v`.
  [[nodiscard]] std::vector<Index> neighbours(Index v) const {
    std::vector<Index> found;
    for (const Index i : around_.at(v)) {
      for (const Index w : patch_.triangles[i]) {
        if (w != v) found.push_back(w);
      }
    }
    std::sort(found.begin(), found.end());
    found.erase(std::unique(found.begin(), found.end()), found.end());
    return found;
  }

  [[nodiscard]] bool may_join(Index gone, Index kept) const {
    if (gone < patch_.first_new) return false;
    const std::vector<Index> one = neighbours(gone), other = neighbours(kept);
    if (!std::binary_search(one.begin(), one.end(), kept)) return false;
    std::vector<Index> shared;
    std::set_intersection(one.begin(), one.end(), other.begin(), other.end(), std::back_inserter(shared));
    if (shared.size() != 2) return false;
    return std::all_of(around_.at(gone).begin(), around_.at(gone).end(), [&](Index i) {
      Triangle t = patch_.triangles[i];
      // Tiny ones may stay so: others of their edges will shrink.
      if (has(t, kept) || is_degenerate(patch_.vertices, t)) return true;
      std::replace(t.begin(), t.end(), gone, kept);
      return !is_degenerate(patch_.vertices, t);
    });
  }

  bool join(Index gone, Index kept) {
    if (!may_join(gone, kept)) return false;
    for (const Index i : std::exchange(around_[gone], {})) {
      Triangle& t = patch_.triangles[i];
      if (has(t, kept)) {
        for (const Index v : t) {
          if (const auto it = around_.find(v); it != around_.end()) std::erase(it->second, i);
        }
        t = {};
      } else {
        std::replace(t.begin(), t.end(), gone, kept);
        around_[kept].push_back(i);
      }
    }
    return true;
  }

  Patch& patch_;
  std::vector<std::pair<Index, Index>> short_;
  std::unordered_map<Index, std::vector<Index>> around_;
};

std::array<long long, 3> rounded(const Vec3& v) {
  return {std::llround(v.x / kRounding), std::llround(v.y / kRounding), std::llround(v.z / kRounding)};
}

bool all_distinct(const Patch& patch) {
  std::vector<Index> used;
  std::vector<char> seen(patch.vertices.size(), 0);
  for (const Triangle& t : patch.triangles) {
    for (const Index v : t) {
      if (!std::exchange(seen[v], 1)) used.push_back(v);
    }
  }
  std::vector<std::pair<std::array<long long, 3>, Index>> places;
  places.reserve(used.size());
  for (const Index v : used) places.emplace_back(rounded(patch.vertices[v]), v);
  std::sort(places.begin(), places.end());
  // Old ones that fall together did so before.
  const auto same = [&](const auto& a, const auto& b) { return a.first == b.first && b.second >= patch.first_new; };
  return std::adjacent_find(places.begin(), places.end(), same) == places.end();
}

}  // namespace

void join_near_vertices(Patch& patch) {
  // Joined vertices may come near to others; each round takes one vertex at least.
  while (Joiner(patch).run()) {
  }
}

void check(const Patch& patch) {
  require(closure_between(patch.vertices, patch.triangles, &patch.whole).closed(), "cut_out: the patch does not close");
  require(all_distinct(patch), "cut_out: vertices fall together");
}

}  // namespace groovewright::mesh
