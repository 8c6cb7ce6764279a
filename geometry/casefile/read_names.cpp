// First pass: the names of everything, so that any section may refer to any other.
#include <fmt/core.h>

#include <vector>

#include "geometry/casefile/reader.hpp"
#include "geometry/device/pose.hpp"

namespace tuft::casefile {
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
                                           {"sweeps", "a sweep"}};

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

void know(Names& names, const std::string& word) {
  if (names.find(word) >= 0) return;
  names.all.push_back(word);
  names.items.push_back({});
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
        reader.report.conflict(item.key_spot, item.path, message, first.key_spot, "first used here");
      } else {  // the zone nobody wrote down
        reader.report.error(item.key_spot, item.path, message);
      }
    }
  }
}

}  // namespace

void collect_names(Reader& reader, const Item& root) {
  for (const NamedSection& section : kNamedSections) collect(reader, root, section);
  if (!reader.child(root, "zones")) know(reader.names["zones"], "inside");
  for (const Shared& shared : kShared) check_shared(reader, shared);
  for (const std::string& word : geometry::pose_words()) know(reader.names["poses"], word);
  for (const char* word : {"air", "table"}) know(reader.names["supports"], word);
  if (!reader.child(root, "loads")) know(reader.names["loads"], "idle");
}

}  // namespace tuft::casefile
