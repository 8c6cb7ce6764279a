#include "geometry/casefile/case_file.hpp"

#include <fmt/core.h>

#include <filesystem>
#include <fstream>
#include <map>
#include <stdexcept>

#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {
namespace {

void read_sections(Reader& reader, const Item& root) {
  collect_names(reader, root);
  read_device(reader, root);
  read_room(reader, root);
  read_zones(reader, root);
  read_passages(reader, root);
  read_vents(reader, root);
  read_leaks(reader, root);
  read_fins(reader, root);
  read_fans(reader, root);
  read_places(reader, root);  // what stands behind each vent and where things are, now that all is known
  read_sources(reader, root);
  read_parts(reader, root);
  read_fin_metal(reader, root);  // needs to know which fins are joined
  read_skin(reader, root);
  read_spots(reader, root);
  read_lid(reader, root);
  read_poses(reader, root);
  read_supports(reader, root);
  read_loads(reader, root);
  read_conditions(reader, root);
  read_sweeps(reader, root);
  read_roles(reader, root);
  read_claims(reader, root);
  read_together(reader, root);
  check_whole(reader, root);
}

// Reads normalised text into `file`.
void read_text(const std::string& text, CaseFile& file, Report& report) {
  const TextFault fault = find_text_fault(text);
  if (!fault.message.empty()) {
    report.error(fault.spot, "", fault.message);
    return;
  }
  const ParsedDocument document = parse_document(text, report);
  if (!document.complete) return;
  const Node& top = document.root;
  if (top.kind != Node::Kind::map) {
    report.error(top.spot, "", "expected a map of keys, found " + describe(top),
                 "a case begins with 'tuft: 1'");
    return;
  }
  const Item root{&top, "", "", {1, 1}};
  Reader reader(file, report);
  reader.check_map(root);
  const Item version = reader.child(root, "tuft");
  if (version && reader.word(root, "tuft").empty()) return;  // another version may mean anything else
  read_sections(reader, root);
}

Diagnostic at_file(const std::string& path, const std::string& message) {
  Diagnostic found;
  found.file = path;
  found.message = message;
  return found;
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

std::string too_large() { return fmt::format("the file is larger than {} bytes", kMaxFileSize); }

}  // namespace

ReadResult read_case_text(const std::string& text, const std::string& path) {
  ReadResult result;
  result.file.path = path;
  if (text.size() > kMaxFileSize) {
    result.errors.push_back(at_file(path, too_large()));
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
  ReadResult result;
  result.file.path = path;
  std::error_code ignored;
  if (std::filesystem::is_directory(path, ignored)) {
    result.errors.push_back(at_file(path, "is a directory, not a case file"));
    return result;
  }
  std::ifstream stream(path, std::ios::binary);
  if (!stream) {
    Diagnostic fault = at_file(path, "can't be opened");
    fault.hint = file_meant(path);
    result.errors.push_back(std::move(fault));
    return result;
  }
  std::string text(kMaxFileSize + 1, '\0');
  stream.read(text.data(), static_cast<std::streamsize>(text.size()));
  text.resize(static_cast<std::size_t>(stream.gcount()));
  if (stream.bad()) {
    result.errors.push_back(at_file(path, "can't be read"));
    return result;
  }
  return read_case_text(text, path);
}

}  // namespace tuft::casefile
