#include <istream>
#include <streambuf>

#include <STEPControl_Controller.hxx>
#include <STEPControl_Reader.hxx>
#include <ShapeFix_Shape.hxx>
#include <Transfer_TransientProcess.hxx>
#include <XSAlgo.hxx>
#include <XSAlgo_AlgoContainer.hxx>
#include <XSAlgo_ToolContainer.hxx>

#include "groovewright/base/broken.h"
#include "impl.h"
#include "limit_faces.h"

namespace groovewright::solid {
namespace {

/// Reads a text where it lies.
class TextBuffer : public std::streambuf {
 public:
  explicit TextBuffer(std::string_view text) {
    char* begin = const_cast<char*>(text.data());  // a get area is never written
    setg(begin, begin, begin + text.size());
  }
};

/// Leaves the shape as it was read. The reader would heal it at once, which takes half of its time, and whoever only
/// measures does not need that.
class Unhealed : public XSAlgo_AlgoContainer {
 public:
  TopoDS_Shape ProcessShape(const TopoDS_Shape& shape, Standard_Real, Standard_Real, Standard_CString, Standard_CString,
                            Handle(Standard_Transient) &, const Message_ProgressRange&,
                            Standard_Boolean) const override {
    return shape;
  }
  void MergeTransferInfo(const Handle(Transfer_TransientProcess) &, const Handle(Standard_Transient) &,
                         Standard_Integer) const override {}
};

}  // namespace

TopoDS_Shape healed(const TopoDS_Shape& as_read) {
  ShapeFix_Shape fix(as_read);
  fix.Perform();
  return fix.Shape();
}

Shape::Impl read_step(std::string_view text) {
  STEPControl_Controller::Init();  // installs the kernel's own container, so ours comes after
  XSAlgo::SetAlgoContainer(new Unhealed);
  STEPControl_Reader reader;
  TextBuffer buffer(text);
  std::istream in(&buffer);
  require(reader.ReadStream("solid.step", in) == IFSelect_RetDone, "the kernel cannot read this STEP text");
  reader.TransferRoots();
  require(reader.NbShapes() > 0, "the STEP text holds no shape that the kernel can build");
  return {reader.OneShape(), true, entities_with_limits(reader.Model())};
}

}  // namespace groovewright::solid
