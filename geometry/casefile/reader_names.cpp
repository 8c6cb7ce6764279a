// Reader: names and what refers to them.
#include <fmt/core.h>

#include <algorithm>
#include <cctype>

#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {
namespace {

constexpr std::size_t kLongestName = 100;

// Letters of any alphabet, digits, - _ . and spaces; symbols, invisible characters and other punctuation are
// not.
bool all_name_characters(std::string_view name) {
  for (std::size_t i = 0; i < name.size();) {
    const auto c = static_cast<unsigned char>(name[i]);
    const int length = utf8_length(name.substr(i));
    if (length == 0) return false;
    const bool plain = std::isalnum(c) != 0 || c == '-' || c == '_' || c == '.' || c == ' ';
    // Two bytes from 0xC3 on are U+00C0 and above; three-byte ones up to 0xE2 0xBA.. are punctuation and
    // symbols.
    const bool symbol = c == 0xC2 || c == 0xE2 || length == 4 || name.substr(i, 2) == "\xC3\x97" ||
                        name.substr(i, 2) == "\xC3\xB7";
    if (length == 1 ? !plain : symbol) return false;
    i += static_cast<std::size_t>(length);
  }
  return true;
}

}  // namespace

int Names::find(const std::string& name) const {
  const auto it = std::find(all.begin(), all.end(), name);
  return it == all.end() ? -1 : static_cast<int>(it - all.begin());
}

void Reader::unknown_name(const Item& item, const std::string& name,
                          const std::vector<std::string>& sections) {
  std::string wanted;
  std::vector<std::string> known;
  bool broken = false;
  for (const std::string& section : sections) {
    const Names& of = names[section];
    broken = broken || of.broken;
    wanted += (wanted.empty() ? "" : " or ") + std::string(of.one);
    known.insert(known.end(), of.all.begin(), of.all.end());
  }
  if (broken) return;  // whether it is a name can't be told; the section's own fault has been reported
  const std::string have = known.empty() ? "there is none" : "known: " + listed(known);
  const bool is_key = item.node->kind != Node::Kind::text || item.node->text != name;
  report.error(is_key ? item.key_spot : item.node->spot, item.path,
               fmt::format("{} is not {} ({})", in_quotes(name), wanted, have), did_you_mean(name, known));
}

Reader::Found Reader::reference(const Item& item) {
  const Key& row = *find_key(item.pattern);
  const std::vector<std::string>& sections = row.or_sections.empty() ? row.words : row.or_sections;
  const Node* node = expect_text(item, "a name");
  if (node == nullptr) return {};
  for (const std::string& section : sections) {
    const int index = names[section].find(node->text);
    if (index >= 0) return {section, index};
  }
  unknown_name(item, node->text, sections);
  return {};
}

std::vector<Reader::Found> Reader::references(const Item& map, const std::string& key) {
  std::vector<Found> out;
  const Item item = child(map, key);
  if (!item) return out;
  const Key& row = *find_key(item.pattern);
  std::vector<Item> parts;
  if (item.node->kind == Node::Kind::text && row.count == 0) {
    parts.push_back(item);
  } else {
    parts = items(item);
    for (Item& part : parts) part.pattern = item.pattern;
    if (item.node->kind != Node::Kind::list) return out;
    const bool wrong_count = row.count > 0 && static_cast<int>(parts.size()) != row.count;
    if (wrong_count) error(item, fmt::format("expected {} names, found {}", row.count, parts.size()));
    if (parts.empty()) error(item, "the list is empty");
  }
  for (const Item& part : parts) {
    const Found found = reference(part);
    if (found.index < 0) continue;
    const auto same = [&](const Found& other) {
      return other.section == found.section && other.index == found.index;
    };
    if (std::any_of(out.begin(), out.end(), same)) {
      error(part, fmt::format("{} stands twice in the list", in_quotes(part.node->text)));
    } else {
      out.push_back(found);
    }
  }
  return out;
}

std::vector<int> Reader::vent_references(const Item& map, const std::string& key) {
  std::vector<int> out;
  const int n_vents = static_cast<int>(names["vents"].all.size());
  for (const Found& found : references(map, key)) {
    out.push_back(found.section == "leaks" ? n_vents + found.index : found.index);
  }
  return out;
}

void Reader::check_name(const std::string& name, const Item& item) {
  const std::string rule = "names are letters, digits, - _ . and spaces inside";
  if (name.empty()) {
    report.error(item.key_spot, item.path, "the name is empty", rule);
  } else if (name.size() > kLongestName) {
    report.error(item.key_spot, item.path.substr(0, kLongestName),
                 fmt::format("the name is longer than {} bytes", kLongestName));
  } else if (name.front() == ' ' || name.back() == ' ' || !all_name_characters(name)) {
    report.error(item.key_spot, item.path, fmt::format("{} is no name", in_quotes(name)), rule);
  }
}

}  // namespace tuft::casefile
