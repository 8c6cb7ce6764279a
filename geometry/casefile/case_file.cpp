#include "geometry/casefile/case_file.hpp"

#include <fmt/core.h>

#include <filesystem>
#include <map>
#include <stdexcept>

#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/read_document.hpp"

namespace tuft::casefile {
namespace {

// Reads normalised text into `file`.
void read_text(const std::string& text, CaseFile& file, Report& report) {
  const auto top = parse_map(text, report, "a case begins with 'tuft: 1'");
  if (top) read_document(*top, file, report);
}

// The case file in the same folder whose name is nearest; its ending may be missing.
std::string file_meant(const std::string& path) {
  const std::filesystem::path asked(path), folder = asked.parent_path();
  std::map<std::string, std::string> known;  // stem, name; sorted, as the order of a folder is the system's
  std::error_code ignored;
  for (std::filesystem::directory_iterator it(folder.empty() ? "." : folder, ignored), end; it != end;
       it.increment(ignored)) {
    const std::filesystem::path name = it->path().filename();
    if (name.extension() == ".yaml" || name.extension() == ".yml")
      known[name.stem().string()] = name.string();
  }
  std::vector<std::string> stems;
  for (const auto& [stem, name] : known) stems.push_back(stem);
  const std::string meant = nearest_word(asked.stem().string(), stems);
  return meant.empty() ? "" : "did you mean '" + (folder / known[meant]).string() + "'?";
}

}  // namespace

ReadResult read_case_text(const std::string& text, const std::string& path) {
  ReadResult result;
  result.file.path = path;
  if (text.size() > kMaxFileSize) {
    result.errors.push_back(at_file(path, fmt::format("the file is larger than {} bytes", kMaxFileSize)));
    return result;
  }
  result.file.text = text;
  const std::string plain = normalised(text);
  Report report(path, plain);
  try {
    read_text(plain, result.file, report);
  } catch (const std::runtime_error& fault) {  // the unit database is missing: no fault of the file
    result.errors.push_back(at_file(path, fault.what()));
    return result;
  }
  result.errors = report.errors();
  result.warnings = report.warnings();
  return result;
}

ReadResult read_case(const std::string& path) {
  const FileText read = read_file(path, "a case file");
  if (read.fault.empty()) return read_case_text(read.text, path);
  ReadResult result;
  result.file.path = path;
  result.errors.push_back(at_file(path, read.fault));
  if (read.missing) result.errors.back().hint = file_meant(path);
  return result;
}

}  // namespace tuft::casefile
