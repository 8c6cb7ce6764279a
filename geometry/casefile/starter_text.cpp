// The text of a starting case.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "geometry/casefile/starter.hpp"
#include "geometry/casefile/starter_layout.hpp"
#include "geometry/casefile/starter_use.hpp"
#include "geometry/casefile/text.hpp"

namespace tuft::casefile {
namespace {

using geometry::Face;
using geometry::Vec3;

constexpr const char* kHead =
    R"(# A case for Tuft. Replace what is written here by what you see and measure on your device; what you leave
# out is assumed, with its doubt, and `tuft lint` lists it. `tuft reference` prints all keys and units.
#
# A length may be written 12 mm, 12 mm ± 0.5 mm (95 % lie within), 11..13 mm, or 12 mm */ 2 (a factor of 2
# either way).
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

std::string mm(double length) { return fmt::format("{:.5g} mm", std::round(length * 1e4) * 0.1); }

std::string point(const Vec3& at) { return "[" + mm(at.x()) + ", " + mm(at.y()) + ", " + mm(at.z()) + "]"; }

std::string device_text(const Starter& starter) {
  return fmt::format(
      "tuft: 1\n\ndevice:\n  name: {}\n"
      "  size: {}     # x to the right, y from front to rear, z from the base up\n"
      "  feet: {}      # height of the rubber feet\n\n"
      "room: {{temperature: 21 °C ± 1 K, altitude: 120 m}}\n",
      quoted_name(starter.name), point(starter.size), mm(starter.feet));
}

std::string zones_text(const Starter& starter, const StarterLayout& layout) {
  if (!layout.two_zones) {
    return "\n# The air inside is one space, called `inside`. Where walls part it, write `zones` and "
           "`passages`.\n";
  }
  const auto box = [](const StarterBox& b) {
    return fmt::format("{{from: {}, to: {}}}", point(b.from), point(b.to));
  };
  return fmt::format(
      "\n# Spaces inside the chassis, as boxes by two opposite corners. One space alone? Take this section "
      "and\n"
      "# the passages out, and write `inside` for the zones' names below.\n"
      "zones:\n  fan-bay: {}\n  board: {}\n\n"
      "# Where air can pass between them. The size is along the two axes across the flow.\n"
      "passages:\n  bay-to-board: {{between: [fan-bay, board], size: [{}, {}], length: 10 mm}}\n",
      box(layout.fan_bay), box(layout.board), mm(0.27 * starter.size.y()), mm(0.3 * starter.size.z()));
}

std::string vent_text(const StarterVent& vent) {
  const bool hinge = vent.face == Face::hinge;
  const std::string centre = hinge ? mm(vent.first) : mm(vent.first) + ", " + mm(vent.second);
  std::string text =
      fmt::format("  {}:\n    face: {}\n    centre: [{}]\n    size: [{}, {}]\n    cover: {}\n", vent.name,
                  geometry::face_word(vent.face), centre, mm(vent.width), mm(vent.height), vent.cover);
  if (!vent.behind.empty()) text += "    behind: " + vent.behind + "\n";
  return text;
}

std::string vents_text(const StarterLayout& layout) {
  std::string text =
      "\n# Every opening you can see. Centres count along the face: base and top x, y; left and right y, z; "
      "front\n"
      "# and rear x, z; the hinge x alone.\nvents:\n";
  for (const StarterVent& vent : layout.vents) text += vent_text(vent);
  return text + "\n# Seams between the shells are assumed; `leaks: {}` says there are none.\n";
}

std::string fan_text(const Starter& starter, const StarterLayout& layout) {
  if (!starter.outlet) return "\n# No fan. With one, write `fans`.\n";
  const double thickness = std::min(0.1 * starter.fan_diameter, 0.33 * starter.size.z());
  const std::string from = layout.two_zones ? "fan-bay" : "inside";
  if (starter.kind == StarterClass::mini_desktop) {
    return fmt::format(
        "\n# With a data sheet, give its curve: `tuft reference` says how.\nfans:\n  main:\n    kind: axial\n"
        "    diameter: {}\n    thickness: 15 mm\n    speed: 2200 rpm ± 5 %\n    draws-from: inside\n"
        "    blows-into: {}\n",
        mm(starter.fan_diameter), starter_vent_name(starter, *starter.outlet));
  }
  const int speed = starter.kind == StarterClass::handheld ? 5800 : 4600;
  return fmt::format(
      "\n# With a data sheet, give its curve: `tuft reference` says how.\nfans:\n  main:\n    kind: blower\n"
      "    diameter: {}\n    thickness: {}\n    speed: {} rpm ± 200 rpm\n    draws-from: {}\n"
      "    blows-into: outlet-fins\n\n"
      "# Count the fins behind the outlet; their gap decides much.\nfins:\n"
      "  outlet-fins: {{channels: {}, gap: 1.1 mm, height: {}, length: {}}}\n",
      mm(starter.fan_diameter), mm(thickness), speed, from, layout.channels, mm(layout.fin_height),
      starter.kind == StarterClass::handheld ? "14 mm" : "22 mm");
}

std::string sources_text(const Starter& starter, const StarterLayout& layout) {
  const std::string space = layout.two_zones ? "board" : "inside";
  std::string text =
      "\n# What makes heat, and which air takes it. With `joins` in its place a part has a "
      "temperature.\nsources:\n";
  if (layout.channels > 0) {
    text += "  processor: {heats: {outlet-fins: 85 %, " + space + ": 15 %}}\n";
  } else {
    text += "  processor: {joins: {inside: " +
            std::string(starter.kind == StarterClass::mini_desktop ? "0.9" : "4.5") + " K/W ± 25 %}}\n";
  }
  if (starter.kind == StarterClass::slim_notebook) text += "\nlid: {angle: 110 deg}\n";
  return text;
}

}  // namespace

std::string starter_case(const Starter& starter) {
  const StarterLayout layout = lay_out_starter(starter);
  std::string text;
  if (!starter.schema.empty()) text += "# yaml-language-server: $schema=" + starter.schema + "\n";
  text += kHead;
  text += "\n" + device_text(starter) + zones_text(starter, layout) + vents_text(layout);
  return text + fan_text(starter, layout) + sources_text(starter, layout) + starter_use(starter);
}

}  // namespace tuft::casefile
