// What a person sees of a tell-tale.
#include "solver/physics/tell_tale.hpp"

#include <catch2/catch.hpp>
#include <stdexcept>

using namespace tuft::physics;

TEST_CASE("sight: thresholds are a judgement, 3 and 10 mm at arm's length") {
  const SightThresholds hung = sight_thresholds({0.6, false});
  CHECK(hung.hardly == Approx(0.003));
  CHECK(hung.clearly == Approx(0.0102));
  CHECK(sight_thresholds({0.6, true}).hardly == Approx(0.009));
  CHECK(sight_thresholds({0.3, false}).hardly == Approx(0.0015));
}

TEST_CASE("sight: answers and how likely they are") {
  const Viewing arm;
  CHECK(look(0.0, arm).seen == Seen::not_at_all);
  CHECK(look(0.0, arm).not_at_all == 1.0);
  CHECK(look(0.005, arm).seen == Seen::hardly);
  CHECK(look(0.05, arm).seen == Seen::clearly);
  // At a threshold half the people say so; a factor of 2 is 97.5 %.
  CHECK(look(0.003, arm).not_at_all == Approx(0.5));
  CHECK(look(0.006, arm).not_at_all == Approx(0.025).epsilon(0.01));
  double last = -1.0;
  for (double travel = 1e-4; travel < 0.1; travel *= 1.3) {
    const Sight sight = look(travel, arm);
    CHECK(sight.clearly + sight.hardly + sight.not_at_all == Approx(1.0));
    CHECK(sight.hardly >= 0.0);
    CHECK(sight.clearly >= last);
    last = sight.clearly;
  }
}

TEST_CASE("sight: the least speed each tell-tale shows") {
  const Hanging room;
  const Viewing arm;
  const TellTale limp = strip_of(sheet("tissue"), 0.015, 0.150, EndCondition::hinge);
  const TellTale paper = strip_of(sheet("copy-paper"), 0.015, 0.150, EndCondition::hinge);
  const TellTale held = strip_of(sheet("copy-paper"), 0.015, 0.150, EndCondition::clamped);
  const TellTale wool = thread_of(thread("knitting-wool"), 0.150, EndCondition::clamped);
  const double by_limp = smallest_speed(limp, room, arm, Seen::hardly).value();
  const double by_paper = smallest_speed(paper, room, arm, Seen::hardly).value();
  const double by_held = smallest_speed(held, room, arm, Seen::hardly).value();
  const double by_wool = smallest_speed(wool, room, arm, Seen::hardly).value();
  // It is the speed at which the tip travels by the threshold.
  CHECK(deflect_in_even_air(limp, room, by_limp).travel == Approx(0.003).epsilon(0.01));
  // Tissue on a hinge leads by far; clamped copy paper is no better than a yarn (independent computation).
  CHECK(by_limp < 0.5 * by_paper);
  CHECK(by_paper < by_held);
  CHECK(by_held == Approx(by_wool).epsilon(0.15));
  CHECK(smallest_speed(limp, room, arm, Seen::clearly).value() > by_limp);
  CHECK(smallest_speed(limp, room, {0.6, true}, Seen::hardly).value() > by_limp);
  // A stub of stiff paper shows nothing.
  const TellTale stub = strip_of(sheet("copy-paper"), 0.015, 0.010, EndCondition::clamped);
  CHECK_FALSE(smallest_speed(stub, room, arm, Seen::clearly).has_value());
}

TEST_CASE("sight: what is finer than a minute of arc has to move further") {
  // A minute of arc at arm's length: 0.6 m pi/10800 = 0.1745 mm (derived); resolved by the average eye
  // (Merriam-Webster's Medical Dictionary, "visual acuity").
  CHECK(contrast_kept(0.1745e-3, 0.6) == Approx(1.0).epsilon(1e-3));
  CHECK(contrast_kept(0.0873e-3, 0.6) == Approx(0.5).epsilon(1e-3));
  CHECK(contrast_kept(0.0873e-3, 0.3) == Approx(1.0).epsilon(1e-3));  // nearer it is resolved
  CHECK(contrast_kept(10e-3, 0.6) == 1.0);
  CHECK(sight_thresholds({0.6, false, 0.0873e-3}).hardly == Approx(0.006).epsilon(1e-3));
  CHECK(sight_thresholds({0.6, false, 1e-3}).hardly == Approx(0.003));
  CHECK(look(0.004, {0.6, false, 1e-3}).seen == Seen::hardly);
  CHECK(look(0.004, {0.6, false, 0.08e-3}).seen == Seen::not_at_all);
  // The least speed goes by the thread's own width: of one weight, the finer one needs more air to be seen
  // than its travel alone would say.
  TellTale silk = thread_of(thread("silk-thread"), 0.1, EndCondition::clamped);
  const double least = smallest_speed(silk, Hanging{}, {}, Seen::clearly).value();
  const double travel = deflect_in_even_air(silk, Hanging{}, least).travel;
  CHECK(travel == Approx(0.0102 * 0.17453e-3 / silk.width).epsilon(0.01));
  CHECK_THROWS_AS(contrast_kept(0.0, 0.6), std::invalid_argument);
  CHECK_THROWS_AS(contrast_kept(1e-3, 0.0), std::invalid_argument);
  CHECK_THROWS_AS(look(0.001, (Viewing{0.6, false, -1e-3})), std::invalid_argument);
}

TEST_CASE("sight: wrong input is refused") {
  const TellTale limp = strip_of(sheet("tissue"), 0.015, 0.150, EndCondition::hinge);
  CHECK_THROWS_AS(look(-0.001, Viewing{}), std::invalid_argument);
  CHECK_THROWS_AS(look(0.001, (Viewing{0.0, false})), std::invalid_argument);
  CHECK_THROWS_AS(smallest_speed(limp, Hanging{}, Viewing{}, Seen::not_at_all), std::invalid_argument);
}
