#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Standard_Failure.hxx>

#include "groovewright/base/broken.h"
#include "impl.h"
#include "limit_faces.h"

namespace groovewright::solid {
namespace {

/// Runs a step of the kernel; its own failures leave as `Broken`.
template <class Step>
auto guarded(const char* what, Step step) {
  try {
    return step();
  } catch (const Standard_Failure& failure) {
    throw Broken(std::string(what) + ": " + failure.DynamicType()->Name() + ": " + failure.GetMessageString());
  }
}

Shape wrapped(Shape::Impl impl) { return Shape(std::make_shared<const Shape::Impl>(std::move(impl))); }

TopoDS_Shape whole(const Shape& shape) {
  return shape.impl().as_read ? healed(shape.impl().shape) : shape.impl().shape;
}

class OpenCascade final : public Kernel {
 public:
  OpenCascade() { Message::DefaultMessenger()->ChangePrinters().Clear(); }

  [[nodiscard]] Shape make(const plane::TurnedBody& body) const override {
    return guarded("making the solid", [&] { return wrapped({build(body)}); });
  }
  [[nodiscard]] Proof prove(const Shape& shape) const override {
    return guarded("proving the solid", [&] { return solid::prove(whole(shape)); });
  }
  [[nodiscard]] std::string to_step(const Shape& shape, const Label& label, const Limits& limits) const override {
    return guarded("writing STEP", [&] { return write_step(whole(shape), label, limits); });
  }
  [[nodiscard]] Shape from_step(std::string_view text) const override {
    return guarded("reading STEP", [&] { return wrapped(read_step(text)); });
  }
  [[nodiscard]] Limits limits(const Shape& shape) const override {
    return guarded("reading limits", [&] { return read_limits(shape.impl().entities); });
  }
  [[nodiscard]] std::vector<plane::Generator> generators(const Shape& shape, double least_rad,
                                                         double most_rad) const override {
    return guarded("measuring the solid", [&] { return find_generators(shape.impl().shape, least_rad, most_rad); });
  }
};

}  // namespace

std::unique_ptr<Kernel> make_kernel() { return std::make_unique<OpenCascade>(); }

}  // namespace groovewright::solid
