// pages.h: a page written by room `ink` and read by other people's programs.
#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <string>

#include "bitmap.h"
#include "groovewright/ink.h"
#include "run.h"

namespace groovewright::readers {

inline std::string bytes_of(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// What a tool says. A tool that is missing or fails is a failure of the test.
inline std::string said_by(const std::string& command) {
  const Outcome outcome = run(command);
  EXPECT_NE(outcome.status, 127) << command << ": a tool is missing: run ./setup.sh";
  EXPECT_EQ(outcome.status, 0) << command << "\n" << outcome.said;
  return outcome.said;
}

/// A file that lasts as long as the test.
class File {
 public:
  File(const std::string& bytes, const std::string& extension) : path_(written(bytes, extension)) {}
  ~File() { std::filesystem::remove(path_); }
  File(const File&) = delete;
  File& operator=(const File&) = delete;
  [[nodiscard]] std::string quoted() const { return "'" + path_ + "'"; }
  [[nodiscard]] const std::string& path() const { return path_; }

 private:
  std::string path_;
};

inline std::string pdf_bytes(const plane::Page& page, const Typeface& typeface) {
  const std::string font = bytes_of(GW_DRAWING_FONT);
  EXPECT_FALSE(font.empty()) << GW_DRAWING_FONT << ": run ./setup.sh";
  return ink::to_pdf(page, typeface, font);
}

/// The value behind `key:` in what pdfinfo prints.
inline std::string field(const std::string& info, const std::string& key) {
  const std::size_t at = info.find("\n" + key + ":") + 1;
  if (at == 0) return "";
  const std::size_t from = info.find_first_not_of(' ', at + key.size() + 1), end = info.find('\n', at);
  return from < end ? info.substr(from, end - from) : "";
}

/// The text of a PDF with one blank for each run of white space: pdftotext breaks lines that are not level between
/// words.
inline std::string text_of(const File& pdf) {
  std::istringstream in(said_by("pdftotext -raw -enc UTF-8 " + pdf.quoted() + " -"));
  std::string out = " ";
  for (std::string word; in >> word;) out += word + " ";
  return out;
}

inline constexpr double kPixelsPerMm = 10;  // 254 dots an inch

inline Bitmap drawn_by_poppler(const plane::Page& page, const Typeface& typeface) {
  const File pdf(pdf_bytes(page, typeface), "pdf");
  const std::string root = pdf.path() + ".page";
  said_by("pdftoppm -gray -r 254 -singlefile " + pdf.quoted() + " '" + root + "'");
  const Bitmap map = read_pgm(bytes_of(root + ".pgm"));
  std::filesystem::remove(root + ".pgm");
  return map;
}

inline Bitmap drawn_by_librsvg(const plane::Page& page, const Typeface& typeface) {
  const File svg(ink::to_svg(page, typeface), "svg");
  const std::string png = svg.path() + ".png";
  said_by("rsvg-convert --dpi-x 254 --dpi-y 254 -o '" + png + "' " + svg.quoted());
  const Bitmap map = read_png(bytes_of(png));
  std::filesystem::remove(png);
  return map;
}

inline Bitmap drawn_by_chromium(const plane::Page& page, const Typeface& typeface) {
  const File svg(ink::to_svg(page, typeface), "svg");
  const std::string png = svg.path() + ".png", folder = svg.path() + ".chromium";
  const auto css_pixels = [](double mm) { return std::to_string(static_cast<int>(std::ceil(mm * 96 / 25.4))); };
  said_by(
      "timeout 120 chromium --headless --no-sandbox --disable-gpu --disable-background-networking "
      "--disable-component-update --disable-sync --no-first-run --hide-scrollbars "
      "--force-device-scale-factor=2.6458333333 --window-size=" +
      css_pixels(page.width) + "," + css_pixels(page.height) + " --user-data-dir='" + folder + "' --screenshot='" +
      png + "' 'file://" + svg.path() + "'");
  const Bitmap map = read_png(bytes_of(png));
  std::filesystem::remove(png);
  std::filesystem::remove_all(folder);
  return map;
}

/// What ezdxf finds in the page's DXF: Debian's own Python, for which Debian's ezdxf is.
inline nlohmann::json audited(const plane::Page& page, const Typeface& typeface) {
  const File dxf(ink::to_dxf(page, typeface), "dxf");
  const std::string said =
      said_by("/usr/bin/python3 '" + std::string(GW_SOURCE_DIR) + "/tests/tools/audit_dxf.py' " + dxf.quoted());
  return nlohmann::json::parse(said, nullptr, false);
}

inline plane::Vec2 point(const nlohmann::json& at) { return {at[0].get<double>(), at[1].get<double>()}; }

}  // namespace groovewright::readers
