// results.json and vents.csv.
#include <catch2/catch.hpp>
#include <limits>
#include <nlohmann/json.hpp>

#include "tests/output/sample.hpp"
#include "tools/output/csv.hpp"
#include "tools/output/finite.hpp"
#include "tools/output/json.hpp"
#include "tools/output/temperatures_csv.hpp"

using namespace tuft;
using namespace tuft::output;
using nlohmann::json;

namespace {

// A reader of RFC 4180, written apart from the writer.
std::vector<std::vector<std::string>> read_csv(const std::string& text) {
  std::vector<std::vector<std::string>> rows(1);
  std::string field;
  bool quoted = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (quoted) {
      if (text[i] != '"') {
        field += text[i];
      } else if (i + 1 < text.size() && text[i + 1] == '"') {
        field += text[++i];
      } else {
        quoted = false;
      }
    } else if (text[i] == '"') {
      quoted = true;
    } else if (text[i] == ',') {
      rows.back().push_back(field);
      field.clear();
    } else if (text.compare(i, 2, "\r\n") == 0) {
      rows.back().push_back(field);
      field.clear();
      rows.emplace_back();
      ++i;
    } else {
      field += text[i];
    }
  }
  rows.pop_back();
  return rows;
}

}  // namespace

TEST_CASE("results.json holds the results, exactly") {
  const Run run = test::sample_run();
  const json results = json::parse(results_json(run, {"results.json"}));
  CHECK(results["format"] == "tuft-results");
  CHECK(results["version"] == 1);
  CHECK(results["case"]["file"] == "sample.yaml");
  CHECK(results["files"] == json::array({"results.json"}));
  REQUIRE(results["conditions"].size() == 2);
  const json& use = results["conditions"][0];
  CHECK(use["pose"] == "flat");
  CHECK(use["support"] == "table");
  CHECK(use["solved"] == true);
  CHECK(use["vents"].size() == 4);
  CHECK(use["vents"][0]["vent"] == "grille");
  CHECK(use["vents"][0]["role"] == "intake");
  CHECK(use["vents"][0]["inflow_kg_s"].get<double>() == run.conditions[0].vents[0].inflow);
  CHECK(use["vents"][0]["neutral_level"].is_null());
  CHECK(use["vents"][2]["role"] == "both-ways");
  CHECK(use["vents"][2]["neutral_level"] == 0.4);
  CHECK(use["vents"][3]["leak"] == true);
  CHECK(use["fans"][0]["speed_rev_s"] == 75.0);
  CHECK(results["conditions"][1]["pose_to_world"].size() == 3);
  CHECK(results["sweeps"][0]["points"].size() == 3);
  CHECK(results["sweeps"][0]["points"][1]["vents"][1]["role"] == "exhaust");
  CHECK(results["claims"][0]["verdict"] == "holds");
  CHECK(results["claims"][0]["when"] == "use");
  CHECK(results["assumptions"][0]["key"] == "vents.grille.cover.hole");
}

TEST_CASE("results.json is the same for the same run") {
  CHECK(results_json(test::sample_run(), {}) == results_json(test::sample_run(), {}));
}

TEST_CASE("an unsolved condition has a reason and no numbers") {
  Run run = test::sample_run();
  run.conditions[0].report = {false, "no root", 50, std::numeric_limits<double>::quiet_NaN()};
  run.conditions[0].vents.clear();
  const json use = json::parse(results_json(run, {}))["conditions"][0];
  CHECK(use["solved"] == false);
  CHECK(use["reason"] == "no root");
  CHECK_FALSE(use.contains("vents"));
  CHECK_FALSE(use.contains("through_flow_kg_s"));
  CHECK(read_csv(vents_csv(run)).size() == 1 + 4);
}

TEST_CASE("numbers that are not finite are refused by name") {
  for (const double bad :
       {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()}) {
    Run run = test::sample_run();
    run.conditions[1].vents[2].pressure = bad;
    CHECK_THROWS_WITH(results_json(run, {}),
                      "the result conditions.bench.vents.side.pressure is not a finite number");
    CHECK_THROWS_AS(vents_csv(run), NotFinite);
    run = test::sample_run();
    run.sweeps[0].points[2].result.fans[0].temperature = bad;
    CHECK_THROWS_WITH(results_json(run, {}),
                      "the result sweeps.around.2.fans.main.temperature is not a finite number");
  }
}

TEST_CASE("hostile names survive JSON and CSV") {
  Run run = test::sample_run();
  const std::string name = "a \"b\", c\r\nd\\ \u202E</script>";
  run.content.device.vents[0].name = name;
  CHECK(json::parse(results_json(run, {}))["conditions"][0]["vents"][0]["vent"] == name);
  CHECK(read_csv(vents_csv(run))[1][4] == name);
  run.content.device.vents[0].name = "bad \xFF byte";
  CHECK(json::parse(results_json(run, {}))["conditions"][0]["vents"][0]["vent"] == "bad \uFFFD byte");
  CHECK(read_csv(vents_csv(run))[1][4] == "bad \uFFFD byte");
}

TEST_CASE("vents.csv: a row per condition and vent, every row as long as the header") {
  const Run run = test::sample_run();
  const auto rows = read_csv(vents_csv(run));
  REQUIRE(rows.size() == 1 + 2 * 4);
  for (const auto& row : rows) CHECK(row.size() == rows[0].size());
  CHECK(rows[0][11] == "gross in [kg/s]");
  CHECK(rows[1][0] == "use");
  CHECK(rows[1][7] == "intake");
  CHECK(std::stod(rows[1][11]) == run.conditions[0].vents[0].inflow);
  CHECK(rows[3][8] == "no");
  CHECK(rows[8][6] == "yes");
}

TEST_CASE("fields are quoted only where RFC 4180 asks for it") {
  CHECK(csv_field("plain") == "plain");
  CHECK(csv_field("a,b") == "\"a,b\"");
  CHECK(csv_field("a\"b") == "\"a\"\"b\"");
  CHECK(csv_field("a\nb") == "\"a\nb\"");
  CHECK(csv_field("").empty());
}

TEST_CASE("temperatures.csv: a row per condition and thing, every row as long as the header") {
  const Run run = test::sample_run();
  const auto rows = read_csv(temperatures_csv(run));
  REQUIRE(rows.size() == 1 + 2 * (2 + 1 + 2 + 1 + 1));
  for (const auto& row : rows) CHECK(row.size() == rows[0].size());
  CHECK(rows[1] ==
        std::vector<std::string>{"use", "source", "chip", "363.15", "40", "33", "throttled", "", ""});
  CHECK(rows[4] == std::vector<std::string>{"use", "skin", "palm rest", "322.15", "", "", "within reach",
                                            "321.15", "seen"});
}

TEST_CASE("results.json: heat of a condition") {
  const Run run = test::sample_run();
  const auto all = json::parse(results_json(run, {}));
  const auto& use = all["conditions"][0];
  CHECK(use["heat"]["with_air_W"] == 30.0);
  CHECK(use["sources"][0]["state"] == "throttled");
  CHECK(use["sources"][1]["temperature_K"].is_null());
  CHECK(use["skin"][1]["lies_on_something"] == true);
  CHECK(use["skin"][0]["touch_limit_K"] == 321.15);
  CHECK(use["screen_edges"][0]["vent"] == "slot");
}
