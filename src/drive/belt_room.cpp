#include <algorithm>
#include <cmath>

#include "distances.h"
#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"
#include "groovewright/drive/clearance.h"
#include "prisms.h"

namespace groovewright::drive {
namespace {

using Kind = PartId::Kind;

double axial_gap(const Axial& a, const Axial& b) { return std::max(b.rear - a.front, a.rear - b.front); }

/// Distance from a point to an obstacle's outline, below 0 inside it.
double to_obstacle(const Obstacle& obstacle, Vec2 p) {
  if (obstacle.radius > 0) return plane::norm(obstacle.centre - p) - obstacle.radius;
  double least = kUnlimited;
  each_edge(obstacle, [&](const Piece& edge) { least = std::min(least, plane::norm(nearest_on(edge, p) - p)); });
  return holds(obstacle.polygon, p) ? -least : least;
}

/// The flange of round i against all other bodies, none with a belt on.
void find_nearest(const Drive& drive, const Course& course, std::size_t i, Room& room) {
  const Pulley& pulley = pulley_at(drive, course, i);
  const Vec2 centre = course.rounds[i].centre;
  room.gap = kUnlimited;
  const auto hold = [&](PartId part, double from_centre, const Axial& axial) {
    const double gap = prism_gap(from_centre - pulley.body_radius(), axial_gap(pulley.axial, axial));
    if (gap >= room.gap) return;
    room.gap = gap;
    room.nearest = part;
  };
  for (std::size_t k = 0; k < course.size(); ++k) {
    if (k == i) continue;
    const Pulley& other = pulley_at(drive, course, k);
    hold({Kind::pulley, k}, plane::norm(course.rounds[k].centre - centre) - other.body_radius(), other.axial);
  }
  for (std::size_t k = 0; k < drive.obstacles.size(); ++k) {
    hold({Kind::obstacle, k}, to_obstacle(drive.obstacles[k], centre), drive.obstacles[k].axial);
  }
  if (!drive.tensioner || drive.tensioner->slides() || drive.tensioner->arm_half_width <= 0) return;
  const Piece arm{drive.tensioner->pivot, course.rounds[course.idler].centre};
  if (i != course.idler) {
    hold({Kind::arm, 0}, plane::norm(nearest_on(arm, centre) - centre) - drive.tensioner->arm_half_width,
         drive.tensioner->arm_axial);
  }
}

}  // namespace

std::vector<Room> belt_rooms(const Drive& drive, const Course& course) {
  Course slack = course;
  Route route;
  if (drive.tensioner) {
    const std::size_t t = slack.idler, before = slack.before(t), after = slack.next(t);
    const Swing swing(drive, course);
    Spot spot;
    if (!swing.at(swing.far_stop(), spot)) return {};
    slack.rounds[t].centre = spot.centre;
    if (!lay(slack.rounds, route)) return {};
    route.length = spot.length;
    route.wraps[before] = spot.wrap_before;
    route.wraps[after] = spot.wrap_after;
  } else if (!lay(slack.rounds, route)) {
    return {};
  }
  const Belt& belt = drive.belt;
  const double shortest = belt.effective_length.value - belt.shorter.value;
  std::vector<Room> rooms;
  for (std::size_t i = 0; i < slack.size(); ++i) {
    const Pulley& pulley = pulley_at(drive, slack, i);
    if (pulley.side != Side::ribs) continue;
    Room room;
    room.round = i;
    room.gap_needed = belt.height.value + drive.limits.room_over_height.value;
    find_nearest(drive, slack, i, room);
    const double climbs = pulley.body_radius() + belt.back() - pulley.radius;
    room.slack = shortest - (route.length + std::max(0.0, route.wraps[i]) / 2 * climbs);
    rooms.push_back(room);
  }
  return rooms;
}

const Room& fit_last(const std::vector<Room>& rooms) {
  require(!rooms.empty(), "fit_last: one room at least");
  const auto worse = [](const Room& a, const Room& b) {
    if (a.enough() != b.enough()) return b.enough();
    if (a.enough()) return a.slack < b.slack;
    const auto lacks = [](const Room& r) { return std::min(r.gap - r.gap_needed, r.slack); };
    return lacks(a) < lacks(b);
  };
  return *std::max_element(rooms.begin(), rooms.end(), worse);
}

double entry_angle(const Drive& drive, const Course& course, const Route& route, std::size_t span) {
  const double aside = pulley_at(drive, course, course.next(span)).plane - pulley_at(drive, course, span).plane;
  return atan2_of(std::abs(aside), route.spans[span].length);
}

}  // namespace groovewright::drive
