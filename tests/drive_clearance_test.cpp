// Clearances against clouds of points, over the swing against many looks, and belt room by hand.
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include "drives.h"
#include "groovewright/base/broken.h"
#include "property.h"
#include "witness/clouds.h"

namespace groovewright::drive {
namespace {

using std::numbers::pi;
using testing::drive_of;
using testing::flat;
using testing::kDegree;
using testing::laid;
using testing::larkspur;
using testing::pk_belt;
using testing::ribbed;
using Kind = PartId::Kind;

Obstacle disc(std::string name, Vec2 centre, double radius) { return {std::move(name), centre, radius, {}, {}}; }
Obstacle block(std::string name, std::vector<Vec2> corners) { return {std::move(name), {}, 0, std::move(corners), {}}; }

Obstacle any_obstacle() {
  const Vec2 at{any(-250, 350), any(-150, 450)};
  if (*rc::gen::arbitrary<bool>()) return disc("boss", at, any(3, 40));
  std::vector<Vec2> corners;
  const int n = *rc::gen::inRange(3, 7);
  for (int i = 0; i < n; ++i) corners.push_back(at + plane::polar(any(5, 50), 2 * pi * i / n));
  return block("cover", corners);
}

const Gap& gap_of(const std::vector<Gap>& gaps, PartId a, PartId b) {
  for (const Gap& g : gaps) {
    if ((g.a == a && g.b == b) || (g.a == b && g.b == a)) return g;
  }
  throw Broken("no such pair");
}

double to_cloud(Vec2 p, const witness::Cloud& cloud) { return witness::least_distance({p}, cloud); }

TEST(Clearance, OfAnObstacleIsThatOfItsCloudOfPoints) {
  expect_property([] {
    Drive d = larkspur();
    d.obstacles = {any_obstacle()};
    const double position = any(65, 100) * kDegree;
    Course c = course(d);
    Clearances clearances(d, c);
    std::vector<Gap> gaps;
    RC_ASSERT(clearances.at(position, gaps));
    double least = kUnlimited;
    for (const Gap& g : gaps) {
      if (g.b.kind == Kind::obstacle) least = std::min(least, g.gap);
    }
    c.rounds[c.idler].centre = idler_centre(*d.tensioner, position);
    constexpr int kPoints = 400;
    const witness::Cloud belt = witness::drive_cloud(d, c, laid(c), kPoints),
                         obstacle = witness::obstacle_cloud(d.obstacles[0], kPoints);
    const double seen = witness::least_distance(obstacle, belt);
    for (const Gap& g : gaps) {
      RC_ASSERT(std::abs(plane::norm(g.at_a - g.at_b) - std::abs(g.in_plane)) < 1e-9 || g.at_a == g.at_b);
      if (g.b.kind != Kind::obstacle || g.gap < 0.1) continue;
      // Points are 2 mm apart at most on this drive.
      RC_ASSERT(to_cloud(g.at_b, obstacle) < 1.5);
      if (g.a.kind == Kind::pulley || g.gap < least + 1) RC_ASSERT(to_cloud(g.at_a, belt) < 1.5);
    }
    if (least < 0.1) return;  // overlapping clouds of outlines say nothing
    RC_CLASSIFY(least < 30, "near");
    // Points at most 1 mm apart on either outline: a gap g is seen as at most sqrt(g² + 1).
    RC_ASSERT(least <= seen + 1e-9);
    RC_ASSERT(least >= seen - 1.5 / (1 + least));
  });
}

TEST(Clearance, ByHand) {
  Drive d = drive_of(pk_belt(8, 0), Sense::counter_clockwise, {ribbed("a", {0, 0}, 50), ribbed("b", {400, 0}, 50)});
  d.pulleys[0].flange_height = 3;
  d.obstacles = {disc("boss", {200, 80}, 10), disc("lug", {200, 0}, 10), disc("post", {-80, 0}, 10),
                 block("wall", {{-100, -70}, {500, -70}, {500, -90}, {-100, -90}}), disc("stud", {0, 0}, 5)};
  const Course c = course(d);
  std::vector<Gap> gaps;
  Clearances clearances(d, c);
  ASSERT_TRUE(clearances.at(0, gaps));
  const auto pulley = [](std::size_t i) { return PartId{Kind::pulley, i}; };
  const auto span = [](std::size_t i) { return PartId{Kind::span, i}; };
  const auto obstacle = [](std::size_t i) { return PartId{Kind::obstacle, i}; };
  EXPECT_NEAR(gap_of(gaps, pulley(0), pulley(1)).gap, 400 - 53 - 50, 1e-9) << "flange to rim: no belt between them";
  // Counter-clockwise: the lower span runs to the right, the upper (leaving b) to the left. Back 3.5, ribs 2.5 deep.
  EXPECT_NEAR(gap_of(gaps, span(1), obstacle(0)).gap, 80 - 10 - 50 - 3.5, 1e-9) << "boss above the back";
  EXPECT_NEAR(gap_of(gaps, span(1), obstacle(1)).gap, 50 - 10 - 2.5, 1e-9) << "lug below the ribs";
  EXPECT_NEAR(gap_of(gaps, pulley(0), obstacle(2)).gap, 80 - 10 - 53.5, 1e-9) << "the belt's back beats the flange";
  EXPECT_NEAR(gap_of(gaps, span(0), obstacle(3)).gap, 20 - 3.5, 1e-9) << "wall under the lower span";
  EXPECT_NEAR(gap_of(gaps, pulley(1), obstacle(3)).gap, 70 - 53.5, 1e-9) << "wall under b's belt";
  EXPECT_LT(gap_of(gaps, pulley(0), obstacle(4)).gap, 0) << "a stud inside a rim";
  const auto between = [&](PartId a, PartId b, Vec2 at_a, Vec2 at_b) {
    const Gap& g = gap_of(gaps, a, b);
    EXPECT_LT(plane::norm(g.at_a - at_a), 1e-9) << part_name(d, c, a) << ", " << part_name(d, c, b);
    EXPECT_LT(plane::norm(g.at_b - at_b), 1e-9) << part_name(d, c, a) << ", " << part_name(d, c, b);
  };
  between(pulley(0), pulley(1), {53, 0}, {350, 0});
  between(span(1), obstacle(0), {200, 53.5}, {200, 70});
  between(span(1), obstacle(1), {200, 47.5}, {200, 10});
  between(pulley(0), obstacle(2), {-53.5, 0}, {-70, 0});
  between(pulley(1), obstacle(3), {400, -53.5}, {400, -70});
  EXPECT_EQ(gap_of(gaps, span(0), obstacle(3)).limit, 10) << "a span of 400 is long";
  EXPECT_EQ(gap_of(gaps, pulley(0), obstacle(2)).limit, 5);
}

TEST(Clearance, OfPrismsCountsBothWays) {
  Drive d = drive_of(pk_belt(8, 0), Sense::counter_clockwise, {ribbed("a", {0, 0}, 50), ribbed("b", {400, 0}, 50)});
  d.pulleys[0].axial = {-5, 30};
  d.obstacles = {disc("cover", {0, 0}, 80), disc("post", {-93, 0}, 10), disc("deep cover", {0, 0}, 80)};
  d.obstacles[0].axial = {34, 60};
  d.obstacles[1].axial = {42, 50};
  d.obstacles[2].axial = {-40, -2};
  std::vector<Gap> gaps;
  Clearances clearances(d, course(d));
  ASSERT_TRUE(clearances.at(0, gaps));
  const auto gap = [&](std::size_t k) { return gap_of(gaps, {Kind::pulley, 0}, {Kind::obstacle, k}); };
  EXPECT_NEAR(gap(0).gap, 4, 1e-9) << "a cover in front of the pulley: along the axis only";
  EXPECT_NEAR(gap(1).gap, std::hypot(93 - 10 - 53.5, 12), 1e-9) << "beside and in front";
  EXPECT_NEAR(gap(2).gap, -3, 1e-9) << "3 mm into it along the axis";
}

TEST(Clearance, OverTheSwingIsTheLeastOfManyLooks) {
  Drive d = larkspur();
  d.obstacles = {disc("boss", {-140, 200}, 15), disc("under the arm", {-60, 60}, 4),
                 block("cover", {{10, 150}, {40, 160}, {30, 200}, {0, 190}})};
  d.tensioner->arm_half_width = 12;
  const Course c = course(d);
  Clearances clearances(d, c);
  std::vector<Gap> least, looked, now;
  ASSERT_TRUE(clearances.over_swing(least));
  constexpr int kLooks = 20000;
  for (int i = 0; i <= kLooks; ++i) {
    const double position = (65 + 40.0 * i / kLooks) * kDegree;
    ASSERT_TRUE(clearances.at(position, now));
    if (i == 0) looked = now;
    for (std::size_t k = 0; k < now.size(); ++k) {
      if (now[k].gap < looked[k].gap) looked[k] = now[k];
    }
  }
  ASSERT_EQ(least.size(), looked.size());
  int moved = 0;
  for (std::size_t k = 0; k < least.size(); ++k) {
    const std::string pair = part_name(d, c, least[k].a) + " and " + part_name(d, c, least[k].b);
    // Far pairs are looked at every degree: half of that moves the arm's end by 0.7 mm.
    EXPECT_LE(least[k].gap, looked[k].gap + (looked[k].gap < kFarApart - 1 ? kSweepError : 0.8)) << pair;
    // The arm's end moves by 3 um between two looks.
    EXPECT_GE(least[k].gap, looked[k].gap - 0.01) << pair;
    ASSERT_TRUE(clearances.at(least[k].position == 0 ? 65 * kDegree : least[k].position, now));
    EXPECT_NEAR(now[k].gap, least[k].gap, 1e-9) << pair << ", where it was found";
    moved += least[k].position != 0;
  }
  EXPECT_GT(moved, 40);
}

TEST(Clearance, NamesEveryPair) {
  Drive d = larkspur();
  d.obstacles = {disc("boss", {500, 500}, 10)};
  d.tensioner->arm_half_width = 10;
  const Course c = course(d);
  EXPECT_EQ(part_name(d, c, {Kind::pulley, 2}), "blower");
  EXPECT_EQ(part_name(d, c, {Kind::span, 7}), "belt from fan to crank");
  EXPECT_EQ(part_name(d, c, {Kind::obstacle, 0}), "boss");
  EXPECT_EQ(part_name(d, c, {Kind::arm, 0}), "arm's body");
  std::vector<Gap> gaps;
  Clearances clearances(d, c);
  ASSERT_TRUE(clearances.at(70 * kDegree, gaps));
  // 8 rounds: 28 pairs of pulleys, 48 of a span and a pulley, 20 of spans; 16 with the boss; the arm with 7 and 1.
  EXPECT_EQ(gaps.size(), 28U + 48U + 20U + 16U + 8U);
}

TEST(BeltRoom, ByHand) {
  Drive d = drive_of(pk_belt(8, 1130), Sense::clockwise, {ribbed("a", {0, 0}, 50), ribbed("b", {400, 0}, 50)});
  d.pulleys[0].flange_height = 4;
  d.obstacles = {disc("boss", {0, 70}, 10)};
  const auto rooms = belt_rooms(d, course(d));
  ASSERT_EQ(rooms.size(), 2U);
  // Shortest belt 1124; path 800 + 100 pi; half of each wrap, pi/2, climbs by the flange and the back, 3.5.
  EXPECT_NEAR(rooms[0].slack, 1124 - (800 + 100 * pi) - pi / 2 * 7.5, 1e-9);
  EXPECT_NEAR(rooms[1].slack, 1124 - (800 + 100 * pi) - pi / 2 * 3.5, 1e-9);
  EXPECT_NEAR(rooms[0].gap, 70 - 10 - 54, 1e-9);
  EXPECT_EQ(rooms[0].nearest, (PartId{Kind::obstacle, 0}));
  EXPECT_NEAR(rooms[0].gap_needed, 7, 1e-12) << "the greatest belt height and 1 mm";
  EXPECT_FALSE(rooms[0].enough());
  EXPECT_NEAR(rooms[1].gap, 400 - 50 - 54, 1e-9);
  EXPECT_TRUE(rooms[1].enough());
  EXPECT_EQ(fit_last(rooms).round, 1U);
}

TEST(BeltRoom, IsTakenWithTheArmOnItsFarStop) {
  Drive d = larkspur();
  d.belt.effective_length.value = length_at_middle(Swing(d, course(d)));
  const auto rooms = belt_rooms(d, course(d));
  ASSERT_EQ(rooms.size(), 5U) << "ribbed pulleys only";
  Course far = course(d);
  far.rounds[far.idler].centre = idler_centre(*d.tensioner, 105 * kDegree);
  const Route route = laid(far);
  for (const Room& r : rooms) {
    const Pulley& p = pulley_at(d, far, r.round);
    const double climb = p.flange_height + 3.5;
    EXPECT_NEAR(r.slack, d.belt.effective_length.value - 6 - route.length - route.wraps[r.round] / 2 * climb, 1e-9)
        << p.name;
  }
}

TEST(EntryAngle, IsTheShiftOverTheSpan) {
  Drive d = drive_of(pk_belt(8, 0), Sense::clockwise, {ribbed("a", {0, 0}, 50), ribbed("b", {400, 0}, 50)});
  d.pulleys[1].plane = 400 * std::tan(1 * kDegree);
  const Course c = course(d);
  EXPECT_NEAR(entry_angle(d, c, laid(c), 0), 1 * kDegree, 1e-12);
  EXPECT_NEAR(entry_angle(d, c, laid(c), 1), 1 * kDegree, 1e-12);
}

}  // namespace
}  // namespace groovewright::drive
