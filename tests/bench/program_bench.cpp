// Programs of the lathe and the mill, stage by stage and as a whole: the eight-rib demo, then rims of 4 to 32 grooves.
#include <benchmark/benchmark.h>

#include <fstream>
#include <sstream>

#include "../../src/job/program.h"
#include "groovewright/nc.h"

namespace {

using namespace groovewright;

std::string demo() {
  std::ifstream in(std::string(GW_SOURCE_DIR) + "/profiles/demo/larkspur-crank-24.yaml");
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}
/// A plain disc, PK.
std::string grooves(int count) {
  return "pulley: disc\nmaterial: aluminium-6061-T6\nrims:\n  - section: PK\n    ribs: " + std::to_string(count) +
         "\n    size: {outside_diameter: 120 mm}\nbody: {solid: true}\nhub:\n  bore: {diameter: 40 mm, fit: H7}\n";
}

job::Prepared prepared(const std::string& document) {
  Diagnostics d;
  return job::prepare(spec::read_pulley({"spec.yaml", document}, d).value(), {}, {}, d).value();
}
bool planned(job::Prepared& p) {
  job::Want want;
  want.kinds_named = true;
  Diagnostics d;
  p.programs.reset();
  return job::plan_programs(p, want, {}, d);
}

/// Each stage of the document's programs. `plan` reads the shop's data, too.
void plan(benchmark::State& state, const std::string& document) {
  job::Prepared p = prepared(document);
  for (auto _ : state)
    if (!planned(p)) return state.SkipWithError("no plan");
}
void write_and_read_back(benchmark::State& state, const std::string& document) {
  job::Prepared p = prepared(document);
  if (!planned(p)) return state.SkipWithError("no plan");
  for (auto _ : state) benchmark::DoNotOptimize(job::write_programs(p));
}
void read_and_trace(benchmark::State& state, const std::string& document) {
  job::Prepared p = prepared(document);
  if (!planned(p)) return state.SkipWithError("no plan");
  const auto texts = job::write_programs(p);
  std::size_t moves = 0;
  for (auto _ : state) {
    moves = 0;
    for (const job::ProgramText& t : texts) {
      Diagnostics d;
      const nc::Program program = nc::read(t.id, t.text, d).value();
      moves += nc::trace(program, t.id < "op30" ? p.programs->lathe : p.programs->mill).moves.size();
    }
  }
  state.counters["moves"] = static_cast<double>(moves);
}
void remove_and_compare(benchmark::State& state, const std::string& document) {
  job::Prepared p = prepared(document);
  if (!planned(p)) return state.SkipWithError("no plan");
  const auto texts = job::write_programs(p);
  for (auto _ : state) benchmark::DoNotOptimize(job::prove(p, texts));
}
void all(benchmark::State& state, const std::string& document) {
  job::Prepared p = prepared(document);
  for (auto _ : state) {
    if (!planned(p)) return state.SkipWithError("no plan");
    benchmark::DoNotOptimize(job::prove(p, job::write_programs(p)));
  }
}

void by_grooves(benchmark::State& state) {
  all(state, grooves(static_cast<int>(state.range(0))));
  state.SetComplexityN(state.range(0));
}

BENCHMARK_CAPTURE(plan, crank, demo())->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(write_and_read_back, crank, demo())->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(read_and_trace, crank, demo())->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(remove_and_compare, crank, demo())->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(all, crank, demo())->Unit(benchmark::kMillisecond);
BENCHMARK(by_grooves)->RangeMultiplier(2)->Range(4, 32)->Unit(benchmark::kMillisecond)->Complexity(benchmark::oNLogN);

}  // namespace

BENCHMARK_MAIN();
