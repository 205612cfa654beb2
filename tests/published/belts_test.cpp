// The published figures of belts: heights, pitches, tolerances of length, the force and the rule by which a length is
// measured, and how a belt is named.
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "built_in_catalog.h"
#include "groovewright/drive/belts.h"
#include "groovewright/drive/settle.h"

namespace groovewright::catalog {
namespace {

constexpr const char* k9981 = "ISO 9981 (PK), length tolerances, from memory";
constexpr const char* k9982 = "ISO 9982 (PH PJ PL PM), length tolerances, from memory";

/// The last length of a step, and what a belt may be longer and shorter there. mm
struct Step {
  double up_to, longer, shorter;
};
constexpr Step kPk[] = {{1000, 5, 5}, {1200, 6, 6}, {1500, 8, 8}, {2000, 9, 9}, {2500, 10, 10}, {3000, 11, 11}};
constexpr Step kOthers[] = {{500, 4, 8},    {750, 5, 10},   {1000, 6, 12},  {1500, 8, 16},
                            {2000, 10, 20}, {3000, 12, 24}, {4000, 15, 30}, {6000, 20, 40}};

std::vector<Step> steps_of(const std::string& id) {
  if (id == "PK") return {std::begin(kPk), std::end(kPk)};
  return {std::begin(kOthers), std::end(kOthers)};
}

TEST(BeltTables, TolerancesOfTheLength) {
  const Catalog c = built_in_catalog();
  for (const char* id : {"PH", "PJ", "PK", "PL", "PM"}) {
    const Belt& belt = c.belts.at(id);
    ASSERT_TRUE(belt.length_shorter && belt.length_longer) << id;
    double after = 0;
    for (const Step& s : steps_of(id)) {
      // The last length of a step belongs to it; so does the first above the step before.
      for (const double length : {after + 0.1, s.up_to}) {
        const std::string what = std::string(id) + " " + std::to_string(length) + ", " + (id[1] == 'K' ? k9981 : k9982);
        EXPECT_EQ(belt.length_longer->at(length), s.longer) << what;
        EXPECT_EQ(belt.length_shorter->at(length), s.shorter) << what;
      }
      after = s.up_to;
    }
  }
}

TEST(BeltTables, HeightPitchAndMeasuringForce) {
  struct Row {
    const char* id;
    double height, pitch, force;  ///< force a rib on the measuring rig, so half of it in each strand
  };
  // ISO 9981 and 9982, from memory; pitches are those of the grooves.
  for (const Row& r : {Row{"PH", 3, 1.60, 30},
                       {"PJ", 4, 2.34, 50},
                       {"PK", 6, 3.56, 100},
                       {"PL", 10, 4.70, 200},
                       {"PM", 17, 9.40, 450}}) {
    const Catalog c = built_in_catalog();
    const Belt& belt = c.belts.at(r.id);
    EXPECT_EQ(belt.height.value, r.height) << r.id;
    EXPECT_EQ(belt.rib_pitch.value, r.pitch) << r.id;
    EXPECT_EQ(belt.rib_pitch.value, c.grooves.at(r.id).pitch.value) << r.id;
    ASSERT_TRUE(belt.measured_under_per_rib) << r.id;
    EXPECT_EQ(belt.measured_under_per_rib->value, r.force / 2) << r.id;
  }
}

/// ISO 9981 and 9982 measure a length on two equal pulleys: effective circumference plus twice their distance.
TEST(BeltTables, MeasuringRuleOfTheLength) {
  struct Rig {
    const char* id;
    double circumference;  ///< from memory
  };
  for (const Rig& r : {Rig{"PH", 100}, {"PJ", 100}, {"PK", 300}, {"PL", 500}, {"PM", 800}}) {
    const std::string size = std::to_string(r.circumference / std::numbers::pi) + " mm";
    const std::string text = "drive: rig\nbelt: {section: " + std::string(r.id) +
                             ", ribs: 4}\nturns: clockwise\npulleys:\n"
                             "  - {name: fixed, at: [0 mm, 0 mm], effective_diameter: " +
                             size +
                             ", drives: true}\n"
                             "  - {name: loose, at: [0 mm, 400 mm], effective_diameter: " +
                             size + "}\n";
    Diagnostics d;
    const auto spec = spec::read_drive({"rig.yaml", text}, d);
    ASSERT_TRUE(spec) << d.text();
    const auto drive = drive::settle(*spec, built_in_catalog(), {}, d);
    ASSERT_TRUE(drive) << d.text();
    drive::Route route;
    ASSERT_TRUE(drive::lay(drive::course(*drive).rounds, route));
    EXPECT_NEAR(route.length, r.circumference + 2 * 400, 1e-5) << r.id << ", the diameter is written in um";
  }
}

/// DIN 7867:1986, as ISO 9981 and 9982 have it: ribs, profile, length: 6 PK 800. Ours is written 6PK 800.
TEST(BeltTables, DesignationIsRibsProfileLength) {
  drive::Belt b;
  b.section = "PK";
  const auto named = [&](int ribs, double length) {
    b.ribs = ribs;
    b.effective_length = {length, "test"};
    return drive::designation(b);
  };
  EXPECT_EQ(named(6, 800), "6PK 800");
  EXPECT_EQ(named(8, 1495), "8PK 1495");
  EXPECT_EQ(named(8, 1494.6), "8PK 1495") << "whole mm";
  EXPECT_EQ(named(12, 2500), "12PK 2500");
}

}  // namespace
}  // namespace groovewright::catalog
