#include "geometry/casefile/observations.hpp"

#include <fmt/core.h>

#include <filesystem>
#include <fstream>

namespace tuft::casefile {

const std::vector<ObservationKey>& observation_keys() {
  static const std::vector<ObservationKey> keys = {
      {"in", "a condition", "Condition of the case in which it was measured."},
      {"strip", "a vent", "A strip of tissue was held before this vent; `leans` says what it did."},
      {"leans", "in, still or out", "Towards the device, not at all, or away from it."},
      {"anemometer", "a vent", "Air speed before this vent."},
      {"fan", "a fan", "Speed that the device tells of this fan."},
      {"chip", "a source or part", "Temperature that the device tells of it."},
      {"skin", "a patch of skin", "Temperature of a thermocouple taped to it."},
      {"air", "a vent", "Temperature of a thermocouple held in the air before this vent."},
      {"spot", "a spot", "Temperature that an infrared thermometer shows at a numbered spot of the case."},
      {"ruler", "a key path of the case", "A size or free area that is in doubt: `vents.comb.cover.open`."},
      {"reads", "a quantity", "What the instrument showed, with its unit."},
      {"error", "a quantity", "Standard deviation of the reading, instead of the instrument's own."},
      {"at", "a length", "Distance before the vent; 20 mm if it is not said."},
      {"with", "a tool", "Name of the strip or anemometer, as `tuft bench` names them."},
      {"hand-held", "true or false", "The strip was held in the fingers, not in a holder."}};
  return keys;
}

ObservationsResult read_observations_text(const std::string& text, const std::string& path,
                                          const CaseFile& file, const KnownTools& tools) {
  ObservationsResult result;
  result.text = text;
  const std::string plain = normalised(text);
  Report report(path, plain);
  const TextFault fault = find_text_fault(plain);
  if (!fault.message.empty()) {
    report.error(fault.spot, "", fault.message);
  } else {
    const ParsedDocument document = parse_document(plain, report);
    if (document.complete && document.root.kind == Node::Kind::map) {
      result.lines = read_observation_lines(document.root, file.content, file.spots, tools, report);
    } else if (document.complete) {
      report.error(document.root.spot, "", "expected a map of keys, found " + describe(document.root),
                   "a file of observations begins with 'tuft-observations: 1'");
    }
  }
  result.errors = report.errors();
  return result;
}

ObservationsResult read_observations(const std::string& path, const CaseFile& file, const KnownTools& tools) {
  const auto refuse = [&](const std::string& why) {
    ObservationsResult result;
    Diagnostic found;
    found.file = path;
    found.message = why;
    result.errors.push_back(found);
    return result;
  };
  std::error_code ignored;
  if (std::filesystem::is_directory(path, ignored))
    return refuse("is a directory, not a file of observations");
  std::ifstream stream(path, std::ios::binary);
  if (!stream) return refuse("can't be opened");
  std::string text(kMaxFileSize + 1, '\0');
  stream.read(text.data(), static_cast<std::streamsize>(text.size()));
  text.resize(static_cast<std::size_t>(stream.gcount()));
  if (stream.bad()) return refuse("can't be read");
  if (text.size() > kMaxFileSize)
    return refuse(fmt::format("the file is larger than {} bytes", kMaxFileSize));
  return read_observations_text(text, path, file, tools);
}

}  // namespace tuft::casefile
