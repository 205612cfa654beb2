// mesh.h: triangles. One mesh feeds STL, 3MF and GLB, and can be measured again without knowing what it was made from.
// Lengths mm. Vertices lie on the exact surface; chords stay within the deflection asked.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "groovewright/plane.h"

namespace groovewright::mesh {

struct Vec3 {
  double x = 0, y = 0, z = 0;
  bool operator==(const Vec3&) const = default;
};

/// Watertight and consistently oriented (outward normals by the right-hand rule).
struct Mesh {
  std::vector<Vec3> vertices;
  std::vector<std::array<std::uint32_t, 3>> triangles;
};

/// Default chord error, mm, and the range allowed.
inline constexpr double kDefaultDeflection = 0.01;
inline constexpr double kLeastDeflection = 1e-4;
inline constexpr double kMostDeflection = 10;

/// The body's skin. Requires: a valid TurnedBody whose inward slots' floors cross no curved
/// face; kLeastDeflection <= deflection <= kMostDeflection. Distance of every triangle from the exact
/// surface is at most `deflection`. Deterministic.
[[nodiscard]] Mesh tessellate(const plane::TurnedBody& body, double deflection);

/// Upright prisms from z0 to z1 over a plane figure that lies to the left of its loops: outer loops counter-clockwise,
/// holes clockwise. Requires: z0 < z1; loops of three points at least that neither cross nor touch. Deterministic.
[[nodiscard]] Mesh extruded(const std::vector<std::vector<plane::Vec2>>& loops, double z0, double z1);

struct Closure {
  std::size_t open_edges = 0, wrong_edges = 0,
              degenerate = 0;  ///< wrong: shared by more than two, or same direction twice
  [[nodiscard]] bool closed() const { return open_edges == 0 && wrong_edges == 0 && degenerate == 0; }
};
[[nodiscard]] Closure closure(const Mesh& m);
[[nodiscard]] double volume(const Mesh& m);

/// A blind round hole, for a dowel, square into a wall of a cut. Its axis is level; its mouth lies within the wall.
struct WallHole {
  std::size_t wall = 0;  ///< over the side outline[wall] -> outline[wall + 1]
  double along = 0;      ///< of the axis, from outline[wall]
  double z = 0;          ///< of the axis
  double radius = 0, depth = 0;
};

/// Furthest, mm, that cut_out moves an outline out of a special position.
inline constexpr double kMostShift = 1e-4;

/// What of a closed mesh stands over a polygon of the cross plane; walls along Z close it where the outline passes
/// through metal. `outline`: simple, counter-clockwise, of any shape. Closed, without degenerate triangles; vertices
/// made by the cut are shared, and distinct when rounded to 1e-5 mm. Deterministic. Where vertices lie on the outline
/// or corners of it on edges the outline is moved as a whole, mostly by 1e-8 mm, never further than kMostShift;
/// vertices nearer than 2e-5 mm to others become one with them. Holes: polygons whose corners lie on the circle.
/// Requires: m closed; corners of the outline 1e-3 mm apart; mouths of holes in metal, clear of edges and each other,
/// and metal about their whole depth; kLeastDeflection <= deflection <= kMostDeflection.
[[nodiscard]] Mesh cut_out(const Mesh& m, const std::vector<plane::Vec2>& outline,
                           const std::vector<WallHole>& holes = {}, double deflection = kDefaultDeflection);

/// Conical generators found in the triangles alone: facets that lean between `least` and `most` from a plane square to
/// the Z axis, gathered by common line; sorted by Z of the middle. Ignores facets not turned about the Z axis; facets
/// of roundings that happen to lean so are among them.
[[nodiscard]] std::vector<plane::Generator> generators(const Mesh& m, double least_rad, double most_rad);

/// What a written file says of the thing inside.
struct Label {
  std::string name;
  std::string title;
  std::string material;
  double red = 0.7, green = 0.7, blue = 0.72;  ///< 0..1, sRGB
};

/// A mesh with its label, as one of several in a file.
struct Body {
  const Mesh* mesh = nullptr;
  Label label;
};
/// Bodies that belong together, as a part and the lettering on it.
struct Assembly {
  std::string name;
  std::vector<Body> bodies;
};

/// All triangles in one mesh, vertices of different meshes kept apart.
[[nodiscard]] Mesh merged(const std::vector<const Mesh*>& meshes);

/// Binary STL; the 80-byte header says name and "mm".
[[nodiscard]] std::string to_stl(const Mesh& m, const Label& label);
/// 3MF core: millimetres, named object, base material, title metadata. Deterministic ZIP.
[[nodiscard]] std::string to_3mf(const Mesh& m, const Label& label);
/// The same for several things where they lie: an item of the build each; one with several bodies is an object of
/// components. `title` and `description` become metadata.
[[nodiscard]] std::string to_3mf(const std::vector<Assembly>& plate, const std::string& title,
                                 const std::string& description);
/// glTF 2.0 binary: metres; the part keeps its axes (front towards +Z, +Y up, as glTF looks at things); one named node,
/// metal colour; no normals, so viewers shade facets flat, as the specification asks of them.
[[nodiscard]] std::string to_glb(const Mesh& m, const Label& label);

}  // namespace groovewright::mesh
