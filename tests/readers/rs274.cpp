#include "rs274.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <regex>
#include <sstream>

#include "groovewright/base/text.h"
#include "processes.h"
#include "run.h"

namespace groovewright::readers {
namespace {

using nc::Move;
using nc::Plane;
using nc::Point;
using nc::Turn;

constexpr double kPrinted = 1e-4;  // four decimals on one side, exact on the other: half a unit, and a little
constexpr double kNoLength = 1.5e-4;

/// The interpreter's state, as its canonical functions tell it.
struct Canon {
  Interpreted out;
  Move now;
  double scale = 1;
  double feed = 0;
  bool per_turn = false, flood = false, mist = false;
  double sync = 0;

  Move& add(Move::Kind kind, Point to) {
    Move m = now;
    m.kind = kind;
    m.to = to;
    m.coolant = flood || mist;
    m.feed = kind == Move::Kind::rapid ? 0 : feed;
    m.feed_per_turn = kind != Move::Kind::rapid && per_turn;
    out.moves.push_back(m);
    now.from = to;
    return out.moves.back();
  }
  Point point(const std::vector<double>& v, std::size_t at = 0) const {
    return {scale * v.at(at), scale * v.at(at + 1), scale * v.at(at + 2)};
  }
  void arc(const std::vector<double>& v) {
    const double first = scale * v.at(0), second = scale * v.at(1), u = scale * v.at(2), w = scale * v.at(3);
    const double third = scale * v.at(5);
    const bool xy = now.plane == Plane::xy;
    Move& m = add(v.at(4) > 0 ? Move::Kind::ccw : Move::Kind::cw,
                  xy ? Point{first, second, third} : Point{second, third, first});
    m.centre = xy ? Point{u, w, m.from.z} : Point{w, m.from.y, u};
  }
  void tap(const std::vector<double>& v) {
    const Point start = now.from;
    for (const bool in : {true, false}) {
      Move& m = add(Move::Kind::feed, in ? point(v) : start);
      m.feed = sync;
      m.feed_per_turn = true;
      if (!in) m.spindle.turn = m.spindle.turn == Turn::cw ? Turn::ccw : Turn::cw;
    }
  }
  void spindle_mode(double max) {
    now.spindle.max_rpm = max;
    now.spindle.rpm = now.spindle.surface = 0;
  }
  void function(const std::string& name, const std::string& arguments);
};

std::vector<double> numbers(const std::string& arguments) {
  std::vector<double> v;
  std::string plain = arguments;
  for (char& c : plain) c = c == ',' ? ' ' : c;
  std::istringstream in(plain);
  in.imbue(std::locale::classic());
  for (double d; in >> d;) v.push_back(d);
  return v;
}

void Canon::function(const std::string& name, const std::string& arguments) {
  static const std::vector<std::string> kNoMatter = {"COMMENT",
                                                     "MESSAGE",
                                                     "SET_G5X_OFFSET",
                                                     "SET_G92_OFFSET",
                                                     "SET_XY_ROTATION",
                                                     "SET_FEED_REFERENCE",
                                                     "ON_RESET",
                                                     "USE_TOOL_LENGTH_OFFSET",
                                                     "SELECT_TOOL",
                                                     "START_CHANGE",
                                                     "SET_NAIVECAM_TOLERANCE",
                                                     "SET_MOTION_CONTROL_MODE",
                                                     "STOP_SPEED_FEED_SYNCH",
                                                     "DISABLE_FEED_OVERRIDE",
                                                     "ENABLE_FEED_OVERRIDE",
                                                     "DISABLE_SPEED_OVERRIDE",
                                                     "ENABLE_SPEED_OVERRIDE"};
  if (std::ranges::find(kNoMatter, name) != kNoMatter.end()) return;
  const std::vector<double> v = numbers(arguments);
  if (name == "STRAIGHT_TRAVERSE") {
    add(Move::Kind::rapid, point(v));
  } else if (name == "STRAIGHT_FEED") {
    add(Move::Kind::feed, point(v));
  } else if (name == "ARC_FEED") {
    arc(v);
  } else if (name == "RIGID_TAP") {
    tap(v);
  } else if (name == "DWELL") {
    Move& m = add(Move::Kind::dwell, now.from);
    m.feed = v.at(0);
    m.feed_per_turn = false;
  } else if (name == "USE_LENGTH_UNITS") {
    scale = arguments == "CANON_UNITS_INCHES" ? 25.4 : 1;
  } else if (name == "SELECT_PLANE") {
    now.plane = arguments == "CANON_PLANE_XZ" ? Plane::zx : Plane::xy;
    if (arguments == "CANON_PLANE_YZ") out.odd.push_back(name);
  } else if (name == "SET_FEED_RATE") {
    feed = scale * v.at(0);
  } else if (name == "SET_FEED_MODE") {
    per_turn = v.at(1) == 1;
  } else if (name == "START_SPEED_FEED_SYNC") {
    sync = v.at(0);  // mm, whatever the units
  } else if (name == "SET_SPINDLE_MODE") {
    spindle_mode(v.at(1));
  } else if (name == "SET_SPINDLE_SPEED") {
    (now.spindle.max_rpm > 0 ? now.spindle.surface : now.spindle.rpm) = v.at(1);
  } else if (name == "START_SPINDLE_CLOCKWISE" || name == "START_SPINDLE_COUNTERCLOCKWISE") {
    now.spindle.on = true;
    now.spindle.turn = name == "START_SPINDLE_CLOCKWISE" ? Turn::cw : Turn::ccw;
  } else if (name == "STOP_SPINDLE_TURNING") {
    now.spindle.on = false;
  } else if (name == "FLOOD_ON" || name == "FLOOD_OFF") {
    flood = name == "FLOOD_ON";
  } else if (name == "MIST_ON" || name == "MIST_OFF") {
    mist = name == "MIST_ON";
  } else if (name == "CHANGE_TOOL") {
    now.tool = static_cast<int>(v.at(0));
  } else if (name == "PROGRAM_END") {
    out.ended = true;
  } else {
    out.odd.push_back(name);
  }
}

double apart(Point a, Point b) { return std::max({std::abs(a.x - b.x), std::abs(a.y - b.y), std::abs(a.z - b.z)}); }

bool counts(const Move& m) {
  const bool straight = m.kind == Move::Kind::rapid || m.kind == Move::Kind::feed;
  return !straight || apart(m.from, m.to) > kNoLength;
}

/// SET_SPINDLE_MODE comes again with each S, so a speed of 0 rpm may stand for one that was never set.
std::string spindle_difference(const nc::Spindle& a, const nc::Spindle& b) {
  if (a.on != b.on) return a.on ? "spindle turns" : "spindle rests";
  if (!a.on) return "";
  if (a.turn != b.turn) return "sense of the spindle";
  if (std::abs(a.rpm - b.rpm) > kPrinted) return "rpm " + shortest(a.rpm) + ", " + shortest(b.rpm);
  if (std::abs(a.surface - b.surface) > kPrinted) return "surface speed";
  if (a.surface > 0 && std::abs(a.max_rpm - b.max_rpm) > kPrinted) return "clamp of the speed";
  return "";
}

std::string shown(Point p) { return number(p.x, 5) + " " + number(p.y, 5) + " " + number(p.z, 5); }

std::string move_difference(const Move& a, const Move& b) {
  if (a.kind != b.kind) return "kind of move";
  if (apart(a.to, b.to) > kPrinted) return "end " + shown(a.to) + ", theirs " + shown(b.to);
  const bool arc = a.kind == Move::Kind::cw || a.kind == Move::Kind::ccw;
  if (arc && a.plane != b.plane) return "plane";
  if (arc && apart(a.centre, b.centre) > kPrinted) return "centre " + shown(a.centre) + ", theirs " + shown(b.centre);
  if (a.kind != Move::Kind::rapid && std::abs(a.feed - b.feed) > kPrinted) {
    return "feed " + shortest(a.feed) + ", theirs " + shortest(b.feed);
  }
  if (a.kind != Move::Kind::dwell && a.feed_per_turn != b.feed_per_turn) return "kind of feed";
  if (a.tool != b.tool) return "tool";
  if (a.coolant != b.coolant) return "coolant";
  return spindle_difference(a.spindle, b.spindle);
}

}  // namespace

Interpreted interpret(const std::string& program) {
  // The interpreter keeps its tools in a file of its home, which all runs would share.
  const processes::Scratch home;
  std::ofstream table(home / "tools.tbl");
  for (int t = 1; t < 100; ++t) table << "T" << t << " P" << t << " D0\n";
  table.close();
  std::ofstream(home / "program.ngc") << program;
  const Outcome outcome =
      run("cd '" + home.path().string() + "' && HOME=. rs274 -v kept.var -t tools.tbl -g program.ngc");
  Canon canon;
  static const std::regex kFunction(R"(^ *\d+ +N\S* +([A-Z0-9_]+)\((.*)\) *$)");
  std::istringstream lines(outcome.said);
  std::smatch m;
  for (std::string line; std::getline(lines, line);) {
    if (std::regex_match(line, m, kFunction)) canon.function(m[1], m[2]);
  }
  canon.out.status = outcome.status;
  canon.out.said = outcome.said;
  return canon.out;
}

std::string difference(const nc::Trace& ours, const Interpreted& theirs) {
  if (!theirs.odd.empty()) return "unknown canonical function " + theirs.odd.front();
  std::size_t j = 0;
  if (!ours.moves.empty()) {  // ours begins where all axes are told; theirs moves there from 0
    while (j < theirs.moves.size() && apart(theirs.moves[j].to, ours.moves.front().to) > kPrinted) ++j;
    if (j == theirs.moves.size() || theirs.moves[j].kind != Move::Kind::rapid) return "they never come to our start";
  }
  std::size_t i = 0;
  if (!ours.moves.empty() && !counts(ours.moves.front())) ++j;  // has a length for them only
  while (true) {
    while (i < ours.moves.size() && !counts(ours.moves[i])) ++i;
    while (j < theirs.moves.size() && !counts(theirs.moves[j])) ++j;
    if (i == ours.moves.size() || j == theirs.moves.size()) break;
    const std::string what = move_difference(ours.moves[i], theirs.moves[j]);
    if (!what.empty()) return "line " + std::to_string(ours.moves[i].line) + ": " + what;
    ++i;
    ++j;
  }
  if (i < ours.moves.size()) return "line " + std::to_string(ours.moves[i].line) + ": a move that they don't make";
  if (j < theirs.moves.size()) return "they move on to " + shown(theirs.moves[j].to);
  return "";
}

std::string second_opinion(const std::string& program, const nc::Dialect& dialect) {
  Diagnostics diagnostics;
  const auto read = nc::read("program", program, diagnostics);
  if (!read) return diagnostics.text();
  const nc::Trace trace = nc::trace(*read, dialect);
  if (!trace.faults.empty()) {
    return "line " + std::to_string(trace.faults.front().line) + ": " + trace.faults.front().says;
  }
  const Interpreted theirs = interpret(program);
  if (theirs.status != 0) {
    return "rs274 ended with " + std::to_string(theirs.status) + " (apt-get install linuxcnc-uspace?):\n" + theirs.said;
  }
  if (!theirs.ended) return "rs274 did not come to the program's end";
  return difference(trace, theirs);
}

}  // namespace groovewright::readers
