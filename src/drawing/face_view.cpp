#include <algorithm>
#include <cmath>
#include <numbers>

#include "blocks.h"
#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"
#include "groovewright/plane/labels.h"

namespace groovewright::drawing {
namespace {

using part::cross_angle;
using part::HolePattern;
using part::Side;
using plane::Ink;
using plane::Label;
using plane::polar;
using plane::Tip;
using plane::Vec2;
using plane::View;

/// Anchors are looked for on this many holes of a pattern at most: those furthest to the right.
constexpr std::size_t kAnchorHoles = 8;
constexpr double kLabelWidth = 62;

class FaceView {
 public:
  FaceView(const Subject& s, const Looks& looks, double scale) : s_(s), looks_(looks), scale_(scale) {
    view_.id = "face", view_.title = s.voice.word("face_view");
  }

  View made() {
    draw(view_, looks_.face, scale_, false);
    radius_ = plane::outermost(s_.section.body.section) * scale_;
    cutting_line(looks_.cut.first, true);
    cutting_line(looks_.cut.second, false);
    for (const HolePattern& p : s_.part.holes) pattern(p);
    web();
    keyway();
    bore();
    marks();
    label_column(view_, labels_, radius_ + 14, 0, s_.voice.scribe());
    return std::move(view_);
  }

 private:
  [[nodiscard]] const Voice& voice() const { return s_.voice; }
  [[nodiscard]] double value(const std::string& id) const { return at(s_.rows, id).value; }
  [[nodiscard]] std::string length(const std::string& id) const { return voice().length(value(id)); }

  /// Half of the cutting line: from the axis outwards, thick at its end, with the arrow that shows the way of looking.
  void cutting_line(Angle from_top, bool first) {
    const Vec2 out = polar(1, cross_angle(from_top));
    const double side = first == s_.first_angle ? 1 : -1;
    const Vec2 look = side * Vec2{-out.y, out.x};
    const double near = radius_ + 4, far = radius_ + 9;
    line(view_, Ink::centre, {0, 0}, near * out);
    line(view_, Ink::cutting, near * out, far * out);
    const Vec2 bend = (far - 1.5) * out;
    line(view_, Ink::dimension, bend, bend + 5.5 * (-1.0 * look));
    arrow(view_, bend, look);
    const Piece letter = voice().text(kCutLetter, kViewTitle);
    const Vec2 at = far * out + 4 * out - Vec2{letter.width / 2, kViewTitle / 2};
    put(view_, letter, at);
  }

  void label(const std::vector<Piece>& lines, std::vector<Vec2> anchors, Tip tip = Tip::arrow) {
    labels_.push_back({column(lines, 1), std::move(anchors), tip});
  }
  [[nodiscard]] Piece words(const std::string& utf8) const { return voice().scribe().paragraph(utf8, kLabelWidth); }

  /// Points of circles of `radius` about these middles, on the side of the labels.
  [[nodiscard]] std::vector<Vec2> on_circles(std::vector<Vec2> middles, double radius) const {
    std::stable_sort(middles.begin(), middles.end(), [](Vec2 a, Vec2 b) { return a.x > b.x + 1e-9; });
    if (middles.size() > kAnchorHoles) middles.resize(kAnchorHoles);
    std::vector<Vec2> out;
    for (const Vec2 m : middles) {
      for (const double turn : {0.0, 0.9, -0.9}) out.push_back(scale_ * (m + polar(radius, turn)));
    }
    return out;
  }
  static std::vector<Vec2> middles(double circle, const std::vector<Angle>& angles) {
    std::vector<Vec2> out;
    for (const Angle a : angles) out.push_back(polar(circle / 2, cross_angle(a)));
    return out;
  }

  [[nodiscard]] std::string depth_of(const HolePattern& p) const {
    return p.depth > 0 ? "↧" + length(p.id + "_depth") : voice().word("through");
  }
  [[nodiscard]] std::string where(const HolePattern& p) const {
    const std::string circle = length(p.id + "_circle");
    if (find(s_.rows, p.id + "_first_angle") != nullptr) {
      return voice().filled("on_circle", {circle, voice().plain(value(p.id + "_first_angle"), "deg")});
    }
    return voice().filled("on_circle_by_table", {circle});
  }

  void pattern(const HolePattern& p) {
    const std::string count = p.angles.size() > 1 ? std::to_string(p.angles.size()) + "× " : "";
    std::vector<Piece> lines;
    if (p.tapped) {
      lines.push_back(words(count + p.thread->id + "×" + trimmed(p.thread->pitch, 2) + " - 6H " + depth_of(p)));
      std::string drill = voice().filled("drill", {length(p.id + "_diameter")});
      if (p.depth > 0) drill += " ↧" + length(p.id + "_drill_depth");
      lines.push_back(words(drill));
    } else {
      lines.push_back(
          row({voice().size(at(s_.rows, p.id + "_diameter"), {count + "⌀"}), voice().text(depth_of(p))}, kSpace));
    }
    if (p.depth > 0 && p.side == Side::rear) lines.push_back(words(voice().word("from_rear")));
    if (p.sink_diameter > 0) lines.push_back(sink(p));
    lines.push_back(words(where(p)));
    if (const Zone* zone = find_zone(s_.requirements, p.id + "_position")) lines.push_back(voice().frame(*zone));
    add_datum(lines, p.id + "_diameter");
    const bool sunk_here = p.sink_diameter > 0 && p.sink_side == Side::front;
    const double radius = (sunk_here ? p.sink_diameter : p.diameter.value) / 2;
    label(lines, on_circles(middles(p.circle, p.angles), radius));
  }
  /// A line that says which datum this is, where it is one.
  void add_datum(std::vector<Piece>& lines, const std::string& what) const {
    const std::string letter = datum_of(s_.requirements, what);
    if (letter.empty()) return;
    lines.push_back(row({voice().text(voice().word("datum")), voice().scribe().frame({voice().text(letter)})}, 1));
  }
  [[nodiscard]] Piece sink(const HolePattern& p) const {
    const Dimension& d = at(s_.rows, p.id + "_sink_diameter");
    const std::string side = p.sink_side == Side::rear ? " " + voice().word("from_rear") : "";
    if (p.sink_depth > 0) {
      return row({voice().size(d, {"⌴ ⌀"}), voice().text("↧" + length(p.id + "_sink_depth") + side)}, kSpace);
    }
    return row(
        {voice().size(d, {"⌵ ⌀"}), voice().text("× " + voice().plain(value(p.id + "_sink_angle"), "deg") + side)},
        kSpace);
  }

  void web() {
    if (!s_.part.web) return;
    if (const auto& w = s_.part.web->windows) {
      std::vector<Angle> angles;
      for (int k = 0; k < w->count; ++k) {
        angles.push_back(Angle::rad(w->start.rad() + 2 * std::numbers::pi * k / w->count));
      }
      label({words(std::to_string(w->count) + "× ⌀" + length("window_diameter") + " " + voice().word("window")),
             words(voice().filled("on_circle",
                                  {length("window_circle"), voice().plain(value("window_first_angle"), "deg")}))},
            on_circles(middles(w->circle.value, angles), w->diameter.value / 2));
    }
    if (const auto& w = s_.part.web->spokes) {
      const double middle = (w->inner_diameter.value + w->outer_diameter.value) / 4,
                   step = 2 * std::numbers::pi / w->count;
      std::vector<Vec2> anchors;
      for (int k = 0; k < w->count; ++k) {
        for (const double out : {1.0, 0.6, 1.4}) {
          anchors.push_back(scale_ * polar(middle * out, cross_angle(w->start) + step * k));
        }
      }
      std::erase_if(anchors, [](Vec2 v) { return v.x < 0; });
      label({words(voice().filled("spokes", {std::to_string(w->count), length("spoke_width"),
                                             voice().plain(value("spoke_first_angle"), "deg")})),
             words(voice().filled("between_spokes", {length("spoke_inner_diameter"), length("spoke_outer_diameter"),
                                                     length("spoke_fillet")}))},
            std::move(anchors), Tip::dot);
    }
  }

  void keyway() {
    if (!s_.part.hub.keyway) return;
    const double angle = cross_angle(s_.part.hub.keyway->angle), floor = s_.part.hub.keyway_floor(),
                 half = s_.part.hub.keyway->width.value / 2;
    const Vec2 out = polar(1, angle), across{-out.y, out.x};
    std::vector<Vec2> anchors;
    for (const double t : {-1.0, 0.0, 1.0}) anchors.push_back(scale_ * (floor * out + t * half * across));
    std::vector<Piece> lines{
        row({voice().size(at(s_.rows, "keyway_width")),
             voice().text(voice().filled("keyway", {voice().plain(value("keyway_angle"), "deg")}))},
            kSpace)};
    add_datum(lines, "keyway_width");
    label(lines, std::move(anchors));
  }

  void bore() {
    const Zone* zone = find_zone(s_.requirements, "bore_runout");
    if (zone == nullptr) return;
    const double r = s_.part.hub.bore_radius(s_.part.hub.front_face);
    std::vector<Vec2> anchors;
    for (const double a : {0.0, 0.5, -0.5, 1.0, -1.0}) anchors.push_back(scale_ * polar(r, a));
    label({row({voice().text(voice().word("bore")), voice().frame(*zone)}, 1.5)}, std::move(anchors));
  }

  void marks() {
    for (std::size_t i = 0; i < s_.part.marks.size(); ++i) {
      const part::Marks& m = s_.part.marks[i];
      if (m.on == part::MarkPlace::rear || m.on == part::MarkPlace::rear_edge) continue;  // in the notes
      const bool edge = m.on == part::MarkPlace::front_edge;
      const double r = edge ? radius_ / scale_ : m.outer_radius;
      std::vector<Vec2> anchors;
      for (const Angle a : m.angles) {
        const Vec2 out = polar(1, cross_angle(a)), across{-out.y, out.x};
        for (const double t : {-0.5, 0.5}) {
          anchors.push_back(
              scale_ * ((edge ? front_edge_radius() - m.depth / 2 : r - m.length / 2) * out + t * m.width * across));
        }
      }
      label({words(mark_words(s_, i))}, std::move(anchors));
    }
  }
  /// Radius of the rim's front end, into which edge marks are cut.
  [[nodiscard]] double front_edge_radius() const { return s_.part.rims.back().end_diameter(Side::front) / 2; }

  const Subject& s_;
  const Looks& looks_;
  double scale_;
  double radius_ = 0;
  View view_;
  std::vector<Label> labels_;
};

}  // namespace

std::string mark_words(const Subject& s, std::size_t i) {
  const part::Marks& m = s.part.marks[i];
  std::string list;
  for (const Angle a : m.angles) list += (list.empty() ? "" : ", ") + s.voice.plain(part::turned_once_deg(a), "deg");
  const std::string id = "marks_" + std::to_string(i + 1);
  return s.voice.filled("marks", {std::to_string(m.angles.size()), s.voice.length(at(s.rows, id + "_width").value),
                                  s.voice.length(at(s.rows, id + "_depth").value),
                                  s.voice.length(at(s.rows, id + "_length").value), list});
}

View face_view(const Subject& s, const Looks& looks, double scale) {
  View view = FaceView(s, looks, scale).made();
  add_title(view, s.voice.word("face_view"), s.voice.scribe());
  return view;
}

}  // namespace groovewright::drawing
