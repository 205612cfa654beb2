#include "groovewright/plane/labels.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <span>

#include "groovewright/plane/meets.h"

namespace groovewright::plane {
namespace {

/// Space between two labels, the level piece of a leader before its label, and the clear space before the words.
constexpr double kBetween = 2.5, kShoulder = 3, kBefore = 0.8;
constexpr double kDot = 0.5;  // radius
constexpr double kShift = 4;
constexpr int kShifts = 5;

struct Choice {
  std::vector<std::size_t> order;   ///< labels from the top down
  std::vector<std::size_t> anchor;  ///< of each label
  double shift = 0;                 ///< of the whole column, up
};

class Column {
 public:
  Column(const View& view, std::span<const Label> labels, double left, double middle, const Scribe& scribe)
      : labels_(labels), left_(left), middle_(middle) {
    for (const Words& w : view.words) words_.push_back(shrunk(box(scribe.typeface(), w), -kClear));
  }

  [[nodiscard]] Choice best() const {
    Choice now = first();
    double cost = cost_of(now);
    // Swaps and other anchors as long as that mends something; each round lowers the cost, so it ends.
    for (bool better = true; better;) {
      better = false;
      const auto consider = [&](const Choice& other) {
        const double c = cost_of(other);
        if (c < cost - 1e-9) now = other, cost = c, better = true;
      };
      for (std::size_t i = 0; i < labels_.size(); ++i) {
        for (std::size_t j = i + 1; j < labels_.size(); ++j) {
          Choice other = now;
          std::swap(other.order[i], other.order[j]);
          consider(other);
        }
        // An anchor and the column's place together: either alone may lead from one crossing into another.
        for (int step = -kShifts; step <= kShifts; ++step) {
          for (std::size_t k = 0; k < labels_[i].anchors.size(); ++k) {
            Choice other = now;
            other.shift = now.shift + step * kShift;
            other.anchor[i] = k;
            consider(other);
          }
        }
      }
    }
    return now;
  }

  /// Base lines of the labels' first lines.
  [[nodiscard]] std::vector<double> heights(const Choice& c) const {
    double total = -kBetween;
    for (const Label& l : labels_) total += l.piece.above + l.piece.below + kBetween;
    std::vector<double> y(labels_.size());
    double top = middle_ + c.shift + total / 2;
    for (const std::size_t i : c.order) {
      y[i] = top - labels_[i].piece.above;
      top = y[i] - labels_[i].piece.below - kBetween;
    }
    return y;
  }

  struct Leader {
    Vec2 tip, knee, end;
  };
  [[nodiscard]] std::vector<Leader> leaders(const Choice& c) const {
    const auto y = heights(c);
    std::vector<Leader> out;
    for (std::size_t i = 0; i < labels_.size(); ++i) {
      const double level = y[i] + kMiddle;  // of the first line
      out.push_back({labels_[i].anchors[c.anchor[i]], {left_, level}, {left_ + kShoulder, level}});
    }
    return out;
  }

 private:
  /// The anchor nearest to the column, and the labels in the order of their anchors' heights.
  [[nodiscard]] Choice first() const {
    Choice c;
    for (const Label& l : labels_) {
      const auto nearest =
          std::max_element(l.anchors.begin(), l.anchors.end(), [](Vec2 a, Vec2 b) { return a.x < b.x - 1e-9; });
      c.anchor.push_back(static_cast<std::size_t>(nearest - l.anchors.begin()));
    }
    c.order.resize(labels_.size());
    std::iota(c.order.begin(), c.order.end(), 0);
    std::stable_sort(c.order.begin(), c.order.end(), [&](std::size_t a, std::size_t b) {
      return labels_[a].anchors[c.anchor[a]].y > labels_[b].anchors[c.anchor[b]].y + 1e-9;
    });
    return c;
  }

  [[nodiscard]] double cost_of(const Choice& c) const {
    constexpr double kCrossing = 1e6, kOverWords = 1e6, kNearlyOne = 1e3;
    const auto all = leaders(c);
    double cost = std::abs(c.shift);
    for (std::size_t i = 0; i < all.size(); ++i) {
      cost += norm(all[i].knee - all[i].tip);
      for (std::size_t j = 0; j < i; ++j) {
        if (segments_cross(all[i].tip, all[i].knee, all[j].tip, all[j].knee)) cost += kCrossing;
        if (norm(all[i].tip - all[j].tip) < 1) cost += kNearlyOne;
      }
      for (const auto& w : words_) {
        if (enters(all[i].tip, all[i].knee, w)) cost += kOverWords;
      }
    }
    return cost;
  }

  std::span<const Label> labels_;
  double left_, middle_;
  std::vector<std::array<Vec2, 4>> words_;
};

void draw_tip(View& view, const Label& label, Vec2 tip, Vec2 from) {
  if (label.tip == Tip::arrow) arrow(view, tip, unit(tip - from), Ink::leader);
  if (label.tip == Tip::dot) view.lines.push_back({Ink::leader, circle(tip, kDot), true});
}

}  // namespace

void label_column(View& view, const std::vector<Label>& labels, double left, double middle, const Scribe& scribe) {
  const Column column(view, labels, left, middle, scribe);
  const Choice choice = column.best();
  const auto leaders = column.leaders(choice);
  const auto heights = column.heights(choice);
  for (std::size_t i = 0; i < labels.size(); ++i) {
    const auto& [tip, knee, end] = leaders[i];
    view.lines.push_back({Ink::leader, {straight(tip, knee), straight(knee, end)}});
    draw_tip(view, labels[i], tip, knee);
    put(view, labels[i].piece, {end.x + kBefore, heights[i]});
  }
}

}  // namespace groovewright::plane
