// Section laws: how far the laws of the model may be wrong.
#include <algorithm>

#include "geometry/casefile/field_reader.hpp"

namespace tuft::casefile {
namespace {

using geometry::Case;
using geometry::SupportKind;

// Whether some condition's support is so.
template <class Is>
bool rests(const Case& content, const Is& is) {
  return std::any_of(content.conditions.begin(), content.conditions.end(),
                     [&](const auto& condition) { return is(at(content.supports, condition.support)); });
}

bool has_gap(const Case& content) {
  return content.device.lid.present ||
         rests(content, [](const auto& support) { return support.kind != SupportKind::air; });
}

// A fabric of which nothing is known but its kind has that doubt in its permeability already.
bool has_known_fabric(const Case& content) {
  return rests(content, [](const auto& support) {
    const bool soft = support.kind == SupportKind::soft || support.kind == SupportKind::lap;
    return soft && support.permeability.origin == geometry::Origin::given;
  });
}

bool has_plume(const Case& content) {
  return std::any_of(content.device.sources.begin(), content.device.sources.end(),
                     [](const auto& source) { return source.is_placed; });
}

// What fans blow out beside another opening. A seam makes no jet.
bool has_jet(const Case& content) {
  const auto& vents = content.device.vents;
  return !content.device.fans.empty() && std::any_of(vents.begin(), vents.end(), [&](const auto& jet) {
    return !jet.is_leak && std::any_of(vents.begin(), vents.end(), [&](const auto& other) {
      return &other != &jet && other.face == jet.face;
    });
  });
}

// A zone with one opening has one node of air, and no streams, unless a plume layers it.
bool has_streams(const Case& content) {
  if (has_plume(content)) return true;
  std::vector<int> openings(content.device.zones.size(), 0);
  for (const auto& vent : content.device.vents)
    if (!vent.is_leak && vent.behind.kind == geometry::PlaceKind::zone) ++at(openings, vent.behind.index);
  for (const auto& passage : content.device.passages)
    for (const int zone : {passage.zone_a, passage.zone_b}) ++at(openings, zone);
  return std::any_of(openings.begin(), openings.end(), [](int count) { return count > 1; });
}

// What has to be in a case for a law to matter to it. A law of which nothing stands here always does.
struct Need {
  const char* key;
  bool (*met)(const Case& content);
};
constexpr Need kNeeds[] = {{"passages", [](const Case& c) { return !c.device.passages.empty(); }},
                           {"mixing", has_streams},
                           {"entrainment", has_plume},
                           {"jet-suction", has_jet},
                           {"still-rotor", [](const Case& c) { return !c.device.fans.empty(); }},
                           {"fan-backflow", [](const Case& c) { return !c.device.fans.empty(); }},
                           {"gap", has_gap},
                           {"fabric", has_known_fabric},
                           {"fin-flow", [](const Case& c) { return !c.device.fin_stacks.empty(); }},
                           {"fin-heat", [](const Case& c) { return !c.device.fin_stacks.empty(); }},
                           {"film", [](const Case& c) { return !c.device.skins.empty(); }},
                           {"radiation", [](const Case& c) { return !c.device.skins.empty(); }},
                           {"contact", [](const Case& c) { return !c.device.skins.empty() && has_gap(c); }}};

// A seam is a bare slot; a measured loss replaces the law of the kind.
bool is_used(const Case& content, std::size_t kind) {
  return std::any_of(content.device.vents.begin(), content.device.vents.end(), [&](const auto& vent) {
    if (vent.is_leak) return kind == static_cast<std::size_t>(geometry::CoverKind::open);
    return kind == static_cast<std::size_t>(vent.cover.kind) && !vent.cover.loss_given;
  });
}

void read_cover_laws(Reader& reader, const Item& section, geometry::Laws& laws) {
  for (std::size_t kind = 0; kind < geometry::kCoverKindCount; ++kind) {
    const char* const word = geometry::kCoverKinds[kind].word;
    if (find_key(section.pattern + "." + word) == nullptr) continue;
    const Item item = reader.child_or_empty(section, word);
    const bool written = !item.node->entries.empty() || item.node->kind != Node::Kind::map;
    if (!written && !is_used(reader.content(), kind)) continue;
    if (reader.check_map(item)) FieldReader(reader, item).rest(laws.covers[kind]);
  }
}

}  // namespace

// A law that nothing in the case meets is no input of it, unless the file speaks of it.
void read_laws(Reader& reader, const Item& root) {
  const Item section = reader.child_or_empty(root, "laws");
  if (section.node->kind == Node::Kind::text) {
    bare_word(reader, section);  // "exact": every factor is 1
    return;
  }
  if (!reader.check_map(section)) return;
  geometry::Laws& laws = reader.content().laws;
  read_cover_laws(reader, section, laws);
  FieldReader fields(reader, section);
  // In a faulty case names may lead nowhere.
  const bool sound = !reader.report.has_errors();
  for (const Need& need : kNeeds)
    if (sound && !reader.child(section, need.key) && !need.met(reader.content())) fields.skip(need.key);
  fields.rest(laws);
}

}  // namespace tuft::casefile
