// Requirements from the kernel's model of a file's entities: nothing here knows how `limit_write` puts them.
#include <algorithm>
#include <charconv>
#include <map>

#include <StepAP242_GeometricItemSpecificUsage.hxx>
#include <StepBasic_MeasureWithUnit.hxx>
#include <StepBasic_NamedUnit.hxx>
#include <StepBasic_SiUnit.hxx>
#include <StepBasic_Unit.hxx>
#include <StepDimTol_CircularRunoutTolerance.hxx>
#include <StepDimTol_Datum.hxx>
#include <StepDimTol_DatumReferenceCompartment.hxx>
#include <StepDimTol_DatumSystem.hxx>
#include <StepDimTol_DatumSystemOrReference.hxx>
#include <StepDimTol_FlatnessTolerance.hxx>
#include <StepDimTol_GeoTolAndGeoTolWthDatRef.hxx>
#include <StepDimTol_GeoTolAndGeoTolWthDatRefAndGeoTolWthMod.hxx>
#include <StepDimTol_GeoTolAndGeoTolWthMod.hxx>
#include <StepDimTol_GeometricToleranceTarget.hxx>
#include <StepDimTol_GeometricToleranceWithDatumReference.hxx>
#include <StepDimTol_GeometricToleranceWithModifiers.hxx>
#include <StepDimTol_HArray1OfDatumReferenceCompartment.hxx>
#include <StepDimTol_HArray1OfDatumSystemOrReference.hxx>
#include <StepDimTol_HArray1OfGeometricToleranceModifier.hxx>
#include <StepDimTol_HArray1OfToleranceZoneTarget.hxx>
#include <StepDimTol_PerpendicularityTolerance.hxx>
#include <StepDimTol_PositionTolerance.hxx>
#include <StepDimTol_ToleranceZone.hxx>
#include <StepDimTol_ToleranceZoneForm.hxx>
#include <StepDimTol_ToleranceZoneTarget.hxx>
#include <StepGeom_Axis2Placement3d.hxx>
#include <StepGeom_CartesianPoint.hxx>
#include <StepGeom_ConicalSurface.hxx>
#include <StepGeom_CylindricalSurface.hxx>
#include <StepGeom_Direction.hxx>
#include <StepGeom_Plane.hxx>
#include <StepRepr_DescriptiveRepresentationItem.hxx>
#include <StepRepr_HArray1OfRepresentationItem.hxx>
#include <StepRepr_ReprItemAndMeasureWithUnit.hxx>
#include <StepRepr_ShapeAspectRelationship.hxx>
#include <StepShape_AdvancedFace.hxx>
#include <StepShape_DimensionalCharacteristicRepresentation.hxx>
#include <StepShape_DimensionalLocation.hxx>
#include <StepShape_DimensionalSize.hxx>
#include <StepShape_EdgeLoop.hxx>
#include <StepShape_FaceBound.hxx>
#include <StepShape_HArray1OfFaceBound.hxx>
#include <StepShape_HArray1OfOrientedEdge.hxx>
#include <StepShape_OrientedEdge.hxx>
#include <StepShape_PlusMinusTolerance.hxx>
#include <StepShape_ShapeDimensionRepresentation.hxx>
#include <StepShape_ToleranceValue.hxx>
#include <StepShape_VertexPoint.hxx>
#include <TCollection_HAsciiString.hxx>

#include "groovewright/base/broken.h"
#include "limit_faces.h"

namespace groovewright::solid {
namespace {

using Entity = Handle(Standard_Transient);
using Key = const Standard_Transient*;

template <class T>
Handle(T) as(const Entity& e) {
  return Handle(T)::DownCast(e);
}

std::string text(const Handle(TCollection_HAsciiString) & s) { return s.IsNull() ? "" : s->ToCString(); }

double millimetres(const Handle(StepBasic_MeasureWithUnit) & m) {
  require(!m.IsNull(), "a requirement without a value");
  const auto unit = as<StepBasic_SiUnit>(m->UnitComponent().NamedUnit());
  require(
      !unit.IsNull() && unit->Name() == StepBasic_sunMetre && unit->HasPrefix() && unit->Prefix() == StepBasic_spMilli,
      "a requirement that is not in mm");
  return m->ValueComponent();
}

double millimetres(const Entity& bound) {
  const auto item = as<StepRepr_ReprItemAndMeasureWithUnit>(bound);
  return millimetres(item.IsNull() ? as<StepBasic_MeasureWithUnit>(bound) : item->GetMeasureWithUnit());
}

// ---- the faces' geometry ----

gp_Pnt point(const Handle(StepGeom_CartesianPoint) & p) {
  return {p->CoordinatesValue(1), p->CoordinatesValue(2), p->CoordinatesValue(3)};
}

Wall wall_as_read(const Handle(StepShape_AdvancedFace) & face) {
  const auto surface = as<StepGeom_ElementarySurface>(face->FaceGeometry());
  if (surface.IsNull()) return {.kind = Wall::Kind::other};
  const GeomAbs_SurfaceType kind = surface->IsKind(STANDARD_TYPE(StepGeom_Plane))                ? GeomAbs_Plane
                                   : surface->IsKind(STANDARD_TYPE(StepGeom_CylindricalSurface)) ? GeomAbs_Cylinder
                                   : surface->IsKind(STANDARD_TYPE(StepGeom_ConicalSurface))     ? GeomAbs_Cone
                                                                                                 : GeomAbs_OtherSurface;
  const Handle(StepGeom_Axis2Placement3d) at = surface->Position();
  gp_Dir direction = gp::DZ();  // what Part 42 takes where none is given
  if (at->HasAxis()) {
    const auto d = at->Axis();
    direction = gp_Dir(d->DirectionRatiosValue(1), d->DirectionRatiosValue(2), d->DirectionRatiosValue(3));
  }
  std::vector<gp_Pnt> corners;
  for (int b = 1; b <= face->NbBounds(); ++b) {
    const auto loop = as<StepShape_EdgeLoop>(face->BoundsValue(b)->Bound());
    for (int e = 1; !loop.IsNull() && e <= loop->NbEdgeList(); ++e) {
      for (const auto& end : {loop->EdgeListValue(e)->EdgeStart(), loop->EdgeListValue(e)->EdgeEnd()}) {
        const auto vertex = as<StepShape_VertexPoint>(end);
        if (!vertex.IsNull()) corners.push_back(point(as<StepGeom_CartesianPoint>(vertex->VertexGeometry())));
      }
    }
  }
  return wall_through(kind, gp_Ax1(point(at->Location()), direction), corners);
}

// ---- what a tolerance of one type or of several says ----

struct Toleranced {
  bool known = true;
  Zone::Kind kind = Zone::Kind::flatness;
  Handle(StepDimTol_GeometricToleranceWithDatumReference) to_datums = {};
  Handle(StepDimTol_HArray1OfGeometricToleranceModifier) modifiers = {};
};

Toleranced of_type(StepDimTol_GeometricToleranceType type) {
  switch (type) {
    case StepDimTol_GTTFlatnessTolerance:
      return {.kind = Zone::Kind::flatness};
    case StepDimTol_GTTPerpendicularityTolerance:
      return {.kind = Zone::Kind::perpendicularity};
    case StepDimTol_GTTPositionTolerance:
      return {.kind = Zone::Kind::position};
    case StepDimTol_GTTCircularRunoutTolerance:
      return {.kind = Zone::Kind::circular_runout};
    default:
      return {.known = false};
  }
}

Toleranced toleranced(const Handle(StepDimTol_GeometricTolerance) & e) {
  if (const auto both = as<StepDimTol_GeoTolAndGeoTolWthDatRefAndGeoTolWthMod>(e); !both.IsNull()) {
    Toleranced t = of_type(both->GetToleranceType());
    t.to_datums = both->GetGeometricToleranceWithDatumReference();
    t.modifiers = both->GetGeometricToleranceWithModifiers()->Modifiers();
    return t;
  }
  if (const auto to_datums = as<StepDimTol_GeoTolAndGeoTolWthDatRef>(e); !to_datums.IsNull()) {
    Toleranced t = of_type(to_datums->GetToleranceType());
    t.to_datums = to_datums->GetGeometricToleranceWithDatumReference();
    return t;
  }
  if (const auto modified = as<StepDimTol_GeoTolAndGeoTolWthMod>(e); !modified.IsNull()) {
    Toleranced t = of_type(modified->GetToleranceType());
    t.modifiers = modified->GetGeometricToleranceWithModifiers()->Modifiers();
    return t;
  }
  Toleranced t{.to_datums = as<StepDimTol_GeometricToleranceWithDatumReference>(e)};
  if (e->IsKind(STANDARD_TYPE(StepDimTol_FlatnessTolerance))) return t;
  t.kind = Zone::Kind::perpendicularity;
  if (e->IsKind(STANDARD_TYPE(StepDimTol_PerpendicularityTolerance))) return t;
  t.kind = Zone::Kind::position;
  if (e->IsKind(STANDARD_TYPE(StepDimTol_PositionTolerance))) return t;
  t.kind = Zone::Kind::circular_runout;
  t.known = e->IsKind(STANDARD_TYPE(StepDimTol_CircularRunoutTolerance));
  return t;
}

std::vector<std::string> letters(const Handle(StepDimTol_GeometricToleranceWithDatumReference) & e) {
  std::vector<std::string> out;
  if (e.IsNull() || e->DatumSystemAP242().IsNull()) return out;
  for (const StepDimTol_DatumSystemOrReference& choice : *e->DatumSystemAP242()) {
    const auto system = choice.DatumSystem();
    if (system.IsNull() || system->Constituents().IsNull()) continue;
    for (const auto& place : *system->Constituents()) {
      const auto datum = place->Base().Datum();
      out.push_back(datum.IsNull() ? "?" : text(datum->Identification()));
    }
  }
  return out;
}

// ---- who refers to whom ----

class LimitReader {
 public:
  explicit LimitReader(const Entities& entities) : entities_(entities) {
    for (const Entity& e : entities) note(e);
  }

  Limits all() {
    Limits out;
    for (const Entity& e : entities_) {
      if (const auto size = as<StepShape_DimensionalSize>(e); !size.IsNull()) add(out, size);
      if (const auto datum = as<StepDimTol_Datum>(e); !datum.IsNull()) {
        out.datums.push_back({text(datum->Identification()), on(features_[datum.get()])});
      }
      if (const auto tolerance = as<StepDimTol_GeometricTolerance>(e); !tolerance.IsNull()) add(out, tolerance);
    }
    return out;
  }

 private:
  void note(const Entity& e) {
    if (const auto use = as<StepAP242_GeometricItemSpecificUsage>(e); !use.IsNull()) {
      for (int i = 1; i <= use->NbIdentifiedItem(); ++i) {
        const Entity aspect = use->Definition().Value();
        faces_[aspect.get()].push_back(use->IdentifiedItemValue(i).get());
      }
    } else if (const auto link = as<StepRepr_ShapeAspectRelationship>(e); !link.IsNull()) {
      if (link->IsKind(STANDARD_TYPE(StepShape_DimensionalLocation)) || link->RelatedShapeAspect().IsNull()) return;
      const bool to_datum = link->RelatedShapeAspect()->IsKind(STANDARD_TYPE(StepDimTol_Datum));
      Key part = link->RelatedShapeAspect().get(), whole = link->RelatingShapeAspect().get();
      if (to_datum) {
        features_[part].push_back(whole);
      } else {
        features_[whole].push_back(part);
      }
    } else if (const auto value = as<StepShape_DimensionalCharacteristicRepresentation>(e); !value.IsNull()) {
      values_[value->Dimension().Value().get()] = value->Representation();
    } else if (const auto range = as<StepShape_PlusMinusTolerance>(e); !range.IsNull()) {
      ranges_[range->TolerancedDimension().Value().get()] = range->Range().ToleranceValue();
    } else if (const auto zone = as<StepDimTol_ToleranceZone>(e); !zone.IsNull()) {
      for (int i = 1; i <= zone->NbDefiningTolerances(); ++i) {
        const Entity tolerance = zone->DefiningToleranceValue(i).Value();
        forms_[tolerance.get()] = text(zone->Form()->Name());
      }
    } else if (const auto face = as<StepShape_AdvancedFace>(e); !face.IsNull()) {
      walls_.emplace(face.get(), wall_as_read(face));
    }
  }

  /// Down to the faces of what the aspects are made of.
  void collect(const std::vector<Key>& aspects, std::vector<Key>& out, int depth = 0) {
    require(depth < 8, "shape aspects that are made of each other");
    for (Key a : aspects) {
      const auto& own = faces_[a];
      out.insert(out.end(), own.begin(), own.end());
      collect(features_[a], out, depth + 1);
    }
  }
  On on(const std::vector<Key>& aspects) {
    std::vector<Key> named;
    collect(aspects, named);
    On out;
    for (Key face : named) {
      const auto known = walls_.find(face);
      out.walls.push_back(known == walls_.end() ? Wall{.kind = Wall::Kind::other} : known->second);
    }
    for (const auto& [face, wall] : walls_) {
      if (std::find(named.begin(), named.end(), face) != named.end()) continue;
      const Wall& other = wall;
      out.left_out += std::any_of(out.walls.begin(), out.walls.end(), [&](const Wall& w) { return lies_on(other, w); });
    }
    return out;
  }

  void add(Limits& out, const Handle(StepShape_DimensionalSize) & e) {
    const std::string name = text(e->Name());
    const auto value = values_.find(e.get());
    const auto range = ranges_.find(e.get());
    if ((name != kDiameter && name != kOverBalls) || e->AppliesTo().IsNull() || value == values_.end()) return;
    Size s{.id = text(e->AppliesTo()->Name()), .label = text(e->AppliesTo()->Description())};
    s.kind = name == kDiameter ? Size::Kind::diameter : Size::Kind::over_balls;
    for (int i = 1; i <= value->second->NbItems(); ++i) take(s, value->second->ItemsValue(i));
    if (range != ranges_.end() && !range->second.IsNull()) {
      s.lower = s.value + millimetres(range->second->LowerBound());
      s.upper = s.value + millimetres(range->second->UpperBound());
    }
    if (!(s.lower < s.upper)) return;
    s.on = on({e->AppliesTo().get()});
    out.sizes.push_back(std::move(s));
  }

  static void take(Size& s, const Handle(StepRepr_RepresentationItem) & item) {
    if (const auto note = as<StepRepr_DescriptiveRepresentationItem>(item); !note.IsNull()) {
      take_after(kBallNote, text(note->Description()), s.ball);
      take_after(kNominalNote, text(note->Description()), s.value);
      return;
    }
    const std::string name = text(item->Name());
    (name == "lower limit" ? s.lower : name == "upper limit" ? s.upper : s.value) = millimetres(item);
  }
  static void take_after(std::string_view start, const std::string& note, double& v) {
    if (note.starts_with(start)) std::from_chars(note.data() + start.size(), note.data() + note.size(), v);
  }

  void add(Limits& out, const Handle(StepDimTol_GeometricTolerance) & e) {
    const Toleranced t = toleranced(e);
    const Handle(StepRepr_ShapeAspect) aspect = e->TolerancedShapeAspect().ShapeAspect();
    if (!t.known || aspect.IsNull()) return;
    Zone z{
        .id = text(e->Name()), .label = text(e->Description()), .kind = t.kind, .width = millimetres(e->Magnitude())};
    const auto form = forms_.find(e.get());
    z.diametral = form != forms_.end() && form->second == kCylindricalZone;
    for (int i = 1; !t.modifiers.IsNull() && i <= t.modifiers->Length(); ++i) {
      z.common = z.common || t.modifiers->Value(i) == StepDimTol_GTMCommonZone;
      z.maximum_material = z.maximum_material || t.modifiers->Value(i) == StepDimTol_GTMMaximumMaterialRequirement;
    }
    z.datums = letters(t.to_datums);
    z.on = on({aspect.get()});
    out.zones.push_back(std::move(z));
  }

  const Entities& entities_;
  std::map<Key, std::vector<Key>> faces_, features_;  // by the aspect: faces used, and aspects that it is made of
  std::map<Key, Handle(StepShape_ShapeDimensionRepresentation)> values_;
  std::map<Key, Handle(StepShape_ToleranceValue)> ranges_;
  std::map<Key, std::string> forms_;
  std::map<Key, Wall> walls_;
};

}  // namespace

Entities entities_with_limits(const Handle(Interface_InterfaceModel) & model) {
  Entities all;
  bool some = false;
  for (int i = 1; i <= model->NbEntities(); ++i) {
    const Entity& e = all.emplace_back(model->Value(i));
    some = some || e->IsKind(STANDARD_TYPE(StepShape_DimensionalSize)) || e->IsKind(STANDARD_TYPE(StepDimTol_Datum)) ||
           e->IsKind(STANDARD_TYPE(StepDimTol_GeometricTolerance));
  }
  return some ? all : Entities{};
}

Limits read_limits(const Entities& entities) { return LimitReader(entities).all(); }

}  // namespace groovewright::solid
