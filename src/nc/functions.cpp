#include <algorithm>

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "groovewright/nc.h"
#include "patterns.h"

namespace groovewright::nc {
namespace {

struct Hole {
  std::size_t at = std::string_view::npos, length = 0;
  std::string_view name;
};

/// The next "{…}" from `from` on; an opening brace that is never closed is a hole to the end, with a name that is none.
Hole next_hole(std::string_view pattern, std::size_t from) {
  const std::size_t open = pattern.find('{', from);
  if (open == std::string_view::npos) return {};
  const std::size_t close = std::min(pattern.find('}', open), pattern.size() - 1);
  return {open, close - open + 1, pattern.substr(open + 1, close - open - 1)};
}

std::string in_braces(const std::vector<std::string_view>& names) {
  std::vector<std::string> shown;
  for (const auto name : names) shown.push_back("{" + std::string(name) + "}");
  return shown.empty() ? "none" : listed(shown);
}

bool holds(const std::vector<std::string_view>& names, std::string_view name) {
  return std::ranges::find(names, name) != names.end();
}

/// With a number for each placeholder ("M3" for {turn}, "G17" for {plane}): is it one block of words?
std::string block_fault(std::string_view pattern) {
  std::string text(pattern);
  for (Hole hole = next_hole(text, 0); hole.length > 0; hole = next_hole(text, 0)) {
    const std::string_view sample = hole.name == "turn" ? "M3" : hole.name == "plane" ? "G17" : "1";
    text.replace(hole.at, hole.length, sample);
  }
  if (one_line(text) != text) return "it is not one line";
  Diagnostics diagnostics;
  const auto program = read("pattern", text, diagnostics);
  if (!program) return diagnostics.all().front().message;
  return program->blocks.empty() || program->blocks.front().words.empty() ? "it holds no words" : "";
}

}  // namespace

const std::vector<Function>& functions() {
  static const std::vector<Function> all = {
      {"diameters", {}, {}, "G7"},
      {"direct_speed", {"rpm"}, {"turn"}, "G97 S{rpm} {turn}"},
      {"drill", {"x", "y", "bottom", "clear"}, {}, "G81 X{x} Y{y} Z{bottom} R{clear}"},
      {"drill_dwell", {"x", "y", "bottom", "clear", "dwell"}, {}, "G82 X{x} Y{y} Z{bottom} R{clear} P{dwell}"},
      {"feed_per_minute", {"feed"}, {}, "G94 F{feed}"},
      {"feed_per_turn", {"feed"}, {}, "G95 F{feed}"},
      {"peck", {"x", "y", "bottom", "clear", "peck"}, {}, "G83 X{x} Y{y} Z{bottom} R{clear} Q{peck}"},
      {"rigid_tap", {"bottom", "pitch"}, {}, "G33.1 Z{bottom} K{pitch}"},
      {"safe_line", {"plane"}, {}, "{plane} G21 G40 G49 G54 G80 G90 G94"},
      {"surface_speed", {"speed", "max"}, {"turn"}, "G96 D{max} S{speed} {turn}"},
      {"tap", {"x", "y", "bottom", "clear"}, {}, "G84 X{x} Y{y} Z{bottom} R{clear}"},
      {"tool_length", {}, {"tool"}, "G43 H{tool}"},
  };
  return all;
}

std::string pattern_fault(std::string_view function, std::string_view pattern) {
  const auto& all = functions();
  const auto found = std::ranges::find(all, function, &Function::name);
  require(found != all.end(), "pattern_fault: a function that there is");
  std::vector<std::string_view> seen, allowed = found->due;
  allowed.insert(allowed.end(), found->allowed.begin(), found->allowed.end());
  for (Hole hole = next_hole(pattern, 0); hole.length > 0; hole = next_hole(pattern, hole.at + hole.length)) {
    if (!holds(allowed, hole.name)) {
      return "{" + std::string(hole.name) + "} is no placeholder of this function; there are " + in_braces(allowed);
    }
    seen.push_back(hole.name);
  }
  for (const auto due : found->due) {
    if (!holds(seen, due)) return "{" + std::string(due) + "} is missing";
  }
  return block_fault(pattern);
}

const std::string* pattern_of(const Dialect& dialect, std::string_view function) {
  const auto found = dialect.words.find(function);
  return found == dialect.words.end() ? nullptr : &found->second;
}

std::string filled_pattern(std::string_view pattern, std::initializer_list<Filling> fillings) {
  std::string out;
  std::size_t from = 0;
  for (Hole hole = next_hole(pattern, 0); hole.length > 0; hole = next_hole(pattern, from)) {
    const auto filling = std::ranges::find(fillings, hole.name, &Filling::placeholder);
    require(filling != fillings.end(), "write: a dialect's placeholder is known");
    out += pattern.substr(from, hole.at - from);
    out += filling->text;
    from = hole.at + hole.length;
  }
  out += pattern.substr(from);
  while (out.ends_with(' ')) out.pop_back();
  return out;
}

}  // namespace groovewright::nc
