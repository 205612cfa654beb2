// Fit-check prints read by programs that no one here wrote: 3MF by lib3mf, STL by admesh, and the meshes held against
// each other by the CSG library manifold-3d.
#include <gtest/gtest.h>

#include <cstring>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <numbers>
#include <stdexcept>

#include "../printers.h"
#include "gauges.h"
#include "groovewright/job.h"
#include "pose.h"
#include "run.h"
#include "split.h"
#include "three_mf.h"
#include "variant.h"

extern "C" const char* __lsan_default_suppressions() { return "leak:libzip"; }

namespace groovewright {
namespace {

using nlohmann::json;
using testing::choice;
using testing::demo;

const std::string kTools = std::string(GW_SOURCE_DIR) + "/tests/tools";

std::string raw(const mesh::Mesh& m) {
  std::string out;
  const auto put = [&](const auto& value) { out.append(reinterpret_cast<const char*>(&value), sizeof value); };
  put(static_cast<std::uint32_t>(m.vertices.size()));
  put(static_cast<std::uint32_t>(m.triangles.size()));
  for (const mesh::Vec3& v : m.vertices) {
    for (const double c : {v.x, v.y, v.z}) put(static_cast<float>(c));
  }
  for (const auto& t : m.triangles) {
    for (const std::uint32_t i : t) put(i);
  }
  return out;
}

json held_together(const std::vector<const mesh::Mesh*>& meshes, const mesh::Mesh* whole = nullptr) {
  EXPECT_TRUE(std::filesystem::exists(kTools + "/node_modules/manifold-3d")) << "run ./setup.sh";
  std::vector<std::string> files;
  std::string command = "node '" + kTools + "/print_check.mjs'";
  if (whole) {
    files.push_back(readers::written(raw(*whole), "mesh"));
    command += " --whole '" + files.back() + "'";
  }
  for (const mesh::Mesh* m : meshes) {
    files.push_back(readers::written(raw(*m), "mesh"));
    command += " '" + files.back() + "'";
  }
  const readers::Outcome outcome = readers::run(command);
  for (const std::string& f : files) std::filesystem::remove(f);
  EXPECT_EQ(outcome.status, 0) << outcome.said;
  return json::parse(outcome.said, nullptr, false);
}

struct Case {
  const char *name, *printer;
  double bed;  ///< 0: the printer's own
};
// One piece upright; standing segments; many pieces on a small bed; two rims; a plain disc.
constexpr Case kCases[] = {{"larkspur-crank-24", "bench-220", 0},   {"larkspur-crank-24", "large-300", 0},
                           {"larkspur-crank-24", "bench-220", 130}, {"thistle-pump-pl", "desk-180", 0},
                           {"marlow-step-2", "large-300", 0},       {"sorrel-disc", "desk-180", 0}};

print::Choice choice_of(const Case& c) {
  print::Choice chosen = choice(c.printer);
  if (c.bed > 0) chosen.printer.bed_width = chosen.printer.bed_depth = c.bed;
  return chosen;
}

TEST(PrintReader, FindsEveryObjectSoundAndApart) {
  for (const Case& c : kCases) {
    SCOPED_TRACE(std::string(c.name) + " on " + c.printer + ", by manifold-3d");
    const auto made = testing::made_part(demo(c.name));
    Diagnostics d;
    const auto print = print::make(*made.part, choice_of(c), d);
    ASSERT_TRUE(print) << d.text();
    for (const print::Plate& plate : print->plates) {
      std::vector<const mesh::Mesh*> meshes;
      std::vector<std::string> names;
      for (const print::Object& o : plate.objects) {
        meshes.push_back(&o.body), names.push_back(o.name);
        for (const mesh::Mesh& m : o.lettering) meshes.push_back(&m), names.push_back("lettering on " + o.name);
      }
      const json found = held_together(meshes);
      ASSERT_TRUE(found.is_object());
      for (std::size_t i = 0; i < meshes.size(); ++i) {
        const json& o = found["objects"][i];
        EXPECT_EQ(o["status"], "NoError") << names[i];
        // Floats of 6e-8 at 200 mm, over the surface.
        EXPECT_NEAR(o["volume"].get<double>(), mesh::volume(*meshes[i]), 2e-5 * mesh::volume(*meshes[i]) + 0.01)
            << names[i];
      }
      for (const json& s : found["shared"]) {
        // Lettering touches what it stands on.
        EXPECT_LT(s["volume"].get<double>(), 0.05) << names[s["a"]] << " and " << names[s["b"]] << " overlap";
      }
    }
  }
}

TEST(PrintReader, FindsTheSegmentsToBeTheWholeLessTheGaps) {
  for (const char* name : testing::kDemos) {
    const auto made = testing::made_part(demo(name));
    const catalog::Printer printer = choice("bench-220").printer;
    Diagnostics d;
    const auto variant = print::plastic_variant(*made.part, printer, 6, d);
    ASSERT_TRUE(variant);
    const mesh::Mesh whole = mesh::tessellate(variant->section.body, 0.05);
    for (const int n : {2, 5}) {
      SCOPED_TRACE(std::string(name) + " in " + std::to_string(n) + " segments, by manifold-3d");
      const auto cuts = print::cuts(variant->section, n, printer);
      std::vector<mesh::Mesh> pieces;
      double holes = 0, joint = 0;
      for (std::size_t k = 0; k < cuts.size(); ++k) {
        const auto shape = print::outline(variant->section, cuts[k], cuts[(k + 1) % cuts.size()], printer);
        pieces.push_back(mesh::cut_out(whole, shape.points, shape.holes, 0.05));
        for (const mesh::WallHole& h : shape.holes) holes += std::numbers::pi * h.radius * h.radius * h.depth;
        // What a radial cut meets, times the gap; a dovetail has longer sides.
        joint += plane::area(variant->section.body.section) * printer.joint_gap;
      }
      std::vector<const mesh::Mesh*> meshes;
      for (const mesh::Mesh& m : pieces) meshes.push_back(&m);
      const json found = held_together(meshes, &whole);
      ASSERT_TRUE(found.is_object());
      for (const json& o : found["objects"]) EXPECT_EQ(o["status"], "NoError");
      for (const json& s : found["shared"]) EXPECT_LT(s["volume"].get<double>(), 1e-3) << "two segments overlap";
      EXPECT_LT(found["beyond"].get<double>(), 0.05) << "segments reach out of the whole";
      const double lacking = found["lacking"].get<double>();
      EXPECT_GT(lacking, 0.98 * (joint + holes)) << "gaps and dowel holes";
      EXPECT_LT(lacking, 1.5 * joint + 1.02 * holes) << "gaps and dowel holes";
    }
  }
}

TEST(PrintReader, FindsCombsOnTheFlanksOfTheMetalPart) {
  for (const char* name : testing::kDemos) {
    SCOPED_TRACE(std::string(name) + ", by manifold-3d");
    const auto made = testing::made_part(demo(name));
    mesh::Mesh metal = mesh::tessellate(made.section->body, 0.005);
    print::pose(metal, print::standing(print::kSectorFrom));
    for (print::Object& o : print::gauges(*made.part, choice("bench-220").printer, 0.005)) {
      if (!o.name.starts_with("groove comb")) continue;
      const auto shared = [&] { return held_together({&metal, &o.body})["shared"][0]["volume"].get<double>(); };
      // Chords of 0.005 mm over some 60 by 30 mm of flank.
      const double lying = shared();
      EXPECT_LT(lying, 12) << o.name << " cuts into metal";
      print::pose(o.body, [](const mesh::Vec3& v) { return mesh::Vec3{v.x, v.y - 0.05, v.z}; });
      EXPECT_GT(shared(), lying + 8) << o.name << " must cut into the flanks when it lies 0.05 mm further in";
    }
  }
}

TEST(PrintReader, FindsThePlatesInTheirFiles) {
  const TextFile document{"larkspur.yaml", demo("larkspur-crank-24")};
  Diagnostics d;
  const auto pulley = spec::read_pulley(document, d);
  auto prepared = job::prepare(*pulley, {}, {}, d);
  ASSERT_TRUE(prepared) << d.text();
  job::Want want;
  want.kinds = {job::Kind::print};
  ASSERT_TRUE(job::plan_print(*prepared, want, {}, d)) << d.text();
  const job::Made made =
      job::make(*prepared, document, want,
                {[]() -> const solid::Kernel& { throw std::logic_error("a print needs no kernel"); }, {}});
  const print::Print& print = *prepared->print;
  for (const Artifact& a : made.artifacts) {
    SCOPED_TRACE(a.name);
    const std::size_t at = a.name.find(".print");
    if (at == std::string::npos || a.name.ends_with(".md")) continue;
    const char digit = a.name[at + 6];
    const print::Plate& plate = print.plates[digit == '.' ? 0 : static_cast<std::size_t>(digit - '1')];
    std::size_t triangles = 0, bodies = 0;
    for (const print::Object& o : plate.objects) {
      triangles += o.body.triangles.size(), ++bodies;
      for (const mesh::Mesh& m : o.lettering) triangles += m.triangles.size(), ++bodies;
    }
    if (a.name.ends_with(".3mf")) {
      const readers::Read r = readers::read(a.bytes);
      ASSERT_EQ(r.result, 0U) << "lib3mf";
      EXPECT_EQ(r.warnings, 0U) << r.said;
      DWORD unit = 0;
      NMR::lib3mf_model_getunit(r.model.get(), &unit);
      EXPECT_EQ(unit, static_cast<DWORD>(NMR::MODELUNIT_MILLIMETER));
      const auto objects = readers::all(NMR::lib3mf_model_getmeshobjects, r.model.get());
      ASSERT_EQ(objects.size(), bodies);
      EXPECT_EQ(readers::name_of(objects.front().get()), plate.objects.front().name);
      for (const auto& o : objects) {
        BOOL manifold = 0;
        NMR::lib3mf_meshobject_ismanifoldandoriented(o.get(), &manifold);
        EXPECT_TRUE(manifold) << readers::name_of(o.get());
      }
    } else {
      const std::string path = readers::written(a.bytes, "stl");
      const readers::Outcome outcome = readers::run("admesh '" + path + "'");
      std::filesystem::remove(path);
      for (const char* due : {"All facets connected", "Degenerate facets     :     0", "Facets reversed       :     0",
                              "Backwards edges       :     0", "Normals fixed         :     0"}) {
        EXPECT_NE(outcome.said.find(due), std::string::npos) << due << "\n" << outcome.said;
      }
      EXPECT_NE(outcome.said.find(std::to_string(triangles)), std::string::npos) << outcome.said;
    }
  }
}

}  // namespace
}  // namespace groovewright
