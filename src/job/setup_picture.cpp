#include "setup_picture.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "groovewright/base/shown.h"
#include "groovewright/base/trig.h"
#include "groovewright/plane/callouts.h"
#include "groovewright/plane/clip.h"

namespace groovewright::job {
namespace {

using plane::Ink;
using plane::Path;
using plane::Piece;
using plane::Polygon;
using plane::Vec2;
using plane::View;
using toolpath::Held;
using toolpath::Milling;
using toolpath::Turning;

constexpr double kCoarse = 0.02;                                      // how far a border may be off on paper
constexpr double kHatch = 2, kFixtureHatch = 3;                       // mm on paper
constexpr double kBelow = 23, kAside = 26, kOver = 10;                // room for dimensions and words
constexpr double kAxesOff = 15, kBeyond = kAxesOff + kAxisArrow + 4;  // the axes, right of all metal, and their letters
constexpr double kFixtureShown = 8;                                   // of what reaches on to the left

double off(Vec2 p, const std::vector<Path>& loops) {
  double d = std::numeric_limits<double>::infinity();
  for (const Path& l : loops) d = std::min(d, plane::distance(p, l));
  return d;
}
bool within(Vec2 p, const std::vector<Path>& loops) {
  int in = 0;
  for (const Path& l : loops) in += plane::contains(l, p) ? 1 : 0;
  return in % 2 == 1;
}

/// Points well inside the areas, the deepest first.
std::vector<Vec2> depths(const std::vector<Path>& loops) {
  constexpr int kGrid = 16;
  constexpr std::size_t kMost = 6;
  std::vector<std::pair<double, Vec2>> found;
  plane::Box box = plane::extents(loops.front());
  for (const Path& l : loops) {
    const plane::Box b = plane::extents(l);
    box.low = {std::min(box.low.x, b.low.x), std::min(box.low.y, b.low.y)};
    box.high = {std::max(box.high.x, b.high.x), std::max(box.high.y, b.high.y)};
  }
  for (int i = 0; i < kGrid; ++i) {
    for (int k = 0; k < kGrid; ++k) {
      const Vec2 p{box.low.x + box.width() * (i + 0.5) / kGrid, box.low.y + box.height() * (k + 0.5) / kGrid};
      if (within(p, loops)) found.emplace_back(off(p, loops), p);
    }
  }
  std::stable_sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<Vec2> out;
  for (std::size_t i = 0; i < std::min(kMost, found.size()); ++i) out.push_back(found[i].second);
  return out;
}

/// One clamping on the lathe at one scale.
class HalfSection {
 public:
  HalfSection(const Prepared& p, std::size_t turning, const Proof& proof, report::Units units,
              const plane::Scribe& scribe)
      : plan_(p.programs->plan),
        t_(plan_.turnings[turning]),
        units_(units),
        scribe_(scribe),
        stock_(proof.stocks[turning]) {
    for (const removal::Frame& f : proof.frames)
      if (f.clamping == turning) metal_ = f.metal;
  }

  Picture draw(double scale, double width, double height, bool& fits) {
    scale_ = scale;
    view_ = {"picture", "Half section in the clamping, chuck left", {}, {}};
    const plane::Box stock = plane::extents(plane::mapped(stock_, 1, t_.turned, {t_.shift, 0}));
    double left = stock.low.x, top = stock.high.y;
    for (const Path& k : t_.keep_out) left = std::min(left, plane::extents(k).high.x);
    left -= kFixtureShown / scale;
    clip(left);
    for (const Polygon& f : fixtures_)
      for (const Vec2 p : f) top = std::max(top, p.y);
    const double right = std::max(0.0, stock.high.x), wide = (right - left) * scale;
    fits = wide + kAside + kBeyond <= width && top * scale + kBelow + kOver <= height;
    at_ = {std::max(kAside, (width - wide - kBeyond) / 2) - left * scale, -kOver - top * scale};
    const double bottom = at_.y - (t_.held == Held::chuck ? kBelow : kBelow - 5);
    lines(left, right);
    dimensions(stock);
    fits = words({{0, bottom}, {width, 0}}) && fits;
    const Piece says = scribe_.text("Half section as it turns, chuck left, " + scale_words(scale));
    plane::put(view_, says, {0, bottom - says.above - 1});
    return {view_, scale, -bottom + says.above + says.below + 3};
  }

 private:
  [[nodiscard]] std::string size(double mm) const {
    const Shown s = shown(mm, "mm", units_);
    return s.value + " " + s.unit;
  }
  [[nodiscard]] Path of_part(const Path& p) const {
    return plane::mapped(p, scale_, t_.turned, at_ + Vec2{scale_ * t_.shift, 0});
  }
  [[nodiscard]] Path of_program(const Path& p) const { return plane::mapped(p, scale_, false, at_); }

  /// What holds the part, as far as it is drawn; pieces of a mandrel are one body.
  void clip(double left) {
    constexpr double kFar = 1e4;
    const std::vector<Polygon> window{{{left, 0}, {kFar, 0}, {kFar, kFar}, {left, kFar}}};
    std::vector<Polygon> all;
    for (const Path& k : t_.keep_out) all.push_back(plane::polyline(k, kCoarse));
    if (t_.held != Held::chuck) all = plane::united(plane::grown(all, 1e-3, 1e-3));
    fixtures_.clear();
    for (const Polygon& f : all) {
      for (Polygon& piece : plane::common({f}, window)) fixtures_.push_back(std::move(piece));
    }
  }

  void lines(double left, double right) {
    metal_paths_.clear(), fixture_paths_.clear();
    for (const Polygon& m : coarser(metal_, kCoarse / scale_)) metal_paths_.push_back(of_part(plane::run(m, true)));
    for (const Polygon& f : fixtures_) fixture_paths_.push_back(of_program(plane::run(f, true)));
    stock_path_ = of_part(plane::run(coarser({plane::polyline(stock_, kCoarse / scale_)}, kCoarse / scale_)[0], true));
    plane::hatch(view_, metal_paths_, kHatch);
    hatch_back(view_, fixture_paths_, kFixtureHatch);
    view_.lines.push_back({Ink::phantom, stock_path_});
    for (const Path& p : fixture_paths_) view_.lines.push_back({Ink::visible, p});
    for (const Path& p : metal_paths_) view_.lines.push_back({Ink::visible, p});
    plane::line(view_, Ink::centre, at_ + Vec2{scale_ * left - 3, 0}, at_ + Vec2{scale_ * right + 3, 0});
    zero(view_, at_);
    axes(view_, scribe_, at_ + Vec2{scale_ * right + kAxesOff, -5 - kAxisArrow}, "Z", "X");
  }

  void dimensions(const plane::Box& stock) {
    constexpr double kFirst = 7, kNext = 7;
    const auto measure = [&](double from, double to, double row) {
      level_dimension(view_, scribe_, at_.x + scale_ * from, at_.x + scale_ * to, at_.y, at_.y - row, size(to - from),
                      row < kFirst + kNext);
    };
    if (t_.held == Held::chuck) {
      const double jaws = plane::extents(t_.keep_out.front()).high.x;
      measure(stock.low.x, jaws, kFirst + kNext);
      measure(jaws, stock.high.x, kFirst);
    } else {
      measure(plane::extents(t_.keep_out.front()).high.x, 0, kFirst);
    }
  }

  /// Points on the stock's border that neither metal nor fixture touches.
  [[nodiscard]] std::vector<Vec2> on_stock() const {
    constexpr double kApart = 0.3, kOffAxis = 6;
    std::vector<Vec2> free;
    for (const plane::Edge& e : stock_path_) {
      for (const double t : {0.5, 0.25, 0.75, 0.1, 0.9}) {
        const Vec2 p = e.at(t);
        if (p.y > at_.y + kOffAxis && off(p, metal_paths_) > kApart && off(p, fixture_paths_) > kApart &&
            !within(p, fixture_paths_))
          free.push_back(p);
      }
    }
    return free;
  }

  bool words(const plane::Box& area) {
    plane::Callouts callouts(view_, scribe_, area);
    bool all = true;
    const auto say = [&](const std::string& what, const std::vector<Vec2>& anchors, plane::Tip tip) {
      if (!anchors.empty()) all = callouts.beside(scribe_.text(what), anchors, tip) && all;
    };
    say("zero", on_ring(at_), plane::Tip::arrow);
    if (t_.held == Held::chuck) {
      const double jaws = plane::extents(t_.keep_out.front()).high.x, r = t_.grip_diameter / 2;
      std::vector<Vec2> gripped;
      for (const double part : {0.5, 0.3, 0.7}) gripped.push_back(at_ + scale_ * Vec2{jaws - part * t_.grip_length, r});
      say("grip D " + size(t_.grip_diameter), gripped, plane::Tip::arrow);
      for (std::size_t i = 0; i < fixture_paths_.size(); ++i)
        say(i == 0 ? "jaw" : "chuck", depths({fixture_paths_[i]}), plane::Tip::dot);
    } else {
      say(t_.held == Held::mandrel ? "mandrel" : "plug", depths(fixture_paths_), plane::Tip::dot);
    }
    say("stock", on_stock(), plane::Tip::arrow);
    say("metal left", depths(metal_paths_), plane::Tip::dot);
    return all;
  }

  const toolpath::Plan& plan_;
  const Turning& t_;
  report::Units units_;
  const plane::Scribe& scribe_;
  const Path& stock_;
  std::vector<Polygon> metal_, fixtures_;
  View view_;
  double scale_ = 1;
  Vec2 at_;  ///< the zero on paper
  std::vector<Path> metal_paths_, fixture_paths_;
  Path stock_path_;
};

/// Radii of the edges that are seen on a face: the ends of walls square to the axis with no metal over them.
std::vector<double> seen_radii(const Path& section, bool rear_up) {
  const auto height = [&](double z) { return rear_up ? -z : z; };
  const auto top = [&](double r) {
    double most = -std::numeric_limits<double>::infinity();
    for (const plane::Edge& e : section) {
      if (std::min(e.a.y, e.b.y) < r && r < std::max(e.a.y, e.b.y))
        most = std::max({most, std::min(height(e.a.x), height(e.b.x))});
    }
    return most;
  };
  std::vector<double> out{plane::outermost(section)};
  constexpr double kSame = 1e-6;
  for (const plane::Edge& e : section) {
    if (e.is_arc() || std::abs(e.a.x - e.b.x) > kSame || std::abs(e.a.y - e.b.y) < 0.5) continue;
    if (top((e.a.y + e.b.y) / 2) > height(e.a.x) + kSame) continue;
    for (const double r : {e.a.y, e.b.y})
      if (r > kSame && std::none_of(out.begin(), out.end(), [&](double o) { return std::abs(o - r) < kSame; }))
        out.push_back(r);
  }
  return out;
}

Picture face_at(double scale, bool& fits, const Prepared& p, const Milling& m, const std::vector<NumberedHole>& holes,
                const plane::Scribe& scribe, double width, double height) {
  constexpr double kRound = 8;
  View view{"picture", "The face that is up", {}, {}};
  const Path& section = p.section.body.section;
  const double r = scale * plane::outermost(section);
  fits = 2 * (r + kRound) <= width && 2 * (r + kRound) <= height;
  const Vec2 middle{width / 2, -r - kRound};
  for (const double s : seen_radii(section, m.rear_up))
    view.lines.push_back({Ink::visible, plane::circle(middle, scale * s)});
  plane::line(view, Ink::centre, middle - Vec2{r + 3, 0}, middle + Vec2{r + 3, 0});
  plane::line(view, Ink::centre, middle - Vec2{0, r + 3}, middle + Vec2{0, r + 3});
  for (const NumberedHole& h : holes) {
    const Vec2 at = middle + scale * h.at;
    const double wide = scale * plane::widest(*h.hole), bore = scale * h.hole->profile.back().y;
    view.lines.push_back({Ink::visible, plane::circle(at, wide)});
    if (h.hole->through && bore > 0 && bore < wide - 1e-6)
      view.lines.push_back({Ink::visible, plane::circle(at, bore)});
  }
  zero(view, middle);
  const double bottom = middle.y - r - kRound;
  axes(view, scribe, {2, bottom + 2}, "X", "Y");
  plane::Callouts callouts(view, scribe, {{0, bottom}, {width, 0}});
  for (const NumberedHole& h : holes) {
    const Vec2 at = middle + scale * h.at;
    const double reach = scale * plane::widest(*h.hole) + 2.4;
    const double out = atan2_of(h.at.y, h.at.x);
    std::vector<Vec2> middles;
    for (const double more : {0.0, 1.0, 2.0}) {
      for (int k = 0; k < 16; ++k) {
        const int step = (k + 1) / 2;  // to both sides in turn
        middles.push_back(at + plane::polar(reach + more, out + (k % 2 == 0 ? step : -step) * std::numbers::pi / 8));
      }
    }
    const Piece number = scribe.text(std::to_string(h.number));
    fits = (callouts.inside(number, middles) || callouts.beside(number, {at}, plane::Tip::dot)) && fits;
  }
  const Piece says = scribe.text(
      std::string(m.rear_up ? "Rear" : "Front") + " face up, as it is seen, 12 o'clock up, " + scale_words(scale),
      plane::kLetters);
  plane::put(view, says, {0, bottom - says.above});
  return {view, scale, -bottom + says.above + says.below + 2};
}

}  // namespace

Picture turning_picture(const Prepared& prepared, std::size_t turning, const Proof& proof, report::Units units,
                        const plane::Scribe& scribe, double width, double height) {
  HalfSection section(prepared, turning, proof, units, scribe);
  return at_best_scale(scribe, [&](double s, bool& fits) { return section.draw(s, width, height, fits); });
}

std::vector<NumberedHole> numbered_holes(const Prepared& prepared, const Milling& milling, const nc::Trace& trace) {
  constexpr double kPlaced = 0.005;
  std::vector<NumberedHole> out;
  for (const nc::Move& move : trace.moves) {
    if (move.kind == nc::Move::Kind::rapid || move.to.z >= move.from.z) continue;
    for (const plane::RoundHole& h : prepared.section.body.holes) {
      const Vec2 at{milling.rear_up ? -h.at.x : h.at.x, h.at.y};
      const bool known = std::any_of(out.begin(), out.end(), [&](const NumberedHole& o) { return o.hole == &h; });
      if (!known && plane::norm(Vec2{move.to.x, move.to.y} - at) < kPlaced)
        out.push_back({static_cast<int>(out.size()) + 1, &h, at});
    }
  }
  return out;
}

Picture milling_picture(const Prepared& prepared, const Milling& milling, const std::vector<NumberedHole>& holes,
                        const plane::Scribe& scribe, double width, double height) {
  return at_best_scale(
      scribe, [&](double s, bool& fits) { return face_at(s, fits, prepared, milling, holes, scribe, width, height); });
}

}  // namespace groovewright::job
