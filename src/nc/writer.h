// writer.h: a program while it is written: what the control knows at each block, so that nothing is left to memory.
#pragma once

#include <array>
#include <optional>
#include <string>

#include "groovewright/nc.h"
#include "patterns.h"

namespace groovewright::nc {

class Writer {
 public:
  Writer(const Script& script, const Dialect& dialect);
  [[nodiscard]] std::string text() &&;

 private:
  void line(const std::string& block) { out_ += block + "\n"; }
  void comment(std::string_view text);

  // ---- writer.cpp: state of the machine ----
  void begin();
  void end();
  void safe_line();
  void change_tool(const ToolChange& change);
  void set_spindle(const SpindleSpeed& speed);
  void set_surface(const SurfaceSpeed& speed);
  void stop_spindle();
  void set_feed();
  void set_coolant(bool on);
  void dwell(double seconds);
  void correct(const Correction& correction);
  [[nodiscard]] double revolutions(double radius) const;
  [[nodiscard]] std::string speed_words(double radius);
  [[nodiscard]] std::string feed_words(double radius);
  [[nodiscard]] std::string turned(std::string_view function, std::string_view otherwise,
                                   std::initializer_list<Filling> fillings) const;

  // ---- write.cpp: commands and moves ----
  void command(const Comment& c) { comment(c.text); }
  void command(const Parameter&) {}  // stands at the top
  void command(const Correction& c) { correct(c); }
  void command(const ToolChange& c) { change_tool(c); }
  void command(const SpindleSpeed& c) { set_spindle(c); }
  void command(const SurfaceSpeed& c) { set_surface(c); }
  void command(const SpindleStop&) { stop_spindle(); }
  void command(const FeedPerTurn& c);
  void command(const FeedPerMinute& c);
  void command(const Coolant& c) { set_coolant(c.on); }
  void command(const Rapid& c) { rapid(c.to); }
  void command(const Line& c) { feed(c.to); }
  void command(const Arc& c);
  void command(const Dwell& c) { dwell(c.seconds); }
  void command(const Cycle& c);
  void rapid(Point to);
  void feed(Point to);
  void rapid_z(double z);
  void rapid_to_safe();
  void arc(const Arc& arc);
  void half_arcs(const Arc& arc, double swept);
  [[nodiscard]] std::string axis(char letter, double value) const;
  [[nodiscard]] std::string changed_axes(Point to, bool all = false);
  [[nodiscard]] Point written(Point p) const;

  // ---- write_holes.cpp ----
  void approach(const Cycle& c);
  void tap(const Cycle& c);
  void tap_by_moves(const Cycle& c);
  void drill_by_moves(const Cycle& c);
  void peck_by_moves(const Cycle& c);
  [[nodiscard]] std::optional<std::string> cycle_block(const Cycle& c) const;

  [[nodiscard]] bool has(std::string_view function) const { return pattern_of(dialect_, function) != nullptr; }
  [[nodiscard]] bool lathe() const { return script_.plane == Plane::zx; }
  [[nodiscard]] bool doubles_x() const { return lathe() && dialect_.lathe_diameters; }

  struct Speed {
    bool surface = false;
    double value = 0;  ///< rpm, or m/min
    double max = 0;    ///< rpm
    Turn turn = Turn::cw;
  };
  struct Feed {
    bool per_turn = false;
    double mm = 0;
  };

  const Script& script_;
  const Dialect& dialect_;
  std::string out_;
  Correction correction_;
  bool arc_may_follow_ = true;
  Point at_;                         ///< last commanded, uncorrected
  std::array<std::string, 3> axes_;  ///< as last written: X, Y, Z; "" where the control's place is unknown
  std::optional<Speed> speed_;       ///< of the turning spindle
  std::optional<Feed> feed_;
  std::string rpm_in_force_, feed_in_force_;  ///< as last written
  bool coolant_ = false;
};

}  // namespace groovewright::nc
