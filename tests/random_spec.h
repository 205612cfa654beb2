// random_spec.h: pulley documents at random, from a seed, with every feature that a document can hold. Most are
// possible parts; the rest must end in a diagnostic.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <numbers>
#include <string>
#include <vector>

namespace groovewright::testing {

/// The same stream on every machine: xorshift64*, no library distribution.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : state_(seed * 2654435769U + 88172645463325252U) {}
  double in(double least, double most) {
    return least + (most - least) * static_cast<double>(next() >> 11) / 9007199254740992.0;
  }
  int in(int least, int most) {
    return least + static_cast<int>(next() % static_cast<std::uint64_t>(most - least + 1));
  }
  bool one_in(int n) { return in(1, n) == 1; }
  template <class T, std::size_t N>
  const T& of(const T (&list)[N]) {
    return list[in(0, static_cast<int>(N) - 1)];
  }

 private:
  std::uint64_t next() {
    state_ ^= state_ >> 12, state_ ^= state_ << 25, state_ ^= state_ >> 27;
    return state_ * 2685821657736338717U;
  }
  std::uint64_t state_;
};

/// The same part, written in another way.
struct Variant {
  bool inches = false;  ///< bare inch numbers under `units: in`
  double turn_deg = 0;  ///< added to every angle
};

class RandomSpec {
 public:
  RandomSpec(std::uint64_t seed, Variant variant) : d_(seed), variant_(variant), seed_(seed) {}

  std::string write() {
    round_ = d_.one_in(3);
    const bool two_or_more = d_.one_in(3);
    web_ = d_.one_in(2);
    std::string rims = "rims:\n";
    rims_ = two_or_more ? d_.in(2, 4) : 1;
    for (int i = 0; i < rims_; ++i) rims += rim(i);
    plan();
    const std::string hub = "hub:\n" + this->hub(), body = "body:\n" + this->body();
    static constexpr const char* kMaterials[] = {"aluminium-6061-T6", "steel-1045", "cast-iron-250"};
    const int material = d_.in(0, 2);
    std::string s = "pulley: random-" + std::to_string(seed_) + "\nmaterial: " + kMaterials[material] + "\n";
    if (variant_.inches) s += "units: in\n";
    s += rims + body + hub + timing_zero();
    if (d_.one_in(3)) s += "marks:\n" + marks() + (d_.one_in(3) ? marks() : "");
    if (d_.one_in(3)) s += tone_ring();
    if (d_.one_in(6)) s += magnets();
    if (material == 0 && d_.one_in(3))
      s += "finish: {coating: anodise, masked: " + std::string(d_.one_in(2) ? "true" : "false") + "}\n";
    if (d_.one_in(6)) s += "speed: {maximum: " + std::to_string(d_.in(1000, 9000)) + " rpm}\n";
    if (d_.one_in(4)) s += drawing();
    if (d_.one_in(12)) s += std::string("step: {pmi: ") + (d_.one_in(2) ? "true" : "false") + "}\n";
    if (d_.one_in(12)) s += std::string("balance: {grade: ") + (d_.one_in(2) ? "6.3" : "G16") + "}\n";
    if (d_.one_in(3)) s += machining();
    return s;
  }

 private:
  struct Profile {
    const char* id;
    double least, pitch, edge, flange;
  };
  struct Screw {
    const char* id;
    double plain, sunk, head;  ///< diameters of the mouth, depth of a counterbore
  };

  // ---- words ----

  [[nodiscard]] std::string mm(double v) const {
    char text[40];
    if (round_) v = rounded(v, std::abs(v) < 2 ? 0.1 : std::abs(v) < 20 ? 0.5 : 1);
    if (variant_.inches) {
      std::snprintf(text, sizeof text, "%.12f", std::round(v * 1000) / 1000 / 25.4);
    } else {
      std::snprintf(text, sizeof text, "%.3f mm", v);
    }
    return text;
  }
  [[nodiscard]] std::string deg(double v) const {
    char text[40];
    std::snprintf(text, sizeof text, "%.3f deg", v);
    return text;
  }
  /// An angle in the cross plane, which turns with the part.
  [[nodiscard]] std::string turned(double v) const { return deg((round_ ? rounded(v, 15) : v) + variant_.turn_deg); }
  [[nodiscard]] double spot(double v) const { return round_ ? rounded(v, 15) : v; }
  static double rounded(double v, double step) { return std::round(v / step) * step; }
  [[nodiscard]] std::string start(double v) const {
    return v == 0 && variant_.turn_deg == 0 ? "" : ", start: " + turned(v);
  }
  /// One in four breaks this edge in its own way, and some not at all.
  std::string edge_break(const char* before, double most) {
    if (!d_.one_in(4)) return "";
    return before + ("edge_break: " + mm(d_.one_in(3) ? 0 : d_.in(0.05, most)));
  }
  const char* side() { return d_.one_in(2) ? "front" : "rear"; }

  // ---- rims ----

  std::string size(double d) {
    switch (d_.in(0, 7)) {
      case 0:
        return "{outside_diameter: " + mm(d) + "}";
      case 1:
        return "{pitch_diameter: " + mm(d) + "}";
      case 2:
        return "{diameter_over_balls: " + mm(d) + "}";
      case 3:
        return "{overdrive: 24 %, of: {outside_diameter: " + mm(d / 1.24) + "}}";
      case 4:
        return "{overdrive: 0.08, of: {pitch_diameter: " + mm(d / 1.08) + "}}";
      default:
        return "{effective_diameter: " + mm(d) + "}";
    }
  }

  std::string flange(double d_e, double most) {
    const double height = d_.in(1.0, most), lean = d_.in(0, 25), thick = d_.in(1.8, 4.0);
    width_ += thick + height * std::tan(lean * std::numbers::pi / 180);
    std::string s = d_.one_in(3) ? "{diameter: " + mm(d_e + 2 * height) : "{height: " + mm(height);
    if (!d_.one_in(5)) s += ", thickness: " + mm(thick);
    s += ", lead_in: " + deg(lean);
    if (d_.one_in(5)) s += ", root_relief: " + mm(d_.in(0.1, 0.25));
    return s + edge_break(", ", 0.6) + "}";
  }

  std::string rim(int i) {
    static constexpr Profile kProfiles[] = {{"PH", 30, 1.6, 1.3, 3},
                                            {"PJ", 40, 2.34, 1.8, 4},
                                            {"PK", 60, 3.56, 2.5, 5},
                                            {"PL", 90, 4.7, 3.3, 8},
                                            {"PM", 190, 9.4, 6.4, 12}};
    if (i == 0) profile_ = &d_.of(kProfiles), first_ = d_.in(profile_->least, profile_->least + 150);
    const double d_e = i == 0 ? first_ : d_.in(first_ * 0.75, first_ * 1.25);
    const Profile* p = profile_;
    if (i > 0 && d_.one_in(3)) p = &kProfiles[d_.in(0, first_ > 90 ? 3 : first_ > 60 ? 2 : 1)];
    const int ribs = d_.in(1, p->pitch > 4 ? 6 : 12);
    const double root = d_e / 2 - 1.15 * p->pitch;
    root_ = i == 0 ? root : std::min(root_, root);
    std::string s = "  - section: " + std::string(p->id) + "\n    ribs: " + std::to_string(ribs) +
                    "\n    size: " + size(d_e) + "\n" + edge_break("    ", 0.5);
    if (s.back() != '\n') s += "\n";
    width_ += (ribs - 1) * p->pitch + 2 * p->edge;
    if (d_.one_in(6)) s += "    edge_distance: " + mm(p->edge + d_.in(0.0, 1.5)) + "\n";
    if (i > 0 && d_.one_in(2)) {
      const double space = d_.in(0.7, 6.0);
      width_ += space;
      s += "    space: " + mm(space) + "\n";
    }
    front_end_ = d_e / 2;
    if (i == 0) rear_end_ = front_end_;
    for (const char* which : {"front", "rear"}) {
      if (!d_.one_in(2)) continue;
      s += "    " + std::string(which) + "_flange: " + flange(d_e, p->flange) + "\n";
    }
    if (i == 0) web_width_ = width_;
    return s;
  }

  /// Divides the radius: bore, what the hub carries, hub, web or disc.
  void plan() {
    bore_ = d_.in(0.12, 0.24) * 2 * root_;
    taper_ = d_.one_in(6);
    boss_ = web_ || d_.one_in(3);
    thick_ = d_.in(3.0, 5.0);
    hub_ = boss_ ? d_.in(0.35, 0.6) * 2 * root_ : 2 * root_ - 3;
    if (boss_) hub_ = std::max(hub_, bore_ + 9);
    inner_ = bore_ / 2 + 0.8;
    fillet_ = d_.one_in(8) ? 0 : d_.in(0.5, 2.0);
  }

  // ---- hub ----

  std::string hub() {
    std::string s;
    if (boss_) s += "  diameter: " + mm(hub_) + "\n" + line(edge_break("  ", 0.8));
    length_ = width_;
    if (boss_) {
      for (const char* which : {"front", "rear"}) {
        if (!d_.one_in(2)) continue;
        const bool proud = d_.one_in(2);
        const double by = d_.in(0.5, proud ? 12.0 : 0.2 * width_);
        length_ += proud ? by : -by;
        s += "  " + std::string(which) + ": {" + (proud ? "proud: " : "recessed: ") + mm(by) + "}\n";
      }
    }
    // Reverse order of depth: the deeper, the narrower.
    double wide = bore_;
    std::string steps;
    if (d_.one_in(4)) steps = bore_steps(wide);
    s += "  bore: {diameter: " + mm(bore_) + edge_break(", ", 0.5);
    if (taper_) s += ", taper: " + taper();
    if (!taper_ && d_.one_in(4)) s += ", fit: H8";
    if (!steps.empty()) s += ", steps: [" + steps + "]";
    s += "}\n";
    const bool has_register = d_.one_in(3);
    if (has_register) s += registers(wide);
    inner_ = wide / 2 + 0.8;
    if (d_.one_in(has_register ? 9 : 3)) s += keyway();  // few of them go together
    s += patterns();
    return s;
  }

  static std::string line(const std::string& s) { return s.empty() ? s : s + "\n"; }

  std::string taper() {
    std::string s =
        d_.one_in(2) ? "{angle: " + deg(d_.in(0.5, 8.0)) : std::string("{ratio: 1/") + (d_.one_in(2) ? "8" : "20");
    if (d_.one_in(2)) s += std::string(", large_end: ") + side();
    if (d_.one_in(3)) s += std::string(", gauge_face: ") + side();
    if (d_.one_in(3)) s += ", gauge_depth: " + mm(d_.in(0.0, 5.0));
    if (d_.one_in(3)) s += ", stand_off: " + mm(d_.in(0.0, 2.0)) + ", draw_up: " + mm(d_.in(0.0, 0.4));
    return s + "}";
  }

  std::string bore_steps(double& wide) {
    std::string s;
    for (const char* which : {"front", "rear"}) {
      if (!d_.one_in(2)) continue;
      double diameter = bore_ + (taper_ ? 4 : 0), depth = 0.3 * length_;
      for (int i = 0, n = d_.in(1, 2); i < n; ++i) {
        diameter += d_.in(0.8, 4.0), depth *= d_.in(0.4, 0.9);
        s += std::string(s.empty() ? "" : ", ") + "{diameter: " + mm(diameter) + ", depth: " + mm(depth) +
             ", side: " + which + (d_.one_in(3) ? ", fit: H7}" : "}");
      }
      wide = std::max(wide, diameter);
    }
    return s;
  }

  std::string registers(double& wide) {
    const bool both = d_.one_in(4);
    const char* which = side();
    std::string s = "  register: [";
    for (int i = 0; i < (both ? 2 : 1); ++i) {
      if (i > 0) s += ", ", which = which[0] == 'f' ? "rear" : "front";
      const bool spigot = d_.one_in(2);
      const double diameter = wide + d_.in(2.0, 8.0) + (taper_ ? 3 : 0);
      s += "{diameter: " + mm(diameter) + (spigot ? ", height: " : ", depth: ") + mm(d_.in(0.8, 3.0)) +
           ", side: " + which + "}";
      wide = std::max(wide, diameter);
    }
    return s + "]\n";
  }

  std::string keyway() {
    const double at = d_.one_in(2) ? 0 : d_.in(-180, 180);
    const std::string angle = at == 0 && variant_.turn_deg == 0 ? "" : turned(at);
    keyway_ = true;
    // A whole bore would lie between two rows of the key table, where the last digit decides.
    const bool whole = round_ || std::abs(bore_ - std::round(bore_)) < 0.01;
    if (d_.one_in(3) && !taper_ && !whole) {
      inner_ = std::max(inner_, 0.66 * bore_ + 1);
      return angle.empty() ? "  keyway: auto\n" : "  keyway: {angle: " + angle + "}\n";
    }
    const double width = d_.in(0.2, 0.4) * bore_, depth = d_.in(0.3, 0.6) * width + 0.6;
    inner_ = std::max(inner_, std::hypot(bore_ / 2 + depth + (taper_ ? 2 : 0), width / 2) + 0.5);
    return "  keyway: {width: " + mm(width) + ", depth: " + mm(depth) + (angle.empty() ? "" : ", angle: " + angle) +
           "}\n";
  }

  /// Count and start, or single angles.
  std::string spread(int most) {
    if (d_.one_in(4)) {
      std::string s = "angles: [";
      const int n = std::max(1, std::min(3, most));
      double at = d_.in(-90, 90);
      for (int i = 0; i < n; ++i, at += 360.0 / most * d_.in(1.0, 360.0 / most > 130 ? 1.0 : 1.3))
        s += (i > 0 ? ", " : "") + turned(at);
      return s + "]";
    }
    const std::string start = this->start(d_.one_in(2) ? 0 : d_.in(-180, 180));
    return "count: " + std::to_string(d_.in(1, most)) + start;
  }

  /// Circles are taken from the hub's flat from the outside in, so that patterns seldom meet.
  std::string patterns() {
    static constexpr Screw kScrews[] = {{"M3", 4.2, 7.4, 3.7},
                                        {"M4", 5.4, 9.6, 4.7},
                                        {"M5", 6.6, 11.8, 5.7},
                                        {"M6", 7.6, 14, 6.7},
                                        {"M8", 11, 18.5, 9}};
    std::string bolts, jacks, dowels;
    double outer = hub_ / 2 - (boss_ ? 1.0 : 0.5);
    for (int i = 0, n = d_.in(0, 3); i < n; ++i) {
      const Screw& screw = kScrews[d_.in(0, 4)];
      const double room = outer - inner_;
      const int kind = d_.in(0, 6);
      const bool sunk = kind == 1 || kind == 2;
      double mouth = sunk ? screw.sunk : screw.plain;
      if (kind >= 5) mouth = d_.in(2.0, 6.0) + 0.6;
      if (room < mouth || (sunk && length_ < 2 * screw.head)) continue;
      const double at = d_.one_in(2) ? outer - mouth / 2 : d_.in(inner_ + mouth / 2, outer - mouth / 2);
      const int most = std::clamp(static_cast<int>(2 * std::numbers::pi * at / (mouth + 1)), 1, 9);
      const std::string place = spread(most) + ", circle: " + mm(2 * at);
      static constexpr const char* kSeries[] = {"", "", ", series: fine", ", series: coarse"};
      const std::string blind = ", depth: " + mm(d_.in(0.15, 0.4) * length_) + ", side: " + side();
      const std::string head = ", size: " + std::string(screw.id);
      if (kind == 0) bolts += "    - {" + place + head + d_.of(kSeries) + "}\n";
      if (kind == 1) bolts += "    - {" + place + head + ", counterbore: " + side() + "}\n";
      if (kind == 2) bolts += "    - {" + place + head + ", countersink: " + side() + "}\n";
      if (kind == 3) bolts += "    - {" + place + head + ", hole: tapped" + (d_.one_in(2) ? blind : "") + "}\n";
      if (kind == 4) jacks += "    - {" + place + head + (d_.one_in(4) ? blind : "") + "}\n";
      if (kind >= 5)
        dowels += "    - {" + place + ", diameter: " + mm(mouth - 0.6) + (d_.one_in(2) ? blind : "") + "}\n";
      outer = at - mouth / 2 - 0.5;
    }
    dowel_ = !dowels.empty(), bolt_ = !bolts.empty();
    std::string s;
    if (!bolts.empty()) s += "  bolts:\n" + bolts;
    if (!jacks.empty()) s += "  jack_screws:\n" + jacks;
    if (!dowels.empty()) s += "  dowels:\n" + dowels;
    return s;
  }

  // ---- body ----

  std::string body() {
    if (!web_) return "  solid: true\n";
    const double thick = d_.in(std::min(3.5, web_width_ / 3), web_width_ / 2.5);
    std::string s = "  rim_thickness: " + mm(thick_) + "\n  fillet: " + mm(fillet_) +
                    "\n  web:\n    thickness: " + mm(thick) + "\n";
    if (d_.one_in(3)) s += "    offset: " + mm(d_.in(-0.25, 0.25) * web_width_) + "\n";
    if (rims_ > 1 && d_.one_in(4)) s += "    rim: " + std::to_string(d_.in(1, 2)) + "\n";
    const double in = hub_ / 2 + fillet_ + 0.5, out = root_ - thick_ - fillet_ - 0.5, room = std::max(1.0, out - in);
    const std::string start = this->start(d_.one_in(2) ? 0 : d_.in(-90, 90));
    const int kind = d_.in(0, 3);
    if (kind == 1) {
      const double across = room * d_.in(0.3, 0.8),
                   at = d_.in(in + across / 2 + 0.5, std::max(in + across / 2 + 0.5, out - across / 2 - 0.5));
      s += "    windows: {count: " +
           std::to_string(d_.in(2, std::clamp(static_cast<int>(6 * at / (across + 2)), 2, 12))) +
           ", diameter: " + mm(across) + (d_.one_in(2) ? ", circle: " + mm(2 * at) : "") + start +
           edge_break(", ", 0.5) + "}\n";
    }
    if (kind == 2) {
      const int count = d_.in(2, 7);
      const double width = d_.in(0.15, 0.5) * 2 * std::numbers::pi * in / count;
      s += "    spokes: {count: " + std::to_string(count) + ", width: " + mm(width) +
           ", fillet: " + mm(d_.in(0.2, std::max(0.3, room / 4)));
      if (d_.one_in(2))
        s += ", inner_diameter: " + mm(2 * in + room * 0.1) + ", outer_diameter: " + mm(2 * out - room * 0.1);
      s += start + edge_break(", ", 0.5) + "}\n";
    }
    return s;
  }

  // ---- what is measured from the timing zero ----

  std::string timing_zero() {
    const int kind = d_.in(0, 4);
    if (kind == 3 && keyway_) return "timing_zero: {to: keyway}\n";
    if (kind == 1 && dowel_) return "timing_zero: {to: dowel, angle: 7 deg}\n";
    if (kind == 2 && bolt_) return "timing_zero: {to: hole, angle: -120 deg}\n";
    return "timing_zero: {to: top, angle: " + turned(d_.in(-180, 180)) + "}\n";
  }

  std::string marks() {
    static constexpr const char* kPlaces[] = {"front", "rear", "front_edge", "rear_edge"};
    const int kind = d_.in(0, 3);
    std::string s = "  - {on: " + std::string(kPlaces[kind]) + ", angles: [";
    double at = d_.in(-180, 90);
    for (int i = 0, n = d_.in(1, 5); i < n; ++i, at += d_.one_in(20) ? 0.2 : d_.in(4.0, 40.0))
      s += (i > 0 ? ", " : "") + deg(spot(at));
    s += "]";
    const double length = kind > 1 ? d_.in(0.45, d_.one_in(4) ? 1.4 : 0.7) : d_.in(1.5, 4.0),
                 end = kind % 2 == 0 ? front_end_ : rear_end_;
    s += ", length: " + mm(length) + ", width: " + mm(d_.in(0.3, 0.7)) +
         ", depth: " + mm(d_.one_in(9) ? d_.in(2, 12) : d_.in(0.35, 0.9));
    if (kind < 2 && d_.one_in(2)) s += ", radius: " + mm(d_.in(end - (web_ ? thick_ : end / 3), end - 0.5));
    return s + "}\n";
  }

  std::string tone_ring() {
    const char* which = side();
    const double end = (which[0] == 'f' ? front_end_ : rear_end_) - (d_.one_in(4) ? 0.4 : 1);
    const double inside = web_ ? root_ - thick_ + 1 : hub_ / 2 * (boss_ ? 1 : 0.6) + 1;
    const double thick = std::min(d_.in(2.0, 6.0), std::max(1.0, end - inside - 0.5));
    const double radius = d_.in(std::min(inside + thick, end), end);
    const int teeth = d_.in(3, 60), missing = d_.in(0, 2);
    std::string s = "tone_ring: {teeth: " + std::to_string(teeth) + ", radius: " + mm(radius) +
                    ", width: " + mm(d_.in(1.0, 9.0)) + ", thickness: " + mm(thick) +
                    ", tooth_height: " + mm(thick * d_.in(0.2, 0.8)) + ", side: " + which;
    if (missing > 0) s += ", missing: " + std::to_string(missing);
    const double pitch = 2 * std::numbers::pi * radius / teeth;
    if (d_.one_in(3) && pitch > 3) s += ", gap: " + mm(d_.in(0.8, pitch - 1.6));
    if (d_.one_in(2)) s += ", start: " + deg(spot(d_.in(-180, 180)));
    return s + "}\n";
  }

  std::string magnets() {
    const double across = d_.in(0.3, 0.6) * thick_;
    const double at = web_ ? root_ - thick_ / 2 : std::max(d_.in(0.6, 0.95) * root_, inner_ + across);
    return "magnets: {" + spread(6) + ", diameter: " + mm(across) + ", circle: " + mm(2 * at) +
           ", depth: " + mm(d_.in(0.6, 4.0)) + ", side: " + side() + "}\n";
  }

  // ---- how it is drawn ----

  /// Stock is too small about once in four.
  std::string machining() {
    static constexpr const char* kLathes[] = {"turret-400", "bench-250"};
    static constexpr const char* kChucks[] = {"power-160", "power-200", "power-250"};
    std::string s = "machining: {mill: mill-400";
    if (d_.one_in(2)) s += ", lathe: " + std::string(d_.of(kLathes));
    if (d_.one_in(3)) s += ", chuck: " + std::string(d_.of(kChucks));
    if (d_.one_in(2)) {
      s += std::string(", stock: {form: ") + (d_.one_in(2) ? "bar" : "blank");
      const bool sized = d_.one_in(2);
      if (sized) s += ", diameter: " + mm(first_ * 1.25 + d_.in(-20.0, 40.0));
      if (d_.one_in(3)) s += ", length: " + mm(width_ + d_.in(10.0, 80.0));
      if (sized && d_.one_in(3)) s += ", bore: " + mm(bore_ * d_.in(0.4, 1.1));
      s += "}";
    }
    return s + "}\n";
  }

  std::string drawing() {
    static constexpr const char* kSheets[] = {"A3", "A2", "A1", "ansi-b", "ansi-c", "ansi-d"};
    static constexpr const char* kScales[] = {"2:1", "1:1", "1:2", "1:5"};
    static constexpr const char* kTolerances[] = {"iso-22081", "iso-2768-f", "iso-2768-m", "iso-2768-c"};
    std::string s = "drawing:\n  language: en\n";
    if (d_.one_in(6)) s += "  sheet: " + std::string(d_.of(kSheets)) + "\n";
    if (d_.one_in(12)) s += "  scale: " + std::string(d_.of(kScales)) + "\n";
    if (d_.one_in(3)) s += std::string("  projection: ") + (d_.one_in(2) ? "first" : "third") + "\n";
    if (d_.one_in(3)) s += "  general_tolerance: " + std::string(d_.of(kTolerances)) + "\n";
    if (d_.one_in(3)) s += "  dual_units: true\n";
    if (d_.one_in(2)) s += "  number: " + std::to_string(d_.in(0, 99999)) + "\n";
    if (d_.one_in(4)) s += "  author: T. Ansy\n";
    if (bolt_ && d_.one_in(3)) s += "  maximum_material: true\n";
    if (d_.one_in(3)) {
      s += "  revisions:\n";
      for (int i = 0, n = d_.in(1, 12); i < n; ++i)
        s += "    - {revision: " + std::string(1, static_cast<char>('A' + i)) + ", text: change " + std::to_string(i) +
             "}\n";
    }
    if (d_.one_in(3)) {
      s += "  notes:\n";
      for (int i = 0, n = d_.in(1, 12); i < n; ++i)
        s += "    - \"Note " + std::to_string(i) + (d_.one_in(4) ? ": keep dry, pack singly, ship on its face" : "") +
             "\"\n";
    }
    return s;
  }

  Dice d_;
  Variant variant_;
  std::uint64_t seed_;
  int rims_ = 1;
  const Profile* profile_ = nullptr;
  double first_ = 0, root_ = 0, width_ = 0, web_width_ = 0, length_ = 0;
  double front_end_ = 0, rear_end_ = 0;
  double bore_ = 0, hub_ = 0, inner_ = 0, thick_ = 0, fillet_ = 0;
  bool round_ = false;  ///< round numbers, as people like them: faces and edges then coincide
  bool web_ = false, boss_ = false, taper_ = false, dowel_ = false, bolt_ = false, keyway_ = false;
};

inline std::string random_spec(std::uint64_t seed, Variant variant = {}) { return RandomSpec(seed, variant).write(); }

}  // namespace groovewright::testing
