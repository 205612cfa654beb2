#include <algorithm>
#include <cmath>

#include "groovewright/base/text.h"
#include "tracer.h"

namespace groovewright::nc {
namespace {

constexpr double kMetresInFoot = 0.3048;
constexpr int kMostTools = 99999;
constexpr std::size_t kMostMoves = 2000000;  ///< keeps memory bounded: a short block can be a hole of many pecks

}  // namespace

Tracer::Tracer(const Program& program, const Dialect& dialect) : dialect_codes_(codes_of(dialect)) {
  always_diameters_ = dialect.lathe_diameters && !dialect.words.contains("diameters");
  trace_.name = program.name;
  for (const Block& block : program.blocks) {
    run(block);
    if (trace_.moves.size() <= kMostMoves) continue;
    fault("more moves than can be followed");
    return;
  }
  if (!ended_) fault("the program has no end: M2 or M30");
}

void Tracer::fault(std::string says) { trace_.faults.push_back({line_, std::move(says)}); }

/// NIST IR 6556, order of execution.
void Tracer::run(const Block& block) {
  line_ = block.line;
  Sorted s = sorted(block, dialect_codes_);
  if (s.empty()) return;
  if (ended_) {
    if (!told_ended_) fault("words behind the program's end");
    told_ended_ = true;
    return;
  }
  if (!s.faults.empty()) {
    for (const std::string& each : s.faults) fault(each);
    return;
  }
  const std::size_t faults_before = trace_.faults.size();
  feed_mode(s);
  spindle_speed(s);
  change_tool(s);
  spindle_and_coolant(s);
  dwell(s);
  modes(s);
  motion(s);
  stop(s);
  if (trace_.faults.size() > faults_before) return;  // a block that failed has not looked at all its words
  for (const char letter : s.unused()) fault(std::string(1, letter) + " has no meaning in this block");
}

void Tracer::feed_mode(Sorted& s) {
  if (const auto code = s.code(Group::feed_mode)) {
    const bool per_turn = *code == 950;
    if (per_turn != per_turn_) feed_.reset();  // a number of the one is no number of the other
    per_turn_ = per_turn;
  }
  const auto feed = s.take('F');
  if (!feed) return;
  if (*feed < 0) return fault("F is a feed, not less than zero");
  feed_ = length(*feed);
}

void Tracer::spindle_speed(Sorted& s) {
  const auto mode = s.code(Group::spindle_mode);
  const auto speed = s.take('S');
  if (mode) {
    const bool surface = *mode == 960;
    if (surface && !speed) fault("G96 takes the surface speed as S");
    if (surface != surface_) spindle_.rpm = spindle_.surface = 0;
    surface_ = surface;
    spindle_.max_rpm = 0;
    if (surface) {
      const auto clamp = s.take('D');
      if (clamp && *clamp < 0) fault("D is the greatest number of revolutions");
      spindle_.max_rpm = std::max(0.0, clamp.value_or(0));
    }
  }
  if (!speed) return;
  if (*speed < 0) return fault("S is a speed, not less than zero");
  if (surface_) {
    spindle_.surface = inches_ ? *speed * kMetresInFoot : *speed;
  } else {
    spindle_.rpm = *speed;
  }
}

/// M6 stops the spindle (NIST IR 6556); the writer stops it before.
void Tracer::change_tool(Sorted& s) {
  if (const auto tool = s.take('T')) {
    if (*tool < 0 || *tool > kMostTools || *tool != std::round(*tool)) return fault("T is a tool's number");
    called_ = static_cast<int>(*tool);
  }
  if (!s.code(Group::change)) return;
  spindle_.on = false;
  if (!called_) return fault("M6 changes to no tool: T is missing");
  tool_ = *called_;
}

void Tracer::spindle_and_coolant(const Sorted& s) {
  if (const auto code = s.code(Group::spindle)) {
    spindle_.on = *code != 5;
    if (spindle_.on) spindle_.turn = *code == 3 ? Turn::cw : Turn::ccw;
  }
  if (const auto code = s.code(Group::coolant)) coolant_ = *code != 9;
}

void Tracer::dwell(Sorted& s) {
  if (!s.dwells()) return;
  const auto seconds = s.take('P');
  if (!seconds || *seconds < 0) return fault("G4 takes seconds as P, not less than zero");
  add(Move::Kind::dwell, at_).feed = *seconds;
}

void Tracer::modes(Sorted& s) {
  if (const auto code = s.code(Group::plane)) plane_ = *code == 170 ? Plane::xy : Plane::zx;
  if (const auto code = s.code(Group::units)) inches_ = *code == 200;
  if (const auto code = s.code(Group::diameters)) diameters_ = *code == 70;
  if (const auto code = s.code(Group::length); code == 430) {
    const auto h = s.take('H');  // without: the tool's own
    if (h && (*h < 0 || *h != std::round(*h))) fault("H is a tool's number");
  }
  if (const auto code = s.code(Group::path); code == 640) (void)s.take('P');
  if (const auto code = s.code(Group::distance)) incremental_ = *code == 910;
  if (const auto code = s.code(Group::retract)) retract_to_r_ = *code == 990;
}

void Tracer::stop(const Sorted& s) {
  const auto code = s.code(Group::stop);
  if (!code || (*code != 2 && *code != 30)) return;
  ended_ = true;
  spindle_.on = coolant_ = false;
}

Trace trace(const Program& program, const Dialect& dialect) { return Tracer(program, dialect).trace(); }

}  // namespace groovewright::nc
