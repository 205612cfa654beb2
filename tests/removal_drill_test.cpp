// Holes along z from a mill's moves alone.
#include <gtest/gtest.h>

#include <cmath>

#include "groovewright/removal.h"

namespace groovewright::removal {
namespace {

using Kind = Finding::Kind;

/// A drill of 8 with a point of 118 degrees (length 4 / tan 59°), an end mill of 10, a tap M10 x 1.5, a wide drill.
const double kPoint = 4 / std::tan(59 * 3.14159265358979323846 / 180);
const std::vector<RotatingTool> kTools = {{1, 8, kPoint, 40, 12, 0},
                                          {2, 10, 0, 22, 10, 0},
                                          {3, 10, 0, 25, 7, 1.5},
                                          {4, 8.5, 2.55, 40, 20, 0},
                                          {5, 16, 0, 30, 16, 0}};

class Moves {
 public:
  explicit Moves(int tool) {
    state_.tool = tool, state_.plane = nc::Plane::xy, state_.spindle = {true, nc::Turn::cw, 1000, 0, 0};
  }
  Moves& tool(int number) { return state_.tool = number, rapid(at_.x, at_.y, 50); }
  Moves& stop() { return state_.spindle.on = false, *this; }
  Moves& rapid(double x, double y, double z) { return add(nc::Move::Kind::rapid, {x, y, z}, {}, 0); }
  Moves& feed(double x, double y, double z, double mm_per_min = 100) {
    return add(nc::Move::Kind::feed, {x, y, z}, {}, mm_per_min);
  }
  Moves& round(nc::Turn turn, double x, double y, double z, double cx, double cy) {
    return add(turn == nc::Turn::ccw ? nc::Move::Kind::ccw : nc::Move::Kind::cw, {x, y, z}, {cx, cy, 0}, 300);
  }
  /// Over the place, down, up.
  Moves& hole(double x, double y, double bottom) { return rapid(x, y, 2).feed(x, y, bottom).rapid(x, y, 2); }
  Moves& tapped(double x, double y, double bottom, double mm_per_min = 1500) {
    return rapid(x, y, 2).feed(x, y, bottom, mm_per_min).feed(x, y, 2, mm_per_min);
  }
  operator const nc::Trace&() const { return trace_; }  // NOLINT(google-explicit-constructor)

 private:
  Moves& add(nc::Move::Kind kind, nc::Point to, nc::Point centre, double feed) {
    nc::Move m = state_;
    m.kind = kind, m.from = at_, m.to = at_ = to, m.centre = centre, m.feed = feed, m.line = line_++;
    trace_.moves.push_back(m);
    return *this;
  }
  nc::Trace trace_;
  nc::Move state_;
  nc::Point at_{0, 0, 100};
  int line_ = 1;
};

TEST(RemovalDrill, FindsHolesByTheirFullDiameter) {
  const Drilling d = drill(Moves(1).hole(10, 0, -20).hole(-10, 5, -12), kTools, 0);
  EXPECT_TRUE(d.findings.empty());
  ASSERT_EQ(d.bored.size(), 2U);
  EXPECT_EQ(d.bored[0].x, 10);
  EXPECT_EQ(d.bored[0].diameter, 8);
  EXPECT_NEAR(d.bored[0].bottom, -20 + kPoint, 1e-12);
  EXPECT_EQ(d.bored[0].tip, kPoint);
  EXPECT_EQ(d.bored[0].line, 2);
  EXPECT_EQ(d.bored[1].y, 5);
  EXPECT_EQ(d.bored[1].line, 5);
}

TEST(RemovalDrill, CountsPecksAsOneHole) {
  const Drilling d = drill(Moves(1)
                               .rapid(0, 0, 2)
                               .feed(0, 0, -5)
                               .rapid(0, 0, 2)
                               .rapid(0, 0, -4.5)
                               .feed(0, 0, -10)
                               .rapid(0, 0, 2)
                               .rapid(0, 0, -9.5)
                               .feed(0, 0, -15)
                               .rapid(0, 0, 2),
                           kTools, 0);
  EXPECT_TRUE(d.findings.empty()) << d.findings.front().says;
  ASSERT_EQ(d.bored.size(), 1U);
  EXPECT_NEAR(d.bored[0].bottom, -15 + kPoint, 1e-12);
}

TEST(RemovalDrill, SpotsHaveNoFullDiameter) {
  const Drilling d = drill(Moves(1).hole(0, 0, -1), kTools, 0);
  ASSERT_EQ(d.bored.size(), 1U);
  EXPECT_GT(d.bored[0].bottom, 0) << "1 deep, and the point is longer";
}

// A helix of radius R by a tool of D gives 2 R + D; where the tool has been all round is what counts.
TEST(RemovalDrill, FindsCirclesMilledByAHelix) {
  using enum nc::Turn;
  for (const nc::Turn turn : {cw, ccw}) {
    Moves helix = Moves(2).rapid(4, 0, 1).feed(4, 0, 0);
    for (int k = 1; k <= 5; ++k) helix.round(turn, 4, 0, -2.0 * k, 0, 0);
    const Drilling open = drill(helix, kTools, 0);
    ASSERT_EQ(open.bored.size(), 1U);
    EXPECT_NEAR(open.bored[0].diameter, 18, 1e-9);
    EXPECT_NEAR(open.bored[0].bottom, -8, 1e-9) << "the last turn slopes from -8 to -10";
    EXPECT_EQ(open.bored[0].core, 0) << "a tool of 10 on a radius of 4 covers the middle";
    const Drilling flat = drill(helix.round(turn, 4, 0, -10, 0, 0).rapid(4, 0, 2), kTools, 0);
    ASSERT_EQ(flat.bored.size(), 1U);
    EXPECT_NEAR(flat.bored[0].bottom, -10, 1e-9);
    EXPECT_TRUE(flat.findings.empty()) << flat.findings.front().says;
  }
  // In half turns, and with a core: 2 R - D.
  const Drilling d = drill(Moves(2)
                               .rapid(8, 0, 1)
                               .feed(8, 0, 0)
                               .round(ccw, -8, 0, -1, 0, 0)
                               .round(ccw, 8, 0, -2, 0, 0)
                               .round(ccw, -8, 0, -2, 0, 0)
                               .round(ccw, 8, 0, -2, 0, 0),
                           kTools, 0);
  ASSERT_EQ(d.bored.size(), 1U);
  EXPECT_NEAR(d.bored[0].diameter, 26, 1e-9);
  EXPECT_NEAR(d.bored[0].core, 6, 1e-9);
  EXPECT_NEAR(d.bored[0].bottom, -2, 1e-9);
  // Less than a turn is no circle.
  EXPECT_TRUE(drill(Moves(2).rapid(8, 0, 1).feed(8, 0, 0).round(ccw, 0, -8, -1, 0, 0), kTools, 0).bored.empty());
}

struct Case {
  const char* name;
  Moves moves;
  std::vector<std::tuple<Kind, int, double>> findings;  ///< kind, line, amount
};

TEST(RemovalDrill, TellsWhatWouldDoHarm) {
  using enum nc::Turn;
  const Case cases[] = {
      {"a tapped hole", Moves(4).hole(0, 0, -25).tool(3).tapped(0, 0, -20), {}},
      {"a tap without a hole", Moves(3).tapped(0, 0, -20), {{Kind::tap, 2, 20}}},
      {"a tap in the wrong hole", Moves(4).hole(5, 0, -25).tool(3).tapped(0, 0, -20), {{Kind::tap, 6, 20}}},
      {"a tap in a hole of 8: wider than 10 - 2 x 1.5", Moves(1).hole(0, 0, -25).tool(3).tapped(0, 0, -20), {}},
      {"a tap below the hole's full diameter",
       Moves(4).hole(0, 0, -20).tool(3).tapped(0, 0, -20),
       {{Kind::tap, 6, 2.55}}},
      {"a tap fed 1 mm a turn",
       Moves(4).hole(0, 0, -25).tool(3).tapped(0, 0, -20, 1000),
       {{Kind::tap, 6, 0.5}, {Kind::tap, 7, 0.5}}},
      {"a tap out at rapid",
       Moves(4).hole(0, 0, -25).tool(3).rapid(0, 0, 2).feed(0, 0, -20, 1500).rapid(0, 0, 2),
       {{Kind::rapid_in_metal, 7, 20}}},
      {"rapid into the face", Moves(1).rapid(0, 0, 2).rapid(0, 0, -3), {{Kind::rapid_in_metal, 2, 3}}},
      {"rapid below what is bored", Moves(1).hole(0, 0, -10).rapid(0, 0, -11), {{Kind::rapid_in_metal, 4, 11}}},
      {"rapid to where it bored", Moves(1).hole(0, 0, -10).rapid(0, 0, -10), {}},
      {"a wider tool into the hole", Moves(1).hole(0, 0, -10).tool(2).rapid(0, 0, -2), {{Kind::rapid_in_metal, 5, 2}}},
      {"a smaller one, beside the cone", Moves(5).hole(0, 0, -10).tool(1).rapid(0, 0, -10), {}},
      {"a smaller one, aside", Moves(5).hole(0, 0, -10).tool(1).rapid(4, 0, 2).rapid(4, 0, -9), {}},
      {"a smaller one, too far aside",
       Moves(5).hole(0, 0, -10).tool(1).rapid(4.1, 0, 2).rapid(4.1, 0, -9),
       {{Kind::rapid_in_metal, 6, 9}}},
      {"sideways within a hole", Moves(5).hole(0, 0, -10).tool(1).rapid(4, 0, 2).rapid(4, 0, -9).rapid(-4, 0, -9), {}},
      {"sideways out of the hole",
       Moves(1).rapid(0, 0, 2).feed(0, 0, -5).rapid(20, 0, -5),
       {{Kind::rapid_in_metal, 3, 5}}},
      {"flat tool down into a drill's cone", Moves(4).hole(0, 0, -10).tool(1).rapid(0, 0, -8), {}},
      {"deeper than the flute", Moves(2).hole(0, 0, -25), {{Kind::holder_in_metal, 2, 3}}},
      {"deeper than the flute, in a hole that is wider than the shank",
       Moves(5).hole(0, 0, -10).tool(2).hole(0, 0, -25),
       {}},
      {"drilling with the spindle at rest", Moves(1).stop().hole(0, 0, -10), {{Kind::spindle_off, 2, 10}}},
      {"a tool that nobody has", Moves(9).hole(0, 0, -10), {{Kind::program, 1, 0}}},
      {"no tool", Moves(0).hole(0, 0, -10), {{Kind::program, 2, 0}}},
  };
  for (const Case& c : cases) {
    const Drilling d = drill(c.moves, kTools, 0);
    ASSERT_EQ(d.findings.size(), c.findings.size()) << c.name << (d.findings.empty() ? "" : ": " + d.findings[0].says);
    for (std::size_t i = 0; i < d.findings.size(); ++i) {
      const auto& [kind, line, amount] = c.findings[i];
      EXPECT_EQ(d.findings[i].kind, kind) << c.name << ": " << d.findings[i].says;
      EXPECT_EQ(d.findings[i].line, line) << c.name << ": " << d.findings[i].says;
      EXPECT_NEAR(d.findings[i].amount, amount, 1e-9) << c.name << ": " << d.findings[i].says;
    }
  }
}

TEST(RemovalDrill, PassesOnFaultsAndOtherPlanes) {
  nc::Trace trace = Moves(2).rapid(4, 0, 1).feed(4, 0, -1).round(nc::Turn::ccw, 4, 0, -2, 0, 0);
  trace.faults = {{2, "no such word"}};
  trace.moves.back().plane = nc::Plane::zx;
  const Drilling d = drill(trace, kTools, 0);
  ASSERT_EQ(d.findings.size(), 2U);
  EXPECT_EQ(d.findings[0].says, "no such word");
  EXPECT_EQ(d.findings[1].kind, Kind::program);
  EXPECT_EQ(d.findings[1].line, 3);
}

TEST(RemovalDrill, TapsWithTheSpindlesFeed) {
  nc::Trace trace = Moves(4).hole(0, 0, -25).tool(3).tapped(0, 0, -20);
  for (nc::Move& m : trace.moves)
    if (m.tool == 3) m.feed_per_turn = true, m.feed = 1.5;
  const Drilling d = drill(trace, kTools, 0);
  EXPECT_TRUE(d.findings.empty());
  ASSERT_EQ(d.bored.size(), 2U);
  EXPECT_TRUE(d.bored[1].tapped);
  EXPECT_EQ(d.bored[1].bottom, -20);
}

}  // namespace
}  // namespace groovewright::removal
