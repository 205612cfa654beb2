// STEP files read by two strangers: a Part 21 reader of the tests' own, and an importer that no one here wrote.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <set>

#include "../mesh_bodies.h"
#include "groovewright/solid.h"
#include "part21.h"
#include "run.h"

namespace groovewright {
namespace {

using readers::Entity;
using readers::Part21File;
using readers::Value;

const std::string kTools = std::string(GW_SOURCE_DIR) + "/tests/tools";

const solid::Label kLabel{.name = "crank-24",
                          .description = "Crank pulley, 24 % 'overdrive' \xC3\xB8 150 \xF0\x9D\x9C\x8B \\",
                          .material = "Aluminium 6061-T6",
                          .density = 2.7e-6,
                          .red = 0.8,
                          .green = 0.5,
                          .blue = 0.1,
                          .program = "groovewright test"};

const solid::Kernel& kernel() {
  static const std::unique_ptr<solid::Kernel> made = solid::make_kernel();
  return *made;
}

std::string step_of(const plane::TurnedBody& body) { return kernel().to_step(kernel().make(body), kLabel); }

// ---- Part 21 ----

TEST(Part21, SaysSchemaProgramAndAFixedTime) {
  const Part21File f = readers::read_part21(step_of(bodies::pulley()));
  const std::string schema = f.header_entity("FILE_SCHEMA").values[0].items.at(0).text;
  EXPECT_EQ(schema, "AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF { 1 0 10303 442 1 1 4 }") << "ISO 10303-242";
  const Entity& name = f.header_entity("FILE_NAME");
  EXPECT_EQ(name.values[0].text, "crank-24.step");
  EXPECT_EQ(name.values[1].text, "2000-01-01T00:00:00");
  EXPECT_EQ(name.values[4].text, "groovewright test");
}

TEST(Part21, NamesTheProduct) {
  const Part21File f = readers::read_part21(step_of(bodies::pulley()));
  const Entity& product = f.only("PRODUCT");
  EXPECT_EQ(product.values[0].text, "crank-24");
  EXPECT_EQ(product.values[1].text, "crank-24");
  EXPECT_EQ(product.values[2].text, kLabel.description) << "apostrophe, backslash, ø and a letter beyond 16 bits";
}

std::string unit_of(const std::vector<Entity>& types) {
  std::string kind, si;
  for (const Entity& e : types) {
    if (e.type.ends_with("_UNIT") && e.type != "NAMED_UNIT" && e.type != "SI_UNIT") kind = e.type;
    if (e.type == "SI_UNIT") si = e.values[0].text + e.values[1].text;
  }
  return kind + " " + si;
}

TEST(Part21, IsInMillimetresAndRadians) {
  const Part21File f = readers::read_part21(step_of(bodies::pulley()));
  const Entity& context = f.only("GLOBAL_UNIT_ASSIGNED_CONTEXT");
  std::set<std::string> units;
  for (const Value& v : context.values[0].items) units.insert(unit_of(f.at(v)));
  EXPECT_EQ(units,
            (std::set<std::string>{"LENGTH_UNIT MILLIMETRE", "PLANE_ANGLE_UNIT RADIAN", "SOLID_ANGLE_UNIT STERADIAN"}));
  EXPECT_EQ(f.only("UNCERTAINTY_MEASURE_WITH_UNIT").values[0].items.at(0).number, plane::kCoincident);
}

TEST(Part21, HoldsMaterialAndDensity) {
  const Part21File f = readers::read_part21(step_of(bodies::pulley()));
  EXPECT_EQ(f.only("DESCRIPTIVE_REPRESENTATION_ITEM").values[0].text, "Aluminium 6061-T6");
  const Entity& density = f.only("MEASURE_REPRESENTATION_ITEM");
  EXPECT_NEAR(density.values[1].items.at(0).number, 2700, 1e-9) << "kg/m3";
  std::set<std::string> parts;
  for (const Value& v : f.at(density.values[2])[0].values[0].items) {
    const Entity& element = f.at(v)[0];
    parts.insert(unit_of(f.at(element.values[0])) + " " + std::to_string(static_cast<int>(element.values[1].number)));
  }
  EXPECT_EQ(parts, (std::set<std::string>{"MASS_UNIT KILOGRAM 1", "LENGTH_UNIT METRE -3"}));
  std::set<std::string> properties;
  for (const Entity* e : f.all("PROPERTY_DEFINITION")) {
    EXPECT_EQ(f.at(e->values[2])[0].type, "PRODUCT_DEFINITION");
    properties.insert(e->values[0].text + ": " + e->values[1].text);
  }
  EXPECT_EQ(properties, (std::set<std::string>{"material property: material name", "material property: density"}))
      << "CAx-IF recommended practice for material identification and density";
}

TEST(Part21, ColoursTheSolid) {
  const Part21File f = readers::read_part21(step_of(bodies::pulley()));
  const Entity& colour = f.only("COLOUR_RGB");
  EXPECT_EQ(colour.values[1].number, 0.8);
  EXPECT_EQ(colour.values[2].number, 0.5);
  EXPECT_EQ(colour.values[3].number, 0.1);
  EXPECT_EQ(f.at(f.only("STYLED_ITEM").values[2])[0].type, "MANIFOLD_SOLID_BREP");
}

TEST(Part21, KnowsOnlyExactSurfaces) {
  const Part21File f = readers::read_part21(step_of(bodies::plain_pulley()));
  std::set<std::string> surfaces;
  for (const Entity* face : f.all("ADVANCED_FACE")) surfaces.insert(f.at(face->values[2])[0].type);
  EXPECT_EQ(surfaces, (std::set<std::string>{"PLANE", "CYLINDRICAL_SURFACE", "CONICAL_SURFACE", "TOROIDAL_SURFACE"}));
  for (const Entity* cone : f.all("CONICAL_SURFACE"))
    EXPECT_GT(cone->values[3].number, 0) << "ISO 10303-42: half angle";
}

void expect_edges_walked_once_each_way(const Part21File& f) {
  std::map<int, std::multiset<std::string>> walks;
  for (const Entity* e : f.all("ORIENTED_EDGE")) walks[static_cast<int>(e->values[3].number)].insert(e->values[4].text);
  for (const auto& [edge, ways] : walks) EXPECT_EQ(ways, (std::multiset<std::string>{"F", "T"})) << "#" << edge;
  EXPECT_EQ(walks.size(), f.all("EDGE_CURVE").size());
}

/// The vertex from which an ORIENTED_EDGE sets out (`end` 0) or at which it arrives (1).
int vertex_of(const Part21File& f, const Value& oriented, int end) {
  const Entity& o = f.at(oriented)[0];
  const Entity& curve = f.at(o.values[3])[0];
  const bool forward = o.values[4].text == "T";
  return static_cast<int>(curve.values[forward == (end == 0) ? 1 : 2].number);
}

void expect_loops_walked_head_to_tail(const Part21File& f) {
  for (const Entity* loop : f.all("EDGE_LOOP")) {
    const std::vector<Value>& edges = loop->values[1].items;
    ASSERT_FALSE(edges.empty());
    for (std::size_t i = 0; i < edges.size(); ++i) {
      EXPECT_EQ(vertex_of(f, edges[i], 1), vertex_of(f, edges[(i + 1) % edges.size()], 0));
    }
  }
}

TEST(Part21, EveryBodyIsWellKnit) {
  for (const bodies::Named& c : bodies::all()) {
    SCOPED_TRACE(c.name);
    const Part21File f = readers::read_part21(step_of(c.body));
    EXPECT_TRUE(f.dangling().empty());
    EXPECT_EQ(f.all("MANIFOLD_SOLID_BREP").size(), 1u);
    EXPECT_EQ(f.data.rbegin()->first, static_cast<int>(f.data.size())) << "numbered without gaps";
    expect_edges_walked_once_each_way(f);
    expect_loops_walked_head_to_tail(f);
  }
}

TEST(Part21, TheReaderItselfRefusesDamage) {
  const std::string good = step_of(bodies::torus());
  const auto spoilt = [&](const std::string& from, const std::string& to) {
    std::string text = good;
    text.replace(text.find(from), from.size(), to);
    return text;
  };
  EXPECT_NO_THROW((void)readers::read_part21(good));
  for (const std::string& bad :
       {good.substr(0, good.size() / 2), good + "x", spoilt("#2=", "#1="), spoilt("'mechanical');", "'mechanical';"),
        spoilt("ENDSEC", "ENDSEX"), spoilt("'mechanical'", "'mechanical")}) {
    EXPECT_THROW((void)readers::read_part21(bad), std::runtime_error);
  }
  EXPECT_EQ(readers::read_part21(spoilt("(#3)", "(#99999)")).dangling(), std::vector<int>{99999});
}

// ---- the stranger's importer ----

readers::Outcome imported(const std::string& step) {
  const std::string path = readers::written(step, "step");
  readers::Outcome outcome = readers::run("node '" + kTools + "/read_step.mjs' '" + path + "'");
  std::remove(path.c_str());
  return outcome;
}

TEST(StepReader, HasItsImporter) {
  ASSERT_TRUE(std::filesystem::exists(kTools + "/node_modules/occt-import-js")) << "run ./setup.sh";
}

/// The chord error that read_step.mjs asks for, mm.
constexpr double kChord = 0.03;

/// A reader gives linear light for the sRGB that the file holds.
double linear(double srgb) { return std::pow((srgb + 0.055) / 1.055, 2.4); }

TEST(StepReader, FindsOneNamedColouredSolidOfTheRightSize) {
  struct Case {
    const char* name;
    plane::TurnedBody body;
  };
  const Case kCases[] = {{"pulley", bodies::pulley()},
                         {"pocketed disc", bodies::pocketed_disc()},
                         {"keyway and chamfers", bodies::keyed_bush(-20, 20, 12)},
                         {"marks across ribs", bodies::cut_ribs(-30, 30, 56)}};
  for (const Case& c : kCases) {
    SCOPED_TRACE(c.name);
    const solid::Shape shape = kernel().make(c.body);
    const solid::Proof proof = kernel().prove(shape);
    const readers::Outcome outcome = imported(kernel().to_step(shape, kLabel));
    ASSERT_EQ(outcome.status, 0) << "run ./setup.sh? " << outcome.said;
    const auto report = nlohmann::json::parse(outcome.said);
    ASSERT_EQ(report["meshes"].size(), 1u) << outcome.said;
    const auto& mesh = report["meshes"][0];
    EXPECT_EQ(mesh["name"], kLabel.name);
    EXPECT_EQ(mesh["faces"], proof.faces);
    // Its triangles lie within their chord error of the surface.
    const double bound = kChord * plane::mass_properties(c.body).surface;
    EXPECT_NEAR(mesh["volume"].get<double>(), proof.volume, bound) << "mm3, chords of " << kChord << " mm";
    const double colour[] = {kLabel.red, kLabel.green, kLabel.blue};
    for (std::size_t i = 0; i < 3; ++i) EXPECT_NEAR(mesh["color"][i].get<double>(), linear(colour[i]), 1e-4);
  }
}

// ---- same bytes ----

TEST(Step, GivesTheSameBytesTwiceInOneProcess) {
  for (const auto& body : {bodies::pulley(), bodies::pocketed_disc(), bodies::keyed_bush(-20, 9, 12),
                           bodies::tone_ring(12), bodies::cut_ribs(-2, 4.3, 56.5)}) {
    EXPECT_EQ(step_of(body), step_of(body));
  }
}

TEST(Step, GivesTheSameBytesInOtherProcessesAndSurroundings) {
  const std::string print =
      "'" GW_BINARY_DIR "/tests/print_step' '" GW_BINARY_DIR "/" + std::string(solid::kModuleFile) + "'";
  const readers::Outcome first = readers::run(print);
  ASSERT_EQ(first.status, 0) << first.said;
  EXPECT_NO_THROW((void)readers::read_part21(first.said));
  EXPECT_EQ(first.said,
            kernel().to_step(
                kernel().make(bodies::pulley()),
                {.name = "pulley", .description = "", .material = "steel", .density = 7.85e-6, .program = "test"}))
      << "module against static library";
  for (const char* surroundings : {"TZ=Asia/Kathmandu", "LC_ALL=de_DE.UTF-8 LANG=de_DE.UTF-8",
                                   "GLIBC_TUNABLES=glibc.cpu.hwcaps=-FMA,-AVX2", "CSF_STEPDefaults=/tmp MMGT_OPT=1"}) {
    EXPECT_EQ(readers::run(std::string("env ") + surroundings + " " + print).said, first.said) << surroundings;
  }
}

}  // namespace
}  // namespace groovewright
