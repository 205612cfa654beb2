// The search: the same fits in the same order as a witness that analyses every combination in full, whatever the
// number of threads; lists no longer than asked for.
#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>
#include <numeric>
#include <set>
#include <stdexcept>
#include <string>
#include <vector>

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include "drives.h"
#include "groovewright/drive/analysis.h"
#include "groovewright/drive/belts.h"
#include "groovewright/drive/search.h"
#include "property.h"
#include "witness/each_combination.h"

namespace groovewright::drive {
namespace {

using testing::drive_of;
using testing::flat;
using testing::kDegree;
using testing::larkspur;
using testing::pk_belt;
using testing::ribbed;

/// The drive of the rows' tests, sound with a belt of about 1590.
Drive sound() {
  Drive d = larkspur();
  d.pulleys[4].radius = d.pulleys[4].outside = 32;
  d.belt.shorter.value = 4;
  d.belt.stretch.value = 0.002;
  d.duty.rpm = {800, 2000, 4000, 5800};
  d.tensioner->peg.reset();
  return d;
}
double middle_of(const Drive& d) { return length_at_middle(Swing(d, course(d))); }

/// A few of everything round the sound drive: one half fits.
SearchSpace small_space(const Drive& d) {
  const double middle = std::round(middle_of(d));
  SearchSpace s;
  for (int i = -3; i <= 3; ++i) s.lengths.push_back(middle + 3 * i);
  s.turns = {-4 * kDegree, 0, 4 * kDegree};
  s.varied = {{2, {31, 34, 36}, {{35, 250}, {36, 248}}}, {kNone, {32, 32.5}, {d.tensioner->pivot}}};
  return s;
}

std::vector<std::uint64_t> indices(const std::vector<Fit>& kept) {
  std::vector<std::uint64_t> out;
  for (const Fit& f : kept) out.push_back(f.index);
  return out;
}
std::vector<std::uint64_t> indices(const std::vector<witness::Judged>& all) {
  std::vector<std::uint64_t> out;
  for (const auto& j : all) out.push_back(j.index);
  return out;
}

/// Everything that a result says, as text.
std::string told(const SearchResult& r) {
  std::string all = std::to_string(r.combinations) + " " + std::to_string(r.solved) + " " + std::to_string(r.fits);
  for (const auto n : r.thrown_out) all += " " + std::to_string(n);
  const auto exactly = [](double v) { return std::to_string(std::bit_cast<std::uint64_t>(v)) + " "; };
  for (const Fit& f : r.kept) {
    all += "\n" + std::to_string(f.index) + " ";
    for (const double v : {f.merit, f.to_near, f.to_far, f.tension.low, f.tension.mid, f.tension.high, f.grip, f.room})
      all += exactly(v);
  }
  for (const NearMiss& m : r.nearest) {
    all += "\n" + std::to_string(m.index) + " " + std::to_string(static_cast<int>(m.first)) + " " + exactly(m.by);
    for (const Check& c : m.fails) all += c.id + " " + exactly(c.value) + c.says;
  }
  return all;
}

/// Holds a search against the witness; tells where they differ.
std::string differs(const Drive& d, SearchSpace space) {
  space.keep = space.size();
  space.near_misses = 7;
  const SearchResult r = search(d, space, 1);
  const witness::All all = witness::judge_each(d, space);
  if (r.combinations != space.size()) return "count";
  if (r.fits != all.fits.size()) {
    return "fits: " + std::to_string(r.fits) + ", by the witness " + std::to_string(all.fits.size());
  }
  if (indices(r.kept) != indices(all.fits)) return "order of the fits";
  for (std::size_t i = 0; i < r.kept.size(); ++i) {
    const double a = r.kept[i].merit, b = all.fits[i].merit;
    if (a != b && !(std::abs(a - b) <= 2 * kMeritStep)) return "merit of " + std::to_string(r.kept[i].index);
  }
  const auto thrown = std::accumulate(r.thrown_out.begin(), r.thrown_out.end(), std::uint64_t{0});
  if (thrown + r.fits != space.size()) return "counts of those thrown out";
  if (r.nearest.size() != std::min(space.near_misses, all.others.size())) return "number of near misses";
  for (std::size_t i = 0; i < r.nearest.size(); ++i) {
    if (r.nearest[i].fails.empty()) return "a near miss that fails nothing";
    // From a limit missed altogether on, rows do not tell how far off it is.
    if (all.others[i].lacks >= 1) break;
    if (r.nearest[i].index != all.others[i].index || std::abs(r.nearest[i].by - all.others[i].lacks) > 1e-6) {
      return "near miss " + std::to_string(i) + ": " + std::to_string(r.nearest[i].index) + " by " +
             std::to_string(r.nearest[i].by) + ", by the witness " + std::to_string(all.others[i].index) + " by " +
             std::to_string(all.others[i].lacks);
    }
  }
  return "";
}

TEST(Search, FindsWhatTheWitnessFinds) {
  const Drive d = sound();
  for (const Merit merit : {Merit::travel, Merit::grip, Merit::room}) {
    SearchSpace space = small_space(d);
    space.merit = merit;
    EXPECT_EQ(differs(d, space), "") << static_cast<int>(merit);
    const SearchResult r = search(d, space, 1);
    EXPECT_GT(r.fits, 20U);
    EXPECT_LT(r.fits, r.combinations - 20);
  }
}

rc::Gen<double> between(int from, int to, double step) {
  return rc::gen::map(rc::gen::inRange(from, to + 1), [step](int i) { return i * step; });
}

TEST(Search, FindsWhatTheWitnessFindsOnRandomSpaces) {
  std::uint64_t fits = 0, combinations = 0;
  std::array<std::uint64_t, kTrials> thrown{};
  expect_property(
      [&] {
        Drive d = sound();
        d.pulleys[5].plane = *between(0, 5, 0.5);
        d.pulleys[1].speed_max = *between(105, 130, 100);
        d.duty.rpm.back() = 5300;
        d.pulleys[0].flange_height = *between(0, 8, 1);
        d.tensioner->arm_half_width = *between(0, 3, 5);
        d.tensioner->effort *= *between(7, 13, 0.1);
        d.tensioner->free = d.tensioner->stop_a = *between(55, 66, 1) * kDegree;
        if (*rc::gen::inRange(0, 4) == 0) d.tensioner->peg = Peg{26, 200 * kDegree, 8, "M8", 14};
        if (*rc::gen::arbitrary<bool>()) d.belt.stiffness_per_rib.value = 0;
        if (*rc::gen::inRange(0, 3) == 0) d.pulleys[0].pull_max = *between(12, 40, 100);
        if (*rc::gen::inRange(0, 3) == 0) d.tensioner->idler.pull_max = *between(6, 30, 100);
        if (*rc::gen::inRange(0, 12) == 0) d.tensioner->friction.value = 1;
        if (*rc::gen::arbitrary<bool>()) {
          d.obstacles = {{"boss", {*between(-16, -12, 10), 230}, 15, {}, {}},
                         {"cover", {}, 0, {{80, *between(21, 23, 10)}, {90, 240}, {92, 250}, {80, 250}}, {}}};
        }
        SearchSpace s;
        s.merit = static_cast<Merit>(*rc::gen::inRange(0, 3));
        const double middle = std::round(middle_of(d)), step = *between(2, 12, 0.5);
        for (int i = *rc::gen::inRange(-4, 1); i <= 2; ++i) s.lengths.push_back(middle + step * i);
        s.turns.clear();
        for (int i = *rc::gen::inRange(-2, 1); i <= 1; ++i) s.turns.push_back(i * *between(1, 16, 0.5) * kDegree);
        const auto vary = [&](std::size_t pulley, double radius, Vec2 place) {
          Varied v{pulley, {}, {}};
          for (int k = *rc::gen::inRange(1, 3); k > 0; --k) v.radii.push_back(radius + *between(-1, 8, 0.5));
          for (int k = *rc::gen::inRange(1, 3); k > 0; --k) {
            v.places.push_back(place + Vec2{*between(-8, 8, 0.5), *between(-5, 5, 0.5)});
          }
          s.varied.push_back(v);
        };
        if (*rc::gen::arbitrary<bool>()) vary(kNone, 32.5, d.tensioner->pivot);
        if (*rc::gen::arbitrary<bool>()) vary(4, 32, d.pulleys[4].at);
        const std::size_t other = *rc::gen::element<std::size_t>(0, 1, 2, 3, 5);
        vary(other, d.pulleys[other].radius, d.pulleys[other].at);
        const SearchResult r = search(d, s, 1);
        fits += r.fits;
        combinations += r.combinations;
        for (std::size_t i = 0; i < kTrials; ++i) thrown[i] += r.thrown_out[i];
        const std::string told = differs(d, s);
        if (!told.empty()) RC_FAIL(told);
      },
      std::max(4, cases() / 4));
  std::cout << "fits: " << fits << " of " << combinations << "; thrown out:";
  for (const auto n : thrown) std::cout << " " << n;
  std::cout << "\n";
  EXPECT_GT(fits, 0U);
}

/// Bearings thrown out by the witness's rows alone: their limit lies in the middle of the hub loads that occur.
TEST(Search, HoldsHubLoadsAgainstBearings) {
  Drive d = sound();
  SearchSpace space = small_space(d);
  space.keep = space.size();
  const SearchResult free_of_limits = search(d, space, 1);
  std::vector<double> loads;
  for (const Fit& f : free_of_limits.kept) {
    const Drive one = with_combination(d, space, f.index);
    for (const Check& c : rows(one, analyse(one)).checks) {
      if (c.id == "hub_load") loads.push_back(c.value);
    }
  }
  std::sort(loads.begin(), loads.end());
  ASSERT_GT(loads.size(), 10U);
  d.pulleys[0].pull_max = loads[loads.size() / 2];
  EXPECT_EQ(differs(d, small_space(d)), "");
  const SearchResult limited = search(d, space, 1);
  EXPECT_EQ(limited.fits, loads.size() / 2 + 1);
  EXPECT_EQ(limited.thrown_out[static_cast<std::size_t>(Trial::bearing)], loads.size() - limited.fits);
  bool told = false;
  for (const NearMiss& m : limited.nearest) {
    for (const Check& c : m.fails) told = told || c.id == "hub_load";
  }
  EXPECT_TRUE(told) << "a near miss says which shaft";
}

TEST(Search, OnFixedCentresFindsWhatTheWitnessFinds) {
  // 800 + 100 pi is 1114.2 mm; tolerance 6 mm.
  Drive d = drive_of(pk_belt(8, 1114), Sense::clockwise, {ribbed("a", {0, 0}, 50), ribbed("b", {400, 0}, 50)});
  d.pulleys[1].load = {{.rpm = 0, .own_speed = true, .value = 8000}, {.rpm = 9000, .own_speed = true, .value = 8000}};
  d.pulleys[1].pull_max = 1790;
  d.duty.rpm = {1000, 5000};
  // On fixed centres a belt never climbs a rim; crests far below the effective line let it by.
  for (Pulley& p : d.pulleys) p.outside -= 4;
  SearchSpace s;
  s.merit = Merit::grip;
  s.lengths = {1100, 1110, 1114, 1118, 1120, 1125};
  s.varied = {{1, {20, 45, 48, 50, 52}, {{400, 0}, {405, 0}, {300, 0}}}};
  for (const double tension : {0.0, 250.0, 400.0, 900.0}) {
    d.duty.still_tension = tension;
    EXPECT_EQ(differs(d, s), "") << tension;
  }
  s.near_misses = 3;
  const SearchResult r = search(d, s, 2);
  EXPECT_GT(r.fits, 0U) << told(r);
  EXPECT_EQ(r.nearest.size(), 3U);
}

TEST(Search, OfASlideFindsWhatTheWitnessFinds) {
  Drive d = sound();
  Tensioner& t = *d.tensioner;
  t.kind = Tensioner::Kind::slide;
  t.pivot = {-150, 165};
  t.direction = 0;
  t.free = t.stop_a = 95;
  t.stop_b = 40;
  t.effort = 600;
  t.rate = 2;
  SearchSpace s;
  const double middle = std::round(middle_of(d));
  for (int i = -5; i <= 5; ++i) s.lengths.push_back(middle + 4 * i);
  s.varied = {{kNone, {30, 32.5}, {t.pivot, t.pivot + Vec2{-5, 0}}}};
  EXPECT_EQ(differs(d, s), "");
  EXPECT_GT(search(d, s, 1).fits, 0U);
}

TEST(Search, IsTheSameOnAnyNumberOfThreads) {
  const Drive d = sound();
  SearchSpace space = small_space(d);
  for (int i = 0; i < 12; ++i) space.varied[0].places.push_back({34.0 + 0.3 * i, 251.0 - 0.2 * i});
  // Pulleys of one size twice: equal merits, told apart by their numbers.
  space.varied[0].radii.push_back(35);
  for (const std::size_t keep : {std::size_t{1}, std::size_t{9}}) {
    space.keep = keep;
    space.near_misses = 2 * keep;
    const std::string one = told(search(d, space, 1));
    EXPECT_EQ(one, told(search(d, space, 2)));
    EXPECT_EQ(one, told(search(d, space, 5)));
    EXPECT_EQ(one, told(search(d, space, 1)));
  }
}

TEST(Search, KeepsNoMoreThanAskedFor) {
  const Drive d = sound();
  SearchSpace space = small_space(d);
  const SearchResult all = search(d, space, 1);
  ASSERT_GT(all.fits, 20U);
  EXPECT_EQ(all.kept.size(), space.keep);
  EXPECT_EQ(all.nearest.size(), space.near_misses);
  space.keep = 3;
  space.near_misses = 0;
  const SearchResult few = search(d, space, 3);
  EXPECT_EQ(few.fits, all.fits);
  EXPECT_TRUE(few.nearest.empty());
  ASSERT_EQ(few.kept.size(), 3U);
  for (std::size_t i = 0; i < 3; ++i) EXPECT_EQ(few.kept[i].index, all.kept[i].index);
  EXPECT_EQ(few.thrown_out, all.thrown_out);
  EXPECT_EQ(few.solved, all.solved);
}

TEST(Search, CountsWhatEachTestThrowsOut) {
  const Drive d = sound();
  SearchSpace s = small_space(d);
  const std::uint64_t belts = s.lengths.size() * s.turns.size();
  const auto thrown = [&](const Drive& drive, Trial trial) {
    return search(drive, s, 2).thrown_out[static_cast<std::size_t>(trial)];
  };
  EXPECT_EQ(thrown(d, Trial::size), belts * 4) << "a flat of 62 mm bends the belt of d_e,min 45 more than 1.4 allow";
  s.varied = {{2, {35}, {{35, 250}, {-60, 330}, {135, 300}}}};
  EXPECT_EQ(thrown(d, Trial::standing), belts * 2) << "on another pulley's place, or too close to it";
  s.varied.clear();
  s.turns = {0};
  Drive other = d;
  other.pulleys[1].speed_max = 9000;
  EXPECT_EQ(thrown(other, Trial::speed), 7U);
  other = d;
  other.pulleys[1].load.back().rpm = 9000;
  EXPECT_EQ(thrown(other, Trial::load), 7U);
  other = d;
  other.pulleys[6].plane = 6;
  EXPECT_EQ(thrown(other, Trial::alignment), 7U);
  other = d;
  s.turns = {-4 * kDegree, 0, 4 * kDegree};
  other.tensioner->peg = Peg{26, 0, 8, "M8", 14};
  EXPECT_EQ(thrown(other, Trial::peg_hole), 14U) << "2 x 26 sin 2 deg is 1.8 mm, 14 are needed";
  other = d;
  other.tensioner->effort /= 3, other.tensioner->rate /= 3;
  const SearchResult r = search(other, s, 1);
  EXPECT_GT(r.thrown_out[static_cast<std::size_t>(Trial::grip)], 0U);
  EXPECT_EQ(r.fits, 0U);
  EXPECT_TRUE(std::any_of(r.nearest.front().fails.begin(), r.nearest.front().fails.end(),
                          [](const Check& c) { return c.id.starts_with("slip_"); }));
}

TEST(Search, NumbersItsCombinations) {
  const Drive d = sound();
  const SearchSpace s = small_space(d);
  EXPECT_EQ(s.size(), 7U * 3 * 6 * 2);
  std::set<std::string> seen;
  for (std::uint64_t i = 0; i < s.size(); ++i) {
    const Combination c = combination(s, i);
    std::string all = std::to_string(c.length) + " " + std::to_string(c.turn);
    for (const auto& choice : c.choices) {
      all += " " + std::to_string(choice.radius) + " " + std::to_string(choice.place.x);
    }
    EXPECT_TRUE(seen.insert(all).second) << all;
  }
  EXPECT_EQ(combination(s, 1).length - combination(s, 0).length, 3) << "belts change fastest";
  EXPECT_EQ(combination(s, 7).turn, 0) << "then turns";
  EXPECT_EQ(combination(s, 21).choices[1].radius, 32.5) << "then the last pulley";
  const Drive with = with_combination(d, s, 21 + 14);
  EXPECT_EQ(with.tensioner->idler.radius, 32.5);
  EXPECT_EQ(with.tensioner->free, d.tensioner->free + 4 * kDegree);
  EXPECT_EQ(with.belt.effective_length.value, s.lengths[0]);
  SearchSpace vast = s;
  vast.varied.assign(12, Varied{1, std::vector<double>(100, 1.0), std::vector<Vec2>(100)});
  EXPECT_EQ(vast.size(), std::numeric_limits<std::uint64_t>::max());
}

TEST(Search, TellsItsProgressAndEndsWhenThatThrows) {
  const Drive d = sound();
  SearchSpace space = small_space(d);
  for (int i = 0; i < 200; ++i) space.varied[0].places.push_back({35.0 + 0.01 * i, 250});
  std::uint64_t last = 0;
  const SearchResult r = search(d, space, 1, [&](std::uint64_t done, std::uint64_t of) {
    EXPECT_GT(done, last);
    EXPECT_EQ(of, space.size());
    last = done;
  });
  EXPECT_EQ(last, space.size());
  EXPECT_EQ(r.combinations, space.size());
  EXPECT_THROW((void)search(d, space, 3, [](std::uint64_t, std::uint64_t) { throw std::runtime_error("stop"); }),
               std::runtime_error);
}

TEST(Seats, AreTheSeatsOfTheirSwing) {
  const Drive d = sound();
  const Swing swing(d, course(d));
  const Seats seats(swing);
  const double middle = middle_of(d);
  for (double length = middle - 60; length < middle + 60; length += 0.7) {
    const Seat one = seat(swing, length), other = seats.of(length);
    EXPECT_EQ(one.state, other.state) << length;
    EXPECT_EQ(one.position, other.position) << length;
    EXPECT_EQ(one.tension.low, other.tension.low) << length;
    EXPECT_EQ(one.lacks, other.lacks) << length;
    if (one.state != Seat::State::seated) continue;
    const auto reach = seats.reach(length);
    ASSERT_TRUE(reach) << length;
    const double step = std::abs(swing.far_stop() - swing.near_stop()) / Seats::kSteps;
    EXPECT_GE(reach->to_near, one.to_near) << length;
    EXPECT_GE(reach->to_far, one.to_far) << length;
    EXPECT_LE(reach->to_near, one.to_near + step) << length;
    EXPECT_LE(reach->to_far, one.to_far + step) << length;
  }
  EXPECT_FALSE(seats.reach(middle - 100));
  EXPECT_FALSE(seats.reach(middle + 100));
}

}  // namespace
}  // namespace groovewright::drive
