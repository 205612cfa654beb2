#include "pdf_loader.h"

#include <fstream>
#include <iterator>
#include <stdexcept>

#include "module.h"

namespace groovewright::cli {
namespace {

ink::PdfWriter load() {
  return reinterpret_cast<ink::PdfWriterSource>(
      function_of(ink::kPdfModuleFile, ink::kPdfWriterSource, "the PDF writer"))();
}

}  // namespace

std::string read_font(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  std::string bytes{std::istreambuf_iterator<char>(in), {}};
  if (bytes.empty()) {
    throw std::runtime_error("the drawing font " + path + " can't be read; install the package fonts-osifont");
  }
  return bytes;
}

std::string write_pdf(const plane::Page& page, const Typeface& typeface) {
  static const std::string font = read_font(GW_DRAWING_FONT);
  static const ink::PdfWriter writer = load();
  return writer(page, typeface, font);
}

}  // namespace groovewright::cli
