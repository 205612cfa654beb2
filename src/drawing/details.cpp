#include <algorithm>
#include <cmath>
#include <numbers>

#include "blocks.h"
#include "groovewright/base/trig.h"
#include "groovewright/plane/labels.h"
#include "spans.h"
#include "stack.h"

namespace groovewright::drawing {
namespace {

using part::Part;
using part::Side;
using plane::Edge;
using plane::Ink;
using plane::Label;
using plane::Path;
using plane::Tip;
using plane::Vec2;
using plane::View;
using section::Kind;

/// Size on paper that a detail is drawn for, mm.
constexpr double kGrooveWidth = 66, kFlangeWidth = 34, kHeight = 52;
constexpr double kHatchStep = 3;

/// The metal within the box, as closed paths.
std::vector<Path> within(const Path& section, const std::array<Limit, 4>& borders) {
  std::vector<Path> pieces{section};
  for (const Limit& border : borders) {
    std::vector<Path> left;
    for (const Path& piece : pieces) {
      for (Path& p : clipped(piece, border)) left.push_back(std::move(p));
    }
    pieces = std::move(left);
  }
  return pieces;
}

/// A freehand break line (ISO 128-2, 01.1.18) from a to b.
void break_line(View& view, Vec2 a, Vec2 b) {
  const double length = plane::norm(b - a);
  if (length < 0.5) return;
  const Vec2 along = (1 / length) * (b - a), across{-along.y, along.x};
  const int steps = std::max(6, static_cast<int>(length / 0.7));
  Path path;
  Vec2 last = a;
  for (int i = 1; i <= steps; ++i) {
    const double t = static_cast<double>(i) / steps;
    const Vec2 next =
        a + t * length * along + 0.5 * sin_of(t * std::numbers::pi * std::max(2.0, std::round(length / 6))) * across;
    path.push_back(plane::straight(last, next));
    last = next;
  }
  view.lines.push_back({Ink::dimension, path});
}

/// A window of the section on paper: (0, 0) is its middle.
class Window {
 public:
  Window(const Subject& s, const Box& box, double scale) : s_(s), box_(box), scale_(scale) {
    middle_ = 0.5 * (box.low + box.high);
  }
  [[nodiscard]] Vec2 at(Vec2 p) const {
    return scale_ * Vec2{(s_.first_angle ? -1 : 1) * (p.x - middle_.x), p.y - middle_.y};
  }
  [[nodiscard]] double scale() const { return scale_; }
  [[nodiscard]] Box paper() const {
    const Vec2 half = 0.5 * scale_ * (box_.high - box_.low);
    return {-1.0 * half, half};
  }

  /// Metal ends at the window's border in break lines.
  void draw(View& view) const {
    const std::array<Limit, 4> borders{Limit{&Vec2::x, box_.low.x, true}, Limit{&Vec2::x, box_.high.x, false},
                                       Limit{&Vec2::y, box_.low.y, true}, Limit{&Vec2::y, box_.high.y, false}};
    const std::vector<Path> metal = within(s_.section.body.section, borders);
    std::vector<Path> on_paper;
    for (const Path& p : metal) on_paper.push_back(moved(p));
    hatch(view, on_paper, kHatchStep);
    for (const Path& p : metal) {
      for (const Edge& e : p) {
        const bool is_border =
            std::any_of(borders.begin(), borders.end(), [&](const Limit& l) { return lies_on(e, l); });
        if (is_border) {
          break_line(view, at(e.a), at(e.b));
        } else {
          view.lines.push_back({Ink::visible, moved({e})});
        }
      }
    }
  }

 private:
  [[nodiscard]] Path moved(const Path& p) const { return mapped(p, scale_, s_.first_angle, at({0, 0})); }

  const Subject& s_;
  Box box_;
  double scale_;
  Vec2 middle_;
};

double detail_scale(const Box& window, double width) {
  return std::max(1.0, series_scale(std::min({20.0, width / window.width(), kHeight / window.height()})));
}

std::string view_id(const std::string& letter) {
  return "detail_" + std::string(1, static_cast<char>(letter[0] - 'A' + 'a'));
}

class GrooveDetail {
 public:
  GrooveDetail(const Subject& s, std::size_t rim, std::string letter)
      : s_(s),
        rim_(s.part.rims[rim]),
        index_(rim),
        id_(Part::prefix(rim)),
        window_(s, box(), detail_scale(box(), kGrooveWidth)) {
    out_.letter = std::move(letter), out_.window = box();
    out_.view.id = view_id(out_.letter), out_.view.title = s.voice.filled("groove_detail", {out_.letter});
  }

  Detail made() {
    window_.draw(out_.view);
    centre_lines();
    ball();
    angle();
    spans();
    add_labels();
    add_title(out_.view, out_.letter + " (" + scale_text(window_.scale()) + ")", s_.voice.scribe());
    return std::move(out_);
  }

 private:
  [[nodiscard]] double z(int k) const { return s_.part.groove_z(index_, k); }
  [[nodiscard]] double crest() const { return rim_.outside_diameter() / 2; }
  [[nodiscard]] int shown() const { return std::min(rim_.grooves, 2); }
  [[nodiscard]] double outer_end() const { return z(0) - rim_.edge_distance.value; }

  [[nodiscard]] Box box() const {
    const double depth = rim_.groove_depth(), pitch = rim_.groove.pitch.value;
    const double beyond = rim_.rear ? 0.55 * rim_.rear->thickness.value + 0.3 : 0.35;
    // Of a tall flange only the foot: it has a detail of its own.
    const double top = rim_.rear ? std::min(rim_.rear->diameter.value / 2, crest() + 0.5 * depth) : crest();
    return {{outer_end() - beyond, crest() - 1.4 * depth},
            {z(shown() - 1) + (rim_.grooves > 2 ? 0.75 : 0.62) * pitch, top + 0.15 * depth}};
  }

  void centre_lines() {
    for (int k = 0; k < shown(); ++k) {
      line(out_.view, Ink::centre, window_.at({z(k), crest() - 1.25 * rim_.groove_depth()}),
           window_.at({z(k), crest()}));
    }
  }
  void ball() {
    const double r = rim_.groove.ball_diameter.value / 2;
    ball_ = window_.at({z(0), rim_.over_balls() / 2 - r});
    ball_radius_ = r * window_.scale();
    out_.view.lines.push_back({Ink::phantom, plane::circle(ball_, ball_radius_)});
  }
  /// The included angle between the extended flanks of the last groove shown.
  void angle() {
    const int k = shown() - 1;
    const double half = rim_.groove.angle.half().rad();
    const double sharp_root = rim_.apex_diameter() / 2 - part::sharp_height(rim_.form());
    const Vec2 point = window_.at({z(k), sharp_root});
    const double radius = (crest() - sharp_root) * window_.scale() / cos_of(half) + 4;
    arc_top_ = point.y + radius;
    Edge arc{point + radius * Vec2{sin_of(half), cos_of(half)}, point + radius * Vec2{-sin_of(half), cos_of(half)},
             Edge::Turn::ccw, point};
    out_.view.lines.push_back({Ink::dimension, {arc}});
    for (const double side : {1.0, -1.0}) {
      const Vec2 out{side * sin_of(half), cos_of(half)};
      line(out_.view, Ink::dimension, point + (radius - 3) * out, point + (radius + 2) * out);
      // The arrow lies along the chord of its own length.
      const double lean = half - kArrow / 2 / radius;
      arrow(out_.view, point + radius * out, {side * cos_of(lean), -sin_of(lean)});
    }
    for (const double share : {0.5, -0.5, 0.2, -0.2}) {
      arc_points_.push_back(point + radius * Vec2{sin_of(share * half), cos_of(share * half)});
    }
  }

  void spans() {
    std::vector<SizeLine> above;
    const double top = window_.at({0, crest()}).y;
    const auto span = [&](double z1, double z2, Piece text) {
      double a = window_.at({z1, 0}).x, b = window_.at({z2, 0}).x;
      if (a > b) std::swap(a, b);
      above.push_back({a, b, top, top, std::move(text), "", true});
    };
    span(outer_end(), z(0), size("edge_distance"));
    if (rim_.grooves > 1) {
      span(z(0), z(1), row({size("groove_pitch"), s_.voice.text(sum())}, 1));
    }
    const double edge = std::max(window_.paper().high.y, arc_top_);
    stack(out_.view, std::move(above), Beside::above, edge - 4, s_.voice.scribe());
  }
  [[nodiscard]] std::string sum() const {
    const Dimension* row = find(s_.rows, id_ + "groove_pitch_sum");
    return row == nullptr || !row->upper ? "" : s_.voice.filled("pitch_sum", {s_.voice.length(*row->upper)});
  }
  [[nodiscard]] Piece size(const std::string& key, const Marks& marks = {}) const {
    return s_.voice.size(at(s_.rows, id_ + key), marks);
  }

  /// Points of the drawn outline of a kind, by tag; fractions of each edge's length.
  [[nodiscard]] std::vector<Vec2> on(Kind kind, int groove, std::initializer_list<double> fractions) const {
    std::vector<Vec2> points;
    for (std::size_t i = 0; i < s_.section.tags.size(); ++i) {
      const section::Tag& t = s_.section.tags[i];
      if (t.kind != kind || t.rim != static_cast<int>(index_) || (groove >= 0 && t.groove != groove)) continue;
      for (const double f : fractions) {
        const Vec2 p = s_.section.body.section[i].at(f);
        if (p.x > out_.window.low.x && p.x < out_.window.high.x && p.y > out_.window.low.y)
          points.push_back(window_.at(p));
      }
    }
    return points;
  }

  void add_labels() {
    const Voice& v = s_.voice;
    std::vector<Label> labels;
    labels.push_back({row({size("groove_angle"), v.text(v.word("included"))}, kSpace), arc_points_, Tip::none});
    labels.push_back({column({row({size("crest_radius", {"R"}), v.text(v.word("crest"))}, kSpace),
                              row({size("outside_diameter", {"⌀", "", true}), v.text(v.word("over_crests"))}, kSpace),
                              row({size("effective_diameter", {"⌀", "", true}), v.text(v.word("effective"))}, kSpace)}),
                      on(Kind::crest, -1, {0.35, 0.5, 0.65}), Tip::arrow});
    labels.push_back({row({size("root_radius", {"R"}), v.text(v.word("root"))}, kSpace),
                      on(Kind::root, -1, {0.3, 0.5, 0.7}), Tip::arrow});
    std::vector<Vec2> round;
    for (const double a : {0.3, 0.9, -0.3, 1.4, 2.0}) round.push_back(ball_ + plane::polar(ball_radius_, a));
    labels.push_back({row({size("ball_diameter", {"⌀"}), v.text(v.word("ball"))}, kSpace), round, Tip::arrow});
    std::vector<Piece> flank{
        row({v.scribe().roughness("Ra " + v.plain(at(s_.rows, id_ + "groove_roughness").value, "um")),
             v.text(v.word("flanks"))},
            kSpace)};
    for (const auto& [key, word] :
         {std::pair{"radial_runout_limit", "radial"}, std::pair{"axial_runout_limit", "axial"}}) {
      if (const Zone* zone = find_zone(s_.requirements, id_ + key)) {
        flank.push_back(row({v.frame(*zone), v.text(v.word(word))}, kSpace));
      }
    }
    labels.push_back({column(flank), on(Kind::flank, -1, {0.35, 0.5, 0.65}), Tip::arrow});
    label_column(out_.view, labels, extents(out_.view, v.scribe().typeface()).high.x + 6, 0, v.scribe());
  }

  const Subject& s_;
  const part::Rim& rim_;
  std::size_t index_;
  std::string id_;
  Window window_;
  Detail out_;
  Vec2 ball_;
  double ball_radius_ = 0, arc_top_ = 0;
  std::vector<Vec2> arc_points_;
};

class FlangeDetail {
 public:
  FlangeDetail(const Subject& s, std::size_t rim, Side side, std::string letter)
      : s_(s),
        rim_(s.part.rims[rim]),
        index_(rim),
        side_(side),
        flange_(*rim_.flange(side)),
        id_(Part::prefix(rim) + (side == Side::front ? "front" : "rear") + "_flange"),
        window_(s, box(), detail_scale(box(), kFlangeWidth)) {
    out_.letter = std::move(letter), out_.window = box();
    out_.view.id = view_id(out_.letter);
    out_.view.title = s.voice.filled("flange_detail", {out_.letter});
  }

  Detail made() {
    window_.draw(out_.view);
    const double r = flange_.diameter.value / 2;
    double a = window_.at({outer_face(), 0}).x, b = window_.at({inner_face(), 0}).x;
    if (a > b) std::swap(a, b);
    const double top = window_.at({0, r}).y;
    stack(out_.view, {{a, b, top, top, s_.voice.size(at(s_.rows, id_ + "_thickness")), "", true}}, Beside::above,
          window_.paper().high.y - 4, s_.voice.scribe());
    add_labels();
    add_title(out_.view, out_.letter + " (" + scale_text(window_.scale()) + ")", s_.voice.scribe());
    return std::move(out_);
  }

 private:
  [[nodiscard]] double outward() const { return side_ == Side::front ? 1 : -1; }
  /// The flange's outer face; its thickness is taken at its outside diameter.
  [[nodiscard]] double outer_face() const {
    const double rear = s_.part.rim_rear(index_);
    return side_ == Side::front ? rear + rim_.width() : rear;
  }
  [[nodiscard]] double inner_face() const { return outer_face() - outward() * flange_.thickness.value; }

  [[nodiscard]] Box box() const {
    const double groove = s_.part.groove_z(index_, side_ == Side::front ? rim_.grooves - 1 : 0);
    const double low = std::min(groove + outward() * 0.2 * rim_.edge_distance.value, outer_face() + outward() * 0.4),
                 high = std::max(groove + outward() * 0.2 * rim_.edge_distance.value, outer_face() + outward() * 0.4);
    return {{low, rim_.outside_diameter() / 2 - 0.8 * rim_.groove_depth()}, {high, flange_.diameter.value / 2 + 0.5}};
  }

  [[nodiscard]] std::vector<Vec2> on(std::initializer_list<Kind> kinds) const {
    std::vector<Vec2> points;
    for (std::size_t i = 0; i < s_.section.tags.size(); ++i) {
      const section::Tag& t = s_.section.tags[i];
      if (std::find(kinds.begin(), kinds.end(), t.kind) == kinds.end()) continue;
      for (const double f : {0.5, 0.25, 0.75}) {
        const Vec2 p = s_.section.body.section[i].at(f);
        const Box& w = out_.window;
        if (p.x > w.low.x && p.x < w.high.x && p.y > w.low.y && p.y < w.high.y) points.push_back(window_.at(p));
      }
    }
    return points;
  }

  void add_labels() {
    const Voice& v = s_.voice;
    std::vector<Label> labels;
    const auto add = [&](Piece piece, std::vector<Vec2> anchors) {
      if (!anchors.empty()) labels.push_back({std::move(piece), std::move(anchors), Tip::arrow});
    };
    std::vector<Piece> wall{row({v.size(at(s_.rows, id_ + "_lead_in")), v.text(v.word("lead_in"))}, kSpace)};
    if (const Zone* zone = find_zone(s_.requirements, id_ + "_runout")) wall.push_back(v.frame(*zone));
    add(column(wall), on({Kind::lead_in}));
    if (flange_.root_relief.value > 0) {
      add(row({v.size(at(s_.rows, id_ + "_relief"), {"R"}), v.text(v.word("relief"))}, kSpace), on({Kind::relief}));
    }
    if (flange_.edge_break.value > 0) {
      add(v.text("2× " + v.length(flange_.edge_break.value) + " × 45°"), on({Kind::edge_break}));
    }
    label_column(out_.view, labels, extents(out_.view, v.scribe().typeface()).high.x + 6, 0, v.scribe());
  }

  const Subject& s_;
  const part::Rim& rim_;
  std::size_t index_;
  Side side_;
  const part::Flange& flange_;
  std::string id_;
  Window window_;
  Detail out_;
};

bool alike(const part::Rim& a, const part::Rim& b) {
  return a.groove.id == b.groove.id && a.crest_radius.value == b.crest_radius.value &&
         a.root_radius.value == b.root_radius.value && a.edge_distance.value == b.edge_distance.value;
}
bool alike(const part::Flange& a, const part::Flange& b) {
  return a.thickness.value == b.thickness.value && a.lead_in == b.lead_in &&
         a.root_relief.value == b.root_relief.value && a.edge_break.value == b.edge_break.value;
}

}  // namespace

std::vector<Detail> details(const Subject& s) {
  std::vector<Detail> out;
  const auto letter = [&] { return std::string(1, kDetailLetters[out.size()]); };
  for (std::size_t i = 0; i < s.part.rims.size(); ++i) {
    const auto before = s.part.rims.begin() + static_cast<std::ptrdiff_t>(i);
    if (std::any_of(s.part.rims.begin(), before, [&](const part::Rim& r) { return alike(r, *before); })) continue;
    out.push_back(GrooveDetail(s, i, letter()).made());
  }
  std::vector<const part::Flange*> drawn;
  for (std::size_t i = 0; i < s.part.rims.size(); ++i) {
    for (const Side side : {Side::front, Side::rear}) {
      const auto& flange = s.part.rims[i].flange(side);
      if (!flange || std::any_of(drawn.begin(), drawn.end(), [&](const part::Flange* f) { return alike(*f, *flange); }))
        continue;
      drawn.push_back(&*flange);
      out.push_back(FlangeDetail(s, i, side, letter()).made());
    }
  }
  return out;
}

}  // namespace groovewright::drawing
