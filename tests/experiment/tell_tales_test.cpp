// The kit: what is worth cutting, and why.
#include "solver/experiment/tell_tales.hpp"

#include <algorithm>
#include <cmath>

#include "tests/experiment/support.hpp"

using namespace tuft;
using experiment::Attitude;

namespace {

const experiment::RoomAir kAir{1.204, 1.506e-5};

const experiment::Ranked& ranked(const std::vector<experiment::Ranked>& all, const std::string& name) {
  const auto found = std::find_if(all.begin(), all.end(),
                                  [&](const experiment::Ranked& one) { return one.cut->name == name; });
  REQUIRE(found != all.end());
  return *found;
}

}  // namespace

TEST_CASE("ranking: tissue on a hinge leads, clamped copy paper is no better than a yarn") {
  const auto all = experiment::ranking(kAir);
  REQUIRE(all.size() == experiment::tell_tale_kit().size());
  const auto clearly = [&](const char* name) { return ranked(all, name).clearly.value(); };
  // An independent elastica computation: tissue leans some nine times as far as clamped copy paper at 0.1 to
  // 0.2 m/s, paper and a 400 tex yarn the same, a free hinge 1.6 times the clamp (drag goes with the square:
  // a third to a half of the speed; derived).
  CHECK(clearly("tissue-150") < 0.5 * clearly("paper-150"));
  CHECK(clearly("tissue-60") < 0.5 * clearly("paper-150"));
  CHECK(clearly("paper-150") == Approx(clearly("wool-150")).epsilon(0.25));
  // Of one length, the hinge shows slower air than the clamp.
  physics::TellTale hinged = experiment::find_tell_tale("paper-150")->body;
  hinged.hold = physics::EndCondition::hinge;
  physics::Hanging hanging;
  hanging.density = kAir.density;
  hanging.viscosity = kAir.viscosity;
  CHECK(physics::smallest_speed(hinged, hanging, {}, physics::Seen::clearly).value() < clearly("paper-150"));
  // The order is that of the least speed clearly seen, and the hand's tremble costs speed.
  for (std::size_t i = 1; i < all.size(); ++i) {
    CHECK(all[i - 1].clearly.value_or(1e9) <= all[i].clearly.value_or(1e9));
  }
  for (const auto& one : all) {
    CHECK(one.hardly.value() < one.clearly.value());
    if (one.by_hand) CHECK(*one.by_hand > *one.clearly);
    CHECK(one.flutter.speed > 0.0);
  }
  // What the model does not know is said, and never recommended.
  CHECK_FALSE(ranked(all, "film-60").cut->advised);
  CHECK_FALSE(ranked(all, "film-60").cut->mind.empty());
  CHECK_FALSE(ranked(all, "feather-40").cut->advised);
}

TEST_CASE("ranking: a thread finer than the eye resolves does not lead by its lightness alone") {
  const auto all = experiment::ranking(kAir);
  const auto place = [&](const char* name) {
    return std::find_if(all.begin(), all.end(), [&](const auto& one) { return one.cut->name == name; }) -
           all.begin();
  };
  const experiment::NamedTellTale& silk = *experiment::find_tell_tale("silk-100");
  CHECK(physics::contrast_kept(silk.body.width, 0.6) < 0.7);
  CHECK(all.front().cut->name != "silk-100");
  CHECK(place("tissue-150") < place("silk-100"));
  // Seen as well as a strip is, it would need less air: the judgement on sight is what sets it back.
  physics::Hanging hanging;
  hanging.density = kAir.density;
  hanging.viscosity = kAir.viscosity;
  const double least = ranked(all, "silk-100").clearly.value();
  const auto bent = physics::deflect_in_even_air(silk.body, hanging, least);
  CHECK(physics::look(bent.travel, {}).clearly > 0.7);
  CHECK(physics::look(bent.travel, experiment::viewing_of(silk)).clearly == Approx(0.5).margin(0.02));
  // Nearer than arm's length it is resolved.
  CHECK(physics::look(bent.travel, experiment::viewing_of(silk, 0.3)).clearly > 0.7);
}

TEST_CASE("strips answer beside a fan grille where knitting wool does not: which cut, which hanging") {
  // Common practice, no source: beside a fan grille strips of paper answer where knitting wool does not. The
  // model gives it for tissue, however hung of those here, and for copy paper on a free hinge by a little; a
  // clamped strip of copy paper is no better than the yarn (independent elastica computation: the same lean,
  // about 55 mm at 1 m/s), and the saying does not hold for it.
  physics::Hanging hanging;
  hanging.density = kAir.density;
  hanging.viscosity = kAir.viscosity;
  const auto strip = [](const char* material, physics::EndCondition hold) {
    return physics::strip_of(physics::sheet(material), 0.015, 0.150, hold);
  };
  const auto clearly = [&](const physics::TellTale& one) {
    return physics::smallest_speed(one, hanging, {}, physics::Seen::clearly).value();
  };
  const double wool =
      clearly(physics::thread_of(physics::thread("knitting-wool"), 0.150, physics::EndCondition::clamped));
  const double tissue_hinged = clearly(strip("tissue", physics::EndCondition::hinge));
  const double paper_hinged = clearly(strip("copy-paper", physics::EndCondition::hinge));
  const double paper_clamped = clearly(strip("copy-paper", physics::EndCondition::clamped));
  CHECK(tissue_hinged < 0.5 * wool);
  CHECK(paper_hinged < wool);
  CHECK(paper_hinged > 0.5 * wool);
  CHECK(paper_clamped > 0.9 * wool);
  // At a grille that blows midway between what tissue and what wool needs, the one answers and the other
  // does not clearly; neither does clamped copy paper.
  const double there = std::sqrt(tissue_hinged * wool);
  const auto seen = [&](const physics::TellTale& one) {
    return physics::look(physics::deflect_in_even_air(one, hanging, there).travel, {}).seen;
  };
  CHECK(seen(strip("tissue", physics::EndCondition::hinge)) == physics::Seen::clearly);
  CHECK(seen(experiment::find_tell_tale("wool-150")->body) != physics::Seen::clearly);
  CHECK(seen(strip("copy-paper", physics::EndCondition::clamped)) != physics::Seen::clearly);
}

TEST_CASE("response: read off between the bent speeds as if bent there") {
  for (const char* name : {"tissue-60", "paper-150", "wool-150", "silk-100"}) {
    const experiment::NamedTellTale& cut = *experiment::find_tell_tale(name);
    const experiment::Response response(cut, Attitude::hanging, 0.0, kAir);
    physics::Hanging hanging;
    hanging.density = kAir.density;
    hanging.viscosity = kAir.viscosity;
    for (const double speed : {0.03, 0.12, 0.33, 0.9}) {
      const auto bent = physics::deflect_in_even_air(cut.body, hanging, speed);
      REQUIRE(bent.converged);
      CHECK(response.lean(speed) == Approx(bent.lean).epsilon(0.03));
      CHECK(response.lean(-speed) == Approx(-response.lean(speed)));
    }
    CHECK(response.lean(0.0) == 0.0);
  }
}

TEST_CASE("response: held level it is lifted by air from below; above an intake it is drawn down") {
  const experiment::NamedTellTale& cut = *experiment::find_tell_tale("tissue-40-level");
  const experiment::Response over(cut, Attitude::level, 1.0, kAir), under(cut, Attitude::level, -1.0, kAir);
  // Drag goes nearly with the square of the speed, and so does the lift of its tip.
  CHECK(over.lean(0.3) > 0.0);
  CHECK(over.lean(0.6) > 2.5 * over.lean(0.3));
  CHECK(over.lean(-0.3) < 0.0);
  // Below a vent that faces down the same air, named from the vent, is the other one.
  CHECK(under.lean(-0.3) == Approx(-over.lean(0.3)).epsilon(1e-3));
}
