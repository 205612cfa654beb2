// units.h: the types that keep degrees from radians and radii from diameters. Everything else inside is
// mm, N, MPa, s, kg, rad, K.
#pragma once

#include <numbers>

namespace groovewright {

/// An angle. Built and read by named units only.
class Angle {
 public:
  constexpr Angle() = default;
  [[nodiscard]] static constexpr Angle rad(double v) { return Angle(v); }
  [[nodiscard]] static constexpr Angle deg(double v) { return Angle(v * std::numbers::pi / 180.0); }
  [[nodiscard]] constexpr double rad() const { return rad_; }
  [[nodiscard]] constexpr double deg() const { return rad_ * 180.0 / std::numbers::pi; }
  [[nodiscard]] constexpr Angle half() const { return Angle(rad_ / 2); }
  auto operator<=>(const Angle&) const = default;

 private:
  explicit constexpr Angle(double v) : rad_(v) {}
  double rad_ = 0;
};

class Radius;

/// A diameter in mm: what calipers and lathe X words speak.
class Diameter {
 public:
  constexpr Diameter() = default;
  [[nodiscard]] static constexpr Diameter mm(double v) { return Diameter(v); }
  [[nodiscard]] constexpr double mm() const { return mm_; }
  [[nodiscard]] constexpr Radius radius() const;
  auto operator<=>(const Diameter&) const = default;

 private:
  explicit constexpr Diameter(double v) : mm_(v) {}
  double mm_ = 0;
};

/// A radius in mm: what sections speak. The only way across is `diameter()` / `radius()`.
class Radius {
 public:
  constexpr Radius() = default;
  [[nodiscard]] static constexpr Radius mm(double v) { return Radius(v); }
  [[nodiscard]] constexpr double mm() const { return mm_; }
  [[nodiscard]] constexpr Diameter diameter() const { return Diameter::mm(2 * mm_); }
  auto operator<=>(const Radius&) const = default;

 private:
  explicit constexpr Radius(double v) : mm_(v) {}
  double mm_ = 0;
};

constexpr Radius Diameter::radius() const { return Radius::mm(mm_ / 2); }

}  // namespace groovewright
