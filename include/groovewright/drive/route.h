// route.h: the belt's way round the pulleys: tangents, spans, wraps, lengths; and what makes a layout impossible.
//
// All of it is on the effective line: at d_e/2 on ribs, at d/2 + t_bc + b_e on a back pulley. The cord runs b_e outside
// of it all the way, so that the pitch length is L_e + b_e × the sum of the signed wraps. Start here: `course`, `lay`.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "groovewright/drive/model.h"

namespace groovewright::drive {

inline constexpr std::size_t kNone = static_cast<std::size_t>(-1);

/// A circle that the effective line runs on, and how it turns: +1 counter-clockwise, -1 clockwise.
struct Round {
  Vec2 centre;
  double radius = 0;
  int turn = 1;
};

/// The rounds of a drive in belt order, the driver wherever it was given.
struct Course {
  std::vector<Round> rounds;
  std::vector<std::size_t> pulley;  ///< index into `Drive::pulleys`; kNone is the tensioner's idler
  std::size_t idler = kNone;        ///< its place in `rounds`
  std::size_t driver = 0;           ///< place in `rounds`
  int loop = 1;                     ///< +1 counter-clockwise

  [[nodiscard]] std::size_t size() const { return rounds.size(); }
  [[nodiscard]] std::size_t next(std::size_t i) const { return i + 1 == rounds.size() ? 0 : i + 1; }
  [[nodiscard]] std::size_t before(std::size_t i) const { return i == 0 ? rounds.size() - 1 : i - 1; }
};

/// The drive's course, its tensioner at its free position. Requires: two rounds at least, `after` names a pulley, one
/// pulley drives.
[[nodiscard]] Course course(const Drive& drive);
/// The pulley of round i; the tensioner's idler for its round.
[[nodiscard]] const Pulley& pulley_at(const Drive& drive, const Course& course, std::size_t i);
/// Radius of the effective line and of the cord on a pulley. mm.
[[nodiscard]] double line_radius(const Belt& belt, const Pulley& pulley);
[[nodiscard]] double cord_radius(const Belt& belt, const Pulley& pulley);
/// Where the idler's middle is at a position, and how it moves: mm per rad (slide: per mm).
[[nodiscard]] Vec2 idler_centre(const Tensioner& tensioner, double position);
[[nodiscard]] Vec2 idler_motion(const Tensioner& tensioner, double position);

/// "crank to arm": the span that leaves round i, for people.
[[nodiscard]] std::string span_name(const Drive& drive, const Course& course, std::size_t i);

/// A straight piece of belt, from leaving a round to meeting the next.
struct Span {
  Vec2 from, to;
  Vec2 along;  ///< unit, in the belt's travel
  double length = 0;
};

/// Buffers that `lay` fills; reuse them, nothing is allocated once they are large enough.
struct Route {
  std::vector<Span> spans;         ///< [i] leaves round i
  std::vector<double> wraps;       ///< rad, in the round's own turn: (0, 2π); in (-π, 0] the belt misses the round
  double length = 0;               ///< effective; a missed round counts with its negative arc
  std::size_t no_tangent = kNone;  ///< the first span that cannot be drawn
};

/// Promise on lengths (mm) and wraps (rad) for layouts within 1e4 mm.
inline constexpr double kRouteError = 1e-9;

/// Lays the belt. False where a span cannot be drawn (one circle within another, or both sides of the belt on circles
/// that overlap); only `no_tangent` is then set. Cost: linear in rounds, one square root and one arc tangent each.
///
/// A wrap over 180° looks like one below 0° by its directions alone. It is taken for real where its two spans do not
/// cross each other before they reach their other ends, and always where there are two rounds only.
[[nodiscard]] bool lay(std::span<const Round> rounds, Route& route);

/// The tangent from one round to the next; false where there is none.
[[nodiscard]] bool tangent(const Round& from, const Round& to, Span& span);
/// The wrap between two spans that meet at a round; `two`: there are but two rounds.
[[nodiscard]] double wrap_between(const Round& round, const Span& in, const Span& out, bool two);

/// + with the loop, - on back idlers, in rad; 2π for a simple loop.
[[nodiscard]] double signed_wrap(const Course& course, const Route& route, std::size_t i);
[[nodiscard]] double sum_of_signed_wraps(const Course& course, const Route& route);
/// L_p = L_e + b_e × sum of signed wraps. mm.
[[nodiscard]] double pitch_length(const Belt& belt, const Course& course, const Route& route);

/// Why a layout or a state is impossible, in words with the parts named.
struct Complaint {
  enum class Kind {
    same_centre,
    overlap,
    no_tangent,
    missed,
    crosses_itself,
    through_pulley,
    not_once_round,
    belt_too_short,
    belt_too_long,
    slackens,  ///< the spring's way makes the belt looser
    load_unknown,
  };
  Kind kind{};
  std::string says;         ///< with the figure
  double figure = 0;        ///< mm; turns for not_once_round, speeds for load_unknown
  std::string part, other;  ///< names; `other` may be ""
};

/// All that is wrong with the layout at one position of the tensioner, in belt order; empty for a sound one.
[[nodiscard]] std::vector<Complaint> layout_complaints(const Drive& drive, const Course& course);

}  // namespace groovewright::drive
