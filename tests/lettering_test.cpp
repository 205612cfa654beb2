// Lettering all the way: the data file's glyphs, text written with them, its outlines, and prisms over those.
#include "groovewright/plane/lettering.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <string>
#include <vector>

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/catalog.h"
#include "groovewright/mesh.h"
#include "property.h"

namespace groovewright::plane {
namespace {

using std::numbers::pi;

// ---- helpers ----

const TextFile& built_in_file() {
  const auto files = catalog::built_in_files();
  const auto found = std::find_if(files.begin(), files.end(), [](const auto& f) { return f.name == "lettering.yaml"; });
  require(found != files.end(), "the program carries lettering.yaml");
  return *found;
}

const catalog::Lettering& lettering() {
  static const catalog::Lettering read = [] {
    Diagnostics diagnostics;
    const auto c = catalog::read_catalog({&built_in_file(), 1}, diagnostics);
    EXPECT_TRUE(c.has_value() && c->lettering.has_value()) << diagnostics.text();
    return c->lettering.value();
  }();
  return read;
}

const Glyphs& glyphs() { return lettering().glyphs; }

constexpr std::u32string_view kPromised =
    U"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789 -–.,:;/()+=%_#*'\"&!?°Ø⌀±×µ";

std::string utf8(char32_t c) {
  const auto tail = [&](int shift) { return static_cast<char>(0x80 | ((c >> shift) & 0x3F)); };
  if (c < 0x80) return {static_cast<char>(c)};
  if (c < 0x800) return {static_cast<char>(0xC0 | (c >> 6)), tail(0)};
  return {static_cast<char>(0xE0 | (c >> 12)), tail(6), tail(0)};
}

double length(const Stroke& stroke) {
  double sum = 0;
  for (std::size_t i = 1; i < stroke.size(); ++i) sum += norm(stroke[i] - stroke[i - 1]);
  return sum;
}

double area(const Polygon& loop) {
  double twice = 0;
  for (std::size_t i = 0; i < loop.size(); ++i) twice += cross(loop[i], loop[(i + 1) % loop.size()]);
  return twice / 2;
}

double area(const std::vector<Polygon>& loops) {
  double sum = 0;
  for (const Polygon& loop : loops) sum += area(loop);
  return sum;
}

double distance(Vec2 p, Vec2 a, Vec2 b) {
  const Vec2 along = b - a;
  const double whole = dot(along, along);
  const double t = whole > 0 ? std::clamp(dot(p - a, along) / whole, 0.0, 1.0) : 0;
  return norm(p - (a + t * along));
}

double distance(Vec2 p, const Stroke& stroke) {
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < stroke.size(); ++i) {
    least = std::min(least, distance(p, stroke[i], stroke[std::min(i + 1, stroke.size() - 1)]));
  }
  return least;
}

bool cross_each_other(Vec2 a, Vec2 b, Vec2 c, Vec2 d) {
  return cross(b - a, c - a) * cross(b - a, d - a) < 0 && cross(d - c, a - c) * cross(d - c, b - c) < 0;
}

/// The least distance between two edges that are not neighbours; 0 where borders cross.
double least_gap(const std::vector<Polygon>& loops) {
  struct Side {
    Vec2 a, b;
    std::size_t loop, at, of;
  };
  std::vector<Side> sides;
  for (std::size_t l = 0; l < loops.size(); ++l) {
    for (std::size_t i = 0, n = loops[l].size(); i < n; ++i)
      sides.push_back({loops[l][i], loops[l][(i + 1) % n], l, i, n});
  }
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < sides.size(); ++i) {
    for (std::size_t j = i + 1; j < sides.size(); ++j) {
      const Side &s = sides[i], &t = sides[j];
      const std::size_t apart = t.at - s.at;
      if (s.loop == t.loop && (apart == 1 || apart == s.of - 1)) continue;
      if (cross_each_other(s.a, s.b, t.a, t.b)) return 0;
      least = std::min(
          {least, distance(s.a, t.a, t.b), distance(s.b, t.a, t.b), distance(t.a, s.a, s.b), distance(t.b, s.a, s.b)});
    }
  }
  return least;
}

/// The area that a round pen covers, by asking evenly scattered points (the R2 sequence; a square grid would lie along
/// the letters' sides): a second opinion that knows no outlines.
double counted_area(const Strokes& strokes, double line_width) {
  double x0 = 1e9, x1 = -1e9, y0 = 1e9, y1 = -1e9;
  for (const Stroke& s : strokes) {
    for (const Vec2 p : s) {
      x0 = std::min(x0, p.x - line_width), x1 = std::max(x1, p.x + line_width);
      y0 = std::min(y0, p.y - line_width), y1 = std::max(y1, p.y + line_width);
    }
  }
  constexpr int kPoints = 60000;
  int inked = 0;
  for (int n = 1; n <= kPoints; ++n) {
    double whole = 0;
    const double u = std::modf(n * 0.7548776662466927, &whole), v = std::modf(n * 0.5698402909980532, &whole);
    const Vec2 p{x0 + u * (x1 - x0), y0 + v * (y1 - y0)};
    inked +=
        std::any_of(strokes.begin(), strokes.end(), [&](const Stroke& s) { return distance(p, s) <= line_width / 2; });
  }
  return (x1 - x0) * (y1 - y0) * inked / kPoints;
}

void expect_sound(const std::vector<Polygon>& loops, const std::string& what) {
  EXPECT_FALSE(loops.empty()) << what;
  EXPECT_GT(area(loops), 0) << what;
  for (const Polygon& loop : loops) {
    ASSERT_GE(loop.size(), 3u) << what;
    for (std::size_t i = 0; i < loop.size(); ++i)
      EXPECT_GE(norm(loop[(i + 1) % loop.size()] - loop[i]), kLeastStep - 1e-12) << what;
  }
  EXPECT_GT(least_gap(loops), 0) << what << ": borders cross or touch";
}

/// Closed, and as much as area times height.
::testing::AssertionResult is_prism(const std::vector<Polygon>& loops, double height) {
  const mesh::Mesh m = mesh::extruded(loops, 2, 2 + height);
  const mesh::Closure closure = mesh::closure(m);
  const double want = area(loops) * height, got = mesh::volume(m);
  if (closure.closed() && std::abs(got - want) <= 1e-6 * want) return ::testing::AssertionSuccess();
  return ::testing::AssertionFailure() << closure.open_edges << " open, " << closure.wrong_edges << " wrong edges, "
                                       << closure.degenerate << " degenerate; volume " << got << ", not " << want;
}

// ---- the data file ----

TEST(Lettering, HasEveryCharacterThatItPromises) {
  for (const char32_t c : kPromised) EXPECT_TRUE(glyphs().contains(c)) << utf8(c);
  EXPECT_EQ(glyphs().size(), kPromised.size());
  EXPECT_NEAR(lettering().line_width, 0.1, 1e-12) << "ISO 3098-1 type B, from memory: a tenth of the height";
  EXPECT_NEAR(lettering().descender, 0.3, 1e-12) << "ISO 3098-1 type B, from memory";
  EXPECT_FALSE(lettering().source.empty());
}

TEST(Lettering, KeepsEveryGlyphInItsBox) {
  const double half_line = lettering().line_width / 2, near = 1e-9;
  for (const auto& [c, glyph] : glyphs()) {
    EXPECT_GT(glyph.advance, 0) << utf8(c);
    EXPECT_EQ(glyph.strokes.empty(), c == U' ') << utf8(c);
    for (const auto& stroke : glyph.strokes) {
      EXPECT_FALSE(stroke.empty()) << utf8(c);
      for (const auto& [x, y] : stroke) {
        EXPECT_GE(x, half_line - near) << utf8(c);
        EXPECT_LE(x, glyph.advance - half_line + near) << utf8(c);
        EXPECT_GE(y, half_line - lettering().descender - near) << utf8(c);
        EXPECT_LE(y, 1 - half_line + near) << utf8(c);
      }
    }
  }
}

TEST(Lettering, HasTheProportionsOfTypeB) {
  struct Case {
    const char* text;
    double top, bottom;  ///< of the ink, in heights
    const char* source;
  };
  constexpr Case kCases[] = {
      {"H", 1, 0, "ISO 3098-1 type B, from memory: capitals h"},
      {"8", 1, 0, "ISO 3098-1 type B, from memory: figures h"},
      {"x", 0.7, 0, "ISO 3098-1 type B, from memory: small letters 7/10 h"},
      {"d", 1, 0, "ISO 3098-1 type B, from memory: ascenders h"},
      {"p", 0.7, -0.3, "ISO 3098-1 type B, from memory: descenders 3/10 h"},
  };
  for (const Case& c : kCases) {
    double top = -1e9, bottom = 1e9;
    for (const Stroke& s : write_line(glyphs(), c.text, 1)) {
      for (const Vec2 p : s) top = std::max(top, p.y + 0.05), bottom = std::min(bottom, p.y - 0.05);
    }
    EXPECT_NEAR(top, c.top, 1e-9) << c.text << ", " << c.source;
    EXPECT_NEAR(bottom, c.bottom, 1e-9) << c.text << ", " << c.source;
  }
  // Letters stand 2/10 h apart, words 6/10 h, ink to ink (type B, from memory): two strokes of "I" tell.
  EXPECT_NEAR(text_width(glyphs(), "II", 10), 2 * (1 + 2), 1e-9);
  const Strokes words = write_line(glyphs(), "I I", 10);
  EXPECT_NEAR(words[1][0].x - words[0][0].x, 6 + 1, 1e-9);
}

TEST(Lettering, RefusesWhatItCannotDraw) {
  struct Case {
    const char* glyph;
    Code code;
    const char* says;
  };
  constexpr Case kCases[] = {
      {"A: 0,0 3,9 6", Code::bad_catalog, "'6' is no point"},
      {"A: 0,0 3,9 6,0,1,1", Code::bad_catalog, "'6,0,1,1' is no point"},
      {"A: 0,0 3,,9", Code::bad_catalog, "'3,,9' is no point"},
      {"A: 0,0 3,x", Code::bad_catalog, "'3,x' is no point"},
      {"A: 0,0 3,9,-1 6,0", Code::bad_catalog, "'3,9,-1' is no point"},
      {"A: 0,0 3,0 3,0", Code::bad_catalog, "two points coincide"},
      {"A: 0,0 3,0,4 3,9", Code::bad_catalog, "no room"},
      {"A: 0,0,1 3,0", Code::bad_catalog, "no room"},
      {"A: 0,0 9,0,1 0,0", Code::bad_catalog, "no room"},
      {"A: 0,0 | | 3,9", Code::bad_catalog, "a point is due"},
      {"A: ''", Code::wrong_kind, "0,0 3,9 6,0"},
      {"A: [0, 0]", Code::wrong_kind, "0,0 3,9 6,0"},
      {"A: 0,0 0,9.5", Code::out_of_range, "leave the space"},
      {"A: 0,0 0,-3.5", Code::out_of_range, "leave the space"},
      {"AB: 0,0 0,9", Code::bad_name, "one character"},
  };
  const std::string head =
      "lettering: own\nedition: own 1\nsource: own strokes\nheight: 10\nline_width: 1\ndescender: 3\nletter_space: 2\n"
      "word_space: 6\nglyphs:\n  '?': 0,0 0,9\n";
  const TextFile good{"own.yaml", head + "  A: 0,0 3,9,1 6,0 | 3,0\n"};
  Diagnostics none;
  const auto read = catalog::read_catalog({&good, 1}, none);
  ASSERT_TRUE(read.has_value()) << none.text();
  EXPECT_EQ(read->lettering->glyphs.at(U'A').strokes.back().size(), 1u) << "a point alone is a dot";
  for (const Case& c : kCases) {
    const TextFile bad{"own.yaml", head + "  " + c.glyph + "\n"};
    Diagnostics found;
    EXPECT_FALSE(catalog::read_catalog({&bad, 1}, found).has_value()) << c.glyph;
    ASSERT_EQ(found.all().size(), 1u) << c.glyph << "\n" << found.text();
    EXPECT_EQ(static_cast<int>(found.all()[0].code), static_cast<int>(c.code)) << found.text();
    EXPECT_EQ(found.all()[0].place.line, 11) << found.text();
    EXPECT_NE(found.all()[0].message.find(c.says), std::string::npos) << found.text();
  }
}

TEST(Lettering, MustHaveAQuestionMarkAndSpaces) {
  struct Case {
    const char* text;
    const char* says;
  };
  const std::string head = "lettering: own\nedition: own 1\nsource: own\nheight: 10\nline_width: 1\ndescender: 3\n";
  constexpr Case kCases[] = {
      {"letter_space: 2\nword_space: 6\nglyphs: {A: '0,0'}\n", "'?' is missing"},
      {"letter_space: 6\nword_space: 6\nglyphs: {'?': '0,0'}\n", "must exceed"},
      {"letter_space: 2\nglyphs: {'?': '0,0'}\n", "'word_space' is missing"},
      {"letter_space: 2\nword_space: 6\n", "'glyphs' is missing"},
  };
  for (const Case& c : kCases) {
    const TextFile bad{"own.yaml", head + c.text};
    Diagnostics found;
    EXPECT_FALSE(catalog::read_catalog({&bad, 1}, found).has_value()) << c.text;
    ASSERT_EQ(found.all().size(), 1u) << c.text << found.text();
    EXPECT_NE(found.text().find(c.says), std::string::npos) << found.text();
  }
}

// ---- writing ----

TEST(WriteLine, PutsAQuestionMarkForWhatItLacks) {
  const Strokes want = write_line(glyphs(), "a?b", 5);
  EXPECT_EQ(write_line(glyphs(), "a€b", 5), want);
  EXPECT_EQ(write_line(glyphs(),
                       "a\xFF"
                       "b",
                       5),
            want);
  EXPECT_EQ(write_line(glyphs(), "a😀b", 5), want);
  EXPECT_DOUBLE_EQ(text_width(glyphs(), "a€b", 5), text_width(glyphs(), "a?b", 5));
  EXPECT_THROW((void)write_line({}, "a", 5), Broken);
  EXPECT_THROW((void)write_line(glyphs(), "a", 0), Broken);
}

TEST(WriteLine, WritesNothingForNothing) {
  EXPECT_TRUE(write_line(glyphs(), "", 5).empty());
  EXPECT_EQ(text_width(glyphs(), "", 5), 0);
  EXPECT_TRUE(bend({}, 10, 0, Tops::outward).empty());
  EXPECT_TRUE(outlines({}, 1, 0.01).empty());
}

std::string any_text(int longest) {
  std::string text;
  for (int n = *rc::gen::inRange(1, longest + 1); n > 0; --n)
    text += utf8(kPromised[*rc::gen::inRange<std::size_t>(0, kPromised.size())]);
  return text;
}

TEST(WriteLine, KeepsInkWithinWidthAndHeightAndPutsTextsSideBySide) {
  expect_property([] {
    const std::string a = any_text(12), b = any_text(12);
    const double h = *rc::gen::inRange(10, 200) / 10.0, half_line = h * lettering().line_width / 2;
    const double width = text_width(glyphs(), a, h);
    RC_ASSERT(std::abs(text_width(glyphs(), a + b, h) - width - text_width(glyphs(), b, h)) < 1e-9 * h);
    for (const Stroke& s : write_line(glyphs(), a, h)) {
      for (const Vec2 p : s) {
        RC_ASSERT(p.x >= half_line && p.x <= width - half_line);
        RC_ASSERT(p.y >= -lettering().descender * h && p.y <= h);
      }
    }
  });
}

// ---- bending ----

TEST(Bend, KeepsLengthsAlongTheBaseLine) {
  for (const Tops tops : {Tops::outward, Tops::inward}) {
    const Strokes bent = bend({{{0, 0}, {40, 0}}}, 20, 1, tops);
    EXPECT_NEAR(length(bent[0]), 40, 40 * 1e-3);
    EXPECT_LT(length(bent[0]), 40) << "chords are shorter than their arc";
    for (const Vec2 p : bent[0]) EXPECT_NEAR(norm(p), 20, 1e-12);
    const Strokes upright = bend({{{0, 0}, {40, 0}}, {{10, 0}, {10, 5}}}, 20, 1, tops);
    EXPECT_EQ(upright[1].size(), 2u) << "what points to the centre stays straight";
    EXPECT_NEAR(length(upright[1]), 5, 1e-12);
  }
}

TEST(Bend, PutsTheMiddleAtItsAngleAndTurnsTheTops) {
  const Strokes line = {{{10, 0}, {30, 0}}, {{20, 0}, {20, 4}}};  // base line, and an upright in its middle
  struct Case {
    Tops tops;
    double angle;
    Vec2 foot, top;
    double first;  ///< angle of the line's beginning
  };
  const Case kCases[] = {
      {Tops::outward, pi / 2, {0, 20}, {0, 24}, pi / 2 + 0.5},
      {Tops::inward, -pi / 2, {0, -20}, {0, -16}, -pi / 2 - 0.5},
      {Tops::outward, 0, {20, 0}, {24, 0}, 0.5},
  };
  for (const Case& c : kCases) {
    const Strokes bent = bend(line, 20, c.angle, c.tops);
    EXPECT_NEAR(norm(bent[1].front() - c.foot), 0, 1e-12);
    EXPECT_NEAR(norm(bent[1].back() - c.top), 0, 1e-12);
    EXPECT_NEAR(norm(bent[0].front() - 20.0 * Vec2{std::cos(c.first), std::sin(c.first)}), 0, 1e-12);
  }
}

TEST(Bend, KeepsChordsWithinItsError) {
  expect_property([] {
    const Strokes line = write_line(glyphs(), any_text(6), 8);
    if (line.empty()) return;
    const Tops tops = *rc::gen::arbitrary<bool>() ? Tops::outward : Tops::inward;
    const double radius = *rc::gen::inRange(90, 600) / 10.0;
    const Strokes bent = bend(line, radius, 0.3, tops);
    RC_ASSERT(bent.size() == line.size());
    double least = 1e9, most = -1e9;
    for (const Stroke& s : line) {
      for (const Vec2 p : s) least = std::min(least, p.x), most = std::max(most, p.x);
    }
    const double up = tops == Tops::outward ? 1 : -1;
    for (std::size_t i = 0; i < line.size(); ++i) {
      for (std::size_t j = 1; j < line[i].size(); ++j) {
        for (const double t : {0.0, 0.21, 0.5, 0.83, 1.0}) {
          const Vec2 p = line[i][j - 1] + t * (line[i][j] - line[i][j - 1]);
          const double angle = 0.3 - up * (p.x - (least + most) / 2) / radius;
          const Vec2 want = (radius + up * p.y) * Vec2{std::cos(angle), std::sin(angle)};
          RC_ASSERT(distance(want, bent[i]) <= kBendError + 1e-9);
        }
      }
    }
  });
}

TEST(Bend, RefusesLettersThatReachTheCentre) {
  const Strokes line = write_line(glyphs(), "Ag", 10);
  EXPECT_THROW((void)bend(line, 9, 0, Tops::inward), Broken);
  EXPECT_THROW((void)bend(line, 2, 0, Tops::outward), Broken);
  EXPECT_THROW((void)bend(line, 0, 0, Tops::outward), Broken);
  EXPECT_NO_THROW((void)bend(line, 10, 0, Tops::inward));
}

// ---- outlines ----

TEST(Outlines, OfEveryGlyphAreSoundAndAsLargeAsCounted) {
  constexpr double kHeight = 10, kWidth = 1;
  for (const auto& [c, glyph] : glyphs()) {
    if (glyph.strokes.empty()) continue;
    const Strokes strokes = write_line(glyphs(), utf8(c), kHeight);
    const std::vector<Polygon> loops = outlines(strokes, kWidth, 0.001);
    expect_sound(loops, utf8(c));
    const double got = area(loops);
    double all = 0, largest = 0;
    for (const Stroke& s : strokes) {
      const double alone = area(outlines({s}, kWidth, 0.001));
      EXPECT_LE(alone, length(s) * kWidth + pi / 4 * kWidth * kWidth + 1e-9) << utf8(c);
      all += alone;
      largest = std::max(largest, alone);
    }
    EXPECT_LE(got, all + 1e-4) << utf8(c) << ": no more than its strokes together";
    EXPECT_GE(got, largest - 1e-4) << utf8(c) << ": no less than its largest stroke";
    const double counted = counted_area(strokes, kWidth);
    EXPECT_NEAR(got, counted, 0.01 * counted) << utf8(c) << ": own count of scattered points, 1 %";
    EXPECT_TRUE(is_prism(loops, 0.6)) << utf8(c);
  }
}

TEST(Outlines, HaveAsManyHolesAsTheLettersHave) {
  struct Case {
    const char* text;
    long outer, holes;
  };
  for (const Case& c : {Case{"I", 1, 0}, Case{"O", 1, 1}, Case{"B", 1, 2}, Case{"8", 1, 2}, Case{"i", 2, 0},
                        Case{"%", 3, 2}, Case{"A", 1, 1}, Case{"Ø", 1, 2}, Case{"g", 1, 1}, Case{"#", 1, 1}}) {
    const auto loops = outlines(write_line(glyphs(), c.text, 10), 1, 0.005);
    EXPECT_EQ(std::count_if(loops.begin(), loops.end(), [](const auto& l) { return area(l) > 0; }), c.outer) << c.text;
    EXPECT_EQ(std::count_if(loops.begin(), loops.end(), [](const auto& l) { return area(l) < 0; }), c.holes) << c.text;
  }
}

TEST(Outlines, AreInscribedWithinTheirChordError) {
  for (const double error : {0.001, 0.01, 0.1}) {
    const auto loops = outlines({{{3, 4}}}, 2, error);
    ASSERT_EQ(loops.size(), 1u);
    for (std::size_t i = 0; i < loops[0].size(); ++i) {
      const Vec2 a = loops[0][i], b = loops[0][(i + 1) % loops[0].size()];
      EXPECT_NEAR(norm(a - Vec2{3, 4}), 1, 2e-5) << "on the lattice";
      EXPECT_GE(norm(0.5 * (a + b) - Vec2{3, 4}), 1 - error - 2e-5);
    }
  }
}

TEST(Outlines, AreSoundWhereInkOnlyJustMeets) {
  struct Case {
    const char* what;
    Strokes strokes;
  };
  const Case kCases[] = {
      {"two dots that touch", {{{0, 0}}, {{1, 0}}}},
      {"a dot that touches a line", {{{0, 0}, {5, 0}}, {{2.2, 1}}}},
      {"a line whose end touches another's side", {{{0, 0}, {5, 0}}, {{2.2, 1}, {2.2, 4}}}},
      {"a line whose end touches another's leaning side", {{{0, 0}, {3, 4}}, {{0.7, 2.6}, {-3, 3}}}},
      {"two dots that all but touch", {{{0, 0}}, {{1.00001, 0}}}},
      {"two dots that overlap by a hair", {{{0, 0}}, {{0.9999, 0}}}},
      {"two lines side by side", {{{0, 0}, {5, 0}}, {{0, 1}, {5, 1}}}},
      {"two lines nose to tail", {{{0, 0}, {5, 0}}, {{6, 0}, {9, 0}}}},
      {"the same line twice", {{{0, 0}, {5, 1}}, {{5, 1}, {0, 0}}}},
      {"there and back", {{{0, 0}, {5, 1}, {0, 0}}}},
      {"a pen that rests", {{{0, 0}, {0, 0}, {3, 0}, {3, 1e-5}, {3, 2}}}},
      {"a ring whose hole is a point", {{{0, 0}, {1, 0}, {1, 1}, {0, 1}, {0, 0}}}},
      {"three dots that touch in a triangle", {{{0, 0}}, {{1, 0}}, {{0.5, 0.8660254}}}},
      {"four dots that touch in a square", {{{0, 0}}, {{1, 0}}, {{1, 1}}, {{0, 1}}}},
  };
  for (const Case& c : kCases) {
    const auto loops = outlines(c.strokes, 1, 0.001);
    expect_sound(loops, c.what);
    EXPECT_TRUE(is_prism(loops, 1)) << c.what;
    const double counted = counted_area(c.strokes, 1);
    EXPECT_NEAR(area(loops), counted, 0.01 * counted) << c.what;
  }
}

TEST(Outlines, RefuseAPenWithoutWidthAndPointsFarAway) {
  EXPECT_THROW((void)outlines({{{0, 0}}}, 0, 0.01), Broken);
  EXPECT_THROW((void)outlines({{{0, 0}}}, 1, 0), Broken);
  EXPECT_THROW((void)outlines({{{0, 2e4}}}, 1, 0.01), Broken);
  EXPECT_THROW((void)outlines({{{std::nan(""), 0}}}, 1, 0.01), Broken);
}

// ---- prisms ----

TEST(Extruded, StandsBetweenItsHeightsAndIsClosed) {
  const std::vector<Polygon> square_with_window = {{{0, 0}, {4, 0}, {4, 4}, {0, 4}}, {{1, 1}, {1, 3}, {3, 3}, {3, 1}}};
  const mesh::Mesh m = mesh::extruded(square_with_window, -1, 2);
  EXPECT_TRUE(mesh::closure(m).closed());
  EXPECT_NEAR(mesh::volume(m), 12 * 3, 1e-12) << "outward, by the right-hand rule";
  for (const mesh::Vec3& v : m.vertices) EXPECT_TRUE(v.z == -1 || v.z == 2);
  EXPECT_EQ(m.vertices.size(), 16u);
  EXPECT_THROW((void)mesh::extruded(square_with_window, 1, 1), Broken);
  EXPECT_THROW((void)mesh::extruded({{{0, 0}, {1, 0}}}, 0, 1), Broken);
  EXPECT_TRUE(mesh::extruded({}, 0, 1).triangles.empty());
}

TEST(RaisedText, IsClosedAndHoldsAreaTimesHeightWhateverIsWritten) {
  expect_property([] {
    const double h = *rc::gen::inRange(15, 200) / 10.0;
    Strokes strokes = write_line(glyphs(), any_text(10), h);
    if (strokes.empty()) return;
    // Letters on a small circle run into each other at their feet or heads, all the way round and on.
    if (*rc::gen::arbitrary<bool>()) strokes = bend(strokes, *rc::gen::inRange(11, 60) / 10.0 * h, 1, Tops::inward);
    const double width = h * *rc::gen::inRange(4, 25) / 100.0;
    const auto loops = outlines(strokes, width, 0.01);
    RC_ASSERT(is_prism(loops, 0.6));
    RC_ASSERT(loops == outlines(strokes, width, 0.01));
  });
}

}  // namespace
}  // namespace groovewright::plane
