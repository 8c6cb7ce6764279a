#include "geometry/casefile/starter_use.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "geometry/casefile/starter_layout.hpp"

namespace tuft::casefile {
namespace {

using geometry::Face;

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

}  // namespace

std::string starter_use(const Starter& starter) {
  const Use use = use_of(starter.kind);
  std::string text = kHow + std::string(use.places) + loads_text(starter) +
                     "\n# The combinations you care about.\nconditions:\n" + use.conditions + "\nsweeps:\n" +
                     use.sweep;
  const std::string claims = claims_of(starter, use.first);
  if (!claims.empty()) text += "\n# The sentences you want to publish.\nclaims:\n" + claims;
  return text;
}

}  // namespace tuft::casefile
