// random_drive.h: drive documents at random, from a seed, with every feature that one can hold. Most are drives that
// could run; some are not, and must end in a verdict.
#pragma once

#include <cmath>
#include <cstdint>
#include <cstdio>
#include <numbers>
#include <string>
#include <vector>

#include "random_spec.h"

namespace groovewright::testing {

class RandomDrive {
 public:
  /// `variant.turn_deg` turns the whole layout about the origin; `variant.inches` writes lengths in inches.
  RandomDrive(std::uint64_t seed, Variant variant) : d_(seed), seed_(seed), variant_(variant) {}

  std::string write() {
    section_ = &d_.of(kSections);
    ribs_ = d_.in(2, 10);
    ccw_ = d_.one_in(2);
    lay_out();
    const std::string pulleys = this->pulleys(), tensioner = d_.one_in(5) ? "" : this->tensioner();
    std::string s = "drive: random-" + std::to_string(seed_) + "\n";
    if (variant_.inches) s += "units: in\n";
    if (d_.one_in(4)) s += "title: drive " + std::to_string(seed_) + " (invented)\n";
    s += "belt: " + belt() + "\nturns: " + (ccw_ != d_.one_in(25) ? "counter-clockwise" : "clockwise") + "\n";
    s += "pulleys:\n" + pulleys + tensioner;
    if (d_.one_in(2)) s += obstacles();
    if (!d_.one_in(4) || tensioner.empty()) s += duty(tensioner.empty());
    if (d_.one_in(6)) s += "ambient: {temperature: " + number(d_.in(-30.0, 40.0)) + " degC, pressure: 98 kPa}\n";
    if (d_.one_in(8)) s += "design_ratio: " + number(d_.in(1.5, 6.0)) + "\n";
    return s;
  }

 private:
  struct Section {
    const char* id;
    double scale, pitch, least, pull;  ///< pull: an everyday tension, N a rib
  };
  static constexpr Section kSections[] = {{"PH", 0.4, 1.6, 13, 15},  {"PJ", 0.6, 2.34, 20, 40},
                                          {"PK", 1, 3.56, 45, 150},  {"PK", 1, 3.56, 45, 150},
                                          {"PL", 1.8, 4.7, 75, 300}, {"PM", 4, 9.4, 180, 300}};
  struct Spot {
    double x = 0, y = 0;
  };
  struct Round {
    Spot at;
    double diameter = 0;
    bool back = false;
  };

  // ---- words ----

  static std::string number(double v, const char* form = "%.3f") {
    char text[48];
    std::snprintf(text, sizeof text, form, v);
    return text;
  }
  /// Twelve digits, so that a drive in inches or turned is the same one.
  [[nodiscard]] std::string mm(double v) const {
    return variant_.inches ? number(std::round(v * 1000) / 1000 / 25.4, "%.14f")
                           : number(std::round(v * 1000) / 1000) + " mm";
  }
  [[nodiscard]] std::string exact_mm(double v) const {
    return variant_.inches ? number(v / 25.4, "%.14f") : number(v, "%.12f mm");
  }
  [[nodiscard]] std::string place(Spot p) const {
    p = {std::round(p.x * 1000) / 1000, std::round(p.y * 1000) / 1000};
    const double t = variant_.turn_deg * std::numbers::pi / 180, c = std::cos(t), s = std::sin(t);
    return "[" + exact_mm(c * p.x - s * p.y) + ", " + exact_mm(s * p.x + c * p.y) + "]";
  }
  [[nodiscard]] std::string turned(double deg) const { return number(deg + variant_.turn_deg, "%.6f deg"); }
  static std::string rpm(double v) { return number(v, "%.0f rpm"); }
  static Spot plus(Spot a, Spot b, double k) { return {a.x + k * b.x, a.y + k * b.y}; }

  // ---- layout ----

  /// Rounds on a ring, in the belt's travel, now and then with an idler that presses on the belt's back between two.
  void lay_out() {
    const int n = d_.one_in(12) ? d_.in(8, 24) : d_.in(2, 6);
    const double ring = std::min(1000.0, section_->scale * d_.in(140.0, 320.0) * std::max(1.0, n / 6.0));
    const double step = 2 * std::numbers::pi / n;
    const double widest = std::min(section_->scale * 180, 1.5 * ring * std::sin(step / 2));
    const double first = d_.in(0.0, 6.28);
    std::vector<Round> inner;
    for (int i = 0; i < n; ++i) {
      const double a = first + (ccw_ ? 1 : -1) * step * (i + d_.in(-0.15, 0.15)), r = ring * d_.in(0.85, 1.0);
      const double least = d_.one_in(20) ? 0.7 * section_->least : section_->least;
      inner.push_back({{r * std::cos(a), r * std::sin(a)}, d_.in(least, std::max(widest, least + 5)), false});
    }
    for (std::size_t i = 0; i < inner.size(); ++i) {
      rounds_.push_back(inner[i]);
      if (i > 0 && i + 1 < inner.size() && d_.one_in(4)) rounds_.push_back(pressing(inner[i], inner[i + 1]));
    }
    if (d_.one_in(40)) std::swap(rounds_[0].at, rounds_.back().at);
  }
  /// Unit, out of the loop, across the way from a to b.
  [[nodiscard]] Spot outwards(const Round& a, const Round& b) const {
    const double x = b.at.x - a.at.x, y = b.at.y - a.at.y, l = std::max(1e-9, std::hypot(x, y));
    return ccw_ ? Spot{y / l, -x / l} : Spot{-y / l, x / l};
  }
  /// Where a round of this diameter presses the belt between a and b by so much.
  [[nodiscard]] Spot pressed(const Round& a, const Round& b, double diameter, double by) const {
    const Spot middle{(a.at.x + b.at.x) / 2, (a.at.y + b.at.y) / 2};
    return plus(middle, outwards(a, b), (a.diameter + b.diameter) / 4 + diameter / 2 - by);
  }
  Round pressing(const Round& a, const Round& b) {
    const double size = section_->least * d_.in(1.3, 2.0);
    const double by = section_->scale * (d_.one_in(8) ? d_.in(-30.0, 0.0) : d_.in(5.0, 25.0));
    return {pressed(a, b, size, by), size, true};
  }

  std::string pulleys() {
    std::string s;
    for (std::size_t i = 0; i < rounds_.size(); ++i) {
      const Round& r = rounds_[i];
      s += "  - {name: p" + std::to_string(i) + ", at: " + place(r.at);
      s += (r.back         ? ", back_diameter: "
            : d_.one_in(3) ? ", outside_diameter: "
                           : ", effective_diameter: ") +
           mm(r.diameter);
      if (i == 0) s += ", drives: true";
      if (r.back && d_.one_in(3)) s += ", width: " + mm(ribs_ * section_->pitch + d_.in(2.0, 12.0));
      if (!r.back && d_.one_in(4)) s += ", grooves: " + std::to_string(ribs_ + d_.in(d_.one_in(8) ? -1 : 0, 3));
      if (d_.one_in(4)) s += ", flange_height: " + mm(section_->scale * d_.in(0.0, 5.0));
      if (d_.one_in(6)) s += ", plane: " + mm(d_.in(-4.0, 4.0));
      if (d_.one_in(3)) s += ", inertia: " + number(section_->scale * d_.in(1.0, 40.0), "%.3f kg cm2");
      if (d_.one_in(4)) s += ", maximum_speed: " + rpm(d_.in(6000, 20000));
      if (d_.one_in(5)) s += bearing();
      if (d_.one_in(6)) s += ", reference_effective_diameter: " + mm(r.diameter * d_.in(0.8, 1.0));
      if (i > 0 && !r.back && d_.one_in(2)) s += load();
      s += "}\n";
    }
    return s;
  }

  std::string bearing() {
    return ", bearing: {radial_load: " + number(section_->pull * ribs_ * d_.in(1.0, 6.0)) + " N}";
  }

  std::string load() {
    const double size = section_->scale * d_.in(0.2, 4.0);
    const bool own = d_.one_in(3);
    const std::string own_speed = own ? ", own_speed: true" : "";
    const double last = own ? 60000 : d_.one_in(8) ? 3000 : 12000;
    if (d_.one_in(3)) {
      return ", load: [{at: 0 rpm, torque: " + number(size) + " N m" + own_speed + "}, {at: " + rpm(last) +
             ", torque: " + number(2 * size) + " N m" + own_speed + "}]";
    }
    return ", load: [{at: 100 rpm, power: " + number(size / 20) + " kW" + own_speed +
           "}, {at: 3000 rpm, power: " + number(size / 2) + " kW" + own_speed + "}, {at: " + rpm(last + 1) +
           ", power: " + number(size) + " kW" + own_speed + "}]";
  }

  // ---- the rest ----

  std::string belt() {
    double about = 0;
    for (std::size_t i = 0; i < rounds_.size(); ++i) {
      const Round &a = rounds_[i], &b = rounds_[(i + 1) % rounds_.size()];
      about += std::hypot(b.at.x - a.at.x, b.at.y - a.at.y);
      if (!a.back) about += std::numbers::pi * a.diameter / static_cast<double>(rounds_.size());
    }
    std::string s = "{section: " + std::string(section_->id) + ", ribs: " + std::to_string(ribs_);
    switch (d_.in(0, 4)) {
      case 0:
        s += ", length: " + mm(about * d_.in(0.9, 1.1));
        break;
      case 1:
        s += ", catalogue: [" + mm(about * 0.97) + ", " + mm(about) + ", " + mm(std::min(9900.0, about * 1.04)) + "]";
        break;
      case 2:
        break;
      default:
        s += ", lengths: {from: " + mm(about * 0.85) + ", to: " + mm(std::min(9900.0, about * 1.15)) +
             ", step: " + mm(about / 200) + "}";
    }
    if (d_.one_in(6)) s += ", shorter: " + mm(3) + ", longer: " + mm(2);
    if (d_.one_in(6)) s += ", pitch_line_offset: " + mm(d_.in(0.3, 2.0)) + ", cord_to_back: " + mm(1.3);
    if (d_.one_in(6)) s += ", stretch: " + number(d_.in(0.0, 1.0)) + " %";
    if (d_.one_in(10)) s += ", speed_max: 60 m/s, speed_reason: the maker's word";
    if (d_.one_in(5)) {
      s += ", bending_loss: {torque_per_rib: " + number(section_->scale * d_.in(1.0, 40.0)) +
           " N mm, pitch_diameter: " + mm(section_->least * d_.in(1.0, 2.0)) + "}";
    }
    return s + "}";
  }

  std::string tensioner() {
    const std::size_t after =
        d_.one_in(10) ? static_cast<std::size_t>(d_.in(0, static_cast<int>(rounds_.size()) - 1)) : 0;
    const Round &a = rounds_[after], &b = rounds_[(after + 1) % rounds_.size()];
    const double size = section_->least * d_.in(1.4, 2.0), scale = section_->scale;
    const Spot deep = pressed(a, b, size, scale * d_.in(30.0, 60.0)), out = outwards(a, b);
    std::string s = "tensioner:\n  after: p" + std::to_string(after) + "\n  back_diameter: " + mm(size) + "\n";
    if (d_.one_in(2)) s += "  name: arm\n";
    const double effort = section_->pull * ribs_ * (d_.one_in(10) ? d_.in(0.05, 6.0) : d_.in(0.1, 0.5));
    if (d_.one_in(5)) {
      const Spot from = plus(deep, out, scale * 80);
      s += "  kind: slide\n  pivot: " + place(from) + "\n  direction: " + turned(deg_of({-out.x, -out.y})) + "\n";
      s += "  travel: {free: " + mm(scale * 80) + ", stops: [" + mm(scale * 30) + ", " + mm(scale * 80) + "]}\n";
      s += "  spring: {force: " + number(effort) + " N";
      if (d_.one_in(2)) s += ", force_rate: " + number(effort * d_.in(0.0, 0.02)) + " N/mm";
    } else {
      const double arm = scale * d_.in(50.0, 110.0);
      const int side = d_.one_in(2) ? 1 : -1;
      const Spot pivot = plus(plus(deep, {-out.y, out.x}, side * 0.94 * arm), out, 0.34 * arm);
      const double free = deg_of({deep.x - pivot.x, deep.y - pivot.y}), swing = d_.in(25.0, 60.0);
      const double way = side * (d_.one_in(25) ? -swing : swing);
      s += "  pivot: " + place(pivot) + "\n  arm: " + mm(arm) + "\n";
      s += "  angle: {free: " + turned(free) + ", stops: [" + turned(free) + ", " + turned(free + way) + "]}\n";
      if (d_.one_in(4)) s += "  arm_width: " + mm(scale * d_.in(10.0, 30.0)) + "\n";
      if (d_.one_in(3))
        s += "  peg: {radius: " + mm(26) + ", angle: " + turned(120) + ", thread: M8, depth: " + mm(14) + "}\n";
      s += "  spring: {torque: " + number(std::min(999.0, effort * arm / 1000)) + " N m";
      if (d_.one_in(2)) s += ", rate: " + number(effort * arm / 1000 * d_.in(0.0, 0.03)) + " N m/deg";
    }
    s += "}\n";
    if (d_.one_in(3)) s += "  damping: " + number(d_.in(0.0, 60.0)) + " %\n";
    return s;
  }
  static double deg_of(Spot v) { return std::atan2(v.y, v.x) * 180 / std::numbers::pi; }

  std::string obstacles() {
    std::string s = "obstacles:\n";
    for (int i = d_.in(1, 3); i > 0; --i) {
      const double reach = section_->scale * 300;
      const Spot at{d_.in(-reach, reach), d_.in(-reach, reach)};
      s += "  - {name: boss " + std::to_string(i) + ", ";
      if (d_.one_in(2)) {
        s += "circle: {at: " + place(at) + ", diameter: " + mm(d_.in(4.0, 60.0)) + "}";
      } else {
        s += "polygon: [" + place(at) + ", " + place(plus(at, {40, 5}, 1)) + ", " + place(plus(at, {20, 30}, 1));
        s += (d_.one_in(3) ? ", " + place(plus(at, {-10, 60}, 1)) : "") + "]";
      }
      if (d_.one_in(3)) s += ", from: " + mm(-20) + (d_.one_in(2) ? ", to: " + mm(d_.in(-10.0, 60.0)) : "");
      s += "}\n";
    }
    return s;
  }

  std::string duty(bool set_by_hand) {
    std::string s = d_.one_in(2) ? "duty: {lowest: 800 rpm, highest: " + rpm(d_.in(2000, 9000))
                                 : "duty: {speeds: [700 rpm, 1500 rpm, " + rpm(d_.in(2000, 8000)) + "]";
    if (d_.one_in(2))
      s += ", speeding_up: " + number(d_.in(0.0, 6000.0)) + " rpm/s, slowing_down: " + number(d_.in(0.0, 6000.0)) +
           " rpm/s";
    if (d_.one_in(4)) s += ", peak: " + number(d_.in(1.0, 2.0));
    if (d_.one_in(4)) s += ", overrun_load: " + number(d_.in(0.0, 100.0)) + " %";
    if (d_.one_in(2)) s += ", orders: [1, 2.5, 4]";
    if (d_.one_in(4)) {
      s += ", hot_growth: " + mm(0.6);
    } else if (d_.one_in(3)) {
      s += ", heat: {working: " + number(d_.in(60.0, 110.0)) + " degC, expansion: 23.6 1e-6/K}";
    }
    if (set_by_hand && !d_.one_in(4)) s += ", still_tension: " + number(d_.in(50.0, 900.0)) + " N";
    return s + "}\n";
  }

  Dice d_;
  std::uint64_t seed_;
  Variant variant_;
  const Section* section_ = nullptr;
  int ribs_ = 0;
  bool ccw_ = true;
  std::vector<Round> rounds_;
};

inline std::string random_drive(std::uint64_t seed, Variant variant = {}) { return RandomDrive(seed, variant).write(); }

}  // namespace groovewright::testing
