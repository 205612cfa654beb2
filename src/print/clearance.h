// clearance.h: how far points and cuts stay from the openings of a part.
#pragma once

#include "groovewright/section.h"

namespace groovewright::print {

/// The greatest and the least radius of the section.
[[nodiscard]] double outside(const section::Section& section);
[[nodiscard]] double inside(const section::Section& section);

/// How much metal lies between openings and what is beside them in the cross plane, whatever their depth; negative
/// within one.
class Clearance {
 public:
  explicit Clearance(const section::Section& section);
  /// From a ray out of the axis.
  [[nodiscard]] double of_ray(double angle) const;
  [[nodiscard]] double of_point(plane::Vec2 p) const;

 private:
  const section::Section& section_;
  double outer_;
};

}  // namespace groovewright::print
