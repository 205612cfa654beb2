#include <cmath>

#include "bytes.h"
#include "groovewright/mesh.h"

namespace groovewright::mesh {
namespace {

constexpr std::size_t kHeader = 80;
constexpr std::size_t kFacet = 50;

struct Float3 {
  float x, y, z;
};

/// The normal of the facet as written, so rounding to float can't turn it against its corners. Zero for a sliver.
Float3 normal(const Float3& a, const Float3& b, const Float3& c) {
  const double ux = double{b.x} - a.x, uy = double{b.y} - a.y, uz = double{b.z} - a.z;
  const double vx = double{c.x} - a.x, vy = double{c.y} - a.y, vz = double{c.z} - a.z;
  const double nx = uy * vz - uz * vy, ny = uz * vx - ux * vz, nz = ux * vy - uy * vx;
  const double size = std::sqrt(nx * nx + ny * ny + nz * nz);
  if (size == 0) return {0, 0, 0};
  return {static_cast<float>(nx / size), static_cast<float>(ny / size), static_cast<float>(nz / size)};
}

char* write(char* at, const Float3& v) { return write_f32(write_f32(write_f32(at, v.x), v.y), v.z); }

}  // namespace

std::string to_stl(const Mesh& m, const Label& label) {
  // Readers take a file that begins with "solid" for the text form.
  std::string out = "binary STL, mm: " + label.name;
  out.resize(kHeader, ' ');
  out.resize(kHeader + 4 + kFacet * m.triangles.size());
  char* at = write_u32(out.data() + kHeader, static_cast<std::uint32_t>(m.triangles.size()));
  std::vector<Float3> rounded;
  rounded.reserve(m.vertices.size());
  // + 0 makes -0 plain zero: one vertex, one spelling.
  for (const Vec3& v : m.vertices) {
    rounded.push_back({static_cast<float>(v.x) + 0.0F, static_cast<float>(v.y) + 0.0F, static_cast<float>(v.z) + 0.0F});
  }
  for (const auto& t : m.triangles) {
    const Float3 &a = rounded[t[0]], &b = rounded[t[1]], &c = rounded[t[2]];
    at = write(at, normal(a, b, c));
    for (const Float3* v : {&a, &b, &c}) at = write(at, *v);
    at = write_u16(at, 0);
  }
  return out;
}

}  // namespace groovewright::mesh
