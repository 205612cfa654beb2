// Pages read by programs that no one here wrote: PDF by qpdf and poppler, SVG by librsvg and Chromium, DXF by ezdxf.
// Three of them draw the page; the pictures are held against the page's own geometry.
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "../ink_page.h"
#include "pages.h"

namespace groovewright {
namespace {

using nlohmann::json;
using plane::Edge;
using plane::Vec2;
using readers::Bitmap;
using readers::field;
using readers::File;
using readers::kPixelsPerMm;
using readers::point;
using readers::said_by;
using testing::drawing_typeface;

const plane::Page& page() {
  static const plane::Page made = testing::test_page();
  return made;
}

const plane::View& view(const std::string& id) {
  const auto found = std::find_if(page().views.begin(), page().views.end(), [&](const auto& v) { return v.id == id; });
  require(found != page().views.end(), "the page has that view");
  return *found;
}

std::string pdf_bytes(const plane::Page& p) { return readers::pdf_bytes(p, drawing_typeface()); }

// ---- PDF ----

TEST(Pdf, IsWellFormedAndAlwaysTheSame) {
  const std::string bytes = pdf_bytes(page());
  EXPECT_EQ(bytes, pdf_bytes(page()));
  const File pdf(bytes, "pdf");
  EXPECT_NE(said_by("qpdf --check " + pdf.quoted()).find("No syntax or stream encoding errors"), std::string::npos);
}

TEST(Pdf, IsOneSheetOfThePagesSizeWithItsTitle) {
  plane::Page signed_page = page();
  signed_page.author = "Ünsal & Co";
  const File pdf(pdf_bytes(signed_page), "pdf");
  const std::string info = "\n" + said_by("TZ=UTC LC_ALL=C.UTF-8 pdfinfo " + pdf.quoted());
  EXPECT_EQ(field(info, "Title"), page().title);
  EXPECT_EQ(field(info, "Author"), signed_page.author);
  EXPECT_EQ(field(info, "Subject"), page().description);
  EXPECT_EQ(field(info, "CreationDate"), "Sat Jan  1 00:00:00 2000 UTC");
  EXPECT_EQ(field(info, "Pages"), "1");
  double width = 0, height = 0;
  ASSERT_EQ(std::sscanf(field(info, "Page size").c_str(), "%lf x %lf pts", &width, &height), 2) << info;
  EXPECT_NEAR(width * 25.4 / 72, page().width, 0.01);
  EXPECT_NEAR(height * 25.4 / 72, page().height, 0.01);
}

TEST(Pdf, TakesAnyPageSizeAndNoAuthor) {
  const plane::Page odd{123.4, 56.7, 1, "", "", "", {testing::every_arc()}};
  const std::string info = "\n" + said_by("pdfinfo " + File(pdf_bytes(odd), "pdf").quoted());
  double width = 0, height = 0;
  ASSERT_EQ(std::sscanf(field(info, "Page size").c_str(), "%lf x %lf pts", &width, &height), 2) << info;
  EXPECT_NEAR(width * 25.4 / 72, odd.width, 0.01);
  EXPECT_NEAR(height * 25.4 / 72, odd.height, 0.01);
  EXPECT_EQ(field(info, "Author"), "");
}

TEST(Pdf, CarriesItsFont) {
  const File pdf(pdf_bytes(page()), "pdf");
  std::istringstream lines(said_by("pdffonts " + pdf.quoted()));
  int fonts = 0;
  for (std::string line; std::getline(lines, line);) {
    if (line.starts_with("name ") || line.starts_with("----")) continue;
    ++fonts;
    EXPECT_NE(line.find("+osifont"), std::string::npos) << line;
    EXPECT_NE(line.find("yes yes yes"), std::string::npos) << "embedded, a subset, with Unicode: " << line;
  }
  EXPECT_GE(fonts, 1);
}

TEST(Pdf, GivesItsTextBack) {
  const File pdf(pdf_bytes(page()), "pdf");
  const std::string text = readers::text_of(pdf);
  for (const plane::View& one : page().views) {
    for (const plane::Words& words : one.words) {
      EXPECT_NE(text.find(" " + words.text + " "), std::string::npos) << words.text << " is not in\n" << text;
    }
  }
}

TEST(Pdf, RefusesAFontThatIsNone) {
  EXPECT_THROW(static_cast<void>(ink::to_pdf(page(), drawing_typeface(), "no font")), std::runtime_error);
}

// ---- pictures ----

/// How far ink may lie beside its place: two pixels.
constexpr double kBeside = 0.2;

/// A picture asked in mm of the page.
class Drawn {
 public:
  Drawn(Bitmap map, double height) : map_(std::move(map)), height_(height) {}

  [[nodiscard]] double darkness(Vec2 p) const { return 1 - map_.at(column(p.x), row(p.y)) / 255.0; }
  [[nodiscard]] int column(double x) const { return static_cast<int>(std::floor(x * kPixelsPerMm)); }
  [[nodiscard]] int row(double y) const { return static_cast<int>(std::floor((height_ - y) * kPixelsPerMm)); }
  [[nodiscard]] Vec2 middle(int x, int y) const {
    return {(x + 0.5) / kPixelsPerMm, height_ - (y + 0.5) / kPixelsPerMm};
  }
  [[nodiscard]] bool is_ink(int x, int y) const { return map_.at(x, y) < 160; }
  [[nodiscard]] const Bitmap& map() const { return map_; }

 private:
  Bitmap map_;
  double height_;
};

struct Renderer {
  const char* name;
  Bitmap (*draw)(const plane::Page&, const Typeface&);
  /// How much narrower than asked for words may come out, of their width: librsvg knows neither `textLength` nor
  /// `font-kerning`, so it moves pairs like "AV" together.
  double narrower = 0;
};

void PrintTo(const Renderer& renderer, std::ostream* out) { *out << renderer.name; }

class Pictures : public ::testing::TestWithParam<Renderer> {
 protected:
  /// Drawn once a program: each test is a process of its own under ctest, but not by hand.
  const Drawn& drawn() {
    static std::map<std::string, Drawn> all;
    const auto found = all.find(GetParam().name);
    if (found != all.end()) return found->second;
    return all.emplace(GetParam().name, Drawn(GetParam().draw(page(), drawing_typeface()), page().height))
        .first->second;
  }
};

TEST_P(Pictures, ShowEveryPartOfThePageInItsPlace) {
  const Drawn& picture = drawn();
  ASSERT_NEAR(picture.map().width, page().width * kPixelsPerMm, 4) << "nothing like the page was drawn";
  ASSERT_NEAR(picture.map().height, page().height * kPixelsPerMm, 4);

  // A line of each ink: dark in the middle of its dashes, light in that of its gaps and beside it.
  for (const plane::Inked& inked : view("every_ink").lines) {
    const plane::Pen pen = plane::pen(inked.ink);
    const Vec2 from = inked.path.front().a;
    double along = 0;
    for (std::size_t i = 0; i < std::max<std::size_t>(1, pen.dashes.size()); ++i) {
      const double dash = pen.dashes.empty() ? 80 : pen.dashes[i];
      const double dark = picture.darkness(from + Vec2{along + dash / 2, 0});
      if (i % 2 == 0) {
        EXPECT_GT(dark, 0.35) << to_text(inked.ink) << ", dash " << i;
      } else {
        EXPECT_LT(dark, 0.35) << to_text(inked.ink) << ", gap " << i;
      }
      along += dash;
    }
    int across = 0;
    for (int dy = -10; dy <= 10; ++dy) across += picture.is_ink(picture.column(from.x + 1), picture.row(from.y) + dy);
    EXPECT_NEAR(across / kPixelsPerMm, pen.width, 0.11) << to_text(inked.ink) << ": width of the line";
  }

  // Arcs: dark all along, light where the rest of the circle would be.
  for (const plane::Inked& inked : view("every_arc").lines) {
    const Edge& edge = inked.path.front();
    for (const double t : {0.05, 0.3, 0.5, 0.7, 0.95}) EXPECT_GT(picture.darkness(edge.at(t)), 0.5) << t;
    if (edge.is_full_circle()) continue;
    const Edge rest{edge.b, edge.a, edge.turn, edge.centre};
    if (rest.length() < 2) continue;
    EXPECT_LT(picture.darkness(rest.at(0.5)), 0.1) << edge.centre.x << ", " << edge.centre.y;
  }

  // Filled shapes, all over.
  for (const plane::Inked& inked : view("filled_shapes").lines) {
    const Vec2 near = inked.path.front().a;
    int wrong = 0;
    for (double x = near.x - 16; x < near.x + 16; x += 0.5) {
      for (double y = 60; y < 80; y += 0.5) {
        const bool inside = plane::contains(inked.path, {x, y});
        if (plane::distance(Vec2{x, y}, inked.path) < kBeside || !inside) continue;
        wrong += picture.darkness({x, y}) < 0.9;
      }
    }
    EXPECT_EQ(wrong, 0) << near.x << ", " << near.y;
  }
}

/// Where along and across the words' base line, from its start, there is ink within 1.5 mm of their box.
struct Extent {
  double least_along = 1e9, most_along = -1e9, least_up = 1e9, most_up = -1e9;
};
Extent extent(const Drawn& picture, const plane::Words& words) {
  constexpr double kAround = 1.5;
  const auto corners = plane::box(drawing_typeface(), words);
  const Vec2 along{cos_of(words.angle), sin_of(words.angle)}, up{-along.y, along.x};
  const Vec2 start = plane::start(drawing_typeface(), words);
  const double width = dot(corners[1] - corners[0], along);
  const double low = dot(corners[0] - start, up), high = dot(corners[3] - start, up);
  Extent seen;
  for (int y = 0; y < picture.map().height; ++y) {
    for (int x = 0; x < picture.map().width; ++x) {
      if (!picture.is_ink(x, y)) continue;
      const Vec2 from_start = picture.middle(x, y) - start;
      const double s = dot(from_start, along), t = dot(from_start, up);
      if (s < -kAround || s > width + kAround || t < low - kAround || t > high + kAround) continue;
      seen = {std::min(seen.least_along, s), std::max(seen.most_along, s), std::min(seen.least_up, t),
              std::max(seen.most_up, t)};
    }
  }
  return seen;
}

TEST_P(Pictures, ShowWordsInTheirBoxAndOverAllOfIt) {
  const Drawn& picture = drawn();
  for (const plane::Words& words : view("every_word").words) {
    const Typeface& typeface = drawing_typeface();
    const double width = plane::text_width(typeface, words.text, words.height);
    const Extent seen = extent(picture, words);
    // No letter at an end of ours keeps more than this from its advance: L's right, 'i's sides.
    const double bearing = 0.27 * words.height;
    EXPECT_GE(seen.least_along, -kBeside) << words.text;
    EXPECT_LE(seen.least_along, bearing + kBeside) << words.text;
    const double narrowest = (1 - GetParam().narrower) * width;
    EXPECT_LE(seen.most_along, width + kBeside) << words.text;
    EXPECT_GE(seen.most_along - seen.least_along, narrowest - 2 * bearing - kBeside) << words.text;
    EXPECT_GE(seen.least_up, -typeface.descent * words.height - kBeside) << words.text;
    EXPECT_LE(seen.most_up, typeface.ascent * words.height + kBeside) << words.text;
    EXPECT_GE(seen.most_up, 0.9 * words.height) << words.text;
  }
}

INSTANTIATE_TEST_SUITE_P(Renderers, Pictures,
                         ::testing::Values(Renderer{"poppler", &readers::drawn_by_poppler},
                                           Renderer{"librsvg", &readers::drawn_by_librsvg, 0.08},
                                           Renderer{"chromium", &readers::drawn_by_chromium}),
                         [](const auto& one) { return std::string(one.param.name); });

// ---- DXF ----

json audited(const plane::Page& p) { return readers::audited(p, drawing_typeface()); }

void expect_near(const json& found, Vec2 wanted, const std::string& what) {
  EXPECT_NEAR(point(found).x, wanted.x, 1e-6) << what << " " << found;
  EXPECT_NEAR(point(found).y, wanted.y, 1e-6) << what << " " << found;
}

void expect_edge(const json& e, const Edge& edge, double scale) {
  const auto scaled = [&](Vec2 p) { return (1 / scale) * p; };
  if (!edge.is_arc()) {
    EXPECT_EQ(e["kind"], "LINE");
    expect_near(e["a"], scaled(edge.a), "line from");
    expect_near(e["b"], scaled(edge.b), "line to");
    return;
  }
  EXPECT_EQ(e["kind"], edge.is_full_circle() ? "CIRCLE" : "ARC");
  expect_near(e["centre"], scaled(edge.centre), "centre");
  EXPECT_NEAR(e["radius"].get<double>(), edge.radius() / scale, 1e-6);
  if (edge.is_full_circle()) return;
  const Edge ccw = edge.turn == Edge::Turn::ccw ? edge : edge.reversed();
  expect_near(e["a"], scaled(ccw.a), "arc from");
  expect_near(e["b"], scaled(ccw.b), "arc to");
}

/// A border of points and bulges as a path.
plane::Path path_of(const json& border) {
  plane::Path path;
  for (std::size_t i = 0; i < border.size(); ++i) {
    const Vec2 a = point(border[i]), b = point(border[(i + 1) % border.size()]);
    const double bulge = border[i][2].get<double>();
    if (bulge == 0) {
      path.push_back(testing::line(a, b));
      continue;
    }
    const Vec2 half = 0.5 * (b - a);
    const Vec2 centre = a + half + ((1 - bulge * bulge) / (2 * bulge)) * Vec2{-half.y, half.x};
    path.push_back({a, b, bulge > 0 ? Edge::Turn::ccw : Edge::Turn::cw, centre});
  }
  return path;
}

void expect_words(const json& e, const plane::Words& words, double scale) {
  EXPECT_EQ(e["kind"], "TEXT");
  EXPECT_EQ(e["text"], words.text);
  EXPECT_EQ(e["style"], drawing_typeface().family);
  EXPECT_EQ(e["layer"], "text");
  EXPECT_NEAR(e["height"].get<double>(), words.height / scale, 1e-6);
  EXPECT_NEAR(std::remainder(e["angle"].get<double>() - words.angle * 180 / std::numbers::pi, 360), 0, 1e-6);
  expect_near(e["at"], (1 / scale) * words.at, "at " + words.text);
  expect_near(e["insert"], (1 / scale) * plane::start(drawing_typeface(), words), "start of " + words.text);
  const std::map<plane::Align, std::string> names = {
      {plane::Align::left, "LEFT"}, {plane::Align::middle, "CENTER"}, {plane::Align::right, "RIGHT"}};
  EXPECT_EQ(e["align"], names.at(words.align)) << words.text;
}

TEST(Dxf, NeedsNoRepair) {
  const json found = audited(page());
  ASSERT_TRUE(found.is_object());
  EXPECT_EQ(found["version"], "AC1015");
  EXPECT_EQ(found["errors"], json::array());
  EXPECT_EQ(found["fixes"], json::array());
  EXPECT_EQ(found["units"], 4) << "mm";
  expect_near(found["extents"], {page().width / page().scale, page().height / page().scale}, "extents");
}

TEST(Dxf, HasALayerForEachInkWithItsPen) {
  const json found = audited(page());
  ASSERT_TRUE(found.is_object());
  for (const plane::Ink ink : plane::kInks) {
    const std::string name(to_text(ink));
    const plane::Pen pen = plane::pen(ink);
    ASSERT_TRUE(found["layers"].contains(name)) << name;
    EXPECT_EQ(found["layers"][name]["weight"], std::lround(100 * pen.width)) << name;
    const std::string type = found["layers"][name]["line"];
    EXPECT_EQ(type, pen.dashes.empty() ? "Continuous" : name);
    const json& dashes = found["linetypes"][type];
    ASSERT_EQ(dashes.size(), pen.dashes.size()) << name;
    for (std::size_t i = 0; i < pen.dashes.size(); ++i) {
      EXPECT_NEAR(dashes[i].get<double>(), (i % 2 == 0 ? 1 : -1) * pen.dashes[i] / page().scale, 1e-6) << name;
    }
  }
  EXPECT_EQ(found["styles"]["osifont"], "osifont.ttf");
}

TEST(Dxf, HoldsThePageEdgeByEdge) {
  for (const double scale : {0.5, 1.0, 4.0}) {
    plane::Page scaled = page();
    scaled.scale = scale;
    const json found = audited(scaled);
    ASSERT_TRUE(found.is_object());
    std::size_t next = 0;
    const json& all = found["entities"];
    const auto take = [&]() -> const json& { return all.at(next++); };
    for (const plane::View& one : scaled.views) {
      for (const plane::Inked& inked : one.lines) {
        if (inked.filled) {
          const json& e = take();
          EXPECT_EQ(e["kind"], "HATCH");
          EXPECT_EQ(e["solid"], 1);
          EXPECT_EQ(e["closed"], 1);
          EXPECT_EQ(e["layer"], to_text(inked.ink));
          EXPECT_NEAR(plane::area(path_of(e["border"])), plane::area(inked.path) / scale / scale, 1e-5);
          continue;
        }
        for (const Edge& edge : inked.path) {
          EXPECT_EQ(all.at(next)["layer"], to_text(inked.ink));
          expect_edge(take(), edge, scale);
        }
      }
      for (const plane::Words& words : one.words) expect_words(take(), words, scale);
    }
    EXPECT_EQ(next, all.size());
  }
}

}  // namespace
}  // namespace groovewright
