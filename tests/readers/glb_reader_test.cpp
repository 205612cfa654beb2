// GLB files read by Khronos' validator, run by node.
#include <gtest/gtest.h>

#include <cstdio>
#include <filesystem>

#include "../mesh_bodies.h"
#include "groovewright/mesh.h"
#include "run.h"

namespace groovewright {
namespace {

const std::string kTools = std::string(GW_SOURCE_DIR) + "/tests/tools";

bool says(const std::string& report, const std::string& key, std::size_t value) {
  return report.find("\"" + key + "\":" + std::to_string(value) + ",") != std::string::npos;
}

readers::Outcome validated(const std::string& glb) {
  const std::string path = readers::written(glb, "glb");
  readers::Outcome outcome = readers::run("node '" + kTools + "/validate_glb.mjs' '" + path + "'");
  std::remove(path.c_str());
  return outcome;
}

TEST(GlbReader, HasItsValidator) {
  ASSERT_TRUE(std::filesystem::exists(kTools + "/node_modules/gltf-validator")) << "run ./setup.sh";
}

TEST(GlbReader, FindsNothingToSay) {
  struct Case {
    const char* name;
    plane::TurnedBody body;
    double deflection;
  };
  const Case kCases[] = {{"torus", bodies::torus(), 1},
                         {"tone ring", bodies::tone_ring(60), 0.1},
                         {"pulley, indices of 16 bits", bodies::pulley(), 0.05},
                         {"pulley, indices of 32 bits", bodies::pulley(), 0.006}};
  for (const Case& c : kCases) {
    SCOPED_TRACE(c.name);
    const mesh::Mesh m = mesh::tessellate(c.body, c.deflection);
    const std::string glb = mesh::to_glb(m, {"pulley-24 \"<&>\" \xC3\xA9", "A pulley\n& more", "aluminium"});
    const readers::Outcome outcome = validated(glb);
    ASSERT_EQ(outcome.status, 0) << "run ./setup.sh? " << outcome.said;
    EXPECT_TRUE(says(outcome.said, "numErrors", 0)) << outcome.said;
    EXPECT_TRUE(says(outcome.said, "totalVertexCount", m.vertices.size())) << outcome.said;
    EXPECT_TRUE(says(outcome.said, "totalTriangleCount", m.triangles.size())) << outcome.said;
    EXPECT_NE(outcome.said.find("\"generator\":\"groovewright\""), std::string::npos) << outcome.said;
  }
}

TEST(GlbReader, ComplainsOfADamagedFile) {
  std::string glb = mesh::to_glb(mesh::tessellate(bodies::torus(), 1), {"torus", "", "steel"});
  glb[glb.find("5126")] = '9';
  EXPECT_EQ(validated(glb).status, 1) << "a component type that does not exist";
}

}  // namespace
}  // namespace groovewright
