#include <limits>

#include "groovewright/base/broken.h"
#include "groovewright/drive/belts.h"
#include "search_space.h"

namespace groovewright::drive {

std::uint64_t SearchSpace::size() const {
  constexpr std::uint64_t kMost = std::numeric_limits<std::uint64_t>::max();
  std::uint64_t n = 1;
  const auto times = [&](std::size_t m) { n = m > 0 && n > kMost / m ? kMost : n * m; };
  times(lengths.size());
  times(turns.size());
  for (const Varied& v : varied) {
    times(v.radii.size());
    times(v.places.size());
  }
  return n;
}

std::vector<Picked> picked(const SearchSpace& space, std::uint64_t layout) {
  std::vector<Picked> out(space.varied.size());
  pick(space, layout, out);
  return out;
}

void pick(const SearchSpace& space, std::uint64_t layout, std::vector<Picked>& out) {
  for (std::size_t i = space.varied.size(); i-- > 0;) {
    const Varied& v = space.varied[i];
    out[i].place = static_cast<std::size_t>(layout % v.places.size());
    layout /= v.places.size();
    out[i].radius = static_cast<std::size_t>(layout % v.radii.size());
    layout /= v.radii.size();
  }
}

void resize(Pulley& pulley, double radius) {
  pulley.outside += radius - pulley.radius;
  pulley.radius = radius;
}

Combination combination(const SearchSpace& space, std::uint64_t index) {
  require(index < space.size(), "combination: a number of the space");
  Combination c;
  c.length = space.lengths[static_cast<std::size_t>(index % space.lengths.size())];
  index /= space.lengths.size();
  c.turn = space.turns[static_cast<std::size_t>(index % space.turns.size())];
  const auto all = picked(space, index / space.turns.size());
  for (std::size_t i = 0; i < all.size(); ++i) {
    c.choices.push_back({space.varied[i].radii[all[i].radius], space.varied[i].places[all[i].place]});
  }
  return c;
}

Drive with_combination(const Drive& base, const SearchSpace& space, std::uint64_t index) {
  const Combination c = combination(space, index);
  Drive d = with_length(base, c.length, "on offer");
  for (std::size_t i = 0; i < c.choices.size(); ++i) {
    const std::size_t k = space.varied[i].pulley;
    resize(k == kNone ? d.tensioner->idler : d.pulleys[k], c.choices[i].radius);
    (k == kNone ? d.tensioner->pivot : d.pulleys[k].at) = c.choices[i].place;
  }
  if (d.tensioner) d.tensioner = turned(*d.tensioner, c.turn);
  return d;
}

std::string_view to_text(Trial trial) {
  switch (trial) {
    case Trial::size:
      return "grooves, widths and diameters of pulleys";
    case Trial::speed:
      return "speed of pulleys and belt";
    case Trial::load:
      return "loads known at all speeds";
    case Trial::slack_span:
      return "tensioner on the slack span";
    case Trial::standing:
      return "parts that stand still clear of each other";
    case Trial::peg_hole:
      return "metal between the old peg hole and the new one";
    case Trial::belt_length:
      return "belt within the tensioner's reach";
    case Trial::travel:
      return "travel left to the stops";
    case Trial::layout:
      return "belt can run like this";
    case Trial::alignment:
      return "alignment of spans";
    case Trial::grip:
      return "grip of the belt";
    case Trial::bearing:
      return "the belt's pull on bearings";
    case Trial::room:
      return "belt room";
    case Trial::clearance:
      return "clearances over the swing";
  }
  throw Broken("to_text: a trial that is none");
}

}  // namespace groovewright::drive
