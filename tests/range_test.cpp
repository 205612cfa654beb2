// The range document: sizes, ratios, belts, charge and supporting parts of each option.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "groovewright/job/range.h"
#include "parts.h"

namespace groovewright {
namespace {

using nlohmann::json;

struct Ranged {
  Diagnostics diagnostics;
  std::optional<job::PreparedRange> range;
};

constexpr const char* kFolder = GW_SOURCE_DIR "/profiles/demo/";
const std::string kCrank = "larkspur-crank-24.yaml";

job::PulleyDocument crank() { return {kCrank, {kCrank, testing::file_text(kFolder + kCrank)}, {}}; }

const std::string kFront = "larkspur-front.yaml";

Ranged ranged(const std::string& text, const std::string& front = testing::file_text(kFolder + kFront)) {
  Ranged r;
  const auto range = spec::read_range({"range.yaml", text}, r.diagnostics);
  if (!range) return r;
  r.range = job::prepare_range(*range, {crank(), {kFront, front}, {crank()}}, {}, r.diagnostics);
  return r;
}
/// The demo's drive with `more` at the end of the line that begins with `line`, before its last brace.
std::string front_with(const std::string& line, const std::string& more) {
  std::string text = testing::file_text(kFolder + kFront);
  const std::size_t at = text.find('}', text.find('\n', text.find(line)) - 2);
  return text.insert(at, more);
}
const Check* find(const std::vector<Check>& checks, const std::string& id) {
  const auto found = std::ranges::find(checks, id, &Check::id);
  return found == checks.end() ? nullptr : &*found;
}
job::Made made_range(const job::PreparedRange& range) {
  return job::make_range(range, {"range.yaml", "x"}, report::Units::mm, [](const auto&, const auto&) { return ""; });
}

const std::string kHead =
    "range: options\nbase: larkspur-crank-24.yaml\ndrive: larkspur-front.yaml\npulley: crank\ndriven: blower\n";
const std::string kCharge =
    "charge:\n  engine: {displacement: 4.6 L}\n  blower: {displacement: 1750 cm3, compression: internal}\n"
    "  reference: {at: 5600 rpm, pressure: 7 psi, effective_diameter: 164.64 mm, crank_power: 270 kW}\n"
    "  cooler: {effectiveness: 60 %, coolant: 47 degC}\n";

/// Effective diameters from pitch diameters: b_e is 2 mm (ISO 9981:2020, cl. 5.4), the reference 132 mm.
TEST(Range, SizesAreOnThePitchLine) {
  const Ranged r = ranged(kHead + "steps: {overdrives: [24 %, 20 %, 30 %]}\n");
  ASSERT_TRUE(r.range) << r.diagnostics.text();
  ASSERT_EQ(r.range->options.size(), 3U);
  const double wanted[] = {0.20, 0.24, 0.30};  // rising
  for (std::size_t i = 0; i < 3; ++i) {
    const job::Option& o = r.range->options[i];
    EXPECT_NEAR(o.effective_diameter, 136 * (1 + wanted[i]) - 4, 1e-9);
    EXPECT_NEAR(o.overdrive, wanted[i], 1e-12);
    EXPECT_NEAR(o.speed_ratio, (o.effective_diameter + 4) / (86 + 4), 1e-9) << "blower of 86 mm, b_e 2 mm";
    EXPECT_NEAR(o.driven_speed, r.range->redline * o.speed_ratio, 1e-6);
    EXPECT_EQ(o.driven_limit, 14000);
    EXPECT_NEAR(o.pulley.part.rims.front().effective_diameter.value, o.effective_diameter, 1e-12);
  }
  EXPECT_EQ(r.range->options[1].name, "options-24");
  EXPECT_LT(r.range->options[0].pulley.section.mass.polar_inertia,
            r.range->options[2].pulley.section.mass.polar_inertia);
}

TEST(Range, TakesRatiosAndDiameters) {
  const Ranged ratios = ranged(kHead + "steps: {speed_ratios: [1.9]}\n");
  ASSERT_TRUE(ratios.range) << ratios.diagnostics.text();
  EXPECT_NEAR(ratios.range->options.front().effective_diameter, 1.9 * 90 - 4, 1e-9);
  EXPECT_NEAR(ratios.range->options.front().speed_ratio, 1.9, 1e-12);
  const Ranged sizes = ranged(kHead + "steps: {effective_diameters: [170 mm]}\n");
  ASSERT_TRUE(sizes.range) << sizes.diagnostics.text();
  EXPECT_NEAR(sizes.range->options.front().overdrive, 174.0 / 136 - 1, 1e-12);
}

TEST(Range, BuysABeltThatGrowsWithThePulley) {
  const Ranged r = ranged(kHead + "steps: {overdrives: [20 %, 28 %, 36 %]}\n");
  ASSERT_TRUE(r.range) << r.diagnostics.text();
  double before = 0;
  for (const job::Option& o : r.range->options) {
    const double length = o.drive.belt.effective_length.value;
    EXPECT_GT(length, before) << o.name;
    EXPECT_NEAR(std::remainder(length, 5), 0, 1e-9) << "the demo's belts come in steps of 5 mm";
    before = length;
  }
}

TEST(Range, MeasuredPulleyGivesBackItsPressureAndPower) {
  const Ranged r = ranged(kHead + "steps: {effective_diameters: [164.64 mm, 170 mm]}\n" + kCharge);
  ASSERT_TRUE(r.range) << r.diagnostics.text();
  const job::ChargeBand& same = *r.range->options[0].charge;
  EXPECT_NEAR(same.free.gauge, 7 * 6.894757293, 1e-5);
  EXPECT_NEAR(same.restricted.gauge, 7 * 6.894757293, 1e-5);
  EXPECT_NEAR(same.free.crank_power, 270e3, 1);
  const job::ChargeBand& more = *r.range->options[1].charge;
  EXPECT_GT(more.restricted.gauge, same.restricted.gauge);
  EXPECT_GT(more.free.gauge, more.restricted.gauge);
  // What the blower takes goes onto the belt: the hub load grows.
  const auto& load = r.range->options[1].drive.pulleys[2].load;
  ASSERT_EQ(load.size(), r.range->options[1].drive.duty.rpm.size());
  EXPECT_NEAR(load.back().value, more.free.shaft_power, 1e-6 * more.free.shaft_power);
}

/// The limit stands between the hub loads of two options: one passes, the other fails with both figures.
TEST(Range, AnOptionFailsWhereItsHubLoadIsMoreThanTheBearingCarries) {
  const std::string text = kHead + "steps: {overdrives: [20 %, 28 %]}\n" + kCharge;
  const Ranged free_of_limits = ranged(text);
  ASSERT_TRUE(free_of_limits.range) << free_of_limits.diagnostics.text();
  const auto load_of = [](const job::Option& o) { return find(o.rows.checks, "hub_load")->value; };
  const double least = load_of(free_of_limits.range->options[0]), most = load_of(free_of_limits.range->options[1]);
  ASSERT_LT(least + 2, most);
  const double limit = std::floor((least + most) / 2);
  const Ranged r =
      ranged(text, front_with("  - {name: crank", ", bearing: {radial_load: " + std::to_string(limit) + " N}"));
  ASSERT_TRUE(r.range) << r.diagnostics.text();
  EXPECT_EQ(find(r.range->options[0].rows.checks, "hub_load")->verdict, Verdict::pass);
  const Check& over = *find(r.range->options[1].rows.checks, "hub_load");
  EXPECT_EQ(over.verdict, Verdict::fail);
  EXPECT_EQ(over.upper, limit);
  const std::vector<Check> sheet = made_range(*r.range).sheet.rows.checks;
  EXPECT_NE(find(sheet, "option_options_20")->verdict, Verdict::fail);
  const Check& option = *find(sheet, "option_options_28");
  EXPECT_EQ(option.verdict, Verdict::fail);
  EXPECT_NE(option.says.find(std::to_string(static_cast<int>(limit)) + " N"), std::string::npos) << option.says;
  EXPECT_NE(option.says.find(std::to_string(static_cast<int>(most))), std::string::npos) << option.says;
}

/// Colder air is denser in the ratio of the temperatures: more of it at one pressure (ideal gas).
TEST(Range, TakesTheAirFromTheDriveWhereItSaysNoneOfItsOwn) {
  const std::string text = kHead + "steps: {effective_diameters: [170 mm]}\n" + kCharge;
  const std::string cold = "ambient: {temperature: -10 degC, pressure: 95 kPa}\n";
  const auto air = [](const Ranged& r) { return r.range->options.front().charge->free.air; };
  const auto front = testing::file_text(kFolder + kFront);
  const Ranged by_drive = ranged(text, front + cold), by_range = ranged(text + "  " + cold), plain = ranged(text);
  ASSERT_TRUE(by_drive.range && by_range.range && plain.range) << by_drive.diagnostics.text();
  EXPECT_EQ(air(by_drive), air(by_range));
  EXPECT_NE(air(by_drive), air(plain));
  const Ranged own = ranged(text + "  ambient: {temperature: 20 degC, pressure: 101.325 kPa}\n", front + cold);
  ASSERT_TRUE(own.range) << own.diagnostics.text();
  EXPECT_NEAR(air(own), air(plain), 1e-12) << "the range's own goes first";
}

TEST(Range, SaysWhoseLoadsAreOnTheBelt) {
  const std::string steps = kHead + "steps: {overdrives: [24 %]}\n";
  const auto row = [](const Ranged& r) {
    const std::vector<Check> sheet = made_range(*r.range).sheet.rows.checks;
    const Check* c = find(sheet, "load_of_blower");
    return c == nullptr ? std::optional<Check>() : *c;
  };
  const Ranged without = ranged(steps), with = ranged(steps + kCharge);
  ASSERT_TRUE(without.range && with.range) << with.diagnostics.text();
  EXPECT_FALSE(row(without)) << "the document's own";
  ASSERT_TRUE(row(with));
  EXPECT_EQ(row(with)->value, 3) << "points that the demo's drive writes for its blower";
  EXPECT_EQ(row(with)->verdict, Verdict::note);
  EXPECT_NE(row(with)->says.find("full throttle"), std::string::npos);
  EXPECT_NE(row(with)->says.find("stands in no figure"), std::string::npos);
  std::string none = testing::file_text(kFolder + kFront);
  const std::size_t at = none.find(", load: ", none.find("name: blower"));
  none.erase(at, none.find("]", at) + 1 - at);
  const Ranged unwritten = ranged(steps + kCharge, none);
  ASSERT_TRUE(unwritten.range) << unwritten.diagnostics.text();
  EXPECT_EQ(row(unwritten)->value, 0);
  EXPECT_NE(row(unwritten)->says.find("writes no load"), std::string::npos);
}

TEST(Range, NamesThePartsThatAStepNeeds) {
  const Ranged r = ranged(kHead + "steps: {overdrives: [20 %, 30 %]}\n" + kCharge +
                          "supports:\n  - {part: screws, overdrive_over: 25 %}\n"
                          "  - {part: cover, speed_over: 10500 rpm, modification: true}\n"
                          "  - {part: plugs, pressure_over: 6 psi}\n");
  ASSERT_TRUE(r.range) << r.diagnostics.text();
  const auto parts = [](const job::Option& o) {
    std::string all;
    for (const job::Support& s : o.supports) all += s.part + ";";
    return all;
  };
  EXPECT_EQ(parts(r.range->options[0]).find("screws"), std::string::npos);
  EXPECT_NE(parts(r.range->options[1]).find("screws;cover;plugs"), std::string::npos) << parts(r.range->options[1]);
  EXPECT_FALSE(r.range->options[1].bolts_on());
}

TEST(Range, ChartHoldsEveryOptionOnce) {
  const Ranged r = ranged(kHead + "steps: {overdrives: [20 %, 24 %]}\n" + kCharge);
  ASSERT_TRUE(r.range) << r.diagnostics.text();
  const TextFile document{"range.yaml", "x"};
  const job::Made made =
      job::make_range(*r.range, document, report::Units::mm, [](const auto&, const auto&) { return ""; });
  const auto named = [&](const std::string& ending) {
    return std::ranges::find_if(made.artifacts, [&](const Artifact& a) { return a.name.ends_with(ending); });
  };
  ASSERT_NE(named(".range.json"), made.artifacts.end());
  const json read = json::parse(named(".range.json")->bytes);
  ASSERT_EQ(read.at("options").size(), 2U);
  EXPECT_EQ(read.at("options").at(0).at("option"), "options-20");
  EXPECT_NEAR(read.at("options").at(1).at("driven_speed").get<double>(), r.range->options[1].driven_speed, 1e-6);
  EXPECT_FALSE(read.at("assumptions").empty()) << "an estimate says what it rests on";
  EXPECT_EQ(read.at("checks").size(), 5U) << "a verdict and an estimate each, and whose loads count";
  const std::string csv = named(".range.csv")->bytes;
  EXPECT_EQ(std::count(csv.begin(), csv.end(), '\n'), 3);
  EXPECT_NE(named(".range.md")->bytes.find("estimate"), std::string::npos);
}

TEST(Range, SaysWhatIsWrong) {
  struct Case {
    const char* what;
    std::string text;
    int line;
    const char* says;
  };
  const std::string steps = "steps: {overdrives: [24 %]}\n";
  const auto with = [](std::string text, const std::string& from, const std::string& to) {
    return text.replace(text.find(from), from.size(), to);
  };
  const Case cases[] = {
      {"a pulley that the drive lacks", with(kHead, "pulley: crank", "pulley: crnk") + steps, 4,
       "did you mean 'crank'"},
      {"a driven one that it lacks", with(kHead, "driven: blower", "driven: fan") + steps, 5, "no pulley 'fan'"},
      {"a pulley without a document", with(kHead, "pulley: crank", "pulley: blower") + steps, 4,
       "names no pulley document"},
      {"no steps", kHead, 1, "needs 'steps'"},
      {"two kinds of steps", kHead + "steps: {overdrives: [20 %], speed_ratios: [2]}\n", 6, "takes one of"},
      {"a step that leaves no web", kHead + "steps: {overdrives: [0 %]}\n", 15, "no room for a web"},
      {"a size below the groove's least", kHead + "steps: {effective_diameters: [0 mm]}\n", 6, "effective_diameters"},
      {"three strokes", kHead + steps + with(kCharge, "4.6 L}", "4.6 L, strokes: 3}"), 8, "2 or 4"},
      {"a pressure that can't be", kHead + steps + with(kCharge, "7 psi", "40 psi"), 10, "does not go with"},
      {"a pressure without unit", kHead + steps + with(kCharge, "7 psi", "7"), 10, "needs a unit"},
      {"a support without a condition", kHead + steps + "supports: [{part: screws}]\n", 7, "needs one of"},
      {"an unknown key", kHead + steps + "suports: []\n", 7, "did you mean 'supports'"},
  };
  for (const Case& c : cases) {
    SCOPED_TRACE(c.what);
    const Ranged r = ranged(c.text);
    EXPECT_FALSE(r.range);
    ASSERT_TRUE(r.diagnostics.has_errors());
    const Diagnostic& first = r.diagnostics.all().front();
    EXPECT_EQ(first.place.line, c.line) << to_text(first);
    EXPECT_NE(first.message.find(c.says), std::string::npos) << to_text(first);
  }
}

}  // namespace
}  // namespace groovewright
