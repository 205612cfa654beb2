// Programs as text: reading, tracing, writing, dialects. NIST = NIST IR 6556, "The NIST RS274/NGC Interpreter - Version
// 3" (2000).
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/catalog.h"
#include "nc_scripts.h"

namespace groovewright {
namespace {

using namespace nc;
using ::testing::HasSubstr;

// ---- reading ----

/// "G1 X2.5 Y-3" a block, blocks divided by "|"; or the diagnostics.
std::string blocks_of(const std::string& text) {
  Diagnostics diagnostics;
  const auto program = read("p.ngc", text, diagnostics);
  if (!program) return diagnostics.text();
  std::string out;
  for (const Block& b : program->blocks) {
    if (!out.empty()) out += "|";
    for (std::size_t i = 0; i < b.words.size(); ++i) {
      out += (i > 0 ? " " : "") + std::string(1, b.words[i].letter) + trimmed(b.words[i].value, 6);
    }
    if (!b.comment.empty()) out += "(" + b.comment + ")";
  }
  return out;
}

TEST(NcRead, BlocksAreAsTheLanguageHasThem) {
  const struct {
    const char *text, *blocks, *source;
  } kCases[] = {
      {"G1 X2.5 Y-3\n", "G1 X2.5 Y-3", "-"},
      {"g0x +0. 12 34y 7", "G0 X0.1234 Y7", "NIST 3.3: blanks and case mean nothing, this line for example"},
      {"N10 G1 X+.5 Z5.", "G1 X0.5 Z5", "NIST 3.3.2.1: numbers"},
      {"G1 X1 (one) Y2 (two)", "G1 X1 Y2(one two)", "NIST 3.3.4"},
      {"G1 X1 ; to the end ( too", "G1 X1( to the end ( too)", "comments behind ';': the open interpreter"},
      {"/G1 X1", "G1 X1", "NIST 3.3: block delete, switched off"},
      {"\r\n\n  \n", "", "empty lines"},
      {"G1 X1\r\nG1 X2\r\n", "G1 X1|G1 X2", "line ends of another system"},
      {"%\nG1 X1\n%\nG1 X2 &", "G1 X1", "NIST 3.2: nothing counts behind the second percent line"},
      {"#3=15\n#3=6 X#3\nX#3", "X15|X6", "NIST 3.3.2.2: a setting holds from the next line on, this for example"},
      {"#1=2\n#[1+1]=5\nX##1 Y[#1*#2]", "X5 Y10", "NIST 3.3.2.2"},
      {"X[2.0 / 3 * 1.5 - 5.5 / 11.0]", "X0.5", "NIST 3.3.2.3, this for example"},
      {"X[1 + 2 * 3 - 4 / 5]", "X6.2", "NIST 3.3.2.3"},
      {"X[2 ** 3 ** 2] Y[-7 MOD 3]", "X64 Y2", "of one rank from the left; MOD as the open interpreter has it"},
      {"X[1 AND 0] Y[1 OR 0] Z[1 XOR 1]", "X0 Y1 Z0", "NIST 3.3.2.3"},
      {"X FIX[2.8] Y FIX[-2.8]", "X2 Y-3", "NIST 3.3.2.4, these for example"},
      {"X FUP[2.8] Y FUP[-2.8]", "X3 Y-2", "NIST 3.3.2.4, these for example"},
      {"X SIN[30] Y COS[60] Z TAN[45]", "X0.5 Y0.5 Z1", "degrees"},
      {"X ATAN[1]/[-1] Y ASIN[1] Z ACOS[0]", "X135 Y90 Z90", "degrees"},
      {"X SQRT[2.25] Y EXP[0] Z LN[1] I ABS[-2] J ROUND[2.6]", "X1.5 Y1 Z0 I2 J3", "-"},
      {"X[150.2341+#1] Z[-12.3450+#2]", "p.ngc:1:12: error: ", "unset parameters"},
      {"#1 = 0.5 (d)\n#2 = -0.25\nX[150.2341+#1] Z[-12.3450+#2]", "(d)|X150.7341 Z-12.595", "corrections"},
  };
  for (const auto& c : kCases) {
    const std::string got = blocks_of(c.text);
    if (std::string(c.blocks).starts_with("p.ngc")) {
      EXPECT_THAT(got, HasSubstr(c.blocks)) << c.text << " (" << c.source << ")";
    } else {
      EXPECT_EQ(got, c.blocks) << c.text << " (" << c.source << ")";
    }
  }
}

TEST(NcRead, MistakesHaveTheirPlaceAndRemedy) {
  const struct {
    const char *text, *place, *code, *says;
  } kCases[] = {
      {"G1 X", "1:5", "E0403", "a number is due"},
      {"G1\nG1 X1.2.3", "2:8", "E0402", "a word is due"},
      {"G1 X1e5", "1:6", "E0402", "E begins no word"},
      {"G1 XY5", "1:5", "E0403", "a number is due"},
      {"G1 X--5", "1:5", "E0403", "a number is due"},
      {"#1=2\nG1 X-#1", "2:5", "E0403", "[0-#1]"},
      {"G1 X5 X6", "1:7", "E0402", "X stands twice"},
      {"G1 N5 X6", "1:4", "E0402", "stands first"},
      {"N1.5 G1", "1:1", "E0402", "0 to 99999"},
      {"G1 (open", "1:4", "E0406", "no end"},
      {"G1 (a (b) c)", "1:4", "E0406", "can't hold another"},
      {"G1 X1)", "1:6", "E0406", "no comment is open"},
      {"G1 X[1+2", "1:9", "E0404", "']' is due"},
      {"G1 X[1 2 +]", "1:11", "E0403", "a number is due"},
      {"G1 X[1 ? 2]", "1:8", "E0404", "an operator"},
      {"G1 X[1/0]", "1:6", "E0404", "divides by zero"},
      {"G1 X[5 MOD 0]", "1:6", "E0404", "divides by zero"},
      {"G1 X SQRT[-1]", "1:6", "E0404", "outside what this function takes"},
      {"G1 X ASIN[2]", "1:6", "E0404", "outside"},
      {"G1 X LN[0]", "1:6", "E0404", "outside"},
      {"G1 X [[0-2]**0.5]", "1:7", "E0404", "no value"},
      {"G1 X SIN 30", "1:6", "E0404", "takes brackets"},
      {"G1 X ATAN[1]", "1:6", "E0404", "takes two"},
      {"G1 X FOO[1]", "1:6", "E0403", "a number is due"},
      {"G1 X#7", "1:5", "E0405", "#7 was not set"},
      {"#0=1", "1:1", "E0405", "#1 to #4999"},
      {"#5220=1", "1:1", "E0405", "the control's own"},
      {"#1.5=1", "1:1", "E0405", "#1 to #4999"},
      {"#<depth>=1", "1:1", "E0405", "numbers"},
      {"#1", "1:1", "E0405", "`#1 = 0.5`"},
      {"#1=", "1:4", "E0403", "a number is due"},
      {"O100 sub", "1:1", "E0402", "O begins no word"},
      {"G1 X1 &", "1:7", "E0402", "a word is due"},
      {"G1 X99999999999", "1:5", "E0403", "beyond"},
      {"G1 X[1000000*1000000]", "1:6", "E0404", "beyond"},
      {"G1 X1 \x01", "1:7", "E0401", "control character"},
      {"G1 X1 \xFF", "1:7", "E0402", "a word is due"},
  };
  for (const auto& c : kCases) {
    const std::string got = blocks_of(c.text);
    EXPECT_THAT(got, HasSubstr("p.ngc:" + std::string(c.place) + ": error: ")) << c.text;
    EXPECT_THAT(got, HasSubstr("[" + std::string(c.code) + "]")) << c.text;
    EXPECT_THAT(got, HasSubstr(c.says)) << c.text;
  }
}

TEST(NcRead, AllMistakesAreToldInOneGo) {
  Diagnostics diagnostics;
  EXPECT_FALSE(read("p.ngc", "G1 X\nG1 X1\nG1 Y\n", diagnostics).has_value());
  EXPECT_EQ(diagnostics.all().size(), 2U);
}

TEST(NcRead, LimitsHoldAtBothSides) {
  const auto nested = [](int depth) {
    return "X" + std::string(static_cast<std::size_t>(depth), '[') + "1" +
           std::string(static_cast<std::size_t>(depth), ']');
  };
  EXPECT_EQ(blocks_of(nested(64)), "X1");
  EXPECT_THAT(blocks_of(nested(65)), HasSubstr("too deep"));
  Diagnostics diagnostics;
  EXPECT_TRUE(read("p", std::string(kMaxProgramBytes, '\n'), diagnostics).has_value());
  EXPECT_FALSE(read("p", std::string(kMaxProgramBytes + 1, '\n'), diagnostics).has_value());
}

// ---- tracing ----

const Dialect& dialect(const char* id) { return nc_scripts::dialects().at(id); }

Trace traced(const std::string& text, const Dialect& d) {
  Diagnostics diagnostics;
  const auto program = read("p.ngc", text, diagnostics);
  EXPECT_TRUE(program.has_value()) << diagnostics.text();
  return program ? trace(*program, d) : Trace{};
}

std::string shown(Point p) { return trimmed(p.x, 4) + "," + trimmed(p.y, 4) + "," + trimmed(p.z, 4); }

/// "G1 5,0,-3", "G2 10,16,0 @10,11,0", "P0.5"; faults as "!3 …". The move to the start is left out.
std::string told(const Trace& t) {
  std::string out;
  for (std::size_t i = 1; i < t.moves.size(); ++i) {
    const Move& m = t.moves[i];
    if (!out.empty()) out += "|";
    switch (m.kind) {
      case Move::Kind::rapid:
        out += "G0 " + shown(m.to);
        break;
      case Move::Kind::feed:
        out += "G1 " + shown(m.to);
        break;
      case Move::Kind::dwell:
        out += "P" + trimmed(m.feed, 4);
        break;
      default:
        out += (m.kind == Move::Kind::cw ? "G2 " : "G3 ") + shown(m.to) + " @" + shown(m.centre);
    }
  }
  for (const Fault& f : t.faults) out += "!" + std::to_string(f.line) + " " + f.says;
  return out;
}

TEST(NcTrace, MovesAreAsPublished) {
  const std::string mill = "G17 G21 G90 G94 S1000 M3 F100\n", lathe = "G18 G21 G90 G94 S1000 M3 F100\n";
  const std::string diameters = "G7 G18 G21 G90 G94 S1000 M3 F100\n";
  const struct {
    std::string text, moves, source;
  } kCases[] = {
      {mill + "G0 X7 Y7 Z0\nG2 X10 Y16 I3 J4\n", "G2 10,16,0 @10,11,0", "NIST 3.5.3.2, this for example: radius 5"},
      {mill + "G0 X0 Y0 Z0\nG2 X10 Y15 R20 Z5\n", "G2 10,15,5 @19.8551,-2.4034,0",
       "NIST 3.5.3.1, this for example; centre sqrt(400 - 325 / 4) to the right of the chord's middle"},
      {mill + "G0 X0 Y0 Z0\nG3 X10 Y0 R5\n", "G3 10,0,0 @5,0,0", "half a circle"},
      {mill + "G0 X0 Y0 Z0\nG3 X6 Y0 R-5\n", "G3 6,0,0 @3,-4,0", "R below 0: the long way; 3-4-5 triangle"},
      {mill + "G0 X0 Y0 Z0\nG3 X6 Y0 R5\n", "G3 6,0,0 @3,4,0", "R above 0: the short way; 3-4-5 triangle"},
      {mill + "G0 X5 Y0 Z0\nG3 X5 Y0 I-5\n", "G3 5,0,0 @0,0,0", "a full circle"},
      {lathe + "G0 X0 Z0\nG3 X5 Z-5 K-5\n", "G3 5,0,-5 @0,0,-5", "G18: I belongs to X, K to Z; z to the right"},
      {diameters + "G0 X20 Z0\nG1 X30 Z-5\nG2 X40 Z-10 I5\n", "G1 15,0,-5|G2 20,0,-10 @20,0,-5",
       "X a diameter, I a radius"},
      {mill + "G0 X1 Y1 Z1\nG91 G1 X2\nY3\nG90 X0\n", "G1 3,1,1|G1 3,4,1|G1 0,4,1", "steps, and motion that stays"},
      {"G20 G17 S100 M3 F1\nG0 X1 Y1 Z0\nG1 X2\n", "G1 50.8,25.4,0", "inches"},
      {mill + "G0 X1 Y1 Z1\nG4 P0.5\n", "P0.5", "dwell"},
      {mill + "G0 X1 Y2 Z3\nG90 G81 G98 X4 Y5 Z1.5 R2.8\nG80\n", "G0 4,5,3|G0 4,5,2.8|G1 4,5,1.5|G0 4,5,3",
       "NIST 3.5.16.2, example 1"},
      {mill + "G0 X0 Y0 Z1\nG99 G81 X1 Y0 Z-1 R2\nX2\nG80\n",
       "G0 0,0,2|G0 1,0,2|G1 1,0,-1|G0 1,0,2|G0 2,0,2|G1 2,0,-1|G0 2,0,2", "words that stay from hole to hole"},
      {mill + "G0 X0 Y0 Z2\nG82 X0 Y0 Z-1 R2 P0.5\nG80\n", "G1 0,0,-1|P0.5|G0 0,0,2", "NIST 3.5.16.3"},
      {mill + "G0 X0 Y0 Z2\nG83 X0 Y0 Z-1 R2 Q2\nG80\n", "G1 0,0,0|G0 0,0,2|G0 0,0,0.254|G1 0,0,-1|G0 0,0,2",
       "NIST 3.5.16.4; backs off 0.010 in as the published interpreter"},
      {lathe + "G0 X0 Z5\nM2\n", "", "nothing behind the start"},
  };
  for (auto c : kCases) {
    if (c.text.find("M2") == std::string::npos) c.text += "M2\n";
    EXPECT_EQ(told(traced(c.text, dialect("rs274-lathe"))), c.moves) << c.text << c.source;
  }
}

TEST(NcTrace, TheMachineIsAsTheModesSay) {
  const Trace t = traced(
      "G18 G21 G90 G94 G7\nT3 M6\nG96 D2500 S180 M4\nM8\nG95 F0.2\nG0 X10 Z1\nG1 Z0\nM9\nG97 S800 M3\nG94 F50\nG1 Z-1\n"
      "G33.1 Z-5 K1.25\nG1 X12\nM5\nM2\n",
      dialect("rs274-lathe"));
  ASSERT_TRUE(t.faults.empty()) << t.faults.front().says;
  ASSERT_EQ(t.moves.size(), 6U);
  const Move& turned = t.moves[1];
  EXPECT_EQ(turned.tool, 3);
  EXPECT_EQ(turned.line, 7);
  EXPECT_TRUE(turned.coolant && turned.feed_per_turn && turned.spindle.on);
  EXPECT_EQ(turned.feed, 0.2);
  EXPECT_EQ(turned.spindle.surface, 180);
  EXPECT_EQ(turned.spindle.max_rpm, 2500);
  EXPECT_EQ(turned.spindle.turn, Turn::ccw);
  const Move& drilled = t.moves[2];
  EXPECT_FALSE(drilled.coolant || drilled.feed_per_turn);
  EXPECT_EQ(drilled.spindle.rpm, 800);
  EXPECT_EQ(drilled.spindle.surface, 0);
  const Move &in = t.moves[3], &out = t.moves[4], &after = t.moves[5];
  EXPECT_TRUE(in.feed == 1.25 && in.feed_per_turn && in.to.z == -5 && in.spindle.turn == Turn::cw);
  EXPECT_TRUE(out.feed == 1.25 && out.feed_per_turn && out.to.z == -1 && out.spindle.turn == Turn::ccw);
  EXPECT_TRUE(after.feed == 50 && !after.feed_per_turn && after.spindle.turn == Turn::cw);
}

TEST(NcTrace, WhatIsWrongIsAFaultOfItsLine) {
  const std::string go = "G17 G21 G90 G94 S1000 M3 F100 G0 X0 Y0 Z0\n";
  const struct {
    std::string text;
    int line;
    const char* says;
  } kCases[] = {
      {"G17 S100 M3\nG0 X0 Y0 Z0\nG1 X1\nM2", 3, "a feed is missing"},
      {"G17 F100\nG0 X0 Y0 Z0\nG1 X1\nM2", 3, "spindle is at rest"},
      {"G17 F100 M3\nG0 X0 Y0 Z0\nG1 X1\nM2", 3, "spindle is at rest"},
      {go + "M5\nG1 X1\nM2", 3, "spindle is at rest"},
      {go + "T1 M6\nG1 X1\nM2", 3, "spindle is at rest"},
      {go + "G95\nG1 X1\nM2", 3, "a feed is missing"},
      {go + "G96 S100\nG97\nG1 X1\nM2", 4, "spindle is at rest"},
      {go + "G96\nM2", 2, "G96 takes the surface speed"},
      {go + "M6\nM2", 2, "T is missing"},
      {"G17 S100 M3 F9\nG1 X0 Y0 Z0\nM2", 2, "not known yet"},
      {"G17 S100 M3 F9\nG0 X0 Y0\nG1 X1\nM2", 3, "not known yet"},
      {"G18 S100 M3 F9\nG0 X1\nG3 X2 R5\nM2", 3, "not known yet"},
      {"G91\nG0 X1 Y1 Z1\nM2", 2, "not known"},
      {go + "G2 X10 Y0 I4\nM2", 2, "radii differ by 2.0000"},
      {go + "G2 X10 Y0 I4.9989\nM2", 2, "radii differ by 0.0022"},
      {go + "G2 X10 Y0\nM2", 2, "takes I and J"},
      {go + "G2 Z1 I4\nM2", 2, "axis word of its plane"},
      {go + "G2 I4\nM2", 2, "lacks its axis words"},
      {go + "G2 X10 R4\nM2", 2, "less than half the way"},
      {go + "G2 X0 R4\nM2", 2, "ends elsewhere"},
      {go + "G2 X10 I5 K1\nM2", 2, "K has no meaning"},
      {go + "G1\nM2", 2, "lacks its axis words"},
      {go + "G1 X1 R2\nM2", 2, "R has no meaning"},
      {go + "G1 A1\nM2", 2, "lacks its axis words"},
      {go + "G80 X1\nM2", 2, "axis words without a motion"},
      {go + "G0 G1 X1\nM2", 2, "G1 and G0 exclude each other"},
      {go + "G90 G91\nM2", 2, "exclude"},
      {go + "M3 M5\nM2", 2, "exclude"},
      {go + "M8 M9\nM2", 2, "exclude"},
      {go + "G4\nM2", 2, "G4 takes seconds"},
      {go + "G5 X1\nM2", 2, "G5 is no known code"},
      {go + "G1.5 X1\nM2", 2, "G1.5 is no known code"},
      {go + "M77\nM2", 2, "M77 is no known code"},
      {go + "G19\nM2", 2, "G19 is refused"},
      {go + "G28\nM2", 2, "G28 is refused"},
      {go + "G53 G0 X1\nM2", 2, "G53 is refused"},
      {go + "G55\nM2", 2, "G55 is refused"},
      {go + "G92 X1\nM2", 2, "G92 is refused"},
      {go + "G41 D1\nM2", 2, "G41 is refused"},
      {go + "G84 X1 Y1 Z-1 R1\nM2", 2, "none of this control's codes"},
      {go + "G18\nG81 X1 Z-1 R1\nM2", 3, "in G18 along Y"},
      {go + "G91 G81 X1 Y1 Z-1 R1\nM2", 2, "G90 only"},
      {go + "G81 X1 Y1 Z-1\nM2", 2, "the height above the hole as R"},
      {go + "G81 X1 Y1 Z3 R1\nM2", 2, "R lies below Z"},
      {go + "G83 X1 Y1 Z-3 R1\nM2", 2, "the peck as Q"},
      {go + "G83 X1 Y1 Z-3 R1 Q.0001\nM2", 2, "too many pecks"},
      {go + "G82 X1 Y1 Z-3 R1\nM2", 2, "seconds as P"},
      {go + "G81 X1 Y1 Z-3 R1 L3\nM2", 2, "L has no meaning"},
      {go + "G33.1 Z-3\nM2", 2, "the pitch as K"},
      {go + "G33.1 X3 Z-3 K1\nM2", 2, "along Z alone"},
      {go + "F-1\nM2", 2, "F is a feed"},
      {go + "S-1\nM2", 2, "S is a speed"},
      {go + "T1.5\nM2", 2, "T is a tool's number"},
      {go + "M2\nG0 X1\nG0 X2", 3, "behind the program's end"},
      {go + "G0 X1", 2, "no end"},
  };
  for (const auto& c : kCases) {
    const Trace t = traced(c.text, dialect("rs274-lathe"));
    ASSERT_EQ(t.faults.size(), 1U) << c.text << "\n" << told(t);
    EXPECT_EQ(t.faults[0].line, c.line) << c.text;
    EXPECT_THAT(t.faults[0].says, HasSubstr(c.says)) << c.text;
  }
}

TEST(NcTrace, AWordOfAnotherControlIsAFault) {
  for (const char* word : {"G7", "G8", "G91.1", "G95", "G96 S100", "G97", "G33.1 Z1 K1"}) {
    const Trace t = traced("G18 G21 S100 M3\nG0 X1 Z1\n" + std::string(word) + "\nM2\n", dialect("rs274-plain"));
    ASSERT_EQ(t.faults.size(), 1U) << word;
    EXPECT_THAT(t.faults[0].says, HasSubstr("none of this control's codes")) << word;
  }
}

// ---- any bytes ----

std::string any_text() {
  static const std::string kLikely =
      "GGGGXXYYZZIJKRFSTMMPQDNH0011223456789..--[[]]##==()*/+; \t%ATNMODSI\n\n\n\xC3\xA9\x01";
  return *rc::gen::container<std::string>(rc::gen::resize(rc::kNominalSize, rc::gen::elementOf(kLikely)));
}

void must_survive(const std::string& text) {
  Diagnostics diagnostics;
  const auto program = read("any", text, diagnostics);
  RC_ASSERT(program.has_value() != diagnostics.has_errors());
  if (!program) return;
  for (const auto& [id, d] : nc_scripts::dialects()) {
    for (const Move& m : trace(*program, d).moves) {
      RC_ASSERT(std::isfinite(m.to.x + m.to.y + m.to.z + m.centre.x + m.centre.y + m.centre.z + m.feed));
    }
  }
}

TEST(NcRead, AnyBytesEndInBlocksOrDiagnostics) {
  expect_property([] { must_survive(*rc::gen::arbitrary<std::string>()); });
  expect_property([] { must_survive(any_text()); }, 20 * cases());
}

TEST(NcRead, AProgramWithOneByteChangedNeverBreaksUs) {
  expect_property([] {
    std::string text = write(nc_scripts::any_script(12), dialect("rs274-lathe"));
    text[static_cast<std::size_t>(nc_scripts::count(0, static_cast<int>(text.size()) - 1))] =
        static_cast<char>(nc_scripts::count(0, 255));
    must_survive(text);
  });
}

// ---- dialects as data ----

std::string dialect_problems(const std::string& words, const std::string& rest = "lathe_x: radius\ndecimals: 4\n") {
  Diagnostics diagnostics;
  const TextFile file{"own.yaml", "dialect: own\nname: Own\nedition: own 1\nsource: invented\n" + rest + words};
  (void)catalog::read_catalog({&file, 1}, diagnostics);
  return diagnostics.text();
}

TEST(NcDialect, FunctionsHaveExamplesWithoutFault) {
  for (const Function& f : functions()) {
    EXPECT_EQ(pattern_fault(f.name, f.example), "") << f.name;
    EXPECT_EQ(dialect_problems("words: {" + std::string(f.name) + ": \"" + std::string(f.example) + "\"}\n"), "");
  }
}

TEST(NcDialect, MistakesInTheDataAreTold) {
  const struct {
    const char *words, *says;
  } kCases[] = {
      {"words: {surface_sped: G96 S1}\n",
       "own.yaml:7:9: error: 'surface_sped' is no function of a control; did you mean "
       "'surface_speed'?"},
      {"words: {feed_per_turn: \"G95 F{fed}\"}\n", "{fed} is no placeholder of this function; there are {feed}"},
      {"words: {feed_per_turn: G95}\n", "{feed} is missing"},
      {"words: {feed_per_turn: \"G95 F{feed\"}\n", "is no placeholder"},
      {"words: {diameters: \"G\"}\n", "a number is due"},
      {"words: {diameters: \"(none)\"}\n", "it holds no words"},
      {"words: {diameters: [G7]}\n", "takes a text"},
      {"wordz: {diameters: G7}\n", "'wordz' is not a key"},
  };
  for (const auto& c : kCases) EXPECT_THAT(dialect_problems(c.words), HasSubstr(c.says)) << c.words;
  EXPECT_EQ(dialect_problems(""), "");
  EXPECT_THAT(dialect_problems("", "lathe_x: chord\ndecimals: 4\n"), HasSubstr("diameter or radius"));
  EXPECT_THAT(dialect_problems("", "lathe_x: radius\ndecimals: 2\n"), HasSubstr("3 to 6"));
  EXPECT_THAT(dialect_problems("", "lathe_x: radius\ndecimals: 7\n"), HasSubstr("3 to 6"));
}

TEST(NcDialect, BuiltInOnesNameTheirSource) {
  EXPECT_GE(nc_scripts::dialects().size(), 2U);
  for (const auto& [id, d] : nc_scripts::dialects()) {
    EXPECT_EQ(d.id, id);
    EXPECT_FALSE(d.source.empty() || d.name.empty()) << id;
  }
}

}  // namespace
}  // namespace groovewright
