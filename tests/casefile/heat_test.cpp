// Ways for heat: the sample with two chips, two pipes and two fin stacks arrives in the case as written; what
// it leaves out is assumed.
#include <catch2/catch.hpp>

#include <cmath>

#include "tests/casefile/helpers.hpp"

using namespace tuft::casefile;
using namespace tuft::geometry;
using tuft::casefile::test::assumed;
using tuft::casefile::test::first_error;
using tuft::casefile::test::heat_case;
using tuft::casefile::test::messages;
using tuft::casefile::test::read;
using tuft::casefile::test::small_case;
using tuft::casefile::test::two_zones;

namespace {

const ReadResult& heat() {
  static const ReadResult result = read(heat_case());
  return result;
}
const Device& device() { return heat().file.content.device; }

void check(const Value& value, SpreadKind kind, double nominal, double low, double high,
           Origin origin = Origin::given) {
  CHECK(value.spread == kind);
  CHECK(*value == Approx(nominal).margin(1e-15));
  CHECK(value.low == Approx(low).margin(1e-15));
  CHECK(value.high == Approx(high).margin(1e-15));
  CHECK(value.origin == origin);
}

void check_joint(const Joint& joint, PlaceKind kind, int index, double resistance) {
  CHECK(joint.to.kind == kind);
  CHECK(joint.to.index == index);
  CHECK(*joint.resistance == Approx(resistance));
}

bool has_assumption(const ReadResult& result, const std::string& key, const std::string& part) {
  for (const Assumption& assumption : result.file.assumptions) {
    if (assumption.key == key && (assumption.value + assumption.sentence).find(part) != std::string::npos)
      return true;
  }
  return false;
}

const char* const kChip = "sources: {chip: {joins: {inside: 5 K/W}}}\n";

}  // namespace

TEST_CASE("the sample of heat paths reads without a word") {
  INFO(messages(heat()));
  CHECK(heat().errors.empty());
  CHECK(heat().warnings.empty());
}

TEST_CASE("two chips on two shared pipes") {
  REQUIRE(device().sources.size() == 3);
  const Source& processor = device().sources[0];
  CHECK(processor.name == "processor");
  CHECK(processor.shares.empty());
  REQUIRE(processor.joints.size() == 3);
  check_joint(processor.joints[0], PlaceKind::part, 0, 0.3);
  check(processor.joints[0].resistance, SpreadKind::normal, 0.3, 0.24, 0.36);
  check_joint(processor.joints[1], PlaceKind::part, 1, 0.35);
  check(processor.joints[2].resistance, SpreadKind::log_uniform, 8, 8 / 1.5, 12);
  check(processor.capacity, SpreadKind::none, 6, 6, 6);
  CHECK(*processor.limits.throttles_at == Approx(368.15));
  CHECK(*processor.limits.least_power == 8);
  CHECK(*processor.limits.shuts_down_at == Approx(378.15));
  const Source& graphics = device().sources[1];
  REQUIRE(graphics.joints.size() == 2);
  check_joint(graphics.joints[0], PlaceKind::part, 1, 0.35);  // written in °C/W
  check(graphics.joints[0].resistance, SpreadKind::uniform, 0.35, 0.3, 0.4);
  check(graphics.capacity, SpreadKind::log_uniform, 5, 5.0 / 3, 15, Origin::assumed);
  CHECK(*graphics.limits.least_power == 0.0);
  CHECK(graphics.limits.least_power.origin == Origin::assumed);
  CHECK(assumed(heat(), "sources.graphics.least-power").value == "0 W, as little as it takes");
  CHECK(*graphics.limits.shuts_down_at == 0.0);
  const Source& battery = device().sources[2];
  CHECK(battery.joints.empty());
  REQUIRE(battery.shares.size() == 1);
}

TEST_CASE("parts lead on to fins, air and skin") {
  REQUIRE(device().parts.size() == 3);
  const Part& pipe = device().parts[1];
  CHECK(pipe.name == "long-pipe");
  REQUIRE(pipe.joints.size() == 3);
  check_joint(pipe.joints[0], PlaceKind::fins, 1, 0.2);
  check_joint(pipe.joints[1], PlaceKind::fins, 0, 0.45);
  check_joint(pipe.joints[2], PlaceKind::skin, 0, 40);
  check(pipe.capacity, SpreadKind::log_uniform, 50, 12.5, 200, Origin::assumed);
  const Part& board = device().parts[2];
  check_joint(board.joints[0], PlaceKind::zone, 0, 3);
  CHECK(*board.capacity == Approx(120));  // written in kJ/K
}

TEST_CASE("the metal of fins") {
  const FinStack& given = device().fin_stacks[0];
  CHECK(*given.fin_thickness == Approx(0.15e-3));
  CHECK(*given.conductivity == Approx(385));
  CHECK(*given.capacity == Approx(15));
  const FinStack& left_out = device().fin_stacks[1];
  check(left_out.fin_thickness, SpreadKind::triangular, 0.2e-3, 0.1e-3, 0.4e-3, Origin::assumed);
  check(left_out.conductivity, SpreadKind::triangular, 390, 200, 400, Origin::assumed);
  // 60 channels of 1.1 mm between fins of 0.2 mm, on a base of 1.5 mm, copper of 3.44 J/(cm3 K).
  check(left_out.capacity, SpreadKind::log_uniform, 13, 6.5, 26, Origin::assumed);
}

TEST_CASE("fins that no joint leads to need no metal") {
  const ReadResult result =
      read(small_case("fans: {f: {kind: blower, diameter: 4 cm, draws-from: in, blows-into: stack}}\n"
                      "fins: {stack: {channels: 20, height: 5 mm, length: 20 mm, exits-into: inside}}\n"
                      "sources: {chip: {heats: {stack: 100 %}}}\nloads: {run: {power: {chip: 5 W}}}\n"));
  INFO(messages(result));
  REQUIRE(result.errors.empty());
  CHECK(assumed(result, "fins.stack.conductivity").key.empty());
  CHECK(assumed(result, "fins.stack.gap").key == "fins.stack.gap");
}

TEST_CASE("patches of skin") {
  REQUIRE(device().skins.size() == 3);
  const Skin& keyboard = device().skins[0];
  CHECK(keyboard.name == "keyboard");
  CHECK(keyboard.face == Face::top);
  CHECK(keyboard.centre.isApprox(Vec3(0.17, 0.17, 0.018)));
  CHECK(keyboard.width == Approx(0.28));
  CHECK(keyboard.height == Approx(0.09));
  CHECK(keyboard.zone == 0);
  CHECK(assumed(heat(), "skin.keyboard.behind").value == "bay");
  CHECK(keyboard.material == SkinMaterial::plastic);
  check(keyboard.emissivity, SpreadKind::triangular, 0.92, 0.85, 0.97, Origin::assumed);
  check(keyboard.inner_film, SpreadKind::log_uniform, 8, 4, 16, Origin::assumed);
  check(keyboard.areal_capacity, SpreadKind::log_uniform, 2500, 2500 / 1.6, 4000, Origin::assumed);
  CHECK(*keyboard.contact == 1.0);
  const Skin& palm = device().skins[1];
  CHECK(palm.zone == 1);
  CHECK(palm.material == SkinMaterial::metal);
  CHECK(*palm.emissivity == 0.8);
  CHECK(*palm.inner_film == 6.0);
  CHECK(*palm.areal_capacity == Approx(2200));
  CHECK(*palm.contact == 600.0);
  check(device().skins[2].contact, SpreadKind::log_uniform, 60, 6, 600, Origin::assumed);
}

TEST_CASE("skin of glass and wood has defaults of its own") {
  const std::string patch = "{face: top, centre: [50 mm, 50 mm], size: [20 mm, 20 mm], material: ";
  const ReadResult glass = read(small_case("skin: {a: " + patch + "glass}}\n"));
  const ReadResult wood = read(small_case("skin: {a: " + patch + "wood}}\n"));
  REQUIRE(glass.errors.empty());
  REQUIRE(wood.errors.empty());
  check(glass.file.content.device.skins[0].areal_capacity, SpreadKind::log_uniform, 2500, 1250, 5000,
        Origin::assumed);
  check(wood.file.content.device.skins[0].areal_capacity, SpreadKind::log_uniform, 4000, 2000, 8000,
        Origin::assumed);
  CHECK(wood.file.content.device.skins[0].material == SkinMaterial::wood);
}

TEST_CASE("a patch on the border of two zones is asked about") {
  CHECK(first_error(two_zones("skin: {a: {face: top, centre: [80 mm, 50 mm], size: [20 mm, 20 mm], "
                              "material: metal}}\n")) ==
        "11:8 the patch lies at the border of several zones: bay, board; write `behind:` with a zone");
}

TEST_CASE("fans follow a source or a part") {
  const Fan::SpeedControl& left = device().fans[0].speed_control;
  REQUIRE(left.given);
  CHECK(left.sensor.kind == PlaceKind::source);
  CHECK(left.sensor.index == 0);
  REQUIRE(left.temperature.size() == 3);
  CHECK(left.temperature[0] == Approx(318.15));
  CHECK(left.speed[0] == 0.0);
  CHECK(left.temperature[2] == Approx(358.15));
  CHECK(left.speed[2] == Approx(75));
  check(left.hysteresis, SpreadKind::none, 3, 3, 3);
  const Fan::SpeedControl& rear = device().fans[1].speed_control;
  CHECK(rear.sensor.kind == PlaceKind::part);
  CHECK(rear.sensor.index == 1);
  CHECK(rear.speed[1] == Approx(25));
  check(rear.hysteresis, SpreadKind::triangular, 3, 1, 6, Origin::assumed);
}

TEST_CASE("what a load tells fans that follow") {
  const std::vector<Load>& loads = heat().file.content.loads;
  CHECK(loads[0].fans.empty());  // left out: they follow
  REQUIRE(loads[1].fans.size() == 2);
  CHECK(loads[1].fans[0].state == FanState::speed_control);
  CHECK(loads[1].fans[1].state == FanState::running);  // full must be said for a fan that would follow
  CHECK(*loads[1].fans[1].speed == Approx(5000.0 / 60));
  CHECK(*loads[2].fans[0].speed == Approx(0.6 * 75));
  CHECK(loads[2].fans[1].state == FanState::stopped);
}

TEST_CASE("air that comes back, and the lid's edge") {
  const std::vector<Vent::Recirculates>& back = device().vents[0].recirculates;
  REQUIRE(back.size() == 2);
  CHECK(back[0].vent == 2);
  check(back[0].share, SpreadKind::normal, 0.05, 0.02, 0.08);
  CHECK(back[1].vent == 3);
  check(back[1].share, SpreadKind::uniform, 0.03, 0.02, 0.04);
  CHECK(device().vents[1].recirculates.empty());
  CHECK(*device().lid.edge_distance == Approx(0.025));
  const std::string slot = "  slot: {face: hinge, centre: [50 mm], size: [40 mm, 4 mm], cover: open}\n";
  const ReadResult left_out = read(small_case(slot + "lid: {}\n"));
  REQUIRE(left_out.errors.empty());
  check(left_out.file.content.device.lid.edge_distance, SpreadKind::triangular, 0.02, 0.01, 0.04,
        Origin::assumed);
  // Without a vent on the hinge it counts for nothing.
  CHECK(assumed(read(small_case("lid: {}\n")), "lid.edge-distance").key.empty());
}

TEST_CASE("heat may lead on through parts, and from a part back to one that has an end") {
  // chip -> a <- b -> inside: joints lead both ways whichever end they are written at.
  CHECK(read(small_case("sources: {chip: {joins: {a: 1 K/W}}}\n"
                        "parts: {a: {}, b: {joins: {a: 1 K/W, inside: 2 K/W}}}\n"
                        "loads: {run: {power: {chip: 1 W}}}\n"))
            .errors.empty());
  CHECK(first_error(small_case("sources: {chip: {joins: {a: 1 K/W}}}\n"
                               "parts: {a: {}, b: {joins: {inside: 2 K/W}}}\n")) ==
        "6:18 the heat goes nowhere: no chain of joints leads on to a zone, fins or skin; join one of its "
        "parts to where the heat leaves");
}

TEST_CASE("a source may be called like a zone; then the zone is what a joint leads to") {
  const ReadResult result =
      read(small_case("sources: {inside: {joins: {inside: 1 K/W}}}\nloads: {run: {power: {inside: 1 W}}}\n"));
  INFO(messages(result));
  REQUIRE(result.errors.empty());
  CHECK(result.file.content.device.sources[0].joints[0].to.kind == PlaceKind::zone);
}

TEST_CASE("impellers and holes as large as they may be") {
  const auto fan = [](const std::string& diameter) {
    return first_error(small_case("fans: {f: {kind: blower, diameter: " + diameter +
                                  ", draws-from: in, blows-into: inside}}\n"));
  };
  CHECK(fan("100 mm").empty());
  CHECK(fan("100.1 mm").find("does not fit") != std::string::npos);
  CHECK(fan("100.1 mm ± 1 mm").empty());  // it may be smaller
  const auto cover = [](const std::string& text) {
    return first_error(small_case(
        "  more: {face: top, centre: [50 mm, 50 mm], size: [40 mm, 3 mm], cover: " + text + "}\n"));
  };
  CHECK(cover("{kind: perforated, hole: 3 mm}").empty());
  CHECK(cover("{kind: perforated, hole: 3.1 mm}").find("larger than its vent") != std::string::npos);
  CHECK(cover("{kind: slots, hole: 10 mm}").empty());  // they run along the short side
  CHECK(cover("{kind: slots, hole: 41 mm}").find("larger than its vent") != std::string::npos);
}

TEST_CASE("an axial fan stands across the face of the vent it blows into") {
  const auto said = [](const std::string& kind, const std::string& diameter, const std::string& from) {
    return messages(
        read(small_case("fans: {f: {kind: " + kind + ", diameter: " + diameter + ", draws-from: " + from +
                        ", blows-into: " + (from == "in" ? "inside" : "out") + "}}\n")));
  };
  CHECK(said("axial", "20 mm", "inside").empty());
  CHECK_THAT(said("axial", "21 mm", "inside"),
             Catch::Matchers::Contains(
                 "21 mm does not fit across the right face of 'out', which has room for 20 mm") &&
                 Catch::Matchers::Contains("let `blows-into` name a zone"));
  CHECK_THAT(said("axial", "21 mm", "in"), Catch::Matchers::Contains("across the left face"));
  CHECK(said("axial", "21 mm ± 2 mm", "inside").empty());  // it may be smaller
  CHECK(said("blower", "50 mm", "inside").empty());        // its outlet lies in the plane of its impeller
}

TEST_CASE("a zone that another fan blows into is fed") {
  const std::string zones =
      "zones:\n  bay: {from: [0 mm, 0 mm, 0 mm], to: [80 mm, 100 mm, 20 mm]}\n"
      "  board: {from: [80 mm, 0 mm, 0 mm], to: [200 mm, 100 mm, 20 mm]}\nleaks: {}\n";
  std::string text = small_case(zones +
                                "fans: {f: {kind: blower, diameter: 4 cm, draws-from: board, blows-into: bay}"
                                "}\n");
  for (int i = 0; i < 2; ++i) text.replace(text.find("open}"), 5, "open, behind: bay}");
  CHECK(first_error(text).find("no air gets into 'board'") != std::string::npos);
  text.replace(text.find("fans: {"), 7,
               "fans: {g: {kind: axial, diameter: 2 cm, draws-from: bay, blows-into: board}, ");
  CHECK(first_error(text).empty());
}

TEST_CASE("feet that don't count are told of") {
  const ReadResult result =
      read(small_case("poses: {tipped: {tilt: 30 deg, about: x}, edge: {tilt: 45.1 deg, about: [1, 1, 0]}}\n"
                      "supports: {bed: soft, hook: wall}\n"
                      "conditions:\n  a: {pose: on-left-edge}\n  b: {pose: upside-down, support: bed}\n"
                      "  c: {pose: tipped}\n  d: {pose: on-left-edge, support: hook}\n  e: {pose: edge}\n"
                      "  f: {pose: on-left-edge, support: air}\n"));
  INFO(messages(result));
  REQUIRE(result.errors.empty());
  CHECK(has_assumption(result, "device.feet", "pose on-left-edge on table"));
  CHECK(has_assumption(result, "device.feet", "on its left face"));
  CHECK(has_assumption(result, "device.feet", "edge-gap, 0.3 mm */ 2"));
  CHECK(has_assumption(result, "device.feet", "pose upside-down on bed"));
  CHECK(has_assumption(result, "device.feet", "pose edge on table"));
  CHECK_FALSE(has_assumption(result, "device.feet", "tipped"));
  CHECK_FALSE(has_assumption(result, "device.feet", "hook"));
  CHECK_FALSE(has_assumption(result, "device.feet", "on air"));
}

TEST_CASE("a hysteresis is a difference of temperatures") {
  const auto hysteresis = [](const std::string& text) {
    return read(
        small_case("fans: {f: {kind: axial, diameter: 2 cm, draws-from: in, blows-into: out, speed-control: "
                   "{sensor: chip, speeds: [[40 °C, 0 rpm], [50 °C, 900 rpm]], hysteresis: " +
                   text + "}}}\n" + kChip));
  };
  CHECK(*hysteresis("9 °R").file.content.device.fans[0].speed_control.hysteresis == Approx(5.0));
  CHECK(*hysteresis("2 K ± 10 %").file.content.device.fans[0].speed_control.hysteresis == Approx(2.0));
  CHECK_FALSE(hysteresis("3 °C").errors.empty());
  CHECK_FALSE(hysteresis("-1 K").errors.empty());
}
