// Whole-process figures: our program against the bare kernel and against itself, in paired runs (A B A B …), medians
// and ratios only: machines are noisy, pairs are not. Prints a Markdown table.
//
//   whole_process PROGRAM BARE_KERNEL SCRATCH_FOLDER [runs]
#include <fcntl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;
using Command = std::vector<std::string>;

struct Run {
  double ms = 0;
  double mib = 0;
  int status = 0;
};

Run run(const Command& command) {
  std::vector<char*> argv;
  for (const auto& word : command) argv.push_back(const_cast<char*>(word.c_str()));
  argv.push_back(nullptr);
  const auto begin = std::chrono::steady_clock::now();
  const pid_t pid = fork();
  if (pid == 0) {
    const int null = open("/dev/null", O_WRONLY);
    dup2(null, STDOUT_FILENO);
    dup2(null, STDERR_FILENO);
    execv(argv[0], argv.data());
    _exit(127);
  }
  int status = 0;
  struct rusage usage {};
  wait4(pid, &status, 0, &usage);
  const std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - begin;
  return {took.count(), static_cast<double>(usage.ru_maxrss) / 1024, WIFEXITED(status) ? WEXITSTATUS(status) : 128};
}

double median(std::vector<double> v) {
  std::sort(v.begin(), v.end());
  return v[v.size() / 2];
}

struct Paired {
  double a_ms = 0, b_ms = 0, ratio = 0, a_mib = 0, b_mib = 0;
};

Paired paired(const Command& a, const Command& b, int runs) {
  std::vector<double> ta, tb, ratios, ma, mb;
  for (int i = -1; i < runs; ++i) {
    const Run x = run(a), y = run(b);
    if (x.status > 1 || y.status > 1) {
      std::fprintf(stderr, "a command failed: %s (%d), %s (%d)\n", a[0].c_str(), x.status, b[0].c_str(), y.status);
      std::exit(1);
    }
    if (i < 0) continue;  // warm-up
    ta.push_back(x.ms), tb.push_back(y.ms), ratios.push_back(x.ms / y.ms), ma.push_back(x.mib), mb.push_back(y.mib);
  }
  return {median(ta), median(tb), median(ratios), median(ma), median(mb)};
}

/// The bare kernel's own part, as a spec.
std::string spec(const std::string& name, int ribs, int holes) {
  std::string s = "pulley: " + name +
                  "\nmaterial: aluminium-6061-T6\nrims:\n  - section: PK\n    ribs: " + std::to_string(ribs) +
                  "\n    size: {outside_diameter: 150 mm}\n    crest_radius: 0.25 mm\n    root_radius: 0.5 mm\n    "
                  "edge_distance: 3.3 mm\n"
                  "    front_flange: {diameter: 158 mm, thickness: 2 mm, lead_in: 0 deg}\n    rear_flange: {diameter: "
                  "158 mm, thickness: 2 mm, lead_in: 0 deg}\n"
                  "body: {web: {thickness: 10 mm}, rim_thickness: 7 mm, fillet: 3 mm}\nhub:\n  diameter: 80 mm\n  "
                  "bore: {diameter: 30 mm}\n"
                  "  register: {diameter: 35 mm, depth: 6 mm}\n";
  // Heads of M8 overlap beyond eight on this circle, which our program refuses and the bare kernel cuts all the same.
  if (holes > 0)
    s += "  bolts: {count: " + std::to_string(holes) + ", size: " + (holes > 8 ? "M3" : "M8") +
         ", circle: 60 mm, counterbore: front}\n";
  return s;
}

std::string write_spec(const fs::path& folder, const std::string& name, int ribs, int holes) {
  const fs::path path = folder / (name + ".yaml");
  std::ofstream(path) << spec(name, ribs, holes);
  return path.string();
}

/// Of a binary STL file.
double triangles(const fs::path& stl) { return (static_cast<double>(fs::file_size(stl)) - 84) / 50; }

void row(const char* what, const char* figure, double value, const char* goal) {
  std::printf("| %s | %s | %.4g | %s |\n", what, figure, value, goal);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 4) {
    std::fprintf(stderr, "usage: whole_process PROGRAM BARE_KERNEL SCRATCH [runs]\n");
    return 2;
  }
  const std::string program = argv[1], bare = argv[2];
  const fs::path scratch = argv[3];
  const int runs = argc > 4 ? std::atoi(argv[4]) : 9;
  for (const char* left : {"out", "one", "two"}) fs::remove_all(scratch / left);  // by an earlier run
  fs::create_directories(scratch);
  const std::string out = (scratch / "out").string();
  const auto build = [&](const std::string& path, std::initializer_list<std::string> more) {
    Command c{program, "build", path, "--out", out, "--quiet", "--deflection", "0.05"};
    c.insert(c.end(), more);
    return c;
  };
  const auto bare_run = [&](int ribs, int holes) {
    return Command{bare, std::to_string(ribs), std::to_string(holes), scratch.string()};
  };

  std::printf("| what | figure | measured | goal |\n|---|---|--:|--:|\n");
  const std::string eight = write_spec(scratch, "eight", 8, 6);
  const Paired all = paired(build(eight, {}), bare_run(8, 6), runs);
  row("build, all files and witnesses", "of the bare kernel's time", all.ratio, "0.25");
  row("", "ms", all.a_ms, "");
  row("", "bare kernel, ms", all.b_ms, "");
  row("", "peak MiB", all.a_mib, "200");
  const Paired two = paired(build(eight, {"--only", "step,stl"}), bare_run(8, 6), runs);
  row("build --only step,stl", "of the bare kernel's time", two.ratio, "0.12");
  row("", "ms", two.a_ms, "");

  const double ours = triangles(fs::path(out) / "eight" / "eight.stl"), kernels = triangles(scratch / "bare.stl");
  row("triangles at 0.05 mm", "ours", ours, "");
  row("", "kernel's mesher (0.2 rad)", kernels, "");
  row("", "ours, of the kernel's", ours / kernels, "1");

  const Command floor{"/bin/true"};
  const Paired sheet = paired({program, "build", GW_SOURCE_DIR "/profiles/demo/larkspur-crank-24.yaml", "--out", out,
                               "--quiet", "--only", "drawing"},
                              floor, 2 * runs + 1);
  row("build --only drawing, the eight-rib demo", "ms", sheet.a_ms, "100");
  row("", "ms above an empty process", sheet.a_ms - sheet.b_ms, "");
  row("", "peak MiB", sheet.a_mib, "");
  const std::pair<const char*, Command> quick[] = {{"check", {program, "check", eight}},
                                                   {"schema", {program, "schema"}},
                                                   {"list", {program, "list"}},
                                                   {"--help", {program, "--help"}}};
  for (const auto& [name, command] : quick) {
    const Paired p = paired(command, floor, 2 * runs + 1);
    row(name, "ms", p.a_ms, "15");
    row("", "ms above an empty process", p.a_ms - p.b_ms, "");
  }

  // Slopes against the smallest part, both programs in the same pairs.
  struct Size {
    int ribs, holes;
  };
  const auto both = [&](Size s) {
    return paired(
        build(write_spec(scratch, "r" + std::to_string(s.ribs) + "h" + std::to_string(s.holes), s.ribs, s.holes), {}),
        bare_run(s.ribs, s.holes), std::max(3, runs / 3));
  };
  const Paired r4 = both({4, 6}), r22 = both({22, 6}), r40 = both({40, 6});
  row("4 to 40 grooves", "ms a groove", (r40.a_ms - r4.a_ms) / 36, "");
  row("", "slope, of the bare kernel's", (r40.a_ms - r4.a_ms) / (r40.b_ms - r4.b_ms), "0.5");
  row("", "second half's slope, of the first half's", (r40.a_ms - r22.a_ms) / (r22.a_ms - r4.a_ms), "1 = linear");
  const Paired h0 = both({8, 0}), h24 = both({8, 24});
  row("0 to 24 holes", "ms a hole", (h24.a_ms - h0.a_ms) / 24, "");
  row("", "slope, of the bare kernel's", (h24.a_ms - h0.a_ms) / (h24.b_ms - h0.b_ms), "0.5");

  Command one{program, "build"}, several;
  for (int i = 0; i < 50; ++i) one.push_back(write_spec(scratch, "batch" + std::to_string(i), 4 + i % 8, i % 7));
  // No peer here: built as people build, at the default deflection.
  for (const char* word : {"--quiet", "--out"}) one.push_back(word);
  several = one;
  one.insert(one.end(), {(scratch / "one").string(), "--jobs", "1"});
  several.insert(several.end(), {(scratch / "two").string(), "--jobs", "2"});
  const Paired batch = paired(one, several, 5);
  row("50 specs", "--jobs 1 over --jobs 2", batch.ratio, "1.8");
  row("", "peak MiB of a child", std::max(batch.a_mib, batch.b_mib), "200");
  const std::string same =
      "diff -r '" + (scratch / "one").string() + "' '" + (scratch / "two").string() + "' >/dev/null";
  row("", "same bytes (1 = yes)", std::system(same.c_str()) == 0 ? 1 : 0, "1");
  return 0;
}
