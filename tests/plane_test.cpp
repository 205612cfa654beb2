#include "groovewright/plane.h"
#include "groovewright/base/trig.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <functional>
#include <limits>
#include <numbers>
#include <sstream>
#include <string>
#include <vector>

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include "groovewright/base/broken.h"
#include "property.h"
#include "witness/scan_lines.h"

namespace groovewright::plane {
namespace {

using std::numbers::pi;

// ---- helpers ----

/// A number between two limits, in 10,000 steps, so that cases shrink to round values.
double any(double from, double to) { return from + (to - from) * *rc::gen::inRange(0, 10001) / 10000; }

void expect_close(double got, double want, double relative, const std::string& what) {
  EXPECT_NEAR(got, want, relative * std::max(1.0, std::abs(want))) << what;
}

Edge line(Vec2 a, Vec2 b) { return {a, b, Edge::Turn::straight, {}}; }
Edge arc(Vec2 a, Vec2 b, Vec2 centre, Edge::Turn turn = Edge::Turn::ccw) { return {a, b, turn, centre}; }

Path polygon(const std::vector<Vec2>& points) {
  Path p;
  for (std::size_t i = 0; i < points.size(); ++i) p.push_back(line(points[i], points[(i + 1) % points.size()]));
  return p;
}

Path edges_of(const std::vector<BrokenEdge>& broken) {
  Path p;
  for (const BrokenEdge& b : broken) p.push_back(b.edge);
  return p;
}

Path broken(const std::vector<Corner>& corners) {
  const auto b = broken_polygon(corners);
  EXPECT_TRUE(b.has_value()) << "the breaks do not fit";
  return b ? edges_of(*b) : Path{};
}

Path ring(double bore, double outer, double length) {
  return polygon({{0, bore}, {length, bore}, {length, outer}, {0, outer}});
}

struct Turn {
  double signed_angle, side_before, side_after;
};

Turn turn_at(const std::vector<Corner>& c, std::size_t i) {
  const std::size_t n = c.size();
  const Vec2 before = c[i].at - c[(i + n - 1) % n].at, after = c[(i + 1) % n].at - c[i].at;
  return {std::atan2(cross(before, after), dot(before, after)), norm(before), norm(after)};
}

/// A star-shaped polygon about the origin, either way round, every corner broken by as much as fits or less.
std::vector<Corner> any_broken_star() {
  const int n = *rc::gen::inRange(3, 12);
  std::vector<Corner> corners;
  for (int i = 0; i < n; ++i) {
    const double angle = 2 * pi * (i + any(-0.3, 0.3)) / n, r = any(4, 20);
    corners.push_back({{r * std::cos(angle), r * std::sin(angle)}, 0, 0});
  }
  if (*rc::gen::arbitrary<bool>()) std::reverse(corners.begin(), corners.end());
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Turn t = turn_at(corners, i);
    const double setback = any(0.01, 0.49) * std::min(t.side_before, t.side_after);
    const int kind = *rc::gen::inRange(0, 3);
    if (kind == 1) corners[i].fillet = setback / std::tan(std::abs(t.signed_angle) / 2);
    if (kind == 2) corners[i].chamfer = setback;
  }
  return corners;
}

/// Between these, arcs of any size stay arcs that a person could draw.
bool is_drawable(const std::vector<Corner>& corners) {
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const double turned_by = std::abs(turn_at(corners, i).signed_angle);
    if (turned_by < 0.05 || turned_by > 3.0) return false;
  }
  return true;
}

// ---- edges and paths ----

TEST(PlaneEdge, KnowsLengthSweepAndPoints) {
  const Edge quarter = arc({5, 0}, {0, 5}, {0, 0});
  EXPECT_DOUBLE_EQ(quarter.sweep(), pi / 2);
  EXPECT_DOUBLE_EQ(quarter.length(), 2.5 * pi);
  EXPECT_NEAR(quarter.at(0.5).x, 5 / std::sqrt(2), 1e-14);
  EXPECT_NEAR(quarter.tangent_at(0).y, 1, 1e-15);
  const Edge rest = arc({5, 0}, {0, 5}, {0, 0}, Edge::Turn::cw);
  EXPECT_DOUBLE_EQ(rest.sweep(), -1.5 * pi);
  EXPECT_NEAR(rest.at(0.5).x, -5 / std::sqrt(2), 1e-14);
  EXPECT_NEAR(rest.tangent_at(0).y, -1, 1e-15);
  EXPECT_DOUBLE_EQ(circle({1, 2}, 3).front().sweep(), 2 * pi);
  EXPECT_DOUBLE_EQ(quarter.reversed().sweep(), -pi / 2);
  EXPECT_EQ(line({1, 2}, {1, 7}).at(0.3).x, 1);
  EXPECT_DOUBLE_EQ(line({1, 2}, {1, 7}).length(), 5);
}

TEST(PlaneEdge, EndsAreBitExactAndReversalGoesBack) {
  expect_property([] {
    for (const Edge& e : broken(any_broken_star())) {
      RC_ASSERT(e.at(0) == e.a);
      RC_ASSERT(e.at(1) == e.b);
      RC_ASSERT(norm(e.at(0.3) - e.reversed().at(0.7)) < 1e-11);
      RC_ASSERT(norm(e.tangent_at(0.3) + e.reversed().tangent_at(0.7)) < 1e-9);
    }
  });
}

TEST(PlaneEdge, RefusesWhatHasNoAnswer) {
  EXPECT_THROW((void)unit({0, 0}), Broken);
  EXPECT_THROW((void)line({0, 0}, {1, 0}).radius(), Broken);
  EXPECT_THROW((void)area({line({0, 0}, {1, 0})}), Broken);
  EXPECT_THROW((void)circle({0, 0}, 0), Broken);
  EXPECT_THROW((void)arc_steps(1, 1, 0), Broken);
}

TEST(PlanePath, AreaIsExactForLinesAndArcs) {
  EXPECT_DOUBLE_EQ(area(polygon({{1e3, 0}, {1e3 + 2, 0}, {1e3 + 2, 3}, {1e3, 3}})), 6);
  EXPECT_DOUBLE_EQ(area(circle({1e3, 7}, 2)), 4 * pi);
  const Path half_disc = {line({-2, 0}, {2, 0}), arc({2, 0}, {-2, 0}, {0, 0})};
  EXPECT_DOUBLE_EQ(area(half_disc), 2 * pi);
  const Path backwards = {half_disc[1].reversed(), half_disc[0].reversed()};
  EXPECT_DOUBLE_EQ(area(backwards), -2 * pi);
}

TEST(PlanePath, QuarterTurnsLandExactlyOnTheAxes) {
  const Path p = polygon({{1.1, 0}, {2.3, 0}, {2.3, 0.7}});
  const Path q = turned(p, pi / 2), half = turned(p, pi), three = turned(p, 1.5 * pi);
  for (std::size_t i = 0; i < p.size(); ++i) {
    EXPECT_EQ(q[i].a, (Vec2{-p[i].a.y, p[i].a.x}));
    EXPECT_EQ(half[i].a, -1.0 * p[i].a);
    EXPECT_EQ(three[i].a, (Vec2{p[i].a.y, -p[i].a.x}));
  }
}

TEST(PlanePath, TurningKeepsAreaLengthAndShape) {
  expect_property([] {
    const Path p = broken(any_broken_star()), q = turned(p, any(-7, 7));
    RC_ASSERT(std::abs(area(p) - area(q)) < 1e-9);
    for (std::size_t i = 0; i < p.size(); ++i) {
      RC_ASSERT(std::abs(p[i].length() - q[i].length()) < 1e-9);
      RC_ASSERT(q[i].b == q[(i + 1) % q.size()].a);
    }
  });
}

TEST(PlanePath, ArcStepsKeepTheChordError) {
  struct Case {
    double radius, sweep, deflection;
    int want;
    const char* source;
  };
  const Case table[] = {
      {1, 2 * pi, 10, 12, "a full turn at least 12"},
      {1, 0.1, 10, 1, "at least one"},
      {0, 1, 0.1, 2, "a twelfth of a turn at most"},
      {1, 2 * pi, 1 - std::cos(pi / 100) + 1e-15, 100, "own recomputation: chord error of a 100-gon"},
      {1, 2 * pi, 1 - std::cos(pi / 100) - 1e-9, 101, "own recomputation: just below that of a 100-gon"},
      {50, -pi / 2, 50 * (1 - std::cos(pi / 80)) + 1e-13, 20, "own recomputation: quarter of an 80-gon"},
  };
  for (const Case& c : table)
    EXPECT_EQ(arc_steps(c.radius, c.sweep, c.deflection), c.want) << c.radius << " mm, " << c.source;
  expect_property([] {
    const double r = any(0.1, 200), sweep = any(0.01, 6.28), deflection = any(0.001, 0.5);
    const int steps = arc_steps(r, sweep, deflection);
    RC_ASSERT(r * (1 - std::cos(sweep / steps / 2)) <= deflection * (1 + 1e-9));
    const double fewer = sweep / (steps - 1);
    RC_ASSERT(steps == 1 || fewer > pi / 6 || r * (1 - std::cos(fewer / 2)) > deflection * (1 - 1e-9));
  });
}

TEST(PlanePath, PolylineHasItsPointsOnThePathAndNoneTwice) {
  EXPECT_EQ(polyline(polygon({{0, 0}, {1, 0}, {1, 1}}), 0.1).size(), 3u);
  EXPECT_EQ(polyline({line({0, 0}, {1, 0}), line({1, 0}, {1, 1})}, 0.1).size(), 3u);
  EXPECT_EQ(polyline(circle({0, 0}, 1), 10).size(), 12u);
  EXPECT_TRUE(polyline({}, 0.1).empty());
  expect_property([] {
    const Path p = broken(any_broken_star());
    const std::vector<Vec2> points = polyline(p, 0.01);
    for (std::size_t i = 0; i < points.size(); ++i) {
      RC_ASSERT(distance(points[i], p) < 1e-9);
      RC_ASSERT(norm(points[i] - points[(i + 1) % points.size()]) > 0);
      RC_ASSERT(distance(0.5 * (points[i] + points[(i + 1) % points.size()]), p) <= 0.01 + 1e-9);
    }
  });
}

// ---- broken polygons ----

TEST(PlaneBrokenPolygon, IsClosedTangentAndLosesTheClosedFormAreas) {
  expect_property([] {
    const std::vector<Corner> corners = any_broken_star();
    RC_PRE(is_drawable(corners));
    const auto edges = broken_polygon(corners);
    RC_ASSERT(edges.has_value());
    const Path p = edges_of(*edges);
    double want = 0;
    for (std::size_t i = 0; i < corners.size(); ++i) {
      const double t = turn_at(corners, i).signed_angle, size = std::abs(t);
      const double r = corners[i].fillet, c = corners[i].chamfer;
      want += cross(corners[i].at, corners[(i + 1) % corners.size()].at) / 2;
      want -= std::copysign(r * r * (std::tan(size / 2) - size / 2) + c * c * std::sin(size) / 2, t);
    }
    RC_ASSERT(std::abs(area(p) - want) < 1e-9 * (1 + std::abs(want)));
    for (std::size_t i = 0; i < p.size(); ++i) {
      const std::size_t next = (i + 1) % p.size();
      RC_ASSERT(p[i].b == p[next].a);
      if (p[i].is_arc() || p[next].is_arc()) RC_ASSERT(norm(p[i].tangent_at(1) - p[next].tangent_at(0)) < 1e-7);
      if (!p[i].is_arc()) continue;
      const double r = corners[static_cast<std::size_t>((*edges)[i].index)].fillet;
      RC_ASSERT(std::abs(p[i].radius() - r) < 1e-9 * (1 + r));
      RC_ASSERT(std::abs(norm(p[i].b - p[i].centre) - r) < 1e-9 * (1 + r));
    }
  });
}

TEST(PlaneBrokenPolygon, SidesAlongTheAxesStayExact) {
  expect_property([] {
    // A stepped shaft with a taper: walls at ugly z, lands at ugly radii.
    const double z1 = any(3.1, 4.7) / 3, z2 = z1 + any(3.1, 9) / 7 + 2, r1 = any(10, 20) / 3,
                 r2 = r1 + any(6, 9) / 7 + 2;
    const double f = any(0.01, 0.4) / 3;
    std::vector<Corner> corners = {{{0, r1}, f, 0},  {{z1, r1}, f, 0},     {{z1, r2}, 0, f},
                                   {{z2, r2}, f, 0}, {{z2, r2 + 3}, f, 0}, {{0.1, r2 + 3.5}, 0, 0}};
    if (*rc::gen::arbitrary<bool>()) std::reverse(corners.begin(), corners.end());
    const auto edges = broken_polygon(corners);
    RC_ASSERT(edges.has_value());
    for (const BrokenEdge& e : *edges) {
      if (e.is_corner) {
        if (!e.edge.is_arc()) continue;
        const std::size_t i = static_cast<std::size_t>(e.index), n = corners.size();
        const Vec2 at = corners[i].at, before = corners[(i + n - 1) % n].at, after = corners[(i + 1) % n].at;
        // Square on a side along an axis: the centre shares its coordinate with the tangent point.
        if (before.x == at.x) RC_ASSERT(e.edge.centre.y == e.edge.a.y);
        if (before.y == at.y) RC_ASSERT(e.edge.centre.x == e.edge.a.x);
        if (after.x == at.x) RC_ASSERT(e.edge.centre.y == e.edge.b.y);
        if (after.y == at.y) RC_ASSERT(e.edge.centre.x == e.edge.b.x);
        continue;
      }
      const Vec2 a = corners[static_cast<std::size_t>(e.index)].at;
      const Vec2 b = corners[static_cast<std::size_t>(e.index + 1) % corners.size()].at;
      if (a.x == b.x) RC_ASSERT(e.edge.a.x == a.x && e.edge.b.x == a.x);
      if (a.y == b.y) RC_ASSERT(e.edge.a.y == a.y && e.edge.b.y == a.y);
    }
  });
}

TEST(PlaneBrokenPolygon, SidesVanishWhereBreaksUseAllOfThem) {
  // A 4 x 2 slot with fully rounded ends: its short sides are gone.
  const auto slot = broken_polygon({{{0, 0}, 1, 0}, {{4, 0}, 1, 0}, {{4, 2}, 1, 0}, {{0, 2}, 1, 0}});
  ASSERT_TRUE(slot.has_value());
  EXPECT_EQ(slot->size(), 6u);
  EXPECT_NEAR(area(edges_of(*slot)), 4 + pi, 1e-14);
  for (std::size_t i = 0; i < slot->size(); ++i)
    EXPECT_EQ((*slot)[i].edge.b, (*slot)[(i + 1) % slot->size()].edge.a) << "edge " << i;
  // All four sides gone: a circle of four arcs, also a hair too large and a hair too small.
  for (const double r : {1.0, 1 + 4e-8, 1 - 4e-8}) {
    const auto disc = broken_polygon({{{0, 0}, r, 0}, {{2, 0}, r, 0}, {{2, 2}, r, 0}, {{0, 2}, r, 0}});
    ASSERT_TRUE(disc.has_value()) << r;
    EXPECT_EQ(disc->size(), 4u) << r;
    EXPECT_TRUE(is_closed(edges_of(*disc)));
    EXPECT_NEAR(area(edges_of(*disc)), pi, 1e-6);
    for (const BrokenEdge& e : *disc) EXPECT_EQ(e.edge.a.x == 1 || e.edge.a.y == 1, true) << "exact on its side";
  }
}

TEST(PlaneBrokenPolygon, NamesTheSideThatIsTooShort) {
  struct Case {
    const char* name;
    std::vector<Corner> corners;
    int want;
  };
  const Case table[] = {
      {"fillets on side 1", {{{0, 0}}, {{4, 0}, 1.1, 0}, {{4, 2}, 1, 0}, {{0, 2}}}, 1},
      {"chamfer against fillet on side 0", {{{0, 0}, 0, 3.5}, {{4, 0}, 1, 0}, {{4, 9}}, {{0, 9}}}, 0},
      {"last side", {{{0, 0}, 2, 0}, {{9, 0}}, {{9, 3}}, {{0, 3}, 2, 0}}, 3},
      {"turned back on itself", {{{0, 0}}, {{9, 0}, 1, 0}, {{4, 0}}, {{4, 5}}}, 0},
      {"side of no length, both corners broken", {{{0, 0}}, {{9, 0}, 1, 0}, {{9, 0}, 1, 0}, {{9, 5}}}, 1},
  };
  for (const Case& c : table) {
    int misfit = -1;
    EXPECT_FALSE(broken_polygon(c.corners, &misfit).has_value()) << c.name;
    EXPECT_EQ(misfit, c.want) << c.name;
    EXPECT_FALSE(broken_polygon(c.corners).has_value()) << c.name << ", without asking for the side";
  }
}

TEST(PlaneBrokenPolygon, LeavesOutSidesOfNoLengthAndBreaksOfNoSize) {
  const auto merged = broken_polygon({{{0, 0}}, {{9, 0}}, {{9, 0}, 1, 0}, {{9, 5}, 1e-9, 0}, {{0, 5}}, {{0, 0}}});
  ASSERT_TRUE(merged.has_value());
  ASSERT_EQ(merged->size(), 5u);
  const int index[] = {0, 2, 2, 3, 4};
  const bool is_corner[] = {false, true, false, false, false};
  for (std::size_t i = 0; i < 5; ++i) {
    EXPECT_EQ((*merged)[i].index, index[i]) << "edge " << i;
    EXPECT_EQ((*merged)[i].is_corner, is_corner[i]) << "edge " << i;
  }
  EXPECT_EQ(broken({{{0, 0}}, {{2, 0}, 5, 0}, {{4, 0}}, {{4, 4}}}).size(), 4u) << "a straight corner takes no fillet";
}

TEST(PlaneBrokenPolygon, RefusesWhatIsNoPolygon) {
  EXPECT_THROW((void)broken_polygon({{{0, 0}}, {{1, 0}}}), Broken);
  EXPECT_THROW((void)broken_polygon({{{0, 0}, 1, 1}, {{9, 0}}, {{9, 9}}}), Broken);
  EXPECT_THROW((void)broken_polygon({{{0, 0}, -1, 0}, {{9, 0}}, {{9, 9}}}), Broken);
}

// ---- distance and contains ----

TEST(Distance, OfLinesFarApartOnOneCarrierIsTheirGap) {
  // As the sides of windows across from each other are; rounding strikes seldom, so many are tried.
  const auto side = [](double inner, double offset, double angle) {
    const double c = cos_of(angle), s = sin_of(angle);
    const auto place = [&](double along) { return Vec2{along * c - offset * s, along * s + offset * c}; };
    return Path{line(place(inner), place(56))};
  };
  for (int degrees = 0; degrees < 360; ++degrees) {
    for (int k = 1; k < 40; ++k) {
      const double angle = degrees * pi / 180, inner = 28 + k * 0.1, offset = k * 0.37;
      EXPECT_NEAR(distance(side(inner, offset, angle), side(inner, -offset, angle + pi)), 2 * inner, 1e-9)
          << degrees << " degrees, " << offset << " mm off the axis";
    }
  }
}

Path any_path() {
  Path p = *rc::gen::arbitrary<bool>() ? broken(any_broken_star()) : circle({0, 0}, any(1, 20));
  if (*rc::gen::arbitrary<bool>()) p = {p.front()};  // open, or a lone edge
  const Vec2 shift{any(-25, 25), any(-25, 25)};
  for (Edge& e : p) e.a = e.a + shift, e.b = e.b + shift, e.centre = e.centre + shift;
  return p;
}

struct Samples {
  std::vector<Vec2> points;
  double spacing = 0;
};

Samples sampled(const Path& p, int per_edge) {
  Samples s;
  for (const Edge& e : p) {
    for (int k = 0; k <= per_edge; ++k) s.points.push_back(e.at(static_cast<double>(k) / per_edge));
    s.spacing = std::max(s.spacing, e.length() / per_edge);
  }
  return s;
}

TEST(PlaneDistance, AgreesWithSamplingPointToPath) {
  expect_property([] {
    const Path p = any_path();
    const Vec2 q{any(-40, 40), any(-40, 40)};
    const Samples s = sampled(p, 500);
    double brute = std::numeric_limits<double>::infinity();
    for (const Vec2 v : s.points) brute = std::min(brute, norm(v - q));
    const double exact = distance(q, p);
    RC_ASSERT(exact <= brute + 1e-9);
    RC_ASSERT(brute <= exact + s.spacing);
  });
}

TEST(PlaneDistance, AgreesWithSamplingPathToPath) {
  expect_property([] {
    const Path p = any_path(), q = any_path();
    const Samples s = sampled(p, 300);
    double brute = std::numeric_limits<double>::infinity();
    for (const Vec2 v : s.points) brute = std::min(brute, distance(v, q));
    const double exact = distance(p, q);
    RC_ASSERT(exact <= brute + 1e-9);
    RC_ASSERT(brute <= exact + s.spacing);
    RC_ASSERT(std::abs(exact - distance(q, p)) < 1e-9);
  });
}

TEST(PlaneDistance, KnowsClosedForms) {
  struct Case {
    const char* name;
    Path a, b;
    double want;
  };
  const Edge upper = arc({5, 0}, {-5, 0}, {0, 0});
  const Case table[] = {
      {"circles apart", circle({0, 0}, 2), circle({10, 0}, 3), 5},
      {"circle in circle", circle({0, 0}, 9), circle({1, 0}, 3), 5},
      {"concentric", circle({0, 0}, 9), circle({0, 0}, 3), 6},
      {"circles crossing", circle({0, 0}, 3), circle({4, 0}, 3), 0},
      {"circles touching", circle({0, 0}, 2), circle({5, 0}, 3), 0},
      {"lines crossing", {line({0, 0}, {4, 4})}, {line({0, 4}, {4, 0})}, 0},
      {"lines parallel", {line({0, 0}, {4, 0})}, {line({1, 2}, {9, 2})}, 2},
      {"line over a half circle", {upper}, {line({-9, 7}, {9, 7})}, 2},
      {"line below a half circle", {upper}, {line({-9, -7}, {9, -7})}, 7},
      {"line through a half circle", {upper}, {line({0, 0}, {0, 9})}, 0},
      {"chord under the half that is not there", {upper}, {line({-1, -3}, {1, -3})}, 5},
      {"line inside", {upper}, {line({-1, 1}, {1, 1})}, 5 - std::sqrt(2)},
  };
  for (const Case& c : table) {
    EXPECT_NEAR(distance(c.a, c.b), c.want, 1e-12) << c.name;
    EXPECT_NEAR(distance(c.b, c.a), c.want, 1e-12) << c.name << ", the other way";
  }
}

TEST(PlaneContains, AgreesWithTheFinePolyline) {
  expect_property([] {
    const Path p = broken(any_broken_star());
    const std::vector<Vec2> fine = polyline(p, 1e-4);
    for (int i = 0; i < 20; ++i) {
      const Vec2 q{any(-20, 20), any(-20, 20)};
      if (distance(q, p) < 1e-3) continue;
      bool inside = false;
      for (const auto& [from, to] : witness::crossings(fine, q.y, true)) inside = inside || (from < q.x && q.x < to);
      RC_ASSERT(contains(p, q) == inside);
    }
  });
}

TEST(PlaneContains, IsSureOnLevelWithCornersAndChords) {
  const Path disc = {arc({5, 0}, {-5, 0}, {0, 0}), arc({-5, 0}, {5, 0}, {0, 0})};
  const Path upright = {arc({0, -5}, {0, 5}, {0, 0}), arc({0, 5}, {0, -5}, {0, 0})};
  const Path diamond = polygon({{5, 0}, {0, 5}, {-5, 0}, {0, -5}});
  // A square with a round bite: the bite's chord runs through the square's inside.
  const Path bitten = {line({-5, -5}, {5, -5}), line({5, -5}, {5, 5}),
                       line({5, 5}, {2, 5}),    arc({2, 5}, {-2, 5}, {0, 5}, Edge::Turn::cw),
                       line({-2, 5}, {-5, 5}),  line({-5, 5}, {-5, -5})};
  for (const Path& p : {disc, upright, diamond, circle({0, 0}, 5)}) {
    for (const Vec2 in : {Vec2{0, 0}, Vec2{1, 0}, Vec2{-1, 0}, Vec2{0, 1}, Vec2{0, -1}}) EXPECT_TRUE(contains(p, in));
    for (const Vec2 out : {Vec2{6, 0}, Vec2{-6, 0}, Vec2{0, 6}, Vec2{0, -6}, Vec2{-6, 5}, Vec2{-6, -5}})
      EXPECT_FALSE(contains(p, out)) << out.x << ' ' << out.y;
  }
  EXPECT_FALSE(contains(bitten, {0, 4}));
  EXPECT_TRUE(contains(bitten, {0, 2}));
  EXPECT_TRUE(contains(bitten, {4, 4}));
  EXPECT_FALSE(contains(bitten, {0, 6}));
  const Path bitten_below = {line({-5, -5}, {-2, -5}), arc({-2, -5}, {2, -5}, {0, -5}, Edge::Turn::cw),
                             line({2, -5}, {5, -5}), line({5, -5}, {0, 5}), line({0, 5}, {-5, -5})};
  EXPECT_FALSE(contains(bitten_below, {0, -5})) << "on the bite's level chord";
  EXPECT_FALSE(contains(bitten_below, {1, -4}));
  EXPECT_TRUE(contains(bitten_below, {0, -2}));
}

// ---- mass properties: closed forms ----

TEST(PlaneMass, OfTurnedPartsAgreesWithClosedForms) {
  struct Case {
    const char* name;
    Path section;
    double volume, inertia, surface;
    const char* source;
  };
  const double r = 4, big = 30, h = 12, g = 2;
  // A ball of radius 5 with a bore of radius 3: 8 high.
  const Path napkin = {line({-4, 3}, {4, 3}), arc({4, 3}, {-4, 3}, {0, 0})};
  const Path grooved = {line({0, 10}, {20, 10}),      line({20, 10}, {20, 30}),
                        line({20, 30}, {10 + g, 30}), arc({10 + g, 30}, {10 - g, 30}, {10, 30}, Edge::Turn::cw),
                        line({10 - g, 30}, {0, 30}),  line({0, 30}, {0, 10})};
  const double bite = pi * g * g / 2, bite_at = 30 - 4 * g / (3 * pi);
  // ∬ y³ over the half disc below y = 30: with y = 30 - s, moments of s over a half disc of radius g.
  const double s1 = 2 * g * g * g / 3, s2 = pi * g * g * g * g / 8, s3 = 4 * std::pow(g, 5) / 15;
  const double bite_cubed = 27000 * bite - 3 * 900 * s1 + 90 * s2 - s3;
  const Case table[] = {
      {"ring", ring(10, 20, 5), pi * 300 * 5, pi / 2 * 150000 * 5, 2 * pi * 300 + 2 * pi * 30 * 5, "Pappus"},
      {"solid cylinder", ring(0, 20, 5), pi * 400 * 5, pi / 2 * 160000 * 5, 2 * pi * 400 + 2 * pi * 20 * 5,
       "closed form: m r²/2"},
      {"torus", circle({7, big}, r), 2 * pi * pi * big * r * r, 2 * pi * pi * big * r * r * (big * big + 0.75 * r * r),
       4 * pi * pi * big * r, "Pappus; m (R² + 3/4 r²)"},
      {"ball",
       {line({-r, 0}, {r, 0}), arc({r, 0}, {-r, 0}, {0, 0})},
       4 * pi / 3 * r * r * r,
       8 * pi / 15 * std::pow(r, 5),
       4 * pi * r * r,
       "closed form: 2/5 m r²"},
      {"bored ball", napkin, pi / 6 * 512, 4 * pi / 15 * 8 * 64 * (5 * 3 * 3 + 2 * 16) / 8 * 1,
       2 * pi * 5 * 8 + 2 * pi * 3 * 8, "closed form: pi h³/6; own recomputation for the inertia; zone 2 pi r h"},
      {"frustum", polygon({{0, 0}, {h, 0}, {h, 8}, {0, 20}}), pi * h / 3 * (400 + 160 + 64),
       pi * h / 10 * (std::pow(20, 5) - std::pow(8, 5)) / 12, pi * (400 + 64) + pi * 28 * std::hypot(12, 12),
       "closed form: pi h (R⁵-r⁵)/(10 (R-r))"},
      {"ring with a half-round groove", grooved, pi * 800 * 20 - 2 * pi * bite_at * bite,
       pi / 2 * (810000 - 10000) * 20 - 2 * pi * bite_cubed,
       2 * pi * 800 + 2 * pi * 10 * 20 + 2 * pi * 30 * 16 + 2 * pi * (pi * g) * (30 - 2 * g / pi),
       "Pappus, concave arc"},
  };
  for (const Case& c : table) {
    const std::string what = std::string(c.name) + ", " + c.source;
    const MassProperties m = mass_properties({c.section, {}, {}, {}});
    expect_close(m.volume, c.volume, 1e-13, what + ", volume");
    expect_close(m.polar_inertia, c.inertia, 1e-13, what + ", inertia");
    expect_close(m.surface, c.surface, 1e-13, what + ", surface");
    EXPECT_EQ(m.x_moment, 0) << what;
    EXPECT_EQ(m.y_moment, 0) << what;
  }
}

/// A disc 100 across and 10 thick, less one opening.
MassProperties disc_less(RoundHole hole) { return mass_properties({ring(0, 50, 10), {std::move(hole)}, {}, {}}); }
MassProperties disc_less(Pocket pocket) { return mass_properties({ring(0, 50, 10), {}, {std::move(pocket)}, {}}); }
MassProperties disc_less(Slot slot, double bore = 0) { return mass_properties({ring(bore, 50, 10), {}, {}, {slot}}); }
MassProperties plain_disc(double bore = 0) { return mass_properties({ring(bore, 50, 10), {}, {}, {}}); }

TEST(PlaneMass, OfHolesAgreesWithClosedForms) {
  struct Case {
    const char* name;
    RoundHole hole;
    double volume, own_inertia, surface;
    const char* source;
  };
  const double slant = std::hypot(1, 3);
  const Case table[] = {
      {"through", {"a", {30, 4}, {{0, 3}, {10, 3}}, true}, pi * 90, pi / 2 * 81 * 10, -18 * pi + 60 * pi, "cylinder"},
      {"from the other side",
       {"b", {30, 4}, {{10, 3}, {0, 3}}, true},
       pi * 90,
       pi / 2 * 81 * 10,
       -18 * pi + 60 * pi,
       "cylinder"},
      {"blind with a drill point",
       {"c", {-20, 9}, {{10, 3}, {4, 3}, {3, 0}}, false},
       pi * 9 * 6 + pi * 9 / 3,
       pi / 2 * 81 * 6 + pi / 10 * 81,
       -9 * pi + 2 * pi * 3 * 6 + pi * 3 * std::hypot(3, 1),
       "cylinder and cone 3/10 m r²"},
      {"counterbored",
       {"d", {0, -30}, {{0, 5}, {4, 5}, {4, 3}, {10, 3}}, true},
       pi * 25 * 4 + pi * 9 * 6,
       pi / 2 * (625 * 4 + 81 * 6),
       -25 * pi - 9 * pi + 2 * pi * 5 * 4 + 16 * pi + 2 * pi * 3 * 6,
       "two cylinders and a step"},
      {"countersunk",
       {"e", {0, 30}, {{0, 6}, {1, 3}, {10, 3}}, true},
       pi / 3 * (36 + 18 + 9) + 81 * pi,
       pi / 10 * (7776 - 243) / 3 + pi / 2 * 81 * 9,
       -36 * pi - 9 * pi + pi * 9 * slant + 2 * pi * 3 * 9,
       "frustum and cylinder"},
      {"blind with a flat floor",
       {"f", {0, 30}, {{0, 6}, {5, 6}, {5, 0}}, false},
       pi * 36 * 5,
       pi / 2 * 1296 * 5,
       2 * pi * 6 * 5,
       "cylinder; the floor makes up for the mouth"},
  };
  for (const Case& c : table) {
    const MassProperties with = disc_less(c.hole), without = plain_disc();
    const std::string what = std::string(c.name) + ", " + c.source;
    expect_close(without.volume - with.volume, c.volume, 1e-11, what + ", volume");
    expect_close(without.polar_inertia - with.polar_inertia, c.own_inertia + dot(c.hole.at, c.hole.at) * c.volume, 1e-9,
                 what + ", inertia");
    expect_close(with.surface - without.surface, c.surface, 1e-10, what + ", surface");
    expect_close(with.x_moment, -c.hole.at.x * c.volume, 1e-11, what + ", x moment");
    expect_close(with.y_moment, -c.hole.at.y * c.volume, 1e-11, what + ", y moment");
  }
}

Path square(Vec2 at, double half) {
  return polygon({at + Vec2{-half, -half}, at + Vec2{half, -half}, at + Vec2{half, half}, at + Vec2{-half, half}});
}

TEST(PlaneMass, OfPocketsAgreesWithClosedForms) {
  const MassProperties without = plain_disc();
  const auto removed = [&](const Pocket& p) { return without.volume - disc_less(p).volume; };
  const auto added = [&](const Pocket& p) { return disc_less(p).surface - without.surface; };
  const Pocket through{"a", {{0, square({20, 5}, 4)}, {10, square({20, 5}, 4)}}, true};
  expect_close(removed(through), 640, 1e-11, "square, through");
  expect_close(added(through), 320 - 128, 1e-11, "square, through: walls less mouths");
  expect_close(without.polar_inertia - disc_less(through).polar_inertia, 640 * (64.0 / 6 + 425), 1e-10,
               "square: m a²/6 and Steiner");
  expect_close(disc_less(through).x_moment, -640 * 20, 1e-11, "square, x moment");
  expect_close(disc_less(through).y_moment, -640 * 5, 1e-11, "square, y moment");
  // A blind frustum of a pyramid, 6 deep, 8 to 5 wide, its mouth on the far wall.
  const Pocket drafted{"b", {{10, square({20, 5}, 4)}, {4, square({20, 5}, 2.5)}}, false};
  expect_close(removed(drafted), 6.0 / 3 * (64 + 40 + 25), 1e-11, "pyramid: h/3 (A + sqrt(AB) + B)");
  expect_close(added(drafted), 4 * 6.5 * std::hypot(6, 1.5) + 25 - 64, 1e-11, "pyramid: trapezia and floor less mouth");
  const double inertia = 6 * (std::pow(8, 5) - std::pow(5, 5)) / (5 * 3 * 6);  // ∫ s⁴/6 dz, s from 8 to 5
  expect_close(without.polar_inertia - disc_less(drafted).polar_inertia, inertia + 258 * 425.0, 1e-10,
               "pyramid: ∫ s⁴/6 dz");
  // A step: same z, another loop.
  const Pocket stepped{
      "c", {{0, square({20, 5}, 4)}, {3, square({20, 5}, 4)}, {3, square({20, 5}, 2)}, {10, square({20, 5}, 2)}}, true};
  expect_close(removed(stepped), 64 * 3 + 16 * 7, 1e-11, "stepped");
  expect_close(added(stepped), 96 + 48 + 112 - 64 - 16, 1e-11, "stepped: the step counts");
}

TEST(PlaneMass, OfARoundPocketIsThatOfTheHole) {
  expect_property([] {
    const Vec2 at{any(-20, 20), any(-20, 20)};
    const double r = any(1, 8), s = any(1, 8), z = any(1, 9);
    const bool through = *rc::gen::arbitrary<bool>();
    RoundHole hole{"h", at, {{0, r}, {z, s}}, through};
    if (through) hole.profile.push_back({10, s});
    if (!through) hole.profile.push_back({z, 0});
    Pocket pocket{"p", {{0, circle(at, r)}, {z, circle(at, s)}}, through};
    if (through) pocket.levels.push_back({10, circle(at, s)});
    const MassProperties a = disc_less(hole), b = disc_less(pocket);
    RC_ASSERT(std::abs(a.volume - b.volume) < 1e-12 * a.volume);
    RC_ASSERT(std::abs(a.polar_inertia - b.polar_inertia) < 1e-12 * a.polar_inertia);
    RC_ASSERT(std::abs(a.surface - b.surface) < 1e-12 * a.surface);
    RC_ASSERT(std::abs(a.x_moment - b.x_moment) < 1e-9);
    RC_ASSERT(std::abs(a.y_moment - b.y_moment) < 1e-9);
  });
}

TEST(PlaneMass, OfAKeywayAgreesWithTheClosedForm) {
  const double r = 12, half = 4, floor = 15.3;
  const double root = std::sqrt(r * r - half * half), angle = std::asin(half / r);
  const double face = 2 * half * floor - (half * root + r * r * angle);  // strip less what the bore has of it
  const MassProperties without = plain_disc(r);
  const MassProperties through = disc_less(Slot{"k", 0.7, 2 * half, floor, true, -1, 11}, r);
  expect_close(without.volume - through.volume, 10 * face, 1e-11, "keyway, through");
  const double walls = 2 * (floor - root) + 2 * half - 2 * r * angle;
  expect_close(through.surface - without.surface, 10 * walls - 2 * face, 1e-11,
               "keyway: sides, floor, less bore and faces");
  const double moment = half * floor * floor - (r * r * half - half * half * half / 3);
  expect_close(through.x_moment, -10 * moment * std::cos(0.7), 1e-10, "keyway, x moment");
  expect_close(through.y_moment, -10 * moment * std::sin(0.7), 1e-10, "keyway, y moment");
  const MassProperties blind = disc_less(Slot{"k", 0.7, 2 * half, floor, true, 0, 6}, r);
  expect_close(without.volume - blind.volume, 6 * face, 1e-11, "keyway from the wall, blind");
  expect_close(blind.surface - without.surface, 6 * walls, 1e-6, "keyway, blind: the end makes up for the mouth");
  const MassProperties inner = disc_less(Slot{"k", 0.7, 2 * half, floor, true, 2, 6}, r);
  expect_close(inner.surface - without.surface, 4 * walls + 2 * face, 1e-6, "keyway within: two ends");
}

TEST(PlaneMass, OfAToothGapAgreesWithTheClosedForm) {
  const double r = 50, half = 3, floor = 44;
  const auto within = [&](double q) { return half * std::sqrt(q * q - half * half) + q * q * std::asin(half / q); };
  const double face = within(r) - within(floor);
  const double walls = 2 * (std::sqrt(r * r - half * half) - std::sqrt(floor * floor - half * half)) +
                       2 * floor * std::asin(half / floor) - 2 * r * std::asin(half / r);
  const MassProperties without = plain_disc();
  const MassProperties through = disc_less(Slot{"t", -2, 2 * half, floor, false, -1, 11});
  expect_close(without.volume - through.volume, 10 * face, 1e-10, "gap, through");
  expect_close(through.surface - without.surface, 10 * walls - 2 * face, 1e-7, "gap, through");
  const MassProperties edge = disc_less(Slot{"t", -2, 2 * half, floor, false, 7, 12});
  expect_close(without.volume - edge.volume, 3 * face, 1e-10, "gap from the far edge");
  expect_close(edge.surface - without.surface, 3 * walls, 1e-6, "gap from the far edge: one end, one mouth");
}

TEST(PlaneMass, OfAGapAtAShoulderCountsTheShoulderOnce) {
  // 100 across for 10, then 80 across for 10.
  const Path section = polygon({{0, 0}, {20, 0}, {20, 40}, {10, 40}, {10, 50}, {0, 50}});
  const double half = 3, floor = 35, bottom = 2 * floor * std::asin(half / floor);
  const auto within = [&](double q) { return half * std::sqrt(q * q - half * half) + q * q * std::asin(half / q); };
  const auto face = [&](double from, double to) { return within(to) - within(from); };
  const auto walls = [&](double rim) {
    const double sides = 2 * (std::sqrt(rim * rim - half * half) - std::sqrt(floor * floor - half * half));
    return sides + bottom - 2 * rim * std::asin(half / rim);
  };
  const MassProperties without = mass_properties({section, {}, {}, {}});
  struct Case {
    const char* name;
    double z0, z1, removed, added;
  };
  const Case table[] = {
      {"from the shoulder outwards: the shoulder stays", 10, 30, 10 * face(35, 40), 10 * walls(40)},
      {"up to the shoulder: it goes, what is below it becomes an end", 5, 10, 5 * face(35, 50),
       5 * walls(50) + face(35, 50) + face(35, 40) - face(40, 50)},
      {"over the shoulder", 5, 15, 5 * face(35, 50) + 5 * face(35, 40),
       5 * walls(50) + 5 * walls(40) + face(35, 50) - face(40, 50) + face(35, 40)},
  };
  for (const Case& c : table) {
    const MassProperties with = mass_properties({section, {}, {}, {{"g", 1, 2 * half, floor, false, c.z0, c.z1}}});
    expect_close(without.volume - with.volume, c.removed, 1e-9, std::string(c.name) + ", own recomputation");
    expect_close(with.surface - without.surface, c.added, 1e-6, std::string(c.name) + ", own recomputation");
  }
}

TEST(PlaneMass, OfAKeywayInATaperedBoreKeepsThePromisedError) {
  // Bore 11 to 13 over 10, floor 14: face(r) = strip less what the bore has of it; Simpson's rule over z.
  const double half = 4, floor = 14;
  const auto face = [&](double r) {
    return 2 * half * floor - (half * std::sqrt(r * r - half * half) + r * r * std::asin(half / r));
  };
  double want = 0;
  constexpr int kSteps = 2000;
  for (int i = 0; i <= kSteps; ++i)
    want += (i == 0 || i == kSteps ? 1 : i % 2 == 1 ? 4 : 2) * face(11 + 2.0 * i / kSteps) * 10 / (3.0 * kSteps);
  const Path section = polygon({{0, 11}, {10, 13}, {10, 50}, {0, 50}});
  const double without = mass_properties({section, {}, {}, {}}).volume;
  const double with = mass_properties({section, {}, {}, {{"k", 0, 2 * half, floor, true, -1, 11}}}).volume;
  EXPECT_NEAR(without - with, want, kVolumeError * without) << "own recomputation: Simpson over closed-form faces";
}

TEST(PlaneMass, OfAToothGapThatRunsOutOnABallKeepsThePromisedError) {
  // A ball of radius 20, gap 6 wide down to radius 17: the rim passes the floor at z = sqrt(20² - 17²), root-like.
  const double half = 3, floor = 17, ball = 20, end = std::sqrt(ball * ball - floor * floor);
  const auto within = [&](double r) { return half * std::sqrt(r * r - half * half) + r * r * std::asin(half / r); };
  double want = 0;
  constexpr int kSteps = 200000;  // z = end sin(u) smooths the ends
  for (int i = 0; i < kSteps; ++i) {
    const double u = pi * ((i + 0.5) / kSteps - 0.5), z = end * std::sin(u);
    want += (within(std::sqrt(ball * ball - z * z)) - within(floor)) * end * std::cos(u) * pi / kSteps;
  }
  const Path section = {line({-ball, 0}, {ball, 0}), arc({ball, 0}, {-ball, 0}, {0, 0})};
  const double without = mass_properties({section, {}, {}, {}}).volume;
  const double with = mass_properties({section, {}, {}, {{"g", 1, 2 * half, floor, false, -30, 30}}}).volume;
  EXPECT_NEAR(without - with, want, kVolumeError * without)
      << "own recomputation: midpoint rule over closed-form faces";
}

TEST(PlaneMass, OfASlotThatMeetsNoMetalIsNothing) {
  const MassProperties without = plain_disc(12);
  const Slot idle[] = {{"short of the bore's wall", 1, 4, 11, true, -1, 11},
                       {"flush with the rim", 1, 4, 50, false, -1, 11},
                       {"beside the part", 1, 4, 20, true, 11, 15}};
  for (const Slot& s : idle) {
    const MassProperties m = disc_less(s, 12);
    expect_close(m.volume, without.volume, 1e-14, s.id);
    expect_close(m.surface, without.surface, 1e-14, s.id);
  }
}

TEST(PlaneMass, RefusesBodiesThatBreakTheContract) {
  EXPECT_THROW((void)mass_properties({{line({0, 1}, {1, 1})}, {}, {}, {}}), Broken);
  EXPECT_THROW((void)disc_less(RoundHole{"h", {0, 0}, {{0, 1}}, true}), Broken);
  EXPECT_THROW((void)disc_less(Pocket{"p", {{0, square({0, 0}, 1)}}, true}), Broken);
  EXPECT_THROW((void)disc_less(Pocket{"p", {{0, square({0, 0}, 1)}, {1, circle({0, 0}, 1)}}, true}), Broken);
  EXPECT_THROW((void)disc_less(Slot{"s", 0, 0, 1, true, 0, 1}), Broken);
}

// ---- mass properties: the second engine ----

struct AnyBody {
  double length, bore, outer;
  TurnedBody body;
};

/// A hub with a tapered bore and a V groove, all corners broken, one hole, one pocket, one keyway, one gap.
AnyBody any_body() {
  AnyBody b{any(20, 40), any(9, 14), any(46, 60), {}};
  const double l = b.length, taper = any(0, 1.5), groove = any(3, 9), f = any(0.2, 1.2);
  b.body.section = broken({{{0, b.bore}, 0, f},
                           {{l, b.bore + taper}, 0, f},
                           {{l, b.outer}, f, 0},
                           {{0.75 * l, b.outer}, f / 3, 0},
                           {{0.5 * l, b.outer - groove}, f, 0},
                           {{0.25 * l, b.outer}, f / 3, 0},
                           {{0, b.outer}, f, 0}});
  const double r = any(1, 3), wide = r + any(0, 2), step = any(0.2, 0.6) * l;
  RoundHole hole{"hole", {27 * std::cos(2.0), 27 * std::sin(2.0)}, {{0, wide}, {step, r}}, *rc::gen::arbitrary<bool>()};
  if (hole.through) hole.profile.push_back({l, r});
  if (!hole.through) hole.profile.push_back({step + 0.5 * r, 0});
  b.body.holes = {hole};
  // A square with rounded corners offsets to a square with rounded corners.
  const double half = any(3, 5), round = any(1.5, 2.5), draft = any(0, 1.2), turn = any(3.4, 4.6);
  const auto loop = [&](double in) {
    const double h = half - in, fillet = round - in;
    const double x = 27;
    return turned(
        broken({{{x - h, -h}, fillet, 0}, {{x + h, -h}, fillet, 0}, {{x + h, h}, fillet, 0}, {{x - h, h}, fillet, 0}}),
        turn);
  };
  const bool through = *rc::gen::arbitrary<bool>();
  b.body.pockets = {{"pocket", {{l, loop(0)}, {through ? 0 : 0.4 * l, loop(draft)}}, through}};
  b.body.slots = {
      {"key", 5.3 + any(0, 0.6), any(2, 2 * b.bore - 1), b.bore + any(1, 4), true, any(-2, 0.4 * l),
       any(0.5 * l, l + 2)},
      {"gap", 0.3 + any(0, 0.9), any(1, 12), b.outer - any(0.5, 10), false, any(-2, 0.4 * l), any(0.5 * l, l + 2)}};
  return b;
}

std::vector<double> breaks(const AnyBody& b) {
  std::vector<double> z = {0, b.length};
  for (const Edge& e : b.body.section) z.push_back(e.a.x);
  for (const Vec2 p : b.body.holes[0].profile) z.push_back(p.x);
  for (const Level& level : b.body.pockets[0].levels) z.push_back(level.z);
  for (const Slot& s : b.body.slots)
    for (const double end : {s.z0, s.z1}) z.push_back(std::clamp(end, 0.0, b.length));
  std::sort(z.begin(), z.end());
  return z;
}

/// Judges what one kind of opening removes against its rows through the metal.
void judge(const AnyBody& b, const TurnedBody& with, const witness::Slices& opening, const char* name) {
  const witness::Turned part(polyline(b.body.section, 1e-4));
  const auto slices = [&](double z) -> witness::Slice {
    return [metal = part.slice(z), open = opening(z)](double y) {
      const witness::Intervals held = open(y);
      return held.empty() ? held : witness::overlap(metal(y), held);
    };
  };
  const MassProperties want = witness::stacked(slices, {breaks(b), -b.outer, b.outer, 10, 1500});
  const MassProperties all = mass_properties({b.body.section, {}, {}, {}}), left = mass_properties(with);
  const double r = b.outer, allowed = 4e-3 * want.volume + 0.2;
  RC_LOG() << name << ": wants " << want.volume << " has " << all.volume - left.volume << std::endl;
  RC_ASSERT(std::abs(all.volume - left.volume - want.volume) < allowed);
  RC_ASSERT(std::abs(all.polar_inertia - left.polar_inertia - want.polar_inertia) < allowed * r * r);
  RC_ASSERT(std::abs(left.x_moment + want.x_moment) < allowed * r);
  RC_ASSERT(std::abs(left.y_moment + want.y_moment) < allowed * r);
}

/// The witness is slow: a tenth of the cases, ten at least.
int slow_cases() { return std::max(10, cases() / 10); }

TEST(PlaneMass, AgreesWithScanLinesForWholeParts) {
  expect_property(
      [] {
        const AnyBody b = any_body();
        const witness::Turned part(polyline(b.body.section, 1e-4));
        const auto slices = [&](double z) { return part.slice(z); };
        const MassProperties want = witness::stacked(slices, {breaks(b), -b.outer, b.outer, 20, 400});
        const MassProperties got = mass_properties({b.body.section, {}, {}, {}});
        RC_ASSERT(std::abs(got.volume - want.volume) < 3e-4 * want.volume);
        RC_ASSERT(std::abs(got.polar_inertia - want.polar_inertia) < 3e-4 * want.polar_inertia);
      },
      slow_cases());
}

TEST(PlaneMass, AgreesWithScanLinesForHolesPocketsAndSlots) {
  expect_property(
      [] {
        const AnyBody b = any_body();
        const Path& s = b.body.section;
        judge(b, {s, b.body.holes, {}, {}}, witness::slices_of(b.body.holes[0]), "hole");
        judge(b, {s, {}, b.body.pockets, {}}, witness::slices_of(b.body.pockets[0]), "pocket");
        judge(b, {s, {}, {}, {b.body.slots[0]}}, witness::slices_of(b.body.slots[0]), "keyway");
        judge(b, {s, {}, {}, {b.body.slots[1]}}, witness::slices_of(b.body.slots[1]), "gap");
      },
      slow_cases());
}

TEST(PlaneMass, OpeningsAddUp) {
  expect_property([] {
    const AnyBody b = any_body();
    const Path& s = b.body.section;
    const double plain = mass_properties({s, {}, {}, {}}).volume, all = mass_properties(b.body).volume;
    double parts = 0;
    parts += plain - mass_properties({s, b.body.holes, {}, {}}).volume;
    parts += plain - mass_properties({s, {}, b.body.pockets, {}}).volume;
    for (const Slot& slot : b.body.slots) parts += plain - mass_properties({s, {}, {}, {slot}}).volume;
    RC_ASSERT(std::abs(plain - parts - all) < kVolumeError * plain);
  });
}

TEST(PlaneMass, SlotsInTwoHalvesAreTheWholeSlot) {
  expect_property([] {
    const AnyBody b = any_body();
    for (const Slot& slot : b.body.slots) {
      Slot front = slot, back = slot;
      front.z1 = back.z0 = any(slot.z0 + 0.1, slot.z1 - 0.1);
      const MassProperties one = mass_properties({b.body.section, {}, {}, {slot}});
      const MassProperties two = mass_properties({b.body.section, {}, {}, {front, back}});
      RC_ASSERT(std::abs(one.volume - two.volume) < kVolumeError * one.volume);
      RC_ASSERT(std::abs(one.polar_inertia - two.polar_inertia) < kVolumeError * one.polar_inertia);
    }
  });
}

TEST(PlaneMass, SlotSurfaceAgreesWithCountedGridPoints) {
  expect_property(
      [] {
        const AnyBody b = any_body();
        const witness::Turned part(polyline(b.body.section, 1e-3));
        for (const Slot& slot : b.body.slots) {
          const double want = witness::slot_surface(part, slot, b.outer + 1);
          const double got = mass_properties({b.body.section, {}, {}, {slot}}).surface -
                             mass_properties({b.body.section, {}, {}, {}}).surface;
          RC_LOG() << slot.id << ": wants " << want << " has " << got << std::endl;
          RC_ASSERT(std::abs(got - want) < 4 + 5e-3 * std::abs(want));
        }
      },
      slow_cases());
}

TEST(PlaneMass, OfAFinePolylineConvergesToTheArcs) {
  const AnyBody fixed{30,
                      10,
                      50,
                      {broken({{{0, 10}, 2, 0},
                               {{30, 10}, 2, 0},
                               {{30, 50}, 3, 0},
                               {{20, 50}, 1, 0},
                               {{15, 40}, 2, 0},
                               {{10, 50}, 1, 0},
                               {{0, 50}, 3, 0}}),
                       {},
                       {},
                       {{"gap", 1, 6, 44, false, -1, 12}}}};
  const MassProperties exact = mass_properties(fixed.body);
  double last = 1;
  for (const double deflection : {1e-2, 1e-3, 1e-4, 1e-5, 1e-6}) {
    TurnedBody flat = fixed.body;
    flat.section = polygon(polyline(fixed.body.section, deflection));
    const double error = std::abs(mass_properties(flat).volume / exact.volume - 1);
    EXPECT_LT(error, 0.3 * last) << "deflection " << deflection << " mm";
    EXPECT_LT(error, 1e-1 * deflection) << "deflection " << deflection << " mm";
    last = error;
  }
}

}  // namespace
}  // namespace groovewright::plane
