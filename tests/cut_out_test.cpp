// Parts cut out of meshes: closed, adding up to the whole, and the same as another library cuts them.
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <array>
#include <cmath>
#include <set>

#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"
#include "groovewright/mesh.h"
#include "mesh_bodies.h"
#include "property.h"
#include "segments.h"

namespace groovewright {
namespace {

using bodies::kPi;
using bodies::polar;
using mesh::Mesh;
using mesh::WallHole;
using plane::Vec2;
using segments::Dovetail;
using segments::Outline;
using segments::segment;

Outline rectangle(double x0, double y0, double x1, double y1) { return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}; }

std::string told(const mesh::Closure& c) {
  return std::to_string(c.open_edges) + " open edges, " + std::to_string(c.wrong_edges) + " wrong ones, " +
         std::to_string(c.degenerate) + " degenerate triangles";
}

bool stays_distinct(const Mesh& m) {
  std::set<std::array<long long, 3>> places;
  for (const mesh::Vec3& v : m.vertices) {
    if (!places.insert({std::llround(v.x * 1e5), std::llround(v.y * 1e5), std::llround(v.z * 1e5)}).second)
      return false;
  }
  return true;
}

void expect_sound(const Mesh& m) {
  const mesh::Closure c = mesh::closure(m);
  EXPECT_TRUE(c.closed()) << told(c);
  EXPECT_TRUE(stays_distinct(m)) << "vertices that 3MF's five decimals make one";
}

const std::vector<std::vector<Dovetail>> kJoints = {{}, {{48, 5, 8, 4}}, {{25, 3, 4, 2}, {48, 5, 8, 4}}};

/// Own bound: walls that move by 1e-8 mm and vertices joined within 2e-5 mm, beside rounding.
constexpr double kSum = 1e-8;

TEST(CutOut, SegmentsOfEveryBodyAddUpToTheWhole) {
  for (const auto& [name, body] : bodies::all()) {
    for (const double deflection : {0.5, 0.05}) {
      const Mesh whole = mesh::tessellate(body, deflection);
      for (std::size_t j = 0; j < kJoints.size(); ++j) {
        for (const int count : {2, 3, 6}) {
          // Along vertices and windows' sides, and along none.
          for (const double start : {0.0, 0.1234567, kPi / 12}) {
            SCOPED_TRACE(name + " at " + std::to_string(deflection) + " mm, joint " + std::to_string(j) + ", " +
                         std::to_string(count) + " segments from " + std::to_string(start));
            double sum = 0;
            for (int i = 0; i < count; ++i) {
              const Mesh part = mesh::cut_out(whole, segment(i, count, start, kJoints[j]));
              expect_sound(part);
              sum += mesh::volume(part);
            }
            EXPECT_NEAR(sum, mesh::volume(whole), kSum * mesh::volume(whole));
          }
        }
      }
    }
  }
}

TEST(CutOut, LeavesThePartAloneInsideTheOutline) {
  const Mesh whole = mesh::tessellate(bodies::pulley(), 0.1);
  const Mesh part = mesh::cut_out(whole, rectangle(-100, -90, 100, 90));
  EXPECT_EQ(part.vertices, whole.vertices);
  EXPECT_EQ(part.triangles, whole.triangles);
}

TEST(CutOut, IsEmptyWhereThereIsNoMetal) {
  const Mesh whole = mesh::tessellate(bodies::pulley(), 0.1);
  const struct {
    const char* where;
    Outline outline;
  } kCases[] = {{"beside it", rectangle(100, -20, 120, 20)},
                {"in its bore", rectangle(-5, -5, 5, 5)},
                {"in a bolt hole", rectangle(46 * cos_of(kPi / 6) - 1, 22, 46 * cos_of(kPi / 6) + 1, 24)},
                {"about a corner of its box", rectangle(60, 60, 80, 80)}};
  for (const auto& c : kCases) {
    SCOPED_TRACE(c.where);
    const Mesh part = mesh::cut_out(whole, c.outline);
    EXPECT_TRUE(part.triangles.empty());
    EXPECT_TRUE(part.vertices.empty());
  }
}

/// A box from corner to corner.
Mesh box(mesh::Vec3 low, mesh::Vec3 high) {
  Mesh m;
  for (int i = 0; i < 8; ++i) {
    m.vertices.push_back({i & 1 ? high.x : low.x, i & 2 ? high.y : low.y, i & 4 ? high.z : low.z});
  }
  m.triangles = {{0, 2, 3}, {0, 3, 1}, {4, 5, 7}, {4, 7, 6}, {0, 1, 5}, {0, 5, 4},
                 {2, 6, 7}, {2, 7, 3}, {0, 4, 6}, {0, 6, 2}, {1, 3, 7}, {1, 7, 5}};
  return m;
}

TEST(CutOut, CutsABoxInSpecialPositions) {
  const Mesh whole = box({0, 0, 0}, {10, 20, 5});
  const struct {
    const char* name;
    Outline outline;
    double volume;  // by hand
  } kCases[] = {{"the box itself", rectangle(0, 0, 10, 20), 1000},
                {"three of its sides", rectangle(0, 0, 10, 10), 500},
                {"two of its sides", rectangle(0, 5, 5, 20), 375},
                {"one side from outside", rectangle(10, 0, 20, 20), 0},
                {"one side from outside, longer", rectangle(-10, -5, 0, 30), 0},
                {"through the middle", rectangle(2, 2, 8, 18), 480},
                {"corners on sides", {{5, 0}, {10, 10}, {5, 20}, {0, 10}}, 500},
                {"along the diagonals of its faces", {{0, 0}, {10, 0}, {10, 20}}, 500},
                {"along the other diagonals", {{0, 0}, {10, 0}, {0, 20}}, 500},
                {"a corner on the diagonals", {{5, 10}, {30, 5}, {30, 15}}, 25},
                {"a notch that ends on a side",
                 {{-5, -5}, {15, -5}, {15, 25}, {-5, 25}, {-5, 11}, {10, 11}, {10, 9}, {-5, 9}},
                 900},
                {"a notch that ends short of it",
                 {{-5, -5}, {15, -5}, {15, 25}, {-5, 25}, {-5, 11}, {8, 11}, {8, 9}, {-5, 9}},
                 920}};
  for (const auto& c : kCases) {
    SCOPED_TRACE(c.name);
    const Mesh part = mesh::cut_out(whole, c.outline);
    expect_sound(part);
    EXPECT_NEAR(mesh::volume(part), c.volume, 1e-5) << "counted by hand; walls moved by 1e-8 mm, on 200 mm2";
  }
}

TEST(CutOut, RunsAlongFacesOfAPart) {
  const Mesh bush = mesh::tessellate(bodies::keyed_bush(-20, 20), 0.05);
  const double c = cos_of(1.1), s = sin_of(1.1);
  const auto turned = [&](Outline o) {
    for (Vec2& p : o) p = {c * p.x - s * p.y, s * p.x + c * p.y};
    return o;
  };
  const struct {
    const char* name;
    Outline one, other;
  } kCases[] = {{"one side of a keyway", turned(rectangle(-30, 3, 30, 30)), turned(rectangle(-30, -30, 30, 3))},
                {"the other side", turned(rectangle(-30, -3, 30, 30)), turned(rectangle(-30, -30, 30, -3))},
                {"its floor", turned(rectangle(13.3, -30, 30, 30)), turned(rectangle(-30, -30, 13.3, 30))},
                {"its middle", turned(rectangle(-30, 0, 30, 30)), turned(rectangle(-30, -30, 30, 0))}};
  for (const auto& k : kCases) {
    SCOPED_TRACE(k.name);
    const Mesh one = mesh::cut_out(bush, k.one), other = mesh::cut_out(bush, k.other);
    expect_sound(one);
    expect_sound(other);
    EXPECT_NEAR(mesh::volume(one) + mesh::volume(other), mesh::volume(bush), 1e-6 * mesh::volume(bush));
  }
}

TEST(CutOut, DrillsItsWalls) {
  const Mesh whole = box({0, 0, 0}, {10, 20, 5});
  const std::vector<WallHole> holes = {{0, 3, 2.5, 1, 4}, {0, 5.5, 2, 0.5, 2}, {3, 8, 2.5, 2, 1.5}};
  const Outline outline = rectangle(1, 5, 9, 25);
  const Mesh plain = mesh::cut_out(whole, outline),
             drilled = mesh::cut_out(whole, outline, {holes[0], holes[1]}, 0.001);
  expect_sound(drilled);
  double less = 0;
  for (const WallHole& h : {holes[0], holes[1]}) {
    const int sides = plane::arc_steps(h.radius, 2 * kPi, 0.001);
    less += sides * h.radius * h.radius * sin_of(2 * kPi / sides) / 2 * h.depth;
  }
  EXPECT_NEAR(mesh::volume(drilled), mesh::volume(plain) - less, 1e-9) << "prisms over regular polygons";
  const Mesh side = mesh::cut_out(whole, outline, {holes[2]}, 0.001);
  expect_sound(side);
  for (const mesh::Vec3& v : side.vertices) EXPECT_TRUE(v.x < 2.5 + 1e-9 || v.x > 9 - 1e-9) << "1.5 mm deep from x = 1";
}

TEST(CutOut, RefusesWhatItsDoorRulesOut) {
  const Mesh whole = box({0, 0, 0}, {10, 20, 5});
  const Outline half = rectangle(-5, -5, 5, 25);
  EXPECT_THROW(static_cast<void>(mesh::cut_out(whole, {{0, 0}, {1, 0}})), Broken);
  EXPECT_THROW(static_cast<void>(mesh::cut_out(whole, {{0, 0}, {0, 5}, {5, 0}})), Broken) << "clockwise";
  EXPECT_THROW(static_cast<void>(mesh::cut_out(whole, {{0, 0}, {1e-4, 0}, {5, 5}})), Broken) << "a side too short";
  EXPECT_THROW(static_cast<void>(mesh::cut_out(whole, half, {}, 1e-5)), Broken) << "deflection";
  const struct {
    const char* why;
    std::vector<WallHole> holes;
  } kCases[] = {{"no such wall", {{4, 1, 1, 1, 1}}},
                {"a wall outside the metal", {{0, 5, 2, 1, 1}}},
                {"over the wall's edge", {{1, 10, 4.5, 1, 1}}},
                {"beside the wall", {{1, 2, 2, 1, 1}}},
                {"two that meet", {{1, 10, 2.5, 1, 1}, {1, 11.5, 2.5, 1, 1}}},
                {"no depth", {{1, 10, 2.5, 1, 0}}}};
  for (const auto& c : kCases) {
    EXPECT_THROW(static_cast<void>(mesh::cut_out(whole, half, c.holes)), Broken) << c.why;
  }
  EXPECT_NO_THROW(static_cast<void>(mesh::cut_out(whole, half, {{1, 10, 2.5, 1, 1}})));
}

TEST(CutOut, GivesTheSameMeshTwice) {
  const Mesh whole = mesh::tessellate(bodies::pulley(), 0.05);
  const Mesh one = mesh::cut_out(whole, segment(0, 3, 0, kJoints[2])),
             two = mesh::cut_out(whole, segment(0, 3, 0, kJoints[2]));
  EXPECT_EQ(one.vertices, two.vertices);
  EXPECT_EQ(one.triangles, two.triangles);
}

TEST(CutOut, AddsUpWhateverTheJoint) {
  const std::vector<bodies::Named> all = bodies::all();
  expect_property([&] {
    const auto& [name, body] = all[*rc::gen::inRange<std::size_t>(0, all.size())];
    const auto within = [](double low, double high) { return low + (high - low) * *rc::gen::inRange(0, 10001) / 1e4; };
    const Mesh whole = mesh::tessellate(body, std::pow(10, within(-1.7, 0)));
    const int count = *rc::gen::inRange(2, 7);
    const double start = within(0, kPi), neck = within(1, 4), at = within(20, 70);
    const std::vector<Dovetail> tails = {{at, neck, neck + within(0, 2), within(-3, 3) + 0.005}};
    RC_LOG() << name << ", " << count << " segments from " << start << ", dovetail at " << at << ", neck " << neck
             << ", head " << tails[0].head << ", depth " << tails[0].depth;
    double sum = 0;
    for (int i = 0; i < count; ++i) {
      const Mesh part = mesh::cut_out(whole, segment(i, count, start, tails));
      RC_ASSERT(mesh::closure(part).closed());
      RC_ASSERT(stays_distinct(part));
      sum += mesh::volume(part);
    }
    // A vertex joined to one 2e-5 mm off pulls triangles along; those of the spinning top are 600 mm² of 29,000 mm³.
    RC_ASSERT(std::abs(sum - mesh::volume(whole)) < 4e-7 * mesh::volume(whole));
  });
}

}  // namespace
}  // namespace groovewright
