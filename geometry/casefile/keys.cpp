#include "geometry/casefile/keys.hpp"

#include <map>

#include "geometry/device/lists.hpp"

namespace tuft::casefile {
namespace {

std::string parent_of(const std::string& path) {
  if (path.size() > 2 && path.compare(path.size() - 2, 2, "[]") == 0) return path.substr(0, path.size() - 2);
  const std::size_t dot = path.rfind('.');
  return dot == std::string::npos ? "" : path.substr(0, dot);
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
    if (!entry.when.empty() && geometry::contains(is, entry.when)) return &entry;
  }
  return general;
}

std::string Key::name() const {
  if (path.size() > 2 && path.compare(path.size() - 2, 2, "[]") == 0) return "[]";
  return path.substr(path.rfind('.') + 1);  // npos + 1 is 0: the whole path
}

std::vector<Key> joined(std::initializer_list<Rows> parts) {
  std::vector<Key> rows;
  for (const Rows& part : parts) rows.insert(rows.end(), part.keys.begin(), part.keys.end());
  return rows;
}

const std::vector<Key>& key_table() {
  static const std::vector<Key> table =
      joined({device_keys(), inside_keys(), use_keys(), law_keys(), question_keys(), photo_keys()});
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
