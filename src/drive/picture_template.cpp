#include <algorithm>
#include <cmath>
#include <numbers>

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"
#include "groovewright/drive/pictures.h"
#include "groovewright/plane/callouts.h"
#include "picture_page.h"

namespace groovewright::drive {
namespace {

using plane::Box;
using plane::Edge;
using plane::Ink;
using plane::Tip;
using plane::View;
using std::numbers::pi;

/// Strip below for the words, and at the left for the upright ruler.
constexpr double kWords = 112, kStrip = 24, kAround = 22;
constexpr double kPunch = 4;  // half of a centre mark
constexpr double kUp = 18;
/// What the hole belongs to is cut to so many lines, about.
constexpr double kMostLines = 2.6;
/// The upright ruler's line, from the frame; height of the words that forbid.
constexpr double kRulerLine = 17, kForbid = 7;

std::string mm(double v) { return number(v, 2); }

class TemplatePage {
 public:
  TemplatePage(const DrillTemplate& hole, const PictureStyle& style) : hole_(hole), pen_(style) {}

  std::optional<plane::Page> made() {
    require(hole_.old_diameter > 0 && hole_.diameter > 0 && (hole_.thread.empty() || hole_.tap_drill > 0),
            "drill_template_page: diameters");
    radius_ = plane::norm(hole_.new_hole - hole_.pivot);
    require(radius_ > plane::kCoincident, "drill_template_page: the peg lies on the pivot");
    for (const Paper* paper : {&kA4Upright, &kA3Upright}) {
      if (place(*paper)) return page(*paper);
    }
    return std::nullopt;
  }

 private:
  [[nodiscard]] double drilled() const { return hole_.thread.empty() ? hole_.diameter : hole_.tap_drill; }
  [[nodiscard]] bool is_thin() const { return hole_.ligament < hole_.ligament_least; }
  [[nodiscard]] Vec2 at(Vec2 p) const { return origin_ + p; }
  [[nodiscard]] Vec2 pivot() const { return at(hole_.pivot); }

  [[nodiscard]] bool place(const Paper& paper) {
    area_ = {{kMargin + kStrip, kMargin + kWords}, {paper.width - kMargin - 2, paper.height - kMargin - 2}};
    if (is_thin()) area_.high.y -= 2 * kForbid;
    Box b{hole_.pivot, hole_.pivot};
    for (const Vec2 p : {hole_.old_hole, hole_.new_hole}) {
      b.low = {std::min(b.low.x, p.x), std::min(b.low.y, p.y)},
      b.high = {std::max(b.high.x, p.x), std::max(b.high.y, p.y)};
    }
    const double around = std::max(kAround, std::max(hole_.old_diameter, hole_.diameter) / 2 + 8);
    if (b.width() + 2 * around > area_.width() || b.height() + 2 * around > area_.height()) return false;
    origin_ = 0.5 * (area_.low + area_.high) - 0.5 * (b.low + b.high);
    return true;
  }

  plane::Page page(const Paper& paper) {
    plane::Page page =
        empty_page(paper, pen_.filled("template_title", {hole_.drive}), pen_.word("template_description"));
    view_ = {"template", page.title, {}, {}};
    peg_circle();
    rays();
    mark(hole_.old_hole, hole_.old_diameter / 2, Ink::dimension);
    mark(hole_.new_hole, drilled() / 2, Ink::visible);
    if (!hole_.thread.empty()) thread();
    mark(hole_.pivot, 2.5, Ink::visible);
    up_arrow();
    if (is_thin()) {
      const plane::Piece stop = pen_.text(pen_.word("template_stop"), kForbid);
      put(view_, stop, {area_.low.x + kInset, area_.high.y + kInset});
    }
    names();
    View rulers{"rulers", pen_.word("template_scale"), {}, {}};
    const Vec2 corner{kMargin + kStrip, kMargin + kInset};
    ruler(rulers, pen_, {kMargin + kRulerLine, paper.height - kMargin - kInset - kRuler}, {0, 1}, "");
    ruler(rulers, pen_, {corner.x, kMargin + kInset}, {1, 0}, "");
    page.views.push_back(std::move(view_));
    page.views.push_back(std::move(rulers));
    page.views.push_back(notes(paper, page.title));
    return page;
  }

  void mark(Vec2 centre, double radius, Ink ink) {
    const Vec2 c = at(centre);
    view_.lines.push_back({ink, plane::circle(c, radius)});
    const double half = std::max(kPunch, radius + 2.5);
    plane::line(view_, Ink::dimension, c - Vec2{half, 0}, c + Vec2{half, 0});
    plane::line(view_, Ink::dimension, c - Vec2{0, half}, c + Vec2{0, half});
  }

  /// ISO 6410-1: the thread's major diameter as three quarters of a thin circle.
  void thread() {
    const Vec2 c = at(hole_.new_hole);
    const double r = hole_.diameter / 2;
    view_.lines.push_back(
        {Ink::dimension, {Edge{c + plane::polar(r, -0.1), c + plane::polar(r, 1.5 * pi - 0.2), Edge::Turn::ccw, c}}});
  }

  [[nodiscard]] Edge arc(double radius, double from, double to) const {
    return {pivot() + plane::polar(radius, from), pivot() + plane::polar(radius, to),
            to > from ? Edge::Turn::ccw : Edge::Turn::cw, pivot()};
  }
  [[nodiscard]] bool fits(const plane::Path& path) const {
    const Box b = plane::extents(path);
    return b.low.x > area_.low.x && b.low.y > area_.low.y && b.high.x < area_.high.x && b.high.y < area_.high.y;
  }

  /// As much of the peg's circle as the picture holds: all of it, from hole to hole, or about each hole.
  void peg_circle() {
    const plane::Path whole = plane::circle(pivot(), radius_);
    const double from = angle(hole_.old_hole), to = from + turned(), beyond = std::min(0.25, 8 / radius_);
    arc_from_ = std::min(from, to) - beyond, arc_to_ = std::max(from, to) + beyond;
    if (fits(whole)) {
      view_.lines.push_back({Ink::centre, whole});
      arc_from_ = 0, arc_to_ = 2 * pi;
    } else if (fits({arc(radius_, arc_from_, arc_to_)})) {
      view_.lines.push_back({Ink::centre, {arc(radius_, arc_from_, arc_to_)}});
    } else {
      for (const double at : {from, to}) view_.lines.push_back({Ink::centre, {arc(radius_, at - beyond, at + beyond)}});
      arc_from_ = from - beyond, arc_to_ = from + beyond;
    }
  }
  [[nodiscard]] double angle(Vec2 p) const { return atan2_of(p.y - hole_.pivot.y, p.x - hole_.pivot.x); }
  /// From the old hole to the new one, rad, the short way.
  [[nodiscard]] double turned() const {
    double turn = angle(hole_.new_hole) - angle(hole_.old_hole);
    if (turn > pi) turn -= 2 * pi;
    if (turn < -pi) turn += 2 * pi;
    return turn;
  }

  /// From the pivot through both holes, with the angle between them.
  void rays() {
    const Vec2 c = pivot();
    for (const Vec2 p : {hole_.old_hole, hole_.new_hole}) {
      plane::line(view_, Ink::centre, c, c + (radius_ + 10) * plane::unit(p - hole_.pivot));
    }
    const double r = radius_ + 8, from = angle(hole_.old_hole), turn = turned();
    const Edge between = arc(r, from, from + turn);
    if (std::abs(turn) * r < 2 * plane::kArrow + 1 || !fits({between})) return;
    const Vec2 a = between.a, b = between.b;
    const int sign = turn > 0 ? 1 : -1;
    view_.lines.push_back({Ink::dimension, {between}});
    const double lag = plane::kArrow / r / 2;
    plane::arrow(view_, a, plane::polar(1, from + sign * lag - sign * pi / 2));
    plane::arrow(view_, b, plane::polar(1, from + turn - sign * lag + sign * pi / 2));
    angle_at_ = c + plane::polar(r, from + turn / 2);
  }

  /// In the strip at the left, under the ruler.
  void up_arrow() {
    const Vec2 foot{kMargin + kRulerLine, area_.low.y + kInset};
    plane::line(view_, Ink::dimension, foot, foot + Vec2{0, kUp});
    plane::arrow(view_, foot + Vec2{0, kUp}, {0, 1});
    const plane::Piece p = pen_.text(pen_.word("template_up"));
    put(view_, p, foot - Vec2{2 + p.below, 0}, pi / 2);
  }

  [[nodiscard]] std::vector<Vec2> on_peg_circle() const {
    constexpr int kAnchors = 12;
    std::vector<Vec2> all;
    for (int k = 0; k < kAnchors; ++k)
      all.push_back(pivot() + plane::polar(radius_, arc_from_ + (k + 0.5) / kAnchors * (arc_to_ - arc_from_)));
    return all;
  }
  void names() {
    plane::Callouts callouts(view_, pen_.scribe(), area_);
    const auto round = [&](Vec2 centre, double radius) {
      std::vector<Vec2> all;
      for (int k = 0; k < 12; ++k) all.push_back(at(centre) + plane::polar(radius, (k + 0.5) * pi / 6));
      return all;
    };
    // The page is empty but for the three points, so there is room; the notes say the same in words.
    const auto beside = [&](const std::string& words, const std::vector<Vec2>& anchors, Tip tip) {
      (void)callouts.beside(pen_.text(words), anchors, tip);
    };
    const std::string what =
        hole_.thread.empty() ? "⌀" + trimmed(hole_.diameter, 2) : hole_.thread + ", ⌀" + trimmed(drilled(), 2);
    if (angle_at_) beside(number(std::abs(turned()) * 180 / pi, 2) + "°", {*angle_at_}, Tip::none);
    beside(pen_.filled("template_new", {what}), round(hole_.new_hole, drilled() / 2), Tip::arrow);
    beside(pen_.filled("template_old", {hole_.old_name}), round(hole_.old_hole, hole_.old_diameter / 2), Tip::arrow);
    beside(pen_.word("template_pivot"), round(hole_.pivot, 2.5), Tip::arrow);
    beside(pen_.filled("template_circle", {mm(radius_)}), on_peg_circle(), Tip::arrow);
  }

  [[nodiscard]] std::string drill_words() const {
    const std::string depth = trimmed(hole_.depth, 2);
    if (hole_.thread.empty()) return pen_.filled("template_plain", {trimmed(hole_.diameter, 2), depth});
    return pen_.filled("template_drill", {trimmed(hole_.tap_drill, 2), hole_.thread, depth});
  }

  View notes(const Paper& paper, const std::string& title) {
    View view{"notes", pen_.word("notes"), {}, {}};
    const double top = kMargin + kWords - 2, foot = kMargin + kInset + 12;
    plane::line(view, Ink::table, {kMargin, kMargin + kWords}, {paper.width - kMargin, kMargin + kWords});
    const double width = paper.width - 2 * kMargin - 2 * kInset, gap = 6;
    const double half = (width - gap) / 2;
    const std::vector<std::string> metal{mm(hole_.ligament), mm(hole_.ligament_least)};
    Notes left(view, pen_, {kMargin + kInset, top}, half),
        right(view, pen_, {kMargin + kInset + half + gap, top}, half);
    left.paragraph(title, plane::kViewTitle);
    if (is_thin()) left.cautions({pen_.filled("template_thin", metal)});
    if (!hole_.belongs_to.empty())
      left.paragraph(plane::shortened(pen_.scribe().typeface(), hole_.belongs_to, kMostLines * half));
    left.paragraph(pen_.word("template_scale"));
    left.paragraph(pen_.word("template_side"));
    if (!is_thin()) left.paragraph(drill_words());
    left.paragraph(pen_.filled("template_turned", {number(std::abs(turned()) * 180 / pi, 2),
                                                   mm(plane::norm(hole_.new_hole - hole_.old_hole))}));
    if (!is_thin()) left.paragraph(pen_.filled("template_ligament", metal));
    right.cautions({pen_.word("template_caution_through"), pen_.word("template_caution_chips"),
                    pen_.word("template_caution_guard"), pen_.word("template_caution_practice")});
    right.paragraph(pen_.word("template_table_note"));
    std::vector<std::vector<std::string>> rows{
        {pen_.word("template_table_point"), pen_.word("template_table_x"), pen_.word("template_table_y")}};
    const auto point = [&](const std::string& name, Vec2 p) {
      rows.push_back({name, mm(p.x - hole_.pivot.x), mm(p.y - hole_.pivot.y)});
    };
    point(pen_.filled("template_old", {hole_.old_name}), hole_.old_hole);
    point(pen_.filled("template_new", {hole_.thread.empty() ? "⌀" + trimmed(hole_.diameter, 2) : hole_.thread}),
          hole_.new_hole);
    right.table("template_points", rows, 0, foot);
    return view;
  }

  const DrillTemplate& hole_;
  Pen pen_;
  double radius_ = 0, arc_from_ = 0, arc_to_ = 0;
  Box area_;
  Vec2 origin_;
  View view_;
  std::optional<Vec2> angle_at_;
};

}  // namespace

std::optional<plane::Page> drill_template_page(const DrillTemplate& hole, const PictureStyle& style) {
  return TemplatePage(hole, style).made();
}

}  // namespace groovewright::drive
