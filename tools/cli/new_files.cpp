#include "tools/cli/new_files.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

#include "tools/io/folder.hpp"
#include "tools/io/utf8.hpp"
#include "tools/cli/exit_status.hpp"

namespace tuft::program {
namespace {

Failure not_written(const std::string& path, int error) {
  const std::string why = error == EEXIST ? "it exists already and was left alone" : std::strerror(error);
  return {ExitStatus::output_not_written, "cannot write " + output::printable(path) + ": " + why};
}

bool write_all(int file, const std::string& text) {
  for (std::size_t done = 0; done < text.size();) {
    const ssize_t count = ::write(file, text.data() + done, text.size() - done);
    if (count < 0 && errno == EINTR) continue;
    if (count <= 0) return false;
    done += static_cast<std::size_t>(count);
  }
  return true;
}

// Opened so that an existing file is never touched, not even one that appears at this very moment.
void write_new_file(const std::string& path, const std::string& text) {
  const int file = open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
  if (file < 0) throw not_written(path, errno);
  bool whole = write_all(file, text);
  int error = errno;
  if (close(file) != 0 && whole) {
    whole = false;
    error = errno;
  }
  if (whole) return;
  unlink(path.c_str());
  throw not_written(path, error);
}

}  // namespace

void write_new_files(const std::vector<std::pair<std::string, std::string>>& files) {
  const output::NotedInterrupts interrupts;
  std::vector<std::string> written;
  try {
    for (const auto& [path, text] : files) {
      write_new_file(path, text);
      written.push_back(path);
    }
  } catch (const Failure&) {
    for (const std::string& path : written) unlink(path.c_str());
    throw;
  }
}

}  // namespace tuft::program
