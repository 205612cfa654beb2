// module.h: parts of the program that are loaded when they are first needed.
#pragma once

namespace groovewright::cli {

/// The function `name` of the module `file`, which lies beside the program and then stays loaded. Throws
/// std::runtime_error, which names `what`, where either is missing.
[[nodiscard]] void* function_of(const char* file, const char* name, const char* what);

}  // namespace groovewright::cli
