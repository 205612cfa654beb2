// Programs put through the open interpreter of Debian: linuxcnc-uspace.
#include "rs274.h"

#include <gtest/gtest.h>

#include "../nc_scripts.h"
#include "groovewright/base/text.h"

namespace groovewright {
namespace {

const nc::Dialect& lathe() { return nc_scripts::dialects().at("rs274-lathe"); }

TEST(Rs274Reader, MovesAsWeTraceRandomScripts) {
  expect_property(
      [] {
        const nc::Script script = nc_scripts::any_script();
        for (const auto& [id, dialect] : nc_scripts::dialects()) {
          const std::string text = nc::write(script, dialect);
          const std::string differs = readers::second_opinion(text, dialect);
          if (!differs.empty()) RC_FAIL(id + ": " + differs + "\n" + text);
        }
      },
      std::max(1, cases() / 4));
}

TEST(Rs274Reader, MovesAsWeTraceProgramsByHand) {
  const std::string mill = "G17 G21 G90 G94\nT1 M6\nS1000 M3 F100\n", turn = "G18 G21 G90 G94\nT1 M6\nS1000 M3 F100\n";
  const std::string kPrograms[] = {
      mill + "G0 X7 Y7 Z0\nG2 X10 Y16 I3 J4\n",
      mill + "G0 X0 Y0 Z0\nG2 X10 Y15 R20 Z5\n",
      mill + "G0 X0 Y0 Z0\nG3 X6 Y0 R-5\nG3 X0 Y0 R5\nG2 X6 Y0 R5\nG2 X0 R-5\n",
      mill + "G0 X5 Y0 Z0\nG3 X5 Y0 I-5 Z3\nG2 X5 Y0 J4\n",
      mill + "G0 X1 Y1 Z1\nG91 G1 X2\nY3\nG0 Z1\nG2 X2 Y0 I1 J0\nG90 X0 Y4 I-2.5\nG1 X0\n",
      mill + "N10 g0 x +0. 12 34 y 7 z1 (a) ; b\n/N20 G1 X1 (block delete is off)\n",
      mill + "G0 X1 Y2 Z3\nG90 G81 G98 X4 Y5 Z1.5 R2.8\nX6\nY7 Z1\nG80\nG0 X0\n",
      mill + "G0 X1 Y2 Z1\nG99 G82 X4 Y5 Z-1.5 R2.8 P0.25\nX6\nG80\nG98 G83 X4 Y5 Z-9 R2 Q1.3\nX0 Q4\nG80\n",
      mill +
          "G0 X1 Y2 Z1\nG97 S300 M4\nG33.1 Z-3 K0.7\nM3 S200\nG95 F0.1\nG1 X2\nG94 F50\nX3\nG4 "
          "P1.5\nM8\nX4\nM7\nX5\nM9\n"
          "X6\n",
      turn + "G0 X5 Z0\nG3 X10 Z-5 K-5\nG2 X12 Z-7 R2\n",
      turn + "G7\nG0 X20 Z0\nG1 X30 Z-5\nG2 X40 Z-10 I5\nG91 X2 Z-1 I1\nG90 G8\nG1 X3\n",
      turn + "G0 X20 Z0\nG96 D1500 S120 M3\nG95 F0.2\nG1 X10\nT2 M6\nG97 S400 M4\nG0 X30\nG1 X29 F0.1\n",
      "G20 G17 G90 G94 S500 M3 F4\nG0 X1 Y1 Z1\nG1 X2\nG2 X3 Y0 J-1\n",
      "#1=2\n#2=[#1*3]\n#[#1+1]=7\n" + mill + "G0 X#1 Y[#2-1] Z##1\nG1 X[1+2*3-4/5] Y[2**3**2/10]\n",
  };
  for (const std::string& program : kPrograms) {
    EXPECT_EQ(readers::second_opinion(program + "M2\n", lathe()), "") << program;
  }
}

/// G84 waits half a second at the bottom there; nothing published says so.
TEST(Rs274Reader, TapsAsWeTraceG84) {
  nc::Dialect taps = lathe();
  taps.words["tap"] = "G84 X{x} Y{y} Z{bottom} R{clear}";
  const std::string program =
      "G17 G21 G90 G94\nG97 S500 M3\nF625\nG0 X0 Y0 Z9\nG98 G84 X5 Y6 Z-8 R2\nG99 X7\nG80\nG0 X0\nM2\n";
  auto theirs = readers::interpret(program);
  EXPECT_EQ(theirs.status, 0) << theirs.said;
  std::erase_if(theirs.moves, [](const nc::Move& m) { return m.kind == nc::Move::Kind::dwell; });
  Diagnostics diagnostics;
  EXPECT_EQ(readers::difference(nc::trace(nc::read("p", program, diagnostics).value(), taps), theirs), "");
}

TEST(Rs274Reader, ExpressionsHaveTheValuesThatWeRead) {
  const char* kExpressions[] = {"[1+2*3-4/5]",
                                "[2.0/3*1.5-5.5/11.0]",
                                "[2**3**2]",
                                "[0-7 MOD 3]",
                                "[-7 MOD 3]",
                                "[7 MOD -3]",
                                "FIX[-2.8]",
                                "FIX[2.8]",
                                "FUP[-2.8]",
                                "FUP[2.8]",
                                "ROUND[-2.5]",
                                "ROUND[2.5]",
                                "ABS[-3.25]",
                                "SIN[30]",
                                "COS[100]",
                                "TAN[40]",
                                "ASIN[0.3]",
                                "ACOS[-0.3]",
                                "ATAN[1]/[-1]",
                                "ATAN[-2]/[-1]",
                                "SQRT[2]",
                                "EXP[1.5]",
                                "LN[7]",
                                "[-2**3]",
                                "[[0-2]**3]",
                                "[1 AND 0]",
                                "[1 OR 0]",
                                "[1 XOR 1]",
                                "[5-2-1]",
                                "[16/4/2]",
                                "[1+ACOS[0]-[3**[4.0/2]]]",
                                "+.5",
                                "5.",
                                "- 1 2 . 5"};
  std::string program = "G17 G21 G90\nG0 X100 Y0 Z0\n";
  for (const char* expression : kExpressions) program += "G0 X" + std::string(expression) + "\nG0 X100\n";
  EXPECT_EQ(readers::second_opinion(program + "M2\n", lathe()), "");
}

/// What we call a fault, the interpreter refuses as well. (It does not mind a spindle at rest.)
TEST(Rs274Reader, RefusesWhatWeRefuse) {
  const std::string go = "G17 G21 G90 G94 S1000 M3 F100\nG0 X0 Y0 Z0\n";
  const std::string kPrograms[] = {"G17 G21 S100 M3\nG0 X0 Y0 Z0\nG1 X1\n",
                                   go + "G95\nG1 X1\n",
                                   go + "G96\n",
                                   go + "G2 X10 Y0 I4\n",
                                   go + "G2 X10 Y0\n",
                                   go + "G2 X10 R4\n",
                                   go + "G2 X0 R4\n",
                                   go + "G0 G1 X1\n",
                                   go + "G90 G91\n",
                                   go + "M3 M5\n",
                                   go + "G4\n",
                                   go + "G1.5 X1\n",
                                   go + "G81 X1 Y1 Z-1\n",
                                   go + "G81 X1 Y1 Z3 R1\n",
                                   go + "G83 X1 Y1 Z-3 R1\n",
                                   go + "G33.1 Z-3\n",
                                   go + "F-1\n",
                                   go + "T1.5\n",
                                   go + "G0 X1 X2\n",
                                   go + "G1 X\n",
                                   go + "G1 XY5\n",
                                   go + "G1 X[1+2\n",
                                   go + "G1 X[1/0]\n",
                                   go + "G1 XSQRT[-1]\n",
                                   go + "G1 XASIN[2]\n",
                                   go + "G1 X1.2.3\n",
                                   go + "G1 (open\n",
                                   go + "G1 X1 &\n",
                                   go + "#0=1\n",
                                   go + "G80 X1\n",
                                   go + "G0 X1 R5\n"};
  for (const std::string& program : kPrograms) {
    EXPECT_NE(readers::interpret(program + "M2\n").status, 0) << program;
    Diagnostics diagnostics;
    const auto read = nc::read("p", program + "M2\n", diagnostics);
    EXPECT_TRUE(!read || !nc::trace(*read, lathe()).faults.empty()) << program;
  }
}

/// The comparison itself must be able to fail.
TEST(Rs274Reader, TellsWhereTwoReadingsDiffer) {
  const std::string program = "G17 G21 G90 G94 S1000 M3 F100\nG0 X0 Y0 Z0\nG1 X1\nG2 X3 Y0 I1\nM2\n";
  const auto theirs = readers::interpret(program);
  const auto differs = [&](const std::string& from, const std::string& to) {
    Diagnostics diagnostics;
    std::string other = program;
    other.replace(other.find(from), from.size(), to);
    return readers::difference(nc::trace(nc::read("p", other, diagnostics).value(), lathe()), theirs);
  };
  EXPECT_EQ(differs("X1", "X1"), "");
  EXPECT_NE(differs("X1", "X1.0003"), "");
  EXPECT_NE(differs("G2 X3 Y0 I1", "G3 X3 Y0 I1"), "");
  EXPECT_NE(differs("I1", "I1.0004"), "");
  EXPECT_NE(differs("F100", "F101"), "");
  EXPECT_NE(differs("S1000", "S1001"), "");
  EXPECT_NE(differs("M3", "M4"), "");
  EXPECT_NE(differs("G1 X1\n", ""), "");
  EXPECT_NE(differs("M2", "G0 X9\nM2"), "");
  EXPECT_NE(differs("G0 X0 Y0", "G0 X1 Y0"), "");
}

}  // namespace
}  // namespace groovewright
