// processes.h: the program as a process, with its folders and what it says, for tests of the command line.
#pragma once

#include <fcntl.h>
#include <gtest/gtest.h>
#include <signal.h>
#include <stdlib.h>
#include <sys/mman.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <chrono>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <functional>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <thread>
#include <vector>

namespace processes {

namespace fs = std::filesystem;
using nlohmann::json;
using Strings = std::vector<std::string>;

inline const fs::path kProgram = fs::path(GW_BINARY_DIR) / "groovewright";
inline const fs::path kPdfWriter = fs::path(GW_BINARY_DIR) / "groovewright_pdf.so";
inline const fs::path kKernel = fs::path(GW_BINARY_DIR) / "groovewright_kernel.so";
inline const fs::path kDemos = fs::path(GW_SOURCE_DIR) / "profiles/demo";

inline constexpr double kPatience = 100;  // seconds until a process counts as hanging

// ---- Small tools.

inline std::string read_file(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

inline void write_file(const fs::path& path, const std::string& text) { std::ofstream(path, std::ios::binary) << text; }

inline bool contains(const std::string& text, const std::string& piece) {
  return text.find(piece) != std::string::npos;
}

inline Strings lines_of(const std::string& text) {
  Strings lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

/// A fresh folder that goes when the test ends.
class Scratch {
 public:
  Scratch() {
    std::string name = (fs::temp_directory_path() / "groovewright-XXXXXX").string();
    if (!mkdtemp(name.data())) throw std::runtime_error("mkdtemp: " + std::string(std::strerror(errno)));
    path_ = name;
  }
  ~Scratch() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
  [[nodiscard]] fs::path operator/(const std::string& name) const { return path_ / name; }
  [[nodiscard]] const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

/// All that lies below a folder: name to bytes; folders end in '/', links say where they point.
inline std::map<std::string, std::string> listing(const fs::path& folder) {
  std::map<std::string, std::string> found;
  if (!fs::exists(folder)) return found;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    const std::string name = fs::relative(entry.path(), folder).string();
    if (entry.is_symlink()) {
      found[name] = "-> " + fs::read_symlink(entry.path()).string();
    } else if (entry.is_directory()) {
      found[name + "/"];
    } else {
      found[name] = entry.is_regular_file() ? read_file(entry.path()) : "special";
    }
  }
  return found;
}

inline std::set<std::string> names_in(const fs::path& folder) {
  std::set<std::string> names;
  if (!fs::exists(folder)) return names;
  for (const auto& entry : fs::directory_iterator(folder)) names.insert(entry.path().filename().string());
  return names;
}

/// Where two folders differ, in words; empty where they hold the same bytes under the same names.
inline std::string difference(const std::map<std::string, std::string>& a,
                              const std::map<std::string, std::string>& b) {
  std::string out;
  for (const auto& [name, bytes] : a) {
    const auto other = b.find(name);
    if (other == b.end()) {
      out += name + " is missing; ";
    } else if (other->second != bytes) {
      out += name + " differs; ";
    }
  }
  for (const auto& [name, bytes] : b) out += a.contains(name) ? "" : name + " is new; ";
  return out;
}

// ---- Processes.

struct Finished {
  int status = -1;  ///< exit status; minus the signal where one ended it
  std::string out, err;
  long memory_kib = 0;
  double seconds = 0;
};

struct How {
  fs::path folder = fs::current_path();
  Strings environment;              ///< NAME=value, in addition
  std::optional<int> standard_out;  ///< a descriptor instead of the one that is collected
  std::function<void()> in_child = [] {};
  std::function<void(pid_t)> meanwhile = [](pid_t) {};
};

inline std::string collected(int fd) {
  std::string text;
  char buffer[1 << 16];
  lseek(fd, 0, SEEK_SET);
  for (ssize_t n; (n = read(fd, buffer, sizeof buffer)) > 0;) text.append(buffer, static_cast<std::size_t>(n));
  close(fd);
  return text;
}

[[noreturn]] inline void become(const Strings& command, const How& how, int out, int err) {
  dup2(how.standard_out.value_or(out), STDOUT_FILENO);
  dup2(err, STDERR_FILENO);
  for (const auto& setting : how.environment) putenv(const_cast<char*>(setting.c_str()));
  how.in_child();
  std::vector<char*> argv;
  for (const auto& word : command) argv.push_back(const_cast<char*>(word.c_str()));
  argv.push_back(nullptr);
  if (chdir(how.folder.c_str()) == 0) execvp(argv[0], argv.data());
  _exit(127);
}

inline Finished run(const Strings& command, const How& how = {}) {
  using Clock = std::chrono::steady_clock;
  const int out = memfd_create("out", MFD_CLOEXEC), err = memfd_create("err", MFD_CLOEXEC);
  const auto begun = Clock::now();
  const auto elapsed = [&] { return std::chrono::duration<double>(Clock::now() - begun).count(); };
  const pid_t pid = fork();
  if (pid == 0) become(command, how, out, err);
  how.meanwhile(pid);
  Finished f;
  int status = 0;
  rusage used{};
  while (wait4(pid, &status, WNOHANG, &used) == 0) {
    if (elapsed() > kPatience) kill(pid, SIGKILL);
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
  }
  f.status = WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status);
  f.memory_kib = used.ru_maxrss;
  f.seconds = elapsed();
  f.out = collected(out);
  f.err = collected(err);
  return f;
}

inline Finished groovewright(Strings arguments, const How& how = {}) {
  arguments.insert(arguments.begin(), kProgram.string());
  return run(arguments, how);
}

/// A plain disc, the cheapest spec there is.
inline std::string disc(const std::string& name, const std::string& size = "outside_diameter: 60 mm") {
  return "pulley: " + name + "\nmaterial: steel-1045\nrims: [{section: PK, ribs: 2, size: {" + size +
         "}}]\nbody: {solid: true}\nhub: {bore: {diameter: 14 mm}}\n";
}
inline const std::string kBadDisc = "pulley: bad\nmaterial: steel-1045\nrims: []\n";

/// A scratch folder as the place to run in, with specs in it.
class Cli : public ::testing::Test {
 protected:
  fs::path spec(const std::string& name, const std::string& text) {
    write_file(room_ / (name + ".yaml"), text);
    return room_ / (name + ".yaml");
  }
  fs::path disc_spec(const std::string& name) { return spec(name, disc(name)); }
  [[nodiscard]] How here() const {
    How how;
    how.folder = room_.path();
    return how;
  }
  [[nodiscard]] Finished gw(const Strings& arguments) const { return groovewright(arguments, here()); }
  Scratch room_;
};

// ---- What a folder and a refusal should be.

/// The manifest's list against the disk, with sha256sum as second opinion. Empty where all agrees.
inline std::string manifest_errors(const fs::path& folder) {
  const json manifest = json::parse(read_file(folder / "manifest.json"), nullptr, false);
  if (manifest.is_discarded()) return "manifest.json is no JSON";
  std::string errors;
  std::set<std::string> named{"manifest.json"};
  for (const json& file : manifest.at("files")) {
    const std::string name = file.at("name");
    named.insert(name);
    if (!fs::exists(folder / name)) {
      errors += name + " is not there; ";
      continue;
    }
    if (fs::file_size(folder / name) != file.at("size").get<std::uintmax_t>()) errors += name + " has another size; ";
    const Finished sum = run({"sha256sum", (folder / name).string()});
    if (!sum.out.starts_with(file.at("sha256").get<std::string>() + " ")) errors += name + " has another SHA-256; ";
  }
  if (named != names_in(folder)) errors += "the folder holds other files than the manifest; ";
  return errors;
}

/// `# expect LINE:COLUMN E0123 fragment`, perhaps with a `# says …` line behind it; line 0 means the whole file.
struct Expectation {
  std::string place, code, fragment, says;
};

inline std::vector<Expectation> expectations(const fs::path& spec) {
  const fs::path beside = spec.string() + ".expect";
  static const std::regex kExpect(R"(# expect (\d+):(\d+) (E\d{4})(?: (.+))?)");
  std::vector<Expectation> found;
  for (const auto& line : lines_of(read_file(fs::exists(beside) ? beside : spec))) {
    std::smatch m;
    if (std::regex_match(line, m, kExpect)) {
      const std::string place = m[1] == "0" ? "" : ":" + m[1].str() + ":" + m[2].str();
      found.push_back({spec.string() + place + ": error: ", "[" + m[3].str() + "]", m[4].str(), ""});
    } else if (line.starts_with("# says ") && !found.empty()) {
      found.back().says = line.substr(7);
    } else {
      break;
    }
  }
  return found;
}

}  // namespace processes
