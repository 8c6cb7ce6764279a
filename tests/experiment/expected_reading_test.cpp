// What instruments are expected to show: chances, numbers, refusals.
#include "solver/experiment/expected_reading.hpp"

#include <cmath>
#include <stdexcept>

#include "solver/physics/materials.hpp"
#include "tests/experiment/support.hpp"

using namespace tuft;
using namespace tuft::test;
using experiment::ExpectedReading;
using experiment::Instrument;
using experiment::Probe;

namespace {

ExpectedReading expected_reading(const geometry::Case& content, const study::ConditionResult& result,
                                 const Probe& probe) {
  return experiment::ReadingModel(content, result.condition, probe).expect(content, result);
}

}  // namespace

TEST_CASE("a strip leans out before an outlet and hangs still before a vent that does nothing") {
  const auto content = case_of("slim-notebook").content;
  const auto use = solved(content, "use");
  Probe probe;
  probe.vent = vent_named(content, "side-outlet");
  const ExpectedReading outlet = expected_reading(content, use, probe);
  REQUIRE(outlet.leans);
  CHECK(outlet.in + outlet.out + outlet.still == Approx(1.0));
  CHECK(outlet.out > 0.95);
  CHECK(outlet.signal > 0.5);
  CHECK(outlet.value > 0.01);
  // The grille lies 3 mm over the table: nothing can be held there, and that is said.
  probe.vent = vent_named(content, "base-grille");
  const ExpectedReading under = expected_reading(content, use, probe);
  CHECK_FALSE(under.possible);
  CHECK_FALSE(under.reason.empty());
  // Asked for many conditions, one model gives what single questions give.
  probe.vent = vent_named(content, "side-outlet");
  const experiment::ReadingModel model(content, use.condition, probe);
  CHECK(model.expect(content, use).out == outlet.out);
}

TEST_CASE("chances of a lean: symmetric, certain in strong air, no more than a slip in still air") {
  const experiment::Response response(*experiment::find_tell_tale("tissue-60"), experiment::Attitude::hanging,
                                      0.0, {1.2, 1.5e-5});
  const auto strong = experiment::lean_chances(response, 0.6, 0.05, {});
  CHECK(strong.out > 0.97);
  CHECK(strong.in < 0.01);
  const auto mirrored = experiment::lean_chances(response, -0.6, 0.05, {});
  CHECK(mirrored.in == Approx(strong.out));
  const auto still = experiment::lean_chances(response, 0.0, 0.0, {});
  // Two notes in a hundred are wrong, spread over three answers (I21).
  CHECK(still.still == Approx(1.0 - 2.0 * 0.02 / 3.0));
  CHECK(still.in == Approx(still.out));
  // Hand-held the same strip is seen less surely: fingers tremble (I12).
  physics::Viewing held;
  held.hand_held = true;
  CHECK(experiment::lean_chances(response, 0.15, 0.05, held).out <
        experiment::lean_chances(response, 0.15, 0.05, {}).out);
}

TEST_CASE("uncertainty of the air: draught alone where nothing moves, more where one breathes near by") {
  Probe hung, held;
  held.hand_held = true;
  geometry::Case content;
  content.poses.emplace_back();
  content.conditions.emplace_back();
  study::ConditionResult room;
  room.ambient_temperature = 294.15;
  // One component of a draught anywhere from still to 0.2 m/s, likeliest still: its mean square is 0.2^2/6
  // (G8, I21; derived).
  content.room.draught.speed = {0.0, geometry::SpreadKind::triangular, 0.0, 0.2};
  const experiment::OutsideAir air(content, room);
  CHECK(experiment::speed_sigma(0.0, 0.0, hung, air) == Approx(0.2 / std::sqrt(18.0)));
  CHECK(experiment::speed_sigma(0.0, 0.0, held, air) > 2.0 * experiment::speed_sigma(0.0, 0.0, hung, air));
  // An intake's speed to 1.3, a slow jet's to 2 (95 %).
  CHECK(experiment::speed_sigma(10.0, 0.0, hung, air) == Approx(10.0 * std::log(1.3) / 1.96).epsilon(1e-3));
  CHECK(experiment::speed_sigma(10.0, 1000.0, hung, air) ==
        Approx(10.0 * std::log(2.0) / 1.96).epsilon(1e-3));
  // A file that says the air is still takes this doubt away.
  content.room.draught.speed = 0.0;
  CHECK(experiment::speed_sigma(0.0, 0.0, hung, experiment::OutsideAir(content, room)) == 0.0);
}

TEST_CASE("a hand feels cool air and warm air, and nothing of still air") {
  const double room = 294.15;
  CHECK(experiment::hand_feels(0.0, room, room) == Approx(0.0).margin(1e-12));
  // By hand: (3.5 + 10 sqrt 0.25) (33 - 21) - 3.5 (33 - 21) = 60 W/m2 cooler.
  CHECK(experiment::hand_feels(0.25, room, room) == Approx(60.0));
  // Air of 33 C takes nothing away: 3.5 * 12 = 42 W/m2 less than still air does.
  CHECK(experiment::hand_feels(0.25, room + 12.0, room) == Approx(-42.0));
}

TEST_CASE("numbers: fan, chip, ruler, thermocouple, anemometer") {
  const auto content = case_of("slim-notebook").content;
  const auto use = solved(content, "use");
  Probe fan;
  fan.instrument = Instrument::fan_speed;
  fan.place = {geometry::PlaceKind::fan_inlet, 0};
  CHECK(expected_reading(content, use, fan).value == use.fans[0].speed);
  Probe chip;
  chip.instrument = Instrument::chip_sensor;
  chip.place = {geometry::PlaceKind::source, 0};
  CHECK(expected_reading(content, use, chip).value == use.sources[0].temperature);
  chip.place = {geometry::PlaceKind::source, 2};  // gives its heat in shares: no temperature
  CHECK_FALSE(expected_reading(content, use, chip).possible);
  Probe ruler;
  ruler.instrument = Instrument::ruler;
  ruler.length = 0.012;
  CHECK(expected_reading(content, use, ruler).value == 0.012);
  Probe couple;
  couple.instrument = Instrument::thermocouple;
  couple.place = {geometry::PlaceKind::skin, 0};
  const ExpectedReading taped = expected_reading(content, use, couple);
  CHECK(taped.value < use.skins[0].temperature);  // wires lead heat into the air (I19)
  CHECK(taped.value > use.ambient_temperature);
  Probe wire;
  wire.instrument = Instrument::anemometer;
  wire.tool = "hot-wire";
  wire.vent = vent_named(content, "side-outlet");
  const ExpectedReading speed = expected_reading(content, use, wire);
  CHECK(speed.detection > 0.99);
  CHECK(speed.value > 0.5);
  CHECK(speed.sigma > 0.0);
  CHECK_THROWS_AS(expected_reading(content, use,
                                   [] {
                                     Probe wrong;
                                     wrong.vent = 99;
                                     return wrong;
                                   }()),
                  std::invalid_argument);
}

TEST_CASE(
    "infrared: bare metal, glass, too large a spot and what is out of sight are refused with the reason") {
  const auto content = case_of("slim-notebook").content;
  const auto use = solved(content, "use");
  geometry::Spot spot;
  spot.on = {geometry::PlaceKind::fins, 0};
  spot.surface = "bare-copper";
  CHECK_FALSE(experiment::spot_reading(content, use, spot).possible);
  CHECK_THAT(experiment::spot_reading(content, use, spot).reason,
             Catch::Matchers::Contains("mirrors the room"));
  spot.surface = "vinyl-tape";  // what one does about it
  spot.size = 0.02;
  const ExpectedReading taped = experiment::spot_reading(content, use, spot);
  REQUIRE(taped.possible);
  CHECK(taped.value == Approx(*experiment::spot_temperature(content, use, spot)).margin(3.0));
  spot.through_glass = true;
  CHECK_THAT(experiment::spot_reading(content, use, spot).reason, Catch::Matchers::Contains("glass"));
  spot.through_glass = false;
  spot.distance = 2.0;
  CHECK_THAT(experiment::spot_reading(content, use, spot).reason, Catch::Matchers::Contains("spot"));
  geometry::Spot below;
  below.on = {geometry::PlaceKind::skin, 3};  // the underside lies on the table
  CHECK_FALSE(experiment::spot_reading(content, use, below).possible);
}
