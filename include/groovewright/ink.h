// ink.h: any page as a file: SVG, DXF, PDF. The same page gives the same bytes each time.
//
// `to_svg` and `to_dxf` cost nothing at start. `to_pdf` brings in Cairo and FreeType; programs that want it only now
// and then load the module `kPdfModuleFile` instead of linking it.
#pragma once

#include <string>
#include <string_view>

#include "groovewright/base/typeface.h"
#include "groovewright/plane/page.h"

namespace groovewright::ink {

/// An SVG in mm, black on white. A view is a <g> with the view's id and title; an ink is a class. Coordinates are
/// rounded to 1e-4 mm. No script and no reference to anything outside: where the typeface is missing, another is fitted
/// into the words' width. Requires: width and height > 0; the views' ids are unique; the typeface has '?'.
[[nodiscard]] std::string to_svg(const plane::Page& page, const Typeface& typeface);

/// A DXF (AC1015) in mm. Everything is divided by the page's scale, so that the main views can be measured; an ink is a
/// layer. Coordinates are rounded to 1e-9 mm. Characters past U+FFFF, which the format can't tell, become '?'.
/// Requires: width, height and scale > 0; the typeface has '?'.
[[nodiscard]] std::string to_dxf(const plane::Page& page, const Typeface& typeface);

/// A PDF (1.5) of one sheet, with the used part of the font inside; text can be searched and copied. Letters stand
/// where the typeface's widths put them. `font` is the whole font file that the typeface was measured on;
/// std::runtime_error where it is none. Requires: width and height > 0; the typeface has '?'.
[[nodiscard]] std::string to_pdf(const plane::Page& page, const Typeface& typeface, std::string_view font);

/// The module's file, beside the program.
inline constexpr const char* kPdfModuleFile = "groovewright_pdf.so";
using PdfWriter = std::string (*)(const plane::Page&, const Typeface&, std::string_view font);
/// Name of the module's only exported function, a `PdfWriterSource`: it gives `to_pdf`.
inline constexpr const char* kPdfWriterSource = "groovewright_pdf_writer";
using PdfWriterSource = PdfWriter (*)();

}  // namespace groovewright::ink
