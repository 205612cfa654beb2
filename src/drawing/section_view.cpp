#include <algorithm>
#include <cmath>
#include <numbers>

#include "blocks.h"
#include "edges_by_kind.h"
#include "groovewright/base/trig.h"
#include "groovewright/plane/meets.h"
#include "stack.h"

namespace groovewright::drawing {
namespace {

using part::Part;
using part::Side;
using plane::Ink;
using plane::Vec2;
using plane::View;
using section::Kind;

constexpr double kHatchStep = 2.5;
constexpr double kSame = 1e-6;

/// The section with all its sizes.
class SectionView {
 public:
  SectionView(const Subject& s, const Cut& cut, double scale) : s_(s), cut_(cut), scale_(scale) {
    view_.id = "section", view_.title = s.voice.word("section_view");
  }

  View made(std::span<const Detail> details) {
    draw_cut();
    balls();
    diameters();
    lengths();
    // The axis reaches past the outline: texts in the first lane keep clear of it.
    constexpr double kLaneToText = 7;
    stack(view_, spans_[0], Beside::left, std::min(shape_.low.x, drawn_.low.x + kFirstLane - kLaneToText), scribe());
    stack(view_, spans_[1], Beside::right, std::max(shape_.high.x, drawn_.high.x - kFirstLane + kLaneToText), scribe());
    // Upright texts may be longer than the part is high: level lanes begin beyond them.
    const Box upright = extents(view_, scribe().typeface());
    stack(view_, spans_[2], Beside::above, std::max(shape_.high.y, upright.high.y - kFirstLane + kLaneToText),
          scribe());
    // The seat's extension line passes all lanes below: texts keep clear of it.
    stack(view_, spans_[3], Beside::below, std::min(shape_.low.y, upright.low.y + kFirstLane - kLaneToText), scribe(),
          {x(0)});
    seat();
    for (const Detail& d : details) ring(d);
    for (const Detail& d : details) mark(d);
    return std::move(view_);
  }

 private:
  [[nodiscard]] const Scribe& scribe() const { return s_.voice.scribe(); }
  [[nodiscard]] double x(double z) const { return (s_.first_angle ? -z : z) * scale_; }
  [[nodiscard]] const Part& part() const { return s_.part; }
  [[nodiscard]] std::vector<SizeLine>& beside(Side side) {
    return spans_[(side == Side::front) == s_.first_angle ? 0 : 1];
  }

  void draw_cut() {
    std::vector<plane::Path> metal;
    shape_ = {{1e9, 1e9}, {-1e9, -1e9}};
    for (const plane::Path& p : cut_.metal) {
      metal.push_back(mapped(p, scale_, s_.first_angle));
      const Box b = extents(metal.back());
      shape_ = {{std::min(shape_.low.x, b.low.x), std::min(shape_.low.y, b.low.y)},
                {std::max(shape_.high.x, b.high.x), std::max(shape_.high.y, b.high.y)}};
    }
    hatch(view_, metal, kHatchStep);
    draw(view_, cut_.lines, scale_, s_.first_angle);
    drawn_ = extents(view_, scribe().typeface());
  }

  /// A diameter over what is turned at Z.
  void diameter(double d, double z, Side side, Piece text, const std::string& letter = "") {
    beside(side).push_back({-d / 2 * scale_, d / 2 * scale_, x(z), x(z), std::move(text), letter});
  }
  [[nodiscard]] Piece size(const std::string& id, const Marks& marks = {"⌀"}) const {
    return s_.voice.size(at(s_.rows, id), marks);
  }
  /// Where edges end towards a side.
  [[nodiscard]] static double end_of(const Feature& f, Side side, double otherwise) {
    double z = otherwise;
    bool any = false;
    for (const plane::Generator& g : f.edges) {
      for (const double at : {g.a.x, g.b.x}) {
        if (!any || (side == Side::front ? at > z : at < z)) z = at, any = true;
      }
    }
    return z;
  }
  /// Balls in the rearmost groove of each rim, as they lie when K is measured.
  void balls() {
    for (std::size_t i = 0; i < part().rims.size(); ++i) {
      const double k = part().rims[i].over_balls() / 2, r = part().rims[i].groove.ball_diameter.value / 2;
      for (const double sign : {1.0, -1.0}) {
        view_.lines.push_back(
            {Ink::phantom, plane::circle({x(part().groove_z(i, 0)), sign * (k - r) * scale_}, r * scale_)});
      }
    }
  }

  void diameters() {
    for (std::size_t i = 0; i < part().rims.size(); ++i) rim_diameters(i);
    hub_diameters();
    for (const part::Register& r : part().hub.registers) register_diameter(r);
    for (std::size_t i = 0; i < part().hub.bore.steps.size(); ++i) {
      const part::BoreStep& step = part().hub.bore.steps[i];
      diameter(step.diameter, step.side == Side::front ? part().hub.front_face : 0, step.side,
               size("bore_step" + std::to_string(i + 1) + "_diameter"));
    }
    bore();
    if (part().tone_ring) {
      const part::ToneRing& t = *part().tone_ring;
      const double z = t.side == Side::front ? part().rims_front() : part().rims_rear;
      diameter(2 * t.radius, z + (t.side == Side::front ? t.width : -t.width), t.side, size("tone_ring_diameter"));
    }
  }

  void rim_diameters(std::size_t i) {
    const part::Rim& rim = part().rims[i];
    const std::string id = Part::prefix(i);
    const double first = part().groove_z(i, 0), last = part().groove_z(i, rim.grooves - 1);
    diameter(rim.over_balls(), first, Side::rear,
             size(id + "diameter_over_balls",
                  {"⌀", s_.voice.filled("over_balls", {s_.voice.plain(rim.groove.ball_diameter.value)})}));
    const bool alike = rim.front && rim.rear && std::abs(rim.front->diameter.value - rim.rear->diameter.value) < kSame;
    const double reach = rim.edge_distance.value;
    if (rim.front) {
      diameter(rim.front->diameter.value, last + reach + rim.front->thickness.value, Side::front,
               size(id + "front_flange_diameter", {alike ? "2× ⌀" : "⌀"}));
    }
    if (rim.rear && !alike) {
      diameter(rim.rear->diameter.value, first - reach - rim.rear->thickness.value, Side::rear,
               size(id + "rear_flange_diameter"));
    }
  }

  void hub_diameters() {
    if (find(s_.rows, "hub_diameter") != nullptr) {
      const Feature hub = of_kind(s_.section, Kind::hub);
      const Side side = front_stands_proud(hub) ? Side::front : Side::rear;
      diameter(part().hub.diameter.value, end_of(hub, side, 0), side, size("hub_diameter"));
    }
    for (int n = 1; find(s_.rows, inner_id(n)) != nullptr; ++n)
      inner_diameter(at(s_.rows, inner_id(n)).value, inner_id(n));
  }
  [[nodiscard]] static std::string inner_id(int n) {
    return (n == 1 ? "rim_inner" : "rim_inner" + std::to_string(n)) + "_diameter";
  }
  void inner_diameter(double d, const std::string& id) {
    const Feature inner = drawing::edges(s_.section, [&](const section::Tag& t, const plane::Edge& e) {
      return t.kind == Kind::rim_inner && e.a.y == e.b.y && std::abs(2 * e.a.y - d) <= kSame;
    });
    const double front = end_of(inner, Side::front, 0), rear = end_of(inner, Side::rear, 0), web = web_middle();
    const Side side = front - web > web - rear ? Side::front : Side::rear;
    diameter(d, side == Side::front ? front : rear, side, size(id));
  }
  [[nodiscard]] double web_middle() const { return at(s_.rows, "web_rear_z").value + part().web->thickness.value / 2; }
  [[nodiscard]] bool front_stands_proud(const Feature& hub) const {
    if (!part().web) return true;
    return end_of(hub, Side::front, 0) - web_middle() > web_middle() - end_of(hub, Side::rear, 0);
  }
  void register_diameter(const part::Register& r) {
    const std::string id = r.id() + "_diameter";
    const double z = end_of(of_register(s_.section, r), r.side, 0);
    diameter(r.diameter, z, r.side, with_squareness(size(id), id), datum_of(s_.requirements, id));
  }
  /// The locating diameter carries its squareness to the seat: behind it, or under it where the view is not so high.
  [[nodiscard]] Piece with_squareness(Piece text, const std::string& id) const {
    const Zone* zone = find_zone(s_.requirements, "location_squareness");
    if (zone == nullptr || datum_of(s_.requirements, id).empty()) return text;
    Piece in_line = row({text, s_.voice.frame(*zone)}, 1.5);
    const double beyond = shape_.high.y - at(s_.rows, id).value / 2 * scale_;
    return in_line.width < beyond ? in_line : column({std::move(text), s_.voice.frame(*zone)}, 2 * kClear);
  }

  void bore() {
    const part::Bore& bore = part().hub.bore;
    const bool rear_taken = std::any_of(part().hub.registers.begin(), part().hub.registers.end(),
                                        [](const part::Register& r) { return r.side == Side::rear && r.depth > 0; });
    const Side side = rear_taken ? Side::front : Side::rear;
    const Feature on = of_kind(s_.section, Kind::bore);
    const std::string letter = datum_of(s_.requirements, "bore_diameter");
    if (bore.taper) {
      const double z = bore.taper->gauge_face == Side::rear ? bore.taper->gauge_depth
                                                            : part().hub.front_face - bore.taper->gauge_depth;
      diameter(bore.diameter.value, z, bore.taper->gauge_face,
               size("bore_diameter", {"⌀", s_.voice.word("at_gauge_plane")}), letter);
    } else {
      diameter(bore.diameter.value, end_of(on, side, 0), side, with_squareness(size("bore_diameter"), "bore_diameter"),
               letter);
    }
    if (part().hub.keyway) {
      const double floor = part().hub.keyway_floor(), far = part().hub.widest_bore_radius();
      const Side other = side == Side::rear ? Side::front : Side::rear;
      const double z = end_of(on, other, 0);
      beside(other).push_back({-far * scale_, floor * scale_, x(z), x(z), size("keyway_over", {}), ""});
    }
  }

  /// An axial size from Z to Z, with extension lines from these radii; above, or below the axis.
  void length(double z1, double r1, double z2, double r2, bool above, Piece text) {
    if (std::abs(z1 - z2) < kSame) return;
    double a = x(z1), b = x(z2), ra = r1 * scale_, rb = r2 * scale_;
    if (a > b) std::swap(a, b), std::swap(ra, rb);
    const double sign = above ? 1 : -1;
    spans_[above ? 2 : 3].push_back({a, b, sign * ra, sign * rb, std::move(text), ""});
  }

  void lengths() {
    const double hub_r = part().hub.diameter.value / 2, front = part().hub.front_face;
    const bool plain_disc = std::abs(part().rims_rear) < kSame && std::abs(part().rims_front() - front) < kSame;
    for (std::size_t i = 0; i < part().rims.size(); ++i) {
      const part::Rim& rim = part().rims[i];
      const std::string id = Part::prefix(i);
      const double rear = part().rim_rear(i);
      length(rear, rim.end_diameter(Side::rear) / 2, rear + rim.width(), rim.end_diameter(Side::front) / 2, true,
             size(id + "face_width", {}));
      if (std::abs(part().groove_z(i, 0)) > kSame) {
        length(0, hub_r, part().groove_z(i, 0), rim.root_diameter() / 2, false, size(id + "first_groove_z", {}));
      }
    }
    if (!plain_disc) length(0, hub_r, front, hub_r, false, size("hub_length", {}));
    const double overall = at(s_.rows, "overall_width").value;
    if (std::abs(overall - at(s_.rows, "hub_length").value) > kSame &&
        std::abs(overall - at(s_.rows, "face_width").value) > kSame) {
      const auto [rear, far] = std::pair{std::min(0.0, rearmost()), rearmost() + overall};
      length(rear, radius_at(rear), far, radius_at(far), true, size("overall_width", {"", "", true}));
    }
    if (find(s_.rows, "web_rear_z") != nullptr) {
      const double z = at(s_.rows, "web_rear_z").value, t = part().web->thickness.value;
      const double r = (hub_r + at(s_.rows, "rim_inner_diameter").value / 2) / 2;
      length(z, r, z + t, r, false, size("web_thickness", {}));
      length(0, hub_r, z, r, false, size("web_rear_z", {}));
    }
    for (const part::Register& r : part().hub.registers) {
      const bool rear = r.side == Side::rear;
      const double face = rear ? 0 : front, wall = rear ? r.depth : front - r.depth;
      length(face, r.diameter / 2, wall, r.diameter / 2, false, size(r.id() + "_depth", {}));
    }
    for (std::size_t i = 0; i < part().hub.bore.steps.size(); ++i) {
      const part::BoreStep& step = part().hub.bore.steps[i];
      const double face = step.side == Side::rear ? 0 : front,
                   wall = step.side == Side::rear ? step.depth : front - step.depth;
      length(face, step.diameter / 2, wall, step.diameter / 2, false,
             size("bore_step" + std::to_string(i + 1) + "_depth", {}));
    }
    if (part().hub.bore.taper && part().hub.bore.taper->gauge_depth > 0) {
      const part::Taper& t = *part().hub.bore.taper;
      const double face = t.gauge_face == Side::rear ? 0 : front;
      const double plane = t.gauge_face == Side::rear ? t.gauge_depth : front - t.gauge_depth;
      length(face, part().hub.bore_radius(face), plane, part().hub.bore_radius(plane), false,
             size("bore_gauge_depth", {}));
    }
    if (part().tone_ring) {
      const part::ToneRing& t = *part().tone_ring;
      const double z = t.side == Side::front ? part().rims_front() : part().rims_rear;
      length(z, t.radius, z + (t.side == Side::front ? t.width : -t.width), t.radius, true,
             size("tone_ring_width", {}));
    }
  }
  [[nodiscard]] double rearmost() const {
    double z = 0;
    for (const plane::Edge& e : s_.section.body.section) z = std::min({z, e.a.x, e.b.x});
    return z;
  }
  /// Greatest radius of the outline at its end of this Z.
  [[nodiscard]] double radius_at(double z) const {
    double r = 0;
    for (const plane::Edge& e : s_.section.body.section) {
      for (const Vec2 p : {e.a, e.b}) {
        if (std::abs(p.x - z) < kSame) r = std::max(r, p.y);
      }
    }
    return r;
  }

  /// Below all lanes: the seat as a datum, and what is asked of it.
  void seat() {
    const double low = extents(view_, scribe().typeface()).low.y, level = low - kDatumBox / 2 - kClear - 1;
    const double rearward = s_.first_angle ? 1 : -1;
    const Vec2 foot{x(0), level};
    line(view_, Ink::dimension, {x(0), -part().hub.diameter.value / 2 * scale_ - 1}, {x(0), level - 3});
    if (const std::string letter = datum_of(s_.requirements, "seat"); !letter.empty()) {
      datum(view_, letter, foot, {rearward, 0}, 5, 0, scribe());
    }
    for (const char* id : {"seat_flatness", "seat_squareness"}) {
      const Zone* zone = find_zone(s_.requirements, id);
      if (zone == nullptr) continue;
      const Piece frame = s_.voice.frame(*zone);
      const double near = x(0) - rearward * 8;
      line(view_, Ink::leader, {near, level}, foot);
      arrow(view_, foot, {rearward, 0}, Ink::leader);
      put(view_, frame, {rearward > 0 ? near - frame.width : near, level - kMiddle});
    }
  }

  [[nodiscard]] Vec2 middle_of(const Detail& d) const {
    return {x((d.window.low.x + d.window.high.x) / 2), -(d.window.low.y + d.window.high.y) / 2 * scale_};
  }
  [[nodiscard]] double ring_radius(const Detail& d) const {
    return std::min(6.5, length_of(d.window.width(), d.window.height()) / 2 * scale_ + 0.5);
  }
  /// A circle round what a detail shows, on the lower half.
  void ring(const Detail& d) { view_.lines.push_back({Ink::dimension, plane::circle(middle_of(d), ring_radius(d))}); }
  /// The detail's letter beside its circle.
  void mark(const Detail& d) {
    const Vec2 middle = middle_of(d);
    const double radius = ring_radius(d);
    const Piece letter = s_.voice.text(d.letter, kViewTitle);
    constexpr int kRings = 39, kDirections = 16;
    for (int ring = 1; ring <= kRings; ++ring) {
      const double far = radius + 1.5 * ring;
      for (int k = 0; k < kDirections; ++k) {
        const int away = (k + 1) / 2;  // from straight down, by turns to either side
        const double angle = -std::numbers::pi / 2 + (k % 2 == 0 ? away : -away) * std::numbers::pi / 8;
        const Vec2 out = plane::polar(1, angle);
        const Vec2 at = middle + (far + kViewTitle / 2) * out - Vec2{letter.width / 2, kViewTitle / 2};
        const Vec2 begin = middle + radius * out, end = middle + (far - 2.2) * out;
        const bool is_far = far > radius + 4;
        if (!is_clear(letter, at) || (is_far && passes_words(begin, end))) continue;
        put(view_, letter, at);
        if (is_far) line(view_, Ink::dimension, begin, end);
        return;
      }
    }
    put(view_, letter, middle);
  }
  [[nodiscard]] bool passes_words(Vec2 a, Vec2 b) const {
    return std::any_of(view_.words.begin(), view_.words.end(),
                       [&](const plane::Words& w) { return enters(a, b, plane::box(scribe().typeface(), w)); });
  }
  [[nodiscard]] bool is_clear(const Piece& piece, Vec2 at) const {
    const double l = at.x - kClear, r = at.x + piece.width + kClear, b = at.y - piece.below - kClear,
                 t = at.y + piece.above + kClear;
    const std::array<Vec2, 4> quad{{{l, b}, {r, b}, {r, t}, {l, t}}};
    for (const plane::Words& w : view_.words) {
      if (overlap(plane::box(scribe().typeface(), w), quad)) return false;
    }
    for (const plane::Inked& inked : view_.lines) {
      const Box box = extents(inked.path);
      if (box.high.x < l || box.low.x > r || box.high.y < b || box.low.y > t) continue;
      for (const plane::Segment& g : segments(inked.path)) {
        if (enters(g.a, g.b, quad)) return false;
      }
    }
    return true;
  }

  const Subject& s_;
  const Cut& cut_;
  double scale_;
  View view_;
  Box shape_;                                   ///< of the metal
  Box drawn_;                                   ///< of all lines before sizes are added
  std::array<std::vector<SizeLine>, 4> spans_;  ///< left, right, above, below
};

}  // namespace

View section_view(const Subject& s, const Cut& cut, double scale, std::span<const Detail> details) {
  View view = SectionView(s, cut, scale).made(details);
  add_title(view, std::string(kCutLetter) + "-" + kCutLetter + " (" + scale_text(scale) + ")", s.voice.scribe());
  return view;
}

}  // namespace groovewright::drawing
