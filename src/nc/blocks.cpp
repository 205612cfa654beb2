#include "blocks.h"

#include <algorithm>
#include <array>

#include "groovewright/base/text.h"

namespace groovewright::nc {
namespace {

/// Some controls show no more than a screen's width; NIST IR 6556 allows 256 characters a line.
constexpr std::size_t kWidest = 100;

/// Controls know ASCII only, and a comment ends at its first closing bracket.
std::string plain(std::string_view text) {
  std::string out;
  for (const auto character : cut_into_characters(text)) {
    const char c = character.front();
    if (c == '(' || c == '{') {
      out += '[';
    } else if (c == ')' || c == '}') {
      out += ']';
    } else if (c == '\n' || c == '\t' || c == '\r') {
      out += ' ';
    } else {
      out += character.size() == 1 && c >= ' ' && c <= '~' ? c : '?';
    }
  }
  return out;
}

/// Comments that begin with one of these words do something on an open interpreter (NIST IR 6556 has MSG).
std::string without_command(const std::string& text) {
  constexpr std::array<std::string_view, 12> kCommands = {"MSG",     "DEBUG",     "PRINT",      "LOG",
                                                          "LOGOPEN", "LOGAPPEND", "LOGCLOSE",   "PY",
                                                          "PYRUN",   "PROBEOPEN", "PROBECLOSE", "ABORT"};
  std::string first;
  for (const char c : text) {
    if (c == ' ') continue;
    const char capital = c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
    if (capital < 'A' || capital > 'Z') break;
    first += capital;
  }
  return std::ranges::find(kCommands, first) == kCommands.end() ? text : "- " + text;
}

}  // namespace

std::vector<std::string> comments(std::string_view text) {
  std::vector<std::string> out;
  std::string left = plain(text);
  while (true) {
    std::size_t end = left.size();
    if (end > kWidest) {
      end = left.rfind(' ', kWidest);
      if (end == std::string::npos || end == 0) end = kWidest;
    }
    out.push_back("(" + without_command(left.substr(0, end)) + ")");
    if (end == left.size()) return out;
    left.erase(0, left[end] == ' ' ? end + 1 : end);
  }
}

}  // namespace groovewright::nc
