#include "read_dialect.h"

#include <algorithm>

namespace groovewright::catalog {
namespace {

std::vector<std::string> function_names() {
  std::vector<std::string> names;
  for (const nc::Function& function : nc::functions()) names.emplace_back(function.name);
  return names;
}

/// One function's pattern, into `dialect`.
void read_function(Fields& words, const yaml::Entry& entry, nc::Dialect& dialect) {
  const auto names = function_names();
  const auto function = std::ranges::find(nc::functions(), entry.key, &nc::Function::name);
  if (function == nc::functions().end()) {
    const yaml::Node key{yaml::Node::Kind::scalar, entry.key_place, entry.key, false, {}, {}};
    words.error(Code::unknown_key, key,
                "'" + entry.key + "' is no function of a control; " + meant_or_known(entry.key, names));
    return;
  }
  const std::string pattern = words.word(entry.key, function->example);
  if (pattern.empty()) return;  // reported
  const std::string fault = nc::pattern_fault(entry.key, pattern);
  if (fault.empty()) {
    dialect.words[entry.key] = pattern;
  } else {
    words.error(
        Code::bad_catalog, entry.value,
        "the words of '" + entry.key + "': " + fault + "; write them as `" + std::string(function->example) + "`");
  }
}

}  // namespace

nc::Dialect read_dialect(Fields& file, const std::string& id) {
  nc::Dialect dialect;
  dialect.id = id;
  dialect.name = file.word("name", "RS274/NGC as published");
  dialect.source = file.source();
  const std::string x = file.word("lathe_x", "diameter");
  if (!x.empty() && x != "diameter" && x != "radius") {
    file.error(Code::unknown_choice, file.node("lathe_x", ""), "'lathe_x' is diameter or radius");
  }
  dialect.lathe_diameters = x == "diameter";
  dialect.decimals = file.count("decimals");
  if (file.clean() && (dialect.decimals < nc::kLeastDecimals || dialect.decimals > nc::kMostDecimals)) {
    file.error(Code::out_of_range, file.node("decimals", ""), "'decimals' is 3 to 6: arcs need three at least");
  }
  if (!file.has("words")) return dialect;
  Fields words = file.map("words");
  for (const yaml::Entry* entry : words.rest()) read_function(words, *entry, dialect);
  words.finish();
  return dialect;
}

}  // namespace groovewright::catalog
