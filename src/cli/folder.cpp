#include "folder.h"

#include <fcntl.h>
#include <stdio.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <set>

#include "groovewright/base/text.h"
#include "terminal.h"

namespace groovewright::cli {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void fail(const std::string& what) { throw CannotWrite(what + ": " + std::strerror(errno)); }

/// One run of a name at a time; the lock file goes when the run is over.
class NameLock {
 public:
  explicit NameLock(std::string path) : path_(std::move(path)) {
    for (;;) {
      fd_ = open(path_.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0666);
      if (fd_ < 0) fail(path_);
      while (flock(fd_, LOCK_EX) != 0) {
        if (errno != EINTR) fail(path_);
        if (interrupted()) {
          close(fd_);
          throw Interrupted{};
        }
      }
      // The run before us may have removed the file we waited on: then lock the new one.
      struct stat held {
      }, named{};
      if (fstat(fd_, &held) == 0 && stat(path_.c_str(), &named) == 0 && held.st_ino == named.st_ino) return;
      close(fd_);
    }
  }
  ~NameLock() {
    unlink(path_.c_str());
    close(fd_);
  }
  NameLock(const NameLock&) = delete;
  NameLock& operator=(const NameLock&) = delete;

 private:
  std::string path_;
  int fd_ = -1;
};

/// A folder that is removed again unless it was kept.
class Temporary {
 public:
  explicit Temporary(fs::path path) : path_(std::move(path)) {
    if (mkdir(path_.c_str(), 0777) != 0) fail(path_.string());
  }
  ~Temporary() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  Temporary(const Temporary&) = delete;
  Temporary& operator=(const Temporary&) = delete;
  [[nodiscard]] const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

void sync(const fs::path& path) {
  const int fd = open(path.c_str(), O_RDONLY | O_CLOEXEC);
  if (fd < 0) fail(path.string());
  const bool done = fsync(fd) == 0;
  close(fd);
  if (!done) fail(path.string());
}

/// Begins to bring the bytes to the disk and does not wait: `sync` must follow.
void write_file(const fs::path& path, const std::string& bytes) {
  const int fd = open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
  if (fd < 0) fail(path.string());
  try {
    write_all(fd, bytes, path.string());
  } catch (...) {
    close(fd);
    throw;
  }
  // A hint only: what goes wrong shows in `sync`.
  static_cast<void>(sync_file_range(fd, 0, 0, SYNC_FILE_RANGE_WRITE));
  if (close(fd) != 0) fail(path.string());
}

/// Names in an older manifest: every "name" value in it. A file that is no manifest of ours lists nothing.
std::set<std::string> listed_in(const fs::path& manifest) {
  std::set<std::string> names;
  FILE* file = fopen(manifest.c_str(), "re");
  if (!file) return names;
  std::string text;
  char buffer[4096];
  for (std::size_t n; (n = fread(buffer, 1, sizeof buffer, file)) > 0;) text.append(buffer, n);
  fclose(file);
  constexpr std::string_view kKey = "\"name\": \"";
  for (std::size_t at = text.find(kKey); at != std::string::npos; at = text.find(kKey, at)) {
    at += kKey.size();
    names.insert(text.substr(at, text.find('"', at) - at));
  }
  return names;
}

/// What lies in the folder that no earlier run of ours put there.
std::vector<std::string> strangers(const fs::path& folder, const std::string& manifest_name) {
  const auto ours = listed_in(folder / manifest_name);
  std::vector<std::string> found;
  for (const auto& entry : fs::directory_iterator(folder)) {
    const std::string name = entry.path().filename().string();
    if (name == manifest_name && !ours.empty()) continue;
    if (!ours.contains(name) || !entry.is_regular_file()) found.push_back(name);
  }
  std::sort(found.begin(), found.end());
  return found;
}

void sweep_stale(const fs::path& parent, const std::string& prefix) {
  std::error_code ignored;
  for (const auto& entry : fs::directory_iterator(parent, ignored)) {
    if (entry.path().filename().string().starts_with(prefix)) fs::remove_all(entry.path(), ignored);
  }
}

}  // namespace

void put_folder(const std::string& parent_name, const std::string& name, const Artifacts& artifacts,
                const std::string& manifest_name) {
  try {
    fs::create_directories(parent_name);
    const fs::path parent = fs::canonical(parent_name);
    // A link stays a link: what it points at is replaced.
    fs::path target = parent / name;
    if (fs::is_symlink(target)) target = fs::canonical(target);
    const fs::path where = target.parent_path();
    const std::string hidden = "." + name + ".part-";
    const NameLock lock((where / ("." + name + ".lock")).string());
    sweep_stale(where, hidden);
    const bool there = fs::exists(target);
    if (there && !fs::is_directory(target))
      throw CannotWrite(target.string() + ": is a file, not a folder: move it away");
    if (there) {
      const auto others = strangers(target, manifest_name);
      if (!others.empty()) {
        throw CannotWrite(target.string() + ": holds " + listed(others) +
                          ", which no run of this program wrote: move " + (others.size() == 1 ? "it" : "them") +
                          " away, or choose another --out");
      }
    }
    const Temporary fresh(where / (hidden + std::to_string(getpid())));
    for (const Artifact& a : artifacts) {
      stop_if_interrupted();
      write_file(fresh.path() / a.name, a.bytes);
    }
    for (const Artifact& a : artifacts) sync(fresh.path() / a.name);
    sync(fresh.path());
    stop_if_interrupted();
    // An exchange leaves the old folder under the temporary name, which is then removed.
    const unsigned how = there ? RENAME_EXCHANGE : RENAME_NOREPLACE;
    if (renameat2(AT_FDCWD, fresh.path().c_str(), AT_FDCWD, target.c_str(), how) != 0) fail(target.string());
    sync(where);
  } catch (const fs::filesystem_error& e) {
    throw CannotWrite(e.path1().string() + ": " + e.code().message());
  }
}

}  // namespace groovewright::cli
