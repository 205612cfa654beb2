#include "blank.h"

#include <algorithm>
#include <cmath>

#include "cut.h"
#include "form.h"
#include "groovewright/base/text.h"
#include "turn.h"

namespace groovewright::toolpath {
namespace {

using section::Kind;

constexpr double kSkin = 1.5;        // mm under a bar's skin, on radius
constexpr double kBarStep = 5;       // mm: bars come in such steps of diameter (common practice, no source)
constexpr double kJawGap = 3;        // mm from the run-out to the jaws
constexpr double kThick = 10;        // mm over the part's diameter: a thick blank
constexpr double kGrip = 15;         // mm along the axis, where the jaws are deep enough
constexpr double kLeastSkin = 0.25;  // mm on radius that must come off
constexpr double kLeastBoring = 1;   // mm on diameter that a boring bar takes at least

std::string mm(double v) { return trimmed(v, 2) + " mm"; }

class Chooser {
 public:
  Chooser(const part::Part& part, const section::Section& section, const Choice& choice, Diagnostics& diagnostics)
      : part_(part), section_(section), choice_(choice), wish_(choice.stock), diagnostics_(diagnostics) {}

  std::optional<Blank> choose() {
    size_ = extent(section_);
    choose_diameter();
    choose_method();
    check_machines();
    if (failed_) return std::nullopt;
    return blank_;
  }

 private:
  void error(Code code, const Place& place, const std::string& message) {
    diagnostics_.error(code, place, "", message);
    failed_ = true;
  }

  /// The size was asked for, or it follows from the rim.
  [[nodiscard]] const Place& due_to(const std::optional<double>& wish) const {
    return wish ? wish_.place : part_.rims.front().place;
  }

  void choose_diameter() {
    const double wide = 2 * size_.top, least = wide + 2 * kSkin;
    blank_.diameter = wish_.diameter.value_or(kBarStep * std::ceil(least / kBarStep));
    blank_.bore = wish_.bore.value_or(0);
    if (blank_.diameter < wide + 2 * kLeastSkin)
      error(Code::stock_too_small, wish_.place,
            "bar of " + mm(blank_.diameter) + " is too thin: the part is " + mm(wide) + " over its flanges; take " +
                mm(least) + " or more");
    double bore = 1e9;
    for (std::size_t i = 0; i < section_.tags.size(); ++i)
      if (section_.tags[i].kind == Kind::bore)
        bore = std::min({bore, 2 * section_.body.section[i].a.y, 2 * section_.body.section[i].b.y});
    if (blank_.bore > bore - kLeastBoring)
      error(Code::stock_too_small, wish_.place,
            "the stock's bore of " + mm(blank_.bore) + " leaves nothing to bore: the part's is " + mm(bore) +
                "; take stock bored to " + mm(bore - kLeastBoring) + " or less");
  }

  /// From the run-out to the jaws: the holder that finishes the last groove must pass them.
  void choose_gap() {
    blank_.gap = kJawGap;
    const bool rear = rear_first(part_);
    const part::Rim& far = rear ? part_.rims.back() : part_.rims.front();
    Tools finishers = tools_of(choice_.shop, catalog::TurningTool::Use::full_form);
    std::erase_if(finishers, [&](const catalog::TurningTool& t) { return !misfit(t, far).empty(); });
    const Tools profiling = tools_of(choice_.shop, catalog::TurningTool::Use::profiling);
    if (const catalog::TurningTool* tool = groove_finisher(profiling, far)) finishers.push_back(*tool);
    const double beside = rear ? far.width() - far.behind_first_groove() - (far.grooves - 1) * far.groove.pitch.value
                               : far.behind_first_groove();
    for (const catalog::TurningTool& tool : finishers) {
      const double left = std::max(0.0, -box_of(bit(shape(tool, true), 0.01).holder).low.x);
      blank_.gap = std::max(blank_.gap, left + far.groove.pitch.value + 1 - kRunOut - beside);
    }
    if (wish_.diameter.value_or(0) > 2 * size_.top + kThick) {  // that holder must pass the blank itself, too
      blank_.run_out = kRunOut + blank_.gap - kJawGap;
      blank_.gap = kJawGap;
    }
  }

  void choose_method() {
    choose_gap();
    const double grip = std::min(choice_.chuck.grip_length, kGrip);
    const double as_bar = size_.width() + kFaceStock + blank_.run_out + blank_.gap + grip;
    const double as_blank = size_.width() + 2 * kFaceStock;
    const bool plain = bore_length(section_) >= kLeastMandrel;
    const bool can_stand_alone = plain || screw_holes(part_) != nullptr;
    const bool wants_blank = wish_.form     ? *wish_.form == part::StockForm::blank
                             : wish_.length ? *wish_.length < as_bar - 1e-9
                                            : !plain;
    if (wants_blank && can_stand_alone) {
      blank_.method = plain ? Method::mandrel : Method::plug;
      blank_.why = wish_.form || wish_.length ? "the stock leaves nothing beyond the part to grip"
                                              : "the bore is too short to carry the part on a mandrel";
    }
    const bool is_bar = blank_.method == Method::bar;
    blank_.length = wish_.length.value_or(std::ceil(is_bar ? as_bar : as_blank));
    if (blank_.length < (is_bar ? as_bar : as_blank) - 1e-9) too_short(as_bar, as_blank, can_stand_alone);
    blank_.grip = std::min(grip, blank_.length / 2);
    if (is_bar) grip_bar(blank_.length - as_bar);
  }

  /// A bar longer than it need be goes deeper into the jaws, through the chuck if it is thin enough, or stands out
  /// more.
  void grip_bar(double spare) {
    const catalog::Chuck& chuck = choice_.chuck;
    blank_.grip = std::min(chuck.grip_length, std::min(chuck.grip_length, kGrip) + std::max(0.0, spare));
    if (blank_.diameter > chuck.through_bore)
      blank_.gap = blank_.length - kFaceStock - size_.width() - blank_.run_out - blank_.grip;
  }

  void too_short(double as_bar, double as_blank, bool can_stand_alone) {
    std::string says = std::string(wish_.form == part::StockForm::blank ? "blank" : "bar") + " of " +
                       mm(blank_.length) + " is too short: the part is " + mm(size_.width()) + " wide and ";
    if (can_stand_alone && wish_.form != part::StockForm::bar) says += mm(as_blank) + " leave both faces to cut; ";
    says += mm(as_bar) + " leave room to face, saw and grip it";
    if (!can_stand_alone)
      says += "; a blank would need a plain bore of " + mm(kLeastMandrel) + " or two through holes to hold it by";
    error(Code::stock_too_small, wish_.place, says);
  }

  void check_machines() {
    const catalog::Machine& lathe = choice_.lathe;
    const catalog::Chuck& chuck = choice_.chuck;
    if (blank_.diameter > lathe.swing)
      error(Code::machine_too_small, due_to(wish_.diameter),
            "a blank of " + mm(blank_.diameter) + " does not swing in lathe '" + lathe.id + "', which takes " +
                mm(lathe.swing) + "; choose a lathe with more swing");
    if (blank_.length > lathe.travel_z)
      error(Code::machine_too_small, due_to(wish_.length),
            "a blank of " + mm(blank_.length) + " is longer than the travel of lathe '" + lathe.id + "', " +
                mm(lathe.travel_z));
    if (blank_.diameter < chuck.grip_min || blank_.diameter > chuck.grip_max)
      error(Code::machine_too_small, due_to(wish_.diameter),
            "chuck '" + chuck.id + "' grips " + mm(chuck.grip_min) + " to " + mm(chuck.grip_max) + ", not a blank of " +
                mm(blank_.diameter) + "; choose a chuck that does");
  }

  const part::Part& part_;
  const section::Section& section_;
  const Choice& choice_;
  const Choice::Stock& wish_;
  Diagnostics& diagnostics_;
  Extent size_;
  Blank blank_;
  bool failed_ = false;
};

}  // namespace

Extent extent(const section::Section& section) {
  Extent e;
  for (const plane::Edge& edge : section.body.section)
    e = {std::min(e.left, edge.a.x), std::max(e.right, edge.a.x), std::max(e.top, edge.a.y)};
  return e;
}

bool rear_first(const part::Part& part) {
  return part.hub.registers.empty() || part.hub.registers.front().side == part::Side::rear;
}

double bore_length(const section::Section& section) {
  const Outline o = outline(section, false, 0);
  const plane::Edge& bore = o.path[groups(o).bore.front()];
  return std::abs(bore.b.x - bore.a.x);
}

const part::HolePattern* screw_holes(const part::Part& part) {
  for (const part::HolePattern& p : part.holes) {
    const bool is_clear = p.use == part::HolePattern::Use::bolt && !p.tapped && p.depth == 0 && p.thread.has_value();
    if (is_clear && p.angles.size() >= 2) return &p;
  }
  return nullptr;
}

std::optional<Blank> choose_blank(const part::Part& part, const section::Section& section, const Choice& choice,
                                  Diagnostics& diagnostics) {
  return Chooser(part, section, choice, diagnostics).choose();
}

}  // namespace groovewright::toolpath
