#include "end_names.h"

#include <algorithm>
#include <utility>

#include "groovewright/plane/meets.h"

namespace groovewright::plane {
namespace {

/// Each swap of two leaders that cross shortens their sum, so this ends.
void uncross(std::vector<EndName>& names, double end) {
  for (bool again = true; again;) {
    again = false;
    for (std::size_t i = 0; i < names.size(); ++i) {
      for (std::size_t j = 0; j < i; ++j) {
        EndName &a = names[i], &b = names[j];
        if (!segments_cross(a.anchor, {end, a.y}, b.anchor, {end, b.y})) continue;
        std::swap(a.y, b.y);
        again = true;
      }
    }
  }
}

}  // namespace

void end_names(View& view, std::vector<EndName> names, double low, double high, double right, const Scribe& scribe) {
  if (names.empty()) return;
  std::stable_sort(names.begin(), names.end(),
                   [](const EndName& a, const EndName& b) { return a.anchor.y > b.anchor.y; });
  const auto room = static_cast<std::size_t>(std::max(1.0, (high - low) / kLinePitch + 1));
  const double text = right + kEndLead + kEndGap;
  if (names.size() > room) {
    const std::size_t more = names.size() - room + 1;
    names.resize(room - 1);
    put(view, scribe.text("+" + std::to_string(more)), {text, low - kMiddle});
    low += kLinePitch;
  }
  // Down from the top, then back up from the foot where that went too far.
  double limit = high;
  for (EndName& n : names) n.y = std::min(n.anchor.y, limit), limit = n.y - kLinePitch;
  limit = low;
  for (auto n = names.rbegin(); n != names.rend(); ++n) n->y = std::max(n->y, limit), limit = n->y + kLinePitch;
  uncross(names, right + kEndLead);
  for (const EndName& n : names) {
    line(view, Ink::leader, n.anchor, {right + kEndLead, n.y});
    put(view, scribe.text(n.text), {text, n.y - kMiddle});
  }
}

}  // namespace groovewright::plane
