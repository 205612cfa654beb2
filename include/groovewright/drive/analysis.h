// analysis.h: everything about one drive with its own belt on, and the rows that judge it.
#pragma once

#include <string>
#include <vector>

#include "groovewright/base/rows.h"
#include "groovewright/drive/clearance.h"
#include "groovewright/drive/loads.h"
#include "groovewright/drive/swing.h"

namespace groovewright::drive {

/// A load case at one end of the tensioner's friction band.
struct Loaded {
  double set = 0;  ///< as given to `load_case`
  LoadCase load;
};

/// All figures. What needs a sound layout is empty where there are complaints about it.
struct Analysis {
  Course course;  ///< the tensioner where the belt holds it
  Route route;
  std::vector<Complaint> complaints;              ///< about the layout; then all but the seat is empty
  std::vector<Complaint> troubles;                ///< about the belt on it: too short, too long, loads not known
  double effective_length = 0, pitch_length = 0;  ///< of the path as it stands

  std::optional<Seat> seat;
  std::optional<Travel> travel;
  std::vector<CurvePoint> curve;
  double better_length = 0;        ///< of the belt that would hold the tensioner in the middle; 0: none would
  std::optional<Reclock> reclock;  ///< to the middle of the swing, where the travel is short of its limit

  std::vector<Gap> gaps;  ///< least over the swing
  std::vector<Room> rooms;

  Band set;                    ///< T' by the tensioner, or the tension standing still (all three the same)
  std::vector<Loaded> loaded;  ///< each speed × drive, overrun × low, high; empty where nothing sets a tension
  FrequencyMap frequencies;
  std::vector<BendingLoss> bending;  ///< at each speed; empty where the belt's loss is not known
};

/// Speeds of a frequency map and points of a tension curve.
inline constexpr int kMapPoints = 101, kCurvePoints = 61;

/// Requires: what `course` requires; a tensioner only with three rounds or more.
[[nodiscard]] Analysis analyse(const Drive& drive);

/// Every size and check of the drive. Ids end in the pulley's name in lower_snake_case (`wrap_crank`, `slip_blower`), a
/// span's in both. What has no limit is a note.
[[nodiscard]] Rows rows(const Drive& drive, const Analysis& analysis);

/// A name as the end of an id: lower case, all but letters and digits as one underscore.
[[nodiscard]] std::string as_id(std::string_view name);

}  // namespace groovewright::drive
