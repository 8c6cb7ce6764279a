#include "geometry/casefile/observation_maps.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "geometry/casefile/nearest.hpp"

namespace tuft::casefile {
namespace {

int find(const std::vector<std::string>& names, const std::string& name) {
  const auto at = std::find(names.begin(), names.end(), name);
  return at == names.end() ? -1 : static_cast<int>(at - names.begin());
}

}  // namespace

void ObservationMaps::check_keys(const Node& map, const std::string& path,
                                 const std::vector<std::string>& known) {
  for (const Entry& entry : map.entries) {
    if (contains(known, entry.key)) continue;
    report_.error(entry.key_spot, path,
                  fmt::format("unknown key {} (known: {})", casefile::in_quotes(entry.key), listed(known)),
                  hint_for(entry.key, known));
  }
}

std::string ObservationMaps::text(const Node& map, const std::string& path, const char* key) {
  const Entry* entry = map.find(key);
  if (entry == nullptr) return "";
  if (entry->value.kind == Node::Kind::text) return entry->value.text;
  report_.error(entry->value.spot, path + "." + key, "expected a text, found " + describe(entry->value));
  return "";
}

int ObservationMaps::name(const Node& map, const std::string& path, const char* key, const char* one,
                          const std::vector<std::string>& known) {
  const Entry* entry = map.find(key);
  if (entry == nullptr) {
    report_.error(map.spot, path, fmt::format("the key '{}' is missing ({}: {})", key, one, listed(known)));
    return -1;
  }
  const std::string written = text(map, path, key);
  const int index = find(known, written);
  if (index < 0 && entry->value.kind == Node::Kind::text) {
    const std::string have = known.empty() ? "the case has none" : "the case has " + listed(known);
    report_.error(entry->value.spot, path + "." + key,
                  fmt::format("{} is not {} ({})", casefile::in_quotes(written), one, have),
                  hint_for(written, known));
  }
  return index;
}

std::optional<double> ObservationMaps::exact(const Node& map, const std::string& path, const char* key,
                                             Dimension dimension) {
  const Entry* entry = map.find(key);
  if (entry == nullptr) return std::nullopt;
  const std::string written = text(map, path, key);
  if (entry->value.kind != Node::Kind::text) return std::nullopt;
  const Quantity read = read_quantity(written, dimension);
  if (!read.ok()) {
    report_.error(entry->value.spot, path + "." + key, read.fault, read.hint);
    return std::nullopt;
  }
  if (read.value.spread != geometry::SpreadKind::none) {
    report_.error(entry->value.spot, path + "." + key,
                  fmt::format("{} has a spread, which has no meaning here", casefile::in_quotes(written)),
                  "write the reading alone, and its standard deviation at 'error'");
    return std::nullopt;
  }
  return *read.value;
}

}  // namespace tuft::casefile
