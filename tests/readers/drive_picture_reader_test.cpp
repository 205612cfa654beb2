// The drive's pages read back by programs that no one here wrote: the template's lines (qpdf) at full size, its words
// (poppler), the layout's circles (ezdxf) against the model, and every page by a renderer.
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <regex>
#include <vector>

#include "../drive_pictures.h"
#include "pages.h"

namespace groovewright {
namespace {

using drive::Vec2;
using drive::testing::kDegree;
using drive::testing::picture_style;
using readers::File;

constexpr double kMmOfPoint = 25.4 / 72;
/// The file keeps 0.001 point.
constexpr double kWithin = 0.003;

struct Line {
  Vec2 a, b;  ///< mm
  [[nodiscard]] double length() const { return plane::norm(b - a); }
  [[nodiscard]] Vec2 middle() const { return 0.5 * (a + b); }
};
/// All straight lines that a PDF strokes.
std::vector<Line> lines_of(const File& pdf) {
  const std::string text = readers::said_by("qpdf --qdf --object-streams=disable " + pdf.quoted() + " -");
  const std::regex stroke(R"((-?[0-9.]+) (-?[0-9.]+) m (-?[0-9.]+) (-?[0-9.]+) l\s+S)");
  std::vector<Line> found;
  for (std::sregex_iterator i(text.begin(), text.end(), stroke), end; i != end; ++i) {
    const auto number = [&](std::size_t k) { return kMmOfPoint * std::stod((*i)[k].str()); };
    found.push_back({{number(1), number(2)}, {number(3), number(4)}});
  }
  return found;
}

/// Middles of crosses: a level and an upright line of one length with one middle.
std::vector<Vec2> crosses(const std::vector<Line>& lines) {
  std::vector<Vec2> found;
  for (const Line& l : lines) {
    for (const Line& u : lines) {
      const bool level = std::abs(l.a.y - l.b.y) < kWithin, upright = std::abs(u.a.x - u.b.x) < kWithin;
      if (!level || !upright || std::abs(l.length() - u.length()) > kWithin || l.length() < 2) continue;
      if (plane::norm(l.middle() - u.middle()) < kWithin) found.push_back(l.middle());
    }
  }
  return found;
}

TEST(DrillTemplate, IsPrintedAtFullSize) {
  const drive::DrillTemplate t = drive::testing::larkspur_template();
  const auto page = drive::drill_template_page(t, picture_style());
  ASSERT_TRUE(page);
  const File pdf(readers::pdf_bytes(*page, picture_style().typeface), "pdf");
  EXPECT_NE(readers::said_by("qpdf --check " + pdf.quoted()).find("No syntax or stream encoding errors"),
            std::string::npos);
  EXPECT_NE(readers::field("\n" + readers::said_by("pdfinfo " + pdf.quoted()), "Page size").find("(A4)"),
            std::string::npos);
  const std::vector<Line> lines = lines_of(pdf);
  int level = 0, upright = 0;
  for (const Line& l : lines) {
    if (std::abs(l.length() - 100) > kWithin) continue;
    level += std::abs(l.a.y - l.b.y) < kWithin, upright += std::abs(l.a.x - l.b.x) < kWithin;
  }
  EXPECT_EQ(level, 1);
  EXPECT_EQ(upright, 1);
  // Pivot, old and new hole: 28 mm from the pivot, 35° apart: 2 × 28 × sin 17.5° = 16.840 mm.
  const std::vector<Vec2> marks = crosses(lines);
  ASSERT_EQ(marks.size(), 3U);
  std::vector<double> apart{plane::norm(marks[0] - marks[1]), plane::norm(marks[1] - marks[2]),
                            plane::norm(marks[2] - marks[0])};
  std::sort(apart.begin(), apart.end());
  EXPECT_NEAR(apart[0], 16.840, kWithin);
  EXPECT_NEAR(apart[1], 28, kWithin);
  EXPECT_NEAR(apart[2], 28, kWithin);
  const std::string text = readers::text_of(pdf);
  for (const char* must :
       {"Print at 100 %", "⌀6.8", "M8", "14 mm", "35.00°", "chips in an engine", "through a cover"}) {
    EXPECT_NE(text.find(must), std::string::npos) << must;
  }
}

TEST(LayoutDxf, HasTheDriveInItsOwnSize) {
  const drive::Drive d = drive::testing::demo_drive();
  const plane::Page page = drive::layout_page(d, {"", 278.4 * kDegree, {}}, picture_style());
  const nlohmann::json found = readers::audited(page, picture_style().typeface);
  ASSERT_TRUE(found.is_object());
  EXPECT_EQ(found.at("errors"), nlohmann::json::array());
  EXPECT_EQ(found.at("fixes"), nlohmann::json::array());
  struct Ring {
    Vec2 centre;
    double radius;
  };
  std::vector<Ring> rings;
  for (const auto& e : found.at("entities")) {
    if (e.at("kind") == "CIRCLE" && e.at("layer") == "visible")
      rings.push_back({readers::point(e.at("centre")), e.at("radius")});
  }
  // Two pulleys are as far apart in the file as on the engine, whatever the scale of the print.
  const auto ring = [&](const drive::Pulley& p) {
    const auto r =
        std::find_if(rings.begin(), rings.end(), [&](const Ring& c) { return std::abs(c.radius - p.outside) < 1e-6; });
    EXPECT_NE(r, rings.end()) << p.name;
    return r == rings.end() ? Vec2{} : r->centre;
  };
  const Vec2 crank = ring(d.pulleys[0]);
  for (const drive::Pulley& p : d.pulleys) {
    EXPECT_LT(plane::norm(ring(p) - crank - (p.at - d.pulleys[0].at)), 1e-6) << p.name;
  }
}

TEST(DrivePages, AreDrawnByARenderer) {
  const auto style = picture_style();
  const std::vector<plane::Page> pages{
      drive::layout_page(drive::testing::demo_drive(), {"", 278.4 * kDegree, {}}, style),
      *drive::drill_template_page(drive::testing::larkspur_template(), style),
      drive::tension_page(drive::testing::larkspur_tensions(), style),
      drive::frequency_page(drive::testing::larkspur_frequencies(), style),
      drive::range_page(drive::testing::larkspur_range(), style)};
  for (const plane::Page& page : pages) {
    for (const auto& draw : {readers::drawn_by_poppler, readers::drawn_by_librsvg}) {
      const readers::Bitmap map = draw(page, style.typeface);
      ASSERT_NEAR(map.width, page.width * readers::kPixelsPerMm, 5) << page.title;
      int seen = 0, asked = 0;
      for (const plane::View& view : page.views) {
        for (const plane::Inked& inked : view.lines) {
          if (inked.ink != plane::Ink::visible || inked.filled) continue;
          for (const plane::Edge& e : inked.path) {
            const Vec2 p = e.at(0.5);
            const int x = static_cast<int>(p.x * readers::kPixelsPerMm),
                      y = static_cast<int>((page.height - p.y) * readers::kPixelsPerMm);
            bool ink = false;
            for (int dx = -2; dx <= 2; ++dx) {
              for (int dy = -2; dy <= 2; ++dy) ink = ink || map.at(x + dx, y + dy) < 160;
            }
            ++asked, seen += ink ? 1 : 0;
          }
        }
      }
      EXPECT_GE(asked, 4) << page.title;
      EXPECT_EQ(seen, asked) << page.title;
    }
  }
}

}  // namespace
}  // namespace groovewright
