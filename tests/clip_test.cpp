// Runs against areas: what is outside and what is inside make up the whole, and lie where they should.
#include "groovewright/plane/clip.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "property.h"

namespace groovewright::plane {
namespace {

double length(const std::vector<Run>& runs) {
  double sum = 0;
  for (const Run& r : runs) {
    for (std::size_t i = 0; i + 1 < r.size(); ++i) sum += norm(r[i + 1] - r[i]);
  }
  return sum;
}

Polygon square(Vec2 low, double side) {
  return {low, low + Vec2{side, 0}, low + Vec2{side, side}, low + Vec2{0, side}};
}

Polygon reversed(Polygon p) { return {p.rbegin(), p.rend()}; }

struct Case {
  const char* name;
  std::vector<Polygon> region;
  double outside;  ///< of the line from (-5, 1) to (15, 1)
};

// Own recomputation throughout.
TEST(Clip, CutsALineAtBorders) {
  const Case cases[] = {
      {"nothing", {}, 20},
      {"one square", {square({0, 0}, 10)}, 10},
      {"two that overlap", {square({0, 0}, 10), square({5, -5}, 20)}, 5},
      {"a square with a hole", {square({0, 0}, 10), reversed(square({0.5, 0.5}, 4))}, 14},
      {"elsewhere", {square({0, 5}, 10)}, 20},
      {"all round", {square({-50, -50}, 100)}, 0},
  };
  const std::vector<plane::Run> line{{{-5, 1}, {15, 1}}};
  for (const Case& c : cases) {
    EXPECT_NEAR(length(outside(line, c.region)), c.outside, 4 * kClipStep) << c.name;
    EXPECT_NEAR(length(inside(line, c.region)), 20 - c.outside, 4 * kClipStep) << c.name;
  }
}

TEST(Clip, KeepsARunInOnePieceWhereNothingCutsIt) {
  plane::Run zigzag;
  for (int i = 0; i < 50; ++i) zigzag.push_back({i * 1.0, (i % 2) * 3.0});
  const std::vector<plane::Run> kept = outside({zigzag}, {square({100, 100}, 5)});
  ASSERT_EQ(kept.size(), 1U);
  EXPECT_EQ(kept[0].size(), zigzag.size());
}

TEST(Clip, UnitesWhatOverlaps) {
  const std::vector<Polygon> one = united({square({0, 0}, 10), square({5, 0}, 10), square({5, 2}, 3)});
  ASSERT_EQ(one.size(), 1U);
  double twice = 0;
  for (std::size_t i = 0; i < one[0].size(); ++i) twice += cross(one[0][i], one[0][(i + 1) % one[0].size()]);
  EXPECT_NEAR(twice / 2, 150, 1e-3) << "two squares of 10 that share 50";
}

TEST(Clip, PartsARunIntoOutsideAndInside) {
  expect_property([] {
    const auto coordinate = rc::gen::map(rc::gen::inRange(-3000, 3000), [](int v) { return v / 100.0; });
    const auto points = [&](int n) {
      std::vector<Vec2> p;
      for (int i = 0; i < n; ++i) p.push_back({*coordinate, *coordinate});
      return p;
    };
    const plane::Run run = points(6);
    std::vector<Polygon> region;
    for (int i = 0; i < 3; ++i) {
      Polygon triangle = points(3);
      if (cross(triangle[1] - triangle[0], triangle[2] - triangle[0]) < 0) triangle = reversed(triangle);
      region.push_back(triangle);
    }
    const std::vector<plane::Run> out = outside({run}, region), in = inside({run}, region);
    RC_ASSERT(std::abs(length(out) + length(in) - length({run})) < 1e-3);
    const auto is_in = [&](Vec2 p) {
      return std::any_of(region.begin(), region.end(), [&](const Polygon& t) {
        for (std::size_t i = 0; i < 3; ++i) {
          if (cross(t[(i + 1) % 3] - t[i], p - t[i]) < 0) return false;
        }
        return true;
      });
    };
    const auto is_near_border = [&](Vec2 p) {
      return std::any_of(region.begin(), region.end(), [&](const Polygon& t) {
        Path border;
        for (std::size_t i = 0; i < 3; ++i) border.push_back({t[i], t[(i + 1) % 3], Edge::Turn::straight, {}});
        return distance(p, border) < 10 * kClipStep;
      });
    };
    for (const auto& [runs, where] : {std::pair{&out, false}, std::pair{&in, true}}) {
      for (const plane::Run& r : *runs) {
        for (std::size_t i = 0; i + 1 < r.size(); ++i) {
          const Vec2 middle = 0.5 * (r[i] + r[i + 1]);
          if (!is_near_border(middle)) RC_ASSERT(is_in(middle) == where);
        }
      }
    }
  });
}

}  // namespace
}  // namespace groovewright::plane
