// What the drive's inner loops cost: eight rounds with an arm, and how they grow with the number of rounds.
#include <benchmark/benchmark.h>

#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "../drives.h"

namespace {

using namespace groovewright::drive;
using groovewright::drive::testing::kDegree;

/// The eight rounds of the tests, four obstacles, an arm with a body.
Drive eight() {
  Drive d = groovewright::drive::testing::larkspur();
  d.obstacles = {{"boss", {-150, 230}, 15, {}, {}},
                 {"stud", {60, 110}, 6, {}, {}},
                 {"cover", {}, 0, {{90, 230}, {110, 240}, {105, 260}, {85, 250}}, {}},
                 {"bracket", {}, 0, {{300, 50}, {320, 50}, {320, 120}, {300, 120}}, {}}};
  d.tensioner->arm_half_width = 12;
  d.belt.effective_length.value = length_at_middle(Swing(d, course(d)));
  return d;
}

/// Rounds of 20 on a ring, ribs and back in turns.
std::vector<Round> ring(int n) {
  std::vector<Round> rounds;
  const double far = 25.0 * n;
  for (int i = 0; i < n; ++i) {
    const double a = 2 * std::numbers::pi * i / n, r = i % 2 == 0 ? far : far + 10;
    rounds.push_back({{r * std::cos(a), r * std::sin(a)}, 20, i % 2 == 0 || n < 6 ? 1 : -1});
  }
  return rounds;
}

void layout_at_one_angle(benchmark::State& state) {
  const Course c = course(eight());
  Route route;
  for (auto _ : state) {
    benchmark::DoNotOptimize(lay(c.rounds, route));
    benchmark::DoNotOptimize(route.length);
  }
}
BENCHMARK(layout_at_one_angle)->Unit(benchmark::kMicrosecond);

void layout_of_rounds(benchmark::State& state) {
  const auto rounds = ring(static_cast<int>(state.range(0)));
  Route route;
  for (auto _ : state) {
    benchmark::DoNotOptimize(lay(rounds, route));
    benchmark::DoNotOptimize(route.length);
  }
  state.SetComplexityN(state.range(0));
}
BENCHMARK(layout_of_rounds)->RangeMultiplier(2)->Range(4, 64)->Unit(benchmark::kMicrosecond)->Complexity(benchmark::oN);

void path_at_one_position(benchmark::State& state) {
  const Drive d = eight();
  const Swing swing(d, course(d));
  Spot spot;
  double position = 70 * kDegree;
  for (auto _ : state) {
    benchmark::DoNotOptimize(position);
    benchmark::DoNotOptimize(swing.at(position, spot));
  }
}
BENCHMARK(path_at_one_position)->Unit(benchmark::kMicrosecond);

void equilibrium(benchmark::State& state) {
  const Drive d = eight();
  const Swing swing(d, course(d));
  for (auto _ : state) benchmark::DoNotOptimize(seat(swing, d.belt.effective_length.value));
}
BENCHMARK(equilibrium)->Unit(benchmark::kMicrosecond);

void equilibrium_with_clearances_at_free_installed_and_stop(benchmark::State& state) {
  const Drive d = eight();
  const Course c = course(d);
  const Swing swing(d, c);
  Clearances clearances(d, c);
  std::vector<Gap> gaps;
  for (auto _ : state) {
    const Seat s = seat(swing, d.belt.effective_length.value);
    for (const double position : {d.tensioner->free, s.position, swing.far_stop()}) {
      benchmark::DoNotOptimize(clearances.at(position, gaps));
    }
  }
}
BENCHMARK(equilibrium_with_clearances_at_free_installed_and_stop)->Unit(benchmark::kMicrosecond);

void new_drive_to_its_equilibrium_with_clearances(benchmark::State& state) {
  const Drive d = eight();
  std::vector<Gap> gaps;
  for (auto _ : state) {
    const Course c = course(d);
    const Swing swing(d, c);
    Clearances clearances(d, c);
    const Seat s = seat(swing, d.belt.effective_length.value);
    for (const double position : {d.tensioner->free, s.position, swing.far_stop()}) {
      benchmark::DoNotOptimize(clearances.at(position, gaps));
    }
  }
}
BENCHMARK(new_drive_to_its_equilibrium_with_clearances)->Unit(benchmark::kMicrosecond);

void whole_swing(benchmark::State& state) {
  const Drive d = eight();
  const Course c = course(d);
  std::vector<Gap> gaps;
  for (auto _ : state) {
    Clearances clearances(d, c);
    benchmark::DoNotOptimize(clearances.over_swing(gaps));
    benchmark::DoNotOptimize(tension_curve(Swing(d, c), 41));
  }
}
BENCHMARK(whole_swing)->Unit(benchmark::kMicrosecond);

void loads_at_one_speed(benchmark::State& state) {
  const Drive d = eight();
  const Course c = course(d);
  Route route;
  (void)lay(c.rounds, route);
  LoadCase load;
  for (auto _ : state) benchmark::DoNotOptimize(load_case(d, c, route, 4000, Way::drive, 500, load));
}
BENCHMARK(loads_at_one_speed)->Unit(benchmark::kMicrosecond);

}  // namespace

BENCHMARK_MAIN();
