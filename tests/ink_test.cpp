// Pages as SVG and DXF, by their texts. What other people's programs make of the files: readers/ink_reader_test.cpp.
#include "groovewright/ink.h"

#include <algorithm>
#include <fstream>
#include <iterator>
#include <numbers>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "groovewright/base/broken.h"
#include "ink_page.h"

namespace groovewright::ink {
namespace {

using plane::Edge;
using plane::Page;
using testing::drawing_typeface;

Page page_of(plane::Inked inked) {
  Page page{100, 50, 1, "t", "", "d", {}};
  page.views = {{"view", "View", {std::move(inked)}, {}}};
  return page;
}

Page page_of(plane::Words words) {
  Page page{100, 50, 1, "t", "", "d", {}};
  page.views = {{"view", "View", {}, {std::move(words)}}};
  return page;
}

int count(const std::string& text, const std::string& what) {
  int found = 0;
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++found;
  return found;
}

struct Tag {
  std::string code, value;
};
std::vector<Tag> tags(const std::string& dxf) {
  std::istringstream in(dxf);
  std::vector<Tag> all;
  for (Tag tag; std::getline(in, tag.code) && std::getline(in, tag.value);) all.push_back(tag);
  return all;
}

/// The value of the first pair of `code` in the first `kind` of a DXF.
std::string value(const std::string& dxf, const std::string& kind, int code) {
  bool inside = false;
  for (const Tag& tag : tags(dxf)) {
    if (tag.code == "0") {
      if (inside) return "no code";
      inside = tag.value == kind;
    } else if (inside && tag.code == std::to_string(code)) {
      return tag.value;
    }
  }
  return "no " + kind;
}

TEST(Ink, DoesNotLoadCairoForSvgAndDxf) {
  std::ifstream maps("/proc/self/maps");
  const std::string loaded{std::istreambuf_iterator<char>(maps), {}};
  ASSERT_NE(loaded.find("libstdc++"), std::string::npos);
  EXPECT_EQ(loaded.find("libcairo"), std::string::npos);
  EXPECT_EQ(loaded.find("libfreetype"), std::string::npos);
}

TEST(Ink, GivesTheSameBytesTwice) {
  const Page page = testing::test_page();
  EXPECT_EQ(to_svg(page, drawing_typeface()), to_svg(page, drawing_typeface()));
  EXPECT_EQ(to_dxf(page, drawing_typeface()), to_dxf(page, drawing_typeface()));
}

TEST(Svg, DrawsALineAsItStandsWithYDown) {
  const std::string svg = to_svg(page_of({plane::Ink::hatch, {testing::line({1, 2}, {3.25, 4})}}), drawing_typeface());
  EXPECT_NE(svg.find(R"(<path class="hatch" d="M1 48L3.25 46"/>)"), std::string::npos) << svg;
  EXPECT_NE(svg.find(R"(width="100mm" height="50mm" viewBox="0 0 100 50")"), std::string::npos) << svg;
}

TEST(Svg, DrawsArcsAsArcsOfAtMostHalfATurn) {
  struct Case {
    const char* source;
    Edge edge;
    const char* d;
  };
  using enum Edge::Turn;
  const Case cases[] = {
      {"a quarter, ccw", {{30, 20}, {20, 30}, ccw, {20, 20}}, "M30 30A10 10 0 0 0 20 20"},
      {"a quarter, cw", {{20, 30}, {30, 20}, cw, {20, 20}}, "M20 20A10 10 0 0 1 30 30"},
      {"a half, ccw", {{30, 20}, {10, 20}, ccw, {20, 20}}, "M30 30A10 10 0 0 0 10 30"},
      {"three quarters, ccw, in two",
       {{30, 20}, {20, 10}, ccw, {20, 20}},
       "M30 30A10 10 0 0 0 12.9289 22.9289A10 10 0 0 0 20 40"},
      {"a circle, ccw", {{30, 20}, {30, 20}, ccw, {20, 20}}, "M30 30A10 10 0 0 0 10 30A10 10 0 0 0 30 30Z"},
      {"a circle, cw", {{30, 20}, {30, 20}, cw, {20, 20}}, "M30 30A10 10 0 0 1 10 30A10 10 0 0 1 30 30Z"},
  };
  for (const Case& c : cases) {
    const std::string svg = to_svg(page_of({plane::Ink::visible, {c.edge}}), drawing_typeface());
    EXPECT_NE(svg.find("d=\"" + std::string(c.d) + "\""), std::string::npos) << c.source << "\n" << svg;
  }
}

TEST(Svg, HasAClassForEachInkWithItsPen) {
  const std::string svg = to_svg(testing::test_page(), drawing_typeface());
  const char* const rules[] = {
      ".visible { stroke-width: 0.5 }",
      ".hidden { stroke-width: 0.25; stroke-linecap: butt; stroke-dasharray: 3 0.75 }",
      ".centre { stroke-width: 0.25; stroke-linecap: butt; stroke-dasharray: 6 0.75 0.125 0.75 }",
      ".frame { stroke-width: 0.7 }",
  };
  for (const char* rule : rules) EXPECT_NE(svg.find(rule), std::string::npos) << rule;
  for (const plane::Ink ink : plane::kInks) {
    EXPECT_NE(svg.find("\n." + std::string(to_text(ink)) + " {"), std::string::npos) << to_text(ink);
  }
}

TEST(Svg, EscapesWhatXmlReserves) {
  Page page = page_of(plane::Words{{1, 1}, "<A & \"B\">", 3.5, 0, plane::Align::left});
  page.title = "a<b & \"c\"\x01";
  page.views.front().title = "x > y";
  const std::string svg = to_svg(page, drawing_typeface());
  EXPECT_NE(svg.find(">a&lt;b &amp; &quot;c&quot;\\x01</title>"), std::string::npos) << svg;
  EXPECT_NE(svg.find("<title>x &gt; y</title>"), std::string::npos) << svg;
  EXPECT_NE(svg.find(">&lt;A &amp; &quot;B&quot;&gt;</text>"), std::string::npos) << svg;
}

TEST(Svg, SetsWordsAtTheirWidthAlignmentAndAngle) {
  const plane::Words words{{20, 10}, "HH", 3.5, std::numbers::pi / 6, plane::Align::right};
  const std::string svg = to_svg(page_of(words), drawing_typeface());
  // H: 1462 of 1510 units, read from the font; 3.5 * 2048 / 1510 = 4.747.
  EXPECT_NE(svg.find(R"(<text x="20" y="40" font-size="4.747" textLength="6.7774" lengthAdjust="spacingAndGlyphs" )"
                     R"x(text-anchor="end" transform="rotate(-30 20 40)" xml:space="preserve">HH</text>)x"),
            std::string::npos)
      << svg;
}

TEST(Svg, RefersToNothingOutside) {
  const std::string svg = to_svg(testing::test_page(), drawing_typeface());
  EXPECT_EQ(count(svg, "://"), 1) << "the name space only";
  for (const char* word : {"href", "url(", "@import", "<script"}) EXPECT_EQ(count(svg, word), 0) << word;
}

TEST(Svg, RefusesTwoViewsOfOneId) {
  Page page = testing::test_page();
  page.views[1].id = page.views[0].id;
  EXPECT_THROW(static_cast<void>(to_svg(page, drawing_typeface())), Broken);
}

TEST(Dxf, DividesByTheScale) {
  Page page = page_of({plane::Ink::visible, {testing::line({1, 2}, {3, 4})}});
  page.views.front().words.push_back({{5, 6}, "H", 3.5, 0, plane::Align::left});
  page.scale = 0.5;
  const std::string dxf = to_dxf(page, drawing_typeface());
  const std::vector<std::pair<int, const char*>> line = {{10, "2.0"}, {20, "4.0"}, {11, "6.0"}, {21, "8.0"}};
  for (const auto& [code, text] : line) EXPECT_EQ(value(dxf, "LINE", code), text) << code;
  EXPECT_EQ(value(dxf, "TEXT", 10), "10.0");
  EXPECT_EQ(value(dxf, "TEXT", 40), "7.0") << "a text's height grows like all else";
  EXPECT_NE(dxf.find("divided by its scale, 0.5:"), std::string::npos);
  EXPECT_NE(dxf.find("\n49\n6.0\n74\n0\n49\n-1.5\n"), std::string::npos) << "dashes of hidden lines: 3 mm, 0.75 mm";
}

TEST(Dxf, WritesTextInAscii) {
  struct Case {
    const char* text;
    const char* written;
  };
  const Case cases[] = {
      {"⌀12 ±0.1°", "\\U+230012 \\U+00B10.1\\U+00B0"},
      {"a\\b", "a\\U+005Cb"},
      {"^J", "^ J"},
      {"5 %", "5 %"},
      {"%%d", "%%%%%%d"},
      {"漢\n", "??"},  // neither has a width
  };
  for (const Case& c : cases) {
    const std::string dxf =
        to_dxf(page_of(plane::Words{{1, 1}, c.text, 3.5, 0, plane::Align::left}), drawing_typeface());
    EXPECT_EQ(value(dxf, "TEXT", 1), c.written) << c.text;
    for (const char byte : dxf) ASSERT_TRUE(byte == '\n' || (byte >= 0x20 && byte < 0x7F)) << c.text;
  }
}

TEST(Dxf, TurnsEveryArcCounterClockwise) {
  using enum Edge::Turn;
  for (const Edge& edge : {Edge{{30, 20}, {20, 30}, ccw, {20, 20}}, Edge{{20, 30}, {30, 20}, cw, {20, 20}}}) {
    const std::string dxf = to_dxf(page_of({plane::Ink::visible, {edge}}), drawing_typeface());
    EXPECT_EQ(value(dxf, "ARC", 50), "0.0");
    EXPECT_EQ(value(dxf, "ARC", 51), "90.0");
  }
}

TEST(Dxf, GivesEachThingAHandleOfItsOwn) {
  const std::string dxf = to_dxf(testing::test_page(), drawing_typeface());
  EXPECT_EQ(std::count(dxf.begin(), dxf.end(), '\n') % 2, 0);
  std::set<std::string> handles;
  unsigned long greatest = 0, seed = 0;
  bool seed_is_next = false;
  for (const Tag& tag : tags(dxf)) {
    if (seed_is_next) {
      seed = std::stoul(tag.value, nullptr, 16);
    } else if (tag.code == "5" || tag.code == "105") {
      EXPECT_TRUE(handles.insert(tag.value).second) << tag.value;
      greatest = std::max(greatest, std::stoul(tag.value, nullptr, 16));
    }
    seed_is_next = tag.code == "9" && tag.value == "$HANDSEED";
  }
  EXPECT_GT(handles.size(), 60U);
  EXPECT_GT(seed, greatest);
}

}  // namespace
}  // namespace groovewright::ink
