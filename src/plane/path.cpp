#include "groovewright/plane.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"

namespace groovewright::plane {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;
/// Finer meshes than this are a slip of units.
constexpr double kMaxArcSteps = 1e7;
/// No arc step is wider than a twelfth of a turn, whatever the deflection: small rounds still look round.
constexpr double kFewestStepsPerTurn = 12;
/// Sines nearer to 0 than this come from rounding of the angle alone, so quarter turns land exactly on the axes.
constexpr double kRoundingOfSine = 1e-15;

Vec2 left_of(Vec2 v) { return {-v.y, v.x}; }

Vec2 rotated(Vec2 v, double rad) {
  const auto snapped = [](double s) { return std::abs(s) < kRoundingOfSine ? 0.0 : s; };
  const double c = snapped(cos_of(rad)), s = snapped(sin_of(rad));
  return {c * v.x - s * v.y, s * v.x + c * v.y};
}

/// Angle from `from` to `to` going the edge's way, in (0, 2 pi].
double angle_along(Vec2 from, Vec2 to, Edge::Turn turn) {
  const double ccw = atan2_of(cross(from, to), dot(from, to));
  const double angle = turn == Edge::Turn::ccw ? ccw : -ccw;
  return angle > 0 ? angle : angle + kTurn;
}

/// True when the ray from the centre through `p` meets the arc.
bool faces(const Edge& arc, Vec2 p) {
  if (arc.is_full_circle()) return true;
  return angle_along(arc.a - arc.centre, p - arc.centre, arc.turn) <= std::abs(arc.sweep());
}

double distance(Vec2 p, const Edge& e) {
  const double to_ends = std::min(norm(p - e.a), norm(p - e.b));
  if (e.is_arc()) return faces(e, p) ? std::min(to_ends, std::abs(norm(p - e.centre) - e.radius())) : to_ends;
  const Vec2 along = e.b - e.a;
  const double t = dot(p - e.a, along), whole = dot(along, along);
  return t > 0 && t < whole ? std::abs(cross(along, p - e.a)) / std::sqrt(whole) : to_ends;
}

/// The foot of the perpendicular from `p` on a line's carrier.
Vec2 foot_on(const Edge& line, Vec2 p) {
  const Vec2 along = line.b - line.a;
  return line.a + (dot(p - line.a, along) / dot(along, along)) * along;
}

bool between_ends(const Edge& line, Vec2 p) {
  const Vec2 along = line.b - line.a;
  const double t = dot(p - line.a, along);
  return t >= 0 && t <= dot(along, along);
}

bool on_carrier_holds(const Edge& e, Vec2 p) { return e.is_arc() ? faces(e, p) : between_ends(e, p); }

bool lines_cross(const Edge& e, const Edge& f) {
  const auto apart = [](const Edge& line, Vec2 p, Vec2 q) {
    const Vec2 along = line.b - line.a;
    return cross(along, p - line.a) * cross(along, q - line.a) < 0;
  };
  // Far apart on one carrier, rounding alone puts ends on different sides.
  const auto meet = [&](double Vec2::*c) {
    return std::max(e.a.*c, e.b.*c) >= std::min(f.a.*c, f.b.*c) && std::max(f.a.*c, f.b.*c) >= std::min(e.a.*c, e.b.*c);
  };
  return meet(&Vec2::x) && meet(&Vec2::y) && apart(e, f.a, f.b) && apart(f, e.a, e.b);
}

bool either_is_on_both(Vec2 middle, Vec2 aside, const Edge& e, const Edge& f) {
  const auto on_both = [&](Vec2 p) { return on_carrier_holds(e, p) && on_carrier_holds(f, p); };
  return on_both(middle + aside) || on_both(middle - aside);
}

bool line_crosses_arc(const Edge& line, const Edge& arc) {
  const Vec2 foot = foot_on(line, arc.centre);
  const double r = arc.radius(), off = norm(foot - arc.centre);
  if (off >= r) return false;
  return either_is_on_both(foot, std::sqrt((r - off) * (r + off)) * unit(line.b - line.a), line, arc);
}

bool arcs_cross(const Edge& e, const Edge& f) {
  const Vec2 apart = f.centre - e.centre;
  const double d = norm(apart), r = e.radius(), s = f.radius();
  if (d <= kCoincident || d >= r + s || d <= std::abs(r - s)) return false;
  const double along = (d * d + (r - s) * (r + s)) / (2 * d);
  const double aside = std::sqrt(std::max(0.0, (r - along) * (r + along)));
  const Vec2 u = unit(apart);
  return either_is_on_both(e.centre + along * u, aside * left_of(u), e, f);
}

bool edges_cross(const Edge& e, const Edge& f) {
  if (e.is_arc() && f.is_arc()) return arcs_cross(e, f);
  if (e.is_arc()) return line_crosses_arc(f, e);
  return f.is_arc() ? line_crosses_arc(e, f) : lines_cross(e, f);
}

/// Where a common normal of both edges can stand on `e`. Parallel lines and concentric arcs add nothing to their ends.
std::vector<Vec2> common_normal_feet(const Edge& e, const Edge& f) {
  if (!f.is_arc()) return {};
  if (!e.is_arc()) return {foot_on(e, f.centre)};
  const Vec2 apart = f.centre - e.centre;
  if (norm(apart) <= kCoincident) return {};
  const Vec2 reach = e.radius() * unit(apart);
  return {e.centre + reach, e.centre - reach};
}

double distance(const Edge& e, const Edge& f) {
  if (edges_cross(e, f)) return 0;
  double least = std::min({distance(e.a, f), distance(e.b, f), distance(f.a, e), distance(f.b, e)});
  for (const Vec2 p : common_normal_feet(e, f))
    if (on_carrier_holds(e, p)) least = std::min(least, distance(p, f));
  for (const Vec2 p : common_normal_feet(f, e))
    if (on_carrier_holds(f, p)) least = std::min(least, distance(p, e));
  return least;
}

/// The side of the chord a -> b on which `p` counts. The ray of `chord_crossing` passes just above level corners, so a
/// point on a level chord counts as above it; on others either side will do, so long as chord and arc agree.
bool is_left_of_chord(const Edge& e, Vec2 p) {
  const double side = cross(e.b - e.a, p - e.a);
  return side > 0 || (side == 0 && e.b.y == e.a.y && e.b.x > e.a.x);
}

/// What the chord adds to the winding number: its crossings of the ray from p to +x, the lower end included.
int chord_crossing(const Edge& e, Vec2 p) {
  const bool left = is_left_of_chord(e, p);
  if (e.a.y <= p.y && p.y < e.b.y) return left ? 1 : 0;
  if (e.b.y <= p.y && p.y < e.a.y) return left ? 0 : -1;
  return 0;
}

/// What the bow between arc and chord adds to the winding number.
int bow_winding(const Edge& e, Vec2 p) {
  if (!e.is_arc() || norm(p - e.centre) >= e.radius()) return 0;
  const bool ccw = e.turn == Edge::Turn::ccw;
  if (!e.is_full_circle() && is_left_of_chord(e, p) == ccw) return 0;
  return ccw ? 1 : -1;
}

// ---- broken_polygon ----

/// A corner with what the breaking needs: directions of travel before and after it, and how far the break reaches.
struct Bend {
  Corner corner;
  int index = 0;  ///< of the corner
  int side = 0;   ///< of the side that follows; another than `index` where corners were merged
  Vec2 before, after;
  double setback = 0;  ///< from the corner along both sides

  [[nodiscard]] Vec2 entry() const { return corner.at - setback * before; }
  [[nodiscard]] Vec2 exit() const { return corner.at + setback * after; }
};

bool is_broken(const Corner& c) { return c.fillet > 0 || c.chamfer > 0; }

/// tan of half the angle turned, without trigonometry: exactly 1 at a square corner. Infinite at a turn back.
double half_turn_tangent(Vec2 before, Vec2 after) {
  const double across = std::abs(cross(before, after)), along = dot(before, after);
  return along >= 0 ? across / (1 + along) : (1 - along) / across;
}

/// The corners with those that coincide with the one before them merged into it. nullopt (and `misfit`) where both of a
/// pair are broken: a side of no length has no room.
std::optional<std::vector<Bend>> distinct_bends(const std::vector<Corner>& corners, int* misfit) {
  std::vector<Bend> bends;
  const auto merge = [&](Bend& into, const Corner& gone, int gone_index, int side) {
    if (!is_broken(gone)) return true;
    if (is_broken(into.corner)) {
      if (misfit) *misfit = side;
      return false;
    }
    into.corner.fillet = gone.fillet;
    into.corner.chamfer = gone.chamfer;
    into.index = gone_index;
    return true;
  };
  for (int i = 0; const Corner& c : corners) {
    require(c.fillet >= 0 && c.chamfer >= 0, "broken_polygon: a break has no negative size");
    require(c.fillet == 0 || c.chamfer == 0, "broken_polygon: a corner is rounded or cut, not both");
    if (!bends.empty() && norm(c.at - bends.back().corner.at) <= kCoincident) {
      if (!merge(bends.back(), c, i, i - 1)) return std::nullopt;
      bends.back().side = i;
    } else {
      bends.push_back({c, i, i, {}, {}, 0});
    }
    ++i;
  }
  if (bends.size() > 1 && norm(bends.back().corner.at - bends.front().corner.at) <= kCoincident) {
    const Bend& last = bends.back();
    if (!merge(bends.front(), last.corner, last.index, last.side)) return std::nullopt;
    bends.pop_back();
  }
  return bends;
}

void settle(Bend& b, Vec2 before, Vec2 after) {
  b.before = before;
  b.after = after;
  b.setback = b.corner.fillet > 0 ? b.corner.fillet * half_turn_tangent(before, after) : b.corner.chamfer;
  if (norm(b.exit() - b.entry()) <= kCoincident) b.setback = 0;  // a straight corner, or a break of no size
}

/// Centre of a fillet, taken from the side along an axis where there is one, so that its tangent point stays exact.
Vec2 fillet_centre(const Bend& b) {
  const double r = cross(b.before, b.after) > 0 ? b.corner.fillet : -b.corner.fillet;
  const auto along_axis = [](Vec2 v) { return v.x == 0 || v.y == 0; };
  if (along_axis(b.after) && !along_axis(b.before)) return b.exit() + r * left_of(b.after);
  return b.entry() + r * left_of(b.before);
}

Edge break_edge(const Bend& b, Vec2 from, Vec2 to) {
  if (!(b.corner.fillet > 0)) return {from, to, Edge::Turn::straight, {}};
  const bool ccw = cross(b.before, b.after) > 0;
  return {from, to, ccw ? Edge::Turn::ccw : Edge::Turn::cw, fillet_centre(b)};
}

/// What is left of a side between two breaks; both ends are one point where nothing is left.
struct Rest {
  Vec2 from, to;
  bool vanished = false;
};

/// nullopt where the breaks need more than the side has.
std::optional<Rest> rest_of_side(const Bend& start, const Bend& end) {
  const double rest = norm(end.corner.at - start.corner.at) - start.setback - end.setback;
  if (!(rest >= -kCoincident)) return std::nullopt;
  if (rest > kCoincident) return Rest{start.exit(), end.entry(), false};
  // Halving an exact sum of equals is exact, so a side along an axis keeps its coordinate.
  const Vec2 shared = 0.5 * (start.exit() + end.entry());
  return Rest{shared, shared, true};
}

}  // namespace

double norm(Vec2 v) { return length_of(v.x, v.y); }

Vec2 unit(Vec2 v) {
  const double n = norm(v);
  require(n > kCoincident, "unit: the vector has no direction");
  return {v.x / n, v.y / n};
}

double Edge::radius() const {
  require(is_arc(), "Edge::radius: a line has none");
  return norm(a - centre);
}

double Edge::sweep() const {
  if (!is_arc()) return 0;
  const double angle = is_full_circle() ? kTurn : angle_along(a - centre, b - centre, turn);
  return turn == Turn::ccw ? angle : -angle;
}

double Edge::length() const { return is_arc() ? radius() * std::abs(sweep()) : norm(b - a); }

Vec2 Edge::at(double t) const {
  if (t <= 0) return a;
  if (t >= 1) return b;
  return is_arc() ? centre + rotated(a - centre, t * sweep()) : a + t * (b - a);
}

Vec2 Edge::tangent_at(double t) const {
  if (!is_arc()) return unit(b - a);
  const Vec2 out = unit(at(t) - centre);
  return turn == Turn::ccw ? left_of(out) : -1.0 * left_of(out);
}

Vec2 polar(double radius, double rad) { return {radius * cos_of(rad), radius * sin_of(rad)}; }

Edge straight(Vec2 a, Vec2 b) { return {a, b, Edge::Turn::straight, {}}; }

Edge Edge::reversed() const {
  const Turn back = turn == Turn::straight ? turn : turn == Turn::ccw ? Turn::cw : Turn::ccw;
  return {b, a, back, centre};
}

bool is_closed(const Path& p) {
  if (p.empty()) return false;
  for (std::size_t i = 0; i < p.size(); ++i)
    if (norm(p[i].b - p[(i + 1) % p.size()].a) > kCoincident) return false;
  return true;
}

double area(const Path& p) {
  require(is_closed(p), "area: the path is open");
  const Vec2 from = p.front().a;  // near the path, so that a far-away origin costs no digits
  double twice = 0;
  for (const Edge& e : p) {
    twice += cross(e.a - from, e.b - from);
    if (e.is_arc()) twice += e.radius() * e.radius() * (e.sweep() - sin_of(e.sweep()));
  }
  return twice / 2;
}

double outermost(const Path& p) {
  double y = 0;
  for (const Edge& e : p) y = std::max({y, e.a.y, e.b.y});
  return y;
}

Path circle(Vec2 centre, double radius) {
  require(radius > kCoincident, "circle: the radius is nothing");
  const Vec2 start = centre + Vec2{radius, 0};
  return {{start, start, Edge::Turn::ccw, centre}};
}

Path turned(const Path& p, double rad) {
  Path out = p;
  for (Edge& e : out) {
    e.a = rotated(e.a, rad);
    e.b = rotated(e.b, rad);
    e.centre = rotated(e.centre, rad);
  }
  return out;
}

std::optional<std::vector<BrokenEdge>> broken_polygon(const std::vector<Corner>& corners, int* misfit) {
  std::optional<std::vector<Bend>> bends = distinct_bends(corners, misfit);
  if (!bends) return std::nullopt;
  const std::size_t n = bends->size();
  require(n >= 3, "broken_polygon: fewer than three corners");
  const auto bend = [&](std::size_t i) -> Bend& { return (*bends)[i % n]; };
  const auto direction = [&](std::size_t i) { return unit(bend(i + 1).corner.at - bend(i).corner.at); };
  for (std::size_t i = 0; i < n; ++i) settle(bend(i), direction(i + n - 1), direction(i));

  std::vector<Rest> rests;
  for (std::size_t i = 0; i < n; ++i) {
    const std::optional<Rest> rest = rest_of_side(bend(i), bend(i + 1));
    if (!rest) {
      if (misfit) *misfit = bend(i).side;
      return std::nullopt;
    }
    rests.push_back(*rest);
  }
  std::vector<BrokenEdge> out;
  for (std::size_t i = 0; i < n; ++i) {
    const Bend& b = bend(i);
    if (b.setback > 0) out.push_back({break_edge(b, rests[(i + n - 1) % n].to, rests[i].from), b.index, true});
    if (!rests[i].vanished) out.push_back({{rests[i].from, rests[i].to, Edge::Turn::straight, {}}, b.side, false});
  }
  return out;
}

int arc_steps(double radius, double sweep, double deflection) {
  require(deflection > 0 && radius >= 0, "arc_steps: needs a deflection and a radius");
  const double turned_by = std::abs(sweep);
  // r (1 - cos(step/2)) = 2 r sin²(step/4), which keeps its digits where 1 - cos would lose them.
  const double sine = std::sqrt(std::min(1.0, deflection / (2 * std::max(radius, deflection))));
  const double for_error = std::ceil(turned_by / (4 * asin_of(sine)));
  const double for_looks = std::ceil(turned_by * kFewestStepsPerTurn / kTurn - 1e-9);
  const double steps = std::max({1.0, for_error, for_looks});
  require(steps <= kMaxArcSteps, "arc_steps: the deflection is far too fine");
  return static_cast<int>(steps);
}

std::vector<Vec2> polyline(const Path& p, double deflection) {
  std::vector<Vec2> points;
  for (const Edge& e : p) {
    const int steps = e.is_arc() ? arc_steps(e.radius(), e.sweep(), deflection) : 1;
    for (int k = 0; k < steps; ++k) points.push_back(e.at(static_cast<double>(k) / steps));
  }
  if (!p.empty() && !is_closed(p)) points.push_back(p.back().b);
  return points;
}

double distance(const Path& a, const Path& b) {
  double least = std::numeric_limits<double>::infinity();
  for (const Edge& e : a)
    for (const Edge& f : b) least = std::min(least, distance(e, f));
  return least;
}

double distance(Vec2 p, const Path& path) {
  double least = std::numeric_limits<double>::infinity();
  for (const Edge& e : path) least = std::min(least, distance(p, e));
  return least;
}

bool contains(const Path& closed, Vec2 p) {
  int winding = 0;
  for (const Edge& e : closed) winding += chord_crossing(e, p) + bow_winding(e, p);
  return winding != 0;
}

}  // namespace groovewright::plane
