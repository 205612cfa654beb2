// tracer.h: a machine that runs blocks: its modal state and the moves that it makes.
#pragma once

#include <array>
#include <optional>
#include <set>
#include <string>

#include "codes.h"
#include "groovewright/nc.h"

namespace groovewright::nc {

/// What contiguous cycles hand on (NIST IR 6556): depth, retract plane, peck, dwell; where z was before the first.
struct Sticky {
  std::optional<double> z, r, q, p;
  double z_before = 0;
};

class Tracer {
 public:
  Tracer(const Program& program, const Dialect& dialect);
  [[nodiscard]] Trace trace() && { return std::move(trace_); }

 private:
  // ---- trace.cpp: the order of execution ----
  void run(const Block& block);
  void feed_mode(Sorted& s);
  void spindle_speed(Sorted& s);
  void change_tool(Sorted& s);
  void spindle_and_coolant(const Sorted& s);
  void modes(Sorted& s);
  void stop(const Sorted& s);
  void dwell(Sorted& s);

  // ---- motion.cpp ----
  void motion(Sorted& s);
  void straight(Sorted& s, Move::Kind kind);
  void rigid_tap(Sorted& s);
  [[nodiscard]] std::optional<Point> target(Sorted& s);
  [[nodiscard]] bool place_known() const;
  /// The place, or a fault where it is not known.
  [[nodiscard]] bool need_place();

  // ---- arcs.cpp ----
  void arc(Sorted& s, bool ccw);
  [[nodiscard]] std::optional<Point> centre_by_radius(Point to, double radius, bool ccw);
  [[nodiscard]] std::optional<Point> centre_by_offsets(Sorted& s, Point to);

  // ---- cycles.cpp ----
  void cycle(Sorted& s, Tenths code);
  [[nodiscard]] bool read_cycle(Sorted& s, Tenths code);
  void to_height(Move::Kind kind, double z);
  void peck();
  void tap(double out);

  // ---- motion.cpp ----
  Move& add(Move::Kind kind, Point to);
  /// A move in metal: a fault where feed or spindle are missing.
  void add_feed(Move::Kind kind, Point to, Point centre = {});
  void fault(std::string says);
  [[nodiscard]] double length(double value) const { return inches_ ? value * kMillimetresInInch : value; }
  [[nodiscard]] bool x_is_diameter() const { return diameters_ || (always_diameters_ && plane_ == Plane::zx); }

  static constexpr double kMillimetresInInch = 25.4;

  std::set<Tenths> dialect_codes_;
  bool always_diameters_ = false;  ///< a lathe's control without a word for it
  Trace trace_;
  int line_ = 0;
  bool ended_ = false, told_ended_ = false;

  Tenths motion_ = kNoMotion;
  Plane plane_ = Plane::xy;
  bool inches_ = false, incremental_ = false, diameters_ = false;
  bool per_turn_ = false, surface_ = false, retract_to_r_ = false;
  std::optional<double> feed_;
  int tool_ = 0;
  std::optional<int> called_;
  bool coolant_ = false;
  Spindle spindle_;
  Point at_;
  std::array<bool, 3> known_{};
  Sticky sticky_;
};

}  // namespace groovewright::nc
