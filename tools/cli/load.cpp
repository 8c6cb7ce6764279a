#include "tools/cli/load.hpp"

#include <algorithm>
#include <set>

#include "geometry/casefile/nearest.hpp"
#include "tools/io/utf8.hpp"
#include "tools/cli/console.hpp"
#include "tools/cli/exit_status.hpp"

namespace tuft::program {
namespace {

std::string ended(std::string text) {
  if (text.empty() || text.back() != '\n') text += '\n';
  return text;
}

int find_name(const std::string& kind, const std::string& name, const std::vector<std::string>& known) {
  const auto found = std::find(known.begin(), known.end(), name);
  if (found != known.end()) return static_cast<int>(found - known.begin());
  const std::string hint = casefile::did_you_mean(name, known);
  const std::string help = hint.empty() ? "the file has: " + casefile::listed(known) : hint;
  throw Failure(ExitStatus::bad_input,
                output::printable("the case has no " + kind + " '" + name + "'; " + help));
}

}  // namespace

void show_warnings(const casefile::ReadResult& read) {
  for (const auto& warning : read.warnings) complain(ended(casefile::format(warning, read.file.text)));
}

std::string error_text(const casefile::ReadResult& read) {
  std::string text;
  for (const auto& error : read.errors) text += ended(casefile::format(error, read.file.text));
  return text;
}

casefile::CaseFile load_case(const std::string& path) {
  casefile::ReadResult read = casefile::read_case(path);
  show_warnings(read);
  if (!read.errors.empty()) throw Failure(ExitStatus::bad_input, error_text(read));
  return std::move(read.file);
}

int find_condition(const geometry::Case& content, const std::string& name) {
  std::vector<std::string> known;
  for (const auto& condition : content.conditions) known.push_back(condition.name);
  return find_name("condition", name, known);
}

int find_vent(const geometry::Case& content, const std::string& name) {
  std::vector<std::string> known;
  for (const auto& vent : content.device.vents) known.push_back(vent.name);
  return find_name("vent", name, known);
}

std::vector<int> find_claims(const geometry::Case& content, const std::vector<std::string>& ids) {
  std::vector<std::string> known;
  for (const auto& claim : content.claims) known.push_back(claim.id);
  std::set<int> wanted;
  for (const std::string& id : ids) wanted.insert(find_name("claim", id, known));
  if (ids.empty()) {
    for (std::size_t i = 0; i < known.size(); ++i) wanted.insert(static_cast<int>(i));
  }
  return {wanted.begin(), wanted.end()};
}

std::vector<int> find_conditions(const geometry::Case& content, const std::vector<std::string>& names) {
  std::set<int> wanted;
  for (const std::string& name : names) wanted.insert(find_condition(content, name));
  if (names.empty()) {
    for (std::size_t i = 0; i < content.conditions.size(); ++i) wanted.insert(static_cast<int>(i));
  }
  return {wanted.begin(), wanted.end()};
}

}  // namespace tuft::program
