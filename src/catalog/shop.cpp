#include "groovewright/catalog/shop.h"

#include <algorithm>
#include <iterator>
#include <numbers>

#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"

namespace groovewright::catalog {

double Machine::torque_at(double rpm) const {
  require(rpm > 0 && power > 0, "Machine::torque_at: a machine with power, and it turns");
  const double most = power / (rpm * std::numbers::pi / 30);
  if (torques.empty()) return most;
  const auto above = std::find_if(torques.begin(), torques.end(), [&](const Torque& t) { return t.rpm >= rpm; });
  if (above == torques.begin()) return std::min(most, above->torque);
  const Torque& below = *std::prev(above);
  if (above == torques.end()) return std::min(most, below.torque * below.rpm / rpm);
  const double part = (rpm - below.rpm) / (above->rpm - below.rpm);
  return std::min(most, below.torque + part * (above->torque - below.torque));
}

double TurningTool::form_depth() const {
  require(use == Use::full_form && included > Angle{}, "TurningTool::form_depth: no form");
  const double h = included.half().rad();
  return pitch / (2 * tan_of(h)) - (nose_radius + crest_radius) * (1 / sin_of(h) - 1);
}

double cone_length(double diameter, Angle point) {
  const bool is_flat = point <= Angle{} || point >= Angle::deg(180);
  return is_flat ? 0 : diameter / 2 / tan_of(point.rad() / 2);
}

const CuttingData* Shop::cutting_for(std::string_view material) const {
  const CuttingData* best = nullptr;
  for (const auto& [id, data] : cutting) {
    if (material.starts_with(id) && (best == nullptr || id.size() > best->id.size())) best = &data;
  }
  return best;
}

}  // namespace groovewright::catalog
