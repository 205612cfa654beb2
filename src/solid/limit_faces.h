// limit_faces.h: which faces a requirement stands on, and its entities in a STEP file. Private to the room.
#pragma once

#include <vector>

#include <GeomAbs_SurfaceType.hxx>
#include <Interface_InterfaceModel.hxx>
#include <TopoDS_Face.hxx>
#include <gp_Ax1.hxx>
#include <gp_Pnt.hxx>

#include "groovewright/solid/limits.h"
#include "part21.h"

namespace groovewright::solid {

/// The wall of a face by its surface (a plane's axis is its normal) and its corners.
[[nodiscard]] Wall wall_through(GeomAbs_SurfaceType kind, const gp_Ax1& axis, const std::vector<gp_Pnt>& corners);
[[nodiscard]] Wall wall_of(const TopoDS_Face& face);

/// What the requirements of a file refer to.
struct Anchors {
  struct Face {
    Wall wall;
    Ref ref;
  };
  std::vector<Face> faces;
  Ref product_shape, representation, context, millimetre;
};
/// Broken with the id where a wall has no face or the requirement breaks a `Requires:` of `Limits`.
void write_limits(Part21& out, const Limits& limits, const Anchors& anchors);

/// The entities of a file, in its order, where some are requirements; else none. (The kernel empties its model when its
/// reader goes.)
using Entities = std::vector<Handle(Standard_Transient)>;
[[nodiscard]] Entities entities_with_limits(const Handle(Interface_InterfaceModel) & model);
[[nodiscard]] Limits read_limits(const Entities& entities);

/// The name of a size over balls, for which ISO 10303 has none of its own, and the note that names the ball.
inline constexpr const char* kDiameter = "diameter";
inline constexpr const char* kOverBalls = "diameter over balls";
inline constexpr const char* kBallNote = "over balls of diameter ";
inline constexpr const char* kNominalNote = "nominal size ";
inline constexpr const char* kCylindricalZone = "cylindrical or circular";

}  // namespace groovewright::solid
