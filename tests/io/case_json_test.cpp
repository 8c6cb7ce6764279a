// A case to JSON and back solves to the same bits.
#include "tools/io/case_json.hpp"
#include "solver/study/predict.hpp"
#include "tests/io/model_support.hpp"
#include "tools/io/solution_json.hpp"

using namespace tuft;

namespace {

/// All that results.json says of a solution: equal texts are equal bits, since every digit is written.
std::string told(const geometry::Case& content, const study::ConditionResult& result) {
  io::Json json;
  io::add_solution(json, content, result);
  return json.dump();
}

}  // namespace

TEST_CASE("every condition of every case solves to the same bits after JSON and back") {
  for (const std::string& name : test::case_names()) {
    const geometry::Case content = test::case_named(name);
    const geometry::Case again = io::case_of_text(io::case_json(content).dump());
    REQUIRE(again.conditions.size() == content.conditions.size());
    for (std::size_t i = 0; i < content.conditions.size(); ++i) {
      INFO(name << " " << content.conditions[i].name);
      const int condition = static_cast<int>(i);
      const auto first = study::predict(content, condition, study::StateSearch::none);
      CHECK(told(content, first) == told(again, study::predict(again, condition, study::StateSearch::none)));
      CHECK(first.report.converged);
    }
  }
}

TEST_CASE("writing again gives the same text") {
  for (const std::string& name : test::case_names()) {
    const std::string text = io::case_json(test::case_named(name)).dump();
    CHECK(io::case_json(io::case_of_text(text)).dump() == text);
  }
}

TEST_CASE("the other steady states are found from the model too") {
  const geometry::Case content = test::case_named("fanless-router");
  const geometry::Case again = io::case_of_text(io::case_json(content).dump());
  CHECK(told(content, study::predict(content, 0)) == told(again, study::predict(again, 0)));
}

TEST_CASE("a double keeps every bit") {
  geometry::Case content = test::case_named("mini-desktop");
  for (const double value : {0.1 + 0.2, 1.0 / 3.0, 5e-324, 1.7976931348623157e308, 294.15000000000003}) {
    content.room.altitude = value;
    CHECK(*io::case_of_text(io::case_json(content).dump()).room.altitude == value);
  }
}
