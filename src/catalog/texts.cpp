#include "texts.h"

#include <algorithm>
#include <set>

#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"

namespace groovewright::catalog {
namespace {

constexpr const char* kEnglish = "en";

std::string read_word(Fields& file, const std::string& key, const std::string& example) {
  std::string text = file.word(key, example);
  if (one_line(text) != text) file.error(Code::bad_catalog, file.node(key, example), "a text is one line");
  return text;
}

std::string in_braces(const std::set<std::size_t>& numbers) {
  std::vector<std::string> shown;
  for (const std::size_t number : numbers) shown.push_back("{" + std::to_string(number) + "}");
  return shown.empty() ? "none" : listed(shown);
}

std::string read_translation(Fields& file, const std::string& key, const std::string& english) {
  std::string text = read_word(file, key, english);
  const auto due = placeholders(english);
  if (!text.empty() && placeholders(text) != due) {
    file.error(
        Code::bad_catalog, file.node(key, english),
        "the placeholders of '" + key + "' are those of English: " + in_braces(due) + ", as in `" + english + "`");
  }
  return text;
}

/// A run that wants no drawing reads a person's own language without ours.
Texts built_in_english(const TextSet& set) {
  const auto files = built_in_files();
  const auto file = std::ranges::find(files, set.english_file, &TextFile::name);
  require(file != files.end(), "the program carries English texts");
  Diagnostics diagnostics;
  auto catalog = read_catalog({&*file, 1}, diagnostics);
  require(catalog.has_value(), "the built-in data files are without fault");
  return std::move((*catalog.*set.kept).at(kEnglish));
}

}  // namespace

const std::string& Texts::at(std::string_view key) const {
  const auto found = words.find(key);
  if (found == words.end()) throw Broken("Texts::at: no text " + std::string(key));
  return found->second;
}

void read_texts(Fields& file, const std::string& language, const TextSet& set, Catalog& catalog) {
  std::map<std::string, Texts>& texts = catalog.*set.kept;
  if (file.place().file == set.english_file) {
    Texts english{language, {}, file.source()};
    for (const yaml::Entry* entry : file.rest()) english.words[entry->key] = read_word(file, entry->key, "Scale");
    texts[language] = std::move(english);
    return;
  }
  if (!texts.contains(kEnglish)) texts[kEnglish] = built_in_english(set);
  const Texts english = texts.at(kEnglish);
  Texts& own = texts.try_emplace(language, english).first->second;
  own.language = language;
  own.source = file.source();
  for (const auto& [key, text] : english.words) {
    if (file.has(key)) own.words[key] = read_translation(file, key, text);
  }
}

}  // namespace groovewright::catalog
