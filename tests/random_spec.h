// random_spec.h: pulley documents at random, from a seed. Most are possible parts; the rest must end in a diagnostic.
#pragma once

#include <cstdint>
#include <cstdio>
#include <string>

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

 private:
  std::uint64_t next() {
    state_ ^= state_ >> 12, state_ ^= state_ << 25, state_ ^= state_ >> 27;
    return state_ * 2685821657736338717U;
  }
  std::uint64_t state_;
};

inline std::string mm(double v) {
  char text[40];
  std::snprintf(text, sizeof text, "%.3f mm", v);
  return text;
}

inline std::string random_flange(Dice& d, double room) {
  std::string s = "{height: " + mm(d.in(1.0, room)) + ", thickness: " + mm(d.in(1.8, 4.0)) +
                  ", lead_in: " + std::to_string(d.in(0, 25)) + " deg";
  if (d.one_in(4)) s += ", root_relief: 0.2 mm";
  return s + "}";
}

inline std::string random_spec(std::uint64_t seed) {
  Dice d(seed);
  struct Profile {
    const char* id;
    double least, pitch, flange;
  };
  static constexpr Profile kProfiles[] = {
      {"PH", 30, 1.6, 3}, {"PJ", 40, 2.34, 4}, {"PK", 60, 3.56, 5}, {"PL", 90, 4.7, 8}, {"PM", 190, 9.4, 12}};
  const int rims = d.one_in(4) ? 2 : 1;
  const Profile& p = kProfiles[d.in(0, 4)];
  const double d_e = d.in(p.least, p.least + 150);
  std::string s = "pulley: random-" + std::to_string(seed) + "\nmaterial: aluminium-6061-T6\nrims:\n";
  double width = 0, least = d_e;
  for (int i = 0; i < rims; ++i) {
    const int ribs = d.in(1, p.pitch > 4 ? 8 : 14);
    const double size = i == 0 ? d_e : d.in(d_e * 0.8, d_e * 1.1);
    least = std::min(least, size);
    width += ribs * p.pitch + 4;
    s += "  - section: " + std::string(p.id) + "\n    ribs: " + std::to_string(ribs) +
         "\n    size: {effective_diameter: " + mm(size) + "}\n";
    if (d.one_in(2)) s += "    front_flange: " + random_flange(d, p.flange) + "\n";
    if (d.one_in(2)) s += "    rear_flange: " + random_flange(d, p.flange) + "\n";
    if (i > 0 && d.one_in(2)) s += "    space: " + mm(d.in(1.0, 6.0)) + "\n";
  }
  const double bore = d.in(0.12, 0.25) * least;
  const bool web = width > 14 && d.one_in(2);
  const double hub = web ? d.in(1.7, 2.1) * bore : 0;
  std::string top;
  if (web) {
    const double thick = d.in(3.5, width / 3), rim = d.in(3.0, 5.0), fillet = d.in(0.8, 2.0);
    top = "body:\n  rim_thickness: " + mm(rim) + "\n  fillet: " + mm(fillet) + "\n  web:\n    thickness: " + mm(thick) +
          "\n";
    const double outer = least - 2.8 * p.pitch - 2 * rim, room = (outer - hub) / 2 - 2 * fillet;
    const int kind = d.in(0, 3);
    if (kind == 1)
      top += "    windows: {count: " + std::to_string(d.in(3, 6)) + ", diameter: " + mm(room * d.in(0.3, 0.8)) + "}\n";
    if (kind == 2)
      top += "    spokes: {count: " + std::to_string(d.in(3, 6)) + ", width: " + mm(d.in(3.0, 8.0)) +
             ", fillet: " + mm(d.in(0.5, 2.0)) + "}\n";
  } else {
    top = "body: {solid: true}\n";
  }
  s += "hub:\n";
  if (web) s += "  diameter: " + mm(hub) + "\n";
  s += "  bore: {diameter: " + mm(bore);
  const bool taper = d.one_in(5);
  s += taper ? ", taper: {angle: " + std::to_string(d.in(1, 6)) + " deg}}\n" : "}\n";
  if (!web && d.one_in(2))
    s += "  register: {diameter: " + mm(bore + d.in(4.0, 10.0)) + ", depth: " + mm(d.in(1.0, 3.0)) +
         ", side: " + (d.one_in(2) ? "front" : "rear") + "}\n";
  if (!taper && bore > 8 && bore < 60 && d.one_in(2)) s += "  keyway: auto\n";
  if (!web && d.one_in(2)) {
    static constexpr const char* kSizes[] = {"M3", "M4", "M5", "M6"};
    static constexpr const char* kKinds[] = {"", ", counterbore: front", ", countersink: rear", ", hole: tapped"};
    s += "  bolts: {count: " + std::to_string(d.in(2, 8)) + ", size: " + kSizes[d.in(0, 3)] +
         ", circle: " + mm(d.in(1.9, 2.3) * bore + 8) + kKinds[d.in(0, 3)] + "}\n";
  }
  s += top;
  if (d.one_in(4))
    s += "timing_zero: {to: top}\nmarks: {on: front, angles: [0 deg, 15 deg], length: 2 mm, width: 0.5 mm, depth: 0.3 "
         "mm}\n";
  return s;
}

}  // namespace groovewright::testing
