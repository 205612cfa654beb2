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

/// A little over a million combinations of belts, turns, sizes and places round the eight rounds.
SearchSpace million(const Drive& d) {
  SearchSpace s;
  const double middle = std::round(d.belt.effective_length.value);
  for (int i = -20; i <= 20; ++i) s.lengths.push_back(middle + 5 * i);
  s.turns.clear();
  for (int i = -12; i <= 12; ++i) s.turns.push_back(i * kDegree);
  Varied idler{2, {}, {}}, blower{1, {}, {d.pulleys[1].at}}, arm{kNone, {}, {d.tensioner->pivot}};
  for (int i = 0; i < 5; ++i) idler.radii.push_back(32 + 1.5 * i);
  for (int i = 0; i < 5; ++i) idler.places.push_back({31.0 + 2 * i, 250});
  for (int i = 0; i < 8; ++i) blower.radii.push_back(40 + i);
  for (int i = 0; i < 5; ++i) arm.radii.push_back(32 + i);
  s.varied = {blower, idler, arm};
  return s;
}

void search_of(benchmark::State& state, const SearchSpace& space, const Drive& d) {
  SearchResult r;
  for (auto _ : state) r = search(d, space, static_cast<int>(state.range(0)));
  state.counters["combinations"] = static_cast<double>(r.combinations);
  state.counters["solved"] = static_cast<double>(r.solved);
  state.counters["fits"] = static_cast<double>(r.fits);
  std::string counts;
  for (std::size_t i = 0; i < kTrials; ++i) {
    if (r.thrown_out[i] == 0) continue;
    counts += std::string(to_text(static_cast<Trial>(i))) + " " + std::to_string(r.thrown_out[i]) + "; ";
  }
  state.SetLabel("thrown out: " + counts);
}

void search_of_a_million(benchmark::State& state) {
  Drive d = eight();
  d.pulleys[4].radius = d.pulleys[4].outside = 32;
  d.obstacles[2].polygon = {{80, 220}, {88, 225}, {88, 245}, {80, 245}};
  d.belt.shorter.value = 4, d.belt.stretch.value = 0.002;
  d.duty.rpm = {800, 1200, 1600, 2000, 2400, 2800, 3200, 3600, 4000, 4400, 4800, 5200, 5500, 5800};
  d.tensioner->peg.reset();
  search_of(state, million(d), d);
}
BENCHMARK(search_of_a_million)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond)->UseRealTime()->Iterations(1);

/// The hardest case: narrow steps round a sound drive, nearly all meet all limits and nothing can be thrown out early.
void search_of_a_million_that_fit(benchmark::State& state) {
  Drive d = eight();
  d.pulleys[4].radius = d.pulleys[4].outside = 32;
  d.obstacles.clear();
  d.duty.rpm = {800, 1200, 1600, 2000, 2400, 2800, 3200, 3600, 4000, 4400, 4800, 5200, 5500, 5800};
  d.tensioner->peg.reset();
  d.belt.shorter.value = 2, d.belt.stretch.value = 0.001;
  for (Pulley& p : d.pulleys) {
    p.flange_height = 0;
    if (p.side == Side::ribs) p.outside -= 4;
  }
  SearchSpace s = million(d);
  for (std::size_t i = 0; i < s.lengths.size(); ++i) {
    s.lengths[i] = d.belt.effective_length.value + 0.1 * static_cast<double>(i);
  }
  for (double& turn : s.turns) turn /= 20;
  for (std::size_t i = 0; i < 8; ++i) s.varied[0].radii[i] = 43 + 0.1 * static_cast<double>(i);
  for (std::size_t i = 0; i < 5; ++i) {
    s.varied[1].radii[i] = 35 + 0.1 * static_cast<double>(i);
    s.varied[1].places[i] = d.pulleys[2].at + Vec2{0.2 * static_cast<double>(i), 0};
    s.varied[2].radii[i] = 32.5 + 0.1 * static_cast<double>(i);
  }
  search_of(state, s, d);
}
BENCHMARK(search_of_a_million_that_fit)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond)->UseRealTime()->Iterations(1);

}  // namespace

BENCHMARK_MAIN();
