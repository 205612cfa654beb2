#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"
#include "groovewright/drive/pictures.h"
#include "groovewright/plane/callouts.h"
#include "groovewright/spec.h"
#include "picture_belt.h"
#include "picture_page.h"
#include "picture_parts.h"

namespace groovewright::drive {
namespace {

using plane::Box;
using plane::Edge;
using plane::Ink;
using plane::Path;
using plane::Piece;
using plane::Tip;
using plane::View;
using std::numbers::pi;

constexpr double kColumn = 108, kAround = 8;
/// Lengths of words are bounded by so many lines of the column.
constexpr double kMostLines = 2.6, kMostOfGap = 1.8;
/// 1:100 for what ISO 5455's last scale here does not hold.
constexpr double kLeastScale = 0.01;
/// On paper: middles of one idler that are told from each other.
constexpr double kApart = 0.5;

std::string mm(double v) { return number(v, 1); }
std::string degrees(double rad) { return number(rad * 180 / pi, 1) + "°"; }

struct Grown {
  Box box{{1e300, 1e300}, {-1e300, -1e300}};
  void see(Vec2 p, double radius = 0) {
    box.low = {std::min(box.low.x, p.x - radius), std::min(box.low.y, p.y - radius)};
    box.high = {std::max(box.high.x, p.x + radius), std::max(box.high.y, p.y + radius)};
  }
};

class LayoutPage {
 public:
  LayoutPage(const Drive& drive, const LayoutOptions& options, const PictureStyle& style)
      : drive_(drive), options_(options), pen_(style), course_(course(drive)) {
    if (drive.tensioner) position_ = options.installed.value_or(drive.tensioner->free);
    if (drive.tensioner) course_.rounds[course_.idler].centre = idler_centre(*drive.tensioner, *position_);
    belt_ = laid_belt(drive, position_);
  }

  plane::Page made() {
    choose_paper();
    const std::string title =
        pen_.filled("drive_layout_title", {options_.title.empty() ? drive_.name : options_.title});
    plane::Page page = empty_page(*paper_, title, pen_.filled("drive_layout_description", {drive_.name, scale_name_}));
    page.scale = scale_;
    view_ = {"layout", title, {}, {}};
    Parts parts(view_, drive_, {scale_, origin_});
    for (const Obstacle& o : drive_.obstacles) parts.obstacle(o);
    if (drive_.tensioner) {
      others_ = other_positions(*drive_.tensioner, *position_, options_.clearances, kApart / scale_);
      parts.tensioner(*drive_.tensioner, *position_, others_);
    }
    for (std::size_t i = 0; i < course_.size(); ++i) parts.pulley(course_, i);
    if (belt_) parts.belt(*belt_);
    for (const ClearanceMark& m : options_.clearances) parts.mark(m);
    names();
    page.views.push_back(std::move(view_));
    page.views.push_back(notes(title));
    return page;
  }

 private:
  // ---- place ----

  [[nodiscard]] Box extents() const {
    Grown g;
    const double back = drive_.belt.back();
    for (std::size_t i = 0; i < course_.size(); ++i) {
      const Pulley& p = pulley_at(drive_, course_, i);
      g.see(course_.rounds[i].centre, std::max({p.body_radius(), course_.rounds[i].radius + back, p.radius}));
    }
    if (drive_.tensioner) {
      const Tensioner& t = *drive_.tensioner;
      for (const double at : {t.free, t.far_stop(), t.near_stop()}) {
        g.see(idler_centre(t, at), std::max(t.idler.body_radius(), line_radius(drive_.belt, t.idler)));
      }
      g.see(t.pivot, t.arm_half_width);
      if (!t.slides()) {
        for (const Vec2 p : plane::polyline({swing(t)}, 1)) g.see(p);
      }
      if (t.peg) g.see(peg_at(t), t.peg->diameter / 2);
    }
    for (const Obstacle& o : drive_.obstacles) {
      if (o.radius > 0) g.see(o.centre, o.radius);
      for (const Vec2 p : o.polygon) g.see(p);
    }
    for (const ClearanceMark& m : options_.clearances) {
      g.see(m.a), g.see(m.b);
      if (m.position) g.see(idler_centre(*drive_.tensioner, *m.position), drive_.tensioner->idler.outside);
    }
    return g.box;
  }

  void choose_paper() {
    const Box box = extents();
    for (const Paper* paper : {&kA4Lying, &kA3Lying}) {
      const double wide = paper->width - 2 * kMargin - kColumn - 2 * kInset, high = paper->height - 2 * kMargin;
      const double most = std::min((wide - 2 * kAround) / box.width(), (high - 2 * kAround) / box.height());
      double scale = kLeastScale;
      std::string name = "1:100";
      for (const auto& s : spec::kScales) {
        if (s.value > most) continue;
        scale = s.value, name = s.name;
        break;
      }
      if (paper_ != nullptr && scale <= scale_) continue;
      paper_ = paper, scale_ = scale, scale_name_ = name;
      area_ = {{kMargin, kMargin}, {kMargin + wide, kMargin + high}};
    }
    origin_ = 0.5 * (area_.low + area_.high) - 0.5 * scale_ * (box.low + box.high);
  }

  [[nodiscard]] Vec2 at(Vec2 p) const { return origin_ + scale_ * p; }

  // ---- words ----

  /// Places of the rounds in belt order from the driver on.
  [[nodiscard]] std::size_t nth(std::size_t k) const { return (course_.driver + k) % course_.size(); }

  [[nodiscard]] std::vector<Vec2> around(Vec2 centre, double radius) const {
    std::vector<Vec2> all;
    for (int k = 0; k < 12; ++k) all.push_back(at(centre + plane::polar(radius, (k + 0.5) * pi / 6)));
    return all;
  }

  void names() {
    plane::Callouts callouts(view_, pen_.scribe(), area_);
    const auto beside = [&](const std::string& words, const std::vector<Vec2>& anchors, Tip tip) {
      if (!callouts.beside(pen_.text(words), anchors, tip)) unnamed_.push_back(words);
    };
    // A gap's figure has one place only; names may go round what they name.
    for (const ClearanceMark& m : options_.clearances) {
      if (!m.text.empty()) beside(m.text, {at(0.5 * (m.a + m.b))}, Tip::none);
    }
    for (std::size_t k = 0; k < course_.size(); ++k) {
      const std::size_t i = nth(k);
      const Pulley& p = pulley_at(drive_, course_, i);
      const std::string figure = std::to_string(k + 1), words = figure + " " + p.name;
      if (callouts.inside(pen_.text(words), within(i))) continue;
      if (!callouts.beside(pen_.text(words), around(course_.rounds[i].centre, p.outside), Tip::arrow))
        beside(figure, around(course_.rounds[i].centre, p.outside), Tip::arrow);
    }
    if (drive_.tensioner) {
      const Tensioner& t = *drive_.tensioner;
      for (const double p : others_)
        beside(position_words(drive_, p, pen_), around(idler_centre(t, p), t.idler.outside), Tip::arrow);
      const std::string pivot = pen_.filled("drive_pivot", {t.name});
      if (!t.slides() && !callouts.beside(pen_.text(pivot), {at(t.pivot)}, Tip::none))
        beside(pen_.word("drive_pivot_alone"), {at(t.pivot)}, Tip::none);
      if (t.peg)
        beside(pen_.word("drive_peg") + " " + t.peg->thread, around(peg_at(t), t.peg->diameter / 2), Tip::arrow);
    }
    for (const Obstacle& o : drive_.obstacles) beside(o.name, spots_on(o), Tip::dot);
  }
  /// Where a name may stand within a pulley: under its middle.
  [[nodiscard]] std::vector<Vec2> within(std::size_t i) const {
    std::vector<Vec2> all;
    const Vec2 c = at(course_.rounds[i].centre);
    const int room = static_cast<int>(scale_ * free_radius(drive_, course_, i));
    for (int down = 4; down < room; ++down) all.push_back(c - Vec2{0, 1.0 * down});
    return all;
  }
  [[nodiscard]] std::vector<Vec2> spots_on(const Obstacle& o) const {
    if (o.radius > 0) return {at(o.centre)};
    const Path outline = plane::run(o.polygon, true);
    std::vector<Vec2> all;
    Vec2 middle;
    for (const Vec2 p : o.polygon) middle = middle + (1.0 / static_cast<double>(o.polygon.size())) * p;
    if (plane::contains(outline, middle)) all.push_back(at(middle));
    // A hollow shape has its middle outside; a side's middle, a little inwards, is always on it.
    for (const Edge& e : outline) {
      const Vec2 way = e.tangent_at(0), in = std::min(1.0, 0.1 * e.length()) * Vec2{-way.y, way.x};
      for (const Vec2 p : {e.at(0.5) + in, e.at(0.5) - in}) {
        if (plane::contains(outline, p)) all.push_back(at(p));
      }
    }
    return all;
  }

  // ---- notes ----

  [[nodiscard]] std::vector<std::vector<std::string>> table_rows() const {
    std::vector<std::vector<std::string>> rows{{pen_.word("table_number"), pen_.word("drive_part"),
                                                pen_.word("drive_diameter"), pen_.word("drive_wrap"),
                                                pen_.word("drive_span")}};
    for (std::size_t k = 0; k < course_.size(); ++k) {
      const std::size_t i = nth(k);
      const Pulley& p = pulley_at(drive_, course_, i);
      std::string wrap = "-", span = "-";
      for (std::size_t j = 0; belt_ && j < belt_->course.size(); ++j) {
        if (belt_->course.pulley[j] != course_.pulley[i]) continue;
        wrap = degrees(belt_->route.wraps[j]), span = mm(belt_->route.spans[j].length);
      }
      rows.push_back({std::to_string(k + 1), p.name, mm(2 * p.radius), wrap, span});
    }
    return rows;
  }

  View notes(const std::string& title) {
    View view{"notes", pen_.word("notes"), {}, {}};
    const double left = paper_->width - kMargin - kInset - kColumn, foot = kMargin + kInset;
    Notes n(view, pen_, {left, paper_->height - kMargin - kInset}, kColumn);
    plane::line(view, Ink::table, {left - kInset, kMargin}, {left - kInset, paper_->height - kMargin});
    n.title(plane::shortened(pen_.scribe().typeface(), title, kMostLines * kColumn, kTitleLetters));
    n.paragraph(pen_.filled("drive_seen", {scale_name_}));
    const Belt& b = drive_.belt;
    if (belt_)
      n.paragraph(pen_.filled("drive_belt", {b.section, std::to_string(b.ribs), mm(belt_->route.length)}));
    else
      n.paragraph(pen_.word("drive_not_laid"));
    if (belt_ && !belt_->missed.empty()) {
      std::vector<std::string> missed;
      for (const std::size_t p : belt_->missed)
        missed.push_back(p == kNone ? drive_.tensioner->idler.name : drive_.pulleys[p].name);
      n.paragraph(plane::shortened(pen_.scribe().typeface(), pen_.filled("drive_passes", {listed(missed)}),
                                   kMostLines * kColumn));
    }
    if (drive_.tensioner) n.paragraph(tensioner_words(*drive_.tensioner));
    n.paragraph(pen_.word("drive_lines"));
    gaps(n);
    if (!unnamed_.empty()) {
      n.paragraph(plane::shortened(pen_.scribe().typeface(), pen_.filled("drive_unnamed", {listed(unnamed_)}),
                                   kMostLines * kColumn));
    }
    const std::vector<std::string> cautions{pen_.word("drive_caution_belt"), pen_.word("drive_caution_practice")};
    const double ruler_room = 22, warned = cautions_height(pen_, cautions, kColumn);
    n.table("drive_table", table_rows(), 1, foot + ruler_room + warned + kInset);
    Notes below(view, pen_, {left, foot + ruler_room + warned}, kColumn);
    below.cautions(cautions);
    const Piece check = pen_.text(pen_.word("drive_ruler_check"), plane::kSmallLetters);
    put(view, check, {left + 3, foot + check.below});
    ruler(view, pen_, {left + 3, foot + check.above + check.below + 1}, {1, 0},
          pen_.filled("drive_ruler", {trimmed(kRuler / scale_, 2)}));
    return view;
  }
  void gaps(Notes& n) {
    const auto tells = [](const ClearanceMark& m) { return !m.says.empty(); };
    if (std::none_of(options_.clearances.begin(), options_.clearances.end(), tells)) return;
    n.paragraph(pen_.word(drive_.tensioner ? "drive_gaps_swing" : "drive_gaps"));
    for (const ClearanceMark& m : options_.clearances) {
      if (tells(m)) n.paragraph(plane::shortened(pen_.scribe().typeface(), m.says, kMostOfGap * kColumn));
    }
  }
  [[nodiscard]] std::string tensioner_words(const Tensioner& t) const {
    if (!options_.installed) return pen_.filled("drive_not_installed", {t.name});
    const auto way = [&](double v) { return t.slides() ? mm(v) + " mm" : degrees(v); };
    return pen_.filled("drive_installed",
                       {t.name, way(std::abs(*position_ - t.free)), way(std::abs(t.far_stop() - *position_))});
  }

  const Drive& drive_;
  const LayoutOptions& options_;
  Pen pen_;
  Course course_;
  std::optional<double> position_;
  std::optional<LaidBelt> belt_;
  const Paper* paper_ = nullptr;
  double scale_ = 1;
  std::string scale_name_;
  Box area_;
  Vec2 origin_;
  View view_;
  std::vector<double> others_;  ///< positions of the tensioner that are drawn besides
  std::vector<std::string> unnamed_;
};

}  // namespace

plane::Page layout_page(const Drive& drive, const LayoutOptions& options, const PictureStyle& style) {
  return LayoutPage(drive, options, style).made();
}

}  // namespace groovewright::drive
