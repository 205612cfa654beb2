// The set-up sheet's pages: legible, and with all that a person at the machine needs, held against the programs' texts.
#include <gtest/gtest.h>

#include <cmath>
#include <regex>
#include <set>

#include "groovewright/base/shown.h"
#include "groovewright/base/text.h"
#include "groovewright/plane/faults.h"
#include "groovewright/plane/pieces.h"
#include "job/setup_pages.h"
#include "programs.h"

namespace groovewright {
namespace {

struct Paged {
  std::string name;
  job::Prepared prepared;
  std::vector<job::ProgramText> texts;
  job::Proof proof;
  std::vector<job::SetupPage> pages;
};

std::optional<Paged> paged(const std::string& file, const std::string& text, report::Units units = report::Units::mm) {
  Diagnostics diagnostics;
  const auto pulley = spec::read_pulley({file, text}, diagnostics);
  if (!pulley) return std::nullopt;
  auto prepared = job::prepare(*pulley, {}, {}, diagnostics);
  job::Want want;
  want.kinds = {job::Kind::program};
  if (!prepared || !job::plan_programs(*prepared, want, {}, diagnostics) || !prepared->programs) return std::nullopt;
  auto texts = job::write_programs(*prepared);
  auto proof = job::prove(*prepared, texts);
  auto pages = job::setup_pages(*prepared, texts, proof, units);
  return Paged{file, std::move(*prepared), std::move(texts), std::move(proof), std::move(pages)};
}

/// Demos that the built-in shop makes, and parts from blanks; worked out once.
const std::vector<Paged>& demos() {
  static const std::vector<Paged> all = [] {
    std::vector<Paged> out;
    for (const std::string& file : testing::demos())
      if (auto p = paged(file, testing::file_text(file))) out.push_back(std::move(*p));
    for (const auto& [name, text] :
         {std::pair{"crank from a blank", programs::demo("larkspur-crank-24") + "machining: {stock: {form: blank}}\n"},
          std::pair{"ring on a plug", programs::ring_on_a_plug(true)}})
      out.push_back(paged(name, text).value());
    return out;
  }();
  return all;
}

/// All words of a page, cells that run over several lines put together again.
std::string words_of(const plane::Page& page) {
  std::string out;
  for (const plane::View& v : page.views)
    for (const plane::Words& w : v.words) out += w.text + " ";
  return out;
}
bool says(const plane::Page& page, const std::string& what) { return words_of(page).find(what) != std::string::npos; }

TEST(Setup, ThereIsAPageForEachProgram) {
  ASSERT_GE(demos().size(), 2U) << "demos that the shop makes";
  for (const Paged& d : demos()) {
    ASSERT_EQ(d.pages.size(), d.texts.size()) << d.name;
    for (std::size_t i = 0; i < d.pages.size(); ++i) EXPECT_EQ(d.pages[i].id, d.texts[i].id) << d.name;
  }
}

// Words on ink, crossed leaders, arrows that point at nothing: none.
TEST(Setup, PagesAreLegible) {
  for (const Paged& d : demos()) {
    for (const job::SetupPage& s : d.pages) {
      const plane::Faults f = plane::faults(s.page, d.prepared.typeface);
      EXPECT_EQ(f.total(), 0) << d.name << " " << s.id << ": " << f.first;
    }
    const plane::Faults f = plane::faults(job::frames_page(d.prepared, d.proof), d.prepared.typeface);
    EXPECT_EQ(f.total(), 0) << d.name << " frames: " << f.first;
  }
}

/// All ink lies within the border, 10 mm from the edge of a sheet of A4 or, for long jobs, A3 (ISO 216).
TEST(Setup, PagesAreSheetsOfPaper) {
  for (const Paged& d : demos()) {
    for (const job::SetupPage& s : d.pages) {
      const bool a4 = s.page.width == 210 && s.page.height == 297, a3 = s.page.width == 297 && s.page.height == 420;
      EXPECT_TRUE(a4 || a3) << d.name << " " << s.id;
      for (const plane::View& v : s.page.views) {
        const plane::Box b = plane::extents(v, d.prepared.typeface);
        EXPECT_GE(b.low.x, 10) << d.name << " " << s.id << " " << v.id;
        EXPECT_GE(b.low.y, 10) << d.name << " " << s.id << " " << v.id;
        EXPECT_LE(b.high.x, s.page.width - 10) << d.name << " " << s.id << " " << v.id;
        EXPECT_LE(b.high.y, s.page.height - 10) << d.name << " " << s.id << " " << v.id;
      }
    }
  }
}

// The program's text says which tools it calls: "(T1 name)" before each change (NIST IR 6556: T word, M6).
TEST(Setup, EveryToolThatAProgramCallsIsOnItsPage) {
  int tools = 0;
  for (const Paged& d : demos()) {
    for (std::size_t i = 0; i < d.texts.size(); ++i) {
      const std::regex call(R"(\(T([0-9]+): ([^)]*)\))");
      const std::string& text = d.texts[i].text;
      for (std::sregex_iterator it(text.begin(), text.end(), call), end; it != end; ++it, ++tools) {
        const std::string row = "T" + (*it)[1].str() + " " + (*it)[2].str() + " ";
        EXPECT_TRUE(says(d.pages[i].page, row)) << d.name << " " << d.pages[i].id << ": " << row;
      }
      std::set<int> called;
      for (const nc::Move& m : d.texts[i].trace.moves) called.insert(m.tool);
      called.erase(0);
      for (const int tool : called) EXPECT_TRUE(says(d.pages[i].page, "T" + std::to_string(tool) + " ")) << d.name;
    }
  }
  EXPECT_GT(tools, 10);
}

/// Within which the size over balls must be measured, and with which balls.
TEST(Setup, LimitsOverBallsAreOnThePageThatCutsGrooves) {
  for (const Paged& d : demos()) {
    for (const Dimension& size : d.prepared.sizes.dimensions) {
      if (!size.id.ends_with("diameter_over_balls") || !size.lower || !size.upper) continue;
      const ShownLimits l = shown_limits(size, Units::mm);
      int pages = 0;
      for (const job::SetupPage& s : d.pages)
        pages += says(s.page, l.lower + " mm to " + l.upper + " mm") && says(s.page, "two balls, D ") ? 1 : 0;
      EXPECT_EQ(pages, 1) << d.name << " " << size.id;
    }
  }
}

/// The last frame of a clamping is what its picture shows: as many frames as changes of tools in the lathe's programs.
TEST(Setup, AFrameForEachToolOfTheLathe) {
  for (const Paged& d : demos()) {
    std::size_t changes = 0;
    for (const job::ProgramText& t : d.texts) {
      const bool lathe = std::ranges::find(d.prepared.programs->plan.turnings, t.id, &toolpath::Turning::id) !=
                         d.prepared.programs->plan.turnings.end();
      int tool = 0;
      for (const nc::Move& m : t.trace.moves) {
        if (lathe && m.tool > 0 && m.tool != tool) ++changes;
        tool = m.tool;
      }
    }
    const plane::Page page = job::frames_page(d.prepared, d.proof);
    const auto frames =
        std::ranges::count_if(page.views, [](const plane::View& v) { return v.id.starts_with("frame_"); });
    EXPECT_EQ(static_cast<std::size_t>(frames), changes) << d.name;
  }
}

/// Dimensions of the picture are to its scale: the grip's two extension lines stand scale x grip apart.
TEST(Setup, PicturesAreToScale) {
  for (const Paged& d : demos()) {
    const toolpath::Turning& t = d.prepared.programs->plan.turnings.front();
    const job::SetupPage& s = d.pages.front();
    const auto picture = std::ranges::find(s.page.views, std::string("picture"), &plane::View::id);
    ASSERT_NE(picture, s.page.views.end());
    std::vector<double> xs;
    for (const plane::Inked& l : picture->lines) {
      const bool upright = l.ink == plane::Ink::dimension && l.path.size() == 1 && l.path[0].a.x == l.path[0].b.x;
      if (upright) xs.push_back(l.path[0].a.x);
    }
    ASSERT_GE(xs.size(), 4U);
    EXPECT_NEAR(xs[1] - xs[0], s.page.scale * t.grip_length, 1e-6) << d.name;
    EXPECT_NEAR(xs[3] - xs[2], s.page.scale * (d.prepared.programs->plan.stock_length - t.grip_length), 1e-6) << d.name;
  }
}

/// Holes are numbered as the program comes to them, each once.
TEST(Setup, HolesAreNumberedInTheProgramsOrder) {
  int holes = 0;
  for (const Paged& d : demos()) {
    for (std::size_t i = 0; i < d.texts.size(); ++i) {
      if (d.texts[i].text.find("(spot every hole)") == std::string::npos) continue;
      const std::regex spot(R"(G81 X(-?[0-9.]+) Y(-?[0-9.]+))");
      const std::string& text = d.texts[i].text;
      int number = 0;
      for (std::sregex_iterator it(text.begin(), text.end(), spot), end; it != end; ++it) {
        // The first of the cycles are the spots; a later one drills where a spot stands.
        if (number >= static_cast<int>(d.prepared.section.body.holes.size())) break;
        ++number, ++holes;
        const auto shown_at = [](const std::string& v) { return shown(std::stod(v), "mm", Units::mm).value; };
        const std::string row = shown_at((*it)[1].str()) + " " + shown_at((*it)[2].str()) + " ";
        const std::regex line("(^| )" + std::to_string(number) + " [a-z_0-9]+\\[[0-9]+\\] " + row);
        EXPECT_TRUE(std::regex_search(words_of(d.pages[i].page), line)) << d.name << " " << number << ": " << row;
      }
    }
  }
  EXPECT_GT(holes, 5);
}

/// An inch sheet says its sizes in inches: 1 in = 25.4 mm exactly (ISO 31 / NIST SP 811).
TEST(Setup, InchSheetsSpeakInches) {
  const std::string file = demos().front().name;
  const auto any = paged(file, testing::file_text(file), report::Units::inch);
  ASSERT_TRUE(any);
  const double grip = any->prepared.programs->plan.turnings.front().grip_diameter;
  EXPECT_TRUE(says(any->pages.front().page, "grip D " + number(grip / 25.4, 4) + " in"));
  for (const job::SetupPage& s : any->pages) {
    const plane::Faults f = plane::faults(s.page, any->prepared.typeface);
    EXPECT_EQ(f.total(), 0) << s.id << ": " << f.first;
  }
}

/// Nobody at the machine sees the check's rows: a page must say by itself that its programs may not be run.
TEST(Setup, ProgramsThatFailTheirProofAreNotToBeRun) {
  const Paged& d = demos().front();
  job::Proof proof = d.proof;
  const auto warned = [&] {
    const auto pages = job::setup_pages(d.prepared, d.texts, proof, report::Units::mm);
    const bool sheet =
        job::setup_sheet(d.prepared, d.texts, proof, report::Units::mm).find("Do not run") != std::string::npos;
    const auto n = std::ranges::count_if(pages, [](const auto& s) { return says(s.page, "Do not run"); });
    return std::pair{sheet, static_cast<std::size_t>(n)};
  };
  proof.rows.checks = {{"program_moves", "Moves", Verdict::pass, 0, "", {}, {}, "", ""}};
  EXPECT_EQ(warned(), (std::pair{false, std::size_t{0}}));
  proof.rows.checks.front().verdict = Verdict::fail;
  EXPECT_EQ(warned(), (std::pair{true, d.pages.size()}));
}

/// What concerns people stands on every page.
TEST(Setup, EveryPageBearsItsCautions) {
  for (const Paged& d : demos())
    for (const job::SetupPage& s : d.pages)
      for (const char* word : {"Guard the spindle", "Jaws throw", "hand on the stop", "Local codes"})
        EXPECT_TRUE(says(s.page, word)) << d.name << " " << s.id << " " << word;
}

}  // namespace
}  // namespace groovewright
