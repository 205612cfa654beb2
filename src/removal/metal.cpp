#include "metal.h"

#include <algorithm>

namespace groovewright::removal {
namespace {

/// Strips reach so far into their neighbours that they surely join again, lattice steps.
constexpr Steps kOverlap = 10'000;
/// More corners than this are not put aside: what overlaps much is dear to unite. By measurement.
constexpr std::size_t kMostAside = 80;

Loop rectangle(const Box& b) { return {{b.x0, b.y0}, {b.x1, b.y0}, {b.x1, b.y1}, {b.x0, b.y1}}; }

bool reaches_beyond_axis(const Loop& loop) {
  return std::any_of(loop.begin(), loop.end(), [](const auto& p) { return p.Y < 0; });
}

}  // namespace

Metal::Metal(const Loops& stock, int strips) : box_(box_of(stock)) {
  width_ = std::max<Steps>((box_.x1 - box_.x0) / std::max(1, strips), 4 * kOverlap);
  const Region whole(stock);
  for (Steps x = box_.x0; x < box_.x1; x += width_) {
    Strip& strip = strips_.emplace_back();
    Loops part;
    whole.shared(rectangle({x - kOverlap, box_.y0, x + width_ + kOverlap, box_.y1}), part);
    strip.region = Region(std::move(part));
  }
}

void Metal::Strip::settle() {
  if (aside.empty()) return;
  region.take_away(aside);
  aside.clear();
  corners_aside = 0;
}

template <class Strips, class Act>
void Metal::each(Strips& strips, const Metal& metal, const Loop& convex, const Act& act) {
  const Box near = box_of(convex);
  if (!near.overlaps(metal.box_)) return;
  const auto place = [&](Steps x) {
    const Steps last = static_cast<Steps>(strips.size()) - 1;
    return static_cast<std::size_t>(std::clamp<Steps>((x - metal.box_.x0) / metal.width_, 0, last));
  };
  const std::size_t first = place(near.x0 - kOverlap), last = place(near.x1 + kOverlap);
  for (std::size_t i = first; i <= last; ++i)
    if (near.overlaps(strips[i].region.box())) act(strips[i]);
}

void Metal::cut_one_side(const Loop& convex) {
  constexpr double kOutwards = -1;  // rounding must not lose a cut
  each(strips_, *this, convex, [&](Strip& strip) {
    if (!strip.region.meets(convex, kOutwards)) return;
    strip.aside.push_back(convex);
    strip.corners_aside += convex.size();
    if (strip.corners_aside > kMostAside) strip.settle();
  });
}

void Metal::cut(const Loop& convex) {
  cut_one_side(convex);
  if (reaches_beyond_axis(convex)) cut_one_side(over_the_axis(convex));
}

bool Metal::may_meet(const Loop& convex, double skin) const {
  bool may = false;
  const auto look = [&](const Loop& loop) {
    each(strips_, *this, loop, [&](const Strip& strip) { may = may || strip.region.meets(loop, skin); });
  };
  look(convex);
  if (!may && reaches_beyond_axis(convex)) look(over_the_axis(convex));
  return may;
}

void Metal::shared(const Loop& convex, double skin, Loops& out) {
  const auto look = [&](const Loop& loop) {
    each(strips_, *this, loop, [&](Strip& strip) {
      if (!strip.region.meets(loop, skin)) return;
      strip.settle();
      if (strip.region.meets(loop, skin)) strip.region.shared(loop, out);
    });
  };
  look(convex);
  if (reaches_beyond_axis(convex)) look(over_the_axis(convex));
}

Loops Metal::all() {
  Loops loops;
  for (Strip& strip : strips_) {
    strip.settle();
    const Loops& part = strip.region.loops();
    loops.insert(loops.end(), part.begin(), part.end());
  }
  return united(loops);
}

}  // namespace groovewright::removal
