// The schema against the reader: what the reader accepts, the schema accepts; what is wrong in its shape, the
// schema refuses as the reader does.
#include <sys/wait.h>

#include <catch2/catch.hpp>

#include <cstdlib>
#include <filesystem>
#include <iostream>
#include <nlohmann/json.hpp>

#include "tests/casefile/helpers.hpp"
#include "tests/messages/mutations.hpp"

using namespace tuft::casefile;
using nlohmann::json;
using tuft::casefile::test::full_case;
using tuft::casefile::test::heat_case;
using tuft::casefile::test::messages;
using tuft::casefile::test::mutations;
using tuft::casefile::test::read;
using tuft::casefile::test::small_case;

namespace {

// Short forms and odd ones that the reader takes.
const char* const kGood[] = {
    "",
    "room: {temperature: 294 K, humidity: 0.4}\n",
    "leaks: {}\n",
    "leaks: {a: {face: top}}\n",
    "lid: {}\n",
    "poses: {a: on-left-edge, b: {tilt: -12 deg, about: [0, 1, -0.5]}, c: {tilt: 0.2 rad, about: z}}\n",
    "supports: {a: soft, b: {kind: wall, gap: 2..4 mm, over: in}, c: {kind: soft, touches: [in]}, air: "
    "air}\n",
    "loads: {a: {}, b: {power: {}, fans: {}}}\n",
    "conditions: {a: {}, b: {pose: on-rear-edge}}\nsweeps: {s: {condition: a, about: [1, 2, 3], step: 1 "
    "deg}}\n",
    "roles: {margin: 2, idle-share: 0.01}\n",
    "correlations:\n  - {inputs: [vents.in.blocked, vents.out.blocked, room.temperature], correlation: "
    "-0.2}\n",
    "claims: [{id: 7, say: yes, vents: in, role: idle, any: false}]\n",
    "claims: [{id: a, say: b, vents: [in], draws-more-than: out, by: 2, when: {}}]\n",
    "claims: []\n",
    "fans: {f: {kind: axial, diameter: 2 cm, draws-from: in, blows-into: out}}\n",
    "fans: {f: {like: blower-30, draws-from: inside, blows-into: out, from-left: 12 mm, from-front: 8 mm}}\n",
    "  b: {face: top, from-left: 10 mm, from-rear: 5 mm, size: [5 cm, 5 cm], cover: honeycomb}\n"
    "  c: {face: base, from-left: 10 mm, from-rear: 5 mm, size: [5 cm, 5 cm], cover: {like: comb, hole: 3 mm}}\n",
    "sources: {a: {joins: {inside: heat-pipe-6}}}\nsupports: {a: fabric-sofa, b: {like: duvet, sink: 1 cm}}\n",
    "\"room\": {\"altitude\": \"10 m\"}\n",
    "sources: {a: {joins: {b: 1 K/W, inside: 2..3 K/W}, capacity: 4 J/K, throttles-at: 90 °C, least-power: 1 "
    "W}}\nparts: {b: {}}\n",
    "skin: {a: {face: top, centre: [5 cm, 5 cm], size: [2 cm, 2 cm], material: wood, contact: 10 min, "
    "emissivity: 0.9, areal-capacity: 3 kJ/m2/K, inside-film: 5 W/m2/K}}\n",
    "fans: {f: {kind: axial, diameter: 2 cm, draws-from: in, blows-into: out, speed-control: {sensor: a, "
    "speeds: "
    "[[40 "
    "°C, 0 rpm], [50 °C, 900 rpm]]}}}\nsources: {a: {joins: {inside: 1 K/W}}}\nloads: {a: {fans: {f: "
    "controlled}}}\n",
    "  more: {face: top, centre: [5 cm, 5 cm], size: [2 cm, 2 cm], recirculates: {in: 10 %, out: 0.05}}\n",
};

// Mistakes of shape.
const char* const kBad[] = {
    "rooms: {}\n",
    "correlations:\n  - {inputs: [vents.in.blocked], correlation: 0.2}\n",
    "correlations:\n  - {inputs: [vents.in.blocked, room.temperature]}\n",
    "room: {temperatur: 21 °C}\n",
    "room: {temperature: 21}\n",
    "room: {temperature: warm}\n",
    "room: {temperature: [21 °C]}\n",
    "room: 21 °C\n",
    "room:\n",
    "room: {humidity: 45}\n",
    "zones: {}\n",
    "zones: {a: {from: [0 mm, 0 mm], to: [1 mm, 1 mm, 1 mm]}}\n",
    "zones: {a: {from: [0 mm, 0 mm, 0 mm]}}\n",
    "leaks: {a: {face: under}}\n",
    "leaks: {a: {face: top, hole: 1 mm}}\n",
    "passages: {a: {between: inside, size: [1 mm, 1 mm]}}\n",
    "passages: {a: {between: [inside, inside, inside], size: [1 mm, 1 mm]}}\n",
    "fans: {f: {kind: blower, diameter: 2, draws-from: in, blows-into: out}}\n",
    "fans: {f: {like: jet, draws-from: in, blows-into: out}}\n",
    "fans: {f: {draws-from: in, blows-into: out, diameter: 2 cm}}\n",
    "  b: {face: top, size: [5 cm, 5 cm]}\n",
    "fans: {f: {kind: jet, diameter: 2 cm, draws-from: in, blows-into: out}}\n",
    "fans: {f: {kind: axial, diameter: 2 cm, draws-from: in}}\n",
    "fans: {f: {kind: axial, diameter: 2 cm, draws-from: in, blows-into: out, curve: {}}}\n",
    "fans: {f: {kind: axial, diameter: 2 cm, draws-from: in, blows-into: out, curve: {points: [[1 L/s]]}}}\n",
    "fans: {f: {kind: axial, diameter: 2 cm, draws-from: in, blows-into: out}}\nloads: {a: {fans: {f: "
    "off}}}\n",
    "supports: {a: cushion}\n",
    "supports: {a: {gap: 1 mm}}\n",
    "supports: {a: {kind: hard, sink: 1 mm}}\n",
    "poses: {a: sideways}\n",
    "poses: {a: {tilt: 12 deg}}\n",
    "poses: {a: {tilt: 12 deg, about: w}}\n",
    "poses: {a: {tilt: 12 deg, about: [1, 0]}}\n",
    "claims: {id: a}\n",
    "claims: [{id: a, say: b, vents: in}]\n",
    "claims: [{id: a, say: b, vents: in, role: idle, none: intake}]\n",
    "claims: [{id: a, say: b, vents: [], role: idle}]\n",
    "claims: [{id: a, say: b, vents: in, role: quiet}]\n",
    "claims: [{id: a, say: b, vents: in, role: idle, any: yes}]\n",
    "claims: [{id: a, say: b, role: idle}]\n",
    "roles: {margin: 0.5}\n",
    "conditions: {a: {pose: flat, lid: 90}}\n",
    "sources: {a: {joins: {inside: 1}}}\n",
    "sources: {a: {joins: {}}}\n",
    "sources: {a: {joins: inside}}\n",
    "sources: {a: {joins: {inside: 1 K/W}, throttles: 90 °C}}\n",
    "parts: {a: {capacity: 5}}\n",
    "skin: {a: {face: hinge, centre: [5 cm, 5 cm], size: [2 cm, 2 cm], material: wood}}\n",
    "skin: {a: {face: top, centre: [5 cm], size: [2 cm, 2 cm], material: wood}}\n",
    "skin: {a: {face: top, centre: [5 cm, 5 cm], size: [2 cm, 2 cm], material: steel}}\n",
    "skin: {a: {face: top, centre: [5 cm, 5 cm], size: [2 cm, 2 cm]}}\n",
    "fans: {f: {kind: axial, diameter: 2 cm, draws-from: in, blows-into: out, speed-control: {sensor: a}}}\n",
    "fans: {f: {kind: axial, diameter: 2 cm, draws-from: in, blows-into: out, speed-control: {sensor: a, "
    "speeds: "
    "[[40 °C]]}}}\n",
    "  more: {face: top, centre: [5 cm, 5 cm], size: [2 cm, 2 cm], recirculates: {in: 150}}\n",
};

void add(json& list, const std::string& name, const std::string& text, bool accept) {
  list.push_back({{"name", name}, {"text", text}, {"accept", accept}});
}

json cases() {
  json list = json::array();
  add(list, "full sample", full_case(), true);
  add(list, "sample of heat paths", heat_case(), true);
  add(list, "starter", test::notebook_case("Notebook"), true);
  for (const char* more : kGood) {
    const ReadResult result = read(small_case(more));
    INFO(messages(result));
    CHECK(result.errors.empty());
    add(list, more, small_case(more), true);
  }
  for (const char* more : kBad) {
    INFO(more);
    CHECK_FALSE(read(small_case(more)).errors.empty());
    add(list, more, small_case(more), false);
  }
  for (const std::string& good : {full_case(), heat_case()}) {
    for (const auto& mutation : mutations(good, 12, 42)) {
      if (read(mutation.text).errors.empty()) add(list, mutation.what, mutation.text, true);
    }
  }
  return list;
}

}  // namespace

TEST_CASE("the schema accepts what the reader accepts and refuses wrong shapes") {
  const json list = cases();
  CHECK(list.size() > 60);
  const std::string python = "/usr/bin/python3";
  if (!std::filesystem::exists(python)) {
    std::cerr << "SKIPPED: the schema was not checked, there is no " << python << "\n";
    return;
  }
  const std::string listed = std::string(TUFT_BINARY_DIR) + "/schema_cases.json";
  std::ofstream(listed) << list.dump();
  const std::string command = python +
                              " \"" TUFT_SOURCE_DIR "/tests/casefile/schema_check.py\" \"" TUFT_SOURCE_DIR
                              "/docs/case-file.schema.json\" \"" +
                              listed + "\"";
  const int status = std::system(command.c_str());
  REQUIRE(WIFEXITED(status));
  if (WEXITSTATUS(status) == 77) {
    std::cerr << "SKIPPED: the schema was not checked, Python lacks yaml or jsonschema\n";
    return;
  }
  CHECK(WEXITSTATUS(status) == 0);
}
