// The belt's way: against closed forms, against a band that pulls itself taut, and against itself when turned.
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include "drives.h"
#include "groovewright/base/broken.h"
#include "property.h"
#include "witness/hull.h"
#include "witness/taut_band.h"

namespace groovewright::drive {
namespace {

using std::numbers::pi;
using testing::drive_of;
using testing::flat;
using testing::kDegree;
using testing::laid;
using testing::ribbed;
using testing::thin_belt;

bool stands_clear(const std::vector<Round>& rounds, const Round& another) {
  for (const Round& r : rounds) {
    if (norm(r.centre - another.centre) < r.radius + another.radius + 5) return false;
  }
  return true;
}

/// Rounds about a ring in order of their angle, some of them pressing on the outside; either sense.
std::vector<Round> any_loop() {
  const int n = *rc::gen::resize(rc::kNominalSize, rc::gen::inRange(2, 10));
  const int loop = *rc::gen::arbitrary<bool>() ? 1 : -1;
  std::vector<Round> rounds;
  for (int i = 0; i < n; ++i) {
    const bool back = n > 3 && i % 2 == 1 && *rc::gen::arbitrary<bool>();
    const double angle = loop * 2 * pi * (i + any(-0.2, 0.2)) / n, far = back ? any(250, 420) : any(250, 400);
    const Round r{{far * std::cos(angle), far * std::sin(angle)}, any(20, 110), back ? -loop : loop};
    if (stands_clear(rounds, r)) rounds.push_back(r);
  }
  return rounds;
}

Drive drive_from(const std::vector<Round>& rounds, int loop) {
  std::vector<Pulley> pulleys;
  for (std::size_t i = 0; i < rounds.size(); ++i) {
    const std::string name = "p" + std::to_string(i);
    pulleys.push_back(rounds[i].turn == loop ? ribbed(name, rounds[i].centre, rounds[i].radius)
                                             : flat(name, rounds[i].centre, rounds[i].radius));
  }
  return drive_of(thin_belt(), loop > 0 ? Sense::counter_clockwise : Sense::clockwise, pulleys);
}

int loop_of(const std::vector<Round>& rounds) { return rounds.front().turn; }

/// A loop whose belt holds every round and nowhere crosses itself. The first round has ribs.
std::vector<Round> any_sound_loop() {
  std::vector<Round> rounds = any_loop();
  RC_PRE(rounds.size() >= 2);
  const Drive d = drive_from(rounds, loop_of(rounds));
  RC_PRE(layout_complaints(d, course(d)).empty());
  return rounds;
}

TEST(Route, OfTwoPulleysIsTheOpenBeltOfTheHandbooks) {
  expect_property([] {
    const double R = any(10, 200), r = any(10, 200), C = R + r + any(1, 800);
    const Route route = laid(drive_of(thin_belt(), Sense::clockwise, {ribbed("a", {0, 0}, R), ribbed("b", {C, 0}, r)}));
    // L = 2 C cos b + pi (R + r) + 2 b (R - r), sin b = (R - r)/C: exact form, any handbook of machine design.
    const double b = std::asin((R - r) / C);
    RC_ASSERT(std::abs(route.length - (2 * C * std::cos(b) + pi * (R + r) + 2 * b * (R - r))) < kRouteError);
    RC_ASSERT(std::abs(route.wraps[0] - (pi + 2 * b)) < kRouteError);
    RC_ASSERT(std::abs(route.wraps[1] - (pi - 2 * b)) < kRouteError);
  });
}

TEST(Route, OfTwoPulleysWithTheOtherSideIsTheCrossedBelt) {
  expect_property([] {
    const double R = any(10, 200), r = any(10, 200), C = R + r + any(1, 800);
    const Drive d = drive_of(thin_belt(), Sense::clockwise, {ribbed("a", {0, 0}, R), flat("b", {C, 0}, r)});
    const Route route = laid(d);
    // L = 2 C cos b + (R + r)(pi + 2 b), sin b = (R + r)/C.
    const double b = std::asin((R + r) / C);
    RC_ASSERT(std::abs(route.length - (2 * C * std::cos(b) + (R + r) * (pi + 2 * b))) < kRouteError);
    RC_ASSERT(std::abs(route.wraps[0] - (pi + 2 * b)) < kRouteError);
    const auto complaints = layout_complaints(d, course(d));
    RC_ASSERT(complaints.size() == 1U);
    RC_ASSERT(complaints[0].kind == Complaint::Kind::crosses_itself);
  });
}

TEST(Route, IsAsLongAsABandThatPullsItselfTaut) {
  int with_back = 0, over_half = 0;
  expect_property([&] {
    const std::vector<Round> rounds = any_sound_loop();
    const Route route = laid(course(drive_from(rounds, loop_of(rounds))));
    // A polygon around a circle has its corners at 1 / cos of half a side's angle.
    constexpr std::size_t kCorners = 2000;
    const double swell = 1 / std::cos(pi / static_cast<double>(kCorners));
    const double under = witness::taut_band(rounds, kCorners, 1), over = witness::taut_band(rounds, kCorners, swell);
    RC_ASSERT(under <= route.length + kRouteError);
    RC_ASSERT(over >= route.length - kRouteError);
    RC_ASSERT(over - under < 1e-5 * route.length);
    for (std::size_t i = 0; i < rounds.size(); ++i) {
      with_back += rounds[i].turn != loop_of(rounds);
      over_half += route.wraps[i] > pi;
    }
  });
  EXPECT_GT(with_back, cases() / 20) << "too few back idlers among the cases";
  EXPECT_GT(over_half, cases() / 20) << "too few wraps over 180 deg among the cases";
}

TEST(Route, RoundPulleysAllInsideIsTheirConvexHull) {
  int three_or_more = 0;
  expect_property([&] {
    std::vector<Round> circles;
    const int n = *rc::gen::resize(rc::kNominalSize, rc::gen::inRange(2, 9));
    for (int i = 0; i < n; ++i) {
      const Round r{{any(-400, 400), any(-400, 400)}, any(15, 120), 1};
      if (stands_clear(circles, r)) circles.push_back(r);
    }
    constexpr int kPoints = 1000;
    const witness::Hull under = witness::hull_of_circles(circles, kPoints, 1);
    const witness::Hull over = witness::hull_of_circles(circles, kPoints, 1 / std::cos(pi / kPoints));
    // Circles that the hull meets twice, or not at all, are no pulleys of one simple belt.
    RC_PRE(under.runs == over.runs && under.runs.size() >= 2);
    std::vector<Round> rounds;
    for (const std::size_t i : under.runs) rounds.push_back(circles[i]);
    for (std::size_t i = 0; i < under.runs.size(); ++i) {
      for (std::size_t k = i + 1; k < under.runs.size(); ++k) RC_PRE(under.runs[i] != under.runs[k]);
    }
    const Drive d = drive_from(rounds, 1);
    RC_ASSERT(layout_complaints(d, course(d)).empty());
    const double length = laid(d).length;
    RC_ASSERT(under.length <= length + kRouteError);
    RC_ASSERT(length <= over.length + kRouteError);
    RC_ASSERT(over.length - under.length < 1e-5 * length);
    three_or_more += rounds.size() >= 3;
  });
  EXPECT_GT(three_or_more, cases() / 20);
}

TEST(Route, WrapsSumToOneTurn) {
  expect_property([] {
    const std::vector<Round> rounds = any_sound_loop();
    const Course c = course(drive_from(rounds, loop_of(rounds)));
    RC_ASSERT(std::abs(sum_of_signed_wraps(c, laid(c)) - 2 * pi) < kRouteError);
  });
}

TEST(Route, LengthGrowsByTheWrapWithEachRadius) {
  expect_property([] {
    std::vector<Round> rounds = any_sound_loop();
    const Route route = laid(course(drive_from(rounds, loop_of(rounds))));
    const std::size_t i = *rc::gen::inRange<std::size_t>(0, rounds.size());
    const double h = 1e-4;
    Route more, less;
    rounds[i].radius += h;
    RC_PRE(lay(rounds, more));
    rounds[i].radius -= 2 * h;
    RC_PRE(lay(rounds, less));
    RC_ASSERT(std::abs((more.length - less.length) / (2 * h) - route.wraps[i]) < 1e-6);
  });
}

TEST(Route, KeepsItsLengthWhenMovedTurnedMirroredOrReversed) {
  expect_property([] {
    const std::vector<Round> rounds = any_sound_loop();
    const Route route = laid(course(drive_from(rounds, loop_of(rounds))));
    const double angle = any(0, 2 * pi), dx = any(-500, 500), scale = any(0.5, 2);
    std::vector<Round> turned, mirrored, scaled, reversed(rounds.rbegin(), rounds.rend());
    for (const Round& r : rounds) {
      const Vec2 c = r.centre;
      turned.push_back(
          {{c.x * std::cos(angle) - c.y * std::sin(angle) + dx, c.x * std::sin(angle) + c.y * std::cos(angle)},
           r.radius,
           r.turn});
      mirrored.push_back({{-c.x, c.y}, r.radius, -r.turn});
      scaled.push_back({scale * c, scale * r.radius, r.turn});
    }
    for (Round& r : reversed) r.turn = -r.turn;
    const auto length = [](const std::vector<Round>& of) {
      Route out;
      RC_ASSERT(lay(of, out));
      return out.length;
    };
    RC_ASSERT(std::abs(length(turned) - route.length) < 10 * kRouteError);
    RC_ASSERT(std::abs(length(mirrored) - route.length) < kRouteError);
    RC_ASSERT(std::abs(length(reversed) - route.length) < kRouteError);
    RC_ASSERT(std::abs(length(scaled) - scale * route.length) < 10 * kRouteError);
  });
}

TEST(Route, PitchLengthIsTheWayOfTheCord) {
  // The cord's own rounds: larger by b_e on ribs, smaller by b_e than the effective line on back idlers.
  const Drive d = testing::larkspur();
  Course c = course(d);
  const double pitch = pitch_length(d.belt, c, laid(c)), effective = laid(c).length;
  EXPECT_NEAR(pitch, effective + 2 * pi * 2.0, kRouteError) << "L_p = L_e + 2 pi b_e on a simple loop";
  for (std::size_t i = 0; i < c.size(); ++i) c.rounds[i].radius = cord_radius(d.belt, pulley_at(d, c, i));
  EXPECT_NEAR(laid(c).length, pitch, kRouteError);
}

// ---- impossible layouts ----

struct Impossible {
  const char* name;
  std::vector<Pulley> pulleys;
  Complaint::Kind kind;
  double figure;
  const char* fragment;
};

TEST(Route, SaysWhyALayoutIsImpossible) {
  const std::vector<Impossible> cases = {
      {"same centre",
       {ribbed("crank", {0, 0}, 50), ribbed("fan", {0, 0}, 30)},
       Complaint::Kind::same_centre,
       0,
       "crank and fan have the same centre"},
      {"overlap",
       {ribbed("crank", {0, 0}, 50), ribbed("fan", {70, 0}, 30)},
       Complaint::Kind::overlap,
       10,
       "crank and fan overlap by 10 mm"},
      {"one in another",
       {ribbed("crank", {0, 0}, 50), ribbed("fan", {10, 0}, 30)},
       Complaint::Kind::overlap,
       70,
       "overlap by 70 mm"},
      // The belt from a to c runs along y = 150 (both radii 50 about y = 100): 30 mm above the small pulley's top.
      {"missed",
       {ribbed("a", {300, 100}, 50), ribbed("small", {150, 100}, 20), ribbed("c", {0, 100}, 50)},
       Complaint::Kind::missed,
       30,
       "from a to c misses small by 30 mm"},
      // The idler on the back stands outside of the loop, 40 mm away from the belt.
      {"idler out of reach",
       {ribbed("a", {300, 0}, 50), flat("idler", {150, 110}, 20), ribbed("c", {0, 0}, 50)},
       Complaint::Kind::missed,
       40,
       "misses idler by 40 mm"},
      {"other way round",
       {ribbed("a", {0, 0}, 40), ribbed("b", {150, 250}, 40), ribbed("c", {300, 0}, 40)},
       Complaint::Kind::not_once_round,
       -1,
       "list the pulleys the other way round, or turn the driver clockwise"},
      // The long lower span of a and b runs along y = -50; a pulley that is not its neighbour stands on it.
      {"through",
       {ribbed("a", {0, 0}, 50), ribbed("b", {600, 0}, 50), ribbed("d", {450, 400}, 30), flat("e", {300, -60}, 25),
        ribbed("f", {150, 400}, 30)},
       Complaint::Kind::through_pulley,
       0,
       "would pass through"},
      {"crossing",
       {ribbed("a", {0, 0}, 40), ribbed("b", {400, 300}, 40), ribbed("c", {400, 0}, 40), ribbed("d", {0, 300}, 40)},
       Complaint::Kind::crosses_itself,
       0,
       "the belt crosses itself"},
  };
  for (const Impossible& c : cases) {
    const Drive d = drive_of(thin_belt(), Sense::counter_clockwise, c.pulleys);
    const auto complaints = layout_complaints(d, course(d));
    bool found = false;
    std::string all;
    for (const Complaint& complaint : complaints) {
      all += complaint.says + "\n";
      if (complaint.kind != c.kind || complaint.says.find(c.fragment) == std::string::npos) continue;
      found = true;
      if (c.figure != 0) {
        EXPECT_NEAR(complaint.figure, c.figure, 1e-9) << c.name;
      }
    }
    EXPECT_TRUE(found) << c.name << ": " << all;
  }
}

TEST(Route, HasNothingToSayOfASoundDrive) {
  const Drive d = testing::larkspur();
  for (const Complaint& c : layout_complaints(d, course(d))) ADD_FAILURE() << c.says;
}

TEST(Route, RefusesACourseThatIsNone) {
  Drive d = drive_of(thin_belt(), Sense::clockwise, {ribbed("a", {0, 0}, 50)});
  EXPECT_THROW((void)course(d), Broken);
  d = drive_of(thin_belt(), Sense::clockwise, {ribbed("a", {0, 0}, 50), ribbed("b", {200, 0}, 50)});
  d.pulleys[0].drives = false;
  EXPECT_THROW((void)course(d), Broken);
  d.pulleys[0].drives = d.pulleys[1].drives = true;
  EXPECT_THROW((void)course(d), Broken);
}

}  // namespace
}  // namespace groovewright::drive
