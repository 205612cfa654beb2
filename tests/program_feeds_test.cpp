// Feeds and speeds of the programs, read from their texts: ridges within the roughness wanted, drills within the
// machine's torque, no coolant where the data say dry, and words where a tool or a machine can't.
#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <regex>

#include "../src/job/setup_words.h"
#include "programs.h"

namespace groovewright {
namespace {

using programs::lines_of;

constexpr double kPi = 3.14159265358979323846;

std::string built_in(const std::string& name) {
  return testing::file_text(std::string(GW_SOURCE_DIR "/profiles/") + name + ".yaml");
}
std::string replaced(std::string text, const std::string& what, const std::string& by) {
  const std::size_t at = text.find(what);
  EXPECT_NE(at, std::string::npos) << what;
  return at == std::string::npos ? text : text.replace(at, what.size(), by);
}

/// The disc of six PK ribs with holes, of this material.
std::string disc(const std::string& material, const std::string& more = "") {
  return "pulley: disc\nmaterial: " + material +
         "\nrims:\n  - section: PK\n    ribs: 6\n    size: {outside_diameter: 100 mm}\nbody: {solid: true}\nhub:\n"
         "  bore: {diameter: 24 mm, fit: H7}\n" +
         more;
}

/// Lines of a text from an operation's comment to the next one's: line number to operation.
std::map<int, std::string> operations_by_line(const std::string& text, const std::vector<toolpath::Operation>& all) {
  std::map<int, std::string> out;
  std::string name;
  const std::vector<std::string> lines = lines_of(text);
  for (std::size_t i = 0; i < lines.size(); ++i) {
    for (const toolpath::Operation& o : all)
      if (lines[i] == "(" + o.name + ")") name = o.name;
    out[static_cast<int>(i) + 1] = name;
  }
  return out;
}

const toolpath::Turning* turning(const toolpath::Plan& plan, const std::string& id) {
  for (const toolpath::Turning& t : plan.turnings)
    if (t.id == id) return &t;
  return nullptr;
}
const toolpath::Milling* milling(const toolpath::Plan& plan, const std::string& id) {
  for (const toolpath::Milling& m : plan.millings)
    if (m.id == id) return &m;
  return nullptr;
}
const catalog::TurningTool& lathe_tool(const toolpath::Plan& plan, int number) {
  for (const toolpath::Station& s : plan.stations)
    if (s.number == number) return s.tool;
  throw std::out_of_range("no such station");
}
const catalog::MillingTool& mill_tool(const toolpath::Plan& plan, int number) {
  for (const toolpath::MillStation& s : plan.mill_stations)
    if (s.number == number) return s.tool;
  throw std::out_of_range("no such station");
}

/// G95 says it; with G94 it is F over S, on a control that has no feed a turn (ISO 6983-1:2009).
double feed_a_turn(const nc::Move& m) { return m.feed_per_turn ? m.feed : m.feed / m.spindle.rpm; }

/// The greatest ridge, mm, that the moves of finishing leave, by operation: f²/8r (textbooks' formula, Ghosh and
/// Mallik) with the feed of the text and the insert's nose; a round insert's is half its diameter. Of the grooves only
/// what reaches their roots counts: the layers before that are cut away again.
std::map<std::string, double> ridges(const toolpath::Turning& t, const toolpath::Plan& plan,
                                     const job::ProgramText& text) {
  const std::map<int, std::string> names = operations_by_line(text.text, t.operations);
  double root = 1e9;
  for (const nc::Move& m : text.trace.moves)
    if (names.at(m.line) == "finish the grooves") root = std::min(root, m.to.x);
  std::map<std::string, double> out;
  for (const nc::Move& m : text.trace.moves) {
    const std::string& name = names.at(m.line);
    if (!name.starts_with("finish") || m.kind == nc::Move::Kind::rapid) continue;
    if (name == "finish the grooves" && m.to.x > root + 0.005) continue;
    const catalog::TurningTool& tool = lathe_tool(plan, m.tool);
    const double nose = tool.included.rad() > 0 ? tool.nose_radius : tool.width / 2;
    const double f = feed_a_turn(m);
    out[name] = std::max(out[name], f * f / (8 * nose));
  }
  return out;
}

struct Case {
  const char *name, *document, *machining;
};
std::ostream& operator<<(std::ostream& out, const Case& c) { return out << c.name; }

class Feeds : public ::testing::TestWithParam<Case> {
 protected:
  void SetUp() override {
    made_ = programs::made(programs::demo(GetParam().document), GetParam().machining);
    ASSERT_TRUE(made_.prepared) << made_.diagnostics.text();
    texts_ = job::write_programs(*made_.prepared);
  }
  [[nodiscard]] const toolpath::Plan& plan() const { return made_.prepared->programs->plan; }

  programs::Made made_;
  std::vector<job::ProgramText> texts_;
};

/// Wanted: 10 um on what the part says nothing of (cutting data of the demos' aluminium), Ra 3.2 um on the grooves (ISO
/// 9981:2020, 5.3), whose ridges then are 9 sqrt(3) / 4 times that high (closed form of a parabola's mean deviation).
TEST_P(Feeds, LeaveNoHigherRidgesThanWanted) {
  int seen = 0;
  for (const job::ProgramText& text : texts_) {
    const toolpath::Turning* t = turning(plan(), text.id);
    if (t == nullptr) continue;
    for (const auto& [name, height] : ridges(*t, plan(), text)) {
      ++seen;
      const double wanted = name == "finish the grooves" ? 3.897 * 0.0032 : 0.010;
      EXPECT_LE(height, wanted) << text.id << ", " << name;
      EXPECT_GT(height, 0) << text.id << ", " << name;
    }
  }
  EXPECT_GE(seen, 3) << "face, bore, grooves";
}

/// What the sheet says of an operation's ridges is what the text leaves.
TEST_P(Feeds, LeaveTheRidgesThatTheSheetNames) {
  for (const job::ProgramText& text : texts_) {
    const toolpath::Turning* t = turning(plan(), text.id);
    if (t == nullptr) continue;
    std::map<std::string, double> told;
    for (const toolpath::Operation& o : t->operations) told[o.name] = std::max(told[o.name], o.rz);
    for (const auto& [name, height] : ridges(*t, plan(), text)) {
      EXPECT_NEAR(told.at(name), height, 1e-5) << text.id << ", " << name;
    }
    for (const auto& [name, rz] : told) EXPECT_EQ(rz > 0, name.starts_with("finish")) << name;
  }
}

/// Torque of a twist drill in solid metal: kc f d² / 8000 N m (handbooks' formula, from memory); power is torque times
/// 2 pi n / 60. kc 800 N/mm² and each machine's figures as its data have them.
TEST_P(Feeds, DrillWithinTorqueAndPower) {
  const auto holds = [](const catalog::Machine& m, double d, double f, double rpm, const std::string& where) {
    const double torque = 800 * f * d * d / 8000;
    EXPECT_LE(torque, m.torque_at(rpm)) << where;
    EXPECT_LE(torque * 2 * kPi * rpm / 60, m.power) << where;
    EXPECT_LE(rpm, m.max_rpm) << where;
    EXPECT_GE(rpm, m.min_rpm) << where;
  };
  int drilled = 0;
  for (const job::ProgramText& text : texts_) {
    const bool on_mill = milling(plan(), text.id) != nullptr;
    for (const nc::Move& m : text.trace.moves) {
      if (m.tool == 0 || m.kind != nc::Move::Kind::feed) continue;
      const std::string where = text.id + " line " + std::to_string(m.line);
      if (on_mill) {
        const catalog::MillingTool& tool = mill_tool(plan(), m.tool);
        if (tool.use != catalog::MillingTool::Use::drill) continue;
        holds(plan().mill, tool.diameter, m.feed / m.spindle.rpm, m.spindle.rpm, where);
      } else {
        const catalog::TurningTool& tool = lathe_tool(plan(), m.tool);
        if (tool.use != catalog::TurningTool::Use::drilling) continue;
        const double f = feed_a_turn(m);
        EXPECT_GE(f, tool.min_feed - 1e-4) << where << ": F is rounded";
        EXPECT_LE(f, tool.max_feed + 1e-4) << where;
        holds(plan().lathe, tool.width, f, m.spindle.rpm, where);
      }
      ++drilled;
    }
  }
  EXPECT_GT(drilled, 0);
}

INSTANTIATE_TEST_SUITE_P(Demos, Feeds,
                         ::testing::Values(Case{"crank_turret", "larkspur-crank-24",
                                                "machining: {lathe: turret-400}\n"},
                                           Case{"crank_bench", "larkspur-crank-24", "machining: {lathe: bench-250}\n"},
                                           Case{"disc_bench", "sorrel-disc", "machining: {lathe: bench-250}\n"},
                                           Case{"pump_turret", "thistle-pump-pl", "machining: {lathe: turret-400}\n"}),
                         [](const auto& tested) { return std::string(tested.param.name); });

programs::Made made_with(const std::string& document, const std::string& file, const std::string& what,
                         const std::string& by) {
  return programs::made(document, "machining: {lathe: turret-400}\n",
                        {{file + ".yaml", replaced(built_in(file), what, by)}});
}

/// The smoother the wanted surface, the finer the feed, as f = sqrt(8 r Rz) has it: 2 um from a nose of 0.4 mm take
/// 0.08 mm, from 0.2 mm 0.0566 mm.
TEST(Roughness, HoldsTheFeed) {
  const auto m = made_with(programs::demo("sorrel-disc"), "cutting/aluminium", "finish_rz: 10 um", "finish_rz: 2 um");
  ASSERT_TRUE(m.prepared) << m.diagnostics.text();
  const toolpath::Plan& plan = m.prepared->programs->plan;
  int held = 0;
  for (const job::ProgramText& text : job::write_programs(*m.prepared)) {
    const toolpath::Turning& t = *turning(plan, text.id);
    for (const auto& [name, height] : ridges(t, plan, text))
      EXPECT_LE(height, name == "finish the grooves" ? 0.01247 : 0.00201) << name;
    for (const toolpath::Operation& o : t.operations) {
      if (o.why.find("feed for Rz 2 um from nose 0.4 mm") == std::string::npos) continue;
      ++held;
      EXPECT_NEAR(o.feed, 0.08, 1e-9) << o.name;
    }
    EXPECT_TRUE(t.warnings.empty()) << t.warnings.front();
  }
  EXPECT_GT(held, 0);
}

/// Half a micrometre from a nose of 0.4 mm takes sqrt(8 x 0.4 x 0.0005) = 0.04 mm a turn. The finishing tool feeds 0.08
/// mm at least, which leaves 0.08² / 3.2 = 2 um: it is said, with these figures, and stands on the set-up sheet.
TEST(Roughness, BeyondATool_IsSaid) {
  const auto m = made_with(programs::demo("sorrel-disc"), "cutting/aluminium", "finish_rz: 10 um", "finish_rz: 0.5 um");
  ASSERT_TRUE(m.prepared) << m.diagnostics.text();
  const auto& warnings = m.prepared->programs->plan.turnings.front().warnings;
  const auto said = std::find_if(warnings.begin(), warnings.end(), [](const std::string& w) {
    return w.starts_with("To finish the outside: Finishing tool 55 deg") &&
           w.find("feeds 0.08 mm") != std::string::npos && w.find("0.04 mm or less") != std::string::npos &&
           w.find("leaves Rz 2 um") != std::string::npos;
  });
  ASSERT_NE(said, warnings.end()) << (warnings.empty() ? "no warning" : warnings.front());
  const auto texts = job::write_programs(*m.prepared);
  const std::string sheet = job::setup_sheet(*m.prepared, texts, job::prove(*m.prepared, texts), report::Units::mm);
  EXPECT_NE(sheet.find("**Mind:** " + *said), std::string::npos);
}

const std::string kDowel = "  dowels: {angles: [90 deg], diameter: 8 mm, circle: 60 mm, fit: H7}\n";

/// M7 and M8 switch coolant on (ISO 6983-1:2009; NIST IR 6556, 3.6.4). Grey iron is cut dry: common practice.
TEST(Coolant, StaysOffWhereTheDataSayDry) {
  const std::regex on(R"((^| )M0?[78]( |$))");
  const auto count = [&](const programs::Made& m) {
    int lines = 0;
    for (const job::ProgramText& text : job::write_programs(*m.prepared)) {
      for (const std::string& line : lines_of(text.text)) lines += std::regex_search(line, on) ? 1 : 0;
      for (const nc::Move& move : text.trace.moves) lines += move.coolant ? 1 : 0;
    }
    return lines;
  };
  const auto says_dry = [](const programs::Made& m) {
    const auto texts = job::write_programs(*m.prepared);
    const auto words = job::setup_words(*m.prepared, texts, job::prove(*m.prepared, texts), report::Units::mm);
    std::size_t dry = 0;
    for (const job::ClampingWords& c : words.clampings)
      for (const auto& [what, says] : c.facts)
        dry += what == "Coolant" && says.find("dry") != std::string::npos ? 1 : 0;
    EXPECT_TRUE(dry == 0 || dry == words.clampings.size());
    return dry > 0;
  };
  const auto iron = programs::made(disc("cast-iron-250", kDowel)),
             wet = programs::made(disc("aluminium-6061-T6", kDowel));
  ASSERT_TRUE(iron.prepared) << iron.diagnostics.text();
  ASSERT_TRUE(wet.prepared) << wet.diagnostics.text();
  ASSERT_GE(iron.prepared->programs->plan.millings.size(), 1U);
  EXPECT_EQ(count(iron), 0);
  EXPECT_TRUE(says_dry(iron));
  EXPECT_GT(count(wet), 0);
  EXPECT_FALSE(says_dry(wet));
}

/// A machine of one's own with this power and, up to 500 rpm, this torque.
TextFile weaker(const std::string& id, const std::string& power, const std::string& torque) {
  std::string text = built_in("machines/" + id);
  for (const auto& [key, value] : {std::pair<std::string, std::string>{"power: ", power},
                                   {"torque: ", "[{at: 500 rpm, value: " + torque + "}]"}}) {
    const std::size_t at = text.find("\n" + key) + 1 + key.size();
    text.replace(at, text.find('\n', at) - at, value);
  }
  return {"machines/" + id + ".yaml", text};
}

/// A drill of 7.8 mm in steel: 2100 N/mm² x f x 7.8² / 8000 is 15.97 N m for each mm a turn; the data's 0.1248 mm
/// (0.016 diameters) take 1.99 N m, a quarter of that 0.498 N m. The spindle gives four fifths: 0.6 N m hold the feed
/// to 0.03 mm, and 0.3 N m are too little, 0.7 would do (0.498 / 0.8 = 0.623, rounded up).
TEST(WeakMills, FeedLessOrAreRefusedWithTheTorqueThatWouldDo) {
  const std::string document = disc("steel-1045", kDowel);
  const auto fed = programs::made(document, "", {weaker("mill-400", "0.2 kW", "0.9 N m")});
  ASSERT_TRUE(fed.prepared) << fed.diagnostics.text();
  const toolpath::Operation* drill = nullptr;
  for (const toolpath::Milling& m : fed.prepared->programs->plan.millings)
    for (const toolpath::Operation& o : m.operations)
      if (o.name.starts_with("drill dowels_1")) drill = &o;
  ASSERT_NE(drill, nullptr);
  EXPECT_NEAR(drill->feed, 0.8 * 0.9 / (2100 * 7.8 * 7.8 / 8000), 1e-6);
  EXPECT_NE(drill->why.find("torque"), std::string::npos);

  const auto refused = programs::made(document, "", {weaker("mill-400", "0.2 kW", "0.5 N m")});
  EXPECT_FALSE(refused.prepared);
  const auto said = std::ranges::any_of(refused.diagnostics.all(), [](const Diagnostic& d) {
    return d.code == Code::machine_too_small && d.place.line == 10 &&
           d.message.find("to drill dowels_1, D 7.8 mm: 'drill 7.8 mm' needs 0.7 N m of the spindle") == 0 &&
           d.message.find("'mill-400' gives 0.5 N m") != std::string::npos;
  });
  EXPECT_TRUE(said) << refused.diagnostics.text();
}

/// A tap takes kc p² d / 8000 whatever its speed (from memory): M8 x 1.25 in steel 2100 x 1.5625 x 8 / 8000 = 3.28 N m,
/// and the spindle gives four fifths: 4.2 N m would do. Its drill of 6.8 mm takes 1.3 N m at the data's feed.
TEST(WeakMills, AreRefusedATapThatTheyCantTurn) {
  const std::string document =
      disc("steel-1045", "  jack_screws: {count: 2, size: M8, circle: 60 mm, start: 30 deg}\n");
  const auto refused = programs::made(document, "", {weaker("mill-400", "0.2 kW", "3.5 N m")});
  EXPECT_FALSE(refused.prepared);
  EXPECT_NE(refused.diagnostics.text().find("needs 4.2 N m"), std::string::npos) << refused.diagnostics.text();
  const auto fine = programs::made(document, "", {weaker("mill-400", "0.3 kW", "4.2 N m")});
  EXPECT_TRUE(fine.prepared) << fine.diagnostics.text();
}

/// The disc's bore of 24 mm is drilled with 20 mm where the lathe can: in steel, at the least feed of 0.12 mm, 2100 x
/// 0.12 x 400 / 8000 = 12.6 N m. With 0.8 x 15 = 12 N m it takes the next, 16 mm, at 12 / (2100 x 256 / 8000) = 0.1786
/// mm. With 0.8 x 2 it can turn none: the thinnest, 10 mm, needs 2100 x 0.08 x 100 / 8000 / 0.8 = 2.625 N m.
TEST(WeakLathes, TakeAThinnerDrillOrAreRefused) {
  const auto thinner = programs::made(disc("steel-1045"), "", {weaker("turret-400", "0.8 kW", "15 N m")});
  ASSERT_TRUE(thinner.prepared) << thinner.diagnostics.text();
  const toolpath::Plan& plan = thinner.prepared->programs->plan;
  const auto drill =
      std::ranges::find(plan.turnings.front().operations, std::string("drill"), &toolpath::Operation::name);
  ASSERT_NE(drill, plan.turnings.front().operations.end());
  EXPECT_EQ(lathe_tool(plan, drill->station).width, 16);
  EXPECT_NEAR(drill->feed, 0.8 * 15 / (2100 * 256.0 / 8000), 1e-6);
  EXPECT_NE(drill->why.find("the widest that the lathe turns"), std::string::npos) << drill->why;

  const auto refused = programs::made(disc("steel-1045"), "", {weaker("turret-400", "0.1 kW", "1.9 N m")});
  EXPECT_FALSE(refused.prepared);
  const std::string says = refused.diagnostics.text();
  EXPECT_NE(says.find("a drill of 10 mm needs 2.7 N m of the spindle, and 'turret-400' gives 1.9 N m"),
            std::string::npos)
      << says;
}

/// Roughing a steel blank of 105 mm with 0.15 mm (the tool's least feed) by 0.533 mm (two thirds of its nose) takes
/// 2100 x 0.15 x 0.533 x 105 / 2000 = 8.8 N m: more than 0.8 x 8 at any speed, and then it is said.
TEST(WeakLathes, AreToldWhereTheLeastChipIsTooMuch) {
  const auto m = programs::made(disc("steel-1045"), "machining: {stock: {diameter: 105 mm, bore: 18 mm}}\n",
                                {weaker("turret-400", "0.42 kW", "8 N m")});
  ASSERT_TRUE(m.prepared) << m.diagnostics.text();
  const auto& warnings = m.prepared->programs->plan.turnings.front().warnings;
  const auto said = std::ranges::any_of(warnings, [](const std::string& w) {
    return w.starts_with("To turn the outside: ") && w.find("least chip, 0.15 mm by 0.533 mm") != std::string::npos &&
           w.find("asks for 11 N m") != std::string::npos;
  });
  EXPECT_TRUE(said) << (warnings.empty() ? "no warning" : warnings.front());
}

}  // namespace
}  // namespace groovewright
