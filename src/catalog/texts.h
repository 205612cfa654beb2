// texts.h: data files of the words on drawings.
#pragma once

#include <map>
#include <string>

#include "fields.h"
#include "groovewright/catalog.h"

namespace groovewright::catalog {

/// Adds the words of one language. What it leaves out is said in English; what English doesn't say is an error.
void read_texts(Fields& file, const std::string& language, std::map<std::string, Texts>& texts);

}  // namespace groovewright::catalog
