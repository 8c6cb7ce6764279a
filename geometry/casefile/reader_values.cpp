// Reader: from an item to a checked value.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {

bool Reader::in_range(const Item& item, const Key& row, const geometry::Value& value,
                      const std::string& written) {
  const auto end = [&](const std::string& text) {
    const bool open = !text.empty() && text[0] == '>';
    return *read_quantity(open ? std::string_view(text).substr(1) : std::string_view(text), row.dimension)
                .value;
  };
  if (row.low.empty()) return true;
  const bool open = row.low[0] == '>';
  const double low = end(row.low);
  const double high = end(row.high);
  const double slack = 1e-12 * std::max(std::abs(low), std::abs(high));  // unit conversion rounds
  const auto below = [&](double x) { return open ? x <= low : x < low - slack; };
  const std::string wanted = open ? fmt::format("above {} and at most {}", row.low.substr(2), row.high)
                                  : fmt::format("{} to {}", row.low, row.high);
  if (below(*value) || *value > high + slack) {
    error(item, fmt::format("{} is out of range: {}", in_quotes(written), wanted));
    return false;
  }
  if (below(value.low) || value.high > high + slack) {
    error(item, fmt::format("the spread of {} leaves the range: {}", in_quotes(written), wanted),
          "write a narrower spread, or a range like 3..4..5 mm");
    return false;
  }
  return true;
}

const Node* Reader::expect_text(const Item& item, const std::string& wanted) {
  if (item.node->kind == Node::Kind::text) return item.node;
  error(item, fmt::format("expected {}, found {}", wanted, describe(*item.node)));
  return nullptr;
}

std::optional<geometry::Value> Reader::quantity(const Item& item) {
  const Key& row = *find_key(item.pattern);
  const DimensionInfo& info = dimension_info(row.dimension);
  const Node* node = expect_text(item, fmt::format("{} ({})", info.article, info.examples));
  if (node == nullptr) return std::nullopt;
  const Quantity read = read_quantity(node->text, row.dimension);
  if (!read.ok()) {
    error(item, read.fault, read.hint);
    return std::nullopt;
  }
  if (row.exact && read.value.spread != geometry::SpreadKind::none) {
    error(item, fmt::format("{} has a spread, which has no meaning here", in_quotes(node->text)),
          "write the value alone");
    return std::nullopt;
  }
  if (!in_range(item, row, read.value, node->text)) return std::nullopt;
  geometry::Value value = read.value;
  if (!row.question) add_input(item.path, row, value);
  return value;
}

std::optional<geometry::Value> Reader::given(const Item& map, const std::string& key) {
  const Item item = child(map, key);
  return item ? quantity(item) : std::nullopt;
}

geometry::Value Reader::value(const Item& map, const std::string& key, const std::string& kind) {
  if (const Item item = child(map, key)) return quantity(item).value_or(geometry::Value(1.0));
  const Key& row = *find_key(map.pattern + "." + key);
  const Default* fallback = row.default_of(kind);
  if (fallback == nullptr) return geometry::Value(1.0);  // a missing required key, reported before
  assume(map.path + "." + key, fallback->value, fallback->why);
  geometry::Value out = read_quantity(fallback->value, row.dimension).value;
  out.origin = geometry::Origin::assumed;
  add_input(map.path + "." + key, row, out);
  return out;
}

std::optional<std::vector<double>> Reader::numbers(const Item& map, const std::string& key) {
  const auto read = values(map, key);
  if (!read) return std::nullopt;
  std::vector<double> out;
  for (const geometry::Value& value : *read) out.push_back(*value);
  return out;
}

std::optional<std::vector<geometry::Value>> Reader::values(const Item& map, const std::string& key) {
  const Item item = child(map, key);
  if (!item) return std::nullopt;
  const Key& row = *find_key(item.pattern);
  const DimensionInfo& info = dimension_info(row.dimension);
  const auto n = item.node->items.size();
  const int least = row.least > 0 ? row.least : row.count;
  const bool counts = static_cast<int>(n) >= least && static_cast<int>(n) <= row.count;
  if (item.node->kind != Node::Kind::list || !counts) {
    const std::string found =
        item.node->kind == Node::Kind::list ? fmt::format("{}", n) : describe(*item.node);
    error(item, fmt::format("expected a list of {} values, each {} ({}), found {}", row.count, info.article,
                            info.examples, found));
    return std::nullopt;
  }
  std::vector<geometry::Value> out;
  for (std::size_t i = 0; i < n; ++i) {
    const Node& node = item.node->items[i];
    const auto one = quantity({&node, fmt::format("{}[{}]", item.path, i), item.pattern, node.spot});
    if (one) out.push_back(*one);
  }
  return out.size() == n ? std::optional(out) : std::nullopt;
}

std::string Reader::word(const Item& map, const std::string& key) {
  const Item item = child(map, key);
  if (!item) return "";
  const Key& row = *find_key(item.pattern);
  const Node* node = expect_text(item, "one of " + listed(row.words));
  if (node == nullptr) return "";
  if (contains(row.words, node->text)) return node->text;
  const bool one = row.words.size() == 1;
  error(item, fmt::format("{} is {} {}", in_quotes(node->text), one ? "not" : "none of", listed(row.words)),
        hint_for(node->text, row.words));
  return "";
}

std::string Reader::text(const Item& map, const std::string& key) {
  constexpr std::size_t kLongestText = 1000;
  const Item item = child(map, key);
  if (!item) return "";
  const Node* node = expect_text(item, "a text");
  if (node == nullptr) return "";
  std::string out = node->text;
  while (!out.empty() && (out.back() == '\n' || out.back() == ' ')) out.pop_back();
  if (out.find_first_not_of(" \n") == std::string::npos) error(item, "the text is empty");
  if (out.size() > kLongestText) error(item, fmt::format("the text is longer than {} bytes", kLongestText));
  const bool control =
      std::any_of(out.begin(), out.end(), [](unsigned char c) { return c < 0x20 && c != '\n'; });
  if (control) error(item, "the text holds control characters");
  return out;
}

bool Reader::truth(const Item& map, const std::string& key) {
  const Item item = child(map, key);
  if (!item) return false;
  const Node* node = expect_text(item, "true or false");
  if (node == nullptr) return false;
  if (node->text == "true" || node->text == "false") return node->text == "true";
  error(item, fmt::format("{} is neither true nor false", in_quotes(node->text)),
        hint_for(node->text, {"true", "false"}));
  return false;
}

geometry::Vec3 Reader::axis(const Item& map, const std::string& key) {
  const Item item = child(map, key);
  geometry::Vec3 out = geometry::Vec3::Zero();
  if (!item) return out;
  if (item.node->kind == Node::Kind::text) {
    const std::string letter = word(map, key);
    if (!letter.empty()) out[letter[0] - 'x'] = 1.0;
    return out;
  }
  if (item.node->kind != Node::Kind::list || item.node->items.size() != 3) {
    error(item, fmt::format("expected x, y, z or a direction [a, b, c], found {}", describe(*item.node)));
    return out;
  }
  for (int i = 0; i < 3; ++i) {
    const Node& node = item.node->items[static_cast<std::size_t>(i)];
    const Item part{&node, fmt::format("{}[{}]", item.path, i), item.pattern, node.spot};
    if (expect_text(part, "a number") == nullptr) return geometry::Vec3::Zero();
    const Quantity read = read_quantity(node.text, Dimension::number);
    const bool sound =
        read.ok() && read.value.spread == geometry::SpreadKind::none && std::abs(*read.value) <= 1e6;
    if (!sound) {
      error(part, fmt::format("{} is not a plain number", in_quotes(node.text)));
      return geometry::Vec3::Zero();
    }
    out[i] = *read.value;
  }
  if (out.norm() < 1e-6) {
    error(item, "the direction has no length");
    return geometry::Vec3::Zero();
  }
  return out.normalized();
}

}  // namespace tuft::casefile
