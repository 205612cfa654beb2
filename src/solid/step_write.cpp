// Writes the B-rep as Part 21 text straight from the topology. The kernel's own writer needs ten times as long (it
// builds a model of objects first), stamps the time, and numbers products by a counter of the process.
#include <array>
#include <map>

#include <BRepTools.hxx>
#include <BRepTools_WireExplorer.hxx>
#include <BRep_Tool.hxx>
#include <GeomAbs_SurfaceType.hxx>
#include <Geom_BSplineCurve.hxx>
#include <Geom_Circle.hxx>
#include <Geom_ConicalSurface.hxx>
#include <Geom_CylindricalSurface.hxx>
#include <Geom_Ellipse.hxx>
#include <Geom_Hyperbola.hxx>
#include <Geom_Line.hxx>
#include <Geom_Plane.hxx>
#include <Geom_ToroidalSurface.hxx>
#include <Geom_TrimmedCurve.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_DataMapOfShapeInteger.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Shell.hxx>
#include <TopoDS_Wire.hxx>
#include <gp_Circ.hxx>
#include <gp_Elips.hxx>
#include <gp_Hypr.hxx>
#include <gp_Lin.hxx>

#include "groovewright/base/broken.h"
#include "impl.h"
#include "limit_faces.h"
#include "part21.h"

namespace groovewright::solid {
namespace {

Fields named() { return Fields().text(""); }

/// Geometry and topology as instances; a vertex, an edge or a direction is written once.
class BrepWriter {
 public:
  explicit BrepWriter(Part21& out) : out_(out) {}

  Ref placement(const gp_Pnt& at, const gp_Dir& z, const gp_Dir& x) {
    const Ref p = point(at), dz = direction(z), dx = direction(x);
    return out_.add("AXIS2_PLACEMENT_3D", named().ref(p).ref(dz).ref(dx));
  }

  Ref shell(const TopoDS_Shape& shell) {
    std::vector<Ref> faces;
    for (TopExp_Explorer f(shell, TopAbs_FACE); f.More(); f.Next()) faces.push_back(face(TopoDS::Face(f.Current())));
    return out_.add("CLOSED_SHELL", named().refs(faces));
  }

  struct Written {
    TopoDS_Face face;
    Ref ref;
  };
  [[nodiscard]] const std::vector<Written>& faces() const { return faces_; }

 private:
  Ref point(const gp_Pnt& p) { return out_.add("CARTESIAN_POINT", named().reals({p.X(), p.Y(), p.Z()})); }

  Ref direction(const gp_Dir& d) {
    const std::array<double, 3> key{d.X(), d.Y(), d.Z()};
    const auto [at, is_new] = directions_.try_emplace(key);
    if (is_new) at->second = out_.add("DIRECTION", named().reals({d.X(), d.Y(), d.Z()}));
    return at->second;
  }

  Ref placement(const gp_Ax2& a) { return placement(a.Location(), a.Direction(), a.XDirection()); }
  Ref placement(const gp_Ax3& a) {
    require(a.Direct(), "a left-handed surface cannot be written as STEP");
    return placement(a.Ax2());
  }

  Ref curve(Handle(Geom_Curve) c) {
    while (const Handle(Geom_TrimmedCurve) trimmed = Handle(Geom_TrimmedCurve)::DownCast(c)) c = trimmed->BasisCurve();
    if (const Handle(Geom_Line) line = Handle(Geom_Line)::DownCast(c)) {
      const Ref at = point(line->Lin().Location());
      const Ref along = out_.add("VECTOR", named().ref(direction(line->Lin().Direction())).real(1));
      return out_.add("LINE", named().ref(at).ref(along));
    }
    if (const Handle(Geom_Circle) circle = Handle(Geom_Circle)::DownCast(c)) {
      return out_.add("CIRCLE", named().ref(placement(circle->Circ().Position())).real(circle->Radius()));
    }
    if (const Handle(Geom_Ellipse) e = Handle(Geom_Ellipse)::DownCast(c)) {
      return out_.add("ELLIPSE",
                      named().ref(placement(e->Elips().Position())).real(e->MajorRadius()).real(e->MinorRadius()));
    }
    if (const Handle(Geom_Hyperbola) h = Handle(Geom_Hyperbola)::DownCast(c)) {
      return out_.add("HYPERBOLA",
                      named().ref(placement(h->Hypr().Position())).real(h->MajorRadius()).real(h->MinorRadius()));
    }
    if (const Handle(Geom_BSplineCurve) b = Handle(Geom_BSplineCurve)::DownCast(c); !b.IsNull() && !b->IsRational()) {
      return spline(*b);
    }
    throw Broken(std::string("no STEP form for a curve of kind ") + c->DynamicType()->Name());
  }

  /// Where a slot's side crosses a torus: no conic.
  Ref spline(const Geom_BSplineCurve& b) {
    std::vector<Ref> poles;
    for (int i = 1; i <= b.NbPoles(); ++i) poles.push_back(point(b.Pole(i)));
    Fields multiplicities, knots;
    for (int i = 1; i <= b.NbKnots(); ++i) {
      multiplicities.raw(std::to_string(b.Multiplicity(i)));
      knots.real(b.Knot(i));
    }
    return out_.add("B_SPLINE_CURVE_WITH_KNOTS", named()
                                                     .raw(std::to_string(b.Degree()))
                                                     .refs(poles)
                                                     .raw(".UNSPECIFIED.")
                                                     .flag(b.IsClosed())
                                                     .flag(false)
                                                     .nested(multiplicities)
                                                     .nested(knots)
                                                     .raw(".UNSPECIFIED."));
  }

  Ref surface(const Handle(Geom_Surface) & s) {
    if (const Handle(Geom_Plane) p = Handle(Geom_Plane)::DownCast(s)) {
      // A left-handed plane has the same points; only its normal counts, and that is dU x dV.
      const gp_Ax3& a = p->Position();
      const gp_Dir normal = a.Direct() ? a.Direction() : a.Direction().Reversed();
      return out_.add("PLANE", named().ref(placement(a.Location(), normal, a.XDirection())));
    }
    if (const Handle(Geom_CylindricalSurface) c = Handle(Geom_CylindricalSurface)::DownCast(s)) {
      return out_.add("CYLINDRICAL_SURFACE", named().ref(placement(c->Position())).real(c->Radius()));
    }
    if (const Handle(Geom_ConicalSurface) c = Handle(Geom_ConicalSurface)::DownCast(s)) {
      require(c->SemiAngle() > 0, "a cone with a negative angle cannot be written as STEP");
      return out_.add("CONICAL_SURFACE",
                      named().ref(placement(c->Position())).real(c->RefRadius()).real(c->SemiAngle()));
    }
    if (const Handle(Geom_ToroidalSurface) t = Handle(Geom_ToroidalSurface)::DownCast(s)) {
      return out_.add("TOROIDAL_SURFACE",
                      named().ref(placement(t->Position())).real(t->MajorRadius()).real(t->MinorRadius()));
    }
    throw Broken(std::string("no STEP form for a surface of kind ") + s->DynamicType()->Name());
  }

  Ref vertex(const TopoDS_Vertex& v) {
    const TopoDS_Shape key = v.Oriented(TopAbs_FORWARD);
    if (const int* known = written_.Seek(key)) return {*known};
    const Ref r = out_.add("VERTEX_POINT", named().ref(point(BRep_Tool::Pnt(v))));
    written_.Bind(key, r.number);
    return r;
  }

  Ref edge(const TopoDS_Edge& e) {
    const TopoDS_Edge forward = TopoDS::Edge(e.Oriented(TopAbs_FORWARD));
    if (const int* known = written_.Seek(forward)) return {*known};
    double first = 0, last = 0;
    const Ref a = vertex(TopExp::FirstVertex(forward)), b = vertex(TopExp::LastVertex(forward));
    const Ref c = curve(BRep_Tool::Curve(forward, first, last));
    const Ref r = out_.add("EDGE_CURVE", named().ref(a).ref(b).ref(c).flag(true));
    written_.Bind(forward, r.number);
    return r;
  }

  Ref loop(const TopoDS_Wire& wire, const TopoDS_Face& face) {
    std::vector<Ref> edges;
    for (BRepTools_WireExplorer e(wire, face); e.More(); e.Next()) {
      // A cone's tip needs an edge in the kernel only.
      if (BRep_Tool::Degenerated(e.Current())) continue;
      const Ref r = edge(e.Current());
      edges.push_back(out_.add("ORIENTED_EDGE",
                               named().raw("*").raw("*").ref(r).flag(e.Current().Orientation() == TopAbs_FORWARD)));
    }
    return out_.add("EDGE_LOOP", named().refs(edges));
  }

  Ref face(const TopoDS_Face& f) {
    // Loops of a reversed face are walked as they stand about its own normal, as Part 42 wants.
    std::vector<Ref> bounds;
    const TopoDS_Wire outer = BRepTools::OuterWire(f);
    for (TopExp_Explorer w(f, TopAbs_WIRE); w.More(); w.Next()) {
      const Ref l = loop(TopoDS::Wire(w.Current()), f);
      bounds.push_back(
          out_.add(w.Current().IsSame(outer) ? "FACE_OUTER_BOUND" : "FACE_BOUND", named().ref(l).flag(true)));
    }
    const Ref s = surface(BRep_Tool::Surface(f));
    const Ref r = out_.add("ADVANCED_FACE", named().refs(bounds).ref(s).flag(f.Orientation() == TopAbs_FORWARD));
    faces_.push_back({f, r});
    return r;
  }

  Part21& out_;
  std::map<std::array<double, 3>, Ref> directions_;
  TopTools_DataMapOfShapeInteger written_;
  std::vector<Written> faces_;
};

struct Product {
  Ref definition;
  Ref shape;
};

Product write_product(Part21& out, const Label& label) {
  const Ref application = out.add("APPLICATION_CONTEXT", Fields().text("managed model based 3d engineering"));
  out.add("APPLICATION_PROTOCOL_DEFINITION", Fields()
                                                 .text("international standard")
                                                 .text("ap242_managed_model_based_3d_engineering")
                                                 .raw("2014")
                                                 .ref(application));
  const Ref context = out.add("PRODUCT_CONTEXT", named().ref(application).text("mechanical"));
  const Ref product =
      out.add("PRODUCT", Fields().text(label.name).text(label.name).text(label.description).refs({context}));
  out.add("PRODUCT_RELATED_PRODUCT_CATEGORY", Fields().text("part").raw("$").refs({product}));
  const Ref formation = out.add("PRODUCT_DEFINITION_FORMATION", Fields().text("1").text("").ref(product));
  const Ref stage =
      out.add("PRODUCT_DEFINITION_CONTEXT", Fields().text("part definition").ref(application).text("design"));
  const Ref definition = out.add("PRODUCT_DEFINITION", Fields().text("design").text("").ref(formation).ref(stage));
  return {definition, out.add("PRODUCT_DEFINITION_SHAPE", Fields().text("").text("").ref(definition))};
}

struct Context {
  Ref representation, millimetre;
};

/// Millimetres, radians, and how near points must be to be one.
Context write_context(Part21& out) {
  const Ref length = out.add_complex("LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.)");
  const Ref angle = out.add_complex("NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.)");
  const Ref solid_angle = out.add_complex("NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT()");
  const Ref uncertainty =
      out.add("UNCERTAINTY_MEASURE_WITH_UNIT", Fields()
                                                   .raw("LENGTH_MEASURE(" + part21_real(kTolerance) + ")")
                                                   .ref(length)
                                                   .text("distance_accuracy_value")
                                                   .text("confusion accuracy"));
  return {
      out.add_complex("GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT" +
                      Fields().refs({uncertainty}).in_parentheses() + "GLOBAL_UNIT_ASSIGNED_CONTEXT" +
                      Fields().refs({length, angle, solid_angle}).in_parentheses() + "REPRESENTATION_CONTEXT('','3D')"),
      length};
}

void write_colour(Part21& out, const Label& label, Ref solid, Ref context) {
  const Ref colour = out.add("COLOUR_RGB", named().real(label.red).real(label.green).real(label.blue));
  const Ref fill_colour = out.add("FILL_AREA_STYLE_COLOUR", named().ref(colour));
  const Ref fill = out.add("FILL_AREA_STYLE", named().refs({fill_colour}));
  const Ref area = out.add("SURFACE_STYLE_FILL_AREA", Fields().ref(fill));
  const Ref side = out.add("SURFACE_SIDE_STYLE", named().refs({area}));
  const Ref usage = out.add("SURFACE_STYLE_USAGE", Fields().raw(".BOTH.").ref(side));
  const Ref style = out.add("PRESENTATION_STYLE_ASSIGNMENT", Fields().refs({usage}));
  const Ref styled = out.add("STYLED_ITEM", Fields().text("color").refs({style}).ref(solid));
  out.add("MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION", named().refs({styled}).ref(context));
}

void write_property(Part21& out, const char* name, Ref definition, Ref item, Ref context) {
  const Ref property = out.add("PROPERTY_DEFINITION", Fields().text("material property").text(name).ref(definition));
  const Ref representation = out.add("REPRESENTATION", Fields().text(name).refs({item}).ref(context));
  out.add("PROPERTY_DEFINITION_REPRESENTATION", Fields().ref(property).ref(representation));
}

/// As the CAx-IF's recommended practice for material identification and density has it; density in kg/m³.
void write_material(Part21& out, const Label& label, Ref definition, Ref context) {
  const Ref name = out.add("DESCRIPTIVE_REPRESENTATION_ITEM", Fields().text(label.material).text(label.material));
  write_property(out, "material name", definition, name, context);
  const Ref mass = out.add_complex("MASS_UNIT()NAMED_UNIT(*)SI_UNIT(.KILO.,.GRAM.)");
  const Ref metre = out.add_complex("LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT($,.METRE.)");
  const Ref per_mass = out.add("DERIVED_UNIT_ELEMENT", Fields().ref(mass).real(1));
  const Ref per_volume = out.add("DERIVED_UNIT_ELEMENT", Fields().ref(metre).real(-3));
  const Ref unit = out.add("DERIVED_UNIT", Fields().refs({per_mass, per_volume}));
  constexpr double kPerCubicMetre = 1e9;
  const Ref density = out.add("MEASURE_REPRESENTATION_ITEM",
                              Fields()
                                  .text("density measure")
                                  .raw("POSITIVE_RATIO_MEASURE(" + part21_real(label.density * kPerCubicMetre) + ")")
                                  .ref(unit));
  write_property(out, "density", definition, density, context);
}

}  // namespace

std::string write_step(const TopoDS_Shape& shape, const Label& label, const Limits& limits) {
  Part21 out;
  const Product product = write_product(out, label);
  const auto [context, millimetre] = write_context(out);
  BrepWriter brep(out);
  const Ref origin = brep.placement(gp::Origin(), gp::DZ(), gp::DX());
  std::vector<Ref> items{origin};
  for (TopExp_Explorer s(shape, TopAbs_SHELL); s.More(); s.Next()) {
    const Ref shell = brep.shell(s.Current());
    items.push_back(out.add("MANIFOLD_SOLID_BREP", Fields().text(label.name).ref(shell)));
    write_colour(out, label, items.back(), context);
  }
  require(items.size() > 1, "nothing to write: the shape has no shell");
  const Ref representation =
      out.add("ADVANCED_BREP_SHAPE_REPRESENTATION", Fields().text(label.name).refs(items).ref(context));
  out.add("SHAPE_DEFINITION_REPRESENTATION", Fields().ref(product.shape).ref(representation));
  if (!label.material.empty()) write_material(out, label, product.definition, context);
  if (!limits.empty()) {
    Anchors anchors{{}, product.shape, representation, context, millimetre};
    for (const auto& [face, ref] : brep.faces()) anchors.faces.push_back({wall_of(face), ref});
    write_limits(out, limits, anchors);
  }
  return out.file(label);
}

}  // namespace groovewright::solid
