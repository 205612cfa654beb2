// texts.h: data files of the words on drawings and on the pages of a drive.
#pragma once

#include <map>
#include <string>
#include <string_view>

#include "fields.h"
#include "groovewright/catalog.h"

namespace groovewright::catalog {

/// A set of texts: the file that the program carries in English, and where a catalogue keeps them.
struct TextSet {
  std::string_view english_file;
  std::map<std::string, Texts> Catalog::*kept;
};
inline constexpr TextSet kDrawingTexts{"texts/en.yaml", &Catalog::texts};
inline constexpr TextSet kDriveTexts{"drive_texts/en.yaml", &Catalog::drive_texts};

/// Adds the words of one language. What it leaves out is said in English; what English doesn't say is an error.
void read_texts(Fields& file, const std::string& language, const TextSet& set, Catalog& catalog);

}  // namespace groovewright::catalog
