#include "tracer.h"

namespace groovewright::nc {

Move& Tracer::add(Move::Kind kind, Point to) {
  Move move;
  move.line = line_;
  move.kind = kind;
  move.plane = plane_;
  move.from = at_;
  move.to = to;
  move.tool = tool_;
  move.coolant = coolant_;
  move.spindle = spindle_;
  at_ = to;
  trace_.moves.push_back(move);
  return trace_.moves.back();
}

void Tracer::add_feed(Move::Kind kind, Point to, Point centre) {
  if (feed_.value_or(0) <= 0) fault("a feed is missing: F above zero");
  if (!spindle_.on || (surface_ ? spindle_.surface : spindle_.rpm) <= 0) fault("the spindle is at rest in a feed move");
  Move& move = add(kind, to);
  move.centre = centre;
  move.feed = feed_.value_or(0);
  move.feed_per_turn = per_turn_;
}

void Tracer::motion(Sorted& s) {
  const auto code = s.code(Group::motion);
  if (!code && !s.axes()) return;
  const Tenths motion = code.value_or(motion_);
  if (motion != motion_) {
    sticky_ = {};
    sticky_.z_before = at_.z;
  }
  motion_ = motion == 331 ? kNoMotion : motion;  // a tapped thread is not repeated
  if (motion == kNoMotion) {
    if (s.axes()) fault("axis words without a motion");
    return;
  }
  if (!s.axes()) return fault(g_name(motion) + " lacks its axis words");
  switch (motion) {
    case 0:
      return straight(s, Move::Kind::rapid);
    case 10:
      return straight(s, Move::Kind::feed);
    case 20:
    case 30:
      return arc(s, motion == 30);
    case 331:
      return rigid_tap(s);
    default:
      return cycle(s, motion);
  }
}

/// A lathe has no y, or it stands at 0.
bool Tracer::place_known() const { return known_[0] && known_[2] && (plane_ == Plane::zx || known_[1]); }

bool Tracer::need_place() {
  if (place_known()) return true;
  fault("where the machine stands is not known yet: begin with G0 and all axes");
  known_ = {true, true, true};  // told once
  return false;
}

/// Where the block's axis words lead; nullopt with a fault where a step starts from an unknown place.
std::optional<Point> Tracer::target(Sorted& s) {
  Point to = at_;
  double* const axes[] = {&to.x, &to.y, &to.z};
  bool lost = false;
  for (std::size_t i = 0; i < 3; ++i) {
    const auto word = s.take("XYZ"[i]);
    if (!word) continue;
    const double value = length(i == 0 && x_is_diameter() ? *word / 2 : *word);
    lost = lost || (incremental_ && !known_[i]);
    *axes[i] = incremental_ ? *axes[i] + value : value;
    if (!incremental_) known_[i] = true;
  }
  if (!lost) return to;
  fault("a step in G91 from a place that is not known");
  known_ = {true, true, true};
  return std::nullopt;
}

/// Rapids that tell the first axes only are no moves yet: where they begin is not known.
void Tracer::straight(Sorted& s, Move::Kind kind) {
  if (kind == Move::Kind::feed && !need_place()) {
    if (const auto to = target(s)) at_ = *to;
    return;
  }
  const bool known = place_known();
  const auto to = target(s);
  if (!to) return;
  if (!known) at_ = *to;
  if (!place_known()) return;
  if (kind == Move::Kind::rapid) {
    add(kind, *to);
  } else {
    add_feed(kind, *to);
  }
}

/// In with the spindle, out against it, at one pitch a turn.
void Tracer::rigid_tap(Sorted& s) {
  const Point start = at_;
  const auto pitch = s.take('K');
  if (!need_place()) return;
  const auto to = target(s);
  if (!to) return;
  if (to->x != start.x || to->y != start.y) fault("G33.1 taps along Z alone");
  if (!pitch || *pitch <= 0) return fault("G33.1 takes the pitch as K, above zero");
  const auto feed = feed_;
  const bool per_turn = per_turn_;
  feed_ = length(*pitch);
  per_turn_ = true;
  if (surface_) fault("a thread is tapped at a speed given by revolutions");
  add_feed(Move::Kind::feed, {start.x, start.y, to->z});
  const Turn turn = spindle_.turn;
  spindle_.turn = turn == Turn::cw ? Turn::ccw : Turn::cw;
  Move& out = add(Move::Kind::feed, start);
  out.feed = *feed_;
  out.feed_per_turn = true;
  spindle_.turn = turn;
  feed_ = feed;
  per_turn_ = per_turn;
}

}  // namespace groovewright::nc
