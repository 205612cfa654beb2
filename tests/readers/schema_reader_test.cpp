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

std::vector<std::string> demos() {
  std::vector<std::string> files;
  for (const auto& e : fs::directory_iterator(kSource + "/profiles/demo")) {
    if (e.path().extension() == ".yaml") files.push_back(e.path().string());
  }
  return files;
}

TEST(PulleySchema, TakesEveryDemo) {
  const auto verdicts = judged_by_ajv(written(spec::pulley_schema(), "json"), demos());
  ASSERT_GE(verdicts.size(), 4U);
  for (const auto& [file, why] : verdicts) EXPECT_EQ(why, "") << file;
}

TEST(PulleySchema, RefusesWhatTheReaderRefusesForItsForm) {
  // Codes that a schema can express: unknown key, missing key, wrong kind, choices, counts, one-of, two sizes.
  const std::set<std::string> form{"E0101", "E0102", "E0103", "E0108", "E0109", "E0111", "E0201"};
  const std::regex expect(R"(# expect \d+:\d+ (E\d{4}))");
  std::vector<std::string> files;
  for (const auto& e : fs::directory_iterator(kSource + "/tests/corpus/bad")) {
    if (e.path().extension() != ".yaml") continue;
    std::ifstream in(e.path());
    std::string line;
    std::smatch m;
    // The hub's own sums are beyond a schema: only errors of the reader count, and a file has them on its first line.
    if (std::getline(in, line) && std::regex_search(line, m, expect) && form.contains(m[1]))
      files.push_back(e.path().string());
  }
  ASSERT_GE(files.size(), 20U) << "the corpus is missing";
  // Told by `part`, not by the reader: the form of the document is right.
  const std::set<std::string> beyond{"hub-given-three-ways", "registers-on-one-side"};
  for (const auto& [file, why] : judged_by_ajv(written(spec::pulley_schema(), "json"), files)) {
    if (beyond.contains(fs::path(file).stem().string())) continue;
    EXPECT_NE(why, "") << file << " is valid by the schema, but our reader refuses it";
  }
}

TEST(SheetSchema, TakesTheSheetOfEveryDemo) {
  std::vector<std::string> files;
  for (const auto& file : demos()) {
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
