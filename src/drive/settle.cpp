#include "groovewright/drive/settle.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "distances.h"
#include "groovewright/base/text.h"
#include "groovewright/drive/swing.h"
#include "settler.h"

namespace groovewright::drive {
namespace {

/// Where a document says nothing of the speed: from memory.
constexpr double kLowest = 800, kHighest = 6000;
constexpr int kSpeeds = 14;
/// Sizes and places hold at this temperature, °C: ISO 1.
constexpr double kReferenceTemperature = 20;

/// How many belts a row of lengths holds; the last one is in it where rounding alone parts it from `to`.
double lengths_within(const spec::Lengths& w) {
  return std::floor((w.to->value - w.from->value) / w.step->value + 1e-9) + 1;
}

Sourced tolerance(const std::optional<catalog::SteppedLimit>& limit, double length) {
  if (!limit || length <= 0) return {0, "not known"};
  return {limit->at(length), limit->source};
}

/// The driver's own limit where its document gives one.
double highest(const Drive& d) {
  for (const Pulley& p : d.pulleys) {
    if (p.drives && p.speed_max < kUnlimited) return p.speed_max;
  }
  return kHighest;
}

/// The belt's way with the tensioner in the middle of its swing; 0 where none can be drawn.
double way_of_belt(const Drive& d) {
  const Course c = course(d);
  if (d.tensioner) return length_at_middle(Swing(d, c));
  Route route;
  return lay(c.rounds, route) ? route.length : 0;
}

/// The first corner whose edge to the next one meets an edge that it has no corner in common with, or runs back over
/// its neighbour.
std::optional<std::size_t> crossing_corner(const std::vector<Vec2>& p) {
  const std::size_t n = p.size();
  const auto edge = [&](std::size_t i) { return Piece{p[i], p[(i + 1) % n]}; };
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 way = edge(i).b - edge(i).a, on = edge((i + 1) % n).b - edge(i).b;
    if (std::abs(plane::cross(way, on)) <= plane::kCoincident * plane::norm(way) && plane::dot(way, on) < 0) return i;
    for (std::size_t k = i + 2; k < n; ++k) {
      if (i == 0 && k == n - 1) continue;
      const bool meet = cross_each_other(edge(i), edge(k)) ||
                        nearest_between(edge(i), edge(k)).square <= plane::kCoincident * plane::kCoincident;
      if (meet) return i;
    }
  }
  return std::nullopt;
}
/// True where all corners stand on one line.
bool is_flat(const std::vector<Vec2>& p) {
  const auto far = std::max_element(
      p.begin(), p.end(), [&](Vec2 a, Vec2 b) { return plane::norm(a - p.front()) < plane::norm(b - p.front()); });
  const Vec2 way = *far - p.front();
  return std::all_of(p.begin(), p.end(), [&](Vec2 q) {
    return std::abs(plane::cross(way, q - p.front())) <= plane::kCoincident * plane::norm(way);
  });
}

}  // namespace

std::optional<Drive> Settler::all() {
  Drive d;
  d.name = spec_.name->value;
  d.turns = spec_.turns->value == spec::Turning::clockwise ? Sense::clockwise : Sense::counter_clockwise;
  if (!belt(d.belt)) return std::nullopt;
  pulleys(d);
  if (spec_.tensioner) tensioner(*spec_.tensioner, d);
  for (const spec::DriveObstacle& o : spec_.obstacles) d.obstacles.push_back(obstacle(o));
  duty(d);
  d.limits = limits(catalog_);
  d.grip = grip(catalog_);
  if (spec_.design_ratio) d.grip.design_ratio_ribs = {spec_.design_ratio->value, "spec"};
  if (diagnostics_.has_errors()) return std::nullopt;
  if (spec_.ambient && spec_.ambient->temperature) d.duty.ambient = spec_.ambient->temperature->value;
  if (spec_.duty && spec_.duty->heat) heat(*spec_.duty->heat, d);
  return d;
}

void Settler::heat(const spec::Heat& w, Drive& d) {
  // Centres and pulleys grow alike, so that the belt's whole way does.
  const double per_degree = w.expansion->value * way_of_belt(d), hot = w.working->value;
  const double cold = std::min(d.duty.ambient.value_or(kReferenceTemperature), kReferenceTemperature);
  const std::string times = trimmed(w.expansion->value * 1e6, 2) + " 1e-6/K times ";
  d.duty.hot_growth = {per_degree * (hot - kReferenceTemperature), times + trimmed(hot, 1) + " less 20 °C"};
  d.duty.cold_shrink = {per_degree * (kReferenceTemperature - cold), times + "20 less " + trimmed(cold, 1) + " °C"};
}

bool Settler::belt(Belt& b) {
  const spec::DriveBelt& w = *spec_.belt;
  const std::string& section = w.section->value;
  const auto known = catalog_.belts.find(section);
  if (known == catalog_.belts.end() || !catalog_.grooves.contains(section)) {
    // Of the built-in ones only the named one was read.
    std::vector<std::string> names = catalog::built_in_ids("belts");
    for (const auto& [id, belt] : catalog_.belts) names.push_back(id);
    error(Code::unknown_entry, w.section->place, section,
          "no belt section '" + section + "'; " + meant_or_known(section, names));
    return false;
  }
  const catalog::Belt& k = known->second;
  groove_ = &catalog_.grooves.at(section);
  b.section = section;
  b.ribs = w.ribs->value;
  b.pitch = k.rib_pitch;
  b.line_to_cord = chosen(w.pitch_line_offset, groove_->pitch_line_offset);
  if (!w.pitch_line_offset && groove_->pitch_line_offset_elsewhere) {
    b.line_to_cord_elsewhere = *groove_->pitch_line_offset_elsewhere;
  }
  b.cord_to_back = chosen(w.cord_to_back, k.cord_to_back);
  b.height = chosen(w.height, k.height);
  b.mass_per_rib = chosen(w.mass_per_rib, k.mass_per_rib);
  b.stiffness_per_rib = chosen(w.stiffness_per_rib, k.stiffness_per_rib);
  b.measured_under_per_rib = chosen(w.measured_under_per_rib, k.measured_under_per_rib);
  b.stretch = chosen(w.stretch, k.stretch);
  if (const auto& loss = w.bending_loss) {
    b.bending_loss = {loss->torque_per_rib->value * loss->pitch_diameter->value / 2, "spec"};
  }
  b.speed_max = w.speed_max ? Sourced{w.speed_max->value, w.speed_reason->value} : k.speed_max;
  b.effective_diameter_min = groove_->effective_diameter_min;
  if (const auto offered = lengths_on_offer(spec_); !offered.empty()) b.effective_length = {offered.front(), "spec"};
  const double length = b.effective_length.value;
  b.shorter = chosen(w.shorter, tolerance(k.length_shorter, length));
  b.longer = chosen(w.longer, tolerance(k.length_longer, length));
  if (!w.shorter) b.shorter_at = k.length_shorter;
  if (!w.longer) b.longer_at = k.length_longer;
  if (w.lengths) on_offer(*w.lengths);
  return true;
}

void Settler::on_offer(const spec::Lengths& w) {
  const double from = w.from->value, to = w.to->value, count = lengths_within(w);
  if (from > to) {
    error(Code::out_of_range, w.from->place, shortest(from),
          "'from' of the belts on offer is longer than 'to': turn them round");
  } else if (count > spec::kMaxLengths) {
    error(Code::bad_count, w.step->place, shortest(w.step->value),
          "these are " + trimmed(count, 0) + " belts, at most " + std::to_string(spec::kMaxLengths) +
              " are tried: take a step of " + trimmed(std::ceil((to - from) / (spec::kMaxLengths - 1)), 0) +
              " mm or more");
  }
}

Obstacle Settler::obstacle(const spec::DriveObstacle& w) {
  Obstacle o;
  o.name = w.name->value;
  if (w.circle) {
    o.centre = {w.circle->at->value.x, w.circle->at->value.y};
    o.radius = w.circle->diameter->value / 2;
  }
  for (const auto& p : w.polygon) o.polygon.push_back({p.value.x, p.value.y});
  if (!o.polygon.empty()) outline(w, o.polygon);
  o.axial = {value_or(w.from, -kUnlimited), value_or(w.to, kUnlimited)};
  if (o.axial.rear >= o.axial.front) {
    error(Code::out_of_range, w.from->place, trimmed(o.axial.rear, 3),
          "'" + o.name + "' goes from Z " + trimmed(o.axial.rear, 3) + " to " + trimmed(o.axial.front, 3) +
              " mm: nothing; 'to' must be in front of 'from'");
  }
  return o;
}

void Settler::outline(const spec::DriveObstacle& w, const std::vector<Vec2>& corners) {
  const auto name = [&](std::size_t i) {
    const Vec2 p = corners[i % corners.size()];
    return "[" + trimmed(p.x, 3) + ", " + trimmed(p.y, 3) + "]";
  };
  for (std::size_t i = 0; i < corners.size(); ++i) {
    if (plane::norm(corners[(i + 1) % corners.size()] - corners[i]) > plane::kCoincident) continue;
    return error(Code::does_not_fit, w.polygon[(i + 1) % corners.size()].place, name(i + 1),
                 "'" + w.name->value + "' has the corner " + name(i) + " twice running: leave one out");
  }
  if (is_flat(corners)) {
    error(Code::does_not_fit, w.polygon.front().place, w.name->value,
          "all corners of '" + w.name->value + "' stand on one line, which encloses nothing: give it a width");
  } else if (const auto i = crossing_corner(corners)) {
    error(Code::does_not_fit, w.polygon[*i].place, name(*i),
          "the outline of '" + w.name->value + "' crosses or touches itself between the corners " + name(*i) + " and " +
              name(*i + 1) + ": give the corners in order once round it, or make two obstacles of it");
  }
}

void Settler::duty(Drive& d) {
  const spec::Duty none;
  const spec::Duty& w = spec_.duty ? *spec_.duty : none;
  for (const auto& s : w.speeds) d.duty.rpm.push_back(s.value);
  if (!std::is_sorted(d.duty.rpm.begin(), d.duty.rpm.end())) {
    error(Code::out_of_range, w.speeds.front().place, shortest(w.speeds.front().value), "'speeds' want to rise");
  }
  if (d.duty.rpm.empty()) {
    const double high = value_or(w.highest, highest(d)), low = value_or(w.lowest, std::min(kLowest, high / 2));
    if (low >= high) {
      error(Code::out_of_range, w.lowest ? w.lowest->place : w.place, shortest(low),
            "'lowest' is " + shortest(low) + " rpm and 'highest' " + shortest(high) + " rpm: nothing lies between");
      return;
    }
    for (int i = 0; i < kSpeeds; ++i) d.duty.rpm.push_back(low + (high - low) * i / (kSpeeds - 1));
  }
  d.duty.gain = value_or(w.speeding_up, 0.0), d.duty.drop = value_or(w.slowing_down, 0.0);
  d.duty.peak = value_or(w.peak, 1.0);
  d.duty.overrun_load = chosen(w.overrun_load, catalog_.rule("overrun_load"));
  for (const auto& o : w.orders) d.duty.orders.push_back(o.value);
  if (d.duty.orders.empty()) d.duty.orders = {1};
  if (w.hot_growth) d.duty.hot_growth = {w.hot_growth->value, "spec"};
  d.duty.still_tension = value_or(w.still_tension, 0.0);
  if (w.still_tension && spec_.tensioner) {
    error(Code::one_of_keys, w.still_tension->place, "still_tension",
          "the tensioner sets the tension: 'still_tension' is for a drive without one");
  }
}

std::string key_of(const spec::DrivePulley& pulley) {
  const int rim = value_or(pulley.rim, 1);
  return pulley.spec->value + (rim == 1 ? "" : " rim " + std::to_string(rim));
}

std::vector<std::string> files_named(const spec::Drive& drive) {
  std::set<std::string> files{"rules.yaml"};
  if (drive.belt && drive.belt->section) {
    const std::string& section = drive.belt->section->value;
    files.insert({"belts/" + section + ".yaml", "grooves/" + section + ".yaml"});
  }
  if (drive.tensioner && drive.tensioner->peg && drive.tensioner->peg->thread) files.insert("threads.yaml");
  return {files.begin(), files.end()};
}

std::optional<Drive> settle(const spec::Drive& drive, const catalog::Catalog& catalog,
                            const std::map<std::string, MadePulley>& made, Diagnostics& diagnostics) {
  return Settler(drive, catalog, made, diagnostics).all();
}

std::vector<double> lengths_on_offer(const spec::Drive& drive) {
  const spec::DriveBelt& w = *drive.belt;
  std::vector<double> lengths;
  if (w.length) lengths.push_back(w.length->value);
  if (w.lengths) {
    const int count = static_cast<int>(std::min(double{spec::kMaxLengths}, lengths_within(*w.lengths)));
    for (int i = 0; i < count; ++i) lengths.push_back(w.lengths->from->value + i * w.lengths->step->value);
  }
  for (const auto& l : w.catalogue) lengths.push_back(l.value);
  std::sort(lengths.begin(), lengths.end());
  return lengths;
}

}  // namespace groovewright::drive
