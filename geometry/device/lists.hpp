// Looking something up in a list.
#pragma once

#include <algorithm>
#include <iterator>
#include <string>
#include <vector>

namespace tuft::geometry {

/// Whether a value is one of a list.
template <class List, class Value>
bool contains(const List& list, const Value& value) {
  return std::find(std::begin(list), std::end(list), value) != std::end(list);
}

/// Index of the first entry of which something is so; -1: of none.
template <class List, class IsSo>
int find_index(const List& list, IsSo is_so) {
  const auto found = std::find_if(std::begin(list), std::end(list), is_so);
  return found == std::end(list) ? -1 : static_cast<int>(found - std::begin(list));
}

/// Names of the things in a list.
template <class Named>
std::vector<std::string> names_of(const std::vector<Named>& list) {
  std::vector<std::string> names;
  for (const Named& each : list) names.push_back(each.name);
  return names;
}

/// Whether a text ends with another.
inline bool ends_with(const std::string& text, const std::string& end) {
  return text.size() >= end.size() && text.compare(text.size() - end.size(), end.size(), end) == 0;
}

}  // namespace tuft::geometry
