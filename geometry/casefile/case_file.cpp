#include "geometry/casefile/case_file.hpp"

#include <fmt/core.h>

#include <filesystem>
#include <map>
#include <stdexcept>

#include "geometry/casefile/field_reader.hpp"
#include "geometry/casefile/nearest.hpp"

namespace tuft::casefile {
namespace {

// A section that only says values.
template <class Thing>
void read_values(Reader& reader, const Item& item, Thing& thing) {
  if (item && reader.check_map(item)) FieldReader(reader, item).rest(thing);
}

void read_sections(Reader& reader, const Item& root) {
  geometry::Case& content = reader.content();
  geometry::Device& device = reader.device();
  collect_names(reader, root);
  read_values(reader, reader.child(root, "device"), device);
  const Item room = reader.child_or_empty(root, "room");
  read_values(reader, room, content.room);
  if (room.node->kind == Node::Kind::map) read_draught(reader, room, content.room.draught);
  read_zones(reader, root);
  reader.read_named("passages", device.passages, read_passage);
  reader.read_named("vents", device.vents, read_vent);
  read_leaks(reader, root);
  reader.read_named("fins", device.fin_stacks, read_stack);
  reader.read_named("fans", device.fans, read_fan);
  read_places(reader);  // what stands behind each vent and where things are, now that all is known
  reader.read_named("sources", device.sources, read_source);
  reader.read_named("parts", device.parts, read_part);
  read_fin_metal(reader);  // needs to know which fins are joined
  reader.read_named("skin", device.skins, read_patch);
  reader.read_named("spots", reader.file.spots, read_spot);
  read_lid(reader, root);
  reader.read_named("poses", content.poses, read_pose);
  reader.read_named("supports", content.supports, read_support);
  read_loads(reader, root);
  read_conditions(reader, root);
  reader.read_named("sweeps", content.sweeps, read_sweep);
  read_values(reader, reader.child_or_empty(root, "roles"), content.thresholds);
  read_claims(reader, root);
  reader.read_named("photos", content.photos, read_photo);
  read_laws(reader, root);
  read_correlations(reader, root);
  check_whole(reader);
}

// Reads normalised text into `file`.
void read_text(const std::string& text, CaseFile& file, Report& report) {
  const auto top = parse_map(text, report, "a case begins with 'tuft: 1'");
  if (!top) return;
  const Item root{&*top, "", "", {1, 1}};
  Reader reader(file, report);
  reader.check_map(root);
  const Item version = reader.child(root, "tuft");
  if (version && reader.word(root, "tuft").empty()) return;  // another version may mean anything else
  read_sections(reader, root);
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
