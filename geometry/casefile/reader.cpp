#include "geometry/casefile/reader.hpp"

#include <fmt/core.h>

#include "geometry/casefile/nearest.hpp"

namespace tuft::casefile {
namespace {

bool means(const std::vector<std::string>& kinds, const std::string& kind) {
  return kinds.empty() || kind.empty() || contains(kinds, kind);
}

const char* allowed_shape(const Key& row) {
  switch (row.type) {
    case Type::map:
      return "a map of keys";
    case Type::named:
      return "a map of names";
    case Type::list:
      return "a list";
    default:
      return "a value";
  }
}

}  // namespace

void Reader::error(const Item& item, const std::string& message, const std::string& hint) {
  if (item.node->faulty && item.node->kind == Node::Kind::nothing) return;  // reported when it was refused
  report.error(item.node->kind == Node::Kind::nothing ? item.key_spot : item.node->spot, item.path, message,
               hint);
}

bool Reader::check_map(const Item& item, const std::string& kind) {
  if (item.node->kind != Node::Kind::map) {
    const bool nothing = item.node->kind == Node::Kind::nothing;
    error(item,
          fmt::format("expected {}, found {}", allowed_shape(*find_key(item.pattern)), describe(*item.node)),
          nothing ? "write {} if nothing is to be said" : "");
    return false;
  }
  std::vector<std::string> known;
  for (const Key* row : keys_below(item.pattern)) {
    if (means(row->kinds, kind)) known.push_back(row->name());
  }
  return report_missing(item, report_unknown(item, known, kind));
}

std::vector<std::string> Reader::report_unknown(const Item& item, const std::vector<std::string>& known,
                                                const std::string& kind) {
  std::vector<std::string> meant;
  for (const Entry& entry : item.node->entries) {
    if (contains(known, entry.key)) continue;
    const bool other_kind = find_key(item.pattern + "." + entry.key) != nullptr;
    const std::string message = other_kind ? fmt::format("'{}' has no '{}'", kind, entry.key)
                                           : fmt::format("unknown key {}", in_quotes(entry.key));
    report.error(entry.key_spot, item.path, fmt::format("{} (known: {})", message, listed(known)),
                 other_kind ? "" : hint_for(entry.key, known));
    meant.push_back(nearest_word(entry.key, known));
  }
  return meant;
}

bool Reader::report_missing(const Item& item, const std::vector<std::string>& misspelt) {
  bool complete = true;
  for (const Key* row : keys_below(item.pattern)) {
    if (!row->required || item.node->find(row->name()) != nullptr) continue;
    complete = false;
    if (item.node->faulty || contains(misspelt, row->name())) continue;
    const std::string sentence = row->says.substr(0, row->says.find_first_of(".:;"));
    report.error(item.key_spot, item.path,
                 fmt::format("the key '{}' is missing ({})", row->name(), sentence));
  }
  return complete;
}

Item Reader::child(const Item& map, const std::string& key) const {
  if (!map || map.node->kind != Node::Kind::map) return {};
  const Entry* entry = map.node->find(key);
  if (entry == nullptr) return {};
  const std::string dot = map.path.empty() ? "" : ".";
  const std::string pattern = map.pattern.empty() ? key : map.pattern + "." + key;
  return {&entry->value, map.path + dot + key, pattern, entry->key_spot};
}

std::vector<std::pair<std::string, Item>> Reader::entries(const Item& item) {
  std::vector<std::pair<std::string, Item>> out;
  if (!item) return out;
  const Key& row = *find_key(item.pattern);
  if (item.node->kind != Node::Kind::map) {
    error(item, fmt::format("expected {}, found {}", allowed_shape(row), describe(*item.node)),
          item.node->kind != Node::Kind::nothing ? ""
          : row.may_be_empty                     ? "write {} for none"
                                                 : "fill it, or take the key out");
    return out;
  }
  const auto n = static_cast<int>(item.node->entries.size());
  if (n == 0 && !row.may_be_empty) error(item, "nothing is in it", "fill it, or take the key out");
  if (row.most > 0 && n > row.most) {
    error(item, fmt::format("{} entries; at most {} are allowed", n, row.most));
    return out;
  }
  for (const Entry& entry : item.node->entries) {
    out.push_back(
        {entry.key, Item{&entry.value, item.path + "." + entry.key, item.pattern + ".*", entry.key_spot}});
  }
  return out;
}

std::vector<Item> Reader::items(const Item& item) {
  std::vector<Item> out;
  if (!item) return out;
  const Key& row = *find_key(item.pattern);
  if (item.node->kind != Node::Kind::list) {
    error(item, fmt::format("expected a list, found {}", describe(*item.node)));
    return out;
  }
  const auto n = static_cast<int>(item.node->items.size());
  if (row.most > 0 && n > row.most) {
    error(item, fmt::format("{} items; at most {} are allowed", n, row.most));
    return out;
  }
  for (int i = 0; i < n; ++i) {
    const Node& node = item.node->items[static_cast<std::size_t>(i)];
    out.push_back({&node, fmt::format("{}[{}]", item.path, i), item.pattern + "[]", node.spot});
  }
  return out;
}

void Reader::assume(const std::string& path, const std::string& value, const std::string& why) {
  file.assumptions.push_back({path, value, why});
}

void Reader::assume_default(const Item& map, const std::string& key, const std::string& kind) {
  const std::string pattern = map.pattern.empty() ? key : map.pattern + "." + key;
  const Default& fallback = *find_key(pattern)->default_of(kind);
  assume(map.path.empty() ? key : map.path + "." + key, fallback.value, fallback.why);
}

void Reader::assume_found(const Item& map, const std::string& key, const std::string& value) {
  const Default& fallback = *find_key(map.pattern + "." + key)->default_of("");
  assume(map.path + "." + key, value, fallback.value + ": " + fallback.why);
}

std::string write_point(const geometry::Vec3& point) {
  const auto length = [](double x) { return write_quantity(geometry::Value(x), "mm"); };
  return fmt::format("[{}, {}, {}]", length(point.x()), length(point.y()), length(point.z()));
}

}  // namespace tuft::casefile
