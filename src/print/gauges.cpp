#include "gauges.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "clearance.h"
#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"
#include "pose.h"

namespace groovewright::print {
namespace {

using part::HolePattern;
using part::Part;
using part::Rim;
using plane::Path;
using plane::Vec2;
using std::numbers::pi;

// Sizes of the gauges' own, mm: enough to be held and to stay stiff.
constexpr double kBack = 6, kDisc = 2.4, kFlange = 8, kBeside = 4;
/// Play that keeps a comb's tips and valleys off root and crest, so that it sits on the flanks alone.
constexpr double kOff = 0.3;
/// Angle that a comb or a crest gauge spans, and the longest arc that a hand wants.
constexpr double kSpan = 50 * pi / 180, kLongestArc = 70;
constexpr double kStripLength = 120, kNotch = 0.8, kNotchSpacing = 10;
constexpr std::size_t kMostScrews = 6;

Path polygon(const std::vector<Vec2>& points) {
  Path path;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Vec2 a = points[i], b = points[(i + 1) % points.size()];
    if (plane::norm(b - a) > plane::kCoincident) path.push_back({a, b, plane::Edge::Turn::straight, {}});
  }
  return path;
}

/// A sector of a ring, standing on its first cut.
mesh::Mesh ring_sector(const std::vector<Vec2>& section, double inner, double outer, double deflection, bool stands) {
  const mesh::Mesh ring = mesh::tessellate({polygon(section), {}, {}, {}}, deflection);
  const double span = std::min(kSpan, kLongestArc / inner);
  const double from = kSectorFrom;
  std::vector<Vec2> wedge{plane::polar(0.5 * inner, from)};
  constexpr int kSteps = 6;
  for (int i = 0; i <= kSteps; ++i) wedge.push_back(plane::polar(1.3 * outer, from + span * i / kSteps));
  wedge.push_back(plane::polar(0.5 * inner, from + span));
  mesh::Mesh sector = mesh::cut_out(ring, wedge, {}, deflection);
  pose(sector, stands ? standing(from) : turned(pi / 2 - from - span / 2));
  return sector;
}

std::string of_rim(const Part& part, std::size_t i) {
  return part.rims.size() > 1 ? " of rim " + std::to_string(i + 1) : "";
}

Object comb(const Part& part, std::size_t i, double deflection) {
  const Rim& rim = part.rims[i];
  const double e = rim.groove.pitch.value, tan_half = tan_of(rim.groove.angle.rad() / 2);
  const double apex = (rim.apex_diameter() - e / tan_half) / 2, crest = rim.outside_diameter() / 2,
               root = rim.root_diameter() / 2;
  const double depth = crest - root, off = std::min(kOff, depth / 5);
  const double tip = root + off, valley = std::min(crest + off, apex + 0.49 * e / tan_half), back = crest + kBack;
  const double at_tip = (tip - apex) * tan_half, at_valley = (valley - apex) * tan_half;
  const double rear = part.groove_z(i, 0) - e / 2, front = part.groove_z(i, rim.grooves - 1) + e / 2;
  std::vector<Vec2> points{{rear, valley}};
  for (int k = 0; k < rim.grooves; ++k) {
    const double z = part.groove_z(i, k);
    points.insert(points.end(),
                  {{z - at_valley, valley}, {z - at_tip, tip}, {z + at_tip, tip}, {z + at_valley, valley}});
  }
  points.insert(points.end(), {{front, valley}, {front, back}, {rear, back}});
  return {"groove comb" + of_rim(part, i),
          "lies in the grooves of the print and later of the metal part; light between comb and flank shows a wrong "
          "angle or pitch",
          ring_sector(points, tip, back, deflection, true),
          {}};
}

Object crest_gauge(const Part& part, std::size_t i, double deflection) {
  const Rim& rim = part.rims[i];
  const double e = rim.groove.pitch.value, crest = rim.outside_diameter() / 2;
  const double rear = part.groove_z(i, 0) - e / 2, front = part.groove_z(i, rim.grooves - 1) + e / 2;
  return {"crest gauge" + of_rim(part, i),
          "lies on the crests, outside diameter " + number(rim.outside_diameter(), 3) +
              " mm; it must not rock, nor show light in its middle",
          ring_sector({{rear, crest}, {front, crest}, {front, crest + kBack}, {rear, crest + kBack}}, crest,
                      crest + kBack, deflection, false),
          {}};
}

/// A strip as thick as the belt, with notches along one edge as a ruler.
Object strip(const Part& part, std::size_t i) {
  const Rim& rim = part.rims[i];
  const double width = rim.belt_ribs * rim.groove.pitch.value;
  std::vector<Vec2> outline{{0, 0}};
  const int notches = static_cast<int>(kScaleCheck / kNotchSpacing);
  for (int k = 0; k <= notches; ++k) {
    const double x = (kStripLength - kScaleCheck) / 2 + k * kNotchSpacing;
    const double deep = std::min(width / 4, k == 0 || k == notches ? 2 * kNotch : kNotch);
    outline.insert(outline.end(), {{x - deep / 2, 0}, {x, deep}, {x + deep / 2, 0}});
  }
  outline.insert(outline.end(), {{kStripLength, 0}, {kStripLength, width}, {0, width}});
  return {"belt-room strip" + of_rim(part, i),
          "as thick as the belt, " + number(rim.belt->height.value, 3) + " mm, and as wide, " + number(width, 3) +
              " mm: pass it over the flange and past the neighbours as the belt would go; between its two deep notches "
              "lie " +
              number(kScaleCheck, 3) + " mm",
          mesh::extruded({outline}, 0, rim.belt->height.value),
          {}};
}

/// What the part is located by at its seat: a recess or a spigot of the pulley, else its bore.
const part::Register* at_seat(const Part& part) {
  for (const part::Register& r : part.hub.registers) {
    if (r.side == part::Side::rear) return &r;
  }
  return nullptr;
}

std::vector<const HolePattern*> patterns(const Part& part) {
  std::vector<const HolePattern*> found;
  for (const HolePattern& p : part.holes) {
    if (p.use != HolePattern::Use::magnet) found.push_back(&p);
  }
  return found;
}

void add_holes(plane::TurnedBody& body, const HolePattern& p, double radius, double low, double high) {
  for (const Angle& a : p.angles) {
    body.holes.push_back(
        {p.id, plane::polar(p.circle / 2, part::cross_angle(a)), {{high, radius}, {low, radius}}, true});
  }
}

double outermost(const Part& part) {
  double r = 0;
  for (const HolePattern* p : patterns(part)) {
    r = std::max(r, (p->circle + std::max({p->diameter.value, p->thread ? p->thread->diameter : 0.0})) / 2 + 0.5);
  }
  return r;
}
double innermost(const Part& part) {
  double r = 1e9;
  for (const HolePattern* p : patterns(part)) {
    r = std::min(r, (p->circle - std::max({p->diameter.value, p->thread ? p->thread->diameter : 0.0})) / 2 - 0.5);
  }
  return r;
}

std::vector<Vec2> ring(double inner, double outer, double low, double high) {
  return {{low, inner}, {high, inner}, {high, outer}, {low, outer}};
}

std::optional<Object> bolt_disc(const Part& part, const catalog::Printer& printer, double deflection) {
  if (patterns(part).empty()) return std::nullopt;
  const part::Register* r = at_seat(part);
  double inner = part.hub.bore_radius(0);
  if (r) inner = std::max(inner, r->diameter / 2);
  inner += (printer.bore_slip + printer.hole_shrink) / 2;
  const double slip = printer.hole_slip + printer.hole_shrink;
  if (innermost(part) - slip < inner + 1) return std::nullopt;
  plane::TurnedBody body{polygon(ring(inner, outermost(part) + kBeside, 0, kDisc)), {}, {}, {}};
  for (const HolePattern* p : patterns(part)) {
    add_holes(body, *p, ((p->thread ? p->thread->diameter : p->diameter.value) + slip) / 2, 0, kDisc);
  }
  return Object{"bolt-pattern disc",
                "goes on the hub before the print does: every screw must start by hand",
                mesh::tessellate(body, deflection),
                {}};
}

/// The hub that the pulley will sit on: seat, register or stub, holes for the stand-in screws.
std::optional<Object> stand_in_hub(const Part& part, const catalog::Printer& printer, double deflection) {
  const part::Hub& hub = part.hub;
  const part::Register* r = at_seat(part);
  const double slip = printer.hole_slip + printer.hole_shrink;
  const bool holes = !patterns(part).empty();
  double outer = std::max(holes ? outermost(part) + kBeside : 0.0, hub.bore_radius(0) + kFlange);
  if (r) outer = std::max(outer, r->diameter / 2 + kFlange);
  std::vector<Vec2> section;
  double edge = 0;  // of what stands up inside the holes
  if (r && r->depth > 0) {
    const double high = std::max(1.0, r->depth - 0.5), inner = std::max(2.0, r->diameter / 2 - kFlange);
    section = {{-kFlange, inner},
               {high, inner},
               {high, r->diameter / 2 - 0.4},
               {high - 0.4, r->diameter / 2},
               {0, r->diameter / 2},
               {0, outer},
               {-kFlange, outer}};
    edge = r->diameter / 2;
  } else if (r) {
    const double deep = -r->depth + 0.5, recess = r->diameter / 2 + (printer.bore_slip + printer.hole_shrink) / 2;
    if (deep > kFlange - 1.5) return std::nullopt;
    const double inner = std::max(2.0, recess - kFlange);
    section = {{-kFlange, inner}, {-deep, inner}, {-deep, recess}, {0, recess}, {0, outer}, {-kFlange, outer}};
    edge = recess;
  } else {
    const double high = std::min(hub.front_face, 25.0);
    const double low_radius = hub.bore_radius(0), high_radius = hub.bore_radius(high);
    const double inner = std::min(low_radius, high_radius) / 2;
    section = {{-kFlange, inner},         {high, inner},   {high, high_radius - std::min(0.4, inner / 4)},
               {high - 0.4, high_radius}, {0, low_radius}, {0, outer},
               {-kFlange, outer}};
    edge = low_radius;
  }
  plane::TurnedBody body{polygon(section), {}, {}, {}};
  if (holes && innermost(part) - slip > edge + 1) {
    for (const HolePattern* p : patterns(part)) {
      const double size = p->thread ? p->thread->diameter : p->diameter.value;
      add_holes(body, *p, (size + slip) / 2, -kFlange, 0);
    }
  }
  return Object{"stand-in hub",
                "the metal hub's seat and register, to try the print on the bench",
                mesh::tessellate(body, deflection),
                {}};
}

/// Screws without a thread, to be pushed through print and stand-in hub.
std::vector<Object> screws(const Part& part, double deflection) {
  std::vector<Object> made;
  for (const HolePattern* p : patterns(part)) {
    if (!p->thread || p->use != HolePattern::Use::bolt) continue;
    const catalog::Thread& t = *p->thread;
    const double length = (p->screw_length > 0 ? p->screw_length : part.hub.front_face) + kFlange / 2;
    const double shank = t.diameter / 2, head = t.head_diameter / 2, point = std::min(0.5, shank / 4);
    const std::vector<Vec2> section{{0, 0},
                                    {t.head_height + length, 0},
                                    {t.head_height + length, shank - point},
                                    {t.head_height + length - point, shank},
                                    {t.head_height, shank},
                                    {t.head_height, head},
                                    {0, head}};
    const mesh::Mesh screw = mesh::tessellate({polygon(section), {}, {}, {}}, deflection);
    const std::size_t count = std::min(p->angles.size(), kMostScrews);
    for (std::size_t k = 0; k < count; ++k) {
      made.push_back({"stand-in screw " + t.id + ", " + p->id + " " + std::to_string(k + 1),
                      "head and shank of an " + t.id + ", no thread: shows that heads and washers have room",
                      screw,
                      {}});
    }
  }
  return made;
}

}  // namespace

std::vector<Object> gauges(const Part& part, const catalog::Printer& printer, double deflection) {
  std::vector<Object> made;
  for (std::size_t i = 0; i < part.rims.size(); ++i) {
    made.push_back(comb(part, i, deflection));
    made.push_back(crest_gauge(part, i, deflection));
    if (part.rims[i].belt) made.push_back(strip(part, i));
  }
  if (auto disc = bolt_disc(part, printer, deflection)) made.push_back(std::move(*disc));
  if (auto hub = stand_in_hub(part, printer, deflection)) made.push_back(std::move(*hub));
  for (Object& screw : screws(part, deflection)) made.push_back(std::move(screw));
  return made;
}

}  // namespace groovewright::print
