#include "tools/io/folder.hpp"

#include <fcntl.h>
#include <stdio.h>

#include <algorithm>
#include <atomic>
#include <cerrno>
#include <cstring>
#include <fstream>
#include <nlohmann/json.hpp>
#include <system_error>

#include "geometry/device/lists.hpp"
#include "tools/figure/png.hpp"
#include "tools/io/run.hpp"
#include "tools/io/utf8.hpp"
#include "tools/io/words.hpp"

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

// A results.json may come from anybody: a name that leads out of its folder is no file of it.
bool stays_inside(const std::string& file) {
  const fs::path path = fs::path(file).lexically_normal();
  return path.is_relative() && path.has_filename() && *path.begin() != "..";
}

std::vector<std::string> texts_of(const nlohmann::json& json, const char* key) {
  std::vector<std::string> out;
  for (const auto& entry : json.value(key, nlohmann::json()))
    if (entry.is_string()) out.push_back(entry.get<std::string>());
  return out;
}

// What a results.json says of its folder; no files when it is no results file of this program.
Contents contents_of(const fs::path& results) {
  std::ifstream stream(results, std::ios::binary);
  const auto json = nlohmann::json::parse(stream, nullptr, false);
  Contents out;
  if (!json.is_object() || json.value("format", nlohmann::json()) != kResultsFormat) return out;
  out.files = texts_of(json, "files");
  out.earlier = texts_of(json, "earlier_files");
  const auto asked = json.value("asked", nlohmann::json::object());
  if (!asked.is_object()) return out;
  const auto command = asked.value("command", nlohmann::json());
  if (command.is_string()) out.asked.command = command.get<std::string>();
  out.asked.conditions = texts_of(asked, "conditions");
  out.asked.with = texts_of(asked, "with");
  return out;
}

std::vector<std::string> all_files(const Contents& contents) {
  std::vector<std::string> out = contents.files;
  out.insert(out.end(), contents.earlier.begin(), contents.earlier.end());
  out.erase(std::remove_if(out.begin(), out.end(), [](const auto& file) { return !stays_inside(file); }),
            out.end());
  return out;
}

bool includes(const std::vector<std::string>& all, const std::vector<std::string>& some) {
  return std::all_of(some.begin(), some.end(),
                     [&](const std::string& one) { return geometry::contains(all, one); });
}

// True when what was asked earlier is asked again now, so that no answer is lost.
bool covers(const Asked& now, const Asked& earlier) {
  if (earlier.command.empty()) return true;  // an earlier version did not say
  const bool conditions =
      now.conditions.empty() || (!earlier.conditions.empty() && includes(now.conditions, earlier.conditions));
  return now.command == earlier.command && conditions && includes(now.with, earlier.with);
}

std::string asked_words(const Asked& asked) {
  std::string words = "tuft " + asked.command;
  if (!asked.conditions.empty()) words += " for " + listed(asked.conditions);
  if (!asked.with.empty()) words += " with " + listed(asked.with);
  return words;
}

// The first entry of the folder that is not listed; empty if there is none.
std::string stranger_in(const fs::path& place, const std::vector<std::string>& files) {
  for (const auto& entry : fs::recursive_directory_iterator(place)) {
    if (entry.is_directory() && !entry.is_symlink()) continue;
    const std::string name = entry.path().lexically_relative(place).generic_string();
    if (!geometry::contains(files, name)) return name;
  }
  return "";
}

}  // namespace

std::string reason_to_keep(const ResultsPlace& place) {
  const std::string name = shown(place.path);
  const fs::file_status status = fs::symlink_status(place.path);
  if (!fs::exists(status)) return "";
  if (fs::is_symlink(status)) return name + " is a link; name the folder itself";
  if (!fs::is_directory(status)) return name + " exists and is no folder";
  if (fs::is_empty(place.path)) return "";
  const Contents contents = contents_of(place.path / "results.json");
  if (contents.files.empty()) return name + " exists and is no results folder of tuft; it was left alone";
  const std::string stranger = stranger_in(place.path, all_files(contents));
  if (!stranger.empty())
    return name + " also holds " + printable(stranger) + ", which tuft did not write; it was left alone";
  if (place.fresh || covers(place.asked, contents.asked)) return "";
  return name + " holds the results of " + printable(asked_words(contents.asked)) +
         ", which this run does not compute again; name another folder with --out, or replace it with "
         "--fresh";
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

void require_writable(const ResultsPlace& place) {
  try {
    const fs::path path = clean(place.path);
    if (!fs::is_directory(path.parent_path()))
      throw FolderError("there is no folder " + shown(path.parent_path()) + " to put the results in");
    const std::string reason = reason_to_keep({path, place.asked, place.fresh});
    if (!reason.empty()) throw FolderError(reason);
  } catch (const fs::filesystem_error& error) {
    throw FolderError("cannot use " + shown(place.path) + ": " + error.code().message());
  }
}

ResultsFolder::ResultsFolder(const ResultsPlace& place, std::vector<std::string> first)
    : place_(clean(place.path)), asked_(place.asked), fresh_(place.fresh), files_(std::move(first)) {
  take_place();
  try {
    draft_ = Draft::folder_beside(place_);
  } catch (const std::system_error& error) {
    throw failed("make a folder in", place_.parent_path(), error.code().value());
  }
}

void ResultsFolder::take_place() {
  require_writable({place_, asked_, fresh_});
  earlier_.clear();
  if (!fresh_ && fs::exists(place_)) earlier_ = all_files(contents_of(place_ / "results.json"));
}

void ResultsFolder::stop_if_interrupted() const {
  if (interrupts_.pending()) throw FolderError("interrupted; nothing was written");
}

void ResultsFolder::make_partial() {
  interrupts_.set_aside();
  fs::path partial = place_;
  partial += ".partial";
  place_ = std::move(partial);
  take_place();
}

Contents ResultsFolder::contents() const {
  Contents out{asked_, files_, {}};
  for (const std::string& file : earlier_)
    if (!geometry::contains(files_, file)) out.earlier.push_back(file);
  return out;
}

fs::path ResultsFolder::path_for(const std::string& file) {
  stop_if_interrupted();
  const fs::path path = draft_.path() / file;
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

// The name inside a folder is a file's own where it can be: files are never changed, only replaced.
void ResultsFolder::keep_earlier_files() const {
  for (const std::string& file : contents().earlier) {
    const fs::path from = place_ / file, to = draft_.path() / file;
    std::error_code error;
    fs::create_directories(to.parent_path(), error);
    if (!error) fs::create_hard_link(from, to, error);
    if (error) fs::copy_file(from, to, error);
    if (error && fs::exists(from)) throw FolderError("cannot keep " + shown(from) + ": " + error.message());
  }
}

void ResultsFolder::publish() {
  stop_if_interrupted();
  keep_earlier_files();
  // An exchange leaves no moment without a folder in the place; what was there becomes the draft to remove.
  const std::string from = draft_.path().string();
  const std::string to = place_.string();
  const bool taken = fs::exists(fs::symlink_status(place_));
  int result =
      renameat2(AT_FDCWD, from.c_str(), AT_FDCWD, to.c_str(), taken ? RENAME_EXCHANGE : RENAME_NOREPLACE);
  if (result == 0) {
    if (!taken) draft_.let_go();
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
  taken ? draft_.take(aside) : draft_.let_go();
}

}  // namespace tuft::io
