#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <set>

#include "build.h"
#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"

namespace groovewright::section {
namespace {

using part::cross_angle;
using part::HolePattern;
using part::MarkPlace;
using part::Part;
using part::Side;
using plane::Edge;
using plane::Level;
using plane::Path;
using plane::Pocket;
using plane::polar;
using plane::RoundHole;
using plane::Slot;
using plane::Vec2;

constexpr double kSame = plane::kCoincident;
/// Drill point, included: common practice, no source.
constexpr double kPointAngleDeg = 118;
/// Run-out of a blind tapped hole below its full thread, in pitches: common practice, no source.
constexpr double kRunOutPitches = 2.5;

std::string mm(double v) { return trimmed(v, 3) + " mm"; }

double sign(Side side) { return side == Side::front ? 1 : -1; }
const char* word(Side side) { return side == Side::front ? "front" : "rear"; }

/// A face as a person would name it.
const char* in_words(Kind kind) {
  switch (kind) {
    case Kind::bore:
      return "the bore";
    case Kind::step:
    case Kind::floor:
      return "a step of the bore or a recess";
    case Kind::seat:
      return "the hub's rear face";
    case Kind::hub_face:
      return "the hub's front face";
    case Kind::hub:
      return "the outside of the hub";
    case Kind::spigot:
      return "the spigot";
    case Kind::web:
      return "the web";
    case Kind::rim_inner:
      return "the inside of the rim";
    case Kind::rim_face:
      return "a face of the rim";
    case Kind::tone_ring:
      return "the tone ring";
    case Kind::flange:
    case Kind::lead_in:
    case Kind::relief:
      return "a flange";
    case Kind::land:
    case Kind::crest:
    case Kind::flank:
    case Kind::root:
      return "the grooves";
    case Kind::neck:
      return "the neck between two rims";
    case Kind::edge_break:
    case Kind::fillet:
      break;
  }
  return "a rounding or an edge break";
}

class OpeningMaker {
 public:
  OpeningMaker(const Part& part, Section& section, Diagnostics& diagnostics)
      : part_(part), section_(section), diagnostics_(diagnostics), walls_(section.walls()) {
    std::sort(walls_.begin(), walls_.end(),
              [](const Wall& a, const Wall& b) { return std::pair(a.inner, a.z) < std::pair(b.inner, b.z); });
  }

  void add_all() {
    for (const HolePattern& p : part_.holes) add_pattern(p);
    if (part_.web) {
      if (part_.web->windows) add_windows(*part_.web->windows);
      if (part_.web->spokes) add_spokes(*part_.web->spokes);
    }
    for (std::size_t i = 0; i < part_.marks.size(); ++i) add_marks(part_.marks[i], i);
    if (part_.hub.keyway) add_keyway(*part_.hub.keyway);
    if (part_.tone_ring) add_teeth(*part_.tone_ring);
    if (!diagnostics_.has_errors()) check_collisions();
  }

 private:
  void error(const Place& place, std::string fragment, std::string message) {
    diagnostics_.error(Code::does_not_fit, place, std::move(fragment), std::move(message));
  }

  /// Z of the wall that lies at z but for rounding, so that a slot ends exactly on it.
  [[nodiscard]] double on_wall(double z) const {
    for (const Wall& w : walls_) {
      if (std::abs(w.z - z) < kSame) return w.z;
    }
    return z;
  }

  /// The outermost flat wall on `side` that holds the ring from `inner` to `outer`, or nullptr after telling what there
  /// is.
  const Wall* wall_for(Side side, double inner, double outer, const Place& place, const std::string& what) {
    const Wall* best = nullptr;
    for (const Wall& w : walls_) {
      if (w.faces != side || inner < w.inner + kSame || outer > w.outer - kSame) continue;
      if (!best || (w.z - best->z) * sign(side) > 0) best = &w;
    }
    if (best) return best;
    std::vector<std::string> faces;
    for (const Wall& w : walls_) {
      if (w.faces == side && w.outer - w.inner > 1)
        faces.push_back(trimmed(2 * w.inner, 1) + " to " + trimmed(2 * w.outer, 1));
    }
    error(place, what,
          what + " need a flat " + word(side) + " face from diameter " + mm(2 * std::max(0.0, inner)) + " to " +
              mm(2 * outer) + "; flat there: " + listed(faces, "and") + " mm");
    return nullptr;
  }

  // ---- round holes ----

  void add_pattern(const HolePattern& p) {
    if (p.depth > 0) {
      add_blind(p);
    } else {
      add_through(p);
    }
  }

  void add_each(const HolePattern& p, const std::vector<Vec2>& profile, bool through) {
    for (std::size_t i = 0; i < p.angles.size(); ++i) {
      section_.body.holes.push_back(
          {p.id + "[" + std::to_string(i + 1) + "]", polar(p.circle / 2, cross_angle(p.angles[i])), profile, through});
      places_.push_back(p.place);
    }
  }

  /// Radius of the mouth on one side: a screw head's seat, or the hole with its edge broken.
  static double mouth(const HolePattern& p, Side side) {
    if (p.sink_diameter > 0 && p.sink_side == side) {
      return p.sink_diameter / 2 + (p.sink_depth > 0 ? p.edge_break : 0);
    }
    return p.diameter.value / 2 + p.edge_break;
  }

  void add_through(const HolePattern& p) {
    const double at = p.circle / 2, r = p.diameter.value / 2, c = p.edge_break;
    const Wall* front = wall_for(Side::front, at - mouth(p, Side::front), at + mouth(p, Side::front), p.place, p.id);
    const Wall* rear = wall_for(Side::rear, at - mouth(p, Side::rear), at + mouth(p, Side::rear), p.place, p.id);
    if (!front || !rear) return;
    // From the side of the head, so that both sides read alike.
    const Side top_side = p.sink_diameter > 0 ? p.sink_side : Side::front;
    const double top = top_side == Side::front ? front->z : rear->z,
                 bottom = top_side == Side::front ? rear->z : front->z;
    const double down = -sign(top_side);
    const double thick = std::abs(top - bottom);
    if (crosses_hollow(at, std::min(top, bottom), std::max(top, bottom))) {
      error(p.place, p.id, p.id + " would cross a hollow between the front and the rear face: move the circle");
      return;
    }
    std::vector<Vec2> profile;
    double used = c;
    if (p.sink_diameter > 0 && p.sink_depth > 0) {
      const double head = p.sink_diameter / 2;
      profile = {
          {top, head + c}, {top + down * c, head}, {top + down * p.sink_depth, head}, {top + down * p.sink_depth, r}};
      used += p.sink_depth;
    } else if (p.sink_diameter > 0) {
      const double head = p.sink_diameter / 2, deep = (head - r) / tan_of(p.sink_angle.half().rad());
      profile = {{top, head}, {top + down * deep, r}};
      used += deep;
    } else {
      profile = {{top, r + c}, {top + down * c, r}};
      used += c;
    }
    if (used > thick - kSame) {
      error(p.place, p.id,
            p.id + " sink " + mm(used) + " into a wall of " + mm(thick) + ": nothing is left under the head");
      return;
    }
    profile.push_back({bottom - down * c, r});
    profile.push_back({bottom, r + c});
    if (c <= kSame) profile.erase(std::unique(profile.begin(), profile.end()), profile.end());
    add_each(p, profile, true);
  }

  void add_blind(const HolePattern& p) {
    const double at = p.circle / 2, r = p.diameter.value / 2, c = p.edge_break;
    const Wall* wall = wall_for(p.side, at - r - c, at + r + c, p.place, p.id);
    if (!wall) return;
    const double down = -sign(p.side);
    const bool flat = p.use == HolePattern::Use::magnet;
    const double full = drill_depth(p);
    const double point = flat ? 0 : r / tan_of(Angle::deg(kPointAngleDeg).half().rad());
    if (full < c + kSame) {
      error(p.place, p.id, p.id + " are shallower than their own edge break");
      return;
    }
    std::vector<Vec2> profile{
        {wall->z, r + c}, {wall->z + down * c, r}, {wall->z + down * full, r}, {wall->z + down * (full + point), 0}};
    if (c <= kSame) profile.erase(std::unique(profile.begin(), profile.end()), profile.end());
    // The end must stay in metal: straight on from the mouth the next wall lies deeper.
    const double end = wall->z + down * (full + point);
    if (!plane::contains(section_.body.section, {end, at}) ||
        crosses_hollow(at, std::min(end, wall->z), std::max(end, wall->z))) {
      error(p.place, p.id,
            p.id + " reach " + mm(full + point) +
                " deep with their point and come out again: make them shallower or leave out 'depth'");
      return;
    }
    add_each(p, profile, false);
  }

  /// True where the line at radius r between two depths leaves the metal.
  [[nodiscard]] bool crosses_hollow(double r, double z0, double z1) const {
    for (const Wall& w : walls_) {
      if (w.z > z0 + kSame && w.z < z1 - kSame && r > w.inner && r < w.outer) return true;
    }
    return false;
  }

  // ---- web ----

  void add_windows(const part::Windows& s) {
    const double at = s.circle.value / 2, r = s.diameter.value / 2, c = s.edge_break.value;
    HolePattern p;
    p.place = s.place;
    p.id = "windows";
    p.circle = 2 * at;
    p.diameter = s.diameter;
    p.edge_break = c;
    for (int i = 0; i < s.count; ++i)
      p.angles.push_back(Angle::rad(s.start.rad() + 2 * std::numbers::pi * i / s.count));
    const auto [front, rear] = web_walls();
    if (!front || !rear || at - r - c < front->inner + kSame || at + r + c > front->outer - kSame) {
      error(s.place, "windows",
            "round windows of " + mm(2 * r) + " on a circle of " + mm(2 * at) + " don't fit on the flat of the web" +
                (front ? ", which runs from diameter " + mm(2 * front->inner) + " to " + mm(2 * front->outer) : ""));
      return;
    }
    add_through(p);
  }

  [[nodiscard]] std::pair<const Wall*, const Wall*> web_walls() const {
    const Wall *front = nullptr, *rear = nullptr;
    for (const Wall& w : walls_) {
      if (section_.tags[w.edge].kind != Kind::web) continue;
      (w.faces == Side::front ? front : rear) = &w;
    }
    return {front, rear};
  }

  /// One window between two spokes: corners round the same middles at every level, so levels match edge by edge.
  static Path window(const part::Spokes& s, double from, double to, double grown) {
    const double inner = s.inner_diameter.value / 2 - grown, outer = s.outer_diameter.value / 2 + grown;
    const double side = s.width.value / 2 - grown, fillet = s.fillet.value + grown;
    const auto along =
        [&](double reach) {  // where, along the spoke, a circle of this reach stands off its side by a fillet
          const double off = side + fillet;
          return static_cast<double>(
              std::sqrt(static_cast<long double>(reach) * reach - static_cast<long double>(off) * off));
        };
    const double in = along(inner + fillet), out = along(outer - fillet);
    // In the frame of a spoke: x along it, y across towards the window.
    const Vec2 in_middle{in, side + fillet}, out_middle{out, side + fillet};
    const Vec2 on_inner = (inner / norm(in_middle)) * in_middle, on_outer = (outer / norm(out_middle)) * out_middle;
    const auto place = [](Vec2 v, double angle, bool mirrored) {
      const double c = cos_of(angle), t = sin_of(angle), y = mirrored ? -v.y : v.y;
      return Vec2{v.x * c - y * t, v.x * t + y * c};
    };
    const auto lower = [&](Vec2 v) { return place(v, from, false); };
    const auto upper = [&](Vec2 v) { return place(v, to, true); };
    const Vec2 origin{};
    using T = Edge::Turn;
    return {{lower(on_inner), lower({in, side}), T::ccw, lower(in_middle)},
            {lower({in, side}), lower({out, side}), T::straight, {}},
            {lower({out, side}), lower(on_outer), T::ccw, lower(out_middle)},
            {lower(on_outer), upper(on_outer), T::ccw, origin},
            {upper(on_outer), upper({out, side}), T::ccw, upper(out_middle)},
            {upper({out, side}), upper({in, side}), T::straight, {}},
            {upper({in, side}), upper(on_inner), T::ccw, upper(in_middle)},
            {upper(on_inner), lower(on_inner), T::cw, origin}};
  }

  void add_spokes(const part::Spokes& s) {
    const auto [front, rear] = web_walls();
    const double c = s.edge_break.value, r1 = s.inner_diameter.value / 2, r2 = s.outer_diameter.value / 2;
    if (!front || !rear || r1 - c < std::max(front->inner, rear->inner) + kSame ||
        r2 + c > std::min(front->outer, rear->outer) - kSame || r2 - r1 < 2 * s.fillet.value + kSame) {
      error(s.place, "spokes",
            "windows between diameter " + mm(2 * r1) + " and " + mm(2 * r2) + " don't fit on the flat of the web" +
                (front ? ", which runs from " + mm(2 * front->inner) + " to " + mm(2 * front->outer) : "") +
                ": give 'inner_diameter' and 'outer_diameter', or smaller fillets");
      return;
    }
    const double half = std::numbers::pi / s.count;
    const double off = s.width.value / 2 + s.fillet.value;
    // Both corners of a window's inner edge must leave some of it.
    if (off >= (r1 + s.fillet.value) * sin_of(half) - kSame || s.width.value / 2 - c <= kSame ||
        rear->z + 2 * c >= front->z) {
      error(s.place, "spokes",
            std::to_string(s.count) + " spokes of " + mm(s.width.value) + " leave no window with corners of " +
                mm(s.fillet.value) + " at diameter " + mm(2 * r1) + ": fewer or thinner spokes, or smaller fillets");
      return;
    }
    for (int i = 0; i < s.count; ++i) {
      const double from = cross_angle(Angle::rad(s.start.rad() + 2 * half * i)), to = from + 2 * half;
      const Path loop = window(s, from, to, 0), wide = window(s, from, to, c);
      Pocket p{"spokes[" + std::to_string(i + 1) + "]", {}, true};
      if (c > kSame) p.levels.push_back({front->z, wide});
      p.levels.push_back({front->z - c, loop});
      p.levels.push_back({rear->z + c, loop});
      if (c > kSame) p.levels.push_back({rear->z, wide});
      section_.body.pockets.push_back(p);
      pocket_places_.push_back(s.place);
    }
  }

  // ---- marks, keyway, teeth ----

  void add_marks(const part::Marks& m, std::size_t index) {
    const std::string id = "marks_" + std::to_string(index + 1);
    if (m.on == MarkPlace::front || m.on == MarkPlace::rear) {
      add_face_marks(m, id);
    } else {
      add_edge_marks(m, id);
    }
  }

  void add_face_marks(const part::Marks& m, const std::string& id) {
    const Side side = m.on == MarkPlace::front ? Side::front : Side::rear;
    const double w = m.width / 2, outer = m.outer_radius, inner = outer - m.length;
    if (m.length < 2 * m.width) {
      error(m.place, id, "a mark is at least twice as long as it is wide");
      return;
    }
    const Wall* wall = wall_for(side, inner, outer, m.place, id);
    if (!wall) return;
    const double floor = wall->z - sign(side) * m.depth;
    if (!in_metal({{wall->z, inner}, {floor, inner}, {floor, outer}, {wall->z, outer}}, wall->z)) {
      error(m.place, id,
            id + " of " + mm(m.depth) + " come out of the metal under the " + word(side) +
                " face: make their depth smaller, or move them by 'radius'");
      return;
    }
    for (std::size_t i = 0; i < m.angles.size(); ++i) {
      using T = Edge::Turn;
      const Path slot{{{inner + w, -w}, {outer - w, -w}, T::straight, {}},
                      {{outer - w, -w}, {outer - w, w}, T::ccw, {outer - w, 0}},
                      {{outer - w, w}, {inner + w, w}, T::straight, {}},
                      {{inner + w, w}, {inner + w, -w}, T::ccw, {inner + w, 0}}};
      const Path loop = plane::turned(slot, cross_angle(m.angles[i]));
      section_.body.pockets.push_back(
          {id + "[" + std::to_string(i + 1) + "]", {{wall->z, loop}, {floor, loop}}, false});
      pocket_places_.push_back(m.place);
    }
  }

  /// True where the line through `corners`, a mark in the half plane, lies in metal and clear of all faces but those
  /// square to the axis at `mouth`, where it opens.
  [[nodiscard]] bool in_metal(const std::vector<Vec2>& corners, double mouth) const {
    const Path& outline = section_.body.section;
    Path mark, others;
    for (std::size_t i = 0; i + 1 < corners.size(); ++i)
      mark.push_back({corners[i], corners[i + 1], Edge::Turn::straight, {}});
    std::copy_if(outline.begin(), outline.end(), std::back_inserter(others), [&](const Edge& e) {
      return e.is_arc() || std::max(std::abs(e.a.x - mouth), std::abs(e.b.x - mouth)) > kSame;
    });
    return plane::contains(outline, mark[mark.size() / 2].at(0.5)) && plane::distance(mark, others) > kSame;
  }

  void add_edge_marks(const part::Marks& m, const std::string& id) {
    const Side side = m.on == MarkPlace::front_edge ? Side::front : Side::rear;
    const double s = sign(side), face = on_wall(side == Side::front ? part_.rims_front() : part_.rims_rear);
    const part::Rim& rim = side == Side::front ? part_.rims.back() : part_.rims.front();
    const double edge = rim.end_diameter(side) / 2;
    // The flat stretch of the rim's edge, beyond its edge break: a mark ends inside it.
    double reach = 0;
    for (const Edge& e : section_.body.section) {
      if (!e.is_arc() && e.a.y == e.b.y && std::abs(e.a.y - edge) < kSame) {
        const double far = std::max((face - e.a.x) * s, (face - e.b.x) * s);
        reach = reach == 0 ? far : std::min(reach, far);
      }
    }
    const double chamfer = rim.front && side == Side::front ? rim.front->edge_break.value
                           : rim.rear && side == Side::rear ? rim.rear->edge_break.value
                                                            : rim.edge_break.value;
    if (m.depth <= chamfer + kSame || m.length >= reach - kSame || m.length <= chamfer + kSame) {
      error(m.place, id,
            "a mark on the rim's edge is deeper than its edge break of " + mm(chamfer) +
                " and shorter than the edge, " + mm(reach) + "; here it is " + mm(m.depth) + " deep and " +
                mm(m.length) + " long");
      return;
    }
    if (part_.tone_ring && part_.tone_ring->side == side && part_.tone_ring->radius > edge - m.depth - kSame) {
      error(m.place, id,
            id + " of " + mm(m.depth) + " on the rim's edge cut into the tone ring of radius " +
                mm(part_.tone_ring->radius) + ": make their depth less than " + mm(edge - part_.tone_ring->radius));
      return;
    }
    const double inside = face - s * m.length, outside = face + s;
    if (!in_metal({{inside, edge - m.depth}, {face, edge - m.depth}}, face)) {
      error(m.place, id,
            id + " of " + mm(m.depth) + " on the rim's edge come out inside the rim: make their depth smaller");
      return;
    }
    for (std::size_t i = 0; i < m.angles.size(); ++i) {
      section_.body.slots.push_back({id + "[" + std::to_string(i + 1) + "]", cross_angle(m.angles[i]), m.width,
                                     edge - m.depth, false, std::min(inside, outside), std::max(inside, outside)});
      mark_places_.push_back(m.place);
    }
  }

  void add_keyway(const part::Keyway& k) {
    double rear = 0, front = part_.hub.front_face;
    for (const Edge& e : section_.body.section)
      rear = std::min({rear, e.a.x, e.b.x}), front = std::max({front, e.a.x, e.b.x});
    section_.body.slots.push_back(
        {"keyway", cross_angle(k.angle), k.width.value, part_.hub.keyway_floor(), true, rear - 1, front + 1});
  }

  void add_teeth(const part::ToneRing& t) {
    const double face = on_wall(t.side == Side::front ? part_.rims_front() : part_.rims_rear);
    const double end = face + sign(t.side) * (t.width + 1);
    const double pitch = 2 * std::numbers::pi / t.teeth, floor = t.radius - t.tooth_height;
    const double half_gap = asin_of(std::min(1.0, t.gap / 2 / t.radius));
    // Missing teeth are one wide gap that covers their neighbours too.
    const auto width = [&](int pitches) { return 2 * t.radius * sin_of(half_gap + pitches * pitch / 2); };
    const auto gap = [&](int i, int pitches) {
      const double middle = cross_angle(t.start) + (i + pitches / 2.0) * pitch;
      section_.body.slots.push_back({"gap[" + std::to_string(i + 1) + "]", middle, width(pitches), floor, false,
                                     std::min(face, end), std::max(face, end)});
    };
    // The sides of a gap are parallel: it takes its greatest angle, and a tooth is thinnest, at the floor.
    const auto half_at_floor = [&](int pitches) { return asin_of(std::min(1.0, width(pitches) / 2 / floor)); };
    if (half_gap + t.missing * pitch / 2 > kWidestGap || half_at_floor(t.missing) > kWidestGap) {
      error(t.place, t.missing > 0 ? "missing" : "gap",
            std::string(t.missing > 0 ? "the missing teeth make a gap" : "each gap is") + " wider than " +
                trimmed(2 * Angle::rad(kWidestGap).deg(), 0) +
                (t.missing > 0 ? " deg: leave fewer out, or make 'gap' or 'tooth_height' smaller"
                               : " deg: make 'gap' or 'tooth_height' smaller"));
      return;
    }
    const double tooth = (t.missing / 2.0 + 1) * pitch - half_at_floor(t.missing) - half_at_floor(0);
    const double foot = 2 * floor * sin_of(tooth / 2), least = part_.limit("minimum_wall").value;
    if (foot < least) {
      error(t.place, "gap",
            "gaps of " + mm(t.gap) + " with parallel sides leave teeth of " + mm(std::max(0.0, foot)) +
                " at their foot, at least " + mm(least) + " is needed: make 'gap' or 'tooth_height' smaller" +
                (t.missing > 0 ? ", or leave fewer teeth out" : ""));
      return;
    }
    const int first = t.missing > 0 ? t.missing + 1 : 0;
    if (t.missing > 0) gap(0, t.missing);
    for (int i = first; i < t.teeth; ++i) gap(i, 0);
  }

  // ---- what would cut into what ----

  void check_collisions() {
    const auto& body = section_.body;
    const auto& holes = body.holes;
    for (std::size_t i = 0; i < holes.size(); ++i) {
      const bool seen = i > 0 && alike(holes[i - 1], holes[i]);
      if (!seen && wall_round(holes[i], section_, true) <= kSame && told_.emplace(feature(holes[i].id), "").second) {
        error(places_[i], holes[i].id,
              holes[i].id + " cuts into " + in_words(nearest_face(holes[i], section_)) +
                  ": move the circle or take a smaller hole");
      }
      for (std::size_t k = i + 1; k < holes.size(); ++k) {
        if (metal_between(holes[i], holes[k]) <= kSame) collide(places_[k], holes[i].id, holes[k].id);
      }
      for (std::size_t k = 0; k < body.pockets.size(); ++k) {
        if (metal_between(holes[i], body.pockets[k]) <= kSame)
          collide(pocket_places_[k], holes[i].id, body.pockets[k].id);
      }
      for (const Slot& s : body.slots) {
        if (metal_between(holes[i], s) <= kSame) collide(places_[i], holes[i].id, s.id);
      }
      if (diagnostics_.all().size() > kEnough) return;
    }
    for (std::size_t i = 0; i < body.pockets.size(); ++i) {
      for (const Slot& slot : body.slots) {
        if (metal_between(body.pockets[i], slot) <= kSame) collide(pocket_places_[i], body.pockets[i].id, slot.id);
      }
      for (std::size_t k = i + 1; k < body.pockets.size(); ++k) {
        if (metal_between(body.pockets[i], body.pockets[k]) <= kSame)
          collide(pocket_places_[k], body.pockets[i].id, body.pockets[k].id);
      }
      if (diagnostics_.all().size() > kEnough) return;
    }
    check_edge_marks();
  }

  /// Marks on the rim's edge against each other; teeth are judged at their foot, and lie deeper than marks.
  void check_edge_marks() {
    const auto& slots = section_.body.slots;
    for (std::size_t i = 0; i < mark_places_.size(); ++i) {
      for (std::size_t k = i + 1; k < mark_places_.size(); ++k) {
        if (metal_between(slots[i], slots[k]) <= kSame) collide(mark_places_[k], slots[i].id, slots[k].id);
      }
    }
  }

  static std::string feature(const std::string& id) { return id.substr(0, id.find('[')); }

  /// Once for two features: the rest of a ring of holes would only say it again.
  void collide(const Place& place, const std::string& a, const std::string& b) {
    if (!told_.emplace(feature(a), feature(b)).second) return;
    error(place, b, a + " and " + b + " overlap: move one, or make one smaller");
  }

  static constexpr std::size_t kEnough = kMaxShownDiagnostics;
  static constexpr double kWidestGap = 1.0;  // rad, half

  const Part& part_;
  Section& section_;
  Diagnostics& diagnostics_;
  std::vector<Wall> walls_;
  std::vector<Place> places_, pocket_places_;
  std::vector<Place> mark_places_;  ///< of the first slots: marks are added before keyway and teeth
  std::set<std::pair<std::string, std::string>> told_;
};

/// Radius of a hole at depth z; 0 outside it. At a step the wider side counts.
double radius_at(const RoundHole& h, double z) {
  double r = 0;
  for (std::size_t i = 0; i + 1 < h.profile.size(); ++i) {
    const Vec2 a = h.profile[i], b = h.profile[i + 1];
    if (z < std::min(a.x, b.x) || z > std::max(a.x, b.x)) continue;
    r = std::max(r, a.x == b.x ? std::max(a.y, b.y) : a.y + (b.y - a.y) * (z - a.x) / (b.x - a.x));
  }
  return r;
}

/// Depths at which openings are compared: every level of both that lies in both. Walls run straight between levels, and
/// the gap is then least at one of them.
template <class A, class B>
std::vector<double> common_depths(const A& a, const B& b) {
  const auto [a0, a1] = std::minmax_element(a.begin(), a.end());
  const auto [b0, b1] = std::minmax_element(b.begin(), b.end());
  const double from = std::max(*a0, *b0), to = std::min(*a1, *b1);
  std::vector<double> out;
  for (const auto* list : {&a, &b}) {
    for (const double z : *list) {
      if (z >= from && z <= to) out.push_back(z);
    }
  }
  return out;
}
std::vector<double> depths(const RoundHole& h) {
  std::vector<double> z;
  for (const Vec2& p : h.profile) z.push_back(p.x);
  return z;
}
std::vector<double> depths(const Pocket& p) {
  std::vector<double> z;
  for (const Level& l : p.levels) z.push_back(l.z);
  return z;
}

/// The loop at depth z: the wider one where z is at a level; between levels walls are at most as wide as the wider
/// level.
const Path& loop_at(const Pocket& p, double z) {
  const Path* best = nullptr;
  for (std::size_t i = 0; i + 1 < p.levels.size(); ++i) {
    const double a = p.levels[i].z, b = p.levels[i + 1].z;
    if (z < std::min(a, b) || z > std::max(a, b)) continue;
    for (const Level* l : {&p.levels[i], &p.levels[i + 1]}) {
      if (!best || plane::area(l->loop) > plane::area(*best)) best = &l->loop;
    }
  }
  require(best != nullptr, "a pocket is asked for a depth outside it");
  return *best;
}

constexpr double kFar = std::numeric_limits<double>::infinity();

/// The slot across the axis, out to `reach` at least; an outward floor is taken at its corners, which is a little too
/// deep.
Path outline(const Slot& s, double reach) {
  const double half = s.width / 2;
  const double from = s.inward ? 0 : std::sqrt(std::max(0.0, s.floor * s.floor - half * half));
  const double to = s.inward ? s.floor : std::max(2 * reach, 2 * s.floor);
  using T = Edge::Turn;
  return plane::turned({{{from, -half}, {to, -half}, T::straight, {}},
                        {{to, -half}, {to, half}, T::straight, {}},
                        {{to, half}, {from, half}, T::straight, {}},
                        {{from, half}, {from, -half}, T::straight, {}}},
                       s.angle);
}

/// Least distance of two loops, 0 where one holds the other.
double gap_between(const Path& a, const Path& b) {
  return plane::contains(a, b.front().a) || plane::contains(b, a.front().a) ? 0 : plane::distance(a, b);
}

}  // namespace

double drill_depth(const HolePattern& p) { return p.depth + (p.tapped ? kRunOutPitches * p.thread->pitch : 0); }

bool alike(const RoundHole& a, const RoundHole& b) {
  return a.profile == b.profile && std::abs(norm(a.at) - norm(b.at)) < kSame;
}

namespace {

/// In the half plane through the hole's own axis its two sides come nearest to turned faces.
Path sides_of(const RoundHole& hole) {
  const double at = norm(hole.at);
  Path sides;
  for (std::size_t i = 0; i + 1 < hole.profile.size(); ++i) {
    const Vec2 a = hole.profile[i], b = hole.profile[i + 1];
    for (const double s : {-1.0, 1.0})
      sides.push_back({{a.x, at + s * a.y}, {b.x, at + s * b.y}, Edge::Turn::straight, {}});
  }
  return sides;
}

/// The flat wall that a mouth of the hole lies in.
bool is_own_wall(const Edge& e, const RoundHole& hole) {
  const double at = norm(hole.at);
  const double mouth = hole.profile.front().x, far = hole.profile.back().x;
  return !e.is_arc() && e.a.x == e.b.x && std::min(e.a.y, e.b.y) < at && std::max(e.a.y, e.b.y) > at &&
         (e.a.x == mouth || (hole.through && e.a.x == far));
}

}  // namespace

double wall_round(const RoundHole& hole, const Section& section, bool with_fillets) {
  Path others;
  for (std::size_t i = 0; i < section.tags.size(); ++i) {
    if (!with_fillets && section.tags[i].kind == Kind::fillet) continue;
    const Edge& e = section.body.section[i];
    if (!is_own_wall(e, hole)) others.push_back(e);
  }
  return plane::distance(sides_of(hole), others);
}

Kind nearest_face(const RoundHole& hole, const Section& section) {
  const Path sides = sides_of(hole);
  Kind nearest = Kind::fillet;
  double least = kFar;
  for (std::size_t i = 0; i < section.tags.size(); ++i) {
    const Kind kind = section.tags[i].kind;
    const Edge& e = section.body.section[i];
    if (kind == Kind::edge_break || kind == Kind::fillet || is_own_wall(e, hole)) continue;
    const double d = plane::distance(sides, Path{e});
    if (d < least) least = d, nearest = kind;
  }
  return nearest;
}

double metal_between(const RoundHole& a, const RoundHole& b) {
  double least = kFar;
  const double apart = norm(a.at - b.at);
  for (const double z : common_depths(depths(a), depths(b)))
    least = std::min(least, apart - radius_at(a, z) - radius_at(b, z));
  return least;
}

double metal_between(const RoundHole& a, const Pocket& b) {
  double least = kFar;
  for (const double z : common_depths(depths(a), depths(b))) {
    const Path& loop = loop_at(b, z);
    const double gap = plane::contains(loop, a.at) ? 0 : plane::distance(a.at, loop) - radius_at(a, z);
    least = std::min(least, gap);
  }
  return least;
}

double metal_between(const Pocket& a, const Pocket& b) {
  double least = kFar;
  for (const double z : common_depths(depths(a), depths(b)))
    least = std::min(least, gap_between(loop_at(a, z), loop_at(b, z)));
  return least;
}

double metal_between(const Pocket& a, const Slot& b) {
  const auto zs = depths(a);
  const auto [low, high] = std::minmax_element(zs.begin(), zs.end());
  if (*high <= b.z0 || *low >= b.z1) return kFar;
  double reach = 0;
  for (const Level& l : a.levels) {
    for (const Edge& e : l.loop) reach = std::max({reach, norm(e.a), norm(e.b)});
  }
  const Path slot = outline(b, reach);
  double least = kFar;
  for (const Level& l : a.levels) least = std::min(least, gap_between(slot, l.loop));
  return least;
}

double metal_between(const Slot& a, const Slot& b) {
  if (a.inward != b.inward || a.z1 <= b.z0 || b.z1 <= a.z0) return kFar;
  return gap_between(outline(a, b.floor), outline(b, a.floor));
}

double metal_between(const RoundHole& a, const Slot& b) {
  double widest = 0;
  for (const double z : depths(a)) {
    if (z >= b.z0 && z <= b.z1) widest = std::max(widest, radius_at(a, z));
  }
  if (widest == 0) return kFar;
  // In the slot's own frame: x along its ray, y across.
  const double c = cos_of(b.angle), s = sin_of(b.angle);
  const Vec2 p{a.at.x * c + a.at.y * s, -a.at.x * s + a.at.y * c};
  const double across = std::max(0.0, std::abs(p.y) - b.width / 2);
  double along = 0;
  if (b.inward) {
    along = p.x > b.floor ? p.x - b.floor : std::max(0.0, -p.x);
  } else if (p.x < 0) {
    return kFar;
  } else {
    along = std::max(0.0, b.floor - norm(p));
  }
  return length_of(along, across) - widest;
}

void add_openings(const Part& part, Section& section, Diagnostics& diagnostics) {
  OpeningMaker(part, section, diagnostics).add_all();
}

}  // namespace groovewright::section
