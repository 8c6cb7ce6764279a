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
constexpr double kFinLength = 22e-3;  // of a notebook's fins, along the flow [m]
constexpr double kHingeSlot = 7e-3;   // height of an outlet under the hinge [m]

bool is_outlet(const Starter& starter, Face face) {
  return std::any_of(starter.fans.begin(), starter.fans.end(),
                     [face](const StarterFan& fan) { return fan.outlet == face; });
}

// Which of the fans that blow through its face a fan is, and how many there are.
struct Among {
  std::size_t number = 0, count = 0;
};
Among among_neighbours(const Starter& starter, std::size_t fan) {
  Among out;
  for (std::size_t i = 0; i < starter.fans.size(); ++i) {
    if (starter.fans[i].outlet != starter.fans[fan].outlet) continue;
    if (i < fan) ++out.number;
    ++out.count;
  }
  return out;
}

// "outlet-fins" of the first fan, "outlet-fins-2" of the second.
std::string numbered_name(const std::string& name, std::size_t number) {
  return number == 0 ? name : name + "-" + std::to_string(number + 1);
}
std::string starter_fan_name(std::size_t fan) { return numbered_name(fan == 0 ? "main" : "fan", fan); }
std::string fins_name(std::size_t fan) { return numbered_name("outlet-fins", fan); }

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

// The outlet of a fan.
std::string outlet_name(const Starter& starter, std::size_t fan) {
  return numbered_name(starter_vent_name(starter, starter.fans[fan].outlet),
                       among_neighbours(starter, fan).number);
}

// The bay of the fan lies in the corner next to its outlet, on the left unless it blows to the right. With
// several fans the inside is one space: how their bays are divided is not known.
StarterSpaces spaces_of(const Starter& starter) {
  StarterSpaces spaces;
  if (starter.kind != StarterClass::slim_notebook || starter.fans.size() != 1) return spaces;
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

double largest_fan(const Starter& starter) {
  double most = 0.0;
  for (const StarterFan& fan : starter.fans) most = std::max(most, fan.diameter);
  return most;
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
  if (axial) place.width = rounded(std::min(0.9 * sides.x(), std::max(place.height, largest_fan(starter))));
  if (face == Face::hinge) place.height = kHingeSlot;
  return place;
}

// Outlets of several fans stand side by side on their face.
StarterPlace place_of_outlet(const Starter& starter, const StarterSpaces& spaces, std::size_t fan) {
  const Face face = starter.fans[fan].outlet;
  StarterPlace place = place_on(starter, spaces, face);
  const Among among = among_neighbours(starter, fan);
  if (among.count == 1) return place;
  const double part = face_size(starter.size, face).x() / static_cast<double>(among.count);
  place.first = rounded((static_cast<double>(among.number) + 0.5) * part);
  place.width = rounded(std::min(place.width, 0.85 * part));
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
  if (is_outlet(starter, face)) return blower ? fins_name(0) : "";
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

std::string vent_text(const Starter& starter, Face face, const std::string& name, const StarterPlace& place,
                      const std::string& behind) {
  const std::string centre = mm(place.first) + (face == Face::hinge ? "" : ", " + mm(place.second));
  return fmt::format("  {}:\n    face: {}\n    centre: [{}]\n    size: [{}, {}]\n    cover: {}\n", name,
                     geometry::face_word(face), centre, mm(place.width), mm(place.height),
                     cover_of(starter, face)) +
         (behind.empty() ? "" : "    behind: " + behind + "\n");
}

std::string vents_text(const Starter& starter, const StarterSpaces& spaces) {
  std::string text =
      "\n# Every opening you can see. Centres are measured along the face: base and top x, y; left and right "
      "y, z; "
      "front\n"
      "# and rear x, z; the hinge x alone.\nvents:\n";
  for (const Face face : starter.vents)
    text += vent_text(starter, face, starter_vent_name(starter, face), place_on(starter, spaces, face),
                      behind_of(starter, spaces, face));
  for (std::size_t i = 0; i < starter.fans.size(); ++i) {
    const Face face = starter.fans[i].outlet;
    const bool through_fins = !behind_of(starter, spaces, face).empty();
    text += vent_text(starter, face, outlet_name(starter, i), place_of_outlet(starter, spaces, i),
                      through_fins ? fins_name(i) : "");
  }
  return text + "\n# Seams between the shells are assumed; `leaks: {}` says there are none.\n";
}

// A fan beside its outlet, by the distances of its impeller to the edges: where there are several, a place
// that they share would be wrong for all but one.
std::string fan_place_text(const Starter& starter, const StarterSpaces& spaces, std::size_t fan,
                           double thickness) {
  if (starter.fans.size() < 2) return "";
  const Face face = starter.fans[fan].outlet;
  const bool axial = starter.kind == StarterClass::mini_desktop;
  const StarterPlace outlet = place_of_outlet(starter, spaces, fan);
  const bool sideways = face == Face::left || face == Face::right;
  const double across = starter.fans[fan].diameter, behind = axial ? 2e-3 : kFinLength + 4e-3;
  const Vec3& size = starter.size;
  // Along the outlet's face, and away from it.
  const auto along = [&](double room) {
    return std::clamp(outlet.first - 0.5 * across, 0.0, std::max(0.0, room - across));
  };
  double left = sideways ? behind : along(size.x()), front = sideways ? along(size.y()) : behind;
  const double deep = axial ? thickness : across;
  if (face == Face::right) left = size.x() - behind - deep;
  if (face == Face::rear || face == Face::hinge) front = size.y() - behind - deep;
  if (face == Face::top) front = std::max(0.0, outlet.second - 0.5 * across);
  return fmt::format("    from-left: {}\n    from-front: {}\n", mm(std::max(0.0, left)),
                     mm(std::max(0.0, front)));
}

std::string one_fan_text(const Starter& starter, const StarterSpaces& spaces, std::size_t fan) {
  const bool axial = starter.kind == StarterClass::mini_desktop;
  const bool handheld = starter.kind == StarterClass::handheld;
  const double diameter = starter.fans[fan].diameter;
  const double thickness = axial ? 15e-3 : std::min(0.1 * diameter, 0.33 * starter.size.z());
  return fmt::format(
             "  {}:\n    kind: {}\n    diameter: {}\n    thickness: {}\n    speed: {}\n    draws-from: {}\n"
             "    blows-into: {}\n",
             starter_fan_name(fan), axial ? "axial" : "blower", mm(diameter), mm(thickness),
             axial      ? "2200 rpm ± 5 %"
             : handheld ? "5800 rpm ± 200 rpm"
                        : "4600 rpm ± 200 rpm",
             spaces.two ? "fan-bay" : "inside", axial ? outlet_name(starter, fan) : fins_name(fan)) +
         fan_place_text(starter, spaces, fan, thickness);
}

std::string fan_text(const Starter& starter, const StarterSpaces& spaces) {
  if (starter.fans.empty()) return "\n# This device has no fan. For a fan, write `fans`.\n";
  std::string text =
      "\n# With a data sheet, give its curve: `tuft reference` says how. Where nothing is known of a fan, "
      "name "
      "one of\n# its size: `tuft reference generic`.\nfans:\n";
  for (std::size_t i = 0; i < starter.fans.size(); ++i) text += one_fan_text(starter, spaces, i);
  if (starter.kind == StarterClass::mini_desktop) return text;
  text += "\n# Count the fins behind the outlet; their gap decides much.\nfins:\n";
  for (std::size_t i = 0; i < starter.fans.size(); ++i) {
    const StarterPlace outlet = place_of_outlet(starter, spaces, i);
    text += fmt::format("  {}: {{channels: {}, gap: 1.1 mm, height: {}, length: {}}}\n", fins_name(i),
                        std::max(1, static_cast<int>(outlet.width / kFinPitch)),
                        mm(std::max(0.5e-3, rounded(0.85 * outlet.height))),
                        starter.kind == StarterClass::handheld ? "14 mm" : mm(kFinLength));
  }
  return text;
}

// Fins of several fans share what one would take.
std::string shares_of_fins(const Starter& starter) {
  constexpr int percent = 85;
  const int count = static_cast<int>(starter.fans.size());
  std::string text;
  for (int i = 0; i < count; ++i)
    text += fins_name(static_cast<std::size_t>(i)) + ": " +
            std::to_string(percent / count + (i < percent % count ? 1 : 0)) + " %, ";
  return text;
}

std::string sources_text(const Starter& starter, const StarterSpaces& spaces) {
  const std::string space = spaces.two ? "board" : "inside";
  std::string text =
      "\n# What makes heat, and which air takes it. With `joins` in its place a part has a "
      "temperature.\nsources:\n";
  if (!starter.fans.empty() && starter.kind != StarterClass::mini_desktop) {
    text += "  processor: {heats: {" + shares_of_fins(starter) + space + ": 15 %}}\n";
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
  if (starter.fans.empty())
    return text +
           fmt::format(
               "  idle: {{power: {{processor: {} ± 30 %}}}}\n  stress: {{power: {{processor: {} ± 10 %}}}}\n",
               watt(0.5 * starter.power), high);
  const auto all_fans = [&](const char* setting) {
    std::string fans;
    for (std::size_t i = 0; i < starter.fans.size(); ++i)
      fans += (i == 0 ? "" : ", ") + starter_fan_name(i) + ": " + setting;
    return "fans: {" + fans + "}";
  };
  text += fmt::format(
      "  idle: {{power: {{processor: {} ± 30 %}}, {}}}\n"
      "  stress: {{power: {{processor: {} ± 10 %}}}}\n",
      low, all_fans("40 %"), high);
  if (starter.kind == StarterClass::mini_desktop)
    text += fmt::format("  failed: {{power: {{processor: {} ± 10 %}}, {}}}\n", watt(0.2 * starter.power),
                        all_fans("stopped"));
  return text;
}

// Sentences that a device of the class usually makes true; each names a vent that the case has.
std::string claims_of(const Starter& starter, const std::string& when) {
  std::string text;
  const auto claim = [&](const std::string& id, const std::string& say, const std::string& vent,
                         const char* role) {
    text += fmt::format("  - {{id: {}, say: {},\n     vents: {}, role: {}, when: {}}}\n", id, say, vent, role,
                        when);
  };
  const auto vent = [&](Face face) { return starter_vent_name(starter, face); };
  const bool base = geometry::contains(starter.vents, Face::base),
             top = geometry::contains(starter.vents, Face::top), fans = !starter.fans.empty();
  for (std::size_t i = 0; i < starter.fans.size(); ++i)
    claim(numbered_name("outlet-blows", i),
          i == 0 ? "The outlet lets air out" : "Outlet " + std::to_string(i + 1) + " lets air out",
          outlet_name(starter, i), "exhaust");
  if (base && (fans || top))
    claim("base-draws", "The openings in the base take air in", vent(Face::base), "intake");
  if (!fans && base && top) claim("top-gives", "Warm air leaves through the top", vent(Face::top), "exhaust");
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
