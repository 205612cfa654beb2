// choices.h: a word out of a few, in a data file.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "fields.h"

namespace groovewright::catalog {

template <class E>
using Choice = std::pair<std::string_view, E>;

/// The value that the word under `key` stands for; `choices` are not empty. Another word is told, and the first value
/// stands in for it.
template <class E, std::size_t N>
[[nodiscard]] E read_choice(Fields& fields, std::string_view key, const Choice<E> (&choices)[N]) {
  const yaml::Node& node = fields.node(key, choices[0].first);
  if (node.kind == yaml::Node::Kind::map && node.entries.empty()) return choices[0].second;  // missing: told by finish
  const std::string word = fields.word(key, choices[0].first);
  std::vector<std::string> names;
  for (const auto& [name, value] : choices) {
    if (word == name) return value;
    names.emplace_back(name);
  }
  if (!word.empty()) {
    fields.error(Code::unknown_choice, node,
                 "'" + std::string(key) + "': no '" + word + "'; " + meant_or_known(word, names));
  }
  return choices[0].second;
}

inline constexpr Choice<bool> kYesNo[] = {{"true", true}, {"false", false}};

/// Tells that the data disagree, unless something else is wrong in them already.
inline void check(const Fields& fields, const yaml::Node& at, bool holds, const std::string& what) {
  if (fields.clean() && !holds) fields.error(Code::bad_catalog, at, what);
}

}  // namespace groovewright::catalog
