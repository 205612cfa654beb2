#include <algorithm>
#include <cmath>

#include "build.h"
#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"

namespace groovewright::section {
namespace {

using part::Part;
using part::Rim;
using part::Side;
using plane::Vec2;

constexpr double kSame = plane::kCoincident;
/// Fillets of small inner steps, where the document names none: enough for a turning insert's nose.
constexpr double kStepFillet = 0.4;

std::string mm(double v) { return trimmed(v, 3) + " mm"; }

/// A corner of the outline before it is broken: `chamfer` applies where the metal stands out, `fillet` where it goes
/// in; `round` (crests and roots) applies either way.
struct Knee {
  Vec2 at = {};
  double chamfer = 0;
  double fillet = 0;
  double round = 0;
  Tag tag = {};  ///< of the corner itself, where `round`
};

/// Knees with the sides between them, open or closed.
struct Chain {
  std::vector<Knee> knees;
  std::vector<Tag> sides;  ///< sides[i] runs from knees[i] to knees[i+1]

  void start(Knee k) { knees.push_back(k); }
  void to(Tag side, Knee k) {
    sides.push_back(side);
    knees.push_back(k);
  }
  /// Goes on with `other`, which begins where this one ends.
  void append(const Chain& other) {
    knees.insert(knees.end(), other.knees.begin() + 1, other.knees.end());
    sides.insert(sides.end(), other.sides.begin(), other.sides.end());
  }
  void reverse() {
    std::reverse(knees.begin(), knees.end());
    std::reverse(sides.begin(), sides.end());
  }
};

class OutlineMaker {
 public:
  OutlineMaker(const Part& part, Diagnostics& diagnostics) : part_(part), diagnostics_(diagnostics) {}

  std::optional<Outline> make() {
    check_places();
    if (diagnostics_.has_errors()) return std::nullopt;
    Chain chain = end(Side::front);
    chain.append(outside());
    Chain rear = end(Side::rear);
    rear.reverse();
    chain.append(rear);
    if (diagnostics_.has_errors()) return std::nullopt;
    return broken(std::move(chain));
  }

 private:
  void error(Code code, const Place& place, std::string fragment, std::string message) {
    diagnostics_.error(code, place, std::move(fragment), std::move(message));
  }

  // ---- what must hold before anything is drawn ----

  [[nodiscard]] double web_middle() const {
    const auto i = static_cast<std::size_t>(part_.web->rim);
    const Rim& rim = part_.rims[i];
    return part_.groove_z(i, 0) + (rim.grooves - 1) * rim.groove.pitch.value / 2 + part_.web->offset.value;
  }
  [[nodiscard]] double web_face(Side side) const {
    return web_middle() + (side == Side::front ? 0.5 : -0.5) * part_.web->thickness.value;
  }

  void check_places() {
    check_bore();
    for (const Rim& rim : part_.rims) check_reliefs(rim);
    if (part_.web) check_web();
    const double least_root = least_root_radius();
    if (!part_.web && part_.hub.boss && part_.hub.diameter.value / 2 > least_root) {
      error(Code::does_not_fit, part_.hub.diameter.place, "diameter",
            "the hub of " + mm(part_.hub.diameter.value) + " is larger than the groove root of " + mm(2 * least_root));
    }
    if (part_.tone_ring) check_tone_ring(*part_.tone_ring);
  }

  [[nodiscard]] double least_root_radius() const {
    double r = part_.rims.front().root_diameter() / 2;
    for (const Rim& rim : part_.rims) r = std::min(r, rim.root_diameter() / 2);
    return r;
  }

  [[nodiscard]] double bore_radius(double z) const { return part_.hub.bore_radius(z); }

  struct Step {
    Place place, diameter_place;
    double radius, depth;
  };
  /// Wider steps on one side, from the face inward, register recess included.
  [[nodiscard]] std::vector<Step> steps(Side side) const {
    std::vector<Step> found;
    for (const auto& r : part_.hub.registers) {
      if (r.side == side && r.depth > 0) found.push_back({r.place, r.diameter_place, r.diameter / 2, r.depth});
    }
    for (const auto& s : part_.hub.bore.steps) {
      if (s.side == side) found.push_back({s.place, s.diameter_place, s.diameter / 2, s.depth});
    }
    std::sort(found.begin(), found.end(), [](const Step& a, const Step& b) { return a.depth < b.depth; });
    return found;
  }
  [[nodiscard]] const part::Register* spigot(Side side) const {
    for (const auto& r : part_.hub.registers) {
      if (r.side == side && r.depth < 0) return &r;
    }
    return nullptr;
  }

  void check_bore() {
    const part::Hub& hub = part_.hub;
    double deep = 0;
    for (const Side side : {Side::rear, Side::front}) {
      const auto list = steps(side);
      for (std::size_t i = 0; i < list.size(); ++i) {
        const double inner = i + 1 < list.size()
                                 ? list[i + 1].radius
                                 : bore_radius(side == Side::rear ? list[i].depth : hub.front_face - list[i].depth);
        if (list[i].radius <= inner + kSame) {
          error(Code::does_not_fit, list[i].diameter_place, "diameter",
                "a step or recess must be wider than what lies deeper: " + mm(2 * list[i].radius) + " against " +
                    mm(2 * inner));
        }
        if (i > 0 && list[i].depth - list[i - 1].depth < kSame) {
          error(Code::does_not_fit, list[i].place, "depth", "two steps on this side have the same depth");
        }
      }
      if (const auto* s = spigot(side)) {
        const double inside =
            list.empty() ? bore_radius(side == Side::rear ? s->depth : hub.front_face - s->depth) : list[0].radius;
        if (s->diameter / 2 <= inside + kSame) {
          error(Code::does_not_fit, s->diameter_place, "diameter",
                "the spigot of " + mm(s->diameter) + " must be larger than the opening in it, " + mm(2 * inside));
        }
      }
      if (!list.empty()) deep += list.back().depth;
    }
    if (deep > hub.front_face - kSame) {
      error(Code::does_not_fit, hub.bore.place, "bore",
            "steps and recesses are " + mm(deep) + " deep together, the hub only " + mm(hub.front_face) + " long");
    }
    const double narrow = std::min(bore_radius(0), bore_radius(hub.front_face));
    if (narrow < spec::kMinLength) {
      error(Code::does_not_fit, hub.bore.taper ? hub.bore.taper->place : hub.bore.place, "taper",
            "the tapered bore closes before it is through the hub");
    }
    double widest = hub.widest_bore_radius();
    Place at = hub.bore.diameter.place;
    for (const Side side : {Side::rear, Side::front}) {
      for (const Step& s : steps(side)) {
        if (s.radius > widest) widest = s.radius, at = s.diameter_place;
      }
      if (const auto* s = spigot(side); s && s->diameter / 2 > widest) widest = s->diameter / 2, at = s->diameter_place;
    }
    const bool own_outside = part_.web || hub.boss;
    const double limit = own_outside ? hub.diameter.value / 2 : least_root_radius();
    if (widest > limit - kSame) {
      error(Code::does_not_fit, at, "diameter",
            "an opening of " + mm(2 * widest) + " leaves no metal inside " +
                (own_outside ? "the hub of " : "the groove root of ") + mm(2 * limit));
    }
    if (const auto& key = hub.keyway) {
      const double floor = hub.keyway_floor();
      if (key->width.value / 2 >= narrow || floor <= widest_bore() ||
          length_of(floor, key->width.value / 2) >= limit - hub.edge_break.value) {
        error(Code::does_not_fit, key->place, "keyway",
              "a keyway of " + mm(key->width.value) + " x " + mm(key->depth.value) +
                  " must be narrower than the bore of " + mm(2 * narrow) +
                  ", deeper than its edge break, and stay inside the diameter of " + mm(2 * limit));
      }
      check_keyway_against_steps(*key, floor);
    }
  }

  /// A keyway runs out at the floor of a wider step, or cuts clean through a narrower one; it must not graze its wall.
  void check_keyway_against_steps(const part::Keyway& key, double floor) {
    const double corner = length_of(floor, key.width.value / 2), edge = part_.hub.bore.edge_break.value;
    for (const Side side : {Side::rear, Side::front}) {
      for (const Step& s : steps(side)) {
        if (s.radius >= corner + kSame || s.radius + edge <= floor - kSame) continue;
        error(Code::does_not_fit, key.place, "keyway",
              "the keyway's floor at radius " + mm(floor) + " grazes the wall of a step or recess of " +
                  mm(2 * s.radius) + ": make that wider than " + mm(2 * corner) + ", or narrower than " +
                  mm(2 * (floor - edge)));
      }
      if (const auto* s = spigot(side); s && s->diameter / 2 - part_.hub.edge_break.value <= corner + kSame) {
        error(Code::does_not_fit, key.place, "keyway", "the keyway comes out of the spigot of " + mm(s->diameter));
      }
    }
  }

  /// Radius of the bore with its edge break: a keyway must be deeper.
  [[nodiscard]] double widest_bore() const { return part_.hub.widest_bore_radius() + part_.hub.bore.edge_break.value; }

  void check_reliefs(const Rim& rim) {
    const double land = rim.edge_distance.value - rim.groove.pitch.value / 2;
    for (const auto* flange : {&rim.front, &rim.rear}) {
      if (*flange && 2 * (*flange)->root_relief.value > land + kSame) {
        error(Code::does_not_fit, (*flange)->root_relief.place, "root_relief",
              "a relief of " + mm((*flange)->root_relief.value) + " needs a land of twice that; here it is " +
                  mm(land) + " wide: take " + mm(land / 2) + " or less, or a larger 'edge_distance'");
      }
    }
  }

  void check_web() {
    const part::Web& web = *part_.web;
    const auto i = static_cast<std::size_t>(web.rim);
    const double rear = part_.rim_rear(i), front = rear + part_.rims[i].width();
    if (web_face(Side::rear) < rear - kSame || web_face(Side::front) > front + kSame) {
      error(Code::does_not_fit, web.place, "web",
            "the web of " + mm(web.thickness.value) + " at this offset reaches out of its rim, which is " +
                mm(front - rear) + " wide");
      return;
    }
    if (web_face(Side::rear) > part_.hub.front_face - kSame || web_face(Side::front) < kSame) {
      error(Code::does_not_fit, part_.hub.place, "hub",
            "the hub of " + mm(part_.hub.front_face) +
                " does not reach the web: give it more 'length', or move the web by its 'offset'");
      return;
    }
    double inner = 1e9;
    for (const Side side : {Side::front, Side::rear}) inner = std::min(inner, inner_steps(side).front().radius);
    const double room = inner - part_.hub.diameter.value / 2;
    if (room < 2 * web.fillet.value + kSame) {
      error(Code::does_not_fit, web.place, "web",
            "between the hub of " + mm(part_.hub.diameter.value) + " and the rim's inside of " + mm(2 * inner) +
                " there is no room for a web with two fillets of " + mm(web.fillet.value) +
                ": take 'solid: true', a smaller hub or a thinner rim");
    }
  }

  void check_tone_ring(const part::ToneRing& t) {
    const Rim& rim = t.side == Side::front ? part_.rims.back() : part_.rims.front();
    const double end_radius = rim.end_diameter(t.side) / 2;
    const double inside = part_.web        ? inner_steps(t.side).back().radius
                          : part_.hub.boss ? part_.hub.diameter.value / 2
                                           : widest_bore();
    if (t.radius > end_radius - rim.edge_break.value - kSame) {
      error(Code::does_not_fit, t.place, "radius",
            "the tone ring of radius " + mm(t.radius) + " must stay inside the rim's end of radius " + mm(end_radius));
    }
    if (t.radius - t.thickness < inside) {
      error(Code::does_not_fit, t.place, "thickness",
            "the tone ring reaches in to radius " + mm(t.radius - t.thickness) +
                ", but there is no face inside radius " + mm(inside) + ": make 'thickness' " +
                mm(std::max(0.0, t.radius - inside)) + " or less, or 'radius' larger");
    }
    if (t.tooth_height > t.thickness - kSame) {
      error(Code::does_not_fit, t.place, "tooth_height",
            "the gaps of " + mm(t.tooth_height) + " cut through the ring of " + mm(t.thickness));
    }
  }

  // ---- from the bore outward on one side ----

  /// +1 to the front, -1 to the rear.
  static double sign(Side side) { return side == Side::front ? 1 : -1; }

  Chain end(Side side) {
    const part::Hub& hub = part_.hub;
    const double s = sign(side);
    const double hub_face = side == Side::front ? hub.front_face : 0;
    const Kind face_kind = side == Side::front ? Kind::hub_face : Kind::seat;
    const double edge = hub.bore.edge_break.value;
    Chain c;

    auto list = steps(side);
    const auto* nose = spigot(side);
    double face = nose ? hub_face - s * nose->depth : hub_face;  // a spigot's depth is negative
    if (list.empty()) {
      c.start({{face, bore_radius(face)}, edge});
    } else {
      const double z = hub_face - s * list.back().depth;
      c.start({{z, bore_radius(z)}, edge});
      for (std::size_t i = list.size(); i-- > 0;) {
        const double floor_z = hub_face - s * list[i].depth;
        const double mouth_z = i == 0 ? face : hub_face - s * list[i - 1].depth;
        c.to({Kind::floor}, {{floor_z, list[i].radius}});
        c.to({Kind::step}, {{mouth_z, list[i].radius}, edge});
      }
    }
    if (nose) {
      c.to({Kind::floor}, {{face, nose->diameter / 2}, hub.edge_break.value});
      c.to({Kind::spigot}, {{hub_face, nose->diameter / 2}});
    }
    const double rim_face = side == Side::front ? part_.rims_front() : part_.rims_rear;
    if (part_.web || hub.boss) {
      const double r = hub.diameter.value / 2;
      const double z = part_.web ? web_face(side) : rim_face;
      const double fillet = part_.web ? part_.web->fillet.value : 0;
      c.to({face_kind}, {{hub_face, r}, hub.edge_break.value, fillet});
      c.to({Kind::hub}, {{z, r}, hub.edge_break.value, fillet});
    }
    Tag wall{part_.web ? Kind::web : part_.hub.boss ? Kind::rim_face : face_kind};
    if (part_.web) wall = add_inner(side, c);
    add_tone_ring(side, wall, c);
    const Rim& rim = side == Side::front ? part_.rims.back() : part_.rims.front();
    c.to(wall, outer_knee(rim, side, rim_face));
    return c;
  }

  struct Inner {
    double radius;
    double until;  ///< Z at which the next, wider one begins
  };
  /// The cavity's inner radii on one side, from the web outward; never narrower further out, so that a boring bar
  /// reaches it.
  [[nodiscard]] std::vector<Inner> inner_steps(Side side) const {
    const auto& rims = part_.rims;
    const auto first = static_cast<std::size_t>(part_.web->rim);
    const double thick = part_.web->rim_thickness.value;
    std::vector<Inner> list;
    const auto add = [&](double outside_radius, double until) { list.push_back({outside_radius - thick, until}); };
    if (side == Side::front) {
      for (std::size_t i = first; i < rims.size(); ++i) {
        add(rims[i].root_diameter() / 2, part_.rim_rear(i) + rims[i].width());
        if (i + 1 < rims.size() && rims[i + 1].space > kSame) add(neck_radius(i), part_.rim_rear(i + 1));
      }
    } else {
      for (std::size_t i = first + 1; i-- > 0;) {
        add(rims[i].root_diameter() / 2, part_.rim_rear(i));
        if (i > 0 && rims[i].space > kSame) add(neck_radius(i - 1), part_.rim_rear(i) - rims[i].space);
      }
    }
    for (std::size_t i = list.size() - 1; i-- > 0;) list[i].radius = std::min(list[i].radius, list[i + 1].radius);
    // Between a narrow and a wider stretch a wall of the rim's thickness is left; a stretch shorter than that stays
    // narrow.
    std::vector<Inner> out{list.front()};
    for (std::size_t i = 1; i < list.size(); ++i) {
      const double begin = list[i - 1].until + sign(side) * thick;
      if (list[i].radius < out.back().radius + kSame || (list[i].until - begin) * sign(side) < kSame) {
        out.back().until = list[i].until;
      } else {
        out.back().until = begin;
        out.push_back(list[i]);
      }
    }
    return out;
  }

  /// Radius of the plain neck between rims i and i+1, or of their common end.
  [[nodiscard]] double neck_radius(std::size_t i) const {
    return std::min(part_.rims[i].end_diameter(Side::front), part_.rims[i + 1].end_diameter(Side::rear)) / 2;
  }

  /// From the web's face to the rim's face along the inside of the rim; returns the tag of the face that follows.
  Tag add_inner(Side side, Chain& c) {
    const auto list = inner_steps(side);
    const double fillet = part_.web->fillet.value;
    const double edge = (side == Side::front ? part_.rims.back() : part_.rims.front()).edge_break.value;
    Tag wall{Kind::web};
    double z = web_face(side);
    for (std::size_t i = 0; i < list.size(); ++i) {
      const double small = std::min({fillet, kStepFillet});
      c.to(wall, {{z, list[i].radius}, edge, i == 0 ? fillet : small});
      z = list[i].until;
      c.to({Kind::rim_inner}, {{z, list[i].radius}, edge, small});
      wall = {i + 1 < list.size() ? Kind::rim_inner : Kind::rim_face};
    }
    return wall;
  }

  void add_tone_ring(Side side, Tag wall, Chain& c) {
    if (!part_.tone_ring || part_.tone_ring->side != side) return;
    const part::ToneRing& t = *part_.tone_ring;
    const double rim_face = side == Side::front ? part_.rims_front() : part_.rims_rear;
    const double out = rim_face + sign(side) * t.width;
    // The ring keeps sharp edges: a pick-up reads them, and gaps cut through a chamfer would leave burrs.
    c.to(wall, {{rim_face, t.radius - t.thickness}});
    c.to({Kind::tone_ring}, {{out, t.radius - t.thickness}});
    c.to({Kind::tone_ring}, {{out, t.radius}});
    c.to({Kind::tone_ring}, {{rim_face, t.radius}});
  }

  [[nodiscard]] Knee outer_knee(const Rim& rim, Side side, double z) const {
    const auto& flange = rim.flange(side);
    return {{z, rim.end_diameter(side) / 2}, flange ? flange->edge_break.value : rim.edge_break.value};
  }

  // ---- over the rims, front to rear ----

  Chain outside() {
    Chain c;
    for (std::size_t i = part_.rims.size(); i-- > 0;) {
      const double rear = part_.rim_rear(i), front = rear + part_.rims[i].width();
      const Knee first = outer_knee(part_.rims[i], Side::front, front);
      if (c.knees.empty()) {
        c.start(first);
      } else {
        const double gap = part_.rims[i + 1].space;
        if (gap > kSame) {
          const double neck = neck_radius(i);
          c.to({Kind::rim_face}, {{front + gap, neck}});
          c.to({Kind::neck}, {{front, neck}});
        }
        c.to({Kind::rim_face, static_cast<int>(i)}, first);
      }
      add_rim(i, c);
    }
    return c;
  }

  void add_rim(std::size_t i, Chain& c) {
    const Rim& rim = part_.rims[i];
    const int n = static_cast<int>(i);
    const double pitch = rim.groove.pitch.value, h = rim.groove.angle.half().rad();
    const double apex = rim.apex_diameter() / 2, crest = rim.outside_diameter() / 2;
    const double sharp_root = apex - part::sharp_height(rim.form());
    const double to_land = (apex - crest) * tan_of(h);  // how far short of the apex's Z a flank meets the land
    const double r_t = rim.crest_radius.value, r_b = rim.root_radius.value;
    const int last = rim.grooves - 1;

    add_flange(rim.front, Side::front, part_.groove_z(i, last) + rim.edge_distance.value, crest, n, c);
    c.to({Kind::land, n}, {{part_.groove_z(i, last) + pitch / 2 - to_land, crest}, 0, 0, r_t, {Kind::crest, n, last}});
    for (int k = last; k >= 0; --k) {
      const double z = part_.groove_z(i, k);
      c.to({Kind::flank, n, k}, {{z, sharp_root}, 0, 0, r_b, {Kind::root, n, k}});
      const Knee end = k > 0 ? Knee{{z - pitch / 2, apex}, 0, 0, r_t, {Kind::crest, n, k - 1}}
                             : Knee{{z - pitch / 2 + to_land, crest}, 0, 0, r_t, {Kind::crest, n, -1}};
      c.to({Kind::flank, n, k}, end);
    }
    Chain rear;
    const double wall = part_.groove_z(i, 0) - rim.edge_distance.value;
    rear.start(outer_knee(rim, Side::rear, part_.rim_rear(i)));
    add_flange(rim.rear, Side::rear, wall, crest, n, rear);
    rear.reverse();
    c.to({Kind::land, n}, rear.knees.front());
    c.append(rear);
  }

  /// From a flange's outer corner (already in the chain) over its outside and down its inner wall to the land.
  static void add_flange(const std::optional<part::Flange>& flange, Side side, double wall_z, double crest, int rim,
                         Chain& c) {
    if (!flange) return;
    const double s = sign(side), top = flange->diameter.value / 2;
    const double edge = flange->edge_break.value, relief = flange->root_relief.value;
    c.to({Kind::flange, rim}, {{wall_z + s * (top - crest) * tan_of(flange->lead_in.rad()), top}, edge});
    if (relief > kSame) {
      // Half-round beside the wall: width twice the radius, depth the radius.
      c.to({Kind::lead_in, rim}, {{wall_z, crest}});
      c.to({Kind::relief, rim}, {{wall_z, crest - relief}, 0, relief, relief, {Kind::relief, rim}});
      c.to({Kind::relief, rim}, {{wall_z - s * 2 * relief, crest - relief}, 0, relief, relief, {Kind::relief, rim}});
      c.to({Kind::relief, rim}, {{wall_z - s * 2 * relief, crest}});
    } else {
      c.to({Kind::lead_in, rim}, {{wall_z, crest}});
    }
  }

  // ---- corners ----

  /// Sums taken in another order differ in their last bits; a wall whose ends do so would be a cone. Makes such
  /// coordinates one.
  template <double Vec2::*Coordinate>
  static void snap(Chain& c) {
    std::vector<double*> values;
    for (Knee& k : c.knees) values.push_back(&(k.at.*Coordinate));
    std::sort(values.begin(), values.end(), [](const double* a, const double* b) { return *a < *b; });
    for (std::size_t i = 1; i < values.size(); ++i) {
      if (*values[i] - *values[i - 1] < kSame) *values[i] = *values[i - 1];
    }
  }

  /// Drops knees that repeat a point or lie on a straight side.
  static void simplify(Chain& c) {
    for (bool changed = true; changed;) {
      changed = false;
      for (std::size_t i = 0; i < c.knees.size(); ++i) {
        const std::size_t n = c.knees.size(), before = (i + n - 1) % n, after = (i + 1) % n;
        const Vec2 in = c.knees[i].at - c.knees[before].at, out = c.knees[after].at - c.knees[i].at;
        const bool repeats = norm(out) < kSame;
        const bool straight = !repeats && norm(in) > kSame &&
                              std::abs(cross(in, out)) < kSame * std::max(norm(in), norm(out)) && dot(in, out) > 0;
        if (!repeats && !straight) continue;
        // The knee that stays takes over the heavier break of a repeated one.
        if (repeats) {
          Knee& next = c.knees[after];
          next.chamfer = std::max(next.chamfer, c.knees[i].chamfer);
          next.fillet = std::max(next.fillet, c.knees[i].fillet);
        } else {
          c.sides[i] = c.sides[before];
        }
        // Side i goes with knee i: for a repeated knee it has no length, for a straight one the side before lives on.
        if (repeats) {
          c.sides.erase(c.sides.begin() + static_cast<std::ptrdiff_t>(i));
        } else {
          c.sides.erase(c.sides.begin() + static_cast<std::ptrdiff_t>(before));
        }
        c.knees.erase(c.knees.begin() + static_cast<std::ptrdiff_t>(i));
        changed = true;
        break;
      }
    }
  }

  [[nodiscard]] bool crosses_itself(const Chain& c) {
    const std::size_t n = c.knees.size();
    for (std::size_t i = 0; i < n; ++i) {
      const Vec2 a = c.knees[i].at, b = c.knees[(i + 1) % n].at;
      for (std::size_t k = i + 2; k < n; ++k) {
        if (i == 0 && k == n - 1) continue;
        const Vec2 p = c.knees[k].at, q = c.knees[(k + 1) % n].at;
        if (std::max(a.x, b.x) < std::min(p.x, q.x) || std::max(p.x, q.x) < std::min(a.x, b.x)) continue;
        const double s = cross(b - a, p - a), t = cross(b - a, q - a), u = cross(q - p, a - p), v = cross(q - p, b - p);
        if ((s > 0) == (t > 0) || (u > 0) == (v > 0)) continue;
        error(Code::does_not_fit, part_.hub.place, "",
              std::string(to_text(c.sides[i].kind)) + " and " + std::string(to_text(c.sides[k].kind)) +
                  " cross near Z " + mm(a.x) + ", radius " + mm(a.y) + ": check lengths, offsets and depths");
        return true;
      }
    }
    return false;
  }

  std::optional<Outline> broken(Chain chain) {
    // Ends meet in the bore: the last side runs from the rear knee to the front one.
    chain.sides.push_back({Kind::bore});
    snap<&Vec2::x>(chain);
    snap<&Vec2::y>(chain);
    simplify(chain);
    if (crosses_itself(chain)) return std::nullopt;
    const std::size_t n = chain.knees.size();
    require(n >= 3, "an outline has at least three corners");
    std::vector<plane::Corner> corners(n);
    std::vector<Tag> corner_tags(n);
    for (std::size_t i = 0; i < n; ++i) {
      const Knee& k = chain.knees[i];
      const Vec2 in = k.at - chain.knees[(i + n - 1) % n].at, out = chain.knees[(i + 1) % n].at - k.at;
      const bool convex = cross(in, out) > 0;
      corners[i].at = k.at;
      if (k.round > 0) {
        corners[i].fillet = k.round;
        corner_tags[i] = k.tag;
      } else if (convex) {
        corners[i].chamfer = k.chamfer;
        corner_tags[i] = {Kind::edge_break};
      } else {
        corners[i].fillet = k.fillet;
        corner_tags[i] = {Kind::fillet};
      }
    }
    int misfit = -1;
    const auto edges = plane::broken_polygon(corners, &misfit);
    if (!edges) {
      const Tag side = chain.sides[static_cast<std::size_t>(misfit)];
      const double length = norm(chain.knees[(static_cast<std::size_t>(misfit) + 1) % n].at -
                                 chain.knees[static_cast<std::size_t>(misfit)].at);
      error(Code::does_not_fit, place_of(side), std::string(to_text(side.kind)),
            "the edge breaks or fillets at both ends of the " + std::string(to_text(side.kind)) +
                " need more than its " + mm(length) + ": make them smaller, or the feature larger");
      return std::nullopt;
    }
    Outline out;
    for (const plane::BrokenEdge& e : *edges) {
      out.path.push_back(e.edge);
      const auto i = static_cast<std::size_t>(e.index);
      out.tags.push_back(e.is_corner ? corner_tags[i] : chain.sides[i]);
    }
    return out;
  }

  [[nodiscard]] const Place& place_of(const Tag& tag) const {
    switch (tag.kind) {
      case Kind::web:
      case Kind::rim_inner:
        return part_.web ? part_.web->place : part_.hub.place;
      case Kind::bore:
      case Kind::step:
      case Kind::floor:
        return part_.hub.bore.place;
      case Kind::tone_ring:
        return part_.tone_ring->place;
      default:
        break;
    }
    if (tag.rim >= 0) return part_.rims[static_cast<std::size_t>(tag.rim)].place;
    return part_.hub.place;
  }

  const Part& part_;
  Diagnostics& diagnostics_;
};

}  // namespace

std::string_view to_text(Kind kind) {
  switch (kind) {
    case Kind::bore:
      return "bore";
    case Kind::step:
      return "step";
    case Kind::floor:
      return "floor";
    case Kind::seat:
      return "seat";
    case Kind::hub_face:
      return "hub_face";
    case Kind::hub:
      return "hub";
    case Kind::spigot:
      return "spigot";
    case Kind::web:
      return "web";
    case Kind::rim_inner:
      return "rim_inner";
    case Kind::rim_face:
      return "rim_face";
    case Kind::tone_ring:
      return "tone_ring";
    case Kind::flange:
      return "flange";
    case Kind::lead_in:
      return "lead_in";
    case Kind::relief:
      return "relief";
    case Kind::land:
      return "land";
    case Kind::crest:
      return "crest";
    case Kind::flank:
      return "flank";
    case Kind::root:
      return "root";
    case Kind::neck:
      return "neck";
    case Kind::edge_break:
      return "edge_break";
    case Kind::fillet:
      return "fillet";
  }
  return "";
}

std::optional<Outline> make_outline(const Part& part, Diagnostics& diagnostics) {
  Diagnostics found;
  auto outline = OutlineMaker(part, found).make();
  for (const Diagnostic& d : found.all()) diagnostics.add(d);
  return outline;
}

std::optional<Section> half_section(const Part& part, Diagnostics& diagnostics) {
  Diagnostics found;
  Section section;
  if (auto outline = make_outline(part, found)) {
    section.body.section = std::move(outline->path);
    section.tags = std::move(outline->tags);
    add_openings(part, section, found);
  }
  for (const Diagnostic& d : found.all()) diagnostics.add(d);
  if (found.has_errors()) return std::nullopt;
  section.mass = plane::mass_properties(section.body);
  return section;
}

std::string dump(const Section& section) {
  std::string out;
  for (std::size_t i = 0; i < section.tags.size(); ++i) {
    const plane::Edge& e = section.body.section[i];
    if (!out.empty()) out += ' ';
    out += std::string(to_text(section.tags[i].kind)) + "(";
    if (e.is_arc()) {
      out += "r" + number(e.radius(), 3);
    } else if (e.a.x == e.b.x || e.a.y == e.b.y) {
      out += (e.a.x == e.b.x ? "Z" + number(e.a.x, 3) : "D" + number(2 * e.a.y, 3));
    } else {
      out += number(Angle::rad(atan2_of(std::abs(e.b.x - e.a.x), std::abs(e.b.y - e.a.y))).deg(), 3) + "deg";
    }
    out += ")";
  }
  return out;
}

std::vector<Wall> Section::walls() const {
  std::vector<Wall> found;
  for (std::size_t i = 0; i < body.section.size(); ++i) {
    const plane::Edge& e = body.section[i];
    if (e.is_arc() || e.a.x != e.b.x) continue;
    // The outline is ccw, so metal lies to the left: a wall that runs outward faces the front.
    const bool up = e.b.y > e.a.y;
    found.push_back({up ? Side::front : Side::rear, e.a.x, std::min(e.a.y, e.b.y), std::max(e.a.y, e.b.y), i});
  }
  return found;
}

}  // namespace groovewright::section
