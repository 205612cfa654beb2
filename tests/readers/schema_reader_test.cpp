// The JSON Schemas, judged by ajv (a validator that no one here wrote): what our reader takes must be valid, what it
// refuses for its form must not be.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <functional>
#include <map>
#include <regex>
#include <set>
#include <sstream>

#include "groovewright/job.h"
#include "groovewright/job/range.h"
#include "groovewright/spec.h"
#include "parts.h"
#include "random_drive.h"
#include "random_spec.h"
#include "readers/run.h"

namespace groovewright::readers {
namespace {

namespace fs = std::filesystem;
const std::string kSource = GW_SOURCE_DIR;

/// File -> "" when valid, or what the validator said.
std::map<std::string, std::string> judged_by_ajv(const std::string& schema, const std::vector<std::string>& files) {
  std::string command = "node " + kSource + "/tests/tools/validate_json.mjs " + schema;
  for (const auto& f : files) command += " '" + f + "'";
  const Outcome o = run(command);
  EXPECT_EQ(o.status, 0) << o.said;
  std::map<std::string, std::string> verdicts;
  std::istringstream lines(o.said);
  for (std::string line; std::getline(lines, line);) {
    if (line.starts_with("valid ")) verdicts[line.substr(6)] = "";
    if (line.starts_with("invalid ")) {
      const std::size_t colon = line.find(": ");
      verdicts[line.substr(8, colon - 8)] = line.substr(colon + 2);
    }
  }
  return verdicts;
}

TEST(PulleySchema, TakesEveryDemo) {
  const auto verdicts = judged_by_ajv(written(job::pulley_schema(), "json"), testing::demos());
  ASSERT_GE(verdicts.size(), 4U);
  for (const auto& [file, why] : verdicts) EXPECT_EQ(why, "") << file;
}

/// What our reader alone says to a document; whether the settled numbers make a part is not asked.
std::string said_by_reader(const std::string& text) {
  Diagnostics d;
  static_cast<void>(spec::read_pulley({"spec.yaml", text}, d));
  return d.text();
}

TEST(PulleySchema, RefusesWhatTheReaderRefusesForItsForm) {
  // Unknown key, missing key, wrong kind, number and unit, range, choices, one-of, names, counts, two sizes.
  const std::regex form(R"(\[E0(10[1-9]|110|111|201)\])");
  // A schema sees values as YAML gives them, not what stands in another branch, and compares no number in a text.
  const std::map<std::string, std::string> beyond{
      {"unit-missing", "whether bare lengths have a unit is said by 'units', elsewhere"},
      {"number-1e300", "size of a number in a text"},
      {"number-1e400", "size of a number in a text"},
      {"number-percent-of-nothing", "size of a number in a text"},
      {"number-hex", "YAML takes 0x6 for 6"},
  };
  std::vector<std::string> files;
  for (const auto& e : fs::directory_iterator(kSource + "/tests/corpus/bad")) {
    if (e.path().extension() != ".yaml") continue;
    if (std::regex_search(said_by_reader(testing::file_text(e.path().string())), form))
      files.push_back(e.path().string());
  }
  ASSERT_GE(files.size(), 60U) << "the corpus is missing";
  for (const auto& [file, why] : judged_by_ajv(written(job::pulley_schema(), "json"), files)) {
    const auto known = beyond.find(fs::path(file).stem().string());
    if (known == beyond.end()) {
      EXPECT_NE(why, "") << file << " is valid by the schema, but our reader says\n"
                         << said_by_reader(testing::file_text(file));
    } else {
      EXPECT_EQ(why, "") << file << " is refused by the schema after all: no longer beyond it (" << known->second
                         << ")";
    }
  }
}

TEST(PulleySchema, TakesWhatTheReaderTakesAtRandom) {
  constexpr std::uint64_t kSeeds = 100;
  std::vector<std::string> files;
  for (std::uint64_t seed = 1; seed <= kSeeds; ++seed) {
    const std::string text = testing::random_spec(seed);
    ASSERT_EQ(said_by_reader(text), "") << text;
    files.push_back(written(text, "yaml"));
  }
  const auto verdicts = judged_by_ajv(written(job::pulley_schema(), "json"), files);
  ASSERT_EQ(verdicts.size(), kSeeds);
  for (const auto& [file, why] : verdicts) EXPECT_EQ(why, "") << testing::file_text(file);
}

TEST(PulleySchema, AgreesWithTheReaderValueByValue) {
  struct Case {
    const char* key;
    std::vector<const char*> taken, refused;
  };
  const Case cases[] = {
      {"ribs",
       {"1", "40", "8.0", "\"8\"", "' 8 '", "'+8'", "'08'", "'8.0'"},
       {"0", "41", "-8", "8.5", "'0'", "'41'", "'-8'", "'8.5'", "''", "x", "'8 mm'", "[8]", "true"}},
      {"edge_distance",
       {"3 mm", "'3 mm'", "' 3  mm '", "3mm", "+3 mm", "0.3 cm", "1e1 mm", "3. mm", ".5 in", "'5/8 in'", "5/8\"",
        "6-1/2 in", "6 1/2 in", "500 um", "500 µm", "3", "'3'", "10000"},
       {"0",      "0 mm",   "'0.0 mm'", "0e5 mm", "-3", "-3 mm", "'-3 mm'", "-0.5 mm", "-1/2 in", "10001", "3 deg",
        "3,5 mm", "5/0 in", "0/5 in",   "3 mm x", "mm", "''",    ".inf",    ".nan",    "5/8 mm",  "{}"}},
      {"edge_break", {"0", "0 mm", "1 mm", "100"}, {"-1", "-1 mm", "-.5 mm", "101"}},
      {"space", {"0", "2 mm"}, {"-2 mm", "-0.01 mm"}},
      {"title",
       {"a", "24", "true", "' a '", "\u00e4", "'a\u00a0b'"},
       {"''", "'  '", "\"a\\nb\"", "\"\\t\"", "[a]", "{}", ""}},
      {"drawing",
       {"{}", "{sheet: A3}", "{sheet: ansi-d}", "{scale: 1:2}", "{scale: '10:1'}", "{projection: third}",
        "{general_tolerance: iso-22081}", "{dual_units: false}", "{language: pt-BR}", "{number: 24}",
        "{maximum_material: true}", "{revisions: []}", "{revisions: [{revision: A, text: x}]}", "{notes: []}",
        "{notes: [a, 7, 'b']}", "{notes: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]}"},
       {"{sheet: a3}",
        "{sheet: A0}",
        "{sheet: ansi-e}",
        "{scale: 1:3}",
        "{scale: 0.5}",
        "{scale: 1/2}",
        "{projection: second}",
        "{general_tolerance: iso-2768-mK}",
        "{dual_units: yes}",
        "{number: ''}",
        "{author: []}",
        "{revisions: [{revision: A}]}",
        "{revisions: [{text: x}]}",
        "{revisions: {revision: A, text: x}}",
        "{revisions: [A]}",
        "{notes: a}",
        "{notes: ['']}",
        "{notes: [[a]]}",
        "{notes: [{a: b}]}",
        "{notes: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13]}",
        "{scael: 1:2}",
        "[]",
        "A3"}},
      {"step", {"{}", "{pmi: true}"}, {"{pmi: 1}", "{pmi: full}", "true", "{pni: true}"}},
      {"balance",
       {"{grade: 6.3}", "{grade: 6.30}", "{grade: 16.0}", "{grade: G6.3}", "{grade: '2.5'}", "{grade: G40}"},
       {"{}", "{grade: 6}", "{grade: G}", "{grade: g6.3}", "{grade: '6.30'}", "{grade: G6.30}", "{grade: 100}",
        "{grade: [1]}", "6.3"}},
  };
  struct Written {
    std::string text;
    bool good = false;
  };
  std::map<std::string, Written> documents;
  const std::set<std::string> top_keys{"title", "drawing", "step", "balance"};
  const auto add = [&](const std::string& key, const std::string& value, bool good) {
    const std::string ribs = key == "ribs" ? "" : "    ribs: 6\n";
    const bool is_of_rim = top_keys.find(key) == top_keys.end();
    const std::string pair = key + ": " + value + "\n";
    const std::string text = "pulley: disc\nunits: mm\nmaterial: steel-4140\nrims:\n  - section: PK\n" + ribs +
                             (is_of_rim ? "    " + pair : "") +
                             "    size: {effective_diameter: 120}\nbody: {solid: true}\n" + (is_of_rim ? "" : pair) +
                             "hub: {bore: {diameter: 20}}\n";
    documents[written(text, "yaml")] = {text, good};
  };
  for (const Case& c : cases) {
    for (const char* v : c.taken) add(c.key, v, true);
    for (const char* v : c.refused) add(c.key, v, false);
  }
  // Values that stand deeper, by the whole of their branch.
  for (const auto& [branch, good] : std::map<std::string, bool>{
           {"{height: 3, lead_in: 15 deg}", true},
           {"{height: 3, lead_in: 0 deg}", true},
           {"{height: 3, lead_in: 0.2 rad}", true},
           {"{height: 3, lead_in: -5 deg}", false},
           {"{height: 3, lead_in: 15}", false},
           {"{height: 3, lead_in: 15 mm}", false},
           {"{height: -3}", false},
           {"{height: 0 mm}", false},
           {"{height: 3, diameter: 130}", false},
           {"{thickness: 3}", false},
       })
    add("front_flange", branch, good);
  std::vector<std::string> files;
  for (const auto& [file, document] : documents) files.push_back(file);
  const auto verdicts = judged_by_ajv(written(job::pulley_schema(), "json"), files);
  ASSERT_EQ(verdicts.size(), documents.size());
  for (const auto& [file, document] : documents) {
    const std::string said = said_by_reader(document.text);
    EXPECT_EQ(said.empty(), document.good) << "by the reader: " << said << "\n" << document.text;
    EXPECT_EQ(verdicts.at(file).empty(), document.good) << "by the schema: " << verdicts.at(file) << "\n"
                                                        << document.text;
  }
}

// ---- drives and ranges ----

/// A kind of document: its schema, and what our reader alone says to one.
struct Kind {
  std::string name, schema;
  std::function<std::string(const std::string&)> said;
};
const std::vector<Kind>& kinds() {
  static const auto read_by = [](auto read) {
    return [read](const std::string& text) {
      Diagnostics d;
      static_cast<void>(read(TextFile{"spec.yaml", text}, d));
      return d.text();
    };
  };
  static const std::vector<Kind> all{{"drive", job::drive_schema(), read_by(spec::read_drive)},
                                     {"range", job::range_schema(), read_by(spec::read_range)}};
  return all;
}

TEST(DriveAndRangeSchemas, TakeEveryDemo) {
  for (const Kind& kind : kinds()) {
    const auto verdicts = judged_by_ajv(written(kind.schema, "json"), testing::demos(kind.name));
    EXPECT_GE(verdicts.size(), 1U) << kind.name;
    for (const auto& [file, why] : verdicts) EXPECT_EQ(why, "") << file;
  }
}

TEST(DriveSchema, RefusesWhatTheReaderRefusesForItsForm) {
  const Kind& drive = kinds()[0];
  const std::regex form(R"(\[E0(10[1-9]|110|111|201)\])");
  const std::map<std::string, std::string> beyond{
      {"unit-missing", "whether bare lengths have a unit is said by 'units', elsewhere"},
      {"number-1e999", "size of a number in a text"},
      {"damping-over", "size of a number in a text"},
      {"heat-colder-than-the-drawing", "size of a number in a text"},
  };
  std::vector<std::string> files;
  for (const auto& e : fs::directory_iterator(kSource + "/tests/corpus/bad_drives")) {
    if (e.path().extension() != ".yaml") continue;
    if (std::regex_search(drive.said(testing::file_text(e.path().string())), form)) files.push_back(e.path().string());
  }
  ASSERT_GE(files.size(), 25U) << "the corpus is missing";
  for (const auto& [file, why] : judged_by_ajv(written(drive.schema, "json"), files)) {
    const auto known = beyond.find(fs::path(file).stem().string());
    if (known == beyond.end()) {
      EXPECT_NE(why, "") << file << " is valid by the schema, but our reader says\n"
                         << drive.said(testing::file_text(file));
    } else {
      EXPECT_EQ(why, "") << file << " is refused by the schema after all: no longer beyond it (" << known->second
                         << ")";
    }
  }
}

TEST(DriveSchema, TakesWhatTheReaderTakes) {
  const Kind& drive = kinds()[0];
  constexpr std::uint64_t kSeeds = 100;
  std::vector<std::string> files;
  for (std::uint64_t seed = 1; seed <= kSeeds; ++seed) {
    const std::string text = testing::random_drive(seed);
    ASSERT_EQ(drive.said(text), "") << text;
    files.push_back(written(text, "yaml"));
  }
  for (const auto& e : fs::directory_iterator(kSource + "/tests/corpus/poor_drives"))
    files.push_back(e.path().string());
  const auto verdicts = judged_by_ajv(written(drive.schema, "json"), files);
  ASSERT_EQ(verdicts.size(), files.size());
  for (const auto& [file, why] : verdicts) EXPECT_EQ(why, "") << testing::file_text(file);
}

/// A place in a document, what is taken there and what is not.
struct Values {
  std::string key;
  std::vector<std::string> taken, refused;
};

/// Each value under its key at the top of `whole`, instead of a sound one; reader and schema must agree about it.
void expect_agreement(const Kind& kind, const std::string& whole, const std::vector<Values>& cases) {
  struct Document {
    std::string text;
    bool good = false;
  };
  std::map<std::string, Document> documents;
  const auto add = [&](const std::string& key, const std::string& value, bool good) {
    std::string text = whole;
    // Drop the sound pair of that key, if the document has one, and put this one in.
    text = std::regex_replace(text, std::regex("\\n" + key + ": [^\\n]*"), "");
    text += key + ": " + value + "\n";
    documents[written(text, "yaml")] = {text, good};
  };
  for (const Values& c : cases) {
    for (const std::string& v : c.taken) add(c.key, v, true);
    for (const std::string& v : c.refused) add(c.key, v, false);
  }
  std::vector<std::string> files;
  for (const auto& [file, document] : documents) files.push_back(file);
  const auto verdicts = judged_by_ajv(written(kind.schema, "json"), files);
  ASSERT_EQ(verdicts.size(), documents.size());
  for (const auto& [file, document] : documents) {
    const std::string said = kind.said(document.text);
    EXPECT_EQ(said.empty(), document.good) << "by the reader: " << said << "\n" << document.text;
    EXPECT_EQ(verdicts.at(file).empty(), document.good) << "by the schema: " << verdicts.at(file) << "\n"
                                                        << document.text;
  }
}

TEST(DriveSchema, AgreesWithTheReaderValueByValue) {
  const std::string sound =
      "drive: front\nbelt: {section: PK, ribs: 6}\nturns: clockwise\n"
      "pulleys: [{name: a, at: [0 mm, 0 mm], effective_diameter: 90 mm, drives: true}, {name: b, at: [300 mm, 0 mm], "
      "back_diameter: 80 mm}]\n";
  const std::string two = "[{name: a, at: [0 mm, 0 mm], effective_diameter: 90 mm, drives: true}, ";
  const std::string arm = "{after: a, pivot: [9 mm, -9 mm], back_diameter: 70 mm, arm: 80 mm, ";
  const std::string swing = "angle: {free: 10 deg, stops: [10 deg, 50 deg]}, ";
  expect_agreement(
      kinds()[0], sound,
      {{"turns", {"clockwise", "counter-clockwise"}, {"left", "anticlockwise", "1", ""}},
       {"design_ratio", {"4", "2.5", "'3'"}, {"4 mm", "x", "[4]", "''"}},
       {"belt",
        {"{section: PK, ribs: 6, length: 1000 mm}", "{section: PK, ribs: '6', catalogue: [1 m, 40 in]}",
         "{section: PK, ribs: 6, lengths: {from: 1 m, to: 2 m, step: 5 mm}}",
         "{section: PK, ribs: 6, mass_per_rib: 21 g/m, stiffness_per_rib: 25 kN, stretch: 0.4 %}",
         "{section: PK, ribs: 6, speed_max: 60 m/s, speed_reason: a word}",
         "{section: PK, ribs: 6, bending_loss: {torque_per_rib: 20 N mm, pitch_diameter: 60 mm}}"},
        {"{section: PK}", "{ribs: 6}", "{section: PK, ribs: 0}", "{section: PK, ribs: 41}", "PK",
         "{section: PK, ribs: 6, length: 1 m, catalogue: [1 m]}",
         "{section: PK, ribs: 6, lengths: {from: 1 m, to: 2 m}}", "{section: PK, ribs: 6, catalogue: []}",
         "{section: PK, ribs: 6, mass_per_rib: 21 mm}", "{section: PK, ribs: 6, speed_max: 60 m/s}",
         "{section: PK, ribs: 6, bending_loss: {torque_per_rib: 20 N mm}}",
         "{section: PK, ribs: 6, bending_loss: 20 W}",
         "{section: PK, ribs: 6, bending_loss: {torque_per_rib: 0 N m, pitch_diameter: 60 mm}}",
         "{section: PK, ribs: 6, stretch: -1 %}", "{section: PK, ribs: 6, lenght: 1 m}"}},
       {"duty",
        {"{}", "{lowest: 800 rpm, highest: 6000 1/min}", "{speeds: [800 rpm]}", "{peak: 1.5, orders: [1, 2.5]}",
         "{speeding_up: 4000 rpm/s, slowing_down: 40 rad/s2}", "{overrun_load: 20 %, hot_growth: 0.5 mm}",
         "{overrun_load: 0.2, still_tension: 300 N}", "{heat: {working: 95 degC, expansion: 23.6 1e-6/K}}"},
        {"[]", "{lowest: 800 rpm}", "{highest: 800 rpm}", "{speeds: 800 rpm}", "{speeds: []}", "{speeds: [800]}",
         "{lowest: 1 rpm, highest: 2 rpm, speeds: [1 rpm]}", "{peak: 1.5 N}", "{orders: 4}", "{speeding_up: 4000 rpm}",
         "{overrun_load: 20 N}", "{still_tension: 300 kg}", "{heat: {working: 95 degC}}",
         "{heat: {working: 95 K, expansion: 23.6 1e-6/K}}",
         "{hot_growth: 1 mm, heat: {working: 95 degC, expansion: 23.6 1e-6/K}}"}},
       {"ambient",
        {"{}", "{temperature: -15 degC}", "{temperature: 30 °C, pressure: 95 kPa}"},
        {"[]", "20 degC", "{temperature: 20}", "{pressure: 1 mm}", "{temperatur: 20 degC}"}},
       {"obstacles",
        {"[]", "[{name: x, circle: {at: [-1 mm, 2 in], diameter: 3 mm}}]",
         "[{name: x, polygon: [[0 mm, 0 mm], [1 mm, 0 mm], [0 mm, 1 mm]], from: -3 mm, to: 3 mm}]"},
        {"{}", "[{circle: {at: [1 mm, 2 mm], diameter: 3 mm}}]", "[{name: x}]", "[{name: x, circle: {diameter: 3 mm}}]",
         "[{name: x, circle: {at: [1 mm], diameter: 3 mm}}]",
         "[{name: x, circle: {at: [1 mm, 2 deg], diameter: 3 mm}}]",
         "[{name: x, polygon: [[0 mm, 0 mm], [1 mm, 0 mm]]}]", "[{name: x, polygon: [0 mm, 0 mm, 1 mm]}]",
         "[{name: '', circle: {at: [1 mm, 2 mm], diameter: 3 mm}}]"}},
       {"pulleys",
        {two + "{name: b, at: [1 mm, 0 mm], effective_diameter: 9 mm, bearing: {radial_load: 2500 N}}]",
         two + "{name: b, at: [1 mm, 0 mm], spec: b.yaml, rim: 2}]",
         two + "{name: b, at: [1 mm, 0 mm], outside_diameter: 9 mm, load: {at: 0 rpm, torque: 3 N m}}]",
         two + "{name: b, at: [1 mm, 0 mm], back_diameter: 9 mm, width: 3 mm, inertia: 3 kg m2, plane: -2 mm}]",
         two + "{name: b, at: [1 mm, 0 mm], back_diameter: 9 mm, load: [{at: 9 rpm, power: 3 hp, own_speed: "
               "true}]}]"},
        {two + "]", two + "{name: b, at: [1 mm, 0 mm]}]", two + "{at: [1 mm, 0 mm], back_diameter: 9 mm}]",
         two + "{name: b, back_diameter: 9 mm}]", two + "{name: b, at: 1 mm, back_diameter: 9 mm}]",
         two + "{name: b, at: [1 mm, 0 mm], back_diameter: 9 mm, effective_diameter: 9 mm}]",
         two + "{name: b, at: [1 mm, 0 mm], back_diameter: 9 mm, drives: yes}]",
         two + "{name: b, at: [1 mm, 0 mm], back_diameter: 9 mm, load: {at: 9 rpm}}]",
         two + "{name: b, at: [1 mm, 0 mm], back_diameter: 9 mm, load: {power: 3 kW}}]",
         two + "{name: b, at: [1 mm, 0 mm], back_diameter: 9 mm, load: {at: 9 rpm, power: 3 kW, torque: 3 N m}}]",
         two + "{name: b, at: [1 mm, 0 mm], back_diameter: 9 mm, load: []}]",
         two + "{name: b, at: [1 mm, 0 mm], back_diameter: 9 mm, inertia: 3 kg}]",
         two + "{name: b, at: [1 mm, 0 mm], back_diameter: 9 mm, rim: 5}]",
         two + "{name: b, at: [1 mm, 0 mm], back_diameter: 9 mm, flange: 3 mm}]", "{}"}},
       {"tensioner",
        {arm + swing + "spring: {torque: 30 N m}}", arm + swing + "kind: eccentric, spring: {torque: 30 N m}}",
         arm + swing + "spring: {torque: 30 N m, rate: 0.3 N m/deg}, damping: 30 %}",
         arm + swing + "spring: {torque: 30 N m}, peg: {radius: 9 mm, angle: 9 deg, thread: M8}}",
         arm + swing + "spring: {torque: 30 N m}, peg: {radius: 9 mm, angle: 9 deg, diameter: 8 mm}}",
         "{after: a, pivot: [9 mm, 9 mm], effective_diameter: 70 mm, kind: slide, direction: 90 deg, travel: "
         "{free: "
         "-3 mm, stops: [-3 mm, 9 mm]}, spring: {force: 300 N, force_rate: 4 N/mm}}"},
        {arm + "spring: {torque: 30 N m}}", arm + swing + "damping: 30 %}", arm + swing + "spring: {}}",
         arm + swing + "spring: {torque: 30 N}}", arm + swing + "spring: {torque: 30 N m, force: 3 N}}",
         arm + swing + "spring: {torque: 30 N m}, kind: lever}",
         arm + swing + "spring: {torque: 30 N m}, damping: 30 N}",
         arm + swing + "spring: {torque: 30 N m}, peg: {radius: 9 mm, angle: 9 deg}}",
         arm + swing + "spring: {torque: 30 N m}, peg: {radius: 9 mm, angle: 9 deg, thread: M8, diameter: 8 mm}}",
         arm + "angle: {free: 10 deg}, spring: {torque: 30 N m}}",
         arm + "angle: {free: 10, stops: [10 deg, 50 deg]}, spring: {torque: 30 N m}}",
         arm + "angle: {free: 10 deg, stops: []}, spring: {torque: 30 N m}}",
         arm + "angle: {free: 10 deg, stops: [1 deg, 2 deg, 3 deg]}, spring: {torque: 30 N m}}",
         "{pivot: [9 mm, 9 mm], back_diameter: 70 mm, arm: 80 mm, " + swing + "spring: {torque: 30 N m}}",
         "{after: a, back_diameter: 70 mm, arm: 80 mm, " + swing + "spring: {torque: 30 N m}}",
         "{after: a, pivot: [9 mm, 9 mm], back_diameter: 70 mm, " + swing + "spring: {torque: 30 N m}}",
         "{after: a, pivot: [9 mm, 9 mm], arm: 80 mm, " + swing + "spring: {torque: 30 N m}}",
         "{after: a, pivot: [9 mm, 9 mm], back_diameter: 70 mm, travel: {free: 3 mm, stops: [3 mm, 9 mm]}, spring: "
         "{force: 300 N}}",
         "[]"}}});
}

TEST(RangeSchema, AgreesWithTheReaderValueByValue) {
  const std::string sound =
      "range: sizes\nbase: crank.yaml\ndrive: front.yaml\npulley: crank\ndriven: blower\nsteps: {overdrives: [20 %]}\n";
  ASSERT_EQ(kinds()[1].said(sound), "");
  const std::string reference = "reference: {at: 5600 rpm, pressure: 7 psi, effective_diameter: 160 mm}";
  const std::string engine = "{engine: {displacement: 4.6 L}, ";
  const std::string blower = "blower: {displacement: 1600 cm3, compression: internal}, ";
  const std::string whole = engine + blower + reference;
  const std::vector<std::string> good{whole + "}", whole + ", bypass: 14 psi, driveline: 85 %}",
                                      whole + ", cooler: {effectiveness: 60 %, coolant: 47 degC}}",
                                      whole +
                                          ", ambient: {pressure: 101 kPa, temperature: 20 °C}, inlet: {free_loss: 2 "
                                          "kPa}}"};
  const std::vector<std::string> bad{
      engine + blower + "}",
      engine + reference + "}",
      "{" + blower + reference + "}",
      whole + ", bypass: 14 mm}",
      whole + ", cooler: {effectiveness: 60 %}}",
      whole + ", boost: 14 psi}",
      "{engine: {displacement: 4.6 mm}, " + blower + reference + "}",
      engine + "blower: {displacement: 1600 cm3}, " + reference + "}",
      engine + "blower: {displacement: 1600 cm3, compression: inner}, " + reference + "}",
      "[]"};
  expect_agreement(
      kinds()[1], sound,
      {{"steps",
        {"{overdrives: [20 %, -5 %, 0.3]}", "{effective_diameters: [160 mm, 6-1/2 in]}", "{speed_ratios: [1.9, '2']}"},
        {"{}", "{overdrives: []}", "{overdrives: 20 %}", "{overdrives: [20 mm]}", "{speed_ratios: [1.9 mm]}",
         "{overdrives: [20 %], speed_ratios: [2]}", "[20 %]"}},
       {"base", {"x", "a/b.yaml"}, {"", "[x]", "''"}},
       {"pulley", {"crank"}, {"{name: crank}", ""}},
       {"charge", good, bad},
       {"supports",
        {"[]", "[{part: screws, overdrive_over: 20 %}]", "[{part: map, pressure_over: 7 psi, modification: true}]",
         "[{part: cover, speed_over: 9000 rpm}]"},
        {"{}", "[{overdrive_over: 20 %}]", "[{part: screws}]",
         "[{part: screws, overdrive_over: 20 %, speed_over: 9 rpm}]",
         "[{part: screws, overdrive_over: 20 %, modification: yes}]"}},
       {"drvie", {}, {"front.yaml"}}});
}

/// The JSON of a search as the program writes it.
std::string search_json(const std::string& text) {
  Diagnostics d;
  const auto drive = spec::read_drive({"drive.yaml", text}, d);
  EXPECT_TRUE(drive) << d.text();
  const std::string crank = "larkspur-crank-24.yaml";
  const job::PulleyDocument named{crank, {crank, testing::file_text(kSource + "/profiles/demo/" + crank)}, {}};
  const auto prepared = drive ? job::prepare_drive(*drive, {&named, 1}, {}, d) : std::nullopt;
  EXPECT_TRUE(prepared) << d.text();
  if (!prepared) return "";
  const job::Made made = job::make_drive(*prepared, {"drive.yaml", text}, report::Units::mm,
                                         [](const auto&, const auto&) { return std::string(); });
  for (const Artifact& a : made.artifacts) {
    if (a.name.ends_with(".search.json")) return a.bytes;
  }
  ADD_FAILURE() << "no search was made";
  return "";
}

/// The demo, one that varies everything that a search can, one on fixed centres, and one in which nothing fits.
TEST(SearchSchema, TakesWhatSearchesFind) {
  const std::string two =
      "turns: clockwise\npulleys:\n  - {name: crank, at: [0 mm, 0 mm], effective_diameter: 160 mm, drives: true}\n"
      "  - {name: Air pump, at: [0 mm, 300 mm], effective_diameter: 90 mm}\n";
  const std::string arm =
      "tensioner: {name: arm, after: crank, pivot: [-110 mm, 220 mm], arm: 100 mm, back_diameter: 70 mm, angle: {free: "
      "330 deg, stops: [276 deg, 330 deg]}, spring: {torque: 30 N m}}\n";
  const std::string varied =
      "search: {clock: {from: -10 deg, to: 10 deg, step: 5 deg}, merit: grip, vary: [{name: Air pump, "
      "effective_diameters: [88 mm, 90 mm], places: [[0 mm, 300 mm], [2 mm, 299 mm]]}, {name: arm, back_diameters: [68 "
      "mm, 70 mm]}]}\n";
  const std::string names[] = {"all", "fixed", "none"};
  const std::string belts[] = {"lengths: {from: 1000 mm, to: 1030 mm, step: 5 mm}", "catalogue: [1004 mm, 1010 mm]",
                               "catalogue: [700 mm, 2000 mm]"};
  const std::string rests[] = {arm + varied, "search: {merit: room}\n", arm + "search: {merit: travel}\n"};
  std::vector<std::string> files{
      written(search_json(testing::file_text(kSource + "/profiles/demo/larkspur-search.yaml")), "json")};
  for (std::size_t i = 0; i < std::size(names); ++i) {
    files.push_back(written(
        search_json("drive: " + names[i] + "\nbelt: {section: PK, ribs: 6, " + belts[i] + "}\n" + two + rests[i]),
        "json"));
  }
  const auto verdicts = judged_by_ajv(written(job::search_schema(), "json"), files);
  ASSERT_EQ(verdicts.size(), files.size());
  for (const auto& [file, why] : verdicts) EXPECT_EQ(why, "") << testing::file_text(file);
}

TEST(SearchSchema, RefusesWhatASearchDoesNotWrite) {
  const std::string sound = search_json(testing::file_text(kSource + "/profiles/demo/larkspur-search.yaml"));
  const auto with = [&](const std::string& from, const std::string& to) {
    const std::string changed =
        std::regex_replace(sound, std::regex(from), to, std::regex_constants::format_first_only);
    EXPECT_NE(changed, sound) << from;
    return written(changed, "json");
  };
  const std::vector<std::string> files{with(R"("format": ?1)", R"("format": 2)"),
                                       with(R"("merit": ?"[a-z]+")", R"("merit": "price")"),
                                       with(R"("fits": ?[0-9]+)", R"("fits": -1)"),
                                       with(R"("solved": ?[0-9]+)", R"("solved": 1.5)"),
                                       with(R"("kept")", R"("keept")"),
                                       with(R"("rank": ?1\b)", R"("rank": 0)"),
                                       with(R"("belt": ?"[^"]*")", R"("belt": null)"),
                                       with(R"("belt_room": ?[-0-9.]+)", R"("belt_room": "much")"),
                                       with(R"("trial": ?"[^"]*")", R"("trial": "luck")"),
                                       with(R"("lacks": ?[0-9.e-]+)", R"("lacks": 0)"),
                                       with(R"("reasons": ?"[^"]*")", R"("reasons": "", "more": 1)")};
  const auto verdicts = judged_by_ajv(written(job::search_schema(), "json"), files);
  ASSERT_EQ(verdicts.size(), files.size());
  for (const auto& [file, why] : verdicts) EXPECT_NE(why, "") << testing::file_text(file).substr(0, 400);
}

TEST(SheetSchema, TakesTheSheetOfEveryDemo) {
  std::vector<std::string> files;
  for (const auto& file : testing::demos()) {
    Diagnostics d;
    const auto pulley = spec::read_pulley({file, testing::file_text(file)}, d);
    ASSERT_TRUE(pulley) << d.text();
    const auto prepared = job::prepare(*pulley, {}, {}, d);
    ASSERT_TRUE(prepared) << d.text();
    files.push_back(written(report::to_json(job::check(*prepared)), "json"));
  }
  const auto verdicts = judged_by_ajv(written(report::sheet_schema(), "json"), files);
  EXPECT_EQ(verdicts.size(), files.size());
  for (const auto& [file, why] : verdicts) EXPECT_EQ(why, "") << file;
}

}  // namespace
}  // namespace groovewright::readers
