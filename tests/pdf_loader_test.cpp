// The PDF writer as the program gets it: a module that is loaded when it is first asked for.
#include "pdf_loader.h"

#include <fstream>
#include <iterator>
#include <stdexcept>
#include <string>

#include <gtest/gtest.h>

#include "ink_page.h"

namespace groovewright::cli {
namespace {

bool cairo_is_loaded() {
  std::ifstream maps("/proc/self/maps");
  const std::string loaded{std::istreambuf_iterator<char>(maps), {}};
  return loaded.find("libcairo") != std::string::npos;
}

TEST(PdfLoader, LoadsCairoNoSoonerThanItIsNeeded) {
  EXPECT_FALSE(cairo_is_loaded());
  const std::string pdf = write_pdf(testing::test_page(), testing::drawing_typeface());
  EXPECT_TRUE(cairo_is_loaded());
  EXPECT_EQ(pdf.substr(0, 5), "%PDF-");
  EXPECT_EQ(pdf, write_pdf(testing::test_page(), testing::drawing_typeface())) << "the same bytes each time";
}

TEST(PdfLoader, SaysWhatToInstallWhereTheFontIsMissing) {
  try {
    static_cast<void>(read_font("/nowhere/osifont.ttf"));
    ADD_FAILURE() << "a font that is not there was read";
  } catch (const std::runtime_error& e) {
    EXPECT_STREQ(e.what(), "the drawing font /nowhere/osifont.ttf can't be read; install the package fonts-osifont");
  }
}

}  // namespace
}  // namespace groovewright::cli
