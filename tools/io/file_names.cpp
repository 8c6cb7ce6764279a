#include "tools/io/file_names.hpp"

#include <algorithm>
#include <array>
#include <set>

#include "tools/io/utf8.hpp"

namespace tuft::output {
namespace {

constexpr std::size_t kLongestFileName = 60;

// Names that are devices on some systems.
bool is_reserved(const std::string& name) {
  static const std::array<const char*, 4> words = {"con", "prn", "aux", "nul"};
  const std::string stem = lower_case(name);
  if (std::find(words.begin(), words.end(), stem) != words.end()) return true;
  const bool numbered = stem.size() == 4 && stem[3] >= '0' && stem[3] <= '9';
  return numbered && (stem.compare(0, 3, "com") == 0 || stem.compare(0, 3, "lpt") == 0);
}

std::string trimmed(const std::string& text) {
  const std::size_t first = text.find_first_not_of('-');
  if (first == std::string::npos) return "";
  return text.substr(first, text.find_last_not_of('-') - first + 1);
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
    for (int number = 2; !taken.insert(lower_case(unique)).second; ++number) {
      unique = plain + "-" + std::to_string(number);
    }
    result.push_back(unique);
  }
  return result;
}

}  // namespace tuft::output
