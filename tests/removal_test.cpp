// What is left of the metal, against closed forms: Pappus, the textbook's nose, rays from the outline.
#include "groovewright/removal.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "groovewright/base/broken.h"
#include "turning.h"
#include "witness/points_gone.h"

namespace groovewright::removal {
namespace {

using plane::Path;
using plane::Vec2;
using turning::box;
using turning::Moves;

constexpr double kPi = std::numbers::pi;
/// Points of polygons lie within so much of their place, mm.
constexpr double kStep = 2e-6;

double rad(double deg) { return deg * kPi / 180; }

Removal removed(const Moves& moves, const std::vector<LatheTool>& tools, const Path& stock) {
  const Clamping c{moves.trace(), false, 0, {}, 0, {}, {}};
  return remove({&c, 1}, tools, stock);
}

void expect_no_findings(const Removal& r) {
  for (const Finding& f : r.findings) ADD_FAILURE() << "line " << f.line << ": " << f.says;
}

// ---- volumes ----

// Closed forms of solid geometry, found by hand beside each.
TEST(Removal, TakesTheVolumeOfTheStock) {
  struct Case {
    const char* name;
    Path stock;
    double volume, within;
  };
  Path ball = turning::polygon({{-5, 0}, {5, 0}});
  ball[1] = {{5, 0}, {-5, 0}, plane::Edge::Turn::ccw, {0, 0}};
  Path ring = plane::circle({0, 30}, 4);
  const Case cases[] = {
      {"cylinder, pi r² l", box(-10, 0, 0, 20), kPi * 400 * 10, 1e-6},
      {"tube, pi (R² - r²) l", box(-10, 0, 15, 20), kPi * (400 - 225) * 10, 1e-6},
      {"cone, pi r² h / 3", turning::polygon({{0, 0}, {30, 0}, {0, 12}}), kPi * 144 * 30 / 3, 1e-6},
      {"frustum, pi h (R² + R r + r²) / 3", turning::polygon({{0, 0}, {9, 0}, {9, 4}, {0, 7}}),
       kPi * 9 * (49 + 28 + 16) / 3, 1e-6},
      {"ball, 4/3 pi r³", ball, 4 * kPi * 125 / 3, kChord * 4 * kPi * 25},
      {"torus, 2 pi² R r²", ring, 2 * kPi * kPi * 30 * 16, kChord * 4 * kPi * kPi * 30 * 4},
  };
  for (const Case& c : cases) {
    const Removal r = remove({}, {}, c.stock);
    EXPECT_NEAR(r.volume, c.volume, c.within) << c.name;
    EXPECT_TRUE(r.findings.empty() && r.frames.empty()) << c.name;
  }
}

const std::vector<LatheTool> kBlade = {{1, {turning::blade(3, 40)}, {}}};

struct Cut {
  const char* name;
  Moves moves;
  double volume;
};

// A blade 3 wide on a bar of 40 by 30. Own recomputation: cylinders.
TEST(Removal, CutsCylindersFacesAndGrooves) {
  const double bar = kPi * 400 * 30;
  const Cut cuts[] = {
      {"facing 1 mm, to the middle", Moves().rapid(0.5, 25).feed(0.5, 0).rapid(0.5, 25), bar - kPi * 400 * 1},
      {"facing beyond the middle takes no more", Moves().rapid(0.5, 25).feed(0.5, -0.8).rapid(0.5, 25),
       bar - kPi * 400 * 1},
      {"a blade that stands beyond the axis cuts at its distance from it", Moves().rapid(0.5, 25).feed(0.5, -5),
       bar - kPi * 400 * 1},
      {"a cylinder of 36, 12 long", Moves().rapid(5, 18).feed(-10.5, 18).rapid(-10.5, 25),
       bar - kPi * (400 - 324) * 12},
      {"the same in two cuts",
       Moves().rapid(5, 19).feed(-10.5, 19).feed(-10.5, 25).rapid(5, 25).rapid(5, 18).feed(-10.5, 18).rapid(-10.5, 25),
       bar - kPi * (400 - 324) * 12},
      {"a groove 3 wide, 5 deep", Moves().rapid(-10, 25).feed(-10, 15).rapid(-10, 25), bar - kPi * (400 - 225) * 3},
      {"a groove 5 wide: plunge, widen, out", Moves().rapid(-10, 25).feed(-10, 15).feed(-12, 15).feed(-12, 25),
       bar - kPi * (400 - 225) * 5},
      {"a groove whose floor is turned to and fro",
       Moves().rapid(-10, 25).feed(-10, 15).feed(-12, 15).feed(-9, 15).feed(-10, 15).rapid(-10, 25),
       bar - kPi * (400 - 225) * 6},
      {"in air", Moves().rapid(5, 25).feed(-40, 20).feed(-40, 30), bar},
  };
  for (const Cut& c : cuts) {
    const Removal r = removed(c.moves, kBlade, box(-30, 0, 0, 20));
    EXPECT_NEAR(r.volume, c.volume, 0.01) << c.name;  // 1e-6 mm on 4,000 mm²
    expect_no_findings(r);
  }
}

// ---- the round nose ----

/// A nose steered by its imaginary tip: the corner of the square about it that points to -z and to the axis.
LatheTool tip_steered(double nose) { return {1, {turning::nosed(nose, 0, 60, {-nose, -nose})}, {}}; }

// An uncompensated nose leaves a cone too large: by r (1 - tan(t/2)) along the axis, the textbook's shift of an
// imaginary tip (from memory; common to manuals of turning), so by sin t times that square to the cone. Derived: the
// nose's centre lies at (r, r) from the tip, r (sin t + cos t) from its line, and the nose reaches r of it; both are
// equal.
TEST(Removal, LeavesWhatAnUncompensatedNoseLeaves) {
  for (const double nose : {0.2, 0.4, 0.8}) {
    for (const double deg : {15.0, 30.0, 45.0, 60.0}) {
      const double t = rad(deg), out = 10 * std::tan(t);
      // The tip runs up the cone towards the chuck, from before the stock to behind it.
      const Moves up = Moves().rapid(5, 20 - out / 2).feed(-15, 20 + 1.5 * out).rapid(-15, 100);
      const Removal r = removed(up, {tip_steered(nose)}, box(-10, 0, 10, 30 + out));
      expect_no_findings(r);
      const Path cone = turning::polygon({{-11, 10}, {0, 10}, {0, 20}, {-11, 20 + 1.1 * out}});
      const double left = compare(r.metal, cone).edges[2].left;
      EXPECT_NEAR(left, std::sin(t) * nose * (1 - std::tan(t / 2)), kStep) << nose << " mm, " << deg;
      EXPECT_NEAR(left, nose * (std::sin(t) + std::cos(t) - 1), kStep) << nose << " mm, " << deg;
    }
  }
}

// A shoulder gets the nose's round: r (1 - 1/sqrt 2) from both walls at its middle; own recomputation. Its volume:
// a square less a quarter disc, by Pappus.
TEST(Removal, LeavesTheNosesRoundInACorner) {
  const double r = 0.8, small = 15;
  const Removal left = removed(Moves().rapid(5, small).feed(-10, small).feed(-10, 30).rapid(5, 30), {tip_steered(r)},
                               box(-20, 0, 0, 20));
  const Comparison c =
      compare(left.metal, turning::polygon({{-20, 0}, {0, 0}, {0, small}, {-10, small}, {-10, 20}, {-20, 20}}));
  EXPECT_NEAR(c.left, r * (1 - 1 / std::sqrt(2.0)), kChord);
  EXPECT_NEAR(std::max(c.edges[2].left, c.edges[3].left), c.left, 1e-12);
  EXPECT_LT(c.missing, kStep);
  // First moments about the axis: square r x r with its corner at `small`, quarter disc with centre at small + r.
  const double square = r * r * (small + r / 2), quarter = kPi * r * r / 4 * (small + r - 4 * r / (3 * kPi));
  const double sharp = kPi * (225 * 10 + 400 * 10);
  EXPECT_NEAR(left.volume, sharp + 2 * kPi * (square - quarter), 2 * kPi * small * kChord * r * kPi / 2);
}

// ---- arcs ----

// Half a ball: 2/3 pi R³. A hollow, as a round of `nose` cuts it on a half circle: the half disc of Pappus, its centre
// 4 R / 3 pi from its side, less the core that the round goes about, plus both halves of the round at the ends.
TEST(Removal, TurnsBallsAndHollowsBothWays) {
  const double nose = 1, hollow = 4, out = 30, core = hollow - 2 * nose;
  const auto half_disc = [&](double r) { return kPi * kPi * r * r * (out - 4 * r / (3 * kPi)); };
  const double hollowed = kPi * out * out * 40 - half_disc(hollow) + half_disc(core);
  const double on_ball = kChord * 2 * kPi * 100, on_hollow = kChord * 2 * kPi * out * kPi * (hollow + core);
  using enum nc::Turn;
  struct Case {
    const char* name;
    Moves moves;
    Path stock;
    double round, volume, within;
  };
  const Path ball = box(0, 10, 0, 10), ring = box(-20, 20, 0, out);
  const Case cases[] = {
      {"half a ball, from its pole", Moves().rapid(20, 1).feed(15, 0).arc(ccw, {0, 15}, {0, 0}).feed(0, 40), ball, 5,
       2 * kPi * 1000 / 3, on_ball},
      {"half a ball, to its pole", Moves().rapid(0, 40).feed(0, 15).arc(cw, {15, 0}, {0, 0}).rapid(20, 0), ball, 5,
       2 * kPi * 1000 / 3, on_ball},
      {"a hollow, towards the chuck", Moves().rapid(3, 40).feed(3, out).arc(cw, {-3, out}, {0, out}).rapid(-3, 40),
       ring, nose, hollowed, on_hollow},
      {"a hollow, from the chuck", Moves().rapid(-3, 40).feed(-3, out).arc(ccw, {3, out}, {0, out}).rapid(3, 40), ring,
       nose, hollowed, on_hollow},
  };
  for (const Case& c : cases) {
    const Removal r = removed(c.moves, {{1, {plane::circle({0, 0}, c.round)}, {}}}, c.stock);
    EXPECT_NEAR(r.volume, c.volume, c.within) << c.name;
    expect_no_findings(r);
  }
}

TEST(Removal, GoesRoundAWholeCircle) {
  const LatheTool disc{1, {plane::circle({0, 0}, 1)}, {}};
  for (const nc::Turn turn : {nc::Turn::cw, nc::Turn::ccw}) {
    const Removal r = removed(Moves().rapid(5, 30).arc(turn, {5, 30}, {0, 30}), {disc}, box(-20, 20, 0, 50));
    // Torus shell between minor radii 4 and 6: 2 pi² R (6² - 4²). The rapid to its start is where nobody asks.
    EXPECT_NEAR(r.volume, kPi * 2500 * 40 - 2 * kPi * kPi * 30 * 20, kChord * 4 * kPi * kPi * 30 * 10);
  }
}

// ---- a grooved ring ----

const turning::Grooved kRing;

TEST(Removal, LeavesTheWantedGroovesWhereTheNoseIsTheOneReckonedWith) {
  const std::vector<LatheTool> tools = {{1, {turning::nosed(0.2, 0.3, 4)}, {}}, {2, {turning::blade(0.8, 4)}, {}}};
  const Removal r = removed(turning::grooving(kRing, 0.2, 0.8), tools, kRing.stock());
  expect_no_findings(r);
  ASSERT_EQ(r.metal.size(), 1U);
  ASSERT_EQ(r.frames.size(), 2U);
  EXPECT_EQ(r.frames[0].tool, 2);
  EXPECT_EQ(r.frames[1].tool, 1);
  EXPECT_EQ(r.frames[1].metal.size(), 1U);
  const Comparison c = compare(r.metal, kRing.wanted());
  EXPECT_LT(c.missing, kChord);
  EXPECT_LT(c.left, kChord);
  // Pappus on the exact outline: plane's closed forms.
  const double wanted = plane::mass_properties({kRing.wanted(), {}, {}, {}}).volume;
  EXPECT_NEAR(r.volume, wanted, 2 * kPi * kRing.outside * kChord * 8 * 3);
}

// A nose 0.05 larger than reckoned with goes 0.05 too deep everywhere that it touches: flanks, crests, roots.
TEST(Removal, GougesByWhatTheNoseIsTooLarge) {
  const Moves program = turning::grooving(kRing, 0.2, 0.8);
  for (const double more : {-0.05, 0.05}) {
    const std::vector<LatheTool> tools = {{1, {turning::nosed(0.2 + more, 0.3, 4)}, {}},
                                          {2, {turning::blade(0.6, 4)}, {}}};
    const Comparison c = compare(removed(program, tools, kRing.stock()).metal, kRing.wanted());
    const auto edges = kRing.outline();
    int held = 0;
    for (std::size_t i = 0; i < edges.size(); ++i) {
      if (edges[i].index < 3 || edges[i].index >= 3 + 3 * kRing.grooves) continue;
      if (!edges[i].is_corner && edges[i].edge.a.y == edges[i].edge.b.y) continue;  // the land between grooves
      EXPECT_NEAR(more > 0 ? c.edges[i].missing : c.edges[i].left, 0.05, kChord) << "edge " << i;
      ++held;
    }
    EXPECT_EQ(held, 5 * kRing.grooves);
  }
}

/// Diameter over a ball in a groove between two flanks, less the ball's: from their apex, the ball's centre stands
/// (d/2) / sin(half angle) out. Geometry of a circle that touches two lines.
double over_ball(const plane::Generator& p, const plane::Generator& q, double ball) {
  const Vec2 u = plane::unit(p.b - p.a), v = plane::unit(q.b - q.a);
  const double t = plane::cross(q.a - p.a, v) / plane::cross(u, v);
  const Vec2 apex = p.a + t * u;
  const double half = std::acos(-plane::dot(u, v)) / 2;
  return 2 * (apex.y + ball / 2 / std::sin(half) + ball / 2);
}

TEST(Removal, FindsFlanksThatABallReadsAlike) {
  const std::vector<LatheTool> tools = {{1, {turning::nosed(0.2, 0.3, 4)}, {}}, {2, {turning::blade(0.8, 4)}, {}}};
  const Removal r = removed(turning::grooving(kRing, 0.2, 0.8), tools, kRing.stock());
  std::vector<plane::Generator> flanks;
  for (const plane::BrokenEdge& e : kRing.outline())
    if (!e.is_corner && e.edge.a.x != e.edge.b.x && e.edge.a.y != e.edge.b.y) flanks.push_back({e.edge.a, e.edge.b});
  ASSERT_EQ(flanks.size(), 16U);
  const std::vector<plane::Generator> found = borders(r.metal, flanks, 0.05);
  for (std::size_t i = 0; i + 1 < flanks.size(); i += 2) {
    ASSERT_FALSE(found[i].a == found[i].b);
    ASSERT_FALSE(found[i + 1].a == found[i + 1].b);
    EXPECT_NEAR(over_ball(found[i], found[i + 1], 2.5), over_ball(flanks[i], flanks[i + 1], 2.5), 2e-5)
        << "groove " << i / 2;
    EXPECT_GT(plane::dot(plane::unit(found[i].b - found[i].a), plane::unit(flanks[i].b - flanks[i].a)), 1 - 1e-9);
  }
  for (const plane::Generator& g : borders({}, flanks, 0.05)) EXPECT_TRUE(g.a == g.b) << "no metal, no border";
  const plane::Generator elsewhere{{-5, 45}, {-7, 44}}, back{flanks[0].b, flanks[0].a};
  for (const plane::Generator& g : borders(r.metal, std::vector{elsewhere, back}, 0.05)) EXPECT_TRUE(g.a == g.b);
}

// ---- clampings ----

TEST(Removal, TurnsAPartEndForEnd) {
  // The same steps on both ends give a part that is its own mirror image; z of the second program runs from the other
  // face: program z = -(part z) - 40.
  const Moves steps = Moves().rapid(5, 25).feed(0, 16).feed(-8.5, 16).feed(-10.5, 18).feed(-10.5, 30).rapid(5, 30);
  const std::vector<LatheTool> tools = {{1, {turning::nosed(0.4, rad(30), 20, {0.1, -0.2})}, {}}};
  const Path stock = box(-40, 0, 5, 20);
  const Clamping both[] = {{steps.trace(), false, 0, {}, 0, {}, {}}, {steps.trace(), true, -40, {}, 0, {}, {}}};
  const Removal one = remove({both, 1}, tools, stock), two = remove(both, tools, stock);
  const double whole = kPi * (400 - 25) * 40;
  EXPECT_NEAR(whole - two.volume, 2 * (whole - one.volume), 0.01);
  for (double z = -39.95; z < -20; z += 0.37)
    for (double r = 15; r < 20; r += 0.21)
      EXPECT_EQ(witness::held(two.metal, {z, r}), witness::held(two.metal, {-40 - z, r})) << z << ", " << r;
  // A shift alone: program z = part z + 7.
  Moves shifted = Moves().rapid(12, 25).feed(7, 16).feed(-1.5, 16).feed(-3.5, 18).feed(-3.5, 30).rapid(12, 30);
  const Clamping moved{shifted.trace(), false, 7, {}, 0, {}, {}};
  EXPECT_NEAR(remove({&moved, 1}, tools, stock).volume, one.volume, 0.01);
}

// ---- comparing ----

TEST(Removal, ComparesLumpsThatAreMissingOrLeftAsAWhole) {
  const Path wanted = kRing.wanted();
  const Comparison none = compare({}, wanted);
  EXPECT_GT(none.missing, 3) << "a ring 10 thick at least at its edges is missing";
  EXPECT_EQ(none.left, 0);
  const std::vector<plane::Polygon> blank = {plane::polyline(kRing.stock(), kChord)};
  const Comparison uncut = compare(blank, wanted);
  const auto edges = kRing.outline();
  int held = 0;
  for (std::size_t i = 0; i < edges.size(); ++i) {
    const bool is_root = edges[i].is_corner && edges[i].index % 3 == 1 && edges[i].index > 3;
    if (!is_root) continue;
    EXPECT_GT(uncut.edges[i].left, 0.3) << "the root of an uncut groove is no border, but full of metal";
    ++held;
  }
  EXPECT_EQ(held, kRing.grooves);
  EXPECT_LT(uncut.missing, kStep);
}

TEST(Removal, ComparesByTheExactOutline) {
  // A square, one side out by 0.003, one in by 0.004, a bump 0.02 high in the middle of the third, a hole.
  const Path wanted = box(-10, 0, 20, 30);
  const std::vector<plane::Polygon> metal = {
      {{-10, 20.004}, {0.003, 20.004}, {0.003, 30}, {-4, 30}, {-5, 30.02}, {-6, 30}, {-10, 30}},
      {{-6, 23}, {-6, 24}, {-5, 24}, {-5, 23}}};
  const Comparison c = compare(metal, wanted);
  EXPECT_NEAR(c.edges[0].missing, 4, 1e-9) << "the hole's upper side; the lower one is 3 from the edge";
  EXPECT_NEAR(c.edges[1].left, 0.003, 1e-9);
  EXPECT_NEAR(c.edges[2].left, 0.02, 1e-9);
  EXPECT_NEAR(c.left, 0.02, 1e-9);
  EXPECT_NEAR(c.left_at.x, -5, 1e-9);
  // Arcs: the metal is a ring of chords' corners on the circle itself; deepest in the middle of each.
  const Path round = plane::circle({0, 30}, 5);
  const std::vector<Vec2> inscribed = plane::polyline(round, 0.01);
  const double n = static_cast<double>(inscribed.size());
  const Comparison arc = compare(std::span(&inscribed, 1), round);
  EXPECT_NEAR(arc.missing, 5 * (1 - std::cos(kPi / n)), 1e-9) << "sagitta of a chord";
  EXPECT_LT(arc.left, 1e-9);
}

TEST(Removal, ToldDepthsAgreeWithRaysFromTheOutline) {
  // Against `compare`: from points of the exact outline the metal's border, square to it, lies no farther than told.
  const double nose = 0.23;  // 0.03 too large, so gouged everywhere
  const std::vector<LatheTool> tools = {{1, {turning::nosed(nose, 0.3, 4)}, {}}, {2, {turning::blade(0.6, 4)}, {}}};
  const Removal r = removed(turning::grooving(kRing, 0.2, 0.8), tools, kRing.stock());
  const Path wanted = kRing.wanted();
  const Comparison c = compare(r.metal, wanted);
  const auto is_metal = [&](Vec2 p) { return witness::held(r.metal, p); };
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    double deepest = 0;
    for (int k = 0; k <= 20; ++k) {
      const double t = 0.002 + 0.996 * k / 20;
      const Vec2 p = wanted[i].at(t), way = wanted[i].tangent_at(t), in{-way.y, way.x};
      double low = 0, high = 0.2;  // missing between, by bisection
      if (is_metal(p + 1e-5 * in) || !is_metal(p + high * in)) continue;
      while (high - low > 1e-7) (is_metal(p + (low + high) / 2 * in) ? high : low) = (low + high) / 2;
      deepest = std::max(deepest, low);
    }
    EXPECT_LE(deepest, c.edges[i].missing + 1e-6) << "edge " << i;
    if (deepest > 0.02) {
      EXPECT_NEAR(deepest, c.edges[i].missing, kChord) << "edge " << i;
    }
  }
}

TEST(Removal, RefusesWhatIsNoToolAndNoStock) {
  const Path open = {plane::straight({0, 0}, {1, 0}), plane::straight({1, 0}, {1, 1})};
  const Path bent = turning::polygon({{0, 0}, {4, 0}, {1, 1}, {0, 4}});
  const Path clockwise = turning::polygon({{0, 0}, {0, 4}, {4, 0}});
  const Moves m = Moves().rapid(5, 5).feed(1, 1);
  for (const Path& bad : {open, bent, clockwise}) EXPECT_THROW(removed(m, {{1, {bad}, {}}}, box(-1, 0, 0, 1)), Broken);
  EXPECT_THROW(removed(m, {}, open), Broken);
  EXPECT_THROW(removed(m, {}, box(-1, 0, -1, 1)), Broken);
  EXPECT_THROW(static_cast<void>(compare({}, open)), Broken);
}

}  // namespace
}  // namespace groovewright::removal
