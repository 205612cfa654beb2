#include "groovewright/plane/chart.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "chart_range.h"
#include "end_names.h"
#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/plane/callouts.h"

namespace groovewright::plane {
namespace {

constexpr double kTick = 1.2, kPad = 1, kUnderTick = 1.3;
/// What the topmost tick's figure reaches above the plot.
constexpr double kOverTicks = 1.2;
/// Between the plot and the first label above.
constexpr double kUnderFlags = 1;
/// Names take no more of the width than this.
constexpr double kMostForNames = 0.35;
/// Nor labels above more of the height.
constexpr double kMostForLanes = 0.4;
constexpr double kHatchStep = 2.2, kRing = 0.9;
/// Least distance of ticks, for the eye.
constexpr double kApartX = 12, kApartY = 8;
constexpr int kMostApart = 40;  // steps of 4 mm

/// A label above the plot, at the right of its upright line.
struct Flag {
  std::size_t limit = 0;
  double x = 0;
  std::string text;
  int lane = -1;  ///< -1: no label
};
constexpr double kFlagGaps = 1.8;

class Drawn {
 public:
  Drawn(const Chart& data, double width, double height, const Scribe& scribe, const Margins& least)
      : data_(data), width_(width), height_(height), scribe_(scribe), least_(least), left_(least.left) {
    require(width >= 80 && height >= 50, "chart: too small");
    view_.id = data.id, view_.title = data.title;
    range_x_ = data_range(data, true), range_y_ = data_range(data, false);
  }

  Margins margins() {
    lay_out();
    return {left_, width_ - right_};
  }

  View made() {
    lay_out();
    grid();
    for (const Band& b : data_.bands) band(b);
    for (const LimitLine& l : data_.limits) limit(l);
    for (const Series& s : data_.series) curve(s);
    axes();
    names();
    flags();
    spots();
    return std::move(view_);
  }

 private:
  [[nodiscard]] const Typeface& typeface() const { return scribe_.typeface(); }

  [[nodiscard]] double widest(const Ticks& t) const {
    double w = 0;
    for (const long k : {t.first, t.last})
      w = std::max(w, text_width(typeface(), number(t.at(k), t.decimals), kLetters));
    return w;
  }

  void lay_out() {
    bottom_ = kPad + kLinePitch + (data_.x.ticks ? kTick + kUnderTick + kLinePitch : 0.5 * kLinePitch);
    collect_names();
    double names = 4;
    for (const EndName& n : names_) {
      names = std::max(names, text_width(typeface(), n.text, kLetters) + kEndLead + kEndGap);
    }
    // Labels above take height, which thins the ticks, whose labels take width …: each only ever takes more.
    for (int pass = 0; pass < 6; ++pass) {
      top_ = height_ - kPad - lanes_ * kLinePitch - (lanes_ > 0 ? kUnderFlags : 0) -
             (data_.title.empty() ? kOverTicks : kLinePitch + 1);
      ticks_y_ = axis_ticks(data_.y, range_y_, (top_ - bottom_) / kApartY);
      shown_y_ = shown_range(ticks_y_, data_.y);
      left_ = std::max(left_, kLinePitch + 2 + (data_.y.ticks ? widest(ticks_y_) + kTick + 1 : 0));
      right_ = width_ - std::max(names + kPad, least_.right);
      lay_out_x();
      const int had = lanes_;
      place_flags();
      lanes_ = std::max(lanes_, had);
      if (lanes_ == had && pass > 0) break;
    }
  }
  void lay_out_x() {
    // Labels of ticks may not meet: fewer until they do not.
    for (int apart = 0; apart < kMostApart; ++apart) {
      ticks_x_ = axis_ticks(data_.x, range_x_, (right_ - left_) / (kApartX + 4 * apart));
      shown_x_ = shown_range(ticks_x_, data_.x);
      if (widest(ticks_x_) + 3 <= (right_ - left_) * ticks_x_.step / (shown_x_.to - shown_x_.from)) break;
    }
    if (data_.x.ticks) right_ = std::min(right_, width_ - kPad - widest(ticks_x_) / 2);
    // A label above near the right end wants its room too.
    for (const LimitLine& l : data_.limits) {
      const double part = (l.at - shown_x_.from) / (shown_x_.to - shown_x_.from);
      if (!l.upright || part <= 0 || part > 1) continue;
      const double wide = text_width(typeface(), flag_text(l), kLetters) + kFlagGaps + kPad;
      right_ = std::min(right_, std::max(0.6 * width_, left_ + (width_ - left_ - wide) / part));
    }
  }
  [[nodiscard]] Vec2 on_paper(Vec2 p) const {
    return {left_ + (right_ - left_) * (p.x - shown_x_.from) / (shown_x_.to - shown_x_.from),
            bottom_ + (top_ - bottom_) * (p.y - shown_y_.from) / (shown_y_.to - shown_y_.from)};
  }
  [[nodiscard]] bool is_on_plot(Vec2 p) const {
    constexpr double kEdge = 1e-6;
    return p.x >= left_ - kEdge && p.x <= right_ + kEdge && p.y >= bottom_ - kEdge && p.y <= top_ + kEdge;
  }

  // ---- plot ----

  void grid() {
    for (long k = ticks_x_.first; data_.x.ticks && k <= ticks_x_.last; ++k) {
      const double x = on_paper({ticks_x_.at(k), 0}).x;
      if (data_.x.grid) line(view_, Ink::grid, {x, bottom_}, {x, top_});
      line(view_, Ink::table, {x, bottom_}, {x, bottom_ - kTick});
      const Piece p = scribe_.text(number(ticks_x_.at(k), ticks_x_.decimals));
      put(view_, p, {x - p.width / 2, bottom_ - kTick - kUnderTick - p.above});
    }
    for (long k = ticks_y_.first; data_.y.ticks && k <= ticks_y_.last; ++k) {
      const double y = on_paper({0, ticks_y_.at(k)}).y;
      const bool has_limit = std::any_of(data_.limits.begin(), data_.limits.end(), [&](const LimitLine& l) {
        return !l.upright && std::abs(on_paper({0, l.at}).y - y) < 0.1;
      });
      if (data_.y.grid && !has_limit) line(view_, Ink::grid, {left_, y}, {right_, y});
      line(view_, Ink::table, {left_, y}, {left_ - kTick, y});
      const Piece p = scribe_.text(number(ticks_y_.at(k), ticks_y_.decimals));
      put(view_, p, {left_ - kTick - 0.8 - p.width, y - kMiddle});
    }
  }

  void axes() {
    polygon(view_, Ink::table, {{left_, bottom_}, {right_, bottom_}, {right_, top_}, {left_, top_}}, false);
    if (!data_.title.empty()) {
      const Piece p = scribe_.text(shortened(typeface(), data_.title, width_ - left_ - kPad));
      put(view_, p, {left_, height_ - kPad - p.above});
    }
    const Piece x = scribe_.text(shortened(typeface(), data_.x.title, right_ - left_));
    put(view_, x, {(left_ + right_ - x.width) / 2, kPad + x.below});
    const Piece y = scribe_.text(shortened(typeface(), data_.y.title, top_ - bottom_));
    put(view_, y, {kPad + y.above, (bottom_ + top_ - y.width) / 2}, std::numbers::pi / 2);
  }

  void band(const Band& b) {
    if (b.low.size() + b.high.size() < 3) return;
    std::vector<Vec2> loop;
    const auto add = [&](Vec2 p) {
      const Vec2 at = on_paper(p);
      loop.push_back({std::clamp(at.x, left_, right_), std::clamp(at.y, bottom_, top_)});
    };
    for (const Vec2 p : b.low) add(p);
    for (auto p = b.high.rbegin(); p != b.high.rend(); ++p) add(*p);
    hatch(view_, {run(loop, true)}, kHatchStep);
  }

  void limit(const LimitLine& l) {
    const Vec2 at = on_paper({l.at, l.at});
    if (!l.upright && at.y >= bottom_ && at.y <= top_) line(view_, l.ink, {left_, at.y}, {right_, at.y});
  }

  /// The part of a segment on the plot.
  [[nodiscard]] std::optional<Edge> cut(Vec2 a, Vec2 b) const {
    double from = 0, to = 1;
    const Vec2 d = b - a;
    const auto keep = [&](double slope, double room) {
      if (slope == 0) return room >= 0;
      const double t = room / slope;
      (slope < 0 ? from : to) = slope < 0 ? std::max(from, t) : std::min(to, t);
      return from < to;
    };
    if (!keep(-d.x, a.x - left_) || !keep(d.x, right_ - a.x) || !keep(-d.y, a.y - bottom_) || !keep(d.y, top_ - a.y))
      return std::nullopt;
    return straight(from > 0 ? a + from * d : a, to < 1 ? a + to * d : b);
  }

  [[nodiscard]] std::vector<Path> runs(const Series& s) const {
    std::vector<Path> all;
    for (std::size_t i = 0; i + 1 < s.points.size(); ++i) {
      const Vec2 a = on_paper(s.points[i]), b = on_paper(s.points[i + 1]);
      if (norm(b - a) < kCoincident) continue;
      const auto piece = cut(a, b);
      if (!piece || norm(piece->b - piece->a) < kCoincident) continue;
      if (all.empty() || norm(all.back().back().b - piece->a) > kCoincident) all.emplace_back();
      all.back().push_back(*piece);
    }
    return all;
  }
  void curve(const Series& s) {
    for (Path& p : runs(s)) view_.lines.push_back({s.ink, std::move(p)});
  }

  // ---- names at the right ----

  void collect_names() {
    const double most = kMostForNames * width_;
    const auto add = [&](const std::string& text) {
      if (!text.empty()) names_.push_back({shortened(typeface(), text, most), {}, 0});
    };
    for (const Series& s : data_.series) add(s.name);
    for (const Band& b : data_.bands) add(b.name);
    for (const LimitLine& l : data_.limits) {
      if (!l.upright) add(l.label);
    }
  }

  /// Where each name's leader begins, in the order of `collect_names`; names of what is off the plot go.
  void anchor_names() {
    std::vector<std::optional<Vec2>> at;
    for (const Series& s : data_.series) {
      if (s.name.empty()) continue;
      std::optional<Vec2> last;
      for (const Path& p : runs(s)) {
        for (const Edge& e : p) {
          for (const Vec2 end : {e.a, e.b}) {
            if (!last || end.x >= last->x - kCoincident) last = end;
          }
        }
      }
      at.push_back(last);
    }
    for (const Band& b : data_.bands) {
      if (b.name.empty()) continue;
      at.push_back(b.low.empty() || b.high.empty()
                       ? std::nullopt
                       : std::optional(0.5 * (on_paper(b.low.back()) + on_paper(b.high.back()))));
    }
    for (const LimitLine& l : data_.limits) {
      if (!l.upright && !l.label.empty()) at.push_back(Vec2{right_, on_paper({0, l.at}).y});
    }
    std::vector<EndName> kept;
    for (std::size_t i = 0; i < names_.size(); ++i) {
      if (at[i] && is_on_plot(*at[i])) kept.push_back({names_[i].text, *at[i], at[i]->y});
    }
    names_ = std::move(kept);
  }

  void names() {
    anchor_names();
    end_names(view_, std::move(names_), bottom_ + kMiddle, top_ - kLinePitch / 2, right_, scribe_);
  }

  // ---- flags above ----

  [[nodiscard]] std::string flag_text(const LimitLine& l) const {
    return shortened(typeface(), l.label, kMostForNames * width_);
  }
  void place_flags() {
    flags_.clear();
    for (std::size_t i = 0; i < data_.limits.size(); ++i) {
      const LimitLine& l = data_.limits[i];
      if (l.upright && is_on_plot({on_paper({l.at, 0}).x, bottom_}))
        flags_.push_back({i, on_paper({l.at, 0}).x, flag_text(l)});
    }
    std::stable_sort(flags_.begin(), flags_.end(), [](const Flag& a, const Flag& b) { return a.x > b.x; });
    lanes_ = 0;
    const int most = static_cast<int>(kMostForLanes * height_ / kLinePitch);
    for (std::size_t i = 0; i < flags_.size(); ++i) {
      Flag& f = flags_[i];
      const double end = f.x + text_width(typeface(), f.text, kLetters) + kFlagGaps;
      f.lane = 0;
      for (std::size_t j = 0; j < i; ++j) {
        if (flags_[j].x < end) f.lane = std::max(f.lane, flags_[j].lane + 1);
      }
      if (f.text.empty() || f.lane >= most || end > width_) f.lane = -1;
      lanes_ = std::max(lanes_, f.lane + 1);
    }
  }
  void flags() {
    for (const Flag& f : flags_) {
      const double top = f.lane < 0 ? top_ : top_ + kUnderFlags + (f.lane + 1) * kLinePitch;
      line(view_, data_.limits[f.limit].ink, {f.x, bottom_}, {f.x, top});
      if (f.lane >= 0) put(view_, scribe_.text(f.text), {f.x + 0.8, top - kLinePitch / 2 - kMiddle});
    }
  }

  void spots() {
    const auto ring = [&](const Spot& s) { return circle(on_paper(s.at), kRing); };
    for (const Spot& s : data_.spots) {
      if (is_on_plot(on_paper(s.at))) view_.lines.push_back({Ink::visible, ring(s)});
    }
    Callouts callouts(view_, scribe_, {{left_, bottom_}, {right_, top_}});
    for (const Spot& s : data_.spots) {
      if (!is_on_plot(on_paper(s.at)) || s.text.empty()) continue;
      std::vector<Vec2> round;
      for (int k = 0; k < 8; ++k) round.push_back(on_paper(s.at) + polar(kRing, (k + 0.5) * std::numbers::pi / 4));
      (void)callouts.beside(scribe_.text(s.text, kSmallLetters), round, Tip::none);  // without room it stays a ring
    }
  }

  const Chart& data_;
  double width_, height_;
  const Scribe& scribe_;
  View view_;
  Range range_x_, range_y_, shown_x_, shown_y_;
  Ticks ticks_x_, ticks_y_;
  Margins least_;
  double left_ = 0, right_ = 0, bottom_ = 0, top_ = 0;
  int lanes_ = 0;
  std::vector<EndName> names_;
  std::vector<Flag> flags_;
};

}  // namespace

Margins margins(const Chart& data, double width, double height, const Scribe& scribe) {
  return Drawn(data, width, height, scribe, {}).margins();
}

View chart(const Chart& data, double width, double height, const Scribe& scribe, const Margins& least) {
  return Drawn(data, width, height, scribe, least).made();
}

std::vector<View> stacked_charts(const std::vector<Chart>& all, double width, double height, const Scribe& scribe) {
  require(!all.empty(), "stacked_charts: none");
  const double each = height / static_cast<double>(all.size());
  Margins most;
  for (const Chart& c : all) {
    const Margins m = margins(c, width, each, scribe);
    most = {std::max(most.left, m.left), std::max(most.right, m.right)};
  }
  std::vector<View> views;
  for (std::size_t i = 0; i < all.size(); ++i) {
    views.push_back(chart(all[i], width, each, scribe, most));
    move(views.back(), {0, height - static_cast<double>(i + 1) * each});
  }
  return views;
}

}  // namespace groovewright::plane
