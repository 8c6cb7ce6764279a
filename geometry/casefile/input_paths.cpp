#include "geometry/casefile/input_paths.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "geometry/casefile/nearest.hpp"

namespace tuft::casefile {

InputPaths::InputPaths(Reader& reader) : reader_(reader) {
  for (const geometry::Input& input : reader.content().inputs) keys_.push_back(input.key);
}

std::vector<InputPaths::Placed> InputPaths::named(const Item& list, std::size_t least) {
  std::vector<Placed> out;
  if (!list) return out;
  if (list.node->kind != Node::Kind::list || list.node->items.size() < least) {
    reader_.error(list, "expected a list of at least " +
                            std::string(least == 1 ? "one key path" : "two key paths") + ", found " +
                            (list.node->kind == Node::Kind::list ? std::to_string(list.node->items.size())
                                                                 : describe(*list.node)));
    return out;
  }
  for (std::size_t i = 0; i < list.node->items.size(); ++i) {
    const Node& node = list.node->items[i];
    const Item item{&node, fmt::format("{}[{}]", list.path, i), list.pattern, node.spot};
    const int input = find(item);
    if (input < 0) continue;
    const auto twin =
        std::find_if(out.begin(), out.end(), [&](const Placed& other) { return other.input == input; });
    if (twin != out.end()) {
      reader_.report.conflict(node.spot, item.path, in_quotes(node.text) + " is named twice", twin->spot,
                              "first named here");
      continue;
    }
    out.push_back({input, node.spot});
  }
  return out;
}

int InputPaths::find(const Item& item) {
  if (item.node->kind != Node::Kind::text) {
    reader_.error(item, "expected a key path, found " + describe(*item.node));
    return -1;
  }
  const std::string& path = item.node->text;
  const auto at = std::find(keys_.begin(), keys_.end(), path);
  if (at != keys_.end()) return static_cast<int>(at - keys_.begin());
  if (reader_.exact().count(path) > 0) {
    reader_.error(item, in_quotes(path) + " has no spread, so it can't vary with anything",
                  "give it one (± 5 %), or leave it out here");
    return -1;
  }
  // Where something could not be read, the path may well be that of a faulty quantity.
  if (reader_.report.has_errors()) return -1;
  reader_.error(item, in_quotes(path) + " names no quantity of the case that has a spread",
                did_you_mean(path, keys_));
  return -1;
}

}  // namespace tuft::casefile
