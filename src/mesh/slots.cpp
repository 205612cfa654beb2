// What a slot opens: its floor, two sides and the ends inside the metal. In the half plane the removed metal is the
// section clipped by the slot's rectangle (Z from z0 to z1, radius up to or from the floor's corner); the outline of
// that clip is walked with the removed metal to the left. Where it follows the section the faces are gone; where it
// follows the rectangle new ones arise.
#include <algorithm>
#include <cmath>

#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"
#include "turned.h"

namespace groovewright::mesh {
namespace {

/// Stations nearer than this on the rectangle are one.
constexpr double kSame = 1e-6;

/// A corner of the clip, and the vertices that stand for it in the body: from the low side of the slot to the high one.
struct Station {
  double z = 0, r = 0;
  Row gap;
};
using Stations = std::vector<Station>;

class Lining {
 public:
  Lining(Turned& turned, std::size_t slot, double deflection, Builder& builder)
      : turned_(turned), index_(slot), frame_(turned.slots[slot]), deflection_(deflection), builder_(builder) {}

  void build() {
    std::vector<Stations> chains = cut_chains();
    std::sort(chains.begin(), chains.end(),
              [&](const Stations& a, const Stations& b) { return place(a.front()) < place(b.front()); });
    std::vector<char> used(chains.size(), 0);
    for (std::size_t first = 0; first < chains.size(); ++first) {
      if (used[first]) continue;
      Stations outline;
      std::size_t chain = first;
      do {
        require(!used[chain], "tessellate: a slot's outline does not close");
        used[chain] = 1;
        append(outline, chains[chain]);
        chain = next_chain(chains, place(outline.back()));
        add_border(outline, chains[chain].front());
      } while (chain != first);
      add_sides(outline);
    }
  }

 private:
  [[nodiscard]] double length() const { return frame_.z1() - frame_.z0(); }

  /// Where a station stands on the rectangle, counter-clockwise: below 0 on the first end, 0 to length() along the
  /// floor, above on the other end.
  [[nodiscard]] double place(const Station& s) const {
    const double depth = frame_.depth(s.r), along = frame_.inward() ? frame_.z1() - s.z : s.z - frame_.z0();
    if (std::abs(depth) <= kSame) return along;
    if (std::abs(along) <= kSame) return -depth;
    require(std::abs(along - length()) <= kSame, "tessellate: a slot's outline leaves its floor and ends");
    return length() + depth;
  }

  [[nodiscard]] Station at_ring(const Ring& ring) const {
    require(!frame_.inward() || ring.r < frame_.floor(),
            "tessellate: a curved face crosses the floor of an inward slot");
    return {ring.z, ring.r, ring.gap(frame_, index_)};
  }

  /// A new station on the floor's edge.
  [[nodiscard]] Station at_floor(double z) {
    const double r = frame_.limit(), lip = frame_.lip_angle(r), reach = frame_.reach(r);
    const int steps = frame_.inward() ? 1 : plane::arc_steps(r, 2 * lip, deflection_);
    Station s{z, r, {}};
    for (int k = 0; k <= steps; ++k) {
      const double aside = lip * (2.0 * k / steps - 1), angle = frame_.angle() + aside;
      const bool is_lip = k == 0 || k == steps;
      const Vec3 at = is_lip ? frame_.point(reach, k == 0 ? -frame_.half() : frame_.half(), z)
                             : frame_.point(r * cos_of(aside), r * sin_of(aside), z);
      s.gap.push_back({angle, builder_.add(at)});
    }
    return s;
  }

  /// The runs of the section that the slot takes.
  std::vector<Stations> cut_chains() {
    const std::size_t size = turned_.strips.size();
    std::vector<Stations> chains;
    Stations open;
    const auto finish = [&] {
      if (!open.empty()) chains.push_back(std::move(open));
      open.clear();
    };
    const auto cut_of = [&](std::size_t i) {
      auto& cuts = turned_.strips[i].cuts;
      const auto it = std::find_if(cuts.begin(), cuts.end(), [&](const Cut& c) { return c.slot == index_; });
      return it == cuts.end() ? nullptr : &*it;
    };
    std::size_t first = 0;
    while (first < size && cut_of(first)) ++first;
    require(first < size, "tessellate: a slot takes the whole part");
    for (std::size_t k = 0; k < size; ++k) {
      const std::size_t i = (first + k) % size;
      Cut* cut = cut_of(i);
      if (!cut) {
        finish();
        continue;
      }
      const auto notch = [&] {
        Station s = at_floor(turned_.start(i).z);
        cut->notch = s.gap;
        return s;
      };
      if (open.empty()) open.push_back(cut->at_start ? at_ring(turned_.start(i)) : notch());
      open.push_back(cut->at_end ? at_ring(turned_.end(i)) : notch());
      if (!cut->at_end) finish();
    }
    finish();
    return chains;
  }

  static void append(Stations& outline, const Stations& chain) {
    const bool joined = !outline.empty() && outline.back().gap.front().id == chain.front().gap.front().id;
    outline.insert(outline.end(), chain.begin() + (joined ? 1 : 0), chain.end());
  }

  [[nodiscard]] std::size_t next_chain(const std::vector<Stations>& chains, double from) const {
    const auto it =
        std::find_if(chains.begin(), chains.end(), [&](const Stations& c) { return place(c.front()) >= from - kSame; });
    require(it != chains.end(), "tessellate: a slot's outline does not close");
    return static_cast<std::size_t>(it - chains.begin());
  }

  /// From the outline's last station along the rectangle to `to`, with the faces that arise.
  void add_border(Stations& outline, const Station& to) {
    const double from = place(outline.back()), until = place(to);
    for (const double corner : {0.0, length()}) {
      if (from >= corner - kSame || corner + kSame >= until) continue;
      const bool low_z = (corner == 0) != frame_.inward();
      Station s = at_floor(low_z ? frame_.z0() : frame_.z1());
      add_face(outline.back(), s);
      outline.push_back(std::move(s));
    }
    if (until - from > kSame) add_face(outline.back(), to);
  }

  /// The face over one side of the rectangle: metal lies beyond it, to the right of p -> q.
  void add_face(const Station& p, const Station& q) {
    if (std::abs(frame_.depth(p.r)) <= kSame && std::abs(frame_.depth(q.r)) <= kSame) return builder_.zip(q.gap, p.gap);
    const bool up = p.r > q.r;
    Loop loop = ids(up ? p.gap : q.gap);
    const std::vector<std::uint32_t> inner = reversed(ids(up ? q.gap : p.gap));
    loop.insert(loop.end(), inner.begin(), inner.end());
    builder_.fill_level({loop}, up);
  }

  void add_sides(const Stations& outline) {
    Loop low, high;
    const std::size_t size = outline.size();
    for (std::size_t i = 0; i < size; ++i) {
      const Row& gap = outline[i].gap;
      if (i + 1 == size && size > 1 && gap.front().id == outline.front().gap.front().id) break;
      low.push_back(gap.front().id);
      high.push_back(gap.back().id);
    }
    const auto place_of = [&](std::uint32_t id) {
      const Vec3& v = builder_.at(id);
      return plane::Vec2{v.z, frame_.along(v)};
    };
    builder_.fill({low}, place_of, false);
    builder_.fill({high}, place_of, true);
  }

  Turned& turned_;
  std::size_t index_;
  const SlotFrame& frame_;
  double deflection_;
  Builder& builder_;
};

}  // namespace

void line_slots(Turned& turned, double deflection, Builder& builder) {
  for (std::size_t k = 0; k < turned.slots.size(); ++k) Lining(turned, k, deflection, builder).build();
}

}  // namespace groovewright::mesh
