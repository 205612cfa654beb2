#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <memory>
#include <numbers>
#include <string>

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/removal.h"
#include "metal.h"
#include "sweep.h"

namespace groovewright::removal {
namespace {

using plane::Vec2;
using Kind = Finding::Kind;
using MoveKind = nc::Move::Kind;

/// Half of kChord each for the tools' rounds and for the ways of arcs.
constexpr double kSag = kChord / 2;
constexpr double kSkin = kTouch * kLattice;
/// What a travel may be overrun by through rounding, mm.
constexpr double kOverrun = 1e-6;
/// Speeds above the greatest by less than this part are rounding.
constexpr double kFaster = 1e-9;
/// A strip is so many times as long as a move with its tool, no shorter: few cuts reach into many; by measurement.
constexpr double kMovesAStrip = 0.25;
/// Strips with fewer moves than this cost more than they spare; by measurement.
constexpr double kFewestMoves = 20;
constexpr double kMostStrips = 256;

bool is_arc(const nc::Move& m) { return m.kind == MoveKind::cw || m.kind == MoveKind::ccw; }
bool is_cut(const nc::Move& m) { return m.kind == MoveKind::feed || is_arc(m); }

std::string mm(double v) { return trimmed(v, 3) + " mm"; }
std::string rpm(double v) { return std::isfinite(v) ? number(v, 0) + " rpm" : "any speed"; }

/// A tool as one clamping sees it, in the part's half plane.
struct Shapes {
  std::vector<Convex> cutting, holder;
};

Shapes shapes_of(const LatheTool& tool, bool turned) {
  Shapes out;
  for (const plane::Path& p : tool.cutting) out.cutting.emplace_back(p, turned, kSag);
  for (const plane::Path& p : tool.holder) out.holder.emplace_back(p, turned, kSag);
  return out;
}

/// The box of all that shapes cover on a way, as a loop.
Loop around(const std::vector<Convex>& shapes, Vec2 from, const std::vector<Vec2>& way) {
  const double far = std::numeric_limits<double>::infinity();
  Vec2 low{far, far}, high{-far, -far}, first = from, last = from;
  for (const Convex& s : shapes) {
    low = {std::min(low.x, s.low().x), std::min(low.y, s.low().y)};
    high = {std::max(high.x, s.high().x), std::max(high.y, s.high().y)};
  }
  for (const Vec2 p : way) {
    first = {std::min(first.x, p.x), std::min(first.y, p.y)};
    last = {std::max(last.x, p.x), std::max(last.y, p.y)};
  }
  const Vec2 a = low + first, b = high + last;
  return on_lattice({a, {b.x, a.y}, b, {a.x, b.y}});
}

/// The convex loops that shapes cover on a way, those that `may_meet` keeps.
template <class MayMeet>
Loops pieces(const std::vector<Convex>& shapes, Vec2 from, const std::vector<Vec2>& way, const MayMeet& may_meet) {
  Loops out;
  if (shapes.empty() || !may_meet(around(shapes, from, way))) return out;
  for (const Convex& shape : shapes) {
    Vec2 at = from;
    for (const Vec2 to : way) {
      Loop piece = covered(shape, at, to);
      if (may_meet(piece)) out.push_back(std::move(piece));
      at = to;
    }
  }
  return out;
}

/// Polygons as the clipper wants them.
Loops loops_of(std::span<const plane::Path> paths, const Setup& setup) {
  Loops loops;
  for (const plane::Path& path : paths) {
    require(plane::is_closed(path), "removal: a keep-out is open");
    std::vector<Vec2> points = plane::polyline(path, kSag);
    for (Vec2& p : points) p = setup.to_part(p);
    Loop loop = on_lattice(points);
    if (!ClipperLib::Orientation(loop)) ClipperLib::ReversePath(loop);
    loops.push_back(std::move(loop));
  }
  return united(loops);
}

double turned_volume(const std::vector<plane::Polygon>& metal) {
  double sum = 0;  // cones under each side, +X way taken off
  for (const plane::Polygon& p : metal)
    for (std::size_t i = 0; i < p.size(); ++i) {
      const Vec2 a = p[i], b = p[(i + 1) % p.size()];
      sum -= (b.x - a.x) * (a.y * a.y + a.y * b.y + b.y * b.y);
    }
  return std::numbers::pi / 3 * sum;
}

/// Least distance from the axis that the steered point has on its way.
double least_radius(Vec2 from, const std::vector<Vec2>& way) {
  double least = std::abs(from.y);
  for (Vec2 at = from; const Vec2 to : way) {
    least = std::min(least, at.y * to.y <= 0 ? 0 : std::abs(to.y));
    at = to;
  }
  return least;
}

/// Revolutions that the control gives at a radius.
double revolutions(const nc::Spindle& s, double radius) {
  if (s.surface <= 0) return s.rpm;
  const double limit = s.max_rpm > 0 ? s.max_rpm : std::numeric_limits<double>::infinity();
  return radius > plane::kCoincident ? std::min(limit, s.surface * 1000 / (2 * std::numbers::pi * radius)) : limit;
}

/// Goes through one clamping's moves with the metal as it is at each.
class Clamped {
 public:
  Clamped(const Clamping& clamping, std::size_t index, std::span<const LatheTool> tools, Metal& metal, Removal& told)
      : clamping_(clamping),
        index_(index),
        tools_(tools),
        metal_(metal),
        told_(told),
        setup_{clamping.turned, clamping.shift},
        keep_out_(loops_of(clamping.keep_out, setup_)) {}

  void run() {
    for (const nc::Fault& f : clamping_.trace.faults) tell(Kind::program, f.line, 0, f.says);
    for (const nc::Move& m : clamping_.trace.moves) {
      if (m.tool != number_) change(m);
      step(m);
    }
    end_of_tool();
  }

 private:
  void change(const nc::Move& m) {
    end_of_tool();
    number_ = m.tool;
    shapes_.reset();
    sweepers_.clear();
    const auto found = std::find_if(tools_.begin(), tools_.end(), [&](const auto& t) { return t.number == number_; });
    if (found != tools_.end()) {
      shapes_ = std::make_unique<Shapes>(shapes_of(*found, clamping_.turned));
      for (const Convex& s : shapes_->cutting) sweepers_.emplace_back(s, [this](Loop&& loop) { metal_.cut(loop); });
    } else if (number_ != 0) {
      tell(Kind::program, m.line, 0, "there is no tool " + std::to_string(number_));
    }
  }

  void end_of_tool() {
    settle();
    if (worked_) told_.frames.push_back({index_, number_, off_lattice(metal_.all())});
    worked_ = false;
  }

  void step(const nc::Move& m) {
    if (!is_within_reason(m, is_somewhere_)) {
      tell(Kind::beyond_travel, m.line, 0, "the move ends where no machine reaches");
      is_somewhere_ = false;
      return;
    }
    // Where the machine stands before its first move, no program tells.
    const std::vector<Vec2> way = is_somewhere_ ? way_of(m, kSag) : std::vector{half_plane(m.to)};
    const Vec2 from = is_somewhere_ ? half_plane(m.from) : way.back();
    is_somewhere_ = true;
    check_travel(m, from, way);
    check_speed(m, from, way);
    if (is_cut(m) && number_ == 0) tell(Kind::program, m.line, 0, "a cut without a tool");
    if (shapes_) move_tool(m, from, way);
  }

  void move_tool(const nc::Move& m, Vec2 from, std::vector<Vec2> way) {
    from = setup_.to_part(from);
    for (Vec2& p : way) p = setup_.to_part(p);
    check_keep_out(m, from, way);
    if (is_cut(m)) {
      if (!m.spindle.on) check_spindle(m, from, way);
      cut(from, way);
    } else if (m.kind == MoveKind::rapid) {
      check_rapid(m, from, way);
    }
    worked_ = true;
    at_ = way.back();
    check_holder(m, from, way);
  }

  void cut(Vec2 from, const std::vector<Vec2>& way) {
    for (Sweeper& s : sweepers_) {
      if (!(from == at_)) s.jump(from);
      for (const Vec2 p : way) s.go(p);
    }
  }

  /// All that the tool has cut so far is known to the metal.
  void settle() {
    for (Sweeper& s : sweepers_) s.pause();
  }

  void check_travel(const nc::Move& m, Vec2 from, const std::vector<Vec2>& way) {
    if (clamping_.low == clamping_.high) return;
    double over = 0;
    const auto look = [&](Vec2 p) {
      over = std::max(
          {over, clamping_.low.x - p.x, p.x - clamping_.high.x, clamping_.low.y - p.y, p.y - clamping_.high.y});
    };
    look(from);
    for (const Vec2 p : way) look(p);
    if (over > kOverrun) tell(Kind::beyond_travel, m.line, over, "beyond the machine's travel by " + mm(over));
  }

  void check_speed(const nc::Move& m, Vec2 from, const std::vector<Vec2>& way) {
    const double turns = m.spindle.on ? revolutions(m.spindle, least_radius(from, way)) : 0;
    const bool is_over = clamping_.max_rpm > 0 && turns > clamping_.max_rpm * (1 + kFaster);
    const std::string clamp = m.spindle.surface > 0 && m.spindle.max_rpm <= 0 ? ", and no greatest speed is set" : "";
    go_on(too_fast_, is_over, Kind::too_fast, m.line, turns, [&] {
      return "the spindle may turn at " + rpm(turns) + clamp + "; chuck and part bear " + rpm(clamping_.max_rpm);
    });
  }

  void check_keep_out(const nc::Move& m, Vec2 from, const std::vector<Vec2>& way) {
    for (const bool holder : {false, true}) {
      Loops found;
      const auto each_side = [&](const Loop& piece, const auto& act) {
        act(piece);
        act(over_the_axis(piece));
      };
      const auto may_meet = [&](const Loop& piece) {
        bool may = false;
        each_side(piece, [&](const Loop& loop) { may = may || keep_out_.meets(loop, kSkin); });
        return may;
      };
      for (const Loop& piece : pieces(holder ? shapes_->holder : shapes_->cutting, from, way, may_meet))
        each_side(piece, [&](const Loop& loop) {
          if (keep_out_.meets(loop, kSkin)) keep_out_.shared(loop, found);
        });
      const double deep = widest_disc(found, kTouch);
      if (deep > 0)
        tell(Kind::tool_in_keep_out, m.line, deep,
             tool() + (holder ? "'s holder" : "") + " runs into what holds the part, by " + mm(deep));
    }
  }

  /// How much metal stands where the shapes go; the loops are left in `gone` where wanted.
  double metal_in(const std::vector<Convex>& shapes, Vec2 from, const std::vector<Vec2>& way, Loops* gone = nullptr) {
    const Loops may = pieces(shapes, from, way, [&](const Loop& loop) { return metal_.may_meet(loop, kSkin); });
    if (may.empty()) return 0;
    settle();
    Loops found;
    for (const Loop& piece : may) metal_.shared(piece, kSkin, found);
    if (gone) *gone = may;
    return found.empty() ? 0 : widest_disc(found, kTouch);
  }

  void check_rapid(const nc::Move& m, Vec2 from, const std::vector<Vec2>& way) {
    Loops gone;
    const double deep = metal_in(shapes_->cutting, from, way, &gone);
    settle();
    for (Sweeper& s : sweepers_) s.jump(way.back());
    if (deep <= 0) return;
    for (const Loop& loop : gone) metal_.cut(loop);  // torn out: told once
    tell(Kind::rapid_in_metal, m.line, deep, tool() + " runs through metal at rapid, " + mm(deep) + " deep");
  }

  void check_spindle(const nc::Move& m, Vec2 from, const std::vector<Vec2>& way) {
    const double deep = metal_in(shapes_->cutting, from, way);
    if (deep > 0) tell(Kind::spindle_off, m.line, deep, tool() + " is fed into metal with the spindle at rest");
  }

  void check_holder(const nc::Move& m, Vec2 from, const std::vector<Vec2>& way) {
    const double deep = metal_in(shapes_->holder, from, way);
    if (deep > 0) tell(Kind::holder_in_metal, m.line, deep, tool() + "'s holder runs into metal, by " + mm(deep));
  }

  [[nodiscard]] std::string tool() const { return "tool " + std::to_string(number_); }

  /// One finding a kind and line, with the greatest amount.
  void tell(Kind kind, int line, double amount, const std::string& says) {
    for (Finding& f : told_.findings) {
      if (f.kind != kind || f.clamping != index_ || f.line != line || kind == Kind::program) continue;
      if (amount > f.amount) f.amount = amount, f.says = says;
      return;
    }
    told_.findings.push_back({kind, index_, line, amount, says});
  }

  /// A trouble that lasts over moves is told once, at its first line, with the greatest amount.
  template <class Says>
  void go_on(std::size_t& open, bool is_on, Kind kind, int line, double amount, const Says& says) {
    if (!is_on) {
      open = kNone;
    } else if (open == kNone) {
      open = told_.findings.size();
      told_.findings.push_back({kind, index_, line, amount, says()});
    } else if (Finding& f = told_.findings[open]; amount > f.amount) {
      f.amount = amount, f.says = says();
    }
  }

  static constexpr std::size_t kNone = std::numeric_limits<std::size_t>::max();
  const Clamping& clamping_;
  std::size_t index_;
  std::span<const LatheTool> tools_;
  Metal& metal_;
  Removal& told_;
  Setup setup_;
  Region keep_out_;
  int number_ = 0;
  std::unique_ptr<Shapes> shapes_;
  std::vector<Sweeper> sweepers_;
  std::size_t too_fast_ = kNone;
  bool is_somewhere_ = false, worked_ = false;
  Vec2 at_{std::numeric_limits<double>::infinity(), 0};  ///< where the sweepers stand
};

/// How many strips serve these programs: as few cuts as can be reach into two, and few wait in one.
int strips_for(std::span<const Clamping> clampings, std::span<const LatheTool> tools, double length) {
  std::map<int, double> widths;
  for (const LatheTool& t : tools) {
    double least = 0, most = 0;
    for (const plane::Path& p : t.cutting)
      for (const plane::Edge& e : p) least = std::min(least, e.a.x), most = std::max(most, e.a.x);
    widths[t.number] = most - least;
  }
  double reach = 0, moves = 0;
  for (const Clamping& c : clampings)
    for (const nc::Move& m : c.trace.moves) {
      const auto tool = widths.find(m.tool);
      if (!is_cut(m) || tool == widths.end() || !is_within_reason(m, true)) continue;
      reach += std::min(length, std::abs(m.to.z - m.from.z) + tool->second);
      ++moves;
    }
  if (moves == 0 || reach <= 0) return 1;
  const double strips = std::min(length * moves / (kMovesAStrip * reach), moves / kFewestMoves);
  return static_cast<int>(std::clamp(strips, 1.0, kMostStrips));
}

}  // namespace

Removal remove(std::span<const Clamping> clampings, std::span<const LatheTool> tools, const plane::Path& stock) {
  require(plane::is_closed(stock) && plane::area(stock) > 0, "removal: the stock is not closed and ccw");
  const Loops loops{on_lattice(plane::polyline(stock, kSag))};
  const Box box = box_of(loops);
  require(box.y0 >= 0, "removal: the stock lies beyond the axis");
  Metal metal(loops, strips_for(clampings, tools, static_cast<double>(box.x1 - box.x0) / kLattice));
  Removal out;
  for (std::size_t i = 0; i < clampings.size(); ++i) Clamped(clampings[i], i, tools, metal, out).run();
  out.metal = off_lattice(metal.all());
  out.volume = turned_volume(out.metal);
  return out;
}

}  // namespace groovewright::removal
