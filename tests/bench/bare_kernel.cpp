// The yardstick: what a good plain user of the kernel would write for a ribbed pulley with flanges, web, hub, register
// and counterbored holes. Revolve the half-section, cut all holes at once, mesh, write STEP and STL. Nothing is
// checked, and nothing of ours is used. Lengths mm.
//
//   bare_kernel [ribs [holes [folder]]]      defaults: 8 6 .     Stages go to stderr in ms.
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepMesh_IncrementalMesh.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <Interface_Static.hxx>
#include <STEPControl_Controller.hxx>
#include <STEPControl_Writer.hxx>
#include <StlAPI_Writer.hxx>
#include <TopTools_ListOfShape.hxx>
#include <gp_Ax1.hxx>
#include <gp_Circ.hxx>
#include <gp_Pnt.hxx>

namespace {

constexpr double kPi = 3.14159265358979323846;
constexpr double kPitch = 3.56, kHalfAngle = 20 * kPi / 180, kCrestRadius = 0.25, kRootRadius = 0.5;
constexpr double kOutside = 75, kFlange = 79, kFlangeWidth = 2, kEdgeDistance = 3.3;
constexpr double kHub = 40, kRimInside = 64, kWeb = 10, kFillet = 3;
constexpr double kBore = 15, kRegister = 17.5, kRegisterDepth = 6;
constexpr double kBoltCircle = 30, kBolt = 4.5, kHead = 7.5, kHeadDepth = 9;

struct Corner {
  double z, r, fillet;
};

gp_Pnt point(double z, double r) { return {r, 0, z}; }

/// The closed half-section with rounded corners: tangent points by hand, arcs between.
TopoDS_Face section(const std::vector<Corner>& c) {
  const std::size_t n = c.size();
  std::vector<gp_Pnt> in(n), out(n), centre(n);
  for (std::size_t i = 0; i < n; ++i) {
    const Corner &before = c[(i + n - 1) % n], &here = c[i], &after = c[(i + 1) % n];
    const gp_Vec a = gp_Vec(point(here.z, here.r), point(before.z, before.r)).Normalized();
    const gp_Vec b = gp_Vec(point(here.z, here.r), point(after.z, after.r)).Normalized();
    const double half = a.Angle(b) / 2;
    const double back = here.fillet / std::tan(half);
    in[i] = point(here.z, here.r).Translated(a * back);
    out[i] = point(here.z, here.r).Translated(b * back);
    centre[i] = point(here.z, here.r).Translated((a + b).Normalized() * (here.fillet / std::sin(half)));
  }
  BRepBuilderAPI_MakeWire wire;
  for (std::size_t i = 0; i < n; ++i) {
    if (c[i].fillet > 0) {
      const gp_Vec a(centre[i], in[i]), b(centre[i], out[i]);
      const gp_Circ circle(gp_Ax2(centre[i], gp_Dir(a.Crossed(b))), c[i].fillet);
      wire.Add(BRepBuilderAPI_MakeEdge(circle, in[i], out[i]).Edge());
    }
    wire.Add(BRepBuilderAPI_MakeEdge(out[i], in[(i + 1) % n]).Edge());
  }
  return BRepBuilderAPI_MakeFace(wire.Wire(), true).Face();
}

std::vector<Corner> pulley(int ribs) {
  const double width = 2 * (kFlangeWidth + kEdgeDistance) + kPitch * (ribs - 1), middle = width / 2;
  const double over = kCrestRadius * (1 / std::sin(kHalfAngle) - 1), lean = std::tan(kHalfAngle);
  const double crest = kOutside + over, root = crest - kPitch / 2 / lean;
  std::vector<Corner> c{{0, kBore, 0},
                        {width - kRegisterDepth, kBore, 0},
                        {width - kRegisterDepth, kRegister, 0},
                        {width, kRegister, 0},
                        {width, kHub, 0},
                        {middle + kWeb / 2, kHub, kFillet},
                        {middle + kWeb / 2, kRimInside, kFillet},
                        {width, kRimInside, 0},
                        {width, kFlange, 0},
                        {width - kFlangeWidth, kFlange, 0},
                        {width - kFlangeWidth, kOutside, 0}};
  for (int i = ribs - 1; i >= 0; --i) {
    const double z = kFlangeWidth + kEdgeDistance + kPitch * i;
    if (i == ribs - 1) c.push_back({z + kPitch / 2 - over * lean, kOutside, kCrestRadius});
    c.push_back({z, root, kRootRadius});
    c.push_back(i > 0 ? Corner{z - kPitch / 2, crest, kCrestRadius}
                      : Corner{z - kPitch / 2 + over * lean, kOutside, kCrestRadius});
  }
  c.insert(c.end(), {{kFlangeWidth, kOutside, 0},
                     {kFlangeWidth, kFlange, 0},
                     {0, kFlange, 0},
                     {0, kRimInside, 0},
                     {middle - kWeb / 2, kRimInside, kFillet},
                     {middle - kWeb / 2, kHub, kFillet},
                     {0, kHub, 0}});
  return c;
}

/// One counterbored hole's metal: a stepped pin.
TopoDS_Shape pin(double width, double angle) {
  const TopoDS_Face profile = section({{-1, 0, 0},
                                       {width + 1, 0, 0},
                                       {width + 1, kBolt, 0},
                                       {kHeadDepth, kBolt, 0},
                                       {kHeadDepth, kHead, 0},
                                       {-1, kHead, 0}});
  gp_Trsf move;
  move.SetTranslation(gp_Vec(kBoltCircle * std::cos(angle), kBoltCircle * std::sin(angle), 0));
  return BRepPrimAPI_MakeRevol(profile, gp::OZ()).Shape().Moved(move);
}

class Clock {
 public:
  void stage(const char* name) {
    const auto now = std::chrono::steady_clock::now();
    std::fprintf(stderr, "%-8s %8.1f ms\n", name, std::chrono::duration<double, std::milli>(now - last_).count());
    last_ = now;
  }

 private:
  std::chrono::steady_clock::time_point last_ = std::chrono::steady_clock::now();
};

}  // namespace

int main(int argc, char** argv) {
  const int ribs = argc > 1 ? std::atoi(argv[1]) : 8, holes = argc > 2 ? std::atoi(argv[2]) : 6;
  const std::string folder = argc > 3 ? argv[3] : ".";
  const double width = 2 * (kFlangeWidth + kEdgeDistance) + kPitch * (ribs - 1);
  Clock clock;
  TopoDS_Shape part = BRepPrimAPI_MakeRevol(section(pulley(ribs)), gp::OZ()).Shape();
  clock.stage("revolve");
  if (holes > 0) {
    TopTools_ListOfShape whole, pins;
    whole.Append(part);
    for (int i = 0; i < holes; ++i) pins.Append(pin(width, 2 * kPi * i / holes));
    BRepAlgoAPI_Cut cut;
    cut.SetArguments(whole);
    cut.SetTools(pins);
    cut.Build();
    part = cut.Shape();
  }
  clock.stage("cut");
  BRepMesh_IncrementalMesh(part, 0.05, false, 0.2);
  clock.stage("mesh");
  StlAPI_Writer stl;
  stl.ASCIIMode() = false;
  if (!stl.Write(part, (folder + "/bare.stl").c_str())) return 1;
  clock.stage("stl");
  STEPControl_Controller::Init();
  Interface_Static::SetCVal("write.step.schema", "AP242DIS");
  STEPControl_Writer step;
  step.Transfer(part, STEPControl_ManifoldSolidBrep);
  if (step.Write((folder + "/bare.step").c_str()) != IFSelect_RetDone) return 1;
  clock.stage("step");
  return 0;
}
