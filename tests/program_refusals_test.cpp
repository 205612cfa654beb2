// Parts that the shop as named can't make: exit status 2, with the place, the code, and what would do.
#include <gtest/gtest.h>

#include "processes.h"

namespace {

using namespace processes;

/// A disc of six PK ribs; lines that follow say what it is made on and from. `material` stands in line 2, `size` in
/// line 6, the bore in line 9, what follows from line 10 on.
std::string disc(const std::string& more, const std::string& size = "100 mm",
                 const std::string& bore = "20 mm, fit: H7", const std::string& material = "aluminium-6061-T6") {
  return "pulley: disc\nmaterial: " + material +
         "\nrims:\n  - section: PK\n    ribs: 6\n    size: {outside_diameter: " + size +
         "}\nbody: {solid: true}\nhub:\n  bore: {diameter: " + bore + "}\n" + more;
}

struct Case {
  const char* name;
  std::string document;
  Strings says;  ///< one line holds them all; the first is the place
};
std::ostream& operator<<(std::ostream& out, const Case& c) { return out << c.name; }

/// Widths by hand: six PK ribs are 5 x 3.56 and two edges of 2.5 mm wide, 22.8 mm; a bar is faced, run out, gripped.
std::vector<Case> cases() {
  const std::string
      m = "machining:\n  ",
      grooving =
          "tools: [rough-80-r, rough-80-l, finish-55-r, finish-55-l, bore-12, bore-20, lathe-drill-16, lathe-drill-10, "
          "lathe-spot-10, groove-3, groove-2, groove-1.5";
  return {
      {"bar_too_short",
       disc(m + "stock: {form: bar, length: 30 mm}\n"),
       {"spec.yaml:11:", "bar of 30 mm is too short", "22.8 mm wide", " mm leave room", "E0502"}},
      {"blank_too_short",  // 1.5 mm to face on either side
       disc(m + "stock: {length: 24 mm}\n"),
       {"spec.yaml:11:", "of 24 mm is too short", "22.8 mm wide", "25.8 mm leave both faces to cut", "E0502"}},
      {"blank_without_room_for_jaws",  // a rim of 3.6 mm behind a hub 15 mm proud: its face is cut past the jaws
       "pulley: disc\nmaterial: aluminium-6061-T6\nrims:\n  - section: PJ\n    ribs: 1\n    size: {outside_diameter: "
       "100 "
       "mm}\nbody: {solid: true}\nhub:\n  bore: {diameter: 20 mm, fit: H7}\n  diameter: 50 mm\n  rear: {proud: 15 mm}\n"
       "machining: {stock: {form: blank}}\n",
       {"spec.yaml:12:", "too short to be gripped beside the rim's face", "or a bar", "E0502"}},
      {"blank_without_a_hold",
       disc(m + "stock: {form: blank, length: 30 mm}\n", "100 mm",
            "20 mm, fit: H7, steps: [{side: front, diameter: 30 mm, depth: 18 mm}]"),
       {"spec.yaml:11:", "blank of 30 mm is too short", "a plain bore of 8 mm or two through holes", "E0502"}},
      {"bar_too_thin",
       disc(m + "stock: {diameter: 100.2 mm}\n"),
       {"spec.yaml:11:", "bar of 100.2 mm is too thin", "take 103 mm or more", "E0502"}},
      {"bar_bored_wider_than_the_bore",
       disc(m + "stock: {diameter: 105 mm, bore: 30 mm}\n"),
       {"spec.yaml:11:", "30 mm", "E0502"}},
      {"bore_without_diameter", disc(m + "stock: {bore: 15 mm}\n"), {"spec.yaml:11:17", "'diameter'", "E0204"}},
      {"bore_wider_than_the_bar",
       disc(m + "stock: {diameter: 105 mm, bore: 130 mm}\n"),
       {"spec.yaml:11:35", "130 mm", "105 mm", "E0202"}},
      {"lathe_unknown", disc(m + "lathe: turret-40\n"), {"spec.yaml:11:10", "did you mean 'turret-400'?", "E0114"}},
      {"mill_unknown", disc(m + "mill: mil-400\n"), {"spec.yaml:11:9", "did you mean 'mill-400'?", "E0114"}},
      {"mill_for_a_lathe", disc(m + "lathe: mill-400\n"), {"spec.yaml:11:", "'lathe' names a lathe", "E0108"}},
      {"chuck_unknown", disc(m + "chuck: power-20\n"), {"spec.yaml:11:10", "did you mean 'power-200'", "E0114"}},
      {"tool_unknown",
       disc(m + "tools: [bore-12, finish-55-q]\n"),
       {"spec.yaml:11:20", "did you mean 'finish-55-", "E0114"}},
      {"larger_than_the_lathe",
       disc("machining: {lathe: bench-250}\n", "400 mm"),
       {"spec.yaml:", "405 mm does not swing in lathe 'bench-250'", "250 mm", "more swing", "E0503"}},
      {"larger_than_the_chuck",
       disc(m + "stock: {diameter: 200 mm}\n  chuck: power-160\n"),
       {"spec.yaml:11:", "chuck 'power-160' grips", "not a blank of 200 mm", "E0503"}},
      {"bar_longer_than_the_travel",
       disc(m + "stock: {length: 5000 mm}\n"),
       {"spec.yaml:11:", "5000 mm is longer than the travel", "520 mm", "E0503"}},
      {"no_groove_finisher",
       disc(m + grooving + "]\n"),
       {"spec.yaml:4:5", "(grooves)", "nose of at most 0.4 mm", "under 40 deg", "E0501"}},
      {"only_a_wide_groove_finisher",
       disc(m + grooving + ", round-6]\n"),
       {"spec.yaml:4:5", "(grooves)", "nose of at most 0.4 mm", "under 40 deg", "E0501"}},
      {"bore_too_small_for_any_bar",
       disc("", "100 mm", "6 mm"),
       {"spec.yaml:9:3", "(bore)", "a boring bar for 6", "would do", "E0501"}},
      {"dowel_without_a_reamer",
       disc("  dowels: {angles: [90 deg], diameter: 7 mm, circle: 60 mm, fit: H7}\n"),
       {"spec.yaml:10:", "a reamer of 7 mm would do", "E0501"}},
      {"no_cutting_data",
       disc("", "100 mm", "20 mm", "brass-58"),
       {"spec.yaml:2:", "no cutting data for 'brass-58'", "kind 'cutting'", "E0114"}},
      {"no_cutting_data_though_wished",
       disc("machining: {lathe: turret-400}\n", "100 mm", "20 mm", "brass-58"),
       {"spec.yaml:10:", "no cutting data for 'brass-58'", "aluminium, cast-iron and steel", "E0114"}},
  };
}

/// Brass of one's own, without cutting data.
void put_own_material(const fs::path& folder) {
  std::string text = read_file(fs::path(GW_SOURCE_DIR) / "profiles/materials/steel-1045.yaml");
  text.replace(text.find("steel-1045"), std::string("steel-1045").size(), "brass-58");
  fs::create_directories(folder / "materials");
  std::ofstream(folder / "materials" / "brass-58.yaml") << text;
}

class RefusedProgram : public ::testing::TestWithParam<Case> {};

TEST_P(RefusedProgram, SaysWhereAndWhatWouldDo) {
  const Scratch room;
  std::ofstream(room / "spec.yaml") << GetParam().document;
  put_own_material(room / "own");
  How how;
  how.folder = room.path();
  const Finished f = groovewright({"build", "spec.yaml", "--only", "program", "--catalog", "own", "--out", "out"}, how);
  EXPECT_EQ(f.status, 2) << f.err << f.out;
  EXPECT_FALSE(fs::exists(room / "out")) << "files were written";
  const auto lines = lines_of(f.err);
  const bool said = std::any_of(lines.begin(), lines.end(), [](const std::string& line) {
    const Strings& says = GetParam().says;
    return line.starts_with(says.front()) &&
           std::all_of(says.begin(), says.end(), [&](const std::string& s) { return contains(line, s); });
  });
  EXPECT_TRUE(said) << "not all of it in one line of:\n" << f.err;
}

INSTANTIATE_TEST_SUITE_P(Table, RefusedProgram, ::testing::ValuesIn(cases()),
                         [](const auto& tested) { return std::string(tested.param.name); });

/// Where no one asked for programs, the same part is built without, and the sheet says why.
TEST(UnaskedProgram, IsLeftOutWithItsReason) {
  const Scratch room;
  std::ofstream(room / "spec.yaml") << disc("", "100 mm", "6 mm");
  How how;
  how.folder = room.path();
  const Finished f = groovewright({"build", "spec.yaml", "--out", "out"}, how);
  EXPECT_EQ(f.status, 0) << f.err << f.out;
  EXPECT_FALSE(fs::exists(room / "out/disc/disc.op10.ngc"));
  EXPECT_TRUE(contains(read_file(room / "out/disc/disc.sheet.md"), "a boring bar for 6")) << f.out;
}

}  // namespace
