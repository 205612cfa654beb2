#include "codes.h"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "groovewright/base/text.h"
#include "numbers.h"

namespace groovewright::nc {
namespace {

constexpr double kWhole = 1e-4;  ///< how near a code must be to one that there is (NIST IR 6556)
constexpr int kMostMCodes = 4;   ///< in a block; the same

struct GCode {
  Tenths code;
  Group group;
  bool of_dialect = false;  ///< not in NIST IR 6556, or left to dialects
};
constexpr GCode kGCodes[] = {
    {0, Group::motion},
    {10, Group::motion},
    {20, Group::motion},
    {30, Group::motion},
    {40, Group::none},
    {70, Group::diameters, true},
    {80, Group::diameters, true},
    {170, Group::plane},
    {180, Group::plane},
    {200, Group::units},
    {210, Group::units},
    {331, Group::motion, true},
    {400, Group::cutter},
    {430, Group::length},
    {490, Group::length},
    {540, Group::system},
    {610, Group::path},
    {611, Group::path},
    {640, Group::path},
    {800, Group::motion},
    {810, Group::motion},
    {820, Group::motion},
    {830, Group::motion},
    {840, Group::motion, true},
    {900, Group::distance},
    {910, Group::distance},
    {911, Group::centres, true},
    {940, Group::feed_mode},
    {950, Group::feed_mode, true},
    {960, Group::spindle_mode, true},
    {970, Group::spindle_mode, true},
    {980, Group::retract},
    {990, Group::retract},
};

/// Words of the language that are refused, and why.
struct Refused {
  Tenths from, to;
  const char* why;
};
constexpr Refused kRefused[] = {
    {100, 100, "it moves the origin"},
    {190, 190, "programs here lie in G17 or G18"},
    {280, 280, "the text does not tell where home is, nor do controls agree which axes go there"},
    {300, 300, "the text does not tell where it leads"},
    {382, 382, "a probe stops where the text does not tell"},
    {410, 420, "the path must not depend on a radius in the control's table"},
    {530, 530, "the text does not tell where the machine's own origin is"},
    {550, 593, "the text does not tell where another origin is"},
    {850, 890, "this boring cycle is not read"},
    {920, 923, "it moves the origin"},
    {930, 930, "inverse time feed is not read"},
};

struct MCode {
  int code;
  Group group;
};
constexpr MCode kMCodes[] = {{0, Group::stop},      {1, Group::stop},    {2, Group::stop},   {3, Group::spindle},
                             {4, Group::spindle},   {5, Group::spindle}, {6, Group::change}, {7, Group::coolant},
                             {8, Group::coolant},   {9, Group::coolant}, {30, Group::stop},  {48, Group::overrides},
                             {49, Group::overrides}};

/// Coolants run side by side: M7 and M8 may stand together.
bool together(Group group, int a, int b) { return group == Group::coolant && a != 9 && b != 9 && a != b; }

void put(Sorted& s, Group group, int code, const std::string& name, const std::string& other) {
  const auto before = s.code(group);
  if (before && !together(group, *before, code)) {
    s.faults.push_back(name + " and " + other + " exclude each other in one block");
    return;
  }
  s.put_code(group, code);
}

void sort_g(Sorted& s, double value, const std::set<Tenths>& dialect_codes) {
  const double tenths = std::round(value * 10);
  const auto code = static_cast<Tenths>(tenths);
  const std::string name = std::abs(value * 10 - tenths) > kWhole ? "G" + trimmed(value, 4) : g_name(code);
  const auto refused = std::ranges::find_if(kRefused, [&](const Refused& r) { return r.from <= code && code <= r.to; });
  if (refused != std::end(kRefused)) {
    s.faults.push_back(name + " is refused: " + refused->why);
    return;
  }
  const auto found = std::ranges::find(kGCodes, code, &GCode::code);
  if (found == std::end(kGCodes) || std::abs(value * 10 - tenths) > kWhole) {
    s.faults.push_back(name + " is no known code");
  } else if (found->of_dialect && !dialect_codes.contains(code)) {
    s.faults.push_back(name + " is none of this control's codes");
  } else if (found->group == Group::none) {
    s.set_dwells();
  } else {
    put(s, found->group, code, name, g_name(s.code(found->group).value_or(0)));
  }
}

void sort_m(Sorted& s, double value) {
  const auto code = static_cast<int>(std::round(value));
  const auto found = std::ranges::find(kMCodes, code, &MCode::code);
  if (found == std::end(kMCodes) || std::abs(value - code) > kWhole) {
    s.faults.push_back("M" + trimmed(value, 4) + " is no known code");
    return;
  }
  put(s, found->group, code, "M" + std::to_string(code), "M" + std::to_string(s.code(found->group).value_or(0)));
}

}  // namespace

std::optional<double> Sorted::take(char letter) {
  taken_[index(letter)] = true;
  return values_[index(letter)];
}

std::optional<int> Sorted::code(Group group) const {
  const auto found = std::ranges::find(codes_, group, &std::pair<Group, int>::first);
  return found == codes_.end() ? std::nullopt : std::optional(found->second);
}

void Sorted::put_code(Group group, int code) { codes_.emplace_back(group, code); }

std::string Sorted::unused() const {
  std::string letters;
  for (std::size_t i = 0; i < values_.size(); ++i) {
    if (values_[i] && !taken_[i]) letters += static_cast<char>('A' + static_cast<int>(i));
  }
  return letters;
}

std::string g_name(Tenths code) {
  return "G" + std::to_string(code / 10) + (code % 10 == 0 ? "" : "." + std::to_string(code % 10));
}

std::set<Tenths> codes_of(const Dialect& dialect) {
  std::set<Tenths> codes;
  for (const auto& [function, pattern] : dialect.words) {
    for (std::size_t at = pattern.find('G'); at != std::string::npos; at = pattern.find('G', at + 1)) {
      const std::size_t end = std::min(pattern.find_first_not_of("0123456789.", at + 1), pattern.size());
      const std::string_view digits = std::string_view(pattern).substr(at + 1, end - at - 1);
      if (!digits.empty() && digits.size() <= 5) codes.insert(static_cast<Tenths>(std::round(value_of(digits) * 10)));
    }
  }
  // Whoever has the one has its way back.
  if (codes.contains(70)) codes.insert(80);
  if (codes.contains(960)) codes.insert(970);
  return codes;
}

Sorted sorted(const Block& block, const std::set<Tenths>& dialect_codes) {
  Sorted s;
  s.line = block.line;
  int m_codes = 0;
  for (const Word& word : block.words) {
    s.count();
    if (word.letter == 'G') {
      sort_g(s, word.value, dialect_codes);
    } else if (word.letter == 'M') {
      sort_m(s, word.value);
      if (++m_codes == kMostMCodes + 1) s.faults.push_back("a block holds four M words at most");
    } else if (word.letter >= 'A' && word.letter <= 'Z') {
      s.put(word.letter, word.value);
    }
  }
  return s;
}

}  // namespace groovewright::nc
