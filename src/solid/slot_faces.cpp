// The faces that slots leave and make. In the half plane a slot's side looks like the section itself: the point at
// radius r lies at sqrt(r² - h²) along a side that stands h off the axis.
#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numbers>

#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_BSplineCurve.hxx>
#include <Geom2d_Line.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_Circle.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Hyperbola.hxx>
#include <Geom_Plane.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_DataMapOfShapeInteger.hxx>
#include <TopoDS.hxx>

#include "groovewright/base/broken.h"
#include "groovewright/base/trig.h"
#include "slots.h"

namespace groovewright::solid {
namespace {

using plane::Edge;
using plane::Path;
using plane::Slot;
using plane::Vec2;
constexpr double kTurn = 2 * std::numbers::pi;

double whole_turns_off(double angle) { return angle - kTurn * std::floor(angle / kTurn); }

bool is_flat(const Edge& e) { return !e.is_arc() && e.a.x == e.b.x; }

/// How a face about the axis is measured: U by the angle from the seam, V by the way along the section's edge.
struct Grid {
  Handle(Geom_Surface) surface = {};  ///< none where it is flat: such faces need no curves of their own
  double u0 = 0, du = 1;              ///< U at the seam, and its sense
  double v0 = 0, dv = 0;              ///< V at the edge's start, and what it grows by to the end
  double turn_on = 0;                 ///< angles short of this count a turn later: their sector began behind the seam
  [[nodiscard]] double u(double angle) const { return u0 + du * (angle + (angle < turn_on ? kTurn : 0)); }
  [[nodiscard]] double v(double t) const { return v0 + dv * t; }

  void draw(const TopoDS_Edge& e, const Handle(Geom2d_Curve) & curve) const {
    BRep_Builder().UpdateEdge(e, curve, surface, TopLoc_Location(), kTolerance);
  }
  /// For an edge whose parameter is the angle from the seam; it begins at `from`.
  void draw_round(const TopoDS_Edge& e, double from, double t) const {
    if (surface.IsNull()) return;
    draw(e, new Geom2d_Line(gp_Pnt2d(u(from) - du * from, v(t)), gp_Dir2d(du, 0)));
  }
};

/// A full turn of one of the section's edges, with curves for its unbroken circles.
struct Turned {
  TopoDS_Face face;
  Grid grid;
};

Turned turned(const Edge& e, const Ring& a, const Ring& b) {
  Turned t{turn({0, 0}, e, a, b), {}};
  if (is_flat(e) || a.on_axis() || b.on_axis()) return t;
  double first = 0, last = 0;
  const auto line_of = [&](const Ring& r) {
    return Handle(Geom2d_Line)::DownCast(BRep_Tool::CurveOnSurface(r.circle, t.face, first, last));
  };
  const Handle(Geom2d_Line) at_a = line_of(a), at_b = line_of(b);
  t.grid = {.surface = BRep_Tool::Surface(t.face),
            .u0 = at_a->Location().X(),
            .du = at_a->Direction().X(),
            .v0 = at_a->Location().Y(),
            .dv = at_b->Location().Y() - at_a->Location().Y()};
  return t;
}

// ---- curves where a side crosses a cone or a torus ----

/// A point x, y, z and its place u, v on the crossed face, and how fast they change.
struct Motion {
  std::array<double, 5> at{}, speed{};
};

/// Cubic pieces of equal span through `motion` from `first` to `last`.
class Spline {
 public:
  /// Enough pieces to be well within the kernel's tolerance; a unit of u, v is worth `u_mm`, `v_mm`.
  Spline(const std::function<Motion(double)>& motion, double first, double last, double u_mm, double v_mm)
      : first_(first) {
    constexpr double kOff = kTolerance / 4;
    constexpr int kMost = 512;
    for (int n = 1;;) {
      step_ = (last - first) / n;
      knots_.clear();
      for (int i = 0; i <= n; ++i) knots_.push_back(motion(i < n ? first + i * step_ : last));
      const double off = farthest_off(motion, {1, 1, 1, u_mm, v_mm});
      if (off <= kOff || n >= kMost) return;
      // What a cubic is off shrinks with the fourth power of its span.
      n = std::min({2 * n, kMost, std::max(n + 1, static_cast<int>(n * std::sqrt(std::sqrt(off / kOff))))});
    }
  }

  [[nodiscard]] Handle(Geom_Curve) in_space() const {
    return made<Geom_BSplineCurve, TColgp_Array1OfPnt>(
        [](const std::array<double, 5>& p) { return gp_Pnt(p[0], p[1], p[2]); });
  }
  [[nodiscard]] Handle(Geom2d_Curve) on_face() const {
    return made<Geom2d_BSplineCurve, TColgp_Array1OfPnt2d>(
        [](const std::array<double, 5>& p) { return gp_Pnt2d(p[3], p[4]); });
  }

 private:
  /// In the middle of the pieces, where they are worst.
  [[nodiscard]] double farthest_off(const std::function<Motion(double)>& motion,
                                    const std::array<double, 5>& weights) const {
    double off = 0;
    for (std::size_t i = 0; i + 1 < knots_.size(); ++i) {
      const Motion &p = knots_[i], &q = knots_[i + 1], due = motion(first_ + (static_cast<double>(i) + 0.5) * step_);
      for (std::size_t k = 0; k < weights.size(); ++k) {
        const double middle = (p.at[k] + q.at[k]) / 2 + (p.speed[k] - q.speed[k]) * step_ / 8;
        off = std::max(off, weights[k] * std::abs(middle - due.at[k]));
      }
    }
    return off;
  }

  template <class Curve, class Poles, class ToPoint>
  [[nodiscard]] opencascade::handle<Curve> made(const ToPoint& point) const {
    const int n = static_cast<int>(knots_.size());
    Poles poles(1, 2 * n);
    TColStd_Array1OfReal parameters(1, n);
    TColStd_Array1OfInteger multiplicities(1, n);
    for (int i = 1; i <= n; ++i) {
      const Motion& knot = knots_[static_cast<std::size_t>(i) - 1];
      const auto shifted = [&](double by) {
        std::array<double, 5> p = knot.at;
        for (std::size_t k = 0; k < p.size(); ++k) p[k] += by * knot.speed[k];
        return point(p);
      };
      poles(2 * i - 1) = shifted(i == 1 ? 0 : -step_ / 3);
      poles(2 * i) = shifted(i == n ? 0 : step_ / 3);
      parameters(i) = first_ + (i - 1) * step_;
      multiplicities(i) = i == 1 || i == n ? 4 : 2;
    }
    return new Curve(poles, parameters, multiplicities, 3);
  }

  double first_ = 0, step_ = 0;
  std::vector<Motion> knots_;
};

/// A bite with vertices and edges. Pairs: at the lower angle and at the higher one.
class BittenOut {
 public:
  BittenOut(const Bite& bite, const Slot& slot, const gp_Dir& seam, double seam_angle)
      : bite_(bite),
        slot_(slot),
        half_(slot.width / 2),
        seam_(seam),
        middle_(whole_turns_off(slot.angle - seam_angle)),
        ray_(cos_of(slot.angle), sin_of(slot.angle), 0),
        ahead_(-ray_.Y(), ray_.X(), 0) {}

  struct Corner {
    std::array<TopoDS_Vertex, 2> vertices;
    TopoDS_Edge across;  ///< towards the higher angle; none within the mouth
  };

  void knit(const Path& section, const std::vector<Turned>& rings) {
    for (std::size_t k = 0; k < bite_.size(); ++k) corners_.push_back(corner(k, section, rings));
    for (std::size_t k = 0; k < bite_.size(); ++k) {
      sides_.push_back({side(k, 0, section, rings), side(k, 1, section, rings)});
    }
  }

  [[nodiscard]] const Bite& bite() const { return bite_; }
  [[nodiscard]] double middle() const { return middle_; }
  [[nodiscard]] const Corner& corner_at(std::size_t k) const { return corners_[k]; }
  [[nodiscard]] std::size_t next(std::size_t k) const { return (k + 1) % bite_.size(); }
  [[nodiscard]] std::size_t previous(std::size_t k) const { return (k + bite_.size() - 1) % bite_.size(); }
  /// From the seam, of the side's point at this radius.
  [[nodiscard]] double angle(double radius, int side) const { return middle_ + sign(side) * asin_of(half_ / radius); }

  /// What stretch `k` adds to the outline of the face behind it, nose to tail; metal on the left as seen from outside.
  void add_outline(std::size_t k, std::vector<TopoDS_Edge>& outline) const {
    const BiteEdge& e = bite_[k];
    outline.push_back(TopoDS::Edge(sides_[k][0].Reversed()));
    if (!e.ring || e.t0 > 0) outline.push_back(corners_[k].across);
    outline.push_back(sides_[k][1]);
    if (!e.ring || e.t1 < 1) outline.push_back(TopoDS::Edge(corners_[next(k)].across.Reversed()));
  }

  /// The slot's own faces: two sides, its floor and its ends.
  void add_faces(std::vector<TopoDS_Face>& faces) const {
    for (const int s : {0, 1}) {
      std::vector<TopoDS_Edge> edges;
      for (const auto& pair : sides_) edges.push_back(pair[static_cast<std::size_t>(s)]);
      const gp_Dir out = s == 0 ? ahead_ : ahead_.Reversed();
      const gp_Pnt at(gp_XYZ(ahead_.XYZ() * (sign(s) * half_)));
      faces.push_back(face_of(new Geom_Plane(gp_Ax3(at, out, gp::DZ())), wire_of(edges, s == 0)));
    }
    for (std::size_t k = 0; k < bite_.size(); ++k) {
      if (bite_[k].ring) continue;
      std::vector<TopoDS_Edge> edges;
      add_outline(k, edges);
      faces.push_back(face_of(own_surface(k), wire_of(edges, true)));
    }
  }

 private:
  static double sign(int side) { return side == 0 ? -1 : 1; }

  static TopoDS_Face face_of(const Handle(Geom_Surface) & surface, const TopoDS_Wire& wire) {
    BRep_Builder build;
    TopoDS_Face face;
    build.MakeFace(face, surface, kTolerance);
    build.Add(face, wire);
    return face;
  }

  [[nodiscard]] double along_ray(double radius) const { return std::sqrt((radius - half_) * (radius + half_)); }
  [[nodiscard]] gp_XYZ point(Vec2 p, int side) const {
    return ray_.XYZ() * along_ray(p.y) + ahead_.XYZ() * (sign(side) * half_) + gp_XYZ(0, 0, p.x);
  }
  [[nodiscard]] bool is_floor(std::size_t k) const { return !bite_[k].ring && bite_[k].edge.a.y == bite_[k].edge.b.y; }

  [[nodiscard]] Corner corner(std::size_t k, const Path& section, const std::vector<Turned>& rings) const {
    const BiteEdge &before = bite_[previous(k)], &after = bite_[k];
    const Vec2 at = after.edge.a;
    BRep_Builder build;
    Corner c;
    auto& [low, high] = c.vertices;
    build.MakeVertex(low, point(at, 0), kTolerance);
    build.MakeVertex(high, point(at, 1), kTolerance);
    if (before.ring && after.ring) return c;
    const std::optional<std::size_t> ring = after.ring ? after.ring : before.ring;
    if (slot_.inward && (is_floor(k) || is_floor(previous(k)))) {
      const bool on_cone = ring && !is_flat(section[*ring]);
      c.across =
          on_cone ? conic({along_ray(at.y), ray_, ahead_}, -half_, half_, section[*ring], rings[*ring].grid, low, high)
                  : straight_edge(low, high);
      return c;
    }
    const Handle(Geom_Circle) circle = new Geom_Circle(gp_Ax2(gp_Pnt(0, 0, at.x), gp::DZ(), seam_), at.y);
    c.across = edge_between(circle, angle(at.y, 0), angle(at.y, 1), low, high);
    const double t = after.ring ? after.t0 : before.t1;
    if (ring && t > 0 && t < 1) rings[*ring].grid.draw_round(c.across, angle(at.y, 0), t);
    return c;
  }

  [[nodiscard]] Handle(Geom_Surface) own_surface(std::size_t k) const {
    const Edge& e = bite_[k].edge;
    if (!is_floor(k)) {
      const gp_Dir out = e.b.y > e.a.y ? -gp::DZ() : gp::DZ();
      return new Geom_Plane(gp_Ax3(gp_Pnt(0, 0, e.a.x), out, gp::DX()));
    }
    if (slot_.inward) return new Geom_Plane(gp_Ax3(gp_Pnt(ray_.XYZ() * along_ray(e.a.y)), ray_.Reversed(), gp::DZ()));
    const Grid grid{new Geom_CylindricalSurface(gp_Ax3(gp::Origin(), gp::DZ(), seam_), e.a.y), 0, 1, e.a.x,
                    e.b.x - e.a.x};
    grid.draw_round(corners_[k].across, angle(e.a.y, 0), 0);
    grid.draw_round(corners_[next(k)].across, angle(e.a.y, 0), 1);
    for (const int s : {0, 1}) draw_along(sides_[k][static_cast<std::size_t>(s)], grid, angle(e.a.y, s), 0);
    return grid.surface;
  }

  /// For a straight edge along Z.
  static void draw_along(const TopoDS_Edge& e, const Grid& grid, double angle, double t) {
    grid.draw(e, new Geom2d_Line(gp_Pnt2d(grid.u(angle), grid.v(t)), gp_Dir2d(0, grid.dv)));
  }

  [[nodiscard]] TopoDS_Edge side(std::size_t k, int s, const Path& section, const std::vector<Turned>& rings) const {
    const BiteEdge& e = bite_[k];
    const TopoDS_Vertex& a = corners_[k].vertices[static_cast<std::size_t>(s)];
    const TopoDS_Vertex& b = corners_[next(k)].vertices[static_cast<std::size_t>(s)];
    if (!e.ring || is_flat(e.edge)) return straight_edge(a, b);
    const Grid& grid = rings[*e.ring].grid;
    const Edge& whole = section[*e.ring];
    if (e.edge.is_arc()) return on_torus(e, s, whole, grid, a, b);
    if (e.edge.a.y != e.edge.b.y) {
      const Plane plane{half_, s == 0 ? ahead_.Reversed() : ahead_, ray_};
      return conic(plane, along_ray(e.edge.a.y), along_ray(e.edge.b.y), whole, grid, a, b);
    }
    TopoDS_Edge straight = straight_edge(a, b);
    draw_along(straight, grid, angle(e.edge.a.y, s), e.t0);
    return straight;
  }

  /// Of a point at `place` in the cross plane and at fraction `t` of `whole`, which move by `change` and `dt`.
  [[nodiscard]] Motion motion(const gp_XYZ& place, const gp_XYZ& change, const Edge& whole, double t, double dt,
                              const Grid& grid) const {
    const double p = place * ray_.XYZ(), q = place * ahead_.XYZ();
    const double turning = (p * (change * ahead_.XYZ()) - q * (change * ray_.XYZ())) / (p * p + q * q);
    return {{place.X(), place.Y(), whole.at(t).x, grid.u(middle_ + atan2_of(q, p)), grid.v(t)},
            {change.X(), change.Y(), dt * whole.length() * whole.tangent_at(t).x, grid.du * turning, grid.dv * dt}};
  }

  [[nodiscard]] TopoDS_Edge on_torus(const BiteEdge& e, int s, const Edge& whole, const Grid& grid,
                                     const TopoDS_Vertex& a, const TopoDS_Vertex& b) const {
    const auto moving = [&](double t) {
      const double r = whole.at(t).y, x = along_ray(r);
      const gp_XYZ place = ray_.XYZ() * x + ahead_.XYZ() * (sign(s) * half_);
      return motion(place, ray_.XYZ() * (r / x * whole.length() * whole.tangent_at(t).y), whole, t, 1, grid);
    };
    const Spline spline(moving, e.t0, e.t1, e.edge.a.y, whole.radius());
    TopoDS_Edge made = edge_between(spline.in_space(), e.t0, e.t1, a, b);
    grid.draw(made, spline.on_face());
    return made;
  }

  /// A plane along Z that stands `off` the axis towards `normal`.
  struct Plane {
    double off;
    gp_Dir normal, along;
  };

  /// Where a plane crosses the cone of `whole`, between two places along it: a hyperbola, its r = off cosh w.
  [[nodiscard]] TopoDS_Edge conic(const Plane& plane, double from, double to, const Edge& whole, const Grid& grid,
                                  const TopoDS_Vertex& a, const TopoDS_Vertex& b) const {
    const double rise = whole.b.y - whole.a.y, slope = (whole.b.x - whole.a.x) / rise;
    const gp_XYZ foot = plane.normal.XYZ() * plane.off;
    const gp_Pnt centre(foot + gp_XYZ(0, 0, whole.a.x - slope * whole.a.y));
    // Seen from the side where the parameter grows in the direction of travel.
    const double sense = to > from ? 1 : -1;
    const gp_Dir opens = slope > 0 ? gp::DZ() : -gp::DZ(), travel = to > from ? plane.along : plane.along.Reversed();
    const Handle(Geom_Hyperbola) curve =
        new Geom_Hyperbola(gp_Ax2(centre, opens.Crossed(travel), opens), plane.off * std::abs(slope), plane.off);
    const auto parameter = [&](double place) {
      return sense * static_cast<double>(std::asinh(static_cast<long double>(place) / plane.off));
    };
    const auto moving = [&](double w) {
      const double r = plane.off * static_cast<double>(std::cosh(static_cast<long double>(w)));
      const double way = plane.off * static_cast<double>(std::sinh(static_cast<long double>(w)));
      return motion(foot + travel.XYZ() * way, travel.XYZ() * r, whole, (r - whole.a.y) / rise, way / rise, grid);
    };
    const double first = parameter(from), last = parameter(to);
    TopoDS_Edge made = edge_between(curve, first, last, a, b);
    grid.draw(made, Spline(moving, first, last, std::max(whole.a.y, whole.b.y), 1).on_face());
    return made;
  }

  const Bite& bite_;
  const Slot& slot_;
  double half_;
  gp_Dir seam_;
  double middle_;  // of the slot, angle from the seam
  gp_Dir ray_, ahead_;
  std::vector<Corner> corners_;
  std::vector<std::array<TopoDS_Edge, 2>> sides_;
};

// ---- what stays of the rings ----

/// A stretch of a circle, towards the higher angle.
struct Arc {
  TopoDS_Edge edge;
  double from = 0;
  bool before = true, after = true;  ///< bounds what the section's edges before and after the corner sweep
};

/// Where bites break the circle of a corner of the section.
struct Break {
  double low = 0, high = 0;
  BittenOut::Corner corner;
  bool before = false, after = false;  ///< who is bounded by the edge across
};

std::vector<Arc> arcs_of(const Ring& ring, std::vector<Break> breaks, bool keep_vertex) {
  if (ring.on_axis()) return {};
  if (breaks.empty()) return {{.edge = ring.circle}};
  std::sort(breaks.begin(), breaks.end(), [](const Break& a, const Break& b) { return a.low < b.low; });
  double first = 0, last = 0;
  const Handle(Geom_Curve) circle = BRep_Tool::Curve(ring.circle, first, last);
  std::vector<Arc> arcs;
  const auto add = [&](double from, const TopoDS_Vertex& a, double to, const TopoDS_Vertex& b) {
    arcs.push_back({.edge = edge_between(circle, from, to, a, b), .from = from});
  };
  if (keep_vertex) add(0, ring.vertex, breaks.front().low, breaks.front().corner.vertices[0]);
  for (std::size_t i = 0; i < breaks.size(); ++i) {
    const Break& b = breaks[i];
    if (b.before || b.after) arcs.push_back({b.corner.across, b.low, b.before, b.after});
    const bool is_last = i + 1 == breaks.size();
    const Break& next = breaks[is_last ? 0 : i + 1];
    if (is_last && keep_vertex) {
      add(b.high, b.corner.vertices[1], kTurn, ring.vertex);
    } else {
      add(b.high, b.corner.vertices[1], next.low + (is_last ? kTurn : 0), next.corner.vertices[0]);
    }
  }
  return arcs;
}

using Outlines = std::vector<std::vector<TopoDS_Edge>>;

/// Edges linked nose to tail into closed outlines. The first edge of all begins the first one.
Outlines linked(const std::vector<TopoDS_Edge>& edges) {
  TopTools_DataMapOfShapeInteger by_start;
  for (std::size_t i = 0; i < edges.size(); ++i) {
    by_start.Bind(TopExp::FirstVertex(edges[i], true), static_cast<int>(i));
  }
  std::vector<bool> used(edges.size(), false);
  Outlines outlines;
  for (std::size_t i = 0; i < edges.size(); ++i) {
    if (used[i]) continue;
    outlines.emplace_back();
    for (std::size_t k = i; !used[k];) {
      used[k] = true;
      outlines.back().push_back(edges[k]);
      const int* next = by_start.Seek(TopExp::LastVertex(edges[k], true));
      require(next != nullptr, "the outline of a slotted face is open");
      k = static_cast<std::size_t>(*next);
    }
  }
  return outlines;
}

/// The seam of a face, towards the end of the section's edge.
TopoDS_Edge seam_of(const TopoDS_Face& face, const Ring& a) {
  for (TopExp_Explorer e(face, TopAbs_EDGE); e.More(); e.Next()) {
    const TopoDS_Edge& edge = TopoDS::Edge(e.Current());
    if (!BRep_Tool::IsClosed(edge, face)) continue;
    const bool starts_at_a = TopExp::FirstVertex(edge).IsSame(a.vertex);
    return TopoDS::Edge(edge.Oriented(starts_at_a ? TopAbs_FORWARD : TopAbs_REVERSED));
  }
  throw Broken("a ring without a seam");
}

TopoDS_Face like(const TopoDS_Face& whole, const Outlines& outlines) {
  const TopAbs_Orientation orientation = whole.Orientation();
  TopoDS_Shape face = whole.EmptyCopied();
  face.Orientation(TopAbs_FORWARD);
  for (const auto& edges : outlines) BRep_Builder().Add(face, wire_of(edges, orientation == TopAbs_FORWARD));
  face.Orientation(orientation);
  return TopoDS::Face(face);
}

/// All slots of a part, knit into its rings.
class Slotting {
 public:
  Slotting(const Path& section, std::vector<BittenOut> bitten, const gp_Dir& seam)
      : section_(section),
        bitten_(std::move(bitten)),
        n_(section.size()),
        breaks_(n_),
        bites_(n_),
        sectors_(n_, false) {
    for (const Edge& e : section_) rings_.push_back(make_ring({0, 0}, e.a, seam));
  }

  [[nodiscard]] std::optional<TurnedFaces> faces() {
    for (std::size_t i = 0; i < n_; ++i) {
      turned_.push_back(on_axis(i) ? Turned{} : turned(section_[i], rings_[i], rings_[after(i)]));
    }
    note_bites();
    if (bites_a_tip()) return std::nullopt;
    for (BittenOut& b : bitten_) {
      b.knit(section_, turned_);
      note_breaks(b);
    }
    for (std::size_t i = 0; i < n_; ++i) {
      arcs_.push_back(arcs_of(rings_[i], breaks_[i], needs_seam(i) || needs_seam((i + n_ - 1) % n_)));
    }
    TurnedFaces result;
    for (std::size_t i = 0; i < n_; ++i) add_ring(i, result);
    for (const BittenOut& b : bitten_) b.add_faces(result.cut);
    return result;
  }

 private:
  struct Stretch {
    const BittenOut* of;
    std::size_t at;
    [[nodiscard]] const BiteEdge& edge() const { return of->bite()[at]; }
    [[nodiscard]] bool is_right_across() const { return edge().t0 == 0 && edge().t1 == 1; }
    [[nodiscard]] bool is_hole() const { return edge().t0 > 0 && edge().t1 < 1; }
  };

  [[nodiscard]] std::size_t after(std::size_t i) const { return (i + 1) % n_; }
  [[nodiscard]] bool on_axis(std::size_t i) const { return rings_[i].on_axis() && rings_[after(i)].on_axis(); }
  [[nodiscard]] bool needs_seam(std::size_t i) const { return !on_axis(i) && !is_flat(section_[i]) && !sectors_[i]; }

  void note_bites() {
    for (const BittenOut& b : bitten_) {
      for (std::size_t k = 0; k < b.bite().size(); ++k) {
        if (b.bite()[k].ring) bites_[*b.bite()[k].ring].push_back({&b, k});
      }
    }
    for (std::size_t i = 0; i < n_; ++i) {
      std::stable_sort(bites_[i].begin(), bites_[i].end(), [](const Stretch& s, const Stretch& t) {
        return std::pair(!s.is_right_across(), s.of->middle()) < std::pair(!t.is_right_across(), t.of->middle());
      });
      if (bites_[i].empty() || !bites_[i].front().is_right_across()) continue;
      sectors_[i] = true;
      turned_[i].grid.turn_on = bites_[i].front().of->middle();
    }
  }

  /// A cone's tip is no circle.
  [[nodiscard]] bool bites_a_tip() const {
    for (std::size_t i = 0; i < n_; ++i) {
      if (!bites_[i].empty() && !is_flat(section_[i]) && turned_[i].grid.surface.IsNull()) return true;
    }
    return false;
  }

  void note_breaks(const BittenOut& b) {
    for (std::size_t k = 0; k < b.bite().size(); ++k) {
      const BiteEdge &e = b.bite()[k], &before = b.bite()[b.previous(k)];
      const bool begins = e.ring && e.t0 == 0, ended = before.ring && before.t1 == 1;
      if (!begins && !ended) continue;
      const double r = e.edge.a.y;
      breaks_[begins ? *e.ring : after(*before.ring)].push_back(
          {b.angle(r, 0), b.angle(r, 1), b.corner_at(k), begins && !ended, ended && !begins});
    }
  }

  void add_ring(std::size_t i, TurnedFaces& result) const {
    if (on_axis(i)) return;
    const Turned& whole = turned_[i];
    if (bites_[i].empty() && breaks_[i].empty() && breaks_[after(i)].empty()) {
      result.whole.push_back({whole.face, section_[i]});
      return;
    }
    // Slots right across come first, so that outline k is the sector that ends at the k-th; then both ends of the face.
    std::vector<TopoDS_Edge> edges;
    const auto add_stretches = [&](bool right_across) {
      for (const Stretch& s : bites_[i]) {
        if (s.is_right_across() == right_across) s.of->add_outline(s.at, edges);
      }
    };
    add_stretches(true);
    for (auto arc = arcs_[i].rbegin(); arc != arcs_[i].rend(); ++arc) {
      if (!arc->after) continue;
      whole.grid.draw_round(arc->edge, arc->from, 0);
      edges.push_back(TopoDS::Edge(arc->edge.Reversed()));
    }
    for (const Arc& arc : arcs_[after(i)]) {
      if (!arc.before) continue;
      whole.grid.draw_round(arc.edge, arc.from, 1);
      edges.push_back(arc.edge);
    }
    add_stretches(false);

    Outlines outlines = linked(edges);
    if (sectors_[i]) {
      for (const Outlines& sector : sectors(i, std::move(outlines))) result.cut.push_back(like(whole.face, sector));
      return;
    }
    if (!is_flat(section_[i])) join_at_seam(outlines, seam_of(whole.face, rings_[i]));
    const TopoDS_Face face = like(whole.face, outlines);
    if (bites_[i].empty()) {
      result.whole.push_back({face, section_[i]});
    } else {
      result.cut.push_back(face);
    }
  }

  /// Each sector with the holes in it.
  [[nodiscard]] std::vector<Outlines> sectors(std::size_t i, Outlines outlines) const {
    std::vector<Outlines> found;
    std::size_t next = 0;
    for (const Stretch& s : bites_[i]) {
      if (s.is_right_across()) found.push_back({std::move(outlines[next++])});
    }
    for (const Stretch& s : bites_[i]) {
      if (!s.is_hole()) continue;
      std::size_t k = 0;
      while (k < found.size() && bites_[i][k].of->middle() < s.of->middle()) ++k;
      found[k % found.size()].push_back(std::move(outlines[next++]));
    }
    return found;
  }

  /// The first two outlines go round at either end of the face, both from the seam.
  static void join_at_seam(Outlines& outlines, const TopoDS_Edge& seam) {
    require(outlines.size() >= 2, "a slotted ring without two ends");
    std::vector<TopoDS_Edge>& joined = outlines[0];
    joined.push_back(seam);
    joined.insert(joined.end(), outlines[1].begin(), outlines[1].end());
    joined.push_back(TopoDS::Edge(seam.Reversed()));
    outlines.erase(outlines.begin() + 1);
  }

  const Path& section_;
  std::vector<BittenOut> bitten_;
  std::size_t n_;
  std::vector<Ring> rings_ = {};
  std::vector<Turned> turned_ = {};
  std::vector<std::vector<Break>> breaks_;   // by corner
  std::vector<std::vector<Arc>> arcs_ = {};  // by corner
  std::vector<std::vector<Stretch>> bites_;  // by edge, as the rest
  std::vector<bool> sectors_;                // a slot goes right across
};

// ---- where slots lie ----

/// The angles that a bite takes, and its place in the half plane.
struct Reach {
  double middle = 0, half = 0;
  double z0 = 0, z1 = 0, r0 = 0, r1 = 0;

  [[nodiscard]] bool meets(const Reach& o) const {
    return z0 <= o.z1 + kTolerance && o.z0 <= z1 + kTolerance && r0 <= o.r1 + kTolerance && o.r0 <= r1 + kTolerance &&
           std::abs(std::remainder(middle - o.middle, kTurn)) <= half + o.half + kTolerance;
  }
};

Reach reach(const Bite& bite, const Slot& slot) {
  Reach r{.middle = slot.angle, .z0 = slot.z1, .z1 = slot.z0, .r0 = bite.front().edge.a.y};
  for (const BiteEdge& e : bite) {
    const double bulge = e.edge.is_arc() ? e.edge.radius() : 0;
    for (const Vec2 p : {e.edge.a, e.edge.b}) {
      r.z0 = std::min(r.z0, p.x - bulge), r.z1 = std::max(r.z1, p.x + bulge);
      r.r0 = std::min(r.r0, p.y - bulge), r.r1 = std::max(r.r1, p.y + bulge);
    }
  }
  r.half = asin_of(slot.width / 2 / r.r0);
  return r;
}

/// An angle clear of all slots: 0, or the middle of the widest stretch without any.
std::optional<double> clear_angle(const std::vector<Reach>& reaches) {
  constexpr double kRoom = 1e-3;
  const auto room_ahead = [&](double angle) {
    double room = kTurn;
    for (const Reach& r : reaches) {
      const double to_start = whole_turns_off(r.middle - r.half - angle);
      const double to_end = whole_turns_off(r.middle + r.half - angle);
      room = to_end < to_start ? 0 : std::min(room, to_start);
      if (room == 0) break;
    }
    return room;
  };
  if (room_ahead(-kRoom) > 2 * kRoom) return 0.0;
  double best = 0, widest = kRoom;
  for (const Reach& r : reaches) {
    const double start = r.middle + r.half + kRoom / 10, room = room_ahead(start);
    if (room > widest) best = start + room / 2, widest = room;
  }
  if (widest <= kRoom) return std::nullopt;
  return best;
}

}  // namespace

std::optional<TurnedFaces> slotted(const Path& section, const std::vector<Slot>& slots) {
  struct Taken {
    Bite bite;
    const Slot* slot;
  };
  std::vector<Taken> taken;
  std::vector<Reach> reaches;
  for (const Slot& s : slots) {
    const auto found = bites(section, s);
    if (!found) return std::nullopt;
    for (const Bite& b : *found) {
      taken.push_back({b, &s});
      reaches.push_back(reach(b, s));
    }
  }
  for (std::size_t i = 0; i < taken.size(); ++i) {
    for (std::size_t k = 0; k < i; ++k) {
      if (taken[i].slot != taken[k].slot && reaches[i].meets(reaches[k])) return std::nullopt;
    }
  }
  const std::optional<double> seam_angle = clear_angle(reaches);
  if (!seam_angle) return std::nullopt;
  const gp_Dir seam(cos_of(*seam_angle), sin_of(*seam_angle), 0);
  std::vector<BittenOut> bitten;
  for (const Taken& t : taken) bitten.emplace_back(t.bite, *t.slot, seam, *seam_angle);
  return Slotting(section, std::move(bitten), seam).faces();
}

}  // namespace groovewright::solid
