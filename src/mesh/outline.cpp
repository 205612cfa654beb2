#include "outline.h"

#include <algorithm>

#include "groovewright/base/broken.h"

namespace groovewright::mesh {
namespace {

using plane::Vec2;
/// Cells a side of the grid.
constexpr std::size_t kCells = 128;
/// Sides are taken to be this thick, mm, when cells are marked: far above kUnclear and what rounding does to cells.
constexpr double kThick = 1e-6;

std::size_t step(double along) {
  return static_cast<std::size_t>(std::clamp(along, 0.0, static_cast<double>(kCells - 1)));
}

}  // namespace

double distance_to_segment(Vec2 p, Vec2 a, Vec2 b) {
  const Vec2 along = b - a;
  const double t = std::clamp(plane::dot(p - a, along) / plane::dot(along, along), 0.0, 1.0);
  return plane::norm(p - a - t * along);
}

Box Box::of(Vec2 a, Vec2 b) {
  return {{std::min(a.x, b.x), std::min(a.y, b.y)}, {std::max(a.x, b.x), std::max(a.y, b.y)}};
}

Box Box::with(Vec2 p) const {
  return {{std::min(low.x, p.x), std::min(low.y, p.y)}, {std::max(high.x, p.x), std::max(high.y, p.y)}};
}

bool Box::meets(const Box& other) const {
  return low.x <= other.high.x && other.low.x <= high.x && low.y <= other.high.y && other.low.y <= high.y;
}

Outline::Outline(std::vector<Vec2> corners) : corners_(std::move(corners)) {
  require(corners_.size() >= 3, "cut_out: an outline has three corners at least");
  all_ = {corners_.front(), corners_.front()};
  for (std::size_t i = 0; i < size(); ++i) {
    Box box = Box::of(from(i), to(i));
    box = {box.low - Vec2{kThick, kThick}, box.high + Vec2{kThick, kThick}};
    boxes_.push_back(box);
    all_ = all_.with(box.low).with(box.high);
  }
  cell_ = (1.0 / kCells) * (all_.high - all_.low);
  mark_sides();
  mark_insides();
}

std::size_t Outline::column(double x) const { return step((x - all_.low.x) / cell_.x); }
std::size_t Outline::row(double y) const { return step((y - all_.low.y) / cell_.y); }

void Outline::mark_sides() {
  cells_.assign(kCells * kCells, Cell::outside);
  for (std::size_t i = 0; i < size(); ++i) {
    const Vec2 a = from(i).y <= to(i).y ? from(i) : to(i), b = from(i).y <= to(i).y ? to(i) : from(i);
    for (std::size_t j = row(a.y - kThick); j <= row(b.y + kThick); ++j) {
      // What of the side lies in this row of cells.
      const auto x_at = [&](double y) {
        return b.y - a.y <= kThick ? a.x : a.x + (b.x - a.x) * std::clamp((y - a.y) / (b.y - a.y), 0.0, 1.0);
      };
      const double bottom = all_.low.y + static_cast<double>(j) * cell_.y - kThick, top = bottom + cell_.y + 2 * kThick;
      Box part = Box::of({x_at(bottom), 0}, {x_at(top), 0});
      if (b.y - a.y <= kThick) part = Box::of({a.x, 0}, {b.x, 0});
      const std::size_t last = column(part.high.x + kThick);
      for (std::size_t k = column(part.low.x - kThick); k <= last; ++k) {
        cells_[j * kCells + k] = Cell::side;
      }
    }
  }
  constexpr std::size_t kWide = kCells + 1;
  sums_.assign(kWide * kWide, 0);
  for (std::size_t j = 0; j < kCells; ++j) {
    for (std::size_t k = 0; k < kCells; ++k) {
      const std::int32_t here = cells_[j * kCells + k] == Cell::side ? 1 : 0;
      sums_[(j + 1) * kWide + k + 1] =
          here + sums_[j * kWide + k + 1] + sums_[(j + 1) * kWide + k] - sums_[j * kWide + k];
    }
  }
}

void Outline::mark_insides() {
  for (std::size_t j = 0; j < kCells; ++j) {
    // Cells side by side with no side between them are alike.
    Cell run = Cell::side;
    for (std::size_t k = 0; k < kCells; ++k) {
      Cell& cell = cells_[j * kCells + k];
      if (cell == Cell::side) {
        run = Cell::side;
        continue;
      }
      if (run == Cell::side) {
        const Vec2 middle =
            all_.low + Vec2{(static_cast<double>(k) + 0.5) * cell_.x, (static_cast<double>(j) + 0.5) * cell_.y};
        run = holds(middle) ? Cell::inside : Cell::outside;
      }
      cell = run;
    }
  }
}

bool Outline::may_meet(const Box& box) const {
  if (!box.meets(all_)) return false;
  constexpr std::size_t kWide = kCells + 1;
  const std::size_t left = column(box.low.x), right = column(box.high.x) + 1;
  const std::size_t bottom = row(box.low.y), top = row(box.high.y) + 1;
  return sums_[top * kWide + right] - sums_[bottom * kWide + right] - sums_[top * kWide + left] +
             sums_[bottom * kWide + left] >
         0;
}

bool Outline::holds(Vec2 p) const {
  bool inside = false;
  for (std::size_t i = 0; i < size(); ++i) {
    const Vec2 a = from(i), b = to(i);
    if ((a.y > p.y) == (b.y > p.y)) continue;
    if ((leaning(a, b, p) > 0) == (b.y > a.y)) inside = !inside;
  }
  return inside;
}

bool Outline::contains(Vec2 p) const {
  if (!Box{p, p}.meets(all_)) return false;
  const Cell cell = cells_[row(p.y) * kCells + column(p.x)];
  return cell == Cell::side ? holds(p) : cell == Cell::inside;
}

bool Outline::is_clear(Vec2 p) const {
  const Box point{p, p};
  if (!may_meet(point)) return true;
  for (std::size_t i = 0; i < size(); ++i) {
    if (boxes_[i].meets(point) && distance_to_segment(p, from(i), to(i)) < kUnclear) return false;
  }
  return true;
}

}  // namespace groovewright::mesh
