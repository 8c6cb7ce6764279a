// Sections sources, parts, skin and spots: where heat arises, how it gets away, where it is felt and looked
// at.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <tuple>

#include "geometry/casefile/field_reader.hpp"
#include "geometry/casefile/nearest.hpp"

namespace tuft::casefile {
namespace {

using geometry::PlaceKind;
using geometry::Source;
using geometry::Vec3;

// --- joints --------------------------------------------------------------------------------------

// True if the name is that of the thing itself or of a source, which no joint can lead to (reported).
bool is_refused_end(Reader& reader, const std::string& own_name, const std::string& name, const Item& entry) {
  // A source may be called like a zone, and then the zone is meant.
  for (const char* section : {"zones", "fins", "skin"})
    if (reader.names[section].find(name) >= 0) return false;
  const bool itself = name == own_name;
  const bool source = !itself && reader.names["sources"].find(name) >= 0;
  if (itself) {
    reader.key_error(entry, "a joint leads to where it begins",
                     "name a part, fins, a zone or a patch of skin");
  } else if (source) {
    reader.key_error(
        entry, fmt::format("{} is a source, and joints lead from sources, not to them", in_quotes(name)),
        "join both sources to a part");
  }
  return itself || source;
}

std::vector<geometry::Joint> read_joints(Reader& reader, const Item& map, const std::string& own_name) {
  std::vector<geometry::Joint> out;
  const Item joins = reader.child(map, "joins");
  if (!joins) return out;
  for (const auto& [name, entry] : reader.entries(joins)) {
    if (is_refused_end(reader, own_name, name, entry)) continue;
    const auto place = Reader::place_of(reader.called(name, entry, {"parts", "fins", "zones", "skin"}));
    const auto resistance = reader.quantity(entry);
    if (place && resistance) out.push_back({*place, *resistance});
  }
  return out;
}

// --- a way for heat into the air inside ----------------------------------------------------------

// From a chip into its board, and from the board's two sides, together as large as the largest face of the
// chassis, into the air by slow air and radiation. Judgement, as the film of the skin's inner side.
constexpr double kIntoBoard = 5.0;  // [K/W]
constexpr double kBoardFilm = 8.0;  // [W/m2/K]
constexpr const char* kWayWhy =
    "no way for heat into the air inside is written: through the board under the chip (5 K/W) and off it "
    "(8 W/(m2 K) over the largest face of the chassis); judgement";

// True if some heat gets into the air of a zone or into skin without passing a vent.
bool heats_the_inside(const geometry::Device& device) {
  const auto is_inside = [&](const geometry::Place& place) {
    if (place.kind == PlaceKind::fins) return at(device.fin_stacks, place.index).exit_zone >= 0;
    return place.kind == PlaceKind::zone || place.kind == PlaceKind::skin;
  };
  const auto leads_inside = [&](const std::vector<geometry::Joint>& joints) {
    return std::any_of(joints.begin(), joints.end(), [&](const auto& joint) { return is_inside(joint.to); });
  };
  const auto heats = [&](const Source& source) {
    return leads_inside(source.joints) ||
           std::any_of(source.shares.begin(), source.shares.end(),
                       [&](const auto& share) { return is_inside(share.into); });
  };
  return std::any_of(device.sources.begin(), device.sources.end(), heats) ||
         std::any_of(device.parts.begin(), device.parts.end(),
                     [&](const auto& part) { return leads_inside(part.joints); });
}

double largest_face(const Vec3& size) {
  return std::max({size.x() * size.y(), size.y() * size.z(), size.x() * size.z()});
}

// Of each zone the part that its box has of the boxes' volume.
double share_of_zones(const geometry::Device& device, std::size_t zone) {
  double whole = 0.0;
  for (const geometry::Zone& each : device.zones) whole += each.size.prod();
  return whole > 0.0 ? device.zones[zone].size.prod() / whole : 0.0;
}

// --- sources -------------------------------------------------------------------------------------

void assume_only_zone(Reader& reader, const Item& item, Source& source) {
  const Names& zones = reader.names["zones"];
  if (zones.broken || zones.all.empty()) return;
  const int inside = std::max(0, zones.find("inside"));
  if (zones.all.size() > 1 && zones.find("inside") < 0) {
    reader.key_error(item,
                     "the key 'heats' is missing: with several zones it must be said "
                     "which air takes the heat",
                     fmt::format("write heats: {{{}: 100 %}}, or `joins`", zones.all[0]));
    return;
  }
  source.shares.push_back({{PlaceKind::zone, inside}, 1.0});
  reader.assume_found(item, "heats", fmt::format("{{{}: 100 %}}", at(zones.all, inside)));
}

void read_shares(Reader& reader, const Item& heats, Source& source) {
  double sum = 0.0;
  bool complete = true;
  const auto entries = reader.entries(heats);
  for (const auto& [name, entry] : entries) {
    const auto place = Reader::place_of(reader.called(name, entry, {"zones", "fins"}));
    const auto share = reader.quantity(entry);
    complete = complete && place && share;
    if (!place || !share) continue;
    source.shares.push_back({*place, *share});
    sum += **share;
  }
  if (complete && !entries.empty() && std::abs(sum - 1.0) > 1e-6)
    reader.error(heats, fmt::format("the shares add to {}, not to 100 %", write_quantity(sum, "%")));
}

// A source whose heat goes straight into air has no temperature that could be limited.
void refuse_what_needs_joints(Reader& reader, const Item& item) {
  for (const char* key : {"capacity", "throttles-at", "least-power", "shuts-down-at"}) {
    const Item found = reader.child(item, key);
    if (!found) continue;
    reader.key_error(found, "a source without `joins` has no temperature, and so no " + std::string(key),
                     "say by `joins` what its heat goes through, or take this out");
  }
}

// `least-power` has a default in words, and only where there is something to throttle.
void read_limits(Reader& reader, const Item& item, geometry::Limits& limits) {
  const Item throttles = reader.child(item, "throttles-at");
  const Item shuts_down = reader.child(item, "shuts-down-at");
  FieldReader(reader, item).first(limits, {"throttles-at", "shuts-down-at"});
  if (*limits.throttles_at > 0.0 && *limits.shuts_down_at > 0.0 &&
      *limits.throttles_at >= *limits.shuts_down_at) {
    reader.conflict(shuts_down, "the source shuts down before it throttles; this must lie above throttles-at",
                    throttles, "throttles here");
  }
  const Item least = reader.child(item, "least-power");
  if (least && !throttles) {
    reader.key_error(least, "without `throttles-at` the power is never lowered",
                     "write `throttles-at`, or take this out");
  } else if (least) {
    limits.least_power = reader.value(item, "least-power");
  } else if (*limits.throttles_at > 0.0) {
    reader.assume_default(item, "least-power");
    limits.least_power.origin = geometry::Origin::assumed;
  }
}

void refuse_both(Reader& reader, const Item& heats, const Item& joins) {
  const auto before = [](const Spot& a, const Spot& b) {
    return std::tie(a.line, a.column) < std::tie(b.line, b.column);
  };
  const bool heats_first = before(heats.key_spot, joins.key_spot);
  const Item& first = heats_first ? heats : joins;
  const Item& second = heats_first ? joins : heats;
  reader.key_conflict(second,
                      "a source's heat goes into air by fixed shares (`heats`) or through `joins`, not both",
                      first, "the other one stands here");
}

// --- skin and spots ------------------------------------------------------------------------------

double size_of(Reader& reader, const Item& item, const geometry::Spot& spot) {
  if (const auto given = reader.given(item, "size")) return **given;
  reader.assume_default(item, "size");
  const auto index = static_cast<std::size_t>(spot.on.index);
  const auto& skins = reader.device().skins;
  if (spot.on.kind != PlaceKind::skin || index >= skins.size()) return geometry::Spot{}.size;
  return std::min(skins[index].width, skins[index].height);
}

// --- where a source's heat goes into the air -----------------------------------------------------

// The only zone among the places that take up its heat; none, and a message, otherwise.
const geometry::Zone* zone_of_box(Reader& reader, const Item& from, const Source& source) {
  const geometry::Zone* zone = nullptr;
  int zones = 0;
  for (const geometry::HeatShare& share : source.shares)
    if (share.into.kind == PlaceKind::zone) {
      ++zones;
      zone = &at(reader.device().zones, share.into.index);
    }
  if (zones == 1) return zone;
  reader.key_error(from, fmt::format("the heat goes into the air of {} zones, and a box lies in one", zones),
                   "name one zone in `heats`, and describe a second source for the rest");
  return nullptr;
}

// Keys that say where a source's box is.
std::vector<std::string> box_words() {
  std::vector<std::string> words = {"from", "to", "size"};
  words.insert(words.end(), edge_words().begin(), edge_words().end());
  return words;
}

void place_box(Reader& reader, const Item& said, const Vec3& low, const Vec3& high, Source& source) {
  if (source.shares.empty()) return;
  const geometry::Zone* zone = zone_of_box(reader, said, source);
  if (zone == nullptr) return;
  source.is_placed = true;
  source.centre = 0.5 * (low + high);
  source.size = (high - low).cwiseAbs();
  if (distance_to(*zone, low) > kSameLength || distance_to(*zone, high) > kSameLength)
    reader.error(said, fmt::format("the box {} to {} extends beyond the zone {}, which reaches from {} to {}",
                                   write_point(low), write_point(high), in_quotes(zone->name),
                                   write_point(zone->centre - 0.5 * zone->size),
                                   write_point(zone->centre + 0.5 * zone->size)));
}

// A box by its size and distances to edges; false where it is not said so.
bool read_box_from_edges(Reader& reader, const Item& item, Source& source) {
  const Item written = reader.child(item, "size");
  const auto size = reader.point(item, "size");
  const EdgeRules rules{"a source",
                        size.value_or(Vec3(Vec3::Zero())),
                        {{true, true, true}},
                        {{true, true, true}},
                        {"from", "to"}};
  const FromEdges edges = read_from_edges(reader, item, rules);
  if (!edges.given && !written) return false;
  if (!edges.given) {
    reader.key_error(written, "the size alone does not say where the source is",
                     "write its distances to edges: " + listed(edge_words()));
  } else if (!written) {
    reader.key_error(item, "distances to edges need the size of the box", "write `size: [x, y, z]`");
  } else if (size && edges.centre[0] && edges.centre[1] && edges.centre[2]) {
    const Vec3 centre(*edges.centre[0], *edges.centre[1], *edges.centre[2]);
    place_box(reader, written, centre - 0.5 * *size, centre + 0.5 * *size, source);
  }
  return true;
}

void read_box(Reader& reader, const Item& item, Source& source) {
  if (read_box_from_edges(reader, item, source)) return;
  const Item from = reader.child(item, "from"), to = reader.child(item, "to");
  if (!from && !to) return;
  if (!from || !to) {
    reader.key_error(from ? from : to, "a box has two corners", "give both `from` and `to`, or neither");
    return;
  }
  const auto low = reader.point(item, "from"), high = reader.point(item, "to");
  if (low && high) place_box(reader, from, *low, *high, source);
}

}  // namespace

bool has_temperature(const Reader& reader, int source) {
  const Item& item = at(reader.names.at("sources").items, source);
  return static_cast<bool>(reader.child(item, "joins"));
}

void read_source(Reader& reader, const Item& item, Source& source) {
  if (!reader.check_map(item)) return;
  const Item heats = reader.child(item, "heats");
  const Item joins = reader.child(item, "joins");
  if (heats && joins) refuse_both(reader, heats, joins);
  if (joins) {
    for (const std::string& key : box_words())
      if (const Item corner = reader.child(item, key))
        reader.key_error(corner, "with `joins` the heat has no place of its own in the air",
                         "take this out, or give the heat by `heats`");
    source.joints = read_joints(reader, item, source.name);
    FieldReader(reader, item).rest(source);
    return read_limits(reader, item, source.limits);
  }
  refuse_what_needs_joints(reader, item);
  if (heats)
    read_shares(reader, heats, source);
  else
    assume_only_zone(reader, item, source);
  read_box(reader, item, source);
}

void read_part(Reader& reader, const Item& item, geometry::Part& part) {
  if (!reader.check_map(item)) return;
  part.joints = read_joints(reader, item, part.name);
  FieldReader(reader, item).rest(part);
}

void add_ways_inside(Reader& reader) {
  geometry::Device& device = reader.device();
  if (reader.report.has_errors_in({"device", "zones", "fins", "sources", "parts"})) return;
  if (device.sources.empty() || heats_the_inside(device)) return;
  const double resistance = kIntoBoard + 1.0 / (kBoardFilm * largest_face(device.size));
  const Names& names = reader.names["sources"];
  for (std::size_t s = 0; s < device.sources.size(); ++s) {
    if (device.sources[s].joints.empty()) continue;
    for (std::size_t z = 0; z < device.zones.size(); ++z) {
      const double share = share_of_zones(device, z);
      if (share <= 0.0) continue;
      const std::string path = names.items[s].path + ".joins." + device.zones[z].name;
      const Key& row = *find_key("sources.*.joins.*");
      const std::string text = fmt::format("{:.3g} K/W */ 3", resistance / share);
      geometry::Value value = read_quantity(text, row.dimension).value;
      value.origin = geometry::Origin::assumed;
      reader.assume(path, text, kWayWhy);
      reader.add_input(path, row, value);
      device.sources[s].joints.push_back({{PlaceKind::zone, static_cast<int>(z)}, value});
    }
  }
}

void read_patch(Reader& reader, const Item& item, geometry::Skin& skin) {
  if (!reader.check_map(item)) return;
  const auto face = read_face(reader, item);
  if (face) {
    skin.face = *face;
    place_on_face(reader, item, skin);
  }
  if (const Item behind = reader.child(item, "behind")) {
    skin.zone = reader.reference(behind).index;
  } else if (face && skin.width > 0.0) {
    skin.zone = zone_just_inside(reader, item, rectangle_of(skin), "patch", "a zone").value_or(0);
  }
  // Without a known material the defaults of a class would be those of the wrong one, and are not taken.
  const std::string material = reader.word(item, "material");
  skin.material = geometry::kind_called<geometry::SkinMaterial>(material).value_or(skin.material);
  FieldReader(reader, item, {material}).rest(skin);
}

void read_spot(Reader& reader, const Item& item, geometry::Spot& spot) {
  if (!reader.check_map(item)) return;
  const auto on = reader.place(reader.child(item, "on"));
  if (on) spot.on = *on;
  spot.surface = reader.word(item, "surface");
  if (on && on->kind != PlaceKind::skin && !reader.child(item, "surface"))
    reader.error(item, "the surface is needed: only skin has an emissivity of its own",
                 "write `surface:`, such as circuit-board or bare-copper");
  spot.size = size_of(reader, item, spot);
  spot.distance = *reader.value(item, "distance");
  spot.through_glass = reader.truth(item, "through-glass");
}

}  // namespace tuft::casefile
