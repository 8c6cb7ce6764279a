#include "tools/io/read_whole.hpp"

#include <cerrno>
#include <cstring>
#include <fstream>
#include <stdexcept>

namespace tuft::io {
namespace {

namespace fs = std::filesystem;

constexpr std::uintmax_t kMostBytes = 1000000000;

[[noreturn]] void fail(const fs::path& path, const std::string& why) {
  throw std::runtime_error(path.string() + ": " + why);
}

}  // namespace

std::string read_whole(const fs::path& path) {
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  if (!fs::exists(status)) fail(path, "there is no such file");
  if (fs::is_directory(status)) fail(path, "is a folder, not a file");
  if (!fs::is_regular_file(status)) fail(path, "is a pipe or a device, not a file");
  const std::uintmax_t size = fs::file_size(path, error);
  if (size > kMostBytes) fail(path, "is larger than 1 GB");
  std::ifstream stream(path, std::ios::binary);
  std::string bytes(size, '\0');
  errno = 0;
  stream.read(bytes.data(), static_cast<std::streamsize>(size));
  if (!stream.is_open() || stream.bad()) fail(path, std::string("can't be read: ") + std::strerror(errno));
  bytes.resize(static_cast<std::size_t>(stream.gcount()));
  return bytes;
}

}  // namespace tuft::io
