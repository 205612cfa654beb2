// Threads, screws and keys against the rows that were read in published tables.
#include <string>

#include <gtest/gtest.h>

#include "built_in_catalog.h"

namespace groovewright::catalog {
namespace {

class Fasteners : public testing::Test {
 protected:
  const Catalog catalog_ = built_in_catalog();
};

struct ThreadRow {
  const char* id;
  double fine, medium, coarse, head, head_height, counterbore, tap_drill;
  const char* source;
};
constexpr const char* kRead = "ISO 273, ISO 4762 and counterbore chart as read; tap drill from memory";
constexpr const char* kMemory = "from memory";
constexpr ThreadRow kThreads[] = {
    {"M3", 3.2, 3.4, 3.6, 5.5, 3, 6.5, 2.5, kRead},     {"M4", 4.3, 4.5, 4.8, 7, 4, 8, 3.3, kRead},
    {"M5", 5.3, 5.5, 5.8, 8.5, 5, 10, 4.2, kRead},      {"M6", 6.4, 6.6, 7, 10, 6, 11, 5.0, kRead},
    {"M8", 8.4, 9, 10, 13, 8, 15, 6.8, kRead},          {"M10", 10.5, 11, 12, 16, 10, 18, 8.5, kRead},
    {"M12", 13, 13.5, 14.5, 18, 12, 20, 10.2, kMemory}, {"M14", 15, 15.5, 16.5, 21, 14, 24, 12, kMemory},
    {"M16", 17, 17.5, 18.5, 24, 16, 26, 14, kMemory},
};

TEST_F(Fasteners, HoldTheTablesOfThreads) {
  ASSERT_EQ(catalog_.threads.size(), std::size(kThreads));
  for (const ThreadRow& row : kThreads) {
    const Thread& t = catalog_.threads.at(row.id);
    const std::string says = std::string(row.id) + ", " + row.source;
    EXPECT_EQ(t.clearance_fine, row.fine) << says;
    EXPECT_EQ(t.clearance_medium, row.medium) << says;
    EXPECT_EQ(t.clearance_coarse, row.coarse) << says;
    EXPECT_EQ(t.head_diameter, row.head) << says;
    EXPECT_EQ(t.head_height, row.head_height) << says;
    EXPECT_EQ(t.counterbore_diameter, row.counterbore) << says;
    EXPECT_EQ(t.tap_drill, row.tap_drill) << says;
    EXPECT_EQ("M" + std::to_string(static_cast<int>(t.diameter)), row.id) << says;
    EXPECT_GE(t.counterbore_depth, t.head_height + 0.4 - 1e-12) << says << ": depth is k + 0.4 to 1";
    EXPECT_LE(t.counterbore_depth, t.head_height + 1) << says << ": depth is k + 0.4 to 1";
  }
}

TEST_F(Fasteners, DrillDiameterMinusPitchWithinTheMinorLimits) {
  for (const auto& [id, t] : catalog_.threads) {
    EXPECT_NEAR(t.tap_drill, t.diameter - t.pitch, 0.051) << id << ", rule D - P";
    EXPECT_NEAR(t.minor_min, t.diameter - 1.082532 * t.pitch, 6e-4) << id << ", ISO 68-1: D1 = D - 1.082532 P";
    EXPECT_GE(t.tap_drill, t.minor_min - 1e-9) << id;
    EXPECT_LE(t.tap_drill, t.minor_max + 1e-9) << id;
  }
}

TEST_F(Fasteners, HoldThe6HMinorLimits) {
  struct Row {
    const char* id;
    double min, max;
  };
  constexpr Row kRows[] = {{"M6", 4.917, 5.153}, {"M8", 6.647, 6.912}, {"M10", 8.376, 8.676}};
  for (const Row& row : kRows) {
    EXPECT_EQ(catalog_.threads.at(row.id).minor_min, row.min) << row.id << ", ISO 965-2 6H, from memory";
    EXPECT_EQ(catalog_.threads.at(row.id).minor_max, row.max) << row.id << ", ISO 965-2 6H, from memory";
  }
}

TEST_F(Fasteners, HoldTheCountersunkHeads) {
  struct Row {
    const char* id;
    double head;
  };
  constexpr Row kRows[] = {{"M3", 6.72},   {"M4", 8.96},   {"M5", 11.20},  {"M6", 13.44}, {"M8", 17.92},
                           {"M10", 22.40}, {"M12", 26.88}, {"M14", 30.80}, {"M16", 33.60}};
  for (const Row& row : kRows) {
    EXPECT_EQ(catalog_.threads.at(row.id).countersunk_head_diameter, row.head)
        << row.id << ", ISO 10642 theoretical head diameter, from memory";
  }
}

struct KeyRow {
  double over, up_to, width, height, shaft_depth, hub_depth;
  const char* source;
};
constexpr const char* kDin = "DIN 6885-1, three independent copies";
constexpr const char* kDinMemory = "DIN 6885-1, from memory";
constexpr KeyRow kKeys[] = {
    {6, 8, 2, 2, 1.2, 1.0, kDinMemory},   {8, 10, 3, 3, 1.8, 1.4, kDin},        {10, 12, 4, 4, 2.5, 1.8, kDin},
    {12, 17, 5, 5, 3.0, 2.3, kDin},       {17, 22, 6, 6, 3.5, 2.8, kDin},       {22, 30, 8, 7, 4.0, 3.3, kDin},
    {30, 38, 10, 8, 5.0, 3.3, kDin},      {38, 44, 12, 8, 5.0, 3.3, kDin},      {44, 50, 14, 9, 5.5, 3.8, kDin},
    {50, 58, 16, 10, 6.0, 4.3, kDin},     {58, 65, 18, 11, 7.0, 4.4, kDin},     {65, 75, 20, 12, 7.5, 4.9, kDinMemory},
    {75, 85, 22, 14, 9, 5.4, kDinMemory}, {85, 95, 25, 14, 9, 5.4, kDinMemory},
};

TEST_F(Fasteners, HoldTheTableOfParallelKeys) {
  ASSERT_EQ(catalog_.keys.size(), std::size(kKeys));
  for (const KeyRow& row : kKeys) {
    // The range rule: over the lower end, up to and including the upper.
    for (const double bore : {row.over + 0.001, (row.over + row.up_to) / 2, row.up_to}) {
      const auto key = catalog_.key_for(bore);
      ASSERT_TRUE(key.has_value()) << bore << " mm, " << row.source;
      EXPECT_EQ(key->width, row.width) << bore << " mm, " << row.source;
      EXPECT_EQ(key->height, row.height) << bore << " mm, " << row.source;
      EXPECT_EQ(key->shaft_depth, row.shaft_depth) << bore << " mm, " << row.source;
      EXPECT_EQ(key->hub_depth, row.hub_depth) << bore << " mm, " << row.source;
      EXPECT_EQ(key->depth_tolerance, row.height <= 6 ? 0.1 : 0.2) << bore << " mm, " << row.source;
    }
  }
  EXPECT_FALSE(catalog_.key_for(6).has_value()) << "below the table";
  EXPECT_FALSE(catalog_.key_for(95.001).has_value()) << "beyond the table the keyway must be given";
}

TEST_F(Fasteners, GiveTheKeywaySizesThatStandOnASheet) {
  struct Row {
    double bore, hub, shaft;
  };
  constexpr Row kRows[] = {{25, 28.3, 21.0}, {20, 22.8, 16.5}};
  for (const Row& row : kRows) {
    const auto key = catalog_.key_for(row.bore);
    ASSERT_TRUE(key.has_value());
    EXPECT_NEAR(row.bore + key->hub_depth, row.hub, 1e-12) << "d + t2 at " << row.bore << ", DIN 6885-1 sheets";
    EXPECT_NEAR(row.bore - key->shaft_depth, row.shaft, 1e-12) << "d - t1 at " << row.bore << ", DIN 6885-1 sheets";
  }
}

TEST_F(Fasteners, LeaveRoomOverEveryKey) {
  for (const Key& key : catalog_.keys) {
    const double room = key.shaft_depth + key.hub_depth - key.height;
    EXPECT_GE(room, 0.1) << key.width << "x" << key.height << ", " << key.source;
    EXPECT_LE(room, 0.5) << key.width << "x" << key.height << ", " << key.source;
  }
}

}  // namespace
}  // namespace groovewright::catalog
