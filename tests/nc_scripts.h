// nc_scripts.h: random scripts of programs, the built-in dialects, and the moves that a script means, told step by step
// without the writer. Within a property only.
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <string>
#include <vector>

#include "groovewright/base/text.h"
#include "groovewright/catalog.h"
#include "groovewright/nc.h"
#include "property.h"

namespace groovewright::nc_scripts {

using namespace nc;

inline const std::map<std::string, Dialect>& dialects() {
  static const auto all = [] {
    Diagnostics d;
    std::vector<TextFile> files;
    for (const TextFile& f : catalog::built_in_files()) {
      if (f.name.starts_with("dialects/")) files.push_back(f);
    }
    return catalog::read_catalog(files, d).value().dialects;
  }();
  return all;
}

inline int count(int from, int to) { return *rc::gen::resize(rc::kNominalSize, rc::gen::inRange(from, to + 1)); }
inline bool perhaps() { return count(0, 1) == 1; }

struct Random {
  Script script;
  Point at;
  bool pecks_and_taps = true;

  Point somewhere() const {
    return script.plane == Plane::xy ? Point{any(-80.123, 81.377), any(-79.321, 80.111), any(-20.717, 30.939)}
                                     : Point{any(0, 90.1234567), 0, any(-70.71, 12.3457)};
  }
  void go(Command c, Point to) {
    script.commands.push_back(std::move(c));
    at = to;
  }
  void arc() {
    const bool xy = script.plane == Plane::xy;
    const double radius = any(0.1, 60.123), start = any(0, 6.28), swept = any(0.02, 6.26);
    const Turn turn = perhaps() ? Turn::ccw : Turn::cw;
    const double end = start + (turn == Turn::ccw ? swept : -swept);
    const auto place = [&](Point c, double angle, double third) {
      return xy ? Point{c.x + radius * std::cos(angle), c.y + radius * std::sin(angle), third}
                : Point{c.x + radius * std::sin(angle), 0, c.z + radius * std::cos(angle)};
    };
    const Point zero = place({}, start, 0);
    const Point centre = xy ? Point{at.x - zero.x, at.y - zero.y, at.z} : Point{at.x - zero.x, 0, at.z - zero.z};
    Point to = place(centre, end, xy && perhaps() ? any(-20.5, 30.25) : at.z);
    if (count(0, 9) == 0) to = at;  // a full circle
    go(Arc{to, centre, turn}, to);
  }
  void hole(bool surface) {
    Cycle c;
    c.at = script.plane == Plane::xy ? somewhere() : Point{perhaps() ? 0 : any(0, 40.3), 0, 0};
    c.bottom = any(-40.377, -1.111);
    c.clear = c.bottom + any(2.0717, 30.123);
    const int kind = count(0, 3);
    if (kind == 1) c.peck = any(1.03717, 7.9131);
    if (kind == 2) c.dwell = any(0.1, 2);
    if (kind == 3 && !surface) c.pitch = any(0.25, 2.5);
    go(c, {c.at.x, c.at.y, c.clear});
  }
  bool speed() {
    const Turn turn = perhaps() ? Turn::cw : Turn::ccw;
    const bool surface = script.plane == Plane::zx && perhaps();
    if (surface) {
      script.commands.emplace_back(SurfaceSpeed{any(20, 400), any(500, 4000.5), turn});
    } else {
      script.commands.emplace_back(SpindleSpeed{any(50, 6000), turn});
    }
    return surface;
  }
  void feed() {
    if (perhaps()) {
      script.commands.emplace_back(FeedPerTurn{any(0.02, 0.6)});
    } else {
      script.commands.emplace_back(FeedPerMinute{any(10, 900)});
    }
  }
};

/// Any order of all commands that the door allows; parameters 1 and 2 shift some of the moves.
inline Script any_script(int most = 40) {
  Random r;
  r.script.plane = perhaps() ? Plane::zx : Plane::xy;
  r.script.header = {"invented (random) program", "MSG, é"};
  r.script.safe = r.script.plane == Plane::xy ? Point{any(-50, 50.3), any(-50, 50.7), any(40, 80.33)}
                                              : Point{any(100, 150.77), 0, any(20, 60.1)};
  r.at = r.script.safe;
  r.script.commands.emplace_back(Parameter{1, any(-0.5, 0.5), "change of x"});
  r.script.commands.emplace_back(Parameter{2, any(-0.5, 0.5), "change of z"});
  bool surface = false;
  const auto tool = [&] {
    r.script.commands.emplace_back(ToolChange{count(1, 99), perhaps() ? "some tool" : ""});
    r.at = r.script.safe;
    surface = r.speed();
    r.feed();
    const Point to = r.somewhere();  // a correction may hold: no arc from the uncorrected place
    r.go(Rapid{to}, to);
  };
  if (perhaps()) {
    tool();
  } else {
    surface = r.speed();
    r.feed();
  }
  for (int left = count(1, most); left > 0; --left) {
    switch (count(0, 12)) {
      case 0:
        tool();
        break;
      case 1:
        r.feed();
        break;
      case 2:
        surface = r.speed();
        break;
      case 3:
        r.script.commands.emplace_back(Coolant{perhaps()});
        break;
      case 4:
        r.script.commands.emplace_back(Dwell{any(0, 3)});
        break;
      case 5: {
        r.script.commands.emplace_back(Correction{perhaps() ? 1 : 0, perhaps() ? 2 : 0});
        const Point to = r.somewhere();
        r.go(Line{to}, to);
        break;
      }
      case 6: {
        const Point to = r.somewhere();
        r.go(Rapid{to}, to);
        break;
      }
      case 7:
      case 8:
        r.hole(surface);
        break;
      case 9:
      case 10:
        r.arc();
        break;
      default: {
        const Point to = r.somewhere();
        r.go(Line{to}, to);
      }
    }
  }
  return r.script;
}

/// What a script means in a dialect. Feeds and speeds written out follow the door: whole revolutions, by the larger of
/// a move's ends, never above the clamp.
class Meaning {
 public:
  Meaning(const Script& script, const Dialect& dialect) : s_(script), d_(dialect) {
    ideal_ = now_.from = script.safe;
    now_.plane = script.plane;
    for (const Command& c : script.commands) {
      if (const auto* p = std::get_if<Parameter>(&c)) parameters_[p->number] = value_of(number(p->value, 3));
    }
    for (const Command& c : script.commands) std::visit([this](const auto& each) { run(each); }, c);
    to_safe();
  }
  [[nodiscard]] const std::vector<Move>& moves() const { return moves_; }

 private:
  static double value_of(const std::string& text) { return std::strtod(text.c_str(), nullptr); }
  [[nodiscard]] bool can(const char* function) const { return d_.words.contains(function); }
  [[nodiscard]] double shift(int parameter) const { return parameter == 0 ? 0 : parameters_.at(parameter); }
  [[nodiscard]] Point shifted(Point p) const {
    const bool diameters = s_.plane == Plane::zx && d_.lathe_diameters;
    return {p.x + shift(correction_.x) / (diameters ? 2 : 1), p.y, p.z + shift(correction_.z)};
  }
  void speed_for(Point to) {
    const double around = 2 * std::numbers::pi * std::max(std::abs(ideal_.x), std::abs(to.x));
    const double wanted = now_.spindle.surface * 1000 / around;
    const bool by_surface = now_.spindle.surface > 0;
    written_rpm_ = by_surface ? std::max(1.0, std::floor(std::min(now_.spindle.max_rpm, wanted))) : now_.spindle.rpm;
  }
  Move& add(Move::Kind kind, Point to) {
    Move m = now_;
    m.kind = kind;
    m.to = shifted(to);
    if (m.spindle.surface > 0 && !can("surface_speed")) m.spindle = {m.spindle.on, m.spindle.turn, written_rpm_, 0, 0};
    if (kind == Move::Kind::rapid) m.feed = 0, m.feed_per_turn = false;
    moves_.push_back(m);
    now_.from = m.to;
    if (kind != Move::Kind::dwell) ideal_ = to;
    return moves_.back();
  }
  Move& metal(Move::Kind kind, Point to) {
    speed_for(to);
    Move& m = add(kind, to);
    if (m.feed_per_turn && !can("feed_per_turn")) {
      m.feed_per_turn = false;
      m.feed *= written_rpm_;
    }
    return m;
  }
  void rapid(Point to) { add(Move::Kind::rapid, to); }
  void to_safe() {
    const Correction kept = correction_;
    correction_ = {};
    if (s_.plane == Plane::xy) {
      Move& up = add(Move::Kind::rapid, {ideal_.x, ideal_.y, s_.safe.z});
      up.to.x = up.from.x;  // shifted or not
      up.to.y = up.from.y;
      now_.from = up.to;
    }
    rapid(s_.safe);
    correction_ = kept;
  }
  void run(const Comment&) {}
  void run(const Parameter&) {}
  void run(const Correction& c) { correction_ = c; }
  void run(const ToolChange& c) {
    if (started_) to_safe();
    started_ = true;
    now_.tool = c.number;
    now_.spindle = {};
    now_.coolant = false;
    const Correction kept = correction_;
    correction_ = {};
    rapid(s_.safe);
    correction_ = kept;
  }
  void start() {
    if (started_) return;
    started_ = true;
    rapid(s_.safe);
  }
  void run(const SpindleSpeed& c) {
    start();
    now_.spindle = {true, c.turn, std::round(c.rpm), 0, 0};
  }
  void run(const SurfaceSpeed& c) {
    start();
    now_.spindle = {true, c.turn, 0, c.m_per_min, std::floor(c.max_rpm)};
    speed_for(ideal_);
  }
  void run(const SpindleStop&) { now_.spindle.on = false; }
  void run(const FeedPerTurn& c) { now_.feed = c.mm, now_.feed_per_turn = true; }
  void run(const FeedPerMinute& c) { now_.feed = c.mm, now_.feed_per_turn = false; }
  void run(const Coolant& c) { now_.coolant = c.on; }
  void run(const Rapid& c) { rapid(c.to); }
  void run(const Line& c) { metal(Move::Kind::feed, c.to); }
  void run(const Arc& c) {
    metal(c.turn == Turn::ccw ? Move::Kind::ccw : Move::Kind::cw, c.to).centre = shifted(c.centre);
  }
  void run(const Dwell& c) { pause(c.seconds); }
  void pause(double seconds) {
    Move& m = add(Move::Kind::dwell, ideal_);
    m.to = m.from;
    now_.from = m.to;
    m.feed = seconds;
  }
  void run(const Cycle& c) {
    if (ideal_.z < c.clear) rapid({ideal_.x, ideal_.y, c.clear});
    rapid({c.at.x, c.at.y, ideal_.z});
    rapid({c.at.x, c.at.y, c.clear});
    const Point bottom{c.at.x, c.at.y, c.bottom}, clear{c.at.x, c.at.y, c.clear};
    if (c.pitch > 0) return tap(c, bottom, clear);
    if (c.peck > 0) {
      const double peck = value_of(number(c.peck, 4));
      for (double z = c.clear - peck; z > c.bottom; z -= peck) {
        metal(Move::Kind::feed, {c.at.x, c.at.y, z});
        rapid(clear);
        rapid({c.at.x, c.at.y, z + 0.254});  // the published interpreter's .010 in
      }
    }
    metal(Move::Kind::feed, bottom);
    if (c.dwell > 0) pause(c.dwell);
    rapid(clear);
  }
  void tap(const Cycle& c, Point bottom, Point clear) {
    const Move kept = now_;
    for (const Point& to : {bottom, clear}) {
      now_.feed = c.pitch;
      now_.feed_per_turn = true;
      Move& m = metal(Move::Kind::feed, to);
      if (can("rigid_tap")) m.feed = c.pitch, m.feed_per_turn = true;
      now_.spindle.turn = now_.spindle.turn == Turn::cw ? Turn::ccw : Turn::cw;
    }
    now_.feed = kept.feed;
    now_.feed_per_turn = kept.feed_per_turn;
  }

  const Script& s_;
  const Dialect& d_;
  std::map<int, double> parameters_;
  std::vector<Move> moves_;
  Move now_;
  Point ideal_;
  Correction correction_;
  double written_rpm_ = 0;
  bool started_ = false;
};

inline double apart(Point a, Point b) {
  return std::max({std::abs(a.x - b.x), std::abs(a.y - b.y), std::abs(a.z - b.z)});
}

/// Moves that go somewhere: a straight one within the rounding is left out.
inline std::vector<Move> with_length(const std::vector<Move>& moves, double rounding) {
  std::vector<Move> out;
  for (const Move& m : moves) {
    const bool straight = m.kind == Move::Kind::rapid || m.kind == Move::Kind::feed;
    if (!straight || apart(m.from, m.to) > 3 * rounding) out.push_back(m);
  }
  return out;
}

/// How two lists of moves differ, "" where they are alike within `rounding`; feeds, speeds and pitches are rounded on
/// their own.
inline std::string difference(const std::vector<Move>& meant, const std::vector<Move>& traced, double rounding) {
  const auto a = with_length(meant, rounding), b = with_length(traced, rounding);
  for (std::size_t i = 0; i < std::min(a.size(), b.size()); ++i) {
    const auto is = [&](const char* what) { return "line " + std::to_string(b[i].line) + ": " + what; };
    const auto far = [](double x, double y, double by) { return std::abs(x - y) > by; };
    const bool arc = a[i].kind == Move::Kind::cw || a[i].kind == Move::Kind::ccw;
    if (a[i].kind != b[i].kind) return is("kind");
    if (apart(a[i].to, b[i].to) > rounding) return is("end");
    if (arc && apart(a[i].centre, b[i].centre) > 3 * rounding) return is("centre");
    if (far(a[i].feed, b[i].feed, a[i].kind == Move::Kind::dwell ? 5.1e-4 : 1e-4)) return is("feed");
    if (a[i].kind != Move::Kind::dwell && a[i].feed_per_turn != b[i].feed_per_turn) return is("kind of feed");
    if (a[i].tool != b[i].tool || a[i].coolant != b[i].coolant || a[i].plane != b[i].plane)
      return is("tool, coolant, plane");
    const Spindle &s = a[i].spindle, &t = b[i].spindle;
    if (s.on != t.on) return is("spindle");
    if (s.on && (s.turn != t.turn || far(s.rpm, t.rpm, 1e-9) || far(s.surface, t.surface, 0.0051) ||
                 far(s.max_rpm, t.max_rpm, 1e-9))) {
      return is("speed");
    }
  }
  return a.size() == b.size() ? "" : std::to_string(a.size()) + " moves meant, " + std::to_string(b.size()) + " traced";
}

}  // namespace groovewright::nc_scripts
