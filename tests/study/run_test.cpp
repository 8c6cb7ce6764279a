// Samples of a case: the same for any number of threads, true to a cold start, honest about failures.
#include <omp.h>

#include <catch2/catch.hpp>

#include <algorithm>
#include <atomic>
#include <cmath>

#include "solver/network/assemble.hpp"
#include "solver/network/branches.hpp"
#include "solver/network/heat_paths.hpp"
#include "solver/network/warm_up.hpp"
#include "solver/study/predict.hpp"
#include "solver/study/sample.hpp"
#include "solver/uncertainty/indices.hpp"
#include "tests/study/support.hpp"

using namespace tuft;
using namespace tuft::study;
using namespace tuft::study::test;

namespace {

const geometry::Case& demo() {
  static const geometry::Case content = case_of("cases/slim-notebook.yaml");
  return content;
}

std::vector<int> demo_conditions(const std::vector<std::string>& names) {
  std::vector<int> conditions;
  for (const std::string& name : names) conditions.push_back(condition_of(demo(), name));
  return conditions;
}

Options small(std::uint64_t seed, int first, int most) {
  Options options;
  options.seed = seed;
  options.budget = {4, first, most};
  return options;
}

// Truth of a claim about the first vent of the first condition: it draws more than so much [kg/s].
Truths draws_more_than(double flow) {
  return [flow](const std::vector<study::StateSummary>& views) {
    return std::vector<double>{views[0].vents[0].inflow > flow ? 1.0 : 0.0};
  };
}

bool near(double a, double b, double scale) { return std::abs(a - b) <= 1e-6 * scale; }

// Compares everything of two views; flows against the through-flow, temperatures to a thousandth of a degree.
void check_same(const study::StateSummary& a, const study::StateSummary& b) {
  REQUIRE(a.solved == b.solved);
  for (std::size_t v = 0; v < a.vents.size(); ++v) {
    CHECK(near(a.vents[v].inflow, b.vents[v].inflow, a.through_flow));
    CHECK(near(a.vents[v].outflow, b.vents[v].outflow, a.through_flow));
  }
  for (std::size_t s = 0; s < a.source_temperature.size(); ++s) {
    CHECK(a.source_temperature[s] == Approx(b.source_temperature[s]).margin(1e-3));
    CHECK(a.source_power[s] == Approx(b.source_power[s]).epsilon(1e-6));
  }
  for (std::size_t s = 0; s < a.skin_temperature.size(); ++s)
    CHECK(a.skin_temperature[s] == Approx(b.skin_temperature[s]).margin(1e-3));
}

// A chip whose heat has a uncertain way out: with much of its spread the solve runs away.
geometry::Case runaway() {
  return box(
      "vents:\n"
      "  in: {face: left, centre: [50 mm, 10 mm], size: [40 mm, 10 mm], cover: open, blocked: 0 %}\n"
      "sources: {chip: {joins: {inside: 110 K/W ± 30 %}, capacity: 5 J/K}}\n"
      "loads: {on: {power: {chip: 10 W}}}\n");
}

// Three processes played by one: each in turn does its part, then all of them get the pieces.
class Played final : public study::Ranks {
 public:
  Played(int mine, std::vector<std::string>* pieces) : mine_(mine), pieces_(pieces) {}
  int count() const override { return 3; }
  int mine() const override { return mine_; }
  std::vector<std::string> exchange(const std::string& piece) const override {
    (*pieces_)[static_cast<std::size_t>(mine_)] = piece;
    return *pieces_;
  }

 private:
  int mine_;
  std::vector<std::string>* pieces_;
};

}  // namespace

TEST_CASE("the same seed gives the same bytes for any number of threads") {
  const Sampler sampler(demo(), demo_conditions({"use", "bench"}));
  Options options = small(3, 4, 8);
  options.truths = draws_more_than(sampler.nominal()[0].vents[0].inflow);
  const int before = omp_get_max_threads();
  std::vector<std::string> bytes;
  for (const int threads : {1, 2, 3}) {
    omp_set_num_threads(threads);
    bytes.push_back(bytes_of(run(sampler, options)));
  }
  omp_set_num_threads(before);
  CHECK(bytes[1] == bytes[0]);
  CHECK(bytes[2] == bytes[0]);
  options.seed = 4;
  CHECK(bytes_of(run(sampler, options)) != bytes[0]);
}

TEST_CASE("a sample is what a cold start of its device reaches") {
  const std::vector<int> conditions =
      demo_conditions({"use", "use-idle", "on-bed", "on-cushion", "lid-closed", "bench", "bench-cold"});
  const Sampler sampler(demo(), conditions);
  const uncertainty::SampleMatrix points =
      uncertainty::Replicates(static_cast<int>(sampler.inputs().size()), 2, 11).points(0, 16);
  const Batch batch = sampler.run(points);
  PlacedCase placed(demo());
  for (Eigen::Index i = 0; i < points.rows(); ++i) {
    placed.put(batch.values.row(i).data());
    for (std::size_t c = 0; c < conditions.size(); ++c) {
      CAPTURE(i, demo().conditions[static_cast<std::size_t>(conditions[c])].name);
      Prepared cold;
      cold.condition = conditions[c];
      std::string reason;
      check_same(batch.views[static_cast<std::size_t>(i)][c], solve_sample(placed.content(), cold, reason));
    }
  }
}

namespace {

// Families of rows: each row but the first differs from it in one input.
uncertainty::SampleMatrix families_of(int inputs, int count, int size) {
  const uncertainty::SampleMatrix firsts = uncertainty::Replicates(inputs, 2, 11).points(0, count);
  uncertainty::SampleMatrix rows(count * size, inputs);
  for (int i = 0; i < count; ++i)
    for (int k = 0; k < size; ++k) {
      rows.row(i * size + k) = firsts.row(i);
      if (k > 0) rows(i * size + k, (7 * k) % inputs) = 0.05 + 0.9 * k / size;
    }
  return rows;
}

}  // namespace

TEST_CASE("rows that start from a row beside them end where each ends by itself") {
  const Sampler sampler(demo(), demo_conditions({"use", "use-idle", "lid-closed", "bench"}));
  const auto points = families_of(static_cast<int>(sampler.inputs().size()), 4, 12);
  const Batch alone = sampler.run(points);
  const Batch beside = sampler.run(points, Alone(), {}, 12);
  REQUIRE(alone.weights == beside.weights);
  CHECK(alone.values == beside.values);
  for (std::size_t i = 0; i < alone.views.size(); ++i)
    for (std::size_t c = 0; c < alone.views[i].size(); ++c) {
      CAPTURE(i, c);
      check_same(alone.views[i][c], beside.views[i][c]);
    }
  CHECK_THROWS_AS(sampler.run(points, Alone(), {}, 7), std::invalid_argument);
  CHECK_THROWS_AS(sampler.run(points, Alone(), {}, 0), std::invalid_argument);
}

TEST_CASE("families have the same bytes on any number of threads and of processes") {
  const Sampler sampler(demo(), demo_conditions({"use", "bench"}));
  const auto points = families_of(static_cast<int>(sampler.inputs().size()), 8, 3);
  const int before = omp_get_max_threads();
  std::vector<std::string> bytes;
  for (const int threads : {1, 2, 3}) {
    omp_set_num_threads(threads);
    bytes.push_back(pack(sampler.run(points, Alone(), {}, 3), 0, 24));
  }
  omp_set_num_threads(before);
  CHECK(bytes[1] == bytes[0]);
  CHECK(bytes[2] == bytes[0]);
  std::vector<std::string> pieces(3);
  for (int mine = 0; mine < 2; ++mine) CHECK_THROWS(sampler.run(points, Played(mine, &pieces), {}, 3));
  CHECK(pack(sampler.run(points, Played(2, &pieces), {}, 3), 0, 24) == bytes[0]);
}

TEST_CASE("a search for states that was made before is not made again, and changes nothing") {
  const auto conditions = demo_conditions({"use", "bench"});
  std::vector<ConditionResult> searched = predict_these(demo(), conditions);
  Options options = small(3, 4, 8);
  const Sampler fresh(demo(), conditions);
  options.truths = draws_more_than(fresh.nominal()[0].vents[0].inflow);
  const std::string bytes = bytes_of(run(fresh, options));
  CHECK(bytes_of(run(Sampler(demo(), conditions, {}, searched), options)) == bytes);
  // What is handed over is what counts: a condition said to have two states has each sample solved from cold.
  for (ConditionResult& result : searched) result.states.stable = 2;
  CHECK(bytes_of(run(Sampler(demo(), conditions, {}, searched), options)) != bytes);
}

TEST_CASE("whoever watches a run is told of every row") {
  Sampler sampler(demo(), demo_conditions({"use"}));
  const auto points = families_of(static_cast<int>(sampler.inputs().size()), 5, 2);
  std::vector<long> done;
  sampler.set_watch([&](long rows, long all) {
    done.push_back(rows);
    CHECK(all == 10);
  });
  sampler.run(points, Alone(), {}, 2);
  CHECK(done == std::vector<long>{2, 4, 6, 8, 10});
}

TEST_CASE("at its nominal values a sample is the nominal case") {
  const std::vector<int> conditions = demo_conditions({"use", "bench"});
  const Sampler sampler(demo(), conditions);
  PlacedCase placed(demo());
  for (std::size_t c = 0; c < conditions.size(); ++c) {
    std::string reason;
    check_same(sampler.nominal()[c], solve_sample(placed.content(), prepare(demo(), conditions[c]), reason));
  }
}

TEST_CASE("the nominal views are those of the predicted conditions") {
  const std::vector<int> conditions = demo_conditions({"use", "bench", "bench-cold"});
  const Sampler sampler(demo(), conditions);
  for (std::size_t c = 0; c < conditions.size(); ++c) {
    const study::StateSummary& ours = sampler.nominal()[c];
    const study::StateSummary said = study::summary_of(study::predict(demo(), conditions[c]));
    check_same(ours, said);
    REQUIRE(ours.vents.size() == said.vents.size());
    for (std::size_t v = 0; v < ours.vents.size(); ++v) {
      CHECK(ours.vents[v].role == said.vents[v].role);
      CHECK(ours.vents[v].face_velocity == Approx(said.vents[v].face_velocity));
      CHECK(ours.vents[v].temperature_in == Approx(said.vents[v].temperature_in));
      CHECK(ours.vents[v].temperature_out == Approx(said.vents[v].temperature_out));
    }
    CHECK(ours.through_flow == Approx(said.through_flow));
    CHECK(ours.fan_speed == said.fan_speed);
    CHECK(ours.source_temperature.size() == said.source_temperature.size());
    CHECK(ours.part_temperature.size() == said.part_temperature.size());
    CHECK(ours.skin_temperature.size() == said.skin_temperature.size());
    CHECK(ours.zone_temperature.size() == said.zone_temperature.size());
  }
}

TEST_CASE("two seeds agree within their stated errors") {
  const Sampler sampler(demo(), demo_conditions({"use"}));
  const double nominal = sampler.nominal()[0].vents[0].inflow;
  std::vector<uncertainty::Probability> found;
  for (const std::uint64_t seed : {1u, 2u}) {
    Options options = small(seed, 128, 128);
    options.budget.replicates = 8;
    options.truths = draws_more_than(0.95 * nominal);
    found.push_back(run(sampler, options).claims.at(0));
  }
  CHECK(found[0].value > 0.05);
  CHECK(found[0].value < 0.95);
  CHECK(found[0].standard_error > 0.0);
  CHECK(found[0].interval.low <= found[1].interval.high);
  CHECK(found[1].interval.low <= found[0].interval.high);
}

TEST_CASE("rounds grow until the claims are settled or the budget is used") {
  const Sampler sampler(demo(), demo_conditions({"use"}));
  // A claim that is true for about 95 of 100 samples: just where the verdict turns.
  std::vector<double> flows;
  for (const auto& views : run(sampler, small(9, 64, 64)).views) flows.push_back(views[0].vents[0].inflow);
  std::sort(flows.begin(), flows.end());
  Options open = small(1, 4, 16);
  open.truths = draws_more_than(flows[flows.size() / 20]);
  const Ensemble grown = run(sampler, open);
  CHECK(grown.progress == uncertainty::Progress::spent);
  CHECK(grown.views.size() == 64);
  // Larger rounds keep the samples of the smaller ones.
  const Ensemble first = run(sampler, small(1, 4, 4));
  CHECK(first.points == grown.points.topRows(16));
  CHECK(first.values == grown.values.topRows(16));

  Options clear = small(1, 128, 256);
  clear.truths = draws_more_than(0.0);
  const Ensemble settled = run(sampler, clear);
  CHECK(settled.progress == uncertainty::Progress::settled);
  CHECK(settled.views.size() == 512);
  CHECK(settled.claims.at(0).value == 1.0);
}

TEST_CASE("a sample without a solution has no weight and says why") {
  const geometry::Case content = runaway();
  Options options = small(1, 16, 16);
  std::atomic<int> asked{0}, unsolved{0};  // the truths are asked for by several threads
  options.truths = [&](const std::vector<study::StateSummary>& views) {
    for (const study::StateSummary& view : views) unsolved += view.solved ? 0 : 1;
    ++asked;
    return std::vector<double>{1.0};
  };
  const Ensemble found = run(Sampler(content, {0}), options);
  REQUIRE(found.failures.size() > 3);
  REQUIRE(found.failures.size() < 60);
  CHECK(unsolved == 0);
  CHECK(asked == 64 - static_cast<int>(found.failures.size()));
  for (const Failure& failure : found.failures) {
    CHECK(found.weights[static_cast<std::size_t>(failure.sample)] == 0.0);
    CHECK_FALSE(found.views[static_cast<std::size_t>(failure.sample)][0].solved);
    CHECK(failure.reason.find("hotter") != std::string::npos);
  }
  CHECK(found.claims.at(0).value == 1.0);
}

TEST_CASE("where nothing solves the budget is given back") {
  geometry::Case content = runaway();
  content.loads[0].powers[0].power = 40.0;
  Options options = small(1, 4, 64);
  options.truths = [](const std::vector<study::StateSummary>&) { return std::vector<double>{1.0}; };
  const Ensemble found = run(Sampler(content, {0}), options);
  CHECK(found.failures.size() == 16);
  CHECK(found.claims.empty());
  CHECK(found.progress == uncertainty::Progress::spent);
}

TEST_CASE("points of a plan are solved as they are") {
  const Sampler sampler(demo(), demo_conditions({"use"}));
  const int n = static_cast<int>(sampler.inputs().size());
  const uncertainty::SaltelliDesign plan(n, 2, 5);
  uncertainty::SampleMatrix points(3, n);
  plan.point(0, points.row(0).data());
  plan.point(2, points.row(1).data());
  plan.point(4, points.row(2).data());  // the first point, its first input from the second sample
  const Batch batch = sampler.run(points);
  CHECK(batch.values(2, 0) == batch.values(1, 0));
  CHECK(batch.values.row(2).tail(n - 1) == batch.values.row(0).tail(n - 1));
  CHECK(batch.weights == std::vector<double>(3, 1.0));
  points(1, 0) = 1.0;
  CHECK_THROWS_AS(sampler.run(points), std::invalid_argument);
  CHECK_THROWS_AS(sampler.run(uncertainty::SampleMatrix::Constant(1, n + 1, 0.5)), std::invalid_argument);
}

TEST_CASE("the weight of a field's correction is an input that moves flows and roles") {
  const std::vector<int> conditions = demo_conditions({"use", "bench"});
  FieldCorrection correction;
  correction.key = "model.field.bench";
  correction.condition = conditions[1];
  correction.vents.resize(demo().device.vents.size());
  correction.vents[1] = {0.5, 0.25, 3.0, 1.0};
  correction.weight = {uncertainty::Shape::uniform, 0.5, 0.0, 1.0, 0.0, 10.0};
  const Sampler plain(demo(), conditions);
  const Sampler corrected(demo(), conditions, {correction});
  REQUIRE(corrected.inputs().size() == plain.inputs().size() + 1);
  CHECK(corrected.inputs().back().of_case == -1);
  const auto n = static_cast<Eigen::Index>(plain.inputs().size());
  uncertainty::SampleMatrix points = uncertainty::SampleMatrix::Constant(1, n + 1, 0.5);
  points(0, n) = 0.75;
  const Batch with = corrected.run(points);
  const Batch without = plain.run(points.leftCols(n));
  CHECK(with.values(0, n) == Approx(0.75));
  const study::StateSummary &a = with.views[0][1], &b = without.views[0][1];
  CHECK(a.vents[1].inflow == Approx(b.vents[1].inflow + 0.75 * 0.5 * b.through_flow));
  CHECK(a.vents[1].outflow == Approx(b.vents[1].outflow + 0.75 * 0.25 * b.through_flow));
  CHECK(a.vents[1].temperature_out == Approx(b.vents[1].temperature_out + 0.75 * 3.0));
  CHECK(a.vents[0].inflow == b.vents[0].inflow);
  CHECK(a.through_flow == Approx(b.through_flow * (1.0 + 0.75 * 0.5)));
  CHECK(with.views[0][0].through_flow == without.views[0][0].through_flow);
}

TEST_CASE("a case without doubt is one device however often it is sampled") {
  geometry::Case content = runaway();
  content.loads[0].powers[0].power = 1.0;
  content.device.sources[0].joints[0].resistance = 10.0;
  geometry::for_each_value(content, [](geometry::Value& value) { value = geometry::Value(*value); });
  content.inputs.clear();
  Options options = small(1, 4, 64);
  options.truths = draws_more_than(0.0);
  const Ensemble found = run(Sampler(content, {0}), options);
  CHECK(found.views.size() == 4);
  CHECK(found.claims.at(0).value == 1.0);
  CHECK(found.progress == uncertainty::Progress::settled);
}

TEST_CASE("what is not there is refused") {
  geometry::Case rootless = demo();  // its values still say which input they come from
  rootless.inputs.clear();
  CHECK_THROWS_AS(Sampler(rootless, {0}), std::invalid_argument);
  CHECK_THROWS_AS(Sampler(demo(), {99}), std::invalid_argument);
  FieldCorrection correction;
  correction.key = "model.field.use";
  correction.weight = {uncertainty::Shape::uniform, 0.5, 0.0, 1.0, 0.0, 10.0};
  correction.vents.resize(1);
  CHECK_THROWS_AS(Sampler(demo(), {0}, {correction}), std::invalid_argument);
  geometry::Case torn = demo();
  torn.correlations = {{0, 1, 0.9}, {1, 2, 0.9}, {0, 2, -0.9}};
  CHECK_THROWS_AS(Sampler(torn, {0}), std::invalid_argument);
}

TEST_CASE("where two states exist a sample takes the one a cold start reaches") {
  // Warm air wins over the fan of this shaft, just; with a little more of the fan it wins when cold, and both
  // states stand.
  geometry::Case content = case_of("tests/program/two-states.yaml");
  const auto speeds = {7.0, 8.0, 9.0, 10.0};
  int both = 0;
  for (const double speed : speeds) {
    geometry::Case shaft = content;
    geometry::Value& uncertain = shaft.device.fans[0].speed;
    uncertain = geometry::Value(speed, geometry::SpreadKind::normal, 0.6 * speed, 1.4 * speed);
    uncertain.input = static_cast<int>(shaft.inputs.size());
    shaft.inputs.push_back({"fans.fan.speed",
                            geometry::Value(speed, geometry::SpreadKind::normal, 0.6 * speed, 1.4 * speed),
                            0.0, 100.0});
    shaft.loads[0].fans.clear();
    const Sampler sampler(shaft, {0});
    const uncertainty::SampleMatrix points =
        uncertainty::Replicates(static_cast<int>(sampler.inputs().size()), 2, 1).points(0, 64);
    const Batch batch = sampler.run(points);
    PlacedCase placed(shaft);
    int down = 0;
    for (Eigen::Index i = 0; i < points.rows(); ++i) {
      CAPTURE(speed, i);
      placed.put(batch.values.row(i).data());
      Prepared cold;
      std::string reason;
      const study::StateSummary& found = batch.views[static_cast<std::size_t>(i)][0];
      check_same(found, solve_sample(placed.content(), cold, reason));
      CHECK(found.solved);
      if (!found.solved) continue;
      down += found.vents[0].outflow > found.vents[0].inflow ? 1 : 0;
    }
    both += down > 0 && down < points.rows() ? 1 : 0;
  }
  CHECK(both > 0);
}

TEST_CASE("a condition just past a fold is solved, and as a sample of it is") {
  // Where the fan of this shaft has become too weak even for a cold start, the state the cold solve follows
  // has vanished and it stalls. Nearer and nearer to that speed, from both sides:
  geometry::Case shaft = case_of("tests/program/two-states.yaml");
  shaft.loads[0].fans.clear();
  double up = 5.0, down = 10.0;
  for (int i = 0; i < 16; ++i) {
    const double speed = 0.5 * (up + down);
    CAPTURE(speed);
    shaft.device.fans[0].speed = geometry::Value(speed);
    const study::ConditionResult found = study::predict(shaft, 0, study::StateSearch::none);
    INFO(found.report.reason);
    REQUIRE(found.report.converged);
    Prepared cold;
    std::string reason;
    check_same(study::summary_of(found), solve_sample(shaft, cold, reason));
    (found.vents[0].outflow > found.vents[0].inflow ? down : up) = speed;
  }
}

TEST_CASE("the search for states and a warm-up that begins at rest pass a fold as a prediction does") {
  geometry::Case shaft = case_of("tests/program/two-states.yaml");
  shaft.loads[0].fans.clear();
  double up = 5.0, down = 10.0;
  int stalled = 0;
  for (int i = 0; i < 16; ++i) {
    const double speed = 0.5 * (up + down);
    CAPTURE(speed);
    shaft.device.fans[0].speed = geometry::Value(speed);
    const geometry::Condition& condition = shaft.conditions[0];
    network::Model plain;
    plain.net = network::assemble(shaft, condition);
    plain.layout = network::add_heat_paths(shaft, condition, plain.net);
    const auto cold = network::solve_steady(shaft, plain.layout, plain.net);
    const study::ConditionResult found = study::predict(shaft, 0, study::StateSearch::none);
    REQUIRE(found.report.converged);
    if (cold.summary.stop == network::StopReason::stalled) {
      ++stalled;
      const network::Branches branches = network::find_branches(shaft, condition);
      INFO(branches.words);
      REQUIRE(branches.summary.converged());
      REQUIRE(branches.branches.front().cold_start);
      const std::size_t opening = static_cast<std::size_t>(plain.net.layout.vent_openings[0].front());
      const double flow = branches.branches.front().steady.state.flow[static_cast<Eigen::Index>(opening)];
      CHECK(std::abs(flow) == Approx(std::abs(found.vents[0].inflow - found.vents[0].outflow)).epsilon(1e-6));
      network::Plan plan;
      plan.from = 0;
      plan.options.until = 10.0;
      const network::WarmUp run = network::warm_up(shaft, plan);
      INFO(run.transient.message);
      // It begins where it ends: at rest.
      CHECK(run.transient.ending == network::Ending::steady);
    }
    (found.vents[0].outflow > found.vents[0].inflow ? down : up) = speed;
  }
  CHECK(stalled > 0);
}

TEST_CASE("samples on their way between processes come out as they went in, or not at all") {
  const Sampler sampler(runaway(), {0});
  const uncertainty::SampleMatrix points =
      uncertainty::Replicates(static_cast<int>(sampler.inputs().size()), 2, 3).points(0, 32);
  const Batch batch = sampler.run(points);
  REQUIRE_FALSE(batch.failures.empty());
  const std::string bytes = pack(batch, 8, 24);
  Batch again;
  again.views.assign(32, std::vector<study::StateSummary>(1));
  unpack(bytes, 8, 24, again);
  CHECK(again.failures.size() == batch.failures.size());
  CHECK(pack(again, 8, 24) == bytes);
  for (const std::size_t cut : {std::size_t{1}, bytes.size() / 2, bytes.size()}) {
    Batch torn;
    torn.views.assign(32, std::vector<study::StateSummary>(1));
    CHECK_THROWS_AS(unpack(bytes.substr(0, bytes.size() - cut), 8, 24, torn), std::runtime_error);
  }
}

TEST_CASE("parts solved by several processes make the whole") {
  const Sampler sampler(runaway(), {0});
  const uncertainty::SampleMatrix points =
      uncertainty::Replicates(static_cast<int>(sampler.inputs().size()), 2, 3).points(0, 10);
  const Batch whole = sampler.run(points);
  std::vector<std::string> pieces(3);
  for (int mine = 0; mine < 2; ++mine) CHECK_THROWS(sampler.run(points, Played(mine, &pieces)));
  const Batch shared = sampler.run(points, Played(2, &pieces));  // by now all pieces are there
  CHECK(pack(shared, 0, 10) == pack(whole, 0, 10));
  CHECK(shared.weights == whole.weights);
  CHECK(shared.values == whole.values);
}
