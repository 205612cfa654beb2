// kernel_loader.h: the solid kernel, loaded when it is first asked for.
#pragma once

#include <thread>

#include "groovewright/solid.h"

namespace groovewright::cli {

/// The kernel from the module beside the program. Loaded once a process. Throws std::runtime_error where that fails.
[[nodiscard]] const solid::Kernel& load_kernel();

/// Begins to load it on another thread, so that it is there when `load_kernel` is called. End its life, which waits for
/// that thread, before a fork.
class KernelAhead {
 public:
  KernelAhead();
  ~KernelAhead();
  KernelAhead(const KernelAhead&) = delete;
  KernelAhead& operator=(const KernelAhead&) = delete;

 private:
  std::thread thread_;
};

}  // namespace groovewright::cli
