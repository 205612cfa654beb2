#include "rows.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "groovewright/base/text.h"
#include "groovewright/drive/ratios.h"

namespace groovewright::drive {
namespace {

double degrees(double rad) { return rad * 180 / std::numbers::pi; }

/// Two standards' ratios that differ by less are told once.
constexpr double kVisible = 1e-3;
/// Signed wraps sum to one turn within this, deg.
constexpr double kOneTurn = 1e-6;

void lengths(Sheet& s) {
  s.size_row({.id = "effective_length",
              .label = "Effective length of the path",
              .symbol = "L_e",
              .value = s.a.effective_length,
              .unit = "mm",
              .source = kGeometry});
  s.size_row({.id = "pitch_length",
              .label = "Pitch length of the path",
              .symbol = "L_p",
              .value = s.a.pitch_length,
              .unit = "mm",
              .source = "L_e + b_e times the sum of signed wraps; b_e: " + s.drive.belt.line_to_cord.source});
  for (std::size_t i = 0; i < s.size(); ++i) {
    s.size_row({.id = "wrap_" + s.id(i),
                .label = "Wrap on " + s.name(i),
                .symbol = "θ",
                .value = degrees(signed_wrap(s.a.course, s.a.route, i)),
                .unit = "deg",
                .source = kGeometry});
    s.size_row({.id = "span_" + s.span_id(i),
                .label = "Span " + s.span_name(i),
                .symbol = "",
                .value = s.a.route.spans[i].length,
                .unit = "mm",
                .source = kGeometry});
  }
  const double turn = degrees(sum_of_signed_wraps(s.a.course, s.a.route));
  s.judge({.id = "signed_wraps",
           .label = "Sum of signed wraps",
           .value = turn,
           .unit = "deg",
           .lower = 360 - kOneTurn,
           .upper = 360 + kOneTurn,
           .source = "one turn of a simple loop",
           .says = "the belt goes round once"});
}

void ratios(Sheet& s) {
  for (std::size_t i = 0; i < s.size(); ++i) {
    const double ratio = speed_ratio(s.drive, s.a.course, i);
    s.size_row({.id = "speed_ratio_" + s.id(i),
                .label = "Speed of " + s.name(i) + " over the driver's",
                .symbol = "i",
                .value = ratio,
                .unit = "1",
                .source = "diameters of the cord"});
    if (const Sourced& other = s.drive.belt.line_to_cord_elsewhere; other.value > 0) {
      const double elsewhere = speed_ratio_at(s.drive, s.a.course, i, other.value);
      if (std::abs(elsewhere / ratio - 1) > kVisible) {
        s.size_row({.id = "speed_ratio_elsewhere_" + s.id(i),
                    .label = "The same at b_e " + trimmed(other.value, 2) + " mm",
                    .symbol = "i",
                    .value = elsewhere,
                    .unit = "1",
                    .source = other.source});
      }
    }
    if (s.pulley(i).reference_radius > 0 || s.pulley(s.a.course.driver).reference_radius > 0) {
      s.size_row({.id = "overdrive_" + s.id(i),
                  .label = "Overdrive of " + s.name(i),
                  .symbol = "",
                  .value = 100 * overdrive(s.drive, s.a.course, i),
                  .unit = "%",
                  .source = "ratio of pitch diameters against the reference"});
    }
    if (s.drive.duty.rpm.empty() || !std::isfinite(s.pulley(i).speed_max)) continue;
    const double fastest = s.drive.duty.rpm.back(), allowed = s.pulley(i).speed_max;
    s.judge(
        {.id = "own_speed_" + s.id(i),
         .label = "Greatest speed of " + s.name(i),
         .value = ratio * fastest,
         .unit = "rpm",
         .upper = allowed,
         .source = s.pulley(i).source,
         .says = "at " + trimmed(fastest, 0) + " rpm of the driver" +
                 (ratio * fastest > allowed ? "; " + trimmed(std::floor(allowed / ratio), 0) + " rpm would do" : "")});
  }
  if (s.drive.duty.rpm.empty()) return;
  const double rpm = s.drive.duty.rpm.back(), speed = belt_speed(s.drive, s.a.course, rpm);
  const std::string at = "at " + trimmed(rpm, 0) + " rpm of the driver";
  if (s.drive.belt.speed_max.value > 0) {
    s.judge({.id = "belt_speed",
             .label = "Belt speed",
             .value = speed,
             .unit = "m/s",
             .upper = s.drive.belt.speed_max.value,
             .source = s.drive.belt.speed_max.source,
             .says = at});
  } else {
    s.note("belt_speed", "Belt speed", speed, "m/s", "cord of the driver", at);
  }
  s.note("flex_rate", "Bends of each piece of belt per second",
         bends_per_second(s.drive, s.a.course, s.a.pitch_length, rpm), "1/s",
         "rounds times belt speed over pitch length", at);
}

void fit_of_belt(Sheet& s) {
  const Belt& belt = s.drive.belt;
  const Limits& limits = s.drive.limits;
  for (std::size_t i = 0; i < s.size(); ++i) {
    const Pulley& p = s.pulley(i);
    if (p.side == Side::ribs) {
      if (p.grooves > 0) {
        const int spare = p.grooves - belt.ribs;
        s.judge({.id = "grooves_" + s.id(i),
                 .label = "Grooves of " + s.name(i),
                 .value = static_cast<double>(p.grooves),
                 .unit = "",
                 .lower = static_cast<double>(belt.ribs),
                 .source = "a rib that hangs over its pulley is no drive",
                 .says = spare < 0 ? "the belt hangs " + std::to_string(-spare) + " ribs over"
                                   : std::to_string(belt.ribs) + " used, " + std::to_string(spare) + " spare"});
      }
      if (belt.effective_diameter_min.value > 0) {
        s.judge({.id = "effective_diameter_" + s.id(i),
                 .label = "Effective diameter of " + s.name(i),
                 .value = 2 * p.radius,
                 .unit = "mm",
                 .lower = belt.effective_diameter_min.value,
                 .source = belt.effective_diameter_min.source,
                 .says = "least for this section"});
      }
      continue;
    }
    if (p.width > 0) {
      s.judge({.id = "flat_width_" + s.id(i),
               .label = "Width of " + s.name(i),
               .value = p.width,
               .unit = "mm",
               .lower = belt.ribs * belt.pitch.value + limits.flat_over_belt.value,
               .source = limits.flat_over_belt.source,
               .says = "the belt's width and a little more"});
    }
    if (belt.effective_diameter_min.value > 0) {
      s.judge({.id = "back_bend_" + s.id(i),
               .label = "Diameter of " + s.name(i) + ", bending the belt back",
               .value = 2 * p.radius,
               .unit = "mm",
               .lower = limits.back_bend.value * belt.effective_diameter_min.value,
               .source = limits.back_bend.source,
               .says = "a belt bent backwards wants a larger diameter"});
    }
  }
  for (std::size_t i = 0; i < s.size(); ++i) {
    const double angle = entry_angle(s.drive, s.a.course, s.a.route, i);
    s.judge({.id = "entry_angle_" + s.span_id(i),
             .label = "Misalignment of " + s.span_name(i),
             .value = degrees(angle),
             .unit = "deg",
             .upper = degrees(limits.entry_fail.value),
             .source = limits.entry_fail.source,
             .says = angle < limits.entry_note.value
                         ? "in line"
                         : "their planes stand " +
                               trimmed(std::abs(s.pulley(s.a.course.next(i)).plane - s.pulley(i).plane), 2) +
                               " mm apart: worth lining up, wear and noise grow from here"});
  }
}

}  // namespace

std::string as_id(std::string_view name) {
  std::string id;
  for (const char c : name) {
    const bool upper = c >= 'A' && c <= 'Z';
    if (upper || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) {
      id += upper ? static_cast<char>(c - 'A' + 'a') : c;
    } else if (!id.empty() && id.back() != '_') {
      id += '_';
    }
  }
  while (!id.empty() && id.back() == '_') id.pop_back();
  return id.empty() ? "unnamed" : id;
}

Sheet::Sheet(const Drive& of, const Analysis& analysis) : drive(of), a(analysis) {
  for (std::size_t i = 0; i < a.course.size(); ++i) {
    const std::string plain = as_id(name(i));
    std::string one = plain;
    for (int k = 2; std::find(ids_.begin(), ids_.end(), one) != ids_.end(); ++k) one = plain + "_" + std::to_string(k);
    ids_.push_back(std::move(one));
  }
}

void Sheet::note(std::string id, std::string label, double value, std::string unit, std::string source,
                 std::string says) {
  rows.checks.push_back({.id = std::move(id),
                         .label = std::move(label),
                         .verdict = Verdict::note,
                         .value = value,
                         .unit = std::move(unit),
                         .source = std::move(source),
                         .says = std::move(says)});
}

void geometry_rows(Sheet& s) {
  lengths(s);
  ratios(s);
  fit_of_belt(s);
}

Rows rows(const Drive& drive, const Analysis& analysis) {
  Sheet s(drive, analysis);
  std::vector<std::string> wrong;
  for (const Complaint& c : analysis.complaints) wrong.push_back(c.says);
  s.judge({.id = "layout",
           .label = "Layout",
           .value = static_cast<double>(wrong.size()),
           .unit = "",
           .upper = 0,
           .source = kGeometry,
           .says = wrong.empty() ? "a belt can run like this" : listed(wrong)});
  if (wrong.empty()) {
    geometry_rows(s);
    tensioner_rows(s);
    clearance_rows(s);
    load_rows(s);
  } else {
    belt_fits_row(s);
  }
  s.rows.cautions.emplace_back(
      "A running belt takes fingers, hair and sleeves: guard it, and stop the engine before reaching in.");
  if (drive.tensioner) {
    s.rows.cautions.emplace_back(
        "The tensioner's spring is loaded even with no belt on: hold its arm before loosening it.");
  }
  return std::move(s.rows);
}

}  // namespace groovewright::drive
