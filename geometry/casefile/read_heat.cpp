// Sections sources and lid.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {
namespace {

using geometry::HeatShare;
using geometry::Lid;
using geometry::PlaceKind;
using geometry::Source;

// --- sources -------------------------------------------------------------------------------------

std::optional<geometry::Place> heated_place(Reader& reader, const std::string& name, const Item& item) {
  const int zone = reader.names["zones"].find(name);
  if (zone >= 0) return geometry::Place{PlaceKind::zone, zone};
  const int fins = reader.names["fins"].find(name);
  if (fins >= 0) return geometry::Place{PlaceKind::fins, fins};
  reader.unknown_name(item, name, {"zones", "fins"});
  return std::nullopt;
}

void assume_only_zone(Reader& reader, const Item& item, Source& source) {
  const Names& zones = reader.names["zones"];
  if (zones.broken || zones.all.empty()) return;
  const int inside = std::max(0, zones.find("inside"));
  if (zones.all.size() > 1 && zones.find("inside") < 0) {
    reader.report.error(item.key_spot, item.path,
                        "the key 'heats' is missing: with several zones it must be said "
                        "which air takes the heat",
                        fmt::format("write heats: {{{}: 100 %}}", zones.all[0]));
    return;
  }
  source.shares.push_back({{PlaceKind::zone, inside}, 1.0});
  reader.assume_found(item, "heats",
                      fmt::format("{{{}: 100 %}}", zones.all[static_cast<std::size_t>(inside)]));
}

Source read_source(Reader& reader, const Item& item) {
  Source source;
  reader.check_map(item);
  if (item.node->kind != Node::Kind::map) return source;
  const Item heats = reader.child(item, "heats");
  if (!heats) {
    assume_only_zone(reader, item, source);
    return source;
  }
  double sum = 0.0;
  bool complete = true;
  const auto entries = reader.entries(heats);
  for (const auto& [name, entry] : entries) {
    const auto place = heated_place(reader, name, entry);
    const auto share = reader.quantity(entry);
    complete = complete && place && share;
    if (!place || !share) continue;
    source.shares.push_back({*place, *share});
    sum += **share;
  }
  if (complete && !entries.empty() && std::abs(sum - 1.0) > 1e-6) {
    reader.error(heats, fmt::format("the shares add to {}, not to 100 %", write_quantity(sum, "%")));
  }
  return source;
}

// --- lid -----------------------------------------------------------------------------------------

void sort_and_check(Reader& reader, std::vector<std::pair<Lid::Hides, Item>>& rows) {
  std::stable_sort(rows.begin(), rows.end(),
                   [](const auto& a, const auto& b) { return a.first.angle < b.first.angle; });
  for (std::size_t i = 1; i < rows.size(); ++i) {
    if (rows[i].first.angle > rows[i - 1].first.angle) continue;
    reader.report.conflict(rows[i].second.key_spot, rows[i].second.path, "this angle is written twice",
                           rows[i - 1].second.key_spot, "first written here");
  }
}

std::vector<Lid::Hides> read_hides(Reader& reader, const Item& item) {
  std::vector<std::pair<Lid::Hides, Item>> rows;
  for (const auto& [angle, entry] : reader.entries(item)) {
    const Quantity read = read_quantity(angle, Dimension::angle);
    const auto share = reader.quantity(entry);
    const bool plain = read.ok() && read.value.spread == geometry::SpreadKind::none;
    constexpr double full_turn = 6.2831853071795865;
    if (!plain || *read.value < 0.0 || *read.value > full_turn + 1e-9) {
      const std::string fault =
          read.ok() ? fmt::format("{} is no angle from 0 to 360 deg", quoted(angle)) : read.fault;
      reader.report.error(entry.key_spot, entry.path, fault, read.hint);
    } else if (share) {
      rows.push_back({{*read.value, **share}, entry});
    }
  }
  sort_and_check(reader, rows);
  std::vector<Lid::Hides> out;
  for (const auto& row : rows) out.push_back(row.first);
  return out;
}

// The default's text is a piece of a case file and is read as one.
std::vector<Lid::Hides> assumed_hides(Reader& reader, const Item& lid) {
  const std::string& text = find_key("lid.hides-hinge")->default_of("")->value;
  Report unused("", text);
  const ParsedDocument document = parse_document(text, unused);
  reader.assume_default(lid, "hides-hinge");
  return read_hides(reader, {&document.root, lid.path + ".hides-hinge", "lid.hides-hinge", lid.key_spot});
}

}  // namespace

void read_sources(Reader& reader, const Item&) {
  const Names& names = reader.names["sources"];
  for (std::size_t i = 0; i < names.all.size(); ++i) {
    Source source = read_source(reader, names.items[i]);
    source.name = names.all[i];
    reader.device().sources.push_back(source);
  }
}

void read_lid(Reader& reader, const Item& root) {
  const Item item = reader.child(root, "lid");
  if (!item) return;
  reader.check_map(item);
  if (item.node->kind != Node::Kind::map) return;
  Lid& lid = reader.device().lid;
  lid.present = true;
  lid.angle = reader.value(item, "angle");
  lid.clearance = reader.value(item, "clearance");
  if (const Item hides = reader.child(item, "hides-hinge")) {
    lid.hides_hinge = read_hides(reader, hides);
  } else {
    lid.hides_hinge = assumed_hides(reader, item);
  }
}

}  // namespace tuft::casefile
