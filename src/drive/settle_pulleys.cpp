#include <algorithm>
#include <set>

#include "groovewright/base/trig.h"
#include "settler.h"

namespace groovewright::drive {
namespace {

/// Nominal crest radius of a bought pulley, of the standard's least: as this program makes its own.
constexpr double kNominalCrest = 1.2;

}  // namespace

void Settler::pulleys(Drive& d) {
  std::set<std::string> names;
  int drivers = 0;
  for (const spec::DrivePulley& w : spec_.pulleys) {
    if (!names.insert(w.name->value).second) {
      error(Code::same_name_twice, w.name->place, w.name->value,
            "two pulleys are named '" + w.name->value + "': the belt meets each once, so give each its own name");
    }
    if (value_or(w.drives, false) && ++drivers > 1) {
      error(Code::one_of_keys, w.drives->place, w.name->value,
            "two pulleys drive, '" + w.name->value + "' is the second: one does, the others are driven");
    }
    d.pulleys.push_back(pulley(w, d.belt));
  }
  if (drivers == 0) {
    error(Code::missing_key, spec_.pulleys.front().place, "drives",
          "no pulley drives: give one of them 'drives: true'");
  }
}

void Settler::contradictions(const spec::DrivePulley& w) {
  if (w.rim && !w.spec) {
    error(Code::missing_key, w.rim->place, "rim", "'rim' is one of a pulley document: name it by 'spec'");
  }
  if (w.grooves && w.spec) {
    error(Code::one_of_keys, w.grooves->place, "grooves", "'grooves' come from the pulley's own document");
  }
  if (w.grooves && w.back_diameter) {
    error(Code::one_of_keys, w.grooves->place, "grooves", "a flat pulley ('back_diameter') has no grooves");
  }
  if (w.width && !w.back_diameter) {
    error(Code::one_of_keys, w.width->place, "width", "'width' is that of a flat pulley ('back_diameter')");
  }
  if (value_or(w.drives, false) && !w.load.empty()) {
    error(Code::one_of_keys, w.load.front().place, w.name->value,
          "'" + w.name->value + "' drives and takes no load: it stands with the pulleys that are driven");
  }
}

Pulley Settler::pulley(const spec::DrivePulley& w, const Belt& b) {
  contradictions(w);
  Pulley p;
  p.name = w.name->value;
  p.at = {w.at->value.x, w.at->value.y};
  p.drives = value_or(w.drives, false);
  p.plane = value_or(w.plane, 0.0);
  p.flange_height = value_or(w.flange_height, 0.0);
  p.inertia = value_or(w.inertia, 0.0);
  p.speed_max = value_or(w.maximum_speed, kUnlimited);
  if (w.bearing) p.pull_max = w.bearing->radial_load->value;
  p.reference_radius = value_or(w.reference_effective_diameter, 0.0) / 2;
  size(w, b, p);
  load(w, p);
  return p;
}

void Settler::size(const spec::DrivePulley& w, const Belt& b, Pulley& p) {
  if (w.back_diameter) {
    p.side = Side::back;
    p.radius = p.outside = w.back_diameter->value / 2;
    p.width = value_or(w.width, belt_width(b) + catalog_.rule("flat_over_belt").value);
    const double middle = p.plane + to_middle(b);
    p.axial = {middle - p.width / 2, middle + p.width / 2};
    return;
  }
  p.grooves = value_or(w.grooves, b.ribs);
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

void Settler::from_document(const spec::DrivePulley& w, const Belt& b, Pulley& p) {
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

void Settler::load(const spec::DrivePulley& w, Pulley& p) {
  for (const spec::LoadPoint& l : w.load) {
    LoadPoint point{l.at->value, value_or(l.own_speed, false), l.power ? l.power->value : l.torque->value,
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

}  // namespace groovewright::drive
