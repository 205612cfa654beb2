#include "describe.h"
#include "describe_range.h"
#include "reader.h"

namespace groovewright::spec {

bool is_name(std::string_view text) {
  if (text.empty() || text.size() > 64) return false;
  const auto plain = [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'); };
  if (!plain(text[0])) return false;
  for (const char c : text) {
    if (!plain(c) && c != '.' && c != '_' && c != '-') return false;
  }
  return true;
}

std::optional<Pulley> read_pulley(const TextFile& file, Diagnostics& diagnostics) {
  return read_document<Pulley>(file, "pulley", diagnostics);
}

std::optional<Drive> read_drive(const TextFile& file, Diagnostics& diagnostics) {
  return read_document<Drive>(file, "drive", diagnostics);
}

std::optional<Range> read_range(const TextFile& file, Diagnostics& diagnostics) {
  return read_document<Range>(file, "range", diagnostics);
}

std::vector<Written<std::string>> references(const Drive& drive) {
  std::vector<Written<std::string>> files;
  for (const DrivePulley& p : drive.pulleys) {
    if (p.spec) files.push_back(*p.spec);
  }
  return files;
}

std::vector<Written<std::string>> references(const Pulley& pulley) {
  std::vector<Written<std::string>> files;
  for (const Rim& rim : pulley.rims) {
    if (rim.section && !rim.section->file.empty()) files.push_back({rim.section->file, rim.section->place});
  }
  return files;
}

}  // namespace groovewright::spec
