// results.json and vents.csv.
#include <catch2/catch.hpp>
#include <limits>
#include <nlohmann/json.hpp>

#include "tests/io/sample.hpp"
#include "tools/io/csv.hpp"
#include "tools/io/finite.hpp"
#include "tools/io/run.hpp"

using namespace tuft;
using namespace tuft::io;
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
  const json results = json::parse(results_json(run, {{}, {"results.json"}, {}}));
  CHECK(results["format"] == "tuft-results");
  CHECK(results["version"] == 2);
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
                      "the result conditions.bench.vents.side.pressure_Pa is not a finite number");
    CHECK_THROWS_AS(vents_csv(run), NotFinite);
    run = test::sample_run();
    run.sweeps[0].points[2].result.fans[0].temperature = bad;
    CHECK_THROWS_WITH(results_json(run, {}),
                      "the result sweeps.around.points.2.fans.main.temperature_K is not a finite number");
  }
}

TEST_CASE("a field's key and heading carry its unit") {
  const auto named = [](const char* name, const char* unit, const char* heading) {
    return numerics::ResultField{name, unit, heading, ""};
  };
  CHECK(numerics::key_of(named("inflow", "kg/s", "")) == "inflow_kg_s");
  CHECK(numerics::key_of(named("growth", "1/s", "")) == "growth_per_s");
  CHECK(numerics::key_of(named("share", "-", "")) == "share");
  CHECK(numerics::key_of(named("role", "", "")) == "role");
  CHECK(numerics::heading_of(named("inflow", "kg/s", "gross in")) == "gross in [kg/s]");
  CHECK(numerics::heading_of(named("share", "-", "share")) == "share [-]");
  CHECK(numerics::heading_of(named("role", "", "role")) == "role");
}

TEST_CASE("every number of a vent's list is in results.json and is refused where it is not finite") {
  Run run = test::sample_run();
  run.conditions[0].vents[0].has_neutral_level = true;
  const json vent = json::parse(results_json(run, {}))["conditions"][0]["vents"][0];
  std::size_t numbers = 0;
  for_each_field(run.conditions[0].vents[0], [&](const numerics::ResultField& field, const auto& value) {
    INFO(field.name);
    CHECK(vent.contains(numerics::key_of(field)));
    if constexpr (std::is_same_v<std::decay_t<decltype(value)>, double>) {
      ++numbers;
      auto& member = const_cast<double&>(value);  // the run itself is not const
      const double kept = member;
      member = std::numeric_limits<double>::quiet_NaN();
      CHECK_THROWS_AS(results_json(run, {}), NotFinite);
      CHECK_THROWS_AS(vents_csv(run), NotFinite);
      member = kept;
    }
  });
  CHECK(numbers >= 11);
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
  CHECK(rows[0][12] == "gross in [kg/s]");
  CHECK(rows[1][0] == "use");
  CHECK(rows[1][7] == "intake");
  CHECK(std::stod(rows[1][12]) == run.conditions[0].vents[0].inflow);
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
        std::vector<std::string>{"use", "source", "chip", "363.15", "40", "33", "throttled", "", "", ""});
  CHECK(rows[4] == std::vector<std::string>{"use", "skin", "palm rest", "322.15", "", "", "within reach", "",
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

TEST_CASE("results.json holds what is needed to draw the device and to tell the circumstances") {
  const Run run = test::sample_run();
  const json results = json::parse(results_json(run, {{}, {"results.json"}, {}}));
  const json& device = results["device"];
  CHECK(device["feet_m"] == *run.content.device.feet);
  CHECK(device["lid"].is_null());
  REQUIRE(device["vents"].size() == run.content.device.vents.size());
  const json& grille = device["vents"][0];
  CHECK(grille["face"] == "base");
  CHECK(grille["normal"] == json::array({0.0, 0.0, -1.0}));
  CHECK(grille["axes"] == json::array({{1.0, 0.0, 0.0}, {0.0, 1.0, 0.0}}));
  CHECK(grille["centre_m"] == json::array({0.1, 0.15, 0.0}));
  CHECK(grille["size_m"] == json::array({0.07, 0.05}));
  CHECK(grille["behind"] == json{{"kind", "zone"}, {"name", "inside"}});
  CHECK(device["zones"][0]["size_m"] == json::array({0.3, 0.2, 0.02}));
  CHECK(device["skin"].size() == 2);
  const json& use = results["conditions"][0];
  CHECK(use["circumstances"] == "flat, on table, load stress");
  CHECK(use["support_kind"] == "hard");
  CHECK(use["summary"].get<std::string>().find("grille") != std::string::npos);
  CHECK(use["warnings"].is_array());
  CHECK(use["sources"][0]["throttles_at_K"] == 363.15);
  CHECK(use["sources"][1]["throttles_at_K"].is_null());
  const json& turned = results["sweeps"][0]["points"][1]["pose_to_world"];
  CHECK(turned[0][0].get<double>() == Approx(std::cos(0.5)));
  CHECK(turned[1][1].get<double>() == Approx(1.0));
}

TEST_CASE("comparisons: a soft support against a firm one, and the pairs of claims") {
  Run run = test::sample_run();
  geometry::Support bed;
  bed.name = "bed";
  bed.kind = geometry::SupportKind::soft;
  run.content.supports.push_back(bed);
  run.content.conditions[1].support = 2;
  run.conditions[1].vents[0].role = geometry::Role::idle;
  run.conditions[1].vents[0].inflow = 0.1e-3;
  geometry::Claim claim = run.content.claims[0];
  claim.id = "differs";
  claim.kind = geometry::ClaimKind::changes_role;
  claim.against = 0;
  claim.when = 1;
  run.content.claims.push_back(claim);
  run.claims.push_back({1, study::Verdict::holds, "It does."});
  const json list = json::parse(results_json(run, {}))["comparisons"];
  REQUIRE(list.size() == 2);
  CHECK(list[0]["kind"] == "soft-surface");
  CHECK(list[1]["kind"] == "claim");
  CHECK(list[1]["claim"] == "differs");
  for (const json& pair : list) {
    CHECK(pair["from"] == "use");
    CHECK(pair["to"] == "bench");
    REQUIRE(pair["changes"].size() == 3);  // the seam is left out
    CHECK(pair["changes"][0]["vent"] == "grille");
    CHECK(pair["changes"][0]["role_from"] == "intake");
    CHECK(pair["changes"][0]["role_to"] == "idle");
    CHECK(pair["changes"][0]["role_changes"] == true);
    CHECK(pair["changes"][0]["inflow_to_kg_s"] == 0.1e-3);
    CHECK(pair["changes"][1]["role_changes"] == false);
  }
  run.conditions[1].report.converged = false;
  CHECK(json::parse(results_json(run, {}))["comparisons"].empty());
}

TEST_CASE("every kind of claim is written by the key of the case file, with what it states") {
  using geometry::ClaimKind;
  const std::vector<std::tuple<ClaimKind, std::string, std::vector<std::string>>> kinds = {
      {ClaimKind::role, "role", {"role", "any"}},
      {ClaimKind::none_has_role, "none", {"role"}},
      {ClaimKind::none_breathes, "none-breathes", {"role"}},
      {ClaimKind::draws_more, "draws-more-than", {"than", "by"}},
      {ClaimKind::gives_more, "gives-more-than", {"than", "by"}},
      {ClaimKind::share, "share", {"low", "high"}},
      {ClaimKind::changes_role, "changes-role-against", {"any", "against"}},
      {ClaimKind::reverses, "reverses-against", {"any", "against"}},
      {ClaimKind::flow_falls, "flow-falls-against", {"by", "against"}},
      {ClaimKind::flow_rises, "flow-rises-against", {"by", "against"}},
      {ClaimKind::temperature, "temperature", {"of", "low_K", "high_K"}},
      {ClaimKind::warms, "warms-against", {"of", "by_K", "against"}},
      {ClaimKind::cools, "cools-against", {"of", "by_K", "against"}}};
  for (const auto& [kind, word, keys] : kinds) {
    Run run = test::sample_run();
    geometry::Claim& claim = run.content.claims[0];
    claim.kind = kind;
    claim.low = -std::numeric_limits<double>::infinity();
    claim.high = 330.0;
    if (kind == ClaimKind::share) claim.low = 0.2;
    claim.against = word.find("against") == std::string::npos ? -1 : 1;
    const json written = json::parse(results_json(run, {}))["claims"][0];
    INFO(word);
    CHECK(written["kind"] == word);
    for (const std::string& key : keys) CHECK(written.contains(key));
    if (kind == ClaimKind::temperature) {
      CHECK(written["low_K"].is_null());
      CHECK(written["high_K"] == 330.0);
      CHECK(written["of"] == json{{"kind", "zone"}, {"name", "inside"}});
    }
    CHECK(written.contains("against") == (claim.against >= 0));
  }
}
