#include "geometry/casefile/document.hpp"

#include <algorithm>

namespace tuft::casefile {

const Entry* Node::find(std::string_view key) const {
  const auto it = std::find_if(entries.begin(), entries.end(), [&](const Entry& e) { return e.key == key; });
  return it == entries.end() ? nullptr : &*it;
}

const Node& empty_map() {
  static const Node node{Node::Kind::map, {}, false, "", {}, {}};
  return node;
}

std::string describe(const Node& node) {
  if (node.kind == Node::Kind::text) return in_quotes(node.text);
  return node.kind == Node::Kind::list ? "a list" : node.kind == Node::Kind::map ? "a map" : "nothing";
}

std::string in_quotes(std::string_view text) {
  constexpr int kLongest = 60;
  std::string out = "'";
  int count = 0;
  for (const std::string_view character : characters(text)) {
    if (count++ == kLongest) return out + "...'";
    out += static_cast<unsigned char>(character[0]) < 0x20 ? " " : character;
  }
  return out + "'";
}

}  // namespace tuft::casefile
