// search_judge.h: inside room `drive`: judges combinations one after the other, and keeps what neighbours share.
#pragma once

#include <optional>
#include <vector>

#include "groovewright/drive/clearance.h"
#include "search_grip.h"
#include "search_space.h"
#include "search_standing.h"
#include "search_tally.h"

namespace groovewright::drive {

/// One thread's. Holds on to what it was made of.
class Judge {
 public:
  Judge(const Drive& base, const SearchSpace& space);
  /// All belts of one layout (sizes and places) and turn. Quickest where `layout` is that of the last call.
  void judge(std::uint64_t layout, std::size_t turn, Tally& tally);

 private:
  struct Offer {
    double length = 0, shortest = 0, longest = 0;  ///< nominal; over tolerance, heat and stretch
    double short_one = 0, long_one = 0;            ///< over tolerance alone
  };
  /// One combination on its way through the tests.
  struct Case {
    std::uint64_t index = 0;
    const Offer* belt = nullptr;
    Lacking lacking;
  };

  void take_layout(std::uint64_t layout);
  void take_turn(double turn);
  [[nodiscard]] double peg_hole_lacks() const;
  /// Each is false where the case is closed.
  [[nodiscard]] bool seated(Case& c, Fit& fit, Tally& tally);
  [[nodiscard]] bool on_fixed_centres(Case& c, Fit& fit, Tally& tally);
  [[nodiscard]] bool runs(Case& c, Tally& tally);
  [[nodiscard]] bool grips(Case& c, Fit& fit, Tally& tally);
  [[nodiscard]] bool carries(Case& c, const Fit& fit, Tally& tally) const;
  [[nodiscard]] bool has_room(Case& c, Fit& fit, Tally& tally);
  /// What clearances lack at least.
  [[nodiscard]] double glance();
  [[nodiscard]] bool clears(Case& c, Tally& tally);
  /// Adds; true while it is worth while to look on.
  [[nodiscard]] static bool go_on(Case& c, Trial trial, double by, Tally& tally);
  static void close(const Case& c, Tally& tally) { tally.miss(c.lacking, c.index); }

  const Drive& base_;
  const SearchSpace& space_;
  Drive drive_;  ///< with the sizes, places and turn at hand
  Course course_;
  std::vector<Offer> offers_;
  std::vector<std::size_t> rounds_;  ///< of each varied pulley
  std::vector<Picked> picked_;
  StandingTests standing_;

  // Of the layout.
  std::optional<std::uint64_t> layout_;
  Lacking layout_lacks_;
  GripTable grip_;
  bool grip_filled_ = false;
  // Of layout and turn.
  std::optional<Swing> swing_;
  std::optional<Seats> seats_;
  std::vector<Room> rooms_;  ///< `slack` with a belt of no length
  bool rooms_found_ = false;
  std::optional<double> glanced_, cleared_;  ///< what clearances lack, at least and exactly
  std::optional<bool> laid_;                 ///< on fixed centres
  // Buffers.
  Route route_;
  std::vector<Room> with_belt_;
  std::vector<Gap> gaps_;
};

}  // namespace groovewright::drive
