// `groovewright drive` as a process: what it writes of a drive, how it judges layouts that a person may write in good
// faith, and what it refuses.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "processes.h"

namespace {

using namespace processes;

const fs::path kPoorDrives = fs::path(GW_SOURCE_DIR) / "tests/corpus/poor_drives";
const std::string kDemo = (kDemos / "larkspur-front.yaml").string();

std::set<std::string> drive_files(const std::string& name) {
  return {name + ".drive.md", name + ".drive.csv", name + ".drive.json", "manifest.json"};
}
/// What a folder must hold at least: pictures may stand beside it.
void expect_whole(const fs::path& folder, const std::string& name) {
  const auto found = names_in(folder);
  for (const std::string& file : drive_files(name)) EXPECT_TRUE(found.contains(file)) << file;
  EXPECT_EQ(manifest_errors(folder), "");
}

const json* row(const json& drive, const std::string& id) {
  for (const json& c : drive.at("checks")) {
    if (c.at("id") == id) return &c;
  }
  return nullptr;
}

/// Two pulleys and an arm on the slack span; all sound.
std::string plain_drive(const std::string& name) {
  return "drive: " + name +
         "\nbelt: {section: PK, ribs: 6, length: 1050 mm}\nturns: clockwise\npulleys:\n"
         "  - {name: crank, at: [0 mm, 0 mm], effective_diameter: 130 mm, drives: true}\n"
         "  - {name: pump, at: [330 mm, 70 mm], effective_diameter: 100 mm}\n"
         "tensioner: {after: crank, pivot: [75 mm, 150 mm], arm: 100 mm, back_diameter: 70 mm, angle: {free: 285 deg, "
         "stops: [285 deg, 345 deg]}, spring: {torque: 30 N m}}\n";
}

// ---- Layouts that can't run.

struct Failing {
  std::string row, says;
};
/// `# fails ROW` and `# says WORDS`, by turns, at the head of a document.
std::vector<Failing> failing(const fs::path& document) {
  std::vector<Failing> found;
  for (const std::string& line : lines_of(read_file(document))) {
    if (line.starts_with("# fails ")) {
      found.push_back({line.substr(8), ""});
    } else if (line.starts_with("# says ") && !found.empty()) {
      found.back().says = line.substr(7);
    } else {
      break;
    }
  }
  return found;
}

std::vector<fs::path> poor_drives() {
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(kPoorDrives)) files.push_back(entry.path());
  std::sort(files.begin(), files.end());
  return files;
}

class PoorDrive : public ::testing::TestWithParam<fs::path> {};

TEST_P(PoorDrive, IsAVerdictInWords) {
  const auto wanted = failing(GetParam());
  ASSERT_FALSE(wanted.empty()) << "begins with no '# fails ROW'";
  const std::string name = GetParam().stem().string();
  const Scratch room;
  How how;
  how.folder = room.path();
  const Finished f = groovewright({"drive", GetParam().string()}, how);
  EXPECT_EQ(f.status, 1) << f.err;
  EXPECT_EQ(f.err, "");
  EXPECT_TRUE(f.out.starts_with("FAIL")) << f.out;
  const fs::path folder = room / "out" / name;
  expect_whole(folder, name);
  EXPECT_TRUE(read_file(folder / (name + ".drive.md")).starts_with("# FAIL"));
  const json drive = json::parse(read_file(folder / (name + ".drive.json")));
  for (const Failing& w : wanted) {
    ASSERT_FALSE(w.says.empty()) << w.row << " has no '# says'";
    const json* found = row(drive, w.row);
    ASSERT_NE(found, nullptr) << w.row;
    EXPECT_EQ(found->at("verdict"), "fail") << *found;
    EXPECT_TRUE(contains(found->at("says"), w.says)) << *found;
    EXPECT_TRUE(contains(f.out, w.says)) << "not on the terminal: " << w.says;
  }
}

INSTANTIATE_TEST_SUITE_P(Corpus, PoorDrive, ::testing::ValuesIn(poor_drives()), [](const auto& tested) {
  std::string name = tested.param.stem().string();
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
});

TEST(PoorDrives, AreThere) { EXPECT_GE(poor_drives().size(), 20U) << "in " << kPoorDrives; }

using DriveCli = Cli;

TEST_F(DriveCli, PlainOnePasses) {
  const Finished f = gw({"drive", spec("plain", plain_drive("plain")).string()});
  EXPECT_EQ(f.status, 0) << f.out << f.err;
}

TEST_F(DriveCli, DrawsTheLayoutThatTheReadmeShows) {
  ASSERT_EQ(gw({"drive", kDemo, "--quiet"}).status, 0);
  EXPECT_EQ(read_file(room_ / "out/larkspur-front/larkspur-front.layout.svg"),
            read_file(kDemos / "pictures/larkspur-front-layout.svg"))
      << "draw it anew: cmake --build build --target pictures";
}

/// Nothing of it lies in the planes of the drive, so that no gap in the plane counts: 300 mm less half a belt's width.
TEST_F(DriveCli, TellsAnObstacleOutsideEveryPlane) {
  const std::string text =
      plain_drive("plain") +
      "obstacles: [{name: radiator, circle: {at: [165 mm, 40 mm], diameter: 300 mm}, from: 300 mm, "
      "to: 340 mm}]\n";
  EXPECT_EQ(gw({"drive", spec("plain", text).string()}).status, 0);
  const json drive = json::parse(read_file(room_ / "out/plain/plain.drive.json"));
  const json* radiator = row(drive, "clearance_obstacle_1_radiator");
  ASSERT_NE(radiator, nullptr);
  EXPECT_TRUE(contains(radiator->at("says"), "in front of every pulley")) << *radiator;
}

// ---- What is written.

TEST_F(DriveCli, WritesTheFieldsThatProgramsRead) {
  ASSERT_EQ(gw({"drive", kDemo, "--quiet"}).status, 0);
  const fs::path folder = room_ / "out/larkspur-front";
  expect_whole(folder, "larkspur-front");
  const json drive = json::parse(read_file(folder / "larkspur-front.drive.json"));
  EXPECT_EQ(drive.at("format"), 1);
  EXPECT_EQ(drive.at("units"), "mm");
  const json& belt = drive.at("belt");
  const double effective = belt.at("effective_length");
  EXPECT_EQ(belt.at("designation"), "8PK " + std::to_string(std::lround(effective)));
  // b_e 2 mm (ISO 9981:2020, cl. 5.4); once round is 2 pi of it.
  EXPECT_NEAR(belt.at("pitch_length"), effective + 4 * std::numbers::pi, 1e-6);
  EXPECT_NEAR(belt.at("path_pitch_length"), belt.at("path_effective_length").get<double>() + 4 * std::numbers::pi,
              1e-6);
  double spans = 0;
  std::vector<std::string> names, froms;
  for (const json& p : drive.at("pulleys")) {
    names.push_back(p.at("name"));
    EXPECT_LE(std::abs(p.at("wrap_deg").get<double>()), 360);
    EXPECT_GT(p.at("speed_ratio"), 0);
  }
  EXPECT_EQ(names, (Strings{"crank", "arm", "charger", "blower", "idler", "pump"}));
  // By hand: (164.64 + 4) / (86 + 4) for the blower; its flat idlers turn with the cord at d/2 + 1.5 mm.
  EXPECT_NEAR(drive.at("pulleys").at(3).at("speed_ratio"), 168.64 / 90, 1e-6);
  EXPECT_NEAR(drive.at("pulleys").at(4).at("speed_ratio"), 168.64 / 79, 1e-6);
  EXPECT_FALSE(drive.at("pulleys").at(4).at("turns_with_driver"));
  for (const json& s : drive.at("spans")) {
    froms.push_back(s.at("from"));
    spans += s.at("length").get<double>();
  }
  EXPECT_EQ(froms, names);
  EXPECT_LT(spans, effective);
  const json& arm = drive.at("tensioner");
  EXPECT_TRUE(arm.at("seated"));
  EXPECT_LT(arm.at("tension").at("low"), arm.at("tension").at("middle"));
  EXPECT_GE(drive.at("dimensions").size(), 10U);
  EXPECT_GE(drive.at("checks").size(), 40U);
  for (const json& c : drive.at("checks")) EXPECT_NE(c.at("verdict"), "fail") << c;
  EXPECT_EQ(drive.at("complaints"), json::array());
}

/// The estimate's defaults stand on the sheet with their sources.
TEST_F(DriveCli, TellsWhatIsFromMemory) {
  ASSERT_EQ(gw({"drive", kDemo, "--quiet"}).status, 0);
  const std::string sheet = read_file(room_ / "out/larkspur-front/larkspur-front.drive.md");
  EXPECT_TRUE(sheet.starts_with("# PASS"));
  for (const char* piece : {"from memory: a bypass opens, the load falls", "from memory: part of the spring's torque",
                            "takes fingers and hair", "invented"}) {
    EXPECT_TRUE(contains(sheet, piece)) << piece;
  }
}

TEST_F(DriveCli, MakesTheSameBytesOnBothCores) {
  const std::string a = spec("a", plain_drive("a")).string(), b = spec("b", plain_drive("b")).string();
  fs::copy_file(kDemos / "larkspur-front.yaml", room_ / "larkspur-front.yaml");
  fs::copy_file(kDemos / "larkspur-crank-24.yaml", room_ / "larkspur-crank-24.yaml");
  const auto made = [&](const std::string& jobs) {
    fs::remove_all(room_ / "out");
    const Finished f = gw({"drive", a, (room_ / "larkspur-front.yaml").string(), b, "--jobs", jobs});
    EXPECT_EQ(f.status, 0) << f.err;
    auto all = listing(room_ / "out");
    all["stdout"] = f.out;
    return all;
  };
  const auto one = made("1");
  EXPECT_GE(one.size(), 3 * 5U);
  EXPECT_EQ(difference(one, made("2")), "");
}

TEST_F(DriveCli, HeedsQuietJsonAndUnits) {
  const std::string plain = spec("plain", plain_drive("plain")).string();
  const Finished quiet = gw({"drive", plain, "--quiet"});
  EXPECT_EQ(quiet.status, 0);
  EXPECT_EQ(quiet.out + quiet.err, "");
  EXPECT_TRUE(fs::exists(room_ / "out/plain/plain.drive.json"));
  const std::string in_mm = read_file(room_ / "out/plain/plain.drive.json");

  const json told = json::parse(gw({"drive", plain, "--json"}).out, nullptr, false);
  ASSERT_FALSE(told.is_discarded());
  EXPECT_EQ(told.at("status"), 0);
  const json& result = told.at("results").at(0);
  EXPECT_EQ(result.at("sheet").at("name"), "plain");
  std::set<std::string> files;
  for (const json& f : result.at("files")) files.insert(f);
  for (const std::string& f : drive_files("plain")) EXPECT_TRUE(files.contains(f)) << f;

  const Finished inches = gw({"drive", plain, "--units", "in"});
  EXPECT_TRUE(contains(inches.out, " in (")) << inches.out;
  EXPECT_EQ(read_file(room_ / "out/plain/plain.drive.json"), in_mm) << "JSON is always mm";
}

TEST_F(DriveCli, TellsTheSchemasOfDriveAndRange) {
  for (const std::string topic : {"drive", "range"}) {
    const Finished f = gw({"schema", topic});
    EXPECT_EQ(f.status, 0);
    const json schema = json::parse(f.out, nullptr, false);
    ASSERT_FALSE(schema.is_discarded()) << topic;
    EXPECT_EQ(schema.at("$schema"), "https://json-schema.org/draft/2020-12/schema");
    EXPECT_TRUE(schema.at("properties").contains(topic)) << "the first key says what a document is";
  }
}

// ---- What is refused.

TEST_F(DriveCli, WritesNothingWhereTwoDrivesHaveOneName) {
  const Finished f =
      gw({"drive", spec("one", plain_drive("front")).string(), spec("two", plain_drive("front")).string()});
  EXPECT_EQ(f.status, 2);
  EXPECT_TRUE(contains(f.err, "'front'") && contains(f.err, "[E0302]")) << f.err;
  EXPECT_FALSE(fs::exists(room_ / "out"));
}

TEST_F(DriveCli, MakesTheGoodOnesOfABatch) {
  std::string bad = plain_drive("bad");
  bad.replace(bad.find("torque: 30 N m"), 14, "torque: 30 kg!");
  const Finished f = gw({"drive", spec("good", plain_drive("good")).string(), spec("bad", bad).string()});
  EXPECT_EQ(f.status, 2);
  EXPECT_TRUE(contains(f.err, "bad.yaml:7:")) << f.err;
  EXPECT_EQ(names_in(room_ / "out"), std::set<std::string>{"good"});
}

/// A mistake in a pulley that a drive names is told at its place in the pulley's own document.
TEST_F(DriveCli, TellsTheMistakesOfAPulleyItNames) {
  std::string text = plain_drive("front");
  text.replace(text.find("effective_diameter: 100 mm"), 26, "spec: bad.yaml");
  spec("bad", kBadDisc);
  const Finished f = gw({"drive", spec("front", text).string()});
  EXPECT_EQ(f.status, 2);
  EXPECT_TRUE(contains(f.err, (room_ / "bad.yaml").string() + ":3:")) << f.err;
  EXPECT_FALSE(fs::exists(room_ / "out"));
}

TEST_F(DriveCli, KeepsTheOlderFolderWhereTheDriveTurnedBad) {
  const std::string plain = spec("plain", plain_drive("plain")).string();
  ASSERT_EQ(gw({"drive", plain}).status, 0);
  const auto before = listing(room_ / "out");
  std::string bad = plain_drive("plain");
  bad.replace(bad.find("after: crank"), 12, "after: clank");
  spec("plain", bad);
  EXPECT_EQ(gw({"drive", plain}).status, 2);
  EXPECT_EQ(difference(before, listing(room_ / "out")), "");
}

}  // namespace
