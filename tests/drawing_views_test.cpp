// What the views show, held against the body: which edges there are, which are hidden, how much metal is cut.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <map>
#include <numbers>
#include <set>

#include "parts.h"
#include "planes.h"
#include "random_spec.h"
#include "spans.h"
#include "views.h"

namespace groovewright::drawing {
namespace {

using groovewright::testing::disc;
using groovewright::testing::made_part;
using groovewright::testing::MadePart;
using plane::Edge;
using plane::Ink;
using plane::Path;
using plane::Vec2;

constexpr double kPi = std::numbers::pi;
constexpr double kExact = 1e-6;
constexpr const char* kDemos[] = {"fennel-spindle-pj", "larkspur-crank-24", "marlow-step-2", "sorrel-disc",
                                  "thistle-pump-pl"};

MadePart demo(const std::string& name) {
  MadePart made =
      made_part(groovewright::testing::file_text(GW_SOURCE_DIR "/profiles/demo/" + name + ".yaml"), name + ".yaml");
  EXPECT_TRUE(made.section) << name << made.diagnostics.text();
  return made;
}

/// Requires: the text is a possible part.
MadePart made(const std::string& yaml) {
  MadePart m = made_part(yaml);
  EXPECT_TRUE(m.section) << yaml << m.diagnostics.text();
  return m;
}

std::vector<Edge> edges(const Lines& lines, std::optional<Ink> ink = std::nullopt) {
  std::vector<Edge> all;
  for (const plane::Inked& line : lines) {
    if (!ink || line.ink == *ink) all.insert(all.end(), line.path.begin(), line.path.end());
  }
  return all;
}

/// Total length of arcs of this circle.
double arc_length(const Lines& lines, Ink ink, Vec2 centre, double radius) {
  double sum = 0;
  for (const Edge& e : edges(lines, ink)) {
    if (e.is_arc() && norm(e.centre - centre) < kExact && std::abs(e.radius() - radius) < kExact) sum += e.length();
  }
  return sum;
}

std::set<long> radii_about_axis(const Lines& lines, Ink ink) {
  std::set<long> found;
  for (const Edge& e : edges(lines, ink)) {
    if (e.is_arc() && norm(e.centre) < kExact) found.insert(std::lround(e.radius() / kExact));
  }
  return found;
}

// ---- face ----

TEST(Face, DrawsCirclesWhereTheOutlineHasCorners) {
  for (const char* name : {"fennel-spindle-pj", "sorrel-disc", "thistle-pump-pl"}) {  // no marks, no tone ring
    const MadePart m = demo(name);
    std::set<long> corners;
    for (const Edge& e : m.section->body.section) corners.insert(std::lround(e.a.y / kExact));
    const std::set<long> drawn = radii_about_axis(face(*m.part, *m.section), Ink::visible);
    EXPECT_GE(drawn.size(), 4U) << name;
    for (const Edge& window : edges(face(*m.part, *m.section), Ink::visible)) {
      if (!window.is_full_circle() || norm(window.centre) > kExact) continue;
      EXPECT_TRUE(corners.contains(std::lround(window.radius() / kExact))) << name << " radius " << window.radius();
    }
  }
}

TEST(Face, DrawsTheSilhouetteWhole) {
  for (const char* name : kDemos) {
    const MadePart m = demo(name);
    double outermost = 0;
    for (const Edge& e : m.section->body.section) outermost = std::max({outermost, e.a.y, e.at(0.5).y});
    EXPECT_NEAR(arc_length(face(*m.part, *m.section), Ink::visible, {}, outermost), 2 * kPi * outermost, kExact)
        << name;
  }
}

TEST(Face, DrawsEveryRadiusOfAHoleThatNarrowsToTheRear) {
  const MadePart m = demo("larkspur-crank-24");
  const Lines lines = face(*m.part, *m.section);
  int seen = 0;
  for (const plane::RoundHole& h : m.section->body.holes) {
    if (!h.id.starts_with("bolts_1[")) continue;
    ++seen;
    std::set<double> radii;
    for (const Vec2& p : h.profile) {
      if (p.y <= h.profile.front().y) radii.insert(p.y);
    }
    radii.erase(h.profile.back().y);  // the edge break behind the head's seat is covered by it
    for (const double r : radii) EXPECT_NEAR(arc_length(lines, Ink::visible, h.at, r), 2 * kPi * r, kExact) << h.id;
  }
  EXPECT_EQ(seen, 6);
}

TEST(Face, FlangeInFrontHidesTheGrooves) {
  const MadePart m = made(disc("{effective_diameter: 120 mm}", "    front_flange: {height: 4 mm}\n"));
  const Lines lines = face(*m.part, *m.section);
  const double outside = m.part->rims[0].outside_diameter() / 2;
  for (const long steps : radii_about_axis(lines, Ink::visible)) {
    const double r = static_cast<double>(steps) * kExact;
    EXPECT_TRUE(r > outside + 1 || r < 20) << "radius " << r;
  }
}

TEST(Face, KeywayTakesItsArcFromTheBore) {
  const MadePart m = made(disc("{effective_diameter: 120 mm}", "", "  keyway: {width: 6 mm, depth: 2.8 mm}\n"));
  const Lines lines = face(*m.part, *m.section);
  const double bore = 10, half = 3, floor = m.part->hub.keyway_floor();
  EXPECT_NEAR(arc_length(lines, Ink::visible, {}, bore), bore * (2 * kPi - 2 * std::asin(half / bore)), kExact);
  int floors = 0;
  double sides = 0;
  for (const Edge& e : edges(lines, Ink::visible)) {
    if (e.is_arc()) continue;
    if (std::abs(e.a.y - floor) < kExact && std::abs(e.b.y - floor) < kExact) ++floors;
    if (std::abs(std::abs(e.a.x) - half) < kExact && std::abs(e.a.x - e.b.x) < kExact) sides += e.length();
  }
  EXPECT_EQ(floors, 1);
  EXPECT_NEAR(sides, 2 * (floor - std::sqrt(bore * bore - half * half)), kExact) << "at 12 o'clock";
}

TEST(Face, GapsTakeTheirArcsFromAToneRingInFront) {
  const MadePart m = made(disc("{effective_diameter: 120 mm}", "", "",
                               "body: {solid: true}\ntone_ring: {teeth: 12, missing: 1, radius: 50 mm, width: 5 mm, "
                               "tooth_height: 3 mm, thickness: 6 mm, gap: 8 mm, side: front}\n"));
  const Lines lines = face(*m.part, *m.section);
  double outer = 2 * kPi * 50, floor = 0;
  for (const plane::Slot& s : m.section->body.slots) {
    outer -= 2 * 50 * std::asin(s.width / 2 / 50);
    floor += 2 * s.floor * std::asin(s.width / 2 / s.floor);
  }
  EXPECT_NEAR(arc_length(lines, Ink::visible, {}, 50), outer, kExact);
  EXPECT_NEAR(arc_length(lines, Ink::visible, {}, 47), floor, kExact);
  EXPECT_NEAR(arc_length(lines, Ink::visible, {}, 44), 2 * kPi * 44, kExact) << "the ring's inside is whole";
}

TEST(Face, WhatOpensToTheRearOnlyIsHidden) {
  const MadePart m =
      made(disc("{effective_diameter: 120 mm}", "",
                "  dowels: [{angles: [20 deg], diameter: 6 mm, circle: 60 mm, depth: 8 mm, side: rear}]\n"
                "  bolts: [{count: 3, size: M6, circle: 80 mm, counterbore: rear}]\n"));
  const Lines lines = face(*m.part, *m.section);
  for (const plane::RoundHole& h : m.section->body.holes) {
    const bool is_dowel = h.id.starts_with("dowels");
    double hidden = 0, visible = 0;
    for (const Edge& e : edges(lines, Ink::hidden)) {
      if (norm(e.centre - h.at) < kExact) hidden = std::max(hidden, e.radius());
    }
    for (const Edge& e : edges(lines, Ink::visible)) {
      if (e.is_full_circle() && norm(e.centre - h.at) < kExact) visible = std::max(visible, e.radius());
    }
    EXPECT_NEAR(hidden, is_dowel ? 3 : m.part->holes[0].sink_diameter / 2, kExact) << h.id;
    EXPECT_EQ(visible > 0, !is_dowel) << h.id;
  }
}

TEST(Face, ThreadIsThreeQuartersOfAThinCircle) {
  const MadePart m = demo("fennel-spindle-pj");
  const Lines lines = face(*m.part, *m.section);
  int threads = 0;
  for (const Edge& e : edges(lines, Ink::dimension)) {
    ++threads;
    EXPECT_NEAR(e.radius(), 1.5, kExact) << "M3";
    EXPECT_NEAR(e.sweep(), 1.5 * kPi, kExact) << "ISO 6410-1";
    for (const double t : {0.0, 0.3, 0.6, 1.0}) {
      const Vec2 p = e.at(t) - e.centre;
      EXPECT_FALSE(p.x > kExact && p.y > kExact) << "open at the upper right";
    }
  }
  EXPECT_EQ(threads, 4);
}

// ---- cut ----

/// By counting along lines square to the axis; an odd number of loops is metal.
double metal_area(const std::vector<Path>& metal, bool upper) {
  constexpr int kSteps = 4000;
  double low = 1e9, high = -1e9;
  for (const Path& p : metal) {
    for (const Edge& e : p) low = std::min(low, e.a.x), high = std::max(high, e.a.x);
  }
  double area = 0;
  const double step = (high - low) / kSteps;
  for (int i = 0; i < kSteps; ++i) {
    std::vector<double> met;
    for (const Path& p : metal) {
      for (const Span& s : spans(p, &Vec2::x, low + (i + 0.5) * step)) {
        if ((s.from + s.to > 0) == upper) met.insert(met.end(), {s.from, s.to});
      }
    }
    std::sort(met.begin(), met.end());
    for (std::size_t k = 0; k + 1 < met.size(); k += 2) area += (met[k + 1] - met[k]) * step;
  }
  return area;
}

double profile_area(const plane::RoundHole& h) {
  double area = 0;
  for (std::size_t i = 0; i + 1 < h.profile.size(); ++i)
    area += std::abs(h.profile[i + 1].x - h.profile[i].x) * (h.profile[i].y + h.profile[i + 1].y);
  return area;
}

double first_profile(const MadePart& m, const std::string& id) {
  for (const plane::RoundHole& h : m.section->body.holes) {
    if (h.id == id) return profile_area(h);
  }
  ADD_FAILURE() << "no hole " << id;
  return 0;
}

TEST(Cut, MetalIsTheSectionLessTheOpeningsCut) {
  struct Case {
    const char* name;
    std::vector<const char*> first, second;  ///< holes cut
  };
  const Case cases[] = {{"sorrel-disc", {}, {}},
                        {"larkspur-crank-24", {"dowels_1[1]"}, {"bolts_1[5]"}},
                        {"fennel-spindle-pj", {"windows[1]", "bolts_1[1]"}, {"windows[4]", "bolts_1[3]"}}};
  for (const Case& c : cases) {
    const MadePart m = demo(c.name);
    const Cut view = cut(*m.part, *m.section);
    const double whole = plane::area(m.section->body.section);
    double first = whole, second = whole;
    for (const char* id : c.first) first -= first_profile(m, id);
    for (const char* id : c.second) second -= first_profile(m, id);
    EXPECT_NEAR(metal_area(view.metal, true), first, 1e-4 * whole) << c.name;
    EXPECT_NEAR(metal_area(view.metal, false), second, 1e-4 * whole) << c.name;
  }
}

TEST(Cut, KeywayIsCutToItsFloor) {
  const MadePart m = demo("thistle-pump-pl");
  const Cut view = cut(*m.part, *m.section);
  const part::Hub& hub = m.part->hub;
  const double floor = hub.keyway_floor(), bore = hub.bore.diameter.value / 2, half = hub.keyway->width.value / 2;
  double at_floor = 0, at_bore = 0;
  for (const Edge& e : edges(view.lines, Ink::visible)) {
    if (e.is_arc() || e.a.y != e.b.y) continue;
    if (std::abs(e.a.y - floor) < kExact) at_floor += e.length();
    if (std::abs(e.a.y - std::sqrt(bore * bore - half * half)) < kExact) at_bore += e.length();
  }
  EXPECT_NEAR(at_floor, hub.front_face - hub.rear_face, kExact);
  EXPECT_NEAR(at_bore, hub.front_face - hub.rear_face - 2 * hub.bore.edge_break.value, kExact);
  EXPECT_LT(metal_area(view.metal, true), plane::area(m.section->body.section) - (floor - bore) * 40);
}

TEST(Cut, PlanesPassThroughWhatIsWorthSeeing) {
  struct Case {
    const char* name;
    double first, second;  ///< degrees from 12 o'clock
    const char* why;
  };
  const Case cases[] = {{"larkspur-crank-24", 90, -60, "dowel, bolt"},
                        {"marlow-step-2", 0, 180, "keyway, tapped hole"},
                        {"thistle-pump-pl", 0, 180, "keyway, window"},
                        {"fennel-spindle-pj", 0, 180, "window, tapped hole"},
                        {"sorrel-disc", 0, 180, "nothing to cut"}};
  for (const Case& c : cases) {
    const MadePart m = demo(c.name);
    const Cut view = cut(*m.part, *m.section);
    EXPECT_NEAR(view.first.deg(), c.first, 1e-4) << c.name << ": " << c.why;
    EXPECT_NEAR(view.second.deg(), c.second, 1e-4) << c.name << ": " << c.why;
  }
}

TEST(Cut, ClearsBoltsWhereThereIsNothingElse) {
  const MadePart m = made(disc("{effective_diameter: 120 mm}", "", "  bolts: [{count: 4, size: M6, circle: 60 mm}]\n"));
  const Cut view = cut(*m.part, *m.section);
  EXPECT_GT(std::abs(view.first.deg()), 5);
  EXPECT_LT(std::abs(view.first.deg()), 15) << "near to 12 o'clock, beside the bolt there";
  EXPECT_NEAR(std::abs(view.second.deg()), 180, 1e-4) << "through the bolt opposite";
}

TEST(Cut, ThreadIsThinOverItsFullDepth) {
  const MadePart m = demo("marlow-step-2");
  const Cut view = cut(*m.part, *m.section);
  const std::vector<Edge> thin = edges(view.lines, Ink::dimension);
  ASSERT_EQ(thin.size(), 2U);
  for (const Edge& e : thin) {
    EXPECT_NEAR(std::abs(e.a.y + 25), 3, kExact) << "M6 on a circle of 50";
    EXPECT_NEAR(std::min(e.a.x, e.b.x), m.part->hub.front_face - 12, kExact);
  }
}

// ---- isometric ----

Vec2 on_screen(double radius, double angle, double z) {
  const double x = radius * std::cos(angle), y = radius * std::sin(angle);
  return {(x - z) / std::numbers::sqrt2, (-x + 2 * y - z) / std::sqrt(6.0)};
}

/// Farthest reach of the outline's rings in the direction d.
double reach(const Path& outline, Vec2 d) {
  double most = -1e9;
  for (const Edge& e : outline) {
    // x, y and z on the screen, dotted with d
    const double x = d.x / std::numbers::sqrt2 - d.y / std::sqrt(6.0), y = 2 * d.y / std::sqrt(6.0);
    const double z = -d.x / std::numbers::sqrt2 - d.y / std::sqrt(6.0);
    for (const Vec2 p : {e.a, e.at(0.5)}) most = std::max(most, p.y * std::hypot(x, y) + p.x * z);
  }
  return most;
}

TEST(Isometric, StaysWithinItsOutermostRings) {
  for (const char* name : kDemos) {
    const MadePart m = demo(name);
    const std::vector<Edge> drawn = edges(isometric(*m.section));
    ASSERT_GT(drawn.size(), 100U) << name;
    for (int i = 0; i < 72; ++i) {
      const Vec2 d{std::cos(i * kPi / 36), std::sin(i * kPi / 36)};
      double most = -1e9;
      for (const Edge& e : drawn) most = std::max({most, dot(e.a, d), dot(e.b, d)});
      const double limit = reach(m.section->body.section, d);
      // Edge breaks are drawn sharp, chords cut a little off.
      EXPECT_LT(most, limit + 0.6) << name << " " << i;
      EXPECT_GT(most, limit - 0.6) << name << " " << i;
    }
  }
}

TEST(Isometric, ShowsTheFrontRingWhole) {
  const MadePart m = demo("sorrel-disc");
  const std::vector<Edge> drawn = edges(isometric(*m.section), Ink::visible);
  double front = -1e9, radius = 0;
  for (const Edge& e : m.section->body.section) front = std::max(front, e.a.x), radius = std::max(radius, e.a.y);
  for (int i = 0; i < 360; ++i) {
    const Vec2 p = on_screen(radius, i * kPi / 180, front);
    EXPECT_LT(plane::distance(p, drawn), 5e-4 * radius) << i;
  }
}

TEST(Isometric, BoreShowsItsFarEdgeBelowLeftOfTheEyeOnly) {
  const MadePart m = made(disc("{effective_diameter: 120 mm}", "", "", "body: {solid: true}\n", "PK", 2));
  const std::vector<Edge> drawn = edges(isometric(*m.section), Ink::visible);
  double rear = 1e9;
  for (const Edge& e : m.section->body.section) rear = std::min(rear, e.a.x);
  EXPECT_LT(plane::distance(on_screen(10, 1.25 * kPi, rear), drawn), 0.2) << "seen through the bore";
  EXPECT_GT(plane::distance(on_screen(10, 0.25 * kPi, rear), drawn), 1) << "behind the near wall";
}

TEST(Isometric, DrawsNothingTwice) {
  for (const char* name : kDemos) {
    const MadePart m = demo(name);
    const std::vector<Edge> drawn = edges(isometric(*m.section));
    double twice = 0, once = 0;
    for (std::size_t i = 0; i < drawn.size(); ++i) {
      const Vec2 middle = drawn[i].at(0.5), along = unit(drawn[i].b - drawn[i].a);
      once += drawn[i].length();
      for (std::size_t k = 0; k < drawn.size(); ++k) {
        const Vec2 a = drawn[k].a, b = drawn[k].b;
        if (k == i || std::max(a.x, b.x) < middle.x - 1e-4 || std::min(a.x, b.x) > middle.x + 1e-4) continue;
        const bool parallel = std::abs(cross(along, unit(b - a))) < 1e-3;
        if (parallel && plane::distance(middle, Path{drawn[k]}) < 1e-4) twice += drawn[i].length();
      }
    }
    EXPECT_LT(twice, 2e-3 * once) << name;
  }
}

// ---- any part ----

int cases() {
  const char* asked = std::getenv("GROOVEWRIGHT_CASES");
  return asked ? std::atoi(asked) : 100;
}

void expect_sound(const Lines& lines, const char* view) {
  std::set<std::array<long, 6>> seen;
  ASSERT_FALSE(lines.empty()) << view;
  for (const plane::Inked& line : lines) {
    ASSERT_FALSE(line.path.empty()) << view;
    for (const Edge& e : line.path) {
      ASSERT_TRUE(std::isfinite(e.a.x + e.a.y + e.b.x + e.b.y)) << view;
      EXPECT_GT(e.length(), plane::kCoincident) << view << " " << e.a.x << " " << e.a.y;
      const auto key = [](Vec2 p) { return std::pair{std::lround(p.x * 1e5), std::lround(p.y * 1e5)}; };
      auto a = key(e.a), b = key(e.b);
      const auto middle = key(e.at(0.5));
      if (b < a) std::swap(a, b);
      EXPECT_TRUE(seen.insert({a.first, a.second, b.first, b.second, middle.first, middle.second}).second)
          << view << ": twice from " << e.a.x << " " << e.a.y << " to " << e.b.x << " " << e.b.y;
    }
  }
}

/// Lines along or square to the axis never run on top of each other.
void expect_no_overlap(const Lines& lines) {
  std::map<std::pair<bool, long>, std::vector<Span>> carriers;
  for (const Edge& e : edges(lines, Ink::visible)) {
    if (e.is_arc()) continue;
    const bool square = std::abs(e.a.x - e.b.x) < kExact;
    if (!square && std::abs(e.a.y - e.b.y) > kExact) continue;
    const double from = square ? e.a.y : e.a.x, to = square ? e.b.y : e.b.x;
    carriers[{square, std::lround((square ? e.a.x : e.a.y) * 1e5)}].push_back({std::min(from, to), std::max(from, to)});
  }
  for (auto& [carrier, on] : carriers) {
    std::sort(on.begin(), on.end(), [](const Span& s, const Span& t) { return s.from < t.from; });
    for (std::size_t i = 0; i + 1 < on.size(); ++i)
      EXPECT_LT(on[i].to, on[i + 1].from + 1e-5)
          << (carrier.first ? "Z " : "radius ") << static_cast<double>(carrier.second) * 1e-5;
  }
}

template <class Look>
void over_parts(const Look& look) {
  int parts = 0;
  for (int seed = 1; seed <= cases(); ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    const MadePart m = made_part(groovewright::testing::random_spec(static_cast<std::uint64_t>(seed)));
    if (!m.section) continue;
    ++parts;
    look(static_cast<std::uint64_t>(seed), m);
  }
  EXPECT_GE(2 * parts, cases()) << "the generator hardly makes possible parts any more";
}

TEST(AnyPart, HasViewsOfProperLines) {
  over_parts([](std::uint64_t, const MadePart& m) {
    expect_sound(face(*m.part, *m.section), "face");
    const Cut view = cut(*m.part, *m.section);
    expect_sound(view.lines, "cut");
    expect_no_overlap(view.lines);
    expect_sound(isometric(*m.section), "isometric");
  });
}

TEST(AnyPart, IsCutIntoClosedMetal) {
  over_parts([](std::uint64_t, const MadePart& m) {
    const Cut view = cut(*m.part, *m.section);
    const double whole = plane::area(m.section->body.section);
    for (const Path& p : view.metal) EXPECT_TRUE(plane::is_closed(p));
    for (const bool upper : {true, false}) {
      const double metal = metal_area(view.metal, upper);
      EXPECT_GT(metal, 0.3 * whole);
      EXPECT_LT(metal, (1 + 1e-3) * whole);
    }
  });
}

std::map<Ink, std::pair<int, double>> summary(const Lines& lines) {
  std::map<Ink, std::pair<int, double>> sums;
  for (const plane::Inked& line : lines) {
    if (line.ink == Ink::centre) continue;  // the cross does not turn
    for (const Edge& e : line.path) ++sums[line.ink].first, sums[line.ink].second += e.length();
  }
  return sums;
}

TEST(AnyPart, ShowsTheSameFaceWhenAllAnglesTurn) {
  over_parts([](std::uint64_t seed, const MadePart& m) {
    const MadePart t = made_part(groovewright::testing::random_spec(seed, {false, 37.123}));
    ASSERT_TRUE(t.section);
    const auto plain = summary(face(*m.part, *m.section)), turned = summary(face(*t.part, *t.section));
    ASSERT_EQ(plain.size(), turned.size());
    for (const auto& [ink, sum] : plain) {
      EXPECT_EQ(sum.first, turned.at(ink).first) << to_text(ink);
      EXPECT_NEAR(sum.second, turned.at(ink).second, 1e-2) << to_text(ink);
    }
  });
}

}  // namespace
}  // namespace groovewright::drawing
