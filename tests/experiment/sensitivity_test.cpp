// What claims depend on: told by the sample itself against the plan, and in what order.
#include "solver/experiment/sensitivity.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "solver/experiment/uncertainty_shares.hpp"
#include "tests/experiment/device.hpp"

using namespace tuft;
using namespace tuft::experiment;
using experiment::test::device_text;
using experiment::test::read;

namespace {

struct Sampled {
  geometry::Case content = read(device_text()).content;
  Questions questions = questions_of(content, {0, 1});
  study::Sampler sampler{content, questions.conditions};
  study::Ensemble sample;

  explicit Sampled(int points = 64) {
    study::Options options;
    options.budget.first = options.budget.most = points;
    sample = study::run(sampler, options);
  }
  std::vector<UncertaintyShares> shares() const {
    return uncertainty_shares(content, questions, sampler, sample);
  }
};

const Influence* find(const Sensitivity& claim, const std::vector<study::Input>& inputs,
                      const std::string& key) {
  for (const Influence& influence : claim.influences)
    if (!influence.rest && inputs[static_cast<std::size_t>(influence.inputs.front())].key == key)
      return &influence;
  return nullptr;
}

}  // namespace

TEST_CASE("the sample itself tells the first-order shares of the plan") {
  const Sampled sampled;
  const auto told = sensitivity_by_sample(sampled.shares());
  const auto planned = sensitivity(sampled.content, sampled.questions, sampled.sampler, sampled.sample);
  CHECK_FALSE(told.planned);
  CHECK(planned.planned);
  REQUIRE(told.claims.size() == 2);
  for (std::size_t c = 0; c < 2; ++c) {
    for (const char* key : {"vents.grille.cover.open", "vents.comb.cover.open"}) {
      INFO(key << ", claim " << c);
      const Influence* here = find(told.claims[c], sampled.sample.inputs, key);
      const Influence* there = find(planned.claims[c], sampled.sample.inputs, key);
      REQUIRE(here != nullptr);
      REQUIRE(there != nullptr);
      // Both intervals are of 95 %; two estimates of one number, each within its own.
      const double apart = std::abs(here->index.first - there->index.first);
      CHECK(apart <= (here->index.first_interval.high - here->index.first_interval.low) / 2 +
                         (there->index.first_interval.high - there->index.first_interval.low) / 2);
      CHECK(share_of(told, *here) == here->index.first);
      CHECK(share_of(planned, *there) == there->index.total);
    }
  }
}

TEST_CASE("what can't be decided from noise is not told, and few samples tell nothing") {
  const Sampled sampled;
  const auto told = sensitivity_by_sample(sampled.shares());
  for (const Sensitivity& claim : told.claims) {
    for (std::size_t i = 0; i < claim.influences.size(); ++i) {
      CHECK(claim.influences[i].index.first_interval.low > 0.0);
      CHECK(claim.influences[i].index.first >= 0.01);
      if (i > 0) CHECK(claim.influences[i].index.first <= claim.influences[i - 1].index.first);
    }
  }
  const Sampled few(2);
  CHECK(sensitivity_by_sample(few.shares()).claims.empty());
}

TEST_CASE("the rest stands last whatever its share") {
  const Sampled sampled;
  HangsOnOptions options;
  options.most_groups = 1;
  const auto planned =
      sensitivity(sampled.content, sampled.questions, sampled.sampler, sampled.sample, options);
  bool larger = false;
  for (const Sensitivity& claim : planned.claims) {
    REQUIRE(claim.influences.size() == 2);
    CHECK(claim.influences.back().rest);
    larger = larger || claim.influences[1].index.total > claim.influences[0].index.total;
  }
  CHECK(larger);  // else the order by share alone would do as well
}

// The vents of a claim move by the field's weight, which is one of the inputs.
TEST_CASE("what the field says otherwise counts as the model's part of a claim's uncertainty") {
  const geometry::Case content = read(device_text()).content;
  const Questions questions = questions_of(content, {0});
  study::FieldCorrection correction;
  correction.key = "model.field.use";
  correction.condition = 0;
  correction.vents.resize(content.device.vents.size());
  correction.vents[0].inflow = -0.3;  // of the through-flow, from the grille to the comb
  correction.vents[1].inflow = 0.3;
  correction.weight = {uncertainty::Shape::uniform, 0.5, 0.0, 1.0};
  const auto shares = [&](const std::vector<study::FieldCorrection>& corrections) {
    const study::Sampler sampler(content, questions.conditions, corrections);
    study::Options options;
    options.budget.first = options.budget.most = 64;
    const auto all = uncertainty_shares(content, questions, sampler, study::run(sampler, options));
    REQUIRE(all.size() == 1);
    CHECK(all[0].varies);
    return all[0].of;
  };
  const auto part = [](const auto& of, study::InputKind kind) {
    return of[static_cast<std::size_t>(kind)].first;
  };
  const auto without = shares({}), with = shares({correction});
  CHECK(part(without, study::InputKind::model) == 0.0);
  CHECK(part(without, study::InputKind::device) > 0.8);
  CHECK(part(without, study::InputKind::room) == 0.0);
  CHECK(part(with, study::InputKind::model) > 0.2);
  CHECK(part(with, study::InputKind::model) + part(with, study::InputKind::device) < 1.02);
  CHECK(part(with, study::InputKind::device) < part(without, study::InputKind::device));
}

TEST_CASE("an input is of the model, the room or the device by its path") {
  using study::InputKind;
  CHECK(study::input_kind("laws.perforated.inertial") == InputKind::model);
  CHECK(study::input_kind("model.field.use") == InputKind::model);
  CHECK(study::input_kind("room.temperature") == InputKind::room);
  CHECK(study::input_kind("supports.table.tilt.x") == InputKind::room);
  CHECK(study::input_kind("supports.table.gap") == InputKind::device);
  CHECK(study::input_kind("lawsuit") == InputKind::device);
}
