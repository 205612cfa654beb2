// The B-rep: exact, valid, closed, the same after a round trip through STEP; and what it refuses.
#include "groovewright/solid.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <iostream>
#include <sstream>

#include "groovewright/base/broken.h"
#include "mesh_bodies.h"

namespace groovewright {
namespace {

using bodies::kPi;
using plane::Generator;
using plane::TurnedBody;
using plane::Vec2;

/// What the room promises of volumes, relative; and of places after a round trip, mm.
constexpr double kVolume = 1e-6;
constexpr double kPlace = 1e-6;

const solid::Kernel& kernel() {
  static const std::unique_ptr<solid::Kernel> made = solid::make_kernel();
  return *made;
}

solid::Label label(const std::string& name = "test") {
  return {.name = name, .description = "a test", .material = "steel", .density = 7.85e-6, .program = "test"};
}

TurnedBody disc(double width = 20, double bore = 10, double outside = 40) {
  return {bodies::section({{{0, bore}}, {{width, bore}}, {{width, outside}}, {{0, outside}}}), {}, {}, {}};
}

TurnedBody with_holes(TurnedBody body, int count, double circle, const std::vector<Vec2>& profile, bool through) {
  for (int i = 0; i < count; ++i) {
    body.holes.push_back(
        {"bolt[" + std::to_string(i + 1) + "]", bodies::polar(circle, 2 * kPi * i / count), profile, through});
  }
  return body;
}

/// An opening along an arc about the axis, its ends round; `more` wider all round.
plane::Path kidney(double more) {
  const double inner = 20 - more, outer = 30 + more, turn = 0.8;
  const auto ccw = plane::Edge::Turn::ccw, cw = plane::Edge::Turn::cw;
  const auto at = bodies::polar;
  return {{at(outer, 0), at(outer, turn), ccw, {0, 0}},
          {at(outer, turn), at(inner, turn), ccw, at(25, turn)},
          {at(inner, turn), at(inner, 0), cw, {0, 0}},
          {at(inner, 0), at(outer, 0), ccw, at(25, 0)}};
}

TurnedBody with_pocket(TurnedBody body, std::vector<plane::Level> levels, bool through) {
  body.pockets.push_back({"window", std::move(levels), through});
  return body;
}

bool near(const std::vector<Generator>& g, const std::vector<Generator>& h, double within) {
  return std::equal(g.begin(), g.end(), h.begin(), h.end(), [&](const Generator& a, const Generator& b) {
    return plane::norm(a.a - b.a) <= within && plane::norm(a.b - b.b) <= within;
  });
}

/// "" for a sound solid of the right volume, else what is wrong with it.
std::string fault(const solid::Proof& p, double volume) {
  std::ostringstream says;
  says.precision(12);
  if (!p.valid || !p.closed || p.solids != 1) {
    says << "valid " << p.valid << ", closed " << p.closed << ", solids " << p.solids << ": " << p.complaint;
  } else if (p.others != 0) {
    says << p.others << " faces that are no plane, cylinder, cone or torus";
  } else if (!(std::abs(p.volume - volume) <= kVolume * volume)) {
    says << "volume " << p.volume << " mm3, due " << volume << " mm3 within " << kVolume << " (closed forms of plane)";
  }
  return says.str();
}

/// The same for the solid that comes back from its STEP text, and for its cones.
std::string round_trip_fault(const solid::Shape& shape, const solid::Proof& before) {
  const solid::Shape back = kernel().from_step(kernel().to_step(shape, label()));
  const solid::Proof after = kernel().prove(back);
  if (std::string f = fault(after, before.volume); !f.empty()) return "read back: " + f;
  if (after.faces != before.faces) return "read back: other faces";
  const auto all = [](const solid::Shape& s) { return kernel().generators(s, 0.01, kPi / 2 - 0.01); };
  return near(all(shape), all(back), kPlace) ? "" : "read back: other cones";
}

// ---- sound solids ----

TEST(Solid, EveryBodyIsSoundAndHasTheExactVolume) {
  for (const bodies::Named& c : bodies::all()) {
    EXPECT_EQ(fault(kernel().prove(kernel().make(c.body)), plane::mass_properties(c.body).volume), "") << c.name;
  }
}

TEST(Solid, EveryBodyIsTheSameAfterARoundTripThroughStep) {
  for (const bodies::Named& c : bodies::all()) {
    const solid::Shape shape = kernel().make(c.body);
    EXPECT_EQ(round_trip_fault(shape, kernel().prove(shape)), "") << c.name;
  }
}

TEST(Solid, HasTheFacesThatAPersonCounts) {
  struct Case {
    const char* name;
    TurnedBody body;
    int planes, cylinders, cones, tori;
    double volume;  ///< mm3, by hand
  };
  const double plain = kPi * (40 * 40 - 10 * 10) * 20, bolt = 9 * kPi;
  const Case kCases[] = {
      {"plain disc", disc(), 2, 2, 0, 0, plain},
      {"turned from the axis", disc(20, 0), 2, 1, 0, 0, kPi * 40 * 40 * 20},
      {"four through holes", with_holes(disc(), 4, 25, {{0, 3}, {20, 3}}, true), 2, 6, 0, 0, plain - 4 * 20 * bolt},
      {"four holes drilled from behind, cone tips", with_holes(disc(), 4, 25, {{20, 3}, {8, 3}, {6, 0}}, false), 2, 6,
       4, 0, plain - 4 * (12 + 2 / 3.0) * bolt},
      {"four holes with flat ends", with_holes(disc(), 4, 25, {{0, 3}, {8, 3}, {8, 0}}, false), 6, 6, 0, 0,
       plain - 4 * 8 * bolt},
      {"six counterbores", with_holes(disc(), 6, 25, {{0, 5}, {6, 5}, {6, 3}, {20, 3}}, true), 8, 14, 0, 0,
       plain - 6 * (6 * 25 * kPi + 14 * bolt)},
      {"six countersinks", with_holes(disc(), 6, 25, {{0, 6}, {3, 3}, {20, 3}}, true), 2, 8, 6, 0,
       plain - 6 * (kPi * (36 + 18 + 9) + 17 * bolt)},
      {"round window of one full circle",
       with_pocket(disc(), {{0, plane::circle({25, 0}, 5)}, {20, plane::circle({25, 0}, 5)}}, true), 2, 4, 0, 0,
       plain - 25 * kPi * 20},
      {"kidney through", with_pocket(disc(), {{20, kidney(0)}, {0, kidney(0)}}, true), 2, 6, 0, 0,
       plain - 20 * (0.4 * (900 - 400) + 25 * kPi)},
      {"kidney, blind, wide step at the mouth",
       with_pocket(disc(), {{20, kidney(2)}, {15, kidney(2)}, {15, kidney(0)}, {5, kidney(0)}}, false), 4, 10, 0, 0,
       plain - 5 * (0.4 * (32 * 32 - 18 * 18) + 49 * kPi) - 10 * (0.4 * (900 - 400) + 25 * kPi)},
  };
  for (const Case& c : kCases) {
    SCOPED_TRACE(c.name);
    const solid::Shape shape = kernel().make(c.body);
    const solid::Proof p = kernel().prove(shape);
    EXPECT_EQ(fault(p, c.volume), "") << "volume by hand";
    EXPECT_EQ(p.planes, c.planes);
    EXPECT_EQ(p.cylinders, c.cylinders);
    EXPECT_EQ(p.cones, c.cones);
    EXPECT_EQ(p.tori, c.tori);
    EXPECT_EQ(p.faces, c.planes + c.cylinders + c.cones + c.tori);
    EXPECT_EQ(round_trip_fault(shape, p), "");
  }
}

TEST(Solid, TwoCollinearWallsEachTakeTheirMouths) {
  // The front wall is two annuli that meet at radius 25.
  TurnedBody body{bodies::section({{{0, 10}}, {{20, 10}}, {{20, 40}}, {{0, 40}}}), {}, {}, {}};
  const plane::Edge wall = body.section.back();
  ASSERT_EQ(wall.b.x, 0);
  body.section.back().b = {0, 25};
  body.section.push_back({{0, 25}, wall.b, plane::Edge::Turn::straight, {}});
  body = with_holes(with_holes(body, 3, 17, {{0, 3}, {20, 3}}, true), 4, 33, {{0, 3}, {20, 3}}, true);
  EXPECT_EQ(fault(kernel().prove(kernel().make(body)), plane::mass_properties(body).volume), "");
  EXPECT_THROW((void)kernel().make(with_holes(body, 1, 25, {{0, 2}, {20, 2}}, true)), Broken) << "across both";
}

TEST(Solid, ASlotThatMissesThePartChangesNothing) {
  TurnedBody body = disc();
  const solid::Proof before = kernel().prove(kernel().make(body));
  body.slots.push_back({"keyway", 0, 6, 13, true, 25, 40});
  const solid::Proof after = kernel().prove(kernel().make(body));
  EXPECT_EQ(after.faces, before.faces);
  EXPECT_EQ(after.volume, before.volume);
}

// ---- slots ----

TurnedBody with_slots(TurnedBody body, int count, plane::Slot slot) {
  for (int i = 0; i < count; ++i) {
    body.slots.push_back(slot);
    slot.angle += 2 * kPi / count;
  }
  return body;
}

/// Disc 20..40 wide at the back of a land of radius 30, which ends at z = 14; the disc's edges broken by 1 mm.
TurnedBody stepped() {
  return {
      bodies::section({{{0, 10}}, {{14, 10}, 0, 1}, {{14, 30}}, {{8, 30}}, {{8, 40}, 0, 1}, {{0, 40}, 1}}), {}, {}, {}};
}

TEST(Solid, SlotsLeaveTheFacesThatAPersonCounts) {
  const plane::Slot gap{"gap", 0.2, 4, 25, false, 8, 15}, keyway{"keyway", 0, 6, 13, true, -1, 15};
  const plane::Slot mark{"mark", 0, 2, 38, false, 5, 9}, pit{"pit", 0, 1, 39, false, 3, 5};
  const TurnedBody bare = stepped();
  struct Case {
    const char* name;
    TurnedBody body;
    int planes, cylinders, cones, tori;
  };
  const Case kCases[] = {
      {"bare", bare, 3, 3, 2, 1},
      // Each gap: two sides, the end in the wall's plane and the floor; the land falls into as many teeth.
      {"gaps down from the land, from the wall to past the end", with_slots(bare, 5, gap), 3 + 3 * 5, 2 + 5 + 5, 2, 1},
      {"one such gap", with_slots(bare, 1, gap), 3 + 3, 3 + 1, 2, 1},
      {"gaps across the disc, floor above the land", with_slots(bare, 6, {"gap", 0, 4, 35, false, -1, 8}), 3 + 2 * 6,
       2 + 6 + 6, 1 + 6, 6},
      {"gaps across the disc, floor flush with the land", with_slots(bare, 6, {"gap", 0, 4, 30, false, 0, 8}),
       1 + 1 + 6 + 2 * 6, 2 + 6 + 6, 1 + 6, 6},
      {"marks through the edge break, over the seam", with_slots(bare, 3, mark), 3 + 3 * 3, 3 + 3, 1 + 3, 1},
      {"pits closed all round, over the seam", with_slots(bare, 3, pit), 3 + 4 * 3, 3 + 3, 2, 1},
      {"keyway through the edge break", with_slots(bare, 1, keyway), 3 + 3, 3, 2, 1},
      {"keyway that ends on the edge break", with_slots(bare, 4, {"keyway", 0.3, 4, 10.7, true, -1, 15}), 3 + 3 * 4,
       2 + 4, 2, 1},
      {"keyway and mark in line, gaps",
       with_slots(with_slots(with_slots(bare, 1, keyway), 1, mark), 36, {"gap", 0.02, 2, 25, false, 8, 15}),
       3 + 3 + 3 + 3 * 36, 3 + 1 + 35 + 36, 2, 1},
      {"gaps from both ends of one disc, not in line",
       with_slots(with_slots(disc(), 7, {"front", 0, 4, 35, false, 15, 21}), 7, {"rear", 0.3, 4, 36, false, -1, 6}),
       2 + 2 * 3 * 7, 2 + 2 * 7, 0, 0},
      {"gaps from both ends of one disc, in line",
       with_slots(with_slots(disc(), 7, {"front", 0, 4, 35, false, 15, 21}), 7, {"rear", 0, 4, 36, false, -1, 6}),
       2 + 2 * 3 * 7, 2 + 2 * 7, 0, 0},
  };
  for (const Case& c : kCases) {
    SCOPED_TRACE(c.name);
    const solid::Shape shape = kernel().make(c.body);
    const solid::Proof p = kernel().prove(shape);
    EXPECT_EQ(fault(p, plane::mass_properties(c.body).volume), "");
    EXPECT_EQ(p.planes, c.planes);
    EXPECT_EQ(p.cylinders, c.cylinders);
    EXPECT_EQ(p.cones, c.cones);
    EXPECT_EQ(p.tori, c.tori);
    EXPECT_EQ(round_trip_fault(shape, p), "");
  }
}

TEST(Solid, TakesAGapOfTheVolumeFoundByHand) {
  // Between two circles and two parallel lines h off the middle: F(R) - F(f), F(r) = h sqrt(r2 - h2) + r2 asin(h/r).
  const double h = 2;
  const auto f = [&](double r) { return h * std::sqrt(r * r - h * h) + r * r * std::asin(h / r); };
  const TurnedBody body = with_slots(disc(), 12, {"gap", 0, 2 * h, 33, false, 4, 21});
  const double due = kPi * (40 * 40 - 10 * 10) * 20 - 12 * 16 * (f(40) - f(33));
  EXPECT_NEAR(kernel().prove(kernel().make(body)).volume, due, 1e-9 * due);
}

TEST(Solid, HolesAndPocketsKeepClearOfSlotsInTheSameWall) {
  const TurnedBody gapped = with_slots(disc(), 7, {"gap", 0, 4, 35, false, 15, 21});
  const TurnedBody body = with_pocket(with_holes(gapped, 6, 33, {{20, 1.5}, {12, 1.5}, {11, 0}}, false),
                                      {{0, kidney(0)}, {20, kidney(0)}}, true);
  EXPECT_EQ(fault(kernel().prove(kernel().make(body)), plane::mass_properties(body).volume), "");
  EXPECT_THROW((void)kernel().make(with_holes(gapped, 1, 35, {{20, 1.5}, {12, 0}}, false)), Broken) << "hole in a gap";
}

TEST(Solid, SlotsThatMeetOrLeaveNoFullTurnAreSoundToo) {
  const plane::Slot gap{"gap", 0, 4, 35, false, 15, 21};
  const struct {
    const char* name;
    TurnedBody body;
    double volume;  ///< mm3, own recomputation: the union of both; 0 where plane knows it
  } kCases[] = {
      {"a slot twice over", with_slots(with_slots(disc(), 3, gap), 3, gap),
       plane::mass_properties(with_slots(disc(), 3, gap)).volume},
      {"a short slot in a long one", with_slots(with_slots(disc(), 3, gap), 3, {"deep", 0, 4, 32, false, -1, 21}),
       plane::mass_properties(with_slots(disc(), 3, {"deep", 0, 4, 32, false, -1, 21})).volume},
      {"a ring sawn open", with_slots(disc(), 1, {"saw", 0, 4, 5, false, -1, 21}), 0},
      {"a keyway with its corners outside the bore's edge break",
       with_slots(stepped(), 1, {"keyway", 0, 6, 10.9, true, -1, 15}), 0},
  };
  for (const auto& c : kCases) {
    const solid::Proof p = kernel().prove(kernel().make(c.body));
    EXPECT_EQ(fault(p, c.volume > 0 ? c.volume : plane::mass_properties(c.body).volume), "") << c.name;
  }
}

// ---- cones ----

TEST(Solid, FindsTheFlanksOfTheSection) {
  const double lean = 20 * kPi / 180;
  for (const bodies::Named& c : bodies::all()) {
    std::vector<Generator> due = bodies::flanks(c.body.section, lean);
    std::sort(due.begin(), due.end(),
              [](const Generator& g, const Generator& h) { return g.a.x + g.b.x < h.a.x + h.b.x; });
    const solid::Shape shape = kernel().make(c.body);
    EXPECT_TRUE(near(kernel().generators(shape, lean - 1e-6, lean + 1e-6), due, kPlace))
        << c.name << ", " << due.size() << " flanks in the section";
  }
}

TEST(Solid, KeepsToTheWindowOfLean) {
  const solid::Shape shape = kernel().make(bodies::plain_pulley());
  const double lean = 20 * kPi / 180;
  EXPECT_EQ(kernel().generators(shape, lean - 1e-6, lean + 1e-6).size(), 16u) << "two flanks a groove";
  EXPECT_EQ(kernel().generators(shape, lean + 1e-6, lean + 2e-6).size(), 0u);
}

TEST(Solid, IgnoresConesThatAreNotAboutTheAxis) {
  const TurnedBody sunk = with_holes(disc(), 6, 25, {{0, 6}, {3, 3}, {20, 3}}, true);
  EXPECT_EQ(kernel().prove(kernel().make(sunk)).cones, 6);
  EXPECT_TRUE(kernel().generators(kernel().make(sunk), 0, kPi / 2).empty());
}

// ---- refusals ----

TEST(Solid, RefusesWhatDoesNotFitAndSaysWhich) {
  TurnedBody crowned = disc();
  crowned.section = {{{0, 10}, {20, 10}, plane::Edge::Turn::straight, {}},
                     {{20, 10}, {20, 40}, plane::Edge::Turn::straight, {}},
                     {{20, 40}, {0, 40}, plane::Edge::Turn::ccw, {10, -20}},
                     {{0, 40}, {0, 10}, plane::Edge::Turn::straight, {}}};
  TurnedBody open = disc();
  open.section.pop_back();
  TurnedBody sawn = disc();
  for (int i = 0; i < 2; ++i) sawn.slots.push_back({"cut", kPi * i, 2, 5, false, -1, 21});
  struct Case {
    const char* name;
    TurnedBody body;
    const char* says;
  };
  const Case kCases[] = {
      {"hole over the edge", with_holes(disc(), 1, 39, {{0, 3}, {20, 3}}, true), "bolt[1]"},
      {"hole whose mouth floats", with_holes(disc(), 1, 25, {{1, 3}, {20, 3}}, true), "bolt[1]"},
      {"holes that meet", with_holes(disc(), 30, 25, {{0, 3}, {20, 3}}, true), "bolt[2]"},
      {"through hole that ends in a point", with_holes(disc(), 1, 25, {{0, 3}, {20, 0}}, true), "bolt[1]"},
      {"hole without profile", with_holes(disc(), 1, 25, {{0, 3}}, true), "bolt[1]"},
      {"window over the edge",
       with_pocket(disc(), {{0, plane::circle({38, 0}, 5)}, {20, plane::circle({38, 0}, 5)}}, true), "window"},
      {"levels that do not match", with_pocket(disc(), {{0, kidney(0)}, {20, plane::circle({25, 0}, 5)}}, true),
       "match"},
      {"an arc that reaches the axis", crowned, "axis"},
      {"an open section", open, "closed"},
      {"a part sawn in two", sawn, "pieces"},
  };
  for (const Case& c : kCases) {
    try {
      (void)kernel().make(c.body);
      ADD_FAILURE() << c.name << ": no exception";
    } catch (const Broken& e) {
      EXPECT_NE(std::string(e.what()).find(c.says), std::string::npos) << c.name << ": " << e.what();
    }
  }
}

TEST(Solid, RefusesTextThatIsNoStep) {
  const std::string good = kernel().to_step(kernel().make(disc()), label());
  EXPECT_THROW((void)kernel().from_step(""), Broken);
  EXPECT_THROW((void)kernel().from_step("solid of nothing"), Broken);
  EXPECT_THROW((void)kernel().from_step(good.substr(0, good.size() / 3)), Broken);
}

TEST(Solid, ComplainsOfASectionThatCrossesItself) {
  TurnedBody crossed = disc();
  std::swap(crossed.section[1].b, crossed.section[2].b);
  crossed.section[2].a = crossed.section[1].b;
  crossed.section[3].a = crossed.section[2].b;
  const solid::Proof p = kernel().prove(kernel().make(crossed));
  EXPECT_FALSE(p.valid);
  EXPECT_NE(p.complaint, "");
}

TEST(Solid, SaysNothingOnItsOwn) {
  testing::internal::CaptureStdout();
  testing::internal::CaptureStderr();
  const solid::Shape shape = kernel().make(bodies::pulley());
  (void)kernel().prove(kernel().from_step(kernel().to_step(shape, label())));
  EXPECT_THROW((void)kernel().from_step("nonsense"), Broken);
  EXPECT_EQ(testing::internal::GetCapturedStdout(), "");
  EXPECT_EQ(testing::internal::GetCapturedStderr(), "");
}

// ---- random bodies ----

/// Runs the property GROOVEWRIGHT_CASES / `share` times (100 / share unless set) and tells the seed.
template <class Property>
void for_all(const char* what, int share, const Property& property) {
  rc::detail::TestParams params = rc::detail::configuration().testParams;
  const char* wanted = std::getenv("GROOVEWRIGHT_CASES");
  params.maxSuccess = std::max(1, (wanted ? std::atoi(wanted) : 100) / share);
  std::cout << what << ": seed " << params.seed << ", " << params.maxSuccess << " cases\n";
  const auto result = rc::detail::checkTestable(property, rc::detail::TestMetadata(), params);
  std::ostringstream told;
  rc::detail::printResultMessage(result, told);
  EXPECT_TRUE(result.template is<rc::detail::SuccessResult>()) << told.str();
}

double between(double low, double high) { return low + (high - low) * *rc::gen::inRange(0, 1001) / 1000; }

/// A hub, a web and a ribbed rim of random sizes; breaks small enough to fit always.
TurnedBody random_part() {
  const double bore = between(6, 20), hub = bore + between(6, 20), rim = hub + between(25, 60);
  const double outside = rim + between(8, 15), half = between(8, 30), web = between(0.2, 0.7) * half;
  const auto step = [&](double z) { return z + between(-0.25, 0.25) * half; };
  std::vector<plane::Corner> c;
  const double front = step(-half), back = step(half);
  c.push_back({{-half, rim}, 0, between(0, 0.5)});
  c.push_back({{-web, rim}, between(0, 1.2)});
  c.push_back({{-web, hub}, between(0, 1.2)});
  c.push_back({{front, hub}, between(0, 0.6)});
  c.push_back({{front, bore}, 0, between(0, 0.6)});
  c.push_back({{back, bore}, 0, between(0, 0.6)});
  c.push_back({{back, hub}, between(0, 0.6)});
  c.push_back({{web, hub}, between(0, 1.2)});
  c.push_back({{web, rim}, between(0, 1.2)});
  c.push_back({{half, rim}, 0, between(0, 0.5)});
  c.push_back({{half, outside}, between(0, 0.5)});
  const int grooves = *rc::gen::inRange(0, 13);
  const double pitch = 1.8 * half / 13, slope = between(0.15, 0.4) * pitch;
  for (int i = grooves - 1; i >= 0; --i) {
    const double z = (i - (grooves - 1) / 2.0) * pitch, depth = between(1, 2) * slope;
    c.push_back({{z + 0.48 * pitch, outside}, between(0, 0.02) * pitch});
    c.push_back({{z, outside - depth}, between(0, 0.1) * slope});
    c.push_back({{z - 0.48 * pitch, outside}, between(0, 0.02) * pitch});
  }
  c.push_back({{-half, outside}, between(0, 0.5)});
  TurnedBody body{bodies::section(c), {}, {}, {}};

  const double circle = (hub + rim) / 2, room = (rim - hub) / 2 - 2;
  const int places = *rc::gen::inRange(1, 9);
  const double wide = std::min(room, 0.4 * 2 * kPi * circle / 16);
  for (int i = 0; i < places; ++i) {
    const double r = wide * between(0.2, 1), angle = 2 * kPi * i / 8 + 0.1;
    const Vec2 at = bodies::polar(circle, angle);
    const std::string id = "hole[" + std::to_string(i) + "]";
    switch (*rc::gen::inRange(0, 5)) {
      case 0:
        body.holes.push_back({id, at, {{-web, r}, {web, r}}, true});
        break;
      case 1:
        body.holes.push_back({id, at, {{web, r}, {0, r}, {0, r / 2}, {-web, r / 2}}, true});
        break;
      case 2:
        body.holes.push_back({id, at, {{-web, r}, {-web / 2, r / 2}, {0, r / 2}, {web / 2, 0}}, false});
        break;
      case 3:
        body.holes.push_back({id, at, {{web, r}, {0, r}, {0, 0}}, false});
        break;
      default:
        body.pockets.push_back({id, {{web, plane::circle(at, r)}, {-web, plane::circle(at, 0.7 * r)}}, true});
    }
  }
  return body;
}

TEST(Solid, IsSoundForRandomBodies) {
  for_all("random bodies", 1, [] {
    const TurnedBody body = random_part();
    const solid::Shape shape = kernel().make(body);
    const solid::Proof p = kernel().prove(shape);
    RC_ASSERT(fault(p, plane::mass_properties(body).volume) == "");
    RC_ASSERT(round_trip_fault(shape, p) == "");
  });
}

TEST(Solid, IsSoundForRandomBodiesWithSlots) {
  for_all("random slotted bodies", 5, [] {
    TurnedBody body = random_part();
    double bore = 1e9, outside = 0, half = 0;
    for (const plane::Edge& e : body.section) {
      bore = std::min(bore, e.a.y);
      outside = std::max(outside, e.a.y);
      half = std::max(half, std::abs(e.a.x));
    }
    const int keys = *rc::gen::inRange(1, 3), marks = *rc::gen::inRange(0, 4);
    const double width = bore * between(0.3, 0.8), floor = bore + between(1.5, 4);
    const bool blind = *rc::gen::arbitrary<bool>();
    for (int i = 0; i < keys; ++i) {
      body.slots.push_back({"keyway", kPi * i + between(0, 3), width, floor, true, blind ? 0 : -2 * half, 2 * half});
    }
    const double mark = between(0.5, 3), mark_floor = outside - between(0.2, 3), end = between(-0.8, 0.8) * half;
    for (int i = 0; i < marks; ++i) body.slots.push_back({"mark", 2.0 * i, mark, mark_floor, false, -2 * half, end});
    const solid::Shape shape = kernel().make(body);
    const solid::Proof p = kernel().prove(shape);
    RC_ASSERT(fault(p, plane::mass_properties(body).volume) == "");
    RC_ASSERT(round_trip_fault(shape, p) == "");
  });
}

TEST(Solid, IsSoundForRandomSlotsFlushWithTheSectionOrNot) {
  for_all("random slots", 5, [] {
    TurnedBody body = random_part();
    body.holes.clear();
    body.pockets.clear();
    double bore = 1e9, outside = 0;
    for (const plane::Edge& e : body.section) bore = std::min(bore, e.a.y), outside = std::max(outside, e.a.y);
    // A coordinate of the section, bit by bit or but for rounding, or any other.
    const auto flush = [&](double Vec2::*coordinate, double low, double high) {
      const double at = body.section[*rc::gen::inRange<std::size_t>(0, body.section.size())].a.*coordinate;
      const double off = std::pow(10.0, -*rc::gen::inRange(8, 17));
      switch (*rc::gen::inRange(0, 4)) {
        case 0:
          return at;
        case 1:
          return at - off;
        case 2:
          return at + off;
        default:
          return between(low, high);
      }
    };
    const int kinds = *rc::gen::inRange(1, 4);
    for (int k = 0; k < kinds; ++k) {
      const double a = flush(&Vec2::x, -40, 40), b = flush(&Vec2::x, -40, 40), z0 = std::min(a, b);
      const double floor = std::max(flush(&Vec2::y, bore, outside), bore + 0.1);
      // Narrow, and in places that the other kinds leave free.
      plane::Slot slot{"slot", 0.35 * k, between(0.02, 0.15) * bore, floor, false, z0, std::max({a, b, z0 + 0.23})};
      for (int i = *rc::gen::inRange(1, 7); i > 0; --i, slot.angle += kPi / 3) body.slots.push_back(slot);
    }
    const solid::Shape shape = kernel().make(body);
    const solid::Proof p = kernel().prove(shape);
    RC_ASSERT(fault(p, plane::mass_properties(body).volume) == "");
    RC_ASSERT(round_trip_fault(shape, p) == "");
  });
}

}  // namespace
}  // namespace groovewright
