// A shop's data: that they agree with the standards that they are named after, reach what pulleys need, and that a
// person's own files are read, or refused with a place.
#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <map>
#include <numbers>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "groovewright/base/broken.h"
#include "groovewright/catalog.h"
#include "groovewright/catalog/shop.h"
#include "published/built_in_catalog.h"

namespace groovewright::catalog {
namespace {

using Turning = TurningTool::Use;
using Milling = MillingTool::Use;

const Shop& shop() {
  static const Shop shop = built_in_catalog().shop;
  return shop;
}

bool is_drill(const TurningTool& t) { return t.use == Turning::drilling || t.use == Turning::centre; }

std::string built_in(std::string_view name) {
  for (const TextFile& file : built_in_files()) {
    if (file.name == name) return file.text;
  }
  ADD_FAILURE() << "no built-in file " << name;
  return {};
}

TEST(Shop, NamesASourceForEveryRow) {
  std::map<std::string, std::string> sources;
  for (const auto& [id, m] : shop().machines) sources["machine " + id] = m.source;
  for (const auto& [id, c] : shop().chucks) sources["chuck " + id] = c.source;
  for (const auto& [id, t] : shop().turning_tools) sources["lathe tool " + id] = t.source;
  for (const auto& [id, t] : shop().milling_tools) sources["mill tool " + id] = t.source;
  for (const auto& [id, c] : shop().cutting) {
    sources["cutting " + id] = c.source;
    EXPECT_EQ(c.works.size(), std::size(kWorks)) << id;
    for (const auto& [work, w] : c.works) sources["cutting " + id + ", " + work] = w.source;
  }
  for (const auto& [what, source] : sources) EXPECT_GE(source.size(), 5U) << what;
  EXPECT_GT(sources.size(), 100U);
}

TEST(Shop, NamesEachToolOnce) {
  for (const auto& [id, t] : shop().turning_tools)
    EXPECT_FALSE(shop().milling_tools.contains(id)) << id << ": a document restricts tools by id";
}

// ---- designations ----

/// ISO 1832, from memory: shape -> included angle of the nose, deg; 0 for round.
const std::map<char, double> kShapes = {{'C', 80}, {'D', 55}, {'E', 75}, {'K', 55}, {'L', 90},
                                        {'R', 0},  {'S', 90}, {'T', 60}, {'V', 35}, {'W', 80}};
/// ISO 1832, from memory: normal clearance, deg.
const std::map<char, double> kClearances = {{'N', 0}, {'A', 3}, {'B', 5}, {'C', 7}, {'P', 11}, {'D', 15}, {'E', 20}};
/// ISO 1832, from memory: the series of inscribed circles, mm.
constexpr double kCircles[] = {3.97, 4.76, 5.56, 6.35, 7.94, 9.525, 12.7, 15.875, 19.05};

/// ISO 1832: "VCGT 160402": shape, clearance, tolerance class, type, edge length, thickness, nose in tenths of a mm.
struct Insert {
  char shape, clearance, tolerance;
  int length;
  double nose;  ///< < 0: "M0", a round insert of metric size
};
Insert decoded(const std::string& d) {
  const std::string nose = d.substr(9, 2);
  return {d[0], d[1], d[2], std::stoi(d.substr(5, 2)), nose == "M0" ? -1 : std::stoi(nose) / 10.0};
}

bool has_designation(const TurningTool& t) { return t.insert.size() == 11 && t.insert[4] == ' '; }

TEST(Inserts, AgreeWithTheirDesignation) {
  int seen = 0;
  for (const auto& [id, t] : shop().turning_tools) {
    if (!has_designation(t)) continue;
    ++seen;
    const std::string says = id + ": " + t.insert + ", ISO 1832 from memory";
    const Insert insert = decoded(t.insert);
    ASSERT_TRUE(kShapes.contains(insert.shape) && kClearances.contains(insert.clearance)) << says;
    EXPECT_NEAR(t.included.deg(), kShapes.at(insert.shape), 1e-9) << says;
    if (insert.shape == 'R') {
      EXPECT_EQ(t.width, insert.length) << says;
      EXPECT_EQ(t.nose_radius, t.width / 2) << says;
      EXPECT_LT(insert.nose, 0) << says << ": metric diameters end with M0";
      continue;
    }
    EXPECT_NEAR(t.nose_radius, insert.nose, 1e-12) << says;
    // A rhombus round a circle d has edges d / sin(included); the designation drops the decimals.
    const double sine = std::sin(t.included.rad());
    const bool known = std::any_of(std::begin(kCircles), std::end(kCircles), [&](double d) {
      return static_cast<int>(d / sine) == insert.length && std::abs(d / sine - t.edge_length) < 0.06;
    });
    EXPECT_TRUE(known) << says << ": edge " << t.edge_length;
  }
  EXPECT_GE(seen, 15);
}

TEST(Inserts, OfTheGroundClassHaveTruerNoses) {
  // Class G is ground all over, class M is pressed: ISO 1832, from memory. The noses' tolerances have no source there.
  for (const auto& [id, t] : shop().turning_tools) {
    if (!has_designation(t) || t.included == Angle{}) continue;
    const char tolerance = decoded(t.insert).tolerance;
    ASSERT_TRUE(tolerance == 'G' || tolerance == 'M') << id;
    EXPECT_LE(t.nose_tolerance, tolerance == 'G' ? 0.025 : 0.1) << id;
    EXPECT_GE(t.nose_tolerance, tolerance == 'G' ? 0.01 : 0.05) << id;
  }
}

/// ISO 5608, from memory: style -> cutting edge angle, deg.
const std::map<char, double> kStyles = {
    {'A', 90}, {'B', 75}, {'C', 90}, {'D', 45}, {'E', 60}, {'F', 90}, {'G', 90}, {'H', 107.5}, {'J', 93}, {'K', 75},
    {'L', 95}, {'M', 50}, {'N', 63}, {'R', 75}, {'S', 45}, {'T', 60}, {'U', 93}, {'V', 72.5},  {'W', 60}, {'Y', 85}};

/// ISO 5608: "PCLNR 2020 K12": clamping, insert's shape, style, insert's clearance, hand, shank's height and width,
/// length, insert's edge. ISO 6261: "S16R-SCLCR 09": kind, diameter and length of a bar, then the same.
struct Holder {
  std::string head;
  int height = 0, width = 0, edge = 0;
};
Holder decoded_holder(const std::string& d) {
  if (const std::size_t dash = d.find('-'); dash != std::string::npos) {
    const int diameter = std::stoi(d.substr(1, 2));
    return {d.substr(dash + 1, 5), diameter, diameter, std::stoi(d.substr(dash + 7))};
  }
  return {d.substr(0, 5), std::stoi(d.substr(6, 2)), std::stoi(d.substr(8, 2)), std::stoi(d.substr(12))};
}

TEST(Holders, AgreeWithTheirDesignation) {
  const std::map<TurningTool::Hand, char> hands = {
      {TurningTool::Hand::right, 'R'}, {TurningTool::Hand::left, 'L'}, {TurningTool::Hand::neutral, 'N'}};
  int seen = 0;
  for (const auto& [id, t] : shop().turning_tools) {
    if (!has_designation(t) || t.holder.find(' ') == std::string::npos || !std::isupper(t.holder[0])) continue;
    ++seen;
    const std::string says = id + ": " + t.holder + ", ISO 5608 or ISO 6261 from memory";
    const Holder holder = decoded_holder(t.holder);
    const Insert insert = decoded(t.insert);
    EXPECT_EQ(holder.head[1], insert.shape) << says;
    EXPECT_EQ(holder.head[3], insert.clearance) << says;
    EXPECT_EQ(holder.head[4], hands.at(t.hand)) << says;
    EXPECT_EQ(holder.edge, insert.length) << says;
    EXPECT_EQ(holder.height, t.shank_height) << says;
    ASSERT_TRUE(kStyles.contains(holder.head[2])) << says;
    if (insert.shape != 'R') {
      EXPECT_NEAR(t.edge_angle.deg(), kStyles.at(holder.head[2]), 1e-9) << says;
    }
    if (t.use == Turning::boring) {
      EXPECT_EQ(t.holder_width, holder.width) << says;
    } else if (t.hand == TurningTool::Hand::neutral) {
      EXPECT_EQ(t.holder_width, holder.width) << says;
      const double from_middle = insert.shape == 'R' ? (t.width - holder.width) / 2 : -holder.width / 2.0;
      EXPECT_EQ(t.holder_offset, from_middle) << says << ": its shank stands in the middle";
    } else {
      EXPECT_EQ(t.holder_width, 25) << says << ": f of a 20 mm shank, ISO 5610, from memory";
      EXPECT_EQ(t.holder_offset, 0) << says;
    }
  }
  EXPECT_GE(seen, 15);
}

// ---- what grooves need ----

/// ISO 9982:1998 table 1 and ISO 9981, from memory: pitch, least crest radius, greatest root radius; included 40 deg.
struct Section {
  const char* id;
  double pitch, crest, root;
};
constexpr std::array kSections{Section{"PH", 1.60, 0.15, 0.30}, Section{"PJ", 2.34, 0.20, 0.40},
                               Section{"PK", 3.56, 0.25, 0.50}, Section{"PL", 4.70, 0.40, 0.40},
                               Section{"PM", 9.40, 0.75, 0.75}};
const double kHalf = Angle::deg(20).rad();
double loss(double radius) { return radius * (1 / std::sin(kHalf) - 1); }
/// Crest to root, on radius.
double depth_of(const Section& s) { return s.pitch / (2 * std::tan(kHalf)) - loss(s.crest) - loss(s.root); }

TEST(GrooveTools, FitTheRootOfEverySection) {
  for (const Section& s : kSections) {
    std::set<std::string> fitting;
    for (const auto& [id, t] : shop().turning_tools) {
      const bool is_neutral = t.use == Turning::profiling && t.hand == TurningTool::Hand::neutral;
      if (!is_neutral || t.included == Angle{} || t.nose_radius + t.nose_tolerance > s.root) continue;
      // The insert itself reaches the root, before anything of the holder comes to the crests.
      const double height = t.edge_length * std::cos(t.included.half().rad());
      EXPECT_GT(height, depth_of(s)) << id << " in " << s.id;
      fitting.insert(id);
    }
    EXPECT_TRUE(fitting.contains("groove-35-02")) << s.id << ": a nose of 0.2 goes into each of the five";
    EXPECT_EQ(fitting.contains("groove-35-04"), s.root >= 0.42) << s.id;
  }
}

TEST(GrooveTools, ClearBothFlanks) {
  // A flank leans 20 deg from the radial plane; each edge of a neutral tool within 18 deg of it leaves 2 deg at least.
  int seen = 0;
  for (const auto& [id, t] : shop().turning_tools) {
    if (t.use != Turning::profiling || t.hand != TurningTool::Hand::neutral || t.included == Angle{}) continue;
    ++seen;
    const double left = 90 - t.edge_angle.deg(), right = t.edge_angle.deg() + t.included.deg() - 90;
    EXPECT_LE(left, 18) << id;
    EXPECT_LE(right, 18) << id;
    EXPECT_NEAR(left, right, 1e-9) << id << ": its holder stands straight";
  }
  EXPECT_GE(seen, 3);
}

TEST(GrooveTools, OfBothHandsReachWallsThatNeutralOnesDont) {
  std::set<TurningTool::Hand> hands;
  for (const auto& [id, t] : shop().turning_tools) {
    if (t.use != Turning::profiling || t.hand == TurningTool::Hand::neutral) continue;
    EXPECT_GE(t.edge_angle.deg(), 90) << id << ": a wall square to the axis";
    EXPECT_NEAR(t.included.deg(), 35, 1e-9) << id;
    hands.insert(t.hand);
  }
  EXPECT_EQ(hands.size(), 2U);
}

/// Width of a groove half way down, less 0.15 mm of stock square to each flank.
double room_half_way(const Section& s) {
  const double above_sharp = loss(s.root) + depth_of(s) / 2;
  return 2 * above_sharp * std::tan(kHalf) - 2 * 0.15 / std::cos(kHalf);
}

TEST(GroovingTools, ReachHalfTheDepthOfTheLargerSections) {
  // Common practice: rough with a grooving insert that reaches half the depth; none does in PH and PJ.
  const std::map<std::string, bool> roughed = {{"PH", false}, {"PJ", false}, {"PK", true}, {"PL", true}, {"PM", true}};
  for (const Section& s : kSections) {
    bool reaches = false;
    for (const auto& [id, t] : shop().turning_tools) {
      if (t.use == Turning::grooving && t.width <= room_half_way(s) && t.reach >= depth_of(s) / 2) reaches = true;
    }
    EXPECT_EQ(reaches, roughed.at(s.id)) << s.id << ", room " << room_half_way(s) << " mm, half the depth "
                                         << depth_of(s) / 2 << " mm";
  }
}

TEST(GroovingTools, ReachAsDeepAsTheirWidthEntersTheDeepestGroove) {
  const Section pm = kSections.back();
  for (const double width : {2.0, 3.0}) {
    const auto& tools = shop().turning_tools;
    const auto tool = std::ranges::find_if(
        tools, [&](const auto& entry) { return entry.second.use == Turning::grooving && entry.second.width == width; });
    ASSERT_NE(tool, tools.end()) << width;
    const double above_sharp = (width + 2 * 0.15 / std::cos(kHalf)) / (2 * std::tan(kHalf));
    const double down = loss(pm.root) + depth_of(pm) - above_sharp;
    EXPECT_GT(tool->second.reach, down) << tool->first << " in PM, " << down << " mm down";
  }
}

TEST(LatheTools, AreAllThatEachLatheCanHold) {
  for (const auto& [id, m] : shop().machines) {
    if (m.kind != Machine::Kind::lathe) continue;
    std::set<Turning> uses;
    for (const auto& [tool, t] : shop().turning_tools) {
      if (is_drill(t) || t.use == Turning::boring || t.shank_height <= m.tool_shank) uses.insert(t.use);
    }
    EXPECT_EQ(uses.size(), 7U) << id;
  }
}

TEST(LatheTools, WorkAlongTheAxisWhereTheirUseSaysSo) {
  for (const auto& [id, t] : shop().turning_tools) {
    const bool along = is_drill(t) || t.use == Turning::boring || t.use == Turning::face_grooving;
    EXPECT_TRUE(t.axial || !along) << id;
  }
  EXPECT_TRUE(shop().turning_tools.at("round-6-face").axial);
  EXPECT_FALSE(shop().turning_tools.at("round-6").axial);
}

TEST(BoringBars, EnterTheirLeastBore) {
  // Nose to the bar's far side must be less than the bore; a steel bar stands out 4 diameters at most: common practice.
  std::vector<double> bores;
  for (const auto& [id, t] : shop().turning_tools) {
    if (t.use != Turning::boring) continue;
    EXPECT_LT(t.holder_offset + t.holder_width, t.min_bore) << id;
    EXPECT_LE(t.reach, 4 * t.holder_width + 1e-9) << id;
    bores.push_back(t.min_bore);
  }
  for (const double least : {12.0, 20.0, 32.0}) EXPECT_EQ(std::ranges::count(bores, least) > 0, true) << least;
}

// ---- holes ----

bool has_milling(Milling use, double diameter) {
  return std::ranges::any_of(shop().milling_tools, [&](const auto& entry) {
    return entry.second.use == use && std::abs(entry.second.diameter - diameter) < 1e-9;
  });
}

/// Thread, pitch of ISO 261 (coarse), tap drill of ISO 2306 (first choice): from memory.
struct TapRow {
  const char* thread;
  double pitch, drill;
};
constexpr TapRow kTaps[] = {{"M3", 0.5, 2.5},  {"M4", 0.7, 3.3},    {"M5", 0.8, 4.2}, {"M6", 1, 5},  {"M8", 1.25, 6.8},
                            {"M10", 1.5, 8.5}, {"M12", 1.75, 10.2}, {"M14", 2, 12},   {"M16", 2, 14}};

TEST(HoleTools, TapEveryThreadAfterItsDrill) {
  const Catalog catalog = built_in_catalog();
  EXPECT_EQ(std::size(kTaps), catalog.threads.size());
  for (const TapRow& row : kTaps) {
    const Thread& thread = catalog.threads.at(row.thread);
    EXPECT_EQ(thread.tap_drill, row.drill) << row.thread << ", ISO 2306 from memory";
    EXPECT_TRUE(has_milling(Milling::drill, row.drill)) << row.thread << ", ISO 2306 from memory";
    const MillingTool& tap = shop().milling_tools.at("tap-" + std::string(row.thread));
    EXPECT_EQ(tap.diameter, thread.diameter) << row.thread;
    EXPECT_EQ(tap.pitch, row.pitch) << row.thread << ", ISO 261 from memory";
    EXPECT_EQ(tap.pitch, thread.pitch) << row.thread;
    EXPECT_NEAR(tap.lead / tap.pitch, 2.5, 0.51) << row.thread << ": form C has 2 to 3 pitches, DIN 2197 from memory";
  }
}

TEST(HoleTools, DrillClearanceHolesOfEverySeriesAndUnderEveryReamer) {
  const Catalog catalog = built_in_catalog();
  for (const auto& [id, t] : catalog.threads) {
    for (const double hole : {t.clearance_fine, t.clearance_medium, t.clearance_coarse})
      EXPECT_TRUE(has_milling(Milling::drill, hole)) << id << ": " << hole << " mm, ISO 273";
    EXPECT_TRUE(std::ranges::any_of(shop().milling_tools,
                                    [&](const auto& entry) {
                                      return entry.second.use == Milling::countersink &&
                                             entry.second.diameter >= t.countersunk_head_diameter;
                                    }))
        << id << ": ISO 10642 head " << t.countersunk_head_diameter;
  }
  for (const double reamed : {6, 8, 10, 12}) {
    EXPECT_TRUE(has_milling(Milling::reamer, reamed)) << reamed;
    EXPECT_TRUE(has_milling(Milling::drill, reamed - 0.2)) << reamed << ": 0.2 mm to ream, common practice";
  }
  for (const double mill : {6, 8, 10, 12}) EXPECT_TRUE(has_milling(Milling::end_mill, mill)) << mill;
}

TEST(HoleTools, HaveTheFlutesOfJobberDrills) {
  // DIN 338, from memory: diameter -> length of the flutes.
  struct Row {
    double diameter, flute;
  };
  for (const Row& row : {Row{2.5, 30},
                         {4.2, 43},
                         {5, 52},
                         {6.8, 69},
                         {8.5, 75},
                         {9, 81},
                         {10.2, 87},
                         {11, 94},
                         {12, 101},
                         {14, 108},
                         {15, 114},
                         {17.5, 130}}) {
    const auto& tools = shop().milling_tools;
    const auto drill = std::ranges::find_if(tools, [&](const auto& entry) {
      return entry.second.use == Milling::drill && entry.second.diameter == row.diameter;
    });
    ASSERT_NE(drill, tools.end()) << row.diameter;
    EXPECT_EQ(drill->second.flute, row.flute) << row.diameter;
    EXPECT_NEAR(drill->second.point.deg(), 118, 1e-9);
  }
}

TEST(HoleTools, NameThemselvesByUseAndSize) {
  EXPECT_EQ(shop().milling_tools.at("drill-6.8").name, "drill 6.8 mm");
  EXPECT_EQ(shop().milling_tools.at("tap-M8").name, "tap M8 x 1.25");
  EXPECT_EQ(shop().milling_tools.at("mill-6").name, "end mill 6 mm");
}

// ---- machines, chucks, cutting data ----

TEST(Machine, GivesTorqueByItsCurveAndItsPower) {
  Machine m;
  m.power = 1000 * std::numbers::pi;  // at 300 rpm 100 N m, at 3000 rpm 10 N m: M = P / omega
  m.torques = {{100, 60}, {200, 80}, {1000, 20}};
  struct Case {
    double rpm, torque;
  };
  for (const Case& c : {Case{50, 60}, {100, 60}, {150, 70}, {200, 80}, {600, 50}, {1000, 20}, {2000, 10}, {4000, 5}})
    EXPECT_NEAR(m.torque_at(c.rpm), c.torque, 1e-9) << c.rpm;
  m.torques = {{100, 200}};
  EXPECT_NEAR(m.torque_at(50), 200, 1e-9);
  EXPECT_NEAR(m.torque_at(300), 200.0 / 3, 1e-9);
  m.torques = {{100, 200}, {1000, 200}};
  EXPECT_NEAR(m.torque_at(600), 50, 1e-9) << "the power is the limit";
  m.torques.clear();
  EXPECT_NEAR(m.torque_at(3000), 10, 1e-9);
  EXPECT_THROW((void)m.torque_at(0), Broken);
}

TEST(Machine, OfEachKindIsThere) {
  std::set<bool> turrets;
  int mills = 0;
  for (const auto& [id, m] : shop().machines) {
    if (m.kind == Machine::Kind::lathe) turrets.insert(m.rear_turret);
    mills += m.kind == Machine::Kind::mill ? 1 : 0;
    EXPECT_FALSE(m.dialect.empty()) << id;
    EXPECT_LE(m.torque_at(m.max_rpm) * m.max_rpm * std::numbers::pi / 30, m.power + 1e-9) << id;
  }
  EXPECT_EQ(turrets.size(), 2U);
  EXPECT_GE(mills, 1);
}

TEST(CuttingFor, TakesTheLongestFamilyThatFits) {
  Shop own;
  for (const char* id : {"steel", "steel-4", "aluminium"}) own.cutting[id].id = id;
  struct Case {
    const char *material, *family;
  };
  for (const Case& c : {Case{"steel-1045", "steel"},
                        {"steel-4140", "steel-4"},
                        {"steel", "steel"},
                        {"stee", nullptr},
                        {"aluminium-6061-T6", "aluminium"},
                        {"bronze", nullptr},
                        {"", nullptr}}) {
    const CuttingData* data = own.cutting_for(c.material);
    ASSERT_EQ(data != nullptr, c.family != nullptr) << c.material;
    if (data != nullptr) {
      EXPECT_EQ(data->id, c.family) << c.material;
    }
  }
}

/// d / 2 / tan(point / 2): 118 deg give 0.3004 d (handbooks print 0.3 d), 90 deg half the diameter, a flat end nothing.
TEST(Tools, HaveAPointAsLongAsItsCone) {
  EXPECT_NEAR(shop().milling_tools.at("drill-10").point_length(), 3.0043, 1e-4);
  EXPECT_NEAR(shop().turning_tools.at("lathe-drill-20").point_length(), 6.0086, 1e-4);
  EXPECT_NEAR(shop().milling_tools.at("spot-90").point_length(), 6, 1e-12);
  EXPECT_EQ(shop().milling_tools.at("mill-6").point_length(), 0);
  EXPECT_EQ(shop().milling_tools.at("ream-8").point_length(), 0);
  EXPECT_NEAR(cone_length(16.4, Angle::deg(90)), 8.2, 1e-12) << "a countersink's, down to a screw head's diameter";
}

TEST(CuttingData, AreThereForEveryMaterial) {
  for (const std::string& material : built_in_ids("materials")) EXPECT_NE(shop().cutting_for(material), nullptr);
}

TEST(CuttingData, LieInTheRangesThatHandbooksPrint) {
  // Turning with carbide, m/min. 6061: 300 to 600 (shop pages and memory); steel 120 to 300, grey iron 80 to 250 and
  // k_c of 500 to 900, 1500 to 2800 and 900 to 1600 N/mm²: from memory.
  struct Row {
    const char* family;
    double slow, fast, weak, strong;
  };
  for (const Row& row :
       {Row{"aluminium", 300, 600, 500, 900}, {"steel", 120, 300, 1500, 2800}, {"cast-iron", 80, 250, 900, 1600}}) {
    const CuttingData& data = shop().cutting.at(row.family);
    for (const char* work : {"rough", "finish"}) {
      EXPECT_GE(data.works.at(work).speed, row.slow) << row.family << ", " << work;
      EXPECT_LE(data.works.at(work).speed, row.fast) << row.family << ", " << work;
    }
    EXPECT_GE(data.specific_force, row.weak) << row.family;
    EXPECT_LE(data.specific_force, row.strong) << row.family;
    EXPECT_LE(data.works.at("profile").depth, 0.15) << row.family << ": finish stock on a flank, common practice";
    EXPECT_EQ(data.works.at("tap").feed, 0);
  }
  EXPECT_FALSE(shop().cutting.at("cast-iron").coolant) << "grey iron is cut dry: common practice";
}

TEST(CuttingData, HaveATurningToolForTheFeedOfEachWork) {
  const std::map<std::string, std::string> tools = {{"rough", "rough-80-r"},      {"finish", "finish-55-r"},
                                                    {"profile", "groove-35-02"},  {"groove", "groove-2"},
                                                    {"face_groove", "face-4-70"}, {"bore", "bore-20"}};
  for (const auto& [family, data] : shop().cutting) {
    for (const auto& [work, id] : tools) {
      const TurningTool& tool = shop().turning_tools.at(id);
      EXPECT_GE(data.works.at(work).feed, tool.min_feed) << family << ", " << work;
      EXPECT_LE(data.works.at(work).feed, tool.max_feed) << family << ", " << work;
    }
  }
}

// ---- reading ----

TEST(ReadShop, LetsAPersonAddAndReplaceById) {
  const std::string own_tools =
      "turning_tools: mine\nedition: own 1\nsource: my drawer\nunits: in\nuse: grooving\nhand: left\nholder: mine\n"
      "shank: 1/2\noverhang: 1.5\nbody: {width: 1/2, offset: -0.02, relief: 0.005}\n"
      "groove-3: {name: Mine, insert: mine, width: 1/8, nose: {radius: 0.008, tolerance: 0.002}, edge: 0.1, reach: 0.5,"
      " depth: 0.5, feed: {from: 0.001, to: 0.005}}\n";
  std::string own_mill = built_in("machines/mill-400.yaml");
  own_mill.replace(own_mill.find("Small vertical mill, 400 mm travel"), 34, "My mill");
  const std::vector<TextFile> files = {{"tools/grooving.yaml", built_in("tools/grooving.yaml")},
                                       {"machines/mill-400.yaml", built_in("machines/mill-400.yaml")},
                                       {"own.yaml", own_tools},
                                       {"own2.yaml", own_mill}};
  Diagnostics diagnostics;
  const auto catalog = read_catalog(files, diagnostics);
  ASSERT_TRUE(catalog) << diagnostics.text();
  const TurningTool& mine = catalog->shop.turning_tools.at("groove-3");
  EXPECT_NEAR(mine.width, 3.175, 1e-12);
  EXPECT_NEAR(mine.shank_height, 12.7, 1e-12) << "from beside the rows";
  EXPECT_EQ(mine.hand, TurningTool::Hand::left);
  EXPECT_EQ(mine.source, "my drawer");
  EXPECT_EQ(catalog->shop.turning_tools.size(), 9U);
  EXPECT_EQ(catalog->shop.turning_tools.at("groove-2").width, 2);
  EXPECT_EQ(catalog->shop.machines.at("mill-400").name, "My mill");
  EXPECT_EQ(catalog->shop.machines.at("mill-400").max_rpm, 6000);
}

TEST(ReadShop, LetsARowSayOtherwiseThanItsFile) {
  const TurningTool& straight = shop().turning_tools.at("groove-35-02");
  const TurningTool& handed = shop().turning_tools.at("wall-35-02-l");
  EXPECT_EQ(straight.holder_width, 20);
  EXPECT_EQ(straight.holder_offset, -10);
  EXPECT_EQ(handed.holder_width, 25);
  EXPECT_EQ(handed.overhang, straight.overhang);
  EXPECT_EQ(handed.hand, TurningTool::Hand::left);
}

TEST(ReadShop, ReadsEachRowAloneAsItReadsItAmongAll) {
  int seen = 0;
  for (const TextFile& file : built_in_files()) {
    if (!file.name.starts_with("tools/")) continue;
    Diagnostics diagnostics;
    const Shop whole = read_catalog({&file, 1}, diagnostics).value().shop;
    for (const auto& [id, t] : whole.turning_tools) {
      const std::string ids[] = {id};
      const TextFile row = only_rows(file, ids);
      const auto alone = read_catalog({&row, 1}, diagnostics);
      ASSERT_TRUE(alone) << id << diagnostics.text();
      ASSERT_EQ(alone->shop.turning_tools.size(), 1U) << id;
      const TurningTool& one = alone->shop.turning_tools.at(id);
      EXPECT_EQ(one.holder_width, t.holder_width) << id;
      EXPECT_EQ(one.holder_offset, t.holder_offset) << id;
      EXPECT_EQ(one.use, t.use) << id;
      EXPECT_EQ(one.source, t.source) << id;
      ++seen;
    }
    for (const auto& [id, t] : whole.milling_tools) {
      const std::string ids[] = {id};
      const TextFile row = only_rows(file, ids);
      const auto alone = read_catalog({&row, 1}, diagnostics);
      ASSERT_TRUE(alone) << id << diagnostics.text();
      ASSERT_EQ(alone->shop.milling_tools.size(), 1U) << id;
      EXPECT_EQ(alone->shop.milling_tools.at(id).use, t.use) << id;
      EXPECT_EQ(alone->shop.milling_tools.at(id).diameter, t.diameter) << id;
      ++seen;
    }
  }
  EXPECT_GT(seen, 70);
}

/// A built-in file in which `from`, which stands there once, is replaced by `to`.
struct BrokenFile {
  const char *name, *base, *from, *to;
  Code code;
  int line;
  const char* says;  ///< a piece of the message
};
constexpr BrokenFile kBrokenFiles[] = {
    {"kind of machine", "machines/mill-400.yaml", "kind: mill", "kind: grinder", Code::unknown_choice, 5, "lathe"},
    {"turret", "machines/turret-400.yaml", "turret: rear ", "turret: reer ", Code::unknown_choice, 7, "'rear'"},
    {"a lathe's key on a mill", "machines/mill-400.yaml", "power: 2.2 kW", "swing: 20 mm\npower: 2.2 kW",
     Code::unknown_key, 9, "swing"},
    {"speeds swapped", "machines/mill-400.yaml", "from: 100 rpm, to: 6000", "from: 6000 rpm, to: 100",
     Code::bad_catalog, 8, "'from' must be less"},
    {"rapid without unit", "machines/mill-400.yaml", "10 m/min", "10000", Code::missing_unit, 7, "m/min"},
    {"power in N m", "machines/mill-400.yaml", "2.2 kW", "2.2 N m", Code::wrong_unit, 9, "kW"},
    {"torque beyond the power", "machines/mill-400.yaml", "12 N m", "30 N m", Code::bad_catalog, 10, "more than the"},
    {"torque falling in speed", "machines/mill-400.yaml", "value: 12 N m}",
     "value: 12 N m}, {at: 10 rpm, value: 1 N m}", Code::bad_catalog, 10, "increase"},
    {"no torque", "machines/mill-400.yaml", "[{at: 1750 rpm, value: 12 N m}]", "[]", Code::bad_catalog, 10,
     "one point"},
    {"travel within the axis", "machines/turret-400.yaml", "x: 220 mm", "x: 10 mm", Code::bad_catalog, 16,
     "beyond_axis"},
    {"half a tool place", "machines/mill-400.yaml", "tool_places: 12", "tool_places: 1.5", Code::bad_count, 12,
     "whole"},
    {"machine without source", "machines/mill-400.yaml", "source: a usual machine of this size, no source\n", "",
     Code::missing_key, 1, "source"},
    {"jaws in the body", "chucks/power-200.yaml", "to_jaw_face: 55", "to_jaw_face: 40", Code::bad_catalog, 9, "46 mm"},
    {"grip swapped", "chucks/power-200.yaml", "from: 25 mm", "from: 225 mm", Code::bad_catalog, 7, "'from'"},
    {"jaw key misspelt", "chucks/power-200.yaml", "height: 38", "hieght: 38", Code::unknown_key, 8, "'height'"},
    {"coolant neither", "cutting/steel.yaml", "coolant: true", "coolant: much", Code::unknown_choice, 7, "true"},
    {"work missing", "cutting/steel.yaml", "tap: {speed: 8 m/min}\n", "", Code::missing_key, 1, "'tap'"},
    {"work misspelt", "cutting/steel.yaml", "\nream: {", "\nreem: {", Code::unknown_key, 18, "'ream'"},
    {"tap with a feed", "cutting/steel.yaml", "tap: {speed: 8 m/min}", "tap: {speed: 8 m/min, feed: 1 mm}",
     Code::unknown_key, 17, "feed"},
    {"speed in m/s", "cutting/steel.yaml", "25 m/min", "25 m/s", Code::wrong_unit, 14, "m/min"},
    {"tool for nothing", "tools/outside.yaml", "rough-80-r: {name: \"Roughing tool 80 deg, right hand\", use: turning",
     "rough-80-r: {name: Rough, use: turnig", Code::unknown_choice, 10, "'turning'"},
    {"tool without a hand", "tools/outside.yaml", "hand: right, insert: DNMG", "insert: DNMG", Code::missing_key, 12,
     "hand: right"},
    {"a bar's key outside", "tools/grooving.yaml", "groove-1: {", "groove-1: {min_bore: 20, ", Code::unknown_key, 14,
     "min_bore"},
    {"edges below the cut", "tools/inside.yaml", "edge_angle: 95 deg", "edge_angle: 105 deg", Code::bad_catalog, 9,
     "180 deg"},
    {"bar too thick", "tools/inside.yaml", "min_bore: 12", "min_bore: 9", Code::bad_catalog, 9, "min_bore"},
    {"feed swapped", "tools/grooving.yaml", "feed: {from: 0.02, to: 0.06}", "feed: {from: 0.2, to: 0.06}",
     Code::bad_catalog, 14, "smaller"},
    {"reach beyond the clamp", "tools/grooving.yaml", "reach: 50", "reach: 70", Code::bad_catalog, 19, "overhang"},
    {"blade ground away", "tools/grooving.yaml", "edge: 1.5, reach", "body: {width: 22, relief: 0.5}, edge: 1.5, reach",
     Code::bad_catalog, 14, "relief"},
    {"round insert not round", "tools/profiling.yaml", "RCMT 0602M0, holder: SRDCN 2020 K06, width: 6",
     "RCMT 0602M0, holder: SRDCN 2020 K06, width: 7", Code::bad_catalog, 23, "half its 'width'"},
    {"drill deeper than its flutes", "tools/lathe-drills.yaml", "edge: 87", "edge: 60", Code::bad_catalog, 8, "flutes"},
    {"tap without pitch", "tools/taps.yaml", "pitch: 1.25, ", "", Code::missing_key, 12, "pitch: 1.25 mm"},
    {"pitch of a drill", "tools/drills.yaml", "drill-5: {", "drill-5: {pitch: 1, ", Code::unknown_key, 18, "pitch"},
    {"flute beyond the holder", "tools/taps.yaml", "flute: 11", "flute: 110", Code::bad_catalog, 8, "flute"},
    {"header misread once", "tools/taps.yaml", "use: tap", "use: tep", Code::unknown_choice, 5, "'tap'"},
};

TEST(ReadShop, TellsWhereABrokenFileIsBrokenAndOnlyOnce) {
  for (const BrokenFile& broken : kBrokenFiles) {
    std::string text = built_in(broken.base);
    const std::size_t at = text.find(broken.from);
    ASSERT_NE(at, std::string::npos) << broken.name;
    ASSERT_EQ(text.find(broken.from, at + 1), std::string::npos) << broken.name;
    text.replace(at, std::string_view(broken.from).size(), broken.to);
    Diagnostics diagnostics;
    const TextFile file{"own.yaml", text};
    EXPECT_FALSE(read_catalog({&file, 1}, diagnostics)) << broken.name;
    EXPECT_EQ(diagnostics.all().size(), 1U) << broken.name << "\n" << diagnostics.text();
    if (diagnostics.all().empty()) continue;
    const Diagnostic& d = diagnostics.all().front();
    EXPECT_EQ(d.place.file, "own.yaml") << broken.name;
    EXPECT_EQ(d.place.line, broken.line) << broken.name << "\n" << diagnostics.text();
    EXPECT_EQ(static_cast<int>(d.code), static_cast<int>(broken.code)) << broken.name << "\n" << diagnostics.text();
    EXPECT_NE(d.message.find(broken.says), std::string::npos) << broken.name << "\n" << diagnostics.text();
  }
}

}  // namespace
}  // namespace groovewright::catalog
