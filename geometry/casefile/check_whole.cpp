// What only the whole can tell: whether air and heat get anywhere, what is never used, what overlaps.
#include <fmt/core.h>

#include <algorithm>
#include <set>

#include "geometry/casefile/boxes.hpp"
#include "geometry/casefile/nearest.hpp"
#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {
namespace {

using geometry::Device;
using geometry::Fan;
using geometry::Place;
using geometry::PlaceKind;

// --- connections ---------------------------------------------------------------------------------

// Zones that air from outside can't reach.
std::vector<int> cut_off_zones(const Device& device) {
  const std::size_t n_zones = device.zones.size();
  const std::size_t outside = n_zones + device.fin_stacks.size();
  Groups groups(outside + 1);  // zones, fins, the outside
  const auto zone = [](int index) { return static_cast<std::size_t>(index); };
  const auto node = [&](Place place) {
    if (place.kind == PlaceKind::zone) return zone(place.index);
    return place.kind == PlaceKind::fins ? n_zones + zone(place.index) : outside;
  };
  for (const geometry::Vent& vent : device.vents)
    if (vent.behind.kind == PlaceKind::zone || vent.behind.kind == PlaceKind::fins)
      groups.join(outside, node(vent.behind));
  for (const Fan& fan : device.fans) groups.join(node(fan.draws_from), node(fan.blows_into));
  for (const geometry::Passage& passage : device.passages)
    groups.join(zone(passage.zone_a), zone(passage.zone_b));
  for (std::size_t i = 0; i < device.fin_stacks.size(); ++i)
    if (device.fin_stacks[i].exit_zone >= 0) groups.join(n_zones + i, zone(device.fin_stacks[i].exit_zone));
  std::vector<int> out;
  for (std::size_t i = 0; i < n_zones; ++i)
    if (groups.of(i) != groups.of(outside)) out.push_back(static_cast<int>(i));
  return out;
}

void check_zones(Reader& reader) {
  for (const int zone : cut_off_zones(reader.device())) {
    const Names& names = reader.names["zones"];
    const Item& item = at(names.items, zone);
    const std::string& name = at(names.all, zone);
    const Spot spot = item ? item.key_spot : Spot{1, 1};
    reader.report.error(spot, item ? item.path : "zones",
                        fmt::format("zone '{}' is not connected to the outside", name),
                        "give it a vent, a leak or a passage");
  }
}

// What an air stream may come from, for a zone that a fan draws from: the fan itself gives it nothing back.
bool is_fed(const Device& device, int zone, const Fan& drawn_by) {
  for (const geometry::Vent& vent : device.vents)
    if (vent.behind.kind == PlaceKind::zone && vent.behind.index == zone) return true;
  for (const geometry::Passage& passage : device.passages)
    if (passage.zone_a == zone || passage.zone_b == zone) return true;
  for (const Fan& fan : device.fans) {
    if (&fan == &drawn_by) continue;
    const Place into = fan.blows_into;
    if (into.kind == PlaceKind::zone && into.index == zone) return true;
    const bool by_fins = into.kind == PlaceKind::fins && at(device.fin_stacks, into.index).exit_zone == zone;
    if (by_fins) return true;
  }
  return false;
}

void check_fans_fed(Reader& reader) {
  const Device& device = reader.device();
  for (std::size_t i = 0; i < device.fans.size(); ++i) {
    const Fan& fan = device.fans[i];
    if (fan.draws_from.kind != PlaceKind::zone || is_fed(device, fan.draws_from.index, fan)) continue;
    const Item item = reader.child(reader.names["fans"].items[i], "draws-from");
    reader.error(item, fmt::format("no air gets into {} for the fan to draw", in_quotes(item.node->text)),
                 "give the zone a vent, a leak, a passage or another fan that blows into it");
  }
}

// --- fins ----------------------------------------------------------------------------------------

void check_exit(Reader& reader, int stack, const Item& item) {
  const Device& device = reader.device();
  const Item exit = reader.child(item, "exits-into");
  bool has_vent = false;
  for (std::size_t v = 0; v < device.vents.size(); ++v) {
    const Place behind = device.vents[v].behind;
    if (behind.kind != PlaceKind::fins || behind.index != stack) continue;
    has_vent = true;
    if (!exit) continue;
    const Item named = reader.child(reader.names["vents"].items[v], "behind");
    reader.key_conflict(exit, "the fins leave into a zone here, and into a vent elsewhere", named,
                        "this vent has the fins behind it");
  }
  if (exit || has_vent) return;
  reader.key_error(item, "the fins have no outlet", "name them in a vent's `behind`, or write `exits-into`");
}

void check_fins(Reader& reader) {
  const Device& device = reader.device();
  for (std::size_t i = 0; i < device.fin_stacks.size(); ++i) {
    const int stack = static_cast<int>(i);
    const Item& item = reader.names["fins"].items[i];
    check_exit(reader, stack, item);
    bool fed = false;
    for (const Fan& fan : device.fans)
      fed = fed || (fan.blows_into.kind == PlaceKind::fins && fan.blows_into.index == stack);
    if (!fed)
      reader.key_error(item, "no fan blows into these fins",
                       "name them in a fan's `blows-into`, or take them out");
  }
}

// --- warnings ------------------------------------------------------------------------------------

void warn_overlaps(Reader& reader) {
  const Device& device = reader.device();
  const Names& vents = reader.names["vents"];
  for (std::size_t i = 0; i < vents.all.size(); ++i) {
    for (std::size_t j = i + 1; j < vents.all.size(); ++j) {
      const double area = common_area(rectangle_of(device.vents[i]), rectangle_of(device.vents[j]));
      if (area <= 1e-8) continue;
      reader.key_warning(vents.items[j], fmt::format("overlaps the vent '{}' by {}", vents.all[i],
                                                     write_quantity(area, "mm2")));
    }
  }
  for (std::size_t i = 0; i < device.zones.size(); ++i) {
    for (std::size_t j = i + 1; j < device.zones.size(); ++j) {
      const double volume = common_volume(device.zones[i], device.zones[j]);
      if (volume <= 1e-9) continue;
      const Item& item = reader.names["zones"].items[j];
      reader.key_warning(
          item, fmt::format("overlaps the zone '{}' by {:.4g} cm3", device.zones[i].name, volume * 1e6));
    }
  }
}

void warn_unused(Reader& reader, const std::string& section, const std::set<int>& used,
                 const std::string& message) {
  const Names& names = reader.names[section];
  for (std::size_t i = 0; i < names.all.size(); ++i)
    if (names.items[i] && used.count(static_cast<int>(i)) == 0) reader.key_warning(names.items[i], message);
}

void warn_all_unused(Reader& reader) {
  const geometry::Case& content = reader.content();
  std::set<int> sources, poses, supports, loads;
  for (const geometry::Load& load : content.loads)
    for (const geometry::SourcePower& power : load.powers) sources.insert(power.source);
  for (const geometry::Condition& condition : content.conditions) {
    poses.insert(condition.pose);
    supports.insert(condition.support);
    loads.insert(condition.load);
  }
  warn_unused(reader, "sources", sources, "no load gives this source any power");
  warn_unused(reader, "poses", poses, "no condition uses this pose");
  warn_unused(reader, "supports", supports, "no condition uses this support");
  warn_unused(reader, "loads", loads, "no condition uses this load");
}

// --- ways for heat -------------------------------------------------------------------------------

// Sources (first), parts (after them) and what lies beyond (last): zones, fins and skin; joined where joints
// lead.
Groups ways_for_heat(const Device& device) {
  const std::size_t n_sources = device.sources.size(), beyond = n_sources + device.parts.size();
  Groups groups(beyond + 1);
  const auto add = [&](std::size_t from, const std::vector<geometry::Joint>& joints) {
    for (const geometry::Joint& joint : joints) {
      const bool part = joint.to.kind == PlaceKind::part;
      groups.join(from, part ? n_sources + static_cast<std::size_t>(joint.to.index) : beyond);
    }
  };
  for (std::size_t s = 0; s < n_sources; ++s) add(s, device.sources[s].joints);
  for (std::size_t p = 0; p < device.parts.size(); ++p) add(n_sources + p, device.parts[p].joints);
  return groups;
}

void check_ways_out(Reader& reader) {
  const Device& device = reader.device();
  Groups groups = ways_for_heat(device);
  const std::size_t n_sources = device.sources.size();
  std::vector<std::size_t> told = {groups.of(n_sources + device.parts.size())};  // groups that need no word
  for (std::size_t s = 0; s < device.sources.size(); ++s) {
    if (device.sources[s].joints.empty() || groups.of(s) == told[0]) continue;
    told.push_back(groups.of(s));
    const Item joins = reader.child(reader.names["sources"].items[s], "joins");
    reader.key_error(joins, "the heat goes nowhere: no chain of joints leads on to a zone, fins or skin",
                     "join one of its parts to where the heat leaves");
  }
  for (std::size_t p = 0; p < device.parts.size(); ++p) {
    const Item& item = reader.names["parts"].items[p];
    if (device.parts[p].joints.empty() &&
        !geometry::is_joined(device, {PlaceKind::part, static_cast<int>(p)})) {
      reader.key_error(item, "nothing is joined to this part, and it joins nothing",
                       "write `joins:`, or take it out");
      continue;
    }
    const std::size_t group = groups.of(n_sources + p);
    if (contains(told, group)) continue;
    told.push_back(group);
    reader.key_error(item, "no chain of joints leads from this part to a zone, fins or skin",
                     "join it to where the heat leaves");
  }
}

// Two parts that name each other have one way written at both ends.
void check_doubled(Reader& reader) {
  const Device& device = reader.device();
  const Names& names = reader.names["parts"];
  const auto joint = [&](std::size_t from, std::size_t to) {
    return reader.child(reader.child(names.items[from], "joins"), names.all[to]);
  };
  for (std::size_t a = 0; a < device.parts.size(); ++a) {
    for (std::size_t b = a + 1; b < device.parts.size(); ++b) {
      const Item there = joint(a, b);
      const Item back = joint(b, a);
      if (!there || !back) continue;
      reader.key_conflict(back, "this joint is written at both of its ends; leave one of them out", there,
                          "the same joint from its other end");
    }
  }
}

// --- limits and skin -----------------------------------------------------------------------------

void warn_of_floors(Reader& reader) {
  const geometry::Case& content = reader.content();
  for (std::size_t s = 0; s < content.device.sources.size(); ++s) {
    double most = 0.0;
    for (const geometry::Load& load : content.loads)
      for (const geometry::SourcePower& power : load.powers)
        if (power.source == static_cast<int>(s)) most = std::max(most, *power.power);
    const double least = *content.device.sources[s].limits.least_power;
    if (most <= 0.0 || least <= most) continue;
    const Item item = reader.child(reader.names["sources"].items[s], "least-power");
    reader.warning(item, fmt::format("no load gives the source more than {}, so it never throttles",
                                     write_quantity(most, "W")));
  }
}

void check_skin_overlaps(Reader& reader) {
  const Names& names = reader.names["skin"];
  const auto& skins = reader.device().skins;
  for (std::size_t i = 0; i < skins.size(); ++i) {
    for (std::size_t j = i + 1; j < skins.size(); ++j) {
      const double area = common_area(rectangle_of(skins[i]), rectangle_of(skins[j]));
      if (area <= 1e-8) continue;
      reader.key_conflict(
          names.items[j],
          fmt::format("overlaps the patch '{}' by {}", skins[i].name, write_quantity(area, "mm2")),
          names.items[i], "the other patch");
    }
  }
}

// Where heat gets to, what limits mean, what lies over what.
void check_heat(Reader& reader) {
  if (!reader.report.has_errors_in({"sources", "parts", "fins", "zones", "skin"})) {
    check_doubled(reader);
    check_ways_out(reader);
  }
  if (!reader.report.has_errors_in({"skin", "device"})) check_skin_overlaps(reader);
  if (!reader.report.has_errors_in({"sources", "loads"})) warn_of_floors(reader);
}

}  // namespace

void check_whole(Reader& reader) {
  const bool sound =
      !reader.report.has_errors_in({"tuft", "device", "zones", "passages", "vents", "leaks", "fans", "fins"});
  if (sound && !reader.device().vents.empty()) {
    check_zones(reader);
    check_fans_fed(reader);
    check_fins(reader);
    warn_overlaps(reader);
  }
  check_sizes(reader);
  check_heat(reader);
  if (reader.report.has_errors()) return;
  warn_all_unused(reader);
  tell_of_feet(reader);
}

}  // namespace tuft::casefile
