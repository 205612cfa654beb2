#include <algorithm>
#include <cmath>
#include <numbers>

#include "groovewright/base/text.h"
#include "rows.h"

namespace groovewright::drive {
namespace {

constexpr double kDegree = std::numbers::pi / 180;

std::string joined(const std::vector<Complaint>& all, std::initializer_list<Complaint::Kind> kinds) {
  std::vector<std::string> said;
  for (const Complaint& c : all) {
    if (std::find(kinds.begin(), kinds.end(), c.kind) != kinds.end()) said.push_back(c.says);
  }
  return listed(said);
}

/// Positions and ways as a person reads them.
struct Scale {
  double per = 1;
  const char* unit = "mm";
  [[nodiscard]] double shown(double v) const { return v / per; }
  [[nodiscard]] std::string text(double v) const { return trimmed(v / per, 1) + " " + unit; }
};

void fixed_centres(Sheet& s) {
  const double length = s.drive.belt.effective_length.value;
  if (length <= 0) return;
  const Belt& belt = s.drive.belt;
  const double path = s.a.effective_length, least = length - belt.shorter.value, most = length + belt.longer.value;
  const auto off = [&](double by, const char* way) {
    return "the belt is " + trimmed(by, 2) + " mm too " + way + " for these centres: one of " + trimmed(path, 0) +
           " mm would do, or centres set to it";
  };
  s.judge({.id = "belt_length",
           .label = "Path against the belt, centres fixed",
           .value = path,
           .unit = "mm",
           .lower = least,
           .upper = most,
           .source = belt.effective_length.source,
           .says = path > most    ? off(path - most, "short")
                   : path < least ? off(least - path, "long")
                                  : "without a tensioner the path must be the belt's length"});
}

/// Which belt within the tolerance finds no place, and what would do.
std::string no_place(const Sheet& s) {
  const Travel& t = *s.a.travel;
  std::vector<std::string> out;
  const auto tell = [&](const Seat& seat, double length, const char* which) {
    const bool is_short = seat.state == Seat::State::belt_too_short;
    if (!is_short && seat.state != Seat::State::belt_too_long) return;
    out.push_back(std::string(which) + ", " + trimmed(length, 1) + " mm, is " + trimmed(seat.lacks, 1) + " mm too " +
                  (is_short ? "short" : "long"));
  };
  tell(t.shortest, t.shortest_length, "the shortest belt, engine hot");
  tell(t.longest, t.longest_length, "the longest, stretched belt");
  if (out.empty()) return "the spring tightens the belt nowhere on its way";
  const double better = s.a.better_length;
  return listed(out) + (better > 0 ? "; one of " + trimmed(better, 0) + " mm sits in the middle of the way" : "");
}

void travels(Sheet& s, const Scale& scale) {
  const Travel& t = *s.a.travel;
  const Sourced& limit = s.drive.tensioner->slides() ? s.drive.limits.slide_travel : s.drive.limits.arm_travel;
  const auto row = [&](const char* id, const char* label, double least, const Seat& at, const char* belt) {
    s.judge({.id = id,
             .label = label,
             .value = scale.shown(least),
             .unit = scale.unit,
             .lower = scale.shown(limit.value),
             .source = limit.source,
             .says = t.all_seated ? std::string(belt) + " holds it at " + scale.text(at.position) : no_place(s)});
  };
  row("tensioner_travel_near", "Travel left to the near stop", t.least_to_near, t.longest,
      "the longest, stretched belt");
  row("tensioner_travel_far", "Travel left to the far stop", t.least_to_far, t.shortest,
      "the shortest belt, engine hot,");
}

/// What the air's and the engine's heat do to the belt's way; nothing where the document says neither.
void heat(Sheet& s) {
  const Duty& d = s.drive.duty;
  if (d.hot_growth.value > 0) {
    s.note("hot_growth", "Growth of the belt's way, engine hot", d.hot_growth.value, "mm", d.hot_growth.source,
           s.drive.tensioner ? "taken off the shortest belt" : "no tensioner takes it up: it tightens the belt");
  }
  if (d.cold_shrink.value > 0) {
    s.note(
        "cold_shrink", "Shrinking of the belt's way in the cold", d.cold_shrink.value, "mm", d.cold_shrink.source,
        s.drive.tensioner ? "added to the longest, stretched belt" : "no tensioner takes it up: it slackens the belt");
  }
  if (d.ambient && !(d.hot_growth.value > 0)) {
    s.note("ambient", "Temperature of the air around", *d.ambient, "°C", "spec",
           "of a range's charge only: give 'heat' below 'duty' where the belt's way must follow it, too");
  }
}

void reclocking(Sheet& s) {
  if (!s.a.reclock) return;
  const Reclock& r = *s.a.reclock;
  s.note("reclock_angle", "Turn of the tensioner's body that puts the arm in the middle of its swing", r.turn / kDegree,
         "deg", kMechanics, "counter-clockwise seen from the front; free position, stops and peg turn together");
  if (!s.drive.tensioner->peg) return;
  const bool enough = r.ligament >= r.ligament_needed;
  s.judge({.id = "ligament",
           .label = "Metal between the old and the new peg hole",
           .value = r.ligament,
           .unit = "mm",
           .lower = r.ligament_needed,
           .source = s.drive.limits.ligament.source,
           .says = enough ? "the new hole stands clear of the old one"
                          : "the holes run into each other: an adapter plate instead of a second hole"});
}

}  // namespace

void belt_fits_row(Sheet& s) {
  if (!s.a.seat) return;
  using Kind = Complaint::Kind;
  const Seat& seat = *s.a.seat;
  const std::string trouble = joined(s.a.troubles, {Kind::belt_too_short, Kind::belt_too_long, Kind::slackens});
  s.judge({.id = "belt_fits",
           .label = "Belt length that the tensioner cannot take up",
           .value = seat.lacks,
           .unit = "mm",
           .upper = 0,
           .source = kMechanics,
           .says = trouble.empty() ? "the tensioner holds the belt" : trouble});
  if (seat.state == Seat::State::cannot_tighten) s.rows.checks.back().verdict = Verdict::fail;
}

void tensioner_rows(Sheet& s) {
  heat(s);
  if (!s.drive.tensioner) return fixed_centres(s);
  const Tensioner& t = *s.drive.tensioner;
  const Scale scale = t.slides() ? Scale{} : Scale{kDegree, "deg"};
  const Seat& seat = *s.a.seat;
  belt_fits_row(s);
  const bool slack = tensioner_on_slack_span(s.drive, s.a.course);
  s.judge({.id = "tensioner_on_slack_span",
           .label = "Pulleys under load between driver and tensioner",
           .value = slack ? 0.0 : 1.0,
           .unit = "",
           .upper = 0,
           .source = "common practice, no source",
           .says = slack ? "the tensioner sits on the slack span" : "put the tensioner right after the driver"});
  travels(s, scale);
  reclocking(s);
  if (seat.state != Seat::State::seated) return;
  s.size_row({.id = "tensioner_position",
              .label = t.slides() ? "Way of the slide with the belt on" : "Arm angle with the belt on",
              .symbol = "φ",
              .value = scale.shown(seat.position),
              .unit = scale.unit,
              .lower = scale.shown(std::min(t.stop_a, t.stop_b)),
              .upper = scale.shown(std::max(t.stop_a, t.stop_b)),
              .source = kMechanics});
  s.size_row({.id = "installed_tension",
              .label = "Tension that the tensioner sets, net of centrifugal",
              .symbol = "T'",
              .value = seat.tension.mid,
              .unit = "N",
              .lower = seat.tension.low,
              .upper = seat.tension.high,
              .source = "spring against belt; band over friction: " + t.friction.source});
  s.size_row({.id = "take_up",
              .label = t.slides() ? "Belt taken up per mm" : "Belt taken up per degree",
              .symbol = "",
              .value = seat.take_up * scale.per,
              .unit = "mm",
              .source = kGeometry});
}

}  // namespace groovewright::drive
