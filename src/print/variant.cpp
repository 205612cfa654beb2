#include "variant.h"

#include <algorithm>
#include <numbers>

#include "groovewright/base/trig.h"

namespace groovewright::print {
namespace {

using part::HolePattern;
using part::Part;

/// A light web and rim: stiff enough to be handled, common practice, no source.
constexpr double kWeb = 4, kRim = 4, kFillet = 2;
/// Metal that stays around what a light hub holds.
constexpr double kRound = 3;
/// Between a keyway's corners and a recess.
constexpr double kClear = 0.15;
/// Windows of a light web: share of the room between hub and rim, and the least that is worth having.
constexpr double kWindowShare = 0.6, kLeastWindow = 8;

struct Lightness {
  bool thin = true, windows = true, foot = true;
};

class Opener {
 public:
  Opener(const Part& metal, const catalog::Printer& printer) : printer_(printer) { variant_.part = metal; }

  Variant open(const Lightness& light, int windows) {
    open_bore();
    for (HolePattern& p : variant_.part.holes) open_pattern(p);
    if (light.foot) break_edges();
    if (light.thin) thin();
    if (light.windows && variant_.thinned) add_windows(windows);
    return std::move(variant_);
  }

 private:
  /// Wider by the play wanted; the file is wider still by what a printed hole comes out too small.
  double widened(const std::string& what, double size, double slip) {
    variant_.changes.push_back({what, size, size + slip});
    return size + slip + printer_.hole_shrink;
  }

  void open_bore() {
    part::Hub& hub = variant_.part.hub;
    const double slip = printer_.bore_slip;
    hub.bore.diameter.value =
        widened(hub.bore.taper ? "bore at its gauge face" : "bore", hub.bore.diameter.value, slip);
    for (part::BoreStep& s : hub.bore.steps) s.diameter = widened("step of the bore", s.diameter, slip);
    for (part::Register& r : hub.registers) {
      if (r.depth > 0) {
        r.diameter = widened("register", r.diameter, slip);
      } else {
        variant_.changes.push_back({"spigot", r.diameter, r.diameter - slip});
        r.diameter -= slip;
      }
    }
    if (hub.keyway) open_keyway(hub, slip);
  }

  /// The wider bore moves the keyway's floor out, which is its play; less of it where the floor's corners would come so
  /// near to a recess that only the finest triangles could tell them apart.
  void open_keyway(part::Hub& hub, double slip) {
    part::Keyway& key = *hub.keyway;
    key.width.value = widened("keyway, width", key.width.value, slip);
    double& depth = key.depth.value;
    const double least = depth - (slip + printer_.hole_shrink) / 2;
    const auto stay_below = [&](double radius) {
      const double corner = length_of(hub.keyway_floor(), key.width.value / 2);
      if (corner < radius && corner > radius - kClear) depth = std::max(least, depth - (corner - radius + kClear));
    };
    for (const part::BoreStep& s : hub.bore.steps) stay_below(s.diameter / 2);
    for (const part::Register& r : hub.registers) {
      if (r.depth > 0) stay_below(r.diameter / 2);
    }
  }

  void open_pattern(HolePattern& p) {
    const bool threaded = p.tapped && p.thread;
    const double least = p.thread ? p.thread->diameter + printer_.hole_slip : p.diameter.value;
    const double play = p.use == HolePattern::Use::dowel ? printer_.bore_slip : printer_.hole_slip;
    const double wanted = p.thread ? std::max(threaded ? 0 : p.diameter.value, least) : p.diameter.value + play;
    variant_.changes.push_back({p.id + (threaded ? ", no thread" : ""), p.diameter.value, wanted});
    p.diameter.value = wanted + printer_.hole_shrink;
    p.tapped = false;
    if (p.sink_diameter > 0) p.sink_diameter += printer_.hole_shrink + (p.sink_depth > 0 ? printer_.bore_slip : 0);
  }

  /// The first layers spread: a broken edge takes that up.
  void break_edges() {
    const auto at_least = [&](double& edge) { edge = std::max(edge, printer_.elephant_foot); };
    Part& p = variant_.part;
    for (part::Rim& rim : p.rims) {
      at_least(rim.edge_break.value);
      for (auto* flange : {&rim.front, &rim.rear}) {
        if (*flange) at_least((*flange)->edge_break.value);
      }
    }
    at_least(p.hub.edge_break.value);
    at_least(p.hub.bore.edge_break.value);
    for (HolePattern& hole : p.holes) at_least(hole.edge_break);
    if (p.web && p.web->windows) at_least(p.web->windows->edge_break.value);
    if (p.web && p.web->spokes) at_least(p.web->spokes->edge_break.value);
  }

  /// Radius inside which holes, heads, bore and registers lie.
  [[nodiscard]] double held() const {
    const Part& p = variant_.part;
    double r = p.hub.widest_bore_radius();
    for (const auto& s : p.hub.bore.steps) r = std::max(r, s.diameter / 2);
    for (const auto& s : p.hub.registers) r = std::max(r, s.diameter / 2);
    if (p.hub.keyway) r = std::max(r, p.hub.keyway_floor());
    for (const HolePattern& h : p.holes) {
      const double head = h.thread ? h.thread->head_diameter : 0;
      r = std::max(r, (h.circle + std::max({h.diameter.value, h.sink_diameter, head})) / 2 + h.edge_break);
    }
    return r;
  }

  void thin() {
    Part& p = variant_.part;
    if (p.web) {
      // Holes beside the hub have their heads on the web, whose faces must stay.
      if (held() > p.hub.diameter.value / 2) return;
      thin_to(p.web->thickness.value, kWeb);
      thin_to(p.web->rim_thickness.value, kRim);
    } else {
      if (!p.hub.boss) {
        p.hub.boss = true;
        p.hub.diameter.value = 2 * (held() + kRound);
        p.hub.edge_break.value = std::max(p.hub.edge_break.value, printer_.elephant_foot);
      }
      part::Web web;
      web.place = p.hub.place;
      web.thickness.value = kWeb;
      web.rim_thickness.value = kRim;
      web.fillet.value = kFillet;
      web.rim = static_cast<int>(p.rims.size() / 2);
      p.web = web;
      variant_.thinned = true;
    }
  }
  void thin_to(double& size, double least) {
    if (size <= least) return;
    size = least;
    variant_.thinned = true;
  }

  void add_windows(int count) {
    part::Web& web = *variant_.part.web;
    if (web.windows || web.spokes) return;
    const double inner = variant_.part.hub.diameter.value / 2;
    const double outer =
        variant_.part.rims[static_cast<std::size_t>(web.rim)].root_diameter() / 2 - web.rim_thickness.value;
    const double middle = (inner + outer) / 2;
    // Neither into the fillets nor into each other.
    const double room = std::min(outer - inner - 2 * web.fillet.value, 2 * std::numbers::pi * middle / count);
    const double diameter = kWindowShare * room;
    if (diameter < kLeastWindow) return;
    part::Windows windows;
    windows.place = web.place;
    windows.count = count;
    windows.diameter.value = diameter;
    windows.circle.value = 2 * middle;
    windows.edge_break.value = printer_.elephant_foot;
    web.windows = windows;
    variant_.windowed = true;
  }

  const catalog::Printer& printer_;
  Variant variant_;
};

}  // namespace

std::optional<Variant> plastic_variant(const part::Part& part, const catalog::Printer& printer, int windows,
                                       Diagnostics& diagnostics) {
  constexpr Lightness kLadder[] = {
      {true, true, true}, {true, false, true}, {false, false, true}, {false, false, false}};
  for (const Lightness& light : kLadder) {
    Diagnostics found;
    Variant variant = Opener(part, printer).open(light, windows);
    auto section = section::half_section(variant.part, found);
    if (section) {
      variant.section = std::move(*section);
      return variant;
    }
    if (&light != &kLadder[std::size(kLadder) - 1]) continue;
    for (Diagnostic d : found.all()) {
      d.message = "the fit-check print can't be drawn with its openings widened: " + d.message;
      diagnostics.add(std::move(d));
    }
  }
  return std::nullopt;
}

}  // namespace groovewright::print
