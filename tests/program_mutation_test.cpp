// Slips in a program's text: what moves metal that should stay, leaves metal that should go, or drives through metal at
// rapid or with a holder, must be caught by the reader, the trace or the proof. What does harm is told by a witness
// that shares nothing with the proof (swept_points.h).
#include <gtest/gtest.h>

#include <functional>
#include <iostream>
#include <set>

#include "groovewright/base/broken.h"
#include "program_mutations.h"
#include "swept_points.h"

namespace groovewright {
namespace {

constexpr double kHarm = 0.02;   // mm beyond the outline, or left on it
constexpr double kNear = 0.002;  // by which the witness may miss: chords of noses and ways, four decimals

std::set<std::string> failing(const job::Prepared& p, const std::vector<job::ProgramText>& texts) {
  std::set<std::string> out;
  for (const Check& c : job::prove(p, texts).rows.checks)
    if (c.verdict == Verdict::fail || c.verdict == Verdict::doubt) out.insert(c.id);
  return out;
}

/// The lathe's programs of a demo, and the plain witness of the first of them.
class Subject {
 public:
  explicit Subject(const std::string& demo) : prepared_(programs::made(programs::demo(demo)).prepared.value()) {
    toolpath::Plan& plan = prepared_.programs->plan;
    std::erase_if(plan.order, [&](const std::string& id) { return id != "op10" && id != "op20"; });
    plan.millings.clear();
    texts_ = job::write_programs(prepared_);
    already_ = failing(prepared_, texts_);

    std::vector<removal::LatheTool> tools;
    for (const auto& s : plan.stations) tools.push_back(programs::steered(s, plan.lathe.steers_nose_centre));
    points_ = swept_points::points(plan.stock, prepared_.section.body.section, 0.5, 0.05, kHarm + kNear);
    const auto witness = [&](std::size_t i) {
      const toolpath::Turning& t = plan.turnings[i];
      return swept_points::Witness(tools, swept_points::seen(points_, t.turned, t.shift), kHarm);
    };
    witness_.push_back(witness(0));
    before_ = witness_[0].deeds(texts_[0].trace);
    stands_after_second_ = witness(1).deeds(texts_[1].trace).stands;
  }

  [[nodiscard]] const job::Prepared& prepared() const { return prepared_; }
  [[nodiscard]] const std::vector<job::ProgramText>& texts() const { return texts_; }
  [[nodiscard]] const swept_points::Deeds& before() const { return before_; }
  [[nodiscard]] std::size_t beside() const {
    return static_cast<std::size_t>(
        std::count_if(points_.begin(), points_.end(), [](const auto& p) { return p.is_left_over || p.is_part; }));
  }
  /// Points beside the part that both programs together leave, now.
  [[nodiscard]] std::size_t left() const {
    std::size_t n = 0;
    for (const auto& p : points_) n += p.is_left_over && before_.stands[p.id] && stands_after_second_[p.id] ? 1 : 0;
    return n;
  }

  /// What harm the first program does if it is this one, "" where none.
  [[nodiscard]] std::string harm(const nc::Trace& trace) const {
    const swept_points::Deeds d = witness_[0].deeds(trace);
    const std::string line = " in line " + std::to_string(d.line);
    if (d.part_cut) return "the part is cut" + line;
    if (d.rapid_in_metal) return "a rapid move through metal" + line;
    if (d.holder_in_metal) return "a holder in metal" + line;
    for (const auto& p : points_)
      if (p.is_left_over && d.stands[p.id] && !before_.stands[p.id] && stands_after_second_[p.id])
        return "metal left at D " + std::to_string(2 * p.at.y) + ", Z " + std::to_string(p.at.x);
    return "";
  }
  /// Who catches this text as the first program, "" where no one does.
  [[nodiscard]] std::string caught(const std::string& text) const {
    const auto trace = programs::traced(text, prepared_.programs->lathe);
    if (!trace) return "reader";
    if (!trace->faults.empty()) return "trace: " + trace->faults.front().says;
    std::vector<job::ProgramText> texts = texts_;
    texts[0] = {texts[0].id, text, *trace};
    for (const Check& c : job::prove(prepared_, texts).rows.checks)
      if ((c.verdict == Verdict::fail || c.verdict == Verdict::doubt) && !already_.contains(c.id))
        return c.id + ": " + c.says;
    return "";
  }

 private:
  job::Prepared prepared_;
  std::vector<job::ProgramText> texts_;
  std::set<std::string> already_;
  std::vector<swept_points::Point> points_;
  std::vector<swept_points::Witness> witness_;
  swept_points::Deeds before_;
  std::vector<bool> stands_after_second_;
};

const Subject& subject(const std::string& demo) {
  static std::map<std::string, Subject> all;
  return all.try_emplace(demo, demo).first->second;
}

// ---- the programs as they are ----

class Unchanged : public ::testing::TestWithParam<const char*> {};

/// The plain witness against the programs themselves: 0.02 mm into the part, nothing; 0.02 mm off it, all gone but
/// where a nose can't reach.
TEST_P(Unchanged, DoesNoHarm) {
  const Subject& s = subject(GetParam());
  EXPECT_EQ(s.caught(s.texts()[0].text), "");
  EXPECT_FALSE(s.before().part_cut) << "line " << s.before().line;
  EXPECT_FALSE(s.before().rapid_in_metal) << "line " << s.before().line;
  EXPECT_FALSE(s.before().holder_in_metal) << "line " << s.before().line;
  EXPECT_GT(s.beside(), 5000U);
  EXPECT_LT(s.left(), s.beside() / 200) << "metal is left beside the part";
}
INSTANTIATE_TEST_SUITE_P(Demos, Unchanged, ::testing::Values("sorrel-disc", "larkspur-crank-24", "thistle-pump-pl"),
                         [](const auto& tested) { return std::string(1, tested.param[0]); });

// ---- slips at random ----

struct Shard {
  const char* demo;
  std::uint64_t seed;
};
std::ostream& operator<<(std::ostream& out, const Shard& s) { return out << s.demo << ", seed " << s.seed; }

class Slips : public ::testing::TestWithParam<Shard> {};

constexpr int kShard = 100;

TEST_P(Slips, ThatDoHarmAreCaught) {
  const Subject& s = subject(GetParam().demo);
  programs::Mutator mutator(s.texts()[0].text, GetParam().seed);
  struct Count {
    int all = 0, harmful = 0, caught = 0;
  };
  std::array<Count, programs::kSlips.size()> counts{};
  Count total;
  for (int i = 0; i < kShard; ++i) {
    const auto mutant = mutator.next();
    Count& count = counts[static_cast<std::size_t>(mutant.slip)];
    ++count.all, ++total.all;
    const auto trace = programs::traced(mutant.text, s.prepared().programs->lathe);
    const std::string harm = trace && trace->faults.empty() ? s.harm(*trace) : "it is no program";
    if (harm.empty()) continue;
    ++count.harmful, ++total.harmful;
    std::string by;
    ASSERT_NO_THROW(by = s.caught(mutant.text)) << mutant.says;
    EXPECT_NE(by, "") << mutant.says << "\n  " << harm << ", and no one says so";
    count.caught += by.empty() ? 0 : 1, total.caught += by.empty() ? 0 : 1;
  }
  for (std::size_t i = 0; i < counts.size(); ++i)
    std::cout << programs::kSlips[i] << ": " << counts[i].all << ", harmful " << counts[i].harmful << ", caught "
              << counts[i].caught << "\n";
  RecordProperty("slips", total.all);
  RecordProperty("harmful", total.harmful);
  RecordProperty("caught", total.caught);
  EXPECT_EQ(total.caught, total.harmful);
  EXPECT_GT(total.harmful, kShard / 5) << "the slips hardly do harm any more";
}

std::vector<Shard> shards() {
  std::vector<Shard> out;
  for (std::uint64_t seed = 1; seed <= 7; ++seed) out.push_back({"sorrel-disc", seed});
  for (std::uint64_t seed = 8; seed <= 10; ++seed) out.push_back({"larkspur-crank-24", seed});
  return out;
}
INSTANTIATE_TEST_SUITE_P(Shards, Slips, ::testing::ValuesIn(shards()),
                         [](const auto& tested) { return "seed_" + std::to_string(tested.param.seed); });

// ---- every finishing move a little off ----

/// Lines of the text's finishing operations but the grooves', from 0.
std::vector<std::size_t> finishing(const std::vector<std::string>& lines) {
  std::vector<std::size_t> out;
  bool on = false;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (lines[i].starts_with("(") && !lines[i].starts_with("(T"))
      on = lines[i].starts_with("(finish") && lines[i] != "(finish the grooves)";
    if (on && lines[i].starts_with("G1 ")) out.push_back(i);
  }
  return out;
}

class Finishing : public ::testing::TestWithParam<const char*> {};

/// By 0.04 mm square to the axis or along it, both ways: what moves metal must be caught, beside sharp corners too.
TEST_P(Finishing, OffByALittleIsCaughtWhereItDoesHarm) {
  const Subject& s = subject(GetParam());
  const std::vector<std::string> lines = programs::lines_of(s.texts()[0].text);
  const std::regex word("[XZ](-?[0-9.]+)");
  int harmful = 0, caught = 0, all = 0;
  for (const std::size_t at : finishing(lines)) {
    const std::string& line = lines[at];
    for (std::sregex_iterator w(line.begin(), line.end(), word), end; w != end; ++w)
      for (const double by : {-0.04, 0.04}) {
        std::vector<std::string> other = lines;
        const double value = std::stod((*w)[1]) + (line[static_cast<std::size_t>(w->position())] == 'X' ? 2 : 1) * by;
        other[at].replace(static_cast<std::size_t>(w->position(1)), static_cast<std::size_t>(w->length(1)),
                          number(value, 4));
        const std::string text = programs::text_of(other);
        const auto trace = programs::traced(text, s.prepared().programs->lathe);
        ++all;
        if (!trace || !trace->faults.empty()) continue;
        const std::string harm = s.harm(*trace);
        if (harm.empty()) continue;
        ++harmful;
        const std::string by_whom = s.caught(text);
        caught += by_whom.empty() ? 0 : 1;
        EXPECT_NE(by_whom, "") << "line " << at + 1 << ": " << line << " -> " << other[at] << "\n  " << harm;
      }
  }
  std::cout << all << " moves off, harmful " << harmful << ", caught " << caught << "\n";
  EXPECT_GT(harmful, 5);
}
INSTANTIATE_TEST_SUITE_P(Demos, Finishing, ::testing::Values("sorrel-disc", "larkspur-crank-24", "thistle-pump-pl"),
                         [](const auto& tested) { return std::string(1, tested.param[0]); });

// ---- one broken program of each kind ----

/// The first line that matches behind the comment, as `other` makes it.
std::string edited(const std::string& text, const std::string& comment, const std::string& pattern,
                   const std::function<std::string(const std::smatch&)>& other) {
  std::vector<std::string> lines = programs::lines_of(text);
  auto at = std::find(lines.begin(), lines.end(), comment);
  const std::regex wanted(pattern);
  std::smatch m;
  while (at != lines.end() && !std::regex_match(*at, m, wanted)) ++at;
  EXPECT_NE(at, lines.end()) << "nothing like " << pattern << " behind " << comment;
  if (at == lines.end()) return text;
  const std::string changed = other(m);
  *at = changed;
  return programs::text_of(lines);
}

struct Broken {
  const char *name, *comment, *pattern;
  std::function<std::string(const std::smatch&)> other;
  const char* caught;  ///< a part of what is said
};

std::vector<Broken> broken() {
  using M = const std::smatch&;
  const auto less = [](M m, double by) { return "G1 X" + std::to_string(std::stod(m[1]) - by); };
  const auto deeper = [](M m, double by) { return "G1 Z" + std::to_string(std::stod(m[1]) - by); };
  return {
      {"gouge", "(finish the face)", R"(G1 Z(-?[0-9.]+))", [deeper](M m) { return deeper(m, 0.1); }, "program_missing"},
      {"gouge_of_a_hundredth", "(finish the face)", R"(G1 Z(-?[0-9.]+))", [deeper](M m) { return deeper(m, 0.01); },
       "program_missing"},
      {"left_a_hundredth_and_a_half", "(finish the face)", R"(G1 Z(-?[0-9.]+))",
       [deeper](M m) { return deeper(m, -0.015); }, "program_left"},
      {"arc_torn", "(finish the outside)", R"(G1 X([0-9.]+))", [less](M m) { return less(m, 0.05); }, "radii differ"},
      {"rapid_through_metal", "(turn the outside)", R"(G1 (Z-[0-9.]+))", [](M m) { return "G0 " + m[1].str(); },
       "through metal at rapid"},
      {"centre_swapped", "(finish the grooves)", R"((G[23] .*) I(\S+) K(\S+))",
       [](M m) { return m[1].str() + " I" + m[3].str() + " K" + m[2].str(); }, "trace"},
      {"spindle_at_rest", "(turn the outside)", R"((G96 .*) M3)", [](M m) { return m[1].str() + " M5"; },
       "spindle is at rest"},
      {"speed_above_the_clamp", "(face)", R"(G96 D[0-9.]+ (.*))", [](M m) { return "G96 D9000 " + m[1].str(); },
       "program_moves"},
      {"speed_without_a_clamp", "(face)", R"(G96 D[0-9.]+ (.*))", [](M m) { return "G96 " + m[1].str(); },
       "program_moves"},
      {"tool_into_jaw", "(turn the outside)", R"(G1 Z-[0-9.]+)", [](M) { return "G1 Z-40"; }, "what holds the part"},
      {"holder_into_metal", "(rough the grooves)", R"(G1 X([0-9.]+))", [less](M m) { return less(m, 24); },
       "program_moves"},
      {"another_tool", "(finish the grooves)", R"(T[0-9]+ M6)", [](M) { return "T1 M6"; }, "program_"},
      {"no_such_tool", "(finish the grooves)", R"(T[0-9]+ M6)", [](M) { return "T77 M6"; }, "no tool 77"},
      {"inches", "(finish the outside)", R"((G18) G21 (.*))", [](M m) { return m[1].str() + " G20 " + m[2].str(); },
       "program_"},
      {"radii_for_diameters", "(finish the grooves)", R"(G7)", [](M) { return "G8"; }, "radii differ"},
      {"beyond_the_travel", "(turn the outside)", R"(G0 Z[0-9.]+)", [](M) { return "G0 Z900"; }, "travel"},
      {"no_end", "(finish the grooves)", "M2", [](M) { return ""; }, "trace"},
  };
}

std::ostream& operator<<(std::ostream& out, const Broken& b) { return out << b.name; }

class BrokenProgram : public ::testing::TestWithParam<Broken> {};
TEST_P(BrokenProgram, IsCaught) {
  const Subject& s = subject("sorrel-disc");
  const std::string text = edited(s.texts()[0].text, GetParam().comment, GetParam().pattern, GetParam().other);
  const std::string by = s.caught(text);
  EXPECT_NE(by.find(GetParam().caught), std::string::npos) << "caught by: " << by;
}
INSTANTIATE_TEST_SUITE_P(Table, BrokenProgram, ::testing::ValuesIn(broken()),
                         [](const auto& tested) { return std::string(tested.param.name); });

/// The same program with another insert than the planned one.
class WrongNose : public ::testing::TestWithParam<double> {};
TEST_P(WrongNose, IsCaught) {
  const Subject& s = subject("sorrel-disc");
  job::Prepared p = s.prepared();
  const auto& done = p.programs->plan.turnings.front().operations;
  const auto grooves =
      std::find_if(done.begin(), done.end(), [](const auto& o) { return o.name == "finish the grooves"; });
  ASSERT_NE(grooves, done.end());
  int changed = 0;
  for (toolpath::Station& station : p.programs->plan.stations) {
    if (station.number != grooves->station) continue;
    station.tool.nose_radius += GetParam();
    ++changed;
  }
  ASSERT_EQ(changed, 1);
  EXPECT_NE(programs::complaint(p, s.texts()), "");
}
INSTANTIATE_TEST_SUITE_P(LargerAndSmaller, WrongNose, ::testing::Values(0.2, 0.05, -0.05));

}  // namespace
}  // namespace groovewright
