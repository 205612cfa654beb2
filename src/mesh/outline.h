// outline.h: a polygon of the cross plane, and quick answers to what lies in it, outside it, or at its sides.
#pragma once

#include <cstdint>
#include <vector>

#include "groovewright/plane.h"

namespace groovewright::mesh {

/// Nearer to a side than this, mm, a point counts as lying on it: ten times what rounding takes for parts a metre wide.
inline constexpr double kUnclear = 2e-12;

/// Twice the area of a, b, p: positive where p lies to the left of a -> b.
[[nodiscard]] inline double leaning(plane::Vec2 a, plane::Vec2 b, plane::Vec2 p) { return plane::cross(b - a, p - a); }

[[nodiscard]] double distance_to_segment(plane::Vec2 p, plane::Vec2 a, plane::Vec2 b);

struct Box {
  plane::Vec2 low, high;

  [[nodiscard]] static Box of(plane::Vec2 a, plane::Vec2 b);
  [[nodiscard]] Box with(plane::Vec2 p) const;
  [[nodiscard]] bool meets(const Box& other) const;
};

/// A simple polygon, counter-clockwise; side i runs from corner i to the next one. A grid over it tells in constant
/// time what is clear of every side.
class Outline {
 public:
  /// Requires: three corners or more.
  explicit Outline(std::vector<plane::Vec2> corners);

  [[nodiscard]] std::size_t size() const { return corners_.size(); }
  [[nodiscard]] std::size_t after(std::size_t i) const { return i + 1 == size() ? 0 : i + 1; }
  [[nodiscard]] plane::Vec2 from(std::size_t side) const { return corners_[side]; }
  [[nodiscard]] plane::Vec2 to(std::size_t side) const { return corners_[after(side)]; }
  [[nodiscard]] const Box& box_of(std::size_t side) const { return boxes_[side]; }

  /// False: no side runs through the box or within kUnclear of it. True may be wrong.
  [[nodiscard]] bool may_meet(const Box& box) const;
  /// Requires: p is clear of every side.
  [[nodiscard]] bool contains(plane::Vec2 p) const;
  /// No side is nearer than kUnclear.
  [[nodiscard]] bool is_clear(plane::Vec2 p) const;

 private:
  [[nodiscard]] std::size_t column(double x) const;
  [[nodiscard]] std::size_t row(double y) const;
  [[nodiscard]] bool holds(plane::Vec2 p) const;
  void mark_sides();
  void mark_insides();

  std::vector<plane::Vec2> corners_;
  std::vector<Box> boxes_;
  Box all_;
  plane::Vec2 cell_;
  enum class Cell : char { outside, inside, side };
  std::vector<Cell> cells_;
  /// How many side cells lie below and to the left.
  std::vector<std::int32_t> sums_;
};

}  // namespace groovewright::mesh
