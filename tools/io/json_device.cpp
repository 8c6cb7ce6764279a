// The device in results.json: what is needed to draw it.
#include "tools/io/json_parts.hpp"
#include "tools/io/numbers.hpp"
#include "tools/io/words.hpp"

namespace tuft::io {
namespace {

using geometry::Device;
using geometry::PlaceKind;
using geometry::Vec3;

template <typename List>
Json name_in(const List& list, const geometry::Place& place) {
  return {{"kind", geometry::word_of(place.kind)}, {"name", at(list, place.index).name}};
}

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

// The axis a fan turns about: for an axial fan across the vent it serves, else upright.
Vec3 fan_axis(const Device& device, const geometry::Fan& fan) {
  for (const geometry::Place& place : {fan.draws_from, fan.blows_into}) {
    if (fan.kind == geometry::FanKind::axial && place.kind == PlaceKind::vent)
      return geometry::face_normal(at(device.vents, place.index).face).cwiseAbs();
  }
  return Vec3::UnitZ();
}

Json fan_json(const Device& device, const geometry::Fan& fan) {
  return {{"name", fan.name},
          {"kind", geometry::word_of(fan.kind)},
          {"centre_m", vector_json(fan.centre)},
          {"axis", vector_json(fan_axis(device, fan))},
          {"diameter_m", plain(*fan.diameter)},
          {"thickness_m", plain(*fan.thickness)},
          {"full_speed_rev_s", plain(*fan.speed)},
          {"curve_given", !fan.curve.empty()},
          {"draws_from", place_json(device, fan.draws_from)},
          {"blows_into", place_json(device, fan.blows_into)}};
}

// Fins lie along the way their air leaves: across the face of a vent that names them.
Vec3 fin_direction(const Device& device, std::size_t stack) {
  for (const geometry::Vent& vent : device.vents) {
    if (vent.behind.kind != PlaceKind::fins || vent.behind.index != static_cast<int>(stack)) continue;
    if (vent.face != geometry::Face::hinge) return geometry::face_normal(vent.face).cwiseAbs();
  }
  return Vec3::UnitY();
}

Json fins_json(const Device& device, std::size_t index) {
  const geometry::FinStack& stack = device.fin_stacks[index];
  const Vec3 along = fin_direction(device, index);
  const Vec3 side = std::abs(along.x()) > 0.5 ? Vec3::UnitY() : Vec3::UnitX();
  const double across = *stack.count * (*stack.gap + *stack.fin_thickness);
  const Vec3 size = along * *stack.length + side * across + (Vec3::Ones() - along - side) * *stack.height;
  return {{"name", stack.name},
          {"centre_m", vector_json(stack.centre)},
          {"size_m", vector_json(size)},
          {"along", vector_json(along)},
          {"channels", plain(*stack.count)}};
}

}  // namespace

Json place_json(const Device& device, const geometry::Place& place) {
  switch (place.kind) {
    case PlaceKind::zone:
      return name_in(device.zones, place);
    case PlaceKind::fins:
      return name_in(device.fin_stacks, place);
    case PlaceKind::fan_inlet:
      return name_in(device.fans, place);
    case PlaceKind::fan_outlet:
      return name_in(device.fans, place);
    case PlaceKind::vent:
      return name_in(device.vents, place);
    case PlaceKind::part:
      return name_in(device.parts, place);
    case PlaceKind::skin:
      return name_in(device.skins, place);
    case PlaceKind::source:
      return name_in(device.sources, place);
  }
  return nullptr;
}

Json device_json(const Run& run) {
  const Device& device = run.content.device;
  Json json = {{"name", device.name}, {"size_m", vector_json(device.size)}, {"feet_m", plain(*device.feet)}};
  json["lid"] = nullptr;
  if (device.lid.present)
    json["lid"] = {{"angle_deg", clean_degrees(*device.lid.angle)},
                   {"clearance_m", plain(*device.lid.clearance)}};
  for (const char* list : {"vents", "zones", "fans", "fins", "skin"}) json[list] = Json::array();
  for (const geometry::Vent& vent : device.vents) json["vents"].push_back(vent_json(device, vent));
  for (const geometry::Zone& zone : device.zones)
    json["zones"].push_back(
        {{"name", zone.name}, {"centre_m", vector_json(zone.centre)}, {"size_m", vector_json(zone.size)}});
  for (const geometry::Fan& fan : device.fans) json["fans"].push_back(fan_json(device, fan));
  for (std::size_t i = 0; i < device.fin_stacks.size(); ++i) json["fins"].push_back(fins_json(device, i));
  for (const geometry::Skin& skin : device.skins) {
    Json entry = {{"name", skin.name}, {"material", geometry::word_of(skin.material)}};
    add_rectangle(entry, skin.face, skin.centre, skin.width, skin.height);
    json["skin"].push_back(std::move(entry));
  }
  return json;
}

}  // namespace tuft::io
