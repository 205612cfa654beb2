// sha256.h: FIPS 180-4 SHA-256, for the manifest.
#pragma once

#include <string>
#include <string_view>

namespace groovewright {

/// The digest as 64 lower-case hexadecimal digits.
[[nodiscard]] std::string sha256(std::string_view bytes);

}  // namespace groovewright
