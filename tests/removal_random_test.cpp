// Random moves of random convex tools against the slow second engine: a tool laid in at places all along its way.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "groovewright/removal.h"
#include "property.h"
#include "turning.h"
#include "witness/points_gone.h"

namespace groovewright::removal {
namespace {

using plane::Path;
using plane::Vec2;
using turning::box;
using turning::Moves;

constexpr double kPi = std::numbers::pi;

Removal removed(const Moves& moves, const std::vector<LatheTool>& tools, const Path& stock) {
  const Clamping c{moves.trace(), false, 0, {}, 0, {}, {}};
  return remove({&c, 1}, tools, stock);
}

Path random_tool() {
  const int corners = *rc::gen::inRange(3, 7);
  std::vector<plane::Corner> ring;
  for (int i = 0; i < corners; ++i) {
    const double angle = 2 * kPi * (i + any(0, 0.8)) / corners;
    ring.push_back({{3 * std::cos(angle), 2 * std::sin(angle)}, any(0, 0.3), 0});
  }
  const auto broken = plane::broken_polygon(ring);
  RC_PRE(broken.has_value());
  Path out;
  for (const plane::BrokenEdge& e : *broken) out.push_back(e.edge);
  return out;
}

Moves random_moves(int count) {
  Moves m;
  Vec2 at{any(-25, 5), any(0, 25)};
  m.rapid(at.x, at.y);
  for (int i = 0; i < count; ++i) {
    Vec2 to{any(-25, 5), any(-2, 25)};
    const int kind = *rc::gen::inRange(0, 5);
    if (kind >= 3) {
      const Vec2 centre{any(-25, 5), any(5, 20)};
      const double angle = any(0, 2 * kPi), r = plane::norm(at - centre);
      if (r < 0.1 || r > 12) continue;
      to = {centre.x + r * std::cos(angle), centre.y + r * std::sin(angle)};
      m.arc(kind == 3 ? nc::Turn::cw : nc::Turn::ccw, to, centre);
    } else if (kind == 2) {
      m.rapid(to.x, to.y);
    } else {
      m.feed(to.x, to.y);
    }
    at = to;
  }
  return m;
}

TEST(RemovalRandom, AgreesWithAToolLaidInEverywhere) {
  constexpr double kApart = 0.05, kMargin = kApart / 2 + 2 * kChord;
  int decided = 0, gone = 0;
  expect_property(
      [&] {
        const std::vector<LatheTool> tools = {{1, {random_tool(), random_tool()}, {}}};
        const Moves moves = random_moves(*rc::gen::inRange(1, 7));
        const Path stock = box(-20, 0, 2, 20);
        const Removal r = removed(moves, tools, stock);
        std::vector<Vec2> places;
        for (bool known = false; const nc::Move& m : moves.trace().moves) {
          for (const Vec2 p : witness::places(m, known, kApart)) places.push_back(p);
          known = true;
        }
        // The stock in cells of 2 by 2: a cell counts as a whole where its middle is deep enough in what is gone or
        // left; what is unsure widens the limits of the volume.
        double least = 0, most = 0;
        const double cell = 2, reach = cell / std::sqrt(2.0);
        for (double z = -20 + cell / 2; z < 0; z += cell)
          for (double y = 2 + cell / 2; y < 20; y += cell) {
            const Vec2 p{z, y};
            const double depth = witness::deepest(tools[0].cutting, places, p);
            const double volume = 2 * kPi * y * cell * cell;
            most += depth > reach + kMargin ? 0 : volume;
            least += depth < -reach - kMargin ? volume : 0;
            if (std::abs(depth) <= kMargin) continue;
            ++decided;
            gone += depth > 0;
            RC_ASSERT(witness::held(r.metal, p) == (depth < 0));
          }
        RC_ASSERT(least <= r.volume + 1e-3);
        RC_ASSERT(r.volume <= most + 1e-3);
      },
      std::max(1, cases() / 4));
  EXPECT_GT(gone, decided / 50);
  EXPECT_LT(gone, decided);
}

TEST(RemovalRandom, TellsOfRapidMovesAndHoldersWhereAPointIsMet) {
  constexpr double kApart = 0.05, kMargin = kApart / 2 + 2 * kChord;
  int met = 0, clear = 0;
  expect_property(
      [&] {
        const std::vector<LatheTool> tools = {
            {1, {random_tool()}, {}}, {2, {}, {random_tool()}}, {3, {random_tool()}, {}}};
        Moves moves = random_moves(3);
        moves.rapid(any(-30, 10), any(21, 35));
        const int last = moves.next_line();
        const Path stock = box(-20, 0, 2, 20);
        const Removal before = removed(moves, tools, stock);
        const int tool = *rc::gen::inRange(2, 4);
        moves.tool(tool).rapid(any(-30, 10), any(10, 35));
        const auto all = removed(moves, tools, stock).findings;
        const auto found = std::find_if(all.begin(), all.end(), [&](const Finding& f) { return f.line == last; });
        const std::vector<Vec2> places = witness::places(moves.trace().moves.back(), true, kApart);
        // A disc of 2 holds a point of a grid of 1, 0.29 or more within its border.
        bool is_met = false;
        const LatheTool& t = tools[static_cast<std::size_t>(tool - 1)];
        for (double z = -19.5; z < 0; ++z)
          for (double y = 2.5; y < 20; ++y)
            is_met = is_met || (witness::held(before.metal, {z, y}) &&
                                witness::deepest(tool == 2 ? t.holder : t.cutting, places, {z, y}) > kMargin);
        const double told = found == all.end() ? 0 : found->amount;
        if (is_met) {
          RC_ASSERT(told > 0);
          RC_ASSERT(found->kind == (tool == 2 ? Finding::Kind::holder_in_metal : Finding::Kind::rapid_in_metal));
        } else {
          RC_ASSERT(told < 2);
        }
        ++(is_met ? met : clear);
      },
      std::max(1, cases() / 4));
  EXPECT_GT(met, 0);
  EXPECT_GT(clear, 0);
}

TEST(RemovalRandom, NeverGrowsTheMetal) {
  expect_property([] {
    const std::vector<LatheTool> tools = {{1, {random_tool()}, {}}, {2, {random_tool()}, {random_tool()}}};
    const Moves first = random_moves(4);
    Clamping c[2];
    for (Clamping& one : c) {
      one.trace = random_moves(3);
      nc::Trace second = random_moves(3);
      for (nc::Move& m : second.moves) m.tool = 2;
      second.moves.front().from = one.trace.moves.back().to;
      one.trace.moves.insert(one.trace.moves.end(), second.moves.begin(), second.moves.end());
    }
    c[1].turned = true, c[1].shift = -20;
    const Removal r = remove(c, tools, box(-20, 0, 2, 20));
    RC_ASSERT(r.frames.size() == 4U);
    const auto area = [](const std::vector<plane::Polygon>& metal) {
      double twice = 0;
      for (const plane::Polygon& p : metal)
        for (std::size_t i = 0; i < p.size(); ++i) twice += plane::cross(p[i], p[(i + 1) % p.size()]);
      return twice / 2;
    };
    double before = 18 * 20;
    for (std::size_t i = 0; i < 4; ++i) {
      RC_ASSERT(area(r.frames[i].metal) <= before + 1e-3);
      before = area(r.frames[i].metal);
      for (int k = 0; i > 0 && k < 30; ++k) {
        const Vec2 p{any(-20, 0), any(2, 20)};
        bool near = false;
        for (const plane::Polygon& q : r.frames[i].metal) near = near || plane::distance(p, turning::polygon(q)) < 1e-4;
        if (!near && witness::held(r.frames[i].metal, p)) RC_ASSERT(witness::held(r.frames[i - 1].metal, p));
      }
    }
    RC_ASSERT(r.volume > -1e-6);
  });
}

}  // namespace
}  // namespace groovewright::removal
