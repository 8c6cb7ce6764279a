#include "tools/io/folder.hpp"

#include <fstream>
#include <nlohmann/json.hpp>
#include <set>

#include "tools/io/json.hpp"
#include "tools/io/utf8.hpp"

namespace tuft::io {
namespace {

namespace fs = std::filesystem;

// The files that a results.json says belong to it; empty when it is no results file of this program.
std::set<std::string> listed_files(const fs::path& results) {
  std::ifstream stream(results, std::ios::binary);
  const auto json = nlohmann::json::parse(stream, nullptr, false);
  std::set<std::string> files;
  if (!json.is_object() || json.value("format", nlohmann::json()) != kResultsFormat) return files;
  const auto list = json.value("files", nlohmann::json());
  for (const auto& entry : list) {
    if (entry.is_string()) files.insert(entry.get<std::string>());
  }
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
  const std::string shown = printable(place.string());
  const fs::file_status status = fs::symlink_status(place);
  if (!fs::exists(status)) return "";
  if (fs::is_symlink(status)) return shown + " is a link; name the folder itself";
  if (!fs::is_directory(status)) return shown + " exists and is no folder";
  if (fs::is_empty(place)) return "";
  const std::set<std::string> files = listed_files(place / "results.json");
  if (files.empty()) return shown + " exists and is no results folder of tuft; it was left alone";
  const std::string stranger = stranger_in(place, files);
  if (stranger.empty()) return "";
  return shown + " also holds " + printable(stranger) + ", which tuft did not write; it was left alone";
}

}  // namespace tuft::io
