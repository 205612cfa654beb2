// swing.h: the tensioner: where the arm comes to rest with a belt on, how hard it then pulls, how far it may still go.
//
// The spring's effort M (N mm; a slide's force, N) works towards `free`. A belt of tension T' resists with T' dL, where
// L is the path's length: so T' = M / (dL/dposition towards free). T' is what is left of the tension when m v² is taken
// off: the arm's equilibrium knows no centrifugal part. Angles rad, ways of a slide mm. Start here: `Swing`, `seat`.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "groovewright/drive/route.h"

namespace groovewright::drive {

/// The belt's path at one position of the tensioner.
struct Spot {
  double position = 0;
  Vec2 centre;                                       ///< of the idler
  Span in, out;                                      ///< on both sides of the idler
  double wrap_before = 0, wrap = 0, wrap_after = 0;  ///< as in `Route`, on the idler and its neighbours
  double length = 0;                                 ///< effective, of the whole path
  bool touches = true;  ///< false: the belt runs past the idler; `in` and `out` meet beside it
  double gain = 0;      ///< dL/dposition: mm per rad (slide: per mm), exact
};

/// The path as a function of the tensioner's position: what does not move is measured once. Holds no reference to what
/// it was made of; a copy is cheap.
class Swing {
 public:
  /// Requires: a tensioner, three rounds at least.
  Swing(const Drive& drive, const Course& course);
  /// False where the path cannot be drawn at this position.
  [[nodiscard]] bool at(double position, Spot& spot) const;
  /// The spring's effort there, N mm (slide: N).
  [[nodiscard]] double effort(double position) const;
  /// +1 where the spring drives positions up, -1 down.
  [[nodiscard]] int spring_sense() const { return near_ >= far_ ? 1 : -1; }
  [[nodiscard]] double near_stop() const { return near_; }
  [[nodiscard]] double far_stop() const { return far_; }
  [[nodiscard]] double friction() const { return friction_; }
  /// Part by which a belt lengthens per N of tension beyond that under which it was measured, and that tension.
  [[nodiscard]] double give() const { return give_; }
  [[nodiscard]] double measured_under() const { return measured_under_; }

 private:
  struct Mover {
    bool slides = false;
    Vec2 pivot, direction;
    double arm = 0;
  };
  Mover mover_;
  Round before_, idler_, after_;
  Span into_before_, out_of_after_;
  Spot past_;  ///< the belt without the idler
  bool has_past_ = false;
  double fixed_ = 0;  ///< spans and arcs that the tensioner does not change
  bool laid_ = false;
  double near_ = 0, far_ = 0, free_ = 0, effort_ = 0, rate_ = 0, friction_ = 0, give_ = 0, measured_under_ = 0;
};

/// Least, middle and greatest over the friction of the tensioner.
struct Band {
  double low = 0, mid = 0, high = 0;
};

/// The tensioner at rest with a belt on.
struct Seat {
  enum class State { seated, belt_too_short, belt_too_long, cannot_tighten };  // the last: nowhere on its swing
  State state = State::cannot_tighten;
  double lacks = 0;     ///< mm of belt too short or too long; 0 when seated
  double position = 0;  ///< at rest; the stop that it lies on where the belt is too short (far) or too long (near)
  double length = 0;    ///< of the path there, that is of the belt under its tension
  double take_up = 0;   ///< mm of belt per rad (slide: mm) towards free
  double effort = 0;    ///< of the spring there
  Band tension;         ///< T'; 0 unless seated
  double to_near = 0, to_far = 0;  ///< way left to each stop
};
/// Promise on `position` times the arm's length, and on the length, mm.
inline constexpr double kSeatError = 1e-9;

/// Where the tensioner comes to rest with a belt of this effective length (measured as the standard does), coming from
/// the far stop, where the belt was slipped on. The belt gives by its stiffness.
[[nodiscard]] Seat seat(const Swing& swing, double belt_length);

/// `seat` for many belts on one swing, whose stations are drawn once: the same figures, bit for bit.
class Seats {
 public:
  /// Holds on to the swing, which must outlive it.
  explicit Seats(const Swing& swing);
  [[nodiscard]] Seat of(double belt_length) const;
  /// The most way to each stop that a belt of this length can leave, from its neighbouring stations; nullopt only where
  /// none comes to rest on the swing. Seeks no root: some tens of nanoseconds.
  struct Reach {
    double to_near = 0, to_far = 0;
  };
  [[nodiscard]] std::optional<Reach> reach(double belt_length) const;

  /// Steps in which a swing is looked through for the place where the belt grows taut.
  static constexpr int kSteps = 24;
  /// What the seat asks of one position.
  struct Station {
    double position = 0, length = 0, pull = 0;
    bool drawn = false;  ///< a path can be drawn
    bool holds = false;  ///< that, and the spring tightens it or the belt runs past the idler
    bool touches = false;
  };

 private:
  const Swing* swing_;
  std::array<Station, kSteps + 1> stations_;
  std::array<Station, kSteps + 1> borders_;  ///< between a station and the last, where a path can be drawn at one only
};
/// T' over the friction's band at a spot; all 0 where the spring's way slackens the belt.
[[nodiscard]] Band tension_at(const Swing& swing, const Spot& spot);

/// Seats over the length's tolerance, heat and lasting stretch.
struct Travel {
  double shortest_length = 0,
         longest_length = 0;  ///< shorter tolerance and hot growth off; longer, stretch and the cold's shrinking on
  Seat shortest, nominal, longest;
  double least_to_near = 0, least_to_far = 0;  ///< over the three; 0 where one is not seated
  bool all_seated = false;
};
[[nodiscard]] Travel travel(const Drive& drive, const Swing& swing);

struct CurvePoint {
  double position = 0, length = 0, take_up = 0;
  Band tension;
};
/// How tension moves with travel: `points` (2 at least) from the near stop to the far one; those where no path can be
/// drawn are left out.
[[nodiscard]] std::vector<CurvePoint> tension_curve(const Swing& swing, int points);

/// The length of the path with the tensioner in the middle of its swing: the belt to look for. 0 where none can be
/// drawn.
[[nodiscard]] double length_at_middle(const Swing& swing);

/// True where nothing takes torque between the driver and the tensioner, in the belt's travel.
[[nodiscard]] bool tensioner_on_slack_span(const Drive& drive, const Course& course);

/// The tensioner with its body turned about the pivot: free, stops and peg together.
[[nodiscard]] Tensioner turned(const Tensioner& tensioner, double by);

struct Reclock {
  double turn = 0;      ///< of the body, rad ccw
  double position = 0;  ///< of the arm then
  Vec2 old_hole, new_hole;
  double between_holes = 0;  ///< centre to centre, mm
  double ligament = 0;       ///< metal between the holes, mm: between_holes less the diameter
  double ligament_needed = 0;
};
/// The turn of the body that puts the arm `from_free` away from its free position with the drive's own belt on: what a
/// larger pulley took is given back. nullopt for a slide, or where no arm position takes the belt.
[[nodiscard]] std::optional<Reclock> reclock(const Drive& drive, const Course& course, double from_free);

}  // namespace groovewright::drive
