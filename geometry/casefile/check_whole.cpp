// What only the whole can tell: whether the air gets anywhere, what is never used, what overlaps.
#include <fmt/core.h>

#include <queue>
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
using geometry::Vent;

// --- connections ---------------------------------------------------------------------------------

// Zones, fins and the outside, with a link wherever air can pass.
class Links {
 public:
  explicit Links(const Device& device)
      : n_zones_(static_cast<int>(device.zones.size())),
        links_(device.zones.size() + device.fin_stacks.size() + 1) {
    for (const Vent& vent : device.vents) {
      if (vent.behind.kind == PlaceKind::zone || vent.behind.kind == PlaceKind::fins)
        join(outside(), node(vent.behind));
    }
    for (const Fan& fan : device.fans) join(node(fan.draws_from), node(fan.blows_into));
    for (const geometry::Passage& passage : device.passages) join(passage.zone_a, passage.zone_b);
    for (std::size_t i = 0; i < device.fin_stacks.size(); ++i) {
      const int exit = device.fin_stacks[i].exit_zone;
      if (exit >= 0) join(n_zones_ + static_cast<int>(i), exit);
    }
  }

  /// Zones that air from outside can't reach.
  std::vector<int> cut_off() const {
    std::vector<bool> seen(links_.size(), false);
    std::queue<int> next;
    next.push(outside());
    seen[static_cast<std::size_t>(outside())] = true;
    while (!next.empty()) {
      for (const int other : links_[static_cast<std::size_t>(next.front())]) {
        if (seen[static_cast<std::size_t>(other)]) continue;
        seen[static_cast<std::size_t>(other)] = true;
        next.push(other);
      }
      next.pop();
    }
    std::vector<int> out;
    for (int zone = 0; zone < n_zones_; ++zone) {
      if (!seen[static_cast<std::size_t>(zone)]) out.push_back(zone);
    }
    return out;
  }

 private:
  int outside() const { return static_cast<int>(links_.size()) - 1; }
  int node(Place place) const {
    if (place.kind == PlaceKind::zone) return place.index;
    return place.kind == PlaceKind::fins ? n_zones_ + place.index : outside();
  }
  void join(int a, int b) {
    links_[static_cast<std::size_t>(a)].insert(b);
    links_[static_cast<std::size_t>(b)].insert(a);
  }

  int n_zones_;
  std::vector<std::set<int>> links_;
};

void check_zones(Reader& reader) {
  for (const int zone : Links(reader.device()).cut_off()) {
    const Names& names = reader.names["zones"];
    const Item& item = names.items[static_cast<std::size_t>(zone)];
    const std::string& name = names.all[static_cast<std::size_t>(zone)];
    const Spot spot = item ? item.key_spot : Spot{1, 1};
    reader.report.error(spot, item ? item.path : "zones",
                        fmt::format("zone '{}' is not connected to the outside", name),
                        "give it a vent, a leak or a passage");
  }
}

// What an air stream may come from, for a zone that a fan draws from: the fan itself gives it nothing back.
bool is_fed(const Device& device, int zone, const Fan& drawn_by) {
  for (const Vent& vent : device.vents) {
    if (vent.behind.kind == PlaceKind::zone && vent.behind.index == zone) return true;
  }
  for (const geometry::Passage& passage : device.passages) {
    if (passage.zone_a == zone || passage.zone_b == zone) return true;
  }
  for (const Fan& fan : device.fans) {
    if (&fan == &drawn_by) continue;
    const Place into = fan.blows_into;
    if (into.kind == PlaceKind::zone && into.index == zone) return true;
    const bool by_fins = into.kind == PlaceKind::fins &&
                         device.fin_stacks[static_cast<std::size_t>(into.index)].exit_zone == zone;
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
    reader.report.conflict(exit.key_spot, exit.path,
                           "the fins leave into a zone here, and into a vent elsewhere", named.key_spot,
                           "this vent has the fins behind it");
  }
  if (exit || has_vent) return;
  reader.report.error(item.key_spot, item.path, "the fins have no outlet",
                      "name them in a vent's `behind`, or write `exits-into`");
}

void check_fins(Reader& reader) {
  const Device& device = reader.device();
  for (std::size_t i = 0; i < device.fin_stacks.size(); ++i) {
    const int stack = static_cast<int>(i);
    const Item& item = reader.names["fins"].items[i];
    check_exit(reader, stack, item);
    bool fed = false;
    for (const Fan& fan : device.fans) {
      fed = fed || (fan.blows_into.kind == PlaceKind::fins && fan.blows_into.index == stack);
    }
    if (!fed) {
      reader.report.error(item.key_spot, item.path, "no fan blows into these fins",
                          "name them in a fan's `blows-into`, or take them out");
    }
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
      reader.report.warning(
          vents.items[j].key_spot, vents.items[j].path,
          fmt::format("overlaps the vent '{}' by {}", vents.all[i], write_quantity(area, "mm2")));
    }
  }
  for (std::size_t i = 0; i < device.zones.size(); ++i) {
    for (std::size_t j = i + 1; j < device.zones.size(); ++j) {
      const double volume = common_volume(device.zones[i], device.zones[j]);
      if (volume <= 1e-9) continue;
      const Item& item = reader.names["zones"].items[j];
      reader.report.warning(
          item.key_spot, item.path,
          fmt::format("overlaps the zone '{}' by {:.4g} cm3", device.zones[i].name, volume * 1e6));
    }
  }
}

void warn_unused(Reader& reader, const std::string& section, const std::set<int>& used,
                 const std::string& message) {
  const Names& names = reader.names[section];
  for (std::size_t i = 0; i < names.all.size(); ++i) {
    if (names.items[i] && used.count(static_cast<int>(i)) == 0) {
      reader.report.warning(names.items[i].key_spot, names.items[i].path, message);
    }
  }
}

void warn_all_unused(Reader& reader) {
  const geometry::Case& content = reader.content();
  std::set<int> sources, poses, supports, loads;
  for (const geometry::Load& load : content.loads) {
    for (const geometry::SourcePower& power : load.powers) sources.insert(power.source);
  }
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

}  // namespace

void check_whole(Reader& reader, const Item&) {
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
