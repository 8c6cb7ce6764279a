// What an uncertain input is about, by its path in the case file: the device, the room around it, or the
// model.
#pragma once

#include <array>
#include <string>

#include "geometry/device/lists.hpp"

namespace tuft::study {

enum class InputKind {
  device,  ///< the device, what it rests on, and what it does
  room,    ///< the room, its air, and how level the device stands
  model    ///< the laws, and what the field says otherwise than the network
};
constexpr std::array<const char*, 3> words(InputKind) { return {"device", "room", "model"}; }
constexpr std::size_t kInputKinds = 3;

/// The path of the direction that the room's air comes from.
constexpr const char* kDraughtFrom = "room.draught.from";

/// True of the speed and the direction of the room's air.
inline bool is_draught_input(const std::string& key) { return key.compare(0, 13, "room.draught.") == 0; }

/// True of how far a support is from level: "supports.table.tilt.x".
inline bool is_tilt_input(const std::string& key) {
  return key.compare(0, 9, "supports.") == 0 &&
         (geometry::ends_with(key, ".tilt.x") || geometry::ends_with(key, ".tilt.y"));
}

/// "laws.exchange" is of the model, "supports.table.tilt.x" of the room.
inline InputKind input_kind(const std::string& key) {
  const std::string section = key.substr(0, key.find('.'));
  if (section == "laws" || section == "model") return InputKind::model;
  return section == "room" || is_tilt_input(key) ? InputKind::room : InputKind::device;
}

}  // namespace tuft::study
