#include "xcaf_limits.h"

#include <cmath>
#include <map>
#include <sstream>
#include <stdexcept>

#include <BRepAdaptor_Surface.hxx>
#include <STEPCAFControl_Reader.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TDF_LabelSequence.hxx>
#include <TDocStd_Document.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <XCAFDimTolObjects_DatumObject.hxx>
#include <XCAFDimTolObjects_DimensionObject.hxx>
#include <XCAFDimTolObjects_GeomToleranceObject.hxx>
#include <XCAFDoc_Datum.hxx>
#include <XCAFDoc_DimTolTool.hxx>
#include <XCAFDoc_Dimension.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_GeomTolerance.hxx>
#include <XCAFDoc_ShapeTool.hxx>
#include <gp_Cylinder.hxx>
#include <gp_Pln.hxx>

namespace groovewright::readers {
namespace {

/// To a nanometre, plain.
std::string number(double v) {
  std::ostringstream text;
  text.precision(9);
  text << std::round(v * 1e6) / 1e6 + 0.0;
  return text.str();
}

std::string described(const TopoDS_Face& face) {
  const BRepAdaptor_Surface surface(face);
  switch (surface.GetType()) {
    case GeomAbs_Plane: {
      const gp_Ax1 axis = surface.Plane().Axis();
      if (axis.Direction().IsParallel(gp::DZ(), 1e-9)) return "flat z" + number(axis.Location().Z());
      return "side d" + number(surface.Plane().Distance(gp::Origin()));
    }
    case GeomAbs_Cylinder: {
      const gp_Pnt at = surface.Cylinder().Location();
      const bool central = std::hypot(at.X(), at.Y()) < 1e-9;
      return (central ? "cylinder r" : "hole r") + number(surface.Cylinder().Radius());
    }
    case GeomAbs_Cone:
      return "cone";
    default:
      return "other";
  }
}

std::string counted(const TDF_LabelSequence& faces) {
  std::map<std::string, int> kinds;
  for (const TDF_Label& label : faces) {
    const TopoDS_Shape shape = XCAFDoc_ShapeTool::GetShape(label);
    ++kinds[shape.ShapeType() == TopAbs_FACE ? described(TopoDS::Face(shape)) : "no face"];
  }
  std::string text;
  for (const auto& [kind, n] : kinds) text += (text.empty() ? "" : ", ") + std::to_string(n) + " " + kind;
  return text;
}

class Document {
 public:
  explicit Document(const std::string& step) {
    STEPCAFControl_Reader reader;
    reader.SetGDTMode(true);
    std::istringstream in(step);
    if (reader.ChangeReader().ReadStream("limits.step", in) != IFSelect_RetDone)
      throw std::runtime_error("XCAF cannot read it");
    if (!reader.Transfer(document_)) throw std::runtime_error("XCAF cannot make a document of it");
    tool_ = XCAFDoc_DocumentTool::DimTolTool(document_->Main());
  }

  std::vector<std::string> lines() const {
    std::vector<std::string> out;
    TDF_LabelSequence sizes, zones;
    tool_->GetDimensionLabels(sizes);
    tool_->GetGeomToleranceLabels(zones);
    for (const TDF_Label& l : sizes) out.push_back(size(l));
    for (const TDF_Label& l : zones) out.push_back(zone(l));
    return out;
  }

 private:
  std::string faces(const TDF_Label& label) const {
    TDF_LabelSequence first, second;
    tool_->GetRefShapeLabel(label, first, second);
    return counted(first);
  }

  std::string size(const TDF_Label& label) const {
    Handle(XCAFDoc_Dimension) attribute;
    if (!label.FindAttribute(XCAFDoc_Dimension::GetID(), attribute)) return "no dimension";
    const Handle(XCAFDimTolObjects_DimensionObject) o = attribute->GetObject();
    const bool is_diameter = o->GetType() == XCAFDimTolObjects_DimensionType_Size_Diameter;
    std::string text = is_diameter ? "diameter " : "size ";
    if (o->IsDimWithRange()) {
      text += number(o->GetLowerBound()) + ".." + number(o->GetUpperBound());
    } else {
      text += number(o->GetValue());
    }
    if (o->IsDimWithPlusMinusTolerance()) {
      text += " -" + number(o->GetLowerTolValue()) + " +" + number(o->GetUpperTolValue());
    }
    for (int i = 0; i < o->NbDescriptions(); ++i) text += std::string(" (") + o->GetDescription(i)->ToCString() + ")";
    return text + " on " + faces(label);
  }

  std::string zone(const TDF_Label& label) const {
    Handle(XCAFDoc_GeomTolerance) attribute;
    if (!label.FindAttribute(XCAFDoc_GeomTolerance::GetID(), attribute)) return "no tolerance";
    const Handle(XCAFDimTolObjects_GeomToleranceObject) o = attribute->GetObject();
    std::string text = "?";
    switch (o->GetType()) {
      case XCAFDimTolObjects_GeomToleranceType_Flatness:
        text = "flatness";
        break;
      case XCAFDimTolObjects_GeomToleranceType_Perpendicularity:
        text = "perpendicularity";
        break;
      case XCAFDimTolObjects_GeomToleranceType_Position:
        text = "position";
        break;
      case XCAFDimTolObjects_GeomToleranceType_CircularRunout:
        text = "run-out";
        break;
      default:
        break;
    }
    text += " " + number(o->GetValue());
    if (o->GetTypeOfValue() == XCAFDimTolObjects_GeomToleranceTypeValue_Diameter) text += " dia";
    const XCAFDimTolObjects_GeomToleranceModifiersSequence modifiers = o->GetModifiers();
    for (const auto m : modifiers) text += m == XCAFDimTolObjects_GeomToleranceModif_Common_Zone ? " CZ" : " ?";
    if (o->GetMaterialRequirementModifier() == XCAFDimTolObjects_GeomToleranceMatReqModif_M) text += " M";
    TDF_LabelSequence datums;
    tool_->GetDatumWithObjectOfTolerLabels(label, datums);
    std::map<int, std::string> places;
    for (const TDF_Label& l : datums) {
      Handle(XCAFDoc_Datum) datum;
      if (!l.FindAttribute(XCAFDoc_Datum::GetID(), datum)) continue;
      const Handle(XCAFDimTolObjects_DatumObject) d = datum->GetObject();
      TDF_LabelSequence first, second;
      tool_->GetRefShapeLabel(l, first, second);
      places[d->GetPosition()] += std::string(" ") + d->GetName()->ToCString() + "{" + counted(first) + "}";
    }
    if (!places.empty()) text += " to";
    for (const auto& [place, datum] : places) text += datum;
    return text + " on " + faces(label);
  }

  Handle(TDocStd_Document) document_ = new TDocStd_Document("BinXCAF");
  Handle(XCAFDoc_DimTolTool) tool_;
};

}  // namespace

std::vector<std::string> limits_by_xcaf(const std::string& step) { return Document(step).lines(); }

}  // namespace groovewright::readers
