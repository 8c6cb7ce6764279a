// Section spots: places an infrared thermometer is pointed at.
#include <algorithm>

#include "geometry/casefile/reader.hpp"

namespace tuft::casefile {
namespace {

using geometry::PlaceKind;

PlaceKind place_kind(const std::string& section) {
  if (section == "skin") return PlaceKind::skin;
  if (section == "parts") return PlaceKind::part;
  return section == "fins" ? PlaceKind::fins : PlaceKind::source;
}

double size_of(Reader& reader, const Item& item, const geometry::Spot& spot) {
  if (const auto given = reader.given(item, "size")) return **given;
  reader.assume_default(item, "size");
  const auto index = static_cast<std::size_t>(spot.on.index);
  const auto& skins = reader.device().skins;
  if (spot.on.kind != PlaceKind::skin || index >= skins.size()) return geometry::Spot{}.size;
  return std::min(skins[index].width, skins[index].height);
}

geometry::Spot read_spot(Reader& reader, const Item& item) {
  geometry::Spot spot;
  reader.check_map(item);
  if (item.node->kind != Node::Kind::map) return spot;
  bool found = false;
  if (const Item on = reader.child(item, "on")) {
    const Reader::Found place = reader.reference(on);
    found = place.index >= 0;
    if (found) spot.on = {place_kind(place.section), place.index};
  }
  spot.surface = reader.word(item, "surface");
  const bool says_surface = static_cast<bool>(reader.child(item, "surface"));
  if (found && spot.on.kind != PlaceKind::skin && !says_surface)
    reader.error(item, "the surface is needed: only skin has an emissivity of its own",
                 "write `surface:`, such as circuit-board or bare-copper");
  spot.size = size_of(reader, item, spot);
  spot.distance = *reader.value(item, "distance");
  spot.through_glass = reader.truth(item, "through-glass");
  return spot;
}

}  // namespace

void read_spots(Reader& reader, const Item&) {
  const Names& names = reader.names["spots"];
  for (std::size_t i = 0; i < names.all.size(); ++i) {
    geometry::Spot spot = read_spot(reader, names.items[i]);
    spot.name = names.all[i];
    reader.file.spots.push_back(spot);
  }
}

}  // namespace tuft::casefile
