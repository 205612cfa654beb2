// glTF 2.0, binary form. The part keeps its axes: glTF has +Y up and looks at a thing's front from +Z, and so does a
// part's front view (x to the right, y up, +Z towards the eye). Only the unit changes: metres.
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "bytes.h"
#include "groovewright/base/broken.h"
#include "groovewright/base/json.h"
#include "groovewright/mesh.h"

namespace groovewright::mesh {
namespace {

constexpr double kMetre = 1e-3;
// Numbers of the glTF 2.0 specification (Khronos), 3.6 and 3.7, and of its container format, 4.4.
constexpr int kFloat = 5126, kUnsignedShort = 5123, kUnsignedInt = 5125;
constexpr int kVertexData = 34962, kIndexData = 34963;
constexpr std::uint32_t kMagic = 0x46546C67, kVersion = 2, kJsonChunk = 0x4E4F534A, kBinChunk = 0x004E4942;
/// 65535 itself restarts primitives.
constexpr std::size_t kShortIndices = 65535;

using Float3 = std::array<float, 3>;

std::vector<Float3> positions(const Mesh& m) {
  std::vector<Float3> found;
  found.reserve(m.vertices.size());
  for (const Vec3& v : m.vertices) {
    found.push_back({static_cast<float>(v.x * kMetre) + 0.0F, static_cast<float>(v.y * kMetre) + 0.0F,
                     static_cast<float>(v.z * kMetre) + 0.0F});
  }
  return found;
}

/// glTF colours are linear; labels are sRGB (IEC 61966-2-1). Six decimals are far finer than a screen.
double linear(double srgb) {
  const double c = std::clamp(srgb, 0.0, 1.0);
  const long double v = c <= 0.04045 ? c / 12.92L : std::pow((c + 0.055L) / 1.055L, 2.4L);
  return static_cast<double>(std::round(v * 1e6L) / 1e6L);
}

void write(JsonWriter& json, std::string_view key, const Float3& v) {
  json.key(key).begin_array();
  for (const float f : v) json.value(static_cast<double>(f));
  json.end_array();
}

void write_view(JsonWriter& json, std::size_t offset, std::size_t length, int target) {
  json.begin_object().field("buffer", 0).field("byteOffset", static_cast<int>(offset));
  json.field("byteLength", static_cast<int>(length)).field("target", target).end_object();
}

void write_accessor(JsonWriter& json, int view, int component, std::size_t count, std::string_view type) {
  json.begin_object().field("bufferView", view).field("componentType", component);
  json.field("count", static_cast<int>(count)).field("type", type);
}

void pad(std::string& bytes, char with) { bytes.resize((bytes.size() + 3) / 4 * 4, with); }

void put_chunk(std::string& out, std::uint32_t type, const std::string& bytes) {
  put_u32(out, static_cast<std::uint32_t>(bytes.size()));
  put_u32(out, type);
  out += bytes;
}

}  // namespace

std::string to_glb(const Mesh& m, const Label& label) {
  require(!m.triangles.empty(), "to_glb: the mesh is empty");
  const std::vector<Float3> points = positions(m);
  Float3 low = points.front(), high = points.front();
  for (const Float3& p : points) {
    for (std::size_t k = 0; k < 3; ++k) {
      low[k] = std::min(low[k], p[k]);
      high[k] = std::max(high[k], p[k]);
    }
  }
  const bool is_short = points.size() <= kShortIndices;
  const std::size_t points_size = 12 * points.size(), indices_size = 3 * m.triangles.size() * (is_short ? 2 : 4);
  std::string data(points_size + indices_size, '\0');
  char* at = data.data();
  for (const Float3& p : points) {
    for (const float f : p) at = write_f32(at, f);
  }
  for (const auto& t : m.triangles) {
    for (const std::uint32_t i : t) at = is_short ? write_u16(at, i) : write_u32(at, i);
  }
  pad(data, '\0');
  require(data.size() <= std::numeric_limits<int>::max(), "to_glb: the mesh is too large");

  JsonWriter json(true);
  json.begin_object();
  json.key("asset").begin_object().field("version", "2.0").field("generator", "groovewright").end_object();
  json.field("scene", 0).key("scenes").begin_array().begin_object();
  json.field("name", label.title.empty() ? label.name : label.title).key("nodes").begin_array().value(0).end_array();
  json.end_object().end_array();
  json.key("nodes").begin_array().begin_object().field("name", label.name).field("mesh", 0).end_object().end_array();
  json.key("meshes").begin_array().begin_object().field("name", label.name).key("primitives").begin_array();
  json.begin_object().key("attributes").begin_object().field("POSITION", 0).end_object();
  json.field("indices", 1).field("material", 0).end_object().end_array().end_object().end_array();
  json.key("materials").begin_array().begin_object().field("name", label.material);
  json.key("pbrMetallicRoughness").begin_object().key("baseColorFactor").begin_array();
  json.value(linear(label.red)).value(linear(label.green)).value(linear(label.blue)).value(1.0).end_array();
  json.field("metallicFactor", 1.0).field("roughnessFactor", 0.45).end_object().end_object().end_array();
  json.key("accessors").begin_array();
  write_accessor(json, 0, kFloat, points.size(), "VEC3");
  write(json, "min", low);
  write(json, "max", high);
  json.end_object();
  write_accessor(json, 1, is_short ? kUnsignedShort : kUnsignedInt, 3 * m.triangles.size(), "SCALAR");
  json.end_object().end_array();
  json.key("bufferViews").begin_array();
  write_view(json, 0, points_size, kVertexData);
  write_view(json, points_size, indices_size, kIndexData);
  json.end_array();
  json.key("buffers").begin_array().begin_object().field("byteLength", static_cast<int>(data.size()));
  json.end_object().end_array().end_object();
  std::string text = json.text();
  pad(text, ' ');

  constexpr std::size_t kHeaders = 12 + 8 + 8;
  std::string out;
  out.reserve(kHeaders + text.size() + data.size());
  put_u32(out, kMagic);
  put_u32(out, kVersion);
  put_u32(out, static_cast<std::uint32_t>(kHeaders + text.size() + data.size()));
  put_chunk(out, kJsonChunk, text);
  put_chunk(out, kBinChunk, data);
  return out;
}

}  // namespace groovewright::mesh
