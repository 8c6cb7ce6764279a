// Results files that somebody changed: one message with the place in the file, never a failure of another
// kind.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <random>

#include "tests/io/sample.hpp"
#include "tools/io/run.hpp"
#include "tools/page/page.hpp"
#include "tools/page/results_file.hpp"

using namespace tuft;
using nlohmann::ordered_json;

namespace {

ordered_json sample() {
  return ordered_json::parse(io::results_json(test::sample_run(), {{}, {"results.json"}, {}}));
}

void collect(ordered_json& value, std::vector<ordered_json*>& all) {
  all.push_back(&value);
  for (auto& part : value)
    if (value.is_structured()) collect(part, all);
}

// Another value in the place of one.
ordered_json other_value(std::mt19937& random) {
  switch (random() % 9) {
    case 0:
      return nullptr;
    case 1:
      return true;
    case 2:
      return -1;
    case 3:
      return 1e300;
    case 4:
      return "\x1b[31m";
    case 5:
      return ordered_json::array();
    case 6:
      return ordered_json::object();
    case 7:
      return ordered_json::array({1, "two", nullptr});
    default:
      return ordered_json{{"name", 3}};
  }
}

void mutate(ordered_json& results, std::mt19937& random) {
  std::vector<ordered_json*> all;
  collect(results, all);
  ordered_json& chosen = *all[random() % all.size()];
  if (random() % 4 == 0 && chosen.is_structured() && !chosen.empty()) {
    auto at = chosen.begin();
    std::advance(at, static_cast<std::ptrdiff_t>(random() % chosen.size()));
    chosen.erase(at);
  } else {
    chosen = other_value(random);
  }
}

// The message, empty where the file makes a page. Anything else that is thrown fails the test.
std::string refusal(const std::string& text) {
  try {
    return page::report_page(text, "").empty() ? "empty page" : "";
  } catch (const page::ResultsError& error) {
    return error.what();
  }
}

}  // namespace

TEST_CASE("800 changed results files make a page or one message") {
  std::mt19937 random(19);
  const ordered_json good = sample();
  int refused = 0;
  for (int i = 0; i < 800; ++i) {
    ordered_json results = good;
    mutate(results, random);
    INFO(i);
    std::string said;
    REQUIRE_NOTHROW(said = refusal(results.dump()));
    CHECK(said != "empty page");
    refused += said.empty() ? 0 : 1;
  }
  CHECK(refused > 100);
  CHECK(refused < 800);
}

TEST_CASE("800 results files with bytes changed make a page or one message") {
  std::mt19937 random(20);
  const std::string good = sample().dump();
  for (int i = 0; i < 800; ++i) {
    std::string text = good;
    for (unsigned k = 0; k < 1 + random() % 3; ++k)
      text[random() % text.size()] = static_cast<char>(random());
    INFO(i);
    REQUIRE_NOTHROW(refusal(text));
  }
}

TEST_CASE("a value of another kind is told by its place in the file") {
  ordered_json results = sample();
  results["conditions"][0]["vents"][1]["share"] = "much";
  CHECK(refusal(results.dump()) == "'conditions[0].vents[1].share' must be a number; found a text");
  results = sample();
  results["device"]["vents"][0]["leak"] = 1;
  CHECK(refusal(results.dump()) == "'device.vents[0].leak' must be true or false; found a number");
  results = sample();
  results["conditions"][0]["warnings"] = "none";
  CHECK(refusal(results.dump()) == "'conditions[0].warnings' must be a list; found a text");
  results = sample();
  results["claims"] = ordered_json::array({7});
  CHECK(refusal(results.dump()).find("entry of 'claims'") != std::string::npos);
}

TEST_CASE("what the program writes is what it reads") { CHECK(refusal(sample().dump()).empty()); }
