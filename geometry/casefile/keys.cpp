#include "geometry/casefile/keys.hpp"

#include <map>

#include "geometry/casefile/generic.hpp"
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

Key like_key(const std::string& of, const std::string& list) {
  return word_key(of + ".like", generic_names(list),
                  "A generic thing that gives all values which the file does not state, each with the range "
                  "of its class; `tuft reference generic` lists them.");
}

const std::vector<std::string>& edge_words() {
  static const std::vector<std::string> words = {"from-left", "from-right", "from-front",
                                                 "from-rear", "from-base",  "from-top"};
  return words;
}

std::vector<Key> edge_keys(const std::string& of, const std::string& says) {
  std::vector<Key> rows;
  for (const std::string& word : edge_words()) {
    const std::string side = word.substr(word.find('-') + 1);
    rows.push_back(exact_key(of + "." + word, Dimension::length, "0 mm", "2 m",
                             side == "left" ? "Distance from the left side of the chassis " + says
                                            : "The same from its " + side + "."));
  }
  return rows;
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
