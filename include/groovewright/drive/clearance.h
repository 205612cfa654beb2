// clearance.h: how near the parts of a drive come to each other, and the room that a belt needs to be slipped on.
//
// Every part is a prism: a shape in the drive's plane and an extent along Z. A gap is the distance of two prisms, below
// 0 where they overlap. Pulleys count with their flanges, and with the belt over the wrap; spans are as thick as the
// belt, back and ribs each on their own side. Lengths mm. Start here: `Clearances`.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "groovewright/drive/swing.h"

namespace groovewright::drive {

struct PartId {
  enum class Kind { pulley, span, obstacle, arm };
  Kind kind{};
  std::size_t index = 0;  ///< of the round (a span: of the round that it leaves) or the obstacle
  bool operator==(const PartId&) const = default;
};
/// "blower", "belt from crank to arm", "cover boss", "arm's body".
[[nodiscard]] std::string part_name(const Drive& drive, const Course& course, PartId part);

struct Gap {
  PartId a, b;
  double gap = 0;
  double in_plane = 0, axial = 0;  ///< its two parts; either is below 0 where the shapes overlap that way
  double limit = 0;
  double position = 0;  ///< of the tensioner; 0 without one
  /// Of a and b, in the drive's plane, |in_plane| from each other along the line on which they would come apart. One
  /// point where a span or the arm's middle runs into an outline.
  Vec2 at_a, at_b;
};

/// Error of a least gap over a swing, where it has one minimum only within two degrees (a slide: a fiftieth) of it.
inline constexpr double kSweepError = 1e-6;
/// Gaps over this are only looked at every degree (a hundredth of a slide's way): nobody asks for more of them.
inline constexpr double kFarApart = 50;

/// All pairs of parts that could touch: not two obstacles, not a span and the rounds it touches, not two spans at one
/// round. What the tensioner does not move is measured once. Holds on to the drive, which must outlive it.
class Clearances {
 public:
  Clearances(const Drive& drive, const Course& course);
  /// All gaps with the tensioner at a position (any, where there is none). False where the belt cannot be laid.
  [[nodiscard]] bool at(double position, std::vector<Gap>& gaps);
  /// The least of every pair over the whole swing, positions where no belt can be laid left out; false where none can.
  [[nodiscard]] bool over_swing(std::vector<Gap>& gaps);
  /// The least gap of any pair at both stops and halfway, unlimited where there is none: `over_swing` finds that pair
  /// no further apart, for a sixtieth of its time.
  [[nodiscard]] double glance();

 private:
  struct Body {
    double bare = 0, with_belt = 0;
  };
  struct Pair {
    PartId a, b;
    double axial = 0;
    bool moves = false;
  };
  struct Least {
    double gap = kUnlimited, position = 0;
  };
  [[nodiscard]] int steps() const;
  [[nodiscard]] double step_at(int i) const;
  [[nodiscard]] bool place(double position);
  [[nodiscard]] double radius_towards(std::size_t round, Vec2 direction) const;
  [[nodiscard]] double band_towards(std::size_t span, Vec2 to) const;
  template <class N>
  [[nodiscard]] N in_plane(const Pair& pair) const;
  template <class N>
  [[nodiscard]] N pulley_to(std::size_t round, PartId other) const;
  template <class N>
  [[nodiscard]] N span_to(std::size_t span, PartId other) const;
  template <class N>
  [[nodiscard]] N arm_to(PartId other) const;
  [[nodiscard]] Axial axial_of(PartId part) const;
  [[nodiscard]] bool moves(PartId part) const;
  void add_pairs();
  void measure(std::size_t pair, double position, Gap& gap) const;
  /// The fixed ones; only who asks for gaps wants to know where they are.
  [[nodiscard]] const std::vector<Gap>& with_ends();
  void find_ends(std::size_t pair, Gap& gap) const;
  [[nodiscard]] double gap_now(std::size_t pair) const;
  void refine(std::size_t pair, double from, double to, Least& best);

  const Drive* drive_;
  Course course_;
  Route route_;
  std::optional<Swing> swing_;
  std::vector<Body> bodies_;
  std::vector<Pair> pairs_;
  std::vector<Gap> fixed_;
  bool laid_ = false, ends_known_ = false;
};

/// Belt room of one pulley as the one over which the belt goes last, the tensioner on its far stop.
struct Room {
  std::size_t round = 0;
  double gap = 0;         ///< from its flange to the nearest other part
  double gap_needed = 0;  ///< the belt's greatest height and a little
  PartId nearest;
  /// Shortest belt by tolerance, less the path with this pulley's effective circle replaced over half its wrap by its
  /// flange's radius and the belt's back above the effective line.
  double slack = 0;
  [[nodiscard]] bool enough() const { return gap >= gap_needed && slack >= 0; }
};
/// One for each ribbed pulley, in belt order. Empty where no belt can be laid with the tensioner on its far stop.
[[nodiscard]] std::vector<Room> belt_rooms(const Drive& drive, const Course& course);
/// Which of them to fit last: the most slack of those that have enough, else the one that lacks least. Requires: one.
[[nodiscard]] const Room& fit_last(const std::vector<Room>& rooms);

/// How askew the belt runs between the planes of two pulleys, rad.
[[nodiscard]] double entry_angle(const Drive& drive, const Course& course, const Route& route, std::size_t span);

}  // namespace groovewright::drive
