// The JSON Schemas, judged by ajv (a validator that no one here wrote): what our reader takes must be valid, what it
// refuses for its form must not be.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <sstream>

#include "groovewright/job.h"
#include "groovewright/spec.h"
#include "parts.h"
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
