// The device in results.json: what is needed to draw it.
#include "tools/io/json_parts.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

using geometry::Device;
using geometry::Vec3;

// Where a rectangle on a face lies, and how it is turned.
void add_rectangle(Json& json, geometry::Face face, const Vec3& centre, double width, double height) {
  Vec3 first, second;
  geometry::face_axes(face, first, second);
  json["centre_m"] = vector_json(centre);
  json["size_m"] = {plain(width), plain(height)};
  json["axes"] = {vector_json(first), vector_json(second)};
  json["normal"] = vector_json(geometry::face_normal(face));
}

Json vent_json(const Device& device, const geometry::Vent& vent) {
  Json json = {{"name", vent.name}, {"face", geometry::face_word(vent.face)}, {"leak", vent.is_leak}};
  add_rectangle(json, vent.face, vent.centre, vent.width, vent.height);
  json["cover"] = vent.is_leak ? "seam" : geometry::word_of(vent.cover.kind);
  json["open_ratio"] = plain(*vent.cover.open_ratio);
  json["blocked"] = plain(*vent.blocked);
  json["behind"] = place_json(device, vent.behind);
  return json;
}

Json fan_json(const Device& device, const geometry::Fan& fan) {
  return {{"name", fan.name},
          {"kind", geometry::word_of(fan.kind)},
          {"centre_m", vector_json(fan.centre)},
          {"axis", vector_json(geometry::fan_axis(fan, device))},
          {"diameter_m", plain(*fan.diameter)},
          {"thickness_m", plain(*fan.thickness)},
          {"full_speed_rev_s", plain(*fan.speed)},
          {"curve_given", !fan.curve.empty()},
          {"draws_from", place_json(device, fan.draws_from)},
          {"blows_into", place_json(device, fan.blows_into)}};
}

Json fins_json(const Device& device, std::size_t index) {
  const geometry::FinStack& stack = device.fin_stacks[index];
  return {{"name", stack.name},
          {"centre_m", vector_json(stack.centre)},
          {"size_m", vector_json(fin_extents(device, index))},
          {"along", vector_json(fin_direction(device, index))},
          {"channels", plain(*stack.count)}};
}

}  // namespace

Json place_json(const Device& device, const geometry::Place& place) {
  return {{"kind", geometry::word_of(place.kind)}, {"name", place_name(device, place)}};
}

Json device_json(const Run& run) {
  const Device& device = run.content.device;
  Json json = {{"name", device.name}, {"size_m", vector_json(device.size)}, {"feet_m", plain(*device.feet)}};
  json["lid"] = nullptr;
  if (device.lid.present)
    json["lid"] = {{"angle_deg", clean_degrees(*device.lid.angle)},
                   {"clearance_m", plain(*device.lid.clearance)}};
  json["vents"] = list_json(device.vents, [&](const auto& vent) { return vent_json(device, vent); });
  json["zones"] = list_json(device.zones, [](const geometry::Zone& zone) -> Json {
    return {{"name", zone.name}, {"centre_m", vector_json(zone.centre)}, {"size_m", vector_json(zone.size)}};
  });
  json["fans"] = list_json(device.fans, [&](const auto& fan) { return fan_json(device, fan); });
  json["fins"] = Json::array();
  for (std::size_t i = 0; i < device.fin_stacks.size(); ++i) json["fins"].push_back(fins_json(device, i));
  json["skin"] = list_json(device.skins, [](const geometry::Skin& skin) {
    Json entry = {{"name", skin.name}, {"material", geometry::word_of(skin.material)}};
    add_rectangle(entry, skin.face, skin.centre, skin.width, skin.height);
    return entry;
  });
  return json;
}

}  // namespace tuft::io
