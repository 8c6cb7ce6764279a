// What an uncertain input is about: the device, the room around it, or the model.
#pragma once

#include <array>
#include <string>

namespace tuft::study {

enum class InputKind {
  device,  ///< the device, what it rests on, and what it does
  room,    ///< the room, its air, and how level the device stands
  model    ///< the laws, and what the field says otherwise than the network
};
constexpr std::array<const char*, 3> words(InputKind) { return {"device", "room", "model"}; }
constexpr std::size_t kInputKinds = 3;

/// By its path: "laws.exchange" is of the model, "supports.table.tilt.x" of the room.
inline InputKind input_kind(const std::string& key) {
  if (key.find(".tilt") != std::string::npos) return InputKind::room;
  struct Section {
    const char* name;
    InputKind kind;
  };
  constexpr Section kSections[] = {
      {"laws", InputKind::model}, {"model", InputKind::model}, {"room", InputKind::room}};
  const std::string first = key.substr(0, key.find('.'));
  for (const Section& section : kSections)
    if (first == section.name) return section.kind;
  return InputKind::device;
}

}  // namespace tuft::study
