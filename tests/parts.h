// parts.h: from the text of a spec to a part and its section, for tests of the rooms behind them.
#pragma once

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "groovewright/catalog.h"
#include "groovewright/part.h"
#include "groovewright/section.h"
#include "groovewright/spec.h"

namespace groovewright::testing {

struct MadePart {
  Diagnostics diagnostics;
  std::optional<part::Part> part;
  std::optional<section::Section> section;
};

/// Everything that can go wrong is in `diagnostics`.
inline MadePart made_part(const std::string& yaml, const std::string& name = "spec.yaml") {
  MadePart made;
  const auto pulley = spec::read_pulley({name, yaml}, made.diagnostics);
  if (!pulley) return made;
  const auto catalog = catalog::read_catalog(catalog::built_in_files(), made.diagnostics);
  if (!catalog) return made;
  made.part = part::resolve(*pulley, *catalog, made.diagnostics);
  if (made.part) made.section = section::half_section(*made.part, made.diagnostics);
  return made;
}

inline std::string file_text(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  EXPECT_TRUE(in.good()) << path;
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

/// The demos whose documents begin with this key, sorted.
inline std::vector<std::string> demos(const std::string& kind = "pulley") {
  std::vector<std::string> files;
  for (const auto& e : std::filesystem::directory_iterator(GW_SOURCE_DIR "/profiles/demo")) {
    if (e.path().extension() != ".yaml") continue;
    std::istringstream lines(file_text(e.path()));
    std::string first;
    while (std::getline(lines, first) && (first.empty() || first[0] == '#')) {
    }
    if (first.starts_with(kind + ":")) files.push_back(e.path());
  }
  std::sort(files.begin(), files.end());
  return files;
}

/// A disc of six PK ribs with lines that replace its own by key: `rim` lines go into the rim, `top` lines to the
/// document.
inline std::string disc(const std::string& size = "{effective_diameter: 120 mm}", const std::string& rim = "",
                        const std::string& hub = "", const std::string& top = "body: {solid: true}\n",
                        const std::string& section = "PK", int ribs = 6) {
  return "pulley: disc\nmaterial: aluminium-6061-T6\nrims:\n  - section: " + section +
         "\n    ribs: " + std::to_string(ribs) + "\n    size: " + size + "\n" + rim +
         "hub:\n  bore: {diameter: 20 mm, fit: H7}\n" + hub + top;
}

inline double dimension(const Rows& rows, const std::string& id) {
  const auto it =
      std::find_if(rows.dimensions.begin(), rows.dimensions.end(), [&](const Dimension& d) { return d.id == id; });
  EXPECT_NE(it, rows.dimensions.end()) << "no dimension " << id;
  return it == rows.dimensions.end() ? 0 : it->value;
}

inline Check check_row(const Rows& rows, const std::string& id) {
  const auto it = std::find_if(rows.checks.begin(), rows.checks.end(), [&](const Check& c) { return c.id == id; });
  EXPECT_NE(it, rows.checks.end()) << "no check " << id;
  return it == rows.checks.end() ? Check{} : *it;
}

}  // namespace groovewright::testing
