// Inserts that have the whole form of a groove: chosen where a person's shop has one that fits, else the reason is
// told; what they leave is the part, by a ball laid in the metal; and the witness knows one whose form is another.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <numbers>
#include <set>
#include <stdexcept>

#include "groovewright/plane/clip.h"
#include "programs.h"
#include "readers/rs274.h"

namespace groovewright {
namespace {

using catalog::TurningTool;
using plane::Vec2;

constexpr double kPi = std::numbers::pi;

struct Form {
  double angle = 40, tip = 0.4, crest = 0.3, pitch = 3.56;
  int teeth = 1;
  double reach = 16, body = 22;
  std::string id = "form";
  double least_feed = 0.005;
};

/// A person's own data file. All numbers: own description, no source.
TextFile shop_with(const std::vector<Form>& forms) {
  std::string text =
      "turning_tools: mine\nedition: own 1\nunits: mm\nsource: own description, no source\nuse: full_form\nholder: "
      "blade "
      "holder, 20 x 20\nedge: 6\nshank: 20\noverhang: 45\n";
  for (const Form& f : forms) {
    std::ostringstream row;
    row << f.id << ": {name: Form tool, insert: full-form insert, included: " << f.angle
        << " deg, nose: {radius: " << f.tip << ", tolerance: 0.02}, crest: {radius: " << f.crest
        << ", tolerance: 0.02}, pitch: " << f.pitch << ", teeth: " << f.teeth << ", reach: " << f.reach
        << ", body: {width: " << std::max(f.body, f.teeth * f.pitch)
        << ", offset: -0.5, relief: 0.3}, feed: {from: " << f.least_feed << ", to: 0.1}}\n";
    text += row.str();
  }
  return {"mine.yaml", text};
}

programs::Made crank(const std::vector<Form>& forms, const std::string& lathe = "turret-400") {
  const std::vector<TextFile> own = forms.empty() ? std::vector<TextFile>{} : std::vector{shop_with(forms)};
  return programs::made(programs::demo("larkspur-crank-24"), "machining: {lathe: " + lathe + "}\n", own);
}

/// The operation that finishes the grooves; of rims, the first.
const toolpath::Operation* finishing(const programs::Made& m) {
  if (!m.prepared) return nullptr;
  for (const toolpath::Turning& t : m.prepared->programs->plan.turnings)
    for (const toolpath::Operation& o : t.operations)
      if (o.name == "finish the grooves") return &o;
  return nullptr;
}

std::string tool_of(const programs::Made& m) {
  const toolpath::Operation* o = finishing(m);
  if (o == nullptr) return "none: " + m.diagnostics.text();
  for (const toolpath::Station& s : m.prepared->programs->plan.stations)
    if (s.number == o->station) return s.tool.id;
  return "no station";
}

const Check& row(const Rows& rows, const std::string& id) {
  const auto at = std::find_if(rows.checks.begin(), rows.checks.end(), [&](const Check& c) { return c.id == id; });
  if (at == rows.checks.end()) throw std::runtime_error("no row " + id);
  return *at;
}

// ---- the tool ----

TurningTool tool(const Form& f) {
  Diagnostics d;
  const TextFile file = shop_with({f});
  const auto read = catalog::read_catalog({&file, 1}, d);
  if (!read) throw std::runtime_error(d.text());
  return read->shop.turning_tools.at(f.id);
}

/// The form's border by tangency: a round of radius r about (0, 0), a flank at half angle h tangent to it, and a round
/// of radius R about a point on x = p / 2, tangent to the flank from outside.
double border(const Form& f, double x) {
  const double h = f.angle / 2 * kPi / 180, half = f.pitch / 2;
  x = std::abs(x - f.pitch * std::clamp(std::round(x / f.pitch), 0.0, f.teeth - 1.0));
  const double apex = -f.tip / std::sin(h);                                 // where the flanks' lines meet
  const double centre = apex + half / std::tan(h) - f.crest / std::sin(h);  // R from the flank's line, on x = p / 2
  if (x < f.tip * std::cos(h)) return -std::sqrt(f.tip * f.tip - x * x);
  if (x > half - f.crest * std::cos(h)) return centre + std::sqrt(f.crest * f.crest - (half - x) * (half - x));
  return apex + x / std::tan(h);
}

TEST(FullForm, IsDrawnByTangency) {
  for (const Form& f : {Form{}, Form{.teeth = 3}, Form{.tip = 0.25, .crest = 0.2, .pitch = 2.34, .teeth = 2}}) {
    const toolpath::Shape shape = toolpath::shape(tool(f), true);
    std::vector<plane::Polygon> pieces;
    for (const plane::Path& p : shape.cutting) pieces.push_back(plane::polyline(p, 1e-5));
    const auto all = plane::united(pieces);
    // As deep as drawn below, by the even steps of x; the tip and flanks exact, valleys by chords from below.
    const double top = 6 - f.tip, wide = f.teeth * f.pitch;
    double area = 0;
    const int n = 20000;
    for (int i = 0; i < n; ++i) area += (top - border(f, -f.pitch / 2 + (i + 0.5) * wide / n)) * wide / n;
    EXPECT_NEAR(plane::area(all), area, 0.0005 * 2 * f.teeth * f.crest * 2) << f.teeth;
    EXPECT_GE(plane::area(all), area - 1e-4) << "never smaller than it is";
    for (int i = 1; i < 400; ++i) {
      const double x = -f.pitch / 2 + i * wide / 400, y = border(f, x);
      const auto holds = [&](Vec2 p) {
        return std::any_of(shape.cutting.begin(), shape.cutting.end(), [&](const auto& c) { return contains(c, p); });
      };
      EXPECT_TRUE(holds({x, y + 1e-5})) << x;
      const double slope = (border(f, x + 1e-6) - border(f, x - 1e-6)) / 2e-6;
      EXPECT_FALSE(holds({x, y - 0.0005 * std::hypot(1, slope)})) << x << ": more than half a micrometre, square to it";
    }
  }
}

TEST(FullForm, IsAsDeepAsTheGrooveThatItIsFor) {
  const programs::Made m = crank({});
  ASSERT_TRUE(m.prepared);
  EXPECT_NEAR(tool({}).form_depth(), m.prepared->part.rims[0].groove_depth(), 1e-9);
  EXPECT_NEAR(tool({}).form_depth(), border({}, 1.78) + 0.4, 1e-9);
}

TEST(FullForm, IsRefusedWhereItsNumbersDontMakeATool) {
  const std::pair<std::string, std::string> kCases[] = {
      {"edge: 6", "edge: 2"},     {"pitch: 3.56", "pitch: 0.5"},
      {"teeth: 1", "teeth: 0"},   {", teeth: 1", ""},
      {"reach: 16", "reach: 5"},  {"crest: {radius: 0.3, tolerance: 0.02}", "crest: {radius: 0.3, tolerance: 0.3}"},
      {", included: 40 deg", ""}, {"teeth: 1", "teeth: 10"}};
  for (const auto& [from, to] : kCases) {
    TextFile file = shop_with({{}});
    const std::size_t at = file.text.find(from);
    ASSERT_NE(at, std::string::npos) << from;
    file.text.replace(at, from.size(), to);
    Diagnostics d;
    EXPECT_FALSE(catalog::read_catalog({&file, 1}, d)) << to;
    ASSERT_TRUE(d.has_errors()) << to;
    EXPECT_GT(d.all().front().place.line, 0) << to;
  }
}

// ---- choosing ----

TEST(FullForm, IsUsedWhereTheShopHasOneThatFits) {
  EXPECT_EQ(tool_of(crank({})), "groove-35-02") << "the shop that comes with the program has none";
  EXPECT_EQ(tool_of(crank({{}})), "form");
  EXPECT_EQ(tool_of(crank({{}, {.teeth = 4, .id = "four"}})), "four") << "the fewest plunges";
}

TEST(FullForm, IsLeftOutWithAReasonWhereItDoesNotFit) {
  struct Case {
    Form form;
    const char* says;
  };
  const Case kCases[] = {{{.angle = 38}, "form angle of 38 deg"},
                         {{.angle = 39.4}, "within 0.5 deg"},
                         {{.pitch = 3.6}, "pitch of 3.6 mm"},
                         {{.pitch = 3.562, .teeth = 8}, "pitch of 3.562 mm"},
                         {{.tip = 0.49}, "r_b max"},
                         {{.tip = 0.35}, "root_radius is 0.4 mm"},
                         {{.crest = 0.26}, "r_t min"},
                         {{.crest = 0.35}, "crest_radius is 0.3 mm"},
                         {{.teeth = 9}, "9 teeth and the rim 8 grooves"},
                         {{.reach = 6}, "holder"}};
  for (const Case& c : kCases) {
    const programs::Made m = crank({c.form});
    EXPECT_EQ(tool_of(m), "groove-35-02") << c.says;
    ASSERT_NE(finishing(m), nullptr) << c.says;
    EXPECT_NE(finishing(m)->why.find(c.says), std::string::npos) << c.says << ": " << finishing(m)->why;
  }
}

/// P = v f b k_c / 60 (handbooks, from memory) with b the width of all teeth: what a small spindle can't drive at the
/// insert's least feed is not tried.
TEST(FullForm, IsLeftOutWhereTheLatheIsTooWeakForIt) {
  const Form wide{.teeth = 8, .body = 28.48, .least_feed = 0.08};
  const programs::Made weak = crank({wide}, "bench-250");
  EXPECT_EQ(tool_of(weak), "groove-35-02");
  EXPECT_NE(finishing(weak)->why.find("lathe 'bench-250' drives 28.48 mm of edge"), std::string::npos)
      << finishing(weak)->why;
  const toolpath::Plan& plan = weak.prepared->programs->plan;
  const double power = plan.cutting.works.at("groove").speed * 0.08 * 28.48 * plan.cutting.specific_force / 60;
  EXPECT_GT(power, 0.8 * plan.lathe.power);
}

TEST(FullForm, TellsWhatKeepsItFromTheGroovesWhereNoOtherToolReachesThem) {
  std::string tools;
  const programs::Made plain = crank({});
  ASSERT_TRUE(plain.prepared);
  for (const toolpath::Station& s : plain.prepared->programs->plan.stations)
    if (!s.tool.id.starts_with("groove-35")) tools += s.tool.id + ", ";
  for (const toolpath::MillStation& s : plain.prepared->programs->plan.mill_stations) tools += s.tool.id + ", ";
  const std::string only = "machining: {tools: [" + tools + "form]}\n";
  std::string document = programs::demo("larkspur-crank-24");
  const std::string relief = ", root_relief: 0.3 mm";  // needs a fine nose, which would do for the grooves, too
  document.erase(document.find(relief), relief.size());
  const programs::Made good = programs::made(document, only, {shop_with({{}})});
  EXPECT_EQ(tool_of(good), "form") << "and no profiling tool is needed";
  const programs::Made bad = programs::made(document, only, {shop_with({{.angle = 38}})});
  EXPECT_FALSE(bad.prepared);
  EXPECT_NE(bad.diagnostics.text().find("form tool 'form' does not do: its form angle of 38 deg"), std::string::npos)
      << bad.diagnostics.text();
}

// ---- what it leaves ----

struct Plan {
  std::string name, lathe;
  Form form;
};
std::ostream& operator<<(std::ostream& out, const Plan& p) { return out << p.name; }

class FullFormPrograms : public ::testing::TestWithParam<Plan> {
 protected:
  void SetUp() override {
    static std::map<std::string, programs::Made> all;  // planned once for all questions
    const auto [at, is_new] = all.try_emplace(GetParam().name);
    if (is_new) at->second = crank({GetParam().form}, GetParam().lathe);
    made_ = at->second;
    ASSERT_TRUE(made_.prepared) << made_.diagnostics.text();
    ASSERT_EQ(tool_of(made_), "form") << finishing(made_)->why;
    texts_ = job::write_programs(*made_.prepared);
  }
  programs::Made made_;
  std::vector<job::ProgramText> texts_;
};

/// Over which radius a ball's centre lies that rests on metal, straight above `z`; by halving.
double rests_at(const std::vector<plane::Polygon>& metal, double z, double ball, double low, double high) {
  const auto is_free = [&](double y) {
    for (const plane::Polygon& loop : metal)
      for (std::size_t i = 0; i < loop.size(); ++i) {
        const Vec2 a = loop[i], along = loop[(i + 1) % loop.size()] - a, to = Vec2{z, y} - a;
        const double t = std::clamp(plane::dot(to, along) / std::max(1e-18, plane::dot(along, along)), 0.0, 1.0);
        if (plane::norm(to - t * along) < ball / 2) return false;
      }
    return true;
  };
  while (high - low > 1e-7) (is_free((low + high) / 2) ? high : low) = (low + high) / 2;
  return high;
}

/// ISO 9981 (from memory): K = d_e + 2x over balls of 2.5 mm; 2x by tangency, h half the groove's angle:
/// ball (1 + 1 / sin h) - pitch / tan h + 2 r_t (1 / sin h - 1), r_t the least crest radius. Printed: 0.99 mm.
TEST_P(FullFormPrograms, LeaveThePartToTwoMicrometres) {
  const job::Prepared& p = *made_.prepared;
  const job::Proof proof = job::prove(p, texts_);
  for (const Check& c : proof.rows.checks) EXPECT_NE(c.verdict, Verdict::fail) << c.id << " " << c.value << c.says;
  const double d_e = p.part.rims[0].effective_diameter.value;
  EXPECT_NEAR(row(proof.rows, "effective_diameter_program").value, d_e, 0.002);

  const double h = 20 * kPi / 180, ball = 2.5;
  const double two_x = ball * (1 + 1 / std::sin(h)) - 3.56 / std::tan(h) + 2 * 0.25 * (1 / std::sin(h) - 1);
  EXPECT_NEAR(two_x, 0.99, 0.001);
  for (int k = 0; k < 8; ++k) {
    const double centre = rests_at(proof.frames.back().metal, p.part.groove_z(0, k), ball, d_e / 2 - 2, d_e / 2 + 5);
    EXPECT_NEAR(2 * centre + ball, d_e + two_x, 0.002) << "groove " << k;
  }
}

/// The open interpreter of Debian (linuxcnc-uspace): no error, and moves within 1e-4 mm of our trace.
TEST_P(FullFormPrograms, MoveInTheOpenInterpreterAsWeTraceThem) {
  for (const job::ProgramText& t : texts_)
    EXPECT_EQ(readers::second_opinion(t.text, made_.prepared->programs->lathe), "") << t.id;
}

/// G4 P: seconds (NIST IR 6556, 3.5.3). A whole turn at the root's speed, n = 1000 v / (pi d), at every dwell, and the
/// dwells are at the bottom: nothing lies deeper.
TEST_P(FullFormPrograms, DwellAtTheRootForAWholeTurn) {
  const Form& form = GetParam().form;
  const int plunges = 2 * ((8 + form.teeth - 1) / form.teeth);
  int dwells = 0;
  for (const job::ProgramText& t : texts_) {
    double deepest = 1e9;
    for (const nc::Move& m : t.trace.moves)
      if (m.tool == finishing(made_)->station) deepest = std::min(deepest, m.to.x);
    for (const nc::Move& m : t.trace.moves) {
      if (m.kind != nc::Move::Kind::dwell) continue;
      ++dwells;
      EXPECT_NEAR(m.to.x, deepest, 1e-9);
      const double tip = m.to.x - (made_.prepared->programs->plan.lathe.steers_nose_centre ? form.tip : 0);
      const double by_surface = 1000 * m.spindle.surface / (kPi * 2 * tip);
      EXPECT_GE(m.feed * (m.spindle.surface > 0 ? by_surface : m.spindle.rpm) / 60, 1) << m.line;
      EXPECT_LE(m.feed, 2) << "longer only rubs";
    }
  }
  EXPECT_EQ(dwells, plunges);
}

TEST_P(FullFormPrograms, TakeLessTimeThanTheProfilingTool) {
  const programs::Made plain = crank({}, GetParam().lathe);
  const auto time = [](const programs::Made& m) {
    double sum = 0;
    for (const job::ProgramText& t : job::write_programs(*m.prepared))
      sum += job::seconds(t.trace, m.prepared->programs->plan.lathe, finishing(m)->station);
    return sum;
  };
  EXPECT_LT(time(made_), time(plain) / 2);
}

/// The tool that stands in the machine has another form than the one that was planned for: the rows must say so.
TEST_P(FullFormPrograms, AreRefusedByTheWitnessWhereTheToolHasAnotherForm) {
  const auto changed = [&](const std::function<void(TurningTool&)>& change) {
    job::Prepared p = *made_.prepared;
    for (toolpath::Station& s : p.programs->plan.stations)
      if (s.tool.id == "form") change(s.tool);
    return programs::complaint(p, texts_);
  };
  EXPECT_EQ(changed([](TurningTool&) {}), "");
  EXPECT_NE(changed([](TurningTool& t) { t.included = Angle::deg(39.5); }), "");
  EXPECT_NE(changed([](TurningTool& t) { t.included = Angle::deg(42); }), "");
  EXPECT_NE(changed([](TurningTool& t) { t.nose_radius += 0.02; }), "");
  EXPECT_NE(changed([](TurningTool& t) { t.nose_radius -= 0.02; }), "");
  EXPECT_NE(changed([](TurningTool& t) { t.crest_radius -= 0.02; }), "");
  EXPECT_NE(changed([](TurningTool& t) { t.pitch += 0.03; }), "");
  EXPECT_NE(changed([](TurningTool& t) { t.reach = 6, t.holder_width += 20; }), "") << "its holder runs into a flange";
}

INSTANTIATE_TEST_SUITE_P(Plans, FullFormPrograms,
                         ::testing::Values(Plan{"one_tooth", "turret-400", {}},
                                           Plan{"three_teeth_that_overlap", "turret-400", {.teeth = 3}},
                                           Plan{"eight_teeth", "turret-400", {.teeth = 8, .body = 28.48}},
                                           Plan{"one_tooth_on_the_bench_lathe", "bench-250", {}}),
                         [](const auto& tested) { return tested.param.name; });

/// The drawer that people may copy, with every demo: what its tools cut is proved, whatever the section.
TEST(FullForm, FinishesEveryDemoWithTheDrawerToCopy) {
  const TextFile drawer{"form-tools.yaml", testing::file_text(GW_SOURCE_DIR "/profiles/demo/shop/form-tools.yaml")};
  std::set<std::string> used;
  for (const std::filesystem::path demo : testing::demos()) {
    const programs::Made m = programs::made(programs::demo(demo.stem().string()), "", {drawer});
    if (!m.prepared) continue;  // for want of other tools, as without the drawer
    EXPECT_TRUE(tool_of(m).starts_with("form-")) << demo << ": " << finishing(m)->why;
    used.insert(tool_of(m));
    EXPECT_EQ(programs::complaint(*m.prepared, job::write_programs(*m.prepared)), "") << demo;
  }
  EXPECT_TRUE(used.contains("form-pk-4")) << "larkspur-crank-24";
  EXPECT_TRUE(used.contains("form-pl-1")) << "thistle-pump-pl";
}

}  // namespace
}  // namespace groovewright
