// Breath, body, hand and room against what they are known to be, and against a signal.
#include "solver/physics/background_air.hpp"

#include <catch2/catch.hpp>
#include <stdexcept>

using namespace tuft::physics;

namespace {

const double room = 294.15;

void check_ranges(const Disturbance& air) {
  INFO(air.name);
  CHECK(air.speed.low >= 0.0);
  CHECK(air.speed.low <= air.speed.nominal);
  CHECK(air.speed.nominal <= air.speed.high);
  CHECK(air.temperature.low <= air.temperature.nominal);
  CHECK(air.temperature.nominal <= air.temperature.high);
  CHECK_FALSE(air.source.empty());
}

}  // namespace

TEST_CASE("breath: as fast as was seen, and falling off as a jet", "[echo:1]") {
  // Tang et al. (2013) PLoS ONE 8:e59970, abstract: 1.3 to 1.4 m/s at most, seen out to 0.6 to 0.8 m.
  CHECK(breath(0.02, room).speed.nominal == Approx(1.4));
  // pi * 8.8 l/min through 120 mm2 is 3.84 m/s at the mouth; 5.7 sqrt(A) U0/x = 0.240/x (derived).
  CHECK(breath(0.3, room).speed.nominal == Approx(0.80).epsilon(0.01));
  CHECK(breath(0.6, room).speed.nominal == Approx(0.5 * breath(0.3, room).speed.nominal));
  CHECK(breath(0.7, room).speed.low > 0.0);
  CHECK(breath(0.9, room).speed.low == 0.0);
  CHECK(breath(0.1, room).temperature.nominal > room);
  CHECK(breath(0.3, 313.15).temperature.nominal < 313.15);  // in a hot room breath is the colder one
  for (const double distance : {0.05, 0.3, 2.0}) check_ranges(breath(distance, room));
  check_ranges(breath(0.3, 313.15));
}

TEST_CASE("body, hand, room: sizes and limits", "[echo:2]") {
  // Up to 0.25 m/s within 50 mm (public encyclopedia).
  CHECK(body_plume(0.0, room).speed.nominal == Approx(0.25));
  CHECK(body_plume(0.05, room).speed.nominal == Approx(0.25));
  CHECK(body_plume(0.5, room).speed.nominal == Approx(0.02).epsilon(1e-6));
  CHECK(room_draught(room).speed.high == Approx(0.15));
  CHECK(hand_plume(0.1, room).speed.nominal > 0.05);
  CHECK(hand_plume(0.1, room).speed.nominal < 0.5);
  CHECK(hand_plume(0.1, 306.15).speed.nominal == 0.0);
  for (const double x : {0.01, 0.1, 1.0}) {
    check_ranges(body_plume(x, room));
    check_ranges(hand_plume(x, room));
  }
  check_ranges(room_draught(room));
}

TEST_CASE("disturbers are of the order of what is measured") {
  // An idle opening's slow warm drift, some 0.1 m/s: breath at arm's length, hand and draught are as large.
  const double drift = 0.1;
  CHECK(signal_over(drift, breath(0.6, room)) < 1.0);
  CHECK(signal_over(drift, hand_plume(0.1, room)) < 1.0);
  CHECK(signal_over(drift, room_draught(room)) < 1.0);
  CHECK(signal_over(2.0, room_draught(room)) > 10.0);
}

TEST_CASE("disturbers: wrong input is refused") {
  CHECK_THROWS_AS(breath(0.0, room), std::invalid_argument);
  CHECK_THROWS_AS(breath(0.1, -1.0), std::invalid_argument);
  CHECK_THROWS_AS(body_plume(-0.1, room), std::invalid_argument);
  CHECK_THROWS_AS(hand_plume(0.0, room), std::invalid_argument);
  CHECK_THROWS_AS(room_draught(0.0), std::invalid_argument);
  CHECK_THROWS_AS(signal_over(-1.0, room_draught(room)), std::invalid_argument);
}
