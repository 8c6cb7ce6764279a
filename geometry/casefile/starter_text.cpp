// The text of a starting case: where everything goes, and how it is written down.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "geometry/casefile/boxes.hpp"
#include "geometry/casefile/starter.hpp"
#include "geometry/casefile/text.hpp"
#include "geometry/device/lists.hpp"

namespace tuft::casefile {
namespace {

using geometry::Face;
using geometry::Vec3;

// --- where the parts go: spaces, vents, fan and fins to the size of the device -------------------------

/// A box by two opposite corners [m].
struct StarterBox {
  geometry::Vec3 from = geometry::Vec3::Zero(), to = geometry::Vec3::Zero();
  geometry::Vec3 centre() const { return 0.5 * (from + to); }
};

/// The spaces inside: of a slim notebook the fan's bay, and the board beside it; of others one.
struct StarterSpaces {
  bool two = false;
  StarterBox fan_bay, board;
};

/// A vent's place along the face's own axes [m].
struct StarterPlace {
  double first = 0.0, second = 0.0;  ///< centre
  double width = 0.0, height = 0.0;
};

constexpr double kWall = 1e-3;        // between the outside and the spaces inside [m]
constexpr double kFinPitch = 1.3e-3;  // a gap of 1.1 mm and a fin of 0.2 mm [m]
constexpr double kHingeSlot = 7e-3;   // height of an outlet under the hinge [m]

bool is_outlet(const Starter& starter, Face face) { return starter.outlet && *starter.outlet == face; }

// Name of the vent on a face: "base-grille", "right-slots", "keyboard", "left-outlet".
std::string starter_vent_name(const Starter& starter, Face face) {
  const std::string word = geometry::face_word(face);
  if (is_outlet(starter, face)) return word + "-outlet";
  if (face == Face::top && starter.kind == StarterClass::slim_notebook) return "keyboard";
  if (face == Face::base && starter.kind != StarterClass::fanless_box) return "base-grille";
  return word + "-slots";
}

// To a tenth of a millimetre: what a ruler tells.
double rounded(double length) { return std::round(length * 1e4) * 1e-4; }

// The bay of the fan lies in the corner next to its outlet, on the left unless it blows to the right.
StarterSpaces spaces_of(const Starter& starter) {
  StarterSpaces spaces;
  if (starter.kind != StarterClass::slim_notebook) return spaces;
  const Vec3& size = starter.size;
  const double border = rounded(0.385 * size.x());
  const double half = rounded(0.5 * size.y());
  const bool in_front = is_outlet(starter, Face::front);
  spaces.two = true;
  spaces.fan_bay = {{kWall, in_front ? kWall : half, kWall},
                    {border, in_front ? half : size.y() - kWall, size.z() - kWall}};
  spaces.board = {{border, kWall, kWall}, {size.x() - kWall, size.y() - kWall, size.z() - kWall}};
  if (!is_outlet(starter, Face::right)) return spaces;
  for (StarterBox* box : {&spaces.fan_bay, &spaces.board}) {
    const double from = box->from.x();
    box->from.x() = size.x() - box->to.x();
    box->to.x() = size.x() - from;
  }
  return spaces;
}

// Openings beside the fan's bay lie over the board; those of the bay over its middle.
Vec3 middle_for(const Starter& starter, const StarterSpaces& spaces, Face face) {
  if (!spaces.two) return 0.5 * starter.size;
  const bool in_bay = face == Face::base || is_outlet(starter, face);
  Vec3 middle = (in_bay ? spaces.fan_bay : spaces.board).centre();
  if (face == Face::left || face == Face::right) middle.y() = spaces.fan_bay.centre().y();
  return middle;
}

// Vents take round parts of their faces; nothing overlaps.
StarterPlace place_on(const Starter& starter, const StarterSpaces& spaces, Face face) {
  StarterPlace place;
  const Eigen::Vector2d sides = face_size(starter.size, face);
  const Vec3 middle = middle_for(starter, spaces, face);
  const bool flat = face == Face::base || face == Face::top;
  const bool upright = face == Face::left || face == Face::right;
  const bool axial = starter.kind == StarterClass::mini_desktop && is_outlet(starter, face);
  place.first = rounded(upright ? middle.y() : middle.x());
  place.second = rounded(flat ? middle.y() : 0.5 * starter.size.z());
  const double part = spaces.two ? 0.225 : 0.4;
  place.width = rounded(part * sides.x());
  place.height = rounded((flat ? part : 0.3) * sides.y());
  if (is_outlet(starter, face)) place.height = rounded(0.45 * sides.y());
  if (axial) place.height = rounded(0.8 * sides.y());
  if (axial) place.width = rounded(std::min(0.9 * sides.x(), std::max(place.height, starter.fan_diameter)));
  if (face == Face::hinge) place.height = kHingeSlot;
  return place;
}

std::string cover_of(const Starter& starter, Face face) {
  if (is_outlet(starter, face))
    return starter.kind == StarterClass::mini_desktop ? "{kind: mesh, open: 60 %, hole: 3 mm}" : "slots";
  const bool boxy = starter.kind == StarterClass::fanless_box;
  if (boxy) return "{kind: slots, open: 50 % ± 5 %, hole: 3 mm, thickness: 2 mm}";
  if (face == Face::base) return "{kind: perforated, hole: 1.5 mm}";
  // Keys let a little air through all around them.
  if (face == Face::top && starter.kind == StarterClass::slim_notebook)
    return "{kind: slots, open: 1.5 % */ 2, hole: 0.5 mm, thickness: 3 mm}";
  return "slots";
}

std::string behind_of(const Starter& starter, const StarterSpaces& spaces, Face face) {
  const bool blower = starter.kind != StarterClass::mini_desktop;
  if (is_outlet(starter, face)) return blower ? "outlet-fins" : "";
  if (!spaces.two) return "";
  // The slots beside the outlet belong to the space that they open into.
  const bool on_bay_side = (face == Face::left && !is_outlet(starter, Face::right)) ||
                           (face == Face::right && is_outlet(starter, Face::right));
  return face == Face::base || on_bay_side ? "fan-bay" : "board";
}

// --- the device in words --------------------------------------------------------------------------

constexpr const char* kHead =
    R"(# A case for Tuft. Replace what is written here by what you see and measure on your device; what you leave
# out is assumed, with its uncertainty, and `tuft lint` lists it. `tuft reference` prints all keys and units.
#
# A length may be written 12 mm, 12 mm ± 0.5 mm (95 % lie within), 11..13 mm, or 12 mm */ 2 (a factor of 2
# either way).
)";

// The name as a double-quoted YAML text on one line; anything that can't stand in a case file becomes a
// space.
std::string quoted_name(const std::string& name) {
  constexpr std::size_t longest = 200;
  std::string out;
  for (const std::string_view character : characters(name)) {
    if (out.size() >= longest) break;
    const auto c = static_cast<unsigned char>(character[0]);
    if (c == '"' || c == '\\') out += '\\';
    out += utf8_length(character) == 0 || c < 0x20 || c == 0x7F ? " " : character;
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

std::string zones_text(const Starter& starter, const StarterSpaces& spaces) {
  if (!spaces.two)
    return "\n# The air inside is one space, called `inside`. Where walls divide it, write `zones` and "
           "`passages`.\n";
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
      box(spaces.fan_bay), box(spaces.board), mm(0.27 * starter.size.y()), mm(0.3 * starter.size.z()));
}

std::string vent_text(const Starter& starter, const StarterSpaces& spaces, Face face) {
  const StarterPlace place = place_on(starter, spaces, face);
  const std::string centre = mm(place.first) + (face == Face::hinge ? "" : ", " + mm(place.second));
  const std::string behind = behind_of(starter, spaces, face);
  return fmt::format("  {}:\n    face: {}\n    centre: [{}]\n    size: [{}, {}]\n    cover: {}\n",
                     starter_vent_name(starter, face), geometry::face_word(face), centre, mm(place.width),
                     mm(place.height), cover_of(starter, face)) +
         (behind.empty() ? "" : "    behind: " + behind + "\n");
}

std::string vents_text(const Starter& starter, const StarterSpaces& spaces) {
  std::string text =
      "\n# Every opening you can see. Centres are measured along the face: base and top x, y; left and right "
      "y, z; "
      "front\n"
      "# and rear x, z; the hinge x alone.\nvents:\n";
  for (const Face face : starter.vents) text += vent_text(starter, spaces, face);
  if (starter.outlet) text += vent_text(starter, spaces, *starter.outlet);
  return text + "\n# Seams between the shells are assumed; `leaks: {}` says there are none.\n";
}

std::string fan_text(const Starter& starter, const StarterSpaces& spaces) {
  if (!starter.outlet) return "\n# This device has no fan. For a fan, write `fans`.\n";
  const bool axial = starter.kind == StarterClass::mini_desktop;
  const bool handheld = starter.kind == StarterClass::handheld;
  const double thickness = axial ? 15e-3 : std::min(0.1 * starter.fan_diameter, 0.33 * starter.size.z());
  const std::string text = fmt::format(
      "\n# With a data sheet, give its curve: `tuft reference` says how.\nfans:\n  main:\n    kind: {}\n"
      "    diameter: {}\n    thickness: {}\n    speed: {}\n    draws-from: {}\n    blows-into: {}\n",
      axial ? "axial" : "blower", mm(starter.fan_diameter), mm(thickness),
      axial      ? "2200 rpm ± 5 %"
      : handheld ? "5800 rpm ± 200 rpm"
                 : "4600 rpm ± 200 rpm",
      spaces.two ? "fan-bay" : "inside", axial ? starter_vent_name(starter, *starter.outlet) : "outlet-fins");
  if (axial) return text;
  const StarterPlace outlet = place_on(starter, spaces, *starter.outlet);
  return text + fmt::format(
                    "\n# Count the fins behind the outlet; their gap decides much.\nfins:\n"
                    "  outlet-fins: {{channels: {}, gap: 1.1 mm, height: {}, length: {}}}\n",
                    std::max(1, static_cast<int>(outlet.width / kFinPitch)),
                    mm(std::max(0.5e-3, rounded(0.85 * outlet.height))), handheld ? "14 mm" : "22 mm");
}

std::string sources_text(const Starter& starter, const StarterSpaces& spaces) {
  const std::string space = spaces.two ? "board" : "inside";
  std::string text =
      "\n# What makes heat, and which air takes it. With `joins` in its place a part has a "
      "temperature.\nsources:\n";
  if (starter.outlet && starter.kind != StarterClass::mini_desktop) {
    text += "  processor: {heats: {outlet-fins: 85 %, " + space + ": 15 %}}\n";
  } else {
    text += "  processor: {joins: {inside: " +
            std::string(starter.kind == StarterClass::mini_desktop ? "0.9" : "4.5") + " K/W ± 25 %}}\n";
  }
  if (starter.kind == StarterClass::slim_notebook) text += "\nlid: {angle: 110 deg}\n";
  return text;
}

// --- use: poses, supports, loads, conditions, and the first sentences to check -----------------------

constexpr const char* kHow =
    "\n# How it is held (flat, upside-down, on-left-edge, on-right-edge, on-front-edge and on-rear-edge need "
    "no\n"
    "# entry), and what it rests on (air and table need none).\n";

struct Use {
  const char* places;      ///< poses and supports
  const char* conditions;  ///< lines of the section
  const char* sweep;       ///< the line of the section
  const char* first;       ///< the condition that claims are about
};

Use use_of(StarterClass kind) {
  switch (kind) {
    case StarterClass::slim_notebook:
      return {"poses:\n  propped: {tilt: 12 deg, about: x}\nsupports:\n  bed: soft\n",
              "  on-table: {pose: flat, support: table, load: stress}\n"
              "  on-bed: {pose: flat, support: bed, load: stress}\n"
              "  on-bench: {pose: on-left-edge, support: air, load: stress}\n"
              "  propped-up: {pose: propped, support: table, load: idle}\n",
              "  around: {condition: on-bench, about: y, from: 0 deg, to: 360 deg, step: 15 deg}\n",
              "on-table"};
    case StarterClass::handheld:
      return {
          "poses:\n  held: {tilt: 50 deg, about: x}      # the screen to the face\nsupports:\n  sofa: soft\n",
          "  in-hands: {pose: held, support: air, load: stress}\n"
          "  in-hands-idle: {pose: held, support: air, load: idle}\n"
          "  on-table: {pose: flat, support: table, load: stress}\n"
          "  on-sofa: {pose: flat, support: sofa, load: stress}\n",
          "  tilt: {condition: in-hands, about: x, from: 0 deg, to: 90 deg, step: 15 deg}\n", "in-hands"};
    case StarterClass::fanless_box:
      return {
          "supports:\n  desk: {kind: hard, edge-gap: 8 mm ± 1 mm}\n  wall: {kind: wall, gap: 6 mm ± 1 mm}\n",
          "  lying: {pose: flat, support: desk, load: stress}\n"
          "  lying-idle: {pose: flat, support: desk, load: idle}\n"
          "  on-edge: {pose: on-left-edge, support: desk, load: stress}\n"
          "  on-wall: {pose: on-left-edge, support: wall, load: stress}\n"
          "  hung: {pose: flat, support: air, load: stress}\n",
          "  turn: {condition: hung, about: y, from: 0 deg, to: 360 deg, step: 15 deg}\n", "lying"};
    case StarterClass::mini_desktop:
      return {"supports:\n  desk: {kind: hard, edge-gap: 8 mm ± 1 mm}\n",
              "  lying: {pose: flat, support: desk, load: stress}\n"
              "  lying-idle: {pose: flat, support: desk, load: idle}\n"
              "  upright: {pose: on-left-edge, support: desk, load: stress}\n"
              "  fan-stopped: {pose: flat, support: desk, load: failed}\n",
              "  turn: {condition: upright, about: y, from: 0 deg, to: 360 deg, step: 15 deg}\n", "lying"};
  }
  return {};
}

std::string loads_text(const Starter& starter) {
  const auto watt = [](double power) { return fmt::format("{:.3g} W", power); };
  const std::string low = watt(0.1 * starter.power), high = watt(starter.power);
  std::string text = "\n# Powers, as measured or as a tool on the device shows them.\nloads:\n";
  if (!starter.outlet)
    return text +
           fmt::format(
               "  idle: {{power: {{processor: {} ± 30 %}}}}\n  stress: {{power: {{processor: {} ± 10 %}}}}\n",
               watt(0.5 * starter.power), high);
  text += fmt::format(
      "  idle: {{power: {{processor: {} ± 30 %}}, fans: {{main: 40 %}}}}\n"
      "  stress: {{power: {{processor: {} ± 10 %}}}}\n",
      low, high);
  if (starter.kind == StarterClass::mini_desktop)
    text += fmt::format("  failed: {{power: {{processor: {} ± 10 %}}, fans: {{main: stopped}}}}\n",
                        watt(0.2 * starter.power));
  return text;
}

// Sentences that a device of the class usually makes true; each names a vent that the case has.
std::string claims_of(const Starter& starter, const std::string& when) {
  std::string text;
  const auto claim = [&](const char* id, const char* say, Face face, const char* role) {
    text += fmt::format("  - {{id: {}, say: {},\n     vents: {}, role: {}, when: {}}}\n", id, say,
                        starter_vent_name(starter, face), role, when);
  };
  const bool base = geometry::contains(starter.vents, Face::base),
             top = geometry::contains(starter.vents, Face::top);
  if (starter.outlet) claim("outlet-blows", "The outlet lets air out", *starter.outlet, "exhaust");
  if (base && (starter.outlet || top))
    claim("base-draws", "The openings in the base take air in", Face::base, "intake");
  if (!starter.outlet && base && top)
    claim("top-gives", "Warm air leaves through the top", Face::top, "exhaust");
  return text;
}

// The sections `poses` to `claims`.
std::string use_text(const Starter& starter) {
  const Use use = use_of(starter.kind);
  std::string text = kHow + std::string(use.places) + loads_text(starter) +
                     "\n# The combinations you care about.\nconditions:\n" + use.conditions + "\nsweeps:\n" +
                     use.sweep;
  const std::string claims = claims_of(starter, use.first);
  if (!claims.empty()) text += "\n# The sentences you want to publish.\nclaims:\n" + claims;
  return text;
}

}  // namespace

std::string starter_case(const Starter& starter) {
  const StarterSpaces spaces = spaces_of(starter);
  std::string text;
  if (!starter.schema.empty()) text += "# yaml-language-server: $schema=" + starter.schema + "\n";
  text += kHead;
  text += "\n" + device_text(starter) + zones_text(starter, spaces) + vents_text(starter, spaces);
  return text + fan_text(starter, spaces) + sources_text(starter, spaces) + use_text(starter);
}

}  // namespace tuft::casefile
