// A small device whose vents, fan and load are uncertain.
#pragma once

#include <stdexcept>
#include <string>

#include "geometry/casefile/case_file.hpp"

namespace tuft::experiment::test {

/// The device as text, in still air on a level support: nothing of the room is in doubt; `more` is put after
/// the vents, so that a hidden device may have another opening.
inline std::string device_text(const std::string& more = "") {
  return "tuft: 1\n"
         "device: {name: Box, size: [200 mm, 100 mm, 20 mm], feet: 3 mm}\n"
         "room: {temperature: 21 °C, altitude: 0 m, humidity: 40 %, draught: still}\n"
         "leaks: {}\n"
         "laws: exact\n"
         "vents:\n"
         "  # the big one\n"
         "  grille: {face: left, centre: [50 mm, 10 mm], size: [40 mm, 12 mm],\n"
         "           cover: {kind: perforated, open: 20..60 %, hole: 2 mm, thickness: 1 mm}, blocked: 0 %}\n"
         "  comb: {face: front, centre: [60 mm, 10 mm], size: [60 mm, 6 mm],\n"
         "         cover: {kind: slots, open: 20..60 %, hole: 2 mm, thickness: 1 mm}, blocked: 0 %}\n"
         "  outlet: {face: right, centre: [50 mm, 10 mm], size: [40 mm, 8 mm], cover: open, blocked: 0 %}\n" +
         more +
         "fans:\n"
         "  main: {kind: blower, diameter: 50 mm, thickness: 6 mm, speed: 4000 rpm ± 20 %, draws-from: "
         "inside,\n"
         "         blows-into: outlet, flow-factor: 1, pressure-factor: 1}\n"
         "sources: {chip: {heats: {inside: 100 %}}}\n"
         "loads: {work: {power: {chip: 10 W}}}\n"
         "supports: {air: {kind: air, tilt: level}}\n"
         "conditions: {use: {pose: flat, support: air, load: work}}\n"
         "claims:\n"
         "  - {id: leads, say: The grille draws more than the comb, vents: grille, draws-more-than: comb}\n"
         "  - {id: half, say: The grille carries more than two thirds, vents: grille, share: 66..100 %}\n";
}

inline casefile::CaseFile read(const std::string& text) {
  const casefile::ReadResult result = casefile::read_case_text(text, "box.yaml");
  std::string said;
  for (const auto& error : result.errors) said += casefile::format(error, result.file.text);
  if (!said.empty()) throw std::runtime_error(said);
  return result.file;
}

}  // namespace tuft::experiment::test
