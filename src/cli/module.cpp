#include "module.h"

#include <dlfcn.h>

#include <filesystem>
#include <stdexcept>
#include <string>

namespace groovewright::cli {

void* function_of(const char* file, const char* name, const char* what) {
  const auto path = std::filesystem::read_symlink("/proc/self/exe").parent_path() / file;
  void* library = dlopen(path.c_str(), RTLD_NOW | RTLD_LOCAL);
  if (!library) throw std::runtime_error(std::string(what) + " can't be loaded: " + dlerror());
  void* function = dlsym(library, name);
  if (!function) throw std::runtime_error(path.string() + " is not " + what + " of this program");
  return function;
}

}  // namespace groovewright::cli
