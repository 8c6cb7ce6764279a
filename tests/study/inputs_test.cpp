// Every uncertain number of a case file becomes one input, and moves everything that stands for it.
#include <catch2/catch.hpp>

#include <algorithm>
#include <regex>

#include "geometry/casefile/keys.hpp"
#include "geometry/device/condition.hpp"
#include "solver/study/sample.hpp"
#include "solver/uncertainty/probability.hpp"
#include "tests/study/support.hpp"

using namespace tuft;
using namespace tuft::study;
using namespace tuft::study::test;

namespace {

const char* const kBox =
    "vents:\n"
    "  in: {face: left, centre: [50 mm, 10 mm], size: [40 mm, 10 mm], cover: {kind: slots, open: 50 % ± 5 "
    "%,\n"
    "       hole: 2 mm, thickness: 1 mm}, blocked: 0 %}\n"
    "  out: {face: right, centre: [50 mm, 10 mm], size: [40 mm, 10 mm], cover: {kind: slots, open: 50 %,\n"
    "       hole: 2 mm, thickness: 1 mm}, blocked: 0 %}\n"
    "fans:\n"
    "  a: {kind: blower, diameter: 30 mm, thickness: 5 mm, speed: 3000 rpm ± 10 %, flow-factor: 1,\n"
    "      pressure-factor: 1, draws-from: inside, blows-into: out}\n"
    "sources: {chip: {heats: {inside: 100 %}}}\n"
    "zones: {inside: {from: [0 mm, 0 mm, 0 mm], to: [200 mm, 100 mm, 20 mm], walls: 0.3 W/K}}\n"
    "supports: {table: {kind: hard, edge-gap: 0.3 mm, tilt: level}}\n";

/// The case with its inputs at other values, one for each of Case::inputs.
geometry::Case with_values(const geometry::Case& content, const std::vector<double>& values) {
  REQUIRE(values.size() == content.inputs.size());
  PlacedCase placed(content);
  placed.put(values.data());
  return placed.content();
}

int input_of(const geometry::Case& content, const std::string& key) {
  for (std::size_t i = 0; i < content.inputs.size(); ++i)
    if (content.inputs[i].key == key) return static_cast<int>(i);
  return -1;
}

std::vector<double> nominal_of(const geometry::Case& content) {
  std::vector<double> values;
  for (const geometry::Input& input : content.inputs) values.push_back(*input.prior);
  return values;
}

// The key table's pattern as a regular expression on paths.
std::regex pattern_of(const casefile::Key& key) {
  std::string text;
  for (const char c : key.path) {
    if (c == '*')
      text += "[^.]+";
    else if (c == '[')
      text += "\\[[0-9]+";
    else if (c == ']' || c == '.')
      text += std::string("\\") + c;
    else
      text += c;
  }
  return std::regex(text + (key.type == casefile::Type::quantities ? "\\[[0-9]+\\]" : ""));
}

}  // namespace

TEST_CASE("a spread at any key that may have one becomes an input, and the walk finds its value") {
  const geometry::Case content = case_of("tests/study/uncertain.yaml");
  for (const casefile::Key& key : casefile::key_table()) {
    const bool is_number = key.type == casefile::Type::quantity || key.type == casefile::Type::quantities;
    const bool is_point =
        key.path.find("points[]") != std::string::npos || key.path.find("speeds[]") != std::string::npos;
    if (!is_number || key.exact || key.question || is_point) continue;
    INFO(key.path);
    const std::regex pattern = pattern_of(key);
    CHECK(std::any_of(content.inputs.begin(), content.inputs.end(),
                      [&](const geometry::Input& input) { return std::regex_match(input.key, pattern); }));
  }
  // The reader drops an input that the walk does not find, so each one here has its place.
  std::vector<int> found(content.inputs.size(), 0);
  geometry::for_each_value(content, [&](const geometry::Value& value) {
    const bool uncertain = value.spread != geometry::SpreadKind::none;
    CHECK(uncertain == (value.input >= 0));
    if (value.input >= 0) ++found[static_cast<std::size_t>(value.input)];
  });
  for (std::size_t i = 0; i < found.size(); ++i) {
    INFO(content.inputs[i].key);
    CHECK(found[i] > 0);
  }
}

TEST_CASE("nothing of a solved case is left without a prior that can be sampled") {
  for (const char* path : {"tests/study/uncertain.yaml", "cases/slim-notebook.yaml"}) {
    const geometry::Case content = case_of(path);
    const std::vector<Input> inputs = inputs_of(content);
    REQUIRE(inputs.size() == content.inputs.size());
    for (const Input& input : inputs) {
      INFO(input.key);
      CHECK(input.prior.floor <= input.prior.low);
      CHECK(input.prior.ceiling >= input.prior.high);
      for (const double u : {1e-9, 0.5, 1.0 - 1e-9}) {
        const double x = uncertainty::quantile(input.prior, u);
        CHECK(x >= input.prior.floor);
        CHECK(x <= input.prior.ceiling);
      }
    }
  }
}

TEST_CASE("the nominal values give the case itself to the last bit") {
  for (const char* path : {"tests/study/uncertain.yaml", "cases/slim-notebook.yaml"}) {
    const geometry::Case content = case_of(path);
    const geometry::Case again = with_values(content, nominal_of(content));
    std::vector<double> before, after;
    geometry::for_each_value(content, [&](const geometry::Value& v) { before.push_back(*v); });
    geometry::for_each_value(again, [&](const geometry::Value& v) { after.push_back(*v); });
    CHECK(before == after);
  }
}

TEST_CASE("a default's own spread is an input of assumed origin") {
  const geometry::Case content =
      box("vents: {in: {face: left, centre: [50 mm, 10 mm], size: [40 mm, 10 mm], cover: mesh}}\n");
  const int open = input_of(content, "vents.in.cover.open");
  REQUIRE(open >= 0);
  CHECK(content.inputs[static_cast<std::size_t>(open)].prior.origin == geometry::Origin::assumed);
  CHECK(input_of(content, "zones.inside.walls") >= 0);
  CHECK(input_of(content, "device.feet") < 0);  // exact
}

TEST_CASE("one thing used in several places is one input") {
  const geometry::Case content =
      box(std::string(kBox) + "loads: {slow: {power: {chip: 5 W}, fans: {a: 40 %}}}\n");
  CHECK(content.inputs.size() == 2);
  std::vector<double> values = nominal_of(content);
  values[static_cast<std::size_t>(input_of(content, "fans.a.speed"))] *= 1.1;
  const geometry::Case moved = with_values(content, values);
  CHECK(*moved.device.fans[0].speed == Approx(55.0));
  CHECK(*moved.loads[0].fans[0].speed == Approx(22.0));
}

TEST_CASE("a doubtful share of a doubtful full speed hangs on both") {
  const geometry::Case content =
      box(std::string(kBox) + "loads: {slow: {power: {chip: 5 W}, fans: {a: 40 % ± 4 %}}}\n");
  REQUIRE(content.inputs.size() == 3);
  std::vector<double> values = nominal_of(content);
  values[static_cast<std::size_t>(input_of(content, "fans.a.speed"))] *= 1.1;
  values[static_cast<std::size_t>(input_of(content, "loads.slow.fans.a"))] = 0.44;
  CHECK(*with_values(content, values).loads[0].fans[0].speed == Approx(50.0 * 1.1 * 0.44));
}

TEST_CASE("shares of a source's power stay whole") {
  const geometry::Case content = case_of("tests/study/uncertain.yaml");
  std::vector<double> values = nominal_of(content);
  values[static_cast<std::size_t>(input_of(content, "sources.drive.heats.front"))] = 0.66;
  const geometry::Case moved = with_values(content, values);
  const auto& shares = moved.device.sources[1].shares;
  REQUIRE(shares.size() == 2);
  CHECK(*shares[0].share == Approx(0.66 / 1.06));
  CHECK(*shares[0].share + *shares[1].share == Approx(1.0));
}

TEST_CASE("inputs that are written together vary together, the others do not") {
  const geometry::Case content = case_of("tests/study/uncertain.yaml");
  REQUIRE(content.correlations.size() == 3);
  const Sampler sampler(content, {});
  const auto n = static_cast<int>(sampler.inputs().size());
  const uncertainty::SampleMatrix points = uncertainty::Replicates(n, 4, 7).points(0, 4096);
  const uncertainty::SampleMatrix values = sampler.run(points).values;
  const auto correlation = [&](const char* a, const char* b) {
    const Eigen::VectorXd x = values.col(input_of(content, a)), y = values.col(input_of(content, b));
    const Eigen::VectorXd dx = x.array() - x.mean(), dy = y.array() - y.mean();
    return dx.dot(dy) / (dx.norm() * dy.norm());
  };
  // Normal spreads: the correlation is that of their scores; 4,096 points of a net know it to about 0.01.
  CHECK(correlation("fans.main.flow-factor", "fans.main.pressure-factor") == Approx(0.5).margin(0.02));
  CHECK(correlation("fans.main.flow-factor", "fans.aside.speed") == Approx(0.5).margin(0.02));
  CHECK(correlation("fans.main.flow-factor", "room.temperature") == Approx(0.0).margin(0.02));
}
