// program_mutations.h: slips of a hand or a wire in a program's text, one at a time, chosen by a seed.
#pragma once

#include <array>
#include <random>
#include <regex>
#include <string>
#include <vector>

#include "groovewright/base/text.h"
#include "programs.h"

namespace groovewright::programs {

enum class Slip {
  digit,
  word,
  rapid_for_feed,
  arc_sense,
  centre_sign,
  spindle,
  line_gone,
  lines_swapped,
  tool,
  feed,
  nudge
};
inline constexpr std::array kSlips = {
    "digit of X, Z, I or K", "word gone",    "G0 for G1 or back",  "G2 for G3 or back",
    "sign of I or K",        "M3 or S gone", "line gone",          "two lines swapped",
    "another tool number",   "another feed", "X or Z a little off"};

class Mutator {
 public:
  Mutator(const std::string& text, std::uint64_t seed) : lines_(lines_of(text)), random_(seed) {
    for (std::size_t i = 0; i < lines_.size(); ++i)
      if (!lines_[i].starts_with("(")) code_.push_back(i);
  }

  struct Mutant {
    Slip slip{};
    std::string text, says;
  };
  /// Differs from the text in each case.
  Mutant next() {
    const auto slip = static_cast<Slip>(below(kSlips.size()));
    while (true) {
      std::vector<std::string> lines = lines_;
      const std::size_t at = code_[below(code_.size())];
      std::string other = changed(slip, lines[at]);
      if (slip == Slip::line_gone) {
        other = "nothing";
        lines.erase(lines.begin() + static_cast<std::ptrdiff_t>(at));
      } else if (slip == Slip::lines_swapped) {
        const std::size_t with = below(2) == 0 ? code_[below(code_.size())] : std::min(at + 1, lines.size() - 1);
        other = lines[with];
        std::swap(lines[at], lines[with]);
      } else {
        lines[at] = other;
      }
      if (lines == lines_) continue;
      return {slip, text_of(lines),
              std::string(kSlips[static_cast<std::size_t>(slip)]) + ", line " + std::to_string(at + 1) + ": " +
                  lines_[at] + " -> " + other};
    }
  }

 private:
  std::size_t below(std::size_t n) { return static_cast<std::size_t>(random_() % n); }

  /// One of the places where the pattern matches, or none.
  struct Spot {
    std::size_t at = 0, length = 0;
  };
  Spot spot(const std::string& line, const char* pattern) {
    const std::regex wanted(pattern);
    std::vector<Spot> all;
    for (std::sregex_iterator i(line.begin(), line.end(), wanted), end; i != end; ++i)
      all.push_back({static_cast<std::size_t>(i->position()), static_cast<std::size_t>(i->length())});
    return all.empty() ? Spot{} : all[below(all.size())];
  }
  std::string other_digit(std::string line, const char* word) {
    const Spot s = spot(line, word);
    std::vector<std::size_t> digits;
    for (std::size_t i = s.at + 1; i < s.at + s.length; ++i)
      if (line[i] >= '0' && line[i] <= '9') digits.push_back(i);
    if (digits.empty()) return line;
    char& digit = line[digits[below(digits.size())]];
    digit = static_cast<char>('0' + (digit - '0' + 1 + static_cast<char>(below(9))) % 10);
    return line;
  }
  std::string without(std::string line, const char* pattern) {
    const Spot s = spot(line, pattern);
    return line.erase(s.at, s.length);
  }
  static std::string exchanged(std::string line, const std::string& a, const std::string& b) {
    for (const auto& [from, to] : {std::pair{a, b}, std::pair{b, a}})
      if (line.starts_with(from + " ")) return line.replace(0, from.size(), to);
    return line;
  }
  std::string other_sign(std::string line) {
    const Spot s = spot(line, R"([IK]-?[0-9.]+)");
    if (s.length == 0) return line;
    return line[s.at + 1] == '-' ? line.erase(s.at + 1, 1) : line.insert(s.at + 1, "-");
  }
  /// By 0.03 to 0.2 mm: as much as proofs could overlook.
  std::string nudged(std::string line) {
    const Spot s = spot(line, R"([XZ](\[)?-?[0-9.]+)");
    if (s.length == 0) return line;
    const std::size_t from = line.find_first_of("-0123456789", s.at), end = s.at + s.length;
    const double by = (0.03 + 0.01 * static_cast<double>(below(18))) * (below(2) == 0 ? 1 : -1);
    return line.replace(from, end - from, number(std::stod(line.substr(from, end - from)) + by, 4));
  }
  std::string changed(Slip slip, const std::string& line) {
    switch (slip) {
      case Slip::digit:
        return other_digit(line, R"([XZIK](\[)?-?[0-9.]+)");
      case Slip::word:
        return without(line, R"([A-Z](\[[^\]]*\]|-?[0-9.]+))");
      case Slip::rapid_for_feed:
        return exchanged(line, "G0", "G1");
      case Slip::arc_sense:
        return exchanged(line, "G2", "G3");
      case Slip::centre_sign:
        return other_sign(line);
      case Slip::spindle:
        return without(line, "M3|S[0-9.]+");
      case Slip::tool:
        return other_digit(line, "T[0-9]+");
      case Slip::feed:
        return other_digit(line, "F[0-9.]+");
      case Slip::nudge:
        return nudged(line);
      case Slip::line_gone:
      case Slip::lines_swapped:
        break;
    }
    return line;
  }

  std::vector<std::string> lines_;
  std::vector<std::size_t> code_;
  std::mt19937_64 random_;
};

}  // namespace groovewright::programs
