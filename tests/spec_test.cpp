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
                          "speed", "damper"}) {
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
  const auto schema = nlohmann::json::parse(pulley_schema(known));
  const auto& material = schema.at("properties").at("material");
  EXPECT_EQ(material.at("examples"), (nlohmann::json{"steel-4140", "cast-iron-250"}));
  EXPECT_FALSE(material.contains("enum")) << "a person's own names are as good";
  EXPECT_FALSE(schema.at("properties").at("finish").at("properties").at("coating").contains("examples"));
}

}  // namespace
}  // namespace groovewright::spec
