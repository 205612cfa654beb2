// print_step MODULE: loads the kernel module as the program does and prints the STEP text of one pulley. Run in other
// surroundings it must print the same bytes.
#include <dlfcn.h>

#include <cstdio>
#include <exception>
#include <memory>

#include "../mesh_bodies.h"
#include "groovewright/solid.h"

using namespace groovewright;

int main(int argc, char** argv) {
  void* module = argc == 2 ? dlopen(argv[1], RTLD_NOW | RTLD_LOCAL) : nullptr;
  if (!module) return 2;
  const auto factory = reinterpret_cast<solid::Factory>(dlsym(module, solid::kFactory));
  if (!factory) return 2;
  try {
    const std::unique_ptr<solid::Kernel> kernel(factory());
    const std::string text = kernel->to_step(
        kernel->make(bodies::pulley()),
        {.name = "pulley", .description = "", .material = "steel", .density = 7.85e-6, .program = "test"});
    return std::fwrite(text.data(), 1, text.size(), stdout) == text.size() ? 0 : 3;
  } catch (const std::exception& e) {
    std::fputs(e.what(), stderr);
    return 3;
  }
}
