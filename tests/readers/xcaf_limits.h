// xcaf_limits.h: the requirements in a STEP text as the kernel's document reader finds them, a line each. It shares
// nothing with room `solid`: it makes its own shapes, and finds the faces by its own walk through the entities.
#pragma once

#include <string>
#include <vector>

namespace groovewright::readers {

/// "diameter 48 -0 +0.025 on 1 cylinder r24", "position 0.3 dia CZ M to B{1 flat z12} A{1 cylinder r24} on 6 hole
/// r3.3". A size that the reader has no type for is "size". Lower deviations without their sign: the reader drops it.
[[nodiscard]] std::vector<std::string> limits_by_xcaf(const std::string& step);

}  // namespace groovewright::readers
