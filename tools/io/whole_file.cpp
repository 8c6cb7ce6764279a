#include "tools/io/whole_file.hpp"

#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <fstream>

#include "tools/io/folder.hpp"

namespace tuft::output {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMarkWithin = 2048;  // [bytes] where the mark of our files must stand

[[noreturn]] void refuse(const fs::path& place, const std::string& why) {
  throw FolderError("cannot write " + place.string() + ": " + why);
}

bool holds_mark(const fs::path& place, const std::string& ours) {
  std::ifstream stream(place, std::ios::binary);
  std::string start(kMarkWithin, '\0');
  stream.read(start.data(), static_cast<std::streamsize>(start.size()));
  start.resize(static_cast<std::size_t>(stream.gcount()));
  return start.empty() || (!ours.empty() && start.find(ours) != std::string::npos);
}

void check_place(const fs::path& place, const std::string& ours) {
  std::error_code error;
  if (!fs::exists(fs::symlink_status(place, error))) return;
  if (!fs::is_regular_file(place, error)) refuse(place, "something that is no file stands there");
  if (!holds_mark(place, ours)) refuse(place, "a file that is not ours stands there; it was left alone");
}

// Every byte, or an errno.
int write_all(int file, const std::string& bytes) {
  for (std::size_t done = 0; done < bytes.size();) {
    const ssize_t count = ::write(file, bytes.data() + done, bytes.size() - done);
    if (count < 0 && errno == EINTR) continue;
    if (count <= 0) return errno == 0 ? EIO : errno;
    done += static_cast<std::size_t>(count);
  }
  return 0;
}

}  // namespace

void write_whole_file(const fs::path& place, const std::string& bytes, const std::string& ours) {
  check_place(place, ours);
  const fs::path folder = place.has_parent_path() ? place.parent_path() : fs::path(".");
  std::string draft = (folder / ("." + place.filename().string() + ".part-XXXXXX")).string();
  const NotedInterrupts interrupts;
  const int file = mkstemp(draft.data());
  if (file < 0) refuse(place, std::strerror(errno));
  int error = fchmod(file, 0644) != 0 ? errno : write_all(file, bytes);
  if (close(file) != 0 && error == 0) error = errno;
  if (error == 0 && std::rename(draft.c_str(), place.c_str()) != 0) error = errno;
  if (error == 0) return;
  unlink(draft.c_str());
  refuse(place, std::strerror(error));
}

}  // namespace tuft::output
