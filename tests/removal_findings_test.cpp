// What programs would do amiss: each finding with its line and amount, the metal being what it is at that move.
#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <numbers>

#include "groovewright/removal.h"
#include "turning.h"

namespace groovewright::removal {
namespace {

using turning::box;
using turning::Moves;
using Kind = Finding::Kind;
using plane::Vec2;

constexpr double kPi = std::numbers::pi;

/// A bar of 40 by 30 in front of jaws, and a blade 3 wide, 10 high under a holder 8 wide.
const plane::Path kBar = box(-30, 0, 0, 20);
const std::vector<LatheTool> kTools = {{1, {turning::blade(3, 10)}, {box(-4, 4, 10, 40)}},
                                       {2, {turning::blade(2, 40)}, {}}};

Clamping clamping(const Moves& moves) {
  Clamping c;
  c.trace = moves.trace();
  c.keep_out = {box(-40, -25, 12, 45)};
  c.max_rpm = 4000;
  c.low = {-100, -50}, c.high = {100, 100};
  return c;
}

nc::Spindle at_rest() { return {}; }
nc::Spindle turning_at(double rpm) { return {true, nc::Turn::cw, rpm, 0, 0}; }
nc::Spindle surface(double m_per_min, double limit) { return {true, nc::Turn::cw, 0, m_per_min, limit}; }

struct Wanted {
  Kind kind;
  int line;
  double amount, within;
};
struct Case {
  const char* name;
  Moves moves;
  std::vector<Wanted> findings;
};

void expect(const Case& c, const std::vector<Finding>& found) {
  for (const Finding& f : found) EXPECT_FALSE(f.says.empty()) << c.name;
  ASSERT_EQ(found.size(), c.findings.size()) << c.name << (found.empty() ? "" : ": " + found.front().says);
  for (std::size_t i = 0; i < found.size(); ++i) {
    EXPECT_EQ(found[i].kind, c.findings[i].kind) << c.name << ": " << found[i].says;
    EXPECT_EQ(found[i].line, c.findings[i].line) << c.name << ": " << found[i].says;
    if (std::isinf(c.findings[i].amount)) {
      EXPECT_TRUE(std::isinf(found[i].amount)) << c.name;
    } else {
      EXPECT_NEAR(found[i].amount, c.findings[i].amount, c.findings[i].within) << c.name << ": " << found[i].says;
    }
  }
}

// Amounts by hand: the widest disc in what tool and metal (or jaws) share.
TEST(RemovalFindings, TellKindLineAndAmount) {
  const double inf = std::numeric_limits<double>::infinity();
  const Case cases[] = {
      {"a clean groove", Moves().rapid(-10, 25).feed(-10, 15).rapid(-10, 25), {}},
      {"rapid into the bar, 2 deep",
       Moves().rapid(-10, 25).rapid(-10, 18).rapid(-10, 25),
       {{Kind::rapid_in_metal, 2, 2, 0.002}}},
      {"rapid across the bar, 1 deep",
       Moves().rapid(5, 19).rapid(-15, 19).rapid(-15, 25),
       {{Kind::rapid_in_metal, 2, 1, 0.002}}},
      {"rapid along the bar, touching it", Moves().rapid(5, 20).rapid(-15, 20).rapid(-15, 25), {}},
      {"rapid half a micrometre deep is contact", Moves().rapid(5, 19.9995).rapid(-15, 19.9995).rapid(-15, 25), {}},
      {"rapid two micrometres deep is not",
       Moves().rapid(5, 19.998).rapid(-15, 19.998).rapid(-15, 25),
       {{Kind::rapid_in_metal, 2, 0.002, 1e-4}}},
      {"rapid into a groove that is cut already",
       Moves().rapid(-10, 25).feed(-10, 15).rapid(-10, 25).rapid(-10, 15),
       {}},
      {"rapid into a groove that is cut later",
       Moves().rapid(-10, 25).rapid(-10, 15).feed(-10, 14).rapid(-10, 25),
       {{Kind::rapid_in_metal, 2, 3, 0.002}}},
      {"what a rapid move tore out is told once",
       Moves().rapid(-10, 25).rapid(-10, 15).rapid(-10, 25).rapid(-10, 15),
       {{Kind::rapid_in_metal, 2, 3, 0.002}}},
      {"rapid sideways out of a groove, into its wall 5 high",
       Moves().rapid(-10, 25).feed(-10, 15).rapid(-20, 15),
       {{Kind::rapid_in_metal, 3, 5, 0.002}}},
      {"rapid through the middle, from below the axis",
       Moves().tool(2).rapid(5, -45).rapid(-5, -45),
       {{Kind::rapid_in_metal, 2, 6, 0.002}}},
      {"a groove as deep as the blade reaches", Moves().rapid(-10, 25).feed(-10, 10).rapid(-10, 25), {}},
      {"a groove 2 deeper",
       Moves().rapid(-10, 25).feed(-10, 8).rapid(-10, 25),
       {{Kind::holder_in_metal, 2, 2, 0.002}, {Kind::holder_in_metal, 3, 2, 0.002}}},
      {"the same after the bar is turned down",
       Moves().tool(2).rapid(1, 25).feed(1, 18).feed(-18, 18).rapid(-18, 30).tool(1).rapid(-10, 30).feed(-10, 8).rapid(
           -10, 30),
       {}},
      {"the blade into the jaws",
       Moves(2).rapid(-24.5, 25).feed(-24.5, 19).rapid(-24.5, 25),
       {{Kind::tool_in_keep_out, 1, 0.5, 0.002},
        {Kind::tool_in_keep_out, 2, 0.5, 0.002},
        {Kind::tool_in_keep_out, 3, 0.5, 0.002}}},
      {"the holder into the jaws: 4 to its side",
       Moves().rapid(-22, 50).feed(-22, 19).rapid(-22, 50),
       {{Kind::tool_in_keep_out, 2, 1, 0.002}, {Kind::tool_in_keep_out, 3, 1, 0.002}}},
      {"beyond the travel by 3", Moves().rapid(-10, 25).rapid(103, 25), {{Kind::beyond_travel, 2, 3, 1e-9}}},
      {"an arc beyond the travel by 5 between its ends",
       Moves().rapid(100, 50).arc(nc::Turn::ccw, {100, 60}, {100, 55}),
       {{Kind::beyond_travel, 2, 5, 0.001}}},
      {"a place that is none", Moves().rapid(1e7, 25).rapid(0.5, 25), {{Kind::beyond_travel, 1, 0, 0}}},
      {"a number that is none", Moves().rapid(std::nan(""), 25), {{Kind::beyond_travel, 1, 0, 0}}},
      {"5,000 rpm where 4,000 are borne",
       Moves().spindle(turning_at(5000)).rapid(-10, 25).feed(-10, 19).rapid(-10, 25),
       {{Kind::too_fast, 1, 5000, 1e-6}}},
      {"4,000 rpm", Moves().spindle(turning_at(4000)).rapid(-10, 25).feed(-10, 19).rapid(-10, 25), {}},
      // n = v / (2 pi r): 200 m/min at radius 5.
      {"surface speed, facing to radius 5",
       Moves(2).spindle(surface(200, 0)).rapid(0.5, 25).feed(0.5, 5).rapid(0.5, 25),
       {{Kind::too_fast, 2, 200e3 / (2 * kPi * 5), 1e-6}}},
      {"the same, held at 3,500", Moves(2).spindle(surface(200, 3500)).rapid(0.5, 25).feed(0.5, 5).rapid(0.5, 25), {}},
      {"the same, held too high",
       Moves(2).spindle(surface(200, 4500)).rapid(0.5, 25).feed(0.5, 5).rapid(0.5, 25),
       {{Kind::too_fast, 2, 4500, 1e-6}}},
      {"facing to the middle, nothing holds it",
       Moves(2).spindle(surface(200, 0)).rapid(0.5, 25).feed(0.5, -1).rapid(0.5, 25),
       {{Kind::too_fast, 2, inf, 0}}},
      {"cutting with the spindle at rest",
       Moves().spindle(at_rest()).rapid(-10, 25).feed(-10, 19).rapid(-10, 25),
       {{Kind::spindle_off, 2, 1, 0.002}}},
      {"feeding through air with the spindle at rest",
       Moves().spindle(at_rest()).rapid(-10, 25).feed(-10, 21).rapid(-10, 25),
       {}},
      {"a tool that nobody has", Moves(7).rapid(-10, 25).feed(-10, 15).rapid(-10, 25), {{Kind::program, 1, 0, 0}}},
      {"no tool at all, and a cut", Moves(0).rapid(-10, 25).feed(-10, 15), {{Kind::program, 2, 0, 0}}},
  };
  for (const Case& c : cases) {
    const Clamping one = clamping(c.moves);
    expect(c, remove({&one, 1}, kTools, kBar).findings);
  }
}

TEST(RemovalFindings, PassOnTheProgramsFaults) {
  Clamping c = clamping(Moves().rapid(-10, 25));
  c.trace.faults = {{3, "a feed move without feed"}, {9, "two codes of one group"}};
  const Clamping both[] = {clamping(Moves().rapid(-10, 25)), c};
  const Removal r = remove(both, kTools, kBar);
  ASSERT_EQ(r.findings.size(), 2U);
  EXPECT_EQ(r.findings[0].kind, Kind::program);
  EXPECT_EQ(r.findings[0].line, 3);
  EXPECT_EQ(r.findings[0].clamping, 1U);
  EXPECT_EQ(r.findings[1].says, "two codes of one group");
}

// The metal is the one that earlier clampings left, wherever the part then lies.
TEST(RemovalFindings, SeeThePartTurnedEndForEnd) {
  const Moves cut = Moves().rapid(-10, 25).feed(-10, 15).rapid(-10, 25);
  // Part z -10 lies at program z -20 in the second: -(-10) - 30.
  for (const auto& [z, amount] : {std::pair{-20.0, 0.0}, std::pair{-10.0, 3.0}}) {
    Clamping both[] = {clamping(cut), clamping(Moves().rapid(z, 25).rapid(z, 15).rapid(z, 25))};
    both[1].turned = true, both[1].shift = -30;
    both[1].keep_out.clear();
    const Removal r = remove(both, kTools, kBar);
    ASSERT_EQ(r.findings.size(), amount > 0 ? 1U : 0U) << z;
    if (amount > 0) {
      EXPECT_EQ(r.findings[0].clamping, 1U);
      EXPECT_NEAR(r.findings[0].amount, amount, 0.002);
    }
  }
  // Jaws stand in the program's half plane: those of the second clamping hold the part's other end.
  Clamping turned = clamping(Moves().rapid(-24, 25).feed(-24, 19));
  turned.turned = true, turned.shift = -30;
  EXPECT_FALSE(remove({&turned, 1}, kTools, kBar).findings.empty());
}

// Limits that nobody gave are not held.
TEST(RemovalFindings, NeedLimits) {
  Clamping c = clamping(Moves().spindle(turning_at(50000)).rapid(-10, 250).feed(-10, 19));
  c.max_rpm = 0, c.low = c.high = {};
  EXPECT_TRUE(remove({&c, 1}, kTools, kBar).findings.empty());
}

}  // namespace
}  // namespace groovewright::removal
