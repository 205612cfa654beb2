#include "openings.h"

#include <algorithm>

namespace groovewright::drawing {

const part::HolePattern* pattern_of(const part::Part& part, const plane::RoundHole& hole) {
  const std::string id = hole.id.substr(0, hole.id.find('['));
  const auto found =
      std::find_if(part.holes.begin(), part.holes.end(), [&](const part::HolePattern& p) { return p.id == id; });
  return found == part.holes.end() ? nullptr : &*found;
}

const catalog::Thread* thread_of(const part::Part& part, const plane::RoundHole& hole) {
  const part::HolePattern* pattern = pattern_of(part, hole);
  return pattern && pattern->tapped && pattern->thread ? &*pattern->thread : nullptr;
}

}  // namespace groovewright::drawing
