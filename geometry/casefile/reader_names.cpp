// Reader: names, collected first so that any section may refer to any other, and what refers to them.
#include <fmt/core.h>

#include <algorithm>
#include <cctype>

#include "geometry/casefile/meant.hpp"
#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/reader.hpp"
#include "geometry/device/pose.hpp"

namespace tuft::casefile {
namespace {

constexpr std::size_t kLongestName = 100;

// Letters of any alphabet, digits, - _ . and spaces; symbols, invisible characters and other punctuation are
// not.
bool all_name_characters(std::string_view name) {
  for (const std::string_view character : characters(name)) {
    const auto c = static_cast<unsigned char>(character[0]);
    const int length = utf8_length(character);
    if (length == 0) return false;
    const bool plain = std::isalnum(c) != 0 || c == '-' || c == '_' || c == '.' || c == ' ';
    // Two bytes from 0xC3 on are U+00C0 and above; three-byte ones up to 0xE2 0xBA.. are punctuation and
    // symbols.
    const bool symbol =
        c == 0xC2 || c == 0xE2 || length == 4 || character == "\xC3\x97" || character == "\xC3\xB7";
    if (length == 1 ? !plain : symbol) return false;
  }
  return true;
}

// What the names of a section stand for.
geometry::PlaceKind kind_of(const std::string& section) {
  using geometry::PlaceKind;
  static const std::map<std::string, PlaceKind> kinds = {
      {"zones", PlaceKind::zone}, {"fins", PlaceKind::fins}, {"vents", PlaceKind::vent},
      {"parts", PlaceKind::part}, {"skin", PlaceKind::skin}, {"sources", PlaceKind::source}};
  return kinds.at(section);
}

}  // namespace

int Names::find(const std::string& name) const {
  const auto it = std::find(all.begin(), all.end(), name);
  return it == all.end() ? -1 : static_cast<int>(it - all.begin());
}

void Names::know(const std::string& name) {
  if (find(name) >= 0) return;
  all.push_back(name);
  items.push_back({});
}

Reader::Found Reader::called(const std::string& name, const Item& item, const Words& sections) {
  std::string wanted;
  std::vector<std::string> known;
  bool broken = false;
  for (const std::string& section : sections) {
    const Names& of = names[section];
    if (const int index = of.find(name); index >= 0) return {section, index};
    broken = broken || of.broken;
    wanted += (wanted.empty() ? "" : " or ") + std::string(of.one);
    known.insert(known.end(), of.all.begin(), of.all.end());
  }
  if (broken) return {};  // whether it is a name can't be decided; the section's own fault has been reported
  const std::string have = known.empty() ? "there is none" : "known: " + listed(known);
  const bool is_key = item.node->kind != Node::Kind::text || item.node->text != name;
  report.error(is_key ? item.key_spot : item.node->spot, item.path,
               fmt::format("{} is not {} ({})", in_quotes(name), wanted, have),
               is_key && is_half_number(name) ? kWriteAPoint : did_you_mean(name, known));
  return {};
}

Reader::Found Reader::reference(const Item& item) {
  const Key& row = *find_key(item.pattern);
  const Node* node = expect_text(item, "a name");
  return node == nullptr ? Found{}
                         : called(node->text, item, row.or_sections.empty() ? row.words : row.or_sections);
}

std::optional<geometry::Place> Reader::place_of(const Found& found) {
  if (found.index < 0) return std::nullopt;
  return geometry::Place{kind_of(found.section), found.index};
}

std::optional<geometry::Place> Reader::place(const Item& item) {
  return item ? place_of(reference(item)) : std::nullopt;
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
    if (std::any_of(out.begin(), out.end(), same))
      error(part, fmt::format("{} stands twice in the list", in_quotes(part.node->text)));
    else
      out.push_back(found);
  }
  return out;
}

std::vector<int> Reader::vent_references(const Item& map, const std::string& key) {
  std::vector<int> out;
  const int n_vents = static_cast<int>(names["vents"].all.size());
  for (const Found& found : references(map, key))
    out.push_back(found.section == "leaks" ? n_vents + found.index : found.index);
  return out;
}

void Reader::check_name(const std::string& name, const Item& item) {
  const std::string rule = "names are letters, digits, - _ . and spaces inside";
  if (name.empty()) {
    key_error(item, "the name is empty", rule);
  } else if (name.size() > kLongestName) {
    report.error(item.key_spot, item.path.substr(0, kLongestName),
                 fmt::format("the name is longer than {} bytes", kLongestName));
  } else if (name.front() == ' ' || name.back() == ' ' || !all_name_characters(name)) {
    const std::string straight = without_curly_quotes(name);
    key_error(item, fmt::format("{} is no name", in_quotes(name)),
              straight == name ? rule : "write " + straight + " without curly quotes");
  }
}

// --- the first pass ------------------------------------------------------------------------------

namespace {

struct NamedSection {
  const char* key;
  const char* one;
};
constexpr NamedSection kNamedSections[] = {{"zones", "a zone"},         {"passages", "a passage"},
                                           {"vents", "a vent"},         {"leaks", "a leak"},
                                           {"fans", "a fan"},           {"fins", "a fin stack"},
                                           {"sources", "a source"},     {"parts", "a part"},
                                           {"skin", "a patch of skin"}, {"spots", "a spot"},
                                           {"poses", "a pose"},         {"supports", "a support"},
                                           {"loads", "a load"},         {"conditions", "a condition"},
                                           {"sweeps", "a sweep"},       {"photos", "a photo"}};

void collect(Reader& reader, const Item& root, const NamedSection& section) {
  Names& names = reader.names[section.key];
  names.one = section.one;
  const Item item = reader.child(root, section.key);
  if (!item) return;
  for (auto& [name, entry] : reader.entries(item)) {
    reader.check_name(name, entry);
    names.all.push_back(name);
    names.items.push_back(entry);
  }
  names.broken =
      names.all.empty() && !(item.node->kind == Node::Kind::map && find_key(section.key)->may_be_empty);
}

// Sections whose names one key may stand for, and which therefore share them.
struct Shared {
  std::vector<const char*> sections;
  std::size_t new_from;  // a name that two sections before this one have was found with another group
  const char* rule;
};
const Shared kShared[] = {
    {{"zones", "fins", "vents", "leaks"}, 0, "zones, fins, vents and leaks share their names"},
    {{"zones", "fins", "parts", "skin"}, 2, "zones, fins, parts and skin share their names"},
    {{"sources", "parts"}, 0, "sources and parts share their names"}};

void check_shared(Reader& reader, const Shared& shared) {
  struct First {
    const char* one;
    Item item;
  };
  std::map<std::string, First> seen;
  for (std::size_t s = 0; s < shared.sections.size(); ++s) {
    const Names& names = reader.names[shared.sections[s]];
    for (std::size_t i = 0; i < names.all.size(); ++i) {
      const auto [it, is_new] = seen.insert({names.all[i], First{names.one, names.items[i]}});
      if (is_new || s < shared.new_from) continue;
      const std::string message =
          fmt::format("the name '{}' is already that of {}; {}", names.all[i], it->second.one, shared.rule);
      const Item& item = names.items[i];
      const Item& first = it->second.item;
      if (first) {
        reader.key_conflict(item, message, first, "first used here");
      } else {  // the zone nobody wrote down
        reader.key_error(item, message);
      }
    }
  }
}

}  // namespace

void collect_names(Reader& reader, const Item& root) {
  for (const NamedSection& section : kNamedSections) collect(reader, root, section);
  if (!reader.child(root, "zones")) reader.names["zones"].know("inside");
  for (const Shared& shared : kShared) check_shared(reader, shared);
  for (const std::string& word : geometry::pose_words()) reader.names["poses"].know(word);
  for (const char* word : {"air", "table"}) reader.names["supports"].know(word);
  if (!reader.child(root, "loads")) reader.names["loads"].know("idle");
}

}  // namespace tuft::casefile
