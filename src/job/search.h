// search.h: inside room `job`: what a search found, on paper.
#pragma once

#include <string>

#include "groovewright/base/artifact.h"
#include "groovewright/base/rows.h"
#include "groovewright/drive/search.h"
#include "groovewright/report.h"

namespace groovewright::job {

/// Version of the search's JSON.
inline constexpr int kSearchFormat = 1;

/// `search_found`: how many combinations meet all limits; fails where none does.
[[nodiscard]] Check search_row(const drive::SearchResult& found);

struct Searched {
  const std::string& title;
  const drive::Drive& drive;  ///< as written
  const drive::SearchSpace& space;
  const drive::SearchResult& found;
};
/// `<name>.search.md`, `.csv` and `.json`: those kept, the nearest of the rest with reasons, and the counts.
[[nodiscard]] Artifacts search_artifacts(const Searched& searched, report::Units units);

}  // namespace groovewright::job
