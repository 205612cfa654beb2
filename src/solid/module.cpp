// The loadable kernel: one exported function, everything else stays inside.
#include "groovewright/solid.h"

extern "C" __attribute__((visibility("default"))) groovewright::solid::Kernel* groovewright_make_kernel() {
  return groovewright::solid::make_kernel().release();
}
