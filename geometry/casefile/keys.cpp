#include "geometry/casefile/keys.hpp"

#include <algorithm>
#include <map>

namespace tuft::casefile {
namespace {

Key row(std::string path, Type type) {
  Key key;
  key.path = std::move(path);
  key.type = type;
  return key;
}

std::string parent_of(const std::string& path) {
  if (path.size() > 2 && path.compare(path.size() - 2, 2, "[]") == 0) return path.substr(0, path.size() - 2);
  const std::size_t dot = path.rfind('.');
  return dot == std::string::npos ? "" : path.substr(0, dot);
}

std::vector<Key> joined() {
  std::vector<Key> table;
  for (auto part : {device_keys, opening_keys, fan_keys, heat_keys, spot_keys, lid_keys, use_keys,
                    question_keys, together_keys}) {
    for (Key& key : part()) table.push_back(std::move(key));
  }
  return table;
}

struct Index {
  std::map<std::string, const Key*> rows;
  std::map<std::string, std::vector<const Key*>> below;
};

const Index& index() {
  static const Index built = [] {
    Index out;
    for (const Key& key : key_table()) {
      out.rows[key.path] = &key;
      out.below[parent_of(key.path)].push_back(&key);
    }
    return out;
  }();
  return built;
}

}  // namespace

const Default* Key::default_of(const std::vector<std::string>& is) const {
  const Default* general = nullptr;
  for (const Default& entry : defaults) {
    if (entry.when.empty()) general = &entry;
    if (!entry.when.empty() && std::find(is.begin(), is.end(), entry.when) != is.end()) return &entry;
  }
  return general;
}

std::string Key::name() const {
  if (path.size() > 2 && path.compare(path.size() - 2, 2, "[]") == 0) return "[]";
  return path.substr(path.rfind('.') + 1);  // npos + 1 is 0: the whole path
}

Key map_key(std::string path) { return row(std::move(path), Type::map); }
Key named_key(std::string path) { return row(std::move(path), Type::named); }
Key list_key(std::string path) { return row(std::move(path), Type::list); }
Key text_key(std::string path) { return row(std::move(path), Type::text); }
Key truth_key(std::string path) { return row(std::move(path), Type::truth); }

Key quantity_key(std::string path, Dimension dimension) {
  Key key = row(std::move(path), Type::quantity);
  key.dimension = dimension;
  if (dimension == Dimension::share) key.in("0 %", "100 %");
  return key;
}

Key quantities_key(std::string path, Dimension dimension, int count) {
  Key key = row(std::move(path), Type::quantities);
  key.dimension = dimension;
  key.count = count;
  key.exact = true;
  return key;
}

Key point_key(std::string path, int count) {
  return quantities_key(std::move(path), Dimension::length, count).in("0 mm", "2 m");
}

Key word_key(std::string path, std::vector<std::string> words) {
  Key key = row(std::move(path), Type::word);
  key.words = std::move(words);
  return key;
}

Key reference_key(std::string path, std::vector<std::string> sections) {
  Key key = row(std::move(path), Type::reference);
  key.words = std::move(sections);
  return key;
}

Key references_key(std::string path, std::vector<std::string> sections) {
  Key key = row(std::move(path), Type::references);
  key.words = std::move(sections);
  return key;
}

Key inputs_key(std::string path, int least) {
  Key key = row(std::move(path), Type::inputs);
  key.least = least;
  return key;
}

const std::vector<Key>& key_table() {
  static const std::vector<Key> table = joined();
  return table;
}

const Key* find_key(const std::string& pattern) {
  const auto it = index().rows.find(pattern);
  return it == index().rows.end() ? nullptr : it->second;
}

std::vector<const Key*> keys_below(const std::string& pattern) {
  const auto it = index().below.find(pattern);
  return it == index().below.end() ? std::vector<const Key*>{} : it->second;
}

}  // namespace tuft::casefile
