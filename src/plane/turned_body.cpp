// Everything here is a boundary integral: a body is what its section's edges sweep. With K(r) the integral of some
// density over the part of a cross-section that lies within radius r, the integral over the turned part is -∮ K(r) dz
// along the (counter-clockwise) section. For the body itself K is pi r²; for a slot it is the part of the slot's
// cross-section within r, so slots that cross curved faces need nothing more.
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"
#include "groovewright/plane.h"

namespace groovewright::plane {
namespace {

using std::numbers::pi;

// ---- integration ----

struct Node {
  double at, weight;
};
/// Half of the 10-point Gauss-Legendre rule on [-1, 1]; exact to degree 19. Source: Abramowitz & Stegun, table 25.4.
constexpr std::array<Node, 5> kGauss = {{{0.1488743389816312109, 0.2955242247147528702},
                                         {0.4333953941292471908, 0.2692667193099963551},
                                         {0.6794095682990244062, 0.2190863625159820440},
                                         {0.8650633666889845107, 0.1494513491505805931},
                                         {0.9739065285171717201, 0.0666713443086881376}}};
/// A panel is fine enough when halving it changes no more than this share of the scale of the whole: far below
/// kVolumeError, far above rounding. Never a share of the panel's own sum, which may be nothing but rounding.
constexpr double kPanelError = 1e-13;
/// Halvings towards a root-like end: 2^-40 of an edge is below kCoincident.
constexpr int kMaxHalvings = 40;

/// Sum of f and of |f| over one panel.
struct PanelSum {
  double value = 0, size = 0;
};

template <class F>
PanelSum panel(const F& f, double from, double to) {
  const double middle = (from + to) / 2, half = (to - from) / 2;
  PanelSum sum;
  for (const Node& n : kGauss) {
    const double before = f(middle - half * n.at), after = f(middle + half * n.at);
    sum.value += half * n.weight * (before + after);
    sum.size += half * n.weight * (std::abs(before) + std::abs(after));
  }
  return sum;
}

template <class F>
double refined(const F& f, double from, double to, double whole, double allowed, int halvings) {
  const double middle = (from + to) / 2;
  const double before = panel(f, from, middle).value, after = panel(f, middle, to).value;
  if (halvings == 0 || std::abs(before + after - whole) <= allowed) return before + after;
  return refined(f, from, middle, before, allowed, halvings - 1) + refined(f, middle, to, after, allowed, halvings - 1);
}

/// ∫ f from `from` to `to`: exact to rounding for polynomials up to degree 19, adaptive otherwise. `scale`: see
/// kPanelError.
template <class F>
double integral(const F& f, double from, double to, double scale) {
  return refined(f, from, to, panel(f, from, to).value, kPanelError * scale, kMaxHalvings);
}

// ---- an edge as a curve over t in [0, 1] ----

struct Travel {
  Vec2 at, speed;  ///< speed: derivative by t
};

class Curve {
 public:
  explicit Curve(const Edge& e) : edge_(e) {
    if (!e.is_arc()) return;
    radius_ = e.radius();
    start_ = atan2_of(e.a.y - e.centre.y, e.a.x - e.centre.x);
    sweep_ = e.sweep();
  }
  [[nodiscard]] const Edge& edge() const { return edge_; }
  [[nodiscard]] Travel travel(double t) const {
    if (!edge_.is_arc()) return {edge_.a + t * (edge_.b - edge_.a), edge_.b - edge_.a};
    const double angle = start_ + t * sweep_;
    const Vec2 out = radius_ * Vec2{cos_of(angle), sin_of(angle)};
    return {edge_.centre + out, sweep_ * Vec2{-out.y, out.x}};
  }
  /// Where the curve meets the line x = `x`, ends left out.
  void add_crossings_of_x(double x, std::vector<double>& ts) const {
    if (!edge_.is_arc()) return add_crossing_of_line(edge_.a.x, edge_.b.x, x, ts);
    add_angles((x - edge_.centre.x) / radius_, 0, ts);
  }
  /// Where the curve meets the line y = `y`, ends left out.
  void add_crossings_of_y(double y, std::vector<double>& ts) const {
    if (!edge_.is_arc()) return add_crossing_of_line(edge_.a.y, edge_.b.y, y, ts);
    add_angles((y - edge_.centre.y) / radius_, pi / 2, ts);
  }

 private:
  static void add_crossing_of_line(double a, double b, double level, std::vector<double>& ts) {
    if ((a < level && level < b) || (b < level && level < a)) ts.push_back((level - a) / (b - a));
  }
  /// The points at `middle` plus and minus the angle of this cosine.
  void add_angles(double cosine, double middle, std::vector<double>& ts) const {
    if (std::abs(cosine) > 1) return;
    for (const double aside : {acos_of(cosine), -acos_of(cosine)}) {
      double turned_by = std::fmod((middle + aside - start_) * (sweep_ > 0 ? 1 : -1), 2 * pi);
      if (turned_by < 0) turned_by += 2 * pi;
      if (turned_by > 0 && turned_by < std::abs(sweep_)) ts.push_back(turned_by / std::abs(sweep_));
    }
  }

  Edge edge_;
  double radius_ = 0, start_ = 0, sweep_ = 0;
};

/// ∮ f(Travel) dt along every edge.
template <class F>
double around(const Path& path, const F& f) {
  const auto over = [&f](const Curve& curve) { return [&f, &curve](double t) { return f(curve.travel(t)); }; };
  const std::vector<Curve> curves(path.begin(), path.end());
  double scale = 0, sum = 0;
  for (const Curve& c : curves) scale += panel(over(c), 0, 1).size;
  for (const Curve& c : curves) sum += integral(over(c), 0, 1, scale);
  return sum;
}

double cube(double v) { return v * v * v; }

void add(MassProperties& to, double share, const MassProperties& m) {
  to.volume += share * m.volume;
  to.polar_inertia += share * m.polar_inertia;
  to.surface += share * m.surface;
  to.x_moment += share * m.x_moment;
  to.y_moment += share * m.y_moment;
}

// Every `opening` below holds what its opening takes from the body; in `surface`: mouths less walls.

// ---- the turned part ----

MassProperties whole_part(const Path& section) {
  MassProperties m;
  m.volume = around(section, [](const Travel& t) { return -pi * t.at.y * t.at.y * t.speed.x; });
  m.polar_inertia = around(section, [](const Travel& t) { return -pi / 2 * t.at.y * cube(t.at.y) * t.speed.x; });
  m.surface = around(section, [](const Travel& t) { return 2 * pi * t.at.y * norm(t.speed); });
  return m;
}

// ---- round holes ----

MassProperties opening(const RoundHole& hole) {
  require(hole.profile.size() >= 2, "mass_properties: a hole's profile has two points at least");
  MassProperties m;
  double own_inertia = 0;
  for (std::size_t i = 0; i + 1 < hole.profile.size(); ++i) {
    const Vec2 p = hole.profile[i], q = hole.profile[i + 1];
    const double a = p.y, b = q.y, height = std::abs(q.x - p.x);
    m.volume += pi * height * (a * a + a * b + b * b) / 3;
    // a⁴ + a³b + a²b² + ab³ + b⁴
    const double ab = a * b, squares = a * a + b * b;
    own_inertia += pi / 2 * height * (squares * (squares + ab) - ab * ab) / 5;
    m.surface -= pi * (a + b) * norm(q - p);
  }
  const double mouth = hole.profile.front().y, end = hole.through ? hole.profile.back().y : 0;
  m.surface += pi * (mouth * mouth + end * end);
  m.polar_inertia = own_inertia + dot(hole.at, hole.at) * m.volume;
  m.x_moment = hole.at.x * m.volume;
  m.y_moment = hole.at.y * m.volume;
  return m;
}

// ---- pockets ----

/// The loop at the fraction k of the way from one level to the next.
Path between(const Path& from, const Path& to, double k) {
  Path loop = from;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    loop[i].a = loop[i].a + k * (to[i].a - from[i].a);
    loop[i].b = loop[i].b + k * (to[i].b - from[i].b);
    loop[i].centre = loop[i].centre + k * (to[i].centre - from[i].centre);
  }
  return loop;
}

/// Green's theorem for the flat figure inside a loop: its area stands in `volume`, and so on.
MassProperties figure(const Path& loop) {
  MassProperties m;
  m.volume = area(loop);
  m.polar_inertia =
      around(loop, [](const Travel& t) { return (cube(t.at.x) * t.speed.y - cube(t.at.y) * t.speed.x) / 3; });
  m.x_moment = around(loop, [](const Travel& t) { return t.at.x * t.at.x * t.speed.y / 2; });
  m.y_moment = around(loop, [](const Travel& t) { return -t.at.y * t.at.y * t.speed.x / 2; });
  return m;
}

/// Sideways distance between matching edges: parallel lines or concentric arcs.
double shift(const Edge& e, const Edge& f) {
  if (e.is_arc()) return std::abs(e.radius() - f.radius());
  const Edge& longer = e.length() > f.length() ? e : f;  // the other may end in a point
  return std::abs(cross(unit(longer.b - longer.a), f.a - e.a));
}

/// The wall between two levels: trapezia and pieces of cones, both mean length times slant.
double wall(const Level& from, const Level& to) {
  double sum = 0;
  for (std::size_t i = 0; i < from.loop.size(); ++i) {
    const Edge &e = from.loop[i], &f = to.loop[i];
    sum += (e.length() + f.length()) / 2 * length_of(to.z - from.z, shift(e, f));
  }
  return sum;
}

/// Three Gauss points are exact: lengths are linear in z, areas of degree 2, the inertia of degree 4.
MassProperties between_levels(const Level& from, const Level& to) {
  require(from.loop.size() == to.loop.size(), "mass_properties: a pocket's levels match edge by edge");
  constexpr double kAside = 0.77459666924148337704;  // sqrt(3/5)
  MassProperties m;
  for (const Node n : {Node{-kAside, 5.0 / 18}, Node{0, 8.0 / 18}, Node{kAside, 5.0 / 18}}) {
    add(m, n.weight * std::abs(to.z - from.z), figure(between(from.loop, to.loop, (1 + n.at) / 2)));
  }
  m.surface = -wall(from, to);
  return m;
}

MassProperties opening(const Pocket& pocket) {
  require(pocket.levels.size() >= 2, "mass_properties: a pocket has two levels at least");
  MassProperties m;
  for (std::size_t i = 0; i + 1 < pocket.levels.size(); ++i)
    add(m, 1, between_levels(pocket.levels[i], pocket.levels[i + 1]));
  const double end = area(pocket.levels.back().loop);
  m.surface += area(pocket.levels.front().loop) + (pocket.through ? end : -end);
  return m;
}

// ---- slots ----

/// Integrals over the part of the strip |across| <= half, 0 < along <= reach within radius r.
struct Strip {
  double half, reach;

  /// Up to this distance across, the end of the strip bounds; from there on, the circle.
  [[nodiscard]] double end_bounds_to(double r) const { return std::min(half, root(r, reach)); }
  [[nodiscard]] double circle_bounds_to(double r) const { return std::min(half, r); }
  static double root(double r, double leg) { return r > leg ? std::sqrt((r - leg) * (r + leg)) : 0; }
  static double angle(double across, double r) { return r > 0 ? asin_of(std::min(1.0, across / r)) : 0; }

  [[nodiscard]] double area(double r) const {
    const auto circle = [r](double v) { return (v * root(r, v) + r * r * angle(v, r)) / 2; };
    const double v = end_bounds_to(r);
    return 2 * (end_part(v, reach) + circle(circle_bounds_to(r)) - circle(v));
  }
  /// ∫ r² dA
  [[nodiscard]] double polar(double r) const {
    const auto circle = [r](double v) {
      const double a = angle(v, r);
      return r * r * r * r * (a / 4 + sin_of(2 * a) / 12 - sin_of(4 * a) / 48);
    };
    const double v = end_bounds_to(r);
    const double end = end_part(v, (reach * reach + v * v) * reach / 3);
    return 2 * (end + circle(circle_bounds_to(r)) - circle(v));
  }
  /// ∫ along dA
  [[nodiscard]] double first(double r) const {
    const auto circle = [r](double v) { return v * (r * r - v * v / 3) / 2; };
    const double v = end_bounds_to(r);
    return 2 * (end_part(v, reach * reach / 2) + circle(circle_bounds_to(r)) - circle(v));
  }
  /// Length of both side walls within r.
  [[nodiscard]] double sides(double r) const { return 2 * std::min(reach, root(r, half)); }
  /// Length of the circle of radius r that lies in the strip.
  [[nodiscard]] double arc(double r) const {
    const double inner = r > reach ? acos_of(reach / r) : 0;
    return 2 * r * std::max(0.0, angle(circle_bounds_to(r), r) - inner);
  }

 private:
  /// An endless strip has no end, and no inf * 0.
  static double end_part(double across, double mean) { return across > 0 ? across * mean : 0; }
};

/// A slot's cross-section, asked for what lies within radius r.
class SlotShape {
 public:
  explicit SlotShape(const Slot& s)
      : strip_{s.width / 2, s.inward ? s.floor : std::numeric_limits<double>::infinity()},
        floor_(s.floor),
        inward_(s.inward) {}

  [[nodiscard]] double area(double r) const { return beyond_floor(&Strip::area, r); }
  [[nodiscard]] double polar(double r) const { return beyond_floor(&Strip::polar, r); }
  [[nodiscard]] double first(double r) const { return beyond_floor(&Strip::first, r); }
  /// Length of sides and floor within r.
  [[nodiscard]] double outline(double r) const { return beyond_floor(&Strip::sides, r) + floor_length(r); }
  /// Length of the circle of radius r that lies in the slot.
  [[nodiscard]] double arc(double r) const { return inward_ || reached(r) ? strip_.arc(r) : 0; }
  /// Radii at which the functions above have kinks.
  [[nodiscard]] std::array<double, 3> kinks() const {
    return {floor_, strip_.half, inward_ ? length_of(floor_, strip_.half) : floor_ + kCoincident};
  }

 private:
  /// A land flush with an outward floor is not cut.
  [[nodiscard]] bool reached(double r) const { return r > floor_ + kCoincident; }
  [[nodiscard]] double beyond_floor(double (Strip::*within)(double) const, double r) const {
    if (inward_) return (strip_.*within)(r);
    return r > floor_ ? (strip_.*within)(r) - (strip_.*within)(floor_) : 0;
  }
  [[nodiscard]] double floor_length(double r) const {
    if (inward_) return 2 * std::min(strip_.half, Strip::root(r, floor_));
    return reached(r) ? strip_.arc(floor_) : 0;
  }

  Strip strip_;
  double floor_;
  bool inward_;
};

/// A piece of a section's edge without kinks.
struct Piece {
  Curve curve;
  double from, to;

  template <class F>
  [[nodiscard]] double integral_of(const F& f, double scale) const {
    return integral([&](double t) { return f(curve.travel(t)); }, from, to, scale);
  }
};

/// A wall square to the axis at z.
bool is_wall_at(const Edge& e, double z) {
  return !e.is_arc() && std::abs(e.a.x - z) <= kCoincident && std::abs(e.b.x - z) <= kCoincident;
}

/// True where the slot takes this piece's face away. A wall at the slot's end goes only if its metal lies in the slot.
bool is_within(const Piece& p, const Slot& s) {
  const Edge& e = p.curve.edge();
  if (is_wall_at(e, s.z0)) return e.b.y < e.a.y;
  if (is_wall_at(e, s.z1)) return e.b.y > e.a.y;
  const double z = p.curve.travel((p.from + p.to) / 2).at.x;
  return s.z0 < z && z < s.z1;
}

std::vector<Piece> pieces_within(const Path& section, const Slot& s, const SlotShape& shape) {
  std::vector<Piece> pieces;
  for (const Edge& e : section) {
    const Curve curve(e);
    std::vector<double> cuts = {0, 1};
    for (const double z : {s.z0, s.z1}) curve.add_crossings_of_x(z, cuts);
    for (const double r : shape.kinks()) curve.add_crossings_of_y(r, cuts);
    std::sort(cuts.begin(), cuts.end());
    for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
      const Piece piece{curve, cuts[i], cuts[i + 1]};
      if (cuts[i] < cuts[i + 1] && is_within(piece, s)) pieces.push_back(piece);
    }
  }
  return pieces;
}

/// Area of the slot's cross-section that is metal at z.
double metal_at(const Path& section, double z, const SlotShape& shape) {
  double sum = 0;
  for (const Edge& e : section) {
    const Curve curve(e);
    std::vector<double> ts;
    curve.add_crossings_of_x(z, ts);
    for (const double t : ts) {
      const Travel at = curve.travel(t);
      sum += at.speed.x < 0 ? shape.area(at.at.y) : -shape.area(at.at.y);
    }
  }
  return sum;
}

/// Size of the cylinder that holds the turned part: the scale of all that a slot can take from it.
struct Bulk {
  double radius = 0, length = 0;
};

Bulk bulk_of(const Path& section) {
  double z0 = std::numeric_limits<double>::infinity(), z1 = -z0, radius = 0;
  for (const Edge& e : section)
    for (const Vec2 p : {e.a, e.at(0.5), e.b}) {
      z0 = std::min(z0, p.x);
      z1 = std::max(z1, p.x);
      radius = std::max(radius, p.y);
    }
  return {radius, z1 - z0};
}

/// The slot taken as lying along +x.
MassProperties opening_along_x(const Slot& s, const Path& section) {
  require(s.width > 0 && s.floor > 0 && s.z0 < s.z1, "mass_properties: a slot has a width, a floor and a length");
  const SlotShape shape(s);
  const Bulk bulk = bulk_of(section);
  const double surface = bulk.radius * bulk.length, volume = surface * bulk.radius;
  MassProperties m;
  const auto over_z = [](const auto& within) {
    return [&within](const Travel& t) { return -within(t.at.y) * t.speed.x; };
  };
  const auto area_of = [&](double r) { return shape.area(r); };
  const auto polar_of = [&](double r) { return shape.polar(r); };
  const auto first_of = [&](double r) { return shape.first(r); };
  const auto outline_of = [&](double r) { return shape.outline(r); };
  for (const Piece& p : pieces_within(section, s, shape)) {
    m.volume += p.integral_of(over_z(area_of), volume);
    m.polar_inertia += p.integral_of(over_z(polar_of), volume * bulk.radius * bulk.radius);
    m.x_moment += p.integral_of(over_z(first_of), volume * bulk.radius);
    const double faces_gone =
        p.integral_of([&](const Travel& t) { return shape.arc(t.at.y) * norm(t.speed); }, surface);
    m.surface += faces_gone - p.integral_of(over_z(outline_of), surface);
    // Where a wall ends with the slot there is no metal beyond it for an end face to stand in.
    const Edge& e = p.curve.edge();
    if (is_wall_at(e, s.z0) || is_wall_at(e, s.z1)) m.surface += faces_gone;
  }
  // End faces: looked at from just inside, where walls at the very end no longer blur the view.
  m.surface -= metal_at(section, s.z0 + kCoincident, shape) + metal_at(section, s.z1 - kCoincident, shape);
  return m;
}

MassProperties turned_to(MassProperties m, double angle) {
  const double along = m.x_moment;
  m.x_moment = along * cos_of(angle);
  m.y_moment = along * sin_of(angle);
  return m;
}

bool same_but_for_angle(const Slot& s, const Slot& t) {
  return s.width == t.width && s.floor == t.floor && s.inward == t.inward && s.z0 == t.z0 && s.z1 == t.z1;
}

}  // namespace

MassProperties mass_properties(const TurnedBody& body) {
  require(is_closed(body.section), "mass_properties: the section is open");
  MassProperties m = whole_part(body.section);
  for (const RoundHole& hole : body.holes) add(m, -1, opening(hole));
  for (const Pocket& pocket : body.pockets) add(m, -1, opening(pocket));
  MassProperties last;
  for (std::size_t i = 0; i < body.slots.size(); ++i) {
    // Tooth gaps come by the dozen and differ in their angle only.
    if (i == 0 || !same_but_for_angle(body.slots[i], body.slots[i - 1]))
      last = opening_along_x(body.slots[i], body.section);
    add(m, -1, turned_to(last, body.slots[i].angle));
  }
  return m;
}

double widest(const RoundHole& hole) {
  double r = 0;
  for (const Vec2& p : hole.profile) r = std::max(r, p.y);
  return r;
}

}  // namespace groovewright::plane
