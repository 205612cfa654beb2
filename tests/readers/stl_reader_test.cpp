// STL files read by admesh, run as a process.
#include <gtest/gtest.h>

#include <cstdio>
#include <cstdlib>

#include "../mesh_bodies.h"
#include "groovewright/mesh.h"
#include "run.h"

namespace groovewright {
namespace {

/// The number behind `label` in admesh's report; the last one on the line where there are two columns.
double reported(const std::string& report, const std::string& label, bool last) {
  const std::size_t at = report.find(label);
  if (at == std::string::npos) return std::nan("");
  const std::size_t colon = report.find(':', at);
  const std::string line = report.substr(colon + 1, report.find('\n', colon) - colon - 1);
  const std::size_t from = last ? line.find_last_of(' ') : 0;
  return std::strtod(line.c_str() + from, nullptr);
}

TEST(StlReader, FindsOneClosedPartOfTheRightVolume) {
  for (const auto& [name, body] : bodies::all()) {
    for (const double deflection : {1.0, 0.05}) {
      SCOPED_TRACE(name + " at " + std::to_string(deflection) + " mm, read by admesh");
      const mesh::Mesh m = mesh::tessellate(body, deflection);
      const std::string path = readers::written(mesh::to_stl(m, {name, "", ""}), "stl");
      const readers::Outcome outcome = readers::run("admesh '" + path + "'");
      ASSERT_EQ(outcome.status, 0) << "apt-get install admesh? " << outcome.said;
      std::remove(path.c_str());
      const auto is = [&](const char* label, double value, bool last = false) {
        EXPECT_EQ(reported(outcome.said, label, last), value) << label << "\n" << outcome.said;
      };
      is("Number of facets", static_cast<double>(m.triangles.size()), true);
      is("Total disconnected facets", 0, true);
      is("Number of parts", 1);
      is("Degenerate facets", 0);
      is("Edges fixed", 0);
      is("Facets removed", 0);
      is("Facets added", 0);
      is("Facets reversed", 0);
      is("Backwards edges", 0);
      is("Normals fixed", 0);
      const plane::MassProperties exact = plane::mass_properties(body);
      EXPECT_NEAR(reported(outcome.said, "Volume   :", false), exact.volume,
                  deflection * exact.surface + 1e-5 * exact.volume)
          << "closed form; bound: deflection x surface, and admesh's floats";
    }
  }
}

}  // namespace
}  // namespace groovewright
