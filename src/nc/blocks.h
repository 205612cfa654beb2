// blocks.h: comments and words as text that every control can read.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace groovewright::nc {

/// Comments "(…)", in order; a long text is cut between words.
[[nodiscard]] std::vector<std::string> comments(std::string_view text);

}  // namespace groovewright::nc
