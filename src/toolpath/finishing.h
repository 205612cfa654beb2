// finishing.h: inside room `toolpath`: a chain of edges shared out among the shop's tools.
#pragma once

#include <string>
#include <vector>

#include "bench.h"

namespace groovewright::toolpath {

using Tools = std::vector<catalog::TurningTool>;

struct Finishing {
  std::string name, work = "finish";
  Way way = Way::outside;
  bool in_bore = false;
  double corner = 0.4;  ///< mm: what a nose may leave in a sharp inner corner, as its radius
};
/// How an edge is left: not cut, in part (a nose can't reach the rest), whole.
enum class Left { standing, partly, whole };
/// Tries the tools one after the other until every edge of the chain is left whole; then, edge by edge, what none
/// leaves whole by the tool that leaves most of it. One an edge of the chain.
[[nodiscard]] std::vector<Left> finish(Bench& bench, const Outline& outline, const Chain& chain, const Tools& tools,
                                       const Finishing& what);

}  // namespace groovewright::toolpath
