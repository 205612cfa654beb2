// Programs of the demos, on both lathes and from blanks: read by a program that no one here wrote, in the words of the
// standard, the same bytes twice; and the metal that they leave is the part.
#include <gtest/gtest.h>

#include <cctype>
#include <cmath>
#include <iostream>
#include <regex>
#include <set>

#include "programs.h"
#include "readers/rs274.h"

namespace groovewright {
namespace {

using programs::lines_of;

struct Case {
  std::string demo;             ///< "plug": a ring that is held on a plug
  std::string name, machining;  ///< what is added to it
};

std::ostream& operator<<(std::ostream& out, const Case& c) { return out << c.demo << " on " << c.name; }

/// What the built-in shop makes, and what it refuses: a fillet too fine for its depth, grooves beside a wall that is
/// 20 mm higher, a blank wider than the lathe.
std::vector<Case> cases(bool made) {
  const auto on = [](const std::string& demo, const std::string& lathe) {
    return Case{demo, lathe, "lathe: " + lathe};
  };
  const Case blank{"larkspur-crank-24", "blank", "stock: {form: blank}"};
  if (made)
    return {on("larkspur-crank-24", "turret-400"),
            on("larkspur-crank-24", "bench-250"),
            blank,
            on("sorrel-disc", "turret-400"),
            on("sorrel-disc", "bench-250"),
            on("thistle-pump-pl", "turret-400"),
            on("plug", "turret-400"),
            on("plug", "bench-250")};
  return {on("fennel-spindle-pj", "turret-400"), on("fennel-spindle-pj", "bench-250"),
          on("marlow-step-2", "turret-400"), on("marlow-step-2", "bench-250"), on("thistle-pump-pl", "bench-250")};
}

programs::Made planned(const Case& c) {
  return programs::made(c.demo == "plug" ? programs::ring_on_a_plug(true) : programs::demo(c.demo),
                        "machining: {" + c.machining + "}\n");
}

/// Planned once for all questions.
const programs::Made& made(const Case& c) {
  static std::map<std::string, programs::Made> all;
  const auto [at, is_new] = all.try_emplace(c.demo + " " + c.name);
  if (is_new) at->second = planned(c);
  return at->second;
}

class Programs : public ::testing::TestWithParam<Case> {
 protected:
  void SetUp() override {
    const programs::Made& m = made(GetParam());
    ASSERT_TRUE(m.prepared) << m.diagnostics.text();
    p_ = &*m.prepared;
    texts_ = job::write_programs(*p_);
  }
  [[nodiscard]] bool is_mill(const std::string& id) const {
    const auto& mills = p_->programs->plan.millings;
    return std::any_of(mills.begin(), mills.end(), [&](const auto& m) { return m.id == id; });
  }
  [[nodiscard]] const nc::Dialect& words(const std::string& id) const {
    return is_mill(id) ? p_->programs->mill : p_->programs->lathe;
  }

  const job::Prepared* p_ = nullptr;
  std::vector<job::ProgramText> texts_;
};

/// The open interpreter of Debian (linuxcnc-uspace): no error, and moves within 1e-4 mm of our trace.
TEST_P(Programs, MoveInTheOpenInterpreterAsWeTraceThem) {
  ASSERT_GE(texts_.size(), 2U);
  for (const job::ProgramText& t : texts_) {
    EXPECT_TRUE(t.trace.faults.empty()) << t.id << " line " << t.trace.faults.front().line;
    EXPECT_EQ(readers::second_opinion(t.text, words(t.id)), "") << t.id;
  }
}

std::string without_comments(const std::string& line) {
  static const std::regex kComment(R"(\([^)]*\))");
  return std::regex_replace(line, kComment, "");
}

/// The letters of a line's words; values may be numbers, parameters or expressions.
std::string letters(const std::string& line) {
  std::string out;
  int depth = 0;
  for (const char c : without_comments(line)) {
    depth += c == '[' ? 1 : c == ']' ? -1 : 0;
    if (depth == 0 && std::isupper(static_cast<unsigned char>(c))) out += c;
  }
  return out;
}

/// ISO 6983-1:2009, 6: preparatory words, then dimensions (X Y Z, then I J K), feed, spindle speed, tool,
/// miscellaneous. G96's D is the interpreter's word for the clamp, and canned cycles' R, Q and P stand with the
/// dimensions.
TEST_P(Programs, HaveTheirWordsInTheStandardsOrder) {
  const std::string kOrder = "NGXYZIJKRQPDHFSTM";
  int words = 0;
  for (const job::ProgramText& t : texts_)
    for (const std::string& line : lines_of(t.text)) {
      if (line.starts_with("#")) continue;
      const std::string found = letters(line);
      std::size_t last = 0;
      for (const char c : found) {
        const std::size_t at = kOrder.find(c);
        ASSERT_NE(at, std::string::npos) << line;
        EXPECT_GE(at, last) << t.id << ": " << line;
        last = at;
        ++words;
      }
    }
  EXPECT_GT(words, 500);
}

std::string safe_line(const std::vector<std::string>& lines) {
  const auto at = std::find_if(lines.begin(), lines.end(),
                               [](const std::string& l) { return l.starts_with("G17 ") || l.starts_with("G18 "); });
  return at == lines.end() ? "none" : *at;
}

/// NIST IR 6556, 3.6.1: M2 ends a program. Own promise: planes, units, compensation, cycles and distance are told anew
/// behind each change of tools, so that a program can be begun at each.
TEST_P(Programs, EndOnceAndTellTheirStateBehindEachTool) {
  for (const job::ProgramText& t : texts_) {
    std::vector<std::string> lines = lines_of(t.text);
    EXPECT_EQ(lines.back(), "M2") << t.id;
    EXPECT_EQ(std::count(lines.begin(), lines.end(), "M2"), 1) << t.id;
    const std::string safe = safe_line(lines);
    for (const char* code : {"G21", "G40", "G49", "G54", "G80", "G90", "G94"})
      EXPECT_NE((safe + " ").find(std::string(code) + " "), std::string::npos) << t.id << ": " << safe;
    int changes = 0;
    for (std::size_t i = 0; i + 1 < lines.size(); ++i) {
      if (without_comments(lines[i]).find("M6") == std::string::npos) continue;
      ++changes;
      EXPECT_EQ(lines[i + 1], safe) << t.id << ": behind " << lines[i];
    }
    EXPECT_GT(changes, 0) << t.id;
  }
}

/// Spindle and coolant rest while tools are changed (common practice, no source), and the spindle never exceeds what
/// the clamping bears, whatever its mode says.
TEST_P(Programs, StopForToolsAndKeepTheClampingsSpeed) {
  for (const toolpath::Turning& turning : p_->programs->plan.turnings) {
    const auto t = std::find_if(texts_.begin(), texts_.end(), [&](const auto& x) { return x.id == turning.id; });
    ASSERT_NE(t, texts_.end());
    const nc::Move* before = nullptr;
    for (const nc::Move& m : t->trace.moves) {
      const bool by_surface = m.spindle.surface > 0;
      const double rpm = !m.spindle.on ? 0 : by_surface ? m.spindle.max_rpm : m.spindle.rpm;
      EXPECT_LE(rpm, turning.max_rpm) << t->id << " line " << m.line;
      EXPECT_TRUE(!by_surface || m.spindle.max_rpm > 0) << t->id << " line " << m.line << ": no clamp";
      if (before && before->tool != m.tool) {
        EXPECT_FALSE(m.coolant) << t->id << " line " << m.line;
        EXPECT_FALSE(m.spindle.on) << t->id << " line " << m.line;
      }
      before = &m;
    }
  }
}

TEST_P(Programs, AreTheSameBytesTwice) {
  const programs::Made again = planned(GetParam());
  ASSERT_TRUE(again.prepared);
  const auto texts = job::write_programs(*again.prepared);
  ASSERT_EQ(texts.size(), texts_.size());
  for (std::size_t i = 0; i < texts.size(); ++i) {
    EXPECT_EQ(texts[i].id, texts_[i].id);
    EXPECT_EQ(texts[i].text, texts_[i].text);
  }
}

const Check* row(const Rows& rows, const std::string& id) {
  for (const Check& c : rows.checks)
    if (c.id == id) return &c;
  return nullptr;
}

/// Own promises: 5 µm missing, 10 µm left on flanks and elsewhere, nothing harmful on the way. The effective diameter
/// of what is left is that of the closed form within 2 µm.
TEST_P(Programs, LeaveThePart) {
  const job::Proof proof = job::prove(*p_, texts_);
  for (const Check& c : proof.rows.checks)
    EXPECT_NE(c.verdict, Verdict::fail) << c.id << " " << c.value << ": " << c.says;
  const std::pair<const char*, double> kMost[] = {
      {"program_moves", 0}, {"program_missing", 0.005}, {"program_flanks", 0.01}, {"program_left", 0.01}};
  for (const auto& [id, most] : kMost) {
    const Check* c = row(proof.rows, id);
    ASSERT_NE(c, nullptr) << id;
    EXPECT_LE(c->value, most) << id << ": " << c->says;
  }
  for (std::size_t i = 0; i < p_->part.rims.size(); ++i) {
    const Check* c = row(proof.rows, part::Part::prefix(i) + "effective_diameter_program");
    ASSERT_NE(c, nullptr);
    EXPECT_NEAR(c->value, p_->part.rims[i].effective_diameter.value, 0.002) << c->says;
  }
}

/// Pappus: a region turned round the axis has 2 pi times its first moment, here by the shoelace of its corners:
/// sum of (x1 y2 - x2 y1)(y1 + y2) / 6.
double pappus(const std::vector<plane::Vec2>& corners) {
  double moment = 0;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const plane::Vec2 a = corners[i], b = corners[(i + 1) % corners.size()];
    moment += plane::cross(a, b) * (a.y + b.y) / 6;
  }
  return 2 * 3.14159265358979323846 * moment;
}

/// What the programs remove is stock less part. Bound: 5 µm missing and 10 µm left over the turned surface; sharp inner
/// corners may keep what the nose can't reach, and edges that are told as reached in part what is told of them.
TEST_P(Programs, RemoveStockLessPart) {
  const double stock = pappus(plane::polyline(p_->programs->plan.stock, 1));
  const job::Proof proof = job::prove(*p_, texts_);
  ASSERT_FALSE(proof.frames.empty());
  double left = 0;
  for (const plane::Polygon& loop : proof.frames.back().metal) left += pappus(loop);
  const plane::Path& wanted = p_->section.body.section;
  const double part = pappus(plane::polyline(wanted, 1e-5));
  double surface = 0;
  for (const plane::Edge& e : wanted) surface += 2 * 3.14159265358979323846 * e.length() * std::max(e.a.y, e.b.y);
  const Check* in_part = row(proof.rows, "program_left_in_part");
  const double nose = p_->part.limit("inner_corner_radius").value;
  const double corners = 0.22 * nose * nose * surface / 20;  // (1 - pi/4) r² a corner, one at most in 20 mm of outline
  EXPECT_GT(left, part - 0.005 * surface);
  EXPECT_LT(left, part + 0.01 * surface + corners + (in_part ? in_part->value * surface : 0));
  const Check* told = row(proof.rows, "program_volume");
  ASSERT_NE(told, nullptr);
  EXPECT_NEAR(told->value, left, 1e-6 * left) << "the row tells another volume than its metal has";
  std::cout << GetParam().demo << ": removed " << stock - left << " mm3 of " << stock << ", part " << part << "\n";
}

/// ISO 724 and ISO 2306 (from memory): M8 x 1.25 is tapped through a hole of 6.8 mm.
TEST_P(Programs, DrillTheTapsCore) {
  int taps = 0;
  for (const toolpath::Milling& m : p_->programs->plan.millings) {
    const auto t = std::find_if(texts_.begin(), texts_.end(), [&](const auto& x) { return x.id == m.id; });
    const std::string& text = t->text;
    if (text.find("tap M8 x 1.25)") == std::string::npos) continue;
    ++taps;
    const std::size_t drill = text.find("6.8 mm)"), tap = text.find("M8)", text.find("M6"));
    EXPECT_NE(drill, std::string::npos) << "no drill of 6.8 mm";
    EXPECT_LT(drill, tap) << "tapped before it is drilled";
  }
  EXPECT_EQ(taps, GetParam().demo == "larkspur-crank-24" ? 1 : 0) << "its jack screws are M8";
}

std::string name_of(const ::testing::TestParamInfo<Case>& tested) {
  std::string name = tested.param.demo + "_" + tested.param.name;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
}
INSTANTIATE_TEST_SUITE_P(Demos, Programs, ::testing::ValuesIn(cases(true)), name_of);

class NoPrograms : public ::testing::TestWithParam<Case> {};

TEST_P(NoPrograms, AreRefusedForALackOfToolsOrRoomWithItsPlace) {
  const programs::Made m = planned(GetParam());
  EXPECT_FALSE(m.prepared);
  ASSERT_TRUE(m.diagnostics.has_errors());
  for (const Diagnostic& d : m.diagnostics.all()) {
    EXPECT_TRUE(d.code == Code::no_tool || d.code == Code::machine_too_small) << to_text(d);
    EXPECT_GT(d.place.line, 0) << to_text(d);
  }
}
INSTANTIATE_TEST_SUITE_P(Demos, NoPrograms, ::testing::ValuesIn(cases(false)), name_of);

TEST(ProgramsOfDemos, AreAllAskedFor) {
  std::set<std::string> asked;
  for (const bool made : {true, false})
    for (const Case& c : cases(made)) asked.insert(c.demo);
  for (const std::filesystem::path demo : testing::demos()) EXPECT_TRUE(asked.contains(demo.stem())) << demo;
}

}  // namespace
}  // namespace groovewright
