#include "files.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>

namespace groovewright::cli {
namespace {

namespace fs = std::filesystem;

constexpr off_t kMaxFile = 1 << 20;
constexpr std::size_t kMaxCatalogFiles = 1000;

class Descriptor {
 public:
  explicit Descriptor(int fd) : fd_(fd) {}
  ~Descriptor() {
    if (fd_ >= 0) close(fd_);
  }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  [[nodiscard]] int get() const { return fd_; }

 private:
  int fd_;
};

}  // namespace

std::optional<TextFile> read_text(const std::string& path, const Place& asked_from, Diagnostics& diagnostics) {
  const auto refuse = [&](Code code, const std::string& why) -> std::optional<TextFile> {
    diagnostics.error(code, asked_from, path, "'" + path + "' " + why);
    return std::nullopt;
  };
  // Not blocking: opening a pipe that nobody writes to would wait for ever.
  const Descriptor file(open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC));
  struct stat info {};
  if (file.get() < 0 || fstat(file.get(), &info) != 0)
    return refuse(Code::not_readable, std::string("can't be read: ") + std::strerror(errno));
  if (S_ISDIR(info.st_mode)) return refuse(Code::not_readable, "is a folder: name the document in it");
  if (!S_ISREG(info.st_mode)) return refuse(Code::not_readable, "is no regular file");
  if (info.st_size > kMaxFile)
    return refuse(Code::too_large, "is " + std::to_string(info.st_size) + " bytes long; a document may have " +
                                       std::to_string(kMaxFile));
  TextFile out{path, std::string(static_cast<std::size_t>(info.st_size), '\0')};
  std::size_t got = 0;
  while (got < out.text.size()) {
    const ssize_t n = read(file.get(), out.text.data() + got, out.text.size() - got);
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) return refuse(Code::not_readable, std::string("can't be read: ") + std::strerror(errno));
    if (n == 0) break;
    got += static_cast<std::size_t>(n);
  }
  out.text.resize(got);
  return out;
}

std::vector<TextFile> read_references(const std::string& file,
                                      const std::vector<spec::Written<std::string>>& references,
                                      Diagnostics& diagnostics) {
  std::vector<TextFile> files;
  const fs::path folder = fs::path(file).parent_path();
  for (const auto& reference : references) {
    const fs::path named(reference.value);
    if (named.is_absolute() || std::find(named.begin(), named.end(), fs::path("..")) != named.end()) {
      diagnostics.error(Code::reference_escapes, reference.place, reference.value,
                        "'" + reference.value +
                            "': a file named here lies beside the document or below it: no '..' and no absolute path");
      continue;
    }
    std::error_code unreadable;
    if (fs::status(folder / named, unreadable).type() == fs::file_type::not_found) {
      diagnostics.error(
          Code::reference_missing, reference.place, reference.value,
          "'" + (folder / named).string() + "' is not there; a file named here lies beside the document or below it");
      continue;
    }
    if (auto text = read_text((folder / named).string(), reference.place, diagnostics))
      files.push_back(std::move(*text));
  }
  return files;
}

std::vector<TextFile> read_catalog_folder(const std::string& folder, Diagnostics& diagnostics) {
  std::vector<TextFile> files;
  if (folder.empty()) return files;
  std::vector<std::string> paths;
  std::error_code failed;
  for (auto it = fs::recursive_directory_iterator(folder, failed); !failed && it != fs::recursive_directory_iterator();
       it.increment(failed)) {
    if (it->path().extension() == ".yaml") paths.push_back(it->path().string());
    if (paths.size() > kMaxCatalogFiles) break;
  }
  if (failed || paths.size() > kMaxCatalogFiles) {
    diagnostics.error(
        Code::not_readable, {folder, 0, 0}, folder,
        failed ? "--catalog: '" + folder + "' can't be read: " + failed.message()
               : "--catalog: '" + folder + "' holds more than " + std::to_string(kMaxCatalogFiles) + " data files");
    return files;
  }
  std::sort(paths.begin(), paths.end());
  for (const auto& p : paths) {
    if (auto text = read_text(p, {p, 0, 0}, diagnostics)) files.push_back(std::move(*text));
  }
  return files;
}

}  // namespace groovewright::cli
