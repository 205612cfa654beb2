// search.h: every combination of belts, sizes, places and turns of the tensioner's body: which of them meet all limits,
// the best of those first, and what the nearest of the others lack. Start here: `search`.
//
// A combination is judged by the same limits as `rows`. What depends on few choices is judged once for all that share
// them, the cheapest trial first, and a combination that fails one is judged on only where it may be among the nearest.
// Lengths mm, angles rad, forces N.
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <optional>
#include <string_view>
#include <vector>

#include "groovewright/base/rows.h"
#include "groovewright/drive/route.h"
#include "groovewright/drive/swing.h"

namespace groovewright::drive {

/// What ranks those that meet all limits: the least way to a stop over tolerance, stretch and heat; the least slip
/// margin; the belt left over when it goes over the pulley to be fitted last.
enum class Merit { travel, grip, room };

/// A pulley whose size or place a search may change. Neither list is empty.
struct Varied {
  std::size_t pulley = kNone;  ///< index into `Drive::pulleys`; kNone: the tensioner's idler
  std::vector<double> radii;   ///< as `Pulley::radius`; crests keep their distance from it
  std::vector<Vec2> places;    ///< of its middle; of the pivot for the tensioner
};

struct SearchSpace {
  std::vector<double> lengths;   ///< effective, of the belts on offer; rising, one at least
  std::vector<double> turns{0};  ///< of the tensioner's body about its pivot, ccw; {0} without one and for a slide
  std::vector<Varied> varied;    ///< no pulley twice
  Merit merit = Merit::travel;   ///< travel only with a tensioner
  std::size_t keep = 20;         ///< of those that meet all limits
  std::size_t near_misses = 10;  ///< of those that do not

  /// How many combinations: a product, the greatest number there is where it would be more.
  [[nodiscard]] std::uint64_t size() const;
};

/// One combination by its number: belts change fastest, then turns, then the last of `varied`.
struct Combination {
  struct Choice {
    double radius = 0;
    Vec2 place;
  };
  double length = 0, turn = 0;
  std::vector<Choice> choices;  ///< in the order of `SearchSpace::varied`
};
[[nodiscard]] Combination combination(const SearchSpace& space, std::uint64_t index);
/// The drive with it. Requires: what `search` requires.
[[nodiscard]] Drive with_combination(const Drive& base, const SearchSpace& space, std::uint64_t index);

/// The trials, in the order in which a combination meets them.
enum class Trial {
  size,         ///< grooves, widths, least diameters
  speed,        ///< of pulleys and belt
  load,         ///< known at all speeds
  slack_span,   ///< the tensioner's
  standing,     ///< what the tensioner does not move: a belt runs there, and parts stand clear of each other
  peg_hole,     ///< metal between the old hole and the new one
  belt_length,  ///< a belt within its tolerance finds no place on the swing; without a tensioner, is not the path's
  travel,
  room,  ///< belt room
  layout,
  alignment,  ///< of spans; those that stand still are met with `standing`
  grip,
  bearing,    ///< the belt's pull on shafts
  clearance,  ///< over the whole swing
};
inline constexpr std::size_t kTrials = 14;
/// In words: "travel left to the stops".
[[nodiscard]] std::string_view to_text(Trial trial);

/// One that meets all limits.
struct Fit {
  std::uint64_t index = 0;
  double merit = 0;                ///< deg (a slide: mm), a ratio or mm; rounded to `kMeritStep`
  double to_near = 0, to_far = 0;  ///< least over tolerance, stretch and heat; 0 without a tensioner
  Band tension;                    ///< T' that the tensioner sets
  double grip = 0;                 ///< least slip margin; unlimited where no load or no tension is known
  double room = 0;                 ///< belt left over the pulley fitted last
};
/// Merits that differ by less are equal: the lower index goes first.
inline constexpr double kMeritStep = 1e-6;

/// One that does not.
struct NearMiss {
  std::uint64_t index = 0;
  Trial first{};  ///< that it fails
  /// What it lacks of the limit that it misses most, as part of that limit (of 10 mm for lengths that may be 0).
  double by = 0;
  std::vector<Check> fails;  ///< all rows that fail, as `rows` has them
};
/// `by` where the belt finds no place (1 and what it lacks), and where no belt can run at all.
inline constexpr double kNoSeat = 1, kNoLayout = 100;

struct SearchResult {
  std::uint64_t combinations = 0;
  std::uint64_t solved = 0;  ///< those that no trial had thrown out before the tensioner's rest was sought
  std::uint64_t fits = 0;
  std::array<std::uint64_t, kTrials> thrown_out{};  ///< by the first trial failed
  std::vector<Fit> kept;                            ///< best first
  std::vector<NearMiss> nearest;                    ///< nearest first; equal ones by index
};

/// How many combinations are done, of how many. May throw: the search ends and passes it on.
using SearchProgress = std::function<void(std::uint64_t done, std::uint64_t of)>;

/// Judges every combination on `threads` threads (1 at least), the calling one among them, which alone calls
/// `progress`. The result does not depend on their number. Memory is that of the lists kept, whatever the count.
/// Requires: what `analyse` requires of the drive; the space as its fields say.
[[nodiscard]] SearchResult search(const Drive& base, const SearchSpace& space, int threads,
                                  const SearchProgress& progress = {});

}  // namespace groovewright::drive
