#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "distances.h"
#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"
#include "groovewright/drive/route.h"

namespace groovewright::drive {
namespace {

using Kind = Complaint::Kind;

/// Rounds closer to a multiple of a turn than this have it.
constexpr double kTurnRounding = 1e-6;

std::string mm(double v) { return trimmed(v, 2) + " mm"; }

class Inspection {
 public:
  Inspection(const Drive& drive, const Course& course) : drive_(drive), course_(course) {}

  std::vector<Complaint> all() {
    bodies();
    if (!found_.empty()) return std::move(found_);
    if (!lay(course_.rounds, route_)) {
      no_tangent();
      return std::move(found_);
    }
    if (!other_way_round()) {
      misses();
      crossings();
      passes();
      if (found_.empty()) once_round();
      order_first();
    }
    return std::move(found_);
  }

 private:
  const Pulley& pulley(std::size_t i) const { return pulley_at(drive_, course_, i); }
  const std::string& name(std::size_t i) const { return pulley(i).name; }
  std::string span_name(std::size_t i) const { return name(i) + " to " + name(course_.next(i)); }
  Piece piece(std::size_t i) const { return {route_.spans[i].from, route_.spans[i].to}; }
  void add(Kind kind, std::string says, double figure, std::string part, std::string other = {}) {
    found_.push_back({kind, std::move(says), figure, std::move(part), std::move(other)});
  }

  void bodies() {
    for (std::size_t i = 0; i < course_.size(); ++i) {
      for (std::size_t k = i + 1; k < course_.size(); ++k) {
        const Vec2 way = course_.rounds[k].centre - course_.rounds[i].centre;
        const double apart = length_of(way.x, way.y), overlap = pulley(i).radius + pulley(k).radius - apart;
        if (apart < plane::kCoincident) {
          add(Kind::same_centre,
              name(i) + " and " + name(k) + " have the same centre: they must stand more than " + mm(overlap) +
                  " apart",
              0, name(i), name(k));
        } else if (overlap > plane::kCoincident) {
          add(Kind::overlap,
              name(i) + " and " + name(k) + " overlap by " + mm(overlap) + ": move them apart by more than that",
              overlap, name(i), name(k));
        }
      }
    }
  }

  void no_tangent() {
    const std::size_t i = route_.no_tangent, k = course_.next(i);
    const Vec2 way = course_.rounds[k].centre - course_.rounds[i].centre;
    const double lacks = std::abs(course_.rounds[k].turn * course_.rounds[k].radius -
                                  course_.rounds[i].turn * course_.rounds[i].radius) -
                         length_of(way.x, way.y);
    add(Kind::no_tangent,
        "the belt does not fit between " + name(i) + " and " + name(k) + ": they stand " + mm(lacks) + " too close",
        lacks, name(i), name(k));
  }

  double turns() const { return sum_of_signed_wraps(course_, route_) / (2 * std::numbers::pi); }

  bool other_way_round() {
    if (std::abs(turns() + 1) > kTurnRounding) return false;
    add(Kind::not_once_round,
        "the belt goes round against the driver's turning: list the pulleys the other way round, or turn the driver " +
            std::string(course_.loop > 0 ? "clockwise" : "counter-clockwise"),
        -1, name(course_.driver));
    return true;
  }

  void once_round() {
    if (std::abs(turns() - 1) <= kTurnRounding) return;
    add(Kind::not_once_round,
        "the belt turns round " + trimmed(turns(), 2) +
            " times instead of once: a pulley stands on the wrong side of it",
        turns(), name(course_.driver));
  }

  /// Left out, the round stands clear of the belt by this much; negative where it would not.
  double clear_by(std::size_t i) const {
    Span straight;
    const Round& round = course_.rounds[i];
    if (!tangent(course_.rounds[course_.before(i)], course_.rounds[course_.next(i)], straight)) return -1;
    return round.turn * plane::cross(straight.along, round.centre - straight.from) - round.radius;
  }

  void misses() {
    for (std::size_t i = 0; i < course_.size(); ++i) {
      if (route_.wraps[i] > 0) continue;
      const std::size_t a = course_.before(i), b = course_.next(i);
      if (const double by = clear_by(i); by >= 0) {
        const bool swings = i == course_.idler;
        add(Kind::missed,
            "the belt from " + name(a) + " to " + name(b) + " misses " + name(i) + " by " + mm(by) +
                (swings ? ": its way must reach that much further" : ": move it towards the belt by more than that"),
            by, name(i));
      } else {
        crossing(a, i);
      }
    }
  }

  void crossing(std::size_t i, std::size_t k) {
    add(Kind::crosses_itself,
        "the belt crosses itself: " + span_name(i) + " and " + span_name(k) +
            ": list the pulleys in the order in which the belt meets them, or lay its back on one of them",
        0, span_name(i), span_name(k));
  }

  void crossings() {
    const std::size_t n = course_.size();
    for (std::size_t i = 0; i < n; ++i) {
      for (std::size_t k = i + 1; k < n; ++k) {
        // Neighbours cross where they miss the round between them, which has been told.
        const bool neighbours = k == i + 1 || (i == 0 && k == n - 1);
        if ((n == 2 || !neighbours) && cross_each_other(piece(i), piece(k))) crossing(i, k);
      }
    }
  }

  /// In a wrong order the belt misses pulleys, too: that is no advice to move them.
  void order_first() {
    const auto is = [](Kind kind) { return [kind](const Complaint& c) { return c.kind == kind; }; };
    if (std::any_of(found_.begin(), found_.end(), is(Kind::crosses_itself))) std::erase_if(found_, is(Kind::missed));
  }

  void passes() {
    for (std::size_t i = 0; i < course_.size(); ++i) {
      for (std::size_t k = 0; k < course_.size(); ++k) {
        if (k == i || k == course_.next(i)) continue;
        const Vec2 off = course_.rounds[k].centre - nearest_on(piece(i), course_.rounds[k].centre);
        const double into = pulley(k).radius - length_of(off.x, off.y);
        if (into <= plane::kCoincident) continue;
        add(Kind::through_pulley,
            "the belt from " + span_name(i) + " would pass through " + name(k) + ", " + mm(into) +
                " deep: move it away by more than that",
            into, name(k), span_name(i));
      }
    }
  }

  const Drive& drive_;
  const Course& course_;
  Route route_;
  std::vector<Complaint> found_;
};

}  // namespace

std::vector<Complaint> layout_complaints(const Drive& drive, const Course& course) {
  return Inspection(drive, course).all();
}

}  // namespace groovewright::drive
