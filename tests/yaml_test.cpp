// What does `yaml` accept, where does it say things stand, and what does it refuse with which words?
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <optional>
#include <string>
#include <vector>

#include "groovewright/base/text.h"
#include "groovewright/yaml.h"

namespace groovewright::yaml {
namespace {

using ::testing::HasSubstr;

constexpr const char* kFile = "a.yaml";

std::string enclosed(char opening, const std::vector<std::string>& parts, char closing) {
  std::string out(1, opening);
  for (const std::string& part : parts) out.append(out.size() > 1 ? ", " : "").append(part);
  return out += closing;
}

/// One line for a tree: {key: value}, [item, item], 'quoted', ~ for null.
std::string dump(const Node& node) {
  std::vector<std::string> parts;
  switch (node.kind) {
    case Node::Kind::scalar:
      if (node.quoted) return enclosed('\'', {node.scalar}, '\'');
      return node.scalar.empty() ? "~" : node.scalar;
    case Node::Kind::list:
      for (const Node& item : node.items) parts.push_back(dump(item));
      return enclosed('[', parts, ']');
    case Node::Kind::map:
      for (const Entry& entry : node.entries) parts.push_back(entry.key + ": " + dump(entry.value));
      return enclosed('{', parts, '}');
  }
  return "no such kind";
}

std::string at(const Place& place) { return std::to_string(place.line) + ':' + std::to_string(place.column); }

/// Every key and scalar with its place, in the order written: "a@1:1 b@1:4".
std::string places(const Node& node) {
  std::string out;
  if (node.kind == Node::Kind::scalar) return (node.scalar.empty() ? "~" : node.scalar) + '@' + at(node.place) + ' ';
  for (const Node& item : node.items) out += places(item);
  for (const Entry& entry : node.entries) out += entry.key + '@' + at(entry.key_place) + ' ' + places(entry.value);
  return out;
}

struct Outcome {
  std::optional<Node> root;
  Diagnostics diagnostics;
};

Outcome read_text(const std::string& text) {
  Outcome outcome;
  outcome.root = read({kFile, text}, outcome.diagnostics);
  return outcome;
}

std::string start_of(const std::string& text) { return one_line(text.substr(0, 60)); }

TEST(Yaml, ReadsPlainDocuments) {
  struct Case {
    const char* text;
    const char* want;
    const char* source;
  };
  const Case cases[] = {
      {"a: 1\nb: two words\n", "{a: 1, b: two words}", "block map"},
      {"a:\n  - 1\n  - b: 2\n    c: 3\n", "{a: [1, {b: 2, c: 3}]}", "list in a map in a list"},
      {"a: [1, {b: 2}]", "{a: [1, {b: 2}]}", "flow, no line end at the end"},
      {"- 6-1/2 in\n- 5/8\"\n- 24 %\n", "[6-1/2 in, 5/8\", 24 %]", "quantities stay text"},
      {"a: 'it''s'\nb: \"x\\n\\\"y\\\"\"\n", "{a: 'it's', b: 'x\n\"y\"'}", "quotes"},
      {"a: '~'\nb: ~\nc: null\nd:\n", "{a: '~', b: ~, c: ~, d: ~}", "null, written and missing"},
      {"# c\na: 1 # c\n", "{a: 1}", "comments"},
      {"---\na: 1\n...\n", "{a: 1}", "start and end marks"},
      {"a: |\n  x\n  y\nb: >\n  x\n  y\n", "{a: 'x\ny\n', b: 'x y\n'}", "block text"},
      {"a: |\n  x", "{a: 'x\n'}", "block text at the end without a line end"},
      {"a: |\r\n  x\r\n  y\r\n", "{a: 'x\ny\n'}", "CR LF in block text"},
      {"a: caf\u00E9 \u00B5m\n", "{a: caf\u00E9 \u00B5m}", "UTF-8"},
      {"a:\tb\n", "{a: b}", "a tab between key and value"},
      {"a: 1\t# c\n", "{a: 1}", "a tab before a comment"},
      {"a: #\n  1\n", "{a: 1}", "a comment for a value"},
      {"word\n", "word", "a lone scalar"},
      {"\"\": 1\n", "{: 1}", "an empty quoted key is text"},
      {"<<: 1\n", "{<<: 1}", "no merging: a key like others"},
      {"[]", "[]", "an empty list"},
      {"{}", "{}", "an empty map"},
  };
  for (const auto& c : cases) {
    const Outcome outcome = read_text(c.text);
    ASSERT_TRUE(outcome.root) << c.source << ": " << outcome.diagnostics.text();
    EXPECT_EQ(dump(*outcome.root), c.want) << c.source;
  }
}

TEST(Yaml, SaysWhereEverythingStands) {
  struct Case {
    const char* text;
    const char* want;
    const char* source;
  };
  const Case cases[] = {
      {"a: 1\nbc: d\n", "a@1:1 1@1:4 bc@2:1 d@2:5 ", "block map"},
      {"a: 1\r\nbc: d\r\n", "a@1:1 1@1:4 bc@2:1 d@2:5 ", "CR LF"},
      {"\u00B5: \u00B5 m\n", "\u00B5@1:1 \u00B5 m@1:5 ", "columns in bytes"},
      {"a: {b: 1, c: [2, 3]}\n", "a@1:1 b@1:5 1@1:8 c@1:11 2@1:15 3@1:18 ", "flow"},
      {"a:\n\n# c\nb: 1\n", "a@1:1 ~@1:1 b@4:1 1@4:4 ", "a missing value: its key"},
      {"a: ~\n", "a@1:1 ~@1:4 ", "a written null: itself"},
      {"a: {b: , c: 1}\n", "a@1:1 b@1:5 ~@1:8 c@1:10 1@1:13 ", "a missing value in braces: that line"},
      {"a:\n", "a@1:1 ~@1:1 ", "a missing value at the end"},
      {"- 1\n-  # c\n\n- 2\n-\n", "1@1:3 ~@2:1 2@4:3 ~@5:1 ", "a missing item: its dash"},
      {"a:\n  - - \n    - 1\nb: ~\n", "a@1:1 ~@2:5 1@3:7 b@4:1 ~@4:4 ", "a missing item of an inner list"},
      {"- ~\n", "~@1:3 ", "a written null item: itself"},
      {"a: 'x\n  y'\nb: 1\n", "a@1:1 x y@1:4 b@3:1 1@3:4 ", "text over two lines"},
      {"---\na: 1\n", "a@2:1 1@2:4 ", "after a start mark"},
  };
  for (const auto& c : cases) {
    const Outcome outcome = read_text(c.text);
    ASSERT_TRUE(outcome.root) << c.source << ": " << outcome.diagnostics.text();
    EXPECT_EQ(places(*outcome.root), c.want) << c.source;
  }
}

TEST(Yaml, FindsAKeyOrSaysThereIsNone) {
  const Outcome outcome = read_text("a: 1\nb:\n");
  ASSERT_TRUE(outcome.root);
  ASSERT_NE(outcome.root->find("a"), nullptr);
  EXPECT_EQ(outcome.root->find("a")->scalar, "1");
  EXPECT_NE(outcome.root->find("b"), nullptr) << "a null is there";
  EXPECT_EQ(outcome.root->find("c"), nullptr);
  EXPECT_EQ(outcome.root->find("a")->find("x"), nullptr) << "a scalar has no keys";
}

TEST(Yaml, RefusesTrapsWithPlaceAndRemedy) {
  struct Case {
    std::string text;
    Code code;
    const char* place;
    const char* says;
    const char* source;
  };
  using enum Code;
  const Case cases[] = {
      // Nothing to read.
      {"", bad_yaml, "0:0", "empty", "no bytes"},
      {"\n\n", bad_yaml, "0:0", "empty", "blank lines"},
      {"# c\n", bad_yaml, "0:0", "empty", "comments only"},
      {"---\n", bad_yaml, "0:0", "empty", "a start mark only"},
      {"~\n", bad_yaml, "0:0", "empty", "null only"},
      // Bytes.
      {std::string("a: \0b\n", 7), bad_bytes, "1:4", "NUL", "a NUL"},
      {"a: 1\nb: \x01\n", bad_bytes, "2:4", "\\x01", "a control character"},
      {"a: \x7F\n", bad_bytes, "1:4", "\\x7F", "DEL"},
      {"a: \u0085\n", bad_bytes, "1:4", "\\xC2\\x85", "C1"},
      {"a: \u2028\n", bad_bytes, "1:4", "remove it", "line separator"},
      {"a: 1\rb: 2\r", bad_bytes, "1:5", "LF or CR LF", "a carriage return alone"},
      {"\uFEFFa: 1\n", bad_bytes, "1:1", "byte-order mark", "BOM"},
      {"a: caf\xE9\n", bad_bytes, "1:7", "save the file as UTF-8", "Latin-1"},
      {"\xFF\xFE"
       "a",
       bad_bytes, "1:1", "UTF-16", "UTF-16"},
      {"a: \xED\xA0\x80\n", bad_bytes, "1:4", "not UTF-8", "a surrogate"},
      {"a: \"\\0\"\n", bad_bytes, "1:4", "escape", "NUL by an escape"},
      {"a: \"\\x1b[31m\"\n", bad_bytes, "1:4", "escape", "ESC by an escape"},
      // Tabs.
      {"a:\n\tb: 1\n", bad_yaml, "2:1", "spaces only", "tab"},
      {"a:\n  \tb: 1\n", bad_yaml, "2:3", "spaces only", "tab behind spaces"},
      {"a: 1\n\t\nb: 2\n", bad_yaml, "2:1", "spaces only", "tab on a blank line"},
      {"a: 1\n\t# c\n", bad_yaml, "2:1", "spaces only", "tab before a comment"},
      {"-\ta: 1\n", bad_yaml, "1:2", "spaces only", "tab behind a dash"},
      // Not plain.
      {"a: &x 1\n", not_a_plain_document, "1:4", "remove '&x'", "an anchor"},
      {"a: *x\n", not_a_plain_document, "1:4", "write the value again", "an alias of nothing"},
      {"a: !!str b\n", not_a_plain_document, "1:4", "tags", "a tag"},
      {"a: ! b\n", not_a_plain_document, "1:4", "tags", "the tag without a name"},
      {"a: !x [1]\n", not_a_plain_document, "1:4", "tags", "a tagged list"},
      {"a: !x {b: 1}\n", not_a_plain_document, "1:4", "tags", "a tagged map"},
      {"a: !<?> b\n", not_a_plain_document, "1:4", "tags", "a tag that looks like none"},
      {"a: 1\n---\nb: 2\n", not_a_plain_document, "2:1", "a file holds one", "a second document"},
      {"a: 1\n...\nb: 2\n", not_a_plain_document, "3:1", "a file holds one", "a second document after an end mark"},
      {"---\n---\n", not_a_plain_document, "2:1", "a file holds one", "two empty documents"},
      {"? [a]\n: 1\n", not_a_plain_document, "1:3", "a key must be", "a list as a key"},
      {"{a: 1}: 1\n", not_a_plain_document, "1:1", "a key must be", "a map as a key"},
      {": 1\n", not_a_plain_document, "1:1", "a key must be", "no key"},
      {"~: 1\n", not_a_plain_document, "1:1", "a key must be", "null as a key"},
      // Keys.
      {"a: 1\nb: 2\na: 3\n", duplicate_key, "3:1", "first on line 1", "duplicate key"},
      {"a: 1\n\"a\": 2\n", duplicate_key, "2:1", "first on line 1", "duplicate key in quotes"},
      {"x: {a: 1, a: 2}\n", duplicate_key, "1:11", "first on line 1", "duplicate key in braces"},
      // Broken.
      {",", bad_yaml, "1:1", "complete before this", "a comma alone"},
      {"a: 1\nb: \"x\nc: 2\n", bad_yaml, "2:4", "never closed: add the second \"", "unclosed double quote"},
      {"a: 1\nb: 'x\nc: 2\n", bad_yaml, "2:4", "never closed: add the second '", "unclosed single quote"},
      {"a: 'it''", bad_yaml, "1:4", "never closed", "a doubled quote closes nothing"},
      {"a: \"x\\\"", bad_yaml, "1:4", "never closed", "an escaped quote closes nothing"},
      {"\"", bad_yaml, "1:1", "never closed", "a quote alone"},
      {"a: \"x\nb: \"y\"\n", bad_yaml, "2:5", "the quote opened on line 1", "a quote that closes on a later line"},
      {"a: \"x\n---\nb: 1\n", bad_yaml, "2:1", "close the quote before it", "a document mark in quotes"},
      {"a: [1, 2\nb: 3\n", bad_yaml, "2:2", "close with ']'", "unclosed bracket"},
      {"a: {b: 1\nc: 2\n", bad_yaml, "2:2", "close with '}'", "unclosed brace"},
      {"a: ]\n", bad_yaml, "1:4", "nothing opened", "a bracket too many"},
      {"a: b: c\n", bad_yaml, "1:5", "in quotes", "two colons"},
      {"a: 1\n  b: 2\n", bad_yaml, "2:4", "the parser: illegal map value", "indented too far"},
      {"a:\n    b: 2\n  c: 3\n", bad_yaml, "3:3", "indent the keys of one map alike", "indented half"},
      {"a: \"x\" y\n", bad_yaml, "1:8", "the parser", "text behind a quote"},
      {"a: @x\n", bad_yaml, "1:4", "put it in quotes", "a reserved character"},
      {"a: %5\n", bad_yaml, "1:4", "put it in quotes", "a reserved character"},
      {"a: * b\n", bad_yaml, "1:5", "put it in quotes", "a star as text"},
      {"a: & b\n", bad_yaml, "1:5", "put it in quotes", "an ampersand as text"},
      {"a: \"\\q\"\n", bad_yaml, "1:7", "unknown escape", "an unknown escape"},
      {"- 1\na: 2\n", bad_yaml, "2:1", "complete before this", "a map behind a list"},
  };
  for (const auto& c : cases) {
    const Outcome outcome = read_text(c.text);
    EXPECT_FALSE(outcome.root) << c.source;
    ASSERT_FALSE(outcome.diagnostics.all().empty()) << c.source;
    const Diagnostic& first = outcome.diagnostics.all().front();
    EXPECT_EQ(first.code, c.code) << c.source << ": " << to_text(first);
    EXPECT_EQ(at(first.place), c.place) << c.source << ": " << to_text(first);
    EXPECT_EQ(first.place.file, kFile) << c.source;
    EXPECT_THAT(first.message, HasSubstr(c.says)) << c.source;
  }
}

TEST(Yaml, ShowsAllMistakesInOneRun) {
  const Outcome outcome = read_text("a: 1\na: {b: &x 2, b: !t 3}\nc: *x\n~: 4\n? [d]\n: 5\nc: 6\n");
  EXPECT_FALSE(outcome.root);
  std::string got;
  for (const Diagnostic& d : outcome.diagnostics.all())
    got += at(d.place) + ' ' + std::to_string(static_cast<int>(d.code)) + "; ";
  EXPECT_EQ(got, "2:1 6; 2:8 5; 2:14 6; 2:17 5; 3:4 5; 4:1 5; 5:3 5; 7:1 6; ");
}

TEST(Yaml, ShowsEveryBadLineButNotEndlessly) {
  EXPECT_EQ(read_text("a: \xE9\nb: 1\n\tc: 1\nd: \xE9\xE9\n").diagnostics.all().size(), 3U);
  std::string latin;
  for (int i = 0; i < 1000; ++i) latin += "\xE9\n";
  EXPECT_EQ(read_text(latin).diagnostics.all().size(), kMaxShownDiagnostics);
}

TEST(Yaml, CutsLongTextInMessagesBetweenCharacters) {
  std::string key;
  for (int i = 0; i < 1000; ++i) key += "\u00E9x";
  const Outcome outcome = read_text("\"" + key + "\": 1\n\"" + key + "\": 2\n");
  ASSERT_EQ(outcome.diagnostics.all().size(), 1U);
  const std::string& message = outcome.diagnostics.all().front().message;
  EXPECT_LT(message.size(), 300U) << message;
  EXPECT_TRUE(is_utf8(message)) << message;
}

TEST(Yaml, IsNotFooledByAliases) {
  std::string bomb = "a0: &a0 [x, x]\n";
  for (int i = 1; i < 30; ++i) {
    const std::string n = std::to_string(i), m = std::to_string(i - 1);
    bomb += "a" + n + ": &a" + n + " [*a" + m + ", *a" + m + "]\n";
  }
  const Outcome outcome = read_text(bomb);
  EXPECT_FALSE(outcome.root);
  EXPECT_EQ(outcome.diagnostics.all().size(), 30U + 2 * 29U) << "30 anchors, 58 aliases";

  const Outcome cycle = read_text("&x [*x]");
  EXPECT_FALSE(cycle.root);
  ASSERT_EQ(cycle.diagnostics.all().size(), 2U);
  EXPECT_EQ(at(cycle.diagnostics.all()[1].place), "1:5") << "the alias, not its anchor";
}

TEST(Yaml, TakesSoManyNodesAndNoMore) {
  const auto list_of = [](std::size_t items) {
    std::string text;
    for (std::size_t i = 0; i < items; ++i) text += "- 1\n";
    return text;
  };
  EXPECT_TRUE(read_text(list_of(kMaxNodes - 1)).root) << "20,000 with the list itself";
  const Outcome outcome = read_text(list_of(kMaxNodes));
  EXPECT_FALSE(outcome.root);
  ASSERT_EQ(outcome.diagnostics.all().size(), 1U);
  EXPECT_EQ(outcome.diagnostics.all()[0].code, Code::too_many_nodes);
  EXPECT_EQ(at(outcome.diagnostics.all()[0].place), "20000:3");
}

TEST(Yaml, GoesSoDeepAndNoDeeper) {
  const auto nested = [](int depth) {
    const auto n = static_cast<std::size_t>(depth);
    return std::string(n, '[') + std::string(n, ']');
  };
  EXPECT_TRUE(read_text(nested(kMaxDepth)).root);
  const Outcome outcome = read_text(nested(kMaxDepth + 1));
  EXPECT_FALSE(outcome.root);
  ASSERT_EQ(outcome.diagnostics.all().size(), 1U);
  EXPECT_EQ(outcome.diagnostics.all()[0].code, Code::too_deep);
  EXPECT_EQ(at(outcome.diagnostics.all()[0].place), "1:65");
}

TEST(Yaml, TakesSoManyBytesAndNoMore) {
  const std::string start = "a: 1\n#";
  EXPECT_TRUE(read_text(start + std::string(kMaxBytes - start.size(), 'x')).root);
  const Outcome outcome = read_text(start + std::string(kMaxBytes + 1 - start.size(), 'x'));
  EXPECT_FALSE(outcome.root);
  ASSERT_EQ(outcome.diagnostics.all().size(), 1U);
  EXPECT_EQ(outcome.diagnostics.all()[0].code, Code::too_large);
}

// Each fills a whole megabyte with what a reader can trip over; the test runner's time limit catches a hang.
TEST(Yaml, EndsOnAMegabyteOfAnything) {
  const char* pieces[] = {"[",    "{",    ",",       "- ",    "? ",    ": ",      "a: ",  "\"",
                          "'",    "|\n",  "---\n",   "...\n", "%\n",   "!a ",     "&a ",  "*a ",
                          "[a: ", "\t\n", "\r\n",    "-\n\n", "?\n",   "\"a\": ", "x ",   "#",
                          "\\",   "\"\\", "{a: 1, ", "[,",    "a:\n ", "\xE9\n",  "- - ", "'a',"};
  for (const std::string piece : pieces) {
    std::string text;
    while (text.size() + piece.size() <= kMaxBytes) text += piece;
    const Outcome outcome = read_text(text);
    EXPECT_NE(outcome.root.has_value(), outcome.diagnostics.has_errors()) << "full of " << start_of(piece);
  }
}

TEST(Yaml, AnswersEveryCutOfADocument) {
  const std::string text =
      "pulley: larkspur  # invented\nrims:\n  - {section: PK, 'ribs': 8, \"at\": [1 mm, -2 mm]}\n  -\nnote: |\n  x\n  "
      "y\n";
  for (std::size_t n = 0; n <= text.size(); ++n) {
    const Outcome outcome = read_text(text.substr(0, n));
    EXPECT_NE(outcome.root.has_value(), outcome.diagnostics.has_errors()) << "the first " << n << " bytes";
  }
}

}  // namespace
}  // namespace groovewright::yaml
