// Programs as they are written.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <sstream>

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "nc_scripts.h"

namespace groovewright {
namespace {

using namespace nc;
using ::testing::HasSubstr;

const Dialect& dialect(const char* id) { return nc_scripts::dialects().at(id); }

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

Trace traced(const std::string& text, const Dialect& d) {
  Diagnostics diagnostics;
  const auto program = read("p.ngc", text, diagnostics);
  EXPECT_TRUE(program.has_value()) << diagnostics.text();
  return program ? trace(*program, d) : Trace{};
}

Script turned() {
  Script s;
  s.header = {"Larkspur crank, invented", "keep clear of the turning chuck"};
  s.safe = {100, 0, 50};
  s.commands = {Parameter{1, 0, "groove diameter, + is larger"},
                ToolChange{2, "groove 3 mm"},
                SurfaceSpeed{150, 2000, Turn::cw},
                FeedPerTurn{0.08},
                Coolant{true},
                Rapid{{60, 0, 2}},
                Correction{1, 0},
                Line{{50, 0, -1}},
                Arc{{48, 0, -3}, {50, 0, -3}, Turn::ccw},
                Correction{},
                Rapid{{60, 0, -3}},
                ToolChange{4, "tap M8"},
                SpindleSpeed{400.2, Turn::cw},
                Cycle{.clear = 3, .bottom = -12, .pitch = 1.25}};
  return s;
}

TEST(NcWrite, ALatheProgramInTheOpenInterpretersWords) {
  EXPECT_EQ(write(turned(), dialect("rs274-lathe")),
            "(Larkspur crank, invented)\n(keep clear of the turning chuck)\n#1 = 0.000 (groove diameter, + is larger)\n"
            "G18 G21 G40 G49 G54 G80 G90 G91.1 G94 G97\nG7\n"
            "(T2 groove 3 mm)\nT2 M6\nG18 G21 G40 G49 G54 G80 G90 G91.1 G94 G97\nG7\nG43\nG0 X200.0000 Z50.0000\n"
            "G96 D2000 S150 M3\nG95 F0.08\nM8\nG0 X120.0000 Z2.0000\nG1 X[100.0000+#1] Z-1.0000\n"
            "G3 X[96.0000+#1] Z-3.0000 I0.0000 K-2.0000\nG0 X120.0000\n"
            "G0 X200.0000 Z50.0000\nM5\nM9\n"
            "(T4 tap M8)\nT4 M6\nG18 G21 G40 G49 G54 G80 G90 G91.1 G94 G97\nG7\nG43\nG0 X200.0000 Z50.0000\n"
            "G97 S400 M3\nG0 X0.0000\nG0 Z3.0000\nG33.1 Z-12.0000 K1.25\n"
            "G0 X200.0000 Z50.0000\nM5\nM9\nM2\n");
}

/// Surface speed: 150 m/min at r 60 mm is 397.9 rpm, at r 50 mm 477.5 (v / (2 pi r)), rounded down.
TEST(NcWrite, TheSameInPublishedWordsOnly) {
  EXPECT_EQ(write(turned(), dialect("rs274-plain")),
            "(Larkspur crank, invented)\n(keep clear of the turning chuck)\n#1 = 0.000 (groove diameter, + is larger)\n"
            "G18 G21 G40 G49 G54 G80 G90 G94\n"
            "(T2 groove 3 mm)\nT2 M6\nG18 G21 G40 G49 G54 G80 G90 G94\nG43 H2\nG0 X100.0000 Z50.0000\n"
            "S238 M3\nM8\nG0 X60.0000 Z2.0000\nG1 X[50.0000+#1] Z-1.0000 F31.76 S397\n"
            "G3 X[48.0000+#1] Z-3.0000 I0.0000 K-2.0000 F38.16 S477\nG0 X60.0000\n"
            "G0 X100.0000 Z50.0000\nM5\nM9\n"
            "(T4 tap M8)\nT4 M6\nG18 G21 G40 G49 G54 G80 G90 G94\nG43 H4\nG0 X100.0000 Z50.0000\n"
            "S400 M3\nG0 X0.0000\nG0 Z3.0000\nG1 Z-12.0000 F500\nM4\nG1 Z3.0000\nM3\n"
            "G0 X100.0000 Z50.0000\nM5\nM9\nM2\n");
}

TEST(NcWrite, AMillProgram) {
  Script s;
  s.plane = Plane::xy;
  s.safe = {0, 0, 60};
  s.commands = {ToolChange{1, "drill 6.8"},
                SpindleSpeed{2000, Turn::cw},
                FeedPerMinute{240},
                Cycle{.at = {30, -40, 0}, .clear = 2, .bottom = -20, .peck = 5},
                Cycle{.at = {-30, -40, 0}, .clear = 2, .bottom = -20, .dwell = 0.25},
                Arc{{-20, -40, 1}, {-25, -40, 0}, Turn::cw}};
  EXPECT_EQ(write(s, dialect("rs274-plain")),
            "G17 G21 G40 G49 G54 G80 G90 G94\n(T1 drill 6.8)\nT1 M6\nG17 G21 G40 G49 G54 G80 G90 G94\nG43 H1\n"
            "G0 Z60.0000\nG0 X0.0000 Y0.0000\nS2000 M3\nG94 F240\nG0 X30.0000 Y-40.0000\nG0 Z2.0000\n"
            "G83 X30.0000 Y-40.0000 Z-20.0000 R2.0000 Q5\nG80\nG0 X-30.0000\n"
            "G82 X-30.0000 Y-40.0000 Z-20.0000 R2.0000 P0.25\nG80\n"
            "G2 X-20.0000 Y-40.0000 Z1.0000 I5.0000 J0.0000\nG0 Z60.0000\nG0 X0.0000 Y0.0000\nM5\nM9\nM2\n");
}

/// ISO 6983-1: N G X Y Z I J K F S T M (from memory). The words that NIST IR 6556 and the open interpreter have beside
/// those (R, Q, P, H of cycles and offsets; D of G96) stand before F.
TEST(NcWrite, EveryBlockHasItsWordsInOrder) {
  static const std::string kOrder = "NGXYZIJKRQPDHFSTM";
  expect_property([] {
    const Script script = nc_scripts::any_script();
    for (const auto& [id, d] : nc_scripts::dialects()) {
      const std::string text = write(script, d);
      RC_ASSERT(text.ends_with("M5\nM9\nM2\n"));
      for (const std::string& line : lines_of(text)) {
        if (line.starts_with("(") || line.starts_with("#")) continue;
        std::size_t last = 0;
        for (const char c : line) {
          if (c < 'A' || c > 'Z') continue;
          const std::size_t at = kOrder.find(c);
          if (at == std::string::npos || at < last) RC_FAIL(id + ": " + line);
          last = at;
        }
        const bool moves = line.find_first_of("XYZ") != std::string::npos;
        if (moves && line[0] != 'G') RC_FAIL(id + ": no G word: " + line);
        if (line.find("-0.0000 ") != std::string::npos || line.ends_with("-0.0000")) RC_FAIL(id + ": " + line);
      }
    }
  });
}

/// Ends on any place of the lattice, turns from next to nothing to next to a full circle, radii from a tenth of the
/// lattice's step to a metre: the way of the tool stays the same.
TEST(NcWrite, ArcsKeepTheirWayWhateverTheRounding) {
  auto coarse = dialect("rs274-plain");
  coarse.decimals = 3;
  const std::map<std::string, Dialect> kAll = {
      {"plain", dialect("rs274-plain")}, {"lathe", dialect("rs274-lathe")}, {"coarse", coarse}};
  expect_property(
      [&] {
        const bool xy = nc_scripts::perhaps();
        const double radius = std::pow(10.0, any(-5, 3)), start = any(0, 6.2831), tiny = std::pow(10.0, any(-9, 0.49));
        const double full = 2 * std::numbers::pi;
        const double swept = nc_scripts::perhaps() ? tiny : full - tiny;
        const bool ccw = nc_scripts::perhaps();
        const auto place = [&](double angle) {
          const double u = 30.123456 + radius * std::cos(angle), v = -17.654321 + radius * std::sin(angle);
          return xy ? Point{u, v, 0} : Point{v, 0, u};
        };
        Script s;
        s.plane = xy ? Plane::xy : Plane::zx;
        s.commands = {SpindleSpeed{100}, FeedPerMinute{100}, Rapid{place(start)}};
        const Point centre = xy ? Point{30.123456, -17.654321, 0} : Point{-17.654321, 0, 30.123456};
        s.commands.emplace_back(Arc{place(start + (ccw ? swept : -swept)), centre, ccw ? Turn::ccw : Turn::cw});
        for (const auto& [id, d] : kAll) {
          const std::string text = write(s, d);
          const Trace t = traced(text, d);
          if (!t.faults.empty()) RC_FAIL(id + ": " + t.faults[0].says + "\n" + text);
          double length = 0, step = std::pow(10.0, -d.decimals);
          for (const Move& m : t.moves) {
            if (m.kind == Move::Kind::rapid) continue;
            const auto angle = [&](Point p) {
              return xy ? std::atan2(p.y - m.centre.y, p.x - m.centre.x)
                        : std::atan2(p.x - m.centre.x, p.z - m.centre.z);
            };
            const double r = std::hypot(m.from.x - m.centre.x, m.from.y - m.centre.y, m.from.z - m.centre.z);
            double turn = angle(m.to) - angle(m.from);
            if (m.kind == Move::Kind::cw) turn = -turn;
            if (turn <= 0) turn += full;
            length += m.kind == Move::Kind::feed ? nc_scripts::apart(m.from, m.to) : r * turn;
          }
          // A radius that is a step off is 2 pi steps off around; ends are off by a step each.
          if (std::abs(length - radius * swept) > 12 * step) {
            RC_FAIL(id + ": " + shortest(length) + " for " + shortest(radius * swept) + "\n" + text);
          }
        }
      },
      5 * cases());
}

/// With three decimals, rounding each number on its own would leave radii up to 0.0028 mm apart.
TEST(NcWrite, ThreeDecimalsKeepTheRadiiWithinWhatIsPublished) {
  Dialect coarse = dialect("rs274-plain");
  coarse.decimals = 3;
  expect_property(
      [&] {
        const double radius = 5 + any(0, 1) * std::numbers::pi,
                     start = any(0.5, 1.1) + nc_scripts::count(0, 3) * 0.5 * std::numbers::pi, swept = any(2.8, 3.5);
        const Point centre{any(0, 0.01), any(0, 0.01), 0};
        const auto place = [&](double angle) {
          return Point{centre.x + radius * std::cos(angle), centre.y + radius * std::sin(angle), 0};
        };
        Script s;
        s.plane = Plane::xy;
        s.commands = {SpindleSpeed{100}, FeedPerMinute{100}, Rapid{place(start)},
                      Arc{place(start + swept), centre, Turn::ccw}};
        const Trace t = traced(write(s, coarse), coarse);
        if (!t.faults.empty()) RC_FAIL(t.faults[0].says);
      },
      200 * cases());
}

TEST(NcWrite, CommentsAreWhatControlsCanShow) {
  Script s;
  s.header = {"a (b) {c} \xC3\x98 d\nM3", "msg, hello", "LOGOPEN,f", std::string(250, 'x'), ""};
  for (int i = 0; i < 30; ++i) s.header[4] += "word ";
  const auto lines = lines_of(write(s, dialect("rs274-plain")));
  EXPECT_EQ(lines[0], "(a [b] [c] ? d M3)");
  EXPECT_EQ(lines[1], "(- msg, hello)");
  EXPECT_EQ(lines[2], "(- LOGOPEN,f)");
  for (const auto& line : lines) EXPECT_LE(line.size(), 104U) << line;
  EXPECT_EQ(lines[3] + lines[4] + lines[5],
            "(" + std::string(100, 'x') + ")(" + std::string(100, 'x') + ")(" + std::string(50, 'x') + ")");
}

TEST(NcWrite, BrokenPromisesOfTheScriptAreRefused) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const std::vector<std::vector<Command>> kCases = {
      {Line{{1, 0, 1}}},
      {SpindleSpeed{100}, Line{{1, 0, 1}}},
      {FeedPerTurn{0.1}, Line{{1, 0, 1}}},
      {SpindleSpeed{100}, FeedPerTurn{0.1}, ToolChange{1, ""}, Line{{1, 0, 1}}},
      {SpindleSpeed{100}, FeedPerTurn{0.1}, SpindleStop{}, Line{{1, 0, 1}}},
      {SpindleSpeed{0}},
      {SurfaceSpeed{100, 0}},
      {FeedPerTurn{0}},
      {ToolChange{0, ""}},
      {Parameter{5000, 0, ""}},
      {Dwell{-1}},
      {Rapid{{nan, 0, 1}}},
      {SpindleSpeed{100}, FeedPerTurn{0.1}, Arc{{3, 0, 0}, {1, 0, 0}, Turn::cw}},
      {Parameter{1, 0, ""}, SpindleSpeed{100}, FeedPerTurn{0.1}, Correction{1, 0},
       Arc{{1, 0, 0}, {0.5, 0, 0}, Turn::cw}},
      {Parameter{1, 0, ""}, SpindleSpeed{100}, FeedPerTurn{0.1}, Correction{1, 0}, Line{{1, 0, 0}}, ToolChange{1, ""},
       SpindleSpeed{100}, FeedPerTurn{0.1}, Arc{{2, 0, 0}, {1, 0, 0}, Turn::cw}},
      {SpindleSpeed{100}, FeedPerTurn{0.1}, Cycle{.clear = 1, .bottom = 1}},
      {SurfaceSpeed{100, 500}, FeedPerTurn{0.1}, Cycle{.clear = 1, .bottom = 0, .pitch = 1}},
  };
  for (std::size_t i = 0; i < kCases.size(); ++i) {
    Script s;
    s.commands = kCases[i];
    EXPECT_THROW((void)write(s, dialect("rs274-lathe")), Broken) << i;
  }
}

}  // namespace
}  // namespace groovewright
