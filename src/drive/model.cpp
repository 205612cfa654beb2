#include "groovewright/drive/model.h"

#include <cmath>
#include <numbers>

#include "groovewright/drive/loads.h"

namespace groovewright::drive {
namespace {

/// Included angle of the grooves, the same for all sections of ISO 9981 and 9982.
constexpr Angle kGroove = Angle::deg(40);

Sourced in_rad(Sourced degrees) {
  degrees.value *= std::numbers::pi / 180;
  return degrees;
}

}  // namespace

double Tensioner::near_stop() const { return std::abs(stop_a - free) <= std::abs(stop_b - free) ? stop_a : stop_b; }

double Tensioner::far_stop() const { return std::abs(stop_a - free) <= std::abs(stop_b - free) ? stop_b : stop_a; }

double effective_friction(const Contact& contact) {
  const bool wedges = contact.side == Side::ribs && !contact.includes_wedge;
  return wedges ? wedged_friction(contact.friction.value, kGroove) : contact.friction.value;
}

Limits limits(const catalog::Catalog& catalog) {
  return {.arm_travel = in_rad(catalog.rule("arm_travel")),
          .slide_travel = catalog.rule("slide_travel"),
          .clearance = catalog.rule("drive_clearance"),
          .span_clearance = catalog.rule("long_span_clearance"),
          .long_span = catalog.rule("long_span"),
          .room_over_height = catalog.rule("belt_room_over_height"),
          .entry_note = in_rad(catalog.rule("entry_angle_note")),
          .entry_fail = in_rad(catalog.rule("entry_angle_fail")),
          .ligament = catalog.rule("ligament"),
          .back_bend = catalog.rule("back_bend_factor"),
          .flat_over_belt = catalog.rule("flat_over_belt")};
}

Grip grip(const catalog::Catalog& catalog) {
  return {.design_ratio_ribs = catalog.rule("design_ratio_ribs"),
          .design_ratio_back = catalog.rule("design_ratio_back"),
          .bare_ribs = {catalog.rule("bare_friction"), Side::ribs, false},
          .bare_back = {catalog.rule("bare_friction"), Side::back, false},
          .wet = catalog.rule("wet_friction")};
}

}  // namespace groovewright::drive
