#include "feeds.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "groovewright/base/text.h"

namespace groovewright::toolpath {
namespace {

using catalog::TurningTool;
using Use = TurningTool::Use;

constexpr double kPowerShare = 0.8;  // of the machine's power and torque, at most (common practice, no source)
constexpr double kPi = std::numbers::pi;
// What power leaves of the depth, at least: shallower cuts push the tool away (common practice, no source).
constexpr double kLeastOfNose = 2.0 / 3;  // of the nose's radius
constexpr double kLeastOfRound = 0.1;     // of a round insert's diameter
constexpr double kSlower = 0.95;          // from one speed that is tried to the next
constexpr double kHair = 1e-9;

std::string mm(double v) { return trimmed(v, 3) + " mm"; }
std::string um(double v) { return trimmed(1000 * v, 1) + " um"; }

/// A square-nosed blade cuts as wide as it is, other noses as deep as the pass.
bool cuts_its_width(const TurningTool& tool) { return tool.use == Use::grooving || tool.use == Use::face_grooving; }

/// Holds the feed to what roughness allows; the tool's least feed goes before that, with a warning.
void smooth(Conditions& c, const TurningTool& tool, double rz) {
  const double most = feed_for(rz, tool.nose_radius);
  if (c.feed > most) c.why = "feed for Rz " + um(rz) + " from nose " + mm(tool.nose_radius);
  c.feed = std::clamp(std::min(c.feed, most), tool.min_feed, tool.max_feed);
  c.rz = ridges(c.feed, tool.nose_radius);
  if (c.feed <= most * (1 + kHair)) return;
  c.why.clear();
  c.warning = tool.name + " feeds " + mm(c.feed) + " a turn at least, and Rz " + um(rz) + " from its nose of " +
              mm(tool.nose_radius) + " takes " + mm(most) + " or less: it leaves Rz " + um(c.rz) +
              ". A larger nose or one that bears less feed would do.";
}

/// Less depth where the work leaves it free, then less feed, then less speed, until the lathe can.
void keep_power(const Plan& plan, const TurningTool& tool, bool depth_is_free, Conditions& c) {
  const double kc = plan.cutting.specific_force;
  double width = cuts_its_width(tool) ? tool.width : c.depth;
  const auto is_much = [&] { return kc * c.feed * width > force_at(plan, c.speed) * (1 + kHair); };
  if (!is_much()) return;
  const double chip = force_at(plan, c.speed) / kc;
  c.why = "less depth for the lathe's power";
  if (depth_is_free) {
    const double least =
        std::min(c.depth, tool.width > 0 ? kLeastOfRound * tool.width : kLeastOfNose * tool.nose_radius);
    c.depth = width = std::max(least, chip / c.feed);
  }
  if (!is_much()) return;
  c.feed = std::max(tool.min_feed, chip / width);
  c.why = "less feed for the lathe's power";
  if (!is_much()) return;
  const double slowest = plan.lathe.min_rpm * kPi * plan.stock_diameter / 1000, before = c.speed;
  c.why = "less speed for the lathe's power";
  while (is_much() && c.speed * kSlower > slowest) c.speed *= kSlower;
  if (!is_much()) return;
  c.speed = before;
  const double torque = kc * c.feed * width * plan.stock_diameter / 2000 / kPowerShare;
  c.warning += (c.warning.empty() ? "" : " ") + tool.name + ": even its least chip, " + mm(c.feed) + " by " +
               mm(width) + ", asks for " + trimmed(torque, 1) + " N m on D " + trimmed(plan.stock_diameter, 1) +
               " mm, more than the lathe gives at any speed. Take a smaller tool or a stronger lathe.";
}

/// The feed falls no further than the tool's least.
Conditions on_axis(const Plan& plan, Conditions c, const TurningTool& tool) {
  const double d = tool.width;
  const double rpm = spindle_speed(c.speed, d, plan.lathe.max_rpm);
  const Driven can =
      driven(plan.lathe, {rpm, c.feed, drilling_torque(1, d, 0, plan.cutting.specific_force), tool.min_feed});
  if (can.rpm < rpm) c.speed = kPi * d * can.rpm / 1000;
  if (can.rpm < rpm || can.feed < c.feed) c.why = "held to the lathe's torque";
  c.feed = can.feed;
  if (!can.lacks.empty()) c.lacks = "a drill of " + mm(d) + " " + can.lacks;
  return c;
}

}  // namespace

double force_at(const Plan& plan, double speed) {
  const double rpm = std::max(plan.lathe.min_rpm, spindle_speed(speed, plan.stock_diameter, plan.lathe.max_rpm));
  return kPowerShare * std::min(60 * plan.lathe.power / speed, 2000 * plan.lathe.torque_at(rpm) / plan.stock_diameter);
}

double rz_of_ra(double ra) { return 9 * std::sqrt(3.0) / 4 * ra; }

double ridges(double feed, double nose_radius) { return feed * feed / (8 * nose_radius); }

double drilling_torque(double feed, double diameter, double core, double specific_force) {
  return specific_force * feed * (diameter * diameter - core * core) / 8000;
}

double tapping_torque(double pitch, double diameter, double specific_force) {
  return specific_force * pitch * pitch * diameter / 8000;
}

double milling_power(double feed_rate, double depth, double width, double specific_force) {
  return specific_force * depth * width * feed_rate / 60000;
}

Conditions conditions(const Plan& plan, const std::string& work, const TurningTool& tool, double rz) {
  const auto& data = plan.cutting.works.find(work)->second;  // the catalogue holds all works
  Conditions c{data.speed, data.feed, data.depth, 0, {}, {}, {}};
  const bool drills = tool.use == Use::drilling || tool.use == Use::centre;
  if (drills) c.feed *= tool.width;
  c.feed = std::clamp(c.feed, tool.min_feed, std::max(tool.min_feed, tool.max_feed));
  if (drills) return on_axis(plan, std::move(c), tool);
  const bool finishes = work == "finish" || work == "profile", is_blade = tool.included.rad() == 0;
  if (finishes) smooth(c, tool, rz > 0 ? rz : plan.cutting.finish_rz);
  c.depth = is_blade && !finishes ? tool.max_depth_of_cut : std::min(c.depth, tool.max_depth_of_cut);
  keep_power(plan, tool, !finishes && !cuts_its_width(tool), c);
  if (finishes) c.rz = ridges(c.feed, tool.nose_radius);
  return c;
}

Driven driven(const catalog::Machine& machine, const Turned& wanted) {
  const auto torque_at = [&](double rpm) { return kPowerShare * machine.torque_at(rpm); };
  const double needed = wanted.torque_a_feed * wanted.feed;
  double rpm = std::clamp(wanted.rpm, machine.min_rpm, machine.max_rpm), strongest = rpm;
  while (torque_at(rpm) < needed * (1 - kHair) && rpm > machine.min_rpm) {
    rpm = std::max(machine.min_rpm, rpm * kSlower);
    if (torque_at(rpm) > torque_at(strongest) * (1 + kHair)) strongest = rpm;
  }
  if (torque_at(rpm) >= needed * (1 - kHair)) return {rpm, wanted.feed, ""};
  const double feed = std::max(wanted.least_feed, torque_at(strongest) / wanted.torque_a_feed);
  Driven out{strongest, std::min(feed, wanted.feed), ""};
  const double least = wanted.torque_a_feed * out.feed;
  if (least > torque_at(strongest) * (1 + kHair))
    out.lacks = "needs " + trimmed(std::ceil(10 * least / kPowerShare) / 10, 1) + " N m of the spindle, and '" +
                machine.id + "' gives " + trimmed(machine.torque_at(strongest), 1) + " N m at " +
                trimmed(strongest, 0) + " rpm, its best for this tool: choose a machine with that torque";
  return out;
}

}  // namespace groovewright::toolpath
