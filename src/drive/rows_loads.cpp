#include <algorithm>
#include <cmath>
#include <numbers>

#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"
#include "groovewright/drive/ratios.h"
#include "rows.h"

namespace groovewright::drive {
namespace {

constexpr double kSameLoad = 1e-9;

const char* word(Way way) { return way == Way::drive ? "in drive" : "on overrun"; }

std::string at(const LoadCase& load) {
  return "at " + trimmed(load.driver_rpm, 0) + " rpm of the driver " + word(load.way);
}

/// The case in which `of` is least.
template <class F>
const Loaded& least(const std::vector<Loaded>& all, const F& of) {
  return *std::min_element(all.begin(), all.end(), [&](const Loaded& a, const Loaded& b) { return of(a) < of(b); });
}

void grips(Sheet& s) {
  for (std::size_t i = 0; i < s.size(); ++i) {
    if (i == s.a.course.idler || !(s.pulley(i).takes_torque() || s.pulley(i).drives)) continue;
    const auto hold_of = [&](const Loaded& l) { return hold(s.drive, s.a.course, s.a.route, l.load, l.set, i); };
    const Loaded& worst = least(s.a.loaded, [&](const Loaded& l) { return hold_of(l).margin; });
    const Hold h = hold_of(worst);
    const Sourced& design =
        s.pulley(i).side == Side::ribs ? s.drive.grip.design_ratio_ribs : s.drive.grip.design_ratio_back;
    const std::string tells =
        h.margin > 0 ? "T'1/T'2 " + trimmed(h.ratio, 2) + " of " + trimmed(h.allowed, 2) + " allowed " + at(worst.load)
                     : "the slack side hangs loose " + at(worst.load);
    s.judge({.id = "slip_" + s.id(i),
             .label = "Slip margin on " + s.name(i),
             .value = h.margin,
             .unit = "1",
             .lower = 1,
             .source = design.source + "; scaled with the wrap",
             .says = tells});
    s.note("slip_wet_" + s.id(i), "Slip margin on " + s.name(i) + ", wet", h.wet_margin, "1", s.drive.grip.wet.source,
           h.wet_margin < 1 ? "slips when wet " + at(worst.load) : "holds when wet");
    s.note("slip_bare_" + s.id(i), "Bare friction on " + s.name(i) + ": T'1/T'2 at which it slips", h.bare, "1",
           (s.pulley(i).side == Side::ribs ? s.drive.grip.bare_ribs : s.drive.grip.bare_back).friction.source,
           "on paper only: the design ratio decides");
  }
  double needed = 0;
  const Loaded* when = nullptr;
  for (const Loaded& l : s.a.loaded) {
    for (std::size_t i = 0; i < s.size(); ++i) {
      const double n = hold(s.drive, s.a.course, s.a.route, l.load, l.set, i).set_needed;
      if (n <= needed) continue;
      needed = n;
      when = &l;
    }
  }
  if (!when || !std::isfinite(needed)) return;
  s.judge({.id = "tension_needed",
           .label = "Tension set, least over friction, against what the grip needs",
           .value = s.a.set.low,
           .unit = "N",
           .lower = needed,
           .source = s.drive.grip.design_ratio_ribs.source,
           .says = "most is needed " + at(when->load)});
}

void shafts(Sheet& s) {
  for (std::size_t i = 0; i < s.size(); ++i) {
    const auto pull = [&](const Loaded& l) { return shaft_load(s.a.course, s.a.route, l.load, i); };
    // Of loads that differ by rounding alone the fastest is told: it is the bearing's hardest.
    const double greatest =
        plane::norm(pull(least(s.a.loaded, [&](const Loaded& l) { return -plane::norm(pull(l)); })));
    const Loaded& worst = least(s.a.loaded, [&](const Loaded& l) {
      return plane::norm(pull(l)) < greatest * (1 - kSameLoad) ? kUnlimited : -l.load.driver_rpm;
    });
    const Vec2 f = pull(worst);
    const double direction = atan2_of(f.y, f.x) * 180 / std::numbers::pi;
    const bool driver = i == s.a.course.driver;
    const double own = worst.load.driver_rpm * speed_ratio(s.drive, s.a.course, i);
    const bool unlimited = !std::isfinite(s.pulley(i).pull_max);
    Check c;
    c.id = driver ? "hub_load" : "shaft_load_" + s.id(i);
    c.label = driver ? "Hub load of " + s.name(i) : "Belt's pull on the shaft of " + s.name(i);
    c.verdict = Verdict::note, c.value = plane::norm(f), c.unit = "N";
    c.source = unlimited ? std::string(kMechanics) + ", net of centrifugal tension" : "spec: what its bearing carries";
    c.says = "towards " + trimmed(direction, 1) + " deg (x right, y up), its bearing at " + trimmed(own, 0) + " rpm, " +
             at(worst.load);
    if (unlimited) {
      s.rows.checks.push_back(std::move(c));
    } else {
      c.upper = s.pulley(i).pull_max;
      s.judge(std::move(c));
    }
  }
}

/// Nothing where the belt's loss is not known.
void bending(Sheet& s) {
  if (s.a.bending.empty()) return;
  const BendingLoss& fastest = s.a.bending.back();
  const double speed = belt_speed(s.drive, s.a.course, fastest.driver_rpm);
  const std::string when = "at " + trimmed(fastest.driver_rpm, 0) + " rpm of the driver";
  const std::string source = "own model: drag of a bend goes with 1/r; its size: " + s.drive.belt.bending_loss.source;
  for (std::size_t i = 0; i < s.size(); ++i) {
    s.note("bending_loss_" + s.id(i), "Power lost to bending the belt round " + s.name(i), fastest.rounds[i], "W",
           source, when + "; a drag of " + trimmed(fastest.rounds[i] / speed, 2) + " N on the belt");
  }
  s.note("bending_loss", "Power lost to bending the belt, all pulleys", fastest.total, "W", source,
         when + ", every bend taken for a full one; its drag, " + trimmed(fastest.total / speed, 2) +
             " N in all, is in no tension, slip margin or hub load of this sheet");
  double taken = 0;
  for (std::size_t i = 0; i < s.size(); ++i) {
    const auto torque = load_torque(s.drive, s.a.course, i, fastest.driver_rpm);
    if (!torque) return;
    const double own = fastest.driver_rpm * speed_ratio(s.drive, s.a.course, i) * std::numbers::pi / 30;
    taken += *torque * own / 1000;
  }
  s.note("driver_power", "Power that the driver gives", taken + fastest.total, "W",
         "sum of the loads, neither peak nor inertia, and what bending costs", when);
}

void frequencies(Sheet& s) {
  const auto slackest = [](const Loaded& l) { return *std::min_element(l.load.tension.begin(), l.load.tension.end()); };
  const Loaded& loose = least(s.a.loaded, slackest);
  s.judge({.id = "belt_taut",
           .label = "Least tension of any span, net of centrifugal",
           .value = slackest(loose),
           .unit = "N",
           .lower = 0,
           .source = "a belt as fast as its own waves hangs loose",
           .says = slackest(loose) > 0 ? at(loose.load) : "a span hangs loose " + at(loose.load)});
  if (!(slackest(loose) > 0)) s.rows.checks.back().verdict = Verdict::fail;
  for (const FrequencyLine& line : s.a.frequencies.lines) {
    if (line.points.empty()) continue;
    const auto [low, high] =
        std::minmax_element(line.points.begin(), line.points.end(),
                            [](const auto& a, const auto& b) { return a.frequency.mid < b.frequency.mid; });
    std::vector<std::string> meets;
    for (const Meeting& m : s.a.frequencies.meetings) {
      if (m.span == line.span) meets.push_back("order " + m.order_name + " at " + trimmed(m.driver_rpm, 0) + " rpm");
    }
    s.note("span_frequency_" + s.span_id(line.span), "Running frequency of " + s.span_name(line.span),
           low->frequency.mid, "Hz", "string that moves along itself, own recomputation",
           "least; up to " + trimmed(high->frequency.mid, 0) + " Hz over the speeds; " +
               (meets.empty() ? "meets no order" : "meets " + listed(meets)));
  }
}

}  // namespace

void load_rows(Sheet& s) {
  for (const Complaint& c : s.a.troubles) {
    if (c.kind != Complaint::Kind::load_unknown) continue;
    s.judge({.id = "loads_known",
             .label = "Speeds at which a load is not known",
             .value = c.figure,
             .unit = "",
             .upper = 0,
             .source = "spec",
             .says = c.says});
  }
  bending(s);
  if (s.a.loaded.empty()) return;
  s.note("overrun_load", "Part of the loads left with the throttle closed", s.drive.duty.overrun_load.value, "1",
         s.drive.duty.overrun_load.source, "taken on overrun");
  grips(s);
  shafts(s);
  frequencies(s);
}

}  // namespace groovewright::drive
