#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "numbers.h"
#include "peck.h"
#include "writer.h"

namespace groovewright::nc {
namespace {

constexpr int kTrimmedDecimals = 4;  ///< of pecks, pitches and seconds

}  // namespace

void Writer::command(const Cycle& c) {
  require(c.clear > c.bottom && c.peck >= 0 && c.pitch >= 0 && c.dwell >= 0, "write: a hole goes down");
  approach(c);
  if (c.pitch > 0) return tap(c);
  if (const auto block = cycle_block(c)) {
    line(*block + feed_words(c.at.x));
    line("G80");
  } else if (c.peck > 0) {
    peck_by_moves(c);
  } else {
    drill_by_moves(c);
  }
}

/// Over the hole first, then down; up first where the tool stands lower.
void Writer::approach(const Cycle& c) {
  require(!axes_[2].empty(), "write: a place is known");
  if (at_.z < c.clear) rapid_z(c.clear);
  const bool across = axis('X', c.at.x) != axes_[0] || (!lathe() && axis('Y', c.at.y) != axes_[1]);
  if (across) rapid({c.at.x, c.at.y, at_.z});
  if (axis('Z', c.clear) != axes_[2]) rapid({c.at.x, c.at.y, c.clear});
}

/// Cycles bore square to the plane (NIST IR 6556), so only a mill can use them for z.
std::optional<std::string> Writer::cycle_block(const Cycle& c) const {
  const std::string_view function = c.pitch > 0 ? "tap" : c.peck > 0 ? "peck" : c.dwell > 0 ? "drill_dwell" : "drill";
  const std::string* pattern = pattern_of(dialect_, function);
  const bool dwells_too = c.dwell > 0 && function != "drill_dwell";
  if (lathe() || pattern == nullptr || dwells_too) return std::nullopt;
  return filled_pattern(*pattern, {{"x", axis('X', c.at.x)},
                                   {"y", axis('Y', c.at.y)},
                                   {"bottom", axis('Z', c.bottom)},
                                   {"clear", axis('Z', c.clear)},
                                   {"peck", trimmed(c.peck, kTrimmedDecimals)},
                                   {"dwell", trimmed(c.dwell, kTrimmedDecimals)}});
}

void Writer::tap(const Cycle& c) {
  require(speed_.has_value() && !speed_->surface, "write: a tap turns at a speed given by revolutions");
  if (const std::string* pattern = pattern_of(dialect_, "rigid_tap"); pattern != nullptr && c.dwell == 0) {
    line(filled_pattern(*pattern, {{"bottom", axis('Z', c.bottom)}, {"pitch", trimmed(c.pitch, kTrimmedDecimals)}}));
    return;
  }
  const auto kept = feed_;
  feed_ = Feed{true, c.pitch};
  set_feed();
  tap_by_moves(c);
  feed_ = kept;
  if (feed_) set_feed();
}

void Writer::tap_by_moves(const Cycle& c) {
  if (const auto block = cycle_block(c)) {
    line(*block + feed_words(c.at.x));
    line("G80");
    return;
  }
  const bool cw = speed_->turn == Turn::cw;
  feed({c.at.x, c.at.y, c.bottom});
  if (c.dwell > 0) dwell(c.dwell);
  line(cw ? "M4" : "M3");
  feed({c.at.x, c.at.y, c.clear});
  line(cw ? "M3" : "M4");
}

void Writer::drill_by_moves(const Cycle& c) {
  feed({c.at.x, c.at.y, c.bottom});
  if (c.dwell > 0) dwell(c.dwell);
  rapid({c.at.x, c.at.y, c.clear});
}

void Writer::peck_by_moves(const Cycle& c) {
  const double clear = rounded(c.clear, dialect_.decimals), bottom = rounded(c.bottom, dialect_.decimals);
  const double peck = rounded(c.peck, kTrimmedDecimals);
  require(peck > 0, "write: a peck is above zero");
  for (double depth = clear - peck; rounded(depth, dialect_.decimals) > bottom; depth -= peck) {
    feed({c.at.x, c.at.y, depth});
    rapid({c.at.x, c.at.y, c.clear});
    rapid({c.at.x, c.at.y, depth + kPeckBackOff});
  }
  drill_by_moves(c);
}

}  // namespace groovewright::nc
