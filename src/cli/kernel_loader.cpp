#include "kernel_loader.h"

#include <exception>
#include <memory>

#include "module.h"

namespace groovewright::cli {
namespace {

std::unique_ptr<solid::Kernel> load() {
  return std::unique_ptr<solid::Kernel>(
      reinterpret_cast<solid::Factory>(function_of(solid::kModuleFile, solid::kFactory, "the solid kernel"))());
}

}  // namespace

const solid::Kernel& load_kernel() {
  // Kept for the life of the process: the kernel's libraries are not made to be unloaded.
  static const std::unique_ptr<solid::Kernel> kernel = load();
  return *kernel;
}

// What goes wrong here goes wrong again, and is told, where the kernel is needed.
KernelAhead::KernelAhead()
    : thread_([] {
        try {
          static_cast<void>(load_kernel());
        } catch (const std::exception&) {
          return;
        }
      }) {}

KernelAhead::~KernelAhead() { thread_.join(); }

}  // namespace groovewright::cli
