// The widths of the drawing font: read from the data file, and held against FreeType's view of the font itself.
#include <cmath>
#include <memory>
#include <string>

#include <gtest/gtest.h>

#include <freetype/freetype.h>

#include "groovewright/catalog.h"
#include "ink_page.h"

namespace groovewright::catalog {
namespace {

const std::string kGood = R"(typeface: own
edition: own 1
source: own measurement
family: Own
em: 1.4
ascent: 1.1
descent: 0.3
wide:
  "0.5": " ?"
  "0.75": "ab"
)";

std::optional<Typeface> read(const std::string& text, Diagnostics& diagnostics) {
  const TextFile file{"own.yaml", text};
  const auto catalog = read_catalog({&file, 1}, diagnostics);
  return catalog ? catalog->typeface : std::nullopt;
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return text.replace(at, from.size(), to);
}

TEST(Typeface, IsRead) {
  Diagnostics diagnostics;
  const auto typeface = read(kGood, diagnostics);
  ASSERT_TRUE(typeface) << diagnostics.text();
  EXPECT_EQ(typeface->family, "Own");
  EXPECT_EQ(typeface->em, 1.4);
  EXPECT_EQ(typeface->ascent, 1.1);
  EXPECT_EQ(typeface->descent, 0.3);
  const std::map<char32_t, double> wide = {{U' ', 0.5}, {U'?', 0.5}, {U'a', 0.75}, {U'b', 0.75}};
  EXPECT_EQ(typeface->wide, wide);
}

TEST(Typeface, SaysWhereItIsWrong) {
  struct Case {
    const char *from, *to, *message;
    int line;
  };
  const Case cases[] = {
      {"\"ab\"", "\"aba\"", "the character 'a' has a width already", 10},
      {"\"ab\"", "\"a?\"", "the character '?' has a width already", 10},
      {"\"0.75\"", "\"0\"", "'0' is no width", 10},
      {"\"0.75\"", "\"-1\"", "'-1' is no width", 10},
      {"\"0.75\"", "\"wide\"", "'wide' is no width", 10},
      {"\"ab\"", "\"\"", "after a width stand all characters", 10},
      {"\"ab\"", "[a, b]", "after a width stand all characters", 10},
      {" ?", " x", "'?' has no width", 9},
      {" ?", "x?", "the space has no width", 9},
      {"em: 1.4", "em: 0", "must be greater than zero", 5},
      {"source: own measurement\n", "", "source", 1},
      {"family: Own\n", "", "family", 1},
  };
  for (const Case& c : cases) {
    Diagnostics diagnostics;
    EXPECT_FALSE(read(replaced(kGood, c.from, c.to), diagnostics)) << c.to;
    ASSERT_EQ(diagnostics.all().size(), 1U) << c.to << "\n" << diagnostics.text();
    EXPECT_NE(diagnostics.all().front().message.find(c.message), std::string::npos) << diagnostics.text();
    EXPECT_EQ(diagnostics.all().front().place.line, c.line) << diagnostics.text();
  }
}

/// The installed font, through FreeType.
class Installed {
 public:
  Installed() {
    EXPECT_EQ(FT_Init_FreeType(&library_), 0);
    EXPECT_EQ(FT_New_Face(library_, GW_DRAWING_FONT, 0, &face_), 0) << GW_DRAWING_FONT << ": run ./setup.sh";
  }
  ~Installed() {
    if (face_) FT_Done_Face(face_);
    FT_Done_FreeType(library_);
  }
  Installed(const Installed&) = delete;
  Installed& operator=(const Installed&) = delete;

  [[nodiscard]] FT_Face face() const { return face_; }
  /// In font units; nullptr where the font lacks the character.
  [[nodiscard]] const FT_Glyph_Metrics* metrics(char32_t c) const {
    const FT_UInt glyph = FT_Get_Char_Index(face_, c);
    if (glyph == 0 || FT_Load_Glyph(face_, glyph, FT_LOAD_NO_SCALE) != 0) return nullptr;
    return &face_->glyph->metrics;
  }

 private:
  FT_Library library_ = nullptr;
  FT_Face face_ = nullptr;
};

TEST(Typeface, HasTheInstalledFontsWidths) {
  const Installed font;
  ASSERT_TRUE(font.face());
  const Typeface& typeface = testing::drawing_typeface();
  ASSERT_TRUE(font.metrics(U'H'));
  const auto capital = static_cast<double>(font.metrics(U'H')->horiBearingY);
  EXPECT_EQ(typeface.family, font.face()->family_name);
  EXPECT_NEAR(typeface.em, font.face()->units_per_EM / capital, 1e-5);
  EXPECT_GT(typeface.wide.size(), 600U);
  for (const auto& [c, width] : typeface.wide) {
    const FT_Glyph_Metrics* metrics = font.metrics(c);
    ASSERT_TRUE(metrics) << "U+" << std::hex << static_cast<unsigned>(c);
    EXPECT_NEAR(width, static_cast<double>(metrics->horiAdvance) / capital, 1e-4)
        << "U+" << std::hex << static_cast<unsigned>(c);
  }
}

TEST(Typeface, HoldsTheInkOfAsciiAndOfTheTradeBetweenDescentAndAscent) {
  const Installed font;
  ASSERT_TRUE(font.face());
  const Typeface& typeface = testing::drawing_typeface();
  const auto capital = static_cast<double>(font.metrics(U'H')->horiBearingY);
  std::u32string promised = U"⌀±°×µαⒺⒻⓁⓂⓅⓈ⌖⌒⌓⌭◎⏥⏤↗⌰⌯∠⌴⌵↧□≤≥–—²³·";
  for (char32_t c = 0x20; c < 0x7F; ++c) promised += c;
  for (const char32_t c : promised) {
    ASSERT_TRUE(typeface.wide.contains(c)) << "U+" << std::hex << static_cast<unsigned>(c);
    const FT_Glyph_Metrics* metrics = font.metrics(c);
    EXPECT_LE(static_cast<double>(metrics->horiBearingY), typeface.ascent * capital)
        << "U+" << std::hex << static_cast<unsigned>(c);
    EXPECT_GE(static_cast<double>(metrics->horiBearingY - metrics->height), -typeface.descent * capital)
        << "U+" << std::hex << static_cast<unsigned>(c);
  }
}

}  // namespace
}  // namespace groovewright::catalog
