#include <filesystem>
#include <fstream>

#include "geometry/casefile/text.hpp"

namespace tuft::casefile {

FileText read_file(const std::string& path, const std::string& what) {
  std::error_code ignored;
  const std::filesystem::file_status status = std::filesystem::status(path, ignored);
  if (std::filesystem::is_directory(status)) return {"", "is a directory, not " + what};
  // A pipe may keep whoever opens it waiting for ever, and a device may never end.
  if (std::filesystem::exists(status) && !std::filesystem::is_regular_file(status))
    return {"", "is a pipe or a device, not " + what};
  std::ifstream stream(path, std::ios::binary);
  if (!stream) return {"", "can't be opened", true};
  std::string text(kMaxFileSize + 1, '\0');
  stream.read(text.data(), static_cast<std::streamsize>(text.size()));
  text.resize(static_cast<std::size_t>(stream.gcount()));
  if (stream.bad()) return {"", "can't be read"};
  if (text.size() <= kMaxFileSize) return {text, ""};
  return {"", "the file is larger than " + std::to_string(kMaxFileSize) + " bytes"};
}

}  // namespace tuft::casefile
