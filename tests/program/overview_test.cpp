// What tuft predict prints of its own accord: one screen, in agreement with the folder of the same run.
#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <regex>
#include <sstream>

#include "tests/io/sample.hpp"
#include "tests/program/program.hpp"
#include "tests/program/source_text.hpp"

using namespace tuft::test;
using Catch::Matchers::Contains;
using nlohmann::json;

namespace {

std::string demo() { return (source_dir() / "cases/slim-notebook.yaml").string(); }

int count_of(const std::string& text, const std::regex& what) {
  return static_cast<int>(
      std::distance(std::sregex_iterator(text.begin(), text.end(), what), std::sregex_iterator()));
}

/// The words of the row that begins with a name.
std::vector<std::string> row(const std::string& text, const std::string& name) {
  for (const std::string& line : lines_of(text)) {
    if (line.rfind(name + " ", 0) != 0) continue;
    std::istringstream stream(line);
    std::vector<std::string> words;
    for (std::string word; stream >> word;) words.push_back(word);
    return words;
  }
  return {};
}

const char* sign_of(const json& vent) {
  const std::string role = vent.at("role");
  return role == "intake" ? ">" : role == "exhaust" ? "<" : role == "both-ways" ? "<>" : ".";
}

}  // namespace

TEST_CASE("the demo is one screen of 80 columns, with every condition and claim once") {
  const Scratch scratch;
  const Outcome run = run_tuft({"predict", demo(), "--out", "r"}, scratch.path());
  INFO(run.out << run.err);
  REQUIRE(run.status == 0);
  CHECK(run.err.empty());
  const std::vector<std::string> lines = lines_of(run.out);
  CHECK(lines.size() <= 40);
  const auto results = json::parse(bytes_of(scratch.path() / "r/results.json"));
  for (const auto& condition : results.at("conditions")) {
    const std::string name = condition.at("name");
    INFO(name);
    CHECK(count_of(run.out, std::regex("(^|\n)" + name + " ")) == 1);
  }
  for (const auto& claim : results.at("claims")) {
    const std::string id = claim.at("id");
    INFO(id);
    CHECK(count_of(run.out, std::regex("(^|[^a-z-])" + id + "([^a-z-]|$)")) == 1);
  }
  CHECK_THAT(run.out, Contains("\nResults: r (") && Contains("no safety assessment"));
  CHECK_THAT(run.out, Contains("keyboard intake, idle from 15°"));
}

TEST_CASE("signs, numbers and probabilities are those of the folder") {
  const Scratch scratch;
  const Outcome run = run_tuft({"predict", demo(), "--out", "r"}, scratch.path());
  INFO(run.out);
  const auto results = json::parse(bytes_of(scratch.path() / "r/results.json"));
  for (const auto& condition : results.at("conditions")) {
    const std::string name = condition.at("name");
    const std::vector<std::string> words = row(run.out, name);
    INFO(name);
    std::size_t at = 1;
    for (const auto& vent : condition.at("vents")) {
      if (vent.at("leak")) continue;
      REQUIRE(at + 1 < words.size());
      CHECK(words[at] == sign_of(vent));
      CHECK((words[at + 1].back() == '?') == !vent.at("firm").get<bool>());
      at += 2;
    }
    REQUIRE(at + 1 < words.size());
    const double litres = 1e3 * condition.at("through_flow_kg_s").get<double>() /
                          condition.at("room_density_kg_m3").get<double>();
    CHECK(std::abs(std::stod(words[at]) - litres) <= 0.051 * litres);  // two digits
    double chip = 0.0;
    for (const auto& source : condition.at("sources"))
      if (source.at("temperature_K").is_number())
        chip = std::max(chip, source.at("temperature_K").get<double>());
    CHECK(std::abs(std::stod(words[at + 1]) - (chip - 273.15)) <= 0.5);
  }
  const auto& probabilities = results.at("uncertainty").at("claims");
  for (const auto& claim_json : probabilities) {
    const std::vector<std::string> words = row(run.out, claim_json.at("id"));
    REQUIRE(words.size() >= 4);
    const bool left = claim_json.at("left_to_field");
    CHECK((left ? words[1] + " " + words[2] == "left open" : words[1] == claim_json.at("verdict")));
    CHECK((!left || claim_json.at("verdict") == "undecided"));
    const std::size_t k = left ? 3 : 2;
    const double probability = claim_json.at("probability");
    const double low = 100.0 * claim_json.at("probability_interval")[0].get<double>();
    CHECK((words[k] == "at") == (probability >= 1.0));
    const double said = std::stod(words[words[k] == "at" ? k + 2 : k]);
    CHECK(said == std::floor(probability >= 1.0 ? low : 100.0 * probability));
  }
  CHECK(run.out.find("100") == run.out.find("1000"));  // no probability of 100 %
}

TEST_CASE("check says of a claim's probability what predict says") {
  const Scratch scratch;
  for (const char* file : {"open-claim.yaml", "false-claim.yaml"}) {
    const Outcome predicted = run_tuft({"predict", case_path(file), "--no-files"}, scratch.path());
    const Outcome checked = run_tuft({"check", case_path(file), "--samples", "1024"}, scratch.path());
    INFO(predicted.out << checked.out);
    const std::regex chance("(holds|fails|undecided|left open) +((?:at (?:least|most) )?[0-9]+ %)");
    int found = 0;
    for (std::sregex_iterator it(predicted.out.begin(), predicted.out.end(), chance), end; it != end; ++it) {
      std::istringstream words(checked.out);
      std::string line, word;
      while (words >> word) line += word + " ";
      CHECK_THAT(line, Contains((*it)[2].str()));
      ++found;
    }
    CHECK(found == 2);
  }
}

TEST_CASE("--details prints tables: of all, or of the conditions it names") {
  const Scratch scratch;
  const std::string path = case_path("chassis.yaml");
  const Outcome all = run_tuft({"predict", "--details", path, "--no-files"}, scratch.path());
  INFO(all.out << all.err);
  CHECK(all.status == 0);
  for (const char* part : {"use: flat, on table", "bench: on-left-edge", "off: flat", "buoyancy head",
                           "around: turned about y from lying flat", "closed"})
    CHECK_THAT(all.out, Contains(part));
  const Outcome one = run_tuft({"predict", path, "--no-files", "--details=off"}, scratch.path());
  CHECK_THAT(one.out, Contains("off: flat") && !Contains("use: flat") && !Contains("around:"));
  const Outcome two =
      run_tuft({"predict", "--details=off", "--details=use", path, "--no-files"}, scratch.path());
  CHECK_THAT(two.out, Contains("off: flat") && Contains("use: flat") && !Contains("bench: "));
  const Outcome alone =
      run_tuft({"predict", path, "--no-files", "--condition", "off", "--details"}, scratch.path());
  CHECK_THAT(alone.out, Contains("off: flat") && !Contains("use: flat"));
  CHECK(scratch.entries() == 0);
}

TEST_CASE("--details with a name that is not there, or was not asked for, is bad input") {
  const Scratch scratch;
  const std::string path = case_path("chassis.yaml");
  const Outcome wrong = run_tuft({"predict", path, "--details=bensh"}, scratch.path());
  CHECK(wrong.status == 3);
  CHECK_THAT(wrong.err, Contains("no condition 'bensh'") && Contains("did you mean 'bench'?"));
  const Outcome other = run_tuft({"predict", path, "--condition", "use", "--details=bench"}, scratch.path());
  CHECK(other.status == 3);
  CHECK_THAT(other.err, Contains("'bench' is not among those that --condition names"));
  CHECK(wrong.out + other.out == "");
  CHECK(scratch.entries() == 0);
}
