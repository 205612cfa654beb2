#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <string>

#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"
#include "groovewright/removal.h"

namespace groovewright::removal {
namespace {

using plane::Vec2;
using Kind = Finding::Kind;
using MoveKind = nc::Move::Kind;

/// Places nearer than this are one hole, mm; so is what a program's four decimals may leave.
constexpr double kSamePlace = 0.001;
/// Depths and radii may differ by rounding in the text.
constexpr double kRounding = 0.0005;
constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kNowhere = std::numeric_limits<double>::infinity();

Vec2 flat(const nc::Point& p) { return {p.x, p.y}; }
bool is_same_place(Vec2 a, Vec2 b) { return plane::norm(a - b) <= kSamePlace; }
std::string mm(double v) { return trimmed(v, 3) + " mm"; }

/// A turning body: full diameter above the cone of its point.
struct Body {
  Vec2 at;
  double diameter = 0, point = 0, tip = 0;  ///< z of the point, and how far above it the full diameter begins
  [[nodiscard]] double radius(double z) const {
    if (z >= point + tip) return diameter / 2;
    return z <= point || tip <= 0 ? 0 : diameter / 2 * (z - point) / tip;
  }
};

/// What the hole leaves free at a height. A tap leaves a thread: nothing but itself may pass.
Body freed(const Bored& b) { return {{b.x, b.y}, b.diameter, b.bottom - b.tip, b.tip}; }

/// Both are cones and cylinders, so heights at which either changes decide.
bool holds(const Bored& hole, const Body& body) {
  if (hole.tapped || hole.core > 0) return false;
  const Body room = freed(hole);
  if (body.point < room.point - kRounding) return false;
  const double aside = plane::norm(body.at - room.at);
  for (const double z : {body.point, body.point + body.tip, room.point + room.tip}) {
    if (z < body.point) continue;
    if (aside + body.radius(z) > room.radius(z + kRounding) + kRounding) return false;
  }
  return aside + body.radius(body.point + body.tip) <= room.diameter / 2 + kRounding;
}

class Mill {
 public:
  Mill(std::span<const RotatingTool> tools, double top) : tools_(tools), top_(top) {}

  Drilling run(const nc::Trace& trace) {
    for (const nc::Fault& f : trace.faults) tell(Kind::program, f.line, 0, f.says);
    for (const nc::Move& m : trace.moves) step(m);
    return std::move(out_);
  }

 private:
  void step(const nc::Move& m) {
    if (m.kind == MoveKind::dwell) return;
    if (m.tool != number_ || !tool_known_) change(m);
    const nc::Point from = is_somewhere_ ? m.from : m.to;  // where it stands at first, no program tells
    is_somewhere_ = true;
    if (!tool_) {
      if (m.kind != MoveKind::rapid && std::min(from.z, m.to.z) < top_ && m.tool == 0)
        tell(Kind::program, m.line, 0, "a cut without a tool");
      return;
    }
    if (m.kind == MoveKind::rapid) {
      rapid(m, from);
    } else {
      feed(m, from);
    }
  }

  void change(const nc::Move& m) {
    number_ = m.tool;
    tool_known_ = true;
    turn_ = {};
    const auto found = std::find_if(tools_.begin(), tools_.end(), [&](const auto& t) { return t.number == number_; });
    tool_ = found == tools_.end() ? nullptr : &*found;
    if (!tool_ && number_ != 0) tell(Kind::program, m.line, 0, "there is no tool " + std::to_string(number_));
  }

  [[nodiscard]] Body body(nc::Point p) const { return {flat(p), tool_->diameter, p.z, tool_->tip}; }
  [[nodiscard]] bool is_tap() const { return tool_->thread_pitch > 0; }
  [[nodiscard]] bool is_free(const std::vector<nc::Point>& places) const {
    return std::any_of(out_.bored.begin(), out_.bored.end(), [&](const Bored& b) {
      return std::all_of(places.begin(), places.end(), [&](nc::Point p) { return holds(b, body(p)); });
    });
  }

  void rapid(const nc::Move& m, const nc::Point& from) {
    turn_ = {};
    const double low = std::min(from.z, m.to.z);
    if (low >= top_ - kRounding) return;
    // Of the way, what lies below the face; both of its ends in one hole are enough, since holes are convex.
    const auto at_face = [&](nc::Point p, const nc::Point& q) {
      if (p.z <= top_) return p;
      const double t = (top_ - q.z) / (p.z - q.z);
      return nc::Point{q.x + t * (p.x - q.x), q.y + t * (p.y - q.y), top_};
    };
    if (!is_free({at_face(from, m.to), at_face(m.to, from)}))
      tell(Kind::rapid_in_metal, m.line, top_ - low,
           tool() + " goes to " + mm(top_ - low) + " below the face at rapid, where it has no room");
    check_shank(m);
  }

  void feed(const nc::Move& m, const nc::Point& from) {
    const double low = std::min(from.z, m.to.z);
    if (low >= top_ - kRounding) {
      turn_ = {};
      return;
    }
    check_shank(m);
    if (!m.spindle.on)
      tell(Kind::spindle_off, m.line, top_ - low, tool() + " is fed into metal with the spindle at rest");
    if (is_tap()) {
      tap(m, from);
    } else if (m.kind == MoveKind::feed) {
      turn_ = {};
      if (is_same_place(flat(from), flat(m.to)) && m.to.z < from.z) bore(m);
    } else {
      round(m, from);
    }
  }

  /// The shank below the face needs a hole that is wider than it.
  void check_shank(const nc::Move& m) {
    const double shank = m.to.z + tool_->flute;
    if (tool_->flute <= 0 || shank >= top_ - kRounding) return;
    const double wide = tool_->holder_diameter > 0 ? tool_->holder_diameter : tool_->diameter;
    const Body b{flat(m.to), wide, shank, 0};
    const bool has_room = std::any_of(out_.bored.begin(), out_.bored.end(), [&](const Bored& hole) {
      return hole.diameter > wide + kRounding && holds(hole, b);
    });
    if (!has_room)
      tell(Kind::holder_in_metal, m.line, top_ - shank,
           tool() + " goes " + mm(top_ - m.to.z) + " deep, but only " + mm(tool_->flute) + " of it may cut");
  }

  Bored& record(Vec2 at, double diameter, int line, bool tapped) {
    for (Bored& b : out_.bored)
      if (b.tool == number_ && b.tapped == tapped && is_same_place({b.x, b.y}, at) &&
          std::abs(b.diameter - diameter) <= kRounding)
        return b;
    return out_.bored.emplace_back(Bored{at.x, at.y, diameter, top_, kNowhere, tool_->tip, number_, line, tapped, 0});
  }

  void bore(const nc::Move& m) {
    Bored& b = record(flat(m.to), tool_->diameter, m.line, false);
    b.bottom = std::min(b.bottom, m.to.z + tool_->tip);
  }

  /// Turns about one centre with one radius.
  struct Turning {
    Vec2 centre;
    double radius = 0;
    double cleared = 0;  ///< turned through since the first arc
    bool on = false;
    std::vector<std::pair<double, double>> heights;  ///< (turned, z of the tip), at each arc's ends
  };

  void round(const nc::Move& m, const nc::Point& from) {
    if (m.plane != nc::Plane::xy) {
      tell(Kind::program, m.line, 0, "an arc in another plane than XY");
      return;
    }
    const Vec2 centre = flat(m.centre), a = flat(from) - centre, b = flat(m.to) - centre;
    const double radius = plane::norm(b);
    if (!turn_.on || !is_same_place(centre, turn_.centre) || std::abs(radius - turn_.radius) > kSamePlace)
      turn_ = {centre, radius, 0, true, {{0, from.z}}};
    const double angle = (m.kind == MoveKind::ccw ? 1 : -1) * atan2_of(plane::cross(a, b), plane::dot(a, b));
    turn_.cleared += angle > kSamePlace / std::max(radius, kSamePlace) ? angle : angle + kTurn;
    turn_.heights.emplace_back(turn_.cleared, m.to.z);
    if (turn_.cleared < kTurn - 1e-3) return;
    Bored& hole = record(centre, 2 * radius + tool_->diameter, m.line, false);
    hole.core = std::max(0.0, 2 * radius - tool_->diameter);
    hole.bottom = std::min(hole.bottom, height_a_turn_ago() + tool_->tip);
  }

  /// How deep the tool has been all round: its height one turn ago, if it went down since, else the highest since.
  [[nodiscard]] double height_a_turn_ago() const {
    const double since = turn_.cleared - kTurn;
    double highest = turn_.heights.back().second;
    for (std::size_t i = turn_.heights.size() - 1; i > 0; --i) {
      const auto [t1, z1] = turn_.heights[i];
      const auto [t0, z0] = turn_.heights[i - 1];
      if (t0 >= since) {
        highest = std::max(highest, z0);
        continue;
      }
      if (t1 > since) highest = std::max(highest, z0 + (z1 - z0) * (since - t0) / (t1 - t0));
      break;
    }
    return highest;
  }

  void tap(const nc::Move& m, const nc::Point& from) {
    const double pitch = m.feed_per_turn ? m.feed : m.feed / std::max(m.spindle.rpm, 1e-9);
    if (std::abs(pitch - tool_->thread_pitch) > kPitchError * tool_->thread_pitch)
      tell(Kind::tap, m.line, std::abs(pitch - tool_->thread_pitch),
           tool() + " is fed " + mm(pitch) + " a turn, but its pitch is " + mm(tool_->thread_pitch));
    if (m.to.z >= from.z) return;
    const auto has_core = [&](const Bored& b) {
      return !b.tapped && b.core <= 0 && is_same_place({b.x, b.y}, flat(m.to)) && b.diameter < tool_->diameter &&
             b.diameter > tool_->diameter - 2 * tool_->thread_pitch;
    };
    double bottom = top_;
    for (const Bored& b : out_.bored)
      if (has_core(b)) bottom = std::min(bottom, b.bottom);
    if (bottom >= top_) {
      tell(Kind::tap, m.line, top_ - m.to.z, tool() + " meets no hole of its core's size");
    } else if (m.to.z < bottom - kRounding) {
      tell(Kind::tap, m.line, bottom - m.to.z, tool() + " goes " + mm(bottom - m.to.z) + " below its hole's bottom");
    }
    Bored& b = record(flat(m.to), tool_->diameter, m.line, true);
    b.bottom = std::min(b.bottom, m.to.z + tool_->tip);
  }

  [[nodiscard]] std::string tool() const { return "tool " + std::to_string(number_); }

  /// One finding a kind and line, with the greatest amount: a cycle is many moves on one line.
  void tell(Kind kind, int line, double amount, const std::string& says) {
    for (Finding& f : out_.findings) {
      if (f.kind != kind || f.line != line || kind == Kind::program) continue;
      if (amount > f.amount) f.amount = amount, f.says = says;
      return;
    }
    out_.findings.push_back({kind, 0, line, amount, says});
  }

  std::span<const RotatingTool> tools_;
  double top_;
  Drilling out_;
  const RotatingTool* tool_ = nullptr;
  int number_ = 0;
  bool tool_known_ = false, is_somewhere_ = false;
  Turning turn_;
};

}  // namespace

Drilling drill(const nc::Trace& trace, std::span<const RotatingTool> tools, double top) {
  return Mill(tools, top).run(trace);
}

}  // namespace groovewright::removal
