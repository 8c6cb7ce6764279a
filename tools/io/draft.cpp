#include "tools/io/draft.hpp"

#include <fcntl.h>
#include <stdlib.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <ctime>
#include <system_error>
#include <utility>

namespace tuft::io {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kSuffix = 6;  // letters that make the name unique
// A draft younger than this may be one whose owner has not locked it yet [s].
constexpr std::time_t kYoung = 5;

std::string prefix_of(const fs::path& place) { return "." + place.filename().string() + ".part-"; }

fs::path folder_of(const fs::path& place) {
  return place.has_parent_path() ? place.parent_path() : fs::path(".");
}

// True when nobody holds the draft: its owner was killed. Where locks are unknown nothing is known.
bool abandoned(const fs::path& draft) {
  const int file = open(draft.c_str(), O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
  if (file < 0) return false;
  struct stat state {};
  const bool ours = fstat(file, &state) == 0 && (S_ISDIR(state.st_mode) || S_ISREG(state.st_mode)) &&
                    state.st_uid == geteuid() && std::time(nullptr) - state.st_mtime > kYoung;
  const bool free = ours && flock(file, LOCK_EX | LOCK_NB) == 0;
  close(file);
  return free;
}

void sweep(const fs::path& place) {
  const std::string prefix = prefix_of(place);
  std::error_code ignored;
  for (fs::directory_iterator entry(folder_of(place), ignored), end; entry != end; entry.increment(ignored)) {
    const std::string name = entry->path().filename().string();
    if (name.size() != prefix.size() + kSuffix || name.compare(0, prefix.size(), prefix) != 0) continue;
    std::error_code failed;
    if (abandoned(entry->path())) fs::remove_all(entry->path(), failed);
    if (ignored) break;
  }
}

std::string pattern_of(const fs::path& place) {
  return (folder_of(place) / (prefix_of(place) + std::string(kSuffix, 'X'))).string();
}

[[noreturn]] void fail(int error) { throw std::system_error(error, std::generic_category()); }

}  // namespace

Draft Draft::folder_beside(const fs::path& place) {
  sweep(place);
  std::string name = pattern_of(place);
  if (mkdtemp(name.data()) == nullptr) fail(errno);
  // mkdtemp() shuts everybody else out; a results folder gets the permissions any other new folder would get.
  std::error_code ignored;
  const mode_t mask = umask(0);
  umask(mask);
  fs::permissions(name, static_cast<fs::perms>(0777 & ~mask), ignored);
  const int lock = open(name.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (lock >= 0) flock(lock, LOCK_EX | LOCK_NB);
  return {name, lock};
}

Draft Draft::file_beside(const fs::path& place) {
  sweep(place);
  std::string name = pattern_of(place);
  const int file = mkostemp(name.data(), O_CLOEXEC);
  if (file < 0) fail(errno);
  flock(file, LOCK_EX | LOCK_NB);
  Draft draft(name, file);
  if (fchmod(file, 0644) != 0) fail(errno);
  return draft;
}

Draft::Draft(Draft&& other) noexcept
    : path_(std::exchange(other.path_, fs::path())), lock_(std::exchange(other.lock_, -1)) {}

Draft& Draft::operator=(Draft&& other) noexcept {
  std::swap(path_, other.path_);
  std::swap(lock_, other.lock_);
  return *this;
}

Draft::~Draft() {
  std::error_code ignored;
  if (!path_.empty()) fs::remove_all(path_, ignored);
  if (lock_ >= 0) close(lock_);
}

}  // namespace tuft::io
