// What does `base` promise? Numbers and text, quantities, diagnostics, rows, JSON, digests.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <bit>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <iostream>
#include <limits>
#include <numbers>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "groovewright/base/broken.h"
#include "groovewright/base/diagnostics.h"
#include "groovewright/base/json.h"
#include "groovewright/base/quantity.h"
#include "groovewright/base/rows.h"
#include "groovewright/base/sha256.h"
#include "groovewright/base/text.h"
#include "property.h"

namespace groovewright {
namespace {

using ::testing::EndsWith;

constexpr double kInfinity = std::numeric_limits<double>::infinity();

// ---- Numbers.

TEST(Number, IsFixedAndNeverMinusZero) {
  struct Case {
    double value;
    int decimals;
    const char* want;
    const char* source;
  };
  const Case cases[] = {
      {-0.0001, 3, "0.000", "door: never -0.000"},
      {-0.0, 0, "0", "door: never -0"},
      {-0.0006, 3, "-0.001", "own recomputation"},
      {0.125, 2, "0.12", "exact tie goes to even"},
      {0.375, 2, "0.38", "exact tie goes to even"},
      {2.675, 2, "2.67", "the double lies below 2.675"},
      {12.7, 3, "12.700", "own recomputation"},
      {1e15, 0, "1000000000000000", "own recomputation"},
      {0.1, 17, "0.10000000000000001", "own recomputation"},
  };
  for (const auto& c : cases) {
    EXPECT_EQ(number(c.value, c.decimals), c.want) << c.value << " with " << c.decimals << " decimals, " << c.source;
  }
}

TEST(Number, HoldsTheLargestDouble) {
  const std::string text = number(-std::numeric_limits<double>::max(), 17);
  EXPECT_EQ(text.size(), 1 + 309 + 1 + 17U) << text;
}

TEST(Number, RefusesWhatItCannotWrite) {
  EXPECT_THROW((void)number(kInfinity, 3), Broken);
  EXPECT_THROW((void)number(std::nan(""), 3), Broken);
  EXPECT_THROW((void)number(1, -1), Broken);
  EXPECT_THROW((void)number(1, 18), Broken);
}

TEST(Trimmed, DropsZerosBehindThePointOnly) {
  struct Case {
    double value;
    int decimals;
    const char* want;
  };
  const Case cases[] = {{12.5, 3, "12.5"}, {12, 3, "12"},     {100, 0, "100"},    {100, 2, "100"},
                        {0, 3, "0"},       {-0.0001, 3, "0"}, {0.001, 3, "0.001"}};
  for (const auto& c : cases) EXPECT_EQ(trimmed(c.value, c.decimals), c.want) << c.value << ", own recomputation";
}

TEST(Shortest, PicksPlainNotationInTheMiddleAndExponentsOutside) {
  struct Case {
    double value;
    const char* want;
  };
  const Case cases[] = {{0, "0"},           {-0.0, "0"},
                        {0.1, "0.1"},       {12.7, "12.7"},
                        {100000, "100000"}, {1e-6, "0.000001"},
                        {9e-7, "9e-07"},    {1e14, "100000000000000"},
                        {1e15, "1e+15"},    {-2.5e300, "-2.5e+300"},
                        {kInfinity, "inf"}, {-kInfinity, "-inf"}};
  for (const auto& c : cases) EXPECT_EQ(shortest(c.value), c.want) << c.value << ", own recomputation";
  EXPECT_EQ(shortest(std::nan("")), "nan");
}

TEST(Shortest, ReadsBackAsTheSameDouble) {
  expect_property([](std::uint64_t bits) {
    const auto value = std::bit_cast<double>(bits);
    RC_PRE(std::isfinite(value) && value != 0);
    const std::string text = shortest(value);
    double back = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), back);
    RC_ASSERT(error == std::errc());
    RC_ASSERT(end == text.data() + text.size());
    RC_ASSERT(std::bit_cast<std::uint64_t>(back) == bits);
  });
}

TEST(Shortest, ReadsBackAsTheSameDoubleAtWorkshopSizes) {
  expect_property([](std::int32_t thousandths) {
    const double value = thousandths / 1000.0;
    const std::string text = shortest(value);
    RC_ASSERT(text.find('e') == std::string::npos);
    RC_ASSERT(read_quantity(text, Measure::plain).value == value);
  });
}

// ---- Text.

TEST(Listed, JoinsWordsForASentence) {
  EXPECT_EQ(listed({}), "");
  EXPECT_EQ(listed({"a"}), "a");
  EXPECT_EQ(listed({"a", "b"}), "a and b");
  EXPECT_EQ(listed({"a", "b", "c"}, "or"), "a, b or c");
}

TEST(Utf8, GivesItsCharacters) {
  struct Case {
    const char* bytes;
    std::u32string_view want;
  };
  constexpr Case kCases[] = {
      {"", U""},
      {"Ab 0", U"Ab 0"},
      {"\u00B0\u00D8\u07FF", U"\u00B0\u00D8\u07FF"},
      {"\u0800\u2300\uFFFF", U"\u0800\u2300\uFFFF"},
      {"\U00010000\U0010FFFF", U"\U00010000\U0010FFFF"},
      {"a\xFFz", U"a\uFFFDz"},
      {"\xE2\x8C", U"\uFFFD\uFFFD"},
  };
  for (const Case& c : kCases) EXPECT_TRUE(characters(c.bytes) == c.want) << one_line(c.bytes) << ", Unicode, ch. 3.9";
}

TEST(Utf8, IsJudgedByTheUnicodeTable) {
  struct Case {
    std::string bytes;
    bool good;
    const char* source;
  };
  const Case cases[] = {
      {"", true, "nothing"},
      {"\u00B5m \u2205 \U0001F527", true, "two, three and four bytes"},
      {"\x7F", true, "last of one byte"},
      {"\x80", false, "a lone continuation"},
      {"\xC3", false, "cut off"},
      {"\xC3(", false, "no continuation"},
      {"\xC0\xAF", false, "overlong, Unicode table 3-7"},
      {"\xC1\xBF", false, "overlong"},
      {"\xE0\x9F\xBF", false, "overlong"},
      {"\xE0\xA0\x80", true, "first of three bytes"},
      {"\xED\x9F\xBF", true, "last before the surrogates"},
      {"\xED\xA0\x80", false, "a surrogate"},
      {"\xF0\x8F\xBF\xBF", false, "overlong"},
      {"\xF0\x90\x80\x80", true, "first of four bytes"},
      {"\xF4\x8F\xBF\xBF", true, "U+10FFFF"},
      {"\xF4\x90\x80\x80", false, "past U+10FFFF"},
      {"\xF5\x80\x80\x80", false, "past U+10FFFF"},
      {"caf\xE9", false, "Latin-1"},
  };
  for (const auto& c : cases) EXPECT_EQ(is_utf8(c.bytes), c.good) << one_line(c.bytes) << ", " << c.source;
}

TEST(OneLine, ShowsWhatATerminalWouldObey) {
  struct Case {
    std::string text;
    const char* want;
    const char* source;
  };
  const Case cases[] = {
      {"50 \u00B5m", "50 \u00B5m", "good text stays"},
      {"a\nb\tc\r", "a\\x0Ab\\x09c\\x0D", "C0"},
      {"\x1B[31m\x7F", "\\x1B[31m\\x7F", "ESC and DEL"},
      {"\u009B"
       "31m",
       "\\xC2\\x9B31m", "C1"},
      {"a\u2028b", "a\\xE2\\x80\\xA8b", "line separator"},
      {"caf\xE9", "caf\\xE9", "bad byte"},
      {std::string("a\0b", 3), "a\\x00b", "NUL"},
  };
  for (const auto& c : cases) EXPECT_EQ(one_line(c.text), c.want) << c.source;
}

TEST(Text, FillsPlaceholdersByTheirNumber) {
  struct Case {
    std::string text, want;
    std::set<std::size_t> numbers;
  };
  // Own cases.
  const Case cases[] = {
      {"", "", {}},
      {"plain", "plain", {}},
      {"{0} of {1}", "one of {0}", {0, 1}},
      {"{1}/{0}/{1}", "{0}/one/{0}", {0, 1}},
      {"{{0}}", "{one}", {0}},
      {"{2}{10}", "ten", {2, 10}},
      {"{} {a} {-1} {0 {100} { 0} {0", "{} {a} {-1} {0 {100} { 0} {0", {}},
      {"}{0}{", "}one{", {0}},
      {"\u2300{0}", "\u2300one", {0}},
  };
  std::vector<std::string> arguments(11);
  arguments[0] = "one", arguments[1] = "{0}", arguments[10] = "ten";
  for (const Case& c : cases) {
    EXPECT_EQ(filled(c.text, arguments), c.want) << c.text;
    EXPECT_EQ(placeholders(c.text), c.numbers) << c.text;
  }
  EXPECT_THROW((void)filled("{0} of {1}", {"one"}), Broken);
}

// ---- Diagnostics.

Diagnostic diagnostic(Code code, Place place, std::string message, Severity severity = Severity::error) {
  Diagnostic d;
  d.code = code;
  d.place = std::move(place);
  d.message = std::move(message);
  d.severity = severity;
  return d;
}

TEST(Diagnostic, IsWrittenTheWayCompilersDo) {
  struct Case {
    Code code;
    const char* file;
    int line;
    int column;
    const char* message;
    const char* want;
  };
  const Case cases[] = {
      {Code::does_not_fit, "a.yaml", 3, 7, "too wide", "a.yaml:3:7: error: too wide [E0202]"},
      {Code::outside_limits, "a.yaml", 3, 0, "small", "a.yaml:3: error: small [E0203]"},
      {Code::too_large, "a.yaml", 0, 0, "big", "a.yaml: error: big [E0002]"},
      {Code::usage, "", 0, 0, "which spec?", "error: which spec? [E0301]"},
      {Code::bad_name, "a\n", 1, 2, "x\ny\xFF", "a\\x0A:1:2: error: x\\x0Ay\\xFF [E0110]"},
  };
  for (const auto& c : cases) {
    EXPECT_EQ(to_text(diagnostic(c.code, {c.file, c.line, c.column}, c.message)), c.want) << "door: diagnostics.h";
  }
  EXPECT_EQ(to_text(diagnostic(Code::bad_name, {"a", 1, 2}, "hm", Severity::warning)), "a:1:2: warning: hm [E0110]");
}

TEST(Diagnostics, CountsErrorsNotWarnings) {
  Diagnostics d;
  d.add(diagnostic(Code::bad_name, {}, "careful", Severity::warning));
  EXPECT_FALSE(d.has_errors());
  d.error(Code::bad_name, {"f", 1, 1}, "x", "wrong");
  EXPECT_TRUE(d.has_errors());
  ASSERT_EQ(d.all().size(), 2U);
  EXPECT_EQ(d.all()[1].fragment, "x");
}

TEST(Diagnostics, ShowsFiftyAndThenACount) {
  const auto text_of = [](std::size_t count) {
    Diagnostics d;
    for (std::size_t i = 0; i < count; ++i) d.error(Code::bad_name, {"f", 1, 1}, "", "wrong");
    return d.text();
  };
  const auto lines = [](const std::string& text) { return std::count(text.begin(), text.end(), '\n'); };
  EXPECT_EQ(text_of(0), "");
  EXPECT_EQ(lines(text_of(kMaxShownDiagnostics)), 50);
  EXPECT_THAT(text_of(kMaxShownDiagnostics), EndsWith("wrong [E0110]\n"));
  EXPECT_EQ(lines(text_of(kMaxShownDiagnostics + 1)), 51);
  EXPECT_THAT(text_of(kMaxShownDiagnostics + 1), EndsWith("and 1 more\n"));
}

TEST(Nearest, FindsWhatWasMeant) {
  const std::vector<std::string> keys = {"section", "ribs", "effective_diameter", "outside_diameter", "bore",
                                         "PK",      "PJ"};
  struct Case {
    const char* word;
    const char* want;
    const char* source;
  };
  const Case cases[] = {
      {"secton", "section", "a letter lost"},
      {"sectoin", "section", "two letters swapped"},
      {"effective-diameter", "effective_diameter", "dash for underscore"},
      {"efective_diametre", "effective_diameter", "two slips in a long word"},
      {"Ribs", "ribs", "case does not count"},
      {"pk", "PK", "case does not count"},
      {"bores", "bore", "one letter more"},
      {"flange", "", "nothing near"},
      {"", "", "nothing written"},
      {"x", "", "a lone letter resembles nothing"},
  };
  for (const auto& c : cases) EXPECT_EQ(nearest(c.word, keys), c.want) << c.word << ": " << c.source;
  EXPECT_EQ(nearest("a", {"b"}), "") << "one letter against one letter";
  EXPECT_EQ(nearest("bore", {}), "");
  EXPECT_EQ(nearest(std::string(1 << 20, 'a'), keys), "") << "a huge word costs nothing";
}

TEST(Nearest, GuessesOnlyWhereTheGuessSaysSomething) {
  struct Case {
    const char* word;
    std::vector<std::string> allowed;
    const char* want;
    const char* source;
  };
  const Case cases[] = {
      {"bolt", {"bolts", "bore"}, "did you mean 'bolts'?", "one is nearest"},
      {"H77", {"H6", "H7", "h7"}, "did you mean 'H7'?", "case decides between equals"},
      {"M1", {"M10", "M12", "M24"}, "did you mean 'M10' or 'M12'?", "two are as near"},
      {"M7", {"M4", "M5", "M6"}, "there are M4, M5 and M6", "three are as near: no guess"},
      {"wood", {"steel", "iron"}, "there are steel and iron", "nothing near"},
  };
  for (const auto& c : cases) EXPECT_EQ(meant_or_known(c.word, c.allowed), c.want) << c.word << ": " << c.source;
}

// ---- Quantities.

TEST(Quantity, ReadsWhatPeopleWrite) {
  struct Case {
    const char* text;
    Measure measure;
    double want;
    const char* source;
  };
  constexpr double kPi = std::numbers::pi;
  const Case cases[] = {
      {"12 mm", Measure::length, 12, "unit itself"},
      {"12mm", Measure::length, 12, "no space"},
      {"  12   mm ", Measure::length, 12, "spaces around"},
      {"+0.1 mm", Measure::length, 0.1, "a plus sign"},
      {"-0.02 mm", Measure::length, -0.02, "a minus sign"},
      {".5 mm", Measure::length, 0.5, "no leading zero"},
      {"1.5e2 mm", Measure::length, 150, "exponent"},
      {"1e300 mm", Measure::length, 1e300, "range is judged elsewhere"},
      {"1e308 m", Measure::length, kInfinity, "range is judged elsewhere"},
      {"2 cm", Measure::length, 20, "SI"},
      {"0.3 m", Measure::length, 300, "SI"},
      {"50 um", Measure::length, 0.05, "SI"},
      {"9 \u00B5m", Measure::length, 0.009, "micro sign"},
      {"9 \u03BCm", Measure::length, 0.009, "Greek mu"},
      {"0.5 in", Measure::length, 12.7, "inch of 1959"},
      {"1 in", Measure::length, 25.4, "inch of 1959"},
      {"2.5\"", Measure::length, 63.5, "inch mark"},
      {"3/16 in", Measure::length, 4.7625, "own recomputation"},
      {"-3/16 in", Measure::length, -4.7625, "own recomputation"},
      {"5/8\"", Measure::length, 15.875, "own recomputation"},
      {"7/4 in", Measure::length, 44.45, "own recomputation"},
      {"6-1/2 in", Measure::length, 165.1, "own recomputation"},
      {"6 1/2 in", Measure::length, 165.1, "own recomputation"},
      {"-6-1/2 in", Measure::length, -165.1, "the sign is the whole number's"},
      {"40 deg", Measure::angle, 40 * kPi / 180, "own recomputation"},
      {"40\u00B0", Measure::angle, 40 * kPi / 180, "own recomputation"},
      {"0.5 rad", Measure::angle, 0.5, "unit itself"},
      {"24 %", Measure::ratio, 0.24, "own recomputation"},
      {"24%", Measure::ratio, 0.24, "own recomputation"},
      {"0.24", Measure::ratio, 0.24, "a plain number"},
      {"1/10", Measure::ratio, 0.1, "a taper as shops write it"},
      {"1:10", Measure::ratio, 0.1, "a taper as ISO 3040 writes it"},
      {"6000 rpm", Measure::speed, 6000, "unit itself"},
      {"6000 1/min", Measure::speed, 6000, "no mixed number"},
      {"28 N m", Measure::torque, 28000, "SI"},
      {"28 Nm", Measure::torque, 28000, "SI"},
      {"0.35 N m/deg", Measure::torque_rate, 350 * 180 / kPi, "own recomputation"},
      {"2 N m/rad", Measure::torque_rate, 2000, "SI"},
      {"0.3 kN", Measure::force, 300, "SI"},
      {"4 N/mm", Measure::force_rate, 4, "unit itself"},
      {"0.0012 kg m2", Measure::inertia, 1200, "SI"},
      {"12 kg cm2", Measure::inertia, 1200, "SI"},
      {"21 g/m", Measure::linear_mass, 0.021, "SI"},
      {"50 m/s", Measure::velocity, 50, "unit itself"},
      {"60 rpm/s", Measure::spin_up, 2 * kPi, "one more turn a second, each second"},
      {"5 L", Measure::volume, 5000, "SI"},
      {"28 N mm", Measure::torque, 28, "unit itself"},
      {"240 MPa", Measure::pressure, 240, "unit itself"},
      {"68.9 GPa", Measure::pressure, 68900, "SI"},
      {"5 kPa", Measure::pressure, 0.005, "SI"},
      {"7 Pa", Measure::pressure, 7e-6, "SI"},
      {"3 bar", Measure::pressure, 0.3, "SI brochure"},
      {"-40 \u00B0C", Measure::temperature, -40, "unit itself"},
      {"80 degC", Measure::temperature, 80, "unit itself"},
      {"38 kW", Measure::power, 38000, "SI"},
      {"5 W", Measure::power, 5, "unit itself"},
      {"2.7 g/cm3", Measure::density, 2.7e-6, "own recomputation"},
      {"7850 kg/m3", Measure::density, 7.85e-6, "own recomputation"},
      {"23.6 1e-6/K", Measure::expansion, 23.6e-6, "own recomputation"},
      {"23.6e-6/K", Measure::expansion, 23.6e-6, "the exponent in the number"},
      {"23.6 um/m/K", Measure::expansion, 23.6e-6, "own recomputation"},
      {"0.00002 1/K", Measure::expansion, 2e-5, "unit itself"},
      {"2.5", Measure::plain, 2.5, "no unit"},
      {"-1e-3", Measure::plain, -0.001, "no unit"},
  };
  for (const auto& c : cases) {
    const Quantity got = read_quantity(c.text, c.measure);
    EXPECT_EQ(got.error, QuantityError::none) << c.text << ", " << c.source;
    EXPECT_DOUBLE_EQ(got.value, c.want) << c.text << ", " << c.source;
  }
}

TEST(Quantity, KeepsRoundLengthsExact) {
  struct Case {
    const char* text;
    double want;
  };
  const Case cases[] = {{"0.5 in", 12.7}, {"1/2 in", 12.7}, {"3/16 in", 4.7625}, {"6-1/2 in", 165.1}, {"50 um", 0.05},
                        {"9 um", 0.009},  {"0.1 mm", 0.1},  {"86.36 mm", 86.36}, {"1/32 in", 0.79375}};
  for (const auto& c : cases) EXPECT_EQ(read_quantity(c.text, Measure::length).value, c.want) << c.text;
}

TEST(Quantity, ConvertsByTheDefinedFactors) {
  // Psi and mechanical horsepower as NIST SP 811 lists them, from memory.
  EXPECT_NEAR(read_quantity("1 psi", Measure::pressure).value, 6.894757e-3, 5e-10);
  EXPECT_NEAR(read_quantity("1 hp", Measure::power).value, 745.6999, 5e-5);
}

TEST(Quantity, TakesABareLengthOnlyInAGivenUnit) {
  EXPECT_EQ(read_quantity("20", Measure::length).error, QuantityError::missing_unit);
  EXPECT_EQ(read_quantity("20", Measure::length, "mm").value, 20);
  EXPECT_EQ(read_quantity("2", Measure::length, "in").value, 50.8);
  EXPECT_EQ(read_quantity("3/16", Measure::length, "in").value, 4.7625);
  EXPECT_EQ(read_quantity("3/16", Measure::length, "mm").error, QuantityError::not_a_number);
  EXPECT_EQ(read_quantity("20 mm", Measure::length, "in").value, 20) << "a written unit counts";
  EXPECT_EQ(read_quantity("20", Measure::angle, "mm").error, QuantityError::missing_unit);
  EXPECT_THROW((void)read_quantity("20", Measure::length, "furlong"), Broken);
}

TEST(Quantity, RefusesTheRestAndSaysWhy) {
  using enum QuantityError;
  struct Case {
    std::string text;
    Measure measure;
    QuantityError want;
    const char* source;
  };
  const Case cases[] = {
      {"", Measure::length, not_a_number, "nothing"},
      {"  ", Measure::length, not_a_number, "blanks"},
      {"mm", Measure::length, not_a_number, "no number"},
      {"wide", Measure::length, not_a_number, "a word"},
      {"1,5 mm", Measure::length, not_a_number, "decimal comma"},
      {"1.5.2 mm", Measure::length, not_a_number, "two points"},
      {"1_000 mm", Measure::length, not_a_number, "underscore"},
      {"1 000 mm", Measure::length, not_a_number, "space in the number"},
      {"nan", Measure::plain, not_a_number, "NaN"},
      {"-nan mm", Measure::length, not_a_number, "NaN"},
      {"inf mm", Measure::length, not_a_number, "infinity"},
      {"-infinity", Measure::plain, not_a_number, "infinity"},
      {"0x10 mm", Measure::length, not_a_number, "hexadecimal"},
      {"-0X1p3", Measure::plain, not_a_number, "hexadecimal"},
      {"1e400 mm", Measure::length, not_a_number, "overflows double"},
      {"1e-400 mm", Measure::length, not_a_number, "underflows double"},
      {std::string(400, '9') + " mm", Measure::length, not_a_number, "overflows double"},
      {"+-5 mm", Measure::length, not_a_number, "two signs"},
      {"--5 mm", Measure::length, not_a_number, "two signs"},
      {"- 5 mm", Measure::length, not_a_number, "sign apart"},
      {".", Measure::plain, not_a_number, "a point"},
      {"12 mm x", Measure::length, not_a_number, "past the unit"},
      {"12 mm, 5 mm", Measure::length, not_a_number, "past the unit"},
      {"12 mm 5", Measure::length, not_a_number, "past the unit"},
      {"3/0 in", Measure::length, not_a_number, "division by zero"},
      {"3/ in", Measure::length, not_a_number, "half a fraction"},
      {"3/-4 in", Measure::length, not_a_number, "sign in a fraction"},
      {"6-5/4 in", Measure::length, not_a_number, "mixed number with more than one"},
      {"6.5-1/2 in", Measure::length, not_a_number, "mixed number without a whole one"},
      {"1/2 mm", Measure::length, not_a_number, "fractions are for inches"},
      {"1/2", Measure::plain, not_a_number, "fractions are for inches and ratios"},
      {std::string("5\0mm", 4), Measure::length, not_a_number, "NUL"},
      {"3/16", Measure::length, missing_unit, "bare fraction"},
      {"40", Measure::angle, missing_unit, "bare angle"},
      {"6000", Measure::speed, missing_unit, "bare speed"},
      {"12 deg", Measure::length, wrong_unit, "another measure's unit"},
      {"12 N m", Measure::length, wrong_unit, "another measure's unit"},
      {"12 1/min", Measure::length, wrong_unit, "another measure's unit"},
      {"12 %", Measure::length, wrong_unit, "another measure's unit"},
      {"12 furlong", Measure::length, wrong_unit, "unknown word"},
      {"12 MM", Measure::length, wrong_unit, "units keep their case"},
      {"12 m\u00B2", Measure::length, wrong_unit, "unknown unit"},
      {"12 N cm", Measure::torque, wrong_unit, "unknown unit with a space"},
      {"5 mm", Measure::plain, wrong_unit, "no unit is due"},
      {"5 mm", Measure::ratio, wrong_unit, "no length is due"},
  };
  for (const auto& c : cases) {
    EXPECT_EQ(read_quantity(c.text, c.measure).error, c.want) << one_line(c.text) << ", " << c.source;
  }
}

TEST(Quantity, HasNoMinusZero) {
  EXPECT_FALSE(std::signbit(read_quantity("-0 mm", Measure::length).value));
  EXPECT_FALSE(std::signbit(read_quantity("-0", Measure::ratio).value));
}

TEST(Quantity, ReadsItsOwnExamples) {
  for (int m = 0; m <= static_cast<int>(Measure::plain); ++m) {
    const auto measure = static_cast<Measure>(m);
    EXPECT_EQ(read_quantity(example_of(measure), measure).error, QuantityError::none) << example_of(measure);
    EXPECT_FALSE(allowed_units(measure).empty()) << example_of(measure);
  }
  EXPECT_EQ(allowed_units(Measure::length), "mm, cm, m, um or in");
  EXPECT_EQ(example_of(Measure::length), "12 mm");
}

TEST(Quantity, ReadsAnyNumberOfMillimetresBack) {
  expect_property([](std::int32_t micrometres) {
    const double value = micrometres / 1000.0;
    RC_ASSERT(read_quantity(shortest(value) + " mm", Measure::length).value == value);
  });
}

TEST(Quantity, NeverBreaksOnAnyText) {
  expect_property([](const std::string& text) {
    for (int m = 0; m <= static_cast<int>(Measure::plain); ++m) {
      const Quantity got = read_quantity(text, static_cast<Measure>(m), "in");
      RC_ASSERT(got.error == QuantityError::none || got.value == 0);
    }
  });
}

// ---- Rows.

TEST(Judged, HoldsTheValueAgainstItsLimits) {
  struct Case {
    double value;
    std::optional<double> lower, upper;
    double uncertainty;
    Verdict want;
    const char* source;
  };
  const Case cases[] = {
      {1, {}, {}, 0, Verdict::note, "no limit"},
      {1, 1, 2, 0, Verdict::pass, "on the lower limit"},
      {2, 1, 2, 0, Verdict::pass, "on the upper limit"},
      {std::nextafter(2, 3), 1, 2, 0, Verdict::pass, "above by rounding"},
      {std::nextafter(1, 0), 1, 2, 0, Verdict::pass, "below by rounding"},
      {2 + 5e-9, 1, 2, 0, Verdict::fail, "just above"},
      {1 - 5e-9, 1, 2, 0, Verdict::fail, "just below"},
      {3e6 + 2e-3, 1, 3e6, 0, Verdict::pass, "above by rounding, of a large limit"},
      {5, {}, 4, 0, Verdict::fail, "one limit"},
      {5, 4, {}, 0, Verdict::pass, "one limit"},
      {1.9, 1, 2, 0.25, Verdict::doubt, "inside, near"},
      {2.1, 1, 2, 0.25, Verdict::doubt, "outside, near"},
      {1.5, 1, 2, 0.25, Verdict::pass, "inside, clear"},
      {2.25, 1, 2, 0.25, Verdict::fail, "outside by the uncertainty itself"},
      {1.75, 1, 2, 0.25, Verdict::pass, "inside by the uncertainty itself"},
      {std::nan(""), 1, 2, 0, Verdict::fail, "NaN never passes"},
      {kInfinity, 1, {}, 0, Verdict::pass, "infinitely safe"},
  };
  for (const auto& c : cases) {
    Check row;
    row.value = c.value;
    row.lower = c.lower;
    row.upper = c.upper;
    EXPECT_EQ(to_text(judged(row, c.uncertainty).verdict), to_text(c.want)) << c.value << ": " << c.source;
  }
  EXPECT_THROW((void)judged({}, -1), Broken);
}

TEST(Worst, PutsFailBeforeDoubtBeforeTheRest) {
  const auto worst_of = [](const std::vector<Verdict>& verdicts) {
    std::vector<Check> checks(verdicts.size());
    for (std::size_t i = 0; i < verdicts.size(); ++i) checks[i].verdict = verdicts[i];
    return to_text(worst(checks));
  };
  EXPECT_EQ(worst_of({}), "pass");
  EXPECT_EQ(worst_of({Verdict::note, Verdict::unchecked, Verdict::pass}), "pass");
  EXPECT_EQ(worst_of({Verdict::pass, Verdict::doubt, Verdict::note}), "doubt");
  EXPECT_EQ(worst_of({Verdict::doubt, Verdict::fail, Verdict::pass}), "fail");
}

TEST(Rows, AppendKeepsTheOrder) {
  const auto rows_named = [](const char* name) {
    Rows rows;
    rows.dimensions.emplace_back().id = name;
    rows.checks.emplace_back().id = name;
    rows.cautions.emplace_back(name);
    return rows;
  };
  Rows rows = rows_named("a");
  rows.append(rows_named("b"));
  ASSERT_EQ(rows.dimensions.size(), 2U);
  ASSERT_EQ(rows.checks.size(), 2U);
  EXPECT_EQ(rows.dimensions[1].id, "b");
  EXPECT_EQ(rows.checks[1].id, "b");
  EXPECT_THAT(rows.cautions, ::testing::ElementsAre("a", "b"));
}

// ---- JSON.

TEST(Json, IsIndentedByTwoSpaces) {
  JsonWriter w;
  w.begin_object().field("format", 1).key("rows").begin_array().value(0.5).value(true).null().end_array();
  w.key("none").begin_array().end_array().key("empty").begin_object().end_object().field("name", "x").end_object();
  EXPECT_EQ(
      w.text(),
      "{\n  \"format\": 1,\n  \"rows\": [\n    0.5,\n    true,\n    null\n  ],\n  \"none\": [],\n  \"empty\": {},\n"
      "  \"name\": \"x\"\n}\n");
}

TEST(Json, StandsOnOneLineWhenCompact) {
  JsonWriter w(true);
  w.begin_object().field("a", 1).key("b").begin_array().value("x").value(-0.0).end_array().end_object();
  EXPECT_EQ(w.text(), R"({"a":1,"b":["x",0]})");
}

TEST(Json, QuotesWhatMustBeQuoted) {
  EXPECT_EQ(json_quoted("a\"b\\c\n\t\r"), R"("a\"b\\c\n\t\r")");
  EXPECT_EQ(json_quoted(std::string_view("\0\x1f", 2)), R"("\u0000\u001f")");
  EXPECT_EQ(json_quoted("50 \u00B5m"), "\"50 \u00B5m\"");
  EXPECT_EQ(json_quoted("caf\xE9"), R"("caf\ufffd")") << "JSON is UTF-8 whatever a file is called";
}

TEST(Json, BreaksOnMisuse) {
  EXPECT_THROW(JsonWriter().begin_object().value(1), Broken);
  EXPECT_THROW(JsonWriter().begin_object().end_array(), Broken);
  EXPECT_THROW(JsonWriter().begin_object().key("a").key("b"), Broken);
  EXPECT_THROW(JsonWriter().begin_object().key("a").end_object(), Broken);
  EXPECT_THROW(JsonWriter().begin_array().key("a"), Broken);
  EXPECT_THROW(JsonWriter().value(1).value(2), Broken);
  EXPECT_THROW(JsonWriter().value(kInfinity), Broken);
  EXPECT_THROW((void)JsonWriter().begin_array().text(), Broken);
  EXPECT_THROW((void)JsonWriter().text(), Broken);
}

// ---- SHA-256.

TEST(Sha256, AgreesWithThePublishedVectors) {
  struct Case {
    std::string bytes;
    const char* want;
    const char* source;
  };
  const Case cases[] = {
      {"", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855", "NIST example, from memory"},
      {"abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad", "FIPS 180-4 example, from memory"},
      {"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
       "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
       "FIPS 180-4 example, from memory, two blocks"},
      {std::string(1000000, 'a'), "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0",
       "FIPS 180-4 example, from memory, a million times a"},
  };
  for (const auto& c : cases) EXPECT_EQ(sha256(c.bytes), c.want) << c.source;
}

// Around the places where the padding takes a block more; values from Python's hashlib.
TEST(Sha256, PadsRightAroundABlock) {
  struct Case {
    std::size_t count;
    const char* want;
  };
  const Case cases[] = {
      {55, "d5e285683cd4efc02d021a5c62014694958901005d6f71e89e0989fac77e4072"},
      {56, "04c26261370ee7541549d16dee320c723e3fd14671e66a099afe0a377c16888e"},
      {63, "75220b47218278e656f2013bb8f0c455a25eaf01e86c64924e9d48d89776d6f2"},
      {64, "7ce100971f64e7001e8fe5a51973ecdfe1ced42befe7ee8d5fd6219506b5393c"},
      {65, "9537c5fdf120482f7d58d25e9ed583f52c02b4e304ea814db1633ad565aed7e9"},
      {119, "000b48d4edf0fa7bee3c6236ecd2785baa5db4eeb8bb54341b029e0d9fa5fb0c"},
      {120, "13f05a0b594787f5ecd315edc96141bd3243203d1b7d4f0836f37308b276ba98"},
  };
  for (const auto& c : cases) EXPECT_EQ(sha256(std::string(c.count, 'x')), c.want) << c.count << " times x";
}

}  // namespace
}  // namespace groovewright
