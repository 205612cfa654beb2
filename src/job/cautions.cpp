#include "cautions.h"

#include "groovewright/base/text.h"

namespace groovewright::job {

std::vector<std::string> cautions(const part::Part& part) {
  std::vector<std::string> lines;
  using part::Damper;
  if (part.damper == Damper::replaced) {
    lines.emplace_back(
        "This part replaces the torsional damper. An undamped crankshaft can break: have a qualified engine builder "
        "confirm that the "
        "engine may run without it.");
  }
  if (part.damper == Damper::on_inertia_ring) {
    lines.emplace_back("Do not fit: the belt's load must not go through a damper's rubber-mounted ring.");
  }
  lines.emplace_back(part.maximum_speed
                         ? "A pulley that bursts throws metal. Never run it above " + trimmed(*part.maximum_speed, 1) +
                               " rpm, guard the drive, and stay out of its plane while it runs."
                         : "A pulley that bursts throws metal. State 'speed: {maximum: …}', guard the drive, and stay "
                           "out of its plane while it runs.");
  lines.emplace_back(
      "Strength is not proved on this sheet: stress at speed, fits and bolted joint need a qualified person's check.");
  lines.emplace_back(
      "Work on belt and pulley only with the engine stopped and unable to start. Fingers are drawn in faster than they "
      "are pulled back.");
  lines.emplace_back(
      "Turning: locate on bore or register and seat, never grip on the grooves; keep the chuck's speed limit, guard "
      "against swarf, "
      "never measure while it turns.");
  for (const auto& rim : part.rims) {
    if (!rim.overdrive || rim.overdrive->ratio <= 0) continue;
    lines.emplace_back(
        "An overdriven unit turns faster at every engine speed: check its own speed limit, charge pressure, fuel and "
        "detonation margin before use.");
    break;
  }
  lines.emplace_back("Local codes, the vehicle's rules and licensed or qualified practice go before this sheet.");
  return lines;
}

}  // namespace groovewright::job
