// settler.h: how a drive document is settled, in three files: the belt, pulleys and the rest; its mistakes are
// collected.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "groovewright/drive/settle.h"

namespace groovewright::drive {

inline Sourced chosen(const spec::Maybe<double>& written, const Sourced& otherwise) {
  return written ? Sourced{written->value, "spec"} : otherwise;
}
inline Sourced chosen(const spec::Maybe<double>& written, const std::optional<Sourced>& otherwise) {
  return chosen(written, otherwise.value_or(Sourced{0, "not known"}));
}

/// One document being settled. Whether its numbers make a drive is known at the end, by the diagnostics.
class Settler {
 public:
  Settler(const spec::Drive& spec, const catalog::Catalog& catalog, const std::map<std::string, MadePulley>& made,
          Diagnostics& diagnostics)
      : spec_(spec), catalog_(catalog), made_(made), diagnostics_(diagnostics) {}

  std::optional<Drive> all();

 private:
  void error(Code code, const Place& place, const std::string& fragment, const std::string& message) {
    diagnostics_.error(code, place, fragment, message);
  }

  bool belt(Belt& b);
  void on_offer(const spec::Lengths& w);
  Obstacle obstacle(const spec::DriveObstacle& w);
  /// An outline that crosses itself or encloses nothing.
  void outline(const spec::DriveObstacle& w, const std::vector<Vec2>& corners);
  void duty(Drive& d);
  /// Requires: all but heat is settled, without a mistake.
  static void heat(const spec::Heat& w, Drive& d);

  void pulleys(Drive& d);
  /// What would be taken by no one must not be passed over in silence.
  void contradictions(const spec::DrivePulley& w);
  Pulley pulley(const spec::DrivePulley& w, const Belt& b);
  void size(const spec::DrivePulley& w, const Belt& b, Pulley& p);
  void from_document(const spec::DrivePulley& w, const Belt& b, Pulley& p);
  void load(const spec::DrivePulley& w, Pulley& p);
  [[nodiscard]] static double belt_width(const Belt& b) { return b.ribs * b.pitch.value; }
  /// From the middle of the rearmost rib to that of the belt.
  [[nodiscard]] static double to_middle(const Belt& b) { return (b.ribs - 1) * b.pitch.value / 2; }

  void tensioner(const spec::DriveTensioner& w, Drive& d);
  void idler(const spec::DriveTensioner& w, const Belt& b, Tensioner& t);
  void swing(const spec::DriveTensioner& w, Tensioner& t);
  void spring(const spec::DriveTensioner& w, Tensioner& t);
  void peg(const spec::DriveTensioner& w, Tensioner& t);

  const spec::Drive& spec_;
  const catalog::Catalog& catalog_;
  const std::map<std::string, MadePulley>& made_;
  Diagnostics& diagnostics_;
  const catalog::Groove* groove_ = nullptr;
};

}  // namespace groovewright::drive
