// The map of rooms (src/rooms.txt) is a rule: every #include in src and include is held against it.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;
const fs::path kRoot = GW_SOURCE_DIR;

struct Room {
  std::set<std::string> may;
  std::set<std::string> third_parties;
};

std::set<std::string> words(const std::string& text) {
  std::istringstream in(text);
  std::set<std::string> out;
  for (std::string w; in >> w;) out.insert(w);
  return out;
}

/// Rooms in the order of the file, so that "only rooms above" can be held too.
std::vector<std::pair<std::string, Room>> rooms() {
  std::ifstream in(kRoot / "src/rooms.txt");
  std::vector<std::pair<std::string, Room>> out;
  const std::regex line_form(R"(^([a-z]+) *:([^|]*)\|?(.*)$)");
  std::smatch m;
  for (std::string line; std::getline(in, line);) {
    if (std::regex_match(line, m, line_form)) out.push_back({m[1], {words(m[2]), words(m[3])}});
  }
  return out;
}

std::vector<fs::path> sources() {
  std::vector<fs::path> out;
  for (const char* top : {"src", "include/groovewright"}) {
    for (const auto& e : fs::recursive_directory_iterator(kRoot / top)) {
      if (e.path().extension() == ".h" || e.path().extension() == ".cpp") out.push_back(e.path());
    }
  }
  return out;
}

/// "src/gauge/rows.cpp" and "include/groovewright/gauge.h" are both in gauge.
std::string room_of(const fs::path& file) {
  const fs::path rel = fs::relative(file, kRoot);
  auto part = rel.begin();
  if (*part == "src") return (++part)->string();
  std::advance(part, 2);
  return part->extension() == ".h" ? part->stem().string() : part->string();
}

/// Whose header is it? "" for the standard library and the system's own.
std::string third_party_of(const std::string& header) {
  static const std::vector<std::pair<std::regex, std::string>> kOwners = {
      {std::regex(R"(^yaml-cpp/.*)"), "yaml-cpp"},
      {std::regex(R"(^CLI/.*)"), "CLI11"},
      {std::regex(R"(^zlib\.h$)"), "zlib"},
      {std::regex(R"(^polyclipping/.*)"), "polyclipping"},
      {std::regex(R"(^(cairo/)?cairo(-[a-z]+)?\.h$)"), "cairo"},
      {std::regex(R"(^ft2build\.h$|^FT_[A-Z]+_H$|^freetype/.*)"), "freetype"},
      {std::regex(R"(^[A-Za-z0-9_]+\.hxx$)"), "opencascade"}};
  for (const auto& [form, owner] : kOwners) {
    if (std::regex_match(header, form)) return owner;
  }
  if (header.find('/') != std::string::npos && !header.starts_with("sys/")) return header;
  return "";
}

TEST(Rooms, NameOnlyRoomsAboveThem) {
  std::set<std::string> above;
  const auto all = rooms();
  ASSERT_GE(all.size(), 13U);
  for (const auto& [name, room] : all) {
    for (const auto& used : room.may)
      EXPECT_TRUE(above.contains(used)) << name << " names " << used << ", which does not stand above it";
    above.insert(name);
  }
}

TEST(Rooms, IncludeOnlyWhatTheMapAllows) {
  std::map<std::string, Room> map;
  for (const auto& [name, room] : rooms()) map[name] = room;
  const std::regex include(R"re(^\s*#include\s*([<"])([^>"]+)[>"])re");
  int seen = 0;
  for (const auto& file : sources()) {
    const std::string room = room_of(file);
    ASSERT_TRUE(map.contains(room)) << file << " lies in no room of src/rooms.txt";
    std::ifstream in(file);
    std::smatch m;
    for (std::string line; std::getline(in, line);) {
      if (!std::regex_search(line, m, include)) continue;
      ++seen;
      const std::string header = m[2];
      if (header.starts_with("groovewright/")) {
        const std::string used = room_of(kRoot / "include" / header);
        EXPECT_TRUE(used == room || map[room].may.contains(used))
            << file << " includes " << header << ", but " << room << " may not see " << used;
        EXPECT_TRUE(fs::exists(kRoot / "include" / header)) << file << ": " << header;
      } else if (m[1] == "\"") {
        EXPECT_TRUE(fs::exists(file.parent_path() / header)) << file << " reaches into another room: " << header;
      } else if (const std::string owner = third_party_of(header); !owner.empty()) {
        EXPECT_TRUE(map[room].third_parties.contains(owner))
            << file << " includes <" << header << ">, which only its own room may";
      }
    }
  }
  EXPECT_GT(seen, 200) << "the reader of #include lines found next to nothing";
}

TEST(Rooms, EachHasItsDoor) {
  for (const auto& [name, room] : rooms()) {
    if (name == "cli") continue;  // nobody stands above it
    EXPECT_TRUE(fs::exists(kRoot / "include/groovewright" / (name + ".h")) ||
                fs::is_directory(kRoot / "include/groovewright" / name))
        << name;
  }
}

}  // namespace
