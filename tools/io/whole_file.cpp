// Single files: names made from what people call things, and writing whole or not at all.
#include "geometry/device/lists.hpp"
#include "tools/io/folder.hpp"

#include <array>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <fstream>
#include <set>
#include <system_error>

#include "tools/io/utf8.hpp"

namespace tuft::io {
namespace {

constexpr std::size_t kLongestFileName = 60;

// Names that are devices on some systems.
bool is_reserved(const std::string& name) {
  static const std::array<const char*, 4> words = {"con", "prn", "aux", "nul"};
  const std::string stem = lower_case(name);
  if (geometry::contains(words, stem)) return true;
  const bool numbered = stem.size() == 4 && stem[3] >= '0' && stem[3] <= '9';
  return numbered && (stem.compare(0, 3, "com") == 0 || stem.compare(0, 3, "lpt") == 0);
}

std::string trimmed(const std::string& text) {
  const std::size_t first = text.find_first_not_of('-');
  if (first == std::string::npos) return "";
  return text.substr(first, text.find_last_not_of('-') - first + 1);
}

namespace fs = std::filesystem;

constexpr std::size_t kMarkWithin = 2048;  // [bytes] where the mark of our files must stand

[[noreturn]] void refuse(const fs::path& place, const std::string& why) {
  throw FolderError("cannot write " + printable(place.string()) + ": " + why);
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
  const fs::file_status status = fs::symlink_status(place, error);
  if (!fs::exists(status)) return;
  if (fs::is_symlink(status)) refuse(place, "it is a link; name the file itself");
  if (!fs::is_regular_file(status)) refuse(place, "something that is no file stands there");
  if (!holds_mark(place, ours)) refuse(place, "a file that is not ours stands there; it was left alone");
}

}  // namespace

std::string file_name_of(const std::string& name) {
  std::string result;
  for (const WrittenCharacter& letter : characters_of(name)) {
    if (letter.is_letter || letter.bytes == "-" || letter.bytes == "_") {
      if (result.size() + letter.bytes.size() > kLongestFileName) break;
      result += letter.bytes;
    } else if (!result.empty() && result.back() != '-') {
      result += '-';
    }
  }
  result = trimmed(result);
  if (result.empty()) return "unnamed";
  return is_reserved(result) ? "_" + result : result;
}

std::vector<std::string> file_names_of(const std::vector<std::string>& names) {
  std::vector<std::string> result;
  std::set<std::string> taken;
  for (const std::string& name : names) {
    const std::string plain = file_name_of(name);
    std::string unique = plain;
    for (int number = 2; !taken.insert(lower_case(unique)).second; ++number)
      unique = plain + "-" + std::to_string(number);
    result.push_back(unique);
  }
  return result;
}

int write_bytes(const fs::path& path, const std::string& bytes) {
  errno = 0;
  std::ofstream stream(path, std::ios::binary | std::ios::trunc);
  stream.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  stream.close();  // a full disk may show only here
  return stream ? 0 : errno != 0 ? errno : EIO;
}

void write_whole_file(const fs::path& place, const std::string& bytes, const std::string& ours) {
  check_place(place, ours);
  const NotedInterrupts interrupts;
  try {
    Draft draft = Draft::file_beside(place);
    int error = write_bytes(draft.path(), bytes);
    if (error == 0 && std::rename(draft.path().c_str(), place.c_str()) != 0) error = errno;
    if (error != 0) refuse(place, std::strerror(error));
    draft.let_go();
  } catch (const std::system_error& error) {
    refuse(place, error.code().message());
  }
}

}  // namespace tuft::io
