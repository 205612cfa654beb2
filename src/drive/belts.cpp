#include "groovewright/drive/belts.h"

#include <algorithm>
#include <cmath>

#include "groovewright/base/text.h"

namespace groovewright::drive {
namespace {

Sourced at_length(const std::optional<catalog::SteppedLimit>& limit, double length, const Sourced& otherwise) {
  return limit ? Sourced{limit->at(length), limit->source} : otherwise;
}

/// What is left to the nearer stop with this belt: below 0 by as much as it does not fit, in mm of belt.
double merit(const Drive& drive, const Swing& swing, double length) {
  const Drive with = with_length(drive, length, "");
  const Travel t = travel(with, swing);
  if (t.all_seated) return std::min(t.least_to_near, t.least_to_far);
  return -std::max({t.shortest.lacks, t.nominal.lacks, t.longest.lacks});
}

}  // namespace

std::string designation(const Belt& belt) {
  return std::to_string(belt.ribs) + belt.section + " " + trimmed(std::round(belt.effective_length.value), 0);
}

double length_to_look_for(const Swing& swing) {
  Spot spot;
  if (!swing.at((swing.near_stop() + swing.far_stop()) / 2, spot) || !spot.touches) return 0;
  const double tension = tension_at(swing, spot).mid;
  if (!(tension > 0)) return 0;
  const double length = spot.length / (1 + swing.give() * (tension - swing.measured_under()));
  // A spring that stretches the belt a lot asks for one that would not go on with the tensioner on its far stop.
  return seat(swing, length).state == Seat::State::seated ? length : 0;
}

Drive with_length(Drive drive, double length, const std::string& source) {
  Belt& b = drive.belt;
  b.effective_length = {length, source};
  b.shorter = at_length(b.shorter_at, length, b.shorter);
  b.longer = at_length(b.longer_at, length, b.longer);
  return drive;
}

Drive with_best_belt(const Drive& drive, std::span<const double> lengths) {
  const Course c = course(drive);
  double path = 0;
  if (drive.tensioner) {
    const Swing swing(drive, c);
    path = length_to_look_for(swing);
    if (path <= 0) path = length_at_middle(swing);
    if (path <= 0) return drive;
    double best = 0, most = -kUnlimited;
    for (const double length : lengths) {
      const double m = merit(drive, swing, length);
      if (m > most) best = length, most = m;
    }
    if (lengths.size() == 1) return with_length(drive, best, "spec");
    if (!lengths.empty()) return with_length(drive, best, "the best of those on offer");
  } else {
    Route route;
    if (!lay(c.rounds, route)) return drive;
    path = route.length;
    const auto nearer = [&](double a, double b) { return std::abs(a - path) < std::abs(b - path); };
    if (lengths.size() == 1) return with_length(drive, lengths.front(), "spec");
    if (!lengths.empty()) {
      return with_length(drive, *std::min_element(lengths.begin(), lengths.end(), nearer), "the nearest on offer");
    }
  }
  return with_length(drive, std::round(path), "the belt to look for: none was named");
}

}  // namespace groovewright::drive
