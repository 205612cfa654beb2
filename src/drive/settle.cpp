#include "groovewright/drive/settle.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>

#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"

namespace groovewright::drive {
namespace {

using spec::Written;

/// Where a document says nothing of the speed: from memory.
constexpr double kLowest = 800, kHighest = 6000;
constexpr int kSpeeds = 14;
/// Nominal crest radius of a bought pulley, of the standard's least: as this program makes its own.
constexpr double kNominalCrest = 1.2;

template <class T>
T or_else(const std::optional<Written<T>>& written, T otherwise) {
  return written ? written->value : otherwise;
}

Sourced chosen(const spec::Maybe<double>& written, const Sourced& otherwise) {
  return written ? Sourced{written->value, "spec"} : otherwise;
}
Sourced chosen(const spec::Maybe<double>& written, const std::optional<Sourced>& otherwise) {
  return chosen(written, otherwise.value_or(Sourced{0, "not known"}));
}

double degrees(double rad) { return rad * 180 / std::numbers::pi; }

class Settler {
 public:
  Settler(const spec::Drive& spec, const catalog::Catalog& catalog, const std::map<std::string, MadePulley>& made,
          Diagnostics& diagnostics)
      : spec_(spec), catalog_(catalog), made_(made), diagnostics_(diagnostics) {}

  std::optional<Drive> all() {
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
    return d;
  }

 private:
  void error(Code code, const Place& place, const std::string& fragment, const std::string& message) {
    diagnostics_.error(code, place, fragment, message);
  }

  // ---- belt ----

  bool belt(Belt& b) {
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
    b.speed_max = w.speed_max ? Sourced{w.speed_max->value, w.speed_reason->value} : k.speed_max;
    b.effective_diameter_min = groove_->effective_diameter_min;
    if (const auto offered = lengths_on_offer(spec_); !offered.empty()) b.effective_length = {offered.front(), "spec"};
    const double length = b.effective_length.value;
    b.shorter = chosen(w.shorter, tolerance(k.length_shorter, length));
    b.longer = chosen(w.longer, tolerance(k.length_longer, length));
    if (!w.shorter) b.shorter_at = k.length_shorter;
    if (!w.longer) b.longer_at = k.length_longer;
    if (w.lengths && w.lengths->from->value > w.lengths->to->value) {
      error(Code::out_of_range, w.lengths->place, shortest(w.lengths->from->value),
            "'from' of the belts on offer is longer than 'to': turn them round");
    }
    return true;
  }
  static Sourced tolerance(const std::optional<catalog::SteppedLimit>& limit, double length) {
    if (!limit || length <= 0) return {0, "not known"};
    return {limit->at(length), limit->source};
  }

  // ---- pulleys ----

  void pulleys(Drive& d) {
    std::set<std::string> names;
    int drivers = 0;
    for (const spec::DrivePulley& w : spec_.pulleys) {
      if (!names.insert(w.name->value).second) {
        error(Code::same_name_twice, w.name->place, w.name->value,
              "two pulleys are named '" + w.name->value + "': the belt meets each once, so give each its own name");
      }
      if (or_else(w.drives, false) && ++drivers > 1) {
        error(Code::one_of_keys, w.drives->place, w.name->value, "two pulleys drive; one does, the others are driven");
      }
      d.pulleys.push_back(pulley(w, d.belt));
    }
    if (drivers == 0) {
      error(Code::missing_key, spec_.pulleys.front().place, "drives",
            "no pulley drives: give one of them 'drives: true'");
    }
  }

  [[nodiscard]] double belt_width(const Belt& b) const { return b.ribs * b.pitch.value; }
  /// From the middle of the rearmost rib to that of the belt.
  [[nodiscard]] double to_middle(const Belt& b) const { return (b.ribs - 1) * b.pitch.value / 2; }

  Pulley pulley(const spec::DrivePulley& w, const Belt& b) {
    Pulley p;
    p.name = w.name->value;
    p.at = {w.at->value.x, w.at->value.y};
    p.drives = or_else(w.drives, false);
    p.plane = or_else(w.plane, 0.0);
    p.flange_height = or_else(w.flange_height, 0.0);
    p.inertia = or_else(w.inertia, 0.0);
    p.speed_max = or_else(w.maximum_speed, kUnlimited);
    p.reference_radius = or_else(w.reference_effective_diameter, 0.0) / 2;
    size(w, b, p);
    load(w, p);
    return p;
  }

  void size(const spec::DrivePulley& w, const Belt& b, Pulley& p) {
    if (w.back_diameter) {
      p.side = Side::back;
      p.radius = p.outside = w.back_diameter->value / 2;
      p.width = or_else(w.width, belt_width(b) + catalog_.rule("flat_over_belt").value);
      const double middle = p.plane + to_middle(b);
      p.axial = {middle - p.width / 2, middle + p.width / 2};
      if (w.grooves) {
        error(Code::one_of_keys, w.grooves->place, "grooves", "a flat pulley ('back_diameter') has no grooves");
      }
      return;
    }
    p.grooves = or_else(w.grooves, b.ribs);
    if (w.spec) {
      from_document(w, b, p);
    } else {
      const double crest = groove_->crest_radius_min.value, half = groove_->angle.half().rad();
      const double below = (kNominalCrest - 1) * crest * (1 / sin_of(half) - 1);  // effective line under the crests
      p.radius = w.effective_diameter ? w.effective_diameter->value / 2 : w.outside_diameter->value / 2 + below;
      p.outside = p.radius - below;
      const double f = groove_->edge_distance_min.value;
      p.axial = {p.plane - f, p.plane + (p.grooves - 1) * b.pitch.value + f};
    }
    if (p.grooves < b.ribs) {
      error(Code::bad_count, w.grooves ? w.grooves->place : w.place, std::to_string(p.grooves),
            "'" + p.name + "' has " + std::to_string(p.grooves) + " grooves and the belt " + std::to_string(b.ribs) +
                " ribs: a rib would hang beside it");
    }
  }

  void from_document(const spec::DrivePulley& w, const Belt& b, Pulley& p) {
    const auto found = made_.find(key_of(w));
    if (found == made_.end()) return;  // whoever read it has said why
    const MadePulley& m = found->second;
    if (m.section != b.section) {
      error(Code::does_not_fit, w.spec->place, w.spec->value,
            "'" + p.name + "' has " + m.section + " grooves, the belt is " + b.section);
    }
    p.radius = m.effective_radius, p.outside = m.outside_radius;
    if (!w.flange_height) p.flange_height = m.flange_height;
    p.grooves = m.grooves;
    if (!w.inertia) p.inertia = m.inertia;
    if (!w.maximum_speed && m.speed_max) p.speed_max = *m.speed_max;
    if (!w.reference_effective_diameter) p.reference_radius = m.reference_radius;
    p.axial.rear = p.plane - m.rear_to_first_groove;
    p.axial.front = p.axial.rear + m.rear_to_front;
    p.source = w.spec->value;
  }

  void load(const spec::DrivePulley& w, Pulley& p) {
    for (const spec::LoadPoint& l : w.load) {
      LoadPoint point{l.at->value, or_else(l.own_speed, false), l.power ? l.power->value : l.torque->value,
                      l.power.has_value()};
      if (point.is_power && point.rpm <= 0) {
        error(Code::out_of_range, l.at->place, "0", "power at standstill: give a torque there");
      }
      p.load.push_back(point);
    }
    std::stable_sort(p.load.begin(), p.load.end(), [](const auto& a, const auto& c) { return a.rpm < c.rpm; });
    for (std::size_t i = 1; i < p.load.size(); ++i) {
      if (p.load[i].rpm > p.load[i - 1].rpm && p.load[i].own_speed == p.load[i - 1].own_speed) continue;
      error(Code::one_of_keys, w.load.front().place, p.name,
            "the loads of '" + p.name + "' want rising speeds, all of the driver or all its own");
      break;
    }
  }

  // ---- tensioner ----

  void tensioner(const spec::DriveTensioner& w, Drive& d) {
    Tensioner t;
    t.name = w.name ? w.name->value : "tensioner";
    std::vector<std::string> names;
    for (const Pulley& p : d.pulleys) names.push_back(p.name);
    const auto after = std::find(names.begin(), names.end(), w.after->value);
    if (after == names.end()) {
      error(Code::unknown_entry, w.after->place, w.after->value,
            "'after' names no pulley; " + meant_or_known(w.after->value, names));
    } else {
      t.after = static_cast<std::size_t>(after - names.begin());
    }
    if (std::find(names.begin(), names.end(), t.name) != names.end()) {
      error(Code::same_name_twice, w.name ? w.name->place : w.place, t.name,
            "'" + t.name + "' is the name of a pulley, too");
    }
    using Kind = spec::TensionerKind;
    const Kind kind = or_else(w.kind, w.travel ? Kind::slide : Kind::arm);
    t.kind = kind == Kind::slide       ? Tensioner::Kind::slide
             : kind == Kind::eccentric ? Tensioner::Kind::eccentric
                                       : Tensioner::Kind::arm;
    t.pivot = {w.pivot->value.x, w.pivot->value.y};
    t.friction = chosen(w.damping, catalog_.rule("tensioner_friction"));
    t.arm_half_width = or_else(w.arm_width, 0.0) / 2;
    idler(w, d.belt, t);
    swing(w, t);
    spring(w, t);
    peg(w, t);
    d.tensioner = t;
  }

  void idler(const spec::DriveTensioner& w, const Belt& b, Tensioner& t) {
    spec::DrivePulley as_pulley;
    as_pulley.place = w.place;
    as_pulley.name = Written<std::string>{t.name, w.place};
    as_pulley.at = Written<spec::Point>{w.pivot->value, w.place};
    as_pulley.back_diameter = w.back_diameter, as_pulley.effective_diameter = w.effective_diameter;
    as_pulley.flange_height = w.flange_height, as_pulley.width = w.width, as_pulley.plane = w.plane;
    as_pulley.maximum_speed = w.maximum_speed;
    t.idler = pulley(as_pulley, b);
    t.arm_axial = t.idler.axial;
  }

  void swing(const spec::DriveTensioner& w, Tensioner& t) {
    const bool slides = t.slides();
    if (slides != w.travel.has_value()) {
      error(Code::one_of_keys, w.place, t.name,
            slides ? "a slide takes 'travel' and 'direction'" : "an arm or eccentric takes 'angle' and 'arm'");
      return;
    }
    const std::size_t stops = slides ? w.travel->stops.size() : w.angle->stops.size();
    if (stops != 2) {
      error(Code::bad_count, slides ? w.travel->place : w.angle->place, "stops",
            "'stops' takes both ends, here " + std::string(stops == 1 ? "is one" : "are none"));
      return;
    }
    if (slides) {
      t.direction = w.direction->value.rad();
      t.free = w.travel->free->value;
      t.stop_a = w.travel->stops[0].value, t.stop_b = w.travel->stops[1].value;
    } else {
      t.arm_length = w.arm->value;
      t.free = w.angle->free->value.rad();
      t.stop_a = w.angle->stops[0].value.rad(), t.stop_b = w.angle->stops[1].value.rad();
    }
    const Place& place = slides ? w.travel->free->place : w.angle->free->place;
    const auto [low, high] = std::minmax(t.stop_a, t.stop_b);
    const auto shown = [&](double v) { return slides ? trimmed(v, 3) + " mm" : trimmed(degrees(v), 3) + " deg"; };
    constexpr double kLeastSwing = 1e-6;
    if (high - low < kLeastSwing) {
      error(Code::out_of_range, place, shown(low), "both stops are at " + shown(low) + ": the tensioner can't move");
    } else if (t.free < low - kLeastSwing || t.free > high + kLeastSwing) {
      error(Code::out_of_range, place, shown(t.free),
            "'free' is " + shown(t.free) + ", outside the stops " + shown(low) + " and " + shown(high));
    }
  }

  void spring(const spec::DriveTensioner& w, Tensioner& t) {
    const spec::Spring& s = *w.spring;
    if (t.slides() != s.force.has_value()) {
      error(
          Code::one_of_keys, s.place, "spring",
          t.slides() ? "a slide's spring takes 'force' and 'force_rate'" : "an arm's spring takes 'torque' and 'rate'");
      return;
    }
    t.effort = t.slides() ? s.force->value : s.torque->value;
    t.rate = or_else(t.slides() ? s.force_rate : s.rate, 0.0);
  }

  void peg(const spec::DriveTensioner& w, Tensioner& t) {
    if (!w.peg) return;
    Peg p;
    p.radius = w.peg->radius->value, p.angle = w.peg->angle->value.rad(), p.depth = or_else(w.peg->depth, 0.0);
    if (w.peg->diameter) {
      p.diameter = w.peg->diameter->value;
    } else {
      const std::string& id = w.peg->thread->value;
      const auto thread = catalog_.threads.find(id);
      if (thread == catalog_.threads.end()) {
        std::vector<std::string> names;
        for (const auto& [name, one] : catalog_.threads) names.push_back(name);
        error(Code::unknown_entry, w.peg->thread->place, id, "no thread '" + id + "'; " + meant_or_known(id, names));
        return;
      }
      p.thread = id;
      p.diameter = thread->second.diameter;
      p.tap_drill = thread->second.tap_drill;
    }
    t.peg = p;
  }

  // ---- the rest ----

  Obstacle obstacle(const spec::DriveObstacle& w) {
    Obstacle o;
    o.name = w.name->value;
    if (w.circle) {
      o.centre = {w.circle->at->value.x, w.circle->at->value.y};
      o.radius = w.circle->diameter->value / 2;
    }
    for (const auto& p : w.polygon) o.polygon.push_back({p.value.x, p.value.y});
    o.axial = {or_else(w.from, -kUnlimited), or_else(w.to, kUnlimited)};
    if (o.axial.rear >= o.axial.front) {
      error(Code::out_of_range, w.from->place, trimmed(o.axial.rear, 3),
            "'" + o.name + "' goes from Z " + trimmed(o.axial.rear, 3) + " to " + trimmed(o.axial.front, 3) +
                " mm: nothing; 'to' must be in front of 'from'");
    }
    return o;
  }

  void duty(Drive& d) {
    const spec::Duty none;
    const spec::Duty& w = spec_.duty ? *spec_.duty : none;
    for (const auto& s : w.speeds) d.duty.rpm.push_back(s.value);
    if (!std::is_sorted(d.duty.rpm.begin(), d.duty.rpm.end())) {
      error(Code::out_of_range, w.speeds.front().place, shortest(w.speeds.front().value), "'speeds' want to rise");
    }
    if (d.duty.rpm.empty()) {
      const double low = or_else(w.lowest, kLowest), high = or_else(w.highest, highest(d));
      if (low >= high) {
        error(Code::out_of_range, w.lowest ? w.lowest->place : w.place, shortest(low),
              "'lowest' is " + shortest(low) + " rpm and 'highest' " + shortest(high) + " rpm: nothing lies between");
        return;
      }
      for (int i = 0; i < kSpeeds; ++i) d.duty.rpm.push_back(low + (high - low) * i / (kSpeeds - 1));
    }
    d.duty.gain = or_else(w.speeding_up, 0.0), d.duty.drop = or_else(w.slowing_down, 0.0);
    d.duty.peak = or_else(w.peak, 1.0);
    if (w.overrun_load) d.duty.overrun_load = {w.overrun_load->value, "spec"};
    for (const auto& o : w.orders) d.duty.orders.push_back(o.value);
    if (d.duty.orders.empty()) d.duty.orders = {1};
    if (w.hot_growth) d.duty.hot_growth = {w.hot_growth->value, "spec"};
    d.duty.still_tension = or_else(w.still_tension, 0.0);
  }
  /// The driver's own limit where its document gives one.
  static double highest(const Drive& d) {
    for (const Pulley& p : d.pulleys) {
      if (p.drives && p.speed_max < kUnlimited) return p.speed_max;
    }
    return kHighest;
  }

  const spec::Drive& spec_;
  const catalog::Catalog& catalog_;
  const std::map<std::string, MadePulley>& made_;
  Diagnostics& diagnostics_;
  const catalog::Groove* groove_ = nullptr;
};

}  // namespace

std::string key_of(const spec::DrivePulley& pulley) {
  const int rim = or_else(pulley.rim, 1);
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
    const double from = w.lengths->from->value, to = w.lengths->to->value, step = w.lengths->step->value;
    const int last = static_cast<int>(std::min(double{spec::kMaxLengths}, std::floor((to - from) / step + 1e-9)));
    for (int i = 0; i <= last; ++i) lengths.push_back(from + i * step);
  }
  for (const auto& l : w.catalogue) lengths.push_back(l.value);
  std::sort(lengths.begin(), lengths.end());
  return lengths;
}

}  // namespace groovewright::drive
