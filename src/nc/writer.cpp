#include "writer.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "blocks.h"
#include "groovewright/base/broken.h"
#include "groovewright/base/text.h"
#include "numbers.h"

namespace groovewright::nc {
namespace {

constexpr int kFeedDecimals = 4;
constexpr int kSpeedDecimals = 2;  ///< of m/min
constexpr int kDwellDecimals = 3;
constexpr int kParameterDecimals = 3;  ///< what a machinist enters: micrometres
constexpr int kMostParameters = 4999;  ///< above stand the control's own (NIST IR 6556: 5061 and up)
constexpr double kMillimetresInMetre = 1000;

std::string turn_word(Turn turn) { return turn == Turn::cw ? "M3" : "M4"; }

}  // namespace

Writer::Writer(const Script& script, const Dialect& dialect) : script_(script), dialect_(dialect) {
  require(dialect.decimals >= kLeastDecimals && dialect.decimals <= kMostDecimals, "write: a dialect's decimals");
  begin();
  for (const Command& each : script.commands) {
    std::visit([this](const auto& c) { command(c); }, each);
  }
  end();
}

std::string Writer::text() && { return std::move(out_); }

void Writer::comment(std::string_view text) {
  for (const std::string& each : comments(text)) line(each);
}

/// A script that begins with a tool goes nowhere before it: the length of whatever is in the spindle is not known.
void Writer::begin() {
  for (const std::string& each : script_.header) comment(each);
  const Command* first = nullptr;
  for (const Command& each : script_.commands) {
    if (const auto* parameter = std::get_if<Parameter>(&each)) {
      require(parameter->number >= 1 && parameter->number <= kMostParameters, "write: parameters are 1 to 4999");
      const auto notes = comments(parameter->note);
      line("#" + std::to_string(parameter->number) + " = " + number(parameter->value, kParameterDecimals) + " " +
           notes.front());
      for (std::size_t i = 1; i < notes.size(); ++i) line(notes[i]);
    } else if (first == nullptr && !std::holds_alternative<Comment>(each)) {
      first = &each;
    }
  }
  safe_line();
  if (first == nullptr || !std::holds_alternative<ToolChange>(*first)) rapid_to_safe();
}

void Writer::end() {
  rapid_to_safe();
  line("M5");
  line("M9");
  line("M2");
}

void Writer::safe_line() {
  const std::string* pattern = pattern_of(dialect_, "safe_line");
  line(filled_pattern(pattern != nullptr ? *pattern : "{plane} G21 G40 G49 G54 G80 G90 G94",
                      {{"plane", lathe() ? "G18" : "G17"}}));
  if (doubles_x() && has("diameters")) line(filled_pattern(*pattern_of(dialect_, "diameters"), {}));
}

/// Length offsets change with the tool, so where the point stands is told anew behind it.
void Writer::change_tool(const ToolChange& change) {
  require(change.number >= 1, "write: tools are numbered from 1");
  if (!axes_[2].empty()) rapid_to_safe();
  if (speed_) stop_spindle();
  if (coolant_) set_coolant(false);
  comment("T" + std::to_string(change.number) + (change.name.empty() ? "" : " " + change.name));
  line("T" + std::to_string(change.number) + " M6");
  safe_line();
  if (const std::string* pattern = pattern_of(dialect_, "tool_length")) {
    line(filled_pattern(*pattern, {{"tool", std::to_string(change.number)}}));
  }
  feed_.reset();
  rpm_in_force_.clear();
  feed_in_force_.clear();
  axes_ = {};
  rapid_to_safe();
}

/// A spindle's block: the word that turns it stands where the pattern has it, or behind.
std::string Writer::turned(std::string_view function, std::string_view otherwise,
                           std::initializer_list<Filling> fillings) const {
  const std::string* pattern = pattern_of(dialect_, function);
  const std::string_view text = pattern != nullptr ? std::string_view(*pattern) : otherwise;
  std::string block = filled_pattern(text, fillings);
  if (text.find("{turn}") == std::string_view::npos) block += " " + turn_word(speed_->turn);
  return block;
}

void Writer::set_spindle(const SpindleSpeed& speed) {
  require(speed.rpm > 0, "write: a spindle turns");
  speed_ = Speed{false, speed.rpm, speed.rpm, speed.turn};
  rpm_in_force_ = number(revolutions(0), 0);
  line(turned("direct_speed", "S{rpm} {turn}", {{"rpm", rpm_in_force_}, {"turn", turn_word(speed.turn)}}));
}

void Writer::set_surface(const SurfaceSpeed& speed) {
  require(speed.m_per_min > 0 && speed.max_rpm >= 1, "write: a surface speed and its clamp");
  speed_ = Speed{true, speed.m_per_min, speed.max_rpm, speed.turn};
  if (has("surface_speed")) {
    rpm_in_force_.clear();
    line(turned("surface_speed", "",
                {{"max", number(std::floor(speed.max_rpm), 0)},
                 {"speed", trimmed(speed.m_per_min, kSpeedDecimals)},
                 {"turn", turn_word(speed.turn)}}));
  } else {
    rpm_in_force_ = number(revolutions(at_.x), 0);
    line(turned("direct_speed", "S{rpm} {turn}", {{"rpm", rpm_in_force_}, {"turn", turn_word(speed.turn)}}));
  }
}

void Writer::stop_spindle() {
  speed_.reset();
  line("M5");
}

/// Whole revolutions; where a surface speed is written out, rounded down: never above the speed or the clamp.
double Writer::revolutions(double radius) const {
  if (!speed_->surface) return std::max(1.0, std::round(speed_->value));
  const double around = 2 * std::numbers::pi * std::abs(radius);
  const double wanted = speed_->value * kMillimetresInMetre;
  return std::max(1.0, std::floor(wanted < speed_->max * around ? wanted / around : speed_->max));
}

/// " S…" where a surface speed is written out and this radius wants another.
std::string Writer::speed_words(double radius) {
  if (!speed_->surface || has("surface_speed")) return "";
  const std::string rpm = number(revolutions(radius), 0);
  if (rpm == rpm_in_force_) return "";
  rpm_in_force_ = rpm;
  return " S" + rpm;
}

void Writer::command(const FeedPerTurn& c) {
  feed_ = Feed{true, c.mm};
  set_feed();
}
void Writer::command(const FeedPerMinute& c) {
  feed_ = Feed{false, c.mm};
  set_feed();
}

/// A feed per turn that the dialect lacks goes into the moves, which know the revolutions.
void Writer::set_feed() {
  require(feed_->mm > 0, "write: a feed is above zero");
  feed_in_force_.clear();
  if (feed_->per_turn && !has("feed_per_turn")) return;
  const std::string* pattern = pattern_of(dialect_, feed_->per_turn ? "feed_per_turn" : "feed_per_minute");
  feed_in_force_ = trimmed(feed_->mm, kFeedDecimals);
  line(filled_pattern(pattern != nullptr ? *pattern : "G94 F{feed}", {{"feed", feed_in_force_}}));
}

/// " F…" where a feed per turn is written out and the revolutions want another.
std::string Writer::feed_words(double radius) {
  require(feed_.has_value() && speed_.has_value(), "write: a feed and a turning spindle before metal");
  if (!feed_->per_turn || has("feed_per_turn")) return "";
  const double rpm = rpm_in_force_.empty() ? revolutions(radius) : value_of(rpm_in_force_);
  const std::string feed = trimmed(feed_->mm * rpm, kFeedDecimals);
  if (feed == feed_in_force_) return "";
  feed_in_force_ = feed;
  return " F" + feed;
}

void Writer::set_coolant(bool on) {
  coolant_ = on;
  line(on ? "M8" : "M9");
}

void Writer::dwell(double seconds) {
  require(seconds >= 0, "write: a dwell is no less than zero");
  line("G4 P" + trimmed(seconds, kDwellDecimals));
}

/// An arc's start and end must be shifted alike.
void Writer::correct(const Correction& correction) {
  if (correction.x == correction_.x && correction.z == correction_.z) return;
  correction_ = correction;
  arc_may_follow_ = false;
}

}  // namespace groovewright::nc
