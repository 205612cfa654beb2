#include "groovewright/catalog.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/yaml.h"
#include "property.h"
#include "published/built_in_catalog.h"

namespace groovewright::catalog {
namespace {

namespace fs = std::filesystem;

// ---- helpers ----

std::string text_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  EXPECT_TRUE(in.good()) << path;
  return {std::istreambuf_iterator<char>(in), {}};
}

std::string built_in(std::string_view name) {
  for (const TextFile& file : built_in_files()) {
    if (file.name == name) return file.text;
  }
  ADD_FAILURE() << "no built-in file " << name;
  return {};
}

/// `text` with the one occurrence of `from` replaced.
std::string replaced(std::string text, std::string_view from, std::string_view to) {
  const std::size_t at = text.find(from);
  if (at == std::string::npos || text.find(from, at + 1) != std::string::npos) {
    ADD_FAILURE() << "'" << from << "' does not stand in the text exactly once";
    return text;
  }
  return text.replace(at, from.size(), to);
}

std::optional<Catalog> read_one(const std::string& text, Diagnostics& diagnostics) {
  const TextFile file{"own.yaml", text};
  return read_catalog({&file, 1}, diagnostics);
}

Catalog read_well(const std::string& text) {
  Diagnostics diagnostics;
  const auto catalog = read_one(text, diagnostics);
  EXPECT_TRUE(catalog.has_value()) << diagnostics.text();
  return catalog.value_or(Catalog{});
}

// ---- a table's rows ----

TEST(OnlyRows, KeepsTheHeadAndTheNamedRowsAtTheirPlaces) {
  const TextFile table{"t.yaml",
                       "fits: own\nsources: {a: x}\n  # H7: {note}\nH6: {u: 1}\nH7: {u: 2}  # why\nH8: {u: 3}\n"};
  struct Case {
    std::vector<std::string> ids;
    std::string text;
  };
  // Own cases. `sources` is a row like any other here, and a row with anything behind it is no row.
  const std::string head = "fits: own\n\n  # H7: {note}\n", tail = "H7: {u: 2}  # why\n";
  for (const Case& c : {Case{{}, table.text},
                        {{"H6"}, head + "H6: {u: 1}\n" + tail + "\n"},
                        {{"H8"}, head + "\n" + tail + "H8: {u: 3}\n"},
                        {{"H6", "H8"}, head + "H6: {u: 1}\n" + tail + "H8: {u: 3}\n"},
                        {{"H6", "M99"}, table.text}}) {
    EXPECT_EQ(only_rows(table, c.ids).text, c.text);
    EXPECT_EQ(only_rows(table, c.ids).name, table.name);
  }
  EXPECT_EQ(only_rows({"e.yaml", ""}, {}).text, "");
}

TEST(OnlyRows, TakesEachFitAndThreadOutOfTheBuiltInTablesUnchanged) {
  const Catalog whole = built_in_catalog();
  for (const auto& [id, fit] : whole.fits) {
    const std::string ids[] = {id};
    const Catalog one = read_well(only_rows({"iso286.yaml", built_in("iso286.yaml")}, ids).text);
    ASSERT_EQ(one.fits.size(), 1U) << id;
    EXPECT_EQ(one.fits.at(id).source, fit.source) << id;
    ASSERT_EQ(one.fits.at(id).rows.size(), fit.rows.size()) << id;
    for (std::size_t i = 0; i < fit.rows.size(); ++i) {
      EXPECT_EQ(one.fits.at(id).rows[i].upper, fit.rows[i].upper) << id;
      EXPECT_EQ(one.fits.at(id).rows[i].lower, fit.rows[i].lower) << id;
    }
  }
  for (const auto& [id, thread] : whole.threads) {
    const std::string ids[] = {id};
    const Catalog one = read_well(only_rows({"threads.yaml", built_in("threads.yaml")}, ids).text);
    ASSERT_EQ(one.threads.size(), 1U) << id;
    EXPECT_EQ(one.threads.at(id).tap_drill, thread.tap_drill) << id;
    EXPECT_EQ(one.threads.at(id).clearance_source, thread.clearance_source) << id;
    EXPECT_EQ(one.threads.at(id).countersunk_source, thread.countersunk_source) << id;
  }
}

// ---- the files that the program carries ----

TEST(BuiltInFiles, AreTheFilesOfProfilesByteForByte) {
  const fs::path root = fs::path(GW_SOURCE_DIR) / "profiles";
  std::set<std::string> on_disk;
  for (const auto& entry : fs::recursive_directory_iterator(root)) {
    const std::string name = entry.path().lexically_relative(root).generic_string();
    if (entry.path().extension() == ".yaml" && !name.starts_with("demo/")) on_disk.insert(name);
  }
  std::set<std::string> carried;
  for (const TextFile& file : built_in_files()) {
    carried.insert(file.name);
    EXPECT_EQ(file.text, text_of(root / file.name)) << file.name;
  }
  EXPECT_EQ(carried, on_disk);
}

TEST(BuiltInFiles, AreSortedByName) {
  const auto files = built_in_files();
  EXPECT_FALSE(files.empty());
  EXPECT_TRUE(std::is_sorted(files.begin(), files.end(), [](const auto& a, const auto& b) { return a.name < b.name; }));
}

TEST(BuiltInFiles, StandUnderTheirIds) {
  for (const TextFile& file : built_in_files()) {
    const std::size_t slash = file.name.find('/');
    if (slash == std::string::npos) continue;
    Diagnostics diagnostics;
    const auto root = yaml::read(file, diagnostics);
    ASSERT_TRUE(root.has_value() && !root->entries.empty()) << diagnostics.text();
    const yaml::Entry& first = root->entries.front();
    const std::map<std::string, std::string> others = {{"finish", "finishes"},
                                                       {"texts", "texts"},
                                                       {"cutting", "cutting"},
                                                       {"turning_tools", "tools"},
                                                       {"milling_tools", "tools"}};
    const auto other = others.find(first.key);
    const std::string folder = other == others.end() ? first.key + "s" : other->second;
    EXPECT_EQ(file.name, folder + "/" + first.value.scalar + ".yaml");
  }
}

TEST(BuiltInFiles, CanEachBeReadAloneAndNameAnEdition) {
  for (const TextFile& file : built_in_files()) {
    Diagnostics diagnostics;
    EXPECT_TRUE(read_catalog({&file, 1}, diagnostics).has_value()) << diagnostics.text();
    const auto root = yaml::read(file, diagnostics);
    ASSERT_TRUE(root.has_value()) << file.name;
    const yaml::Node* edition = root->find("edition");
    ASSERT_NE(edition, nullptr) << file.name;
    EXPECT_FALSE(edition->scalar.empty()) << file.name;
  }
}

TEST(BuiltInFiles, AreSmallBecauseParsingIsTheStartUpCost) {
  for (const TextFile& file : built_in_files()) {
    EXPECT_LE(file.text.size(), 6000u) << file.name;
  }
}

TEST(BuiltInFiles, NameASourceForEveryNumber) {
  const Catalog c = built_in_catalog();
  int seen = 0;
  const auto expect_source = [&seen](const std::string& source, const std::string& whose) {
    ++seen;
    EXPECT_FALSE(source.empty()) << whose;
  };
  for (const auto& [id, g] : c.grooves) {
    EXPECT_FALSE(g.standard.empty() || g.edition.empty()) << id;
    for (const Sourced& s : {g.pitch, g.pitch_tolerance, g.cumulative_pitch_tolerance, g.crest_radius_min,
                             g.root_radius_max, g.ball_diameter, g.ball_tolerance, g.two_x, g.two_n_max,
                             g.edge_distance_min, g.effective_diameter_min, g.pitch_line_offset, g.roughness_max}) {
      expect_source(s.source, id);
    }
    for (const SteppedLimit& s : {g.over_balls_tolerance, g.groove_to_groove, g.radial_runout, g.axial_runout}) {
      expect_source(s.source, id);
    }
    expect_source(g.angle_source, id);
  }
  for (const auto& [id, b] : c.belts) {
    for (const Sourced& s : {b.rib_pitch, b.rib_width, b.rib_height, b.tip_radius, b.valley_radius, b.height,
                             b.cord_to_back, b.speed_max, b.mass_per_rib}) {
      expect_source(s.source, id);
    }
    expect_source(b.rib_angle_source, id);
    EXPECT_EQ(b.measured_height.value == 0, b.measured_height.source.empty()) << id;
  }
  for (const auto& [id, m] : c.materials) {
    for (const Sourced& s : {m.density, m.modulus, m.poisson, m.yield, m.tensile, m.expansion})
      expect_source(s.source, id);
  }
  for (const auto& [id, f] : c.finishes) expect_source(f.source, id);
  for (const auto& [id, f] : c.fits) expect_source(f.source, id);
  for (const auto& [id, t] : c.tolerances) expect_source(t.source, id);
  for (const auto& [id, t] : c.threads) {
    for (const auto& s :
         {t.drill_source, t.clearance_source, t.head_source, t.counterbore_source, t.countersunk_source}) {
      expect_source(s, id);
    }
  }
  for (const Key& k : c.keys) expect_source(k.source, "key " + std::to_string(k.width));
  for (const auto& [id, r] : c.rules) expect_source(r.source, id);
  for (const auto& [id, t] : c.texts) expect_source(t.source, id);
  for (const auto& [id, t] : c.drive_texts) expect_source(t.source, id);
  EXPECT_GT(seen, 200);
}

TEST(BuiltInFiles, HaveEveryRuleThatTheProgramAsksFor) {
  const Catalog c = built_in_catalog();
  for (const char* id : {"minimum_wall",
                         "minimum_wall_under_groove",
                         "minimum_web",
                         "minimum_flange_thickness",
                         "minimum_hub_wall",
                         "default_edge_break",
                         "default_flange_edge_break",
                         "default_lead_in",
                         "default_web_fillet",
                         "tall_flange_factor",
                         "jack_screw_engagement",
                         "thread_engagement",
                         "thread_engagement_steel",
                         "thread_engagement_iron",
                         "sound_face_factor",
                         "belt_seat_clearance",
                         "volume_agreement",
                         "default_flange_thickness",
                         "default_mark_depth",
                         "default_mark_width",
                         "default_mark_length",
                         "thread_engagement",
                         "witness_agreement"}) {
    EXPECT_GT(c.rule(id).value, 0) << id;
  }
  EXPECT_NEAR(c.rule("default_lead_in").value, 15, 1e-12) << "degrees";
  EXPECT_THROW((void)c.rule("minimum_luck"), Broken);
}

TEST(BuiltInFiles, KeepBeltsThatCloseToTheirHeightAndFitTheirGrooves) {
  const Catalog c = built_in_catalog();
  for (const auto& [id, b] : c.belts) {
    const Groove& g = c.grooves.at(id);
    const double h = g.angle.half().rad();
    const double lost = 1 / std::sin(h) - 1;  // what a rounding of radius 1 takes off a sharp point
    const double stack = g.pitch_line_offset.value + b.cord_to_back.value + b.rib_height.value;
    EXPECT_NEAR(stack, b.height.value, 0.3) << id << ": b_e + cord to back + rib height, own estimate";

    EXPECT_EQ(b.rib_pitch.value, g.pitch.value) << id;
    const double width_at_effective = g.pitch.value - 2 * g.crest_radius_min.value * lost * std::tan(h);
    EXPECT_NEAR(b.rib_width.value, width_at_effective, 0.006) << id << ": a rib fills the groove at d_e";
    const double depth = g.pitch.value / 2 / std::tan(h) - (g.crest_radius_min.value + g.root_radius_max.value) * lost;
    EXPECT_LT(b.rib_height.value + c.rule("belt_seat_clearance").value, depth) << id << ": a tip clears the root";

    const double tip_width = b.rib_width.value - 2 * b.rib_height.value * std::tan(b.rib_angle.half().rad());
    const double corner = b.tip_radius.value * std::tan((Angle::deg(90).rad() - b.rib_angle.half().rad()) / 2);
    EXPECT_GT(tip_width, 2 * corner) << id << ": both corners find room on the tip";
    EXPECT_LE(b.valley_radius.value, g.crest_radius_min.value) << id << ": a crest finds room between ribs";
  }
}

// ---- looking up ----

TEST(Catalog, GivesFitNamesInOrder) {
  const std::vector<std::string> want = {"H11", "H12", "H13", "H14", "H6",  "H7", "H8", "H9", "JS9",
                                         "N9",  "P9",  "f7",  "g6",  "h11", "h6", "h7", "h8", "h9",
                                         "js6", "k6",  "m6",  "n6",  "p6",  "r6", "s6"};
  EXPECT_EQ(built_in_catalog().fit_names(), want);
}

TEST(Catalog, GivesEveryFitOverItsWholeReach) {
  const Catalog c = built_in_catalog();
  const std::vector<std::string> names = c.fit_names();
  expect_property([&] {
    const std::string& name = names[*rc::gen::inRange<std::size_t>(0, names.size())];
    const double nominal = *rc::gen::inRange(1, 500001) / 1000.0;
    const auto fit = c.fit(name, nominal);
    RC_ASSERT(fit.has_value());
    RC_ASSERT(fit->id == name);
    RC_ASSERT(fit->lower < fit->upper);
    const auto larger = c.fit(name, std::min(500.0, nominal * 1.5));
    RC_ASSERT(larger->upper - larger->lower >= fit->upper - fit->lower - 1e-12);
  });
}

TEST(SteppedLimit, RefusesWhatItDoesNotPromise) {
  const Groove pj = built_in_catalog().grooves.at("PJ");
  EXPECT_THROW((void)pj.radial_runout.at(0), Broken);
  EXPECT_THROW((void)pj.radial_runout.at(50, 0), Broken);
  EXPECT_THROW((void)SteppedLimit{}.at(50), Broken);
}

TEST(SteppedLimit, NeverFallsWithMoreGroovesAndAlwaysHolds) {
  const Catalog c = built_in_catalog();
  expect_property([&] {
    const double d_e = *rc::gen::inRange(1, 20000) / 10.0;
    const int grooves = *rc::gen::inRange(1, 40);
    for (const auto& [id, g] : c.grooves) {
      for (const SteppedLimit* limit :
           {&g.over_balls_tolerance, &g.groove_to_groove, &g.radial_runout, &g.axial_runout}) {
        RC_ASSERT(limit->at(d_e, grooves) > 0);
        RC_ASSERT(limit->at(d_e, grooves + 1) >= limit->at(d_e, grooves));
      }
    }
  });
}

// ---- a person's own files ----

TEST(ReadCatalog, LetsALaterFileReplaceAnEntryOfTheSameId) {
  const TextFile files[] = {
      {"a", built_in("grooves/PK.yaml")},
      {"b", replaced(built_in("grooves/PK.yaml"), "two_n_max: 1.68 mm", "two_n_max: 1.70 mm")},
      {"c", built_in("grooves/PJ.yaml")},
  };
  Diagnostics diagnostics;
  const auto catalog = read_catalog(files, diagnostics);
  ASSERT_TRUE(catalog.has_value()) << diagnostics.text();
  EXPECT_EQ(catalog->grooves.size(), 2u);
  EXPECT_EQ(catalog->grooves.at("PK").two_n_max.value, 1.70);
  EXPECT_EQ(catalog->grooves.at("PK").file, "b");
  EXPECT_EQ(catalog->grooves.at("PJ").file, "c");
}

TEST(ReadCatalog, PutsAPersonsOwnKeysFirst) {
  const TextFile files[] = {
      {"keys.yaml", built_in("keys.yaml")},
      {"own.yaml",
       "keys: ours\nedition: own 1\nunits: in\nsource: measured\nrows:\n"
       "  - {over: 0.8, up_to: 1, width: 1/4, height: 1/4, shaft_depth: 1/8, hub_depth: 9/64, depth_tolerance: "
       "0.005}\n"},
  };
  Diagnostics diagnostics;
  const auto catalog = read_catalog(files, diagnostics);
  ASSERT_TRUE(catalog.has_value()) << diagnostics.text();
  EXPECT_NEAR(catalog->key_for(25)->width, 6.35, 1e-12);
  EXPECT_EQ(catalog->key_for(25)->source, "measured");
  EXPECT_EQ(catalog->key_for(28)->width, 8);
}

TEST(ReadCatalog, LetsAPersonChangeRulesButNotInventThem) {
  const TextFile ours{"rules.yaml", built_in("rules.yaml")};
  const TextFile good[] = {ours, {"own.yaml", "rules: mine\nedition: \"1\"\nsource: our lathe\nminimum_web: 1/4 in\n"}};
  Diagnostics diagnostics;
  const auto catalog = read_catalog(good, diagnostics);
  ASSERT_TRUE(catalog.has_value()) << diagnostics.text();
  EXPECT_NEAR(catalog->rule("minimum_web").value, 6.35, 1e-12);
  EXPECT_EQ(catalog->rule("minimum_web").source, "our lathe");
  EXPECT_EQ(catalog->rule("minimum_wall").value, 1.5);

  struct Case {
    const char* line;
    Code code;
    int column;
    const char* says;
  };
  constexpr Case kCases[] = {
      {"minimun_web: 6 mm", Code::unknown_key, 1, "'minimum_web'"},
      {"minimum_web: 6 deg", Code::wrong_unit, 14, "mm, cm"},
      {"minimum_web: 6", Code::missing_unit, 14, "12 mm"},
      {"default_lead_in: 12 mm", Code::wrong_unit, 18, "deg"},
      {"tall_flange_factor: 1 mm", Code::wrong_unit, 21, "no unit"},
  };
  for (const Case& c : kCases) {
    const TextFile bad[] = {ours,
                            {"own.yaml", "rules: mine\nedition: \"1\"\nsource: our lathe\n" + std::string(c.line)}};
    Diagnostics found;
    EXPECT_FALSE(read_catalog(bad, found).has_value()) << c.line;
    ASSERT_EQ(found.all().size(), 1u) << c.line << "\n" << found.text();
    EXPECT_EQ(static_cast<int>(found.all()[0].code), static_cast<int>(c.code)) << found.text();
    EXPECT_EQ(found.all()[0].place.line, 4) << found.text();
    EXPECT_EQ(found.all()[0].place.column, c.column) << found.text();
    EXPECT_NE(found.all()[0].message.find(c.says), std::string::npos) << found.text();
  }
}

std::string language(const std::string& id, const std::string& words) {
  return "texts: " + id + "\nedition: own 1\nsource: own words\n" + words;
}

TEST(ReadCatalog, SaysInEnglishWhatALanguageLeavesOut) {
  const TextFile english{"texts/en.yaml", built_in("texts/en.yaml")};
  const TextFile german{"de.yaml", language("de", "scale: Maßstab\nsheet_of: Blatt {1}/{0}\n")};
  const TextFile more_german{"de2.yaml", language("de", "mass: Masse\n")};
  const TextFile own_english{"own-en.yaml", language("en", "scale: Drawn at\n")};
  struct Case {
    std::vector<TextFile> files;
    const char *language, *key, *says;
  };
  const Case cases[] = {
      {{english}, "en", "scale", "Scale"},
      {{english, german}, "de", "scale", "Maßstab"},
      {{english, german}, "de", "sheet_of", "Blatt {1}/{0}"},
      {{english, german}, "de", "material", "Material"},
      {{english, german}, "en", "scale", "Scale"},
      {{english, german, more_german}, "de", "mass", "Masse"},
      {{english, german, more_german}, "de", "scale", "Maßstab"},
      {{english, own_english}, "en", "scale", "Drawn at"},
      {{english, own_english}, "en", "mass", "Mass"},
      {{german}, "de", "mass", "Mass"},  // a run without drawings reads a person's own files alone
      {{german}, "en", "mass", "Mass"},
      {{own_english, german}, "de", "scale", "Maßstab"},
      {{own_english}, "en", "mass", "Mass"},
  };
  for (const Case& c : cases) {
    Diagnostics diagnostics;
    const auto catalog = read_catalog(c.files, diagnostics);
    ASSERT_TRUE(catalog.has_value()) << diagnostics.text();
    ASSERT_TRUE(catalog->texts.contains(c.language)) << c.language;
    EXPECT_EQ(catalog->texts.at(c.language).at(c.key), c.says) << c.files.back().name;
    EXPECT_EQ(catalog->texts.at(c.language).language, c.language);
    EXPECT_FALSE(catalog->texts.at(c.language).source.empty());
  }
}

TEST(ReadCatalog, TranslatesThePagesOfADriveApartFromDrawings) {
  Diagnostics diagnostics;
  const TextFile german{"de.yaml",
                        "drive_text: de\nedition: own 1\nsource: own words\ndrive_pivot: \"Drehpunkt {0}\"\n"};
  const auto catalog = read_catalog({&german, 1}, diagnostics);
  ASSERT_TRUE(catalog.has_value()) << diagnostics.text();
  EXPECT_EQ(catalog->drive_texts.at("de").at("drive_pivot"), "Drehpunkt {0}");
  EXPECT_EQ(catalog->drive_texts.at("de").at("drive_free"), catalog->drive_texts.at("en").at("drive_free"));
  EXPECT_TRUE(catalog->texts.empty());
  const TextFile of_drawings{"de.yaml", "drive_text: de\nedition: own 1\nsource: own words\nscale: Maßstab\n"};
  EXPECT_FALSE(read_catalog({&of_drawings, 1}, diagnostics).has_value());
}

TEST(Texts, HaveEveryKeyThatTheProgramAsksFor) {
  const Texts english = built_in_catalog().texts.at("en");
  for (const char* key : {"scale", "material", "mass", "sheet", "revision", "sheet_of"}) {
    EXPECT_FALSE(english.at(key).empty()) << key;
  }
  EXPECT_THROW((void)english.at("luck"), Broken);
}

TEST(Texts, CountTheirPlaceholdersFromNought) {
  const Catalog c = built_in_catalog();
  std::map<std::string, Texts> all = c.texts;
  for (const auto& [language, texts] : c.drive_texts) all["drive, " + language] = texts;
  for (const auto& [language, texts] : all) {
    for (const auto& [key, text] : texts.words) {
      const std::set<std::size_t> numbers = placeholders(text);
      if (numbers.empty()) continue;
      EXPECT_EQ(*numbers.rbegin() + 1, numbers.size()) << language << ", " << key << ": " << text;
    }
  }
}

TEST(ReadCatalog, InheritsSourcesFromTheMapAround) {
  const Groove g = read_well(built_in("grooves/PK.yaml")).grooves.at("PK");
  EXPECT_EQ(g.pitch.source, "ISO 9981, from memory");
  EXPECT_EQ(g.pitch_tolerance.source, "ISO 9981, from memory");
  EXPECT_EQ(g.effective_diameter_min.source, "ISO 9981:2020, cl. 5.2 (excerpt)");
  EXPECT_EQ(g.radial_runout.source, "FIM, ISO 9981:2020, cl. 5.3 (excerpt)");
  EXPECT_EQ(g.file, "own.yaml");
}

TEST(ReadCatalog, TakesInchesAndOwnGroovesInTheSameForm) {
  const std::string text = R"(groove: my-poly-k
standard: my own sheet
edition: "3"
units: in
source: measured on a sample
pitch: {value: 0.140, tolerance: 0.002, cumulative_tolerance: 0.010}
angle: {value: 40 deg, tolerance: 0.25 deg}
crest_radius_min: 0.010
root_radius_max: 0.020
ball_diameter: {value: 0.1093, tolerance: 0.0005}
two_x: 0.038
two_n_max: 0.07
edge_distance_min: 1/8
effective_diameter_min: 1-1/2
pitch_line_offset: 0.019
roughness_max: 3.2 um
over_balls_tolerance: 0.02
groove_to_groove: {value: 0.002, grooves: 6, per_extra_groove: 0.0001, source: inch sheet}
radial_runout: 0.010
axial_runout: {rows: [{value: 0 in, per_mm: 0.001}]}
)";
  const Groove g = read_well(text).grooves.at("my-poly-k");
  EXPECT_NEAR(g.pitch.value, 3.556, 1e-12);
  EXPECT_NEAR(g.edge_distance_min.value, 3.175, 1e-12);
  EXPECT_NEAR(g.effective_diameter_min.value, 38.1, 1e-12);
  EXPECT_NEAR(g.groove_to_groove.at(50, 8), 0.0022 * 25.4, 1e-12);
  EXPECT_EQ(g.groove_to_groove.source, "inch sheet");
  EXPECT_NEAR(g.axial_runout.at(50), 0.05, 1e-12);
  EXPECT_EQ(g.crest_radius_min.source, "measured on a sample");
}

struct BrokenFile {
  const char* name;
  const char* base;  ///< a built-in file …
  const char* from;  ///< … with this …
  const char* to;    ///< … replaced by this
  Code code;
  int line, column;
  const char* fragment;
  const char* says;  ///< a piece of the message
};

// The lines of grooves/PK.yaml: 1 groove, 2 standard, 3 edition, 4 source, 5 pitch, 6 angle, 7 crest, 8 root, 9 ball,
// 10 2X, 11 2N, 12 f, 13 d_e min, 14 b_e, 15 Ra, 16 over balls, 17 groove to groove, 18 radial, 19 axial.
constexpr BrokenFile kBrokenFiles[] = {
    {"first key misspelt", "grooves/PK.yaml", "groove: PK", "grove: PK", Code::unknown_key, 1, 1, "grove", "'groove'"},
    {"first key is another", "grooves/PK.yaml", "groove: PK\n", "", Code::unknown_key, 1, 1, "standard",
     "groove, belt"},
    {"key misspelt", "grooves/PK.yaml", "two_n_max: ", "two_n_mx: ", Code::unknown_key, 11, 1, "two_n_mx",
     "'two_n_max'"},
    {"key unlike any", "grooves/PK.yaml", "two_n_max: 1.68 mm", "two_n_max: 1.68 mm\nflavour: mint", Code::unknown_key,
     12, 1, "flavour", "there are "},
    {"inner key misspelt", "grooves/PK.yaml", "mm, cumulative_tol", "mm, tolernce: 1 mm, cumulative_tol",
     Code::unknown_key, 5, 45, "tolernce", "'tolerance'"},
    {"edition missing", "grooves/PK.yaml", "edition: \"2020\"\n", "", Code::missing_key, 1, 1, "edition",
     "edition: own 1"},
    {"key missing", "grooves/PK.yaml", "root_radius_max: 0.50 mm\n", "", Code::missing_key, 1, 1, "root_radius_max",
     "root_radius_max: 12 mm"},
    {"inner key missing", "grooves/PK.yaml", "angle: {value: 40 deg, ", "angle: {", Code::missing_key, 6, 8, "value",
     "40 deg"},
    {"source missing", "grooves/PK.yaml", "angle: {value: 40 deg, tolerance: 0.5 deg}",
     "angle: {value: 40 deg, tolerance: 0.5 deg, source: }", Code::wrong_kind, 6, 0, "", "source"},
    {"unit missing", "grooves/PK.yaml", "two_n_max: 1.68 mm", "two_n_max: 1.68", Code::missing_unit, 11, 12, "1.68",
     "12 mm"},
    {"unit of another measure", "grooves/PK.yaml", "two_n_max: 1.68 mm", "two_n_max: 1.68 deg", Code::wrong_unit, 11,
     12, "1.68 deg", "mm, cm, m, um or in"},
    {"angle in millimetres", "grooves/PK.yaml", "value: 40 deg", "value: 40 mm", Code::wrong_unit, 6, 16, "40 mm",
     "deg"},
    {"roughness in millimetres", "grooves/PK.yaml", "3.2 um", "0.0032 mm", Code::wrong_unit, 15, 24, "0.0032 mm", "um"},
    {"roughness without unit", "grooves/PK.yaml", "3.2 um", "3.2", Code::missing_unit, 15, 24, "3.2", "2.5 um"},
    {"no number", "grooves/PK.yaml", "two_n_max: 1.68 mm", "two_n_max: 1,68 mm", Code::not_a_number, 11, 12, "1,68 mm",
     "12 mm"},
    {"infinite", "grooves/PK.yaml", "two_n_max: 1.68 mm", "two_n_max: inf mm", Code::not_a_number, 11, 12, "inf mm",
     "12 mm"},
    {"zero", "grooves/PK.yaml", "value: 3.56 mm", "value: 0 mm", Code::out_of_range, 5, 16, "0 mm",
     "greater than zero"},
    {"negative", "grooves/PK.yaml", "crest_radius_min: 0.25 mm", "crest_radius_min: -0.25 mm", Code::out_of_range, 7,
     19, "-0.25 mm", "greater than zero"},
    {"a list for a number", "grooves/PK.yaml", "two_n_max: 1.68 mm", "two_n_max: [1.68 mm]", Code::wrong_kind, 11, 12,
     "", "map"},
    {"a scalar for a map", "grooves/PK.yaml",
     "pitch: {value: 3.56 mm, tolerance: 0.05 mm, cumulative_tolerance: 0.3 mm}", "pitch: 3.56 mm", Code::wrong_kind, 5,
     8, "3.56 mm", "map"},
    {"units unknown", "grooves/PK.yaml", "standard: ISO 9981", "standard: ISO 9981\nunits: ft", Code::unknown_choice, 3,
     8, "ft", "mm or in"},
    {"angle too wide", "grooves/PK.yaml", "value: 40 deg", "value: 180 deg", Code::out_of_range, 6, 8, "", "180"},
    {"ball too small", "grooves/PK.yaml", "value: 2.5 mm, tol", "value: 0.9 mm, tol", Code::bad_catalog, 9, 16, "",
     "ball"},
    {"ball too large", "grooves/PK.yaml", "value: 2.5 mm, tol", "value: 3.9 mm, tol", Code::bad_catalog, 9, 16, "",
     "ball"},
    {"step rows out of order", "grooves/PJ.yaml", "up_to: 200 mm", "up_to: 70 mm", Code::bad_catalog, 18, 9, "",
     "increase"},
    {"last step closed", "grooves/PJ.yaml", "{value: 1.2 mm}", "{up_to: 900 mm, value: 1.2 mm}", Code::bad_catalog, 18,
     9, "", "the last"},
    {"step without limit", "grooves/PJ.yaml", "per_mm: 0.002", "over: 3 mm, per_mm: 0", Code::out_of_range, 30, 0, "0",
     "zero"},
    {"groove count broken", "grooves/PJ.yaml", "grooves: 6", "grooves: 6.5", Code::bad_count, 22, 0, "6.5",
     "whole number"},
    {"speed in km/h", "belts/PK.yaml", "50 m/s", "180 km/h", Code::wrong_unit, 14, 0, "180 km/h", "m/s"},
    {"mass without unit", "belts/PK.yaml", "0.021 kg/m", "0.021", Code::missing_unit, 15, 0, "0.021", "kg/m"},
    {"density in wrong unit", "materials/steel-1045.yaml", "7.85 g/cm3", "7.85 kg", Code::wrong_unit, 5, 0, "7.85 kg",
     "g/cm3"},
    {"Poisson's ratio of rubber", "materials/steel-1045.yaml", "0.29", "0.5", Code::out_of_range, 7, 0, "0.5", "0.5"},
    {"colour too bright", "materials/steel-1045.yaml", "[0.56", "[56", Code::out_of_range, 11, 0, "", "0 to 1"},
    {"film with ends swapped", "finishes/anodise.yaml", "from: 5 um", "from: 50 um", Code::out_of_range, 6, 0, "",
     "'from'"},
    {"film without parts", "finishes/anodise.yaml", "parts: {in: 2, out: 1}\n", "", Code::missing_key, 1, 1, "parts",
     "parts"},
    {"fit with a limit too few", "iso286.yaml", "k6: {upper_um: [6, ", "k6: {upper_um: [", Code::bad_count, 25, 0, "",
     "13, not 12"},
    {"fit upside down", "iso286.yaml", "[-2, -4", "[-20, -4", Code::out_of_range, 22, 0, "", "0 up to 3"},
    {"ranges out of order", "iso286.yaml", "ranges_mm: [0, 3, 6, 10, 18, 30, 50, 80,",
     "ranges_mm: [0, 3, 6, 10, 18, 80, 50, 80,", Code::bad_catalog, 5, 0, "", "increasing"},
    {"drill too large", "threads.yaml", "tap_drill: 6.8", "tap_drill: 8", Code::bad_catalog, 14, 0, "", "tap drill"},
    {"thread without a source", "threads.yaml", "  head: ISO 4762 (DIN 912)\n", "", Code::missing_key, 9, 0, "",
     "source"},
    {"key range empty", "keys.yaml", "{over: 22, up_to: 30", "{over: 30, up_to: 30", Code::bad_catalog, 11, 0, "",
     "'over'"},
    {"text key misspelt", "texts/en.yaml", "texts: en", "texts: xx\nscael: Scale", Code::unknown_key, 2, 1, "scael",
     "'scale'"},
    {"text of a key that English lacks", "texts/en.yaml", "texts: en", "texts: xx\nfjord: Fjord", Code::unknown_key, 2,
     1, "fjord", "there are "},
    {"text empty", "texts/en.yaml", "scale: Scale", "scale: ''", Code::wrong_kind, 5, 8, "", "'scale' takes a text"},
    {"text of two lines", "texts/en.yaml", "scale: Scale", "scale: \"a\\nb\"", Code::bad_catalog, 5, 8, "a\nb",
     "one line"},
    {"text without its placeholder", "texts/en.yaml", "\"{0} of {1}\"", "of {1}", Code::bad_catalog, 10, 0, "of {1}",
     "{0} and {1}, as in `{0} of {1}`"},
    {"text with a placeholder of its own", "texts/en.yaml", "scale: Scale", "scale: Scale {0}", Code::bad_catalog, 5, 8,
     "Scale {0}", "of English: none"},
    {"texts without source", "texts/en.yaml", "source: own words\n", "", Code::missing_key, 1, 1, "source", "source"},
    {"key too high", "keys.yaml", "width: 8, height: 7", "width: 8, height: 8", Code::bad_catalog, 11, 0, "", "higher"},
};

TEST(ReadCatalog, TellsWhereABrokenFileIsBroken) {
  for (const BrokenFile& broken : kBrokenFiles) {
    Diagnostics diagnostics;
    const auto catalog = read_one(replaced(built_in(broken.base), broken.from, broken.to), diagnostics);
    EXPECT_FALSE(catalog.has_value()) << broken.name;
    ASSERT_FALSE(diagnostics.all().empty()) << broken.name;
    const Diagnostic& first = diagnostics.all().front();
    EXPECT_EQ(first.place.file, "own.yaml") << broken.name;
    EXPECT_EQ(static_cast<int>(first.code), static_cast<int>(broken.code)) << broken.name << "\n" << diagnostics.text();
    EXPECT_EQ(first.place.line, broken.line) << broken.name << "\n" << diagnostics.text();
    EXPECT_GT(first.place.column, 0) << broken.name;
    if (broken.column != 0) {
      EXPECT_EQ(first.place.column, broken.column) << broken.name << "\n" << diagnostics.text();
    }
    EXPECT_EQ(first.fragment, broken.fragment) << broken.name << "\n" << diagnostics.text();
    EXPECT_NE(first.message.find(broken.says), std::string::npos) << broken.name << "\n" << diagnostics.text();
  }
}

TEST(ReadCatalog, ReportsOneMistakeOnce) {
  for (const BrokenFile& broken : kBrokenFiles) {
    // Without its first key a file is of another kind, and then its other keys mean nothing.
    if (std::string(broken.name) == "first key is another") continue;
    Diagnostics diagnostics;
    (void)read_one(replaced(built_in(broken.base), broken.from, broken.to), diagnostics);
    EXPECT_EQ(diagnostics.all().size(), 1u) << broken.name << "\n" << diagnostics.text();
  }
}

TEST(ReadCatalog, ShowsAllMistakesInOneRun) {
  std::string text = built_in("grooves/PK.yaml");
  text = replaced(text, "two_n_max: 1.68 mm", "two_n_max: 1.68 deg");
  text = replaced(text, "crest_radius_min: 0.25 mm", "crest_radius_min: 0 mm");
  text = replaced(text, "value: 45 mm", "value: 45");
  const TextFile files[] = {{"one.yaml", text}, {"two.yaml", "grove: PK\n"}};
  Diagnostics diagnostics;
  EXPECT_FALSE(read_catalog(files, diagnostics).has_value());
  std::vector<std::pair<std::string, int>> places;
  for (const Diagnostic& d : diagnostics.all()) places.emplace_back(d.place.file, d.place.line);
  const std::vector<std::pair<std::string, int>> want = {
      {"one.yaml", 7}, {"one.yaml", 11}, {"one.yaml", 13}, {"two.yaml", 1}};
  EXPECT_EQ(places, want) << diagnostics.text();
}

TEST(ReadCatalog, RefusesANumberWithoutAnySource) {
  Diagnostics diagnostics;
  EXPECT_FALSE(read_one("rules: mine\nedition: \"1\"\nminimum_wall: 2 mm\n", diagnostics).has_value());
  ASSERT_EQ(diagnostics.all().size(), 1u) << diagnostics.text();
  EXPECT_EQ(diagnostics.all()[0].code, Code::missing_key);
  EXPECT_EQ(diagnostics.all()[0].place.line, 3);
  EXPECT_EQ(diagnostics.all()[0].place.column, 15);
  EXPECT_NE(diagnostics.all()[0].message.find("{value: 2 mm, source: …}"), std::string::npos) << diagnostics.text();
}

TEST(ReadCatalog, RefusesWhatIsNoMap) {
  for (const char* text : {"", "just words\n", "- groove: PK\n", "{}\n", "groove\n"}) {
    Diagnostics diagnostics;
    EXPECT_FALSE(read_one(text, diagnostics).has_value()) << text;
    ASSERT_EQ(diagnostics.all().size(), 1u) << text << diagnostics.text();
    EXPECT_EQ(diagnostics.all()[0].place.file, "own.yaml") << text;
  }
}

TEST(ReadCatalog, ReadsNothingFromNothing) {
  Diagnostics diagnostics;
  const auto catalog = read_catalog({}, diagnostics);
  ASSERT_TRUE(catalog.has_value());
  EXPECT_TRUE(catalog->grooves.empty());
}

TEST(ReadCatalog, DoesNotTakeEarlierDiagnosticsForItsOwn) {
  Diagnostics diagnostics;
  diagnostics.error(Code::usage, {}, "", "an earlier mistake");
  const TextFile file{"own.yaml", built_in("grooves/PK.yaml")};
  EXPECT_TRUE(read_catalog({&file, 1}, diagnostics).has_value());
}

TEST(ReadCatalog, AnswersADamagedFileWithACatalogueOrADiagnosticWithPlace) {
  const auto files = built_in_files();
  expect_property([&] {
    std::string text = files[*rc::gen::inRange<std::size_t>(0, files.size())].text;
    const int wounds = *rc::gen::inRange(1, 4);
    for (int i = 0; i < wounds && !text.empty(); ++i) {
      const std::size_t at = *rc::gen::inRange<std::size_t>(0, text.size());
      switch (*rc::gen::inRange(0, 3)) {
        case 0:
          text.erase(at, *rc::gen::inRange<std::size_t>(1, 30));
          break;
        case 1:
          text[at] = *rc::gen::elementOf(std::string(":,{}[]-#'\" \n09mx%&*"));
          break;
        default:
          text.insert(
              at, *rc::gen::elementOf(std::vector<std::string>{"- ", ": ", "{", "]", "\n", "  ", "-1", "e9", "nan"}));
      }
    }
    Diagnostics diagnostics;
    const auto catalog = read_one(text, diagnostics);
    RC_ASSERT(catalog.has_value() == !diagnostics.has_errors());
    for (const Diagnostic& d : diagnostics.all()) {
      RC_ASSERT(d.place.file == "own.yaml");
      RC_ASSERT(!d.message.empty());
    }
  });
}

}  // namespace
}  // namespace groovewright::catalog
