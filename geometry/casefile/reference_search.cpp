// Finding in the key table what somebody asks the reference for.
#include <algorithm>

#include "geometry/casefile/keys.hpp"
#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/reference.hpp"

namespace tuft::casefile {
namespace {

// "claims[].id" -> claims, [], id.
std::vector<std::string> parts_of(const std::string& path) {
  std::vector<std::string> parts;
  std::string part;
  for (std::size_t i = 0; i <= path.size(); ++i) {
    if (i == path.size() || path[i] == '.' || path[i] == '[') {
      if (!part.empty()) parts.push_back(part);
      part = i < path.size() && path[i] == '[' ? "[" : "";
    } else {
      part += path[i];
    }
  }
  return parts;
}

const Key* child_called(const std::string& pattern, const std::string& name) {
  for (const Key* key : keys_below(pattern)) {
    if (key->name() == name) return key;
  }
  return nullptr;
}

// One step down. A chosen name stands for '*'; the items of a list need not be written.
const Key* step(const std::string& pattern, const std::string& part) {
  if (const Key* exact = child_called(pattern, part)) return exact;
  if (const Key* item = child_called(pattern, "[]")) return step(item->path, part);
  return part.front() == '[' ? nullptr : child_called(pattern, "*");
}

const Key* key_at(const std::vector<std::string>& parts) {
  const Key* key = nullptr;
  for (const std::string& part : parts) {
    key = step(key == nullptr ? "" : key->path, part);
    if (key == nullptr) return nullptr;
  }
  return key;
}

void add_with_all_below(const Key& key, std::vector<std::string>& paths) {
  paths.push_back(key.path);
  for (const Key* below : keys_below(key.path)) add_with_all_below(*below, paths);
}

// A path with '*' for the names chosen as far as it can be followed, and from there on as it was written.
std::string as_in_table(const std::vector<std::string>& parts) {
  std::string path;
  const Key* key = nullptr;
  bool known = true;
  for (const std::string& part : parts) {
    const Key* next = known ? step(key == nullptr ? "" : key->path, part) : nullptr;
    known = next != nullptr;
    path = known ? next->path : path + (path.empty() || part.front() == '[' ? "" : ".") + part;
    if (known) key = next;
  }
  return path;
}

}  // namespace

std::vector<std::string> section_names() {
  std::vector<std::string> names;
  for (const Key* section : keys_below("")) names.push_back(section->path);
  return names;
}

std::vector<std::string> keys_asked_for(const std::string& asked) {
  std::vector<std::string> paths;
  const std::vector<std::string> parts = parts_of(asked);
  if (const Key* found = key_at(parts)) {
    add_with_all_below(*found, paths);
  } else if (parts.size() == 1) {
    for (const Key& key : key_table()) {
      if (key.name() == asked) paths.push_back(key.path);
    }
  }
  return paths;
}

std::string nearest_reference(const std::string& asked) {
  std::vector<std::string> known = section_names();
  const std::vector<std::string> parts = parts_of(asked);
  for (const Key& key : key_table()) {
    const std::string name = parts.size() > 1 ? key.path : key.name();
    if (name != "*" && name != "[]" && !contains(known, name)) known.push_back(name);
  }
  const std::string hint = did_you_mean(parts.size() > 1 ? as_in_table(parts) : asked, known);
  return hint.empty() ? "the sections are: " + listed(section_names()) : hint;
}

}  // namespace tuft::casefile
