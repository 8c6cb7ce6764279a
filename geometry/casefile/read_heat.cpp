// Sections sources and parts, and what fins are made of: where heat arises and how it gets away.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {
namespace {

using geometry::HeatShare;
using geometry::Joint;
using geometry::Limits;
using geometry::Part;
using geometry::Place;
using geometry::PlaceKind;
using geometry::Source;

struct Section {
  const char* key;
  PlaceKind kind;
};

// The place a name stands for; reports when it is none of the sections'.
std::optional<Place> named_place(Reader& reader, const std::string& name, const Item& item,
                                 std::initializer_list<Section> sections) {
  std::vector<std::string> keys;
  for (const Section& section : sections) {
    const int index = reader.names[section.key].find(name);
    if (index >= 0) return Place{section.kind, index};
    keys.push_back(section.key);
  }
  reader.unknown_name(item, name, keys);
  return std::nullopt;
}

// --- joints --------------------------------------------------------------------------------------

// True if the name is that of the thing itself or of a source, which no joint can lead to (reported).
bool is_refused_end(Reader& reader, const std::string& own_name, const std::string& name, const Item& entry) {
  // A source may be called like a zone, and then the zone is meant.
  for (const char* section : {"zones", "fins", "skin"}) {
    if (reader.names[section].find(name) >= 0) return false;
  }
  const bool itself = name == own_name;
  const bool source = !itself && reader.names["sources"].find(name) >= 0;
  if (itself) {
    reader.report.error(entry.key_spot, entry.path, "a joint leads to where it begins",
                        "name a part, fins, a zone or a patch of skin");
  } else if (source) {
    reader.report.error(
        entry.key_spot, entry.path,
        fmt::format("{} is a source, and joints lead from sources, not to them", in_quotes(name)),
        "join both sources to a part");
  }
  return itself || source;
}

std::vector<Joint> read_joints(Reader& reader, const Item& map, const std::string& own_name) {
  std::vector<Joint> out;
  const Item joins = reader.child(map, "joins");
  if (!joins) return out;
  for (const auto& [name, entry] : reader.entries(joins)) {
    if (is_refused_end(reader, own_name, name, entry)) continue;
    const auto place = named_place(reader, name, entry,
                                   {{"parts", PlaceKind::part},
                                    {"fins", PlaceKind::fins},
                                    {"zones", PlaceKind::zone},
                                    {"skin", PlaceKind::skin}});
    const auto resistance = reader.quantity(entry);
    if (place && resistance) out.push_back({*place, *resistance});
  }
  return out;
}

// --- sources -------------------------------------------------------------------------------------

void assume_only_zone(Reader& reader, const Item& item, Source& source) {
  const Names& zones = reader.names["zones"];
  if (zones.broken || zones.all.empty()) return;
  const int inside = std::max(0, zones.find("inside"));
  if (zones.all.size() > 1 && zones.find("inside") < 0) {
    reader.report.error(item.key_spot, item.path,
                        "the key 'heats' is missing: with several zones it must be said "
                        "which air takes the heat",
                        fmt::format("write heats: {{{}: 100 %}}, or `joins`", zones.all[0]));
    return;
  }
  source.shares.push_back({{PlaceKind::zone, inside}, 1.0});
  reader.assume_found(item, "heats",
                      fmt::format("{{{}: 100 %}}", zones.all[static_cast<std::size_t>(inside)]));
}

void read_shares(Reader& reader, const Item& heats, Source& source) {
  double sum = 0.0;
  bool complete = true;
  const auto entries = reader.entries(heats);
  for (const auto& [name, entry] : entries) {
    const auto place =
        named_place(reader, name, entry, {{"zones", PlaceKind::zone}, {"fins", PlaceKind::fins}});
    const auto share = reader.quantity(entry);
    complete = complete && place && share;
    if (!place || !share) continue;
    source.shares.push_back({*place, *share});
    sum += **share;
  }
  if (complete && !entries.empty() && std::abs(sum - 1.0) > 1e-6) {
    reader.error(heats, fmt::format("the shares add to {}, not to 100 %", write_quantity(sum, "%")));
  }
}

// A source whose heat goes straight into air has no temperature that could be limited.
void refuse_what_needs_joints(Reader& reader, const Item& item) {
  for (const char* key : {"capacity", "throttles-at", "least-power", "shuts-down-at"}) {
    const Item found = reader.child(item, key);
    if (!found) continue;
    reader.report.error(found.key_spot, found.path,
                        "a source without `joins` has no temperature, and so no " + std::string(key),
                        "say by `joins` what its heat goes through, or take this out");
  }
}

Limits read_limits(Reader& reader, const Item& item) {
  Limits limits;
  const auto throttles = reader.given(item, "throttles-at");
  const auto shuts_down = reader.given(item, "shuts-down-at");
  if (throttles) limits.throttles_at = *throttles;
  if (shuts_down) limits.shuts_down_at = *shuts_down;
  if (throttles && shuts_down && **throttles >= **shuts_down) {
    const Item first = reader.child(item, "throttles-at");
    const Item second = reader.child(item, "shuts-down-at");
    reader.report.conflict(second.node->spot, second.path,
                           "the source shuts down before it throttles; this must lie above throttles-at",
                           first.node->spot, "throttles here");
  }
  const Item least = reader.child(item, "least-power");
  if (least && !reader.child(item, "throttles-at")) {
    reader.report.error(least.key_spot, least.path, "without `throttles-at` the power is never lowered",
                        "write `throttles-at`, or take this out");
  } else if (least) {
    limits.least_power = reader.value(item, "least-power");
  } else if (throttles) {
    reader.assume_default(item, "least-power");
    limits.least_power.origin = geometry::Origin::assumed;
  }
  return limits;
}

Source read_source(Reader& reader, const std::string& name, const Item& item) {
  Source source;
  source.name = name;
  reader.check_map(item);
  if (item.node->kind != Node::Kind::map) return source;
  const Item heats = reader.child(item, "heats");
  const Item joins = reader.child(item, "joins");
  if (heats && joins) {
    const bool heats_first =
        heats.key_spot.line < joins.key_spot.line ||
        (heats.key_spot.line == joins.key_spot.line && heats.key_spot.column < joins.key_spot.column);
    const Item& first = heats_first ? heats : joins;
    const Item& second = heats_first ? joins : heats;
    reader.report.conflict(
        second.key_spot, second.path,
        "a source's heat goes into air by fixed shares (`heats`) or through `joins`, not both",
        first.key_spot, "the other one stands here");
  }
  if (joins) {
    source.joints = read_joints(reader, item, name);
    source.capacity = reader.value(item, "capacity");
    source.limits = read_limits(reader, item);
    return source;
  }
  refuse_what_needs_joints(reader, item);
  if (heats) {
    read_shares(reader, heats, source);
  } else {
    assume_only_zone(reader, item, source);
  }
  return source;
}

Part read_part(Reader& reader, const std::string& name, const Item& item) {
  Part part;
  part.name = name;
  reader.check_map(item);
  if (item.node->kind != Node::Kind::map) return part;
  part.joints = read_joints(reader, item, name);
  part.capacity = reader.value(item, "capacity");
  return part;
}

}  // namespace

bool has_temperature(const Reader& reader, int source) {
  const Item& item = reader.names.at("sources").items[static_cast<std::size_t>(source)];
  return static_cast<bool>(reader.child(item, "joins"));
}

void read_sources(Reader& reader, const Item&) {
  const Names& names = reader.names["sources"];
  for (std::size_t i = 0; i < names.all.size(); ++i) {
    reader.device().sources.push_back(read_source(reader, names.all[i], names.items[i]));
  }
}

void read_parts(Reader& reader, const Item&) {
  const Names& names = reader.names["parts"];
  for (std::size_t i = 0; i < names.all.size(); ++i) {
    reader.device().parts.push_back(read_part(reader, names.all[i], names.items[i]));
  }
}

// The metal counts only where a joint leads to the fins, and only then is it worth an assumption.
void read_fin_metal(Reader& reader, const Item&) {
  const Names& names = reader.names["fins"];
  for (std::size_t i = 0; i < names.all.size(); ++i) {
    const Item& item = names.items[i];
    if (item.node->kind != Node::Kind::map) continue;
    geometry::FinStack& stack = reader.device().fin_stacks[i];
    const bool joined = geometry::has_metal(reader.device(), static_cast<int>(i));
    const auto read = [&](const char* key, geometry::Value& into) {
      if (joined || reader.child(item, key)) into = reader.value(item, key);
    };
    read("fin-thickness", stack.fin_thickness);
    read("conductivity", stack.conductivity);
    read("capacity", stack.capacity);
  }
}

}  // namespace tuft::casefile
