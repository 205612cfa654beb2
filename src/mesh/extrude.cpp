#include "builder.h"
#include "groovewright/base/broken.h"

namespace groovewright::mesh {

Mesh extruded(const std::vector<std::vector<plane::Vec2>>& loops, double z0, double z1) {
  require(z0 < z1, "extruded: a prism has a height");
  Builder builder;
  std::vector<Loop> floor, roof;
  for (const auto& loop : loops) {
    require(loop.size() >= 3, "extruded: a loop has three points at least");
    Loop& low = floor.emplace_back();
    Loop& high = roof.emplace_back();
    for (const plane::Vec2& p : loop) {
      low.push_back(builder.add({p.x, p.y, z0}));
      high.push_back(builder.add({p.x, p.y, z1}));
    }
    for (std::size_t i = 0, n = loop.size(); i < n; ++i) {
      const std::size_t j = (i + 1) % n;
      builder.add_triangle(low[i], low[j], high[j]);
      builder.add_triangle(low[i], high[j], high[i]);
    }
  }
  builder.fill_level(floor, false);
  builder.fill_level(roof, true);
  return builder.take();
}

}  // namespace groovewright::mesh
