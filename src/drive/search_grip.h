// search_grip.h: inside room `drive`: the least slip margin and the greatest pulls of one layout at any tension set and
// any position of the tensioner. What each span pulls more than the tensioner sets depends on neither, so it is found
// once.
#pragma once

#include <vector>

#include "groovewright/drive/loads.h"

namespace groovewright::drive {

class GripTable {
 public:
  /// With a tensioner. `route` is of the layout, whatever the position.
  void fill(const Drive& drive, const Course& course, const Route& route);
  /// Without: a given `set`, as `load_case` takes it; then `least_margin` wants 0.
  void fill(const Drive& drive, const Course& course, const Route& route, double set);
  /// The least of `hold(…).margin` over the duty and the pulleys that take torque or drive; unlimited where there is no
  /// case; 0 where any span hangs loose.
  [[nodiscard]] double least_margin(const Course& course, const Route& route, double set) const;
  /// What the greatest pull on any shaft has too much, as part of what its bearing carries; 0 where all carry it.
  [[nodiscard]] double most_overload(const Drive& drive, const Course& course, const Route& route, double set) const;

 private:
  struct Held {
    std::size_t round = 0;
    double design_ratio = 0;
    bool moves = false;  ///< its wrap follows the tensioner
    double allowed = 0;  ///< where it does not
  };
  std::vector<double> beyond_;  ///< per case and span: tension beyond what is set
  std::vector<Held> held_;
  std::size_t spans_ = 0;
  double slackest_ = 0;  ///< of `beyond_`
  LoadCase load_;
};

}  // namespace groovewright::drive
