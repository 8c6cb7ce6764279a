#include "geometry/casefile/starter.hpp"

#include <algorithm>

#include "geometry/casefile/text.hpp"

namespace tuft::casefile {
namespace {

constexpr const char* kBefore =
    R"(# A case for Tuft. Replace what is written here by what you see and measure on your device; what you leave
# out is assumed, with its doubt, and every report lists it. Keys and units: docs/case-file.md.
#
# A length may be written 12 mm, 12 mm ± 0.5 mm (95 % lie within), 11..13 mm, or 12 mm */ 2 (a factor of 2
# either way).

tuft: 1

device:
  name: )";

constexpr const char* kAfter = R"(
  size: [312 mm, 221 mm, 16 mm]     # x to the right, y from front to rear, z from the base up
  feet: 1.5..2 mm                   # height of the rubber feet

room: {temperature: 21 °C ± 1 K, altitude: 120 m}

# Spaces inside the chassis, as boxes by two opposite corners. One space alone? Take this section out, and
# write `inside` for the zones' names below.
zones:
  fan-bay: {from: [1 mm, 110 mm, 1 mm], to: [120 mm, 220 mm, 15 mm]}
  board: {from: [120 mm, 1 mm, 1 mm], to: [311 mm, 220 mm, 15 mm]}

# Where air can pass between them. The size is along the two axes across the flow.
passages:
  bay-to-board: {between: [fan-bay, board], size: [60 mm, 5 mm], length: 10 mm}

# Every opening you can see. Centres count along the face: base and top x, y; left and right y, z; front and
# rear x, z.
vents:
  base-grille: {face: base, centre: [60 mm, 160 mm], size: [70 mm, 48 mm],
                cover: {kind: perforated, hole: 1.5 mm}}
  left-outlet: {face: left, centre: [165 mm, 8 mm], size: [60 mm, 7 mm], cover: slots, behind: side-fins}
  right-slots: {face: right, centre: [165 mm, 8 mm], size: [50 mm, 4 mm], cover: slots}

# Seams between the shells are assumed; `leaks: {}` says there are none.

fans:
  main: {kind: blower, diameter: 52 mm, thickness: 5 mm, speed: 4600 rpm ± 200 rpm, draws-from: fan-bay,
         blows-into: side-fins}

fins:
  side-fins: {channels: 50, gap: 1.1 mm, height: 6 mm, length: 22 mm}

sources:
  processor: {heats: {side-fins: 85 %, board: 15 %}}

# How it is held (flat, upside-down, on-left-edge, on-right-edge, on-front-edge and on-rear-edge need no
# entry), and what it rests on (air and table need none).
poses:
  propped: {tilt: 12 deg, about: x}
supports:
  bed: soft

loads:
  idle: {power: {processor: 3 W ± 1 W}, fans: {main: 40 %}}
  stress: {power: {processor: 35 W ± 10 %}}

# The combinations you care about.
conditions:
  on-table: {pose: flat, support: table, load: stress}
  on-bed: {pose: flat, support: bed, load: stress}
  on-bench: {pose: on-left-edge, support: air, load: stress}
  propped-up: {pose: propped, support: table, load: idle}

sweeps:
  around: {condition: on-bench, about: y, from: 0 deg, to: 360 deg, step: 15 deg}

# The sentences you want to publish.
claims:
  - {id: grille-draws, say: The base grille takes air in on a table, vents: base-grille, role: intake,
     when: on-table}
  - {id: bed-differs, say: On a bed the vents work differently, vents: [base-grille, right-slots],
     changes-role-against: on-bed, when: on-table}
)";

// The name as a double-quoted YAML text on one line; anything that can't stand in a case file becomes a
// space.
std::string quoted_name(const std::string& name) {
  constexpr std::size_t longest = 200;
  std::string out;
  for (std::size_t i = 0; i < name.size() && out.size() < longest;) {
    const int length = utf8_length(std::string_view(name).substr(i));
    const auto c = static_cast<unsigned char>(name[i]);
    if (length == 0 || c < 0x20 || c == 0x7F) {
      out += ' ';
    } else {
      if (c == '"' || c == '\\') out += '\\';
      out += name.substr(i, static_cast<std::size_t>(length));
    }
    i += static_cast<std::size_t>(std::max(1, length));
  }
  const bool blank = out.find_first_not_of(' ') == std::string::npos;
  return "\"" + (blank ? "unnamed device" : out) + "\"";
}

}  // namespace

std::string starter_case(const std::string& device_name) {
  return kBefore + quoted_name(device_name) + kAfter;
}

}  // namespace tuft::casefile
