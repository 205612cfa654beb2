// Cuts of meshes judged by another library's boolean operations, run by node.
#include <gtest/gtest.h>

#include <charconv>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>

#include "../mesh_bodies.h"
#include "../segments.h"
#include "groovewright/mesh.h"
#include "run.h"

namespace groovewright {
namespace {

const std::string kTools = std::string(GW_SOURCE_DIR) + "/tests/tools";

void put(std::string& text, double v) {
  char digits[32];
  const auto end = std::to_chars(digits, digits + sizeof digits, v).ptr;
  text.append(1, ' ').append(digits, end);
}

std::string to_obj(const mesh::Mesh& m) {
  std::string text;
  for (const mesh::Vec3& v : m.vertices) {
    text += "v";
    for (const double c : {v.x, v.y, v.z}) put(text, c);
    text += "\n";
  }
  for (const auto& t : m.triangles) {
    text += "f";
    for (const std::uint32_t v : t) text += " " + std::to_string(v + 1);
    text += "\n";
  }
  return text;
}

std::string to_lines(const std::vector<plane::Vec2>& outline) {
  std::string text;
  for (const plane::Vec2 p : outline) {
    std::string line;
    put(line, p.x);
    put(line, p.y);
    text += line.substr(1) + "\n";
  }
  return text;
}

double number(const std::string& report, const std::string& key) {
  const std::size_t at = report.find("\"" + key + "\":");
  return at == std::string::npos ? std::nan("") : std::strtod(report.c_str() + at + key.size() + 3, nullptr);
}

std::string judged(const mesh::Mesh& whole, const mesh::Mesh& cut, const std::vector<plane::Vec2>& outline) {
  const std::string files[] = {readers::written(to_obj(whole), "obj"), readers::written(to_obj(cut), "obj"),
                               readers::written(to_lines(outline), "txt")};
  std::string command = "node '" + kTools + "/csg.mjs'";
  for (const std::string& f : files) command += " '" + f + "'";
  const readers::Outcome outcome = readers::run(command);
  EXPECT_EQ(outcome.status, 0) << "run ./setup.sh? " << outcome.said;
  for (const std::string& f : files) std::remove(f.c_str());
  return outcome.said;
}

TEST(CutReader, HasItsLibrary) {
  ASSERT_TRUE(std::filesystem::exists(kTools + "/node_modules/manifold-3d")) << "run ./setup.sh";
}

TEST(CutReader, CutsTheSameParts) {
  const struct {
    const char* name;
    plane::TurnedBody body;
    int count;
    double start;
    std::vector<segments::Dovetail> tails;
  } kCases[] = {{"pulley, thirds", bodies::pulley(), 3, 0.1234567, {}},
                {"pulley, thirds along windows' middles", bodies::pulley(), 3, 0, {}},
                {"pulley, quarters, two dovetails", bodies::pulley(), 4, 0.3, {{30, 3, 5, 3}, {65, 4, 6, 3}}},
                {"pulley, halves, dovetails in the keyway's plane", bodies::pulley(), 2, 0, {{30, 3, 5, 3}}},
                {"tone ring, sixths through gaps", bodies::tone_ring(60), 6, 0, {{50, 3, 4, 2}}},
                {"pocketed disc, fifths", bodies::pocketed_disc(), 5, 0.2, {{35, 5, 8, 4}}},
                {"keyed bush, halves", bodies::keyed_bush(-8, 2), 2, 1.1, {{18, 3, 4, 2}}},
                {"torus, thirds", bodies::torus(), 3, 0, {{30, 2, 4, 2}}},
                {"spinning top, thirds about its point", bodies::spinning_top(), 3, 0.1, {}}};
  for (const auto& c : kCases) {
    SCOPED_TRACE(c.name);
    const mesh::Mesh whole = mesh::tessellate(c.body, 0.05);
    for (const int i : {0, c.count - 1}) {
      const auto outline = segments::segment(i, c.count, c.start, c.tails);
      const mesh::Mesh cut = mesh::cut_out(whole, outline);
      const std::string report = judged(whole, cut, outline);
      EXPECT_NE(report.find("\"cut\":\"NoError\""), std::string::npos) << report;
      const double volume = number(report, "expected_volume");
      EXPECT_GT(volume, 0) << report;
      EXPECT_NEAR(mesh::volume(cut), volume, 1e-6 * volume) << "manifold, which keeps floats\n" << report;
      EXPECT_LT(number(report, "missing") + number(report, "surplus"), 1e-5 * volume) << "floats of both\n" << report;
    }
  }
}

TEST(CutReader, TellsAnotherCutFromOurs) {
  const mesh::Mesh whole = mesh::tessellate(bodies::torus(), 0.5);
  const mesh::Mesh cut = mesh::cut_out(whole, segments::segment(0, 3, 0, {}));
  const std::string report = judged(whole, cut, segments::segment(0, 3, 0.1, {}));
  const double shifted = 0.1 / (2 * bodies::kPi) * number(report, "whole_volume");
  EXPECT_NEAR(number(report, "missing"), shifted, 0.05 * shifted) << "0.1 rad of the whole turn\n" << report;
  EXPECT_NEAR(number(report, "surplus"), shifted, 0.05 * shifted) << report;
}

}  // namespace
}  // namespace groovewright
