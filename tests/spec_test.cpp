#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <string>

#include "groovewright/spec.h"
#include "parts.h"

namespace groovewright::spec {
namespace {

using testing::disc;

std::optional<Pulley> read(const std::string& text, Diagnostics& d) { return read_pulley({"spec.yaml", text}, d); }

TEST(Spec, KeepsValueAndPlaceOfWhatWasWritten) {
  Diagnostics d;
  const auto p = read(disc(), d);
  ASSERT_TRUE(p) << d.text();
  EXPECT_EQ(p->name->value, "disc");
  EXPECT_EQ(p->name->place.line, 1);
  EXPECT_EQ(p->name->place.column, 9);
  ASSERT_EQ(p->rims.size(), 1U);
  EXPECT_EQ(p->rims[0].ribs->value, 6);
  EXPECT_DOUBLE_EQ(p->rims[0].size->effective_diameter->value, 120);
  EXPECT_EQ(p->rims[0].size->effective_diameter->place.line, 6);
  EXPECT_FALSE(p->rims[0].size->outside_diameter) << "nothing may be filled in";
}

TEST(Spec, ReadsUnitsAsWritten) {
  struct Case {
    const char* written;
    double mm;
  };
  // Exact by definition of the units.
  for (const Case& c : {Case{"120 mm", 120},
                        {"12 cm", 120},
                        {"0.12 m", 120},
                        {"4.5 in", 114.3},
                        {"4-1/2 in", 114.3},
                        {"4 1/2 in", 114.3},
                        {"3/4 in", 19.05}}) {
    Diagnostics d;
    const auto p = read(disc("{effective_diameter: " + std::string(c.written) + "}"), d);
    ASSERT_TRUE(p) << c.written << ": " << d.text();
    EXPECT_DOUBLE_EQ(p->rims[0].size->effective_diameter->value, c.mm) << c.written;
  }
}

TEST(Spec, DocumentWideUnitsApplyToBareLengthsWhereverTheyStand) {
  Diagnostics d;
  const auto p = read(disc("{effective_diameter: 4.5}", "", "", "body: {solid: true}\nunits: in\n"), d);
  ASSERT_TRUE(p) << d.text();
  EXPECT_DOUBLE_EQ(p->rims[0].size->effective_diameter->value, 114.3);
  EXPECT_DOUBLE_EQ(p->hub->bore->diameter->value, 20) << "a written unit goes first";
}

TEST(Spec, ReportsEveryMistakeOfOneRun) {
  Diagnostics d;
  EXPECT_FALSE(
      read("pulley: Disc\nmaterial: aluminium-6061-T6\nrims:\n  - section: PK\n    ribs: 41\n    size: "
           "{outside_diameter: 12}\n"
           "    crestradius: 1 mm\nhub: {bore: {diameter: -3 mm}}\nbody: {solid: maybe}\n",
           d));
  std::vector<int> codes;
  for (const auto& g : d.all()) codes.push_back(static_cast<int>(g.code));
  std::sort(codes.begin(), codes.end());
  EXPECT_EQ(codes, (std::vector<int>{static_cast<int>(Code::unknown_key), static_cast<int>(Code::missing_unit),
                                     static_cast<int>(Code::out_of_range), static_cast<int>(Code::unknown_choice),
                                     static_cast<int>(Code::bad_name), static_cast<int>(Code::bad_count)}))
      << d.text();
}

TEST(Spec, SuggestsTheNearestKey) {
  Diagnostics d;
  EXPECT_FALSE(read(disc("{efective_diameter: 120 mm}"), d));
  EXPECT_NE(d.text().find("did you mean 'effective_diameter'?"), std::string::npos) << d.text();
}

TEST(Spec, NamesBothPlacesOfTwoSizes) {
  Diagnostics d;
  EXPECT_FALSE(read(disc("\n      effective_diameter: 120 mm\n      outside_diameter: 121 mm"), d));
  ASSERT_EQ(d.all().size(), 1U) << d.text();
  EXPECT_EQ(d.all()[0].code, Code::two_sizes);
  EXPECT_EQ(d.all()[0].place.line, 8);
  EXPECT_NE(d.all()[0].message.find("line 7"), std::string::npos) << d.all()[0].message;
}

TEST(Spec, CountsHoldAtTheirLimits) {
  struct Case {
    int ribs;
    bool good;
  };
  for (const Case& c : {Case{0, false}, {1, true}, {kMaxGrooves, true}, {kMaxGrooves + 1, false}}) {
    Diagnostics d;
    EXPECT_EQ(read(disc("{effective_diameter: 120 mm}", "", "", "body: {solid: true}\n", "PK", c.ribs), d).has_value(),
              c.good)
        << c.ribs;
  }
}

TEST(Spec, LengthsHoldAtTheirLimits) {
  for (const auto& [text, good] : {std::pair{"0.001 mm", true},
                                   {"0.0009 mm", false},
                                   {"10000 mm", true},
                                   {"10000.1 mm", false},
                                   {"1e300 mm", false},
                                   {"nan mm", false}}) {
    Diagnostics d;
    EXPECT_EQ(read(disc("{effective_diameter: " + std::string(text) + "}"), d).has_value(), good) << text << d.text();
  }
}

TEST(Spec, ReadsEveryWordAboutTheDrawing) {
  Diagnostics d;
  const auto p = read(disc() + R"(drawing:
  sheet: ansi-b
  scale: 1:2
  projection: third
  general_tolerance: iso-2768-f
  dual_units: true
  language: en
  number: 0024
  author: T. Ansy
  maximum_material: false
  revisions: [{revision: 1, text: first issue}, {revision: no, text: "bore: H6"}]
  notes: ["Pack singly.", 7 pieces, Größe über alles]
step: {pmi: true}
balance: {grade: G6.3}
)",
                      d);
  ASSERT_TRUE(p) << d.text();
  ASSERT_TRUE(p->drawing && p->step && p->balance);
  const Drawing& w = *p->drawing;
  EXPECT_EQ(w.sheet->value, Sheet::ansi_b);
  EXPECT_EQ(w.sheet->place.line, 11);
  EXPECT_EQ(w.scale->value, 0.5) << "a scale is no sexagesimal number";
  EXPECT_EQ(w.scale->place.line, 12);
  EXPECT_EQ(w.scale->place.column, 10);
  EXPECT_EQ(w.projection->value, Projection::third);
  EXPECT_EQ(w.general_tolerance->value, GeneralTolerance::iso_2768_f);
  EXPECT_TRUE(w.dual_units->value);
  EXPECT_EQ(w.language->value, "en");
  EXPECT_EQ(w.number->value, "0024") << "a part number is a word";
  EXPECT_EQ(w.author->value, "T. Ansy");
  EXPECT_FALSE(w.maximum_material->value);
  ASSERT_EQ(w.revisions.size(), 2U);
  EXPECT_EQ(w.revisions[1].revision->value, "no") << "a word, not a truth";
  EXPECT_EQ(w.revisions[1].text->value, "bore: H6");
  EXPECT_EQ(w.revisions[1].place.line, 20);
  ASSERT_EQ(w.notes.size(), 3U);
  EXPECT_EQ(w.notes[1].value, "7 pieces");
  EXPECT_EQ(w.notes[2].place.line, 21);
  EXPECT_TRUE(p->step->pmi->value);
  EXPECT_EQ(p->balance->grade->value, 6.3);
}

TEST(Spec, ReadsEveryWordAboutMachining) {
  Diagnostics d;
  const auto p = read(disc() + R"(machining:
  lathe: bench-250
  mill: 400
  chuck: power-160
  stock: {form: blank, diameter: 130 mm, length: 1.5 in, bore: 18 mm}
  tools: [groove-2, groove-35-02]
)",
                      d);
  ASSERT_TRUE(p) << d.text();
  ASSERT_TRUE(p->machining && p->machining->stock);
  const Machining& m = *p->machining;
  EXPECT_EQ(m.lathe->value, "bench-250");
  EXPECT_EQ(m.lathe->place.line, 11);
  EXPECT_EQ(m.mill->value, "400") << "an id is a word";
  EXPECT_EQ(m.chuck->value, "power-160");
  EXPECT_EQ(m.stock->form->value, StockForm::blank);
  EXPECT_EQ(m.stock->diameter->value, 130);
  EXPECT_NEAR(m.stock->length->value, 38.1, 1e-12);
  EXPECT_EQ(m.stock->bore->value, 18);
  EXPECT_EQ(m.stock->bore->place.line, 14);
  ASSERT_EQ(m.tools.size(), 2U);
  EXPECT_EQ(m.tools[1].value, "groove-35-02");
  EXPECT_EQ(m.tools[1].place.column, 21);
}

TEST(Spec, FillsInNothingAboutMachining) {
  Diagnostics d;
  const auto without = read(disc(), d), empty = read(disc() + "machining: {stock: {}}\n", d);
  ASSERT_TRUE(without && empty) << d.text();
  EXPECT_FALSE(without->machining);
  const Machining& m = *empty->machining;
  EXPECT_FALSE(m.lathe || m.mill || m.chuck || m.stock->form || m.stock->diameter || m.stock->length || m.stock->bore);
  EXPECT_TRUE(m.tools.empty());
}

TEST(Spec, FillsInNothingAboutTheDrawing) {
  Diagnostics d;
  const auto p = read(disc() + "drawing: {notes: []}\nstep: {}\n", d);
  ASSERT_TRUE(p) << d.text();
  const Drawing& w = *p->drawing;
  EXPECT_FALSE(w.sheet || w.scale || w.projection || w.general_tolerance || w.dual_units || w.language || w.number ||
               w.author || w.maximum_material);
  EXPECT_TRUE(w.revisions.empty() && w.notes.empty());
  EXPECT_FALSE(p->step->pmi || p->balance);
}

TEST(Spec, KnowsEverySheetScaleAndToleranceByItsWord) {
  const auto wish = [](const std::string& key, std::string_view word) {
    Diagnostics d;
    const auto p = read(disc() + "drawing: {" + key + ": " + std::string(word) + "}\n", d);
    EXPECT_TRUE(p) << d.text();
    return p ? p->drawing.value_or(Drawing{}) : Drawing{};
  };
  for (const auto& c : kSheets) EXPECT_EQ(wish("sheet", c.name).sheet->value, c.value) << c.name;
  for (const auto& c : kScales) EXPECT_EQ(wish("scale", c.name).scale->value, c.value) << c.name;
  for (const auto& c : kGeneralTolerances)
    EXPECT_EQ(wish("general_tolerance", c.name).general_tolerance->value, c.value) << c.name;
  EXPECT_EQ(name_of(kSheets, Sheet::ansi_c), "ansi-c");
  EXPECT_EQ(name_of(kScales, 0.1), "1:10");
  for (std::size_t i = 0; i < kScales.size(); ++i)  // ISO 5455: 50:1 is the counterpart of 1:50
    EXPECT_DOUBLE_EQ(kScales[i].value * kScales[kScales.size() - 1 - i].value, 1) << kScales[i].name;
}

TEST(Spec, TakesABalanceGradeAsANumberOrBehindAG) {
  struct Case {
    const char* written;
    double grade;  ///< 0: refused
  };
  for (const Case& c : {Case{"0.4", 0.4}, {"G0.4", 0.4},    {"1", 1},       {"1.0", 1},   {"G1", 1},    {"2.5", 2.5},
                        {"6.3", 6.3},     {"6.30", 6.3},    {"'6.3'", 6.3}, {"G16", 16},  {"40", 40},   {"G40", 40},
                        {"6", 0},         {"G", 0},         {"g6.3", 0},    {"G 6.3", 0}, {"G6.30", 0}, {"-6.3", 0},
                        {"6.3 mm/s", 0},  {"G6.3 mm/s", 0}, {"100", 0},     {"''", 0},    {"[6.3]", 0}, {"true", 0}}) {
    Diagnostics d;
    const auto p = read(disc() + "balance: {grade: " + c.written + "}\n", d);
    EXPECT_EQ(p.has_value(), c.grade > 0) << c.written << "\n" << d.text();
    EXPECT_EQ(p ? p->balance->grade->value : 0, c.grade) << c.written << ", ISO 21940-11";
  }
}

TEST(Spec, TakesOneLineOfTextWhereWordsAreDue) {
  struct Case {
    std::string written;
    const char* says;  ///< "": taken
    Code code;
  };
  const std::string most(kMaxWord, 'x');
  const Case cases[] = {
      {"Crank pulley", "", {}},
      {"24", "", {}},
      {"'" + most + "'", "", {}},
      {"'" + most + "x'", "at most 512 bytes, here are 513", Code::out_of_range},
      {"'ä" + most.substr(1) + "'", "at most 512 bytes, here are 513", Code::out_of_range},
      {"\"\"", "not an empty one", Code::wrong_kind},
      {"'  '", "not an empty one", Code::wrong_kind},
      {"", "not nothing", Code::wrong_kind},
      {"[a]", "not a list", Code::wrong_kind},
      {"{a: b}", "not a map", Code::wrong_kind},
      {"\"a\\nb\"", "one line", Code::wrong_kind},
      {"\"a\\tb\"", "one line", Code::wrong_kind},
      {"|\n  a\n  b\n", "one line", Code::wrong_kind},
      {">-\n  a\n  b\n", "", {}},
  };
  for (const Case& c : cases) {
    Diagnostics d;
    const auto p = read(disc() + "title: " + c.written + "\n", d);
    EXPECT_EQ(p.has_value(), std::string(c.says).empty()) << c.written << "\n" << d.text();
    if (p) continue;
    ASSERT_EQ(d.all().size(), 1U) << c.written << "\n" << d.text();
    EXPECT_EQ(d.all()[0].code, c.code) << d.text();
    EXPECT_EQ(d.all()[0].place.line, 10) << d.text();
    EXPECT_NE(d.all()[0].message.find("'title'"), std::string::npos) << d.text();
    EXPECT_NE(d.all()[0].message.find(c.says), std::string::npos) << d.text();
  }
}

TEST(Spec, HoldsTwelveRevisionsAndTwelveNotes) {
  for (const int n : {0, kMaxDrawingRows, kMaxDrawingRows + 1}) {
    std::string notes, revisions;
    for (int i = 0; i < n; ++i) notes += "note,", revisions += "{revision: A, text: x},";
    for (const std::string& list : {"notes: [" + notes + "]", "revisions: [" + revisions + "]"}) {
      Diagnostics d;
      EXPECT_EQ(read(disc() + "drawing: {" + list + "}\n", d).has_value(), n <= kMaxDrawingRows) << list;
    }
  }
}

TEST(Spec, NamesMayBecomeFolders) {
  for (const char* good :
       {"a", "crank-24", "9.b_c", "a234567890123456789012345678901234567890123456789012345678901234"})
    EXPECT_TRUE(is_name(good)) << good;
  for (const char* bad : {"", ".", "..", ".a", "-a", "A", "a/b", "a b", "ä",
                          "a2345678901234567890123456789012345678901234567890123456789012345"}) {
    EXPECT_FALSE(is_name(bad)) << bad;
  }
}

TEST(Spec, ListsTheFilesItNames) {
  Diagnostics d;
  const auto p = read(disc("{effective_diameter: 120 mm}", "", "", "body: {solid: true}\n", "{file: own.yaml}"), d);
  ASSERT_TRUE(p) << d.text();
  const auto files = references(*p);
  ASSERT_EQ(files.size(), 1U);
  EXPECT_EQ(files[0].value, "own.yaml");
  EXPECT_EQ(files[0].place.line, 4);
}

TEST(Schema, HasEveryKeyThatTheReaderTakes) {
  const auto schema = nlohmann::json::parse(pulley_schema({}));
  EXPECT_EQ(schema.at("$schema"), "https://json-schema.org/draft/2020-12/schema");
  for (const char* key : {"pulley", "title", "units", "material", "rims", "body", "hub", "marks", "tone_ring", "finish",
                          "speed", "damper", "drawing", "step", "machining", "balance"}) {
    EXPECT_TRUE(schema.at("properties").contains(key)) << key;
    EXPECT_FALSE(schema.at("properties").at(key).dump().empty());
  }
  const auto& rim = schema.at("properties").at("rims").at("items");
  EXPECT_EQ(rim.at("additionalProperties"), false);
  EXPECT_EQ(rim.at("properties").at("ribs").at("anyOf").at(0).at("maximum"), kMaxGrooves);
}

TEST(Schema, OffersTheNamesItIsToldAndTakesOthers) {
  Names known;
  known.materials = {"steel-4140", "cast-iron-250"};
  known.languages = {"en"};
  known.machines = {"mill-400"};
  known.chucks = {"power-200"};
  const auto schema = nlohmann::json::parse(pulley_schema(known));
  const auto& material = schema.at("properties").at("material");
  EXPECT_EQ(material.at("examples"), (nlohmann::json{"steel-4140", "cast-iron-250"}));
  EXPECT_FALSE(material.contains("enum")) << "a person's own names are as good";
  const auto& drawing = schema.at("properties").at("drawing").at("properties");
  EXPECT_EQ(drawing.at("language").at("examples"), nlohmann::json{"en"});
  EXPECT_EQ(drawing.at("scale").at("enum").size(), kScales.size());
  EXPECT_EQ(drawing.at("notes").at("maxItems"), kMaxDrawingRows);
  const auto& machining = schema.at("properties").at("machining").at("properties");
  EXPECT_EQ(machining.at("lathe").at("examples"), nlohmann::json{"mill-400"});
  EXPECT_EQ(machining.at("chuck").at("examples"), nlohmann::json{"power-200"});
  EXPECT_EQ(machining.at("tools").at("maxItems"), kMaxTools);
  EXPECT_EQ(machining.at("stock").at("properties").at("form").at("enum"), (nlohmann::json{"bar", "blank"}));
  EXPECT_FALSE(schema.at("properties").at("finish").at("properties").at("coating").contains("examples"));
}

}  // namespace
}  // namespace groovewright::spec
