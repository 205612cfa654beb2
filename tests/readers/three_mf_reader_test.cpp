// 3MF files read by lib3mf, in this process.
#include <gtest/gtest.h>

#include "../mesh_bodies.h"
#include "groovewright/mesh.h"
#include "three_mf.h"

// lib3mf 1.8.1 leaves each part of the archive that it read open (160 bytes): not ours to mend.
extern "C" const char* __lsan_default_suppressions() { return "leak:libzip"; }

namespace groovewright {
namespace {

using readers::first;
using readers::read;
using readers::Read;
using readers::text;

// lib3mf 1.8.1 gives the text of metadata undecoded, so the title needs no escapes; attributes it decodes.
const mesh::Label kLabel{
    "pulley-24 \"<&>\" \xC3\xA9", "A pulley, 24 % overdrive \xC3\xA9", "aluminium \"6061\"", 1, 0.5, 0};

TEST(ThreeMfReader, FindsTheMeshAsItWas) {
  for (const auto& [name, body] : bodies::all()) {
    SCOPED_TRACE(name);
    const mesh::Mesh m = mesh::tessellate(body, 0.1);
    const Read r = read(mesh::to_3mf(m, kLabel));
    ASSERT_EQ(r.result, 0U) << "lib3mf";
    EXPECT_EQ(r.warnings, 0U) << r.said;
    const auto object = first(NMR::lib3mf_model_getmeshobjects, r.model.get());
    ASSERT_TRUE(object);
    DWORD vertices = 0, triangles = 0;
    BOOL manifold = 0;
    NMR::lib3mf_meshobject_getvertexcount(object.get(), &vertices);
    NMR::lib3mf_meshobject_gettrianglecount(object.get(), &triangles);
    NMR::lib3mf_meshobject_ismanifoldandoriented(object.get(), &manifold);
    EXPECT_EQ(vertices, m.vertices.size());
    EXPECT_EQ(triangles, m.triangles.size());
    EXPECT_TRUE(manifold);
    for (DWORD i = 0; i < vertices; i += 1 + vertices / 97) {
      NMR::MODELMESHVERTEX v;
      ASSERT_EQ(NMR::lib3mf_meshobject_getvertex(object.get(), i, &v), 0U);
      // 5e-6 mm of text, 4e-6 mm of lib3mf's floats.
      EXPECT_NEAR(v.m_fPosition[0], m.vertices[i].x, 1e-5);
      EXPECT_NEAR(v.m_fPosition[1], m.vertices[i].y, 1e-5);
      EXPECT_NEAR(v.m_fPosition[2], m.vertices[i].z, 1e-5);
    }
    for (DWORD i = 0; i < triangles; i += 1 + triangles / 97) {
      NMR::MODELMESHTRIANGLE t;
      ASSERT_EQ(NMR::lib3mf_meshobject_gettriangle(object.get(), i, &t), 0U);
      for (std::size_t k = 0; k < 3; ++k) EXPECT_EQ(t.m_nIndices[k], m.triangles[i][k]);
    }
  }
}

TEST(ThreeMfReader, FindsUnitNamesMaterialAndTitle) {
  const Read r = read(mesh::to_3mf(mesh::tessellate(bodies::torus(), 1), kLabel));
  ASSERT_EQ(r.result, 0U) << "lib3mf";
  DWORD unit = 0;
  NMR::lib3mf_model_getunit(r.model.get(), &unit);
  EXPECT_EQ(unit, static_cast<DWORD>(NMR::MODELUNIT_MILLIMETER));
  const auto object = first(NMR::lib3mf_model_getmeshobjects, r.model.get());
  ASSERT_TRUE(object);
  EXPECT_EQ(text([&](char* at, ULONG size, ULONG* needed) {
              return NMR::lib3mf_object_getnameutf8(object.get(), at, size, needed);
            }),
            kLabel.name);
  const auto material = first(NMR::lib3mf_model_getbasematerials, r.model.get());
  ASSERT_TRUE(material);
  EXPECT_EQ(text([&](char* at, ULONG size, ULONG* needed) {
              return NMR::lib3mf_basematerial_getnameutf8(material.get(), 0, at, size, needed);
            }),
            kLabel.material);
  BYTE red = 0, green = 0, blue = 0, alpha = 0;
  NMR::lib3mf_basematerial_getdisplaycolor(material.get(), 0, &red, &green, &blue, &alpha);
  EXPECT_EQ(red, 255);
  EXPECT_EQ(green, 128);
  EXPECT_EQ(blue, 0);
  std::string title;
  DWORD count = 0;
  NMR::lib3mf_model_getmetadatacount(r.model.get(), &count);
  for (DWORD i = 0; i < count; ++i) {
    const auto key = text([&](char* at, ULONG size, ULONG* needed) {
      return NMR::lib3mf_model_getmetadatakeyutf8(r.model.get(), i, at, size, needed);
    });
    const auto value = text([&](char* at, ULONG size, ULONG* needed) {
      return NMR::lib3mf_model_getmetadatavalueutf8(r.model.get(), i, at, size, needed);
    });
    if (key == "Title") title = value;
  }
  EXPECT_EQ(title, kLabel.title);
}

TEST(ThreeMfReader, ComplainsOfADamagedFile) {
  std::string bytes = mesh::to_3mf(mesh::tessellate(bodies::torus(), 1), kLabel);
  bytes[bytes.size() / 2] = static_cast<char>(bytes[bytes.size() / 2] ^ 0x55);
  EXPECT_NE(read(bytes).result, 0U);
}

}  // namespace
}  // namespace groovewright
