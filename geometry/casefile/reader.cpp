#include "geometry/casefile/reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "geometry/casefile/meant.hpp"
#include "geometry/casefile/nearest.hpp"

namespace tuft::casefile {
namespace {

const char* allowed_shape(const Key& row) {
  return row.type == Type::map     ? "a map of keys"
         : row.type == Type::named ? "a map of names"
         : row.type == Type::list  ? "a list"
                                   : "a value";
}

// "vents" and "*" to "vents.*"; below the root the key alone.
std::string below(const std::string& path, const std::string& key) {
  return path.empty() ? key : path + "." + key;
}

// Lowest and highest value of a row's range [SI].
std::pair<double, double> bounds_of(const Key& row) {
  const std::string_view low = std::string_view(row.low).substr(row.low[0] == '>' ? 1 : 0);
  return {*read_quantity(low, row.dimension).value, *read_quantity(row.high, row.dimension).value};
}

}  // namespace

std::nullopt_t Reader::error(const Item& item, const std::string& message, const std::string& hint) {
  const bool nothing = item.node->kind == Node::Kind::nothing;
  if (item.node->faulty && nothing) return std::nullopt;  // reported when it was refused
  return report.error(nothing ? item.key_spot : item.node->spot, item.path, message, hint);
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
  for (const Key* row : keys_below(item.pattern))
    if (is_meant_for(item, row->name(), {kind})) known.push_back(row->name());
  report_missing(item, report_unknown(item, known, kind));
  return true;
}

namespace {

std::string hint_for_key(const std::string& key, const std::vector<std::string>& known) {
  const std::string straight = without_curly_quotes(key);
  if (straight != key && contains(known, straight)) return "write '" + straight + "' without curly quotes";
  if (begins_with_odd_blank(key))
    return "it begins with a non-breaking blank, which is none to YAML; type a plain one";
  return is_half_number(key) ? kWriteAPoint : hint_for(key, known);
}

// A key that belongs one level up, where the map itself stands; empty: it does not.
std::string hint_for_level(const std::string& pattern, const std::string& key) {
  const std::size_t point = pattern.rfind('.');
  const std::string above = point == std::string::npos ? "" : pattern.substr(0, point);
  const std::string map = point == std::string::npos ? pattern : pattern.substr(point + 1);
  for (const Key* row : keys_below(above))
    if (row->name() == key)
      return fmt::format("'{}' belongs one level up, beside '{}'", key, map == "*" ? above : map);
  return "";
}

}  // namespace

std::vector<std::string> Reader::report_unknown(const Item& item, const std::vector<std::string>& known,
                                                const std::string& kind) {
  std::vector<std::string> meant;
  for (const Entry& entry : item.node->entries) {
    if (contains(known, entry.key)) continue;
    const bool other_kind = find_key(item.pattern + "." + entry.key) != nullptr;
    const std::string message = other_kind ? fmt::format("'{}' has no '{}'", kind, entry.key)
                                           : fmt::format("unknown key {}", in_quotes(entry.key));
    const std::string level = other_kind ? "" : hint_for_level(item.pattern, entry.key);
    report.error(entry.key_spot, item.path, fmt::format("{} (known: {})", message, listed(known)),
                 other_kind || !level.empty() ? level : hint_for_key(entry.key, known));
    meant.push_back(nearest_word(entry.key, known));
  }
  return meant;
}

void Reader::report_missing(const Item& item, const std::vector<std::string>& misspelt) {
  const auto stands = [&](const std::string& key) { return item.node->find(key) != nullptr; };
  for (const Key* row : keys_below(item.pattern)) {
    if (!row->required || stands(row->name())) continue;
    if (std::any_of(row->or_keys.begin(), row->or_keys.end(), stands)) continue;
    if (item.node->faulty || contains(misspelt, row->name())) continue;
    const std::string sentence = row->says.substr(0, row->says.find_first_of(".:;"));
    key_error(item, fmt::format("the key '{}' is missing ({})", row->name(), sentence));
  }
}

Item Reader::child(const Item& map, const std::string& key) {
  if (!map || map.node->kind != Node::Kind::map) return {};
  const Entry* entry = map.node->find(key);
  if (entry == nullptr) return {};
  return {&entry->value, below(map.path, key), below(map.pattern, key), entry->key_spot};
}

Item Reader::child_or_empty(const Item& map, const std::string& key) const {
  const Item item = child(map, key);
  return item ? item : Item{&empty_map(), below(map.path, key), below(map.pattern, key), {1, 1}};
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
  for (const Entry& entry : item.node->entries)
    out.push_back(
        {entry.key, Item{&entry.value, item.path + "." + entry.key, item.pattern + ".*", entry.key_spot}});
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
    const Node& node = at(item.node->items, i);
    out.push_back({&node, fmt::format("{}[{}]", item.path, i), item.pattern + "[]", node.spot});
  }
  return out;
}

void Reader::assume(const std::string& path, const std::string& value, const std::string& why) {
  const bool of_model = path.compare(0, 5, "laws.") == 0;
  (of_model ? file.laws : file.assumptions).push_back({path, value, why});
}

void Reader::assume_default(const Item& map, const std::string& key, const Words& is) {
  const Default& fallback = *find_key(below(map.pattern, key))->default_of(is);
  assume(below(map.path, key), fallback.value, fallback.why);
}

void Reader::assume_found(const Item& map, const std::string& key, const std::string& value) {
  const Default& fallback = *find_key(map.pattern + "." + key)->default_of();
  assume(map.path + "." + key, value, fallback.value + ": " + fallback.why);
}

std::string write_point(const geometry::Vec3& point) {
  const auto length = [](double x) { return write_quantity(geometry::Value(x), "mm"); };
  return fmt::format("[{}, {}, {}]", length(point.x()), length(point.y()), length(point.z()));
}

// --- from an item to a checked value, and from a value with a spread to an input of the case ----------

namespace {

// Why a range does not begin lower: the row's own reason, or that of all sizes that devices are made of.
std::string why_not_less(const Key& row, double low) {
  const bool is_size = row.dimension != Dimension::number && row.dimension != Dimension::temperature;
  if (!row.reason.empty() || row.low[0] == '>' || !(low > 0.0) || !is_size) return row.reason;
  return "nothing so small occurs in a device";
}

}  // namespace

bool Reader::in_range(const Item& item, const Key& row, const geometry::Value& value,
                      const std::string& written) {
  if (row.low.empty()) return true;
  const bool open = row.low[0] == '>';
  const auto [low, high] = bounds_of(row);
  const double slack = 1e-12 * std::max(std::abs(low), std::abs(high));  // unit conversion rounds
  const auto outside = [&, least = low, most = high](double from, double to) {
    return (open ? from <= least : from < least - slack) || to > most + slack;
  };
  const std::string wanted = open ? fmt::format("above {} and at most {}", row.low.substr(2), row.high)
                                  : fmt::format("{} to {}", row.low, row.high);
  if (outside(*value, *value)) {
    error(item, fmt::format("{} is out of range: {}", in_quotes(written), wanted),
          *value < low ? why_not_less(row, low) : "");
    return false;
  }
  if (outside(value.low, value.high)) {
    error(item, fmt::format("the spread of {} leaves the range: {}", in_quotes(written), wanted),
          "write a narrower spread, or a range like 3..4..5 mm");
    return false;
  }
  return true;
}

void Reader::add_input(const std::string& path, const Key& row, geometry::Value& value,
                       const std::vector<double>& steps) {
  if (value.spread == geometry::SpreadKind::none) {
    exact_.insert(path);
    return;
  }
  const auto [it, is_new] = inputs_.emplace(path, static_cast<int>(content().inputs.size()));
  value.input = it->second;
  value.scale = 1.0;
  if (!is_new) return;
  geometry::Value prior = value;
  prior.input = -1;
  const auto [floor, ceiling] = bounds_of(row);
  content().inputs.push_back({path, prior, std::min(floor, prior.low), std::max(ceiling, prior.high), steps});
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
    const std::string meant = row.or_things.empty() ? "" : hint_for(node->text, row.or_things);
    return error(item, read.fault, read.hint.empty() ? meant : read.hint);
  }
  if (row.exact && read.value.spread != geometry::SpreadKind::none)
    return error(item, fmt::format("{} has a spread, which has no meaning here", in_quotes(node->text)),
                 "write the value alone");
  if (!in_range(item, row, read.value, node->text)) return std::nullopt;
  geometry::Value value = read.value;
  if (!node->why.empty()) {  // a generic thing gave it
    value.origin = geometry::Origin::assumed;
    assume(item.path, node->text, node->why);
  }
  if (!row.question) add_input(item.path, row, value, read.steps);
  return value;
}

std::optional<geometry::Value> Reader::given(const Item& map, const std::string& key) {
  const Item item = child(map, key);
  return item ? quantity(item) : std::nullopt;
}

bool Reader::is_meant_for(const Item& map, const std::string& key, const Words& is) const {
  const Words& kinds = find_key(map.pattern.empty() ? key : map.pattern + "." + key)->kinds;
  const auto fits = [&](const std::string& kind) { return kind.empty() || contains(kinds, kind); };
  return kinds.empty() || std::any_of(is.begin(), is.end(), fits);
}

std::optional<geometry::Value> Reader::value_if_any(const Item& map, const std::string& key,
                                                    const Words& is) {
  const Key& row = *find_key(map.pattern + "." + key);
  const Item item = child(map, key);
  const bool harmless = row.required || !row.defaults.empty();  // in place of a faulty one, reported
  if (item || row.required) {
    const auto read = item ? quantity(item) : std::nullopt;
    return read || !harmless ? read : geometry::Value(1.0);
  }
  const Default* fallback = row.default_of(is);
  if (fallback == nullptr) return std::nullopt;
  assume(map.path + "." + key, fallback->value, fallback->why);
  geometry::Value out = read_quantity(fallback->value, row.dimension).value;
  out.origin = geometry::Origin::assumed;
  add_input(map.path + "." + key, row, out);
  return out;
}

geometry::Value Reader::value(const Item& map, const std::string& key, const Words& is) {
  return value_if_any(map, key, is).value_or(geometry::Value(1.0));
}

std::optional<geometry::Vec3> Reader::point(const Item& map, const std::string& key) {
  const auto read = numbers(map, key);
  return read ? std::optional(geometry::Vec3((*read)[0], (*read)[1], (*read)[2])) : std::nullopt;
}

std::optional<std::vector<double>> Reader::numbers(const Item& map, const std::string& key) {
  const Item item = child(map, key);
  return item ? numbers_at(item) : std::nullopt;
}

std::optional<std::vector<double>> Reader::numbers_at(const Item& item) {
  const auto read = values_at(item);
  if (!read) return std::nullopt;
  std::vector<double> out;
  for (const geometry::Value& value : *read) out.push_back(*value);
  return out;
}

std::optional<std::vector<geometry::Value>> Reader::values(const Item& map, const std::string& key) {
  const Item item = child(map, key);
  return item ? values_at(item) : std::nullopt;
}

namespace {

// How to write a list of lengths that was written otherwise: with decimal commas, or as 117 x 112 x 41 mm.
std::string list_meant(const Node& node, const Key& row, int least) {
  std::vector<std::string> texts;
  if (node.kind == Node::Kind::text) texts = split_by_times(node.text);
  if (node.kind == Node::Kind::list) {
    for (const Node& each : node.items) texts.push_back(each.text);
    texts = with_decimals(texts);
  }
  const auto reads = [&](const std::string& text) { return read_quantity(text, row.dimension).ok(); };
  const bool counts = static_cast<int>(texts.size()) >= least && static_cast<int>(texts.size()) <= row.count;
  if (texts.empty() || !counts || !std::all_of(texts.begin(), texts.end(), reads)) return "";
  const char* why =
      node.kind == Node::Kind::list ? " (a comma parts items; decimals stand after a point)" : "";
  return fmt::format("write [{}]{}", fmt::join(texts, ", "), why);
}

}  // namespace

std::optional<std::vector<geometry::Value>> Reader::values_at(const Item& item) {
  const Key& row = *find_key(item.pattern);
  const DimensionInfo& info = dimension_info(row.dimension);
  const auto n = item.node->items.size();
  const int least = row.least > 0 ? row.least : row.count;
  const bool counts = static_cast<int>(n) >= least && static_cast<int>(n) <= row.count;
  if (item.node->kind != Node::Kind::list || !counts) {
    const std::string found =
        item.node->kind == Node::Kind::list ? fmt::format("{}", n) : describe(*item.node);
    return error(item,
                 fmt::format("expected a list of {} values, each {} ({}), found {}", row.count, info.article,
                             info.examples, found),
                 list_meant(*item.node, row, least));
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
    const Node& node = at(item.node->items, i);
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

std::vector<std::string> words_and_things(const Key& row) {
  std::vector<std::string> all = row.or_words;
  all.insert(all.end(), row.or_things.begin(), row.or_things.end());
  return all;
}

std::string bare_word(Reader& reader, const Item& item) {
  const std::vector<std::string>& words = find_key(item.pattern)->or_words;
  const std::string& word = item.node->text;
  if (contains(words, word)) return word;
  reader.error(item, fmt::format("{} is none of {}", in_quotes(word), listed(words)),
               hint_for(word, words_and_things(*find_key(item.pattern))));
  return "";
}

}  // namespace tuft::casefile
