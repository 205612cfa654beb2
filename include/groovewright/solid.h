// solid.h: the B-rep, without a word of the kernel: this door includes nothing of it, so a program can load the kernel
// on demand. Lengths mm.
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "groovewright/plane.h"
#include "groovewright/solid/limits.h"

namespace groovewright::solid {

/// Immutable and cheap to copy.
class Shape {
 public:
  struct Impl;
  explicit Shape(std::shared_ptr<const Impl> impl) : impl_(std::move(impl)) {}
  [[nodiscard]] const Impl& impl() const { return *impl_; }

 private:
  std::shared_ptr<const Impl> impl_;
};

/// What the STEP file says of the product.
struct Label {
  std::string name;  ///< product id and name
  std::string description;
  std::string material;  ///< material name
  double density = 0;    ///< kg/mm³
  double red = 0.7, green = 0.7, blue = 0.72;
  std::string program;  ///< "groovewright 0.1.0": preprocessor in the header
};

struct Proof {
  bool valid = false;  ///< the kernel's checker found nothing
  bool closed = false;
  int solids = 0;
  int faces = 0;
  int planes = 0, cylinders = 0, cones = 0, tori = 0, others = 0;
  double volume = 0;      ///< mm³, by the kernel's integration
  std::string complaint;  ///< first thing the checker found, "" if none
};

/// The kernel behind an abstract door. Methods throw `Broken` when the kernel gives up.
class Kernel {
 public:
  virtual ~Kernel() = default;
  /// Planes, cylinders, cones and tori only. Requires: mouths in flat walls and apart; arcs of the section clear of the
  /// axis; slots that leave the part in one piece (one that misses it changes nothing). Broken with the id otherwise.
  [[nodiscard]] virtual Shape make(const plane::TurnedBody& body) const = 0;
  [[nodiscard]] virtual Proof prove(const Shape& shape) const = 0;
  /// Part 21 text of AP242, with colour, material and density; same bytes for the same shape, label and limits. The
  /// limits are semantic PMI (ISO 10303-242, in the forms of the CAx-IF's recommended practices), each bound to its
  /// faces. Requires: a shape from `make`, or one read from a file of the same kinds of surface. Broken, with the id or
  /// letter, where a wall of a requirement has no face.
  [[nodiscard]] virtual std::string to_step(const Shape& shape, const Label& label, const Limits& limits) const = 0;
  [[nodiscard]] std::string to_step(const Shape& shape, const Label& label) const { return to_step(shape, label, {}); }
  /// All shapes of the text, in mm whatever its unit. Broken where there is none.
  [[nodiscard]] virtual Shape from_step(std::string_view text) const = 0;
  /// The requirements in the file that the shape was read from, in the file's order; those of kinds that `Limits` does
  /// not know are left out. None for a shape from `make`. Requires: a file in mm.
  [[nodiscard]] virtual Limits limits(const Shape& shape) const = 0;
  /// Generators of the conical faces about the Z axis, as for mesh::generators: lean between `least` and `most` from a
  /// plane square to the axis; metal to the left; sorted by Z of the middle.
  [[nodiscard]] virtual std::vector<plane::Generator> generators(const Shape& shape, double least_rad,
                                                                 double most_rad) const = 0;
};

/// The kernel, for those who link it. Programs that load it on demand use `kFactory`.
[[nodiscard]] std::unique_ptr<Kernel> make_kernel();

/// The module's file, beside the program.
inline constexpr const char* kModuleFile = "groovewright_kernel.so";
/// Name of the module's only exported function: `extern "C" groovewright::solid::Kernel* groovewright_make_kernel()`.
inline constexpr const char* kFactory = "groovewright_make_kernel";
using Factory = Kernel* (*)();

}  // namespace groovewright::solid
