// What does the program do as a process: what it writes, where, with which exit status, and what it leaves on disk?
#include <fcntl.h>
#include <gtest/gtest.h>
#include <signal.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <thread>
#include <vector>

#include "processes.h"

namespace {

using namespace processes;

const fs::path kCorpus = fs::path(GW_SOURCE_DIR) / "tests/corpus/bad";
const fs::path kBadDrives = fs::path(GW_SOURCE_DIR) / "tests/corpus/bad_drives";

// ---- The corpus of bad specs.

std::vector<fs::path> corpus(const fs::path& folder) {
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(folder)) {
    if (entry.path().extension() == ".yaml") files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  return files;
}

/// Runs the command on a bad document; it must say all that is expected and leave nothing.
Finished refused(const std::string& command, const fs::path& document) {
  const auto wanted = expectations(document);
  EXPECT_FALSE(wanted.empty()) << document << " begins with no '# expect LINE:COLUMN E0123 fragment'";
  const Scratch room;
  How how;
  how.folder = room.path();
  const auto corpus_before = names_in(document.parent_path());
  Finished f = groovewright({command, document.string(), "--out", "out"}, how);
  EXPECT_EQ(f.status, 2) << f.err;
  EXPECT_EQ(f.out, "");
  EXPECT_EQ(difference({}, listing(room.path())), "");
  EXPECT_EQ(names_in(document.parent_path()), corpus_before);
  const auto lines = lines_of(f.err);
  for (const Expectation& e : wanted) {
    const bool said = std::any_of(lines.begin(), lines.end(), [&](const std::string& line) {
      return line.starts_with(e.place) && line.ends_with(e.code) && contains(line, e.fragment) &&
             contains(line, e.says);
    });
    EXPECT_TRUE(said) << "no line '" << e.place << "…" << e.fragment << "…" << e.says << "… " << e.code << "' in:\n"
                      << f.err;
  }
  return f;
}

std::string test_name(const ::testing::TestParamInfo<fs::path>& tested) {
  std::string name = tested.param.stem().string();
  std::replace_if(
      name.begin(), name.end(), [](char c) { return !std::isalnum(static_cast<unsigned char>(c)); }, '_');
  return name;
}

class BadSpec : public ::testing::TestWithParam<fs::path> {};
TEST_P(BadSpec, IsRefusedWithPlaceCodeAndFragmentAndLeavesNothing) {
  const Finished f = refused("build", GetParam());
  EXPECT_EQ(groovewright({"check", GetParam().string()}).err, f.err) << "check and build tell different things";
}
INSTANTIATE_TEST_SUITE_P(Corpus, BadSpec, ::testing::ValuesIn(corpus(kCorpus)), test_name);

class BadDrive : public ::testing::TestWithParam<fs::path> {};
TEST_P(BadDrive, IsRefusedWithPlaceCodeAndFragmentAndLeavesNothing) { refused("drive", GetParam()); }
INSTANTIATE_TEST_SUITE_P(Corpus, BadDrive, ::testing::ValuesIn(corpus(kBadDrives)), test_name);

TEST(Corpus, IsThere) {
  EXPECT_GE(corpus(kCorpus).size(), 70U) << "in " << kCorpus;
  EXPECT_GE(corpus(kBadDrives).size(), 40U) << "in " << kBadDrives;
}

std::vector<fs::path> corpus_files() {
  std::vector<fs::path> files;
  for (const fs::path& folder : {kCorpus, kBadDrives}) {
    for (const auto& entry : fs::directory_iterator(folder)) {
      if (!entry.is_directory()) files.push_back(entry.path());
    }
  }
  return files;
}

TEST(Corpus, HoldsNoExpectationWithoutASpec) {
  int looked_at = 0;
  for (const fs::path& p : corpus_files()) {
    const fs::path of = p.extension() == ".expect" ? p.parent_path() / p.stem() : p;
    EXPECT_TRUE(of.extension() == ".yaml" && fs::exists(of)) << p << " belongs to no spec";
    ++looked_at;
  }
  EXPECT_GT(looked_at, 0);
}

// ---- Exit statuses.

using Demo = ::testing::TestWithParam<std::string>;
class BuiltDemo : public Demo {};

/// All that `build` writes; with programs of so many clampings.
std::set<std::string> whole_folder(const std::string& name, int clampings = 0) {
  std::set<std::string> all{name + ".step",        name + ".stl",         name + ".3mf",        name + ".glb",
                            name + ".sheet.md",    name + ".sheet.csv",   name + ".sheet.json", name + ".drawing.pdf",
                            name + ".drawing.svg", name + ".drawing.dxf", "manifest.json"};
  for (int i = 1; i <= clampings; ++i) {
    const std::string op = name + ".op" + std::to_string(10 * i);
    all.insert({op + ".ngc", op + ".setup.pdf"});
  }
  if (clampings > 0) all.insert({name + ".setup.md", name + ".frames.svg"});
  return all;
}

/// How often the shop clamps a demo; 0 where it can't make it.
int clampings_of(const std::string& demo) {
  if (demo.starts_with("larkspur")) return 3;
  return demo == "sorrel-disc" || demo == "thistle-pump-pl" ? 2 : 0;
}

TEST_P(BuiltDemo, PassesAndIsWhole) {
  const Scratch room;
  const std::string& name = GetParam();
  const Finished f = groovewright({"build", (kDemos / (name + ".yaml")).string(), "--out", (room / "out").string()});
  EXPECT_EQ(f.status, 0) << f.err << f.out;
  EXPECT_EQ(f.err, "");
  EXPECT_EQ(names_in(room / "out"), std::set<std::string>{name});
  EXPECT_EQ(names_in(room / "out" / name), whole_folder(name, clampings_of(name)));
  EXPECT_EQ(manifest_errors(room / "out" / name), "");
  EXPECT_TRUE(read_file(room / "out" / name / (name + ".sheet.md")).starts_with("# PASS"));
  EXPECT_FALSE(contains(f.out + f.err, "\x1b")) << "colours without a terminal";
}

INSTANTIATE_TEST_SUITE_P(Demos, BuiltDemo,
                         ::testing::Values("fennel-spindle-pj", "larkspur-crank-24", "marlow-step-2", "sorrel-disc",
                                           "thistle-pump-pl"),
                         [](const auto& tested) {
                           std::string name = tested.param;
                           std::replace(name.begin(), name.end(), '-', '_');
                           return name;
                         });

TEST_F(Cli, CarriesTheDrawingsLimitsInTheModelWhereThatIsWanted) {
  const std::string crank = (kDemos / "larkspur-crank-24.yaml").string();
  ASSERT_EQ(gw({"build", crank, "--only", "step,sheet"}).status, 0);
  const fs::path folder = room_ / "out/larkspur-crank-24";
  const json sheet = json::parse(read_file(folder / "larkspur-crank-24.sheet.json"));
  const auto row = std::find_if(sheet.at("checks").begin(), sheet.at("checks").end(),
                                [](const json& c) { return c.at("id") == "step_limits"; });
  ASSERT_NE(row, sheet.at("checks").end());
  EXPECT_EQ(row->at("verdict"), "pass") << *row;
  EXPECT_GE(row->at("value"), 10);
  const std::string step = read_file(folder / "larkspur-crank-24.step");
  for (const char* entity : {"DATUM_FEATURE(", "CIRCULAR_RUNOUT_TOLERANCE", "FLATNESS_TOLERANCE", "DIMENSIONAL_SIZE"}) {
    EXPECT_TRUE(contains(step, entity)) << entity;
  }
}

TEST_F(Cli, WritesTheWholeFolderWhereAVerdictFails) {
  const fs::path small = spec("small", disc("small", "effective_diameter: 40 mm"));
  const Finished f = gw({"build", small.string()});
  EXPECT_EQ(f.status, 1) << "PK begins at 45 mm (ISO 9981:2020, cl. 5.2): a verdict, not a mistake\n" << f.err;
  EXPECT_EQ(names_in(room_ / "out/small"), whole_folder("small"));
  EXPECT_EQ(manifest_errors(room_ / "out/small"), "");
  const std::string sheet = read_file(room_ / "out/small/small.sheet.md");
  EXPECT_TRUE(sheet.starts_with("# FAIL")) << sheet.substr(0, sheet.find('\n'));
  EXPECT_TRUE(f.out.starts_with("FAIL")) << f.out;
  EXPECT_EQ(gw({"check", small.string()}).status, 1);
}

TEST_F(Cli, SaysWhatIsWrongWithTheUsage) {
  const std::string good = disc_spec("good").string();
  struct Case {
    Strings arguments;
    std::string says;
  };
  const std::vector<Case> cases = {
      {{}, "build, check, drive, range, schema or list"},
      {{"biuld", good}, "did you mean 'build'?"},
      {{"chekc", good}, "did you mean 'check'?"},
      {{"frobnicate"}, "there are build"},
      {{"build"}, "specs"},
      {{"build", good, "--ouput", "x"}, "--ouput"},
      {{"build", good, "--only", "stp"}, "did you mean 'step' or 'stl'?"},
      {{"build", good, "--only", "dwg"}, "step, stl, 3mf"},
      {{"build", good, "--only", "step,"}, "no kind ''"},
      {{"build", good, "--jobs", "0"}, "--jobs"},
      {{"build", good, "--jobs", "-1"}, "--jobs"},
      {{"build", good, "--jobs", "two"}, "--jobs"},
      {{"build", good, "--jobs", "1000000"}, "--jobs"},
      {{"build", good, "--deflection", "fine"}, "--deflection"},
      {{"build", good, "--deflection", "0 mm"}, "--deflection"},
      {{"build", good, "--deflection", "nan"}, "--deflection"},
      {{"build", good, "--deflection", "5 mm"}, "0.001 to 1 mm"},
      {{"build", good, "--units", "ft"}, "mm or in"},
      {{"build", good, "--only", "print", "--printer", "bench-221"}, "did you mean 'bench-220'?"},
      {{"build", good, "--only", "print", "--plastic", "wood"}, "there are asa, petg and pla"},
      {{"check", good, "--only", "stl"}, "--only"},
      {{"list", "materialz"}, "did you mean 'materials'?"},
      {{"schema", "puley"}, "did you mean 'pulley'?"},
      {{"build", good, "--catalog", "nowhere"}, "nowhere"},
  };
  const auto before = listing(room_.path());
  for (const Case& c : cases) {
    std::string line = "groovewright";
    for (const auto& word : c.arguments) line += " " + word;
    SCOPED_TRACE(line);
    const Finished f = gw(c.arguments);
    EXPECT_EQ(f.status, 2);
    EXPECT_EQ(f.out, "");
    EXPECT_TRUE(contains(f.err, c.says)) << "says: " << f.err << "  not: " << c.says;
    EXPECT_EQ(difference(before, listing(room_.path())), "");
  }
}

TEST_F(Cli, RefusesWhatIsNoDocumentQuicklyAndInLittleMemory) {
  fs::create_directory(room_ / "folder");
  ASSERT_EQ(mkfifo((room_ / "pipe").c_str(), 0600), 0);
  write_file(room_ / "huge.yaml", "pulley: huge\n");
  fs::resize_file(room_ / "huge.yaml", 100'000'000);
  write_file(room_ / "real.yaml", std::string(100'000'000, 'x'));
  write_file(room_ / "long.yaml", std::string((1 << 20) + 1, '#'));
  struct Case {
    std::string path, says;
  };
  const std::vector<Case> cases = {
      {"folder", "is a folder"},        {"pipe", "no regular file"},
      {"/dev/zero", "no regular file"}, {"nowhere.yaml", "can't be read"},
      {"huge.yaml", "100000000 bytes"}, {"real.yaml", "100000000 bytes"},
      {"long.yaml", "1048577 bytes"},   {"", "can't be read"},
  };
  for (const Case& c : cases) {
    SCOPED_TRACE(c.path);
    const Finished f = gw({"build", c.path});
    EXPECT_EQ(f.status, 2) << f.err;
    EXPECT_TRUE(contains(f.err, c.says)) << f.err;
    EXPECT_LT(f.seconds, 5.0);
    EXPECT_LT(f.memory_kib, 200 * 1024);
  }
  EXPECT_FALSE(fs::exists(room_ / "out"));
}

TEST_F(Cli, BuildsTheGoodOnesOfABatch) {
  const Finished f = gw(
      {"build", disc_spec("one").string(), spec("bad", kBadDisc).string(), disc_spec("two").string(), "--jobs", "2"});
  EXPECT_EQ(f.status, 2);
  EXPECT_TRUE(contains(f.err, "bad.yaml:3:7: error:")) << f.err;
  EXPECT_EQ(names_in(room_ / "out"), (std::set<std::string>{"one", "two"}));
  EXPECT_EQ(manifest_errors(room_ / "out/one") + manifest_errors(room_ / "out/two"), "");
  EXPECT_LT(f.out.find("one"), f.out.find("two")) << "not in the order of the specs";
}

TEST_F(Cli, WritesNothingWhereTwoSpecsHaveOneName) {
  const fs::path a = disc_spec("one"), b = spec("other", disc("one", "outside_diameter: 80 mm")), c = disc_spec("two");
  const auto before = listing(room_.path());
  const Finished f = gw({"build", a.string(), c.string(), b.string()});
  EXPECT_EQ(f.status, 2);
  EXPECT_TRUE(contains(f.err, "other.yaml:1:9: error: ") && contains(f.err, "'one'") && contains(f.err, "[E0302]"))
      << f.err;
  EXPECT_EQ(difference(before, listing(room_.path())), "");
}

// ---- Disk.

/// Runs a shell script with a mount table of its own; `$1` is the program. The test fails where that is forbidden.
Finished with_mounts(const fs::path& folder, const std::string& script) {
  static const Strings kOwnMounts =
      run({"unshare", "-m", "true"}).status == 0 ? Strings{"unshare", "-m"} : Strings{"unshare", "-rm"};
  Strings command = kOwnMounts;
  command.insert(command.end(), {"sh", "-c", script, "sh", kProgram.string()});
  How how;
  how.folder = folder;
  return run(command, how);
}
constexpr const char* kNeedsMounts = "this test mounts a tmpfs: run it as root, or where user namespaces are allowed\n";

TEST_F(Cli, SaysThatAFolderCantBeWritten) {
  disc_spec("one");
  fs::create_directory(room_ / "ro");
  const Finished f = with_mounts(
      room_.path(), "mount -t tmpfs -o ro none ro || exit 99\n\"$1\" build one.yaml --out ro/parts --only stl");
  ASSERT_NE(f.status, 99) << kNeedsMounts << f.err;
  EXPECT_EQ(f.status, 3);
  EXPECT_TRUE(contains(f.err, "ro/parts") && contains(f.err, "Read-only")) << f.err;
  EXPECT_EQ(f.out, "");
}

TEST_F(Cli, LeavesNothingOnAFullDisk) {
  disc_spec("one");
  fs::create_directory(room_ / "tiny");
  const Finished f = with_mounts(room_.path(),
                                 "mount -t tmpfs -o size=100k none tiny || exit 99\n"
                                 "\"$1\" build one.yaml --out tiny; status=$?\nfind tiny -mindepth 1\nexit $status");
  ASSERT_NE(f.status, 99) << kNeedsMounts << f.err;
  EXPECT_EQ(f.status, 3);
  EXPECT_TRUE(contains(f.err, "No space left")) << f.err;
  EXPECT_EQ(f.out, "") << "left behind";
}

TEST_F(Cli, KeepsTheOlderFolderOnAFullDisk) {
  disc_spec("one");
  fs::create_directory(room_ / "tiny");
  const Finished f = with_mounts(room_.path(),
                                 "mount -t tmpfs -o size=16m none tiny || exit 99\n"
                                 "\"$1\" build one.yaml --out tiny --quiet || exit 98\n"
                                 "find tiny -type f | sort | xargs sha256sum > before\n"
                                 "head -c 16m /dev/zero > tiny/filler 2>/dev/null\n"
                                 "\"$1\" build one.yaml --out tiny; status=$?\n"
                                 "rm tiny/filler; find tiny -type f | sort | xargs sha256sum > after\n"
                                 "cmp before after || exit 97\nexit $status");
  ASSERT_NE(f.status, 99) << kNeedsMounts << f.err;
  EXPECT_EQ(f.status, 3) << f.err << f.out;
  EXPECT_EQ(lines_of(read_file(room_ / "before")).size(), whole_folder("one").size());
}

TEST_F(Cli, TouchesNothingThatItDidNotWrite) {
  const std::string one = disc_spec("one").string();
  ASSERT_EQ(gw({"build", one, "--only", "stl"}).status, 0);
  write_file(room_ / "out/one/notes.txt", "my own notes");
  const auto before = listing(room_.path());
  const Finished f = gw({"build", one, "--only", "stl"});
  EXPECT_EQ(f.status, 3);
  EXPECT_TRUE(contains(f.err, "notes.txt") && !contains(f.err, "one.stl")) << f.err;
  EXPECT_EQ(difference(before, listing(room_.path())), "");
}

TEST_F(Cli, RefusesAFolderThatIsNotItsOwn) {
  const std::string one = disc_spec("one").string();
  fs::create_directories(room_ / "out/one/photos");
  write_file(room_ / "out/one/manifest.json", "{\"format\": 1}");
  const auto before = listing(room_.path());
  const Finished f = gw({"build", one, "--only", "stl"});
  EXPECT_EQ(f.status, 3);
  EXPECT_TRUE(contains(f.err, "photos")) << f.err;
  EXPECT_EQ(difference(before, listing(room_.path())), "");
}

TEST_F(Cli, RefusesATargetThatIsAFile) {
  const std::string one = disc_spec("one").string();
  fs::create_directory(room_ / "out");
  write_file(room_ / "out/one", "a file of mine");
  const auto before = listing(room_.path());
  const Finished f = gw({"build", one, "--only", "stl"});
  EXPECT_EQ(f.status, 3);
  EXPECT_TRUE(contains(f.err, "is a file")) << f.err;
  EXPECT_EQ(gw({"build", one, "--only", "stl", "--out", "out/one"}).status, 3) << "--out itself is a file";
  EXPECT_EQ(difference(before, listing(room_.path())), "");
}

TEST_F(Cli, KeepsTheOlderFolderWhereTheSpecTurnedBad) {
  ASSERT_EQ(gw({"build", disc_spec("one").string(), "--only", "stl"}).status, 0);
  const auto before = listing(room_ / "out");
  EXPECT_EQ(gw({"build", spec("one", disc("one", "outside_diameter: 6 mm")).string(), "--only", "stl"}).status, 2);
  EXPECT_EQ(difference(before, listing(room_ / "out")), "");
}

TEST_F(Cli, ReplacesWhatALinkPointsAt) {
  const std::string one = disc_spec("one").string();
  fs::create_directories(room_ / "elsewhere/real");
  fs::create_directory(room_ / "out");
  fs::create_directory_symlink(room_ / "elsewhere/real", room_ / "out/one");
  EXPECT_EQ(gw({"build", one, "--only", "stl"}).status, 0);
  EXPECT_EQ(gw({"build", one, "--only", "glb"}).status, 0);
  EXPECT_TRUE(fs::is_symlink(room_ / "out/one"));
  EXPECT_EQ(names_in(room_ / "elsewhere"), std::set<std::string>{"real"});
  EXPECT_EQ(names_in(room_ / "elsewhere/real"), (std::set<std::string>{"one.glb", "manifest.json"}));
}

TEST_F(Cli, SweepsWhatAKilledRunLeft) {
  const std::string one = disc_spec("one").string();
  fs::create_directories(room_ / "out/.one.part-123");
  write_file(room_ / "out/.one.part-123/one.stl", "half");
  fs::create_directories(room_ / "out/.other.part-123");
  EXPECT_EQ(gw({"build", one, "--only", "stl"}).status, 0);
  EXPECT_EQ(names_in(room_ / "out"), (std::set<std::string>{"one", ".other.part-123"}));
}

TEST_F(Cli, TakesTurnsWhereTwoRunsWriteOneName) {
  const std::string one = disc_spec("one").string();
  std::vector<std::thread> runs;
  std::vector<int> statuses(4, -1);
  for (std::size_t i = 0; i < statuses.size(); ++i) {
    runs.emplace_back([&, i] { statuses[i] = gw({"build", one, "--only", "stl,glb"}).status; });
  }
  for (auto& r : runs) r.join();
  EXPECT_EQ(statuses, std::vector<int>(4, 0));
  EXPECT_EQ(names_in(room_ / "out"), std::set<std::string>{"one"});
  EXPECT_EQ(manifest_errors(room_ / "out/one"), "");
}

// ---- stdout and terminal.

TEST_F(Cli, SaysThatStdoutIsFull) {
  const std::string one = disc_spec("one").string();
  for (const Strings& command : {Strings{"check", one},
                                 {"check", one, "--json"},
                                 {"list"},
                                 {"schema"},
                                 {"--help"},
                                 {"--version"},
                                 {"build", one, "--only", "stl"}}) {
    SCOPED_TRACE(command.front());
    How how = here();
    how.standard_out = open("/dev/full", O_WRONLY | O_CLOEXEC);
    const Finished f = groovewright(command, how);
    close(*how.standard_out);
    EXPECT_EQ(f.status, 3);
    EXPECT_TRUE(contains(f.err, "No space left")) << f.err;
  }
}

TEST_F(Cli, SaysThatTheResultsAreWrittenWhereOnlyTheReportCouldNotBe) {
  const std::string one = disc_spec("one").string(), two = disc_spec("two").string();
  for (const Strings& more : {Strings{}, {"--json"}}) {
    How how = here();
    how.standard_out = open("/dev/full", O_WRONLY | O_CLOEXEC);
    Strings command{"build", one, two, "--only", "stl,sheet"};
    command.insert(command.end(), more.begin(), more.end());
    const Finished f = groovewright(command, how);
    close(*how.standard_out);
    EXPECT_EQ(f.status, 3);
    EXPECT_TRUE(contains(f.err, "the results are written in full: out/one and out/two")) << f.err;
    EXPECT_TRUE(contains(f.err, "No space left")) << f.err;
    for (const char* name : {"one", "two"}) {
      EXPECT_TRUE(fs::exists(room_.path() / "out" / name / "manifest.json")) << name;
    }
  }
}

TEST_F(Cli, EndsQuietlyWhereTheReaderOfAPipeIsGone) {
  const std::string one = disc_spec("one").string();
  for (const Strings& command : {Strings{"check", one}, {"list"}, {"schema"}, {"--help"}}) {
    SCOPED_TRACE(command.front());
    int ends[2];
    ASSERT_EQ(pipe2(ends, O_CLOEXEC), 0);
    close(ends[0]);
    How how = here();
    how.standard_out = ends[1];
    const Finished f = groovewright(command, how);
    close(ends[1]);
    EXPECT_EQ(f.status, 0);
    EXPECT_EQ(f.err, "");
  }
}

/// What the program writes to a terminal.
std::string on_terminal(const Strings& command, const How& base) {
  const int master = posix_openpt(O_RDWR | O_NOCTTY | O_CLOEXEC);
  if (master < 0 || grantpt(master) != 0 || unlockpt(master) != 0) return "no terminal to be had";
  How how = base;
  how.standard_out = open(ptsname(master), O_RDWR | O_NOCTTY | O_CLOEXEC);
  groovewright(command, how);
  char buffer[1 << 16];
  const ssize_t n = read(master, buffer, sizeof buffer);
  close(*how.standard_out);
  close(master);
  return {buffer, static_cast<std::size_t>(std::max<ssize_t>(0, n))};
}

TEST_F(Cli, ShowsColoursOnATerminalOnly) {
  const std::string one = disc_spec("one").string();
  EXPECT_FALSE(contains(gw({"check", one}).out, "\x1b"));
  How how = here();
  how.in_child = [] { unsetenv("NO_COLOR"); };
  EXPECT_TRUE(contains(on_terminal({"check", one}, how), "\x1b["));
  how.in_child = [] { setenv("NO_COLOR", "1", 1); };
  const std::string plain = on_terminal({"check", one}, how);
  EXPECT_TRUE(contains(plain, "Effective diameter")) << plain;
  EXPECT_FALSE(contains(plain, "\x1b")) << plain;
}

TEST_F(Cli, SaysNothingWhereQuietIsWanted) {
  const std::string one = disc_spec("one").string();
  for (const Strings& command : {Strings{"build", one, "--only", "stl", "--quiet"}, {"check", one, "--quiet"}}) {
    const Finished f = gw(command);
    EXPECT_EQ(f.status, 0);
    EXPECT_EQ(f.out + f.err, "");
  }
  EXPECT_TRUE(fs::exists(room_ / "out/one/one.stl"));
}

TEST_F(Cli, WritesOneJsonDocument) {
  const std::string one = disc_spec("one").string(), two = disc_spec("two").string(),
                    bad = spec("bad", kBadDisc).string();
  const auto parsed = [&](const Finished& f) { return json::parse(f.out, nullptr, false); };

  const json checked = parsed(gw({"check", one, "--json"}));
  ASSERT_FALSE(checked.is_discarded());
  EXPECT_EQ(checked.at("format"), 1);
  EXPECT_EQ(checked.at("status"), 0);
  EXPECT_EQ(checked.at("results").at(0).at("sheet").at("name"), "one");

  const json built = parsed(gw({"build", one, bad, two, "--only", "stl", "--json", "--jobs", "2"}));
  ASSERT_FALSE(built.is_discarded());
  EXPECT_EQ(built.at("status"), 2);
  ASSERT_EQ(built.at("results").size(), 3U);
  EXPECT_EQ(built.at("results").at(0).at("files"), json({"one.stl", "manifest.json"}));
  const json& refused = built.at("results").at(1);
  EXPECT_EQ(refused.at("file"), bad);
  EXPECT_EQ(refused.at("status"), 2);
  EXPECT_TRUE(refused.at("sheet").is_null());
  EXPECT_EQ(refused.at("diagnostics").at(0).at("line"), 3);
  EXPECT_EQ(refused.at("diagnostics").at(0).at("code"), 111);
  EXPECT_EQ(built.at("results").at(2).at("status"), 0);
}

TEST_F(Cli, KeepsItsJsonWholeWhateverTheNamesHold) {
  const std::string odd = spec("a \"b\" \\ \xC3\xBC", disc("one")).string();
  const json checked = json::parse(gw({"check", odd, "nowhere \"x\".yaml", "--json"}).out, nullptr, false);
  ASSERT_FALSE(checked.is_discarded());
  EXPECT_EQ(checked.at("results").at(0).at("file"), odd);
}

// ---- Drives and ranges.

TEST_F(Cli, ChartsARangeAndBuildsItsOptions) {
  const std::string demo = (kDemos / "larkspur-options.yaml").string();
  const Finished f = gw({"range", demo, "--build", "--quiet"});
  EXPECT_EQ(f.status, 1) << "28 % runs the belt too fast: a verdict\n" << f.err;
  EXPECT_EQ(f.err, "");
  const fs::path folder = room_ / "out/larkspur-options";
  EXPECT_EQ(names_in(folder), (std::set<std::string>{"larkspur-options.range.md", "larkspur-options.range.csv",
                                                     "larkspur-options.range.json", "larkspur-options.range.pdf",
                                                     "larkspur-options.range.svg", "manifest.json"}));
  EXPECT_EQ(manifest_errors(folder), "");
  const json chart = json::parse(read_file(folder / "larkspur-options.range.json"));
  ASSERT_EQ(chart.at("options").size(), 5U);
  for (const json& option : chart.at("options")) {
    const std::string name = option.at("option");
    EXPECT_EQ(names_in(room_ / "out" / name), whole_folder(name, clampings_of(name)));
    EXPECT_EQ(manifest_errors(room_ / "out" / name), "");
    const json sheet = json::parse(read_file(room_ / "out" / name / (name + ".sheet.json")));
    for (const json& d : sheet.at("dimensions")) {
      if (d.at("id") != "effective_diameter") continue;
      EXPECT_EQ(d.at("value"), option.at("effective_diameter")) << name;
    }
  }
  EXPECT_EQ(chart.at("options").at(4).at("verdict"), "fail");
}

TEST_F(Cli, WorksOutTheDemosDrive) {
  const std::string demo = (kDemos / "larkspur-front.yaml").string();
  const Finished f = gw({"drive", demo});
  EXPECT_EQ(f.status, 0) << f.err << f.out;
  EXPECT_TRUE(f.out.starts_with("PASS")) << f.out;
  const fs::path folder = room_ / "out/larkspur-front";
  EXPECT_EQ(manifest_errors(folder), "");
  const json drive = json::parse(read_file(folder / "larkspur-front.drive.json"));
  EXPECT_EQ(drive.at("belt").at("designation"), "8PK 1450");
  double wraps = 0;
  for (const json& p : drive.at("pulleys")) wraps += p.at("wrap_deg").get<double>();
  EXPECT_NEAR(wraps, 360, 1e-9) << "a simple loop goes round once";
  EXPECT_EQ(drive.at("spans").size(), drive.at("pulleys").size());
  EXPECT_TRUE(drive.at("tensioner").at("seated"));
}

TEST_F(Cli, DrivesAndRangesAreTheSameBytesInAnyPlace) {
  for (const auto& [command, demo] : {std::pair{"drive", "larkspur-front"}, {"range", "larkspur-options"}}) {
    const auto made = [&](const Strings& environment) {
      fs::remove_all(room_ / "out");
      How how = here();
      how.environment = environment;
      groovewright({command, (kDemos / (std::string(demo) + ".yaml")).string(), "--quiet"}, how);
      return listing(room_ / "out");
    };
    const auto first = made({});
    EXPECT_GE(first.size(), 4U);
    EXPECT_EQ(difference(first, made({"TZ=Pacific/Kiritimati", "LC_ALL=de_DE.UTF-8", "USER=other"})), "") << command;
    EXPECT_EQ(difference(first, made({"GLIBC_TUNABLES=glibc.cpu.hwcaps=-FMA,-FMA4,-AVX2"})), "") << command;
  }
}

TEST_F(Cli, RefusesADriveWhosePulleyIsNotThere) {
  std::string text = read_file(kDemos / "larkspur-front.yaml");
  text.replace(text.find("larkspur-crank-24.yaml"), 22, "nowhere.yaml          ");
  write_file(room_ / "front.yaml", text);
  const Finished f = gw({"drive", (room_ / "front.yaml").string()});
  EXPECT_EQ(f.status, 2);
  EXPECT_TRUE(contains(f.err, "nowhere.yaml' is not there")) << f.err;
  EXPECT_FALSE(fs::exists(room_ / "out"));
}

// ---- Signals.

bool is_whole(const fs::path& folder) {
  return fs::exists(folder / "manifest.json") && manifest_errors(folder).empty();
}

TEST_F(Cli, LeavesNothingHalfWrittenWhenTerminated) {
  Strings command{"build", "--jobs", "2"};
  for (int i = 0; i < 12; ++i) command.push_back(disc_spec("p" + std::to_string(i)).string());
  int interrupted = 0;
  for (const int signal_number : {SIGTERM, SIGINT}) {
    for (const int wait_ms : {60, 250, 500}) {
      SCOPED_TRACE("signal " + std::to_string(signal_number) + " after " + std::to_string(wait_ms) + " ms");
      fs::remove_all(room_ / "out");
      How how = here();
      how.meanwhile = [&](pid_t pid) {
        std::this_thread::sleep_for(std::chrono::milliseconds(wait_ms));
        kill(pid, signal_number);
      };
      const Finished f = groovewright(command, how);
      // On a loaded machine the signal may come before the program's first line: then nothing was begun.
      const bool not_begun = f.status == -signal_number && !fs::exists(room_ / "out");
      EXPECT_TRUE(f.status == 0 || f.status == 3 || not_begun) << f.status << f.err;
      if (f.status == 3) {
        ++interrupted;
        EXPECT_TRUE(contains(f.err, "interrupted")) << f.err;
      }
      for (const auto& name : names_in(room_ / "out")) {
        EXPECT_FALSE(name.starts_with(".")) << name << " was left behind";
        EXPECT_TRUE(is_whole(room_ / "out" / name)) << name << " is half a folder";
      }
    }
  }
  EXPECT_GT(interrupted, 0) << "every batch was done before its signal came";
}

// ---- Same bytes.

class SameBytes : public Cli {
 protected:
  std::map<std::string, std::string> built(const Strings& environment, const Strings& more) {
    fs::remove_all(room_ / "out");
    Strings command{"build", (kDemos / "larkspur-crank-24.yaml").string(), disc_spec("one").string(), "--quiet"};
    command.insert(command.end(), more.begin(), more.end());
    How how = here();
    how.environment = environment;
    const Finished f = groovewright(command, how);
    EXPECT_EQ(f.status, 0) << f.err;
    return listing(room_ / "out");
  }
};

/// Without FMA and AVX2 glibc takes other code for sin, atan2 …, as on an older machine.
constexpr const char* kOlderMachine = "GLIBC_TUNABLES=glibc.cpu.hwcaps=-FMA,-FMA4,-AVX2";

TEST_F(SameBytes, ComeFromOneSpecWhateverTheMachineAndItsSettings) {
  const auto first = built({}, {"--jobs", "1"});
  const std::string demo = "larkspur-crank-24";
  ASSERT_EQ(first.size(), whole_folder(demo, clampings_of(demo)).size() + whole_folder("one").size() + 2);
  EXPECT_EQ(difference(first, built({}, {"--jobs", "1"})), "") << "a second run";
  EXPECT_EQ(difference(first, built({}, {"--jobs", "2"})), "") << "--jobs 2";
  EXPECT_EQ(difference(first, built({"TZ=Pacific/Kiritimati", "LC_ALL=de_DE.UTF-8", "LANG=de_DE.UTF-8",
                                     "SOURCE_DATE_EPOCH=1", "USER=other"},
                                    {"--jobs", "2"})),
            "")
      << "another zone and language";
  EXPECT_EQ(difference(first, built({kOlderMachine}, {"--jobs", "2"})), "") << kOlderMachine;
}

TEST(OlderMachine, IsWhatTheTunableMakes) {
  const auto features = [](const Strings& environment) {
    How how;
    how.environment = environment;
    std::string found;
    for (const auto& line : lines_of(run({"/lib64/ld-linux-x86-64.so.2", "--list-diagnostics"}, how).out)) {
      if (line.starts_with("x86.cpu_features")) found += line + "\n";
    }
    return found;
  };
  const std::string usual = features({});
  ASSERT_NE(usual, "");
  if (!contains(read_file("/proc/cpuinfo"), " avx2 ")) {
    EXPECT_EQ(features({kOlderMachine}), usual) << "this machine is an older one itself";
  } else {
    EXPECT_NE(features({kOlderMachine}), usual) << "glibc does not heed " << kOlderMachine;
  }
}

// ---- What is written.

TEST_F(Cli, LeavesJustTheKindsThatWereWanted) {
  const std::string one = disc_spec("one").string();
  struct Case {
    std::string only;
    std::set<std::string> files;
  };
  // Each run finds the folder of the one before.
  const std::vector<Case> cases = {
      {"step", {"one.step", "manifest.json"}},
      {"stl,glb", {"one.stl", "one.glb", "manifest.json"}},
      {"3mf", {"one.3mf", "manifest.json"}},
      {"sheet", {"one.sheet.md", "one.sheet.csv", "one.sheet.json", "manifest.json"}},
      {"drawing", {"one.drawing.pdf", "one.drawing.svg", "one.drawing.dxf", "manifest.json"}},
  };
  for (const Case& c : cases) {
    SCOPED_TRACE("--only " + c.only);
    const Finished f = gw({"build", one, "--only", c.only});
    EXPECT_EQ(f.status, 0) << f.err;
    EXPECT_EQ(names_in(room_ / "out/one"), c.files);
    EXPECT_EQ(manifest_errors(room_ / "out/one"), "");
    EXPECT_EQ(names_in(room_ / "out"), std::set<std::string>{"one"});
  }
}

TEST_F(Cli, TellsTheSpecAndItsOwnVersionInTheManifest) {
  const fs::path one = disc_spec("one");
  ASSERT_EQ(gw({"build", one.string(), "--only", "stl"}).status, 0);
  const json manifest = json::parse(read_file(room_ / "out/one/manifest.json"));
  EXPECT_EQ(manifest.at("format"), 1);
  EXPECT_TRUE(run({"sha256sum", one.string()}).out.starts_with(manifest.at("spec_sha256").get<std::string>()));
  EXPECT_EQ(manifest.at("program").get<std::string>() + "\n", gw({"--version"}).out);
}

TEST_F(Cli, ChecksWithoutKernelAndWritesNothing) {
  const std::string one = disc_spec("one").string();
  fs::copy_file(kProgram, room_ / "alone");
  const auto before = listing(room_.path());
  const Finished checked = run({"./alone", "check", one}, here());
  EXPECT_EQ(checked.status, 0) << checked.err;
  EXPECT_TRUE(contains(checked.out, "not checked here")) << checked.out;
  EXPECT_EQ(difference(before, listing(room_.path())), "");

  EXPECT_EQ(run({"./alone", "build", one, "--only", "stl,3mf,glb"}, here()).status, 0) << "triangles need no kernel";
  fs::copy_file(kPdfWriter, room_ / kPdfWriter.filename());
  EXPECT_EQ(run({"./alone", "build", one, "--only", "drawing"}, here()).status, 0) << "the drawing needs no kernel";
  fs::remove_all(room_ / "out");
  for (const Strings& specs : {Strings{one}, {one, disc_spec("two").string()}}) {
    Strings command{"./alone", "build"};
    command.insert(command.end(), specs.begin(), specs.end());
    const Finished built = run(command, here());
    EXPECT_EQ(built.status, 3);
    EXPECT_TRUE(contains(built.err, "kernel") && contains(built.err, kKernel.filename().string())) << built.err;
    EXPECT_FALSE(fs::exists(room_ / "out"));
  }
}

TEST_F(Cli, TellsItsSchemas) {
  for (const Strings& command : {Strings{"schema"}, {"schema", "pulley"}, {"schema", "sheet"}, {"schema", "search"}}) {
    const Finished f = gw(command);
    EXPECT_EQ(f.status, 0);
    const json schema = json::parse(f.out, nullptr, false);
    ASSERT_FALSE(schema.is_discarded()) << command.back();
    EXPECT_EQ(schema.at("$schema"), "https://json-schema.org/draft/2020-12/schema");
    EXPECT_EQ(schema.at("type"), "object");
  }
}

TEST_F(Cli, ListsWhatTheCatalogueHolds) {
  struct Case {
    std::string topic, holds;
  };
  for (const Case& c : {Case{"grooves", "PK"},
                        {"materials", "steel-1045"},
                        {"finishes", "hard-anodise"},
                        {"fits", "H7"},
                        {"threads", "M8"},
                        {"keys", "3.3"},
                        {"belts", "PK"},
                        {"printers", "bench-220"},
                        {"plastics", "pla"},
                        {"machines", "mill-400"},
                        {"chucks", "power-200"},
                        {"tools", "VCGT 160402"},
                        {"cutting", "face_groove"},
                        {"rules", "minimum_wall"}}) {
    SCOPED_TRACE("list " + c.topic);
    const Finished f = gw({"list", c.topic});
    EXPECT_EQ(f.status, 0) << f.err;
    EXPECT_TRUE(contains(f.out, c.holds)) << f.out;
    EXPECT_GE(lines_of(f.out).size(), 3U);
  }
  EXPECT_EQ(gw({"list"}).out, gw({"list", "grooves"}).out);
}

TEST_F(Cli, TellsItsExitStatusesInTheHelp) {
  const Finished f = gw({"--help"});
  EXPECT_EQ(f.status, 0);
  for (const char* piece : {"Exit status", "0 ", "1 ", "2 ", "3 ", "build", "check", "schema", "list"}) {
    EXPECT_TRUE(contains(f.out, piece)) << piece << " is missing in:\n" << f.out;
  }
  for (const char* command : {"build", "check", "schema", "list"})
    EXPECT_EQ(gw({command, "--help"}).status, 0) << command;
}

TEST_F(Cli, ShowsInchesWhereTheyAreWanted) {
  const std::string one = disc_spec("one").string();
  const Finished inches = gw({"check", one, "--units", "in"});
  EXPECT_EQ(inches.status, 0);
  EXPECT_TRUE(contains(inches.out, " in (")) << inches.out;
  EXPECT_EQ(gw({"check", one, "--units", "in", "--json"}).out, gw({"check", one, "--json"}).out) << "JSON is always mm";
}

}  // namespace
