// sketch.h: inside room `drawing`: lines as they are drawn, none of them twice.
#pragma once

#include <array>
#include <cstdint>
#include <set>

#include "views.h"

namespace groovewright::drawing {

/// The first ink on an edge stays: draw visible edges before hidden ones.
class Sketch {
 public:
  /// The run without what is drawn already.
  void add(plane::Ink ink, const plane::Path& run);
  [[nodiscard]] Lines take();

 private:
  using Key = std::array<std::int64_t, 6>;
  static Key key_of(const plane::Edge& edge);

  std::set<Key> drawn_;
  Lines lines_;
};

}  // namespace groovewright::drawing
