// What a drive document may say of a search, and what the program makes of it: settled spaces, mistakes at their place,
// the files and the row; then the program itself, as a process.
#include <gtest/gtest.h>
#include <sys/resource.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <numbers>

#include "groovewright/base/text.h"
#include "groovewright/job/drive.h"
#include "parts.h"
#include "readers/run.h"

namespace groovewright {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

constexpr double kDegree = std::numbers::pi / 180;
const fs::path kProgram = fs::path(GW_BINARY_DIR) / "groovewright";

/// A belt round two pulleys and a flat, an arm on the slack side; its search goes below.
const std::string kArm =
    "tensioner: {name: arm, after: crank, pivot: [-110 mm, 220 mm], arm: 100 mm, back_diameter: 70 mm, angle: {free: "
    "330 deg, stops: [276 deg, 330 deg]}, spring: {torque: 30 N m}}\n";
const std::string kSlide =
    "tensioner: {name: slide, after: crank, pivot: [-110 mm, 150 mm], back_diameter: 70 mm, direction: 0 deg, travel: "
    "{free: 90 mm, stops: [30 mm, 90 mm]}, spring: {force: 600 N}}\n";

std::string document(const std::string& search, const std::string& tensioner = kArm,
                     const std::string& belts = "lengths: {from: 1000 mm, to: 1030 mm, step: 5 mm}") {
  return "drive: test\nbelt: {section: PK, ribs: 6" + (belts.empty() ? "" : ", " + belts) +
         "}\nturns: clockwise\npulleys:\n"
         "  - {name: crank, at: [0 mm, 0 mm], effective_diameter: 160 mm, drives: true}\n"
         "  - {name: pump, at: [0 mm, 300 mm], effective_diameter: 90 mm}\n"
         "  - {name: guide, at: [90 mm, 160 mm], back_diameter: 70 mm}\n" +
         tensioner + "duty: {lowest: 800 rpm, highest: 5000 rpm}\n" + search;
}

struct Prepared {
  Diagnostics diagnostics;
  std::optional<job::PreparedDrive> drive;
};
Prepared prepared(const std::string& text) {
  Prepared p;
  const auto drive = spec::read_drive({"drive.yaml", text}, p.diagnostics);
  if (drive) p.drive = job::prepare_drive(*drive, {}, {}, p.diagnostics);
  return p;
}

TEST(SearchDocument, SettlesEveryChoice) {
  const Prepared p =
      prepared(document("search:\n  clock: {from: -20 deg, to: 20 deg, step: 10 deg}\n  vary:\n"
                        "    - {name: pump, effective_diameters: [90 mm, 100 mm]}\n"
                        "    - {name: guide, back_diameters: [70 mm], places: [[90 mm, 160 mm], [95 mm, 150 mm]]}\n"
                        "    - {name: arm, back_diameters: [65 mm, 70 mm]}\n  merit: room\n  keep: 7\n"));
  ASSERT_TRUE(p.drive) << p.diagnostics.text();
  const drive::SearchSpace& s = p.drive->search.value();
  EXPECT_EQ(s.lengths, (std::vector<double>{1000, 1005, 1010, 1015, 1020, 1025, 1030}));
  ASSERT_EQ(s.turns.size(), 5U);
  EXPECT_NEAR(s.turns[0], -20 * kDegree, 1e-12);
  EXPECT_EQ(s.turns[2], 0) << "no turn is exactly none";
  ASSERT_EQ(s.varied.size(), 3U);
  EXPECT_EQ(s.varied[0].pulley, 1U);
  EXPECT_EQ(s.varied[0].radii, (std::vector<double>{45, 50}));
  EXPECT_EQ(s.varied[0].places.size(), 1U) << "where it stands";
  EXPECT_EQ(s.varied[1].places[1].y, 150);
  EXPECT_EQ(s.varied[2].pulley, drive::kNone) << "the tensioner's idler";
  EXPECT_EQ(s.varied[2].places[0].x, -110) << "its pivot";
  EXPECT_EQ(s.merit, drive::Merit::room);
  EXPECT_EQ(s.keep, 7U);
  EXPECT_EQ(s.size(), 7U * 5 * 2 * 2 * 2);
}

TEST(SearchDocument, HasDefaults) {
  const Prepared p = prepared(document("search:\n  vary: [{name: pump, effective_diameters: [90 mm, 95 mm]}]\n"));
  ASSERT_TRUE(p.drive) << p.diagnostics.text();
  EXPECT_EQ(p.drive->search->merit, drive::Merit::travel);
  EXPECT_EQ(p.drive->search->keep, 20U);
  EXPECT_EQ(p.drive->search->turns, std::vector<double>{0});
  EXPECT_FALSE(prepared(document("")).drive->search);
}

TEST(SearchDocument, TellsMistakesAtTheirPlace) {
  struct Case {
    const char* what;
    std::string text;
    Code code;
    const char* fragment;  ///< of the input
    const char* says;
  };
  const std::string head = "search:\n  vary: [{name: ";
  const Case cases[] = {
      {"a name misspelt", document(head + "pimp, effective_diameters: [90 mm]}]\n"), Code::unknown_entry, "pimp",
       "did you mean 'pump'"},
      {"a name twice",
       document(head + "pump, effective_diameters: [90 mm]}, {name: pump, places: [[0 mm, 300 mm]]}]\n"),
       Code::same_name_twice, "pump", "varied above"},
      {"a flat with grooves", document(head + "guide, effective_diameters: [70 mm]}]\n"), Code::one_of_keys, "guide",
       "'back_diameters'"},
      {"grooves with a flat", document(head + "pump, back_diameters: [70 mm]}]\n"), Code::one_of_keys, "pump",
       "'effective_diameters'"},
      {"the arm's idler with grooves", document(head + "arm, effective_diameters: [70 mm]}]\n"), Code::one_of_keys,
       "arm", "is flat"},
      {"nothing that changes", document(head + "guide}]\n"), Code::missing_key, "guide", "nothing of 'guide' changes"},
      {"a clock on a slide", document("search:\n  clock: {from: 0 deg, to: 10 deg, step: 1 deg}\n", kSlide),
       Code::does_not_fit, "clock", "no body to turn"},
      {"a clock without a tensioner", document("search:\n  clock: {from: 0 deg, to: 10 deg, step: 1 deg}\n", ""),
       Code::does_not_fit, "clock", "no tensioner"},
      {"a clock the wrong way round", document("search:\n  clock: {from: 10 deg, to: -10 deg, step: 1 deg}\n"),
       Code::out_of_range, "10", "turn them round"},
      {"travel without a tensioner", document("search: {merit: travel}\n", ""), Code::does_not_fit, "travel",
       "choose grip or room"},
      {"grip without a tension", document("search: {merit: grip}\n", ""), Code::needs_more, "grip", "still_tension"},
      {"no belts", document("search: {merit: room}\n", kArm, ""), Code::missing_key, "search", "belts to choose from"},
      {"too much",
       document("search:\n  clock: {from: -180 deg, to: 180 deg, step: 0.01 deg}\n  vary:\n    - {name: pump, places: "
                "[[0 mm, 300 mm], [1 mm, 300 mm], [2 mm, 300 mm]], effective_diameters: [90 mm, 91 mm, 92 mm, 93 mm, "
                "94 mm, 95 mm, 96 mm, 97 mm]}\n    - {name: arm, back_diameters: [65 mm, 66 mm, 67 mm, 68 mm]}\n",
                kArm, "lengths: {from: 900 mm, to: 1100 mm, step: 0.5 mm}"),
       Code::out_of_range, "1385894496", "1385894496 combinations"},
  };
  for (const Case& c : cases) {
    const Prepared p = prepared(c.text);
    EXPECT_FALSE(p.drive) << c.what;
    const auto& all = p.diagnostics.all();
    ASSERT_EQ(all.size(), 1U) << c.what << ": " << p.diagnostics.text();
    EXPECT_EQ(all[0].code, c.code) << c.what << ": " << p.diagnostics.text();
    EXPECT_EQ(all[0].fragment, c.fragment) << c.what;
    EXPECT_NE(all[0].message.find(c.says), std::string::npos) << c.what << ": " << all[0].message;
    EXPECT_GT(all[0].place.line, 1) << c.what;
  }
}

TEST(SearchDocument, TakesAsManyCombinationsAsItSays) {
  const auto of = [](int places) {
    std::string diameters, spots;
    for (int i = 0; i < 100; ++i) diameters += (i ? ", " : "") + std::to_string(90 + i) + " mm";
    for (int i = 0; i < places; ++i) spots += (i ? ", [" : "[") + std::to_string(90 + i) + " mm, 160 mm]";
    return prepared(
        document("search:\n  clock: {from: 0 deg, to: 9.99 deg, step: 0.01 deg}\n  vary:\n    - {name: pump, "
                 "effective_diameters: [" +
                     diameters + "]}\n    - {name: guide, places: [" + spots + "]}\n",
                 kArm, "lengths: {from: 900 mm, to: 1399.5 mm, step: 0.5 mm}"));
  };
  const Prepared most = of(10), more = of(11);
  ASSERT_TRUE(most.drive) << most.diagnostics.text();
  EXPECT_EQ(most.drive->search->size(), drive::kMaxCombinations);
  EXPECT_FALSE(more.drive);
  EXPECT_NE(more.diagnostics.text().find("1100000000 combinations"), std::string::npos) << more.diagnostics.text();
}

job::Made made(const std::string& text, report::Units units = report::Units::mm, int threads = 1) {
  const Prepared p = prepared(text);
  EXPECT_TRUE(p.drive) << p.diagnostics.text();
  return job::make_drive(p.drive.value(), {"drive.yaml", text}, units,
                         [](const auto&, const auto&) { return std::string(); }, {threads, {}});
}
std::string bytes(const job::Made& m, const std::string& name) {
  const auto found = std::ranges::find(m.artifacts, name, &Artifact::name);
  EXPECT_NE(found, m.artifacts.end()) << name;
  return found == m.artifacts.end() ? "" : found->bytes;
}

const std::string kSearch =
    "search:\n  clock: {from: -10 deg, to: 10 deg, step: 5 deg}\n  vary:\n"
    "    - {name: guide, places: [[90 mm, 160 mm], [85 mm, 150 mm]]}\n"
    "    - {name: arm, back_diameters: [65 mm, 70 mm]}\n  keep: 4\n";

/// Words of the page with this title; "" where there is none.
std::string page_of(const std::string& text, const std::string& title) {
  const Prepared p = prepared(text);
  std::string words;
  (void)job::make_drive(p.drive.value(), {"drive.yaml", text}, report::Units::mm,
                        [&](const plane::Page& page, const Typeface&) {
                          for (const plane::View& v : page.views) {
                            for (const plane::Words& w : v.words) words += page.title == title ? w.text + " " : "";
                          }
                          return std::string();
                        });
  return words;
}

TEST(SearchPictures, ATemplateDrillsTheHoleOfTheFirstThatTurnsTheBody) {
  std::string arm = kArm;
  arm.replace(arm.rfind("}"), 1, ", peg: {radius: 50 mm, angle: 120 deg, thread: M8, depth: 14 mm}}");
  const std::string text = document("search: {clock: {from: -30 deg, to: 30 deg, step: 10 deg}}\n", arm);
  const Prepared p = prepared(text);
  const drive::SearchResult found = drive::search(p.drive->drive, *p.drive->search, 1);
  const auto turn = [&](const drive::Fit& f) { return drive::combination(*p.drive->search, f.index).turn; };
  const auto first = std::ranges::find_if(found.kept, [&](const drive::Fit& f) { return turn(f) != 0; });
  ASSERT_NE(first, found.kept.end());
  ASSERT_NE(first, found.kept.begin()) << "the best of all needs no hole";
  const std::string words = page_of(text, "Drill template: test");
  EXPECT_NE(words.find("result " + std::to_string(first - found.kept.begin() + 1) + " of the search"),
            std::string::npos)
      << words;
  // A peg of 50 mm at 120°, turned: 50 cos, 50 sin of where it then is.
  const double to = 120 * kDegree + turn(*first);
  for (const double v : {50 * std::cos(to), 50 * std::sin(to)}) {
    EXPECT_NE(words.find(" " + number(v, 2) + " "), std::string::npos) << v << " in " << words;
  }
  // Without a peg, and where only the place as it is would do, there is nothing to drill.
  EXPECT_EQ(page_of(document("search: {clock: {from: -30 deg, to: 30 deg, step: 10 deg}}\n"), "Drill template: test"),
            "");
  EXPECT_EQ(page_of(document("search: {vary: [{name: pump, effective_diameters: [90 mm, 95 mm]}]}\n", arm),
                    "Drill template: test"),
            "");
}

TEST(SearchFiles, SayWhatWasFoundAndWhyNot) {
  const job::Made m = made(document(kSearch));
  const json j = json::parse(bytes(m, "test.search.json"));
  EXPECT_EQ(j["combinations"], 7 * 5 * 2 * 2);
  ASSERT_GT(j["fits"], 4);
  ASSERT_EQ(j["kept"].size(), 4U);
  double last = 360, thrown = 0;
  for (const json& one : j["kept"]) {
    const double least = std::min(one["to_near_stop"].get<double>(), one["to_far_stop"].get<double>());
    EXPECT_NEAR(one["merit"], least, 1e-6);
    EXPECT_GE(least, 5) << "the shop's limit, deg";
    EXPECT_LE(one["merit"], last);
    last = one["merit"];
    EXPECT_EQ(one["belt"].get<std::string>().substr(0, 4), "6PK ");
  }
  ASSERT_EQ(j["nearest"].size(), 10U);
  for (const json& one : j["nearest"]) {
    EXPECT_GT(one["lacks"], 0);
    EXPECT_NE(one["reasons"].get<std::string>().find("at least"), std::string::npos) << one["reasons"];
  }
  for (const json& one : j["thrown_out"]) thrown += one["combinations"].get<double>();
  EXPECT_EQ(thrown + j["fits"].get<double>(), j["combinations"]);

  const Check row = testing::check_row(m.sheet.rows, "search_found");
  EXPECT_EQ(row.verdict, Verdict::pass);
  EXPECT_EQ(row.value, j["fits"]);

  const std::string page = bytes(m, "test.search.md"), table = bytes(m, "test.search.csv");
  EXPECT_EQ(page.substr(0, 7), "# PASS:");
  EXPECT_NE(page.find("## Cautions"), std::string::npos);
  EXPECT_NE(page.find(j["kept"][0]["belt"].get<std::string>()), std::string::npos);
  EXPECT_EQ(std::count(table.begin(), table.end(), '\n'), 1 + 4 + 10);
  EXPECT_EQ(m.artifacts.back().name, job::kManifest);
}

TEST(SearchFiles, TheBestOneInTheDocumentGivesTheSheetThatItPromises) {
  const job::Made m = made(document(kSearch));
  const json best = json::parse(bytes(m, "test.search.json"))["kept"][0];
  const double turn = best["turn"];
  std::string arm = kArm;
  const auto put = [&](const std::string& from, const std::string& to) {
    arm.replace(arm.find(from), from.size(), to);
  };
  put("free: 330", "free: " + std::to_string(330 + turn));
  put("[276 deg, 330 deg]", "[" + std::to_string(276 + turn) + " deg, " + std::to_string(330 + turn) + " deg]");
  put("back_diameter: 70", "back_diameter: " + std::to_string(best["diameter_arm"].get<double>()));
  std::string text = document("", arm, "length: " + best["belt"].get<std::string>().substr(4) + " mm");
  text.replace(text.find("[90 mm, 160 mm]"), 15,
               "[" + std::to_string(best["x_guide"].get<double>()) + " mm, " +
                   std::to_string(best["y_guide"].get<double>()) + " mm]");
  const Rows rows = made(text).sheet.rows;
  EXPECT_EQ(worst(rows.checks), Verdict::pass);
  EXPECT_NEAR(testing::check_row(rows, "tensioner_travel_near").value, best["to_near_stop"], 1e-6);
  EXPECT_NEAR(testing::check_row(rows, "tensioner_travel_far").value, best["to_far_stop"], 1e-6);
  EXPECT_NEAR(testing::dimension(rows, "installed_tension"), best["tension_middle"], 1e-6);
  EXPECT_NEAR(testing::check_row(rows, "belt_room_length").value, best["belt_room"], 1e-6);
}

TEST(SearchFiles, AreTheSameWhateverTheThreads) {
  const job::Made one = made(document(kSearch)), three = made(document(kSearch), report::Units::mm, 3);
  for (const Artifact& a : one.artifacts) EXPECT_EQ(a.bytes, bytes(three, a.name)) << a.name;
}

TEST(SearchFiles, FailWhereNothingFits) {
  const job::Made m = made(document(kSearch, kArm, "lengths: {from: 800 mm, to: 820 mm, step: 5 mm}"));
  EXPECT_EQ(testing::check_row(m.sheet.rows, "search_found").verdict, Verdict::fail);
  const std::string page = bytes(m, "test.search.md");
  EXPECT_EQ(page.substr(0, 7), "# FAIL:");
  EXPECT_NE(page.find("too short"), std::string::npos) << page;
}

// ---- The program.

struct Scratch {
  fs::path path = fs::path(::testing::TempDir()) / "groovewright_search";
  Scratch() { fs::create_directories(path); }
  ~Scratch() { fs::remove_all(path); }
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
};

TEST(SearchProgram, WritesTheDemosFiles) {
  const Scratch s;
  const auto run = [&](const std::string& jobs) {
    const fs::path out = s.path / jobs;
    const auto o = readers::run(kProgram.string() + " drive --quiet --jobs " + jobs + " --out " + out.string() + " " +
                                GW_SOURCE_DIR "/profiles/demo/larkspur-search.yaml");
    EXPECT_EQ(o.status, 0) << o.said;
    EXPECT_EQ(o.said, "") << "progress is for terminals";
    return out / "larkspur-search";
  };
  const fs::path one = run("1"), two = run("2");
  for (const char* end : {"md", "csv", "json"}) {
    const std::string name = std::string("larkspur-search.search.") + end;
    EXPECT_EQ(testing::file_text(one / name), testing::file_text(two / name)) << name;
  }
  const json j = json::parse(testing::file_text(one / "larkspur-search.search.json"));
  EXPECT_GT(j["combinations"], 1000);
  EXPECT_GT(j["fits"], 0);
  EXPECT_EQ(j["kept"].size(), 10U);
}

/// Some 300,000 combinations, many of which meet all limits: over half a second's work.
std::string large() {
  std::string places;
  for (int i = 0; i < 40; ++i) places += (i ? ", " : "") + ("[" + std::to_string(85 + 0.1 * i)) + " mm, 160 mm]";
  return document("search:\n  clock: {from: -10 deg, to: 10 deg, step: 1 deg}\n  vary:\n    - {name: guide, places: [" +
                      places + "]}\n",
                  kArm, "lengths: {from: 990 mm, to: 1030 mm, step: 0.1 mm}");
}

TEST(SearchProgram, ShowsProgressOnATerminalOnlyAndTakesLittleMemory) {
  const Scratch s;
  std::ofstream(s.path / "large.yaml") << large();
  const std::string command =
      kProgram.string() + " drive --quiet --out " + (s.path / "out").string() + " " + (s.path / "large.yaml").string();
  const auto quiet = readers::run(command);
  EXPECT_EQ(quiet.said, "");
  rusage used{};
  getrusage(RUSAGE_CHILDREN, &used);
  EXPECT_LT(used.ru_maxrss, 100 * 1024) << "KiB";
  const auto shown = readers::run("script -qec '" + command + "' /dev/null");
  EXPECT_NE(shown.said.find(" combinations"), std::string::npos) << shown.said;
}

}  // namespace
}  // namespace groovewright
