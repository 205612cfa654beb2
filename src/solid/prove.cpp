#include <BRepAdaptor_Surface.hxx>
#include <BRepCheck.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepCheck_ListIteratorOfListOfStatus.hxx>
#include <BRepCheck_ListOfStatus.hxx>
#include <BRepCheck_Result.hxx>
#include <BRepGProp.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <GeomAdaptor_Surface.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>

#include <array>
#include <sstream>

#include "impl.h"

namespace groovewright::solid {
namespace {

void count_kind(const TopoDS_Face& face, Proof& proof) {
  ++proof.faces;
  switch (GeomAdaptor_Surface(BRep_Tool::Surface(face)).GetType()) {
    case GeomAbs_Plane:
      ++proof.planes;
      return;
    case GeomAbs_Cylinder:
      ++proof.cylinders;
      return;
    case GeomAbs_Cone:
      ++proof.cones;
      return;
    case GeomAbs_Torus:
      ++proof.tori;
      return;
    default:
      ++proof.others;
  }
}

/// The first fault that the analyzer holds against any shape of one kind, "" if none.
std::string first_fault(const BRepCheck_Analyzer& check, const TopoDS_Shape& shape, TopAbs_ShapeEnum kind,
                        const char* name) {
  TopTools_IndexedMapOfShape parts;
  TopExp::MapShapes(shape, kind, parts);
  for (int i = 1; i <= parts.Extent(); ++i) {
    const Handle(BRepCheck_Result)& result = check.Result(parts(i));
    if (result.IsNull()) continue;
    std::vector<BRepCheck_ListOfStatus> lists{result->Status()};
    for (result->InitContextIterator(); result->MoreShapeInContext(); result->NextShapeInContext()) {
      lists.push_back(result->StatusOnShape());
    }
    for (const BRepCheck_ListOfStatus& list : lists) {
      for (BRepCheck_ListIteratorOfListOfStatus s(list); s.More(); s.Next()) {
        if (s.Value() == BRepCheck_NoError) continue;
        std::ostringstream text;
        BRepCheck::Print(s.Value(), text);
        std::string fault = text.str();
        while (!fault.empty() && (fault.back() == '\n' || fault.back() == ' ')) fault.pop_back();
        return std::string(name) + " " + std::to_string(i) + ": " + fault;
      }
    }
  }
  return "";
}

std::string complaint_of(const BRepCheck_Analyzer& check, const TopoDS_Shape& shape) {
  constexpr std::array<std::pair<TopAbs_ShapeEnum, const char*>, 6> kKinds{{{TopAbs_VERTEX, "vertex"},
                                                                            {TopAbs_EDGE, "edge"},
                                                                            {TopAbs_WIRE, "wire"},
                                                                            {TopAbs_FACE, "face"},
                                                                            {TopAbs_SHELL, "shell"},
                                                                            {TopAbs_SOLID, "solid"}}};
  for (const auto& [kind, name] : kKinds) {
    if (std::string fault = first_fault(check, shape, kind, name); !fault.empty()) return fault;
  }
  return "the kernel's checker finds the shape invalid";
}

}  // namespace

Proof prove(const TopoDS_Shape& shape) {
  Proof proof;
  const BRepCheck_Analyzer check(shape);
  proof.valid = check.IsValid();
  if (!proof.valid) proof.complaint = complaint_of(check, shape);
  for (TopExp_Explorer f(shape, TopAbs_FACE); f.More(); f.Next()) count_kind(TopoDS::Face(f.Current()), proof);
  for (TopExp_Explorer s(shape, TopAbs_SOLID); s.More(); s.Next()) ++proof.solids;
  int shells = 0;
  proof.closed = true;
  for (TopExp_Explorer s(shape, TopAbs_SHELL); s.More(); s.Next(), ++shells) {
    if (!BRep_Tool::IsClosed(s.Current())) proof.closed = false;
  }
  proof.closed = proof.closed && shells > 0;
  if (!proof.closed && proof.complaint.empty()) proof.complaint = "the shell is open";
  GProp_GProps props;
  BRepGProp::VolumeProperties(shape, props);
  proof.volume = props.Mass();
  if (proof.volume <= 0 && proof.complaint.empty()) {
    proof.valid = false;
    proof.complaint = "the solid is inside out";
  }
  return proof;
}

}  // namespace groovewright::solid
