// pdf_loader.h: the PDF writer and its font, loaded when they are first asked for.
#pragma once

#include <string>

#include "groovewright/ink.h"

namespace groovewright::cli {

/// The page as PDF, by the module beside the program. Module and font are read once a process. Throws
/// std::runtime_error where one of them can't be.
[[nodiscard]] std::string write_pdf(const plane::Page& page, const Typeface& typeface);

/// The bytes of the drawing font at `path`; std::runtime_error, which says what to install, where there is none.
[[nodiscard]] std::string read_font(const std::string& path);

}  // namespace groovewright::cli
