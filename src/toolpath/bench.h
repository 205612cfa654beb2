// bench.h: inside room `toolpath`: one clamping while it is being programmed: the metal as it stands, and the script.
#pragma once

#include <string>
#include <vector>

#include "cut.h"
#include "feeds.h"
#include "finish.h"
#include "groups.h"

namespace groovewright::toolpath {

inline constexpr double kAllowance = 0.3;    ///< mm left by roughing
inline constexpr double kRoughChord = 0.02;  ///< mm: arcs while roughing

/// The way in and out: round the part's outside, or along the axis in front of its face.
enum class Way { outside, face };

class Bench {
 public:
  /// The plan outlives this; `turning` takes the script.
  /// `roughed`: the final metal with what roughing does not go into filled up.
  Bench(Plan& plan, Turning& turning, Scene scene, std::vector<Polygon> final_metal,
        const std::vector<Polygon>& roughed);

  /// Adds the tool to the plan's stations unless it stands there.
  int station(const catalog::TurningTool& tool);
  /// What follows belongs to this operation.
  void begin(const std::string& name, const catalog::TurningTool& tool, const Conditions& c,
             const std::string& why = "");
  /// Motions of the nose's centre, which begin and end at home.
  void take(const Motions& motions);
  /// Motions that begin somewhere over the outside; from home, past it all.
  void take_from_above(const Motions& motions);
  void go_home();
  /// Stands still for so many turns at the surface speed of the operation and the diameter of the steered point, which
  /// is more than 0.
  void dwell(double turns);
  /// Finishes along the run: from home beside it, to its beginning from `clear` mm off, and home again from its end.
  void follow(const Run& run, Way way, plane::Vec2 lead_in, plane::Vec2 lead_out, const Bit& bit);
  /// Moves that follow are shifted by parameters of these numbers, which stand at the top of the program; 0: no more.
  void correct(int x, int z);

  [[nodiscard]] Scene& scene() { return scene_; }
  [[nodiscard]] const Scene& scene() const { return scene_; }
  [[nodiscard]] const std::vector<Polygon>& final_metal() const { return final_; }
  [[nodiscard]] const Metal& metal() const { return metal_; }
  /// What roughing leaves: its metal with kAllowance on it.
  [[nodiscard]] const std::vector<Polygon>& kept() const { return kept_; }
  /// Where the tool's nose waits, clear of the metal as it is now with everything that belongs to the tool.
  [[nodiscard]] plane::Vec2 home_for(const catalog::TurningTool& tool) const;
  [[nodiscard]] const Plan& plan() const { return plan_; }

 private:
  void add(nc::Command command) { turning_.script.commands.push_back(std::move(command)); }
  [[nodiscard]] nc::Point point(plane::Vec2 nose) const;

  Plan& plan_;
  Turning& turning_;
  Scene scene_;
  std::vector<Polygon> final_;
  Metal metal_;
  std::vector<Polygon> kept_;
  plane::Vec2 home_, at_, steered_;
  double feed_ = 0, share_ = 1;
  int tool_ = 0;
  bool correctable_ = false;
};

}  // namespace groovewright::toolpath
