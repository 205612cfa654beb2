#include "kernel_loader.h"

#include <dlfcn.h>

#include <filesystem>
#include <stdexcept>

namespace groovewright::cli {
namespace {

namespace fs = std::filesystem;

std::unique_ptr<solid::Kernel> load() {
  const fs::path module = fs::read_symlink("/proc/self/exe").parent_path() / solid::kModuleFile;
  void* library = dlopen(module.c_str(), RTLD_NOW | RTLD_LOCAL);
  if (!library) throw std::runtime_error(std::string("the solid kernel can't be loaded: ") + dlerror());
  const auto factory = reinterpret_cast<solid::Factory>(dlsym(library, solid::kFactory));
  if (!factory) throw std::runtime_error(module.string() + " is no kernel of this program");
  return std::unique_ptr<solid::Kernel>(factory());
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
