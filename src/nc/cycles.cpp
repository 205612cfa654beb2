#include <algorithm>
#include <cmath>

#include "peck.h"
#include "tracer.h"

namespace groovewright::nc {
namespace {

constexpr Tenths kDrillDwell = 820, kPeck = 830, kTap = 840;
constexpr double kMostPecks = 10000;

}  // namespace

void Tracer::to_height(Move::Kind kind, double z) {
  if (z == at_.z) return;
  if (kind == Move::Kind::rapid) {
    add(kind, {at_.x, at_.y, z});
  } else {
    add_feed(kind, {at_.x, at_.y, z});
  }
}

/// Words that the block leaves out are those of the cycle before. False with a fault where the cycle can't run.
bool Tracer::read_cycle(Sorted& s, Tenths code) {
  const auto keep = [&](char letter, std::optional<double>& kept) {
    if (const auto value = s.take(letter)) kept = letter == 'P' ? *value : length(*value);
  };
  keep('Z', sticky_.z);
  keep('R', sticky_.r);
  keep('Q', sticky_.q);
  keep('P', sticky_.p);
  const auto refuse = [this](const char* why) {
    fault(why);
    return false;
  };
  if (plane_ != Plane::xy) return refuse("cycles bore square to the plane: in G18 along Y, so G17 is due");
  if (incremental_) return refuse("cycles are read in G90 only");
  if (!sticky_.z || !sticky_.r) return refuse("a cycle takes the bottom as Z and the height above the hole as R");
  if (*sticky_.r < *sticky_.z) return refuse("R lies below Z");
  if (code == kPeck && sticky_.q.value_or(0) <= 0) return refuse("G83 takes the peck as Q, above zero");
  if (code == kPeck && (*sticky_.r - *sticky_.z) / *sticky_.q > kMostPecks)
    return refuse("this hole has too many pecks");
  if (code == kDrillDwell && sticky_.p.value_or(-1) < 0) return refuse("G82 takes seconds as P, not less than zero");
  return true;
}

/// NIST IR 6556, canned cycles: over the hole at the height R or higher, in, and back to R (G99) or to where z was
/// (G98).
void Tracer::cycle(Sorted& s, Tenths code) {
  if (!need_place() || !read_cycle(s, code)) return;
  const auto across = target(s);
  if (!across) return;
  const double r = *sticky_.r, z = *sticky_.z;
  if (at_.z < r) to_height(Move::Kind::rapid, r);
  if (across->x != at_.x || across->y != at_.y) add(Move::Kind::rapid, {across->x, across->y, at_.z});
  to_height(Move::Kind::rapid, r);
  if (code == kPeck) peck();
  to_height(Move::Kind::feed, z);
  if (code == kDrillDwell) add(Move::Kind::dwell, at_).feed = *sticky_.p;
  const double out = retract_to_r_ ? r : std::max(r, sticky_.z_before);
  if (code == kTap) {
    tap(out);
  } else {
    to_height(Move::Kind::rapid, out);
  }
}

void Tracer::peck() {
  const double r = *sticky_.r;
  double depth = r - *sticky_.q;
  while (depth > *sticky_.z) {
    to_height(Move::Kind::feed, depth);
    to_height(Move::Kind::rapid, r);
    to_height(Move::Kind::rapid, depth + kPeckBackOff);
    depth -= *sticky_.q;
  }
}

void Tracer::tap(double out) {
  const Turn turn = spindle_.turn;
  spindle_.turn = turn == Turn::cw ? Turn::ccw : Turn::cw;
  to_height(Move::Kind::feed, out);
  spindle_.turn = turn;
}

}  // namespace groovewright::nc
