#include "turned.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <numeric>
#include <optional>

#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"

namespace groovewright::mesh {
namespace {

using plane::Edge;
using plane::Vec2;
using std::numbers::pi;
constexpr double kTurn = 2 * pi;
/// Sections are good to plane::kCoincident a corner; a slot that ends this near to a corner ends there.
constexpr double kSame = 1e-6;
/// How far into the metal a face is asked whether a slot takes it. Far above kSame, far below any real feature.
constexpr double kProbe = 1e-5;

bool is_wall(const Edge& e) { return !e.is_arc() && std::abs(e.a.x - e.b.x) <= plane::kCoincident; }
bool is_on_axis(const Edge& e) { return !e.is_arc() && std::max(e.a.y, e.b.y) <= plane::kCoincident; }

Strip::Kind kind_of(const Edge& e) {
  return is_on_axis(e) ? Strip::Kind::axis : is_wall(e) ? Strip::Kind::wall : Strip::Kind::curved;
}

/// Fractions of the edge's length, strictly inside it, at which it meets the line where `coordinate` is `level`.
std::vector<double> crossings(const Edge& e, double Vec2::*coordinate, double level) {
  std::vector<double> found;
  const auto keep = [&](double t) {
    if (t * e.length() > kSame && (1 - t) * e.length() > kSame) found.push_back(t);
  };
  if (!e.is_arc()) {
    const double from = e.a.*coordinate, to = e.b.*coordinate;
    if (from != to) keep((level - from) / (to - from));
    return found;
  }
  const double aside = (level - e.centre.*coordinate) / e.radius();
  if (std::abs(aside) >= 1) return found;
  const double along = std::sqrt((1 - aside) * (1 + aside));
  const double start = atan2_of(e.a.y - e.centre.y, e.a.x - e.centre.x);
  for (const double other : {along, -along}) {
    const double angle = coordinate == &Vec2::x ? atan2_of(other, aside) : atan2_of(aside, other);
    double turned = (e.turn == Edge::Turn::ccw ? angle - start : start - angle);
    while (turned < 0) turned += kTurn;
    while (turned >= kTurn) turned -= kTurn;
    keep(turned / std::abs(e.sweep()));
  }
  return found;
}

/// Fractions at which slots begin or end on the edge.
std::vector<double> slot_ends(const Edge& e, const SlotFrame& slot) {
  std::vector<double> found;
  for (const double z : {slot.z0(), slot.z1()}) {
    for (const double t : crossings(e, &Vec2::x, z)) {
      if (slot.depth(e.at(t).y) > -kSame) found.push_back(t);
    }
  }
  if (!slot.inward()) {
    for (const double t : crossings(e, &Vec2::y, slot.limit())) {
      const double z = e.at(t).x;
      if (slot.z0() - kSame < z && z < slot.z1() + kSame) found.push_back(t);
    }
  }
  return found;
}

std::vector<Edge> split(const Edge& e, std::vector<double> at) {
  std::sort(at.begin(), at.end());
  std::vector<Edge> parts = {e};
  double last = 0;
  for (const double t : at) {
    if ((t - last) * e.length() <= kSame) continue;
    Edge rest = parts.back();
    parts.back().b = rest.a = e.at(t);
    parts.push_back(rest);
    last = t;
  }
  return parts;
}

/// True when both edges are one face: walls that continue each other.
bool continues(const Edge& e, const Edge& f) {
  return is_wall(e) && is_wall(f) && (e.b.y - e.a.y) * (f.b.y - f.a.y) > 0;
}

std::optional<Cut> cut_by(const Edge& e, std::size_t index, const SlotFrame& slot) {
  const Vec2 tangent = e.tangent_at(0.5);
  const Vec2 into_metal = kProbe * Vec2{-tangent.y, tangent.x};
  Cut cut{index, false, false, {}};
  if (is_wall(e)) {
    const Vec2 along = kProbe * tangent;
    cut.at_start = slot.holds(e.a + into_metal + along);
    cut.at_end = slot.holds(e.b + into_metal - along);
  } else {
    cut.at_start = cut.at_end = slot.holds(e.at(0.5) + into_metal);
  }
  if (!cut.at_start && !cut.at_end) return std::nullopt;
  return cut;
}

// ---- how fine ----

/// The part of the deflection that turning takes: r (1 - cos(pi / count)), written to keep its digits.
double turning_error(double r, int count) {
  const double s = sin_of(pi / (2 * count));
  return 2 * r * s * s;
}

/// True when the arc lies on its circle's half that is nearer to the axis. Flat facets err towards the axis when turned
/// and away from it along such an arc's chords, so there the errors cancel instead of adding up.
bool is_valley(const Edge& arc) {
  return arc.a.y <= arc.centre.y && arc.b.y <= arc.centre.y && std::abs(arc.sweep()) <= pi;
}

double largest_radius(const Edge& e) {
  const double ends = std::max(e.a.y, e.b.y);
  return e.is_arc() && !is_valley(e) ? e.centre.y + e.radius() : ends;
}

/// Steps along a piece when its circles have `count` corners; 0 where no number of steps is fine enough.
int steps_along(const Edge& e, int count, double deflection) {
  if (!e.is_arc()) return 1;
  const double left = is_valley(e) ? deflection : deflection - turning_error(largest_radius(e), count);
  if (left <= 0) return 0;
  // rho (1 - cos(step / 2)) = 2 rho sin²(step / 4); no step wider than a quarter turn.
  const double sine = std::sqrt(std::min(0.5, left / (2 * e.radius())));
  const double finest = std::min(4 * asin_of(sine), pi / 2);
  return std::max(1, static_cast<int>(std::ceil(std::abs(e.sweep()) / finest - 1e-9)));
}

/// Corners of the circles of neighbouring pieces: the number that makes the fewest triangles. Coarse circles leave
/// little of the deflection to the arcs, so the best lies somewhere above the least.
int best_count(const std::vector<const Edge*>& group, double deflection) {
  double r = 0;
  for (const Edge* e : group) r = std::max(r, largest_radius(*e));
  const int least = plane::arc_steps(r, kTurn, deflection);
  const int step = std::max(1, least / 32);
  int best = 0;
  double fewest = 0;
  for (int count = least; count <= 3 * least; count += step) {
    double strips = 1;  // the walls on both sides
    bool fits = true;
    for (const Edge* e : group) {
      const int steps = steps_along(*e, count, deflection);
      fits = fits && steps > 0;
      strips += steps;
    }
    if (!fits || (best > 0 && strips * count >= fewest)) continue;
    best = count;
    fewest = strips * count;
  }
  require(best > 0, "tessellate: no circle is fine enough");
  return best;
}

/// More steps where a slot's lips would turn by more than the circle's own step from ring to ring.
int steps_for_lips(const Piece& p, int steps, int count, const std::vector<SlotFrame>& slots) {
  const auto drifts = [&](int n, const SlotFrame& slot) {
    for (int k = 0; k < n; ++k) {
      const double from = p.edge.at(static_cast<double>(k) / n).y, to = p.edge.at((k + 1.0) / n).y;
      if (std::abs(slot.lip_angle(from) - slot.lip_angle(to)) > kTurn / count) return true;
    }
    return false;
  };
  for (const Cut& cut : p.cuts) {
    while (drifts(steps, slots[cut.slot])) ++steps;
  }
  return steps;
}

// ---- rings ----

/// Cosines and sines of whole circles, computed once a count.
const std::vector<Vec2>& unit_circle(int count, std::map<int, std::vector<Vec2>>& known) {
  std::vector<Vec2>& circle = known[count];
  for (int k = static_cast<int>(circle.size()); k < count; ++k) {
    const double angle = kTurn * k / count;
    circle.push_back({cos_of(angle), sin_of(angle)});
  }
  return circle;
}

Ring plain_ring(Vec2 at, int count, std::map<int, std::vector<Vec2>>& known, Builder& builder) {
  Ring ring{at.x, at.y, {}, {}};
  if (at.y <= plane::kCoincident) {
    ring.nodes.push_back({0, builder.add({0, 0, at.x})});
    return ring;
  }
  ring.nodes.reserve(static_cast<std::size_t>(count));
  const std::vector<Vec2>& circle = unit_circle(count, known);
  for (int k = 0; k < count; ++k) {
    const Vec2 u = circle[static_cast<std::size_t>(k)];
    ring.nodes.push_back({kTurn * k / count, builder.add({at.y * u.x, at.y * u.y, at.x})});
  }
  return ring;
}

/// How a slot meets a ring: it cuts the strips on one side or on both.
struct Touch {
  std::size_t slot;
  bool both_sides;
};

double in_turn(double angle) {
  const double a = std::fmod(angle, kTurn);
  return a < 0 ? a + kTurn : a;
}

/// A ring with vertices on the sides of every slot that it meets, and even steps between them.
Ring cut_ring(Vec2 at, int count, const std::vector<Touch>& touches, const std::vector<SlotFrame>& slots,
              Builder& builder) {
  struct Lip {
    double angle;
    std::size_t touch;
    bool high;
  };
  const double r = at.y;
  std::vector<Lip> lips;
  for (std::size_t i = 0; i < touches.size(); ++i) {
    const SlotFrame& slot = slots[touches[i].slot];
    require(r > slot.half(), "tessellate: a slot is wider than the circle it cuts");
    lips.push_back({in_turn(slot.angle() - slot.lip_angle(r)), i, false});
    lips.push_back({in_turn(slot.angle() + slot.lip_angle(r)), i, true});
  }
  std::sort(lips.begin(), lips.end(), [](const Lip& a, const Lip& b) { return a.angle < b.angle; });
  struct Tagged {
    Node node;
    std::size_t lip;
  };
  constexpr std::size_t kNoLip = ~std::size_t{0};
  std::vector<Tagged> nodes;
  for (std::size_t i = 0; i < lips.size(); ++i) {
    const Lip &lip = lips[i], &next = lips[(i + 1) % lips.size()];
    require(lip.high ? !next.high : next.high && next.touch == lip.touch, "tessellate: slots overlap");
    const SlotFrame& slot = slots[touches[lip.touch].slot];
    const double across = lip.high ? slot.half() : -slot.half();
    nodes.push_back({{lip.angle, builder.add(slot.point(slot.reach(r), across, at.x))}, i});
    if (!lip.high && touches[lip.touch].both_sides) continue;
    const double span = in_turn(next.angle - lip.angle);
    const int steps = std::max(1, static_cast<int>(std::ceil(span * count / kTurn - 1e-9)));
    for (int k = 1; k < steps; ++k) {
      const double angle = in_turn(lip.angle + span * k / steps);
      nodes.push_back({{angle, builder.add({r * cos_of(angle), r * sin_of(angle), at.x})}, kNoLip});
    }
  }
  std::sort(nodes.begin(), nodes.end(), [](const Tagged& a, const Tagged& b) { return a.node.angle < b.node.angle; });
  Ring ring{at.x, r, {}, {}};
  for (const Touch& t : touches) ring.lips.push_back({t.slot, 0, 0});
  for (std::size_t k = 0; k < nodes.size(); ++k) {
    ring.nodes.push_back(nodes[k].node);
    if (nodes[k].lip == kNoLip) continue;
    const Lip& lip = lips[nodes[k].lip];
    (lip.high ? ring.lips[lip.touch].high : ring.lips[lip.touch].low) = k;
  }
  return ring;
}

std::vector<Touch> touches(const Strip& before, const Strip& after) {
  std::map<std::size_t, int> sides;
  for (const Cut& c : before.cuts) sides[c.slot] += c.at_end;
  for (const Cut& c : after.cuts) sides[c.slot] += c.at_start;
  std::vector<Touch> found;
  for (const auto& [slot, n] : sides) {
    if (n > 0) found.push_back({slot, n == 2});
  }
  return found;
}

/// Corners of the circles of each piece: one number for neighbours without a wall between them.
std::vector<int> counts(const std::vector<Piece>& pieces, double deflection) {
  const std::size_t size = pieces.size();
  std::size_t first = 0;
  while (first < size && pieces[first].kind == Strip::Kind::curved) ++first;
  std::vector<int> found(size, 0);
  std::vector<const Edge*> group;
  std::vector<std::size_t> members;
  const auto finish = [&] {
    if (group.empty()) return;
    const int count = best_count(group, deflection);
    for (const std::size_t i : members) found[i] = count;
    group.clear();
    members.clear();
  };
  for (std::size_t k = 0; k < size; ++k) {
    const std::size_t i = (first + k) % size;
    if (pieces[i].kind != Strip::Kind::curved) {
      finish();
    } else {
      group.push_back(&pieces[i].edge);
      members.push_back(i);
    }
  }
  finish();
  return found;
}

}  // namespace

SlotFrame::SlotFrame(const plane::Slot& slot) : slot_(slot), ray_{cos_of(slot.angle), sin_of(slot.angle)} {
  require(slot.width > 0 && slot.floor > slot.width / 2 && slot.z0 < slot.z1, "tessellate: a slot has no size");
  slot_.angle = in_turn(slot.angle);
  limit_ = slot.inward ? length_of(slot.floor, half()) : slot.floor;
}

double SlotFrame::lip_angle(double r) const { return asin_of(std::min(1.0, half() / r)); }
double SlotFrame::reach(double r) const { return std::sqrt(std::max(0.0, (r - half()) * (r + half()))); }
Vec3 SlotFrame::point(double along, double across, double z) const {
  return {along * ray_.x - across * ray_.y, along * ray_.y + across * ray_.x, z};
}

void SlotFrame::snap_to(const plane::Path& section) {
  for (const Edge& e : section) {
    if (std::abs(slot_.z0 - e.a.x) <= kSame) slot_.z0 = e.a.x;
    if (std::abs(slot_.z1 - e.a.x) <= kSame) slot_.z1 = e.a.x;
    if (!slot_.inward && std::abs(limit_ - e.a.y) <= kSame) limit_ = slot_.floor = e.a.y;
  }
}

const Lips& Ring::lips_of(std::size_t slot) const {
  const auto it =
      std::lower_bound(lips.begin(), lips.end(), slot, [](const Lips& l, std::size_t s) { return l.slot < s; });
  require(it != lips.end() && it->slot == slot, "tessellate: a slot misses a ring");
  return *it;
}

Row Ring::whole() const {
  Row row = nodes;
  if (row.size() > 1) row.push_back({row.front().angle + kTurn, row.front().id});
  return row;
}

Row Ring::part(std::size_t from, std::size_t to, double near) const {
  Row row;
  double lap = kTurn * std::round((near - nodes[from].angle) / kTurn);
  for (std::size_t k = from;; k = k + 1 == nodes.size() ? 0 : k + 1) {
    if (k == 0 && !row.empty()) lap += kTurn;
    row.push_back({nodes[k].angle + lap, nodes[k].id});
    if (k == to && row.size() > 1) return row;
  }
}

Row Ring::gap(const SlotFrame& frame, std::size_t slot) const {
  const Lips& l = lips_of(slot);
  return part(l.low, l.high, frame.angle());
}

std::vector<Piece> pieces(const plane::Path& section, const std::vector<SlotFrame>& slots) {
  std::vector<Piece> found;
  for (const Edge& e : section) {
    if (!found.empty() && continues(found.back().edge, e)) {
      found.back().edge.b = e.b;
      continue;
    }
    std::vector<double> at;
    if (kind_of(e) == Strip::Kind::curved) {
      for (const SlotFrame& slot : slots) {
        const std::vector<double> more = slot_ends(e, slot);
        at.insert(at.end(), more.begin(), more.end());
      }
    }
    for (const Edge& part : split(e, std::move(at))) found.push_back({part, kind_of(part), {}});
  }
  if (found.size() > 1 && continues(found.back().edge, found.front().edge)) {
    found.front().edge.a = found.back().edge.a;
    found.pop_back();
  }
  for (Piece& p : found) {
    if (p.kind == Strip::Kind::axis) continue;
    for (std::size_t k = 0; k < slots.size(); ++k) {
      if (auto cut = cut_by(p.edge, k, slots[k])) p.cuts.push_back(std::move(*cut));
    }
  }
  return found;
}

Turned turn(const std::vector<Piece>& pieces, std::vector<SlotFrame> slots, double deflection, Builder& builder) {
  const std::vector<int> count = counts(pieces, deflection);
  Turned turned;
  std::vector<Vec2> at;
  std::vector<int> ring_count;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const Piece& p = pieces[i];
    const std::size_t before = i == 0 ? pieces.size() - 1 : i - 1;
    int steps = 1;
    if (p.kind == Strip::Kind::curved) {
      steps = steps_for_lips(p, steps_along(p.edge, count[i], deflection), count[i], slots);
    }
    for (int k = 0; k < steps; ++k) {
      at.push_back(k == 0 ? p.edge.a : p.edge.at(static_cast<double>(k) / steps));
      ring_count.push_back(std::max(count[i], k == 0 ? count[before] : 0));
      turned.strips.push_back({p.kind, p.cuts, i});
    }
  }
  builder.expect(static_cast<std::size_t>(std::accumulate(ring_count.begin(), ring_count.end(), 0L)));
  turned.rings.reserve(at.size());
  std::map<int, std::vector<Vec2>> circles;
  for (std::size_t i = 0; i < at.size(); ++i) {
    const std::vector<Touch> met = touches(turned.strips[i == 0 ? at.size() - 1 : i - 1], turned.strips[i]);
    turned.rings.push_back(met.empty() ? plain_ring(at[i], ring_count[i], circles, builder)
                                       : cut_ring(at[i], ring_count[i], met, slots, builder));
  }
  turned.slots = std::move(slots);
  return turned;
}

}  // namespace groovewright::mesh
