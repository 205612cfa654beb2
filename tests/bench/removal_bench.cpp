// The witness of the programs: sweeping and comparing, for rings of 4 to 32 grooves. About 190 moves a groove.
#include <benchmark/benchmark.h>

#include "groovewright/removal.h"
#include "turning.h"

namespace {

using namespace groovewright;

constexpr double kNose = 0.2, kBlade = 0.8;

struct Work {
  turning::Grooved ring;
  std::vector<removal::LatheTool> tools;
  removal::Clamping clamping;
};

Work work(int grooves) {
  Work w;
  w.ring.grooves = grooves;
  w.tools = {{1, {turning::nosed(kNose, 0.3, 4)}, {turning::box(-3, 3, 4, 20)}},
             {2, {turning::blade(kBlade, 3)}, {turning::box(-0.35, 0.35, 0.5, 20)}}};
  w.clamping.trace = turning::grooving(w.ring, kNose, kBlade);
  return w;
}

void remove(benchmark::State& state) {
  const Work w = work(static_cast<int>(state.range(0)));
  for (auto _ : state) benchmark::DoNotOptimize(removal::remove({&w.clamping, 1}, w.tools, w.ring.stock()));
  state.counters["moves"] = static_cast<double>(w.clamping.trace.moves.size());
  state.SetComplexityN(state.range(0));
}
BENCHMARK(remove)->RangeMultiplier(2)->Range(4, 32)->Unit(benchmark::kMillisecond)->Complexity(benchmark::oNLogN);

void compare(benchmark::State& state) {
  const Work w = work(static_cast<int>(state.range(0)));
  const removal::Removal left = removal::remove({&w.clamping, 1}, w.tools, w.ring.stock());
  const plane::Path wanted = w.ring.wanted();
  for (auto _ : state) benchmark::DoNotOptimize(removal::compare(left.metal, wanted));
  state.SetComplexityN(state.range(0));
}
BENCHMARK(compare)->RangeMultiplier(2)->Range(4, 32)->Unit(benchmark::kMillisecond)->Complexity(benchmark::oNLogN);

}  // namespace

BENCHMARK_MAIN();
