#include <algorithm>
#include <array>
#include <span>

#include "choices.h"
#include "groovewright/base/text.h"
#include "groovewright/base/trig.h"
#include "read_shop.h"

namespace groovewright::catalog {
namespace {

using Turning = TurningTool::Use;
using Milling = MillingTool::Use;

constexpr Choice<Turning> kTurningUses[] = {{"turning", Turning::turning},   {"profiling", Turning::profiling},
                                            {"grooving", Turning::grooving}, {"face_grooving", Turning::face_grooving},
                                            {"boring", Turning::boring},     {"drilling", Turning::drilling},
                                            {"centre", Turning::centre},     {"full_form", Turning::full_form}};
constexpr Choice<TurningTool::Hand> kHands[] = {
    {"right", TurningTool::Hand::right}, {"left", TurningTool::Hand::left}, {"neutral", TurningTool::Hand::neutral}};
constexpr Choice<Milling> kMillingUses[] = {{"centre", Milling::centre},
                                            {"drill", Milling::drill},
                                            {"tap", Milling::tap},
                                            {"end_mill", Milling::end_mill},
                                            {"countersink", Milling::countersink},
                                            {"reamer", Milling::reamer}};

constexpr int kMostTeeth = 40;

struct Key {
  std::string_view name, example;
};
constexpr Key kBody{"body", "{width: 20 mm, offset: 0 mm, relief: 0.5 mm}"};
constexpr Key kNose{"nose", "{radius: 0.4 mm, tolerance: 0.05 mm}"};
constexpr Key kFeed{"feed", "{from: 0.05 mm, to: 0.2 mm}"};
constexpr std::array kWedgeKeys{Key{"name", "Roughing tool, 80 deg"},
                                Key{"use", "turning"},
                                Key{"hand", "right"},
                                Key{"insert", "CNMG 120408"},
                                Key{"holder", "PCLNR 2020 K12"},
                                Key{"included", "80 deg"},
                                Key{"edge_angle", "95 deg"},
                                kNose,
                                Key{"edge", "10 mm"},
                                kBody,
                                Key{"shank", "20 mm"},
                                Key{"overhang", "40 mm"},
                                Key{"depth", "3 mm"},
                                kFeed};
constexpr std::array kBoringKeys{Key{"name", "Boring bar, 16 mm"},
                                 Key{"use", "boring"},
                                 Key{"hand", "right"},
                                 Key{"insert", "CCMT 09T304"},
                                 Key{"holder", "S16R-SCLCR 09"},
                                 Key{"included", "80 deg"},
                                 Key{"edge_angle", "95 deg"},
                                 kNose,
                                 Key{"edge", "8 mm"},
                                 kBody,
                                 Key{"overhang", "64 mm"},
                                 Key{"reach", "60 mm"},
                                 Key{"min_bore", "20 mm"},
                                 Key{"depth", "1.5 mm"},
                                 kFeed};
constexpr std::array kBladeKeys{Key{"name", "Grooving tool, 2 mm"},
                                Key{"use", "grooving"},
                                Key{"hand", "right"},
                                Key{"insert", "grooving insert, 2 mm"},
                                Key{"holder", "blade holder, 20 x 20"},
                                Key{"width", "2 mm"},
                                kNose,
                                Key{"edge", "3 mm"},
                                Key{"reach", "12 mm"},
                                kBody,
                                Key{"shank", "20 mm"},
                                Key{"overhang", "40 mm"},
                                Key{"depth", "2 mm"},
                                kFeed};
constexpr std::array kDrillKeys{Key{"name", "Drill, 16 mm"},    Key{"use", "drilling"},
                                Key{"holder", "sleeve, 25 mm"}, Key{"width", "16 mm"},
                                Key{"point", "118 deg"},        Key{"edge", "60 mm"},
                                Key{"reach", "55 mm"},          Key{"overhang", "80 mm"},
                                Key{"body", "{width: 25 mm}"},  kFeed};
constexpr std::array kFormKeys{Key{"name", "Form tool, one groove"},
                               Key{"use", "full_form"},
                               Key{"insert", "full-form insert, 1 tooth"},
                               Key{"holder", "blade holder, 20 x 20"},
                               Key{"included", "40 deg"},
                               kNose,
                               Key{"crest", "{radius: 0.3 mm, tolerance: 0.02 mm}"},
                               Key{"teeth", "1"},
                               Key{"pitch", "3.56 mm"},
                               Key{"edge", "6 mm"},
                               Key{"reach", "12 mm"},
                               kBody,
                               Key{"shank", "20 mm"},
                               Key{"overhang", "40 mm"},
                               kFeed};
constexpr Key kFace{"face", "{from: 50 mm, to: 80 mm}"};
constexpr Key kAxial{"axial", "true"};

constexpr Key kName{"name", "Long drill"};
constexpr std::array kMillingKeys{Key{"use", "drill"},   Key{"diameter", "6.8 mm"}, Key{"point", "118 deg"},
                                  Key{"flute", "40 mm"}, Key{"length", "60 mm"},    Key{"teeth", "2"},
                                  Key{"holder", "30 mm"}};
constexpr Key kPitch{"pitch", "1.25 mm"};
constexpr Key kLead{"lead", "3 mm"};

/// One map of a tool, of which only some keys are asked for: the others are then told as unknown.
class Asked {
 public:
  Asked(Fields& fields, std::span<const std::string_view> keys) : fields_(fields), keys_(keys) {}

  /// True where the map gives `key` and a tool of this kind has it. No keys at all: every tool's are asked for.
  [[nodiscard]] bool operator()(std::string_view key) const {
    return (keys_.empty() || std::ranges::find(keys_, key) != keys_.end()) && fields_.has(key);
  }
  [[nodiscard]] Fields& fields() const { return fields_; }

 private:
  Fields& fields_;
  std::span<const std::string_view> keys_;
};

void read_pair(const Asked& asked, std::string_view key, std::string_view first, double& a, std::string_view second,
               double& b) {
  if (!asked(key)) return;
  Fields pair = asked.fields().map(key);
  a = pair.number(first, kLength);
  b = pair.number(second, kLength, Sign::zero_too);
  pair.finish();
}

void read_body(const Asked& asked, TurningTool& t) {
  if (!asked("body")) return;
  Fields body = asked.fields().map("body");
  t.holder_width = body.number("width", kLength);
  t.holder_offset = t.holder_relief = 0;  // a body of its own has nothing from the one beside the rows
  if (body.has("offset")) t.holder_offset = body.number("offset", kLength, Sign::any);
  if (body.has("relief")) t.holder_relief = body.number("relief", kLength, Sign::zero_too);
  body.finish();
}

void read_length(const Asked& asked, std::string_view key, double& out) {
  if (asked(key)) out = asked.fields().number(key, kLength);
}
void read_angle(const Asked& asked, std::string_view key, Angle& out) {
  if (asked(key)) out = Angle::rad(asked.fields().number(key, kAngle));
}
void read_word(const Asked& asked, const Key& key, std::string& out) {
  if (asked(key.name)) out = asked.fields().word(key.name, key.example);
}
template <class E, std::size_t N>
void read_word(const Asked& asked, std::string_view key, const Choice<E> (&choices)[N], E& out) {
  if (asked(key)) out = read_choice(asked.fields(), key, choices);
}

/// What one map says of a tool; the rest of it stays.
void read_written(const Asked& asked, TurningTool& t) {
  read_word(asked, {"name", "Roughing tool"}, t.name);
  read_word(asked, "hand", kHands, t.hand);
  read_word(asked, "axial", kYesNo, t.axial);
  read_word(asked, {"insert", "CNMG 120408"}, t.insert);
  read_word(asked, {"holder", "PCLNR 2020 K12"}, t.holder);
  read_angle(asked, "included", t.included);
  read_angle(asked, "edge_angle", t.edge_angle);
  read_angle(asked, "point", t.point);
  read_pair(asked, "nose", "radius", t.nose_radius, "tolerance", t.nose_tolerance);
  read_pair(asked, "face", "from", t.face_min, "to", t.face_max);
  read_pair(asked, "feed", "from", t.min_feed, "to", t.max_feed);
  read_length(asked, "edge", t.edge_length);
  read_length(asked, "width", t.width);
  read_length(asked, "reach", t.reach);
  read_body(asked, t);
  read_length(asked, "shank", t.shank_height);
  read_length(asked, "overhang", t.overhang);
  read_length(asked, "min_bore", t.min_bore);
  read_length(asked, "depth", t.max_depth_of_cut);
  read_pair(asked, "crest", "radius", t.crest_radius, "tolerance", t.crest_tolerance);
  read_length(asked, "pitch", t.pitch);
  if (asked("teeth")) t.teeth = asked.fields().count("teeth");
}

void read_written(const Asked& asked, MillingTool& t) {
  read_word(asked, {"name", "Drill, 6.8 mm"}, t.name);
  read_length(asked, "diameter", t.diameter);
  read_angle(asked, "point", t.point);
  read_length(asked, "lead", t.lead);
  read_length(asked, "flute", t.flute);
  read_length(asked, "length", t.length);
  read_length(asked, "pitch", t.pitch);
  if (asked("teeth")) t.teeth = asked.fields().count("teeth");
  read_length(asked, "holder", t.holder_diameter);
}

void read_use(Fields& fields, TurningTool& t) {
  if (fields.has("use")) t.use = read_choice(fields, "use", kTurningUses);
}
void read_use(Fields& fields, MillingTool& t) {
  if (fields.has("use")) t.use = read_choice(fields, "use", kMillingUses);
}

/// The keys that a tool must have, and those that it may have.
struct KeySet {
  std::span<const Key> due;
  std::vector<Key> also_due, allowed;
};
/// `is_round`: no included angle is written, but a width.
KeySet keys_of(const TurningTool& t, bool is_round) {
  switch (t.use) {
    case Turning::turning:
      return {kWedgeKeys, {}, {}};
    case Turning::profiling:
      if (is_round) return {kBladeKeys, {}, {kAxial, kFace}};
      return {kWedgeKeys, {}, {}};
    case Turning::boring:
      return {kBoringKeys, {}, {}};
    case Turning::grooving:
      return {kBladeKeys, {}, {}};
    case Turning::face_grooving:
      return {kBladeKeys, {kFace}, {}};
    case Turning::full_form:
      return {kFormKeys, {}, {}};
    case Turning::drilling:
    case Turning::centre:
      break;
  }
  return {kDrillKeys, {}, {}};
}
KeySet keys_of(const MillingTool& t, bool) {
  if (t.use == Milling::tap) return {kMillingKeys, {kPitch, kLead}, {kName}};
  return {kMillingKeys, {}, {kName, kLead}};
}

/// Only a profiling tool is asked, so that the keys asked for stay unknown to the others.
template <class Given>
bool tool_is_round(const TurningTool& t, const Given& given) {
  return t.use == Turning::profiling && !given("included") && given("width");
}
template <class Given>
bool tool_is_round(const MillingTool&, const Given&) {
  return false;
}

bool is_round(const TurningTool& t) { return t.use == Turning::profiling && t.width > 0; }

void check_wedge(const Fields& f, const yaml::Node& at, const TurningTool& t) {
  check(f, at, t.edge_angle.deg() + t.included.deg() <= 180 + 1e-9,
        "the second edge lies below the cut: 'edge_angle' and 'included' are 180 deg together at most");
}

void check_form(const Fields& f, const yaml::Node& at, const TurningTool& t) {
  const double depth = t.form_depth(), left = t.holder_width - t.teeth * t.pitch;
  const auto must = [&](bool holds, const std::string& what) { check(f, at, holds, what); };
  must(t.teeth <= kMostTeeth, "a form tool has " + std::to_string(kMostTeeth) + " teeth at most");
  // Along the depth a rounding takes r (1 - sin h), up to where it is tangent to the flank.
  const double h = t.included.half().rad();
  const double roundings = (t.nose_radius + t.crest_radius) * (1 - sin_of(h));
  must(depth > roundings, "the roundings of tip and crest leave nothing of the flanks at this 'pitch'");
  must(t.edge_length > depth, "the form is " + trimmed(depth, 3) + " mm deep: 'edge' is more than that");
  must(t.reach >= t.edge_length, "'reach' is not less than 'edge'");
  must(left > -1e-9, "'body' is as wide as the teeth at least");
  must(2 * t.holder_relief < t.teeth * t.pitch, "'relief' leaves nothing of the teeth's width");
  must(t.crest_tolerance < t.crest_radius, "the crest's 'tolerance' is less than its 'radius'");
}

void check_tool(const Fields& f, const yaml::Node& at, const TurningTool& t) {
  const bool is_drill = t.use == Turning::drilling || t.use == Turning::centre;
  const auto must = [&](bool holds, const std::string& what) { check(f, at, holds, what); };
  must(t.min_feed <= t.max_feed && t.min_feed > 0, "'feed' goes from a smaller to a larger one");
  must(t.reach <= t.overhang, "'reach' is not beyond the 'overhang'");
  if (is_drill) {
    must(t.point < Angle::deg(180) && t.reach <= t.edge_length, "a drill has a point, and its flutes reach the bottom");
    return;
  }
  must(t.nose_radius < t.edge_length || is_round(t), "the edge is longer than the nose's radius");
  must(t.max_depth_of_cut <= t.edge_length || t.use == Turning::face_grooving || t.use == Turning::grooving,
       "'depth' is not beyond the 'edge'");
  if (t.use == Turning::full_form) check_form(f, at, t);
  if (t.included > Angle{}) check_wedge(f, at, t);
  must(t.included == Angle{} || t.included < Angle::deg(120), "'included' is less than 120 deg");
  if (t.use == Turning::boring) {
    must(t.holder_width + t.holder_offset <= t.min_bore, "the bar and its nose don't go into 'min_bore'");
    must(t.holder_offset > 0, "the nose stands out beyond the bar: 'offset' is more than 0");
  }
  if (t.width > 0) {
    must(2 * t.holder_relief < t.width, "the blade's 'relief' leaves nothing of its 'width'");
    must(2 * t.nose_radius <= t.width + 1e-9, "the corners' radii go into the 'width'");
  }
  must(!is_round(t) || t.nose_radius == t.width / 2, "a round insert's nose is half its 'width'");
  must(t.use != Turning::face_grooving || t.face_min < t.face_max, "'face' goes from a smaller to a larger diameter");
}

void check_tool(const Fields& f, const yaml::Node& at, const MillingTool& t) {
  const auto must = [&](bool holds, const char* what) { check(f, at, holds, what); };
  must(t.flute <= t.length, "'flute' is not longer than 'length', which ends at the holder");
  must(t.lead < t.flute, "'lead' is shorter than 'flute'");
  must(t.point <= Angle::deg(180), "'point' is 180 deg at most, a flat end");
  must(t.use != Milling::tap || 2 * t.pitch < t.diameter, "'pitch' is less than half the 'diameter'");
}

void settle(TurningTool& t) {
  t.axial = t.axial || t.use == Turning::face_grooving || t.use == Turning::boring || t.use == Turning::drilling ||
            t.use == Turning::centre;
  if (t.use == Turning::boring) t.shank_height = t.holder_width;
  if (t.use == Turning::full_form) t.hand = TurningTool::Hand::neutral, t.width = t.teeth * t.pitch;
  if (t.use == Turning::drilling || t.use == Turning::centre) t.hand = TurningTool::Hand::neutral;
}
void settle(MillingTool& t) {
  if (!t.name.empty()) return;
  const auto* const use = std::ranges::find(kMillingUses, t.use, &Choice<Milling>::second);
  t.name = std::string(use->first) + (t.use == Milling::tap ? " M" : " ") + trimmed(t.diameter, 3) +
           (t.use == Milling::tap ? " x " + trimmed(t.pitch, 3) : " mm");
  std::ranges::replace(t.name, '_', ' ');
}

template <class Tool>
void read_row(const yaml::Entry& entry, Fields& file, const Tool& common, std::map<std::string, Tool>& tools) {
  Fields row(entry.value, file);
  Tool tool = common;
  tool.id = entry.key;
  tool.source = row.source();
  read_use(row, tool);
  const auto given = [&](std::string_view key) { return row.has(key) || file.has(key); };
  KeySet set = keys_of(tool, tool_is_round(tool, given));
  std::vector<std::string_view> keys;
  for (const Key& key : set.due) set.also_due.push_back(key);
  for (const Key& key : set.also_due) {
    keys.push_back(key.name);
    if (!given(key.name)) (void)row.node(key.name, key.example);
  }
  for (const Key& key : set.allowed) keys.push_back(key.name);
  read_written(Asked(row, keys), tool);
  row.finish();
  if (row.clean()) check_tool(row, entry.value, tool);
  settle(tool);
  tools[tool.id] = tool;
}

template <class Tool>
void read_rows(Fields& file, std::map<std::string, Tool>& tools) {
  Tool common;
  read_use(file, common);
  read_written(Asked(file, {}), common);
  const std::vector<const yaml::Entry*> rows = file.rest();
  if (!file.clean()) return;  // told once, not again for each row
  for (const yaml::Entry* entry : rows) read_row(*entry, file, common, tools);
}

}  // namespace

void read_turning_tools(Fields& file, std::map<std::string, TurningTool>& tools) { read_rows(file, tools); }
void read_milling_tools(Fields& file, std::map<std::string, MillingTool>& tools) { read_rows(file, tools); }

}  // namespace groovewright::catalog
