// The text of a starting case: where everything goes, and how it is written down.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "geometry/casefile/boxes.hpp"
#include "geometry/casefile/starter.hpp"
#include "geometry/casefile/text.hpp"

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

/// A vent of the case to be written; lengths in m along the face's own axes.
struct StarterVent {
  std::string name;
  geometry::Face face = geometry::Face::base;
  double first = 0.0, second = 0.0;  ///< centre
  double width = 0.0, height = 0.0;
  std::string cover;   ///< as written
  std::string behind;  ///< name of what lies behind; empty: left to the reader
};

/// Places for everything a starting case names.
struct StarterLayout {
  bool two_zones = false;     ///< a slim notebook: the fan's bay, and the board beside it
  StarterBox fan_bay, board;  ///< with two zones
  std::vector<StarterVent> vents;
  int channels = 0;         ///< of the fins behind a blower's outlet; 0: no fins
  double fin_height = 0.0;  ///< [m]
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
void add_zones(const Starter& starter, StarterLayout& layout) {
  const Vec3& size = starter.size;
  const double border = rounded(0.385 * size.x());
  const double half = rounded(0.5 * size.y());
  const bool in_front = is_outlet(starter, Face::front);
  layout.two_zones = true;
  layout.fan_bay = {{kWall, in_front ? kWall : half, kWall},
                    {border, in_front ? half : size.y() - kWall, size.z() - kWall}};
  layout.board = {{border, kWall, kWall}, {size.x() - kWall, size.y() - kWall, size.z() - kWall}};
  if (!is_outlet(starter, Face::right)) return;
  for (StarterBox* box : {&layout.fan_bay, &layout.board}) {
    const double from = box->from.x();
    box->from.x() = size.x() - box->to.x();
    box->to.x() = size.x() - from;
  }
}

// Openings beside the fan's bay lie over the board; those of the bay over its middle.
Vec3 middle_for(const Starter& starter, const StarterLayout& layout, Face face) {
  if (!layout.two_zones) return 0.5 * starter.size;
  const bool in_bay = face == Face::base || is_outlet(starter, face);
  Vec3 middle = (in_bay ? layout.fan_bay : layout.board).centre();
  if (face == Face::left || face == Face::right) middle.y() = layout.fan_bay.centre().y();
  return middle;
}

void place(const Starter& starter, const StarterLayout& layout, StarterVent& vent) {
  const Eigen::Vector2d sides = face_size(starter.size, vent.face);
  const Vec3 middle = middle_for(starter, layout, vent.face);
  const bool flat = vent.face == Face::base || vent.face == Face::top;
  const bool upright = vent.face == Face::left || vent.face == Face::right;
  const bool axial = starter.kind == StarterClass::mini_desktop && is_outlet(starter, vent.face);
  vent.first = rounded(upright ? middle.y() : middle.x());
  vent.second = rounded(flat ? middle.y() : 0.5 * starter.size.z());
  const double part = layout.two_zones ? 0.225 : 0.4;
  vent.width = rounded(part * sides.x());
  vent.height = rounded((flat ? part : 0.3) * sides.y());
  if (is_outlet(starter, vent.face)) vent.height = rounded(0.45 * sides.y());
  if (axial) vent.height = rounded(0.8 * sides.y());
  if (axial) vent.width = rounded(std::min(0.9 * sides.x(), std::max(vent.height, starter.fan_diameter)));
  if (vent.face == Face::hinge) vent.height = kHingeSlot;
}

std::string cover_of(const Starter& starter, Face face) {
  if (is_outlet(starter, face)) {
    return starter.kind == StarterClass::mini_desktop ? "{kind: mesh, open: 60 %, hole: 3 mm}" : "slots";
  }
  const bool boxy = starter.kind == StarterClass::fanless_box;
  if (boxy) return "{kind: slots, open: 50 % ± 5 %, hole: 3 mm, thickness: 2 mm}";
  if (face == Face::base) return "{kind: perforated, hole: 1.5 mm}";
  // Keys let a little air through all around them.
  if (face == Face::top && starter.kind == StarterClass::slim_notebook) {
    return "{kind: slots, open: 1.5 % */ 2, hole: 0.5 mm, thickness: 3 mm}";
  }
  return "slots";
}

std::string behind_of(const Starter& starter, const StarterLayout& layout, Face face) {
  const bool blower = starter.kind != StarterClass::mini_desktop;
  if (is_outlet(starter, face)) return blower ? "outlet-fins" : "";
  if (!layout.two_zones) return "";
  // The slots beside the outlet belong to the space that they open into.
  const bool on_bay_side = (face == Face::left && !is_outlet(starter, Face::right)) ||
                           (face == Face::right && is_outlet(starter, Face::right));
  return face == Face::base || on_bay_side ? "fan-bay" : "board";
}

StarterVent vent_on(const Starter& starter, const StarterLayout& layout, Face face) {
  StarterVent vent;
  vent.name = starter_vent_name(starter, face);
  vent.face = face;
  vent.cover = cover_of(starter, face);
  vent.behind = behind_of(starter, layout, face);
  place(starter, layout, vent);
  return vent;
}

// Lays a device out. Vents take round parts of their faces; nothing overlaps.
StarterLayout lay_out_starter(const Starter& starter) {
  StarterLayout layout;
  if (starter.kind == StarterClass::slim_notebook) add_zones(starter, layout);
  for (const Face face : starter.vents) layout.vents.push_back(vent_on(starter, layout, face));
  if (!starter.outlet) return layout;
  const StarterVent outlet = vent_on(starter, layout, *starter.outlet);
  if (starter.kind != StarterClass::mini_desktop) {
    layout.channels = std::max(1, static_cast<int>(outlet.width / kFinPitch));
    layout.fin_height = std::max(0.5e-3, rounded(0.85 * outlet.height));
  }
  layout.vents.push_back(outlet);
  return layout;
}

// --- the device in words --------------------------------------------------------------------------

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
  if (!starter.outlet) {
    return text +
           fmt::format(
               "  idle: {{power: {{processor: {} ± 30 %}}}}\n  stress: {{power: {{processor: {} ± 10 %}}}}\n",
               watt(0.5 * starter.power), high);
  }
  text += fmt::format(
      "  idle: {{power: {{processor: {} ± 30 %}}, fans: {{main: 40 %}}}}\n"
      "  stress: {{power: {{processor: {} ± 10 %}}}}\n",
      low, high);
  if (starter.kind == StarterClass::mini_desktop) {
    text += fmt::format("  failed: {{power: {{processor: {} ± 10 %}}, fans: {{main: stopped}}}}\n",
                        watt(0.2 * starter.power));
  }
  return text;
}

std::string claim(const std::string& id, const std::string& say, const std::string& rest) {
  return "  - {id: " + id + ", say: " + say + ",\n     " + rest + "}\n";
}

bool has(const Starter& starter, Face face) {
  return std::find(starter.vents.begin(), starter.vents.end(), face) != starter.vents.end();
}

// Sentences that a device of the class usually makes true; each names a vent that the case has.
std::string claims_of(const Starter& starter, const std::string& when) {
  std::string text;
  if (starter.outlet) {
    text += claim("outlet-blows", "The outlet lets air out",
                  "vents: " + starter_vent_name(starter, *starter.outlet) + ", role: exhaust, when: " + when);
  }
  if (has(starter, Face::base) && (starter.outlet || has(starter, Face::top))) {
    text += claim("base-draws", "The openings in the base take air in",
                  "vents: " + starter_vent_name(starter, Face::base) + ", role: intake, when: " + when);
  }
  if (!starter.outlet && has(starter, Face::base) && has(starter, Face::top)) {
    text += claim("top-gives", "Warm air leaves through the top",
                  "vents: " + starter_vent_name(starter, Face::top) + ", role: exhaust, when: " + when);
  }
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
  const StarterLayout layout = lay_out_starter(starter);
  std::string text;
  if (!starter.schema.empty()) text += "# yaml-language-server: $schema=" + starter.schema + "\n";
  text += kHead;
  text += "\n" + device_text(starter) + zones_text(starter, layout) + vents_text(layout);
  return text + fan_text(starter, layout) + sources_text(starter, layout) + use_text(starter);
}

}  // namespace tuft::casefile
