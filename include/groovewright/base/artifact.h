// artifact.h: files as values: what comes in and what goes out of everything below `cli`.
#pragma once

#include <string>
#include <vector>

namespace groovewright {

struct TextFile {
  std::string name;  ///< as the person would name it: diagnostics show this
  std::string text;
};

struct Artifact {
  std::string name;  ///< file name inside the part's folder
  std::string bytes;
};
using Artifacts = std::vector<Artifact>;

}  // namespace groovewright
