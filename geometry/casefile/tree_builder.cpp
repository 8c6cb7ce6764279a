#include "geometry/casefile/tree_builder.hpp"

#include <utility>

namespace tuft::casefile {

void TreeBuilder::stop(Spot spot, const std::string& message, const std::string& hint) {
  report_.error(spot, "", message, hint);
  stopped_ = true;
}

void TreeBuilder::document(Spot spot) {
  if (++n_documents_ == 1) return;
  stop(spot, "a second document begins here; a case file holds one device",
       "put the other device into a file of its own");
}

void TreeBuilder::nothing(Spot spot) {
  add({Node::Kind::nothing, after_key() ? open_.back().key_spot : spot, false, "", {}, {}});
}

void TreeBuilder::alias(Spot spot) {
  const bool of_merge_key = after_key() && open_.back().skip_value;
  if (!of_merge_key)
    report_.error(spot, path(), "aliases (*name) are not used in case files", "write the value out");
  add({Node::Kind::nothing, spot, true, "", {}, {}});
}

void TreeBuilder::scalar(Spot spot, const std::string& tag, const std::string& value) {
  check_tag(spot, tag);
  add({Node::Kind::text, spot, false, value, {}, {}});
}

void TreeBuilder::open(Spot spot, const std::string& tag, Node::Kind kind) {
  check_tag(spot, tag);
  if (static_cast<int>(open_.size()) >= kMaxDepth)
    return stop(spot, "lists and maps are nested more than " + std::to_string(kMaxDepth) + " deep");
  open_.emplace_back();
  open_.back().node.kind = kind;
  open_.back().node.spot = spot;
}

void TreeBuilder::close() {
  Node node = std::move(open_.back().node);
  open_.pop_back();
  add(std::move(node));
}

bool TreeBuilder::in_map() const { return !open_.empty() && open_.back().node.kind == Node::Kind::map; }
bool TreeBuilder::after_key() const { return in_map() && open_.back().has_key; }

std::string TreeBuilder::path() const {
  std::string out;
  for (const Open& level : open_) {
    if (level.node.kind == Node::Kind::list) {
      out += "[" + std::to_string(level.node.items.size()) + "]";
    } else if (level.has_key) {
      out += (out.empty() ? "" : ".") + level.key;
    }
  }
  return out;
}

void TreeBuilder::check_tag(Spot spot, const std::string& tag) {
  if (tag.empty() || tag == "?" || tag == "!") return;
  report_.error(spot, path(), "tags (!...) are not used in case files", "remove the tag");
}

void TreeBuilder::add(Node node) {
  if (open_.empty()) {
    root_ = std::move(node);
    return;
  }
  if (++n_nodes_ > kMaxNodes)
    return stop(node.spot, "the file holds more than " + std::to_string(kMaxNodes) + " entries");
  Open& parent = open_.back();
  if (parent.node.kind == Node::Kind::list) {
    parent.node.items.push_back(std::move(node));
  } else if (!parent.has_key) {
    take_key(parent, node);
  } else {
    if (!parent.skip_value)
      parent.node.entries.push_back({std::move(parent.key), parent.key_spot, std::move(node)});
    parent.has_key = false;
  }
}

void TreeBuilder::take_key(Open& parent, const Node& node) {
  const std::string where = path();
  parent.has_key = true;
  parent.key = node.text;
  parent.key_spot = node.spot;
  parent.skip_value = true;
  if (node.kind != Node::Kind::text) {
    if (!node.faulty) report_.error(node.spot, where, "a key must be a word, found " + describe(node));
  } else if (node.text == "<<") {
    report_.error(node.spot, where, "merge keys (<<) are not used in case files", "write the values out");
    parent.node.faulty = true;
  } else if (!parent.keys.insert(node.text).second) {
    const Entry* first = parent.node.find(node.text);
    report_.conflict(node.spot, where, "the key " + in_quotes(node.text) + " is written twice",
                     first ? first->key_spot : node.spot, "first written here");
  } else {
    parent.skip_value = false;
  }
}

}  // namespace tuft::casefile
