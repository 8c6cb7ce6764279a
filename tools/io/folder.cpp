#include "tools/io/folder.hpp"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>

#include <atomic>
#include <cerrno>
#include <cstring>
#include <fstream>
#include <nlohmann/json.hpp>
#include <set>

#include "geometry/device/lists.hpp"
#include "tools/figure/png.hpp"
#include "tools/io/run.hpp"
#include "tools/io/utf8.hpp"

namespace tuft::io {
namespace {

// A signal handler can reach nothing else. Blocking the signals would do without, but only in one thread, and
// the solver's worker threads would still be ended by them.
std::atomic<int> noted_signal{0};
static_assert(std::atomic<int>::is_always_lock_free, "a signal handler may only touch lock-free values");

void note(int number) { noted_signal = number; }

namespace fs = std::filesystem;

std::string shown(const fs::path& path) { return printable(path.string()); }

FolderError failed(const std::string& what, const fs::path& path, int error) {
  return FolderError("cannot " + what + " " + shown(path) + ": " + std::strerror(error));
}

// Absolute, without "." and "..", without a slash at the end.
fs::path clean(const fs::path& path) {
  fs::path result = fs::absolute(path).lexically_normal();
  return result.has_filename() ? result : result.parent_path();
}

fs::path make_draft(const fs::path& place) {
  std::string pattern = (place.parent_path() / ("." + place.filename().string() + ".part-XXXXXX")).string();
  if (mkdtemp(pattern.data()) == nullptr) throw failed("make a folder in", place.parent_path(), errno);
  // mkdtemp() shuts everybody else out; a results folder gets the permissions any other new folder would get.
  std::error_code ignored;
  const mode_t mask = umask(0);
  umask(mask);
  fs::permissions(pattern, static_cast<fs::perms>(0777 & ~mask), ignored);
  return pattern;
}

// The files that a results.json says belong to it; empty when it is no results file of this program.
std::set<std::string> listed_files(const fs::path& results) {
  std::ifstream stream(results, std::ios::binary);
  const auto json = nlohmann::json::parse(stream, nullptr, false);
  std::set<std::string> files;
  if (!json.is_object() || json.value("format", nlohmann::json()) != kResultsFormat) return files;
  const auto list = json.value("files", nlohmann::json());
  for (const auto& entry : list)
    if (entry.is_string()) files.insert(entry.get<std::string>());
  return files;
}

// The first entry of the folder that is not listed; empty if there is none.
std::string stranger_in(const fs::path& place, const std::set<std::string>& files) {
  for (const auto& entry : fs::recursive_directory_iterator(place)) {
    if (entry.is_directory() && !entry.is_symlink()) continue;
    const std::string name = entry.path().lexically_relative(place).generic_string();
    if (files.count(name) == 0) return name;
  }
  return "";
}

}  // namespace

std::string reason_to_keep(const fs::path& place) {
  const std::string name = shown(place);
  const fs::file_status status = fs::symlink_status(place);
  if (!fs::exists(status)) return "";
  if (fs::is_symlink(status)) return name + " is a link; name the folder itself";
  if (!fs::is_directory(status)) return name + " exists and is no folder";
  if (fs::is_empty(place)) return "";
  const std::set<std::string> files = listed_files(place / "results.json");
  if (files.empty()) return name + " exists and is no results folder of tuft; it was left alone";
  const std::string stranger = stranger_in(place, files);
  if (stranger.empty()) return "";
  return name + " also holds " + printable(stranger) + ", which tuft did not write; it was left alone";
}

NotedInterrupts::NotedInterrupts() {
  noted_signal = 0;
  struct sigaction action {};
  action.sa_handler = note;
  sigemptyset(&action.sa_mask);
  action.sa_flags = SA_RESTART;
  for (std::size_t i = 0; i < kNoted.size(); ++i) {
    sigaction(kNoted[i], nullptr, &before_[i]);
    if (before_[i].sa_handler != SIG_IGN) sigaction(kNoted[i], &action, nullptr);
  }
}

NotedInterrupts::~NotedInterrupts() {
  for (std::size_t i = 0; i < kNoted.size(); ++i) sigaction(kNoted[i], &before_[i], nullptr);
  const int number = noted_signal.exchange(0);
  if (number != 0 || aside_ != 0) raise(number != 0 ? number : aside_);
}

void NotedInterrupts::set_aside() { aside_ = noted_signal.exchange(0); }

bool NotedInterrupts::pending() const { return noted_signal != 0; }

ResultsFolder::ResultsFolder(const fs::path& place, std::vector<std::string> first)
    : files_(std::move(first)) {
  try {
    place_ = clean(place);
    if (!fs::is_directory(place_.parent_path()))
      throw FolderError("there is no folder " + shown(place_.parent_path()) + " to put the results in");
    const std::string reason = reason_to_keep(place_);
    if (!reason.empty()) throw FolderError(reason);
    draft_ = make_draft(place_);
  } catch (const fs::filesystem_error& error) {
    throw FolderError("cannot use " + shown(place) + ": " + error.code().message());
  }
}

ResultsFolder::~ResultsFolder() {
  std::error_code ignored;
  if (!draft_.empty()) fs::remove_all(draft_, ignored);
}

void ResultsFolder::stop_if_interrupted() const {
  if (interrupts_.pending()) throw FolderError("interrupted; nothing was written");
}

void ResultsFolder::make_partial() {
  interrupts_.set_aside();
  fs::path partial = place_;
  partial += ".partial";
  try {
    const std::string reason = reason_to_keep(partial);
    if (!reason.empty()) throw FolderError(reason);
  } catch (const fs::filesystem_error& error) {
    throw FolderError("cannot use " + shown(partial) + ": " + error.code().message());
  }
  place_ = std::move(partial);
}

fs::path ResultsFolder::path_for(const std::string& file) {
  stop_if_interrupted();
  const fs::path path = draft_ / file;
  std::error_code error;
  fs::create_directories(path.parent_path(), error);
  if (error) throw FolderError("cannot make " + shown(path.parent_path()) + ": " + error.message());
  if (!geometry::contains(files_, file)) files_.push_back(file);
  return path;
}

void ResultsFolder::draw(const std::string& name, const std::string& svg, int pixels) {
  write(name + ".svg", svg);
  write(name + ".png", figure::png_of_svg(svg, pixels));
}

void ResultsFolder::write(const std::string& file, const std::string& bytes) {
  const fs::path path = path_for(file);
  if (const int error = write_bytes(path, bytes)) throw failed("write", path, error);
}

void ResultsFolder::publish() {
  stop_if_interrupted();
  // An exchange leaves no moment without a folder in the place; what was there becomes the draft to remove.
  const std::string from = draft_.string();
  const std::string to = place_.string();
  const bool taken = fs::exists(fs::symlink_status(place_));
  int result =
      renameat2(AT_FDCWD, from.c_str(), AT_FDCWD, to.c_str(), taken ? RENAME_EXCHANGE : RENAME_NOREPLACE);
  if (result == 0) {
    if (!taken) draft_.clear();
    return;
  }
  // Some file systems know no such flags. An empty folder can be renamed over; a filled one is moved aside
  // first.
  if (errno != EINVAL && errno != ENOSYS) throw failed("write", place_, errno);
  const std::string aside = from + "-old";
  if (taken && rename(to.c_str(), aside.c_str()) != 0) throw failed("replace", place_, errno);
  if (rename(from.c_str(), to.c_str()) != 0) {
    const int error = errno;
    if (taken) rename(aside.c_str(), to.c_str());
    throw failed("write", place_, error);
  }
  draft_ = taken ? fs::path(aside) : fs::path();
}

}  // namespace tuft::io
