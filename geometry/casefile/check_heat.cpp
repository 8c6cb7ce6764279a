// What only the whole can tell about heat: where it gets to, what limits mean, what lies over what.
#include <fmt/core.h>

#include <algorithm>
#include <numeric>

#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {
namespace {

using geometry::Device;
using geometry::Joint;
using geometry::PlaceKind;

// --- ways for heat -------------------------------------------------------------------------------

// Sources (first) and parts (after them), gathered into groups between which no joint leads.
class Groups {
 public:
  explicit Groups(const Device& device)
      : n_sources_(device.sources.size()),
        parent_(device.sources.size() + device.parts.size()),
        has_end_(parent_.size(), false) {
    std::iota(parent_.begin(), parent_.end(), std::size_t{0});
    for (std::size_t s = 0; s < n_sources_; ++s) add(s, device.sources[s].joints);
    for (std::size_t p = 0; p < device.parts.size(); ++p) add(n_sources_ + p, device.parts[p].joints);
  }

  std::size_t group_of_source(std::size_t source) { return root(source); }
  std::size_t group_of_part(std::size_t part) { return root(n_sources_ + part); }
  /// True if a joint of the group leads to a zone, fins or skin.
  bool has_end(std::size_t group) {
    for (std::size_t i = 0; i < parent_.size(); ++i) {
      if (has_end_[i] && root(i) == group) return true;
    }
    return false;
  }

 private:
  std::size_t root(std::size_t i) {
    while (parent_[i] != i) i = parent_[i] = parent_[parent_[i]];
    return i;
  }

  void add(std::size_t from, const std::vector<Joint>& joints) {
    for (const Joint& joint : joints) {
      if (joint.to.kind == PlaceKind::part) {
        parent_[root(from)] = root(n_sources_ + static_cast<std::size_t>(joint.to.index));
      } else {
        has_end_[from] = true;
      }
    }
  }

  std::size_t n_sources_;
  std::vector<std::size_t> parent_;
  std::vector<bool> has_end_;
};

bool anything_leads_to_part(const Device& device, int part) {
  const auto leads = [&](const auto& thing) {
    return std::any_of(thing.joints.begin(), thing.joints.end(), [&](const Joint& joint) {
      return joint.to.kind == PlaceKind::part && joint.to.index == part;
    });
  };
  return std::any_of(device.sources.begin(), device.sources.end(), leads) ||
         std::any_of(device.parts.begin(), device.parts.end(), leads);
}

void check_ways_out(Reader& reader) {
  const Device& device = reader.device();
  Groups groups(device);
  std::vector<std::size_t> told;
  for (std::size_t s = 0; s < device.sources.size(); ++s) {
    if (device.sources[s].joints.empty() || groups.has_end(groups.group_of_source(s))) continue;
    told.push_back(groups.group_of_source(s));
    const Item joins = reader.child(reader.names["sources"].items[s], "joins");
    reader.report.error(joins.key_spot, joins.path,
                        "the heat goes nowhere: no chain of joints leads on to a zone, fins or skin",
                        "join one of its parts to where the heat leaves");
  }
  for (std::size_t p = 0; p < device.parts.size(); ++p) {
    const Item& item = reader.names["parts"].items[p];
    if (device.parts[p].joints.empty() && !anything_leads_to_part(device, static_cast<int>(p))) {
      reader.report.error(item.key_spot, item.path, "nothing is joined to this part, and it joins nothing",
                          "write `joins:`, or take it out");
      continue;
    }
    const std::size_t group = groups.group_of_part(p);
    if (groups.has_end(group) || std::find(told.begin(), told.end(), group) != told.end()) continue;
    told.push_back(group);
    reader.report.error(item.key_spot, item.path,
                        "no chain of joints leads from this part to a zone, fins or skin",
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
      reader.report.conflict(back.key_spot, back.path,
                             "this joint is written at both of its ends; leave one of them out",
                             there.key_spot, "the same joint from its other end");
    }
  }
}

// --- limits and skin -----------------------------------------------------------------------------

void warn_of_floors(Reader& reader) {
  const geometry::Case& content = reader.content();
  for (std::size_t s = 0; s < content.device.sources.size(); ++s) {
    double most = 0.0;
    for (const geometry::Load& load : content.loads) {
      for (const geometry::SourcePower& power : load.powers) {
        if (power.source == static_cast<int>(s)) most = std::max(most, *power.power);
      }
    }
    const double least = *content.device.sources[s].limits.least_power;
    if (most <= 0.0 || least <= most) continue;
    const Item item = reader.child(reader.names["sources"].items[s], "least-power");
    reader.report.warning(item.node->spot, item.path,
                          fmt::format("no load gives the source more than {}, so it never throttles",
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
      reader.report.conflict(
          names.items[j].key_spot, names.items[j].path,
          fmt::format("overlaps the patch '{}' by {}", skins[i].name, write_quantity(area, "mm2")),
          names.items[i].key_spot, "the other patch");
    }
  }
}

}  // namespace

void check_heat(Reader& reader) {
  if (!reader.report.has_errors_in({"sources", "parts", "fins", "zones", "skin"})) {
    check_doubled(reader);
    check_ways_out(reader);
  }
  if (!reader.report.has_errors_in({"skin", "device"})) check_skin_overlaps(reader);
  if (!reader.report.has_errors_in({"sources", "loads"})) warn_of_floors(reader);
}

}  // namespace tuft::casefile
